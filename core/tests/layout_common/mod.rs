//! Random specifications as far as the layout goes, most of which make a layout.

use neckwright::measure::{Length, Station};
use neckwright::spec::{FretRule, Radius, Ratio, Spacing, Specification, WidthAt};
use proptest::prelude::*;

fn mm(range: std::ops::Range<f64>) -> impl Strategy<Value = Length> {
    range.prop_map(Length::from_mm)
}

fn maybe<T: std::fmt::Debug>(value: impl Strategy<Value = T>) -> impl Strategy<Value = Option<T>> {
    proptest::option::of(value)
}

fn scale_and_frets() -> impl Strategy<Value = Specification> {
    let rule = prop_oneof![
        4 => Just((FretRule::Equal, false, false)),
        1 => Just((FretRule::Eighteen, false, false)),
        1 => Just((FretRule::Table, true, false)),
        1 => Just((FretRule::Table, false, true)),
    ];
    let lengths = prop_oneof![
        1 => Just((None, None)),
        3 => mm(500.0..900.0).prop_map(|l| (Some(l), None)),
        4 => (mm(550.0..900.0), -60.0..60.0).prop_map(|(l, d)| (Some(l), Some(Length::from_mm(l.mm() - d)))),
    ];
    (lengths, 0.0..24.0, 0_u32..=24, 10_u32..=24, rule, any::<bool>(), mm(0.0..6.0)).prop_map(
        |(lengths, square, count, divisions, (rule, cents, ratios), zero_fret, overhang)| {
            let mut spec = Specification::default();
            match lengths {
                (length, None) => spec.scale.length = length,
                (bass, treble) => (spec.scale.bass, spec.scale.treble) = (bass, treble),
            }
            spec.scale.square_fret = square;
            spec.frets.count = count;
            spec.frets.divisions = divisions;
            spec.frets.rule = rule;
            spec.frets.cents =
                cents.then(|| vec![110.0, 190.0, 310.0, 405.0, 500.0, 700.0, 890.0, 1010.0, 1200.0]);
            let just = [1.125, 1.2, 1.25, 4.0 / 3.0, 1.5, 1.6, 1.75, 2.0].map(Ratio::new);
            spec.frets.ratios = ratios.then(|| just.to_vec());
            spec.frets.zero_fret = zero_fret;
            spec.frets.overhang = overhang;
            spec
        },
    )
}

pub fn specification() -> impl Strategy<Value = Specification> {
    let widths = maybe((100.0..300.0, 46.0..56.0, 60.0..200.0, 54.0..66.0));
    let strings = (1_u32..=8, any::<bool>(), maybe(mm(28.0..36.0)), 50.0..60.0);
    let top = (maybe(mm(120.0..600.0)), maybe(mm(120.0..800.0)), any::<bool>(), mm(0.0..2.0), mm(5.0..9.0));
    (scale_and_frets(), widths, strings, top, mm(41.0..56.0)).prop_map(
        |(mut spec, widths, (count, even_gaps, spread, bridge), top, nut_width)| {
            let (radius, end_radius, straight, binding, thickness) = top;
            spec.strings.count = count;
            spec.strings.spacing = if even_gaps { Spacing::EvenGaps } else { Spacing::EvenCentres };
            spec.nut.width = nut_width;
            spec.nut.string_spread = spread.filter(|_| count > 1);
            spec.bridge.string_spread = Length::from_mm(bridge);
            if count == 1 {
                spec.scale.treble = None;
                if let Some(bass) = spec.scale.bass.take() {
                    spec.scale.length = Some(bass);
                }
            }
            let board = &mut spec.fretboard;
            board.thickness = thickness;
            board.binding = binding;
            board.radius = radius.map_or(Radius::Flat, Radius::Round);
            board.straight_under_strings = straight;
            board.end_radius = end_radius.filter(|_| radius.is_some() && !straight);
            board.widths = widths.map(|(x, width, beyond, then)| {
                let at = |x, w| WidthAt { at: Station::Mm(x), width: Length::from_mm(w) };
                vec![at(x, width), at(x + beyond, then)]
            });
            spec
        },
    )
}

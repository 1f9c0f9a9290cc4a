//! Two scales against another construction in 40 digits.

use neckwright::layout::Layout;
use neckwright::measure::{Length, Station};
use neckwright::spec::{Radius, Spacing, Specification, WidthAt};
use std::collections::HashMap;

/// Made by `tests/reference/fan.py`, which says how it is to be read and how it was built.
const EXACT: &str = include_str!("../../tests/reference/fan.txt");

fn numbers(text: &str) -> Vec<f64> {
    text.split(' ').map(|word| word.parse().unwrap()).collect()
}

fn specification(text: &str) -> Specification {
    let given: HashMap<&str, &str> = text.split(';').map(|pair| pair.split_once('=').unwrap()).collect();
    let number = |key: &str| given[key].parse::<f64>().unwrap();
    let length = |key: &str| Length::from_mm(number(key));
    let mut spec = Specification::default();
    spec.scale.bass = Some(length("bass"));
    spec.scale.treble = Some(length("treble"));
    spec.scale.square_fret = number("square");
    spec.frets.divisions = number("divisions") as u32;
    spec.frets.count = number("count") as u32;
    spec.frets.zero_fret = number("zero") == 1.0;
    spec.frets.overhang = length("overhang");
    spec.strings.spacing =
        if given["spacing"] == "even_gaps" { Spacing::EvenGaps } else { Spacing::EvenCentres };
    let gauges: Vec<Length> = numbers(given["gauges"]).into_iter().map(Length::from_mm).collect();
    spec.strings.count = gauges.len() as u32;
    spec.strings.gauges = Some(gauges);
    spec.nut.string_spread = Some(length("nut"));
    spec.bridge.string_spread = length("bridge");
    let widths = numbers(given["widths"]);
    spec.nut.width = Length::from_mm(widths[1]);
    let at = |w: &[f64]| WidthAt { at: Station::Mm(w[0]), width: Length::from_mm(w[1]) };
    spec.fretboard.widths = Some(widths[2..].chunks(2).map(at).collect());
    spec.fretboard.end = Some(Station::Mm(number("end")));
    spec.fretboard.binding = length("binding");
    spec.fretboard.radius = Radius::Round(length("radius"));
    spec.fretboard.end_radius = Some(length("end_radius"));
    spec
}

#[test]
fn fret_ends_wires_and_departures() {
    let (mut ends, mut wires, mut cents, mut frets) = (0.0_f64, 0.0_f64, 0.0_f64, 0);
    let mut layout = None;
    for line in EXACT.lines() {
        if let Some(case) = line.strip_prefix("case ") {
            layout = Some(Layout::new(&specification(case)).unwrap_or_else(|error| panic!("{error}")));
            continue;
        }
        let layout = layout.as_ref().unwrap();
        let exact = numbers(line.strip_prefix("fret ").unwrap());
        let index = layout.frets().iter().position(|fret| f64::from(fret.number) == exact[0]).unwrap();
        let fret = layout.frets()[index];
        let ((xb, yb), (xt, yt)) = fret.slot_ends_mm;
        for (found, exact) in [xb, yb, xt, yt, fret.slot_length_mm].iter().zip(&exact[1..6]) {
            ends = ends.max((found - exact).abs());
        }
        wires = wires.max((fret.wire_length_mm - exact[6]).abs());
        let departures = layout.string_departures_cents();
        assert_eq!(departures.len(), exact.len() - 7);
        for (string, exact) in departures.iter().zip(&exact[7..]) {
            cents = cents.max((string[index] - exact).abs());
        }
        frets += 1;
    }
    println!("{frets} frets: ends {ends:.1e} mm, wires {wires:.1e} mm, departures {cents:.1e} cents");
    assert_eq!(frets, 22);
    assert!(ends < 1e-12 && wires < 1e-11 && cents < 1e-11);
}

#[test]
fn the_square_fret_is_square_and_the_nut_goes_through_the_origin() {
    let mut spec = Specification::default();
    spec.scale.bass = Some(Length::from_mm(686.0));
    spec.scale.treble = Some(Length::from_mm(648.0));
    spec.scale.square_fret = 8.25;
    let layout = Layout::new(&spec).unwrap();
    assert_eq!(layout.nut_line().x_mm, 0.0);
    assert!(layout.nut_line().slope > 0.0, "the treble end lies nearer to the bridge");
    assert!(layout.bridge_line().slope < 0.0);
    assert_eq!(layout.fan().line(8.25).unwrap().slope, 0.0);
    for fret in layout.frets() {
        let (along_bass, along_treble) = fret.along_strings_mm;
        assert!((along_bass / 686.0 - along_treble / 648.0).abs() < 1e-15);
        // Measured along the string: from its point on the nut to its point on the fret.
        let string = layout.strings()[0];
        let y = string.nut_mm.1 + (string.bridge_mm.1 - string.nut_mm.1) * along_bass / 686.0;
        let x = fret.line.x_at_mm(y);
        assert!((libm::hypot(x - string.nut_mm.0, y - string.nut_mm.1) - along_bass).abs() < 1e-11);
    }
    assert!((layout.strings()[0].length_mm() - 686.0).abs() < 1e-11);
    assert!((layout.strings()[5].length_mm() - 648.0).abs() < 1e-11);
}

#[test]
fn equal_scales_are_one_scale_along_the_strings() {
    let mut spec = Specification::default();
    spec.scale.bass = Some(Length::from_mm(640.0));
    spec.scale.treble = Some(Length::from_mm(640.0));
    let layout = Layout::new(&spec).unwrap();
    assert!(!layout.fan().is_fanned());
    assert!(layout.frets().iter().all(|fret| fret.line.slope == 0.0));
    // The strings lie aslant, 8 mm from nut to bridge, so that the centreline is a little shorter.
    assert!(layout.scale_mm() < 640.0 && layout.scale_mm() > 639.9);
}

//! Specifications drawn at random, for property tests and fuzzing.

use alloc::format;
use alloc::vec::Vec;

use super::draw::Draw;
use super::visit::Group;
use super::*;
use crate::measure::{Angle, Length, Station};

impl Specification {
    /// A specification with every field drawn from within its bounds, fields that may be absent sometimes so.
    /// It passes [`Specification::check`], but seldom makes a neck.
    #[must_use]
    pub fn random(next: &mut dyn FnMut() -> u64) -> Self {
        let mut specification = Self::default();
        let mut draw = Draw { next };
        specification.visit(&mut draw);
        agree(&mut specification, &mut draw);
        specification
    }

    /// A specification as a builder could have written it, which usually makes a neck.
    ///
    /// Either hand; single or fanned scale of 300 to 900 mm; 1 to 12 strings; 0 to 36 frets; flat, cylindrical
    /// or conical board; both kinds of headstock; with or without a volute; 2 to 6 thicknesses of 18 to 26 mm,
    /// rising toward the heel; carve line 2.5 to 9 mm deep; 1 to 4 profiles, now and then a treble side of its
    /// own.
    #[must_use]
    pub fn plausible(next: &mut dyn FnMut() -> u64) -> Self {
        let mut draw = Draw { next };
        let name = format!("neck {}", draw.below(1000));
        let hand = if draw.chance(0.5) { Hand::Left } else { Hand::Right };
        let mut specification = Self { name, hand, ..Self::default() };
        plausible_scale(&mut specification, &mut draw);
        plausible_board(&mut specification, &mut draw);
        plausible_shaft(&mut specification, &mut draw);
        plausible_ends(&mut specification, &mut draw);
        specification
    }
}

fn plausible_scale(specification: &mut Specification, draw: &mut Draw<'_>) {
    let scale = draw.round(300.0, 900.0, 0.5);
    specification.strings.count = 1 + draw.below(12);
    if specification.strings.count > 1 && draw.chance(0.3) {
        // The bass side up to 40 mm longer, as fanned frets have it.
        specification.scale.bass = Some(Length::from_mm(scale + draw.round(2.0, 40.0, 0.5)));
        specification.scale.treble = Some(Length::from_mm(scale));
        specification.scale.square_fret = draw.round(0.0, 12.0, 1.0);
    } else {
        specification.scale.length = Some(Length::from_mm(scale));
    }
    specification.frets.count = draw.below(37);
    specification.frets.rule = if draw.chance(0.1) { FretRule::Eighteen } else { FretRule::Equal };
    specification.frets.zero_fret = draw.chance(0.2);
    specification.strings.spacing = if draw.chance(0.3) { Spacing::EvenCentres } else { Spacing::EvenGaps };
    if draw.chance(0.5) {
        let treble = draw.between(0.2, 0.4);
        let count = specification.strings.count;
        let gauge = |string: u32| treble * libm::pow(1.3, f64::from(count - 1 - string));
        let gauges = (0..count).map(|string| Length::from_mm(gauge(string).min(3.5)));
        specification.strings.gauges = Some(gauges.collect());
    }
}

fn plausible_board(specification: &mut Specification, draw: &mut Draw<'_>) {
    let strings = f64::from(specification.strings.count);
    let width = draw.round(7.2, 8.4, 0.1) * strings.max(3.5) + draw.round(-1.0, 3.0, 0.5);
    let width = width.clamp(24.0, 100.0);
    specification.nut.width = Length::from_mm(width);
    let spread = (strings - 1.0) * draw.between(9.0, 11.0);
    specification.bridge.string_spread = Length::from_mm(spread);
    let board = &mut specification.fretboard;
    board.thickness = Length::from_mm(draw.round(4.0, 8.0, 0.5));
    // Over the widest place the edges drop no more than 1.5 mm, so that slots and carve stay below them.
    let widest = width.max(spread + 8.0);
    let radius = draw.round(180.0, 510.0, 1.0).max(libm::ceil(widest * widest / 12.0)).min(1600.0);
    board.radius = if draw.chance(0.25) { Radius::Flat } else { Radius::Round(Length::from_mm(radius)) };
    if board.radius != Radius::Flat && draw.chance(0.4) {
        if draw.chance(0.3) {
            board.straight_under_strings = true;
        } else {
            board.end_radius = Some(Length::from_mm(radius * draw.between(1.0, 1.8)));
        }
    }
    board.binding = Length::from_mm(if draw.chance(0.3) { draw.round(1.0, 2.5, 0.1) } else { 0.0 });
}

fn shortest_scale_mm(specification: &Specification) -> f64 {
    specification.scale.length.or(specification.scale.treble).unwrap_or(Scale::USUAL).mm()
}

fn plausible_shaft(specification: &mut Specification, draw: &mut Draw<'_>) {
    let scale = shortest_scale_mm(specification);
    // In order along the neck, none beyond half of the scale.
    let places = |draw: &mut Draw<'_>, count: u32| -> Vec<Station> {
        let gap = 0.45 * scale / f64::from(count.max(2));
        let at = |i: u32, draw: &mut Draw<'_>| f64::from(i) * gap + draw.round(0.0, gap * 0.5, 0.5);
        let frets = draw.chance(0.4);
        (0..count)
            .map(|i| match i {
                0 if draw.chance(0.5) => Station::NUT,
                _ if frets => {
                    Station::Fret(f64::from(i * 10 / count.max(1)) + 0.5 * f64::from(draw.below(2)))
                }
                _ => Station::Mm(at(i, draw)),
            })
            .collect()
    };
    let count = 2 + draw.below(5);
    let mut thickness = draw.round(18.0, 22.0, 0.1);
    let shaft = &mut specification.shaft;
    shaft.thickness.clear();
    for at in places(draw, count) {
        shaft.thickness.push(ThicknessAt { at, thickness: Length::from_mm(thickness) });
        thickness = (thickness + draw.round(-0.1, 1.0, 0.05)).clamp(18.0, 26.0);
    }
    let count = 1 + draw.below(4);
    shaft.profile = places(draw, count).into_iter().map(|at| profile(at, draw)).collect();
    shaft.carve_line = carve_line(scale, draw);
    if draw.chance(0.2) {
        shaft.treble_carve_line = Some(carve_line(scale, draw));
    }
}

fn profile(at: Station, draw: &mut Draw<'_>) -> ProfileAt {
    let index = draw.below(Shape::ALL.len() as u32) as usize;
    let mut profile = ProfileAt {
        at,
        shape: Shape::ALL.get(index).copied().unwrap_or_default(),
        spine_offset: Length::from_mm(if draw.chance(0.2) { draw.round(-2.0, 2.0, 0.1) } else { 0.0 }),
        crease: draw.chance(0.1),
        ..ProfileAt::default()
    };
    if draw.chance(0.3) {
        let (shoulder, belly) = (draw.between(0.48, 0.65), draw.between(0.45, 0.62));
        (profile.shoulder, profile.belly) = (Some(shoulder), Some(belly));
        profile.lean = draw.sometimes(|draw| draw.between(0.0, 0.06));
        if draw.chance(0.7) {
            // Near the bass side's; without a crease one of shoulder and belly follows from the other.
            let side = draw.chance(0.5);
            let near = draw.between(-0.04, 0.04);
            profile.treble = Some(TrebleSide {
                shoulder: if side { Some(shoulder + near) } else { None },
                belly: if side { None } else { Some(belly + near) },
                lean: draw.sometimes(|draw| draw.between(0.0, 0.06)),
            });
        }
    }
    profile
}

/// One depth, or two that are near enough for the line through them to stay within the neck.
fn carve_line(scale: f64, draw: &mut Draw<'_>) -> Vec<DepthAt> {
    let depth = draw.round(2.5, 9.0, 0.1);
    let mut line = alloc::vec![DepthAt { at: Station::NUT, depth: Length::from_mm(depth) }];
    if draw.chance(0.5) {
        let far = (depth + draw.round(-0.3, 2.5, 0.1)).clamp(2.5, 9.0);
        line.push(DepthAt { at: Station::Mm(libm::round(0.45 * scale)), depth: Length::from_mm(far) });
    }
    line
}

fn plausible_ends(specification: &mut Specification, draw: &mut Draw<'_>) {
    specification.rod.fitted = draw.chance(0.8);
    specification.rod.width = Length::from_mm(draw.round(5.0, 7.0, 0.1));
    let floor = draw.round(6.0, 9.0, 0.5);
    specification.rod.depth = alloc::vec![ChannelAt { at: Station::NUT, depth: Length::from_mm(floor) }];
    let headstock = &mut specification.headstock;
    if draw.chance(0.5) {
        headstock.kind = HeadstockKind::Level;
        headstock.step = Length::from_mm(draw.round(2.0, 6.0, 0.5));
        headstock.step_radius = Length::from_mm(draw.round(10.0, 25.0, 1.0));
    } else {
        headstock.angle = Angle::from_deg(draw.round(4.0, 17.0, 0.5));
    }
    headstock.thickness = Length::from_mm(draw.round(13.0, 16.0, 0.5));
    specification.volute.height =
        Length::from_mm(if draw.chance(0.4) { 0.0 } else { draw.round(1.0, 5.0, 0.5) });
    specification.volute.roundness = draw.between(0.0, 1.0);
    if draw.chance(0.3) {
        let scale = shortest_scale_mm(specification);
        let thickest = specification.shaft.thickness.last().map_or(22.0, |last| last.thickness.mm());
        specification.heel.sweep_radius = Some(Length::from_mm(draw.round(0.02 * scale, 0.06 * scale, 1.0)));
        specification.heel.block_depth = Some(Length::from_mm(thickest + draw.round(2.0, 6.0, 0.5)));
    }
}

/// Makes fields that were drawn one by one agree with each other.
fn agree(specification: &mut Specification, draw: &mut Draw<'_>) {
    let scale = &mut specification.scale;
    if scale.length.is_some() || scale.bass.is_none() || scale.treble.is_none() {
        (scale.bass, scale.treble) = (None, None);
    }
    let frets = &mut specification.frets;
    match frets.rule {
        FretRule::Table => match (&frets.cents, &frets.ratios) {
            (Some(_), _) => frets.ratios = None,
            (None, None) => frets.cents = Some(alloc::vec![draw.between(0.0, 9600.0)]),
            (None, Some(_)) => {}
        },
        FretRule::Equal | FretRule::Eighteen => (frets.cents, frets.ratios) = (None, None),
    }
    let count = specification.strings.count as usize;
    if let Some(gauges) = &mut specification.strings.gauges {
        gauges.resize(count, Length::from_mm(draw.between(0.1, 4.0)));
    }
    if let Some(posts) = &mut specification.headstock.posts {
        posts.resize_with(count, Post::default);
    }
}

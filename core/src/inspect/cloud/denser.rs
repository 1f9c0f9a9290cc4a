//! A specification of the same neck with its numbers at more stations, so that a fit has more to change.

use alloc::vec::Vec;

use crate::law::Law;
use crate::measure::{Length, Station};
use crate::shape::Neck;
use crate::spec::{Curve, DepthAt, ProfileAt, Specification, ThicknessAt};

/// So many stations, evenly from one to another.
fn evenly(from: f64, to: f64, count: u32) -> impl Iterator<Item = f64> {
    (0..count).map(move |i| from + (to - from) * f64::from(i) / f64::from(count.max(2) - 1))
}

/// The neck's specification with so many thicknesses and shapes along the shaft, the thicknesses joined by a spline, and two
/// depths at least of either carve line. Shapes of an uneven neck stay where they are.
pub(super) fn denser(neck: &Neck, thicknesses: u32, profiles: u32) -> Specification {
    let mut spec = neck.normalised().clone();
    let built = neck.built();
    let [from, to] = neck.shaft_reach_mm();
    let first = from.max(0.0);
    let at = |law: &Law, x: f64| law.at(x.clamp(law.start(), law.end())).unwrap_or_default();
    if spec.shaft.thickness.len() < thicknesses as usize {
        let spine = &built.back.spine;
        spec.shaft.thickness = evenly(first, to, thicknesses)
            .map(|x| ThicknessAt { at: Station::Mm(x), thickness: Length::from_mm(at(spine, x)) })
            .collect();
        spec.shaft.curve = Curve::Spline;
    }
    let lines = [Some(&mut spec.shaft.carve_line), spec.shaft.treble_carve_line.as_mut()];
    for line in lines.into_iter().flatten() {
        if let [DepthAt { depth, .. }] = line[..] {
            *line = [first, to].map(|x| DepthAt { at: Station::Mm(x), depth }).to_vec();
        }
    }
    let uneven = spec.shaft.profile.iter().any(|p| p.treble.is_some() || p.spine_offset.mm() != 0.0);
    if !uneven && spec.shaft.profile.len() < profiles as usize {
        let shape = spec.shaft.profile.first().map(|p| p.shape).unwrap_or_default();
        let laws = &built.form.profile.bass;
        let shapes: Vec<ProfileAt> = evenly(from, to, profiles)
            .map(|x| {
                let [shoulder, belly, lean] = [0, 1, 2].map(|k| Some(at(&laws[k], x)));
                ProfileAt { at: Station::Mm(x), shape, shoulder, belly, lean, ..ProfileAt::default() }
            })
            .collect();
        spec.shaft.profile = shapes;
    }
    spec
}

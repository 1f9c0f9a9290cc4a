//! From a family's numbers back to a specification.

use alloc::vec::Vec;

use super::family::{Family, PROFILE, Place, Round};
use crate::measure::Length;
use crate::shape::Side;
use crate::spec::{DepthAt, ProfileAt, Radius, Specification, ThicknessAt, TrebleSide, WidthAt};

fn mm(value: f64) -> Length {
    Length::from_mm(value)
}

/// The base with the numbers of the family; a kind of number of which none is told stays as the base has it.
pub(super) fn specify(base: &Specification, family: &Family, v: &[f64], which: &[usize]) -> Specification {
    let mut spec = base.clone();
    let told = |test: &dyn Fn(Place) -> bool| which.iter().any(|i| test(family.place(*i)));
    let at = |i: usize| v.get(i).copied().unwrap_or_default();
    let mut i = 0;
    spec.shaft.curve = family.curve;
    let thickness = family.thickness.at.iter().map(|station| {
        i += 1;
        ThicknessAt { at: *station, thickness: mm(at(i - 1)) }
    });
    let thickness: Vec<ThicknessAt> = thickness.collect();
    if told(&|p| matches!(p, Place::Thickness(_))) {
        spec.shaft.thickness = thickness;
    }
    let widths = family.widths.at.iter().map(|station| {
        i += 1;
        WidthAt { at: *station, width: mm(at(i - 1)) }
    });
    let widths: Vec<WidthAt> = widths.collect();
    if told(&|p| matches!(p, Place::Width(_)))
        && let Some((nut, rest)) = widths.split_first()
    {
        spec.nut.width = nut.width;
        spec.fretboard.widths = Some(rest.to_vec());
    }
    for (side, knots) in [(Side::Bass, &family.lines[0]), (Side::Treble, &family.lines[1])] {
        let line = knots.at.iter().map(|station| {
            i += 1;
            DepthAt { at: *station, depth: mm(at(i - 1)) }
        });
        let line: Vec<DepthAt> = line.collect();
        if told(&|p| matches!(p, Place::Line(s, _) if s == side)) {
            match side {
                Side::Bass => spec.shaft.carve_line = line,
                Side::Treble => spec.shaft.treble_carve_line = Some(line),
            }
        }
    }
    if told(&|p| matches!(p, Place::Profile(..))) {
        let profile = family.profile.at.iter().zip(&family.forms).map(|(station, form)| {
            let n = |k: usize| at(i + k);
            let treble = form.own.then(|| TrebleSide {
                shoulder: form.shoulder.then(|| n(4)),
                belly: form.belly.then(|| n(5)),
                lean: form.lean.then(|| n(6)),
            });
            let profile = ProfileAt {
                at: *station,
                shape: form.shape,
                shoulder: Some(n(0)),
                belly: Some(n(1)),
                lean: Some(n(2)),
                spine_offset: mm(n(3)),
                crease: form.crease,
                treble,
            };
            i += PROFILE;
            profile
        });
        spec.shaft.profile = profile.collect();
    } else {
        i += PROFILE * family.profile.len();
    }
    if told(&|p| matches!(p, Place::Radius | Place::EndRadius)) {
        spec.fretboard.radius = Radius::Round(mm(at(i)));
        if let Round::Between(_) = family.round {
            spec.fretboard.end_radius = Some(mm(at(i + 1)));
        } else if let Some(end) = &mut spec.fretboard.end_radius {
            *end = mm(at(i));
        }
    }
    spec
}

//! From the unknowns to a neck.

use alloc::vec::Vec;

use super::model::Model;
use super::rows::{MISSED, SPARE, Sweep, sweep};
use super::stations::named;
use crate::law::{BLEND_BEND, Law};
use crate::measure::{Bound, Error, Length};
use crate::shape::{Neck, Side, Treble};
use crate::spec::{Allowed, Curve, DepthAt, Heel, Specification, ThicknessAt, TrebleSide};

/// The specification of a neck with the shapes of its sides written down, so that they stay where depths or widths change:
/// where a treble side's shoulder follows from the bass side's its belly tells their ratio, and where there is a crease
/// it has all its numbers. `half` are the half widths that the neck will have; `apart` is whether its carve lines may part.
pub(super) fn with_shapes_kept(
    neck: &Neck,
    mut spec: Specification,
    half: impl Fn(f64) -> f64,
    apart: bool,
) -> Specification {
    let profile = &neck.built().form.profile;
    let creased = spec.shaft.profile.iter().any(|p| p.crease);
    for given in &mut spec.shaft.profile {
        let Ok(x) = neck.layout().station_mm(&given.at) else { continue };
        let bounded = |value: f64, bound: Bound| {
            // One that was derived at its bound may come back a hair beyond it.
            let near =
                [bound.lowest, bound.highest].into_iter().find(|bound| libm::fabs(value - bound) < 1e-8);
            Some(near.unwrap_or(value))
        };
        match &profile.treble {
            Some(Treble::Smooth { reach, .. }) => {
                let (half, offset) = (half(x), given.spine_offset.mm());
                let own = given.treble.clone().unwrap_or_default();
                if own.shoulder.is_none() && offset == 0.0 {
                    continue;
                }
                let belly = reach.value(x) * profile.bass[1].value(x) * (half + offset) / (half - offset);
                given.treble = Some(TrebleSide {
                    shoulder: None,
                    belly: bounded(belly, Allowed::<TrebleSide>::belly.within),
                    lean: own.lean,
                });
            }
            Some(Treble::Creased { numbers }) => {
                given.crease = true;
                let [shoulder, belly, lean] = [0, 1, 2].map(|i| numbers[i].value(x));
                given.treble = Some(TrebleSide {
                    shoulder: bounded(shoulder, Allowed::<TrebleSide>::shoulder.within),
                    belly: bounded(belly, Allowed::<TrebleSide>::belly.within),
                    lean: bounded(lean, Allowed::<TrebleSide>::lean.within),
                });
            }
            None => {
                given.crease = creased;
                // Or the sides would be taken for alike where the lines part between these stations only.
                if creased && apart {
                    let [shoulder, belly, lean] = [0, 1, 2].map(|i| profile.bass[i].value(x));
                    given.treble = Some(TrebleSide {
                        shoulder: bounded(shoulder, Allowed::<TrebleSide>::shoulder.within),
                        belly: bounded(belly, Allowed::<TrebleSide>::belly.within),
                        lean: bounded(lean, Allowed::<TrebleSide>::lean.within),
                    });
                }
            }
        }
    }
    spec
}

/// The specification that these unknowns make.
pub(super) fn specification(model: &Model<'_>, unknowns: &[f64]) -> Specification {
    let neck = model.neck;
    let built = neck.built();
    let mut spec = neck.normalised().clone();
    let thickness = model.spine.at.iter().zip(model.spine.values(unknowns));
    spec.shaft.curve = Curve::Spline;
    spec.shaft.thickness = thickness
        .map(|(x, value)| ThicknessAt { at: named(neck, *x), thickness: Length::from_mm(value) })
        .collect();
    let depths = |side: Side| -> Option<Vec<DepthAt>> {
        let line = model.carve.of(side);
        let values = line.values(unknowns);
        let depth = |(x, value): (&f64, f64)| DepthAt { at: named(neck, *x), depth: Length::from_mm(value) };
        line.is_free().then(|| line.at.iter().zip(values).map(depth).collect())
    };
    if let Some(bass) = depths(Side::Bass) {
        spec.shaft.carve_line = bass;
        spec.shaft.treble_carve_line = if model.joined { None } else { depths(Side::Treble) };
    }
    if sweep(model) == Sweep::ByRadius {
        let (run, x) = (built.sweep.end - built.sweep.start, built.sweep.start);
        let drop = built.sweep.depth - model.spine.value(x).value(unknowns);
        let radius = run * run / (BLEND_BEND * drop);
        let least = Allowed::<Heel>::sweep_radius.within.lowest;
        let near = libm::fabs(radius - least) < 1e-6;
        spec.heel.sweep_radius = Some(Length::from_mm(if near { least } else { radius }));
    }
    let half = |x: f64| built.form.half.treble.value(x);
    let apart = !model.joined && model.carve.bass.is_free();
    with_shapes_kept(neck, spec, half, apart)
}

/// The neck, and whether it is proven to lie inside the design.
pub(super) fn neck(model: &Model<'_>, spec: &Specification) -> Result<(Neck, bool), Error> {
    let mended = Neck::new(spec)?;
    let (old, new) = (&model.neck.built().back.flanks, &mended.built().back.flanks);
    let inside = |old: &Law, new: &Law| {
        old.minus(new).is_some_and(|between| between.least(0.1 * SPARE).bound >= -MISSED)
    };
    let all = Side::BOTH
        .iter()
        .all(|side| old.of(*side).depth.iter().zip(&new.of(*side).depth).all(|(old, new)| inside(old, new)));
    Ok((mended, all))
}

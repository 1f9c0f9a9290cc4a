//! The limits as rows of the programme.

use alloc::vec::Vec;

use super::affine::Affine;
use super::clear::{CLEAR, Clear};
use super::limit::Limit;
use super::line::{Line, elevated, piece};
use super::low::{Low, Place};
use super::model::Model;
use super::programme::Demand;
use crate::law::{Bernstein, Law};
use crate::shape::{Neck, Side, Sides};
use crate::spec::{Allowed, Heel, MendLimits, ThicknessAt, TrebleSide};

/// By how much more than asked every row in mm is met, so that what rounding and the solver leave breaks none.
pub(super) const SPARE: f64 = 1e-8;
/// What a neck may miss of it once it is built: the solver's rounding adds up along a spline.
pub(super) const MISSED: f64 = 5e-8;
/// By how much a slope may miss its limit, mm per 100 mm: where the design turns it is held from both sides.
const SLOPE_SPARE: f64 = 5e-8;
/// Stretches shorter than this are looked at in their ends only, mm.
const SHORT: f64 = 1e-3;

/// All rows of a model but those that are only looked for where they are broken.
pub(super) fn rows(model: &Model<'_>, limits: &MendLimits) -> Vec<Demand> {
    let mut rows = Vec::new();
    for line in model.free_lines() {
        rows.extend(line.equations());
        inside(line, &model.joints(model.reach), &mut rows);
    }
    slopes(model, limits, &mut rows);
    bends(model, limits, &mut rows);
    thickness(model, limits, &mut rows);
    shape(model, &mut rows);
    heel(model, &mut rows);
    rows.extend(Clear::new(model, asked_thickness(model.neck, limits)).at_stations());
    // What nothing unknown enters holds as it does in the design.
    rows.retain(|row| row.terms.iter().any(|(_, k)| libm::fabs(*k) > 1e-12));
    rows
}

/// A line nowhere lies outside the design's: the Bernstein coefficients of what is between them are none below zero.
fn inside(line: &Line, joints: &[f64], rows: &mut Vec<Demand>) {
    for (i, w) in joints.windows(2).enumerate() {
        let Some(design) = piece(&line.design, w[0], w[1]) else { continue };
        let degree = design.degree().max(3);
        let design = design.elevated(degree);
        let between = elevated(&line.cubic(w[0], w[1]), degree);
        for (j, (a, b)) in design.coefs().iter().zip(&between).enumerate() {
            // The first is the last of the stretch before.
            if j > 0 || i == 0 {
                let x = w[0] + (w[1] - w[0]) * j as f64 / degree as f64;
                rows.push(Demand::at_least(None, x, Affine::constant(*a).plus(b, -1.0), SPARE));
            }
        }
    }
}

/// The places between two joints where the design's slope passes zero or the steepest allowed.
fn turns(slope: &Bernstein, [from, to]: [f64; 2], steepest: f64) -> Vec<f64> {
    let mut at = alloc::vec![from, to];
    for level in [0.0, -steepest] {
        let shifted: Bernstein = slope.coefs().iter().map(|c| c - level * (to - from)).collect();
        at.extend(shifted.roots().iter().map(|t| from + t * (to - from)));
    }
    at.sort_by(f64::total_cmp);
    at.dedup_by(|b, a| *b - *a < 1e-6);
    at
}

/// The spine rises toward the nut no faster than it may, or than the design does; and it turns only where the design
/// turns.
fn slopes(model: &Model<'_>, limits: &MendLimits, rows: &mut Vec<Demand>) {
    let steepest = limits.rise_toward_nut.mm() / 100.0;
    let limit = Some(Limit::RiseTowardNut);
    for w in model.joints(model.reach).windows(2) {
        let Some(design) = piece(&model.spine.design, w[0], w[1]) else { continue };
        for part in turns(&design.derivative(), [w[0], w[1]], steepest).windows(2) {
            let (from, to) = (part[0], part[1]);
            let run = to - from;
            let scale = 100.0 / run;
            let slopes: Vec<Affine> = if run > SHORT {
                model.spine.slopes(from, to).map(|s| s.times(scale)).to_vec()
            } else {
                [from, to].map(|x| model.spine.slope(x).times(100.0)).to_vec()
            };
            let place = |j: usize, n: usize| from + run * j as f64 / n.max(1) as f64;
            let own = model.spine.design.value2(0.5 * (from + to))[1];
            let falls = own < -1e-12;
            if own >= -steepest || !falls {
                for (j, slope) in slopes.iter().enumerate() {
                    let least = -100.0 * steepest - SLOPE_SPARE;
                    rows.push(Demand::at_least(limit, place(j, slopes.len() - 1), slope.clone(), least));
                }
            } else if let Some(design) = piece(&model.spine.design, from, to).filter(|_| run > SHORT) {
                let own = design.derivative();
                let degree = own.degree().max(2);
                let own = own.elevated(degree);
                for (j, (a, b)) in own.coefs().iter().zip(elevated(&slopes, degree)).enumerate() {
                    rows.push(Demand::at_least(limit, place(j, degree), b, a * scale - SLOPE_SPARE));
                }
            }
            if falls {
                for (j, slope) in slopes.iter().enumerate() {
                    rows.push(Demand::at_least(
                        limit,
                        place(j, slopes.len() - 1),
                        slope.times(-1.0),
                        -SLOPE_SPARE,
                    ));
                }
            }
        }
    }
}

/// How sharply a line may bend, 1/mm: as is asked, or as the design does somewhere along the shaft proper.
pub(super) fn asked_bend(model: &Model<'_>, design: &Law, radius: f64) -> f64 {
    let built = model.neck.built();
    (1.0 / radius).max(sharpest(design, [built.volute.end(), built.sweep.start]))
}

/// The greatest second derivative of a law over a part of it, either way, 1/mm.
fn sharpest(law: &Law, [from, to]: [f64; 2]) -> f64 {
    let Some(part) = law.restricted(from.max(law.start()), to.min(law.end())) else { return 0.0 };
    part.breaks().windows(2).zip(part.pieces()).fold(0.0, |most, (w, piece)| {
        let bend = piece.derivative().derivative();
        let run = w[1] - w[0];
        let at = bend.derivative().roots().into_iter().chain([0.0, 1.0]);
        at.fold(most, |most, t| most.max(libm::fabs(bend.eval(t)) / (run * run)))
    })
}

/// A spline's second derivative is straight between its stations, so that it is bounded where it is bounded there.
fn bends(model: &Model<'_>, limits: &MendLimits, rows: &mut Vec<Demand>) {
    let radius = |limit: Limit| match limit {
        Limit::SpineRadius => limits.spine_radius.mm(),
        _ => limits.carve_radius.mm(),
    };
    for (i, line) in model.free_lines().into_iter().enumerate() {
        let limit = if i == 0 { Limit::SpineRadius } else { Limit::CarveRadius };
        let most = 1e3 * asked_bend(model, &line.design, radius(limit));
        for k in 1..line.at.len() - 1 {
            let bend = line.bend(k).times(1e3);
            for sign in [1.0, -1.0] {
                rows.push(Demand::at_least(Some(limit), line.at[k], bend.times(sign), -most));
            }
        }
    }
}

/// The least thickness that is asked for, where there is a board over it.
pub(super) fn asked_thickness(neck: &Neck, limits: &MendLimits) -> f64 {
    limits.least_thickness.mm().min(neck.least_thickness().value)
}

fn thickness(model: &Model<'_>, limits: &MendLimits, rows: &mut Vec<Demand>) {
    let asked = asked_thickness(model.neck, limits);
    let to = model.neck.layout().board().end_mm().min(model.reach[1]);
    for w in model.joints([model.reach[0].max(0.0), to]).windows(2) {
        // Below volute and sweep the line itself may lie higher than what is there: see `Clear`.
        let hidden = model.share(0.5 * (w[0] + w[1])) < 1.0;
        let own = model.spine.design.restricted(w[0], w[1]).filter(|_| hidden);
        let least = own.map_or(asked, |own| asked.min(own.least(1e-9).value));
        for (j, value) in model.spine.cubic(w[0], w[1]).into_iter().enumerate() {
            let x = w[0] + (w[1] - w[0]) * j as f64 / 3.0;
            rows.push(Demand::at_least(Some(Limit::LeastThickness), x, value, least));
        }
    }
    // Straight on from its stations the line keeps to what a thickness may be at all.
    let built = model.neck.built();
    for x in [built.head.tip(), built.end] {
        let own = model.spine.design.value(x);
        let value = model.spine.value(x);
        rows.push(Demand::at_least(
            Some(Limit::LeastThickness),
            x,
            value,
            (Allowed::<ThicknessAt>::thickness.within.lowest + CLEAR).min(own),
        ));
    }
}

/// Where one side's shoulder follows from the other's it has to come out as one that may be given.
fn shape(model: &Model<'_>, rows: &mut Vec<Demand>) {
    let limit = Some(Limit::Shape);
    let [least, most] =
        [Allowed::<TrebleSide>::shoulder.within.lowest, Allowed::<TrebleSide>::shoulder.within.highest];
    for given in &model.neck.normalised().shaft.profile {
        let Ok(x) = model.neck.layout().station_mm(&given.at) else { continue };
        for side in model.sides() {
            let carved = model.carved(*side, x);
            rows.push(Demand::at_least(Some(Limit::CarveLine), x, carved, CLEAR));
        }
        if !model.follows(x) || model.sides().len() < 2 {
            continue;
        }
        let (k, _) = model.shoulder(Side::Treble, x);
        let rise = model.carved(Side::Bass, x).times(k);
        let treble = model.carved(Side::Treble, x);
        rows.push(Demand::at_least(limit, x, treble.times(1.0 - least).plus(&rise, -1.0), 0.0));
        rows.push(Demand::at_least(limit, x, rise.plus(&treble, most - 1.0), 0.0));
    }
}

/// How the heel's sweep keeps its run.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) enum Sweep {
    /// By a radius that goes with the drop.
    ByRadius,
    /// Because it is as long as what is carved there is deep.
    ByDepth,
}

/// Which of the two it is.
pub(super) fn sweep(model: &Model<'_>) -> Sweep {
    let built = model.neck.built();
    let (run, drop) = (built.sweep.end - built.sweep.start, sweep_drop(model));
    let radius = run * run / (crate::law::BLEND_BEND * drop);
    let within = Allowed::<Heel>::sweep_radius.within;
    if drop > 0.0 && (within.lowest..=within.highest + 1e-9).contains(&radius) {
        Sweep::ByRadius
    } else {
        Sweep::ByDepth
    }
}

fn sweep_drop(model: &Model<'_>) -> f64 {
    let built = model.neck.built();
    built.sweep.depth - model.spine.design.value(built.sweep.start)
}

/// The sweep of the heel keeps its run, so that the block stays where it is.
fn heel(model: &Model<'_>, rows: &mut Vec<Demand>) {
    let limit = Some(Limit::Heel);
    let sweep_run = &model.neck.built().sweep;
    let (x, run) = (sweep_run.start, sweep_run.end - sweep_run.start);
    let line = model.spine.value(x);
    let carved = Sides::each(|side| model.carved(side, x));
    match sweep(model) {
        Sweep::ByRadius => {
            // No smaller radius can be given.
            let most = run * run / (Allowed::<Heel>::sweep_radius.within.lowest * crate::law::BLEND_BEND);
            rows.push(Demand::at_least(limit, x, line, sweep_run.depth - most));
            for side in model.sides() {
                rows.push(Demand::at_least(limit, x, carved.of(*side).times(-1.0), SPARE - run));
            }
        }
        Sweep::ByDepth => {
            rows.push(Demand::equal(limit, x, model.spine.drop(x), SPARE));
            for side in model.sides().iter().filter(|side| model.carve.of(**side).is_free()) {
                rows.push(Demand::equal(limit, x, model.carve.of(*side).drop(x), SPARE));
            }
        }
    }
}

/// The back comes down to a low place.
pub(super) fn demand(model: &Model<'_>, low: &Low) -> Option<Demand> {
    let x = low.x;
    let drop = match low.place {
        Place::Spine => model.spine_drop(x),
        Place::Back(side, u) => model.drop_at(side, x, u),
        Place::Carve(side) => model.carve_drop(side, x),
        Place::Edges | Place::Flat(_) | Place::Kept(_) => return None,
    };
    Some(Demand { low: Some(low.index), ..Demand::at_least(None, x, drop, low.by + SPARE) })
}

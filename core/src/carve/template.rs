//! Templates for the transitions, in the planes where one can be held.

use alloc::format;
use alloc::string::String;
use alloc::vec::Vec;

use super::mark::{Keep, Place, points};
use super::step::hump;
use crate::shape::{Back, Neck, Point, Side, cubic_at};

/// The plane that a template is held in.
#[derive(Clone, Copy, Debug, PartialEq, serde::Serialize)]
#[serde(tag = "kind", content = "at", rename_all = "snake_case")]
pub enum TemplatePlane {
    /// Along the spine: points are `[x, z]`.
    Spine,
    /// Across, square to the crown line at a station: points are `[y, z]`.
    Across {
        /// The station, mm from the nut.
        x_mm: f64,
    },
    /// Against the side face: points are `[x, z]`.
    SideFace(Side),
}

/// A curve to draw or to cut a template from, of the shape that the transitions are worked to: the finished neck with the
/// wood for the grits still on it, so that the template touches all along when the work is done; in the glued zone, where no
/// grit goes, the finished neck itself.
#[derive(Clone, Debug, PartialEq, serde::Serialize)]
pub struct Template {
    /// What it is for.
    pub name: String,
    /// The plane that it is held in.
    pub plane: TemplatePlane,
    /// How far its shape lies outside the finished neck at the spine, mm; it runs out to nothing at the carve line.
    pub allowance_mm: f64,
    /// Its points in the neck's frame, mm; chords between them lie within 0.01 mm of the curve.
    pub points_mm: Vec<Point>,
}

/// How far a chord may lie off the curve, mm.
const CHORD_MM: f64 = 0.01;

/// Points of a curve in side view, `[x, z]`, from its depth.
fn along(depth: impl Fn(f64) -> f64, from: f64, to: f64) -> Vec<Point> {
    // What a curve does between the places looked at is a small part of what it does from point to point.
    const WITHIN: f64 = 0.9 * CHORD_MM;
    points(&[(&depth, Keep::Near)], from, to, WITHIN).into_iter().map(|(x, at)| [x, -at[0]]).collect()
}

/// The back's outline across at a station, from the bass side's carve line to the treble side's.
fn across(neck: &Neck, back: &Back, x: f64) -> Vec<Point> {
    let side = |side: Side| {
        let p = back.control_points(side, x);
        let second = |i: usize| {
            libm::hypot(p[i][0] - 2.0 * p[i + 1][0] + p[i + 2][0], p[i][1] - 2.0 * p[i + 1][1] + p[i + 2][1])
        };
        let n = libm::ceil(libm::sqrt(0.75 * second(0).max(second(1)) / CHORD_MM)).clamp(1.0, 512.0) as u32;
        (0..=n).map(move |i| cubic_at(p, f64::from(i) / f64::from(n))).collect::<Vec<_>>()
    };
    let mut points = side(Side::Bass);
    points.extend(side(Side::Treble).into_iter().rev().skip(1));
    let sign = neck.hand_sign();
    for p in &mut points {
        p[0] *= sign;
    }
    points
}

/// The stations across which templates of a transition are held.
pub(super) fn stations(neck: &Neck) -> [Vec<Place>; 2] {
    let (volute, heel) = (neck.volute(), neck.heel());
    let between = |a: f64, b: f64, t: f64| a + t * (b - a);
    let at = |x: f64| Place::at(libm::round(x * 10.0) / 10.0);
    // A transition has no tip to be seen: its station is told in numbers as those beside it are.
    let tip = match volute.tip_x_mm {
        x if volute.height_mm > 0.0 => Place::new(x, "volute's tip"),
        0.0 => Place::new(0.0, "nut"),
        x => Place::at(x),
    };
    let head = [
        at(between(volute.start_x_mm, volute.tip_x_mm, 0.5)),
        tip,
        at(between(volute.tip_x_mm, volute.end_x_mm, 1.0 / 3.0)),
        at(between(volute.tip_x_mm, volute.end_x_mm, 2.0 / 3.0)),
        Place::new(volute.end_x_mm, format!("{}'s end", hump(neck))),
    ];
    let foot = [
        Place::new(heel.start_x_mm, "heel's start"),
        at(between(heel.start_x_mm, heel.block_x_mm, 0.25)),
        at(between(heel.start_x_mm, heel.block_x_mm, 0.5)),
        at(between(heel.start_x_mm, heel.block_x_mm, 0.75)),
    ];
    [head.into(), foot.into()]
}

/// The templates of one stretch of a back: along the spine, the carve line on either side, and across at places.
fn of_stretch(
    (neck, back): (&Neck, &Back),
    name: &str,
    allowance_mm: f64,
    [from, to]: [f64; 2],
    places: impl Iterator<Item = Place>,
) -> Vec<Template> {
    let mut all = Vec::new();
    let mut add = |what: String, plane, points_mm| {
        all.push(Template { name: format!("{name}: {what}"), plane, allowance_mm, points_mm });
    };
    add("along the spine".into(), TemplatePlane::Spine, along(|x| back.spine.value(x), from, to));
    for side in Side::BOTH {
        let carve = &back.flanks.of(side).depth[0];
        let what = format!("carve line, {} side", side.name());
        add(what, TemplatePlane::SideFace(side), along(|x| carve.value(x), from, to));
    }
    for p in places {
        add(format!("across at {}", p.name), TemplatePlane::Across { x_mm: p.x }, across(neck, back, p.x));
    }
    all
}

/// All templates of a back that has an allowance on it, of the volute, or the transition where there is none, and the heel.
/// What of the heel's sweep is `glued` has no allowance on: there they are of the finished back.
pub(super) fn templates(
    neck: &Neck,
    [back, finished]: [&Back; 2],
    allowance_mm: f64,
    zones: [[f64; 2]; 2],
    glued: Option<[f64; 2]>,
) -> Vec<Template> {
    let mut all = Vec::new();
    let state = if allowance_mm > 0.0 { "allowance on" } else { "finished" };
    let line = glued.map_or(f64::INFINITY, |[from, _]| from);
    for ((name, zone), places) in [hump(neck), "heel"].into_iter().zip(zones).zip(stations(neck)) {
        let free = places.into_iter().filter(|p| p.x < line);
        all.extend(of_stretch((neck, back), &format!("{name}, {state}"), allowance_mm, zone, free));
    }
    let [_, foot] = stations(neck);
    all.extend(glued.into_iter().flat_map(|zone| {
        let own = foot.iter().filter(|p| p.x >= line).cloned();
        of_stretch((neck, finished), "heel in the glued zone, finished", 0.0, zone, own)
    }));
    all
}

/// The templates of a neck without a carving plan: from where the volute begins to where it ends, and from the heel's
/// beginning to its block, or with an allowance to the glued line. `None` where no neck of so much more wood can be shown to
/// lie outside the finished one.
pub(crate) fn of_neck(neck: &Neck, allowance_mm: f64) -> Option<Vec<Template>> {
    // A hair's breadth of the glued zone is rounding.
    const NEAR_MM: f64 = 1e-6;
    let (volute, heel) = (neck.volute(), neck.heel());
    let finished = &neck.built().back;
    let thicker = if allowance_mm > 0.0 { Some(neck.thickened(allowance_mm)?) } else { None };
    let from = heel.glued_from_x_mm.max(heel.start_x_mm);
    let glued = (allowance_mm > 0.0 && from < heel.block_x_mm - NEAR_MM).then_some([from, heel.block_x_mm]);
    let foot = glued.map_or(heel.block_x_mm, |[from, _]| from);
    let zones = [[volute.start_x_mm, volute.end_x_mm], [heel.start_x_mm, foot]];
    Some(templates(neck, [thicker.as_ref().unwrap_or(finished), finished], allowance_mm, zones, glued))
}

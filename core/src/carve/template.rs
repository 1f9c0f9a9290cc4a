//! Templates for the transitions, in the planes where one can be held.

use alloc::format;
use alloc::string::String;
use alloc::vec::Vec;

use super::mark::Place;
use crate::shape::{Neck, Point, Side, cubic_at};

/// The plane that a template is held in.
#[derive(Clone, Copy, Debug, PartialEq)]
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

/// A curve to draw or to cut a template from, of the finished neck.
#[derive(Clone, Debug, PartialEq)]
pub struct Template {
    /// What it is for.
    pub name: String,
    /// The plane that it is held in.
    pub plane: TemplatePlane,
    /// Its points in the neck's frame, mm; chords between them lie within 0.01 mm of the curve.
    pub points_mm: Vec<Point>,
}

/// How far a chord may lie off the curve, mm.
const CHORD_MM: f64 = 0.01;

/// Points of a smooth function close enough together: the step follows from the bend at three places of each stretch,
/// halved until the chord's middle is within the tolerance.
fn along(f: &dyn Fn(f64) -> f64, from: f64, to: f64) -> Vec<Point> {
    let mut points = alloc::vec![[from, f(from)]];
    let mut open: Vec<(f64, f64, u32)> = Vec::new();
    let parts = 8;
    for i in (0..parts).rev() {
        let at = |i: u32| from + (to - from) * f64::from(i) / f64::from(parts);
        open.push((at(i), at(i + 1), 0));
    }
    while let Some((a, b, depth)) = open.pop() {
        let off = |t: f64| libm::fabs(f(a + t * (b - a)) - ((1.0 - t) * f(a) + t * f(b)));
        if depth < 12 && [0.25, 0.5, 0.75].into_iter().any(|t| off(t) > 0.5 * CHORD_MM) {
            let mid = 0.5 * (a + b);
            open.push((mid, b, depth + 1));
            open.push((a, mid, depth + 1));
        } else {
            points.push([b, f(b)]);
        }
    }
    points
}

/// The back's outline across at a station, from the bass side's carve line to the treble side's.
fn across(neck: &Neck, x: f64) -> Vec<Point> {
    let back = &neck.built().back;
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
    let head = [
        at(between(volute.start_x_mm, volute.tip_x_mm, 0.5)),
        Place::new(volute.tip_x_mm, "volute's tip"),
        at(between(volute.tip_x_mm, volute.end_x_mm, 1.0 / 3.0)),
        at(between(volute.tip_x_mm, volute.end_x_mm, 2.0 / 3.0)),
        Place::new(volute.end_x_mm, "volute's end"),
    ];
    let foot = [
        Place::new(heel.start_x_mm, "heel's start"),
        at(between(heel.start_x_mm, heel.block_x_mm, 0.25)),
        at(between(heel.start_x_mm, heel.block_x_mm, 0.5)),
        at(between(heel.start_x_mm, heel.block_x_mm, 0.75)),
    ];
    [head.into(), foot.into()]
}

/// All templates: along the spine, across at stations, and the carve line on either side, of volute and heel.
pub(super) fn templates(neck: &Neck, stops: [f64; 2], block: f64) -> Vec<Template> {
    let back = &neck.built().back;
    let volute = neck.volute();
    let zones = [("volute", [volute.start_x_mm, stops[0]]), ("heel", [stops[1], block])];
    let mut all = Vec::new();
    for ((name, [from, to]), places) in zones.into_iter().zip(stations(neck)) {
        all.push(Template {
            name: format!("{name}: along the spine"),
            plane: TemplatePlane::Spine,
            points_mm: along(&|x| -back.spine.value(x), from, to),
        });
        for side in Side::BOTH {
            let carve = &back.flanks.of(side).depth[0];
            all.push(Template {
                name: format!("{name}: carve line, {} side", side.name()),
                plane: TemplatePlane::SideFace(side),
                points_mm: along(&|x| -carve.value(x), from, to),
            });
        }
        for p in places {
            all.push(Template {
                name: format!("{name}: across at {}", p.name),
                plane: TemplatePlane::Across { x_mm: p.x },
                points_mm: across(neck, p.x),
            });
        }
    }
    all
}

//! What a specification leaves out, derived from what it says. Common practice, no source: each of these
//! is a place to start from and can be given instead.

use alloc::vec::Vec;

use super::spine::{shaft_line, sweep_run};
use crate::layout::Layout;
use crate::measure::{Length, Station};
use crate::spec::{EdgePoint, HeadstockKind, Post, Specification};

/// Distance between tuner posts along the headstock, and from the last one to the tip.
const POST_PITCH_MM: f64 = 38.0;
const POST_TO_TIP_MM: f64 = 32.0;
/// From the end of the volute to the first post: room for a hole and its washer.
const POST_CLEAR_MM: f64 = 17.6;
/// How much further out than the nut the paddle's edges lie, and how far inside them the posts stand.
const PADDLE_MM: f64 = 16.0;
const POST_INSIDE_MM: f64 = 14.0;
/// Where along the headstock the paddle is as wide as it gets, as a share of its length.
const WIDE: f64 = 0.2;
/// The least wood between the edge and a hole.
const HOLE_CLEAR_MM: f64 = 1.0;
/// How much deeper the heel block is than the shaft where the sweep begins.
const HEEL_DROP_MM: f64 = 3.0;

fn set<T>(slot: &mut Option<T>, value: impl FnOnce() -> T) {
    if slot.is_none() {
        *slot = Some(value());
    }
}

fn mm(value: f64) -> Length {
    Length::from_mm(value)
}

/// Fills in every default; `layout` has been made from the same specification.
pub(super) fn fill(spec: &mut Specification, layout: &Layout) {
    layout.fill(spec);
    let scale = layout.scale_mm();
    set(&mut spec.volute.run_shaft, || mm(0.04 * scale));
    set(&mut spec.volute.run_headstock, || mm(0.035 * scale));
    heel(spec, layout, scale);
    if spec.rod.pocket_length.mm() > 0.0 {
        // The key has to reach the rod: the channel runs on under the nut into the pocket.
        let root = layout.board().start_mm() - spec.nut.thickness.mm();
        if layout.station_mm(&spec.rod.start).is_ok_and(|start| start > root) {
            spec.rod.start = Station::Mm(root);
        }
    }
    set(&mut spec.rod.end, || {
        let heel = spec.heel.end.and_then(|s| layout.station_mm(&s).ok()).unwrap_or_default();
        Station::Mm(heel.min(layout.board().end_mm()) - scale / 40.0)
    });
    headstock(spec);
    for wood in [&mut spec.woods.neck, &mut spec.woods.fretboard] {
        if wood.density.is_none() {
            wood.density = super::wood::density_kg_m3(&wood.species);
        }
    }
}

fn heel(spec: &mut Specification, layout: &Layout, scale: f64) {
    set(&mut spec.heel.end, || Station::Mm(layout.board().end_mm()));
    let at = |s: Option<Station>| s.and_then(|s| layout.station_mm(&s).ok()).unwrap_or_default();
    let end = at(spec.heel.end);
    set(&mut spec.heel.start, || Station::Mm(end - scale / 8.0));
    set(&mut spec.heel.sweep_radius, || mm(scale / 16.0));
    let start = at(spec.heel.start);
    // Where the thicknesses themselves are at fault, the fault is told later; any depth will do here.
    let points: Vec<(f64, f64)> = spec
        .shaft
        .thickness
        .iter()
        .filter_map(|t| Some((layout.station_mm(&t.at).ok()?, t.thickness.mm())))
        .collect();
    let shaft = shaft_line(&points, spec.shaft.curve, start - 1.0, start + 1.0)
        .map_or(22.0, |line| line.value(start));
    set(&mut spec.heel.block_depth, || mm(shaft + HEEL_DROP_MM));
    let [depth, radius] = [spec.heel.block_depth, spec.heel.sweep_radius].map(|l| l.unwrap_or_default().mm());
    set(&mut spec.heel.glued_from, || Station::Mm((start + sweep_run(depth - shaft, radius)).min(end)));
}

fn headstock(spec: &mut Specification) {
    let count = spec.strings.count as usize;
    let (bass, treble) = (count.div_ceil(2), count / 2);
    let run = spec.volute.run_headstock.unwrap_or_default().mm();
    let level = spec.headstock.kind == HeadstockKind::Level;
    let cos = libm::cos(if level { 0.0 } else { spec.headstock.angle.deg().to_radians() });
    // Along the face from the nut to where the volute has ended, then to the first hole.
    let volute = (run - spec.volute.tip.mm() - spec.nut.thickness.mm()) / cos;
    let step = if level { sweep_run(spec.headstock.step.mm(), spec.headstock.step_radius.mm()) } else { 0.0 };
    let first = volute.max(step) + POST_CLEAR_MM + 0.5 * spec.headstock.hole_diameter.mm();
    let usual = first + POST_PITCH_MM * (bass.max(1) - 1) as f64 + POST_TO_TIP_MM;
    set(&mut spec.headstock.length, || mm(usual));
    let length = spec.headstock.length.unwrap_or_default().mm();
    // A given length is shared out in the same proportions.
    let share = length / usual;
    let half = 0.5 * spec.nut.width.mm() + PADDLE_MM;
    let paddle = || {
        alloc::vec![
            EdgePoint { along: mm(WIDE * length), offset: mm(half) },
            EdgePoint { along: mm(length), offset: mm(half) },
        ]
    };
    set(&mut spec.headstock.bass_edge, paddle);
    set(&mut spec.headstock.treble_edge, paddle);
    // A hole square to a tilted face comes out of the back nearer to the nut, where a long paddle is still narrow.
    let radius = 0.5 * spec.headstock.hole_diameter.mm();
    let shift = spec.headstock.thickness.mm() * libm::sqrt((1.0 - cos) * (1.0 + cos)) / cos;
    let nut_half = 0.5 * spec.nut.width.mm();
    set(&mut spec.headstock.posts, || {
        let post = |row: usize, sign: f64| {
            let along = share * (first + POST_PITCH_MM * row as f64);
            let wide = ((along - radius - shift) / (WIDE * length)).clamp(0.0, 1.0);
            let room = nut_half + wide * PADDLE_MM - radius - HOLE_CLEAR_MM;
            let offset = (half - POST_INSIDE_MM).min(room);
            Post { along: mm(along), offset: mm(sign * offset) }
        };
        let down = (0..bass).map(|row| post(row, -1.0));
        down.chain((0..treble).rev().map(|row| post(row, 1.0))).collect()
    });
}

//! Tuner holes: where there is wood for them.

use alloc::format;
use alloc::vec::Vec;

use super::build::geometry;
use super::headstock::Headstock;
use super::rod::Cut;
use super::sides::Sides;
use crate::law::Law;
use crate::measure::Fault;
use crate::spec;

/// The least way from the nut to a tuner's hole or post, mm; common practice, no source.
const NUT_CLEAR_MM: f64 = 5.0;
/// How many straight lines bound half of a hole in plan.
const HOLE_SIDES: u32 = 32;
/// How close the least room beside a hole is proven, mm.
const ROOM_MM: f64 = 1e-6;

/// How far from its axis a hole reaches at each station, by straight lines around it: over its place in the face and, `shift` on,
/// its place in the back; along the neck it is only as long as `along` says.
fn hole_in_plan(x: f64, radius: f64, [along, shift]: [f64; 2]) -> Vec<(f64, f64)> {
    let step = core::f64::consts::PI / f64::from(HOLE_SIDES);
    let out = 1.0 / libm::cos(0.5 * step);
    let corner = |k: u32| {
        let turn = step * f64::from(k);
        (-out * along * libm::cos(turn), out * radius * libm::sin(turn))
    };
    let middle = HOLE_SIDES / 2;
    let front = (0..=middle).map(corner).map(|(dx, y)| (x + dx, y));
    let back = (middle..=HOLE_SIDES).map(corner).map(|(dx, y)| (x + shift + dx, y));
    let mut all: Vec<(f64, f64)> = front.chain(back).collect();
    all.dedup_by(|b, a| b.0 <= a.0);
    all
}

/// How far out a hole's axis may lie under an edge, at most.
fn room_beside(half: &Law, hole: &[(f64, f64)]) -> f64 {
    let reach = |hole: &Law| {
        let (from, to) = (hole.start().max(half.start()), hole.end().min(half.end()));
        half.restricted(from, to)?.minus(&hole.restricted(from, to)?)
    };
    let room = Law::polyline(hole).and_then(|hole| reach(&hole));
    room.map_or(f64::NEG_INFINITY, |room| room.least(ROOM_MM).bound)
}

/// Every tuner hole needs wood around it on the slab, clear of the volute.
pub(super) fn holes_in_slab(
    h: &spec::Headstock,
    head: &Headstock,
    volute: f64,
    half: &Sides<Law>,
) -> Vec<Fault> {
    let mut faults = Vec::new();
    let posts = h.posts.as_deref().unwrap_or_default();
    let radius = 0.5 * h.hole_diameter.mm().max(h.post_diameter.mm());
    // Behind the nut the strings need some way to turn, and a level face comes down its step first.
    let clear = (head.root - NUT_CLEAR_MM).min(head.root - head.step_run).min(volute);
    // A hole square to a tilted face comes out of the back nearer to the nut, and is shorter in plan.
    let (reach, shift) = (radius * head.cos, head.thickness * head.sin);
    let slab = [head.tip() + reach, (clear - reach).min(volute - reach - shift)];
    let along = |x: f64| (head.root - x) / head.cos;
    if slab[0] > slab[1] {
        let reason = "leaves no flat slab for a tuner hole between nut, step or volute and the tip";
        faults.push(
            geometry("headstock.length", head.length, reason)
                .range(head.length + (slab[0] - slab[1]) / head.cos, None)
                .remedy("lengthen the headstock, or make the volute's run on it or the holes less"),
        );
        return faults;
    }
    for (i, post) in posts.iter().enumerate() {
        let x = head.x(post.along.mm());
        if !(slab[0]..=slab[1]).contains(&x) {
            faults.push(
                geometry(
                    format!("headstock.posts[{i}].along"),
                    post.along.mm(),
                    "the tuner hole leaves the flat slab",
                )
                .range(along(slab[1]), along(slab[0]))
                .remedy("move the post, lengthen the headstock or shorten the volute's run on it"),
            );
            continue;
        }
        let hole = hole_in_plan(x, radius, [reach, shift]);
        let edge = Sides::each(|side| room_beside(half.of(side), &hole));
        if !(-edge.bass..=edge.treble).contains(&post.offset.mm()) {
            faults.push(
                geometry(
                    format!("headstock.posts[{i}].offset"),
                    post.offset.mm(),
                    "the tuner hole breaks through the headstock's edge",
                )
                .range(-edge.bass, edge.treble)
                .remedy("move the post inward or widen the outline"),
            );
        }
    }
    faults
}

/// No tuner hole may run into another one, nor into what is cut for the rod.
pub(super) fn holes_apart(h: &spec::Headstock, head: &Headstock, cuts: &[Cut]) -> Vec<Fault> {
    let posts = h.posts.as_deref().unwrap_or_default();
    let radius = 0.5 * h.hole_diameter.mm();
    let (reach, shift) = (radius * head.cos, head.thickness * head.sin);
    let mut faults = Vec::new();
    for (j, post) in posts.iter().enumerate() {
        let apart = |other: &spec::Post| {
            libm::hypot(post.along.mm() - other.along.mm(), post.offset.mm() - other.offset.mm())
        };
        if let Some(i) = posts[..j].iter().position(|other| apart(other) < 2.0 * radius) {
            let reason = format!("the tuner hole runs into that of headstock.posts[{i}]");
            faults.push(
                geometry(format!("headstock.posts[{j}].along"), post.along.mm(), reason)
                    .remedy("move one of the posts, or make the holes less"),
            );
        }
        let x = head.x(post.along.mm());
        let into = |cut: &Cut| {
            let [from, to] = cut.reach_mm();
            let along = (from - (x + shift)).max(x - to).max(0.0);
            let across = (libm::fabs(post.offset.mm()) - cut.half_width_mm()).max(0.0);
            libm::hypot(along / reach, across / radius) < 1.0
        };
        if cuts.iter().any(into) {
            let reason = "the tuner hole runs into the rod's channel or its pocket";
            faults.push(
                geometry(format!("headstock.posts[{j}].offset"), post.offset.mm(), reason)
                    .remedy("move the post, or let channel or pocket begin nearer to the nut"),
            );
        }
    }
    faults
}

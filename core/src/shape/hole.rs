//! Tuner holes: where there is wood for them.

use alloc::format;
use alloc::vec::Vec;

use super::build::geometry;
use super::headstock::Headstock;
use super::rod::Cut;
use super::sides::Sides;
use crate::law::{Bernstein, Law};
use crate::measure::Fault;
use crate::spec;

/// The least way from the nut to a tuner's hole or post, mm; common practice, no source.
const NUT_CLEAR_MM: f64 = 5.0;
/// Ranges are told in steps of this, inward, mm.
const TOLD_MM: f64 = 1e-3;

/// A hole in plan, or a post's foot: an ellipse over its place in the face, another over its place in the back, and what lies
/// between them.
struct Plan {
    /// Stations of the two middles.
    middles: [f64; 2],
    /// Half of its width across, and of either ellipse's length along.
    across: f64,
    along: f64,
}

impl Plan {
    /// How far from its axis it reaches at a station within it.
    fn half_width(&self, x: f64) -> f64 {
        let [front, back] = self.middles;
        let off = (front - x).max(x - back).max(0.0) / self.along;
        self.across * libm::sqrt(((1.0 - off) * (1.0 + off)).max(0.0))
    }

    /// How far out its axis may lie under an edge at most: exactly, since the least room is at a joint of the edge's law, at an end,
    /// or where the edge runs as the ellipse does, which is a root of a polynomial.
    fn room_beside(&self, half: &Law) -> f64 {
        let [front, back] = self.middles;
        let reach = [(front - self.along).max(half.start()), (back + self.along).min(half.end())];
        let Some(edge) = half.restricted(reach[0], reach[1]) else { return f64::NEG_INFINITY };
        let cuts: Vec<f64> = self.middles.into_iter().filter(|x| edge.covers(*x)).collect();
        let edge = edge.refined(&cuts);
        let mut least = f64::INFINITY;
        for (piece, x) in edge.pieces().iter().zip(edge.breaks().windows(2)) {
            let length = x[1] - x[0];
            let centre = if x[1] <= front { front } else { back };
            let between = x[0] >= front && x[1] <= back;
            let slope = piece.derivative();
            let level = if between {
                slope
            } else {
                // With s = (x − centre)/along the edge and across·√(1 − s²) run alike where (along·edge′)²(1 − s²) = (across·s)².
                let s: Bernstein = x.iter().map(|x| (x - centre) / self.along).collect();
                let squared = s.times(&s);
                let slope = slope.times_number(self.along / length);
                let round = Bernstein::constant(1.0).minus(&squared);
                slope.times(&slope).times(&round).minus(&squared.times_number(self.across * self.across))
            };
            for t in level.roots().into_iter().chain([0.0, 1.0]) {
                let room = piece.eval(t) - self.half_width(x[0] + t * length);
                least = least.min(room);
            }
        }
        least
    }
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
        let hole = Plan { middles: [x, x + shift], across: radius, along: reach };
        let edge = Sides::each(|side| hole.room_beside(half.of(side)));
        if !(-edge.bass..=edge.treble).contains(&post.offset.mm()) {
            let fault = geometry(
                format!("headstock.posts[{i}].offset"),
                post.offset.mm(),
                "the tuner hole breaks through the headstock's edge",
            );
            let [low, high] = [up(-edge.bass), down(edge.treble)];
            faults.push(if low <= high {
                fault.range(low, high).remedy("move the post inward or widen the outline")
            } else {
                fault.remedy("no place across has room for it: widen the outline, move the post along, or make hole and post thinner")
            });
        }
    }
    faults
}

/// The least told number above a bound, and the greatest below one.
fn up(bound: f64) -> f64 {
    libm::ceil(bound / TOLD_MM) * TOLD_MM
}

fn down(bound: f64) -> f64 {
    -up(-bound)
}

/// What is left of a range around a value when stretches are taken out of it: the part nearest to the value, told inward.
fn nearest_free(value: f64, [from, to]: [f64; 2], mut taken: Vec<[f64; 2]>) -> Option<[f64; 2]> {
    taken.sort_by(|a, b| a[0].total_cmp(&b[0]));
    let mut free = Vec::new();
    let mut at = from;
    for [a, b] in taken {
        free.push([at, a.min(to)]);
        at = at.max(b);
    }
    free.push([at, to]);
    let told = free.into_iter().map(|[a, b]| [up(a), down(b)]).filter(|[a, b]| a <= b);
    let off = |r: &[f64; 2]| (r[0] - value).max(value - r[1]);
    told.min_by(|a, b| off(a).total_cmp(&off(b)))
}

/// No tuner hole may run into another one, nor into what is cut for the rod.
pub(super) fn holes_apart(h: &spec::Headstock, head: &Headstock, cuts: &[Cut]) -> Vec<Fault> {
    let posts = h.posts.as_deref().unwrap_or_default();
    let radius = 0.5 * h.hole_diameter.mm();
    let (reach, shift) = (radius * head.cos, head.thickness * head.sin);
    let mut faults = Vec::new();
    for (j, post) in posts.iter().enumerate() {
        let [along, offset] = [post.along.mm(), post.offset.mm()];
        let others =
            || (0..posts.len()).filter(|i| *i != j).map(|i| [posts[i].along.mm(), posts[i].offset.mm()]);
        let first = posts[..j]
            .iter()
            .position(|p| libm::hypot(along - p.along.mm(), offset - p.offset.mm()) <= 2.0 * radius);
        if let Some(i) = first {
            let reason = format!("the tuner hole runs into that of headstock.posts[{i}]");
            let fault = geometry(format!("headstock.posts[{j}].along"), along, reason);
            let taken = others().filter_map(|[a, o]| {
                let away = libm::fabs(offset - o);
                let half = libm::sqrt((2.0 * radius - away).max(0.0) * (2.0 * radius + away)) + TOLD_MM;
                (away <= 2.0 * radius).then_some([a - half, a + half])
            });
            let on_slab = [radius, head.length - radius];
            faults.push(match nearest_free(along, on_slab, taken.collect()) {
                Some([low, high]) => {
                    fault.range(low, high).remedy("move one of the posts, or make the holes less")
                }
                None => fault
                    .remedy("no place along has room for it: move the post across, or make the holes less"),
            });
        }
        let x = head.x(along);
        // How far out of the centreline the hole has to lie to be clear of a cut.
        let beside = |cut: &Cut| {
            let [from, to] = cut.reach_mm();
            let off = (from - (x + shift)).max(x - to).max(0.0) / reach;
            (off < 1.0).then(|| cut.half_width_mm() + radius * libm::sqrt((1.0 - off) * (1.0 + off)))
        };
        let clear = cuts.iter().filter_map(beside).fold(0.0, f64::max);
        if libm::fabs(offset) < clear {
            let reason = "the tuner hole runs into the rod's channel or its pocket";
            let fault = geometry(format!("headstock.posts[{j}].offset"), offset, reason);
            let fault =
                if offset < 0.0 { fault.range(None, down(-clear)) } else { fault.range(up(clear), None) };
            faults.push(fault.remedy("move the post, or let channel or pocket begin nearer to the nut"));
        }
    }
    faults
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::law::{EndSlope, through};

    #[test]
    fn the_room_beside_a_hole_is_exact() {
        let points = [(-150.0, 31.0), (-120.0, 36.0), (-90.0, 22.0), (-60.0, 30.0), (0.0, 24.0)];
        let edges = [
            through(&points, EndSlope::Natural, EndSlope::Natural).unwrap(),
            Law::polyline(&points).unwrap(),
            Law::constant(20.0, -150.0, 0.0).unwrap(),
        ];
        for edge in &edges {
            for (x, shift) in [(-130.0, 0.0), (-95.0, 2.5), (-91.0, 0.0), (-70.0, 4.0), (-40.0, 1.0)] {
                let hole = Plan { middles: [x, x + shift], across: 5.0, along: 4.9 };
                let n = 200_000;
                let [from, to] = [x - hole.along, x + shift + hole.along];
                let at = |i: u32| from + (to - from) * f64::from(i) / f64::from(n);
                // Even places, and the corners between them.
                let corners = points.iter().map(|p| p.0).filter(|x| (from..=to).contains(x));
                let dense = (0..=n).map(at).chain(corners).map(|x| edge.value(x) - hole.half_width(x));
                let least = dense.fold(f64::INFINITY, f64::min);
                let room = hole.room_beside(edge);
                // Never more than a place looked at, and off by what can be missed between two of them.
                assert!(room <= least + 1e-12 && least - room < 1e-7, "{x}: {room} {least}");
            }
        }
    }

    #[test]
    fn the_free_part_nearest_to_a_value() {
        let taken = || alloc::vec![[30.0, 50.0], [48.0, 60.0], [80.0, 95.0]];
        assert_eq!(nearest_free(49.0, [5.0, 90.0], taken()), Some([60.0, 80.0]));
        assert_eq!(nearest_free(38.0, [5.0, 90.0], taken()), Some([5.0, 30.0]));
        assert_eq!(nearest_free(85.0, [5.0, 90.0], taken()), Some([60.0, 80.0]));
        assert_eq!(nearest_free(40.0, [31.0, 55.0], taken()), None);
    }
}

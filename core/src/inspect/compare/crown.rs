//! Two boards' faces and top edges.

use alloc::vec::Vec;

use crate::law::{Corner, Law, Region};
use crate::layout::{Crown, sagitta_mm};
use crate::shape::Neck;

/// What rounding may take from a bound, mm.
const ROUNDING: f64 = 1e-11;

/// What of two boards is compared.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum What {
    /// The faces, each square to the other.
    Face,
    /// The top edges, point to point.
    Edge,
}

/// One board over a stretch on which its edge is straight: radius and half width at both ends.
#[derive(Clone, Copy, Debug)]
struct Stretch {
    radius: Option<[f64; 2]>,
    half: [f64; 2],
}

/// Signed distance of a point `depth` below the crown plane and `y` from the centreline from a board's circle, mm; positive
/// where the point stands out of that board. In the form that loses no digits.
fn beyond(radius: Option<f64>, y: f64, depth: f64) -> f64 {
    radius.map_or(-depth, |r| {
        let below = r - depth;
        (y * y - depth * (r + below)) / (r + libm::sqrt(y * y + below * below))
    })
}

fn sagitta(radius: Option<f64>, y: f64) -> f64 {
    radius.map_or(0.0, |r| sagitta_mm(r, y))
}

/// How far two faces are apart over the width that both have: signed, positive where the first stands out. On circles that
/// touch the same crown line it grows from the centreline outward, so that it is greatest at the narrower edge; measured
/// from either face square to the other, and the greater of both told.
fn faces(radius: [Option<f64>; 2], half: f64) -> f64 {
    if radius[0] == radius[1] {
        return 0.0;
    }
    let depth = radius.map(|r| sagitta(r, half));
    let out = [beyond(radius[1], half, depth[0]), -beyond(radius[0], half, depth[1])];
    if libm::fabs(out[0]) >= libm::fabs(out[1]) { out[0] } else { out[1] }
}

/// [`faces`] of two necks at a station of both boards.
pub(super) fn face_at(necks: [&Neck; 2], x: f64) -> f64 {
    let half = necks.map(|n| n.built().board_half.value(x));
    faces(necks.map(|n| n.layout().board().crown().radius_mm(x)), half[0].min(half[1]))
}

/// By how much the first neck's top edge lies further out and higher than the second's, mm.
pub(super) fn edge_at(necks: [&Neck; 2], x: f64) -> [f64; 2] {
    let [one, two] = necks.map(|n| {
        let half = n.built().board_half.value(x);
        [half, sagitta(n.layout().board().crown().radius_mm(x), half)]
    });
    [one[0] - two[0], two[1] - one[1]]
}

/// Two boards over a stretch on which both edges are straight and one of them is the narrower.
#[derive(Clone, Copy, Debug)]
pub(super) struct Boards {
    what: What,
    x: [f64; 2],
    of: [Stretch; 2],
}

impl Boards {
    fn at(&self, i: usize) -> ([Option<f64>; 2], [f64; 2]) {
        (self.of.map(|s| s.radius.map(|r| r[i])), self.of.map(|s| s.half[i]))
    }

    fn middle(&self) -> ([Option<f64>; 2], [f64; 2]) {
        let mid = |[a, b]: [f64; 2]| 0.5 * (a + b);
        (self.of.map(|s| s.radius.map(mid)), self.of.map(|s| mid(s.half)))
    }

    fn value(&self, (radius, half): ([Option<f64>; 2], [f64; 2])) -> f64 {
        match self.what {
            What::Face => libm::fabs(faces(radius, half[0].min(half[1]))),
            What::Edge => {
                let depth = [0, 1].map(|i| sagitta(radius[i], half[i]));
                libm::hypot(half[0] - half[1], depth[0] - depth[1])
            }
        }
    }

    /// The half width that is looked at on a board: its own at the edge, of the face the narrower one.
    fn width(&self, i: usize) -> [f64; 2] {
        match self.what {
            What::Edge => self.of[i].half,
            What::Face => [0, 1].map(|e| self.of[0].half[e].min(self.of[1].half[e])),
        }
    }

    /// A board's sagitta at both ends, which are on the chord above it, and there on its tangent at the middle, which lies
    /// below it: `R − √((R − w)(R + w))` is convex where `R` and `w` are straight.
    fn depths(&self, i: usize) -> [[f64; 2]; 2] {
        let Some(radius) = self.of[i].radius else { return [[0.0; 2]; 2] };
        let half = self.width(i);
        let chord = [0, 1].map(|e| sagitta_mm(radius[e], half[e]));
        let (r, w) = (0.5 * (radius[0] + radius[1]), 0.5 * (half[0] + half[1]));
        let (dr, dw) = (0.5 * (radius[1] - radius[0]), 0.5 * (half[1] - half[0]));
        let root = libm::sqrt((r - w) * (r + w));
        let (middle, rise) = (sagitta_mm(r, w), dr - (r * dr - w * dw) / root);
        [chord, [middle - rise, middle + rise]]
    }

    /// The edges' distance squared is a sum of squares of what is straight or lies between straight lines: greatest at an end.
    fn edge_bound(&self) -> f64 {
        let [[high, low], [other_high, other_low]] = [self.depths(0), self.depths(1)];
        let at = |e: usize| {
            let out = self.of[0].half[e] - self.of[1].half[e];
            let apart = (high[e] - other_low[e]).max(other_high[e] - low[e]);
            libm::hypot(out, apart)
        };
        at(0).max(at(1))
    }

    /// From the face of one board to the circle of another. With the point on its tangent line the distance from the centre
    /// is convex and so is what it stands out, greatest at an end; on its chord it can lie deeper between the ends by what
    /// a convex function of this bend may sag.
    fn face_bound(&self, one: usize, two: usize) -> f64 {
        let ([chord, tangent], half) = (self.depths(one), self.width(one));
        let Some(radius) = self.of[two].radius else { return chord[0].max(chord[1]) };
        let out = |depth: [f64; 2]| [0, 1].map(|e| beyond(Some(radius[e]), half[e], depth[e]));
        let (above, below) = (out(tangent), out(chord));
        let from = [0, 1].map(|e| [half[e], radius[e] - chord[e]]);
        let cross = from[0][0] * from[1][1] - from[0][1] * from[1][0];
        let near = from[0][1].min(from[1][1]);
        let sag = cross * cross / (8.0 * near * near * near);
        above[0].max(above[1]).max(-below[0].min(below[1]) + sag)
    }
}

impl Region for Boards {
    fn probe(&self) -> Corner {
        let mid = 0.5 * (self.x[0] + self.x[1]);
        let places = [(self.x[0], self.at(0)), (mid, self.middle()), (self.x[1], self.at(1))];
        let mut best = Corner { value: 0.0, x_mm: mid, around: f64::NAN };
        for (x, at) in places {
            let value = -self.value(at);
            if value < best.value {
                best = Corner { value, x_mm: x, ..best };
            }
        }
        best
    }

    fn lower(&self) -> f64 {
        -ROUNDING
            - match self.what {
                What::Edge => self.edge_bound(),
                What::Face => self.face_bound(0, 1).max(self.face_bound(1, 0)),
            }
    }

    fn halves(self) -> (Self, Self) {
        let mid = |[a, b]: [f64; 2]| 0.5 * (a + b);
        let part = |i: usize| {
            let cut = |p: [f64; 2]| if i == 0 { [p[0], mid(p)] } else { [mid(p), p[1]] };
            let of = self.of.map(|s| Stretch { radius: s.radius.map(cut), half: cut(s.half) });
            Self { what: self.what, x: cut(self.x), of }
        };
        (part(0), part(1))
    }
}

/// The stations that both boards have.
pub(super) fn shared(necks: [&Neck; 2]) -> Option<[f64; 2]> {
    let reach = necks.map(|n| [n.layout().board().start_mm(), n.layout().board().end_mm()]);
    let (from, to) = (reach[0][0].max(reach[1][0]), reach[0][1].min(reach[1][1]));
    (from < to).then_some([from, to])
}

/// Both boards over the stations that both have; nothing where they are the same.
pub(super) fn boards(necks: [&Neck; 2], what: What) -> Vec<Boards> {
    let Some([from, to]) = shared(necks) else { return Vec::new() };
    let halves: Option<Vec<Law>> = necks.iter().map(|n| n.built().board_half.restricted(from, to)).collect();
    let crowns = necks.map(|n| n.layout().board().crown());
    let Some([one, two]) = halves.as_deref() else { return Vec::new() };
    let same = crowns[0] == crowns[1] && (what == What::Face || one == two);
    if same || (what == What::Face && crowns.iter().all(Crown::is_flat)) {
        return Vec::new();
    }
    let mut stations: Vec<f64> = one.breaks().iter().chain(two.breaks()).copied().collect();
    stations.extend(one.minus(two).map(|l| l.stations_of(0.0)).unwrap_or_default());
    stations.sort_by(f64::total_cmp);
    stations.dedup();
    let ends = |f: &dyn Fn(f64) -> f64, x: &[f64]| [f(x[0]), f(x[1])];
    let stretch = |law: &Law, crown: Crown, x: &[f64]| Stretch {
        radius: (!crown.is_flat()).then(|| ends(&|x| crown.radius_mm(x).unwrap_or(f64::INFINITY), x)),
        half: ends(&|x| law.value(x), x),
    };
    let pair = |x: &[f64]| [stretch(one, crowns[0], x), stretch(two, crowns[1], x)];
    stations.windows(2).map(|x| Boards { what, x: [x[0], x[1]], of: pair(x) }).collect()
}

//! The greatest difference over each part of two necks.

use alloc::vec::Vec;

use super::back::{Piece, pieces, pieces_at};
use super::crown::{What, boards, edge_at, face_at, shared};
use super::difference::{Difference, Surface};
use super::skin::Skin;
use crate::law::{Corner, Law, least_over, nowhere_below};
use crate::shape::{Neck, Point, Side, cubic_at};

/// How close a proven bound comes, mm.
const TOLERANCE: f64 = 5e-7;

/// The most pieces that a proof looks at before it tells the bound it has reached.
const BUDGET: usize = 20_000;

/// Two necks, the one that was asked first.
#[derive(Clone, Copy, Debug)]
pub(super) struct Pair<'a>(pub [&'a Neck; 2]);

/// Where one of two pairs of stations ends, and the stations that both have.
fn both([a, b]: [[f64; 2]; 2]) -> Option<[f64; 2]> {
    let (from, to) = (a[0].max(b[0]), a[1].min(b[1]));
    (from < to).then_some([from, to])
}

/// A law's greatest size, its place and what is proven of it.
fn greatest(law: &Law) -> (f64, f64, f64) {
    if law.pieces().iter().all(|p| p.is_zero()) {
        return (0.0, law.start(), 0.0);
    }
    let (least, most) = (law.least(TOLERANCE), law.greatest(TOLERANCE));
    let proven = most.bound.max(-least.bound);
    if most.value >= -least.value {
        (most.value, most.x_mm, proven.max(most.value))
    } else {
        (least.value, least.x_mm, proven.max(-least.value))
    }
}

impl<'a> Pair<'a> {
    /// A difference at a place of the first neck's side of it.
    pub fn told(
        &self,
        difference_mm: f64,
        proven_mm: f64,
        x: f64,
        surface: Surface,
        side: Side,
        p: Point,
    ) -> Difference {
        let fret = self.0[0].fret_at(x).ok().filter(|f| f.is_finite());
        Difference {
            difference_mm,
            proven_mm,
            x_mm: x,
            nearest_fret: fret.map(|f| libm::round(f).max(0.0) as u32),
            surface,
            side,
            across_mm: p[0],
            depth_mm: -p[1],
        }
    }

    pub fn wood(&self) -> Option<[f64; 2]> {
        both(self.0.map(Neck::wood_reach_mm))
    }

    fn heads(&self) -> Option<[f64; 2]> {
        both(self.0.map(|n| [n.built().head.tip(), n.built().head.root]))
    }

    fn pieces(&self) -> Vec<Piece> {
        let Some(reach) = self.wood() else { return Vec::new() };
        pieces(self.0, reach)
    }

    /// What part of the neck a place around the back is.
    fn surface(&self, x: f64, around: f64) -> Surface {
        let built = self.0[0].built();
        if x < built.volute.start() {
            return Surface::HeadstockBack;
        }
        if x > built.sweep.start {
            return Surface::Heel;
        }
        match around {
            u if u > 0.75 => Surface::Spine,
            u if u < 0.1 => Surface::CarveLine,
            _ => Surface::Shoulder,
        }
    }

    /// The difference that was found at a corner of the search: of all places there that a search can have meant the one whose
    /// distance it is.
    fn place(&self, found: Corner, proven: f64) -> Difference {
        let x = found.x_mm;
        let skins = self.0.map(|n| Skin::of(n, x));
        let mut best: Option<(f64, Difference)> = None;
        for (i, own) in skins.iter().enumerate() {
            let other = &skins[1 - i];
            for side in Side::BOTH {
                let (mine, theirs) = (own.back.of(side), other.back.of(side));
                let flat = [mine[0][0], theirs[0][1] + found.around * (mine[0][1] - theirs[0][1])];
                let carved = (cubic_at(*mine, found.around), self.surface(x, found.around));
                for (p, surface) in [carved, (flat, Surface::SideFace)] {
                    if surface == Surface::SideFace && mine[0][1] > theirs[0][1] {
                        continue;
                    }
                    let foot = other.nearest(p);
                    let out = other.outside(p, &foot) == (i == 0);
                    let signed = if out { foot.distance } else { -foot.distance };
                    let off = libm::fabs(foot.distance + found.value);
                    if best.as_ref().is_none_or(|b| off < b.0) {
                        best = Some((off, self.told(signed, proven.max(foot.distance), x, surface, side, p)));
                    }
                }
            }
        }
        // There are always eight places to choose from.
        best.map_or_else(|| self.told(0.0, proven, x, Surface::Spine, Side::Bass, [0.0; 2]), |b| b.1)
    }

    /// A part on which the necks are the same to the bit: told where both have it.
    fn alike(&self, x: f64, surface: Surface) -> Difference {
        let skin = Skin::of(self.0[0], x);
        let p = if surface == Surface::Spine { skin.back.bass[3] } else { skin.back.bass[0] };
        self.told(0.0, 0.0, x, surface, Side::Bass, p)
    }

    /// The backs, from carve line to carve line.
    pub fn back(&self) -> Option<Difference> {
        let reach = self.wood()?;
        let spot = reach[0].max(0.0_f64.min(reach[1]));
        match least_over(self.pieces(), TOLERANCE, BUDGET) {
            Some(proof) if proof.least.value < 0.0 => Some(self.place(proof.least, -proof.bound)),
            Some(proof) => Some(Difference { proven_mm: -proof.bound, ..self.alike(spot, Surface::Spine) }),
            None => Some(self.alike(spot, Surface::Spine)),
        }
    }

    /// The backs in one section.
    pub fn back_at(&self, x: f64) -> Difference {
        match least_over(pieces_at(self.0, x), TOLERANCE, BUDGET) {
            Some(proof) if proof.least.value < 0.0 => self.place(proof.least, -proof.bound),
            Some(proof) => Difference { proven_mm: -proof.bound, ..self.alike(x, Surface::Spine) },
            None => self.alike(x, Surface::Spine),
        }
    }

    /// Side faces over a stretch: by how much the first is wider than the second.
    fn sides(&self, reach: [f64; 2], surface: Surface) -> Option<Difference> {
        let mut worst: Option<Difference> = None;
        for side in Side::BOTH {
            let halves = self.0.map(|n| n.built().back.flanks.of(side).out[0].restricted(reach[0], reach[1]));
            let [Some(one), Some(two)] = &halves else { continue };
            let (value, x, proven) = greatest(&one.minus(two)?);
            let edge = self.side_point(side, x);
            let next = self.told(value, proven, x, surface, side, edge);
            worst = Some(worse(worst, next));
        }
        worst
    }

    /// The first neck's carve line at a station.
    fn side_point(&self, side: Side, x: f64) -> Point {
        self.0[0].built().back.control_points(side, x)[0]
    }

    /// The side faces of shaft and heel.
    pub fn side_faces(&self) -> Option<Difference> {
        let [from, to] = self.wood()?;
        let from = self.0.iter().map(|n| n.built().head.root).fold(from, f64::max);
        if from < to { self.sides([from, to], Surface::SideFace) } else { None }
    }

    /// The headstock's edges, as far as both are headstocks there.
    pub fn headstock_edges(&self) -> Option<Difference> {
        let reach = self.heads()?;
        let mut worst = self.sides(reach, Surface::HeadstockEdge);
        let faces = self.0.map(|n| n.built().face.restricted(reach[0], reach[1]));
        let [Some(face), Some(other_face)] = &faces else { return worst };
        let deep = face.minus(other_face)?;
        for side in Side::BOTH {
            let halves = self.0.map(|n| n.built().back.flanks.of(side).out[0].restricted(reach[0], reach[1]));
            let [Some(one), Some(two)] = &halves else { continue };
            let out = one.minus(two)?;
            let square = out.times(&out)?.plus(&deep.times(&deep)?)?;
            if square.pieces().iter().all(|p| p.is_zero()) {
                continue;
            }
            // A square within 1e-13 leaves the root within 3.2e-7.
            let most = square.greatest(1e-13);
            let (x, size) = (most.x_mm, libm::sqrt(most.value.max(0.0)));
            // Further out counts as standing out; beside it, higher.
            let (o, d) = (out.value(x), deep.value(x));
            let sign = if libm::fabs(o) >= libm::fabs(d) { o } else { -d };
            let p = [self.side_point(side, x)[0], -self.0[0].built().face.value(x)];
            let signed = if sign < 0.0 { -size } else { size };
            let proven = libm::sqrt(most.bound.max(0.0)).max(size);
            let next = self.told(signed, proven, x, Surface::HeadstockCorner, side, p);
            worst = Some(worse(worst, next));
        }
        worst
    }

    /// The headstock's face: the deeper of the two stands back.
    pub fn headstock_face(&self) -> Option<Difference> {
        let reach = self.heads()?;
        let faces = self.0.map(|n| n.built().face.restricted(reach[0], reach[1]));
        let [Some(one), Some(two)] = &faces else { return None };
        let (value, x, proven) = greatest(&two.minus(one)?);
        let face = -self.0[0].built().face.value(x);
        Some(self.told(value, proven, x, Surface::HeadstockFace, Side::Bass, [0.0, face]))
    }

    fn board_part(&self, what: What, surface: Surface) -> Option<Difference> {
        let [from, _] = shared(self.0)?;
        let found = least_over(boards(self.0, what), TOLERANCE, BUDGET);
        let (x, proven) = found.map_or((from, 0.0), |p| (p.least.x_mm, -p.bound));
        let half = self.0.map(|n| n.built().board_half.value(x));
        let y = if what == What::Face { half[0].min(half[1]) } else { half[0] };
        let p = [-y, -self.0[0].layout().board().crown().sagitta(x, y)];
        let value = self.board_at(what, x);
        Some(self.told(value, proven.max(libm::fabs(value)), x, surface, Side::Bass, p))
    }

    /// The boards' faces or edges at a station of both, signed.
    pub fn board_at(&self, what: What, x: f64) -> f64 {
        match what {
            What::Face => face_at(self.0, x),
            What::Edge => {
                let [out, up] = edge_at(self.0, x);
                let sign = if libm::fabs(out) >= libm::fabs(up) { out } else { up };
                libm::hypot(out, up) * if sign < 0.0 { -1.0 } else { 1.0 }
            }
        }
    }

    /// The boards' faces, over the width that both have.
    pub fn board_face(&self) -> Option<Difference> {
        self.board_part(What::Face, Surface::BoardFace)
    }

    /// The boards' top edges.
    pub fn board_edges(&self) -> Option<Difference> {
        self.board_part(What::Edge, Surface::BoardEdge)
    }

    /// Whether the backs and the boards are nowhere further apart than this, proven.
    pub fn curved_within(&self, limit: f64) -> bool {
        nowhere_below(boards(self.0, What::Edge), -limit, BUDGET)
            && nowhere_below(boards(self.0, What::Face), -limit, BUDGET)
            && nowhere_below(self.pieces(), -limit, BUDGET)
    }
}

/// The greater of two differences, with what is proven of both.
pub(super) fn worse(one: Option<Difference>, two: Difference) -> Difference {
    let Some(one) = one else { return two };
    let proven_mm = one.proven_mm.max(two.proven_mm);
    let greater = if two.size_mm() > one.size_mm() { two } else { one };
    Difference { proven_mm, ..greater }
}

//! The hand method: planes tangent outside the back.

use alloc::format;
use alloc::string::String;
use alloc::sync::Arc;
use alloc::vec::Vec;

use super::clearance::distance_to_side;
use super::fence::{Straight, outside};
use super::mark::Place;
use super::pass::{Cut, Pass, support};
use super::wood::Wood;
use crate::law::Law;
use crate::shape::{Back, Side};

/// Where a facet's two edges lie at a station, on the wood as it is before it is planed: on the faces, the facets and the
/// rounded corners beside it.
#[derive(Clone, Debug, PartialEq, serde::Serialize)]
pub struct FacetMarks {
    /// Station, mm from the nut.
    pub x_mm: f64,
    /// The station in words.
    pub place: String,
    /// The edge nearer to the board, `[from the centreline, below the crown plane]`, mm; on the side face its depth is
    /// what is marked. `None` where the facet takes nothing at this station.
    pub upper_mm: Option<[f64; 2]>,
    /// The edge nearer to the spine; on the back its distance from the centreline is what is marked.
    pub lower_mm: Option<[f64; 2]>,
}

/// One facet.
#[derive(Clone, Debug, PartialEq, serde::Serialize)]
pub struct Facet {
    /// The round in which it is planed, from 1.
    pub round: u32,
    /// The side that it is on.
    pub side: Side,
    /// Angle between the facet and the side face, degrees: 90 is the back itself, 45 the first facet beside it.
    pub angle_deg: f64,
    /// Whether it is planed as one plane, along a straight edge.
    pub straight: bool,
    /// For a straight facet its distance from the crown's centre, measured square to it in each section, over the run.
    pub height: Option<Straight>,
    /// The most that a straight facet leaves over one that follows the back, mm.
    pub over_mm: f64,
    /// Its edges at the marked stations, all along the run, and where it runs out between two of them. Right where a cutter
    /// was set in or lifted out there are two: of the corner that is square still and of the one that the cutter has
    /// shaped.
    pub marks: Vec<FacetMarks>,
}

/// The facets of all rounds.
#[derive(Clone, Debug, PartialEq, serde::Serialize)]
pub struct FacetFacts {
    /// Wood that every facet leaves over the finished back, square to it, mm.
    pub allowance_mm: f64,
    /// First and last station of the run, mm from the nut.
    pub run_mm: [f64; 2],
    /// The facets, round by round.
    pub facets: Vec<Facet>,
    /// The most wood that is left anywhere on the run, at an edge between two facets, square to the finished back, mm; a
    /// cutter that went before may have left less.
    pub most_left_mm: f64,
    /// Where that is, mm from the nut.
    pub most_left_x_mm: f64,
}

/// One side of the shaft that facets are planed on.
pub(super) struct Bevel<'a> {
    pub side: Side,
    pub edge: &'a Law,
    pub base: Straight,
    pub finished: &'a Arc<Back>,
    pub zone: [f64; 2],
    pub allowance: f64,
    pub straight_within: f64,
}

/// A line in a section: `n·(out, depth) = height`.
type Edge = ([f64; 2], f64);

/// Where two lines of a section meet.
fn meeting((a, h): &Edge, (b, k): &Edge) -> Option<[f64; 2]> {
    let turn = a[0] * b[1] - a[1] * b[0];
    (libm::fabs(turn) > 1e-12).then(|| [(h * b[1] - k * a[1]) / turn, (a[0] * k - b[0] * h) / turn])
}

/// Direction of a facet, `[outward, down]`, from its angle to the side face.
fn way(angle_deg: f64) -> [f64; 2] {
    if angle_deg == 90.0 {
        return [0.0, 1.0];
    }
    let a = angle_deg.to_radians();
    [libm::cos(a), libm::sin(a)]
}

/// Whether values along the neck lie on one straight line, as close as a pencil's.
pub(super) fn in_line(values: &[[f64; 2]]) -> bool {
    const PENCIL_MM: f64 = 0.05;
    let [[a, v], .., [b, w]] = values else { return true };
    values.iter().all(|[x, value]| libm::fabs(v + (w - v) * (x - a) / (b - a) - value) <= PENCIL_MM)
}

/// The marks of a facet at the places of a stretch, and where between two of them it runs out.
fn marks(stretch: &[Place], edges: &dyn Fn(f64) -> Option<[[f64; 2]; 2]>) -> Vec<FacetMarks> {
    let mark = |x: f64, place: String, edges: Option<[[f64; 2]; 2]>| FacetMarks {
        x_mm: x,
        place,
        upper_mm: edges.map(|e| e[0]),
        lower_mm: edges.map(|e| e[1]),
    };
    let seen: Vec<_> = stretch.iter().map(|p| edges(p.x)).collect();
    let mut all = Vec::new();
    for (i, p) in stretch.iter().enumerate() {
        all.push(mark(p.x, p.name.clone(), seen[i]));
        let Some(next) = seen.get(i + 1).filter(|next| next.is_some() != seen[i].is_some()) else { continue };
        let (mut there, mut not) = (p.x, stretch[i + 1].x);
        if next.is_some() {
            (there, not) = (not, there);
        }
        for _ in 0..40 {
            let mid = 0.5 * (there + not);
            if edges(mid).is_some() { there = mid } else { not = mid }
        }
        all.push(mark(there, format!("{there:.1} mm, where it runs out"), edges(there)));
    }
    all
}

impl Bevel<'_> {
    /// How far out on this side the spine lies.
    fn ridge(&self, x: f64) -> f64 {
        self.side.sign() * self.finished.control_points(self.side, x)[3][0]
    }

    fn reach(&self, x: f64, way: [f64; 2]) -> f64 {
        support(&self.finished.control_points(self.side, x), self.side, way).0
    }

    /// The facet as one plane: the best plane outside the back, moved square to itself by the allowance.
    fn plane(&self, way: [f64; 2]) -> (Straight, f64) {
        let flank = self.finished.flanks.of(self.side);
        let kinks: Vec<f64> =
            flank.out.iter().chain(&flank.depth).flat_map(|law| law.breaks().iter().copied()).collect();
        let line = outside(&|x| self.reach(x, way), self.zone[0], self.zone[1], &kinks);
        let over = |x: f64| line.at_mm(x) - self.reach(x, way);
        let step = (self.zone[1] - self.zone[0]) / 200.0;
        let most = (0..=200).map(|i| over(self.zone[0] + step * f64::from(i))).fold(0.0, f64::max);
        (line.moved(self.allowance * line.steepness()), most)
    }

    /// The lines of a section that the facets of a cut list make, with the side face and the sawn back, from the side
    /// face on.
    fn edges<'b>(&self, facets: impl Iterator<Item = &'b (f64, Cut)>, x: f64) -> Vec<Edge> {
        let mut edges: Vec<(f64, Edge)> = alloc::vec![
            (0.0, ([1.0, 0.0], self.edge.value(x))),
            (90.0, ([0.0, 1.0], self.base.at_mm(x))),
            // A side's facets end at the spine, where the other side's begin.
            (180.0, ([-1.0, 0.0], -self.ridge(x))),
        ];
        edges.extend(facets.map(|(angle, cut)| (*angle, (way(*angle), self.height(cut, x)))));
        edges.sort_by(|a, b| a.0.total_cmp(&b.0));
        edges.into_iter().map(|e| e.1).collect()
    }

    fn height(&self, cut: &Cut, x: f64) -> f64 {
        match cut {
            Cut::Plane { height, .. } => height.at_mm(x),
            Cut::Following { way, out_mm, .. } => self.reach(x, *way) + out_mm,
            _ => f64::INFINITY,
        }
    }

    /// All facets of a side, in the order in which they are planed, with their cuts.
    /// `before` is the wood that is there, `stretches` the places at which its edges are marked.
    pub fn facets(
        &self,
        rounds: u32,
        stretches: &[Vec<Place>],
        before: &Wood,
    ) -> (Vec<Facet>, Vec<(f64, Cut)>) {
        let (mut facets, mut made): (Vec<Facet>, Vec<(f64, Cut)>) = (Vec::new(), Vec::new());
        let mut wood = before.clone();
        for round in 1..=rounds {
            let parts = 1u32 << round;
            let between = (1..parts).step_by(2).map(|i| 90.0 * f64::from(i) / f64::from(parts));
            // The back itself is the facet at 90 degrees, planed before all others.
            for angle_deg in (round == 1).then_some(90.0).into_iter().chain(between) {
                let n = way(angle_deg);
                let (height, over_mm) = self.plane(n);
                let straight = over_mm <= self.straight_within;
                let cut = if straight {
                    Cut::Plane { across: self.side.sign() * n[0], down: n[1], height }
                } else {
                    Cut::Following {
                        side: self.side,
                        way: n,
                        out_mm: self.allowance,
                        back: Arc::clone(self.finished),
                    }
                };
                let edges = |x: f64| {
                    let sign = self.side.sign();
                    let mut contour = wood.contour(x)?;
                    contour.lower(cut.limit(x));
                    let ends = contour.taken_by_last(sign, self.ridge(x))?;
                    Some(ends.map(|[y, depth]| [sign * y, depth]))
                };
                let marks = stretches.iter().flat_map(|stretch| marks(stretch, &edges));
                facets.push(Facet {
                    round,
                    side: self.side,
                    angle_deg,
                    straight,
                    height: straight.then_some(height),
                    over_mm: if straight { over_mm } else { 0.0 },
                    marks: marks.collect(),
                });
                wood.passes.push(Pass { zone: self.zone, cut: cut.clone() });
                made.push((angle_deg, cut));
            }
        }
        (facets, made)
    }

    /// The most wood left at an edge between two neighbours in the section at a station.
    fn most_left_at(&self, made: &[(f64, Cut)], x: f64) -> f64 {
        let edges = self.edges(made.iter(), x);
        let points = self.finished.control_points(self.side, x);
        let within = |p: &[f64; 2]| edges.iter().all(|(n, h)| n[0] * p[0] + n[1] * p[1] <= h + 1e-9);
        let mut most = 0.0_f64;
        for (i, a) in edges.iter().enumerate() {
            for b in &edges[i + 1..] {
                if let Some(p) = meeting(a, b).filter(within) {
                    most = most.max(distance_to_side(&points, self.side, p));
                }
            }
        }
        most
    }

    /// The most wood left over the run and where; looked for at 129 stations.
    pub fn most_left(&self, made: &[(f64, Cut)]) -> (f64, f64) {
        let step = (self.zone[1] - self.zone[0]) / 128.0;
        (0..=128)
            .map(|i| self.zone[0] + step * f64::from(i))
            .map(|x| (self.most_left_at(made, x), x))
            .fold((0.0, self.zone[0]), |a, b| if b.0 > a.0 { b } else { a })
    }
}

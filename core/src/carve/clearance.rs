//! The least wood between a cut and the neck, proven over the whole of it.

use alloc::vec::Vec;

use super::fence::Straight;
use super::pass::Cut;
use crate::law::{Bernstein, Corner, Law, Patch, Region, least_over};
use crate::shape::{Back, LeastValue, Point, Side, Strip, cubic_at};

/// How close a proven clearance comes to one that is really there, mm, unless the search is given up after 40,000
/// pieces; it is proven either way.
pub const CLEARANCE_TOLERANCE: f64 = 1e-6;
/// The most pieces that a proof looks at.
const BUDGET: usize = 40_000;
/// What rounding may take from a bound, mm.
const SLACK: f64 = 1e-10;

/// The least clearance of a cut, proven, and the place on the neck where it is.
#[derive(Clone, Copy, Debug, PartialEq, serde::Serialize)]
pub struct Clearance {
    /// The least clearance, where along the neck, and what is proven.
    pub least: LeastValue,
    /// The place `[y, z]` on the section there, mm.
    pub at_mm: Point,
    /// How much there has to be, mm.
    pub needed_mm: f64,
}

impl Clearance {
    pub(super) fn on_hand(mut self, sign: f64) -> Self {
        self.at_mm[0] *= sign;
        self
    }

    /// How much more there is than there has to be, mm, by what is proven.
    #[must_use]
    pub fn spare_mm(&self) -> f64 {
        self.least.proven - self.needed_mm
    }

    /// Whether there is as much as there has to be, to within what rounding leaves.
    #[must_use]
    pub fn holds(&self) -> bool {
        const ROUNDING: f64 = 1e-9;
        self.least.value >= self.needed_mm - ROUNDING && self.spare_mm() >= -CLEARANCE_TOLERANCE - ROUNDING
    }
}

/// What a cut's clearance is measured by, over one piece of a back's surface.
#[derive(Clone)]
enum Gap {
    /// Distance from a plane, a polynomial.
    Plane(Patch),
    /// How far outward of a rounded corner's centre and below it, and the radius.
    Round { out: Patch, down: Patch, radius: f64 },
    /// How far from a hollow's centre either way, and the radius.
    Cove { out: Patch, down: Patch, radius: f64 },
}

impl Gap {
    /// Clearance at a point of the unit square.
    fn value(&self, s: f64, u: f64) -> f64 {
        match self {
            Self::Plane(gap) => gap.eval(s, u),
            Self::Round { out, down, radius } => {
                radius - libm::hypot(out.eval(s, u).max(0.0), down.eval(s, u).max(0.0))
            }
            Self::Cove { out, down, radius } => libm::hypot(out.eval(s, u), down.eval(s, u)) - radius,
        }
    }

    fn lower(&self) -> f64 {
        let low = match self {
            Self::Plane(gap) => gap.hull().0,
            Self::Round { out, down, radius } => {
                let (a, b) = (out.hull().1, down.hull().1);
                let apart = radius - libm::hypot(a.max(0.0), b.max(0.0));
                if a <= 0.0 || b <= 0.0 {
                    apart
                } else {
                    let square = out.times(out).combined(1.0, &down.times(down), 1.0).hull().1;
                    apart.max(radius - libm::sqrt(square.max(0.0)))
                }
            }
            Self::Cove { out, down, radius } => {
                let square = out.times(out).combined(1.0, &down.times(down), 1.0).hull().0;
                libm::sqrt(square.max(0.0)) - radius
            }
        };
        low - SLACK
    }

    fn each(&self, f: impl Fn(&Patch) -> (Patch, Patch)) -> (Self, Self) {
        match self {
            Self::Plane(gap) => {
                let (a, b) = f(gap);
                (Self::Plane(a), Self::Plane(b))
            }
            Self::Round { out, down, radius } => {
                let ((a, b), (c, d), radius) = (f(out), f(down), *radius);
                (Self::Round { out: a, down: c, radius }, Self::Round { out: b, down: d, radius })
            }
            Self::Cove { out, down, radius } => {
                let ((a, b), (c, d), radius) = (f(out), f(down), *radius);
                (Self::Cove { out: a, down: c, radius }, Self::Cove { out: b, down: d, radius })
            }
        }
    }

    /// How far the coefficients spread along the neck and around the section.
    fn spreads(&self) -> [f64; 2] {
        match self {
            Self::Plane(gap) => gap.spreads(),
            Self::Round { out, down, .. } | Self::Cove { out, down, .. } => {
                let (a, b) = (out.spreads(), down.spreads());
                [a[0].max(b[0]), a[1].max(b[1])]
            }
        }
    }
}

#[derive(Clone)]
struct Cell {
    x: [f64; 2],
    around: [f64; 2],
    gap: Gap,
}

impl Region for Cell {
    fn probe(&self) -> Corner {
        let places = [[0.0, 0.0], [0.0, 1.0], [1.0, 0.0], [1.0, 1.0], [0.5, 0.5], [0.5, 0.0], [0.5, 1.0]];
        let corner = |[s, u]: [f64; 2]| Corner {
            value: self.gap.value(s, u),
            x_mm: self.x[0] + s * (self.x[1] - self.x[0]),
            around: self.around[0] + u * (self.around[1] - self.around[0]),
        };
        let first = corner(places[0]);
        places[1..].iter().map(|p| corner(*p)).fold(first, |a, b| if b.value < a.value { b } else { a })
    }

    fn lower(&self) -> f64 {
        self.gap.lower()
    }

    fn halves(self) -> (Self, Self) {
        let [along, around] = self.gap.spreads();
        let mid = |[a, b]: [f64; 2]| 0.5 * (a + b);
        if around > along {
            let (a, b) = self.gap.each(Patch::halves_around);
            let m = mid(self.around);
            (
                Self { around: [self.around[0], m], gap: a, ..self },
                Self { around: [m, self.around[1]], gap: b, ..self },
            )
        } else {
            let (a, b) = self.gap.each(Patch::halves_along);
            let m = mid(self.x);
            (Self { x: [self.x[0], m], gap: a, ..self }, Self { x: [m, self.x[1]], gap: b, ..self })
        }
    }
}

fn along(values: [f64; 2]) -> Patch {
    Patch::from_columns(&[values.into_iter().collect()])
}

fn line_over(line: &Straight, x: [f64; 2]) -> Patch {
    along(x.map(|x| line.at_mm(x)))
}

fn law_over(law: &Law, x: [f64; 2]) -> Option<Patch> {
    let part = law.restricted(x[0], x[1])?;
    (part.pieces().len() == 1).then(|| Patch::from_columns(&[part.pieces()[0].clone()]))
}

/// The gap between a cut and one strip of one side.
fn gap(cut: &Cut, strip: &Strip, side: Side) -> Option<Gap> {
    let corner = |edge: &Law, base: &Straight, radius: f64| -> Option<[Patch; 2]> {
        let inward = along([radius, radius]);
        let centre = [
            law_over(edge, strip.x)?.combined(1.0, &inward, -1.0),
            line_over(base, strip.x).combined(1.0, &inward, -1.0),
        ];
        Some([strip.out.combined(1.0, &centre[0], -1.0), strip.depth.combined(1.0, &centre[1], -1.0)])
    };
    match cut {
        Cut::Plane { across, down, height } => {
            // Square to the plane in space: it may rise along the neck.
            let scale = 1.0 / libm::sqrt(across * across + down * down + height.slope() * height.slope());
            let reach = strip.out.combined(side.sign() * across * scale, &strip.depth, down * scale);
            Some(Gap::Plane(line_over(height, strip.x).combined(scale, &reach, -1.0)))
        }
        Cut::Chamfer { width, edge, base, .. } => {
            let [out, down] = corner(edge, base, 0.5 * width)?;
            let way = -core::f64::consts::FRAC_1_SQRT_2;
            Some(Gap::Plane(out.combined(way, &down, way)))
        }
        Cut::Round { radius, edge, base, .. } => {
            let [out, down] = corner(edge, base, *radius)?;
            Some(Gap::Round { out, down, radius: *radius })
        }
        Cut::Cove { radius, edge, base, .. } => {
            let [out, down] = corner(edge, base, 0.0)?;
            Some(Gap::Cove { out, down, radius: *radius })
        }
        Cut::Following { .. } | Cut::Ball { .. } => None,
    }
}

/// Stations where a cut's own law has a joint.
fn kinks(cut: &Cut) -> &[f64] {
    match cut {
        Cut::Round { edge, .. } | Cut::Chamfer { edge, .. } | Cut::Cove { edge, .. } => edge.breaks(),
        _ => &[],
    }
}

/// The least clearance between a cut and the sides of a back, over the stations `zone`: to a plane square to it in
/// space, to a guided cutter's round, flat or hollow in the plane of the section. For cuts that touch a back in every section by
/// construction (facets that follow it, a ball) the clearance is theirs by definition, and `None` is returned; so it
/// is where no part of the back lies over the zone.
pub(super) fn least(cut: &Cut, sides: &[Side], back: &Back, zone: [f64; 2]) -> Option<(LeastValue, Point)> {
    let mut cells: Vec<(Side, Cell)> = Vec::new();
    for side in sides {
        for strip in back.strips(*side, zone[0], zone[1], kinks(cut)) {
            let gap = gap(cut, &strip, *side)?;
            cells.push((*side, Cell { x: strip.x, around: [0.0, 1.0], gap }));
        }
    }
    let mut best: Option<(LeastValue, Point)> = None;
    for side in sides {
        let own = cells.iter().filter(|c| c.0 == *side).map(|c| c.1.clone());
        let Some(proof) = least_over(own, CLEARANCE_TOLERANCE, BUDGET) else { continue };
        let value = LeastValue::mm(proof.least.value, proof.least.x_mm, proof.bound);
        let points = back.control_points(*side, value.x_mm);
        let at = cubic_at(points, proof.least.around);
        best = Some(match best {
            Some((b, p)) if b.value <= value.value => {
                (LeastValue { proven: b.proven.min(value.proven), ..b }, p)
            }
            Some((b, _)) => (LeastValue { proven: b.proven.min(value.proven), ..value }, at),
            None => (value, at),
        });
    }
    best
}

/// The distance from a point `[out, depth]` to a side of a section: the flat side above the carve line and the curve
/// below it. At its ends or where the line to the point is square to it (a root of degree 5).
pub(super) fn distance_to_side(points: &[Point; 4], side: Side, from: [f64; 2]) -> f64 {
    let out: Bernstein = points.iter().map(|p| side.sign() * p[0] - from[0]).collect();
    let down: Bernstein = points.iter().map(|p| -p[1] - from[1]).collect();
    let foot = out.times(&out.derivative()).plus(&down.times(&down.derivative()));
    let places = [0.0, 1.0].into_iter().chain(foot.roots());
    let nearest = places.map(|u| libm::hypot(out.eval(u), down.eval(u))).fold(f64::INFINITY, f64::min);
    // Level with the flat side, that is the nearest.
    if down.coefs()[0] > 0.0 { nearest.min(libm::fabs(out.coefs()[0])) } else { nearest }
}

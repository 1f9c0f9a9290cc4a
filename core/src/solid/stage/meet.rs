//! Where two bounds meet, as laws.

use alloc::vec::Vec;

use super::super::foot::{Piece, jet};
use super::super::smooth::{Break, Jet, Reading, breaks_of, smooth};
use super::bound::{BLOCK, Bound, Shape};
use super::chain::Chain;
use super::ends::near_end;
use super::walk::Walk;
use crate::law::{Law, Smoothness};

/// How close the laws come, mm.
const WITHIN_MM: f64 = 2e-11;
/// Places no farther apart are one, mm.
const ONE_MM: f64 = 1e-9;

/// A boundary's place across, and what depths are known over it.
pub(super) struct Meeting {
    pub law: Law,
    pub depths: Vec<(usize, Law)>,
    pub fitted: bool,
}

/// A bound between two of its joints, as an equation of place and depth.
enum Equation<'a> {
    Line { across: f64, down: f64, height: Piece<'a> },
    Circle { centre: [Piece<'a>; 2], radius: f64 },
}

/// Value and derivatives of an equation.
struct Read {
    value: f64,
    /// By place, depth and station.
    first: [f64; 3],
    /// Twice by place (and twice by depth), by place and station, by depth and station, twice by station.
    second: [f64; 4],
}

impl<'a> Equation<'a> {
    fn new(bound: &'a Bound, x: f64) -> Self {
        match &bound.shape {
            Shape::Line { across, down, height } => {
                Self::Line { across: *across, down: *down, height: height.piece_at(x) }
            }
            Shape::Round { centre, radius, .. } | Shape::Hollow { centre, radius } => {
                Self::Circle { centre: [centre[0].piece_at(x), centre[1].piece_at(x)], radius: *radius }
            }
        }
    }

    fn read(&self, x: f64, [y, depth]: [f64; 2]) -> Read {
        match self {
            Self::Line { across, down, height } => {
                let h = jet(*height, x);
                Read {
                    value: across * y + down * depth - h[0],
                    first: [*across, *down, -h[1]],
                    second: [0.0, 0.0, 0.0, -h[2]],
                }
            }
            Self::Circle { centre, radius } => {
                let [c, d] = centre.map(|piece| jet(piece, x));
                let (p, q) = ((y - c[0]) / radius, (depth - d[0]) / radius);
                Read {
                    value: 0.5 * radius * (p * p + q * q - 1.0),
                    first: [p, q, -p * c[1] - q * d[1]],
                    second: [
                        1.0 / radius,
                        -c[1] / radius,
                        -d[1] / radius,
                        (c[1] * c[1] + d[1] * d[1]) / radius - p * c[2] - q * d[2],
                    ],
                }
            }
        }
    }
}

/// The meeting of two bounds, read at a station: place across and depth.
struct Both<'a> {
    of: [Equation<'a>; 2],
    /// Where about it lies.
    about: &'a dyn Fn(f64) -> [f64; 2],
}

impl Reading<2> for Both<'_> {
    fn values(&self, x: f64) -> [f64; 2] {
        self.jets(x).map(|jet| jet[0])
    }

    fn jets(&self, x: f64) -> [Jet; 2] {
        let mut at = (self.about)(x);
        let read = |at: [f64; 2]| [self.of[0].read(x, at), self.of[1].read(x, at)];
        let solve = |[a, b]: &[Read; 2], right: [f64; 2]| {
            let turn = a.first[0] * b.first[1] - a.first[1] * b.first[0];
            [
                (right[0] * b.first[1] - right[1] * a.first[1]) / turn,
                (right[1] * a.first[0] - right[0] * b.first[0]) / turn,
            ]
        };
        for _ in 0..24 {
            let both = read(at);
            let step = solve(&both, [-both[0].value, -both[1].value]);
            at = [at[0] + step[0], at[1] + step[1]];
            if libm::fabs(step[0]) + libm::fabs(step[1])
                <= 1e-13 * (1.0 + libm::fabs(at[0]) + libm::fabs(at[1]))
            {
                break;
            }
        }
        let both = read(at);
        let first = solve(&both, [0, 1].map(|i| -both[i].first[2]));
        let bent = |r: &Read| {
            let [same, yx, dx, xx] = r.second;
            xx + 2.0 * (yx * first[0] + dx * first[1]) + same * (first[0] * first[0] + first[1] * first[1])
        };
        let second = solve(&both, [-bent(&both[0]), -bent(&both[1])]);
        [0, 1].map(|k| [at[k], first[k], second[k]])
    }

    /// Close to both bounds: where those nearly touch, the place in which they meet is known no better along them.
    fn close(&self, x: f64, made: [f64; 2], [within, _]: [f64; 2]) -> bool {
        self.of.iter().all(|bound| libm::fabs(bound.read(x, made).value) <= within)
    }
}

/// Between the places that have been seen.
fn between(seen: &[[f64; 2]], x: f64) -> f64 {
    let i = seen.partition_point(|p| p[0] < x).clamp(1, seen.len().max(2) - 1);
    match (seen.get(i - 1), seen.get(i)) {
        (Some(a), Some(b)) if b[0] > a[0] => a[1] + (x - a[0]) / (b[0] - a[0]) * (b[1] - a[1]),
        (Some(a), _) => a[1],
        _ => f64::NAN,
    }
}

impl Walk<'_> {
    /// The laws of a boundary.
    pub fn meeting(&self, chain: &Chain) -> Option<Meeting> {
        let [a, b] = [self.bound(chain.ids[0])?, self.bound(chain.ids[1])?];
        let reach = chain.reach;
        let all = |of: &dyn Fn(f64) -> Option<f64>| {
            chain.seen.iter().all(|[x, y]| of(*x).is_some_and(|at| libm::fabs(at - y) <= ONE_MM))
        };
        // The block's own side.
        if let (Some(block), Some(_)) = (&self.wood.blank.block, self.bound(BLOCK)) {
            for half in [-block.half, block.half] {
                if chain.ids.iter().any(|id| *id <= BLOCK) && all(&|_| Some(half)) {
                    let law = Law::constant(half, reach[0], reach[1])?;
                    return Some(Meeting { law, depths: Vec::new(), fitted: false });
                }
            }
        }
        // Where a round one begins, a hollow ends.
        for (id, bound) in chain.ids.into_iter().zip([a, b]) {
            let (centre, ways, radius) = match &bound.shape {
                Shape::Round { centre, radius, .. } => (centre, &[0.0][..], radius),
                Shape::Hollow { centre, radius } => (centre, &[-1.0, 1.0][..], radius),
                Shape::Line { .. } => continue,
            };
            for way in ways {
                let out = if *way == 0.0 { 0.0 } else { way * radius };
                if all(&|x| Some(centre[0].value(x) + out)) {
                    let down = if near_end(&bound.limit(reach[0])).is_some() { *radius } else { 0.0 };
                    let law = centre[0].restricted(reach[0], reach[1])?.plus_number(out);
                    let depth = centre[1].restricted(reach[0], reach[1])?.plus_number(down);
                    return Some(Meeting { law, depths: [(id, depth)].into(), fitted: false });
                }
            }
        }
        if let (Shape::Line { across: p, down: d, height: h }, Shape::Line { across, down, height }) =
            (&a.shape, &b.shape)
        {
            let turn = p * down - across * d;
            if turn == 0.0 {
                return None;
            }
            let [h, g] = [h, height].map(|law| law.restricted(reach[0], reach[1]));
            let (h, g) = (h?, g?);
            let law = h.times_number(down / turn).minus(&g.times_number(d / turn))?;
            let depth = g.times_number(p / turn).minus(&h.times_number(across / turn))?;
            let depths = chain.ids.into_iter().map(|id| (id, depth.clone())).collect();
            return Some(Meeting { law, depths, fitted: false });
        }
        let about = |x: f64| {
            let y = between(&chain.seen, x);
            let [p, q] = [a, b].map(|bound| bound.limit(x).depth_within(y));
            [y, p.min(q)]
        };
        let mut breaks: Vec<Break> = breaks_of(a.laws().into_iter().chain(b.laws()), reach);
        // Where one bound only just touches the other their curve turns back, and rises as a root does.
        let of = |x: f64| Both { of: [Equation::new(a, x), Equation::new(b, x)], about: &about };
        let length = reach[1] - reach[0];
        for (x, way) in [(reach[0], 1.0), (reach[1], -1.0)] {
            let [y, _] = of(x + way * 1e-3 * length).jets(x);
            let mut step = libm::fabs(y[1] / y[2]);
            let mut off = 0.0;
            while step > 1e-12 && off + step < 0.25 * length {
                off += step;
                breaks.push((x + way * off, Smoothness::Curvature));
                step = off;
            }
        }
        breaks.sort_by(|a, b| a.0.total_cmp(&b.0));
        breaks.dedup_by(|b, a| {
            let same = b.0 - a.0 < 1e-11;
            if same {
                a.1 = a.1.min(b.1);
            }
            same
        });
        let [law, depth] = smooth(&breaks, [WITHIN_MM; 2], |[from, to]| {
            let middle = 0.5 * (from + to);
            Both { of: [Equation::new(a, middle), Equation::new(b, middle)], about: &about }
        })?;
        let depths = chain.ids.into_iter().map(|id| (id, depth.clone())).collect();
        Some(Meeting { law, depths, fitted: true })
    }
}

//! What bounds the wood from below in one section, and the lowest of several such bounds.

use alloc::vec;
use alloc::vec::Vec;

use smallvec::SmallVec;

use crate::shape::Edge;

/// One bound: how deep the wood reaches at each place across. Depths are positive below the crown plane, `y` is
/// positive toward the treble side of a right-handed neck.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) enum Limit {
    /// A straight cut: `across·y + down·depth ≤ height`, with `down > 0`.
    Line { across: f64, down: f64, height: f64 },
    /// A rounded corner toward the side of this sign: beyond the centre, outward and down, no further from it than
    /// the radius. The wood has a side face at the end of the arc.
    Round { sign: f64, centre: [f64; 2], radius: f64 },
    /// A hollow: no nearer to the centre than the radius, and nothing below it.
    Hollow { centre: [f64; 2], radius: f64 },
}

/// Places across; few enough to need no heap.
type Places = SmallVec<[f64; 8]>;

/// `∫√(r² − t²)dt` from `a` to `b`.
fn part_of_disc(a: f64, b: f64, r: f64) -> f64 {
    // With one root for both terms, what it is off by cancels; the arc sine of t/r loses half the digits at the end.
    let [[a, p], [b, q]] = [a, b].map(|t| {
        let t = t.clamp(-r, r);
        [t, libm::sqrt((r - t) * (r + t))]
    });
    0.5 * (b * q - a * p + r * r * libm::atan2(b * p - a * q, a * b + p * q))
}

impl Limit {
    pub fn level(depth: f64) -> Self {
        Self::Line { across: 0.0, down: 1.0, height: depth }
    }

    /// Depth at a place across: infinite where this bound does not count.
    pub fn depth(&self, y: f64) -> f64 {
        match *self {
            Self::Line { across, down, height } => (height - across * y) / down,
            Self::Round { sign, centre, radius } => {
                let t = sign * y - centre[0];
                if t <= 0.0 {
                    f64::INFINITY
                } else {
                    // The side face ends the wood where the arc ends; rounding may put it a hair beyond.
                    centre[1] + libm::sqrt((radius * radius - t * t).max(0.0))
                }
            }
            Self::Hollow { centre, radius } => {
                let t = y - centre[0];
                if libm::fabs(t) < radius {
                    centre[1] - libm::sqrt(radius * radius - t * t)
                } else {
                    f64::INFINITY
                }
            }
        }
    }

    /// Depth at a place where this bound is known to count: at its very ends too, whatever rounding makes of them.
    pub fn depth_within(&self, y: f64) -> f64 {
        match *self {
            Self::Line { .. } => self.depth(y),
            Self::Round { sign, centre, radius } => {
                let t = (sign * y - centre[0]).clamp(0.0, radius);
                centre[1] + libm::sqrt(radius * radius - t * t)
            }
            Self::Hollow { centre, radius } => {
                let t = (y - centre[0]).clamp(-radius, radius);
                centre[1] - libm::sqrt(radius * radius - t * t)
            }
        }
    }

    /// `∫depth dy` between places where the depth is finite.
    fn integral(&self, a: f64, b: f64) -> f64 {
        match *self {
            Self::Line { across, down, height } => (b - a) * (height - 0.5 * across * (a + b)) / down,
            Self::Round { sign, centre, radius } => {
                let [near, far] = [sign * a - centre[0], sign * b - centre[0]];
                centre[1] * (b - a) + libm::fabs(part_of_disc(near, far, radius))
            }
            Self::Hollow { centre, radius } => {
                centre[1] * (b - a) - part_of_disc(a - centre[0], b - centre[0], radius)
            }
        }
    }

    /// Centre `[y, depth]` and radius, where it is part of a circle.
    fn circle(&self) -> Option<([f64; 2], f64)> {
        match *self {
            Self::Line { .. } => None,
            Self::Round { sign, centre, radius } => Some(([sign * centre[0], centre[1]], radius)),
            Self::Hollow { centre, radius } => Some((centre, radius)),
        }
    }

    /// From where to where it counts.
    fn reach(&self) -> [f64; 2] {
        match *self {
            Self::Line { .. } => [f64::NEG_INFINITY, f64::INFINITY],
            Self::Round { sign, centre, radius } => {
                let [near, far] = [sign * centre[0], sign * (centre[0] + radius)];
                [near.min(far), near.max(far)]
            }
            Self::Hollow { centre, radius } => [centre[0] - radius, centre[0] + radius],
        }
    }

    /// Every place where it may cross another bound, where this one counts, and some where it does not.
    fn crossings(&self, other: &Self, out: &mut Places) {
        out.extend(other.reach().into_iter().filter(|y| y.is_finite()));
        match (self.circle(), other.circle(), *self, *other) {
            (
                None,
                None,
                Self::Line { across: a, down: d, height: h },
                Self::Line { across, down, height },
            ) => {
                let turn = a * down - across * d;
                if turn != 0.0 {
                    out.push((h * down - height * d) / turn);
                }
            }
            (Some((c, r)), None, _, Self::Line { across, down, height })
            | (None, Some((c, r)), Self::Line { across, down, height }, _) => {
                let square = across * across + down * down;
                let away = height - across * c[0] - down * c[1];
                let reach = r * r * square - away * away;
                if reach >= 0.0 {
                    let (y, t) = (c[0] + across * away / square, down * libm::sqrt(reach) / square);
                    out.extend([y - t, y + t]);
                }
            }
            (Some((c, r)), Some((e, s)), ..) => {
                let d = [e[0] - c[0], e[1] - c[1]];
                let square = d[0] * d[0] + d[1] * d[1];
                if square > 0.0 {
                    let k = 0.5 * (1.0 + (r * r - s * s) / square);
                    let reach = r * r / square - k * k;
                    if reach >= 0.0 {
                        let t = libm::sqrt(reach) * d[1];
                        out.extend([c[0] + k * d[0] - t, c[0] + k * d[0] + t]);
                    }
                }
            }
            _ => {}
        }
    }
}

/// One stretch across on which one bound is the lowest.
#[derive(Clone, Copy, Debug)]
struct Span {
    y: [f64; 2],
    limit: Limit,
    /// Its depths at either end.
    depth: [f64; 2],
    /// Which of the bounds it is, in the order in which they were counted in.
    index: usize,
}

impl Span {
    fn new(y: [f64; 2], limit: Limit, index: usize) -> Self {
        Self { y, limit, depth: y.map(|y| limit.depth_within(y)), index }
    }

    /// Whether it lies nowhere below a bound, told from a few places of either; `false` where those do not tell.
    fn above(&self, other: &Limit) -> bool {
        match (&self.limit, other) {
            (Limit::Round { .. }, _) | (_, Limit::Round { .. }) => false,
            // Its depth is a convex function of the place across, so its ends tell.
            (_, Limit::Line { .. }) => (0..2).all(|k| self.depth[k] <= other.depth(self.y[k])),
            (Limit::Line { across, down, .. }, Limit::Hollow { centre, radius }) => {
                // The hollow comes nearest to the line where it runs along with it.
                let [along, rise] = [-across / down, 1.0];
                let nearest = centre[0] + radius * along / libm::sqrt(along * along + rise * rise);
                let y = nearest.clamp(self.y[0], self.y[1]);
                self.limit.depth(y) <= other.depth(y)
            }
            (Limit::Hollow { radius, .. }, Limit::Hollow { centre, radius: other_radius }) => {
                // Two hollows of one radius cross once at the most.
                radius == other_radius
                    && (0..2).all(|k| {
                        let y = self.y[k].clamp(centre[0] - radius, centre[0] + radius);
                        let own = if y == self.y[k] { self.depth[k] } else { self.limit.depth_within(y) };
                        own <= other.depth_within(y)
                    })
            }
        }
    }
}

/// The lower contour of the wood in one section: from left to right, the lowest of all bounds.
#[derive(Clone, Debug)]
pub(crate) struct Contour {
    spans: Vec<Span>,
    bounds: usize,
}

/// Cuts an interval at those of the places that lie within it and gives the parts.
fn parts(from: f64, to: f64, mut places: Places) -> impl Iterator<Item = [f64; 2]> {
    places.retain(|y| *y > from && *y < to);
    places.push(to);
    places.sort_by(f64::total_cmp);
    let mut last = from;
    places.into_iter().filter_map(move |y| {
        let part = [last, y];
        last = y;
        (part[1] > part[0]).then_some(part)
    })
}

impl Contour {
    pub fn new(y: [f64; 2], limit: Limit) -> Self {
        Self { spans: vec![Span::new(y, limit, 0)], bounds: 1 }
    }

    /// Level at one depth within a distance of the middle, at another beyond it.
    pub fn stepped(y: [f64; 2], beyond: Limit, within: Limit, half: f64) -> Self {
        let (a, b) = ((-half).clamp(y[0], y[1]), half.clamp(y[0], y[1]));
        let spans = [([y[0], a], beyond, 0), ([a, b], within, 1), ([b, y[1]], beyond, 0)]
            .into_iter()
            .filter(|(y, ..)| y[1] > y[0])
            .map(|(y, limit, index)| Span::new(y, limit, index))
            .collect();
        Self { spans, bounds: 2 }
    }

    /// Counts a further bound in.
    pub fn lower(&mut self, limit: Limit) {
        let index = self.bounds;
        self.bounds += 1;
        let reach = limit.reach();
        // Of many bounds one takes the place of few: those between the first and the last that it lowers.
        let from = self.spans.partition_point(|s| s.y[1] <= reach[0]);
        let to = self.spans.partition_point(|s| s.y[0] < reach[1]);
        let lowers = |s: &Span| !s.above(&limit);
        let Some(first) = (from..to).find(|i| lowers(&self.spans[*i])) else { return };
        let last = (first..to).rev().find(|i| lowers(&self.spans[*i])).unwrap_or(first);
        let mut spans: SmallVec<[Span; 8]> = SmallVec::new();
        for span in &self.spans[first..=last] {
            if !lowers(span) {
                spans.push(*span);
                continue;
            }
            let mut places = Places::new();
            span.limit.crossings(&limit, &mut places);
            for y in parts(span.y[0], span.y[1], places) {
                let mid = 0.5 * (y[0] + y[1]);
                let (limit, index) = if limit.depth(mid) < span.limit.depth(mid) {
                    (limit, index)
                } else {
                    (span.limit, span.index)
                };
                match spans.last_mut() {
                    Some(last) if last.index == index => {
                        last.y[1] = y[1];
                        last.depth[1] = limit.depth_within(y[1]);
                    }
                    _ => spans.push(Span::new(y, limit, index)),
                }
            }
        }
        if spans.len() == last + 1 - first {
            self.spans[first..=last].copy_from_slice(&spans);
        } else {
            self.spans.splice(first..=last, spans);
        }
    }

    /// The contour as edges `[y, z]` from one place across to another, upright where it steps.
    pub fn edges(&self, [from, to]: [f64; 2]) -> Vec<Edge> {
        let mut edges: Vec<Edge> = Vec::with_capacity(self.spans.len() + 2);
        let mut last: Option<[f64; 2]> = None;
        for span in &self.spans {
            let (a, b) = (span.y[0].max(from), span.y[1].min(to));
            if a >= b {
                continue;
            }
            let ends = [a, b].map(|y| [y, -span.limit.depth_within(y)]);
            if let Some(last) = last.filter(|last| *last != ends[0]) {
                edges.push(Edge::Line([last, ends[0]]));
            }
            edges.push(match span.limit.circle() {
                None => Edge::Line(ends),
                Some((c, radius)) => {
                    let lower = matches!(span.limit, Limit::Round { .. });
                    Edge::Arc { ends, centre: [c[0], -c[1]], radius, lower, wood_within: lower }
                }
            });
            last = Some(ends[1]);
        }
        edges
    }

    /// Area of the wood between the contour and a level, from one place across to another, counting nothing where
    /// the contour lies above the level.
    pub fn below(&self, level: f64, [from, to]: [f64; 2]) -> f64 {
        let mut sum = 0.0;
        for span in &self.spans {
            let (a, b) = (span.y[0].max(from), span.y[1].min(to));
            if a >= b {
                continue;
            }
            // Most lie below the level all along.
            let deep = match span.limit {
                Limit::Hollow { centre, radius } => centre[1] - radius > level,
                _ => span.depth[0].min(span.depth[1]) > level,
            };
            if deep {
                sum += span.limit.integral(a, b) - level * (b - a);
                continue;
            }
            let mut places = Places::new();
            span.limit.crossings(&Limit::level(level), &mut places);
            for [a, b] in parts(a, b, places) {
                if span.limit.depth(0.5 * (a + b)) > level {
                    sum += span.limit.integral(a, b) - level * (b - a);
                }
            }
        }
        sum
    }

    /// From where to where across the bound that was counted in last is the lowest, on the side of this sign and no
    /// nearer to the middle than the ridge, as points `[y, depth]` from the outer one in; `None` where it takes nothing.
    pub fn taken_by_last(&self, sign: f64, ridge: f64) -> Option<[[f64; 2]; 2]> {
        // What rounding leaves of a bound that only touches the others is nothing.
        const NOTHING: f64 = 1e-6;
        let own = self.spans.iter().filter(|s| s.index + 1 == self.bounds);
        let outward = own.flat_map(|s| s.y.map(|y| ((sign * y).max(ridge), s.limit)));
        let mut ends: Option<[(f64, Limit); 2]> = None;
        for (out, limit) in outward {
            let [far, near] = ends.unwrap_or([(out, limit); 2]);
            ends = Some([
                if out > far.0 { (out, limit) } else { far },
                if out < near.0 { (out, limit) } else { near },
            ]);
        }
        let [far, near] = ends?;
        let point = |(out, limit): (f64, Limit)| [sign * out, limit.depth_within(sign * out)];
        (far.0 - near.0 > NOTHING).then(|| [point(far), point(near)])
    }

    /// How many bounds have been counted in, the blank's among them.
    pub const fn bounds(&self) -> usize {
        self.bounds
    }

    /// Which bounds follow each other, and on which side of a level each begins and ends: as long as this is the same
    /// along the neck, areas change smoothly.
    pub fn pattern(&self, level: f64) -> SmallVec<[(usize, bool, bool); 16]> {
        self.spans.iter().map(|s| (s.index, s.depth[0] < level, s.depth[1] < level)).collect()
    }

    /// From where to where across each bound is the lowest, from left to right.
    pub fn lowest(&self) -> impl Iterator<Item = (usize, [f64; 2])> + '_ {
        self.spans.iter().map(|s| (s.index, s.y))
    }

    /// Which bounds follow each other from left to right.
    pub fn order(&self) -> impl Iterator<Item = usize> + '_ {
        self.spans.iter().map(|s| s.index)
    }

    /// The middle of the stretch across on which a bound is the lowest.
    pub fn middle_of(&self, index: usize) -> Option<f64> {
        self.spans.iter().find(|s| s.index == index).map(|s| 0.5 * (s.y[0] + s.y[1]))
    }

    /// Whether a bound is the lowest at a place across.
    pub fn is_lowest(&self, index: usize, y: f64) -> bool {
        let at = self.spans.partition_point(|s| s.y[1] < y);
        self.spans.get(at).is_some_and(|s| s.index == index && y >= s.y[0])
    }

    /// Which bounds are the lowest between two places across, or next to them.
    pub fn about(&self, [from, to]: [f64; 2]) -> impl Iterator<Item = usize> + '_ {
        let first = self.spans.partition_point(|s| s.y[1] <= from).saturating_sub(1);
        let last = (self.spans.partition_point(|s| s.y[0] < to) + 1).min(self.spans.len());
        self.spans[first.min(last)..last].iter().map(|s| s.index)
    }

    /// Depth at a place across.
    pub fn depth(&self, y: f64) -> f64 {
        let at = self.spans.partition_point(|s| s.y[1] < y).min(self.spans.len() - 1);
        self.spans[at].limit.depth_within(y)
    }

    /// Corners `[y, depth]` along the contour from one place across to another, from left to right; arcs are cut so that
    /// no chord lies further than `chord` off them.
    pub fn corners(&self, chord: f64, [from, to]: [f64; 2]) -> Vec<[f64; 2]> {
        let mut out: Vec<[f64; 2]> = Vec::new();
        for span in &self.spans {
            let [a, b] = [span.y[0].max(from), span.y[1].min(to)];
            if a >= b {
                continue;
            }
            let n = match span.limit.circle() {
                None => 1,
                Some((c, r)) => {
                    let angle = |y: f64| libm::asin(((y - c[0]) / r).clamp(-1.0, 1.0));
                    let turn = angle(b) - angle(a);
                    // The sagitta of an arc of angle t is at most r·t²/8.
                    libm::ceil(libm::sqrt(r * turn * turn / (8.0 * chord))).clamp(1.0, 4096.0) as usize
                }
            };
            for i in 0..=n {
                let y = match span.limit.circle() {
                    _ if i == 0 => a,
                    _ if i == n => b,
                    Some((c, r)) => {
                        let angle = |y: f64| libm::asin(((y - c[0]) / r).clamp(-1.0, 1.0));
                        c[0] + r * libm::sin(angle(a) + (angle(b) - angle(a)) * i as f64 / n as f64)
                    }
                    None => a + (b - a) * i as f64 / n as f64,
                };
                let p = [y, span.limit.depth_within(y)];
                if out.last() != Some(&p) {
                    out.push(p);
                }
            }
        }
        out
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// The midpoint rule over many places: an area by other means.
    fn area(limits: &[Limit], level: f64, y: [f64; 2]) -> f64 {
        let n = 400_000;
        let h = (y[1] - y[0]) / f64::from(n);
        let depth = |y: f64| limits.iter().map(|l| l.depth(y)).fold(f64::INFINITY, f64::min);
        (0..n).map(|i| (depth(y[0] + (f64::from(i) + 0.5) * h) - level).max(0.0) * h).sum()
    }

    #[test]
    fn areas_under_lines_arcs_and_hollows() {
        let limits = [
            Limit::level(25.4),
            Limit::Round { sign: 1.0, centre: [1.0, 5.0], radius: 20.4 },
            Limit::Round { sign: -1.0, centre: [-0.79, 3.175], radius: 22.225 },
            Limit::Line { across: 0.8, down: 0.6, height: 25.0 },
            Limit::Line { across: -0.6, down: 0.8, height: 26.0 },
            Limit::Hollow { centre: [3.0, 27.0], radius: 6.0 },
        ];
        let y = [-21.0, 21.4];
        for n in 1..=limits.len() {
            let mut contour = Contour::new(y, limits[0]);
            limits[1..n].iter().for_each(|l| contour.lower(*l));
            for (level, range) in [(0.0, y), (6.0, y), (20.0, y), (6.0, [-10.0, 3.0])] {
                let (exact, summed) = (contour.below(level, range), area(&limits[..n], level, range));
                assert!((exact - summed).abs() < 2e-3, "{n} bounds, level {level}: {exact} {summed}");
            }
        }
    }

    #[test]
    fn a_step_is_upright_and_cut_like_any_other_wood() {
        let (outer, inner) = (Limit::level(20.0), Limit::level(50.0));
        let mut contour = Contour::stepped([-30.0, 35.0], outer, inner, 25.0);
        assert_eq!(contour.below(6.0, [-30.0, 35.0]), 65.0 * 14.0 + 50.0 * 30.0);
        let corners = contour.corners(1e-3, [-30.0, 35.0]);
        let step = [[-30.0, 20.0], [-25.0, 20.0], [-25.0, 50.0], [25.0, 50.0], [25.0, 20.0], [35.0, 20.0]];
        assert_eq!(corners, step);
        contour.lower(Limit::level(30.0));
        assert_eq!(contour.below(6.0, [-30.0, 35.0]), 65.0 * 14.0 + 50.0 * 10.0);
        // Wood that is no wider than the block has no step.
        let narrow = Contour::stepped([-24.0, 24.0], outer, inner, 25.0);
        assert_eq!(narrow.corners(1e-3, [-24.0, 24.0]), [[-24.0, 50.0], [24.0, 50.0]]);
    }

    #[test]
    fn corners_run_along_the_contour() {
        let mut contour = Contour::new([-20.0, 20.0], Limit::level(25.0));
        contour.lower(Limit::Round { sign: 1.0, centre: [5.0, 10.0], radius: 15.0 });
        let corners = contour.corners(1e-3, [-20.0, 20.0]);
        assert_eq!(corners[0], [-20.0, 25.0]);
        assert!(corners.windows(2).all(|w| w[0][0] <= w[1][0]));
        for w in corners.windows(2).filter(|w| w[1][0] > w[0][0]) {
            let mid = [0.5 * (w[0][0] + w[1][0]), 0.5 * (w[0][1] + w[1][1])];
            assert!(libm::fabs(libm::hypot(mid[0] - 5.0, mid[1] - 10.0) - 15.0) < 1e-3 || mid[0] < 5.0);
        }
        // Of a part of it both ends are corners.
        let part = contour.corners(1e-3, [-3.0, 12.0]);
        assert_eq!((part[0], part[part.len() - 1][0]), ([-3.0, 25.0], 12.0));
    }
}

//! One cubic in the plane: its points, how it goes on and bends, and the foot of a point on it.

use super::outline::Point;

/// Control points of a cubic.
pub(crate) type Cubic = [Point; 4];

/// What each control point counts at `u`: the Bernstein polynomials of degree 3.
#[inline]
#[must_use]
pub(crate) fn cubic_shares(u: f64) -> [f64; 4] {
    let s = 1.0 - u;
    [s * s * s, 3.0 * s * s * u, 3.0 * s * u * u, u * u * u]
}

/// The point of a cubic at `u`.
#[must_use]
pub(crate) fn cubic_at(p: Cubic, u: f64) -> Point {
    let b = cubic_shares(u);
    [0, 1].map(|k| b[0] * p[0][k] + b[1] * p[1][k] + b[2] * p[2][k] + b[3] * p[3][k])
}

/// Its first derivative.
#[must_use]
pub(crate) fn cubic_slope(p: &Cubic, u: f64) -> Point {
    let s = 1.0 - u;
    let (a, b, c) = (3.0 * s * s, 6.0 * s * u, 3.0 * u * u);
    [0, 1].map(|k| a * (p[1][k] - p[0][k]) + b * (p[2][k] - p[1][k]) + c * (p[3][k] - p[2][k]))
}

/// Its second derivative.
#[must_use]
pub(crate) fn cubic_bend(p: &Cubic, u: f64) -> Point {
    let s = 1.0 - u;
    [0, 1].map(|k| 6.0 * (s * (p[2][k] - 2.0 * p[1][k] + p[0][k]) + u * (p[3][k] - 2.0 * p[2][k] + p[1][k])))
}

/// The foot of a point on a cubic between two parameters, begun at a third: Halley's steps on `(P − q)·P'`, Newton's where
/// those turn too sharply, halving instead where one leaves the bracket.
#[must_use]
pub(crate) fn cubic_foot(p: &Cubic, q: Point, start: f64, [mut low, mut high]: [f64; 2]) -> f64 {
    let mut u = start;
    // Where a handle lies on its end the curve stands still there, and the slope tells nothing.
    if start == 0.0 || start == 1.0 {
        let still = 1e-9 * libm::hypot(p[3][0] - p[0][0], p[3][1] - p[0][1]);
        let slope = cubic_slope(p, u);
        if libm::hypot(slope[0], slope[1]) <= still {
            u = 0.5 * (low + high);
        }
    }
    let dot = |a: Point, b: Point| a[0] * b[0] + a[1] * b[1];
    // From the point to the curve, by powers of the parameter.
    let power = |f: &dyn Fn(usize) -> f64| [f(0), f(1)];
    let c0 = power(&|k| p[0][k] - q[k]);
    let c1 = power(&|k| 3.0 * (p[1][k] - p[0][k]));
    let c2 = power(&|k| 3.0 * ((p[2][k] - p[1][k]) - (p[1][k] - p[0][k])));
    let c3 = power(&|k| (p[3][k] - p[0][k]) - 3.0 * (p[2][k] - p[1][k]));
    let third = power(&|k| 6.0 * c3[k]);
    for _ in 0..60 {
        let d = power(&|k| c0[k] + u * (c1[k] + u * (c2[k] + u * c3[k])));
        let v = power(&|k| c1[k] + u * (2.0 * c2[k] + 3.0 * u * c3[k]));
        let b = power(&|k| 2.0 * c2[k] + u * third[k]);
        let g = dot(d, v);
        if g == 0.0 {
            break;
        }
        if g < 0.0 {
            low = u;
        } else {
            high = u;
        }
        let rise = dot(v, v) + dot(d, b);
        // Half the next derivative, and with it Halley's step in one quotient.
        let (square, half) = (rise * rise, 0.5 * g * (3.0 * dot(v, b) + dot(d, third)));
        let halley = libm::fabs(half) < 0.5 * square;
        let to = u - if halley { g * rise / (square - half) } else { g / rise };
        let straight = rise > 0.0 && to >= low && to <= high;
        let next = if straight { to } else { 0.5 * (low + high) };
        let moved = libm::fabs(next - u);
        u = next;
        // After one of Halley's steps what is left is of the order of its cube, after one of Newton's of its square.
        let close = match (straight, halley) {
            (true, true) => 1e-6,
            (true, false) => 1e-8,
            (false, _) => 1e-13,
        };
        if moved < close {
            break;
        }
    }
    u
}

#[cfg(test)]
mod tests {
    use super::{cubic_at, cubic_bend, cubic_foot, cubic_slope};
    use crate::law::Bernstein;

    const CURVE: [[f64; 2]; 4] = [[26.0, 6.0], [25.0, 14.0], [12.0, 21.0], [0.0, 21.5]];

    #[test]
    fn derivatives_are_those_of_the_polynomials() {
        let laws = [0, 1].map(|k| CURVE.iter().map(|p| p[k]).collect::<Bernstein>());
        for i in 0..=64 {
            let u = f64::from(i) / 64.0;
            for (k, law) in laws.iter().enumerate() {
                let (slope, bend) = (law.derivative(), law.derivative().derivative());
                assert!(libm::fabs(cubic_at(CURVE, u)[k] - law.eval(u)) < 1e-13);
                assert!(libm::fabs(cubic_slope(&CURVE, u)[k] - slope.eval(u)) < 1e-12);
                assert!(libm::fabs(cubic_bend(&CURVE, u)[k] - bend.eval(u)) < 1e-12);
            }
        }
    }

    #[test]
    fn the_foot_is_the_root_of_the_polynomial() {
        for i in 0..200 {
            let turn = f64::from(i) / 200.0 * 1.5;
            let q = [30.0 * libm::cos(turn), 28.0 * libm::sin(turn)];
            let [y, z] = [0, 1].map(|k| CURVE.iter().map(|p| p[k] - q[k]).collect::<Bernstein>());
            let polynomial = y.times(&y.derivative()).plus(&z.times(&z.derivative()));
            let gap = |u: f64| {
                let p = cubic_at(CURVE, u);
                libm::hypot(p[0] - q[0], p[1] - q[1])
            };
            let root =
                [0.0, 1.0].into_iter().chain(polynomial.roots()).min_by(|a, b| gap(*a).total_cmp(&gap(*b)));
            let root = root.expect("there are the ends");
            let found = cubic_foot(&CURVE, q, 0.5, [0.0, 1.0]);
            assert!(libm::fabs(found - root) < 1e-9, "{q:?}: {found} {root}");
        }
    }
}

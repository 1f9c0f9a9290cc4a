//! Integrals of smooth functions that are not polynomials.

use alloc::collections::BinaryHeap;
use alloc::vec;
use alloc::vec::Vec;
use core::cmp::Ordering;

/// Nodes and weights of the 16-point Gauss–Legendre rule on `[-1, 1]`, the positive half
/// (Abramowitz & Stegun, table 25.4; computed again to 17 digits).
const HALF: [(f64, f64); 8] = [
    (0.09501250983763744, 0.1894506104550685),
    (0.2816035507792589, 0.18260341504492358),
    (0.45801677765722737, 0.16915651939500254),
    (0.6178762444026438, 0.14959598881657674),
    (0.755404408355003, 0.12462897125553388),
    (0.8656312023878318, 0.09515851168249279),
    (0.9445750230732326, 0.062253523938647894),
    (0.9894009349916499, 0.027152459411754096),
];

/// Nodes and weights of the 16-point rule between `a` and `b`: exact for polynomials up to degree 31.
pub fn gauss16_nodes(a: f64, b: f64) -> impl Iterator<Item = (f64, f64)> {
    let (mid, half) = (0.5 * (a + b), 0.5 * (b - a));
    HALF.into_iter().flat_map(move |(x, w)| [(mid - half * x, half * w), (mid + half * x, half * w)])
}

/// The integral of `f` from `a` to `b` by the 16-point rule.
pub fn gauss16(a: f64, b: f64, mut f: impl FnMut(f64) -> f64) -> f64 {
    gauss16_nodes(a, b).map(|(x, w)| w * f(x)).sum()
}

/// The most halvings that [`adaptive`] makes.
const HALVINGS: usize = 2000;

/// The integral of `f` from `a` to `b`, halving the interval where the halves do not agree with the whole to
/// `tolerance` (absolute, shared out among the parts). A kink costs some 40 halvings; after 2,000 of them what is
/// left is taken as it is.
pub fn adaptive(a: f64, b: f64, tolerance: f64, f: &mut impl FnMut(f64) -> f64) -> f64 {
    let mut open = vec![(a, b, gauss16(a, b, &mut *f), tolerance)];
    let (mut sum, mut left) = (0.0, HALVINGS);
    while let Some((a, b, whole, tolerance)) = open.pop() {
        let mid = 0.5 * (a + b);
        let halves = [gauss16(a, mid, &mut *f), gauss16(mid, b, &mut *f)];
        let both = halves[0] + halves[1];
        if left == 0 || libm::fabs(both - whole) <= tolerance {
            sum += both;
            continue;
        }
        left -= 1;
        // The right half first in: the sum then runs from left to right.
        open.push((mid, b, halves[1], 0.5 * tolerance));
        open.push((a, mid, halves[0], 0.5 * tolerance));
    }
    sum
}

/// Places and weights of the 15-point Gauss-Kronrod rule on `[-1, 1]`, the positive half and the middle, with the weights
/// of the 7-point Gauss rule that it contains (Piessens and others, QUADPACK, 1983, routine QK15; memory).
const PAIR: [(f64, f64, f64); 8] = [
    (0.0, 0.209_482_141_084_727_83, 0.417_959_183_673_469_4),
    (0.207_784_955_007_898_47, 0.204_432_940_075_298_9, 0.0),
    (0.405_845_151_377_397_2, 0.190_350_578_064_785_4, 0.381_830_050_505_118_9),
    (0.586_087_235_467_691_1, 0.169_004_726_639_267_9, 0.0),
    (0.741_531_185_599_394_4, 0.140_653_259_715_525_92, 0.279_705_391_489_276_64),
    (0.864_864_423_359_769_1, 0.104_790_010_322_250_18, 0.0),
    (0.949_107_912_342_758_5, 0.063_092_092_629_978_55, 0.129_484_966_168_869_7),
    (0.991_455_371_120_812_6, 0.022_935_322_010_529_224, 0.0),
];

/// A stretch of one of several functions, and what the two rules make of it.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Part {
    /// Where it begins and ends.
    pub x: [f64; 2],
    /// Which of the functions it is.
    pub of: usize,
    /// By the 15-point rule.
    pub integral: f64,
    /// How far the 7-point rule is from that.
    pub error: f64,
}

impl Part {
    /// The integral from the function's values at [`pair_nodes`], in their order.
    pub fn new(x: [f64; 2], of: usize, values: &[f64; 15]) -> Self {
        let half = 0.5 * (x[1] - x[0]);
        let sum = |weight: fn(&(f64, f64, f64)) -> f64| -> f64 {
            (0..15).map(|i| weight(&PAIR[usize::div_ceil(i, 2)]) * values[i]).sum()
        };
        let (fine, coarse) = (sum(|p| p.1), sum(|p| p.2));
        Self { x, of, integral: half * fine, error: half * libm::fabs(fine - coarse) }
    }
}

/// Where the pair of rules asks between two stations: never right at them.
pub(crate) fn pair_nodes([a, b]: [f64; 2]) -> [f64; 15] {
    let (mid, half) = (0.5 * (a + b), 0.5 * (b - a));
    core::array::from_fn(|i| {
        let off = half * PAIR[usize::div_ceil(i, 2)].0;
        if i % 2 == 0 { mid + off } else { mid - off }
    })
}

/// The sum of the integrals, the part of which the rules differ most being parted until all differences together are no
/// more than `share` of the whole, or `most` parts have been parted; and how many have been. `apart` makes two of one.
pub(crate) fn refined(
    mut parts: Vec<Part>,
    share: f64,
    most: usize,
    apart: &mut impl FnMut(&Part) -> [Part; 2],
) -> (f64, usize) {
    let first = parts.len();
    let mut open: BinaryHeap<(Error, usize)> =
        parts.iter().enumerate().map(|(i, p)| (Error(p.error), i)).collect();
    let rough: f64 = parts.iter().map(|p| libm::fabs(p.integral)).sum();
    let mut error: f64 = parts.iter().map(|p| p.error).sum();
    for _ in 0..most {
        if error <= share * rough {
            break;
        }
        let Some((_, i)) = open.pop() else { break };
        let halves = apart(&parts[i]);
        error += halves[0].error + halves[1].error - parts[i].error;
        parts[i] = halves[0];
        parts.push(halves[1]);
        open.extend([i, parts.len() - 1].map(|j| (Error(parts[j].error), j)));
    }
    // From left to right.
    parts.sort_by(|a, b| a.x[0].total_cmp(&b.x[0]).then(a.of.cmp(&b.of)));
    (parts.iter().map(|p| p.integral).sum(), parts.len() - first)
}

/// An error to be put in order.
#[derive(PartialEq)]
struct Error(f64);

impl Eq for Error {}

impl PartialOrd for Error {
    fn partial_cmp(&self, other: &Self) -> Option<Ordering> {
        Some(self.cmp(other))
    }
}

impl Ord for Error {
    fn cmp(&self, other: &Self) -> Ordering {
        self.0.total_cmp(&other.0)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_pair_of_rules_is_exact_for_polynomials() {
        for degree in 0..=22_u32 {
            let x = [-0.4, 1.3];
            let power = |x: f64, n: u32| (0..n).fold(1.0, |p, _| p * x);
            let part = Part::new(x, 0, &pair_nodes(x).map(|x| power(x, degree)));
            let n = degree + 1;
            let exact = (power(x[1], n) - power(x[0], n)) / f64::from(n);
            assert!(libm::fabs(part.integral - exact) <= 1e-14 * exact, "{degree}");
            assert!(degree > 13 || part.error <= 1e-14 * exact, "{degree}: {}", part.error);
        }
    }

    #[test]
    fn a_kink_is_halved_down_to() {
        let f = |x: f64| libm::fabs(x - 0.3);
        let mut asked = 0;
        let part = |x: [f64; 2]| Part::new(x, 0, &pair_nodes(x).map(f));
        let mut apart = |whole: &Part| {
            asked += 1;
            let [a, b] = whole.x;
            [part([a, 0.5 * (a + b)]), part([0.5 * (a + b), b])]
        };
        let (sum, _) = refined(vec![part([0.0, 1.0])], 1e-13, 1000, &mut apart);
        assert!(libm::fabs(sum - 0.29) <= 1e-13 * 0.29, "{sum}");
        assert!(asked < 100, "{asked}");
    }
}

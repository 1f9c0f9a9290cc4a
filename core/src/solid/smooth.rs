//! Smooth laws through functions that have no closed form.
//!
//! What is a law already, and only has to be one of cubics, is another task ([`Law::by_cubics`]): its degree is given, how far it
//! is off is proven by coefficients, and its values alone tell it. Here the degree is as high as it takes for few pieces, values
//! and derivatives come from formulas at single places, and how far a piece is off is looked at where it is farthest.

use alloc::vec::Vec;

use crate::law::{Bernstein, Law, Piece, Smoothness};

/// Value, first and second derivative.
pub(super) type Jet = [f64; 3];

/// Several functions of the station that are read at once.
pub(super) trait Reading<const N: usize> {
    fn values(&self, x: f64) -> [f64; N];
    fn jets(&self, x: f64) -> [Jet; N];

    /// Whether what was made is close enough to them at a station.
    fn close(&self, x: f64, made: [f64; N], within: [f64; N]) -> bool {
        let values = self.values(x);
        (0..N).all(|k| libm::fabs(made[k] - values[k]) <= within[k])
    }
}

/// The most times a stretch is halved.
const MOST_HALVES: u32 = 14;
const DEGREE: usize = 9;
/// Joints no farther apart are one.
const SAME_BREAK: f64 = 1e-9;

/// Where a piece goes through its function between its ends: the roots of the polynomial of degree 4 that is orthogonal to all
/// lesser ones under the weight `t³(1−t)³`.
const NODES: [f64; 4] =
    [0.179_678_742_015_127_73, 0.386_956_171_917_240_7, 0.613_043_828_082_759_3, 0.820_321_257_984_872_3];
/// Where a piece is farthest from its function, if that is of the next degree: the greatest values of that weight times that
/// polynomial.
const FARTHEST: [f64; 5] = [
    0.115_272_337_834_107_17,
    0.289_542_597_488_094_24,
    0.5,
    0.710_457_402_511_905_8,
    0.884_727_662_165_892_2,
];

/// The Bernstein coefficients of degree 3 through values at the [`NODES`].
struct Through([[f64; 4]; 4]);

impl Through {
    fn new() -> Self {
        // Lagrange's polynomials, each as the product of three factors `(t − b)/(a − b)`.
        Self([0, 1, 2, 3].map(|i| {
            let mut product = Bernstein::constant(1.0);
            for k in (0..4).filter(|k| *k != i) {
                let (a, b) = (NODES[i], NODES[k]);
                product = product.times(&Bernstein::new(alloc::vec![-b / (a - b), (1.0 - b) / (a - b)]));
            }
            [0, 1, 2, 3].map(|k| product.coefs()[k])
        }))
    }

    fn coefs(&self, values: [f64; 4]) -> [f64; 4] {
        [0, 1, 2, 3].map(|k| (0..4).map(|i| values[i] * self.0[i][k]).sum())
    }
}

/// The polynomial of degree 9 with the given values and derivatives at its ends, and values at the [`NODES`].
fn piece(ends: [Jet; 2], values: [f64; 4], through: &Through) -> Bernstein {
    let quintic = Bernstein::hermite(ends[0], ends[1]);
    let rest = [0, 1, 2, 3].map(|i| {
        let t = NODES[i];
        let weight = t * (1.0 - t);
        (values[i] - quintic.eval(t)) / (weight * weight * weight)
    });
    let mut whole = quintic.elevated(DEGREE);
    // Of t³(1−t)³ times a cubic: C(3,k)/C(9,3+k) of its coefficients.
    const SHARES: [f64; 4] = [1.0 / 84.0, 3.0 / 126.0, 3.0 / 126.0, 1.0 / 84.0];
    for (k, c) in through.coefs(rest).into_iter().enumerate() {
        whole.coefs_mut()[3 + k] += SHARES[k] * c;
    }
    whole
}

/// A place at which functions need not be smooth, and how much they are so there.
pub(super) type Break = (f64, Smoothness);

/// The places at which one of some laws has a joint, within a reach, and its ends.
pub(super) fn breaks_of<'a>(laws: impl Iterator<Item = &'a Law>, [from, to]: [f64; 2]) -> Vec<Break> {
    let own = |law: &'a Law| law.breaks()[1..].iter().copied().zip(law.joints().iter().copied());
    let mut breaks: Vec<Break> = laws.flat_map(own).filter(|(x, _)| *x > from && *x < to).collect();
    breaks.extend([(from, Smoothness::Curvature), (to, Smoothness::Curvature)]);
    breaks.sort_by(|a, b| a.0.total_cmp(&b.0));
    breaks.dedup_by(|b, a| {
        let same = b.0 - a.0 < SAME_BREAK;
        if same {
            a.1 = a.1.min(b.1);
        }
        same
    });
    breaks
}

/// Laws through functions, none off by more than `within` says, with joints of continuous curvature but for those given, between
/// which the functions have to be smooth. `None` where they are not.
pub(super) fn smooth<const N: usize, R: Reading<N>>(
    breaks: &[Break],
    within: [f64; N],
    read: impl Fn([f64; 2]) -> R,
) -> Option<[Law; N]> {
    let through = Through::new();
    let mut pieces: [Vec<Piece>; N] = core::array::from_fn(|_| Vec::new());
    let mut starts = None;
    for x in breaks.windows(2) {
        let [(from, joint), (to, _)] = [x[0], x[1]];
        let reading = read([from, to]);
        let mut left = alloc::vec![([from, to], [from, to].map(|x| reading.jets(x)), 0)];
        starts = starts.or(left.first().map(|(_, ends, _)| ends[0].map(|jet| jet[0])));
        while let Some(([a, b], ends, halves)) = left.pop() {
            let h = b - a;
            let at = |t: f64| a + t * h;
            let values = NODES.map(|t| reading.values(at(t)));
            let scaled = |jet: Jet| [jet[0], h * jet[1], h * h * jet[2]];
            let made: [Bernstein; N] = core::array::from_fn(|k| {
                piece([scaled(ends[0][k]), scaled(ends[1][k])], values.map(|v| v[k]), &through)
            });
            let close = |t: f64| reading.close(at(t), core::array::from_fn(|k| made[k].eval(t)), within);
            if FARTHEST.into_iter().all(close) {
                let joint = if a == from { joint } else { Smoothness::Curvature };
                for (own, made) in pieces.iter_mut().zip(&made) {
                    let coefs = made.coefs()[1..].to_vec();
                    own.push(Piece { to: b, coefs, joint });
                }
            } else if halves < MOST_HALVES {
                let middle = at(0.5);
                let jets = reading.jets(middle);
                left.push(([middle, b], [jets, ends[1]], halves + 1));
                left.push(([a, middle], [ends[0], jets], halves + 1));
            } else {
                return None;
            }
        }
    }
    let starts = starts?;
    let laws: Vec<Law> = pieces
        .iter()
        .zip(starts)
        .map(|(own, value)| Law::from_pieces(breaks.first()?.0, value, own))
        .collect::<Option<_>>()?;
    laws.try_into().ok()
}

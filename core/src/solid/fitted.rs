//! A law through a function that has no closed form.

use alloc::vec::Vec;

use nalgebra::{Matrix6, Vector6};

use crate::law::{Bernstein, Law, Piece, Smoothness};

/// The most times a stretch is halved.
const MOST_HALVES: u32 = 9;

/// The polynomial of degree 5 that has the given values at six places evenly apart.
fn through_six(values: [f64; 6]) -> Option<Bernstein> {
    let share = |i: usize, k: usize| {
        let mut one = [0.0; 6];
        one[k] = 1.0;
        one.into_iter().collect::<Bernstein>().eval(i as f64 / 5.0)
    };
    let solved = Matrix6::from_fn(share).lu().solve(&Vector6::from(values))?;
    Some(solved.iter().copied().collect())
}

/// A law through a function's values within `within` of it, with joints at the stations given.
pub(super) fn fitted(f: impl Fn(f64) -> f64, breaks: &[f64], within: f64) -> Option<Law> {
    let mut pieces: Vec<Piece> = Vec::new();
    let start = f(*breaks.first()?);
    for x in breaks.windows(2) {
        let mut parts = 1;
        let made = loop {
            let h = (x[1] - x[0]) / parts as f64;
            let place =
                |i: usize, t: f64| if i + 1 == parts && t == 1.0 { x[1] } else { x[0] + h * (i as f64 + t) };
            let made: Option<Vec<Bernstein>> = (0..parts)
                .map(|i| through_six([0.0, 0.2, 0.4, 0.6, 0.8, 1.0].map(|t| f(place(i, t)))))
                .collect();
            let made = made?;
            let off = |(i, piece): (usize, &Bernstein)| {
                [0.07, 0.5, 0.93]
                    .map(|t| libm::fabs(piece.eval(t) - f(place(i, t))))
                    .into_iter()
                    .fold(0.0, f64::max)
            };
            let most = made.iter().enumerate().map(off).fold(0.0, f64::max);
            if !most.is_finite() || (most > within && parts >= 1 << MOST_HALVES) {
                return None;
            }
            if most <= within {
                break made
                    .into_iter()
                    .enumerate()
                    .map(|(i, piece)| (place(i, 1.0), piece))
                    .collect::<Vec<_>>();
            }
            parts *= 2;
        };
        for (to, piece) in made {
            let coefs = piece.coefs()[1..].to_vec();
            pieces.push(Piece { to, coefs, joint: Smoothness::Crease });
        }
    }
    Law::from_pieces(*breaks.first()?, start, &pieces)
}

//! Bernstein polynomials, laws of the position along the neck, guaranteed bounds.

mod bernstein;
mod blend;
mod interpolate;
mod least;
mod patch;
mod piecewise;
mod quadrature;
mod refit;
mod search;
mod spline;

pub use bernstein::Bernstein;
pub(crate) use bernstein::eval_scaled;
pub use blend::{BLEND_BEND, fall, rise};
pub use interpolate::{EndSlope, through};
pub use least::Least;
pub use patch::Patch;
pub use piecewise::{Law, Piece, Smoothness};
pub(crate) use quadrature::{Part, pair_nodes, refined};
pub use quadrature::{adaptive, gauss16, gauss16_nodes};
pub use search::{Corner, Proof, Region, least_above_chord, least_over, nowhere_below};
pub use spline::{clamped_spline, natural_spline};

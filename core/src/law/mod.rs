//! Bernstein polynomials, laws of the position along the neck, guaranteed bounds.

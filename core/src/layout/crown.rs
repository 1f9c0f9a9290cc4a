//! The board's top: flat, a cylinder or a cone.

use crate::law::gauss16;
use crate::measure::{Error, Fault, Kind};

/// How far a circle that touches the crown line lies under it at `y_mm` from its top, mm: the sagitta
/// `R − √(R² − y²)`, in the form that loses no digits. Not a number where `|y_mm|` is more than `radius_mm`.
#[must_use]
pub fn sagitta_mm(radius_mm: f64, y_mm: f64) -> f64 {
    y_mm * y_mm / (radius_mm + libm::sqrt((radius_mm - y_mm) * (radius_mm + y_mm)))
}

/// [`sagitta_mm`] of numbers that come from anywhere.
///
/// # Errors
/// - [`Kind::OutOfRange`]: a radius that is not above 0 (an infinite one is that of a flat board), or a place that the circle does
///   not reach.
pub fn try_sagitta_mm(radius_mm: f64, y_mm: f64) -> Result<f64, Error> {
    if radius_mm.is_nan() || radius_mm <= 0.0 {
        let fault = Fault::new(Kind::OutOfRange, "radius_mm", "a circle has a radius above 0");
        let fault = fault.value(radius_mm, "mm").range(0.0, None);
        return Err(fault.remedy("give the board's radius, or infinity for a flat board").into());
    }
    let reached = libm::fabs(y_mm) <= radius_mm && y_mm.is_finite();
    if !reached {
        let fault = Fault::new(Kind::OutOfRange, "y_mm", "the circle does not reach so far");
        let fault = fault.value(y_mm, "mm").range(-radius_mm, radius_mm);
        return Err(fault.remedy("give the distance from the centreline, half of a width").into());
    }
    Ok(sagitta_mm(radius_mm, y_mm))
}

/// The law of the board's radius along the neck.
///
/// The top is the family of circles `y² + (z + R)² = R²` in planes square to the centreline, which all touch the crown
/// line `z = 0`. Where `R` is one number this is a cylinder. Where it goes straight from one radius to another it is a
/// cone, slanted so that its crown line is level, with its apex on that line where `R` would be 0; the straight lines in
/// it are those along which `y/R` does not change. Either is convex: between two points of a string's line the board is
/// never below the chord, so that it can have a hump under a string and never a hollow.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Crown {
    /// Radius at the nut, and by how much it grows with each mm; none for a flat board.
    law: Option<(f64, f64)>,
}

/// How the board stands off the straight line between its two points at the ends of a stretch of a string.
#[derive(Clone, Copy, Debug, PartialEq, serde::Serialize)]
pub struct Hump {
    /// Greatest height above the chord, mm; 0 where the board is straight there. A hollow would be below 0, and there
    /// is none on a convex board.
    pub height_mm: f64,
    /// The station where it is greatest.
    pub at_mm: f64,
}

impl Crown {
    pub(super) const FLAT: Self = Self { law: None };

    pub(super) const fn round(at_nut_mm: f64, growth: f64) -> Self {
        Self { law: Some((at_nut_mm, growth)) }
    }

    /// Whether the top is flat.
    #[must_use]
    pub const fn is_flat(&self) -> bool {
        self.law.is_none()
    }

    /// Radius at a station, mm; none for a flat board. It goes on straight beyond the board's ends.
    #[must_use]
    pub fn radius_mm(&self, x_mm: f64) -> Option<f64> {
        self.law.map(|(at_nut, growth)| at_nut + growth * x_mm)
    }

    /// Radius at the nut, mm, and its growth for each mm of the station; none for a flat board.
    #[must_use]
    pub const fn law(&self) -> Option<(f64, f64)> {
        self.law
    }

    /// How far the top lies under the crown line at `y_mm`. Not a number outside the circle.
    pub(crate) fn sagitta(&self, x_mm: f64, y_mm: f64) -> f64 {
        self.radius_mm(x_mm).map_or(0.0, |radius| sagitta_mm(radius, y_mm))
    }

    /// How far the top lies under the crown line, mm, within 3 units in the last place.
    ///
    /// # Errors
    /// - a point that is farther from the centreline than the radius there, or not a number.
    pub fn sagitta_mm(&self, x_mm: f64, y_mm: f64) -> Result<f64, Error> {
        let sagitta = self.sagitta(x_mm, y_mm);
        if sagitta.is_finite() && x_mm.is_finite() && y_mm.is_finite() && self.reaches(x_mm, y_mm) {
            return Ok(sagitta);
        }
        let radius = self.radius_mm(x_mm).filter(|r| *r > 0.0);
        let fault = Fault::new(Kind::OutsideNeck, "y_mm", "the board's circle does not reach so far");
        Err(fault.value(y_mm, "mm").range(radius.map(|r| -r), radius).into())
    }

    fn reaches(&self, x_mm: f64, y_mm: f64) -> bool {
        self.radius_mm(x_mm).is_none_or(|radius| radius > 0.0 && libm::fabs(y_mm) <= radius)
    }

    /// The hump under a straight line between two points of the board in plan, `(x, y)` each, both on the board and in
    /// order.
    ///
    /// Along the line `R` and `y` are straight, so that with `t` from 0 to 1 and `u = sqrt(R² - y²)` the height above the
    /// chord is `sqrt((u₁(1-t) + u₂t)² + 2k t(1-t)) - (u₁(1-t) + u₂t)`, where `k = R₁R₂ - y₁y₂ - u₁u₂`, which is
    /// `(R₁y₂ - R₂y₁)² / (R₁R₂ - y₁y₂ + u₁u₂)` and so is never below 0. It has one extremum, at the `t` below. (Derived
    /// here; the tests compare it with dense samples.)
    pub(super) fn hump(&self, (x1, y1): (f64, f64), (x2, y2): (f64, f64)) -> Hump {
        let none = Hump { height_mm: 0.0, at_mm: 0.5 * (x1 + x2) };
        let (Some(r1), Some(r2)) = (self.radius_mm(x1), self.radius_mm(x2)) else { return none };
        let u1 = libm::sqrt((r1 - y1) * (r1 + y1));
        let u2 = libm::sqrt((r2 - y2) * (r2 + y2));
        let across = r1 * y2 - r2 * y1;
        let k = across * across / (r1 * r2 - y1 * y2 + u1 * u2);
        if k == 0.0 {
            return none;
        }
        let t = 0.5 - (u2 - u1) / (2.0 * (u1 + u2 + libm::sqrt(4.0 * u1 * u2 + 2.0 * k)));
        let chord = u1 * (1.0 - t) + u2 * t;
        let rise = 2.0 * k * t * (1.0 - t);
        Hump { height_mm: rise / (libm::sqrt(chord * chord + rise) + chord), at_mm: x1 + t * (x2 - x1) }
    }

    /// Length of the curve on the top above the straight line `x = x_mm + slope y`, from `y1` to `y2`, to 1e-11 relative
    /// where `|y|` is no more than half the radius.
    pub(super) fn arc(&self, x_mm: f64, slope: f64, y1: f64, y2: f64) -> f64 {
        let Some((_, growth)) = self.law else {
            return (y2 - y1) * libm::sqrt(1.0 + slope * slope);
        };
        let turn = growth * slope;
        let speed = |y: f64| {
            let radius = self.radius_mm(x_mm + slope * y).unwrap_or(0.0);
            let fall = (radius * turn - y) / libm::sqrt((radius - y) * (radius + y)) - turn;
            libm::sqrt(1.0 + slope * slope + fall * fall)
        };
        gauss16(y1, y2, speed)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn arcs_of_a_circle_and_of_an_ellipse() {
        let cylinder = Crown::round(184.0, 0.0);
        let square = 184.0 * (libm::asin(30.0 / 184.0) + libm::asin(20.0 / 184.0));
        assert!(libm::fabs(cylinder.arc(100.0, 0.0, -20.0, 30.0) - square) < 1e-13);
        // A cylinder of radius 1 cut aslant so that the ellipse has semi-axes 2 and 1: between the heights at which the
        // short axis is at 60 degrees, int_{-pi/6}^{pi/6} sqrt(4 cos^2 t + sin^2 t) dt (computed in mpmath).
        let aslant = Crown::round(1.0, 0.0).arc(0.0, libm::sqrt(3.0), -0.5, 0.5);
        assert!(libm::fabs(aslant - 2.024_368_289_862_903_3) < 1e-14, "{aslant}");
        let flat = Crown::FLAT.arc(0.0, 0.75, -4.0, 4.0);
        assert_eq!(flat, 10.0);
    }

    #[test]
    fn sagitta_keeps_its_digits() {
        // R - sqrt(R^2 - y^2) with R = 3000, y = 0.01: 1.66666666671296e-8 (computed in mpmath).
        let sagitta = Crown::round(3000.0, 0.0).sagitta(0.0, 0.01);
        assert!(libm::fabs(sagitta / 1.666_666_666_671_296_4e-8 - 1.0) < 4e-16, "{sagitta:e}");
        assert_eq!(Crown::FLAT.sagitta(5.0, 30.0), 0.0);
    }

    #[test]
    fn a_hump_under_a_slanted_line_on_a_cylinder() {
        // From y = 18 at station 0 to y = 26 at 460 on a radius of 305: highest where the slope of the profile is that of the
        // chord, by root finding in mpmath.
        let hump = Crown::round(305.0, 0.0).hump((0.0, 18.0), (460.0, 26.0));
        assert!(libm::fabs(hump.height_mm - 0.026_436_730_622_408_425) < 1e-16, "{hump:?}");
        assert!(libm::fabs(hump.at_mm - 230.109_371_215_217_78) < 1e-10, "{hump:?}");
    }
}

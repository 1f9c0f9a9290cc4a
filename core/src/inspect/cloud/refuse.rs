//! Clouds in which no neck can be looked for.

use alloc::format;
use alloc::vec::Vec;

use super::coarse::Long;
use super::motion::Vector;
use crate::measure::{Error, Fault, Faults, Kind, told};

/// Fewer points don't show a neck.
pub(super) const FEWEST: usize = 2_000;
/// Memory and time stay bounded.
pub(super) const MOST: usize = 50_000_000;
/// Nothing that is scanned lies further off, mm; keeps every sum of squares finite.
const FURTHEST_MM: f64 = 1e7;

/// Count and numbers of the points.
pub(super) fn numbers(points: &[Vector]) -> Result<(), Error> {
    if points.len() < FEWEST || points.len() > MOST {
        let (kind, reason, remedy) = if points.len() < FEWEST {
            (Kind::TooSmall, "fewer points don't show a neck", "scan more densely, or give readings instead")
        } else {
            (Kind::TooLarge, "more points tell nothing new", "thin the scan out")
        };
        return Err(Fault::new(kind, "points_mm", reason)
            .value(points.len(), "points")
            .range(FEWEST as f64, MOST as f64)
            .remedy(remedy)
            .into());
    }
    let mut faults = Faults::default();
    for (i, p) in points.iter().enumerate() {
        for (k, c) in p.iter().enumerate() {
            if c.is_nan() || libm::fabs(*c) > FURTHEST_MM {
                faults.add(|| {
                    let reason = if c.is_finite() { "no scan reaches so far" } else { "not a finite number" };
                    Fault::new(Kind::OutOfRange, format!("points_mm[{i}][{k}]"), reason)
                        .value(c, "mm")
                        .range(-FURTHEST_MM, FURTHEST_MM)
                        .remedy("leave the point out")
                });
            }
        }
    }
    faults.into_result()
}

fn shapeless(reason: &'static str, remedy: &'static str) -> Fault {
    Fault::new(Kind::Geometry, "points_mm", reason).remedy(remedy)
}

/// The shape and the size of the cloud, against a neck so long.
pub(super) fn shape(long: Option<Long>, neck_mm: f64) -> Result<Long, Error> {
    let Some(long) = long else {
        return Err(shapeless("all points lie in one place", "give the points of a whole scan").into());
    };
    let [first, second, third] = long.spread;
    let extent = long.reach[1] - long.reach[0];
    if extent <= 0.0 || extent.is_nan() || second <= 1e-6 * first {
        return Err(shapeless(
            "all points lie in one place or on one line",
            "give the points of a whole scan",
        )
        .into());
    }
    // Units first: they are the commonest slip. Half a neck at least has to be there in any unit.
    let fits = |extent: f64| extent >= 0.25 * neck_mm && extent <= 1.15 * neck_mm + 40.0;
    if !fits(extent) {
        let units = [("inches", 25.4), ("centimetres", 10.0), ("metres", 1000.0), ("micrometres", 0.001)];
        let likely: Vec<&str> =
            units.iter().filter(|(_, k)| fits(extent * k)).map(|(name, _)| *name).collect();
        // Of two units the one in which the scan is nearest to a whole neck.
        let nearest = units.iter().filter(|(name, _)| likely.contains(name)).min_by(|a, b| {
            let off = |k: f64| libm::fabs(libm::log(extent * k / neck_mm));
            off(a.1).total_cmp(&off(b.1))
        });
        let remedy = match nearest {
            Some((name, k)) => format!("multiply the points by {k} if they are in {name}"),
            None => "give the scan of one neck, in millimetres".into(),
        };
        let reason = format!(
            "the scan is {} mm long, and the neck that it is compared with {} mm",
            told(extent),
            told(neck_mm)
        );
        return Err(Fault::new(Kind::Geometry, "points_mm", reason)
            .range(0.25 * neck_mm, 1.15 * neck_mm + 40.0)
            .value(told(extent), "mm")
            .remedy(remedy)
            .into());
    }
    if third <= 1e-3 * second || third < 0.2 {
        return Err(shapeless("all points lie in one plane", "scan the back and the sides too").into());
    }
    if second > 0.6 * first {
        return Err(shapeless(
            "the cloud is no long thing as a neck is",
            "leave out what is not of the neck, or scan more of its length",
        )
        .into());
    }
    Ok(long)
}

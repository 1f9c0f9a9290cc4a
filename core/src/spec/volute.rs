//! The volute: the swelling that makes the headstock's root strong.

use super::visit::group;
use crate::measure::Length;

group! {
    /// The volute.
    Volute {
        /// Height of the volute's tip above the shaft's own line; 0 for none.
        height: Length = Length::from_mm(3.0),
            within 0 to 15 "mm" because "a volute stands out of the back, and a higher one is in the hand's way";
        /// Station of the volute's tip, positive toward the bridge.
        tip: Length = Length::from_mm(0.0),
            within -30 to 60 "mm" because "a volute strengthens the neck at the nut and not further off";
        /// How far the volute runs out toward the shaft.
        run_shaft: Option<Length> = None,
            within 2 to 120 "mm" because "a shorter run is a corner and a longer one reaches into the playing hand";
        /// How far the volute runs out toward the headstock's end.
        run_headstock: Option<Length> = None,
            within 2 to 120 "mm" because "a shorter run is a corner and a longer one is in the tuners' way";
        /// From 0, a broad tip with a flat top, to 1, the roundest.
        roundness: f64 = 0.5,
            within 0 to 1 "" because "0 is a flat-topped tip, and one rounder than 1 would not fall all the way to the shaft";
    }
}

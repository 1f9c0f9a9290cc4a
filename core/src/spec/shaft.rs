//! The shaft: how thick it is, what its back looks like, where the carve begins.

use alloc::vec;
use alloc::vec::Vec;

use super::visit::{choice, group};
use crate::measure::{Length, Station};

choice! {
    /// The shape of the back, from which shoulder, belly and lean start.
    Shape {
        /// Nearly half an ellipse.
        C = "C",
        /// Flat-bellied.
        D = "D",
        /// Full-shouldered.
        U = "U",
        /// Ridged.
        V = "V",
        /// Ridged, but softened along the spine.
        SoftV = "soft V",
    }
}

choice! {
    /// The curve through thicknesses, and that through the depths of a carve line.
    Curve {
        /// Never leaves the range of two neighbours between them, so it has no dip that the numbers have not.
        Monotone = "monotone",
        /// The natural cubic spline, which bends least of all curves through the numbers.
        Spline = "spline",
    }
}

group! {
    /// Thickness at a station, from the board's crown to the spine, frets not counted.
    ThicknessAt {
        /// Where along the neck.
        at: Station = Station::NUT, required because "a measure means nothing without its place";
        /// What a caliper reads there.
        thickness: Length = Length::from_mm(22.0),
            within 8 to 60 "mm" because "a thinner neck folds under the strings and a thicker one no hand closes around",
            required because "a station without a thickness says nothing";
    }
}

group! {
    /// A depth at a station.
    DepthAt {
        /// Where along the neck.
        at: Station = Station::NUT, required because "a measure means nothing without its place";
        /// Depth below the board's crown.
        depth: Length = Length::from_mm(3.175),
            within 0 to 40 "mm" because "the carve begins between the board's crown and the back of the neck",
            required because "a station without a depth says nothing";
    }
}

group! {
    /// What the treble side has of its own; whatever is absent is as on the bass side.
    TrebleSide {
        /// How far the side runs down before it turns in.
        shoulder: Option<f64> = None,
            within 0.2 to 0.95 "" because "less hollows the shoulder and more makes a square edge";
        /// How far the back stays flat from the spine.
        belly: Option<f64> = None,
            within 0.1 to 0.95 "" because "less makes a knife's ridge and more a flat back with corners";
        /// How far the side leans in from the edge.
        lean: Option<f64> = None,
            within 0 to 0.3 "" because "less bulges beyond the side faces, which are planed straight, and more undercuts the board";
    }
}

group! {
    /// The shape of the back at a station.
    ProfileAt {
        /// Where along the neck.
        at: Station = Station::NUT, required because "a measure means nothing without its place";
        /// The shape that the numbers below start from.
        shape: Shape = Shape::C;
        /// How far the side runs down before it turns in, as a share of the carved depth.
        shoulder: Option<f64> = None,
            within 0.2 to 0.95 "" because "less hollows the shoulder and more makes a square edge";
        /// How far the back stays flat from the spine, as a share of the half width.
        belly: Option<f64> = None,
            within 0.1 to 0.95 "" because "less makes a knife's ridge and more a flat back with corners";
        /// How far the side leans in from the edge, as a share of the half width.
        lean: Option<f64> = None,
            within 0 to 0.3 "" because "less bulges beyond the side faces, which are planed straight, and more undercuts the board";
        /// How far the spine lies off the centreline, positive toward the treble side.
        spine_offset: Length = Length::from_mm(0.0),
            within -10 to 10 "mm" because "a spine further off the centre leaves one side of the neck no wood";
        /// Whether each side keeps its own curvature at the spine, where the two then meet with one tangent only.
        crease: bool = false;
        /// What the treble side has of its own.
        treble: Option<TrebleSide> = None;
    }
}

group! {
    /// The shaft.
    Shaft {
        /// Thickness at stations; straight or smoothly changing between them.
        thickness: Vec<ThicknessAt> = vec![
            ThicknessAt { at: Station::Fret(1.0), thickness: Length::from_mm(21.844) },
            ThicknessAt { at: Station::Fret(12.0), thickness: Length::from_mm(22.86) },
        ], size 1 to 64 because "a shaft needs one thickness, and 64 are more than a caliper can tell apart";
        /// The curve through the thicknesses, and through the depths of either carve line.
        curve: Curve = Curve::Monotone;
        /// Shape of the back at stations; it changes smoothly between them.
        profile: Vec<ProfileAt> = vec![ProfileAt::default()],
            size 1 to 64 because "a shaft needs one shape, and 64 are more than a hand can tell apart";
        /// Depth below the board's crown at which the flat side ends and the carve begins, at stations.
        carve_line: Vec<DepthAt> = vec![DepthAt::default()],
            size 1 to 64 because "the carve begins at some depth, and 64 stations are more than an edge shows";
        /// The carve line of the treble side, where it differs.
        treble_carve_line: Option<Vec<DepthAt>> = None,
            size 1 to 64 because "the carve begins at some depth, and 64 stations are more than an edge shows";
    }
}

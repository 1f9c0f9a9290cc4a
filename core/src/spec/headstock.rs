//! The headstock.

use alloc::vec::Vec;

use super::visit::{choice, group};
use crate::measure::{Angle, Length};

choice! {
    /// How the headstock's face lies to the board.
    HeadstockKind {
        /// The face tilts back from the nut.
        Angled = "angled",
        /// The face is parallel to the board and stepped down from it.
        Level = "level",
    }
}

group! {
    /// A point of the headstock's outline.
    EdgePoint {
        /// Distance along the face from the nut's headstock side.
        along: Length = Length::from_mm(0.0),
            within 0 to 400 "mm" because "a headstock begins at the nut and is not longer than 400 mm",
            required because "a point needs both its distances";
        /// Distance from the centreline to this edge.
        offset: Length = Length::from_mm(30.0),
            within 2 to 150 "mm" because "a narrower headstock breaks and a wider one finds no stock",
            required because "a point needs both its distances";
    }
}

group! {
    /// Where a tuner's post stands.
    Post {
        /// Distance along the face from the nut's headstock side.
        along: Length = Length::from_mm(0.0),
            within 0 to 400 "mm" because "a headstock begins at the nut and is not longer than 400 mm",
            required because "a point needs both its distances";
        /// Distance from the centreline, positive toward the treble side.
        offset: Length = Length::from_mm(0.0),
            within -150 to 150 "mm" because "a post stands on the headstock, which reaches 150 mm to a side at most",
            required because "a point needs both its distances";
    }
}

group! {
    /// The headstock: its face, its outline and its tuners.
    Headstock {
        /// How the face lies to the board.
        kind: HeadstockKind = HeadstockKind::Angled;
        /// Angle of an angled headstock's face to the board.
        angle: Angle = Angle::from_deg(10.0),
            within 0 to 25 "deg" because "the face tilts back from the board, and a steeper headstock breaks at its first fall";
        /// Length of the headstock along its face.
        length: Option<Length> = None,
            within 20 to 400 "mm" because "a shorter headstock has no room for tuners and a longer one pulls the neck down";
        /// Thickness of the headstock.
        thickness: Length = Length::from_mm(13.5),
            within 6 to 40 "mm" because "a thinner headstock breaks and no tuner's post reaches through a thicker one";
        /// How far a level headstock's face lies below the glue line.
        step: Length = Length::from_mm(7.0),
            within 0 to 30 "mm" because "the face lies at or below the glue line, and a deeper step cuts through the neck";
        /// Radius of the turn from the board down to a level headstock's face.
        step_radius: Length = Length::from_mm(15.0),
            within 1 to 100 "mm" because "a tighter turn splits along the grain and a wider one swallows the face";
        /// The bass edge of the outline, from the nut on; a plain paddle where absent.
        bass_edge: Option<Vec<EdgePoint>> = None,
            size 2 to 64 because "an edge needs two points, and 64 draw any outline";
        /// The treble edge of the outline, from the nut on; a plain paddle where absent.
        treble_edge: Option<Vec<EdgePoint>> = None,
            size 2 to 64 because "an edge needs two points, and 64 draw any outline";
        /// Where the tuners' posts stand, the bass string's first.
        posts: Option<Vec<Post>> = None,
            size 1 to 12 because "each string has one post";
        /// Diameter of a post where the string winds on.
        post_diameter: Length = Length::from_mm(6.0),
            within 2 to 15 "mm" because "a thinner post bends and a thicker one winds too fast to tune";
        /// Height above the face at which a string leaves its post.
        post_height: Length = Length::from_mm(9.0),
            within 0 to 30 "mm" because "a string leaves its post above the face, and a taller post bends";
        /// Diameter of the hole for a tuner.
        hole_diameter: Length = Length::from_mm(10.0),
            within 3 to 30 "mm" because "no post passes a smaller hole and a larger one leaves no wood between tuners";
    }
}

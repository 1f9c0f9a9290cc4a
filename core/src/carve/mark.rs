//! Lines to mark on the wood, and readings to check.

use alloc::format;
use alloc::string::String;
use alloc::vec::Vec;

use crate::measure::told;
use crate::shape::Neck;

/// A face of the wood that a line is marked on.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Face {
    /// The top face: the board's, or the blank's where no board is on it yet.
    Top,
    /// The side face on the bass side.
    BassSide,
    /// The side face on the treble side.
    TrebleSide,
    /// Both side faces alike.
    BothSides,
    /// The back.
    Back,
    /// The facet or the rounded corner beside it.
    Beside,
    /// The headstock's face.
    HeadstockFace,
    /// The headstock's side faces.
    HeadstockSides,
}

impl Face {
    /// Its name in words.
    #[must_use]
    pub const fn name(self) -> &'static str {
        match self {
            Self::Top => "top face",
            Self::BassSide => "bass side",
            Self::TrebleSide => "treble side",
            Self::BothSides => "both sides",
            Self::Back => "back",
            Self::Beside => "facet or corner beside it",
            Self::HeadstockFace => "headstock's face",
            Self::HeadstockSides => "headstock's sides",
        }
    }
}

/// What a distance is measured from.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Datum {
    /// The board's top along its crown; beyond its ends a straight edge laid along the crown.
    BoardTop,
    /// The board's top edge on that side, which on a radiused board lies lower than its crown.
    BoardEdge,
    /// The blank's top face, before the board is on it.
    BlankTop,
    /// The headstock's end of the blank, along the neck.
    BlankEnd,
    /// The centreline.
    Centreline,
    /// The headstock's face, square to it.
    HeadstockFace,
    /// The nut's headstock side, where the headstock's face begins, along that face.
    FaceStart,
    /// The nut's fretboard side, along the neck.
    Nut,
}

impl Datum {
    /// Its name in words.
    #[must_use]
    pub const fn name(self) -> &'static str {
        match self {
            Self::BoardTop => "the board's crown",
            Self::BoardEdge => "the board's top edge",
            Self::BlankTop => "the blank's top face",
            Self::BlankEnd => "the headstock's end of the blank",
            Self::Centreline => "the centreline",
            Self::HeadstockFace => "the headstock's face",
            Self::FaceStart => "the nut's headstock side",
            Self::Nut => "the nut",
        }
    }
}

/// One point of a line.
#[derive(Clone, Debug, PartialEq)]
pub struct Mark {
    /// Station, mm from the nut.
    pub x_mm: f64,
    /// The station in words: `nut`, `fret 5`, `heel`.
    pub place: String,
    /// Distance from the line's datum, mm.
    pub distance_mm: f64,
}

/// A line to mark before a cut.
#[derive(Clone, Debug, PartialEq)]
pub struct Line {
    /// What it is.
    pub name: String,
    /// The face it is drawn on.
    pub on: Face,
    /// What its distances are measured from.
    pub from: Datum,
    /// Whether a straight edge through its first and last mark meets all the others.
    pub straight: bool,
    /// Its points, from the headstock's end on; where nothing is to be marked at a station there is none.
    pub marks: Vec<Mark>,
}

/// A reading to check before going on.
#[derive(Clone, Debug, PartialEq)]
pub struct Check {
    /// What is measured, and with what.
    pub what: String,
    /// Station, mm from the nut; `None` where the check belongs to no station.
    pub x_mm: Option<f64>,
    /// The station in words, empty without one.
    pub place: String,
    /// What the instrument should read, mm; `None` for a check by eye.
    pub reads_mm: Option<f64>,
}

impl Check {
    pub(super) fn by_eye(what: impl Into<String>) -> Self {
        Self { what: what.into(), x_mm: None, place: String::new(), reads_mm: None }
    }

    pub(super) fn reading(what: impl Into<String>, place: &Place, reads_mm: f64) -> Self {
        Self { what: what.into(), x_mm: Some(place.x), place: place.name.clone(), reads_mm: Some(reads_mm) }
    }
}

/// A station with its name.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Place {
    pub x: f64,
    pub name: String,
}

impl Place {
    pub fn new(x: f64, name: impl Into<String>) -> Self {
        Self { x, name: name.into() }
    }

    /// A station without a name of its own.
    pub fn at(x: f64) -> Self {
        Self::new(x, format!("{} mm", told(x)))
    }
}

/// The frets at which a builder marks and measures: the first, those with markers, the last.
fn frets(neck: &Neck) -> Vec<Place> {
    let spec = neck.normalised();
    let most = if spec.frets.count == 0 { 24 } else { spec.frets.count };
    let mut numbers: Vec<u32> = spec.fretboard.face_markers.iter().copied().filter(|n| *n < most).collect();
    numbers.extend([1, 12.min(most), most]);
    numbers.sort_unstable();
    numbers.dedup();
    let at = |n: u32| Some(Place::new(neck.station_mm(f64::from(n)).ok()?, format!("fret {n}")));
    numbers.into_iter().filter_map(at).collect()
}

/// The marked stations between two stations, those two among them: the nut and the marked frets.
pub(super) fn places(neck: &Neck, from: &Place, to: &Place) -> Vec<Place> {
    let mut all = alloc::vec![from.clone()];
    // A mark nearer than this to an end of the line adds nothing to it.
    const APART: f64 = 3.0;
    let inner = core::iter::once(Place::new(0.0, "nut")).chain(frets(neck));
    all.extend(inner.filter(|p| p.x > from.x + APART && p.x < to.x - APART));
    if to.x > from.x {
        all.push(to.clone());
    }
    all
}

/// A line's marks at stations; a distance that is not a number marks nothing.
pub(super) fn marks(places: &[Place], distance: impl Fn(f64) -> f64) -> Vec<Mark> {
    places
        .iter()
        .map(|p| Mark { x_mm: p.x, place: p.name.clone(), distance_mm: distance(p.x) })
        .filter(|m| m.distance_mm.is_finite())
        .collect()
}

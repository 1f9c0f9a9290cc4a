//! Lines to mark on the wood, and readings to check.

use alloc::format;
use alloc::string::String;
use alloc::vec;
use alloc::vec::Vec;

use crate::measure::{Length, Sixtyfourths, told};
use crate::shape::Neck;

/// A face of the wood that a line is marked on.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, serde::Serialize)]
#[serde(rename_all = "snake_case")]
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
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, serde::Serialize)]
#[serde(rename_all = "snake_case")]
pub enum Datum {
    /// The board's top along its crown; beyond its ends a straight edge laid along the crown.
    BoardTop,
    /// The board's top edge on that side, which on a radiused board lies lower than its crown.
    BoardEdge,
    /// The blank's top face, before the board is on it.
    BlankTop,
    /// The headstock's end of the blank, along the neck.
    BlankEnd,
    /// The blank's other end, at the heel, along the neck.
    BlankHeelEnd,
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
            Self::BlankHeelEnd => "the blank's end at the heel",
            Self::Centreline => "the centreline",
            Self::HeadstockFace => "the headstock's face",
            Self::FaceStart => "the nut's headstock side",
            Self::Nut => "the nut",
        }
    }
}

/// One point of a line.
#[derive(Clone, Debug, PartialEq, serde::Serialize)]
pub struct Mark {
    /// Station, mm from the nut.
    pub x_mm: f64,
    /// The station in words: `nut`, `fret 5`, `heel`.
    pub place: String,
    /// Distance from the line's datum, mm.
    pub distance_mm: f64,
}

/// On which side of a line its waste lies.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, serde::Serialize)]
#[serde(rename_all = "snake_case")]
pub enum Waste {
    /// Where distances from the datum are greater.
    Greater,
    /// Where they are less.
    Less,
}

impl Waste {
    /// Where its distances lie, in a word.
    #[must_use]
    pub const fn name(self) -> &'static str {
        match self {
            Self::Greater => "greater",
            Self::Less => "less",
        }
    }
}

/// A line to mark before a cut.
#[derive(Clone, Debug, PartialEq, serde::Serialize)]
pub struct Line {
    /// What it is.
    pub name: String,
    /// The face it is drawn on.
    pub on: Face,
    /// What its distances are measured from.
    pub from: Datum,
    /// Whether a straight edge through its first and last mark meets all the others.
    pub straight: bool,
    /// On which side the wood goes; `None` for a line that bounds no cut.
    pub waste: Option<Waste>,
    /// Its points, from the headstock's end on; where nothing is to be marked at a station there is none.
    pub marks: Vec<Mark>,
}

impl Line {
    /// A distance of this line as it is marked with an inch rule: of a line that bounds a cut the next 64th on the waste's
    /// side, so that the mark lies in no wood that has to stay; of others the nearest.
    #[must_use]
    pub fn sixtyfourths(&self, distance_mm: f64) -> Sixtyfourths {
        let distance = Length::from_mm(distance_mm);
        match self.waste {
            Some(Waste::Greater) => distance.ceil_64th(),
            Some(Waste::Less) => distance.floor_64th(),
            None => distance.nearest_64th(),
        }
    }
}

/// A reading to check before going on.
#[derive(Clone, Debug, PartialEq, serde::Serialize)]
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
    // On a fretless neck they are where the frets of another would be.
    let name = |n: u32| if spec.frets.count == 0 { format!("position {n}") } else { format!("fret {n}") };
    let at = |n: u32| Some(Place::new(neck.station_mm(f64::from(n)).ok()?, name(n)));
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

/// How far a straight line from one mark of a curve to the next may lie off the curve, mm, on its waste's side only:
/// what a saw along it leaves to the file.
pub(super) const FAIR_MM: f64 = 0.25;

/// Where the straight lines between the points of a curve may lie.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Keep {
    /// To either side, the points themselves on the curve.
    Near,
    /// Nowhere beyond it, where values are greater.
    Under,
    /// Nowhere short of it, where values are less.
    Over,
}

/// A curve, and where straight lines between its points may lie.
pub(super) type Curve<'a> = (&'a dyn Fn(f64) -> f64, Keep);

/// What is known of the straight lines that start from a point of a curve: the slopes that keep to it so far.
struct Cone {
    value: f64,
    slopes: [f64; 2],
}

impl Cone {
    /// Narrows the slopes to those that keep to the curve `run` further on; `slack` is what it may bend away from its
    /// chord between two places looked at.
    fn see(&mut self, keep: Keep, at: f64, slack: f64, run: f64, within: f64) {
        let [below, above] = match keep {
            Keep::Near => [within, within],
            Keep::Under => [within, -slack],
            Keep::Over => [-slack, within],
        };
        let to = |v: f64| (v - self.value) / run;
        self.slopes = [self.slopes[0].max(to(at - below)), self.slopes[1].min(to(at + above))];
    }

    fn holds(&self) -> bool {
        self.slopes[0] <= self.slopes[1]
    }

    /// The value `run` further on, as near to the curve's as the slopes let it be.
    fn reach(&self, at: f64, run: f64) -> f64 {
        let free = (at - self.value) / run;
        let [least, most] = self.slopes;
        if free < least {
            self.value + run * least
        } else if free > most {
            self.value + run * most
        } else {
            at
        }
    }
}

/// Points along curves, with places in common, so few that straight lines from one to the next just keep within a
/// distance of every curve and on the side asked for: places, and each curve's value there.
///
/// From each point on, every place that is looked at narrows the slopes that a straight line may have, and the next
/// point is the furthest that some slope still reaches. Places are whole millimetres where that is close enough, else
/// parts of one; the first and the last point lie where they are asked for, the first on the curve.
pub(super) fn points(curves: &[Curve<'_>], from: f64, to: f64, within: f64) -> Vec<(f64, Vec<f64>)> {
    /// The steps that places come in, mm.
    const STEPS: [f64; 5] = [1.0, 0.5, 0.1, 0.02, 0.004];
    /// Marks further apart than this are hard to join by eye.
    const MOST_MM: f64 = 40.0;
    let mut found = vec![(from, curves.iter().map(|(f, _)| f(from)).collect::<Vec<f64>>())];
    let (mut x, mut values) = found[0].clone();
    while x < to {
        let most = if to - x > MOST_MM { libm::floor(x + MOST_MM) } else { to };
        let next = STEPS.iter().find_map(|step| furthest(curves, (x, &values), most, *step, within));
        // A curve that no step is short enough for gets the shortest there is.
        (x, values) = next.unwrap_or_else(|| {
            let x = (x + STEPS[STEPS.len() - 1]).min(to);
            (x, curves.iter().map(|(f, _)| f(x)).collect())
        });
        found.push((x, values.clone()));
    }
    found
}

/// The furthest place up to `to`, a whole number of steps or `to` itself, that straight lines from a point reach.
fn furthest(
    curves: &[Curve<'_>],
    (from, values): (f64, &[f64]),
    to: f64,
    step: f64,
    within: f64,
) -> Option<(f64, Vec<f64>)> {
    /// Places looked at in each step.
    const LOOK: u32 = 4;
    let cone = |v: &f64| Cone { value: *v, slopes: [f64::NEG_INFINITY, f64::INFINITY] };
    let mut cones: Vec<Cone> = values.iter().map(cone).collect();
    let mut last: Vec<f64> = curves.iter().map(|(f, _)| f(from)).collect();
    let (mut best, mut x) = (None, from);
    while x < to {
        let whole = (libm::floor(x / step + 1e-6) + 1.0) * step;
        // The last step may be longer, so that no point stands right beside the end.
        let end = if whole > to - 0.5 * step { to } else { whole };
        for i in 1..=LOOK {
            let part = (end - x) / f64::from(LOOK);
            let t = if i == LOOK { end } else { x + part * f64::from(i) };
            for (((f, keep), cone), last) in curves.iter().zip(&mut cones).zip(&mut last) {
                let (mid, at) = (f(t - 0.5 * part), f(t));
                // The middle is looked at too; twice what it rises over its chord is more than a smooth curve does.
                let slack = 2.0 * libm::fabs(mid - 0.5 * (*last + at));
                cone.see(*keep, at, slack, t - from, within);
                if *keep == Keep::Near {
                    cone.see(*keep, mid, 0.0, t - 0.5 * part - from, within);
                }
                *last = at;
            }
            if !cones.iter().all(Cone::holds) {
                return best;
            }
        }
        x = end;
        let here: Vec<f64> = last.iter().zip(&cones).map(|(at, c)| c.reach(*at, x - from)).collect();
        // A point that has to lie on its curve is none where it can't.
        if curves.iter().zip(&here).zip(&last).all(|(((_, keep), v), at)| *keep != Keep::Near || v == at) {
            best = Some((x, here));
        }
    }
    best
}

#[cfg(test)]
mod tests {
    use super::*;

    /// A step with two bends, and its mirror image.
    fn step(x: f64) -> f64 {
        let t = (x / 24.0).clamp(0.0, 1.0);
        7.0 * t * t * t * (10.0 - 15.0 * t + 6.0 * t * t)
    }

    fn between(points: &[(f64, Vec<f64>)], k: usize, x: f64) -> f64 {
        let i = points.partition_point(|p| p.0 < x).clamp(1, points.len() - 1);
        let (a, b) = (&points[i - 1], &points[i]);
        a.1[k] + (x - a.0) / (b.0 - a.0) * (b.1[k] - a.1[k])
    }

    #[test]
    fn straight_lines_from_point_to_point_keep_to_the_curve_and_its_side() {
        let curves: [Curve<'_>; 3] =
            [(&step, Keep::Under), (&|x| -step(x), Keep::Over), (&|x| 0.05 * x * x, Keep::Near)];
        for within in [1.0, 0.25, 0.01] {
            for used in [&curves[..1], &curves[1..2], &curves[2..], &curves] {
                let found = points(used, 0.0, 60.3, within);
                assert!(found.len() < 400 && (found[0].0, found[found.len() - 1].0) == (0.0, 60.3));
                for i in 0..=6030 {
                    let x = f64::from(i) * 0.01;
                    for (k, (f, keep)) in used.iter().enumerate() {
                        let over = between(&found, k, x) - f(x);
                        let [low, high] = match keep {
                            Keep::Near => [-within, within],
                            Keep::Under => [-within, 0.0],
                            Keep::Over => [0.0, within],
                        };
                        assert!(
                            (low - 1e-4..=high + 1e-4).contains(&over),
                            "{within} {keep:?} at {x}: {over}"
                        );
                    }
                }
            }
        }
    }

    #[test]
    fn points_are_few_and_stand_at_readable_places() {
        let found = points(&[(&step, Keep::Under)], 0.0, 180.0, 0.25);
        assert!(found.len() < 20, "{found:?}");
        assert!(found.iter().all(|p| p.0 == libm::round(p.0)), "{found:?}");
        assert!(found.windows(2).all(|w| w[1].0 - w[0].0 <= 40.0));
        // On the straight part the marks are the curve's own.
        assert!((found[found.len() - 1].1[0] - 7.0).abs() < 1e-12);
        let sharp = points(&[(&|x: f64| libm::fabs(x - 5.1), Keep::Near)], 0.0, 10.0, 0.01);
        assert!(sharp.len() < 40, "{sharp:?}");
    }
}

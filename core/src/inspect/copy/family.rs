//! The family of necks that readings choose from: where its numbers are given, and what they make of a section.

use alloc::format;
use alloc::string::String;
use alloc::vec;
use alloc::vec::Vec;

use super::follow::Follow;
use super::section::{self, LOCALS, Local, Treble};
use crate::measure::Station;
use crate::shape::{Side, held, shaft_line};
use crate::spec::{Curve, Shape};

/// Stations at which numbers of one kind are given, rising.
#[derive(Clone, Debug, Default)]
pub(super) struct Knots {
    pub x: Vec<f64>,
    pub at: Vec<Station>,
    /// Whether a knot was made from readings.
    pub made: Vec<bool>,
}

impl Knots {
    pub fn push(&mut self, x: f64, at: Station, made: bool) {
        self.x.push(x);
        self.at.push(at);
        self.made.push(made);
    }

    pub fn len(&self) -> usize {
        self.x.len()
    }
}

/// What a station of the profile has besides its numbers.
#[derive(Clone, Debug)]
pub(super) struct Form {
    pub shape: Shape,
    pub crease: bool,
    /// Whether the spine may lie off the centreline there.
    pub offset: bool,
    /// Whether the treble side is said to have numbers of its own, and which.
    pub own: bool,
    pub shoulder: bool,
    pub belly: bool,
    pub lean: bool,
}

/// How the board's radius goes along the neck.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) enum Round {
    Flat,
    /// One radius, growing by this share of itself each mm.
    Growing(f64),
    /// From one radius at the nut to another at this station.
    Between(f64),
}

/// Which field of a specification a number is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Place {
    Thickness(usize),
    Width(usize),
    Line(Side, usize),
    Profile(usize, usize),
    Radius,
    EndRadius,
}

/// The numbers of a profile's station, in order.
pub(super) const PROFILE: usize = 7;
const NAMES: [&str; PROFILE] =
    ["shoulder", "belly", "lean", "spine_offset", "treble.shoulder", "treble.belly", "treble.lean"];

/// Stations to look at, rising, with how much the spine lies below the shaft's own line there.
#[derive(Clone, Debug, Default)]
pub(super) struct Places {
    pub x: Vec<f64>,
    pub raised: Vec<f64>,
}

#[derive(Clone, Debug)]
pub(super) struct Family {
    pub curve: Curve,
    pub thickness: Knots,
    /// How the thicknesses that no reading tells go along with those that are told.
    pub follow: Option<Follow>,
    /// The nut's first; at least two.
    pub widths: Knots,
    /// The carve line of the bass side, or of both; of the treble side empty where it has none of its own.
    pub lines: [Knots; 2],
    pub profile: Knots,
    pub forms: Vec<Form>,
    pub treble: Treble,
    pub round: Round,
    /// What the laws cover.
    pub reach: [f64; 2],
    /// Whether the sides' lean is not to be fitted.
    pub upright: bool,
}

impl Family {
    /// How many numbers there are, those of no meaning among them.
    pub fn size(&self) -> usize {
        self.crown_at() + 2
    }

    fn widths_at(&self) -> usize {
        self.thickness.len()
    }

    fn lines_at(&self, side: Side) -> usize {
        let bass = self.widths_at() + self.widths.len();
        if side == Side::Bass { bass } else { bass + self.lines[0].len() }
    }

    pub fn profile_at(&self) -> usize {
        self.lines_at(Side::Treble) + self.lines[1].len()
    }

    fn crown_at(&self) -> usize {
        self.profile_at() + PROFILE * self.profile.len()
    }

    pub fn place(&self, i: usize) -> Place {
        let (widths, bass, treble) =
            (self.widths_at(), self.lines_at(Side::Bass), self.lines_at(Side::Treble));
        let (profile, crown) = (self.profile_at(), self.crown_at());
        match i {
            i if i < widths => Place::Thickness(i),
            i if i < bass => Place::Width(i - widths),
            i if i < treble => Place::Line(Side::Bass, i - bass),
            i if i < profile => Place::Line(Side::Treble, i - treble),
            i if i < crown => Place::Profile((i - profile) / PROFILE, (i - profile) % PROFILE),
            i if i == crown => Place::Radius,
            _ => Place::EndRadius,
        }
    }

    /// Whether the number is to be fitted if the readings tell it.
    pub fn is_live(&self, i: usize) -> bool {
        let barred = match self.place(i) {
            Place::Profile(_, 2 | 6) => self.upright,
            _ => false,
        };
        self.has_meaning(i) && !barred
    }

    /// Whether a thickness goes along with others.
    pub fn follows(&self, k: usize) -> bool {
        self.follow.is_some() && !self.thickness.made[k]
    }

    /// Whether the number is a thickness that goes along with others.
    pub fn goes_along(&self, i: usize) -> bool {
        matches!(self.place(i), Place::Thickness(k) if self.follows(k))
    }

    /// Sets the numbers that go along with others.
    pub fn led(&self, v: &mut [f64]) {
        if let Some(follow) = &self.follow {
            follow.set(&self.thickness, v);
        }
    }

    /// The same family with every thickness a number of its own.
    pub fn free(&self) -> Self {
        Self { follow: None, ..self.clone() }
    }

    /// Whether the number has a meaning of its own.
    pub fn has_meaning(&self, i: usize) -> bool {
        match self.place(i) {
            Place::Thickness(k) => !self.follows(k),
            Place::Width(_) | Place::Line(..) => true,
            Place::Profile(at, number) => {
                let f = &self.forms[at];
                [true, true, true, f.offset, f.shoulder, f.belly, f.lean][number]
            }
            Place::Radius => self.round != Round::Flat,
            Place::EndRadius => matches!(self.round, Round::Between(_)),
        }
    }

    /// The field's path in the specification.
    pub fn path(&self, i: usize) -> String {
        match self.place(i) {
            Place::Thickness(k) => format!("shaft.thickness[{k}].thickness"),
            Place::Width(0) => "nut.width".into(),
            Place::Width(k) => format!("fretboard.widths[{}].width", k - 1),
            Place::Line(Side::Bass, k) => format!("shaft.carve_line[{k}].depth"),
            Place::Line(Side::Treble, k) => format!("shaft.treble_carve_line[{k}].depth"),
            Place::Profile(k, number) => format!("shaft.profile[{k}].{}", NAMES[number]),
            Place::Radius => "fretboard.radius".into(),
            Place::EndRadius => "fretboard.end_radius".into(),
        }
    }

    /// The field's path in the table of bounds.
    pub fn row(&self, i: usize) -> String {
        let mut row = String::new();
        let mut inside = false;
        for c in self.path(i).chars() {
            inside = (inside || c == '[') && c != ']';
            if !inside || c == '[' {
                row.push(c);
            }
        }
        row
    }

    /// Unit of the number.
    pub fn unit(&self, i: usize) -> &'static str {
        match self.place(i) {
            Place::Profile(_, 3) => "mm",
            Place::Profile(..) => "",
            _ => "mm",
        }
    }

    /// An uncertainty that is no better than not knowing the number: about as much as necks differ in it. Common practice,
    /// no source.
    pub fn unknown(&self, i: usize, value: f64) -> f64 {
        match self.place(i) {
            Place::Thickness(_) | Place::Width(_) => 5.0,
            Place::Line(..) => 3.0,
            Place::Profile(_, 0 | 1 | 4 | 5) => 0.15,
            Place::Profile(_, 3) => 2.0,
            Place::Profile(..) => 0.03,
            Place::Radius | Place::EndRadius => 0.5 * value,
        }
    }

    /// Which quantities of a section the number has a say in.
    pub fn touches(&self, i: usize) -> Vec<usize> {
        let mut own = match self.place(i) {
            Place::Thickness(_) => vec![section::SPINE],
            Place::Width(_) => vec![section::HALF],
            Place::Line(Side::Bass, _) if self.lines[1].len() == 0 => {
                vec![section::BASS_LINE, section::TREBLE_LINE]
            }
            Place::Line(Side::Bass, _) => vec![section::BASS_LINE],
            Place::Line(Side::Treble, _) => vec![section::TREBLE_LINE],
            Place::Profile(_, 0) => vec![section::SHOULDER],
            Place::Profile(_, 1) => vec![section::BELLY],
            Place::Profile(_, 2) => vec![section::LEAN],
            Place::Profile(_, 3) => vec![section::OFFSET],
            Place::Profile(..) => vec![],
            Place::Radius | Place::EndRadius => vec![section::CROWN],
        };
        // What the treble side has from the neck's balance: its lean from leans, the rest from all else.
        own.extend_from_slice(match (self.place(i), self.treble) {
            (Place::Radius | Place::EndRadius, _) | (_, Treble::Mirror) => &[],
            (Place::Profile(_, 2 | 6), _) => &[section::TREBLE_LEAN],
            (_, Treble::Smooth) => &[section::RATIO],
            (_, Treble::Creased) => &[section::TREBLE_SHOULDER, section::TREBLE_BELLY],
        });
        own
    }

    fn part<'a>(&self, v: &'a [f64], from: usize, knots: &Knots) -> &'a [f64] {
        &v[from..from + knots.len()]
    }

    fn number(&self, v: &[f64], at: usize, number: usize) -> f64 {
        v[self.profile_at() + PROFILE * at + number]
    }

    /// One quantity at many stations; `None` where the numbers make no law.
    pub fn column(&self, v: &[f64], quantity: usize, places: &Places) -> Option<Vec<f64>> {
        let mut out = vec![0.0; places.x.len()];
        let line = |knots: &Knots, values: &[f64], out: &mut [f64]| -> Option<()> {
            if values.len() == 1 {
                out.fill(values[0]);
                return Some(());
            }
            let points: Vec<(f64, f64)> = knots.x.iter().copied().zip(values.iter().copied()).collect();
            shaft_line(&points, self.curve, self.reach[0], self.reach[1])?.values_into(&places.x, out);
            Some(())
        };
        match quantity {
            section::HALF => self.halves(v, &places.x, &mut out),
            section::SPINE => {
                let mut values = self.part(v, 0, &self.thickness).to_vec();
                self.led(&mut values);
                line(&self.thickness, &values, &mut out)?;
                for (out, raised) in out.iter_mut().zip(&places.raised) {
                    *out += raised;
                }
            }
            section::TREBLE_LINE if self.lines[1].len() > 0 => {
                let values = self.part(v, self.lines_at(Side::Treble), &self.lines[1]);
                line(&self.lines[1], values, &mut out)?;
            }
            section::BASS_LINE | section::TREBLE_LINE => {
                let values = self.part(v, self.lines_at(Side::Bass), &self.lines[0]);
                line(&self.lines[0], values, &mut out)?;
            }
            section::CROWN => {
                let at = self.crown_at();
                for (out, x) in out.iter_mut().zip(&places.x) {
                    *out = match self.round {
                        Round::Flat => 0.0,
                        Round::Growing(share) => 1.0 / (v[at] * (1.0 + share * x)),
                        Round::Between(end) => 1.0 / (v[at] + (v[at + 1] - v[at]) * x / end),
                    };
                }
            }
            _ => self.profile_column(v, quantity, &places.x, &mut out)?,
        }
        Some(out)
    }

    fn profile_column(&self, v: &[f64], quantity: usize, x: &[f64], out: &mut [f64]) -> Option<()> {
        let own = match quantity {
            section::SHOULDER => Some(0),
            section::BELLY => Some(1),
            section::LEAN => Some(2),
            section::OFFSET => Some(3),
            _ => None,
        };
        let values: Vec<f64> = match own {
            Some(number) => (0..self.profile.len()).map(|k| self.number(v, k, number)).collect(),
            None if self.treble == Treble::Mirror => return Some(()),
            None if quantity == section::TREBLE_LEAN => {
                let own = |(k, form): (usize, &Form)| self.number(v, k, if form.lean { 6 } else { 2 });
                self.forms.iter().enumerate().map(own).collect()
            }
            None => {
                let settled = self.settled(v)?;
                let which = match quantity {
                    section::RATIO => 0,
                    section::TREBLE_SHOULDER => 1,
                    _ => 2,
                };
                settled.iter().map(|s| s[which]).collect()
            }
        };
        if values.iter().all(|value| *value == values[0]) {
            out.fill(values[0]);
            return Some(());
        }
        let points: Vec<(f64, f64)> = self.profile.x.iter().copied().zip(values).collect();
        held(&points, self.reach[0], self.reach[1])?.values_into(x, out);
        Some(())
    }

    /// Half the board's width, straight between its stations and beyond them.
    fn halves(&self, v: &[f64], x: &[f64], out: &mut [f64]) {
        let (at, widths) = (&self.widths.x, self.part(v, self.widths_at(), &self.widths));
        let mut i = 0;
        for (x, out) in x.iter().zip(out) {
            while i + 2 < at.len() && at[i + 1] <= *x {
                i += 1;
            }
            let slope = (widths[i + 1] - widths[i]) / (at[i + 1] - at[i]);
            *out = 0.5 * (widths[i] + slope * (x - at[i]));
        }
    }

    /// Of every station of the profile the ratio of the sides' reach, and shoulder and belly of the treble side: as the neck
    /// settles them.
    fn settled(&self, v: &[f64]) -> Option<Vec<[f64; 3]>> {
        let places = Places { x: self.profile.x.clone(), raised: vec![0.0; self.profile.len()] };
        let [half, shaft, bass, treble] =
            [section::HALF, section::SPINE, section::BASS_LINE, section::TREBLE_LINE]
                .map(|q| self.column(v, q, &places));
        let (half, shaft, bass, treble) = (half?, shaft?, bass?, treble?);
        let mut all = Vec::with_capacity(self.profile.len());
        for (k, form) in self.forms.iter().enumerate() {
            let n = |number: usize| self.number(v, k, number);
            let (shoulder, belly, offset) = (n(0), n(1), n(3));
            let carved = [shaft[k] - bass[k], shaft[k] - treble[k]];
            let span = [half[k] + offset, half[k] - offset];
            let (reach, rise) = (belly * span[0], (1.0 - shoulder) * carved[0]);
            let mut own =
                [if form.shoulder { n(4) } else { shoulder }, if form.belly { n(5) } else { belly }];
            let mut ratio = 1.0;
            if !form.crease {
                ratio = if form.shoulder {
                    let share = (1.0 - own[0]) * carved[1] / rise;
                    if share <= 0.0 {
                        return None;
                    }
                    libm::sqrt(share)
                } else {
                    own[1] * span[1] / reach
                };
                if form.own || offset != 0.0 || carved[0] != carved[1] {
                    own = [1.0 - ratio * ratio * rise / carved[1], ratio * reach / span[1]];
                }
            }
            let settled = [ratio, own[0], own[1]];
            if settled.iter().any(|s| !s.is_finite()) {
                return None;
            }
            all.push(settled);
        }
        Some(all)
    }

    /// All quantities at many stations.
    pub fn locals(&self, v: &[f64], places: &Places) -> Option<Vec<Local>> {
        let mut all = vec![[0.0; LOCALS]; places.x.len()];
        for quantity in 0..LOCALS {
            let unused = match self.treble {
                Treble::Mirror => (section::RATIO..=section::TREBLE_LEAN).contains(&quantity),
                Treble::Smooth => quantity == section::TREBLE_SHOULDER || quantity == section::TREBLE_BELLY,
                Treble::Creased => quantity == section::RATIO,
            };
            if !unused {
                for (local, value) in all.iter_mut().zip(self.column(v, quantity, places)?) {
                    local[quantity] = value;
                }
            }
        }
        all.iter().flatten().all(|value| value.is_finite()).then_some(all)
    }
}

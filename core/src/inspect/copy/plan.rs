//! Where the copied neck's numbers are given.

use alloc::collections::BTreeMap;
use alloc::vec::Vec;

use super::alone::alone;
use super::family::{Family, Form, Knots, Round};
use super::fewest::KINDS;
use super::follow::Follow;
use super::section::{
    BASS_LINE, BELLY, CROWN, HALF, LEAN, LOCALS, Local, RATIO, SHOULDER, SPINE, TREBLE_LEAN, TREBLE_LINE,
    Treble,
};
use super::take::{Ground, Item, Taken, spread};
use crate::inspect::Measured;
use crate::measure::{Error, Station};
use crate::shape::{Neck, Side};
use crate::spec::{CopyOptions, Curve, DepthAt, Judging, KnotChoice, Radius, Specification};

/// What was planned.
pub(super) struct Plan {
    pub family: Family,
    /// What the fit starts from.
    pub start: Vec<f64>,
    /// What the base has of them.
    pub base: Vec<f64>,
}

/// What is planned with.
pub(super) struct Planner<'a> {
    pub base: &'a Specification,
    pub neck: &'a Neck,
    pub ground: &'a Ground,
    pub taken: &'a Taken,
    pub options: &'a CopyOptions,
    /// Whether each profile gets an offset and a treble side of its own.
    pub uneven: bool,
    /// Stations that were tried for a kind of number and told nothing: thickness, width, carve lines.
    pub idle: [Vec<f64>; 4],
    /// Sections fitted by themselves, by their place.
    pub alone: BTreeMap<usize, Local>,
    /// Whether the sides' lean is kept whatever the readings say.
    pub upright: bool,
    /// By how much the base has a say in every number, those too that the readings alone tell; `None`: only where it should.
    pub pull: Option<f64>,
    /// The most stations of thickness, widths and carve lines.
    pub most: [usize; KINDS],
    /// Whether far-off readings count for less.
    pub robust: bool,
}

/// Carve lines and widths are told by sections at no more stations than these: an edge is planed straight.
const LINES: usize = 3;
/// Fewer points than these are no section.
const POINTS: usize = 4;

impl Planner<'_> {
    pub(super) fn x_of(&self, at: &Station) -> Result<f64, Error> {
        self.neck.layout().station_mm(at)
    }

    /// A fret where frets lie still whatever the nut's width is, millimetres where they don't.
    fn said(&self, x: f64, at: Station) -> Station {
        if self.base.scale.bass.is_some() { Station::Mm(x) } else { at }
    }

    fn places_with(&self, kind: usize, test: impl Fn(&[Item]) -> bool) -> Vec<usize> {
        (0..self.taken.places.x.len())
            .filter(|p| !self.idle[kind].contains(&self.taken.places.x[*p]))
            .filter(|p| test(self.taken.at_place(*p)))
            .collect()
    }

    fn thinned(&self, places: &[usize], most: usize) -> Vec<usize> {
        let x: Vec<f64> = places.iter().map(|p| self.taken.places.x[*p]).collect();
        spread(&x, most, self.options.least_gap.mm()).into_iter().map(|i| places[i]).collect()
    }

    fn made(&self, places: &[usize]) -> Knots {
        let mut knots = Knots::default();
        for p in places {
            let x = self.taken.places.x[*p];
            knots.push(x, self.said(x, self.taken.at[*p]), true);
        }
        knots
    }

    fn of_base<'a>(&self, at: impl Iterator<Item = &'a Station>) -> Result<Knots, Error> {
        let mut knots = Knots::default();
        for at in at {
            knots.push(self.x_of(at)?, *at, false);
        }
        Ok(knots)
    }

    fn by_base(&self) -> bool {
        self.options.stations == KnotChoice::Base
    }

    fn thickness(&self) -> Result<Knots, Error> {
        let base = self.of_base(self.base.shaft.thickness.iter().map(|t| &t.at))?;
        let places = self.places_with(0, |items| {
            items.iter().any(|item| matches!(item.measured, Measured::Thickness)) || is_section(items)
        });
        if places.is_empty() || self.by_base() {
            return Ok(base);
        }
        let made = self.made(&self.thinned(&places, self.most[0]));
        if made.len() > 2 {
            return Ok(made);
        }
        // The base's own hold on among one or two, and go along with them.
        let gap = self.options.least_gap.mm();
        let kept = |x: f64| made.x.iter().all(|m| libm::fabs(x - m) >= gap);
        Ok(merged(&base, &made, kept))
    }

    fn widths(&self) -> Knots {
        let board = self.neck.layout().board().widths_mm();
        let mut base = Knots::default();
        for (i, (x, _)) in board.iter().enumerate() {
            let given = self.base.fretboard.widths.as_ref().and_then(|w| w.get(i.wrapping_sub(1)));
            let at = given.map_or(if i == 0 { Station::NUT } else { Station::Mm(*x) }, |w| w.at);
            base.push(*x, at, false);
        }
        let read =
            self.places_with(1, |items| items.iter().any(|item| matches!(item.measured, Measured::Width)));
        let places = if read.len() > 1 {
            self.thinned(&read, self.most[1])
        } else {
            let edges = self.places_with(1, |items| {
                is_section(items) || items.iter().any(|item| matches!(item.measured, Measured::Width))
            });
            self.thinned(&edges, LINES.min(self.most[1]))
        };
        if places.is_empty() || self.by_base() {
            return base;
        }
        let mut made = self.made(&places);
        if made.x[0] >= self.options.least_gap.mm() && made.len() > 1 {
            // The outline is straight from the nut to the second station: so many stations tell so many widths.
            (made.x[0], made.at[0]) = (0.0, Station::NUT);
        } else if made.x[0] < self.options.least_gap.mm() {
            (made.x[0], made.at[0]) = (0.0, Station::NUT);
        } else {
            made.x.insert(0, 0.0);
            made.at.insert(0, Station::NUT);
            made.made.insert(0, false);
        }
        if made.len() == 1 {
            return base;
        }
        made.made[0] = false;
        made
    }

    fn line(&self, side: Side, given: &[DepthAt]) -> Result<Knots, Error> {
        let base = self.of_base(given.iter().map(|d| &d.at))?;
        let kind = if side == Side::Bass { 2 } else { 3 };
        let both = self.base.shaft.treble_carve_line.is_none() && !self.reads_both_lines();
        let reads = |item: &Item| match item.measured {
            Measured::CarveLine(s) => both || s == side,
            _ => false,
        };
        let read = self.places_with(kind, |items| items.iter().any(reads));
        let places = if read.is_empty() {
            self.thinned(&self.places_with(kind, is_section), LINES.min(self.most[2]))
        } else {
            self.thinned(&read, self.most[2])
        };
        if places.is_empty() || self.by_base() {
            return Ok(base);
        }
        let made = self.made(&places);
        // One depth tells the whole line where the base's is one depth, and one of its stations where it is not.
        Ok(if made.len() > 1 || base.len() == 1 {
            made
        } else {
            merged(&base, &made, |x| libm::fabs(x - made.x[0]) >= self.options.least_gap.mm())
        })
    }

    /// Whether each side's carve line was read: then each has its own.
    fn reads_both_lines(&self) -> bool {
        let reads =
            |side: Side| self.taken.items.iter().any(|item| item.measured == Measured::CarveLine(side));
        self.uneven && reads(Side::Bass) && reads(Side::Treble)
    }

    fn profile(&self) -> Result<Knots, Error> {
        let base = self.of_base(self.base.shaft.profile.iter().map(|p| &p.at))?;
        let places = self.places_with(0, is_section);
        if places.is_empty() || self.by_base() {
            return Ok(base);
        }
        Ok(self.made(&self.thinned(&places, self.options.most_profiles as usize)))
    }

    /// Fits every section that will be a profile's station by itself.
    pub fn prepare(&mut self) -> Result<(), Error> {
        self.alone.clear();
        let Some(Plan { family, start, base }) = self.plan()? else { return Ok(()) };
        let locals = |v: &[f64]| family.locals(v, &self.taken.places);
        let (Some(starts), Some(bases)) = (locals(&start), locals(&base)) else { return Ok(()) };
        let treble = if family.treble == Treble::Smooth { Treble::Smooth } else { Treble::Mirror };
        for x in family.profile.x.iter().zip(&family.profile.made).filter(|(_, made)| **made).map(|(x, _)| x)
        {
            let Some(place) = self.taken.places.x.iter().position(|p| p == x) else { continue };
            let mut start: Local = [0.0; LOCALS];
            for q in [HALF, SPINE, BASS_LINE, SHOULDER, BELLY, LEAN, CROWN] {
                start[q] = starts[place][q];
            }
            start[TREBLE_LINE] = start[BASS_LINE];
            start[RATIO] = 1.0;
            start[TREBLE_LEAN] = start[LEAN];
            let mut base = bases[place];
            (base[RATIO], base[TREBLE_LEAN]) = (1.0, base[LEAN]);
            let items = self.taken.at_place(place);
            let out = |item: &Item| match item.measured {
                Measured::Point { across_mm } => Some((across_mm, item.value)),
                _ => None,
            };
            let widest = items.iter().filter_map(out).map(|(y, _)| libm::fabs(y)).fold(0.0, f64::max);
            let deepest = items.iter().filter_map(out).map(|(_, z)| z).fold(0.0, f64::max);
            (start[HALF], start[SPINE]) = (widest, deepest);
            if let Some(found) = alone(items, &start, &base, treble, self.upright) {
                self.alone.insert(place, found);
            }
        }
        Ok(())
    }

    /// The family, the numbers that the fit starts from, and those that what is not told keeps.
    pub fn plan(&self) -> Result<Option<Plan>, Error> {
        let shaft = &self.base.shaft;
        let thickness = self.thickness()?;
        let own_stations = self.of_base(shaft.thickness.iter().map(|t| &t.at))?.x == thickness.x;
        let treble_line = match (&shaft.treble_carve_line, self.reads_both_lines()) {
            (Some(line), _) => self.line(Side::Treble, line)?,
            (None, true) => self.line(Side::Treble, &shaft.carve_line)?,
            (None, false) => Knots::default(),
        };
        let lines = [self.line(Side::Bass, &shaft.carve_line)?, treble_line];
        let own_lines = lines[0].len() < 3 || !lines[0].made.contains(&true);
        let follow = Follow::new(&thickness, thickness.x.iter().map(|x| self.ground.thickness(*x)).collect());
        let fair = thickness.len() < 3 || own_stations || follow.is_some();
        let curve = if fair && own_lines { shaft.curve } else { Curve::Spline };
        let profile = self.profile()?;
        let own_profile = self.of_base(shaft.profile.iter().map(|p| &p.at))?;
        let mut forms = Vec::with_capacity(profile.len());
        for x in &profile.x {
            let Some(p) = nearest(&own_profile.x, *x).and_then(|i| shaft.profile.get(i)) else {
                return Ok(None);
            };
            let own = p.treble.clone().unwrap_or_default();
            let creased = p.crease;
            let uneven = self.uneven;
            let shoulder = own.shoulder.is_some() || (uneven && creased);
            forms.push(Form {
                shape: p.shape,
                crease: creased,
                offset: uneven || p.spine_offset.mm() != 0.0,
                own: uneven || p.treble.is_some(),
                shoulder,
                belly: own.belly.is_some() || (uneven && (creased || !shoulder)),
                lean: own.lean.is_some() || uneven,
            });
        }
        let apart = !lines[1].x.is_empty();
        let uneven = forms.iter().any(|f| f.own || f.offset);
        let creased = forms.iter().any(|f| f.crease);
        let treble = match (uneven, creased) {
            (true, true) => Treble::Creased,
            (false, true) if apart => Treble::Creased,
            (true, false) => Treble::Smooth,
            _ => Treble::Mirror,
        };
        let family = Family {
            curve,
            thickness,
            follow,
            widths: self.widths(),
            lines,
            profile,
            forms,
            treble,
            round: self.round(),
            reach: self.ground.reach,
            upright: self.upright,
        };
        let start = self.start(&family, Some(&self.alone));
        let base = self.start(&family, None);
        Ok(Some(Plan { family, start, base }))
    }

    fn round(&self) -> Round {
        let radii: Vec<f64> = self.radii().map(|(x, _)| x).collect();
        let board = &self.base.fretboard;
        let spans = radii.iter().any(|x| libm::fabs(x - radii[0]) > 0.5 * self.ground.board_end);
        match board.radius {
            Radius::Flat if radii.is_empty() => Round::Flat,
            _ if board.straight_under_strings => {
                let law = self.neck.layout().board().crown().law();
                law.map_or(Round::Flat, |(at_nut, growth)| Round::Growing(growth / at_nut))
            }
            // Two equal ones, as a specification with its defaults filled in has them, are one.
            Radius::Round(radius)
                if !spans && board.end_radius.is_some_and(|end| end.mm() == radius.mm()) =>
            {
                Round::Growing(0.0)
            }
            _ if board.end_radius.is_some() || (spans && !self.by_base()) => {
                Round::Between(self.ground.board_end)
            }
            _ => Round::Growing(0.0),
        }
    }

    pub(super) fn radii(&self) -> impl Iterator<Item = (f64, f64)> + '_ {
        let items = self.taken.items.iter().filter(|item| matches!(item.measured, Measured::Radius));
        items.map(|item| (self.taken.places.x[item.place], item.value))
    }
}

/// Knots of the base that hold on among those that were made.
fn merged(base: &Knots, made: &Knots, kept: impl Fn(f64) -> bool) -> Knots {
    let mut all: Vec<(f64, Station, bool)> = Vec::new();
    for i in 0..base.len() {
        if kept(base.x[i]) {
            all.push((base.x[i], base.at[i], false));
        }
    }
    for i in 0..made.len() {
        all.push((made.x[i], made.at[i], true));
    }
    all.sort_by(|a, b| a.0.total_cmp(&b.0));
    let mut knots = Knots::default();
    for (x, at, made) in all {
        knots.push(x, at, made);
    }
    knots
}

pub(super) fn is_section(items: &[Item]) -> bool {
    items.iter().filter(|item| matches!(item.measured, Measured::Point { .. })).count() >= POINTS
}

/// Which of the stations lies nearest.
pub(super) fn nearest(stations: &[f64], x: f64) -> Option<usize> {
    (0..stations.len()).min_by(|a, b| libm::fabs(stations[*a] - x).total_cmp(&libm::fabs(stations[*b] - x)))
}

/// How uneven a neck is planned at first.
pub(super) fn starts_uneven(options: &CopyOptions) -> bool {
    options.uneven == Judging::Always
}

//! So few stations that readings are left over to check the others, and more where they call for it.

use super::fit::attempt;
use super::plan::Planner;
use super::robust::MOST_COST;
use super::settle::{Fitted, Table, sum_of};
use super::take::Item;
use crate::inspect::Measured;
use crate::spec::{Allowed, CopyOptions, Fretboard, KnotChoice, Shaft};

/// Kinds of numbers that are given at stations: thickness, widths, carve lines.
pub(super) const KINDS: usize = 3;
/// A straight line to begin with.
const STRAIGHT: usize = 2;
/// Of fewer readings that stand alone at their stations a far-off one can't be told from a bend.
const TELLING: usize = 4;
/// How many stations more are tried at once: one more need not reach where the readings leave the curve.
const MORE: [usize; 5] = [1, 2, 3, 4, 6];
/// How much less than before the readings must be off for every number more. It is more than one reading by itself can bring
/// ([`MOST_COST`]), and what chance brings once in a thousand times (χ² of one degree of freedom).
const CALL: f64 = 10.83;
const _: () = assert!(CALL > MOST_COST);

/// Stations of thickness, widths and carve lines at first: no more than are asked for and a specification takes.
pub(super) fn most(options: &CopyOptions) -> [usize; KINDS] {
    let widths = Allowed::<Fretboard>::widths.size.highest as usize;
    [options.most_thicknesses as usize, widths, Allowed::<Shaft>::carve_line.size.highest as usize]
}

fn is_of(kind: usize, item: &Item) -> bool {
    match item.measured {
        Measured::Thickness => kind == 0,
        Measured::Width => kind == 1,
        Measured::CarveLine(_) => kind == 2,
        _ => false,
    }
}

impl Planner<'_> {
    fn places(&self) -> impl Iterator<Item = &[Item]> {
        (0..self.taken.places.x.len()).map(|place| self.taken.at_place(place))
    }

    /// At how many stations something tells a kind of number.
    fn stations_read(&self, kind: usize) -> usize {
        let point = |item: &Item| matches!(item.measured, Measured::Point { .. });
        self.places().filter(|items| items.iter().any(|item| is_of(kind, item) || point(item))).count()
    }

    /// Whether a kind of number is to be given at few stations: where it is asked for, and where readings that stand alone at
    /// their station would decide it while far-off ones are to be told.
    fn is_few(&self, kind: usize) -> bool {
        let alone = |items: &[Item]| {
            items.iter().filter(|item| is_of(kind, item)).count() == 1 && !super::plan::is_section(items)
        };
        let alone = self.places().filter(|items| alone(items)).count();
        match self.options.stations {
            KnotChoice::Base => false,
            KnotChoice::Fewest => alone == 0 || alone >= TELLING,
            KnotChoice::Readings => self.options.robust && alone >= TELLING,
        }
    }
}

/// Sets how few stations each kind of number is given at. Whether they are enough is judged by robust fits, whatever the last
/// one is to be, so that no far-off reading calls for a station of its own.
pub(super) fn choose(planner: &mut Planner<'_>, weight: &[f64], table: &Table) {
    let few: [bool; KINDS] = core::array::from_fn(|kind| planner.is_few(kind));
    if !few.contains(&true) {
        return;
    }
    let before = planner.most;
    for kind in (0..KINDS).filter(|kind| few[*kind]) {
        planner.most[kind] = planner.most[kind].min(STRAIGHT);
    }
    let robust = core::mem::replace(&mut planner.robust, true);
    let mut stands = attempt(planner, weight, table);
    if stands.is_err() {
        planner.most = before;
    }
    let mut grown = true;
    while grown && let Ok(stands) = &mut stands {
        grown = false;
        for kind in (0..KINDS).filter(|kind| few[*kind]) {
            grown |= grow(planner, stands, kind, weight, table);
        }
    }
    planner.robust = robust;
}

/// Tries more stations of one kind; gives whether they were called for.
fn grow(planner: &mut Planner<'_>, stands: &mut Fitted, kind: usize, weight: &[f64], table: &Table) -> bool {
    let (before, all) = (planner.most[kind], planner.stations_read(kind));
    for more in MORE {
        let most = before + more;
        if most > all {
            break;
        }
        planner.most[kind] = most;
        // A fit that comes to nothing is none to choose.
        let Ok(other) = attempt(planner, weight, table) else { continue };
        let numbers = other.standing.count().saturating_sub(stands.standing.count());
        let settled = other.solved.as_ref().is_some_and(|s| s.settled);
        if numbers > 0 && settled && sum_of(stands) - sum_of(&other) > CALL * numbers as f64 {
            *stands = other;
            return true;
        }
    }
    planner.most[kind] = before;
    false
}

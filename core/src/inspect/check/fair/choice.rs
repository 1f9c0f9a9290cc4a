//! What is told next of a row.

use alloc::vec::Vec;
use core::ops::Range;

use super::kernel::{LEFT, Spot};
use super::scan::Scan;
use super::step::Step;

/// What stands out as much as this share of the clearest may be the clearer one, and how many of them are tried.
const NEARLY: f64 = 0.7;
const MOST_NEAR: usize = 6;

/// The longest such stretch, as a share of the row.
const LONGEST: f64 = 0.4;

/// A step says where a departure is if it stands out by so many standard uncertainties: by noise alone one of all those
/// in a row does so in no more than two of a thousand rows (Bonferroni), and nothing is told then that does not alarm by itself.
const FAR: f64 = 5.0;

/// What is done next about a row: what is told, and the step whose places are taken out with it.
pub(super) struct Choice {
    pub(super) told: Option<Told>,
    pub(super) step: Option<Step>,
}

/// A kernel that is told.
pub(super) struct Told {
    pub(super) centre: f64,
    pub(super) width: f64,
    pub(super) p: f64,
}

impl Scan<'_> {
    /// What is told next, whose chance is given. Not every departure has a kernel's shape: beside one that has not, the fair
    /// curve is bent, and the clearest kernel may be where the wood is fair. A step that stands out more tells where the
    /// departure is; if no kernel there alarms, as where it is of one place at the row's end, nothing is told of it.
    pub(super) fn choose(&self, p: f64, mut alarms: impl FnMut(f64) -> Option<f64>) -> Choice {
        let Some((place, t, _)) = self.clearest(|_, _, _| true) else {
            return Choice { told: None, step: None };
        };
        let mut told = Some(Told { centre: place.0, width: place.1, p });
        let mut step = self.clearest_step(LONGEST, |_| true).filter(|step| libm::fabs(step.t) > t.max(FAR));
        if let Some(step) = &step
            && !self.tells_of(step, place, self.beside(place).1)
        {
            told = self.told_of(step, &mut alarms);
        }
        if let Some(told) = &told
            && let Some(single) = self.rival((told.centre, told.width), &mut alarms)
        {
            let instead = self.told_of(&single, &mut alarms);
            step = Some(single);
            return Choice { told: instead, step };
        }
        Choice { told, step }
    }

    /// The kernel that tells of a step, if it alarms.
    fn told_of(&self, step: &Step, alarms: &mut impl FnMut(f64) -> Option<f64>) -> Option<Told> {
        let (place, _, most) = self.clearest(|centre, width, t| self.tells_of(step, (centre, width), t))?;
        let p = alarms(most)?;
        let (centre, width) = place;
        self.tells_of(step, place, self.beside(place).1).then_some(Told { centre, width, p })
    }

    /// A single place that a kernel doesn't tell of, which stands out nearly as much and without which the kernel would not
    /// alarm: it may as well be all that is wrong.
    fn rival(&self, place: (f64, f64), alarms: &mut impl FnMut(f64) -> Option<f64>) -> Option<Step> {
        let (column, t) = self.beside(place);
        self.clearest_step(0.0, |single| {
            let (i, step) = (single.places.start, single);
            let hangs = column.get(i).copied().unwrap_or(0.0) / libm::sqrt(1.0 - self.basis.leverage(i));
            !self.tells_of(step, place, t)
                && libm::fabs(step.t) >= FAR.max(NEARLY * libm::fabs(t))
                && alarms(libm::fabs(t - hangs * step.t) / libm::sqrt(1.0 - hangs * hangs)).is_none()
        })
    }

    /// The kernel that stands out most. A hollow between two places is a bump on either side of it, and the scan's steps may
    /// favour the wrong one: so all that stand out nearly as much are looked at closely, of neighbours the clearest. Its
    /// place, how far it stands out there, and how far the clearest of those that were scanned does.
    fn clearest(&self, which: impl Fn(f64, f64, f64) -> bool) -> Option<((f64, f64), f64, f64)> {
        let all = self.stands.iter().map(|(t, i)| (*t, &self.spots[*i]));
        let mut near: Vec<(f64, &Spot)> =
            all.filter(|(t, spot)| which(spot.centre, spot.width, *t)).collect();
        let most = near.iter().map(|(t, _)| libm::fabs(*t)).max_by(f64::total_cmp)?;
        near.retain(|(t, _)| libm::fabs(*t) >= NEARLY * most);
        near.sort_by(|a, b| libm::fabs(b.0).total_cmp(&libm::fabs(a.0)));
        let mut kept: Vec<(f64, &Spot)> = Vec::with_capacity(MOST_NEAR);
        for (t, spot) in near {
            let same = |(other, by): &(f64, &Spot)| {
                other * t > 0.0
                    && libm::fabs(by.centre - spot.centre) <= 0.6 * by.width
                    && spot.width <= 2.1 * by.width
                    && by.width <= 2.1 * spot.width
            };
            if kept.len() < MOST_NEAR && !kept.iter().any(same) {
                kept.push((t, spot));
            }
        }
        // All of them roughly, and the clearest to the end.
        let rough = kept.into_iter().map(|(_, spot)| {
            let start = (spot.centre, spot.width);
            (start, self.refined(start, start, 0..3, LEFT))
        });
        let (start, (place, _)) = rough.max_by(|a, b| a.1.1.total_cmp(&b.1.1))?;
        let (place, t) = self.refined(start, place, 3..7, LEFT);
        Some((place, t, most))
    }

    /// The kernel nearby that stands out most, and how much: centre and width are not bound to the scan's steps. Looked for
    /// from a place found before, in steps halved so many times.
    pub(super) fn refined(
        &self,
        (centre, width): (f64, f64),
        place: (f64, f64),
        halved: Range<u32>,
        least: f64,
    ) -> ((f64, f64), f64) {
        let mut values: Vec<f64> = Vec::with_capacity(self.data.len());
        let mut t = |c: f64, w: f64| {
            values.clear();
            let from = self.data.partition_point(|d| d.at <= c - w);
            let Some((first, square)) = self.kernel(from, c, w, &mut values) else { return 0.0 };
            let left = square - self.basis.square_along(first, &values);
            if left > least * square { libm::fabs(self.t(first, &values, left)) } else { 0.0 }
        };
        let (mut best, mut value) = (place, t(place.0, place.1));
        for k in halved {
            let share = libm::exp2(-f64::from(k));
            let (step, grow) = (0.25 * width * share, libm::pow(1.25, share));
            for _ in 0..4 {
                let (c, w) = best;
                let tries = [(c - step, w), (c + step, w), (c, w * grow), (c, w / grow)];
                let within = |p: &(f64, f64)| {
                    libm::fabs(p.0 - centre) <= 0.6 * width && p.1 <= 1.7 * width && p.1 >= 0.6 * width
                };
                let next = tries
                    .into_iter()
                    .filter(within)
                    .map(|p| (p, t(p.0, p.1)))
                    .max_by(|p, q| p.1.total_cmp(&q.1));
                match next {
                    Some((p, v)) if v > value => (best, value) = (p, v),
                    _ => break,
                }
            }
        }
        (best, value)
    }
}

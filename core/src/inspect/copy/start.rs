//! What the copied neck's numbers start from.

use alloc::collections::BTreeMap;
use alloc::vec;
use alloc::vec::Vec;

use super::family::{Family, PROFILE};
use super::plan::{Planner, is_section, nearest};
use super::section::{BASS_LINE, BELLY, HALF, LEAN, Local, OFFSET, RATIO, SHOULDER, SPINE, TREBLE_LEAN};
use super::take::Item;
use crate::inspect::Measured;
use crate::shape::{Side, fullness};

/// Points this near to the outermost, and 4 of their uncertainties more, are taken to be on the flat side, to begin with.
const EDGE_MM: f64 = 0.02;

impl Planner<'_> {
    /// Readings, and sections fitted by themselves, say directly what some numbers are; the rest begins as the base has it. Without
    /// sections all numbers are the base's.
    pub(super) fn start(&self, family: &Family, alone: Option<&BTreeMap<usize, Local>>) -> Vec<f64> {
        let place_of = |x: f64| self.taken.places.x.iter().position(|p| *p == x).filter(|_| alone.is_some());
        let fitted = |x: f64| place_of(x).and_then(|place| alone?.get(&place));
        let built = self.neck.built();
        let mean = |x: f64, pick: &dyn Fn(&Item) -> Option<f64>| {
            let place = place_of(x)?;
            let found: Vec<f64> = self.taken.at_place(place).iter().filter_map(pick).collect();
            let count = found.len() as f64;
            (count > 0.0).then(|| found.iter().sum::<f64>() / count)
        };
        let extreme = |x: f64, pick: &dyn Fn(&Item) -> Option<f64>| {
            let place = place_of(x)?;
            let items = self.taken.at_place(place);
            if !is_section(items) {
                return None;
            }
            items.iter().filter_map(pick).max_by(f64::total_cmp)
        };
        let mut v = Vec::with_capacity(family.size());
        for (x, made) in family.thickness.x.iter().zip(&family.thickness.made) {
            let raised = self.ground.raised(*x);
            let read = mean(*x, &|item| matches!(item.measured, Measured::Thickness).then_some(item.value));
            let deepest =
                extreme(*x, &|item| matches!(item.measured, Measured::Point { .. }).then_some(item.value));
            let base = built.back.spine.value(*x);
            let deepest = fitted(*x).map(|local| local[SPINE]).or(deepest);
            v.push(if *made { read.or(deepest).unwrap_or(base) } else { base } - raised);
        }
        for x in &family.widths.x {
            let read = mean(*x, &|item| matches!(item.measured, Measured::Width).then_some(item.value));
            let widest = extreme(*x, &|item| match item.measured {
                Measured::Point { across_mm } => Some(2.0 * libm::fabs(across_mm)),
                _ => None,
            });
            let widest = fitted(*x).map(|local| 2.0 * local[HALF]).or(widest);
            v.push(read.or(widest).unwrap_or_else(|| self.neck.layout().board().width_mm(*x)));
        }
        for (side, line) in [(Side::Bass, &family.lines[0]), (Side::Treble, &family.lines[1])] {
            for x in &line.x {
                let read = mean(*x, &|item| match item.measured {
                    Measured::CarveLine(s) if s == side || family.lines[1].x.is_empty() => Some(item.value),
                    _ => None,
                });
                // Points as far out as any are on the flat side still, those of either side.
                let items = place_of(*x).map(|place| self.taken.at_place(place)).unwrap_or_default();
                let out = |item: &Item| match item.measured {
                    Measured::Point { across_mm } => Some(libm::fabs(across_mm)),
                    _ => None,
                };
                let widest = items.iter().filter_map(out).fold(0.0, f64::max);
                let flat = items
                    .iter()
                    .filter(|item| {
                        is_section(items)
                            && out(item).is_some_and(|o| o >= widest - 4.0 * item.uncertainty - EDGE_MM)
                    })
                    .map(|item| item.value)
                    .max_by(f64::total_cmp);
                let flat = fitted(*x).map(|local| local[BASS_LINE]).or(flat);
                let base = built.form.shallow.of(side).value(*x);
                v.push(read.or(flat.filter(|s| *s > 0.0)).unwrap_or(base));
            }
        }
        let back = &built.form.profile;
        let stations: Vec<f64> =
            self.base.shaft.profile.iter().filter_map(|p| self.x_of(&p.at).ok()).collect();
        for x in &family.profile.x {
            let nearest = nearest(&stations, *x).and_then(|i| self.base.shaft.profile.get(i));
            let own = nearest.and_then(|p| p.treble.clone()).unwrap_or_default();
            let bass = [0, 1, 2].map(|i| back.bass[i].value(*x));
            let mut numbers = vec![0.0; PROFILE];
            numbers[..3].copy_from_slice(&bass);
            numbers[OFFSET - SHOULDER] = back.spine_offset.value(*x);
            numbers[4] = own.shoulder.unwrap_or(bass[0]);
            numbers[5] = own.belly.unwrap_or(bass[1]);
            numbers[6] = own.lean.unwrap_or(bass[LEAN - SHOULDER]);
            // At one of the base's own stations its very numbers, not what a law makes of them.
            if let Some(p) = nearest.filter(|p| self.x_of(&p.at).is_ok_and(|at| at == *x)) {
                let letters = fullness(p.shape);
                numbers[0] = p.shoulder.unwrap_or(letters.shoulder);
                numbers[1] = p.belly.unwrap_or(letters.belly);
                numbers[2] = p.lean.unwrap_or(letters.lean);
                numbers[3] = p.spine_offset.mm();
            }
            if let Some(local) = fitted(*x) {
                numbers[..3].copy_from_slice(&local[SHOULDER..=LEAN]);
                numbers[4..].copy_from_slice(&local[SHOULDER..=LEAN]);
                if self.uneven {
                    let (half, offset) = (local[HALF], local[OFFSET]);
                    numbers[3] = offset;
                    numbers[5] = local[RATIO] * local[BELLY] * (half + offset) / (half - offset);
                    numbers[6] = local[TREBLE_LEAN];
                }
            }
            v.extend(numbers);
        }
        let crown = self.neck.layout().board().crown();
        let radii: Vec<f64> = self.radii().map(|(_, radius)| radius).collect();
        let read =
            (alone.is_some() && !radii.is_empty()).then(|| radii.iter().sum::<f64>() / radii.len() as f64);
        for x in [0.0, self.ground.board_end] {
            v.push(read.or_else(|| crown.radius_mm(x)).unwrap_or(0.0));
        }
        v
    }
}

//! Values drawn at random.

use alloc::string::String;

use super::Ratio;
use super::visit::{About, Slot, Visitor};
use crate::measure::{Angle, Bound, Length, Station};

/// Random numbers that are the same on every machine, from a seed (splitmix64).
///
/// Source: Steele, Lea & Flood, Fast splittable pseudorandom number generators, OOPSLA 2014 (constants from
/// memory).
pub fn numbers(seed: u64) -> impl FnMut() -> u64 {
    let mut state = seed;
    move || {
        state = state.wrapping_add(0x9e37_79b9_7f4a_7c15);
        let mut z = state;
        z = (z ^ (z >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
        z ^ (z >> 31)
    }
}

/// Draws values.
pub(super) struct Draw<'a> {
    pub(super) next: &'a mut dyn FnMut() -> u64,
}

impl Draw<'_> {
    /// From 0 up to, but without, 1.
    pub(super) fn unit(&mut self) -> f64 {
        ((self.next)() >> 11) as f64 / (1_u64 << 53) as f64
    }

    pub(super) fn chance(&mut self, share: f64) -> bool {
        self.unit() < share
    }

    pub(super) fn sometimes<T>(&mut self, value: impl FnOnce(&mut Self) -> T) -> Option<T> {
        if self.chance(0.5) { Some(value(self)) } else { None }
    }

    /// From 0 up to, but without, `end`; 0 where that is 0.
    pub(super) fn below(&mut self, end: u32) -> u32 {
        ((((self.next)() >> 32) * u64::from(end)) >> 32) as u32
    }

    pub(super) fn between(&mut self, lowest: f64, highest: f64) -> f64 {
        (lowest + self.unit() * (highest - lowest)).clamp(lowest, highest)
    }

    /// The same, in multiples of `step`, where there is one within.
    pub(super) fn round(&mut self, lowest: f64, highest: f64, step: f64) -> f64 {
        (libm::round(self.between(lowest, highest) / step) * step).clamp(lowest, highest)
    }

    /// Now and then one of the bounds, or a number a builder would write.
    fn bounded(&mut self, bound: Option<Bound>) -> f64 {
        let Bound { lowest, highest, .. } = bound.unwrap_or(Bound { lowest: -1e6, highest: 1e6, why: "" });
        match self.below(16) {
            0 => lowest,
            1 => highest,
            2..=5 => self.round(lowest, highest, 0.25),
            _ => self.between(lowest, highest),
        }
    }

    fn count(&mut self, bound: Option<Bound>) -> u32 {
        let Bound { lowest, highest, .. } = bound.unwrap_or(Bound { lowest: 0.0, highest: 8.0, why: "" });
        lowest as u32 + self.below((highest - lowest) as u32 + 1)
    }

    fn text(&mut self, about: &About) -> String {
        // What writers of drawings have to escape, and letters beyond ASCII.
        const LETTERS: &[char] =
            &['a', 'b', 'Z', '7', ' ', '"', '\\', '<', '&', '%', '(', 'é', '″', '木', '🎸'];
        let longest = about.size.map(|size| Bound { highest: size.highest, ..size });
        let short = longest.map(|size| Bound { highest: size.highest.min(size.lowest + 12.0), ..size });
        let count = if self.chance(0.1) { self.count(longest) } else { self.count(short) };
        (0..count).filter_map(|_| LETTERS.get(self.below(LETTERS.len() as u32) as usize)).collect()
    }

    fn slot(&mut self, about: &About, slot: Slot<'_>) {
        match slot {
            Slot::Flag(flag) => *flag = self.chance(0.5),
            Slot::Count(count) => *count = self.count(about.bound),
            Slot::Number(number) => *number = self.bounded(about.bound),
            Slot::Length(length) => *length = Length::from_mm(self.bounded(about.bound)),
            Slot::Angle(angle) => *angle = Angle::from_deg(self.bounded(about.bound)),
            Slot::Ratio(ratio) => *ratio = Ratio::new(self.bounded(about.bound)),
            Slot::Station(station) => {
                *station = match self.below(3) {
                    0 => Station::Mm(self.bounded(Some(Station::MM))),
                    1 => Station::Fret(self.bounded(Some(Station::FRET))),
                    _ => Station::Fret(f64::from(self.below(25))),
                };
            }
            Slot::Text(text) => *text = self.text(about),
            Slot::Choice(choice) => choice.choose(self.below(choice.names().len() as u32) as usize),
            Slot::LengthOr(slot) => {
                let length = Length::from_mm(self.bounded(about.bound));
                slot.set(if self.chance(0.3) { None } else { Some(length) });
            }
            Slot::Group(group) => group.visit(self),
            Slot::List(list) => {
                list.clear();
                let short =
                    about.size.map(|size| Bound { highest: size.highest.min(size.lowest + 5.0), ..size });
                let count = if self.chance(0.05) { self.count(about.size) } else { self.count(short) };
                for _ in 0..count {
                    self.slot(about, list.push());
                }
            }
            Slot::Maybe(maybe) => {
                // Nothing that may be absent is there by default.
                if self.chance(0.5) {
                    self.slot(about, maybe.fill());
                }
            }
        }
    }
}

impl Visitor for Draw<'_> {
    fn field(&mut self, about: &About, slot: Slot<'_>) {
        self.slot(about, slot);
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_numbers_are_those_of_splitmix64() {
        // The first outputs for the seed 1234567, as other implementations test them; from memory.
        let mut next = numbers(1_234_567);
        assert_eq!([next(), next()], [6_457_827_717_110_365_317, 3_203_168_211_198_807_973]);
    }

    #[test]
    fn draws_stay_within() {
        let mut next = numbers(1);
        let mut draw = Draw { next: &mut next };
        for _ in 0..1000 {
            assert!(draw.below(7) < 7);
            assert!((0.1..=0.3).contains(&draw.between(0.1, 0.3)));
            assert!((0.1..=0.35).contains(&draw.round(0.1, 0.35, 0.25)));
            let count = draw.count(Some(Bound { lowest: 1.0, highest: 3.0, why: "" }));
            assert!((1..=3).contains(&count));
        }
        assert_eq!(draw.below(0), 0);
    }
}

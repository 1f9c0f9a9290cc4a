//! Whether the allowances follow each other: the grits' within shaping's, shaping's within the saw's, and the saw's
//! within the stretch between the stop lines.

use alloc::format;
use alloc::string::String;
use alloc::vec::Vec;

use super::offer::{Offer, ROUNDING_MM, TEN_THOUSANDTHS, TENTHS};
use crate::measure::{Fault, Kind, told};

/// The allowances, and what they are held against. All in mm.
#[derive(Clone, Copy, Debug)]
pub(super) struct Following {
    pub saw: f64,
    pub shaping: f64,
    /// What contouring leaves for the grits, and whether it is more than they take.
    pub contour: f64,
    pub contour_spare: bool,
    /// On the headstock's back: what is left for the grits, what they take, and the headstock's finished thickness.
    pub headstock: f64,
    pub grits: f64,
    pub headstock_finished: f64,
    /// What a sawn thickness that the builder chose leaves there; the saw leaves its allowance where there is none.
    pub headstock_chosen: Option<f64>,
    /// What the shaft begins with, in words.
    pub hump: &'static str,
    pub stops: f64,
    /// The furthest from volute and heel that both stop lines can lie.
    pub furthest_stop: f64,
    /// The most that the saw can leave so that a stretch is left between them, hardly less.
    pub most_saw: f64,
}

fn conflict(path: &str, value: f64, offer: Option<Offer>, reason: String, remedy: String) -> Fault {
    let fault = Fault::new(Kind::Conflict, path, reason).value(told(value), "mm").remedy(remedy);
    match offer {
        Some(offer) => offer.of(fault),
        None => fault,
    }
}

fn offer(path: &str, range: [f64; 2]) -> Option<Offer> {
    Offer::new(path, range, TEN_THOUSANDTHS)
}

fn above(a: f64, b: f64) -> bool {
    a > b + ROUNDING_MM
}

const SAW: &str = "allowances.saw";
const SHAPING: &str = "allowances.shaping";
const HEADSTOCK: &str = "allowances.headstock";
const STOPS: &str = "allowances.stops";
const SAWN: &str = "saw.headstock_thickness";

impl Following {
    /// Everything that does not follow. What is asked of one allowance goes with what is asked of the others.
    pub fn faults(&self) -> Vec<Fault> {
        [self.saw_fault(), self.shaping_fault(), self.headstock_fault(), self.stops_fault()]
            .into_iter()
            .flatten()
            .collect()
    }

    /// What the saw has to leave for the others to stay as they are, or for the grits at least where that is too much.
    fn enough_of_the_saw(&self) -> f64 {
        let headstock = if self.headstock_chosen.is_some() { 0.0 } else { self.headstock };
        let all = self.contour.max(self.shaping).max(headstock);
        if above(all, self.most_saw) { self.contour } else { all }
    }

    /// What it leaves, once it leaves what it has to.
    fn saw_to_be(&self) -> f64 {
        if above(self.contour, self.saw) { self.enough_of_the_saw() } else { self.saw }
    }

    const fn finer(&self) -> &'static str {
        if self.contour_spare { "let contouring leave less" } else { "sand with fewer or finer grits" }
    }

    fn crossed(&self) -> String {
        format!("the stop lines cross: between {} and heel no shaft is left to cut", self.hump)
    }

    fn shorter_runs(&self) -> String {
        format!("make the {}'s or the heel's run shorter", self.hump)
    }

    fn saw_fault(&self) -> Option<Fault> {
        let offer = offer(SAW, [self.enough_of_the_saw(), self.most_saw]);
        let (finer, runs) = (self.finer(), self.shorter_runs());
        let (reason, remedy) = if above(self.contour, self.saw) {
            let reason = format!(
                "less than the {} mm that contouring leaves for the grits, and shaping has to leave no less than that and \
                 no more than the saw",
                told(self.contour)
            );
            let remedy = match offer {
                Some(offer) => format!("let the saw leave {} mm or more, or {finer}", offer.least),
                None => format!("{finer}, or {runs}"),
            };
            (reason, remedy)
        } else if above(self.saw, self.most_saw) {
            let remedy = match offer {
                Some(Offer { most: Some(most), .. }) => {
                    format!("let the saw leave {most} mm or less, or {runs}")
                }
                _ => runs,
            };
            (self.crossed(), remedy)
        } else {
            return None;
        };
        Some(conflict(SAW, self.saw, offer, reason, remedy))
    }

    fn shaping_fault(&self) -> Option<Fault> {
        // Where the saw can't leave enough for the grits, nothing can be asked of what lies between.
        let offer = offer(SHAPING, [self.contour, self.saw_to_be()]);
        if above(self.contour, self.most_saw) {
            return None;
        }
        let (reason, remedy) = if above(self.shaping, self.saw_to_be()) {
            let most = told(self.saw_to_be());
            let most = offer.and_then(|offer| offer.most).unwrap_or(most);
            (
                String::from("more wood than the saw leaves outside the finished back"),
                format!("leave {most} mm or less, or let the saw leave more"),
            )
        } else if above(self.contour, self.shaping) {
            let reason = format!(
                "less than the {} mm that contouring leaves for the grits, so that nothing is left to contour",
                told(self.contour)
            );
            (reason, format!("leave more for shaping, or {}", self.finer()))
        } else {
            return None;
        };
        Some(conflict(SHAPING, self.shaping, offer, reason, remedy))
    }

    fn headstock_fault(&self) -> Option<Fault> {
        let left = self.headstock_chosen.unwrap_or_else(|| self.saw_to_be());
        if !above(self.headstock, left) {
            return None;
        }
        if above(self.grits, left) {
            // Chosen, and so thin that no allowance lies between saw and grits.
            let needed = self.headstock_finished + self.headstock.max(self.saw_to_be());
            let offer = Offer::new(SAWN, [needed, f64::INFINITY], TEN_THOUSANDTHS);
            let least = offer.map_or(needed, |offer| offer.least);
            let reason = format!(
                "leaves {} mm on the headstock's back, and the grits take off {} mm together",
                told(left),
                told(self.grits)
            );
            let remedy = format!("saw it {least} mm thick or thicker, or sand with fewer or finer grits");
            return Some(conflict(SAWN, self.headstock_finished + left, offer, reason, remedy));
        }
        let offer = offer(HEADSTOCK, [self.grits, left]);
        let most = offer.and_then(|offer| offer.most).unwrap_or_else(|| told(left));
        let reason = String::from("more wood than the saw leaves on the headstock's back");
        let remedy = format!("leave {most} mm or less, or saw the headstock thicker");
        Some(conflict(HEADSTOCK, self.headstock, offer, reason, remedy))
    }

    fn stops_fault(&self) -> Option<Fault> {
        if !above(self.stops, self.furthest_stop) {
            return None;
        }
        let runs = self.shorter_runs();
        let offer = Offer::new(STOPS, [0.0, self.furthest_stop], TENTHS);
        let remedy = match offer.and_then(|offer| offer.most) {
            Some(most) => format!("stop nearer, at {most} mm or less, or {runs}"),
            None => runs,
        };
        Some(conflict(STOPS, self.stops, offer, self.crossed(), remedy))
    }
}

//! How thick the blank may be, and how thick it is.

use alloc::format;
use alloc::string::String;
use alloc::vec::Vec;

use super::offer::{Offer, ROUNDING_MM, TENTHS};
use super::way::{Need, whole};
use crate::measure::{Fault, Kind, Length, told};
use crate::spec::{Construction, Stock};

const PATH: &str = "thickness";

/// A blank that gluing the heel's block on makes thinner by no more than this, mm, is not worth the joint.
const WORTH_MM: f64 = 3.0;

/// A block that is glued on fills in at least so much of the heel, mm: less is not told from nothing.
const SOME_BLOCK_MM: f64 = 1e-6;

/// The thicknesses of a blank that makes the neck one way.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Thicknesses {
    /// What shaft, heel and headstock need, mm.
    pub least: f64,
    /// The thickest through which a scarf still ends on the headstock, mm; infinite for a neck in one piece, below
    /// nothing for a headstock that takes no scarf.
    pub scarf: f64,
    /// The thickest that leaves something of the heel for a block that is glued on, mm; infinite for one that is not.
    pub block: f64,
}

impl Thicknesses {
    /// Both ends of what is left of the three.
    pub const fn range(&self) -> [f64; 2] {
        [self.least, if self.scarf < self.block { self.scarf } else { self.block }]
    }

    pub fn offer(&self) -> Option<Offer> {
        Offer::new(PATH, self.range(), TENTHS)
    }

    /// Whether a blank of this thickness will do.
    pub fn hold(&self, thickness: f64) -> bool {
        let [least, most] = self.range();
        thickness >= least - ROUNDING_MM && thickness <= most + ROUNDING_MM
    }

    /// The one that is taken where nobody gave one: the first whole step that will do, or else the first tenth; what is
    /// needed in whole steps, where none will do.
    pub fn usual(&self) -> f64 {
        let whole = whole(self.least);
        match self.offer() {
            Some(offer) if !self.hold(whole) || whole < offer.least => offer.least,
            _ => whole,
        }
    }
}

/// The blank's thickness: the one given, or one that will do. Where the one given will not, the nearest that would, by
/// which the rest is judged.
pub(super) fn settle(need: &Need<'_>, stock: &Stock, faults: &mut Vec<Fault>) -> f64 {
    let (construction, given) = (stock.construction, stock.thickness.map(Length::mm));
    let may = need.thicknesses(construction);
    let thickness = given.unwrap_or_else(|| may.usual());
    if may.scarf < may.least {
        // No blank will do, so a thicker or a thinner one is not what to ask for.
        faults.push(no_scarf(need, &may, thickness));
        return thickness.max(may.least);
    }
    let offer = may.offer();
    let nearest = |offer: Offer| thickness.max(offer.least).min(offer.most.unwrap_or(f64::INFINITY));
    if thickness < may.least - ROUNDING_MM {
        // Without a block there is one more chance that a piece which is thick enough will do.
        let offer = offer.or_else(|| Offer::new(PATH, [may.least, may.scarf], TENTHS));
        faults.push(too_thin(need, construction, thickness, offer));
    }
    if thickness > may.scarf + ROUNDING_MM {
        faults.push(no_scarf(need, &may, thickness));
    }
    // The least blank may hold the heel as well.
    let holds = thickness.max(may.least);
    if holds > may.block + ROUNDING_MM {
        let own = need.other_block().thicknesses(construction);
        let as_it_is = given.is_none_or(|given| own.hold(given));
        let as_one = own.offer().map(|own| as_one_with_the_shaft(stock, (!as_it_is).then_some(own)));
        faults.push(nothing_to_glue(holds, as_one, offer));
    }
    offer.map_or(thickness.max(may.least), nearest)
}

/// A piece that is too small for the neck; `or` goes on with the remedy.
pub(super) fn too_small(path: &str, what: &str, given: f64, offer: Option<Offer>, or: &str) -> Fault {
    let reason = format!("the {what} does not hold the neck with its allowances");
    let fault = Fault::new(Kind::TooSmall, path, reason).value(told(given), "mm");
    match offer {
        Some(offer) if path.starts_with("board") => {
            offer.of(fault).remedy(format!("take a piece {}", offer.words()))
        }
        Some(offer) => {
            let remedy = format!("take a piece {}, or make the allowances less{or}", offer.words());
            offer.of(fault).remedy(remedy)
        }
        None => fault.remedy(format!("no stock is that large: make the allowances or the neck less{or}")),
    }
}

fn too_thin(need: &Need<'_>, construction: Construction, given: f64, offer: Option<Offer>) -> Fault {
    let glued = glued_on(need, construction).map_or_else(String::new, |offer| {
        format!(", or glue the heel's block on (heel_block.made) and take one {}", offer.words())
    });
    too_small(PATH, "blank's thickness", given, offer, &glued)
}

/// Where the heel's block is one with the shaft: what would do if it were glued on, where that is worth the joint.
fn glued_on(need: &Need<'_>, construction: Construction) -> Option<Offer> {
    need.worth_gluing(construction)?.offer()
}

/// A scarf that can't be made of a blank of this thickness, or of any.
fn no_scarf(need: &Need<'_>, may: &Thicknesses, thickness: f64) -> Fault {
    const ONE_PIECE: &str = "make the neck in one piece";
    let why = need.scarfed(thickness).0.obstacle.unwrap_or_default();
    let needed = may.least;
    let (kind, remedy) = match (may.offer(), glued_on(need, Construction::Scarf)) {
        _ if may.scarf < 0.0 => (Kind::Conflict, format!("tilt the headstock, or {ONE_PIECE}")),
        (Some(offer), _) => (Kind::TooSmall, format!("use stock {}, or {ONE_PIECE}", offer.words())),
        (None, Some(glued)) => (
            Kind::TooSmall,
            format!(
                "shaft and heel need {needed:.1} mm as it is: glue the heel's block on (heel_block.made) and use stock {}, \
                 lengthen or tilt the headstock, make the heel's block less deep, or {ONE_PIECE}",
                glued.words()
            ),
        ),
        (None, None) => {
            let (what, less) = if need.block_glued {
                ("the shaft needs", "the shaft or the volute")
            } else {
                ("shaft and heel need", "the heel's block")
            };
            let remedy = format!(
                "{what} {needed:.1} mm as it is: lengthen or tilt the headstock, make {less} less deep, or {ONE_PIECE}"
            );
            (Kind::TooSmall, remedy)
        }
    };
    Fault::new(kind, "construction", why).value("scarf", "").remedy(remedy)
}

/// What a heel that is one with the shaft asks for besides: the block's sizes left out, and another blank where the one that
/// is there will not do, as it takes more or a scarf through it may not end on the headstock.
fn as_one_with_the_shaft(stock: &Stock, blank: Option<Offer>) -> String {
    let block = &stock.heel_block;
    let sized = block.length.or(block.width).or(block.thickness).is_some();
    let blank = blank.map(|offer| format!("take a blank {}", offer.words()));
    let also = sized.then(|| String::from("leave the block's sizes out")).into_iter().chain(blank);
    also.fold(String::from("make it one with the shaft"), |all, next| all + " and " + &next)
}

/// A blank so thick that there is nothing to glue on.
fn nothing_to_glue(thickness: f64, as_one: Option<String>, thinner: Option<Offer>) -> Fault {
    let thinner = thinner.map(|offer| format!("take a blank of a thickness {}", offer.words()));
    let mut remedies: Vec<String> = as_one.into_iter().chain(thinner).collect();
    if remedies.is_empty() {
        // No blank will do either way, because of what has to lie in it.
        remedies.push("let the cuts leave less outside, or draw the saw's lines nearer to the board".into());
    }
    let reason = format!(
        "a blank of {} mm holds the heel as it is, so that there is nothing to glue under it",
        told(thickness)
    );
    Fault::new(Kind::Conflict, "heel_block.made", reason).value("glued on", "").remedy(remedies.join(", or "))
}

impl Need<'_> {
    /// What a blank's thickness has to be, one way.
    pub fn thicknesses(&self, construction: Construction) -> Thicknesses {
        let scarf = match construction {
            Construction::OnePiece => f64::INFINITY,
            Construction::Scarf => self.thickest_scarf().unwrap_or(-1.0),
        };
        let block = if self.block_glued { self.holds_the_heel() - SOME_BLOCK_MM } else { f64::INFINITY };
        Thicknesses { least: self.least(construction), scarf, block }
    }

    /// The thickness from which on a blank holds the heel as it is.
    fn holds_the_heel(&self) -> f64 {
        let built = self.neck.built();
        let [_, end] = self.neck.wood_reach_mm();
        self.deepest(built.sweep.start.min(end), end, None) + self.saw - built.head.glue
    }

    /// The same with the heel's block made the other way.
    fn other_block(&self) -> Self {
        Self { block_glued: !self.block_glued, ..*self }
    }

    /// Where the heel's block is one with the shaft: how thick the blank may be if it were glued on, where that makes do
    /// with one that is thinner by more than the joint is worth.
    pub fn worth_gluing(&self, construction: Construction) -> Option<Thicknesses> {
        let glued = self.other_block();
        let may = Some(glued).filter(|n| n.block_glued)?.thicknesses(construction);
        let worth = may.offer().is_some() && may.least < self.least(construction) - WORTH_MM;
        worth.then_some(may)
    }
}

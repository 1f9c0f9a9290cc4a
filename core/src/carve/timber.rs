//! The piece of timber: is it big enough, where does the neck lie in it, what becomes of the rest.

use alloc::vec::Vec;

use super::blank::{Blank, BoardBlank};
use super::fence::Straight;
use super::heel_block::{self, Above, HeelBlock};
use super::offer::{Offer, ROUNDING_MM, TENTHS};
use super::thickness::{settle, too_small};
use super::way::{Need, Way, whole};
use crate::measure::{Fault, Length};
use crate::shape::Neck;
use crate::spec::{Construction, HeelMade, Stock};

/// What is left at either end of the board's blank, mm; common practice, no source.
const BOARD_END_MM: f64 = 5.0;

/// The blank, and the two ways of making a neck of one side by side.
#[derive(Clone, Debug, PartialEq, serde::Serialize)]
pub struct TimberFacts {
    /// Length, width and thickness of the blank, mm.
    pub blank_mm: [f64; 3],
    /// The heel's block, where it is glued on.
    pub heel_block: Option<HeelBlock>,
    /// Length, width and thickness of the board's blank, mm.
    pub board_blank_mm: [f64; 3],
    /// From the blank's headstock end to the nut's line, mm.
    pub nut_from_end_mm: f64,
    /// Volume of both blanks, and of the heel's block where it is glued on, mm³.
    pub stock_mm3: f64,
    /// What of it does not become neck, mm³.
    pub waste_mm3: f64,
    /// One piece, then scarfed.
    pub ways: [Way; 2],
    /// For a scarf, the joint: its length along the blank and along the cut, mm.
    pub scarf_mm: Option<[f64; 2]>,
    /// For a scarf, where its cut begins on the blank's top face and where it comes out of the underside, both from the
    /// blank's end at the heel, mm: the headstock's end is sawn off and turned over, this one stays.
    pub scarf_from_end_mm: Option<[f64; 2]>,
}

/// Everything about the timber that the plan goes on with.
pub(super) struct Timber {
    pub blank: Blank,
    pub board: BoardBlank,
    pub facts: TimberFacts,
    /// Volume of the blank before a scarf is sawn, and of the heel's block, mm³.
    pub blank_mm3: f64,
    pub board_mm3: f64,
}

/// A size that is given and large enough, or the needed one in whole steps. Where the one given is not, the least that would
/// be, by which the rest is judged.
fn size(given: Option<Length>, needed: f64, [path, what]: [&str; 2], faults: &mut Vec<Fault>) -> f64 {
    let enough = || Offer::new(path, [needed, f64::INFINITY], TENTHS);
    match given.map(Length::mm) {
        None => enough().map_or(0.0, |offer| offer.least).max(whole(needed)),
        Some(given) if given < needed - ROUNDING_MM => {
            faults.push(too_small(path, what, given, enough(), ""));
            enough().map_or(needed, |offer| offer.least)
        }
        Some(given) => given,
    }
}

/// Fits the neck into the timber and fills in the sizes that nobody gave.
/// `sawn` is how deep the saw's line along the shaft lies: to there at least the blank has to reach.
pub(super) fn fit(neck: &Neck, stock: &mut Stock, sawn: f64, faults: &mut Vec<Fault>) -> Timber {
    let (saw, kerf) = (stock.allowances.saw.mm(), stock.saw.kerf.mm());
    let block_glued = stock.heel_block.made == HeelMade::GluedOn;
    let margin = stock.allowances.taper.mm() + kerf;
    let need = Need { neck, saw, sawn, kerf, margin, block_glued };
    let given = stock.thickness.map(Length::mm);
    let is_scarf = stock.construction == Construction::Scarf;
    let thickness = settle(&need, stock, faults);
    let one = need.one_piece();
    let (scarfed, joint) = need.scarfed(match given {
        _ if is_scarf => thickness,
        Some(given) => given,
        None => need.thicknesses(Construction::Scarf).usual(),
    });
    let chosen = if is_scarf { &scarfed } else { &one };
    let length = size(stock.length, chosen.needed_mm[0], ["length", "blank's length"], faults);
    let width = size(stock.width, chosen.needed_mm[1], ["width", "blank's width"], faults);
    let board = neck.layout().board();
    let half =
        neck.built().board_half.restricted(board.start_mm().max(neck.built().head.root), board.end_mm());
    let widest = half.map_or(0.0, |l| l.greatest(1e-6).bound);
    let wide = 2.0 * (widest + need.margin);
    let wide = size(stock.board.width, wide, ["board.width", "board's blank"], faults);
    let [from, to] = [board.start_mm(), board.end_mm()];
    let long = match stock.board.length {
        None => to - from + 2.0 * BOARD_END_MM,
        given => size(given, to - from, ["board.length", "board's blank"], faults),
    };
    let thick = match stock.board.thickness {
        None => board.thickness_mm(),
        given => size(given, board.thickness_mm(), ["board.thickness", "board's blank"], faults),
    };
    let [tip, end] = neck.wood_reach_mm();
    let head = &neck.built().head;
    // What is over in length goes to the heel's end.
    let spare = (length - chosen.needed_mm[0]).max(0.0);
    let x = [tip - need.margin, end + need.margin + spare];
    let scarf = is_scarf.then(|| {
        let depth = |x: f64| head.back_depth(x, thickness);
        // The headstock's piece ends where it comes up under the shaft's.
        let to = head.root + thickness * (1.0 - head.cos) / head.sin.max(1e-9);
        Straight { x_mm: [x[0], to], value_mm: [depth(x[0]), depth(to)] }
    });
    let free_from = scarf.map_or(0.0, |s| s.x_mm[1].max(0.0));
    let above = Above { x, width, thickness, free_from };
    let block = heel_block::fit(&need, &above, &mut stock.heel_block, faults);
    let (heel_block, block) = block.unzip();
    let bottom = head.glue + thickness;
    // The blank may reach over the nut's place, but not over the headstock's face.
    let spare_board = long - (to - from);
    let over = BOARD_END_MM.min(from - neck.built().head.root).min(0.5 * spare_board).max(0.0);
    let block_mm3 = heel_block.map_or(0.0, |b: HeelBlock| b.size_mm.iter().product());
    let (blank_mm3, board_mm3) = (length * width * thickness + block_mm3, long * wide * thick);
    for (slot, mm) in
        [(&mut stock.length, length), (&mut stock.width, width), (&mut stock.thickness, thickness)]
    {
        slot.get_or_insert(Length::from_mm(mm));
    }
    let own = &mut stock.board;
    for (slot, mm) in [(&mut own.length, long), (&mut own.width, wide), (&mut own.thickness, thick)] {
        slot.get_or_insert(Length::from_mm(mm));
    }
    let scarf_mm = joint.filter(|_| is_scarf);
    let facts = TimberFacts {
        blank_mm: [length, width, thickness],
        heel_block,
        board_blank_mm: [long, wide, thick],
        nut_from_end_mm: -x[0],
        stock_mm3: blank_mm3 + board_mm3,
        waste_mm3: 0.0,
        ways: [one, scarfed],
        scarf_mm,
        scarf_from_end_mm: scarf_mm.map(|[run, _]| [x[1] - head.root, x[1] - head.root + run]),
    };
    Timber {
        blank: Blank { x, half: 0.5 * width, bottom, scarf, block },
        board: BoardBlank {
            x: [from - over, to + spare_board - over],
            half: 0.5 * wide,
            top: head.glue - thick,
        },
        facts,
        blank_mm3,
        board_mm3,
    }
}

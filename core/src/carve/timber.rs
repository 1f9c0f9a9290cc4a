//! The piece of timber: is it big enough, where does the neck lie in it, what becomes of the rest.

use alloc::format;
use alloc::string::String;
use alloc::vec::Vec;

use super::fence::Straight;
use super::wood::{Blank, BoardBlank};
use crate::law::Law;
use crate::measure::{Fault, Kind, Length, told};
use crate::shape::{Neck, scarf};
use crate::spec::{Construction, HeadstockKind, Stock};

/// What is left at either end of the board's blank, mm; common practice, no source.
const BOARD_END_MM: f64 = 5.0;
/// Sizes that nobody gave go up to whole steps of this, mm.
const STEP_MM: f64 = 5.0;

/// Share of the bending strength of straight-grained wood that is left at a slope of grain: Wood Handbook,
/// FPL-GTR-282 (2021), table 5-12, modulus of rupture; `(slope, share)`.
const SLOPE_OF_GRAIN: [(f64, f64); 6] = [
    (0.0, 1.0),
    (1.0 / 25.0, 0.96),
    (1.0 / 20.0, 0.93),
    (1.0 / 15.0, 0.89),
    (1.0 / 10.0, 0.81),
    (1.0 / 5.0, 0.55),
];

/// One way of making the neck, and the blank that it takes.
#[derive(Clone, Debug, PartialEq)]
pub struct Way {
    /// One piece or scarfed.
    pub construction: Construction,
    /// Length, width and thickness of the least blank, mm, allowances and saw cuts counted.
    pub needed_mm: [f64; 3],
    /// Volume of that blank, mm³.
    pub volume_mm3: f64,
    /// Slope of the grain in the headstock against its face, assuming that the grain runs along the blank: 0 runs along
    /// it, 0.2 runs out 1 in 5. Of a scarf it is that of the piece that was turned over; the shaft's own wood reaches on
    /// into the headstock, see [`turned_from_mm`](Self::turned_from_mm), and runs out there as that of one piece does.
    pub grain_slope: f64,
    /// Share of the bending strength of straight grain that is left at that slope, an estimate for clear wood by
    /// interpolation in the Wood Handbook's table 5-12; beyond 1 in 5 the table ends and it is "less than" the last.
    pub grain_strength: f64,
    /// For a scarf, how far along the face from the nut's headstock side the joint comes out of the headstock's back, and
    /// of its face, mm: before that the wood is the shaft's.
    pub turned_from_mm: Option<[f64; 2]>,
    /// For a scarf, the thickest stock whose joint still ends on the headstock, mm.
    pub thickest_mm: Option<f64>,
    /// Why it can't be done, where it can't.
    pub obstacle: Option<String>,
}

/// The blank, and the two ways of making a neck of one side by side.
#[derive(Clone, Debug, PartialEq)]
pub struct TimberFacts {
    /// Length, width and thickness of the blank, mm.
    pub blank_mm: [f64; 3],
    /// Length, width and thickness of the board's blank, mm.
    pub board_blank_mm: [f64; 3],
    /// From the blank's headstock end to the nut's line, mm.
    pub nut_from_end_mm: f64,
    /// Volume of both blanks, mm³.
    pub stock_mm3: f64,
    /// What of it does not become neck, mm³.
    pub waste_mm3: f64,
    /// One piece, then scarfed.
    pub ways: [Way; 2],
    /// For a scarf, the joint: its length along the blank and along the cut, mm.
    pub scarf_mm: Option<[f64; 2]>,
}

/// Everything about the timber that the plan goes on with.
pub(super) struct Timber {
    pub blank: Blank,
    pub board: BoardBlank,
    pub facts: TimberFacts,
    /// Volume of the blank before a scarf is sawn, mm³.
    pub blank_mm3: f64,
    pub board_mm3: f64,
}

fn grain_strength(slope: f64) -> f64 {
    let last = SLOPE_OF_GRAIN[SLOPE_OF_GRAIN.len() - 1];
    SLOPE_OF_GRAIN
        .windows(2)
        .find(|w| slope <= w[1].0)
        .map_or(last.1, |w| w[0].1 + (w[1].1 - w[0].1) * (slope - w[0].0) / (w[1].0 - w[0].0))
}

/// What the neck asks of any blank.
struct Need<'a> {
    neck: &'a Neck,
    saw: f64,
    sawn: f64,
    kerf: f64,
    /// Beyond the finished outline in plan and at the ends: the allowance and the saw's cut.
    margin: f64,
}

impl Need<'_> {
    fn width(&self) -> f64 {
        let back = &self.neck.built().back;
        let half = |f: &Law| f.greatest(1e-6).bound;
        let out = [&back.flanks.bass, &back.flanks.treble].map(|f| half(&f.out[0]).max(half(&f.out[1])));
        // The centreline lies in the blank's middle.
        2.0 * (out[0].max(out[1]) + self.margin)
    }

    fn deepest(&self, from: f64, to: f64, less: Option<&Law>) -> f64 {
        let spine = self.neck.built().back.spine.restricted(from, to);
        let law = match (spine, less) {
            (Some(spine), Some(less)) => spine.minus(less),
            (spine, None) => spine,
            (None, _) => None,
        };
        law.map_or(0.0, |l| l.greatest(1e-6).bound)
    }

    fn one_piece(&self) -> Way {
        let [tip, end] = self.neck.wood_reach_mm();
        let head = &self.neck.built().head;
        let slope = if head.kind == HeadstockKind::Angled { head.sin / head.cos } else { 0.0 };
        // The line lies the allowance outside, square to itself: on the headstock's slope that is more straight down.
        let deepest = (self.deepest(tip, end, None) + self.saw / head.cos).max(self.sawn);
        let thickness = deepest - head.glue;
        way(Construction::OnePiece, [end - tip + 2.0 * self.margin, self.width(), thickness], slope, None)
    }

    fn scarfed(&self, given: Option<f64>) -> (Way, Option<[f64; 2]>) {
        let [tip, end] = self.neck.wood_reach_mm();
        let head = &self.neck.built().head;
        let angle = self.neck.headstock().angle_deg;
        let shaft = (self.deepest(head.root, end, None) + self.saw).max(self.sawn) - head.glue;
        let slab = self.deepest(tip, head.root, Some(&self.neck.built().face)) * head.cos;
        let least = shaft.max(slab + self.saw);
        let thickness = given.unwrap_or_else(|| whole(least)).max(least);
        let none = |why: String| {
            let needed = [end - tip + 2.0 * self.margin, self.width(), least];
            way(Construction::Scarf, needed, 0.0, Some(why))
        };
        let Some(joint) = scarf(angle, thickness).ok().filter(|_| head.kind == HeadstockKind::Angled) else {
            let why = String::from("a scarf needs a headstock that is tilted by 1 degree or more");
            return (none(why), None);
        };
        // Along the face, to where the piece's square end has passed the tip on its back.
        let face = (head.root - tip + self.margin) / head.cos;
        let piece = face + thickness * head.sin / head.cos - joint.face_mm;
        // The piece shrinks by `1/sin − tan` with each mm of thickness.
        let shrinks = 1.0 / head.sin - head.sin / head.cos;
        let thickest_mm = Some((face - self.margin) / shrinks);
        if piece < self.margin {
            let why = format!(
                "the scarf through {} mm is {} mm long on the face, and the headstock only {} mm",
                told(thickness),
                told(joint.face_mm),
                told(head.length)
            );
            return (Way { thickest_mm, ..none(why) }, None);
        }
        let length = end + self.margin - head.root + joint.run_mm + piece + self.kerf / head.sin;
        let made = way(Construction::Scarf, [length, self.width(), least], 0.0, None);
        // The joint lies in the plane of the shaft's underside, which the back meets first.
        let back = (thickness - head.thickness * head.cos).max(0.0) / head.sin;
        let turned_from_mm = Some([back, joint.face_mm]);
        (Way { turned_from_mm, thickest_mm, ..made }, Some([joint.run_mm, joint.face_mm]))
    }
}

fn way(construction: Construction, needed_mm: [f64; 3], grain_slope: f64, obstacle: Option<String>) -> Way {
    Way {
        construction,
        needed_mm,
        volume_mm3: needed_mm.iter().product(),
        grain_slope,
        grain_strength: grain_strength(grain_slope),
        turned_from_mm: None,
        thickest_mm: None,
        obstacle,
    }
}

fn whole(mm: f64) -> f64 {
    STEP_MM * libm::ceil(mm / STEP_MM - 1e-9)
}

/// A size that is given and large enough, or the needed one in whole steps.
fn size(given: Option<Length>, needed: f64, path: &str, what: &str, faults: &mut Vec<Fault>) -> f64 {
    match given {
        None => whole(needed),
        Some(given) => {
            if given.mm() < needed - 1e-9 {
                let up = libm::ceil(needed * 10.0) / 10.0;
                faults.push(
                    Fault::new(
                        Kind::TooSmall,
                        path,
                        format!("the {what} does not hold the neck with its allowances"),
                    )
                    .value(told(given.mm()), "mm")
                    .range(up, None)
                    .remedy(if path.starts_with("board") {
                        format!("take a piece of {up} mm or more")
                    } else {
                        format!("take a piece of {up} mm or more, or make the allowances less")
                    }),
                );
            }
            given.mm()
        }
    }
}

/// Fits the neck into the timber and fills in the sizes that nobody gave.
/// `sawn` is how deep the saw's line along the shaft lies: to there at least the blank has to reach.
pub(super) fn fit(neck: &Neck, stock: &mut Stock, sawn: f64, faults: &mut Vec<Fault>) -> Timber {
    let (saw, kerf) = (stock.allowances.saw.mm(), stock.saw.kerf.mm());
    let need = Need { neck, saw, sawn, kerf, margin: stock.allowances.taper.mm() + kerf };
    let one = need.one_piece();
    let (scarfed, joint) = need.scarfed(stock.thickness.map(Length::mm));
    let is_scarf = stock.construction == Construction::Scarf;
    let chosen = if is_scarf { &scarfed } else { &one };
    let before = faults.len();
    let thickness = size(stock.thickness, chosen.needed_mm[2], "thickness", "blank's thickness", faults);
    if let (true, Some(why), true) = (is_scarf, &scarfed.obstacle, faults.len() == before) {
        let (kind, remedy) = match scarfed.thickest_mm {
            None => (Kind::Conflict, String::from("tilt the headstock, or make the neck in one piece")),
            Some(most) if most >= scarfed.needed_mm[2] => {
                let most = libm::floor(10.0 * most) / 10.0;
                (Kind::TooSmall, format!("use stock of {most} mm or less, or make the neck in one piece"))
            }
            Some(_) => (
                Kind::TooSmall,
                format!(
                    "shaft and heel need {:.1} mm as it is: lengthen or tilt the headstock, make the heel's block less \
                     deep, or make the neck in one piece",
                    scarfed.needed_mm[2]
                ),
            ),
        };
        faults.push(Fault::new(kind, "construction", why.clone()).value("scarf", "").remedy(remedy));
    }
    let length = size(stock.length, chosen.needed_mm[0], "length", "blank's length", faults);
    let width = size(stock.width, chosen.needed_mm[1], "width", "blank's width", faults);
    let board = neck.layout().board();
    let half =
        neck.built().board_half.restricted(board.start_mm().max(neck.built().head.root), board.end_mm());
    let widest = half.map_or(0.0, |l| l.greatest(1e-6).bound);
    let wide = size(stock.board.width, 2.0 * (widest + need.margin), "board.width", "board's blank", faults);
    let [from, to] = [board.start_mm(), board.end_mm()];
    let long = match stock.board.length {
        None => to - from + 2.0 * BOARD_END_MM,
        given => size(given, to - from, "board.length", "board's blank", faults),
    };
    let thick = match stock.board.thickness {
        None => board.thickness_mm(),
        given => size(given, board.thickness_mm(), "board.thickness", "board's blank", faults),
    };
    let [tip, end] = neck.wood_reach_mm();
    let head = &neck.built().head;
    // What is over in length goes to the heel's end.
    let spare = (length - chosen.needed_mm[0]).max(0.0);
    let x = [tip - need.margin, end + need.margin + spare];
    let bottom = head.glue + thickness;
    let scarf = is_scarf.then(|| {
        let depth = |x: f64| head.back_depth(x, thickness);
        // The headstock's piece ends where it comes up under the shaft's.
        let to = head.root + thickness * (1.0 - head.cos) / head.sin.max(1e-9);
        Straight { x_mm: [x[0], to], value_mm: [depth(x[0]), depth(to)] }
    });
    // The blank may reach over the nut's place, but not over the headstock's face.
    let spare_board = long - (to - from);
    let before = BOARD_END_MM.min(from - neck.built().head.root).min(0.5 * spare_board).max(0.0);
    let (blank_mm3, board_mm3) = (length * width * thickness, long * wide * thick);
    for (slot, mm) in
        [(&mut stock.length, length), (&mut stock.width, width), (&mut stock.thickness, thickness)]
    {
        *slot = Some(Length::from_mm(mm));
    }
    let own = &mut stock.board;
    for (slot, mm) in [(&mut own.length, long), (&mut own.width, wide), (&mut own.thickness, thick)] {
        *slot = Some(Length::from_mm(mm));
    }
    let facts = TimberFacts {
        blank_mm: [length, width, thickness],
        board_blank_mm: [long, wide, thick],
        nut_from_end_mm: -x[0],
        stock_mm3: blank_mm3 + board_mm3,
        waste_mm3: 0.0,
        ways: [one, scarfed],
        scarf_mm: joint.filter(|_| is_scarf),
    };
    Timber {
        blank: Blank { x, half: 0.5 * width, bottom, scarf },
        board: BoardBlank {
            x: [from - before, to + spare_board - before],
            half: 0.5 * wide,
            top: head.glue - thick,
        },
        facts,
        blank_mm3,
        board_mm3,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_handbook_s_slopes() {
        // Wood Handbook, FPL-GTR-282 (2021), table 5-12: 1:25 96 %, 1:10 81 %, 1:5 55 %.
        for (slope, share) in [(25.0, 0.96), (20.0, 0.93), (15.0, 0.89), (10.0, 0.81), (5.0, 0.55)] {
            approx::assert_relative_eq!(grain_strength(1.0 / slope), share, epsilon = 1e-12);
        }
        assert_eq!(grain_strength(0.0), 1.0);
        assert_eq!(grain_strength(0.5), 0.55);
    }
}

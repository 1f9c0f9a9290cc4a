//! The block that is glued under the blank for the heel: how large it has to be, and where it begins.

use alloc::format;
use alloc::vec::Vec;

use super::blank::BlockBlank;
use super::offer::{Offer, ROUNDING_MM, TENTHS};
use super::way::{Need, whole};
use crate::measure::{Fault, Kind, Length, told};
use crate::spec::{HeelBlockStock, HeelMade};

/// The block that is glued under the blank for the heel, its grain along the neck and the blank's centreline over its
/// middle.
#[derive(Clone, Copy, Debug, PartialEq, serde::Serialize)]
pub struct HeelBlock {
    /// Length, width and thickness, mm.
    pub size_mm: [f64; 3],
    /// Station of its front end, mm from the nut: where the sweep comes to within the saw's allowance of the blank's
    /// underside and once more the allowance before it, so that its front end leaves the allowance too.
    pub from_x_mm: f64,
    /// From the blank's end at the heel to its front end, mm.
    pub from_end_mm: f64,
    /// From the blank's end at the heel to its own, mm.
    pub short_of_end_mm: f64,
}

/// The least block, and the station where it begins.
pub(super) struct Needed {
    pub front: f64,
    pub size_mm: [f64; 3],
}

/// The least block under a blank of a thickness; `None` where the blank holds the heel with its allowance as it is.
pub(super) fn needed(need: &Need<'_>, thickness: f64) -> Option<Needed> {
    let built = need.neck.built();
    let [_, end] = need.neck.wood_reach_mm();
    let bottom = built.head.glue + thickness;
    let level = bottom - need.saw;
    let spine = built.back.spine.restricted(built.sweep.start.min(end), end)?;
    let deepest = spine.greatest(1e-6);
    if deepest.bound <= level + 1e-9 {
        return None;
    }
    let leaves = if spine.value(spine.start()) >= level {
        spine.start()
    } else {
        spine.stations_of(level).first().copied().unwrap_or(deepest.x_mm)
    };
    let front = leaves - need.saw;
    let size_mm = [end + need.margin - front, need.width([front, end]), deepest.bound + need.saw - bottom];
    Some(Needed { front, size_mm })
}

/// The blank that a block is glued under: length along the neck from station to station, width, thickness.
pub(super) struct Above {
    pub x: [f64; 2],
    pub width: f64,
    pub thickness: f64,
    /// Where the neck is free for a block: behind it are the nut and a scarf's piece.
    pub free_from: f64,
}

fn too_small(path: &str, given: f64, offer: Option<Offer>, what: &str) -> Fault {
    let reason = format!("the heel's block does not hold the heel with its allowances in its {what}");
    let fault = Fault::new(Kind::TooSmall, path, reason).value(told(given), "mm");
    match offer {
        Some(offer) => {
            offer.of(fault).remedy(format!("take a block {}, or make the allowances less", offer.words()))
        }
        None => fault.remedy("no block is that large: make the allowances or the heel less"),
    }
}

fn too_large_for_the_blank(
    path: &str,
    given: f64,
    offer: Option<Offer>,
    [reason, blank]: [&str; 2],
) -> Fault {
    let fault = Fault::new(Kind::Conflict, path, reason).value(told(given), "mm");
    match offer.and_then(|offer| Some((offer, offer.most?))) {
        Some((offer, most)) => {
            offer.of(fault).remedy(format!("saw it to {most} mm or less first, or take a {blank} blank"))
        }
        None => fault.remedy(format!("take a {blank} blank")),
    }
}

/// Fits the block under the blank and fills in the sizes that nobody gave; `None` where the heel is one with the shaft.
pub(super) fn fit(
    need: &Need<'_>,
    above: &Above,
    stock: &mut HeelBlockStock,
    faults: &mut Vec<Fault>,
) -> Option<(HeelBlock, BlockBlank)> {
    if stock.made != HeelMade::GluedOn {
        sizes_of_none(stock, faults);
        return None;
    }
    // Where the blank holds the heel as it is, that is told of its thickness.
    let Needed { front, size_mm: [long, wide, thick] } = needed(need, above.thickness)?;
    // What is over in length goes to the end, as far as the blank goes.
    let room = above.x[1] - front;
    let longest = above.x[1] - above.free_from.min(front);
    let mut given = |size: Option<Length>, range: [f64; 2], name: &str, too_large: [&str; 2]| {
        let (mm, path) = (size?.mm(), format!("heel_block.{name}"));
        let offer = || Offer::new(&path, range, TENTHS);
        if mm < range[0] - ROUNDING_MM {
            faults.push(too_small(&path, mm, offer(), name));
        }
        if mm > range[1] + ROUNDING_MM {
            faults.push(too_large_for_the_blank(&path, mm, offer(), too_large));
        }
        Some(mm)
    };
    let past = ["from the blank's end at the heel it reaches past the nut", "longer"];
    let length = given(stock.length, [long, longest], "length", past);
    let length = length.unwrap_or_else(|| whole(long).min(room));
    let wider = ["wider than the blank that it is glued under", "wider"];
    let width = given(stock.width, [wide, above.width], "width", wider).unwrap_or(above.width);
    let thickness = given(stock.thickness, [thick, f64::INFINITY], "thickness", [""; 2]);
    let thickness = thickness.unwrap_or_else(|| whole(thick));
    let to = above.x[1].min(front + length);
    let from = to - length;
    for (slot, mm) in
        [(&mut stock.length, length), (&mut stock.width, width), (&mut stock.thickness, thickness)]
    {
        *slot = Some(Length::from_mm(mm));
    }
    let facts = HeelBlock {
        size_mm: [length, width, thickness],
        from_x_mm: from,
        from_end_mm: above.x[1] - from,
        short_of_end_mm: above.x[1] - to,
    };
    let bottom = need.neck.built().head.glue + above.thickness + thickness;
    Some((facts, BlockBlank { x: [from, to], half: 0.5 * width, bottom }))
}

/// A block that is one with the shaft has no sizes of its own.
fn sizes_of_none(stock: &HeelBlockStock, faults: &mut Vec<Fault>) {
    for (name, size) in [("length", stock.length), ("width", stock.width), ("thickness", stock.thickness)] {
        let reason = "the heel's block is one with the shaft and has no size of its own";
        faults.extend(size.map(|size| {
            Fault::new(Kind::Conflict, format!("heel_block.{name}"), reason)
                .value(told(size.mm()), "mm")
                .remedy("leave it out, or give \"glued on\" as heel_block.made")
        }));
    }
}

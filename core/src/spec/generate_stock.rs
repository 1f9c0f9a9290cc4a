//! Stocks drawn at random, for property tests and fuzzing.

use alloc::vec::Vec;

use super::draw::Draw;
use super::visit::Group;
use super::*;
use crate::measure::{Length, Station};

impl Stock {
    /// A stock with every field drawn from within its bounds, fields that may be absent sometimes so.
    /// It passes [`Stock::check`], but seldom makes a plan.
    #[must_use]
    pub fn random(next: &mut dyn FnMut() -> u64) -> Self {
        let mut stock = Self::default();
        let mut draw = Draw { next };
        stock.visit(&mut draw);
        agree(&mut stock, &mut draw);
        stock
    }

    /// A stock as a builder could have written it, for a neck such as [`Specification::plausible`] gives.
    ///
    /// Sizes mostly absent; one in five scarfed, and of these three in four with the heel's block glued on, of the
    /// rest one in six, now and then with sizes of its own; board glued on in one of four; allowances of 1 to 4 mm for
    /// the saw, 0.5 to 3 mm for the taper, 0.6 to 1 mm for the headstock, 0.7 to 1.5 mm for shaping and no more than the
    /// saw's, that for contouring absent or 0.6 to 0.8 mm; stops 2 to 15 mm; kerf 0.5 to 3 mm; every cutter, its radius
    /// mostly absent; 0 to 4 rounds of facets; now and then an order of its own.
    #[must_use]
    pub fn plausible(next: &mut dyn FnMut() -> u64) -> Self {
        let mut draw = Draw { next };
        let mut stock = Self::default();
        if draw.chance(0.2) {
            stock.construction = Construction::Scarf;
        }
        plausible_timber(&mut stock, &mut draw);
        plausible_allowances(&mut stock.allowances, &mut draw);
        plausible_tools(&mut stock, &mut draw);
        stock.order = match draw.below(10) {
            0..6 => None,
            6 => Some(stock.usual_order()),
            7 => {
                let by_hand = |step: &StageName| *step != StageName::Rounding;
                Some(stock.usual_order().into_iter().filter(by_hand).collect())
            }
            _ => Some(any_order(stock.board.glued, &mut draw)),
        };
        stock
    }
}

fn plausible_timber(stock: &mut Stock, draw: &mut Draw<'_>) {
    let size = |lowest: f64, highest: f64, step: f64, draw: &mut Draw<'_>| {
        draw.chance(0.05).then(|| Length::from_mm(draw.round(lowest, highest, step)))
    };
    stock.length = size(700.0, 1400.0, 5.0, draw);
    stock.width = size(80.0, 160.0, 5.0, draw);
    stock.thickness = size(25.0, 120.0, 5.0, draw);
    let scarfed = stock.construction == Construction::Scarf;
    if draw.chance(if scarfed { 0.75 } else { 1.0 / 6.0 }) {
        stock.heel_block = HeelBlockStock {
            made: HeelMade::GluedOn,
            length: size(80.0, 200.0, 5.0, draw),
            width: draw.chance(0.3).then(|| Length::from_mm(draw.round(65.0, 90.0, 1.0))),
            thickness: size(10.0, 40.0, 1.0, draw),
        };
    }
    stock.board.glued = draw.chance(0.25);
    stock.board.length = size(400.0, 700.0, 5.0, draw);
    stock.board.width = size(60.0, 120.0, 5.0, draw);
    stock.board.thickness = size(6.0, 10.0, 0.5, draw);
}

fn plausible_allowances(allowances: &mut Allowances, draw: &mut Draw<'_>) {
    let length = |lowest: f64, highest: f64, step: f64, draw: &mut Draw<'_>| {
        Length::from_mm(draw.round(lowest, highest, step))
    };
    allowances.saw = length(1.0, 4.0, 0.25, draw);
    allowances.taper = length(0.5, 3.0, 0.25, draw);
    // No more than the saw leaves, and enough for most grits.
    allowances.headstock = length(0.6, 1.0, 0.1, draw);
    allowances.shaping = length(0.7, allowances.saw.mm().min(1.5), 0.1, draw);
    let most = allowances.shaping.mm().min(0.8);
    allowances.contour = draw.chance(0.2).then(|| length(0.6, most, 0.05, draw));
    allowances.stops = length(2.0, 15.0, 0.5, draw);
}

fn plausible_tools(stock: &mut Stock, draw: &mut Draw<'_>) {
    stock.saw.kerf = Length::from_mm(draw.round(0.5, 3.0, 0.1));
    if draw.chance(0.1) {
        let depth = draw.round(26.0, 34.0, 0.1);
        let mut line = alloc::vec![LineAt { at: Station::NUT, depth: Length::from_mm(depth) }];
        if draw.chance(0.5) {
            let far = Length::from_mm(depth + draw.round(0.0, 4.0, 0.1));
            line.push(LineAt { at: Station::Fret(f64::from(7 + draw.below(6))), depth: far });
        }
        stock.saw.shaft_line = Some(line);
    }
    if draw.chance(0.1) {
        stock.saw.headstock_thickness = Some(Length::from_mm(draw.round(16.0, 22.0, 0.5)));
    }
    let shape = draw.below(CutterShape::ALL.len() as u32) as usize;
    stock.cutter.shape = CutterShape::ALL.get(shape).copied().unwrap_or_default();
    if draw.chance(0.15) {
        stock.cutter.radius = Some(Length::from_mm(draw.round(3.0, 22.0, 0.5)));
    }
    stock.cutter.paths = 4 + draw.below(13);
    stock.facets.rounds = draw.below(5);
    stock.facets.straight_within = Length::from_mm(draw.round(0.0, 0.5, 0.05));
    if draw.chance(0.3) {
        stock.sanding.scale = GritScale::Cami;
    }
    if draw.chance(0.3) {
        let count = 2 + draw.below(5);
        stock.sanding.grits = any_grits(stock.sanding.scale, count, draw);
    }
    stock.sanding.tool_marks = Length::from_mm(draw.round(0.05, 0.25, 0.01));
}

/// Some of the grits of a scale, as many as `count` and no more than there are.
fn any_grits(scale: GritScale, count: u32, draw: &mut Draw<'_>) -> Vec<u32> {
    let mut wanted = count;
    let mut grits = Vec::new();
    let there = scale.grits();
    for (index, grit) in there.iter().enumerate() {
        // Each of those that are left is taken with the chance that fills the rest.
        if draw.below((there.len() - index) as u32) < wanted {
            grits.push(*grit);
            wanted -= 1;
        }
    }
    grits
}

/// Any order that is allowed, some of the steps that may be left out left out.
fn any_order(glued: bool, draw: &mut Draw<'_>) -> Vec<StageName> {
    let mut stock = Stock::default();
    stock.board.glued = glued;
    let mut left = stock.usual_order();
    left.retain(|step| !step.is_optional() || draw.chance(0.6));
    let mut order = Vec::with_capacity(left.len());
    while !left.is_empty() {
        let ready = |step: &StageName| match step {
            StageName::Sanding => left.len() == 1,
            _ if order.is_empty() => *step == StageName::Blank,
            _ => !step.after().iter().any(|other| left.contains(other)),
        };
        let places: Vec<usize> = (0..left.len()).filter(|place| ready(&left[*place])).collect();
        // The blank first, and then the first of what is left is always ready: the usual order is allowed.
        let place = places.get(draw.below(places.len() as u32) as usize).copied().unwrap_or(0);
        order.push(left.remove(place));
    }
    order
}

/// Makes fields that were drawn one by one agree with each other.
fn agree(stock: &mut Stock, draw: &mut Draw<'_>) {
    let count = stock.sanding.grits.len() as u32;
    stock.sanding.grits = any_grits(stock.sanding.scale, count, draw);
    if let Some([first, second]) = stock.saw.shaft_line.as_deref_mut()
        && first.is_beside(second)
    {
        // A fret and a length are never taken for one place.
        second.at = match first.at {
            Station::Mm(_) => Station::Fret(f64::from(draw.below(25))),
            Station::Fret(_) => Station::NUT,
        };
    }
    if stock.order.is_some() {
        stock.order = Some(any_order(stock.board.glued, draw));
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn orders_of_every_sort_are_drawn() {
        let mut next = numbers(3);
        let mut draw = Draw { next: &mut next };
        let (mut without, mut unusual) = (0, 0);
        for glued in [false, true] {
            let mut stock = Stock::default();
            stock.board.glued = glued;
            for _ in 0..200 {
                let order = any_order(glued, &mut draw);
                without += u32::from(!order.contains(&StageName::Rounding));
                let usual: Vec<StageName> =
                    stock.usual_order().into_iter().filter(|step| order.contains(step)).collect();
                unusual += u32::from(usual != order);
                stock.order = Some(order);
                assert_eq!(stock.check(), Ok(()));
            }
        }
        assert!((100..300).contains(&without) && unusual > 100, "{without} {unusual}");
    }

    #[test]
    fn as_many_grits_are_drawn_as_are_wanted() {
        let mut next = numbers(4);
        let mut draw = Draw { next: &mut next };
        for count in 1..=12 {
            let grits = any_grits(GritScale::Fepa, count, &mut draw);
            assert_eq!(grits.len() as u32, count);
            assert!(grits.is_sorted_by(|a, b| a < b));
        }
    }
}

//! The order of the steps, and what each of them needs to be done before it.

use alloc::format;
use alloc::string::String;
use alloc::vec::Vec;

use super::{StageName, Stock};
use crate::measure::{Fault, Faults, Kind, quoted};

/// A step, those that have to be done before it, and why.
struct After {
    step: StageName,
    before: &'static [StageName],
    why: &'static str,
}

/// What has to be done before what, beside the blank before everything and sanding after everything. A step that is
/// left out holds up no other.
const PREREQUISITES: [After; 11] = {
    use StageName::*;
    [
        After { step: Board, before: &[RodChannel], why: "the board covers the channel" },
        After {
            step: Taper,
            before: &[Board, HeadstockFace],
            why: "the outline is sawn through neck, board and headstock at once",
        },
        After {
            step: Sides,
            before: &[Board, HeadstockFace, Taper],
            why: "the sides are trued where the taper was sawn",
        },
        After {
            step: Back,
            before: &[HeadstockFace],
            why: "the back of the headstock is marked from its face",
        },
        After {
            step: HeadstockThickness,
            before: &[Back],
            why: "the headstock comes to its thickness on the side that was sawn",
        },
        After {
            step: Stops,
            before: &[Sides, Back],
            why: "the stops are marked on the sides and on the back",
        },
        After {
            step: Rounding,
            before: &[Sides, Back, Stops],
            why: "the cutter runs along sides and back, from stop to stop",
        },
        After {
            step: Facets,
            before: &[Sides, Back, Stops, Rounding],
            why: "facets are marked on sides and back, from stop to stop, and a cutter rides on the sawn back that they \
                  plane away",
        },
        After {
            step: Contour,
            before: &[Sides, Back, Rounding, Facets],
            why: "contouring takes off what the cuts along the shaft have left",
        },
        After {
            step: Transitions,
            before: &[Contour, HeadstockThickness],
            why: "the transitions lead from the contoured shaft into the finished headstock",
        },
        After { step: Sanding, before: &[Transitions], why: "sanding goes over the whole neck" },
    ]
};

/// The usual order.
const USUAL: [StageName; 14] = {
    use StageName::*;
    [
        Blank,
        RodChannel,
        HeadstockFace,
        Board,
        Taper,
        Sides,
        Back,
        HeadstockThickness,
        Stops,
        Rounding,
        Facets,
        Contour,
        Transitions,
        Sanding,
    ]
};

impl StageName {
    /// Whether a plan may do without it.
    #[must_use]
    pub const fn is_optional(self) -> bool {
        matches!(self, Self::Stops | Self::Rounding | Self::Facets)
    }

    /// The steps that have to be done before it, where they are done at all.
    pub(super) fn after(self) -> &'static [Self] {
        self.prerequisites().map_or(&[], |after| after.before)
    }

    fn prerequisites(self) -> Option<&'static After> {
        PREREQUISITES.iter().find(|after| after.step == self)
    }
}

impl Stock {
    /// The order in which the steps are done where the stock gives none.
    ///
    /// The flat, square faces are kept as long as they are of use: the board is glued on, slotted, fretted and
    /// inlaid before anything is tapered, and everything is sawn before anything is rounded. The channel of the rod
    /// is left out where the board is glued on already.
    #[must_use]
    pub fn usual_order(&self) -> Vec<StageName> {
        USUAL.into_iter().filter(|step| !(self.board.glued && *step == StageName::RodChannel)).collect()
    }
}

/// The names of some steps, in quotation marks and with words between them.
fn listed(steps: &[StageName]) -> String {
    let mut list = String::new();
    for (index, step) in steps.iter().enumerate() {
        list += match index {
            0 => "",
            _ if index + 1 == steps.len() => " and ",
            _ => ", ",
        };
        list += &quoted(step.name());
    }
    list
}

/// Holds the order of a stock against the table.
pub(super) fn check(stock: &Stock, faults: &mut Faults) {
    let Some(order) = &stock.order else { return };
    for (index, step) in order.iter().enumerate() {
        if let Some((reason, remedy)) = misplaced(stock, order, index, *step) {
            faults.add(|| {
                Fault::new(Kind::Conflict, format!("order[{index}]"), reason)
                    .value(quoted(step.name()), "")
                    .remedy(remedy)
            });
        }
    }
    let usual = stock.usual_order();
    for step in &usual {
        if !step.is_optional() && !order.contains(step) {
            faults.add(|| missing(*step, order, &usual));
        }
    }
}

/// What is wrong with a step at its place, and what would mend it.
fn misplaced(stock: &Stock, order: &[StageName], index: usize, step: StageName) -> Option<(String, String)> {
    let (done, to_come) = order.split_at(index);
    if let Some(first) = done.iter().position(|other| *other == step) {
        let reason = format!("each step is done once, and this one is order[{first}] already");
        return Some((reason, "leave one of them out".into()));
    }
    if step == StageName::RodChannel && stock.board.glued {
        return Some((
            "the board is glued on already and covers the channel".into(),
            "leave it out, or set board.glued to false".into(),
        ));
    }
    if step == StageName::Blank && index > 0 {
        return Some(("every line is marked on the squared blank".into(), "put it first".into()));
    }
    if step == StageName::Sanding && to_come.len() > 1 {
        return Some(("what is cut after it would have to be sanded again".into(), "put it last".into()));
    }
    let after = step.prerequisites()?;
    let late: Vec<StageName> = after
        .before
        .iter()
        .copied()
        .filter(|other| to_come.contains(other) && !done.contains(other))
        .collect();
    if late.is_empty() {
        return None;
    }
    Some((after.why.into(), format!("put {} before it", listed(&late))))
}

/// A step that is called for, and the place to put it: after those it needs that are there or called for too.
fn missing(step: StageName, order: &[StageName], usual: &[StageName]) -> Fault {
    let name = quoted(step.name());
    let is_done =
        |other: &StageName| order.contains(other) || (usual.contains(other) && !other.is_optional());
    let needed: Vec<StageName> = step.after().iter().copied().filter(is_done).collect();
    let place = match step {
        StageName::Blank => "as the first step".into(),
        StageName::Sanding => "as the last step".into(),
        _ if needed.is_empty() => format!("after {}", quoted(StageName::Blank.name())),
        _ => format!("after {}", listed(&needed)),
    };
    Fault::new(Kind::Missing, "order", format!("a plan calls for the step {name}"))
        .remedy(format!("add {name} {place}"))
}

#[cfg(test)]
mod tests {
    use super::*;
    use alloc::string::ToString;

    fn faults(order: &[StageName], glued: bool) -> String {
        let mut stock = Stock { order: Some(order.to_vec()), ..Stock::default() };
        stock.board.glued = glued;
        stock.check().err().map(|error| error.to_string()).unwrap_or_default()
    }

    #[test]
    fn every_step_stands_once_in_the_usual_order_which_is_allowed() {
        for step in StageName::ALL {
            assert_eq!(USUAL.iter().filter(|other| *other == step).count(), 1, "{}", step.name());
        }
        for glued in [false, true] {
            let mut stock = Stock::default();
            stock.board.glued = glued;
            let order = stock.usual_order();
            assert_eq!(order.contains(&StageName::RodChannel), !glued);
            assert_eq!(faults(&order, glued), "");
            assert_ne!(faults(&order, !glued), "");
        }
    }

    #[test]
    fn what_may_be_left_out_may_be_left_out() {
        for left_out in StageName::ALL {
            let order: Vec<StageName> = USUAL.into_iter().filter(|step| step != left_out).collect();
            let shown = faults(&order, false);
            if left_out.is_optional() {
                assert_eq!(shown, "", "{}", left_out.name());
            } else {
                let start = format!("order: a plan calls for the step {:?}; add ", left_out.name());
                assert!(shown.starts_with(&start) && shown.lines().count() == 1, "{shown}");
            }
        }
        let least: Vec<StageName> = USUAL.into_iter().filter(|step| !step.is_optional()).collect();
        assert_eq!(faults(&least, false), "");
    }

    /// The rules as they are told to a builder, pair by pair.
    #[test]
    fn a_pair_in_the_wrong_order_is_refused_and_any_other_is_not() {
        use StageName::*;
        let pairs = [
            (RodChannel, Board),
            (Board, Taper),
            (HeadstockFace, Taper),
            (Board, Sides),
            (HeadstockFace, Sides),
            (Taper, Sides),
            (HeadstockFace, Back),
            (Back, HeadstockThickness),
            (Sides, Stops),
            (Back, Stops),
            (Sides, Rounding),
            (Back, Rounding),
            (Stops, Rounding),
            (Sides, Facets),
            (Back, Facets),
            (Stops, Facets),
            (Rounding, Facets),
            (Sides, Contour),
            (Back, Contour),
            (Rounding, Contour),
            (Facets, Contour),
            (Contour, Transitions),
            (HeadstockThickness, Transitions),
        ];
        let mut order = USUAL.to_vec();
        // Every order that a walk of swaps of neighbours comes by, all 14 steps in it.
        let mut next = crate::spec::numbers(5);
        let (mut allowed, mut refused) = (0, 0);
        for _ in 0..4000 {
            let at = (next() % 13) as usize;
            order.swap(at, at + 1);
            let place = |step: StageName| order.iter().position(|other| *other == step).unwrap();
            let kept = order[0] == Blank
                && order[13] == Sanding
                && pairs.iter().all(|(first, then)| place(*first) < place(*then));
            assert_eq!(faults(&order, false).is_empty(), kept, "{order:?}");
            if kept {
                allowed += 1;
            } else {
                refused += 1;
                // Most swaps break something for long: go back now and then.
                if refused % 3 == 0 {
                    order = USUAL.to_vec();
                }
            }
        }
        assert!(allowed > 300 && refused > 300, "{allowed} allowed, {refused} refused");
    }

    #[test]
    fn steps_are_listed_as_one_says_them() {
        use StageName::*;
        assert_eq!(listed(&[Back]), r#""back""#);
        assert_eq!(listed(&[Back, Sides]), r#""back" and "sides""#);
        assert_eq!(listed(&[Back, Sides, Stops]), r#""back", "sides" and "stops""#);
    }
}

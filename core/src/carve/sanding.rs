//! The grits in their order: what they take off together, and that the allowances are enough for it.

use alloc::format;
use alloc::string::String;
use alloc::vec::Vec;

use super::block::{Zone, held};
use super::grain::{grain_um, table};
use super::grit::{GritStep, Removes, notes};
use crate::measure::{Bound, Error, Fault, Faults, Kind, Length, exactly};
use crate::shape::Neck;
use crate::spec::{GritScale, Grits};

/// How far an allowance may miss the sum of the grits and still be that sum, mm.
const SAME_MM: f64 = 1e-9;

/// What a scratch may be of the grain that made it; a document's share is bounded more tightly.
const SHARE: Bound = Bound { lowest: 0.0, highest: 1.0, why: "a grain bites no deeper than it is thick" };

/// The grits in their order and what they take off together. All depths are mm, square to the back.
#[derive(Clone, Debug, PartialEq, serde::Serialize)]
pub struct SandingPlan {
    /// The standard that the grits are graded by.
    pub scale: GritScale,
    /// The grits, the coarsest first; never empty.
    pub steps: Vec<GritStep>,
    /// Depth of all marks that are taken off: those of the tools, and the scratches of every grit but the last.
    pub total_mm: f64,
    /// What contouring leaves on the spine for the grits: the allowance given, or the total where none is.
    pub allowance_mm: f64,
    /// What that has over the total; the first grit takes it off.
    pub spare_mm: f64,
    /// What is left on the headstock's back for the grits: the allowance given, or the total where none is.
    pub headstock_mm: f64,
    /// What that has over the total; the first grit takes it off.
    pub headstock_spare_mm: f64,
    /// Depth of the scratches that the last grit leaves, under the finished surface. On faces that were finished before
    /// (see [`Zone::has_allowance`]) the last grit is the only one, and takes off less than this.
    pub scratches_left_mm: f64,
}

impl SandingPlan {
    /// The plan with the zones alone that a neck has.
    pub(super) fn on(mut self, neck: &Neck) -> Self {
        for step in &mut self.steps {
            step.blocks.retain(|held| held.zone.is_on(neck));
        }
        self
    }
}

/// What every grit takes off, and what the caliper reads before it.
///
/// The first grit takes off the marks of the tools, each further one the scratches of the grit before. A scratch is
/// `scratch_share` times the mean grain size deep. The caliper rides on the ridges, so the reading falls by the depth of
/// the marks that go, and the last grit's own scratches lie under the finished surface.
///
/// `contour` is the allowance along the spine, `headstock` that on the headstock's back. Without one the plan calls for
/// what the grits take off together. One that differs from that by 1e-9 mm or less is taken to be the same. Of a larger
/// one the first grit takes the rest off.
///
/// # Errors
/// - [`Kind::Missing`] at `sanding.grits` for a list without entries.
/// - [`Kind::OutOfRange`] at `sanding.grits[i]` for a number that is no grit of the standard; at `sanding.scratch_share`
///   for one outside 0 to 1; at `sanding.tool_marks` for one that is negative or not finite.
/// - [`Kind::Conflict`] at `sanding.grits[i]` for a grit that is no finer than the one before.
/// - [`Kind::Conflict`] at `allowances.contour` or `allowances.headstock` for an allowance below what the grits take off,
///   and [`Kind::OutOfRange`] for one that is not finite.
pub fn sanding_plan(
    grits: &Grits,
    contour: Option<Length>,
    headstock: Option<Length>,
) -> Result<SandingPlan, Error> {
    let grains = checked(grits)?;
    let scratch_mm = |grain: f64| grits.scratch_share * grain / 1e3;
    let mut marks: Vec<(Removes, f64)> = alloc::vec![(Removes::ToolMarks, grits.tool_marks.mm())];
    marks.extend(grains.iter().map(|&(grit, grain)| (Removes::ScratchesOf(grit), scratch_mm(grain))));
    let scratches_left_mm = marks.pop().map_or(0.0, |(_, depth)| depth);

    // Summed from the last grit on, as the readings are, so that the first reading is the total bit for bit.
    let total_mm = marks.iter().rev().fold(0.0, |sum, (_, depth)| sum + depth);
    let mut faults = Faults::default();
    let mut held_against = |given: Option<Length>, on: Stands| {
        given.map_or(total_mm, |given| {
            agreed(given.mm(), total_mm, on).unwrap_or_else(|fault| {
                faults.add(|| fault);
                total_mm
            })
        })
    };
    let allowance_mm = held_against(contour, Stands::Spine);
    let headstock_mm = held_against(headstock, Stands::Headstock);
    faults.into_result()?;
    let spare_mm = allowance_mm - total_mm;

    let mut left_mm = 0.0;
    let mut steps: Vec<GritStep> = Vec::with_capacity(grains.len());
    for (index, (&(grit, grain_um), &(removes, marks_mm))) in grains.iter().zip(&marks).enumerate().rev() {
        let first = index == 0;
        let spare_mm = if first { spare_mm } else { 0.0 };
        let left_after_mm = left_mm;
        left_mm = if first { allowance_mm } else { left_after_mm + marks_mm };
        let last = index + 1 == grains.len();
        let lengthwise = index + 2 >= grains.len();
        steps.push(GritStep {
            grit,
            grain_um,
            scratch_mm: scratch_mm(grain_um),
            removes,
            marks_mm,
            spare_mm,
            removes_mm: marks_mm + spare_mm,
            left_before_mm: left_mm,
            left_after_mm,
            headstock_before_mm: if first { headstock_mm } else { left_mm },
            lengthwise,
            blocks: Zone::ALL.iter().map(|&zone| held(zone, grain_um, lengthwise, last)).collect(),
            notes: notes(first, last, lengthwise, spare_mm > total_mm),
        });
    }
    steps.reverse();
    Ok(SandingPlan {
        scale: grits.scale,
        steps,
        total_mm,
        allowance_mm,
        spare_mm,
        headstock_mm,
        headstock_spare_mm: headstock_mm - total_mm,
        scratches_left_mm,
    })
}

/// Every grit with its grain size, or all that is wrong with them.
fn checked(grits: &Grits) -> Result<Vec<(u32, f64)>, Error> {
    let mut faults = Faults::default();
    if grits.grits.is_empty() {
        faults.add(|| {
            Fault::new(Kind::Missing, "sanding.grits", "sanding takes at least one grit")
                .remedy("give a grit, or leave the list out for the usual ones")
        });
    }
    let mut grains = Vec::with_capacity(grits.grits.len());
    for (index, &grit) in grits.grits.iter().enumerate() {
        match grain_um(grits.scale, grit) {
            Some(grain) => grains.push((grit, grain)),
            None => faults.add(|| unknown(grits.scale, index, grit)),
        }
        let before = index.checked_sub(1).and_then(|before| grits.grits.get(before));
        if let Some(&before) = before.filter(|&&before| before >= grit) {
            faults.add(|| {
                let reason =
                    format!("no finer than the {before} before it, whose scratches it is to take off");
                Fault::new(Kind::Conflict, format!("sanding.grits[{index}]"), reason)
                    .value(grit, "")
                    .remedy("name each grit once, the coarsest first")
            });
        }
    }
    if let Some(fault) = SHARE.fault("sanding.scratch_share", grits.scratch_share, "") {
        faults.add(|| fault);
    }
    let tool_marks_mm = grits.tool_marks.mm();
    if !(tool_marks_mm.is_finite() && tool_marks_mm >= 0.0) {
        faults.add(|| {
            Fault::new(Kind::OutOfRange, "sanding.tool_marks", "marks are some depth deep, or none")
                .value(exactly(tool_marks_mm), "mm")
                .range(0.0, None)
                .remedy("give 0 or more")
        });
    }
    faults.into_result()?;
    Ok(grains)
}

fn unknown(scale: GritScale, index: usize, grit: u32) -> Fault {
    let known = table(scale);
    // Grits are steps of a ratio, so the nearest is the one with the least ratio, not the least difference.
    let ratio = |number: u32| {
        let (a, b) = (f64::from(number), f64::from(grit.max(1)));
        if a > b { a / b } else { b / a }
    };
    let nearest = known.iter().map(|(number, _)| *number).min_by(|a, b| ratio(*a).total_cmp(&ratio(*b)));
    let fault = Fault::new(
        Kind::OutOfRange,
        format!("sanding.grits[{index}]"),
        format!("{} has no such grit", scale.name()),
    )
    .value(grit, "")
    .range(
        known.first().map(|(number, _)| f64::from(*number)),
        known.last().map(|(number, _)| f64::from(*number)),
    );
    match nearest {
        Some(nearest) => fault.remedy(format!("take {nearest}, the nearest that there is")),
        None => fault,
    }
}

/// What an allowance stands on.
#[derive(Clone, Copy)]
enum Stands {
    Spine,
    Headstock,
}

/// The allowance, where the grits can take off their marks within it.
fn agreed(given_mm: f64, total_mm: f64, on: Stands) -> Result<f64, Fault> {
    if libm::fabs(given_mm - total_mm) <= SAME_MM {
        return Ok(total_mm);
    }
    if given_mm.is_finite() && given_mm > total_mm {
        return Ok(given_mm);
    }
    // Rounded up but for what rounding adds to the sum, so that what is asked for is enough.
    let enough = libm::ceil((total_mm - SAME_MM) * 1e4) / 1e4;
    let (kind, reason) = if given_mm.is_finite() {
        (Kind::Conflict, format!("the grits take off {enough} mm together"))
    } else {
        (Kind::OutOfRange, String::from("not a finite number"))
    };
    let (path, or) = match on {
        Stands::Spine => {
            ("allowances.contour", "leave it out, or begin with a finer grit on a better scraped back")
        }
        Stands::Headstock => ("allowances.headstock", "or begin with a finer grit on a better scraped back"),
    };
    Err(Fault::new(kind, path, reason)
        .value(exactly(given_mm), "mm")
        .range(enough, None)
        .remedy(format!("give {enough} mm or more, {or}")))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::carve::Block;
    use crate::seeded::seeded;
    use alloc::string::ToString;
    use alloc::vec;
    use approx::assert_abs_diff_eq;
    use proptest::prelude::*;
    use proptest::sample::subsequence;

    fn plan(grits: &Grits) -> SandingPlan {
        sanding_plan(grits, None, None).unwrap()
    }

    fn messages(grits: &Grits, allowance: Option<f64>) -> Vec<String> {
        let error = sanding_plan(grits, allowance.map(Length::from_mm), None).unwrap_err();
        error.faults().iter().map(ToString::to_string).collect()
    }

    /// 0.1 + 0.3 (269 + 201 + 162 + 125 + 100) / 1000 = 0.1 + 0.2571, by hand.
    #[test]
    fn the_usual_grits() {
        let plan = plan(&Grits::default());
        assert_abs_diff_eq!(plan.total_mm, 0.3571, epsilon = 1e-12);
        assert_abs_diff_eq!(plan.scratches_left_mm, 0.0204, epsilon = 1e-12);
        assert_eq!((plan.allowance_mm, plan.spare_mm), (plan.total_mm, 0.0));
        let by_hand = [
            (60, 0.1, 0.3571),
            (80, 0.0807, 0.2571),
            (100, 0.0603, 0.1764),
            (120, 0.0486, 0.1161),
            (150, 0.0375, 0.0675),
            (220, 0.03, 0.03),
        ];
        assert_eq!(plan.steps.len(), by_hand.len());
        for (step, (grit, removes_mm, left_before_mm)) in plan.steps.iter().zip(by_hand) {
            assert_eq!(step.grit, grit);
            assert_abs_diff_eq!(step.removes_mm, removes_mm, epsilon = 1e-12);
            assert_abs_diff_eq!(step.left_before_mm, left_before_mm, epsilon = 1e-12);
        }
        assert_eq!(plan.steps[0].removes, Removes::ToolMarks);
        assert_eq!(plan.steps[1].removes, Removes::ScratchesOf(60));
        assert_eq!(plan.steps[0].words(), "Takes off the marks of rasp and scraper, 0.1 mm.");
        assert_eq!(plan.steps[5].words(), "Takes off the scratches of 150, 0.03 mm.");
    }

    #[test]
    fn the_first_grit_takes_what_the_allowance_has_over() {
        let plan = sanding_plan(&Grits::default(), Some(Length::from_mm(0.5)), None).unwrap();
        let usual = super::tests::plan(&Grits::default());
        assert_abs_diff_eq!(plan.spare_mm, 0.1429, epsilon = 1e-12);
        let first = &plan.steps[0];
        assert_eq!((first.left_before_mm, first.spare_mm), (0.5, plan.spare_mm));
        assert_abs_diff_eq!(first.removes_mm, 0.2429, epsilon = 1e-12);
        assert_eq!(
            first.words(),
            "Takes off the marks of rasp and scraper, 0.1 mm, and 0.143 mm that the allowance has over what all grits \
             need."
        );
        assert_eq!(plan.steps[1..], usual.steps[1..], "nothing else changes");
        let scraped = |mm| {
            sanding_plan(&Grits::default(), Some(Length::from_mm(mm)), None).unwrap().steps[0].notes.len()
        };
        assert_eq!(
            (scraped(0.5), scraped(0.72)),
            (1, 2),
            "much more than the grits need is a scraper's work"
        );
    }

    #[test]
    fn the_headstock_s_back_has_an_allowance_of_its_own() {
        let own = |mm| sanding_plan(&Grits::default(), None, Some(Length::from_mm(mm)));
        let plan = own(0.4).unwrap();
        assert_eq!((plan.headstock_mm, plan.spare_mm), (0.4, 0.0));
        assert_abs_diff_eq!(plan.headstock_spare_mm, 0.0429, epsilon = 1e-12);
        assert_eq!(plan.steps[0].headstock_before_mm, 0.4);
        for step in &plan.steps[1..] {
            assert_eq!(step.headstock_before_mm, step.left_before_mm, "the first grit takes the rest");
        }
        assert_eq!(
            own(0.3).unwrap_err().faults()[0].to_string(),
            "allowances.headstock = 0.3 mm: the grits take off 0.3571 mm together (allowed: 0.3571 mm or more); give 0.3571 mm \
             or more, or begin with a finer grit on a better scraped back"
        );
        let short = Some(Length::from_mm(0.1));
        let both = sanding_plan(&Grits::default(), short, short).unwrap_err();
        let paths: Vec<&str> = both.faults().iter().map(|f| f.path.as_str()).collect();
        assert_eq!(paths, ["allowances.contour", "allowances.headstock"]);
    }

    #[test]
    fn one_grit_alone() {
        let grits = Grits { grits: vec![220], ..Grits::default() };
        let plan = plan(&grits);
        assert_eq!((plan.total_mm, plan.steps.len()), (0.1, 1));
        assert_eq!((plan.steps[0].left_before_mm, plan.steps[0].left_after_mm), (0.1, 0.0));
        assert!(plan.steps[0].lengthwise);
        assert_eq!(plan.steps[0].notes.len(), 3);
    }

    #[test]
    fn an_allowance_that_is_too_small_says_what_would_be_enough() {
        assert_eq!(
            messages(&Grits::default(), Some(0.3)),
            [
                "allowances.contour = 0.3 mm: the grits take off 0.3571 mm together (allowed: 0.3571 mm or more); give \
                 0.3571 mm or more, leave it out, or begin with a finer grit on a better scraped back"
            ]
        );
        for wrong in [-1.0, 0.0, f64::NAN, f64::INFINITY, f64::NEG_INFINITY, 0.3571 - 2e-9] {
            assert_eq!(messages(&Grits::default(), Some(wrong)).len(), 1, "{wrong}");
        }
        for same in [0.3571 - 0.9e-9, 0.3571, 0.3571 + 0.9e-9] {
            let given = sanding_plan(&Grits::default(), Some(Length::from_mm(same)), None).unwrap();
            assert_eq!(given, plan(&Grits::default()), "{same}");
        }
    }

    #[test]
    fn all_wrong_grits_are_told() {
        let wrong = Grits { grits: vec![60, 70, 100, 100, 90, 1000, 0], ..Grits::default() };
        assert_eq!(
            messages(&wrong, None),
            [
                "sanding.grits[1] = 70: FEPA has no such grit (allowed: 24 to 400); take 80, the nearest that there is",
                "sanding.grits[3] = 100: no finer than the 100 before it, whose scratches it is to take off; name each \
                 grit once, the coarsest first",
                "sanding.grits[4] = 90: FEPA has no such grit (allowed: 24 to 400); take 100, the nearest that there is",
                "sanding.grits[4] = 90: no finer than the 100 before it, whose scratches it is to take off; name each \
                 grit once, the coarsest first",
                "sanding.grits[5] = 1000: FEPA has no such grit (allowed: 24 to 400); take 400, the nearest that there is",
                "sanding.grits[6] = 0: FEPA has no such grit (allowed: 24 to 400); take 24, the nearest that there is",
                "sanding.grits[6] = 0: no finer than the 1000 before it, whose scratches it is to take off; name each \
                 grit once, the coarsest first",
            ]
        );
    }

    #[test]
    fn grits_made_in_code_are_checked() {
        let empty = Grits { grits: vec![], ..Grits::default() };
        assert_eq!(
            messages(&empty, None),
            [
                "sanding.grits: sanding takes at least one grit; give a grit, or leave the list out for the usual ones"
            ]
        );
        for wrong in [-0.1, f64::NAN, f64::INFINITY] {
            let share = Grits { scratch_share: wrong, ..Grits::default() };
            assert!(messages(&share, None)[0].starts_with("sanding.scratch_share = "), "{wrong}");
            let marks = Grits { tool_marks: Length::from_mm(wrong), ..Grits::default() };
            assert!(messages(&marks, None)[0].starts_with("sanding.tool_marks = "), "{wrong}");
        }
        let many = Grits { grits: vec![1; 1000], ..Grits::default() };
        assert!(sanding_plan(&many, None, None).unwrap_err().more() > 0);
        let huge = Grits { tool_marks: Length::from_mm(f64::MAX), ..Grits::default() };
        assert_eq!(plan(&huge).steps[0].left_before_mm, f64::MAX);
    }

    #[test]
    fn each_zone_has_its_block() {
        let plan = plan(&Grits::default());
        for (index, step) in plan.steps.iter().enumerate() {
            let zones: Vec<Zone> = step.blocks.iter().map(|held| held.zone).collect();
            assert_eq!(zones, Zone::ALL);
            for held in &step.blocks {
                assert!(held.words.ends_with('.') && !held.words.contains("  "), "{}", held.words);
                let round_or_bent = matches!(held.block, Block::Round | Block::Flexible);
                let hollow = matches!(held.zone, Zone::Volute | Zone::Transition | Zone::HeelSweep);
                assert_eq!(held.block == Block::Round, hollow);
                assert_eq!(round_or_bent, hollow || held.zone == Zone::ShaftBack);
                assert_eq!(held.block == Block::Rest, !held.zone.has_allowance() && index < 5);
            }
            assert_eq!(step.lengthwise, index >= 4, "the last two grits go along the neck");
            assert!(step.notes.iter().all(|note| note.ends_with('.') && !note.contains("  ")));
            let bare = step.blocks.iter().any(|held| held.block == Block::Hard);
            assert_eq!(bare, step.grit < 150, "a bare block polishes and scratches with fine grits");
        }
    }

    /// A standard, some of its grits, the coarsest first, a share and tool marks.
    fn some_grits() -> impl Strategy<Value = Grits> {
        (any::<bool>(), 0.05..=1.0_f64, 0.0..=2.0_f64).prop_flat_map(|(fepa, scratch_share, marks)| {
            let scale = if fepa { GritScale::Fepa } else { GritScale::Cami };
            let numbers: Vec<u32> = table(scale).iter().map(|(number, _)| *number).collect();
            subsequence(numbers, 1..=12).prop_map(move |grits| Grits {
                scale,
                grits,
                scratch_share,
                tool_marks: Length::from_mm(marks),
            })
        })
    }

    proptest! {
        #![proptest_config(seeded(512))]

        #[test]
        fn the_readings_add_up(grits in some_grits(), over in prop_oneof![Just(0.0), 0.0..3.0]) {
            let usual = plan(&grits);
            let allowance = usual.total_mm + over;
            let plan = sanding_plan(&grits, Some(Length::from_mm(allowance)), None).unwrap();
            // Term by term in the order of the grits, not from the end as the plan does.
            let expected = grits.tool_marks.mm()
                + grits.grits[..grits.grits.len() - 1]
                    .iter()
                    .map(|grit| grits.scratch_share * grain_um(grits.scale, *grit).unwrap() * 1e-3)
                    .sum::<f64>();
            prop_assert!((plan.total_mm - expected).abs() < 1e-12);
            prop_assert!((plan.spare_mm - over).abs() <= 1e-9);
            let taken: f64 = plan.steps.iter().map(|step| step.removes_mm).sum();
            prop_assert!((taken - plan.allowance_mm).abs() < 1e-12);
            prop_assert_eq!(plan.steps.len(), grits.grits.len());
            prop_assert_eq!(plan.steps[0].left_before_mm, plan.allowance_mm);
            prop_assert_eq!(plan.steps.last().unwrap().left_after_mm, 0.0);
            for (step, next) in plan.steps.iter().zip(&plan.steps[1..]) {
                prop_assert_eq!(step.left_after_mm, next.left_before_mm);
                prop_assert!(step.left_before_mm >= next.left_before_mm);
                prop_assert!(step.grain_um > next.grain_um);
                prop_assert_eq!(next.marks_mm, step.scratch_mm, "the next grit takes this one's scratches off");
            }
            for step in &plan.steps {
                prop_assert!(step.removes_mm >= 0.0);
                prop_assert!((step.left_before_mm - step.removes_mm - step.left_after_mm).abs() < 1e-12);
            }
            prop_assert_eq!(plan.scratches_left_mm, plan.steps.last().unwrap().scratch_mm);
        }

        #[test]
        fn deeper_scratches_take_more(grits in some_grits(), more in 0.0..0.5_f64) {
            let deeper = Grits { scratch_share: (grits.scratch_share + more).min(1.0), ..grits.clone() };
            for (a, b) in plan(&grits).steps.iter().zip(&plan(&deeper).steps) {
                prop_assert!(a.left_before_mm <= b.left_before_mm);
            }
        }

        #[test]
        fn what_is_asked_for_is_enough(grits in some_grits(), share in 0.0..0.999) {
            let total = plan(&grits).total_mm;
            prop_assume!(total > 1e-6);
            let error = sanding_plan(&grits, Some(Length::from_mm(total * share)), None).unwrap_err();
            let fault = &error.faults()[0];
            prop_assert_eq!((fault.path.as_str(), error.faults().len()), ("allowances.contour", 1));
            let asked = fault.remedy.strip_prefix("give ").unwrap().split(' ').next().unwrap();
            let asked: f64 = asked.parse().unwrap();
            prop_assert!(asked >= total && asked <= total + 1.001e-3);
            prop_assert!(sanding_plan(&grits, Some(Length::from_mm(asked)), None).is_ok());
        }

        #[test]
        fn any_list_is_a_plan_or_says_why_not(
            grits in proptest::collection::vec(prop_oneof![20_u32..420, any::<u32>()], 0..20),
            share in any::<f64>(), marks in any::<f64>(), allowance in proptest::option::of(any::<f64>()),
        ) {
            let grits =
                Grits { grits, scratch_share: share, tool_marks: Length::from_mm(marks), ..Grits::default() };
            match sanding_plan(&grits, allowance.map(Length::from_mm), None) {
                Ok(plan) => prop_assert!(plan.total_mm.is_finite() && plan.spare_mm >= 0.0),
                Err(error) => prop_assert!(!error.faults().is_empty()),
            }
        }
    }
}

//! What the last stages promise: lines that a saw may follow from mark to mark, templates that touch, readings that agree
//! with the allowances, and holes as long as the wood is thick.

use std::collections::HashMap;

use crate::carve_common::*;
use neckwright::carve::{Block, Details, Line, SandingPlan, Stage, Template, TemplatePlane, Zone};
use neckwright::measure::{Length, Station};
use neckwright::shape::{Neck, Point, Side};
use neckwright::spec::{HeadstockKind, Specification, StageName, Stock, numbers};

/// What the lines are said to keep within, mm, and what is looked at between two marks of a curve.
const FAIR: f64 = 0.25;
const LOOK: u32 = 40;

/// Every place between two marks of a line, and where a straight line from one to the other passes.
fn between_marks(line: &Line, mut each: impl FnMut(f64, f64)) {
    for w in line.marks.windows(2) {
        for i in 0..=LOOK {
            let t = f64::from(i) / f64::from(LOOK);
            let at = |a: f64, b: f64| (1.0 - t) * a + t * b;
            each(at(w[0].x_mm, w[1].x_mm), at(w[0].distance_mm, w[1].distance_mm));
        }
    }
}

#[test]
fn a_level_face_is_marked_so_that_straight_cuts_from_mark_to_mark_stay_outside_it() {
    let (mut seen, mut most) = (0, 0.0_f64);
    for seed in 1.. {
        let mut next = numbers(seed);
        let mut spec = Specification::plausible(&mut next);
        spec.headstock.kind = HeadstockKind::Level;
        spec.headstock.step_radius = Length::from_mm(between(&mut next, 1.0, 30.0));
        let Ok(neck) = Neck::new(&spec) else { continue };
        let stock = Stock { construction: Default::default(), ..Stock::plausible(&mut next) };
        let Ok(plan) = neck.carving_plan(&stock) else { continue };
        let line = &stage(&plan, StageName::HeadstockFace).lines[0];
        let before = plan.stages().iter().take_while(|s| s.name != StageName::HeadstockFace);
        let boarded = plan.stock().board.glued || before.clone().any(|s| s.name == StageName::Board);
        let made = before.clone().any(|s| s.name == StageName::Board);
        let glue = neck.layout().board().thickness_mm();
        let reference = match (boarded, made) {
            (false, _) => glue,
            (true, true) => 0.0,
            (true, false) => glue - plan.stock().board.thickness.unwrap().mm(),
        };
        let head = neck.headstock();
        let first = (line.marks[0].x_mm, line.marks.last().unwrap().x_mm);
        assert!((first.0 - head.tip_x_mm).abs() < 1e-9 && (first.1 - head.root_x_mm).abs() < 1e-9);
        let face = &neck.laws().face_depth;
        between_marks(line, |x, distance| {
            let over = face.at(x.clamp(head.tip_x_mm, head.root_x_mm)).unwrap() - reference - distance;
            assert!((-1e-3..=FAIR + 1e-3).contains(&over), "seed {seed}: {over} over the face at {x}");
            most = most.max(over);
        });
        for mark in &line.marks {
            let told: f64 = mark.place.strip_suffix(" mm along the face").unwrap().parse().unwrap();
            assert!((head.root_x_mm - mark.x_mm - told).abs() <= 0.05 + 1e-9, "seed {seed}: {mark:?}");
        }
        let Some(thickness) = plan.stage(StageName::HeadstockThickness) else { continue };
        let read = thickness.checks.iter().filter(|c| c.what.starts_with("headstock's thickness"));
        for x in read.filter_map(|c| c.x_mm) {
            // A caliper reads the slab only where its face is level.
            let level = face.at(x).unwrap() - face.at(head.tip_x_mm).unwrap();
            assert!(level.abs() < 1e-9, "seed {seed}: the face still falls at {x}");
        }
        seen += 1;
        if seen == 150 {
            break;
        }
    }
    assert!(most > 0.1, "{most}");
}

/// The finished neck's outline at a station with what stands on it: read off the wood that the stage leaves.
fn outline(stage: &Stage, x: f64) -> Vec<Point> {
    stage.wood.polyline_mm(x, 1e-4).unwrap()
}

/// Depth at which the flat side of a wood ends: the lowest of its outermost points.
fn carve(stage: &Stage, x: f64, sign: f64) -> f64 {
    let points = outline(stage, x);
    let most = points.iter().map(|p| sign * p[0]).fold(f64::NEG_INFINITY, f64::max);
    points.iter().filter(|p| sign * p[0] > most - 1e-12).map(|p| -p[1]).fold(0.0, f64::max)
}

fn distance(p: Point, outline: &[Point]) -> f64 {
    let next = outline.iter().cycle().skip(1);
    outline
        .iter()
        .zip(next)
        .map(|(a, b)| {
            let (d, v) = ([b[0] - a[0], b[1] - a[1]], [p[0] - a[0], p[1] - a[1]]);
            let square = d[0] * d[0] + d[1] * d[1];
            let t = if square > 0.0 { ((d[0] * v[0] + d[1] * v[1]) / square).clamp(0.0, 1.0) } else { 0.0 };
            libm::hypot(v[0] - t * d[0], v[1] - t * d[1])
        })
        .fold(f64::INFINITY, f64::min)
}

/// Points of a template and places between them, with how far they may lie off its curve.
fn all_along(template: &Template) -> impl Iterator<Item = (Point, f64)> + '_ {
    let points = &template.points_mm;
    let chords = points.windows(2).flat_map(|w| {
        [0.25, 0.5, 0.75].map(|t| ([0, 1].map(|k| (1.0 - t) * w[0][k] + t * w[1][k]), 0.01 + 1e-3))
    });
    points.iter().map(|p| (*p, 1e-3)).chain(chords)
}

/// Wood that is there between two stations of the transitions, away from where they end.
fn inside(zones: &[[f64; 2]], x: f64) -> bool {
    zones.iter().any(|z| x > z[0] + 1e-6 && x < z[1] - 1e-6)
}

#[test]
fn templates_and_lines_are_of_the_shape_that_the_transitions_are_worked_to() {
    let (mut planes, mut over, mut in_glue) = (HashMap::new(), 0.0_f64, 0);
    let into_the_sweep = plans(7000, 30).filter_map(glued_in_the_sweep);
    for Planned { seed, neck, plan, .. } in plans(900, 60).chain(into_the_sweep) {
        let stage = stage(&plan, StageName::Transitions);
        let Details::Templates(all) = &stage.details else { panic!("no templates") };
        let Details::Sanding(grits) = &plan.stages().last().unwrap().details else { panic!("no grits") };
        let (heel, stops) = (neck.heel(), plan.stops_mm());
        let from = neck.volute().start_x_mm - plan.stock().allowances.headstock.mm();
        let (glued, block) = (heel.glued_from_x_mm.min(heel.block_x_mm), heel.block_x_mm);
        let zones = [[from.max(neck.wood_reach_mm()[0]), stops[0]], [stops[1], glued], [glued, block]];
        let hand = neck.hand_sign();
        let root = neck.headstock().root_x_mm;
        let top = |x: f64| neck.laws().face_depth.at(x.min(root)).unwrap();
        // A slanted nut ends later on one side.
        let nut = neck.layout().board().nut_ends_mm().into_iter().fold(0.0, f64::max);
        for template in all {
            // No grit goes into the glued zone.
            let finished = template.name.contains("in the glued zone, finished");
            assert_eq!(template.allowance_mm, if finished { 0.0 } else { grits.allowance_mm });
            assert!(template.name.contains("allowance on") != finished);
            let stations: Vec<f64> = match template.plane {
                TemplatePlane::Across { x_mm } => vec![x_mm],
                _ => template.points_mm.iter().map(|p| p[0]).collect(),
            };
            assert!(
                stations.iter().all(|x| if finished { *x >= glued - 1e-9 } else { *x <= glued + 1e-9 }),
                "{stations:?}"
            );
            in_glue += i32::from(finished);
            for (p, within) in all_along(template) {
                let x = if let TemplatePlane::Across { x_mm } = template.plane { x_mm } else { p[0] };
                // Above the wood's top behind the nut there is nothing to touch.
                if x <= nut && -p[1] <= top(x) + 0.1 {
                    continue;
                }
                let off = match template.plane {
                    TemplatePlane::Across { x_mm } if inside(&zones, x_mm) => {
                        distance(p, &outline(stage, x_mm))
                    }
                    TemplatePlane::Spine if inside(&zones, p[0]) => {
                        let depth = stage.wood.depth_mm(p[0]).unwrap();
                        over = over.max(depth - neck.thickness_mm(p[0]).unwrap());
                        (depth + p[1]).abs()
                    }
                    TemplatePlane::SideFace(side) if inside(&zones, p[0]) => {
                        (carve(stage, p[0], hand * side.sign()) + p[1]).abs()
                    }
                    _ => continue,
                };
                assert!(off <= within, "seed {seed}: {}: {p:?} is {off} off", template.name);
                *planes.entry(format!("{:?}", template.plane)[..5].to_owned()).or_insert(0) += 1;
            }
        }
        for line in &stage.lines {
            // On the board its edge is where a radiused board is measured from.
            if line.from != neckwright::carve::Datum::BoardTop {
                continue;
            }
            between_marks(line, |x, distance| {
                let depth = match line.name.as_str() {
                    name if name.contains("spine") => stage.wood.depth_mm(x).unwrap(),
                    name => {
                        let side = if name.contains("bass") { Side::Bass } else { Side::Treble };
                        carve(stage, x, hand * side.sign())
                    }
                };
                if inside(&zones, x) && (x > nut || depth > top(x) + 0.1 || line.name.contains("spine")) {
                    let deeper = distance - depth;
                    let name = &line.name;
                    assert!((-2e-3..=FAIR + 2e-3).contains(&deeper), "seed {seed}: {name}: {deeper} at {x}");
                    *planes.entry("lines".to_owned()).or_insert(0) += 1;
                }
            });
        }
    }
    assert!(planes.len() == 4 && planes.values().all(|n| *n > 1000), "{planes:?}");
    assert!(in_glue > 100, "{in_glue}");
    assert!(over > 0.1, "templates of the finished shape would not be told apart: {over}");
}

/// The same neck and stock, glued to the body from somewhere in the heel's sweep on; `None` where they make no plan then.
fn glued_in_the_sweep(planned: Planned) -> Option<Planned> {
    let Planned { seed, neck, plan, .. } = planned;
    let heel = neck.heel();
    let x = between(&mut numbers(seed), heel.start_x_mm, heel.block_x_mm);
    let mut spec = neck.normalised().clone();
    spec.heel.glued_from = Some(Station::Mm(if seed % 5 == 0 { heel.start_x_mm } else { x }));
    let neck = Neck::new(&spec).ok()?;
    let stock = plan.stock().clone();
    let plan = neck.carving_plan(&stock).ok()?;
    Some(Planned { seed, neck, stock, plan, refused: Vec::new() })
}

/// What is glued to the body is at its finished shape before the neck is fitted: the grits take nothing from it, and where it
/// begins beyond the sweep, nothing does once the block is planed and the sides are true.
#[test]
fn nothing_takes_wood_from_the_glued_zone_once_it_is_finished() {
    let (mut seen, mut in_sweep, mut before) = (0, 0, 0.0_f64);
    for planned in plans(7000, 80).chain(plans(7000, 80).filter_map(glued_in_the_sweep)) {
        let Planned { seed, neck, plan, .. } = &planned;
        let (heel, [_, end]) = (neck.heel(), neck.wood_reach_mm());
        let sweep = heel.glued_from_x_mm < heel.block_x_mm - 1e-6;
        let glued = if sweep { heel.glued_from_x_mm } else { heel.glued_from_x_mm.max(heel.block_x_mm) };
        if glued >= end {
            continue;
        }
        let place = |name| plan.stages().iter().position(|s| s.name == name).unwrap();
        let done = if sweep {
            place(StageName::Transitions)
        } else {
            place(StageName::HeadstockThickness).max(place(StageName::Sides))
        };
        let mut next = numbers(*seed);
        let some = (0..12).map(|_| between(&mut next, glued, end));
        for x in some.chain([glued, heel.block_x_mm.max(glued), end]) {
            let finished = neck.section(x).unwrap().area_mm2();
            for stage in &plan.stages()[done..] {
                let over = stage.wood.area_mm2(x) - finished;
                assert!(over.abs() < 1e-6, "seed {seed}: {over} at {x} after {}", stage.name.name());
            }
            before = before.max(plan.stages()[done - 1].wood.area_mm2(x) - finished);
            seen += 1;
        }
        let (transitions, sanding) = (stage(plan, StageName::Transitions), stage(plan, StageName::Sanding));
        assert_eq!(transitions.action.contains("Keep out of the glued zone"), !sweep, "seed {seed}");
        assert_eq!(
            transitions.action.contains("finished shape now, with no allowance"),
            sweep,
            "seed {seed}"
        );
        assert!(sanding.action.contains("No grit goes beyond the glued line"), "seed {seed}");
        // Lines that are worked to in the glued zone say so.
        for line in &transitions.lines {
            let own = line.name.contains("glued zone");
            let lies = |x: f64| if own { x >= glued - 1e-9 } else { x <= glued + 1e-9 };
            assert!(line.marks.iter().all(|m| lies(m.x_mm)), "seed {seed}: {line:?}");
        }
        assert_eq!(transitions.lines.iter().any(|l| l.name.contains("glued zone")), sweep, "seed {seed}");
        in_sweep += i32::from(sweep);
    }
    assert!(seen > 1500 && in_sweep > 50 && before > 100.0, "{seen} {in_sweep} {before}");
}

fn grits_of(stage: &Stage) -> &SandingPlan {
    let Details::Sanding(grits) = &stage.details else { panic!("no grits") };
    grits
}

#[test]
fn readings_between_the_grits_are_the_finished_size_and_what_is_left() {
    for Planned { seed, neck, plan, .. } in plans(1900, 80) {
        let stage = stage(&plan, StageName::Sanding);
        let grits = grits_of(stage);
        let own = &plan.stock().allowances;
        assert!((grits.headstock_mm - own.headstock.mm()).abs() <= 1e-9);
        assert!(grits.headstock_spare_mm >= 0.0 && grits.spare_mm >= 0.0);
        let mut taken = [0.0; 2];
        for step in &grits.steps {
            let when = format!(", caliper, before grit {}", step.grit);
            let here: Vec<_> = stage.checks.iter().filter(|c| c.what.ends_with(&when)).collect();
            let (head, spine): (Vec<_>, Vec<_>) =
                here.into_iter().partition(|c| c.what.starts_with("headstock's thickness"));
            assert!(spine.len() >= 3 && !head.is_empty(), "seed {seed}: {when}");
            // What each place began with, less what the grits before have taken there.
            let left = [grits.allowance_mm - taken[0], grits.headstock_mm - taken[1]];
            for check in spine {
                let over = check.reads_mm.unwrap() - neck.thickness_mm(check.x_mm.unwrap()).unwrap();
                assert!((over - left[0]).abs() < 1e-9, "seed {seed}: {check:?}: {over} {left:?}");
                assert!((over - step.left_before_mm).abs() < 1e-9);
            }
            for check in head {
                let over = check.reads_mm.unwrap() - neck.headstock().thickness_mm;
                assert!((over - left[1]).abs() < 1e-9, "seed {seed}: {check:?}: {over} {left:?}");
            }
            let spare = if step.removes == grits.steps[0].removes { grits.headstock_spare_mm } else { 0.0 };
            taken = [taken[0] + step.removes_mm, taken[1] + step.marks_mm + spare];
        }
        assert!((taken[0] - grits.allowance_mm).abs() < 1e-9 && (taken[1] - grits.headstock_mm).abs() < 1e-9);
        // Both ends of the run and its middle.
        let read: Vec<f64> = stage
            .checks
            .iter()
            .filter(|c| c.what.starts_with("finished thickness at the spine"))
            .filter_map(|c| c.x_mm)
            .collect();
        let (from, to) = (read[0], read[read.len() - 1]);
        let share = |x: f64| (x - from) / (to - from);
        assert!(
            read[1..read.len() - 1].iter().any(|x| (0.25..=0.75).contains(&share(*x))),
            "seed {seed}: {read:?}"
        );
        let board_end = neck.layout().board().end_mm();
        assert!(read.iter().all(|x| (0.0..=board_end).contains(x)), "seed {seed}: {read:?}");
        // Nothing stands on the faces that are finished: the last grit alone is for them.
        for (i, step) in grits.steps.iter().enumerate() {
            for held in &step.blocks {
                let rests = held.block == Block::Rest;
                assert_eq!(rests, !held.zone.has_allowance() && i + 1 < grits.steps.len(), "{held:?}");
            }
        }
        assert!(Zone::ALL.iter().any(|z| z.has_allowance()) && stage.action.contains("finished already"));
        let spare = "On the headstock's back";
        assert_eq!(stage.action.contains(spare), grits.headstock_spare_mm > 0.0, "seed {seed}");
    }
}

/// The stage that bores takes the holes out of the thickness that is there, and sanding the rest of their length.
#[test]
fn tuner_holes_are_as_long_as_the_slab_is_thick() {
    let bored = Neck::from_json("{}").unwrap();
    // The same headstock with other holes.
    let mut spec = bored.normalised().clone();
    spec.headstock.hole_diameter = Length::from_mm(3.0);
    let narrow = Neck::new(&spec).unwrap();
    let stock = Stock::from_json(r#"{ "allowances": { "headstock": 1 } }"#).unwrap();
    let [wide, narrow] = [&bored, &narrow].map(|neck| plan_of(neck, &stock));
    let posts = bored.headstock().posts.len() as f64;
    let areas = posts * core::f64::consts::PI * (5.0 * 5.0 - 1.5 * 1.5);
    let more = |name| stage(&wide, name).removed_mm3 - stage(&narrow, name).removed_mm3;
    let thick = bored.headstock().thickness_mm;
    approx::assert_abs_diff_eq!(more(StageName::HeadstockThickness), areas * (thick + 1.0), epsilon = 1e-6);
    // What sanding takes from the back has its holes already.
    approx::assert_abs_diff_eq!(more(StageName::Sanding), -areas, epsilon = 1e-6);
    approx::assert_abs_diff_eq!(narrow.finished_mm3() - wide.finished_mm3(), areas * thick, epsilon = 1e-6);
}

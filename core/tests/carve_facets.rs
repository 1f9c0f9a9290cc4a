//! The facets: each touches the finished back moved outward by the allowance, none cuts into that, the marks lie where
//! they say, and every doubling leaves a quarter.

mod carve_common;

use carve_common::*;
use neckwright::carve::{CarvingPlan, Facet, FacetFacts};
use neckwright::measure::Length;
use neckwright::shape::{Neck, Side};
use neckwright::spec::{FacetRounds, Shape, Specification, StageName, Stock, numbers};

fn way(facet: &Facet) -> [f64; 2] {
    if facet.angle_deg == 90.0 {
        return [0.0, 1.0];
    }
    let angle = facet.angle_deg.to_radians();
    [libm::cos(angle), libm::sin(angle)]
}

/// How far out the finished back reaches in a facet's direction.
fn reaches(neck: &Neck, facet: &Facet, x: f64) -> f64 {
    reach(&control(neck, facet.side, x), way(facet))
}

/// Where a facet lies in a section: straight along the neck, or the allowance outside the back.
fn height(neck: &Neck, facts: &FacetFacts, facet: &Facet, x: f64) -> f64 {
    facet.height.map_or_else(|| reaches(neck, facet, x) + facts.allowance_mm, |h| h.at_mm(x))
}

#[test]
fn every_facet_touches_and_none_cuts() {
    let (mut straight, mut following, mut worst) = (0, 0, 0.0_f64);
    for Planned { seed, neck, plan, stock, .. } in plans(5000, 120) {
        let Some(facts) = facets(&plan) else { continue };
        let allowance = stock.allowances.shaping.mm();
        assert_eq!(facts.allowance_mm, allowance);
        assert_eq!(facts.run_mm, plan.stops_mm());
        for facet in &facts.facets {
            let Some(line) = &facet.height else {
                following += 1;
                continue;
            };
            // Square to the plane in space.
            let gap = |x: f64| (line.at_mm(x) - reaches(&neck, facet, x)) / steepness(line);
            let (least, x) = least_along(&neck, facts.run_mm, 60, &gap);
            let off = least - allowance;
            assert!(
                off.abs() <= 1e-9,
                "seed {seed}: {} degrees leave {least} at {x}, and {allowance} was to be left",
                facet.angle_deg
            );
            worst = worst.max(off.abs());
            straight += 1;
            // A straight one is planed only where it leaves no more than was asked for over one that follows.
            let over = |x: f64| allowance * steepness(line) + reaches(&neck, facet, x) - line.at_mm(x);
            let (most, _) = least_along(&neck, facts.run_mm, 60, &over);
            assert!(-most <= stock.facets.straight_within.mm() + 1e-3, "seed {seed}: {most} {facet:?}");
        }
    }
    println!("{straight} straight, {following} following, {worst} mm at the most");
    assert!(straight > 300 && following > 300);
}

/// The corners of the wood's outline after the facets: each facet that follows the back is an edge of it, or lies
/// wholly outside it.
#[test]
fn following_facets_are_in_the_wood_s_outline() {
    let mut edges = 0;
    for Planned { seed, neck, plan, .. } in plans(5000, 60) {
        let Some(facts) = facets(&plan) else { continue };
        let wood = &stage(&plan, StageName::Facets).wood;
        let mut next = numbers(seed);
        for _ in 0..6 {
            let x = between(&mut next, facts.run_mm[0], facts.run_mm[1]);
            let outline = wood.polyline_mm(x, 1e-3).unwrap();
            for facet in &facts.facets {
                let n = way(facet);
                let over =
                    outline.iter().filter(|p| facet.side.sign() * neck.hand_sign() * p[0] >= 0.0).map(|p| {
                        n[0] * (facet.side.sign() * neck.hand_sign() * p[0])
                            - n[1] * p[1]
                            - height(&neck, facts, facet, x)
                    });
                let most = over.fold(f64::NEG_INFINITY, f64::max);
                assert!(most <= 1e-9, "seed {seed} at {x}: {most} beyond {} degrees", facet.angle_deg);
                edges += i32::from(most > -1e-9);
            }
        }
    }
    assert!(edges > 300, "{edges}");
}

/// Everything that a mark may lie on: the side face, the sawn back, the other side's half, and the facets before.
fn before(plan: &CarvingPlan, neck: &Neck, facts: &FacetFacts, facet: usize, x: f64) -> Vec<([f64; 2], f64)> {
    let side = facts.facets[facet].side;
    let edge = control(neck, side, x)[0][0] + bulge(plan, neck);
    let mut faces =
        vec![([1.0, 0.0], edge), ([0.0, 1.0], saw_line(plan, "shaft").depth.at_mm(x)), ([-1.0, 0.0], 0.0)];
    let earlier = facts.facets[..facet].iter().filter(|f| f.side == side);
    faces.extend(earlier.map(|f| (way(f), height(neck, facts, f, x))));
    faces
}

#[test]
fn marks_lie_on_the_facet_and_on_the_faces_beside_it() {
    let mut marks = 0;
    for Planned { seed, neck, plan, .. } in plans(5000, 80) {
        let Some(facts) = facets(&plan) else { continue };
        for (i, facet) in facts.facets.iter().enumerate() {
            for mark in &facet.marks {
                let faces = before(&plan, &neck, facts, i, mark.x_mm);
                let own = (way(facet), height(&neck, facts, facet, mark.x_mm));
                for at in [mark.upper_mm, mark.lower_mm].into_iter().flatten() {
                    let off = |(n, h): &([f64; 2], f64)| n[0] * at[0] + n[1] * at[1] - h;
                    assert!(off(&own).abs() <= 1e-9, "seed {seed} at {}: {facet:?}", mark.x_mm);
                    let on = faces.iter().filter(|f| off(f).abs() <= 1e-9).count();
                    assert!(on > 0, "seed {seed} at {}: {at:?} lies on no face before", mark.x_mm);
                    let beyond = faces.iter().map(off).fold(f64::NEG_INFINITY, f64::max);
                    assert!(beyond <= 1e-9, "seed {seed} at {}: {at:?} lies outside the wood", mark.x_mm);
                    marks += 1;
                }
                if let (Some(a), Some(b)) = (mark.upper_mm, mark.lower_mm) {
                    assert!(a[0] >= b[0] - 1e-9 && a[1] <= b[1] + 1e-9, "seed {seed}: {mark:?}");
                } else {
                    // It takes nothing here: the corner of what is left lies within it.
                    let within =
                        |p: [f64; 2]| faces.iter().all(|(n, h)| n[0] * p[0] + n[1] * p[1] <= h + 1e-9);
                    for (k, (a, h)) in faces.iter().enumerate() {
                        for (b, g) in &faces[k + 1..] {
                            let turn = a[0] * b[1] - a[1] * b[0];
                            if turn.abs() < 1e-9 {
                                continue;
                            }
                            let p = [(h * b[1] - g * a[1]) / turn, (a[0] * g - b[0] * h) / turn];
                            let over = own.0[0] * p[0] + own.0[1] * p[1] - own.1;
                            assert!(!within(p) || over <= 1e-6, "seed {seed}: {facet:?} would cut {over}");
                        }
                    }
                }
            }
        }
    }
    println!("{marks} marks");
    assert!(marks > 3000);
}

/// A line that is said to be on the side face gives depths on the side face, and one on the back places on the back.
#[test]
fn marks_are_drawn_on_the_faces_that_are_told() {
    let mut wrong = Vec::new();
    for Planned { seed, neck, plan, .. } in plans(5000, 40) {
        let Some(facts) = facets(&plan) else { continue };
        let lines = &stage(&plan, StageName::Facets).lines;
        let bulge = bulge(&plan, &neck);
        for facet in &facts.facets {
            let name =
                format!(", {} degrees, {} side: ", (facet.angle_deg * 1e3).round() / 1e3, facet.side.name());
            for line in lines.iter().filter(|l| l.name.contains(&name)) {
                for (mark, at) in line.marks.iter().zip(&facet.marks) {
                    let upper = line.name.ends_with("depth");
                    let Some(p) = (if upper { at.upper_mm } else { at.lower_mm }) else {
                        assert!(mark.distance_mm.is_nan());
                        continue;
                    };
                    let edge = control(&neck, facet.side, at.x_mm)[0][0] + bulge;
                    let back = facts.facets.iter().find(|f| f.angle_deg == 90.0 && f.side == facet.side);
                    let back = back
                        .map_or(f64::INFINITY, |b| height(&neck, facts, b, at.x_mm))
                        .min(saw_line(&plan, "shaft").depth.at_mm(at.x_mm));
                    let off =
                        if line.on == neckwright::carve::Face::Back { p[1] - back } else { p[0] - edge };
                    if off.abs() > 1e-9 {
                        wrong.push(format!(
                            "seed {seed}: {} at {} is {off} off its face",
                            line.name, at.place
                        ));
                    }
                }
            }
        }
    }
    assert!(wrong.is_empty(), "{} marks: {}", wrong.len(), wrong[..3].join("\n"));
}

/// What is left over the allowance at the edges between the facets, by the corners of the polygon that they make and the
/// distance from each to dense points of the back.
fn left(neck: &Neck, plan: &CarvingPlan, facts: &FacetFacts, x: f64, side: Side) -> f64 {
    let mut lines: Vec<([f64; 2], f64)> =
        facts.facets.iter().filter(|f| f.side == side).map(|f| (way(f), height(neck, facts, f, x))).collect();
    lines.push(([1.0, 0.0], control(neck, side, x)[0][0] + bulge(plan, neck)));
    lines.sort_by(|a, b| a.0[1].total_cmp(&b.0[1]));
    let p = control(neck, side, x);
    lines
        .windows(2)
        .map(|w| {
            let ([(a, h), (b, g)], turn) = ([w[0], w[1]], w[0].0[0] * w[1].0[1] - w[0].0[1] * w[1].0[0]);
            let corner = [(h * b[1] - g * a[1]) / turn, (a[0] * g - b[0] * h) / turn];
            least_near(
                &|u| {
                    let q = cubic(&p, u);
                    libm::hypot(corner[0] - q[0], corner[1] - q[1])
                },
                [0.0, 1.0],
                200,
            )
            .0
        })
        .fold(0.0, f64::max)
}

#[test]
fn each_doubling_leaves_a_quarter() {
    let mut spec = Specification::default();
    spec.shaft.profile[0].shape = Shape::C;
    let neck = Neck::new(&spec).unwrap();
    let mut over = Vec::new();
    for rounds in 1..=5 {
        let facets_of = FacetRounds { rounds, straight_within: Length::from_mm(0.0) };
        let stock = Stock { facets: facets_of, ..Stock::default() };
        let plan = plan_of(&neck, &stock);
        let facts = facets(&plan).unwrap();
        // 2, 4, 8, … a side, the back and the one beside the carve line among them.
        let a_side = facts.facets.iter().filter(|f| f.side == Side::Bass).count();
        assert_eq!(a_side, 1 << rounds, "{rounds} rounds");
        let witness = Side::BOTH
            .map(|side| {
                let at =
                    |i: u32| facts.run_mm[0] + (facts.run_mm[1] - facts.run_mm[0]) * f64::from(i) / 128.0;
                (0..=128).map(|i| left(&neck, &plan, facts, at(i), side)).fold(0.0, f64::max)
            })
            .into_iter()
            .fold(0.0, f64::max);
        assert!((witness - facts.most_left_mm).abs() <= 1e-6, "{rounds} rounds: {witness} {facts:?}");
        over.push(facts.most_left_mm - facts.allowance_mm);
    }
    println!("{over:?}");
    for w in over[..3].windows(2) {
        let ratio = w[0] / w[1];
        assert!((3.3..=4.7).contains(&ratio), "{ratio}: {over:?}");
    }
}

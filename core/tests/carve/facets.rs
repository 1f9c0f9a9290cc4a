//! The facets: each touches the finished back moved outward by the allowance, none cuts into that, the marks lie where
//! they say, and every doubling leaves a quarter.

use crate::carve_common::*;
use neckwright::carve::{Datum, Face, Facet, FacetFacts};
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

/// A step along the facet beyond either mark there is no wood: the stage before has taken it, or a facet before.
#[test]
fn marks_are_the_edges_of_what_a_facet_takes() {
    let (mut marks, mut none) = (0, 0);
    for Planned { seed, neck, plan, .. } in plans(5000, 80) {
        let Some(facts) = facets(&plan) else { continue };
        let at = plan.stages().iter().position(|s| s.name == StageName::Facets).unwrap();
        let before = &plan.stages()[at - 1].wood;
        for (i, facet) in facts.facets.iter().enumerate() {
            let n = way(facet);
            let sign = facet.side.sign() * neck.hand_sign();
            let earlier: Vec<&Facet> = facts.facets[..i].iter().filter(|f| f.side == facet.side).collect();
            for mark in &facet.marks {
                let x = mark.x_mm;
                let there = |p: [f64; 2]| {
                    before.contains_mm([x, sign * p[0], -p[1]], 0.0)
                        && earlier.iter().all(|f| {
                            let n = way(f);
                            n[0] * p[0] + n[1] * p[1] <= height(&neck, facts, f, x)
                        })
                };
                let own = height(&neck, facts, facet, x);
                let (Some(upper), Some(lower)) = (mark.upper_mm, mark.lower_mm) else {
                    none += 1;
                    continue;
                };
                let at = format!("seed {seed}, {} degrees at {x}: {upper:?} {lower:?}", facet.angle_deg);
                for p in [upper, lower] {
                    let off = n[0] * p[0] + n[1] * p[1] - own;
                    assert!(off.abs() <= 1e-9, "{at}: {off} off the facet");
                }
                // Along the facet, from the board toward the spine, inward and down.
                let step = |p: [f64; 2], t: f64| [p[0] - t * n[1], p[1] + t * n[0]];
                assert!(!there(step(upper, -1e-5)), "{at}: wood above the upper mark");
                // A side's facets end at the spine, where the other side's begin.
                let spine = neck.section(x).unwrap().control_points_mm(facet.side).unwrap()[3][0];
                let centre = (lower[0] - sign * spine).abs() < 1e-5;
                assert!(!there(step(lower, 1e-5)) || centre, "{at}: wood beyond the lower mark");
                // Where it runs out it touches the wood and takes nothing.
                let runs_out = mark.place.ends_with("runs out");
                if libm::hypot(upper[0] - lower[0], upper[1] - lower[1]) > 1e-3 && !runs_out {
                    // The back's own lower edge is the spine, and marked nowhere.
                    let inner = if facet.angle_deg == 90.0 { 1 } else { 2 };
                    for p in [step(upper, 1e-5), step(lower, -1e-5)].into_iter().take(inner) {
                        // A hair inside the facet's own line.
                        let p = [p[0] - 1e-9 * n[0], p[1] - 1e-9 * n[1]];
                        assert!(
                            there(p),
                            "{at}: {p:?} is no wood that the facet could take ({})",
                            mark.place
                        );
                    }
                }
                marks += 1;
            }
        }
    }
    println!("{marks} marks, {none} without");
    assert!(marks > 2000);
}

/// What is left over the allowance at the edges between the facets, by the corners of the polygon that they make and the
/// distance from each to dense points of the back.
fn left(neck: &Neck, facts: &FacetFacts, x: f64, side: Side) -> f64 {
    // A corner is cut off a large square by one line after the other.
    let mut polygon = vec![[0.0, 0.0], [200.0, 0.0], [200.0, 200.0], [0.0, 200.0]];
    let mut lines: Vec<([f64; 2], f64)> =
        facts.facets.iter().filter(|f| f.side == side).map(|f| (way(f), height(neck, facts, f, x))).collect();
    lines.push(([1.0, 0.0], control(neck, side, x)[0][0]));
    for (n, h) in lines {
        let over = |p: [f64; 2]| n[0] * p[0] + n[1] * p[1] - h;
        let mut left = Vec::new();
        for (a, b) in polygon.iter().zip(polygon.iter().cycle().skip(1)) {
            let (f, g) = (over(*a), over(*b));
            if f <= 0.0 {
                left.push(*a);
            }
            if (f <= 0.0) != (g <= 0.0) {
                let t = f / (f - g);
                left.push([a[0] + t * (b[0] - a[0]), a[1] + t * (b[1] - a[1])]);
            }
        }
        polygon = left;
    }
    let p = control(neck, side, x);
    polygon
        .into_iter()
        .filter(|c| c[1] > p[0][1] && c[0] > 1e-9)
        .map(|corner| {
            let away = |u: f64| {
                let q = cubic(&p, u);
                libm::hypot(corner[0] - q[0], corner[1] - q[1])
            };
            least_near(&away, [0.0, 1.0], 200).0
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
                (0..=128).map(|i| left(&neck, facts, at(i), side)).fold(0.0, f64::max)
            })
            .into_iter()
            .fold(0.0, f64::max);
        assert!(
            (witness - facts.most_left_mm).abs() <= 1e-6,
            "{rounds} rounds: {witness} and {}",
            facts.most_left_mm
        );
        over.push(facts.most_left_mm - facts.allowance_mm);
    }
    println!("{over:?}");
    for w in over[..3].windows(2) {
        let ratio = w[0] / w[1];
        assert!((3.3..=4.7).contains(&ratio), "{ratio}: {over:?}");
    }
}

/// At the ends of a cutter's run the corner changes from square to rounded: no line of a facet goes across that, each says
/// the face that its marks lie on, and a line said to be straight is.
#[test]
fn no_line_goes_across_the_end_of_a_cutter_s_run() {
    let (mut across, mut lines) = (0, 0);
    for Planned { seed, neck, plan, .. } in plans(5200, 60) {
        let (Some(cutter), Some(facts)) = (cutter(&plan), facets(&plan)) else { continue };
        let at = |s: StageName| plan.stages().iter().position(|o| o.name == s).unwrap();
        if at(StageName::Rounding) > at(StageName::Facets) {
            continue;
        }
        let before = &plan.stages()[at(StageName::Facets) - 1].wood;
        for line in &plan.stage(StageName::Facets).unwrap().lines {
            let marked: Vec<_> = line.marks.iter().filter(|m| m.distance_mm.is_finite()).collect();
            let inside = |x: f64| (cutter.run_mm[0]..=cutter.run_mm[1]).contains(&x);
            let within = marked.iter().filter(|m| inside(m.x_mm)).count();
            assert!(within == 0 || within == marked.len(), "seed {seed}: {line:?}");
            // The edge of a radiused board is not straight itself.
            if line.straight && marked.len() > 2 && line.from != Datum::BoardEdge {
                let [a, b] = [marked[0], marked[marked.len() - 1]];
                for m in &marked {
                    let t = (m.x_mm - a.x_mm) / (b.x_mm - a.x_mm);
                    let off = a.distance_mm + t * (b.distance_mm - a.distance_mm) - m.distance_mm;
                    assert!(off.abs() <= 0.0501, "seed {seed}: {off} off in {line:?}");
                }
            }
            lines += 1;
        }
        // What is marked on a side face lies on it, on wood that is there.
        for side in Side::BOTH {
            let faces = plan.stage(StageName::Facets).unwrap().lines.iter();
            let on = if side == Side::Bass { Face::BassSide } else { Face::TrebleSide };
            for mark in
                faces.filter(|l| l.on == on).flat_map(|l| &l.marks).filter(|m| m.distance_mm.is_finite())
            {
                let facet = facts.facets.iter().filter(|f| f.side == side).flat_map(|f| &f.marks);
                let points = facet.filter(|m| m.x_mm == mark.x_mm).filter_map(|m| m.upper_mm);
                let nearest = points.map(|p| p[0]).fold(0.0, f64::max);
                let y = neck.hand_sign() * side.sign() * nearest;
                let edge = before.contains_mm([mark.x_mm, y * (1.0 + 1e-9), -mark.distance_mm], 1e-6);
                assert!(edge, "seed {seed}: {mark:?}");
                across += 1;
            }
        }
    }
    println!("{lines} lines, {across} marks on side faces");
    assert!(lines > 500 && across > 200, "{lines} {across}");
}

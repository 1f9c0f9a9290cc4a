//! Cutters and facets of the carving plan, by brute force.

use neckwright::carve::{CarvingPlan, CutterFacts, Details, FacetFacts};
use neckwright::measure::{Kind, Length};
use neckwright::shape::{Neck, Side};
use neckwright::spec::{CutterShape, Specification, StageName, Stock, numbers};

fn necks(count: usize) -> Vec<(u64, Neck)> {
    let made = (1..).filter_map(|seed| {
        let neck = Neck::new(&Specification::plausible(&mut numbers(seed))).ok()?;
        neck.carving_plan(&Stock::default()).ok().map(|_| (seed, neck))
    });
    made.take(count).collect()
}

fn cutter(plan: &CarvingPlan) -> &CutterFacts {
    match plan.stage(StageName::Rounding).map(|s| &s.details) {
        Some(Details::Cutter(facts)) => facts,
        _ => panic!("no cutter"),
    }
}

fn facets(plan: &CarvingPlan) -> &FacetFacts {
    match plan.stage(StageName::Facets).map(|s| &s.details) {
        Some(Details::Facets(facts)) => facts,
        _ => panic!("no facets"),
    }
}

/// Points of one side of a section `[out, depth]`, thick where it leaves the flat side.
fn side(p: &[[f64; 2]; 4], sign: f64, count: u32) -> Vec<[f64; 2]> {
    (0..=count)
        .map(|i| {
            let u = (f64::from(i) / f64::from(count)).powi(2);
            let s = 1.0 - u;
            let b = [s * s * s, 3.0 * s * s * u, 3.0 * s * u * u, u * u * u];
            let at = |k: usize| (0..4).map(|i| b[i] * p[i][k]).sum::<f64>();
            [sign * at(0), -at(1)]
        })
        .collect()
}

/// The corner that a cutter is run along, and the points that have to stay: the neck with its shaping allowance,
/// stretched downward from the carve line.
fn corner(neck: &Neck, plan: &CarvingPlan, which: Side, x: f64) -> ([f64; 2], Vec<[f64; 2]>) {
    let line = match plan.stage(StageName::Back).map(|s| &s.details) {
        Some(Details::Sawing(lines)) => lines.iter().find(|l| l.name == "shaft").unwrap().depth,
        _ => panic!("no sawing lines"),
    };
    let p = neck.section(x).unwrap().control_points_mm(which).unwrap();
    let sign = which.sign() * neck.hand_sign();
    let (carve, spine) = (-p[0][1], -p[3][1]);
    let stretch = (spine + plan.stock().allowances.shaping.mm() - carve) / (spine - carve);
    let points = side(&p, sign, 400).into_iter().map(|[y, d]| [y, carve + (d - carve) * stretch]).collect();
    // The side face lies as far out as a side that leans outward bulges, which these necks' do not.
    ([sign * p[0][0], line.at_mm(x)], points)
}

/// Whether a cutter of this size takes a point away that lies so far inside both faces.
fn takes(shape: CutterShape, r: f64, [a, b]: [f64; 2]) -> bool {
    match shape {
        CutterShape::QuarterRound => a < r && b < r && libm::hypot(r - a, r - b) > r,
        CutterShape::Cove => libm::hypot(a, b) < r,
        CutterShape::Chamfer => a + b < r,
        CutterShape::Ball => false,
    }
}

#[test]
fn the_largest_safe_cutter_is_the_largest() {
    for (seed, neck) in necks(12) {
        let lean = |i: usize| Side::BOTH.map(|s| neck.laws().control_out.of(s)[i].greatest(1e-6).bound);
        if lean(1)[0] > lean(0)[0] + 1e-9 || lean(1)[1] > lean(0)[1] + 1e-9 {
            continue;
        }
        for shape in [CutterShape::QuarterRound, CutterShape::Cove, CutterShape::Chamfer] {
            let mut stock = Stock::default();
            stock.cutter.shape = shape;
            let Ok(plan) = neck.carving_plan(&stock) else { continue };
            let facts = cutter(&plan);
            let largest = facts.largest_mm.unwrap();
            let [from, to] = plan.stops_mm();
            let mut points = Vec::new();
            for i in 0..=300 {
                let x = from + (to - from) * f64::from(i) / 300.0;
                for which in Side::BOTH {
                    let (corner, kept) = corner(&neck, &plan, which, x);
                    points.extend(kept.into_iter().map(|[y, d]| [corner[0] - y, corner[1] - d]));
                }
            }
            // By halving over the radius.
            let cuts = |r: f64| points.iter().any(|[a, b]| takes(shape, r, [a.max(0.0), *b]));
            let (mut safe, mut deep) = (0.0, 200.0);
            while deep - safe > 1e-7 {
                let mid = 0.5 * (safe + deep);
                if cuts(mid) { deep = mid } else { safe = mid }
            }
            // Between the samples there may be a point that is touched a little sooner, and none later.
            assert!(largest <= safe + 1e-6, "seed {seed} {shape:?}: {largest} cuts, {safe} does not");
            assert!(safe - largest < 2e-2, "seed {seed} {shape:?}: {largest}, and {safe} would do");
            assert!(!cuts(facts.radius_mm), "seed {seed} {shape:?}");

            let with = |radius: f64| {
                let mut stock = stock.clone();
                stock.cutter.radius = Some(Length::from_mm(radius));
                neck.carving_plan(&stock)
            };
            if largest < 0.5 {
                continue;
            }
            let plan = with(largest).unwrap();
            let clearance = plan.stage(StageName::Rounding).unwrap().clearance.unwrap();
            assert!(
                clearance.holds() && clearance.least.value.abs() < 1e-4,
                "seed {seed} {shape:?} {clearance:?}"
            );
            let error = with(largest + 0.01).unwrap_err();
            assert_eq!(error.faults()[0].kind, Kind::TooDeep, "seed {seed} {shape:?}: {error}");
            assert_eq!(error.faults()[0].path, "cutter.radius");
            let nearest = points.iter().map(|[a, b]| {
                let r = largest + 0.01;
                match shape {
                    CutterShape::QuarterRound => r - libm::hypot((r - a).max(0.0), (r - b).max(0.0)),
                    CutterShape::Cove => libm::hypot(*a, *b) - r,
                    _ => (a + b - r) / 2f64.sqrt(),
                }
            });
            // In the finest of samples the cut is there to see, but where the limit is the carve line itself: there the
            // arc leaves the side face so flat that a hundredth of a millimetre takes some nanometres.
            assert!(nearest.fold(f64::INFINITY, f64::min) < 1e-3, "seed {seed} {shape:?}");
        }
    }
}

#[test]
fn facets_touch_the_back_with_their_allowance_on() {
    for (seed, neck) in necks(10) {
        let stock = Stock { order: None, ..Stock::default() };
        let plan = neck.carving_plan(&stock).unwrap();
        let facts = facets(&plan);
        let [from, to] = facts.run_mm;
        for facet in &facts.facets {
            let angle = facet.angle_deg.to_radians();
            let way = if facet.angle_deg == 90.0 { [0.0, 1.0] } else { [libm::cos(angle), libm::sin(angle)] };
            let Some(height) = &facet.height else { continue };
            let slope = (height.value_mm[1] - height.value_mm[0]) / (height.x_mm[1] - height.x_mm[0]);
            let steep = libm::hypot(slope, 1.0);
            let reach = |x: f64, u: f64| {
                let p = neck.section(x).unwrap().control_points_mm(facet.side).unwrap();
                let sign = facet.side.sign() * neck.hand_sign();
                let s = 1.0 - u;
                let b = [s * s * s, 3.0 * s * s * u, 3.0 * s * u * u, u * u * u];
                (0..4).map(|i| b[i] * (way[0] * sign * p[i][0] - way[1] * p[i][1])).sum::<f64>()
            };
            let gap = |x: f64, u: f64| (height.at_mm(x) - reach(x, u)) / steep;
            let mut nearest = (f64::INFINITY, from, 0.0);
            for i in 0..=200 {
                for j in 0..=100 {
                    let (x, u) = (from + (to - from) * f64::from(i) / 200.0, f64::from(j) / 100.0);
                    let here = gap(x, u);
                    if here < nearest.0 {
                        nearest = (here, x, u);
                    }
                }
            }
            // From the nearest sample downhill, both ways by turns.
            let (mut dx, mut du) = ((to - from) / 200.0, 0.01);
            while dx > 1e-9 || du > 1e-12 {
                let (_, x, u) = nearest;
                let tries = [(x - dx, u), (x + dx, u), (x, u - du), (x, u + du)];
                let better = tries
                    .into_iter()
                    .map(|(x, u)| (x.clamp(from, to), u.clamp(0.0, 1.0)))
                    .map(|(x, u)| (gap(x, u), x, u))
                    .min_by(|a, b| a.0.total_cmp(&b.0))
                    .unwrap();
                if better.0 < nearest.0 {
                    nearest = better;
                } else {
                    (dx, du) = (0.5 * dx, 0.5 * du);
                }
            }
            let off = nearest.0 - facts.allowance_mm;
            assert!(off > -1e-9, "seed {seed}, {} degrees: cuts in by {off}", facet.angle_deg);
            assert!(off < 1e-6, "seed {seed}, {} degrees: nowhere nearer than {off}", facet.angle_deg);
        }
    }
}

/// The error of a tangent polygon falls by four with each doubling of its sides.
#[test]
fn what_facets_leave_falls_by_four_with_each_round() {
    // A shaft of one section, so that every facet is one plane.
    let text = r#"{ "shaft": { "thickness": [ { "at": "nut", "thickness": 22 } ] },
        "fretboard": { "widths": [ { "at": "fret 22", "width": 43 } ] },
        "bridge": { "string_spread": 34 } }"#;
    let neck = Neck::from_json(text).unwrap();
    let left = |rounds: u32| {
        let mut stock = Stock::default();
        stock.facets.rounds = rounds;
        let plan = neck.carving_plan(&stock).unwrap();
        let facts = facets(&plan);
        let a_side = facts.facets.iter().filter(|f| f.side == Side::Bass).count();
        assert_eq!(a_side, 1 << rounds);
        assert!(facts.facets.iter().all(|f| f.straight && f.over_mm < 1e-9));
        facts.most_left_mm - facts.allowance_mm
    };
    let all: Vec<f64> = (1..=5).map(left).collect();
    for pair in all.windows(2) {
        let ratio = pair[0] / pair[1];
        assert!((3.3..4.7).contains(&ratio), "{all:?}");
    }
}

#[test]
fn a_facet_s_marks_lie_on_it_and_on_the_wood_before() {
    for (seed, neck) in necks(10) {
        let plan = neck.carving_plan(&Stock::default()).unwrap();
        let at = plan.stages().iter().position(|s| s.name == StageName::Facets).unwrap();
        let before = &plan.stages()[at - 1].wood;
        for facet in &facets(&plan).facets {
            let angle = facet.angle_deg.to_radians();
            let way = if facet.angle_deg == 90.0 { [0.0, 1.0] } else { [libm::cos(angle), libm::sin(angle)] };
            for marks in &facet.marks {
                for edge in [marks.upper_mm, marks.lower_mm].into_iter().flatten() {
                    if let Some(height) = &facet.height {
                        let off = way[0] * edge[0] + way[1] * edge[1] - height.at_mm(marks.x_mm);
                        assert!(off.abs() < 1e-9, "seed {seed}: {off} off its facet");
                    }
                    let y = facet.side.sign() * neck.hand_sign() * edge[0];
                    assert!(
                        before.contains_mm([marks.x_mm, y, -edge[1]], 1e-6),
                        "seed {seed}: no wood there"
                    );
                }
            }
        }
    }
}

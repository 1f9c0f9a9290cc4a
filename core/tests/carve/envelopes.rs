//! No wood of the plan comes into the next one's or into the finished neck, and every proven clearance is the one that
//! is there: over 300 random necks and stocks, against dense samples.

use std::sync::LazyLock;

use crate::carve_common::*;
use neckwright::carve::{Clearance, CutterFacts, Datum, Face, Wood};
use neckwright::shape::{Neck, Point, Side};
use neckwright::spec::{CutterShape, HeadstockKind, StageName, Stock, numbers};

const PLANS: usize = 300;
static PLANNED: LazyLock<Vec<Planned>> = LazyLock::new(|| plans(0, PLANS).collect());
/// How far a witness may lie outside, mm.
const WITHIN: f64 = 1e-6;

/// Stations at which something begins or ends.
fn ends(planned: &Planned) -> Vec<f64> {
    let (neck, plan) = (&planned.neck, &planned.plan);
    let mut at: Vec<f64> = saw_lines(plan).iter().flat_map(|l| l.depth.x_mm).collect();
    at.extend(plan.stops_mm());
    at.extend(cutter(plan).iter().flat_map(|c| c.run_mm));
    let (volute, heel, head) = (neck.volute(), neck.heel(), neck.headstock());
    at.extend([volute.start_x_mm, volute.tip_x_mm, volute.end_x_mm, head.root_x_mm]);
    at.extend([volute.start_x_mm - planned.stock.allowances.headstock.mm()]);
    at.extend([heel.start_x_mm, heel.block_x_mm, heel.glued_from_x_mm, heel.end_x_mm]);
    at.extend([0.0, neck.layout().board().end_mm()]);
    // Right at the end of a slanted nut a sliver of board has an outline of its own that is none.
    at.extend(neck.layout().board().nut_ends_mm().map(|x| x + 0.02 * x.signum()));
    at.extend(neck.reach_mm());
    if let Some(block) = timber(plan).heel_block {
        at.extend([block.from_x_mm, block.from_x_mm + block.size_mm[0]]);
    }
    at
}

/// Whether a point lies in a polygon or no further than `within` from it.
fn in_polygon(polygon: &[Point], p: Point, within: f64) -> bool {
    let mut inside = false;
    let mut nearest = f64::INFINITY;
    for (a, b) in polygon.iter().zip(polygon.iter().cycle().skip(1)) {
        if (a[1] > p[1]) != (b[1] > p[1]) && p[0] < a[0] + (p[1] - a[1]) / (b[1] - a[1]) * (b[0] - a[0]) {
            inside = !inside;
        }
        let (d, v) = ([b[0] - a[0], b[1] - a[1]], [p[0] - a[0], p[1] - a[1]]);
        let square = d[0] * d[0] + d[1] * d[1];
        let t = if square > 0.0 { ((d[0] * v[0] + d[1] * v[1]) / square).clamp(0.0, 1.0) } else { 0.0 };
        nearest = nearest.min(libm::hypot(v[0] - t * d[0], v[1] - t * d[1]));
    }
    inside || nearest <= within
}

#[test]
fn every_wood_contains_the_next_and_the_finished_neck() {
    let (mut points, mut by_polygon, mut refusals, mut count) = (0usize, 0usize, 0usize, 0);
    for planned in &*PLANNED {
        let Planned { seed, neck, plan, refused, .. } = planned;
        count += 1;
        refusals += refused.len();
        let mut next = numbers(seed ^ 0xbeef);
        let woods: Vec<(&str, &Wood)> = [("start", plan.start())]
            .into_iter()
            .chain(plan.stages().iter().map(|s| (s.name.name(), &s.wood)))
            .collect();
        let [from, to] = plan.start().reach_mm();
        let all = ends(planned);
        let mut stations: Vec<f64> = (0..4).map(|_| between(&mut next, from, to)).collect();
        for _ in 0..3 {
            let end = all[(next() % all.len() as u64) as usize];
            stations.extend([end - WITHIN, end, end + WITHIN]);
        }
        for (i, x) in stations.into_iter().enumerate() {
            let finished = neck.section(x).map_or_else(|_| Vec::new(), |s| s.polyline_mm(0.02).unwrap());
            let outlines: Vec<Vec<Point>> =
                woods.iter().map(|(_, w)| w.polyline_mm(x, 0.05).unwrap()).collect();
            for (k, (name, wood)) in woods.iter().enumerate() {
                let inner = outlines.get(k + 1).map_or(&finished, |o| o);
                let fine = (i % 13 == 1).then(|| wood.polyline_mm(x, 1e-4).unwrap());
                for p in inner.iter().chain(if k % 3 == 0 { &finished[..] } else { &[] }) {
                    points += 1;
                    assert!(
                        wood.contains_mm([x, p[0], p[1]], WITHIN),
                        "seed {seed}: {p:?} at {x} is not in the wood after {name}"
                    );
                    if let Some(fine) = &fine {
                        by_polygon += 1;
                        assert!(
                            in_polygon(fine, *p, 1e-4 + WITHIN),
                            "seed {seed}: {p:?} at {x} is not in the outline after {name}"
                        );
                    }
                }
            }
        }
    }
    println!("{count} plans, {refusals} refusals, {points} points, {by_polygon} by polygon");
    assert_eq!(count, PLANS);
    let glued = |scarf: bool| {
        let plans = PLANNED.iter().map(|p| timber(&p.plan));
        plans.filter(|t| t.heel_block.is_some() && t.scarf_mm.is_some() == scarf).count()
    };
    assert!(glued(true) >= 10 && glued(false) >= 30, "{} {}", glued(true), glued(false));
    assert!(points > 1_000_000 && by_polygon > 100_000);
}

/// Where a heel's block is glued on, its front end leaves the saw's allowance over the finished back before it too, and
/// starting it any later would not.
#[test]
fn a_glued_block_begins_where_it_has_to() {
    let mut seen = 0;
    for Planned { seed, neck, plan, stock, .. } in &*PLANNED {
        let Some(block) = timber(plan).heel_block else { continue };
        let saw = plan.stock().allowances.saw.mm();
        let [_, _, thickness] = timber(plan).blank_mm;
        let bottom = neck.layout().board().thickness_mm() + thickness;
        let [_, end] = neck.wood_reach_mm();
        // The finished back from the corner where the block's front end meets the blank's underside.
        let gap = |front: f64| {
            move |x: f64| {
                let deep = deepest(neck, x);
                if deep > bottom { x - front } else { libm::hypot((x - front).max(0.0), bottom - deep) }
            }
        };
        let least = |front: f64| least_along(neck, [neck.heel().start_x_mm, end], 200, &gap(front)).0;
        assert!(least(block.from_x_mm) >= saw - 1e-6, "seed {seed}: {} {saw}", least(block.from_x_mm));
        // One that is longer than it has to be may begin sooner.
        if block.short_of_end_mm > 0.0 || stock.heel_block.length.is_none() {
            let later = least(block.from_x_mm + 2.0 * saw + 1e-3);
            assert!(later < saw, "seed {seed}: {later} {saw}");
        }
        seen += 1;
    }
    assert!(seen >= 40, "{seen}");
}

/// No mark of a saw's line lies where there is no wood on which to make it.
#[test]
fn the_saw_s_marks_lie_on_the_wood() {
    let (mut seen, mut at_a_block) = (0, 0);
    for Planned { seed, neck, plan, .. } in &*PLANNED {
        let at = plan.stages().iter().position(|s| s.name == StageName::Back).unwrap();
        let before = &plan.stages()[at - 1].wood;
        let glue = neck.layout().board().thickness_mm();
        for line in plan.stages()[at].lines.iter().filter(|l| l.on == Face::BothSides) {
            for mark in &line.marks {
                let top = match line.from {
                    Datum::BlankTop => glue,
                    Datum::BoardTop if plan.stock().board.glued && !done(plan, at, StageName::Board) => {
                        glue - plan.stock().board.thickness.unwrap().mm()
                    }
                    _ => 0.0,
                };
                // Along a board's edge the depth is no less than from its crown.
                let [from, to] = before.reach_mm();
                let deep = before.depth_mm(mark.x_mm.clamp(from, to)).unwrap();
                let over = top + mark.distance_mm - deep;
                assert!(over <= 1e-5, "seed {seed}: {} at {}: {over} below the wood", line.name, mark.x_mm);
                seen += 1;
                at_a_block += i32::from(mark.place == "heel block's front end");
            }
        }
    }
    assert!(seen > 5000 && at_a_block > 10, "{seen} {at_a_block}");
}

/// Whether a step is done before the one at this place.
fn done(plan: &neckwright::carve::CarvingPlan, at: usize, name: StageName) -> bool {
    plan.stages()[..at].iter().any(|s| s.name == name)
}

#[test]
fn points_outside_are_told_apart() {
    // What every witness above rests on: a point outside the wood is said to be outside.
    for planned in &PLANNED[..40] {
        let Planned { seed, plan, .. } = planned;
        let mut next = numbers(seed ^ 0xfeed);
        for stage in plan.stages() {
            let [from, to] = stage.wood.reach_mm();
            for _ in 0..40 {
                let x = between(&mut next, from, to);
                let outline = stage.wood.polyline_mm(x, 1e-4).unwrap();
                let p = [between(&mut next, -80.0, 80.0), between(&mut next, -90.0, 5.0)];
                let (inner, outer) = (in_polygon(&outline, p, 0.0), in_polygon(&outline, p, 1e-3));
                if inner == outer {
                    let says = stage.wood.contains_mm([x, p[0], p[1]], 0.0);
                    assert_eq!(says, inner, "seed {seed}: {p:?} at {x} after {}", stage.name.name());
                }
            }
        }
    }
}

/// Compares what is proven with a least clearance by samples.
fn agrees(what: &str, seed: u64, clearance: &Clearance, witness: f64) {
    let proven = clearance.least.proven;
    assert!(proven <= witness + 1e-9, "seed {seed}: {what}: {proven} is proven and there is only {witness}");
    assert!(witness - proven <= 1e-3, "seed {seed}: {what}: {proven} is proven and there is {witness}");
    assert!(clearance.holds(), "seed {seed}: {what}: {clearance:?}");
    let value = clearance.least.value;
    assert!(value >= proven && value - proven <= 1e-3, "seed {seed}: {what}: {clearance:?}");
}

/// How deep the finished back reaches at a station, on either side, square to the crown plane.
fn deepest(neck: &Neck, x: f64) -> f64 {
    Side::BOTH.map(|side| reach(&control(neck, side, x), [0.0, 1.0])).into_iter().fold(0.0, f64::max)
}

fn saw_clearances(planned: &Planned) {
    let Planned { seed, neck, plan, stock, .. } = planned;
    let [tip, end] = neck.wood_reach_mm();
    let allowance = stock.allowances.saw.mm();
    let mut least = f64::INFINITY;
    for line in saw_lines(plan) {
        let zone = [(line.depth.x_mm[0] - allowance).max(tip), (line.depth.x_mm[1] + allowance).min(end)];
        let gap = |x: f64| (line.depth.at_mm(x) - deepest(neck, x)) / steepness(&line.depth);
        let (witness, _) = least_along(neck, zone, 60, &gap);
        agrees(line.name, *seed, &line.clearance, witness);
        assert_eq!(line.clearance.needed_mm, allowance);
        least = least.min(line.clearance.spare_mm());
    }
    let of_stage = stage(plan, StageName::Back).clearance.unwrap();
    assert_eq!(of_stage.spare_mm(), least, "seed {seed}");
}

fn headstock_clearance(planned: &Planned) {
    let Planned { seed, neck, plan, stock, .. } = planned;
    let head = neck.headstock();
    let left = stock.allowances.headstock.mm();
    let (sin, cos) = (libm::sin(head.angle_deg.to_radians()), libm::cos(head.angle_deg.to_radians()));
    let slope = if head.kind == HeadstockKind::Angled { -sin / cos } else { 0.0 };
    let thick = head.thickness_mm + left;
    // Square to the face.
    let gap = |x: f64| {
        let face = head.tip_face_depth_mm + slope * (x - head.tip_x_mm);
        thick - (deepest(neck, x) - face) * cos
    };
    let to = (neck.volute().start_x_mm - left).max(head.tip_x_mm);
    if to > head.tip_x_mm {
        let (witness, _) = least_along(neck, [head.tip_x_mm, to], 40, &gap);
        let clearance = stage(plan, StageName::HeadstockThickness).clearance.unwrap();
        agrees("headstock thickness", *seed, &clearance, witness);
        assert_eq!(clearance.needed_mm, left);
    }
}

/// Half width of the wood that stands at a station, on one side, board or neck wood, whichever reaches further out.
fn sawn_half(neck: &Neck, wood: &Wood, side: Side, x: f64) -> f64 {
    let sign = neck.hand_sign() * side.sign();
    let outline = wood.polyline_mm(x, 1.0).unwrap();
    outline.iter().map(|p| sign * p[0]).fold(f64::NEG_INFINITY, f64::max)
}

/// The way of the saw on one side as it is marked: straight lines from mark to mark, from the headstock's sawn end on.
fn way_of_saw(planned: &Planned, side: Side) -> Vec<Point> {
    let Planned { neck, plan, stock, .. } = planned;
    let taper = stage(plan, StageName::Taper);
    let [_, end] = neck.wood_reach_mm();
    let own = |name: &str| {
        let name = format!("{name}, {} side", side.name());
        taper.lines.iter().filter(move |l| l.name == name).flat_map(|l| &l.marks)
    };
    let marks = own("headstock's outline").chain(own("taper"));
    let mut way: Vec<Point> = marks.map(|m| [m.x_mm, m.distance_mm]).collect();
    let [.., a, b] = way[..] else { panic!("no taper") };
    // On to the heel's sawn end.
    let sawn_end = end + stock.allowances.taper.mm();
    if b[0] < sawn_end {
        way.push([sawn_end, b[1] + (sawn_end - b[0]) / (b[0] - a[0]) * (b[1] - a[1])]);
    }
    way
}

/// The least distance in plan from the way of the saw to the finished outline, by dense samples of the outline.
fn least_in_plan(neck: &Neck, side: Side, way: &[Point]) -> f64 {
    let [tip, end] = neck.wood_reach_mm();
    let mut first = 0;
    let mut from = f64::NEG_INFINITY;
    // Whatever lies further off along the neck than this is further off.
    let reach = 4.0;
    let mut gap = |x: f64| {
        let p = [x, control(neck, side, x)[0][0]];
        if x < from {
            first = 0;
        }
        from = x;
        while way[first + 1][0] < x - reach {
            first += 1;
        }
        let near = way[first..].windows(2).take_while(|w| w[0][0] <= x + reach);
        let to = |w: &[Point]| {
            let (d, v) = ([w[1][0] - w[0][0], w[1][1] - w[0][1]], [p[0] - w[0][0], p[1] - w[0][1]]);
            let square = d[0] * d[0] + d[1] * d[1];
            let t = if square > 0.0 { ((d[0] * v[0] + d[1] * v[1]) / square).clamp(0.0, 1.0) } else { 0.0 };
            libm::hypot(v[0] - t * d[0], v[1] - t * d[1])
        };
        near.map(to).fold(f64::INFINITY, f64::min)
    };
    let gap = core::cell::RefCell::new(&mut gap);
    let at = |x: f64| (gap.borrow_mut())(x);
    let head = [tip, neck.headstock().root_x_mm + reach];
    // The outline turns within millimetres where the headstock widens, and hardly anywhere else.
    let samples = libm::ceil((head[1] - head[0]) * 20.0) as usize;
    let least = least_near(&at, head, samples).0;
    least.min(least_along(neck, [head[1], end], 60, &at).0)
}

fn taper_clearance(planned: &Planned) {
    let Planned { seed, neck, plan, stock, .. } = planned;
    let taper = stage(plan, StageName::Taper);
    let out = stock.allowances.taper.mm();
    let [tip, end] = neck.wood_reach_mm();
    let mut witness = f64::INFINITY;
    for side in Side::BOTH {
        let way = way_of_saw(planned, side);
        witness = witness.min(least_in_plan(neck, side, &way));
        // The saw cuts the ends square, as far beyond the finished ones.
        assert!((way[0][0] - (tip - out)).abs() < 1e-9, "seed {seed}: {way:?}");
        // The marks are the wood: straight from one to the next, nowhere inside the outline and nowhere far outside it.
        for w in way.windows(2).filter(|w| w[1][0] > w[0][0]) {
            for t in [0.01, 0.3, 0.6, 0.99] {
                let x = w[0][0] + t * (w[1][0] - w[0][0]);
                let marked = w[0][1] + t * (w[1][1] - w[0][1]);
                if x < neck.headstock().root_x_mm {
                    let wood = sawn_half(neck, &taper.wood, side, x);
                    assert!((wood - marked).abs() < 1e-9, "seed {seed}: {marked} marked, {wood} at {x}");
                }
            }
        }
    }
    let clearance = taper.clearance.unwrap();
    agrees("taper", *seed, &clearance, witness);
    assert_eq!(clearance.needed_mm, out);
    let [from, to] = taper.wood.reach_mm();
    assert!(tip - from >= out - 1e-9 && to - end >= out - 1e-9, "seed {seed}: {from} {to}");
}

/// An outline that steps out at once is where an offset straight sideways would leave next to nothing.
#[test]
fn a_step_in_the_headstock_s_outline_keeps_its_distance() {
    let steps = [
        r#"[{"along": 20, "offset": 22}, {"along": 22, "offset": 40}, {"along": 120, "offset": 38}]"#,
        r#"[{"along": 6, "offset": 34}, {"along": 60, "offset": 30}, {"along": 64, "offset": 36}]"#,
    ];
    for (edge, angle) in steps.into_iter().zip([10.0, 25.0]) {
        let head = format!(r#"{{"headstock": {{"angle": {angle}, "bass_edge": {edge}}}}}"#);
        let neck = Neck::from_json(&head).unwrap();
        for out in [0.0, 0.5, 1.0, 3.0] {
            let mut stock = neckwright::spec::Stock::default();
            stock.allowances.taper = neckwright::measure::Length::from_mm(out);
            let plan = plan_of(&neck, &stock);
            let planned = Planned { seed: 0, neck: neck.clone(), stock, plan, refused: Vec::new() };
            taper_clearance(&planned);
            let marks = way_of_saw(&planned, Side::Bass).len();
            assert!(marks < 60, "{marks} marks with {out} mm outside {edge}");
        }
    }
}

/// The least clearance of a cutter guided by side face and sawn back, in the sections, to the back with the shaping
/// allowance.
pub fn cutter_gap(planned: &Planned, facts: &CutterFacts) -> f64 {
    let Planned { neck, plan, stock, .. } = planned;
    let (base, radius) = (saw_line(plan, "shaft").depth, facts.radius_mm);
    let more = stock.allowances.shaping.mm();
    let gap = |side: Side, x: f64| {
        let p = thickened(neck, side, x, more);
        let (edge, back) = (control(neck, side, x)[0][0], base.at_mm(x));
        let at = |u: f64| {
            let q = cubic(&p, u);
            match facts.shape {
                CutterShape::QuarterRound => {
                    let d = [q[0] - (edge - radius), q[1] - (back - radius)].map(|d| d.max(0.0));
                    radius - libm::hypot(d[0], d[1])
                }
                CutterShape::Cove => libm::hypot(edge - q[0], back - q[1]) - radius,
                CutterShape::Chamfer => {
                    (edge + back - radius - q[0] - q[1]) * core::f64::consts::FRAC_1_SQRT_2
                }
                CutterShape::Ball => 0.0,
            }
        };
        least_near(&at, [0.0, 1.0], 24).0
    };
    Side::BOTH
        .map(|side| least_along(neck, plan.stops_mm(), 16, &|x| gap(side, x)).0)
        .into_iter()
        .fold(f64::INFINITY, f64::min)
}

fn rounding_clearance(planned: &Planned) {
    let Planned { seed, plan, .. } = planned;
    // A ball touches: what it leaves is looked at in `carve_ball`.
    let Some(facts) = cutter(plan).filter(|c| c.shape != CutterShape::Ball) else { return };
    let clearance = stage(plan, StageName::Rounding).clearance.unwrap();
    agrees(facts.shape.name(), *seed, &clearance, cutter_gap(planned, facts));
}

fn shaped_clearances(planned: &Planned) {
    let Planned { seed, neck, plan, .. } = planned;
    let [from, to] = plan.stops_mm();
    let contour = stage(plan, StageName::Contour);
    let over = |x: f64| contour.wood.depth_mm(x).unwrap() - deepest(neck, x);
    let (witness, _) = least_along(neck, [from, to], 30, &over);
    agrees("contour", *seed, &contour.clearance.unwrap(), witness);
    if let Some(facts) = facets(plan) {
        let stage = stage(plan, StageName::Facets);
        let mut witness = f64::INFINITY;
        for facet in &facts.facets {
            let Some(height) = &facet.height else {
                witness = witness.min(facts.allowance_mm);
                continue;
            };
            let angle = facet.angle_deg.to_radians();
            let way = [libm::cos(angle), libm::sin(angle)];
            let gap =
                |x: f64| (height.at_mm(x) - reach(&control(neck, facet.side, x), way)) / steepness(height);
            let (least, _) = least_along(neck, [from, to], 40, &gap);
            witness = witness.min(least);
        }
        if !facts.facets.is_empty() {
            agrees("facets", *seed, &stage.clearance.unwrap(), witness);
        }
    }
}

#[test]
fn proven_clearances_are_those_that_are_there() {
    let mut shapes = [0; 3];
    for planned in &*PLANNED {
        saw_clearances(planned);
        headstock_clearance(planned);
        taper_clearance(planned);
        rounding_clearance(planned);
        shaped_clearances(planned);
        let shape = cutter(&planned.plan).map(|c| c.shape);
        let guided = [CutterShape::QuarterRound, CutterShape::Cove, CutterShape::Chamfer];
        for (n, s) in shapes.iter_mut().zip(guided) {
            *n += i32::from(shape == Some(s));
        }
    }
    assert!(shapes.iter().all(|n| *n > 30), "{shapes:?}");
}

/// Necks whose sides are as different as they may be: carved from far apart, with one curvature at the spine.
#[test]
fn a_neck_with_sides_far_apart_stays_in_every_wood() {
    let necks = [
        r#"{"fretboard": {"radius": "flat"}, "shaft": {
            "carve_line": [{"at": "nut", "depth": 12}], "treble_carve_line": [{"at": "nut", "depth": 2.5}],
            "profile": [{"at": 0, "shoulder": 0.3, "belly": 0.45, "treble": {"belly": 0.6}}]}}"#,
        r#"{"rod": {"fitted": false}, "fretboard": {"radius": "flat"}, "shaft": {
            "carve_line": [{"at": "nut", "depth": 16.33}], "treble_carve_line": [{"at": "nut", "depth": 1.44}],
            "profile": [{"at": 0, "shoulder": 0.423, "belly": 0.351, "treble": {"belly": 0.698}}]}}"#,
    ];
    let mut points = 0;
    for (neck, shape) in
        necks.iter().flat_map(|neck| CutterShape::ALL.iter().map(move |shape| (neck, *shape)))
    {
        let neck = Neck::from_json(neck).unwrap();
        let mut stock = Stock::default();
        stock.cutter.shape = shape;
        let plan = plan_of(&neck, &stock);
        let [from, to] = neck.wood_reach_mm();
        for i in 0..=150 {
            let x = from + (to - from) * f64::from(i) / 150.0;
            let finished = neck.section(x).unwrap().polyline_mm(1e-3).unwrap();
            for stage in plan.stages() {
                for [y, z] in &finished {
                    points += 1;
                    assert!(
                        stage.wood.contains_mm([x, *y, *z], WITHIN),
                        "{}, {}: [{y}, {z}] at {x} is gone",
                        shape.name(),
                        stage.name.name()
                    );
                }
            }
        }
    }
    assert!(points > 100_000);
}

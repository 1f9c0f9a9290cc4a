//! Random plans, and the finished neck and its allowances by other means than the plan's own.
#![allow(dead_code, missing_docs)]

use neckwright::carve::{CarvingPlan, SawLine, Stage, Straight, sanding_plan};
use neckwright::carve::{CutterFacts, Details, FacetFacts, TimberFacts};
use neckwright::measure::{Error, Kind, Length, Station};
use neckwright::shape::{Neck, Side};
use neckwright::spec::{
    BoardStock, Construction, Cutter, DepthAt, HeelBlockStock, HeelMade, Saw, TrebleSide,
};
use neckwright::spec::{Specification, StageName, Stock, numbers};

/// A random neck with a stock, and the plan that they make.
pub struct Planned {
    pub seed: u64,
    pub neck: Neck,
    pub stock: Stock,
    pub plan: CarvingPlan,
    /// What was refused on the way to this stock.
    pub refused: Vec<Error>,
}

/// The neck and the stock that a seed draws; `None` where the specification makes no neck.
pub fn drawn(seed: u64) -> Option<(Neck, Stock)> {
    let mut next = numbers(seed);
    let mut spec = Specification::plausible(&mut next);
    if seed % 5 == 2 {
        lopsided(&mut spec, &mut next);
    }
    let neck = Neck::new(&spec).ok()?;
    let stock = Stock::plausible(&mut next);
    Some((deep_heeled(neck, &spec, &stock, &mut next), stock))
}

/// The neck with a heel so deep that it is worth a block, where the stock glues one on and such a heel can be made.
pub fn deep_heeled(neck: Neck, spec: &Specification, stock: &Stock, next: &mut dyn FnMut() -> u64) -> Neck {
    if stock.heel_block.made != HeelMade::GluedOn {
        return neck;
    }
    let mut spec = spec.clone();
    let (more, radius) = (between(next, 8.0, 30.0), between(next, 6.0, 20.0));
    for share in [1.0, 0.75, 0.5, 0.35] {
        spec.heel.block_depth = Some(Length::from_mm(neck.heel().block_depth_mm + share * more));
        spec.heel.sweep_radius = Some(Length::from_mm(share * radius));
        if let Ok(deep) = Neck::new(&spec) {
            return deep;
        }
    }
    neck
}

/// The blank and what is told about it.
pub fn timber(plan: &CarvingPlan) -> &TimberFacts {
    match &plan.stage(StageName::Blank).unwrap().details {
        Details::Timber(facts) => facts,
        other => panic!("{other:?}"),
    }
}

/// A profile whose sides differ as much as they may and still meet smoothly: one carve line deep, the other shallow, the
/// back flatter on the treble side.
fn lopsided(spec: &mut Specification, next: &mut dyn FnMut() -> u64) {
    let shaft = &mut spec.shaft;
    let line = |depth: f64| vec![DepthAt { at: Station::NUT, depth: Length::from_mm(depth) }];
    let [deep, shallow] = [between(next, 4.0, 15.0), between(next, 1.5, 4.0)];
    shaft.carve_line = line(deep);
    shaft.treble_carve_line = Some(line(shallow));
    for p in &mut shaft.profile {
        p.crease = false;
        p.lean = None;
        (p.shoulder, p.belly) = (Some(between(next, 0.25, 0.6)), Some(between(next, 0.3, 0.5)));
        p.treble = Some(TrebleSide { belly: Some(between(next, 0.4, 0.75)), ..TrebleSide::default() });
    }
}

/// A refusal says what would make the plan possible, and is of a kind that a plausible stock may have.
pub fn assert_helpful(seed: u64, error: &Error) {
    for fault in error.faults() {
        let kind = fault.kind;
        let known = matches!(kind, Kind::TooDeep | Kind::TooSmall | Kind::Conflict);
        assert!(known, "seed {seed}: {fault} ({})", kind.name());
        assert!(!fault.remedy.is_empty() && !fault.reason.is_empty(), "seed {seed}: {fault}");
    }
}

/// What a seed makes: `None` where the specification makes no neck. A stock that is refused is made easier step by
/// step, so that most of what was drawn stays.
pub fn planned(seed: u64) -> Option<Planned> {
    let (neck, mut stock) = drawn(seed)?;
    let mut refused = Vec::new();
    for attempt in 0..4 {
        let error = match neck.carving_plan(&stock) {
            Ok(plan) => return Some(Planned { seed, neck, stock, plan, refused }),
            Err(error) => error,
        };
        assert_helpful(seed, &error);
        stock = easier(stock, attempt);
        if attempt > 0 && error.faults().iter().any(|f| f.path.starts_with("heel_block")) {
            stock.heel_block = HeelBlockStock::default();
        }
        refused.push(error);
    }
    let said: Vec<String> = refused.iter().map(ToString::to_string).collect();
    panic!("seed {seed} makes no plan: {}", said.join("\n"));
}

/// A stock that asks for less: allowances that follow each other and no sizes or lines of its own; in one piece and
/// with the largest safe cutter; without cutter.
fn easier(mut stock: Stock, attempt: u32) -> Stock {
    match attempt {
        0 => {
            let own = &mut stock.allowances;
            own.contour = None;
            let grits = sanding_plan(&stock.sanding, None, None).unwrap().total_mm;
            own.shaping = Length::from_mm(own.shaping.mm().max(grits));
            own.headstock = Length::from_mm(own.headstock.mm().max(grits));
            own.saw = Length::from_mm(own.saw.mm().max(own.shaping.mm()));
            (stock.length, stock.width, stock.thickness) = (None, None, None);
            stock.heel_block = HeelBlockStock { made: stock.heel_block.made, ..HeelBlockStock::default() };
            stock.board = BoardStock { glued: stock.board.glued, ..BoardStock::default() };
            stock.saw = Saw { shaft_line: None, headstock_thickness: None, ..stock.saw };
        }
        1 => {
            stock.construction = Construction::OnePiece;
            stock.cutter = Cutter { radius: None, ..stock.cutter };
        }
        _ => {
            let mut order = stock.order.clone().unwrap_or_else(|| stock.usual_order());
            order.retain(|s| *s != StageName::Rounding);
            stock.order = Some(order);
        }
    }
    stock
}

/// Plans of so many necks from a seed on.
pub fn plans(first: u64, count: usize) -> impl Iterator<Item = Planned> {
    (first..first + 20 * count as u64).filter_map(planned).take(count)
}

/// A neck with a stock of its own; panics where they make no plan.
pub fn plan_of(neck: &Neck, stock: &Stock) -> CarvingPlan {
    neck.carving_plan(stock).unwrap_or_else(|e| panic!("{e}"))
}

pub fn saw_lines(plan: &CarvingPlan) -> &[SawLine] {
    match &plan.stage(StageName::Back).unwrap().details {
        Details::Sawing(lines) => lines,
        other => panic!("{other:?}"),
    }
}

pub fn saw_line<'a>(plan: &'a CarvingPlan, name: &str) -> &'a SawLine {
    saw_lines(plan).iter().find(|l| l.name == name).unwrap()
}

pub fn cutter(plan: &CarvingPlan) -> Option<&CutterFacts> {
    match &plan.stage(StageName::Rounding)?.details {
        Details::Cutter(facts) => Some(facts),
        other => panic!("{other:?}"),
    }
}

pub fn facets(plan: &CarvingPlan) -> Option<&FacetFacts> {
    match &plan.stage(StageName::Facets)?.details {
        Details::Facets(facts) => Some(facts),
        other => panic!("{other:?}"),
    }
}

pub fn stage(plan: &CarvingPlan, name: StageName) -> &Stage {
    plan.stage(name).unwrap()
}

/// The four control points of one side of the finished back, `[outward, below the crown plane]`.
pub fn control(neck: &Neck, side: Side, x: f64) -> [[f64; 2]; 4] {
    let laws = neck.laws();
    let [from, to] = neck.wood_reach_mm();
    let x = x.clamp(from, to);
    let at = |k: usize| {
        [laws.control_out.of(side)[k].at(x).unwrap(), laws.control_depth.of(side)[k].at(x).unwrap()]
    };
    [at(0), at(1), at(2), at(3)]
}

/// The same with so much more thickness at the spine, the carve line kept: the spine's control points go down by all of
/// it, the first handle by the shoulder, its share of the carved depth; on the treble side of a profile whose sides meet
/// smoothly by the bass side's.
pub fn thickened(neck: &Neck, side: Side, x: f64, by: f64) -> [[f64; 2]; 4] {
    let mut p = control(neck, side, x);
    let creased = neck.normalised().shaft.profile.iter().any(|p| p.crease);
    let own = if creased { p } else { control(neck, Side::Bass, x) };
    p[1][1] += by * (own[1][1] - own[0][1]) / (own[3][1] - own[0][1]);
    p[2][1] += by;
    p[3][1] += by;
    p
}

/// A point of a cubic.
pub fn cubic(p: &[[f64; 2]; 4], u: f64) -> [f64; 2] {
    let v = 1.0 - u;
    [0, 1].map(|k| {
        v * v * v * p[0][k] + 3.0 * v * v * u * p[1][k] + 3.0 * v * u * u * p[2][k] + u * u * u * p[3][k]
    })
}

/// How far a side reaches in a direction: a cubic is greatest at its ends or where its derivative, a quadratic, is zero.
pub fn reach(p: &[[f64; 2]; 4], way: [f64; 2]) -> f64 {
    let v = p.map(|p| way[0] * p[0] + way[1] * p[1]);
    let at = |u: f64| {
        let w = 1.0 - u;
        w * w * w * v[0] + 3.0 * w * w * u * v[1] + 3.0 * w * u * u * v[2] + u * u * u * v[3]
    };
    let (d0, d1, d2) = (v[1] - v[0], v[2] - v[1], v[3] - v[2]);
    let (a, b, c) = (d0 - 2.0 * d1 + d2, d1 - d0, d0);
    let mut most = v[0].max(v[3]);
    let root = b * b - a * c;
    if root >= 0.0 {
        let q = -(b + libm::copysign(libm::sqrt(root), b));
        for u in [q / a, c / q] {
            if (0.0..=1.0).contains(&u) {
                most = most.max(at(u));
            }
        }
    }
    most
}

/// The least of a function: sampled at so many places and both ends, then about the three best valleys by golden
/// sections. Returns the value and the place.
pub fn least_near(f: &dyn Fn(f64) -> f64, [from, to]: [f64; 2], samples: usize) -> (f64, f64) {
    const GOLDEN: f64 = 0.618_033_988_749_894_9;
    let step = (to - from) / samples as f64;
    let at = |i: usize| if i == samples { to } else { from + step * i as f64 };
    let seen: Vec<f64> = (0..=samples).map(|i| f(at(i))).collect();
    let mut valleys: Vec<usize> = (0..=samples)
        .filter(|&i| (i == 0 || seen[i - 1] >= seen[i]) && (i == samples || seen[i + 1] >= seen[i]))
        .collect();
    valleys.sort_by(|a, b| seen[*a].total_cmp(&seen[*b]));
    let mut best = (f64::INFINITY, from);
    for i in valleys.into_iter().take(3) {
        let (mut a, mut b) = (at(i.saturating_sub(1)), at((i + 1).min(samples)));
        let (mut c, mut d) = (b - GOLDEN * (b - a), a + GOLDEN * (b - a));
        let (mut fc, mut fd) = (f(c), f(d));
        for _ in 0..48 {
            if fc <= fd {
                (b, d, fd) = (d, c, fc);
                c = b - GOLDEN * (b - a);
                fc = f(c);
            } else {
                (a, c, fc) = (c, d, fd);
                d = a + GOLDEN * (b - a);
                fd = f(d);
            }
        }
        for found in [(fc, c), (fd, d), (seen[i], at(i))] {
            if found.0 < best.0 {
                best = found;
            }
        }
    }
    best
}

/// The least of a function over a stretch of the neck that may have kinks at the joints of its laws: stretch by stretch.
pub fn least_along(neck: &Neck, [from, to]: [f64; 2], samples: usize, f: &dyn Fn(f64) -> f64) -> (f64, f64) {
    let stations = joints_between(neck, from, to);
    stations
        .windows(2)
        .map(|w| least_near(f, [w[0], w[1]], samples))
        .fold((f64::INFINITY, from), |a, b| if b.0 < a.0 { b } else { a })
}

/// The joints of the neck's laws between two stations, and those two.
pub fn joints_between(neck: &Neck, from: f64, to: f64) -> Vec<f64> {
    let laws = neck.laws();
    let mut at = vec![from, to];
    at.extend(laws.spine_depth.breaks());
    for side in Side::BOTH {
        for law in laws.control_out.of(side).iter().chain(*laws.control_depth.of(side)) {
            at.extend(law.breaks());
        }
    }
    at.retain(|x| *x >= from && *x <= to);
    at.sort_by(f64::total_cmp);
    at.dedup_by(|b, a| *b - *a < 1e-9);
    at
}

pub fn steepness(line: &Straight) -> f64 {
    libm::hypot(1.0, line.slope())
}

/// A straight line through a plan's first and last mark.
pub fn through(line: &neckwright::carve::Line) -> impl Fn(f64) -> f64 {
    let (a, b) = (line.marks[0].clone(), line.marks[line.marks.len() - 1].clone());
    move |x| a.distance_mm + (x - a.x_mm) / (b.x_mm - a.x_mm) * (b.distance_mm - a.distance_mm)
}

/// `a`, `b` uniformly apart: a number between them.
pub fn between(next: &mut dyn FnMut() -> u64, a: f64, b: f64) -> f64 {
    a + (b - a) * (next() >> 11) as f64 / (1u64 << 53) as f64
}

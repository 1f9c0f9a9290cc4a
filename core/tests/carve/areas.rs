//! Sections of every wood by the polygon that is drawn of them, and volumes by an adaptive rule that is not the
//! library's: over random plans, round stages among them.

use crate::carve_common::*;
use neckwright::carve::{Details, Wood};
use neckwright::shape::{Neck, Point};
use neckwright::spec::{StageName, Stock, numbers};

/// Area by the shoelace formula.
fn area(polygon: &[Point]) -> f64 {
    let twice = |(a, b): (&Point, &Point)| a[0] * b[1] - a[1] * b[0];
    0.5 * polygon.iter().zip(polygon.iter().cycle().skip(1)).map(twice).sum::<f64>()
}

#[test]
fn areas_are_those_of_the_outlines() {
    let (mut sections, mut worst) = (0, 0.0_f64);
    for Planned { seed, neck, plan, .. } in plans(7000, 75) {
        let mut next = numbers(seed ^ 0xa4ea);
        let nut = neck.layout().board().nut_ends_mm();
        for stage in plan.stages() {
            let [from, to] = stage.wood.reach_mm();
            for _ in 0..4 {
                let x = between(&mut next, from, to);
                // Across a slanted nut the finished outline has a fold.
                if x > nut[0] - 1e-9 && x < nut[1] + 1e-9 {
                    continue;
                }
                let exact = stage.wood.area_mm2(x);
                let outline = stage.wood.polyline_mm(x, 1e-6).unwrap();
                assert!(outline.iter().all(|p| p[0].is_finite() && p[1].is_finite()), "seed {seed} at {x}");
                let off = (area(&outline) - exact).abs() / exact;
                assert!(
                    off <= 1e-7,
                    "seed {seed}, {} at {x}: {exact} and {} drawn",
                    stage.name.name(),
                    area(&outline)
                );
                worst = worst.max(off);
                sections += 1;
            }
        }
    }
    println!("{sections} sections, {worst} at the most");
    assert!(sections > 2500);
}

/// The integral of the sections, adaptively, between the stations where something begins or ends.
fn volume(rule: &[(f64, f64)], stations: &[f64], wood: &Wood) -> f64 {
    let [from, to] = wood.reach_mm();
    let mut at: Vec<f64> = stations.iter().copied().filter(|x| *x > from && *x < to).collect();
    at.extend([from, to]);
    at.sort_by(f64::total_cmp);
    at.dedup_by(|b, a| *b - *a < 1e-9);
    // In parts, lest a corner close to an end be overlooked.
    let parts = 16;
    at.windows(2)
        .flat_map(|w| {
            (0..parts).map(|i| [i, i + 1].map(|i| w[0] + (w[1] - w[0]) * f64::from(i) / f64::from(parts)))
        })
        .map(|[a, b]| crate::common::integrate(rule, a, b, 1e-10, &mut |x| wood.area_mm2(x)))
        .sum()
}

#[test]
fn volumes_are_the_integrals_of_the_sections() {
    let rule = crate::common::gauss20();
    let mut worst = 0.0_f64;
    for Planned { seed, neck, plan, .. } in plans(7500, 24) {
        let parts = neck.volume_mm3();
        let mut stations = crate::common::joints(&neck);
        stations.extend(saw_lines(&plan).iter().flat_map(|l| l.depth.x_mm));
        stations.extend(plan.stops_mm());
        stations.extend(cutter(&plan).iter().flat_map(|c| c.run_mm));
        // Ends of the blanks, of what is sawn in plan, and of the slab's cut.
        let board = neck.layout().board();
        let (from, to) = (board.start_mm(), board.end_mm());
        // The board's blank reaches 5 mm over the nut, but not over the headstock's face.
        let spare = plan.stock().board.length.unwrap().mm() - (to - from);
        let before = (from - neck.headstock().root_x_mm).min(5.0).min(0.5 * spare).max(0.0);
        let [tip, end] = neck.wood_reach_mm();
        let own = &plan.stock().allowances;
        let (out, left) = (own.taper.mm(), own.headstock.mm());
        stations.extend([
            from - before,
            to + spare - before,
            tip - out,
            end + out,
            neck.volute().start_x_mm - left,
        ]);
        stations.extend(plan.start().reach_mm());
        stations.extend([tip - out - plan.stock().saw.kerf.mm(), neck.heel().glued_from_x_mm]);
        stations.push(neck.heel().block_x_mm);
        // Where the saw turns around the headstock.
        let marked = stage(&plan, StageName::Taper).lines.iter().flat_map(|l| &l.marks);
        stations.extend(marked.map(|m| m.x_mm));
        let Details::Timber(timber) = &stage(&plan, StageName::Blank).details else { panic!("no timber") };
        let way = timber.ways.iter().find(|w| w.construction == plan.stock().construction).unwrap();
        let spare = timber.blank_mm[0] - way.needed_mm[0];
        stations.push(end + out + plan.stock().saw.kerf.mm() + spare);
        stations.extend(timber.heel_block.iter().flat_map(|b| [b.from_x_mm, b.from_x_mm + b.size_mm[0]]));
        let mut bored = plan.stock().board.glued;
        let mut holes = false;
        for stage in plan.stages() {
            bored |= stage.name == StageName::RodChannel;
            holes |= stage.name == StageName::HeadstockThickness;
            // The holes go through the slab with its allowance on, which only sanding takes.
            let over = if stage.name == StageName::Sanding { 0.0 } else { left };
            let radius = 0.5 * neck.normalised().headstock.hole_diameter.mm();
            let long = neck.headstock().posts.len() as f64
                * core::f64::consts::PI
                * radius
                * radius
                * (neck.headstock().thickness_mm + over);
            let gone = if bored { parts.rod_channel_mm3 } else { 0.0 } + if holes { long } else { 0.0 };
            let own = volume(&rule, &stations, &stage.wood) - gone;
            let off = (own - stage.left_mm3).abs() / stage.left_mm3;
            assert!(
                off <= 1e-12,
                "seed {seed}, {}: {} and {own} by another rule, {off}",
                stage.name.name(),
                stage.left_mm3
            );
            worst = worst.max(off);
        }
        let last = plan.stages().last().unwrap().left_mm3;
        assert!((last - plan.finished_mm3()).abs() <= 1e-12 * plan.stock_mm3(), "seed {seed}");
    }
    println!("{worst} at the most");
}

#[test]
fn volumes_under_many_facets_on_a_wavy_neck() {
    // Each wave brings every facet in and out again.
    let list: Vec<String> = (0..60)
        .map(|i| {
            let depth = 21.5 + if i % 2 == 0 { 0.25 } else { -0.25 } + 0.02 * f64::from(i);
            format!(r#"{{"at": {}, "thickness": {depth}}}"#, 10.0 + 6.5 * f64::from(i))
        })
        .collect();
    let neck = Neck::from_json(&format!(r#"{{"shaft": {{"thickness": [{}]}}}}"#, list.join(","))).unwrap();
    let rule = crate::common::gauss20();
    for stock in
        [r#"{"facets": {"rounds": 5}}"#, r#"{"cutter": {"shape": "ball", "radius": 0.5, "paths": 12}}"#]
    {
        let plan = neck.carving_plan(&Stock::from_json(stock).unwrap()).unwrap();
        let mut stations = crate::common::joints(&neck);
        stations.extend(plan.stops_mm());
        stations.extend(cutter(&plan).iter().flat_map(|c| c.run_mm));
        let [before, rounded, faceted] =
            [StageName::Stops, StageName::Rounding, StageName::Facets].map(|name| stage(&plan, name));
        // Of what is taken, so that what others have to be told of the rest of the wood does not matter here.
        let [a, b] = plan.stops_mm();
        stations.retain(|x| *x > a && *x < b);
        stations.extend([a, b]);
        stations.sort_by(f64::total_cmp);
        stations.dedup_by(|b, a| *b - *a < 1e-9);
        for (from, to) in [(before, rounded), (rounded, faceted)] {
            let taken: f64 = stations
                .windows(2)
                .flat_map(|w| (0..8).map(|i| [i, i + 1].map(|i| w[0] + (w[1] - w[0]) * f64::from(i) / 8.0)))
                .map(|[a, b]| {
                    let gone = &mut |x: f64| from.wood.area_mm2(x) - to.wood.area_mm2(x);
                    crate::common::integrate(&rule, a, b, 1e-10, gone)
                })
                .sum();
            let off = (taken - to.removed_mm3).abs() / to.left_mm3;
            assert!(off <= 1e-12, "{stock}, {}: {taken} and {}, {off}", to.name.name(), to.removed_mm3);
        }
    }
}

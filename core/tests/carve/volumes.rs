//! What goes and what stays, and the sections of the square stages by an independent library of polygons, from the numbers
//! that the plan hands out.

use crate::carve_common::{deep_heeled, drawn, timber};
use i_overlay::core::fill_rule::FillRule;
use i_overlay::core::overlay_rule::OverlayRule;
use i_overlay::float::single::SingleFloatOverlay;
use neckwright::carve::{CarvingPlan, Details, Stage, Straight};
use neckwright::measure::Length;
use neckwright::shape::{Neck, Side};
use neckwright::spec::{HeelMade, Radius, Specification, StageName, Stock, numbers};

type Polygon = Vec<[f64; 2]>;

fn area(polygons: &[Vec<Polygon>]) -> f64 {
    let one = |p: &Polygon| {
        let next = p.iter().cycle().skip(1);
        0.5 * p.iter().zip(next).map(|(a, b)| a[0] * b[1] - b[0] * a[1]).sum::<f64>()
    };
    polygons.iter().flatten().map(one).sum::<f64>().abs()
}

fn rectangle([a, b]: [f64; 2], [top, bottom]: [f64; 2]) -> Polygon {
    vec![[a, top], [b, top], [b, bottom], [a, bottom]]
}

fn both(a: &[Vec<Polygon>], b: &[Vec<Polygon>], rule: OverlayRule) -> Vec<Vec<Polygon>> {
    a.to_vec().overlay(&b.to_vec(), rule, FillRule::NonZero)
}

/// All points with `n·p ≤ h`, as far as any neck reaches.
fn half_plane(n: [f64; 2], h: f64) -> Vec<Vec<Polygon>> {
    const FAR: f64 = 400.0;
    let length = libm::hypot(n[0], n[1]);
    let n = n.map(|v| v / length);
    let along = [-n[1], n[0]];
    let at = |t: f64, s: f64| [0, 1].map(|k| (h / length + s) * n[k] + t * along[k]);
    vec![vec![vec![at(-FAR, 0.0), at(FAR, 0.0), at(FAR, -FAR), at(-FAR, -FAR)]]]
}

/// The stretches' lines that hold at a station.
fn over(lines: &[(Straight, [f64; 2])], x: f64) -> Vec<f64> {
    lines.iter().filter(|(_, zone)| x >= zone[0] && x <= zone[1]).map(|(line, _)| line.at_mm(x)).collect()
}

/// The section at a station on the shaft or heel after a stage, from the plan's own numbers: `[y, depth]`, right-handed.
fn section(neck: &Neck, plan: &CarvingPlan, stage: &Stage, x: f64) -> f64 {
    let at = |name: StageName| plan.stages().iter().position(|s| s.name == name).unwrap();
    let done = |name: StageName| at(name) <= at(stage.name);
    let stock = plan.stock();
    let glue = neck.layout().board().thickness_mm();
    let size = |length: Option<Length>| length.unwrap().mm();
    let (half, board_half) = (0.5 * size(stock.width), 0.5 * size(stock.board.width));
    let top = if done(StageName::Board) { 0.0 } else { glue - size(stock.board.thickness) };
    let wood = rectangle([-half, half], [glue, glue + size(stock.thickness)]);
    let board = rectangle([-board_half, board_half], [top, glue]);
    let mut shape = both(&[vec![wood]], &[vec![board]], OverlayRule::Union);
    if let Some(block) = timber(plan).heel_block.filter(|b| x >= b.from_x_mm) {
        let [_, width, thickness] = block.size_mm;
        let under = glue + size(stock.thickness);
        let block = rectangle([-0.5 * width, 0.5 * width], [under, under + thickness]);
        shape = both(&shape, &[vec![block]], OverlayRule::Union);
    }
    if done(StageName::Taper) {
        let Some(lines) = plan.stage(StageName::Taper).map(|s| &s.lines) else { panic!("no taper") };
        for side in Side::BOTH {
            let name = format!("taper, {} side", side.name());
            let line = lines.iter().find(|l| l.name == name).unwrap();
            let (first, last) = (&line.marks[0], line.marks.last().unwrap());
            let t = (x - first.x_mm) / (last.x_mm - first.x_mm);
            let out = first.distance_mm + t * (last.distance_mm - first.distance_mm);
            shape = both(&shape, &half_plane([side.sign(), 0.0], out), OverlayRule::Intersect);
        }
    }
    if done(StageName::Sides) {
        let half = 0.5 * neck.width_mm(x).unwrap();
        let true_sides = rectangle([-half, half], [-100.0, 300.0]);
        shape = both(&shape, &[vec![true_sides]], OverlayRule::Intersect);
    }
    if done(StageName::Back) {
        let Some(Details::Sawing(lines)) = plan.stage(StageName::Back).map(|s| &s.details) else { panic!() };
        let last = lines.len() - 1;
        let zones: Vec<(Straight, [f64; 2])> = lines
            .iter()
            .enumerate()
            .map(|(i, l)| (l.depth, [l.depth.x_mm[0], if i == last { 1e4 } else { l.depth.x_mm[1] }]))
            .collect();
        for depth in over(&zones, x) {
            shape = both(&shape, &half_plane([0.0, 1.0], depth), OverlayRule::Intersect);
        }
    }
    if done(StageName::HeadstockThickness) {
        let heel = neck.heel();
        if x >= heel.block_x_mm {
            shape = both(&shape, &half_plane([0.0, 1.0], heel.block_depth_mm), OverlayRule::Intersect);
        }
    }
    if done(StageName::Facets) && (plan.stops_mm()[0]..=plan.stops_mm()[1]).contains(&x) {
        let Some(Details::Facets(facts)) = plan.stage(StageName::Facets).map(|s| &s.details) else {
            panic!()
        };
        for facet in &facts.facets {
            let angle = facet.angle_deg.to_radians();
            let way = if facet.angle_deg == 90.0 { [0.0, 1.0] } else { [libm::cos(angle), libm::sin(angle)] };
            let height = facet.height.expect("a straight facet").at_mm(x);
            let plane = half_plane([facet.side.sign() * way[0], way[1]], height);
            shape = both(&shape, &plane, OverlayRule::Intersect);
        }
    }
    area(&shape)
}

#[test]
fn the_square_stages_by_a_library_of_polygons() {
    let (mut seen, mut glued) = (0, 0);
    for seed in 1.. {
        let mut spec = Specification::plausible(&mut numbers(seed));
        // Flat boards are polygons; one scale ends the board square across.
        spec.fretboard.radius = Radius::Flat;
        spec.fretboard.end_radius = None;
        spec.scale.bass = None;
        spec.scale.treble = None;
        let Ok(neck) = Neck::new(&spec) else { continue };
        let own = neck.normalised().heel.block_width != neckwright::spec::BlockWidth::Board;
        let mut stock = Stock::default();
        stock.facets.straight_within = Length::from_mm(5.0);
        let neck = if seed % 2 == 0 {
            stock.heel_block.made = HeelMade::GluedOn;
            deep_heeled(neck, &spec, &stock, &mut numbers(seed))
        } else {
            neck
        };
        if seed % 4 == 0 {
            // As narrow as it may be, so that a step is left on either side of it.
            let Ok(plan) = neck.carving_plan(&stock) else { continue };
            let [_, width, _] = timber(&plan).ways[0].block_mm.unwrap();
            stock.heel_block.width = Some(Length::from_mm(width + 0.1));
        }
        stock.order = Some(stock.usual_order().into_iter().filter(|s| *s != StageName::Rounding).collect());
        let Ok(plan) = neck.carving_plan(&stock) else { continue };
        if own {
            continue;
        }
        let to = neck.wood_reach_mm()[1].min(neck.layout().board().end_mm());
        for stage in plan.stages().iter().take_while(|s| s.name != StageName::Contour) {
            for i in 1..20 {
                let x = to * f64::from(i) / 20.0;
                let (ours, theirs) = (stage.wood.area_mm2(x), section(&neck, &plan, stage, x));
                // The library of polygons counts on a grid of some 1e-7 mm.
                assert!(
                    (ours - theirs).abs() <= 2e-7 * ours,
                    "seed {seed}, {} at {x}: {ours}, by polygons {theirs}",
                    stage.name.name()
                );
                seen += 1;
                glued += u32::from(plan.start().depth_mm(x).unwrap() > plan.start().depth_mm(0.0).unwrap());
            }
        }
        if seen > 4000 {
            break;
        }
    }
    assert!(glued > 150, "{glued}");
}

#[test]
fn what_goes_and_what_stays_is_the_stock() {
    let (mut seen, mut glued) = (0, 0);
    for seed in 1.. {
        let Some((neck, stock)) = drawn(seed) else { continue };
        let Ok(plan) = neck.carving_plan(&stock) else { continue };
        let removed: f64 = plan.stages().iter().map(|s| s.removed_mm3).sum();
        let all = removed + plan.finished_mm3();
        assert!((all - plan.stock_mm3()).abs() <= 1e-12 * plan.stock_mm3(), "seed {seed}");
        assert!(plan.stages().iter().all(|s| s.removed_mm3 >= -1e-9 * plan.stock_mm3()), "seed {seed}");
        let parts = neck.volume_mm3();
        // Blanks are boxes; where the channel is cut already it is gone from the start.
        let stock = plan.stock();
        let boxed = |sizes: [Option<Length>; 3]| sizes.iter().map(|s| s.unwrap().mm()).product::<f64>();
        let timber = boxed([stock.length, stock.width, stock.thickness])
            + boxed([stock.board.length, stock.board.width, stock.board.thickness])
            + timber(&plan).heel_block.map_or(0.0, |_| {
                let block = &stock.heel_block;
                glued += 1;
                boxed([block.length, block.width, block.thickness])
            })
            - if stock.board.glued { parts.rod_channel_mm3 } else { 0.0 };
        assert!((timber - plan.stock_mm3()).abs() <= 1e-12 * timber, "seed {seed}");
        seen += 1;
        if seen == 300 {
            break;
        }
    }
    assert!(glued > 30, "{glued}");
}

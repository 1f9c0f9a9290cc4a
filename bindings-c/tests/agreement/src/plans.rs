//! Carving plans and the wood after each stage.

use crate::script::{Script, Words};
use crate::{drawings, solids};
use neckwright::carve::{CarvingPlan, Wood};
use neckwright::measure::Error;
use neckwright::shape::Neck;
use neckwright::spec::Stock;
use serde_json::json;

const STOCK: &str = include_str!("../../../../core/examples/neck_book/evening_class_stock.json");

pub(crate) fn all(out: &mut Script, name: &str, neck: &Neck) {
    for json in [r#"{"neck": {"thickness": 1}}"#, r#"{"none": 1}"#, "["] {
        out.call("nw_neck_carving_plan").handle("neck", name).text_of("stock_json", json);
        let made = Stock::from_json(json).and_then(|stock| neck.carving_plan(&stock));
        out.answer(made, |out, _| {
            out.keeps("plan_out", "none");
        });
    }
    let handle = format!("{name}.plan");
    let usual = if name == "class" { STOCK } else { "{}" };
    out.call("nw_neck_carving_plan").handle("neck", name).text_of("stock_json", usual);
    let stock = Stock::from_json(usual).expect("a stock");
    let plan = neck.carving_plan(&stock).unwrap_or_else(|e| panic!("{name}: {e}"));
    out.keeps("plan_out", &handle);
    out.call("nw_plan_document").handle("plan", &handle).tells(&json!({
        "stock": plan.stock(),
        "stages": plan.stages(),
        "stock_mm3": plan.stock_mm3(),
        "finished_mm3": plan.finished_mm3(),
        "stops_mm": plan.stops_mm(),
        "glued_from_mm": plan.glued_from_mm(),
    }));
    let count = plan.stages().len();
    out.call("nw_plan_stage_count").handle("plan", &handle).gives("count_out", Words::default().size(count));
    wood(out, &handle, usize::MAX, plan.start());
    for (stage, at) in plan.stages().iter().enumerate() {
        wood(out, &handle, stage, &at.wood);
    }
    drawings::of_plan(out, name, neck, &plan);
    stages(out, &handle, &plan);
}

fn wood(out: &mut Script, plan: &str, stage: usize, wood: &Wood) {
    let [from, to] = wood.reach_mm();
    let x: Vec<f64> = (0..8).map(|i| from + (to - from) * (f64::from(i) + 0.5) / 8.0).collect();
    let begin = |out: &mut Script, function: &str| {
        out.call(function).handle("plan", plan).size("stage", stage);
    };
    begin(out, "nw_plan_wood_reach_mm");
    out.size("capacity", 2).gives_reals("reach_mm", &[from, to]);
    begin(out, "nw_plan_wood_volume_mm3");
    out.gives_reals("volume_mm3_out", &[wood.volume_mm3()]);
    begin(out, "nw_plan_wood_area_mm2");
    let areas: Vec<f64> = x.iter().map(|x| wood.area_mm2(*x)).collect();
    out.reals("x_mm", &x).size("count", x.len()).gives_reals("area_mm2", &areas);
    for x in [&x[..], &x[3..4], &[1e6]] {
        begin(out, "nw_plan_wood_depth_mm");
        out.reals("x_mm", x).size("count", x.len());
        let depths: Result<Vec<f64>, Error> = x.iter().map(|x| wood.depth_mm(*x)).collect();
        out.answer(depths, |out, depths| {
            out.gives_reals("depth_mm", &depths);
        });
    }
    let points: Vec<[f64; 3]> =
        x.iter().flat_map(|x| [1.0, 8.0, 40.0].map(|k| [*x, k - 4.0, -0.6 * k])).collect();
    for within_mm in [0.0, 2.0] {
        begin(out, "nw_plan_wood_contains");
        out.reals("points_mm", points.as_flattened())
            .size("count", points.len())
            .real("within_mm", within_mm);
        let inside =
            |words: Words, point: &[f64; 3]| words.byte(u8::from(wood.contains_mm(*point, within_mm)));
        out.gives("inside", points.iter().fold(Words::default(), inside));
    }
    for (x_mm, chord_mm) in [(x[2], 0.05), (x[5], 1.0), (1e6, 0.05), (x[2], -1.0)] {
        let corners = wood.polyline_mm(x_mm, chord_mm);
        begin(out, "nw_plan_wood_polyline_count");
        out.real("x_mm", x_mm).real("chord_mm", chord_mm);
        out.answer(corners.clone(), |out, corners| {
            out.gives("count_out", Words::default().size(corners.len()));
        });
        begin(out, "nw_plan_wood_polyline");
        out.real("x_mm", x_mm).real("chord_mm", chord_mm);
        out.size("capacity", corners.as_ref().map_or(2, |corners| 2 * corners.len()));
        out.answer(corners, |out, corners| {
            out.gives_reals("corners_mm", corners.as_flattened());
        });
    }
}

/// The solids of three stages, of one piece and of two.
fn stages(out: &mut Script, plan: &str, told: &CarvingPlan) {
    let last = told.stages().len() - 1;
    for (stage, wood) in
        [(usize::MAX, told.start()), (2, &told.stages()[2].wood), (last, &told.stages()[last].wood)]
    {
        let name = format!("{plan}.solids.{}", stage.wrapping_add(1));
        out.call("nw_plan_wood_solids").handle("plan", plan).size("stage", stage);
        out.answer(wood.solids(), |out, made| {
            out.keeps("solids_out", &name);
            solids::all(out, &name, &made);
        });
    }
}

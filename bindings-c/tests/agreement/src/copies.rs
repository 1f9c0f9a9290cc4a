//! Necks copied from readings and from scans.

use crate::bench::CSV;
use crate::necks::stations;
use crate::script::Script;
use neckwright::inspect::{Copied, Readings, copy_cloud, copy_neck, place_cloud};
use neckwright::measure::Error;
use neckwright::shape::Neck;
use neckwright::solid::Mesh;
use neckwright::spec::{CloudOptions, CopyOptions, MeshOptions, SolidOptions};
use serde_json::json;

/// Quick ones.
const SCAN: &str = r#"{"hand": "as base", "sample": 2000, "rounds": 1, "stations": 20, "around": 6}"#;

pub(crate) fn all(out: &mut Script, (name, json): (&str, &str)) {
    let neck = &Neck::from_json(json).expect("a neck");
    let readings = Readings::from_csv(CSV).expect("readings");
    out.call("nw_readings_from_csv").text_of("text", CSV).keeps("readings_out", "to_copy");
    for options_json in ["{}", r#"{"none": 1}"#] {
        out.call("nw_neck_copy").handle("neck", name).handle("readings", "to_copy");
        out.text_of("options_json", options_json);
        let made = CopyOptions::from_json(options_json)
            .and_then(|options| copy_neck(neck.normalised(), &readings, &options));
        out.answer(made, |out, copied| {
            out.keeps("copied_out", "copied");
            told(out, neck, &copied);
        });
    }
    scan(out, name, neck);
}

fn told(out: &mut Script, neck: &Neck, copied: &Copied) {
    out.call("nw_copied_document").handle("copied", "copied").tells(copied);
    for most in [0, 2] {
        let readings = copied.sharpest_next(most);
        out.call("nw_copied_sharpest_next").handle("copied", "copied").size("most", most);
        out.tells(&json!({ "mean_uncertainty_mm": copied.mean_uncertainty_mm(), "readings": readings }));
    }
    let [from, to] = neck.shaft_reach_mm();
    let on_shaft: Vec<f64> = stations(neck).into_iter().filter(|x| (from..=to).contains(x)).collect();
    for x in [&on_shaft[..], &on_shaft[1..2], &[1e6]] {
        out.call("nw_copied_thickness_uncertainty_mm").handle("copied", "copied");
        out.reals("x_mm", x).size("count", x.len());
        let all: Result<Vec<f64>, Error> = x.iter().map(|x| copied.thickness_uncertainty_mm(*x)).collect();
        out.answer(all, |out, all| {
            out.gives_reals("uncertainty_mm", &all);
        });
    }
}

/// Points on the whole neck: corners of a mesh, and along its sections.
fn points(neck: &Neck) -> Vec<[f64; 3]> {
    let wood = neck.solids(&SolidOptions::default()).expect("solids").neck_wood;
    let Mesh { positions_mm, .. } = wood.mesh(&MeshOptions::default()).expect("a mesh");
    let mut points: Vec<[f64; 3]> = positions_mm;
    let [from, to] = neck.reach_mm();
    let mut x = from + 0.5;
    while x < to {
        let corners =
            neck.section(x).and_then(|section| section.outline().polyline(0.01)).expect("an outline");
        for pair in corners.windows(2) {
            let [from, to] = [pair[0], pair[1]];
            points.extend((0..8).map(|k| {
                let part = f64::from(k) / 8.0;
                [x, from[0] + (to[0] - from[0]) * part, from[1] + (to[1] - from[1]) * part]
            }));
        }
        x += 6.0;
    }
    points
}

fn scan(out: &mut Script, name: &str, neck: &Neck) {
    let all = points(neck);
    for (points, options_json) in [(&all[..], SCAN), (&all[..50], SCAN), (&all[..50], r#"{"none": 1}"#)] {
        let options = CloudOptions::from_json(options_json);
        let placed = options.clone().and_then(|options| place_cloud(neck, points, &options));
        let copied = options.and_then(|options| copy_cloud(neck.normalised(), points, &options));
        let begin = |out: &mut Script, function: &str| {
            out.call(function).handle("neck", name).reals("points_mm", points.as_flattened());
            out.size("count", points.len()).text_of("options_json", options_json);
        };
        begin(out, "nw_neck_place_cloud");
        out.answer(placed, |out, placed| {
            out.tells(&placed);
        });
        begin(out, "nw_neck_copy_cloud");
        out.answer(copied, |out, copied| {
            out.tells(&copied);
        });
    }
}

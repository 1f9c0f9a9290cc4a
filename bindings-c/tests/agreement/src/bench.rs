//! Readings, and what they say of a neck.

use crate::script::{Script, Words};
use crate::{NECKS, drawings};
use neckwright::inspect::{Inspection, Mending, Readings};
use neckwright::measure::Error;
use neckwright::paper;
use neckwright::shape::Neck;
use neckwright::spec::{InspectionOptions, MendLimits, Stock};

pub(crate) const CSV: &str = include_str!("../../../../core/examples/neck_book/evening_class_readings.csv");
const SOME_BAD: &str = "at,quantity,value\nfret 1,thickness,21\nfret 2,thickness,x\nfret 3,width,44\n";
const SOME_BAD_JSON: &str = r#"{"readings": [{"at": "fret 1", "thickness": 21}, {"at": "fret 2", "thickness": -1}, {"at": 50, "width": 44.5}]}"#;

pub(crate) fn all(out: &mut Script, (name, json): (&str, &str)) {
    let neck = &Neck::from_json(json).expect("a neck");
    let readings = &Readings::from_csv(CSV).expect("readings");
    reading(out, readings);
    let far =
        Readings::from_csv("at,quantity,value\n1400,thickness,21\nfret 1,thickness,21\n").expect("readings");
    out.call("nw_readings_from_csv").text_of("text", &far.to_csv()).keeps("readings_out", "far");
    for (handle, readings) in [("readings", readings), ("far", &far)] {
        out.call("nw_readings_check_on").handle("readings", handle).handle("neck", name);
        out.answer(readings.check_on(neck).map_err(|bad| bad.error), |_, ()| ());
    }
    let stock = Stock::from_json("{}").expect("a stock");
    let plan = neck.carving_plan(&stock).expect("a plan");
    out.call("nw_neck_carving_plan").handle("neck", name).null("stock_json").keeps("plan_out", "usual plan");
    for (handle, stage, options_json) in [
        ("inspection", None, "{}"),
        ("inspection of a stage", Some(plan.stages().len() - 2), r#"{"unit": "inches"}"#),
        ("none", None, r#"{"none": 1}"#),
    ] {
        let handle = handle.replace(' ', "_");
        out.call("nw_neck_inspect").handle("neck", name).handle("readings", "readings");
        match stage {
            Some(_) => out.handle("plan", "usual plan"),
            None => out.null("plan"),
        };
        out.size("stage", stage.unwrap_or(0)).text_of("options_json", options_json);
        let made = InspectionOptions::from_json(options_json).and_then(|options| match stage {
            Some(stage) => neck.inspect_stage(readings, &plan.stages()[stage], &options),
            None => neck.inspect(readings, &options),
        });
        out.answer(made, |out, made| {
            out.keeps("inspection_out", &handle);
            inspected(out, (name, neck), &handle, readings, &made);
        });
    }
}

fn reading(out: &mut Script, readings: &Readings) {
    out.call("nw_readings_from_csv").text_of("text", CSV).keeps("readings_out", "readings");
    out.call("nw_readings_from_json").text_of("text", &readings.to_json()).keeps("readings_out", "from_json");
    told(out, "readings", readings);
    told(out, "from_json", &Readings::from_json(&readings.to_json()).expect("readings"));
    for (format, text) in [("csv", SOME_BAD), ("json", SOME_BAD_JSON)] {
        let read = if format == "csv" { Readings::from_csv(text) } else { Readings::from_json(text) };
        let bad = read.expect_err("one of three is not sound");
        out.call(&format!("nw_readings_from_{format}")).text_of("text", text).fails(&bad.error);
        let good = format!("good_{format}");
        out.call(&format!("nw_readings_from_{format}_good"))
            .text_of("text", text)
            .keeps("readings_out", &good);
        told(out, &good, &bad.good);
    }
}

fn told(out: &mut Script, handle: &str, readings: &Readings) {
    out.call("nw_readings_count").handle("readings", handle);
    out.gives("count_out", Words::default().size(readings.len()));
    out.call("nw_readings_csv").handle("readings", handle).file(readings.to_csv().as_bytes());
    out.call("nw_readings_json").handle("readings", handle).file(readings.to_json().as_bytes());
    let json = format!("{handle}.bytes");
    out.call("nw_readings_json").handle("readings", handle).keeps("bytes_out", &json);
    let bytes = readings.to_json().into_bytes();
    out.call("nw_bytes_data").handle("bytes", &json).data("data_out", &bytes);
    out.gives("size_out", Words::default().size(bytes.len()));
}

fn inspected(
    out: &mut Script,
    (name, neck): (&str, &Neck),
    handle: &str,
    readings: &Readings,
    inspection: &Inspection,
) {
    out.call("nw_inspection_document").handle("inspection", handle).tells(inspection);
    out.call("nw_inspection_sheets").handle("inspection", handle).handle("neck", "left");
    let left = Neck::from_json(NECKS[2].1).expect("a neck");
    out.answer(inspection.check_of(&left), |_, ()| unreachable!("another neck"));
    out.call("nw_inspection_sheets").handle("inspection", handle).handle("neck", name);
    let sheets = paper::inspection(neck, inspection).into_iter().collect();
    drawings::sheets(out, &format!("{handle}.sheets"), Ok(sheets));
    out.call("nw_inspection_low_readings").handle("inspection", handle).handle("readings", "far");
    let far =
        Readings::from_csv("at,quantity,value\n1400,thickness,21\nfret 1,thickness,21\n").expect("readings");
    out.answer(inspection.low_readings(&far), |out, _| {
        out.keeps("readings_out", "none");
    });
    let low = format!("{handle}.low");
    out.call("nw_inspection_low_readings").handle("inspection", handle).handle("readings", "readings");
    out.answer(inspection.low_readings(readings), |out, found| {
        out.keeps("readings_out", &low);
        told(out, &low, &found);
        // As it comes, and with more asked than the wood has.
        for limits_json in ["{}", r#"{"least_thickness": 22.5}"#, r#"{"none": 1}"#] {
            out.call("nw_neck_mend")
                .handle("neck", name)
                .handle("low", &low)
                .text_of("limits_json", limits_json);
            let mending = MendLimits::from_json(limits_json).and_then(|limits| neck.mend(&found, &limits));
            mended(out, &format!("{handle}.mending"), mending);
        }
    });
}

fn mended(out: &mut Script, handle: &str, mending: Result<Mending, Error>) {
    out.answer(mending, |out, mending| {
        out.keeps("mending_out", handle);
        out.call("nw_mending_document").handle("mending", handle).tells(&mending);
        if let Mending::Mended(mended) = &mending {
            let neck = format!("{handle}.neck");
            out.call("nw_mending_neck").handle("mending", handle).keeps("neck_out", &neck);
            out.call("nw_neck_specification").handle("neck", &neck).tells(mended.neck.normalised());
            out.call("nw_neck_caliper_card").handle("neck", &neck).tells(&mended.neck.caliper_card());
        }
    });
}

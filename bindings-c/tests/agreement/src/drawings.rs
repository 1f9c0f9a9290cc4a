//! Sheets and their files.

use crate::script::{Script, Words};
use neckwright::carve::CarvingPlan;
use neckwright::measure::{Error, Station};
use neckwright::paper::{self, Gauge, Sheet};
use neckwright::shape::Neck;
use neckwright::spec::{DxfOptions, PaperOptions, TemplateOptions};

/// All that a handle of sheets tells, kept as `name`; the call that makes it is written already.
pub(crate) fn sheets(out: &mut Script, name: &str, made: Result<Vec<Sheet>, Error>) {
    out.answer(made, |out, sheets| {
        out.keeps("sheets_out", name);
        out.call("nw_sheets_count")
            .handle("sheets", name)
            .gives("count_out", Words::default().size(sheets.len()));
        for (i, sheet) in sheets.iter().enumerate() {
            out.call("nw_sheets_title")
                .handle("sheets", name)
                .size("sheet", i)
                .says("title_out", &sheet.title);
            out.call("nw_sheets_svg").handle("sheets", name).size("sheet", i);
            out.answer(sheet.to_svg(), |out, svg| {
                out.file(svg.as_bytes());
            });
        }
    });
}

/// The files of all sheets of these handles together.
fn files(out: &mut Script, names: &[String], sheets: &[Sheet]) {
    for json in ["{}", r#"{"unit": "in"}"#, r#"{"none": 1}"#] {
        out.call("nw_sheets_dxf")
            .handles("sheets", names)
            .size("count", names.len())
            .text_of("options_json", json);
        let made = DxfOptions::from_json(json).and_then(|options| paper::dxf(sheets, &options));
        out.answer(made, |out, dxf| {
            out.file(dxf.as_bytes());
        });
    }
    for json in ["{}", r#"{"overlap": 12}"#] {
        out.call("nw_sheets_pdf")
            .handles("sheets", names)
            .size("count", names.len())
            .text_of("options_json", json);
        let made = PaperOptions::from_json(json).and_then(|options| paper::pdf(sheets, &options));
        out.answer(made, |out, pdf| {
            out.file(&pdf);
        });
    }
}

pub(crate) fn of_neck(out: &mut Script, name: &str, neck: &Neck) {
    let options = TemplateOptions::default();
    let one = |made: Result<Sheet, Error>| made.map(|sheet| vec![sheet]);
    let made = [
        Ok(vec![paper::plan(neck)]),
        Ok(vec![paper::side(neck)]),
        one(paper::fret_strip(neck, &options)),
        one(paper::board(neck, &options)),
        one(paper::headstock(neck, &options)),
        one(paper::gauges(neck, Gauge::Positive, &options)),
        one(paper::gauges(neck, Gauge::Negative, &options)),
        one(paper::transitions(neck, &options)),
        paper::radius_gauges(neck, &options).map(|made| made.into_iter().collect()),
    ];
    let mut first = Vec::new();
    for (number, made) in (0_u32..).zip(made) {
        if number < 2 {
            first.extend(made.clone().unwrap_or_default());
        }
        out.call("nw_neck_sheet").handle("neck", name).whole("sheet", number).null("options_json");
        sheets(out, &format!("{name}.sheet.{number}"), made);
    }
    files(out, &[format!("{name}.sheet.0"), format!("{name}.sheet.1")], &first);
    let x = [neck.shaft_reach_mm()[0] + 10.0, neck.shaft_reach_mm()[0] + 100.0];
    for x in [&x[..], &[1e6]] {
        let stations: Vec<Station> = x.iter().map(|x| Station::Mm(*x)).collect();
        out.call("nw_neck_section_sheet").handle("neck", name).reals("x_mm", x).size("count", x.len());
        sheets(out, &format!("{name}.sections"), one(paper::sections(neck, &stations)));
    }
}

pub(crate) fn of_plan(out: &mut Script, name: &str, neck: &Neck, plan: &CarvingPlan) {
    let handle = format!("{name}.plan");
    out.call("nw_plan_sheets").handle("plan", &handle);
    sheets(out, &format!("{name}.pages"), Ok(paper::carving_pages(plan)));
    for json in ["{}", r#"{"cutter_radius": 3}"#, r#"{"none": 1}"#] {
        let options = TemplateOptions::from_json(json);
        out.call("nw_neck_templates")
            .handle("neck", name)
            .handle("plan", &handle)
            .text_of("options_json", json);
        let made = options.clone().and_then(|options| paper::templates(neck, Some(plan), &options));
        sheets(out, &format!("{name}.templates.of_plan"), made);
        out.call("nw_neck_templates").handle("neck", name).null("plan").text_of("options_json", json);
        let made = options.and_then(|options| paper::templates(neck, None, &options));
        sheets(out, &format!("{name}.templates"), made);
    }
}

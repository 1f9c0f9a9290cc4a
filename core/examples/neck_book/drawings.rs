//! The drawings of the book.

use neckwright::carve::CarvingPlan;
use neckwright::measure::{Error, Station};
use neckwright::paper::{self, Sheet};
use neckwright::shape::Neck;
use neckwright::spec::{DxfOptions, PaperOptions, PaperSize, TemplateOptions};

use crate::inspection::Inspected;

/// Frets at which sections are drawn, where the neck has them on its shaft.
const FRETS: [u32; 6] = [1, 3, 5, 7, 9, 12];

/// Where sections are drawn: on the headstock, at the volute's tip or the nut, at some frets, at the heel.
fn stations(neck: &Neck) -> Vec<Station> {
    let (head, volute, heel) = (neck.headstock(), neck.volute(), neck.heel());
    let mut at = vec![0.5 * (head.tip_x_mm + volute.start_x_mm), 0.0, volute.tip_x_mm];
    let frets = FRETS.iter().filter(|n| **n <= neck.normalised().frets.count);
    at.extend(frets.filter_map(|n| neck.layout().station_of_fret_mm(f64::from(*n)).ok()));
    at.extend([heel.start_x_mm, 0.5 * (heel.start_x_mm + heel.block_x_mm), heel.block_x_mm]);
    let end = heel.end_x_mm;
    at.retain(|x| *x <= end);
    at.sort_by(f64::total_cmp);
    at.dedup_by(|a, b| (*a - *b).abs() < 1e-6);
    at.into_iter().map(Station::Mm).collect()
}

/// Every drawing with the name of its file.
pub fn all(neck: &Neck) -> Result<Vec<(&'static str, String)>, Error> {
    Ok(vec![
        ("plan.svg", paper::plan(neck).to_svg()?),
        ("side.svg", paper::side(neck).to_svg()?),
        ("sections.svg", paper::sections(neck, &stations(neck))?.to_svg()?),
    ])
}

/// All sheets, and how many of them, the first ones, are templates.
pub struct Sheets {
    all: Vec<Sheet>,
    templates: usize,
}

/// The sheets of the book: templates, sections, the plan's pages, the map of what is left.
pub fn sheets(
    neck: &Neck,
    plan: Option<&CarvingPlan>,
    inspected: Option<&Inspected>,
) -> Result<Sheets, String> {
    let told = |error: Error| error.to_string();
    let mut all = paper::templates(neck, plan, &TemplateOptions::default()).map_err(told)?;
    let templates = all.len();
    all.push(paper::sections(neck, &stations(neck)).map_err(told)?);
    all.extend(plan.into_iter().flat_map(paper::carving_pages));
    all.extend(inspected.and_then(|inspected| inspected.sheet(neck)));
    Ok(Sheets { all, templates })
}

/// All sheets as one PDF for the printer's paper, and the templates as one DXF.
pub fn documents(sheets: &Sheets, paper: PaperSize) -> Result<Vec<(String, Vec<u8>)>, String> {
    let told = |error: Error| error.to_string();
    let options = PaperOptions { paper, ..PaperOptions::default() };
    let pdf = paper::pdf(&sheets.all, &options).map_err(told)?;
    let dxf = paper::dxf(&sheets.all[..sheets.templates], &DxfOptions::default()).map_err(told)?;
    Ok(vec![("neck_book.pdf".into(), pdf), ("templates.dxf".into(), dxf.into_bytes())])
}

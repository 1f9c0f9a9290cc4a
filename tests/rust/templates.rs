//! Everything that can be asked of the templates of a neck.

use crate::sound;
use neckwright::measure::{Kind, Length};
use neckwright::paper::{Sheet, pdf, templates};
use neckwright::shape::Neck;
use neckwright::spec::{DxfOptions, PaperOptions, TemplateOptions};

/// Cutters by turns: none, a beam, a thick one.
const OFFSETS_MM: [f64; 3] = [0.0, 0.1, 6.0];

/// What is no cutter and no allowance.
const NONSENSE_MM: [f64; 6] = [f64::NAN, f64::INFINITY, f64::NEG_INFINITY, -1.0, 1e3, f64::MAX];

/// Asks for all sheets of templates. That an allowance is refused is a good answer where it says why.
pub(crate) fn ask(neck: &Neck) -> Result<(), String> {
    let turn = neck.layout().frets().len();
    let options = TemplateOptions {
        offset: Length::from_mm(OFFSETS_MM[turn % OFFSETS_MM.len()]),
        allowance: Length::from_mm(if turn.is_multiple_of(2) { 0.0 } else { 0.4 }),
        slot_edges: turn.is_multiple_of(5),
        strings: true,
        ..TemplateOptions::default()
    };
    match templates(neck, None, &options) {
        Ok(sheets) => {
            for sheet in &sheets {
                sound(&sheet.title, &sheet.items)?;
                sound(&sheet.title, &sheet.size_mm)?;
            }
            written(&sheets[turn % sheets.len()])?;
            refused(neck)
        }
        Err(error) if error.faults().iter().all(|f| f.path == "allowance" && !f.remedy.is_empty()) => Ok(()),
        Err(error) => Err(format!("has no templates: {error}")),
    }
}

/// One of the sheets in every format; which one goes by the neck.
fn written(sheet: &Sheet) -> Result<(), String> {
    let name = &sheet.title;
    if !sheet.to_svg().is_ok_and(|svg| svg.ends_with("</svg>\n")) {
        return Err(format!("{name} is not drawn to its end"));
    }
    match sheet.to_dxf(&DxfOptions::default()) {
        Ok(text) if text.ends_with("EOF\n") && !text.contains("NaN") && !text.contains("inf\n") => {}
        Ok(_) => return Err(format!("{name} has a DXF with a number that is none")),
        Err(error) => return Err(format!("{name} has no DXF: {error}")),
    }
    match pdf(core::slice::from_ref(sheet), &PaperOptions::default()) {
        Ok(bytes) if bytes.trim_ascii_end().ends_with(b"%%EOF") => Ok(()),
        Ok(_) => Err(format!("{name} has a PDF without an end")),
        Err(error) if error.faults().iter().all(|f| f.kind == Kind::TooLarge) => Ok(()),
        Err(error) => Err(format!("{name} has no PDF: {error}")),
    }
}

/// Options that are none are refused by name.
fn refused(neck: &Neck) -> Result<(), String> {
    for value in NONSENSE_MM {
        let wide = Length::from_mm(value);
        let both = [
            ("offset", TemplateOptions { offset: wide, ..TemplateOptions::default() }),
            ("allowance", TemplateOptions { allowance: wide, ..TemplateOptions::default() }),
        ];
        for (path, options) in both {
            match templates(neck, None, &options) {
                Err(error) if error.faults().iter().all(|f| f.path == path) => {}
                answer => return Err(format!("has templates with {path} = {value}: {:?}", answer.err())),
            }
        }
    }
    Ok(())
}

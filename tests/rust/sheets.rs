//! Everything that can be done with a neck's sheets.

use neckwright::measure::Kind;
use neckwright::paper::{Layer, Shape, Sheet, dxf, pdf, plan, side, tile};
use neckwright::shape::Neck;
use neckwright::spec::{DxfOptions, PaperOptions};

/// Puts the plan and the side view on paper and into every format.
pub(crate) fn ask(neck: &Neck) -> Result<(), String> {
    let sheets = [plan(neck), side(neck)];
    for sheet in &sheets {
        if !sheet.to_svg().ends_with("</svg>\n") {
            return Err(format!("{} is not drawn to its end", sheet.title));
        }
        shared(sheet)?;
    }
    match dxf(&sheets, &DxfOptions::default()) {
        Ok(text) if text.ends_with("EOF\n") && !text.contains("NaN") && !text.contains("inf\n") => {}
        Ok(_) => return Err("has a DXF with a number that is none".to_owned()),
        Err(error) => return Err(format!("has no DXF: {error}")),
    }
    match pdf(&sheets, &PaperOptions::default()) {
        Ok(bytes) if bytes.trim_ascii_end().ends_with(b"%%EOF") => Ok(()),
        Ok(_) => Err("has a PDF without an end".to_owned()),
        Err(error) if error.faults().iter().all(|f| f.kind == Kind::TooLarge) => Ok(()),
        Err(error) => Err(format!("has no PDF: {error}")),
    }
}

/// The pages put together are the sheet.
fn shared(sheet: &Sheet) -> Result<(), String> {
    let tiling = match tile(sheet, &PaperOptions::default()) {
        Ok(tiling) => tiling,
        Err(error) if error.faults().iter().all(|f| f.kind == Kind::TooLarge) => return Ok(()),
        Err(error) => return Err(format!("{} goes on no pages: {error}", sheet.title)),
    };
    let of_pages = [Layer::CheckBars, Layer::Seams, Layer::PageMarks];
    for layer in Layer::ALL.into_iter().filter(|l| !of_pages.contains(l)) {
        let whole: f64 = sheet.layer(layer).map(Shape::length_mm).sum();
        let pieces = tiling.pages.iter().flat_map(|page| {
            let window = page.cell_mm.map(|p| [p[0] + page.by_mm[0], p[1] + page.by_mm[1]]);
            page.sheet.layer(layer).flat_map(move |s| s.within(window))
        });
        let sum: f64 = pieces.map(|piece| piece.length_mm()).sum();
        if (sum - whole).is_nan() || (sum - whole).abs() > 1e-8 * (1.0 + whole) {
            return Err(format!("{}: pages have {sum} of {whole} mm of {}", sheet.title, layer.name()));
        }
    }
    Ok(())
}

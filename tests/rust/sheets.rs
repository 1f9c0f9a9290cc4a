//! Everything that can be done with a neck's sheets.

use neckwright::measure::{Kind, Length};
use neckwright::paper::{Layer, Shape, Sheet, dxf, pdf, plan, side, tile};
use neckwright::shape::Neck;
use neckwright::spec::{DrawingUnit, DxfOptions, PaperOptions, PaperSize};

/// Widths that are no margin and no overlap.
const NONSENSE_MM: [f64; 8] =
    [f64::NAN, f64::INFINITY, f64::NEG_INFINITY, f64::MAX, 1e3, 0.0, -10.0, f64::MIN_POSITIVE];

/// Puts the plan and the side view on paper and into every format.
pub(crate) fn ask(neck: &Neck) -> Result<(), String> {
    let sheets = [plan(neck), side(neck)];
    for sheet in &sheets {
        if !sheet.to_svg().is_ok_and(|svg| svg.ends_with("</svg>\n")) {
            return Err(format!("{} is not drawn to its end", sheet.title));
        }
        shared(sheet)?;
    }
    hostile(&sheets)?;
    let unit =
        if sheets[0].items.len().is_multiple_of(2) { DrawingUnit::Inches } else { DrawingUnit::Millimetres };
    match dxf(&sheets, &DxfOptions { unit, ..DxfOptions::default() }) {
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

/// Options that are none, and a sheet of which a number is none.
fn hostile(sheets: &[Sheet]) -> Result<(), String> {
    for value in NONSENSE_MM {
        let wide = Length::from_mm(value);
        let both = [
            ("margin", PaperOptions { margin: wide, ..PaperOptions::default() }),
            ("overlap", PaperOptions { overlap: wide, ..PaperOptions::default() }),
        ];
        for (path, options) in both {
            let answers = [tile(&sheets[0], &options).err(), pdf(sheets, &options).err()];
            for error in answers {
                match error {
                    Some(error) if error.faults().iter().all(|f| f.path == path) => {}
                    _ => return Err(format!("goes on paper with {path} = {value}: {error:?}")),
                }
            }
        }
    }
    let mut sheet = sheets[0].clone();
    sheet.size_mm[1] = f64::NAN;
    let as_drawn = PaperOptions { paper: PaperSize::AsDrawn, ..PaperOptions::default() };
    let refused = [
        tile(&sheet, &as_drawn).is_err(),
        tile(&sheet, &PaperOptions::default()).is_err(),
        sheet.to_svg().is_err(),
        pdf(&[sheet], &as_drawn).is_err(),
    ];
    if refused.contains(&false) {
        return Err(format!("has pages of no height: {refused:?}"));
    }
    let mut sheet = sheets[1].clone();
    let Some(Shape::Path(path)) =
        sheet.items.iter_mut().map(|item| &mut item.shape).find(|s| matches!(s, Shape::Path(_)))
    else {
        return Err("has a side view without a line".to_owned());
    };
    path.start[0] = f64::INFINITY;
    let refused = [
        tile(&sheet, &PaperOptions::default()).is_err(),
        dxf(&[sheet.clone()], &DxfOptions::default()).is_err(),
        sheet.to_svg().is_err(),
        pdf(&[sheet], &as_drawn).is_err(),
    ];
    if refused.contains(&false) {
        return Err(format!("is drawn with a line from nowhere: {refused:?}"));
    }
    Ok(())
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
            page.tiles.iter().flat_map(move |tile| {
                let window = tile.cell_mm.map(|p| [p[0] + tile.by_mm[0], p[1] + tile.by_mm[1]]);
                let own = page.sheet.items.iter().filter(move |i| i.layer == layer && i.block == tile.block);
                own.flat_map(move |i| i.shape.within(window))
            })
        });
        let sum: f64 = pieces.map(|piece| piece.length_mm()).sum();
        if (sum - whole).is_nan() || (sum - whole).abs() > 1e-8 * (1.0 + whole) {
            return Err(format!("{}: pages have {sum} of {whole} mm of {}", sheet.title, layer.name()));
        }
    }
    Ok(())
}

//! DXF, as of the release 2000 (AC1015).

mod entity;
mod spline;
mod structure;
mod tables;
mod tags;
mod words;

use alloc::string::String;

use self::entity::Entities;
use super::draft::Draft;
use super::extent::finite;
use super::path::Point;
use super::sheet::{Item, Sheet};
use super::text::{Anchor, Text};
use crate::measure::Error;
use crate::spec::{DrawingUnit, DxfOptions};

/// Between two sheets in one drawing, mm; a sheet's title stands in it.
const GAP_MM: f64 = 30.0;
/// Height of a title, mm, and how far it stands above its sheet.
const TITLE_MM: [f64; 2] = [7.0, 8.0];

/// Sheets as one DXF drawing of the release 2000, at full size.
///
/// The sheets lie one below the other in model space, each under its title. The origin is the lower left corner of the first
/// sheet's paper, `x` to the right and `y` upward; the paper's own edges are not drawn. A single sheet by itself is better
/// written by [`Sheet::to_dxf`], where the origin is the neck's own.
///
/// Every [`Layer`](super::Layer) of the library is a layer of its name with its line weight, to the nearest that the format
/// has, and a line type of that name with its dashes; all is black. Curves are what they are: lines, polylines with arcs,
/// circles, arcs; cubics are cubic B-splines without any loss, those that run on smoothly as one. Dimensions are
/// lines and words. Coordinates have as many digits as it takes to read them back bit for bit. The drawing says its unit
/// (`$INSUNITS`); in inches every length is divided by 25.4. Letters beyond ASCII are written as `\U+XXXX`. There is
/// no time and no chance in the file: the same sheets give the same bytes. Without a sheet it is a drawing with nothing in it.
///
/// # Errors
/// - the options out of their bounds.
/// - [`OutOfRange`](crate::measure::Kind::OutOfRange) for a sheet with a place that is no finite number.
pub fn dxf(sheets: &[Sheet], options: &DxfOptions) -> Result<String, Error> {
    options.check()?;
    sheets.iter().try_for_each(finite)?;
    let mut below = 0.0;
    let mut placed = alloc::vec::Vec::new();
    for (i, sheet) in sheets.iter().enumerate() {
        below -= if i > 0 { sheet.size_mm[1] + GAP_MM } else { 0.0 };
        let mut title = Draft::default();
        let at = [0.0, sheet.size_mm[1] + TITLE_MM[1]];
        title.text(Text::new(at, Anchor::Start, sheet.title.as_str()).high(TITLE_MM[0]));
        placed.push((sheet, title.into_items(), [0.0, below]));
    }
    let items =
        placed.iter().flat_map(|(sheet, title, by)| sheet.items.iter().chain(title).map(move |i| (i, *by)));
    Ok(drawing(items, options))
}

fn drawing<'a>(items: impl Iterator<Item = (&'a Item, Point)>, options: &DxfOptions) -> String {
    let unit_mm = match options.unit {
        DrawingUnit::Millimetres => 1.0,
        DrawingUnit::Inches => 25.4,
    };
    let mut entities = Entities::new(unit_mm);
    for (item, by) in items {
        entities.shape(item.layer, &item.clone().moved(by).shape);
    }
    structure::file(&entities, options.unit)
}

impl Sheet {
    /// The sheet as a DXF drawing, as [`dxf`] describes it, without a title. The origin is the neck's own where the
    /// sheet has one ([`Sheet::origin_mm`]), otherwise the lower left corner of the paper.
    ///
    /// # Errors
    /// - the options out of their bounds.
    /// - [`OutOfRange`](crate::measure::Kind::OutOfRange) for a place that is no finite number.
    pub fn to_dxf(&self, options: &DxfOptions) -> Result<String, Error> {
        options.check()?;
        finite(self)?;
        let by = self.origin_mm.map_or([0.0; 2], |p| p.map(|v| -v));
        Ok(drawing(self.items.iter().map(|i| (i, by)), options))
    }
}

//! How sheets are put on paper and into drawings.

use super::options::options;
use super::visit::{choice, group};
use crate::measure::Length;

choice! {
    /// The paper in the printer.
    PaperSize {
        /// 210 × 297 mm, ISO 216.
        A4 = "a4",
        /// 8 1/2 × 11 in, ANSI/ASME Y14.1.
        Letter = "letter",
        /// As large as each sheet is, for a plotter or a copy shop.
        AsDrawn = "as_drawn",
    }
}

group! {
    /// How sheets are put on paper: a sheet that is larger than the paper goes on several pages, to be cut and stuck together.
    PaperOptions {
        /// The format this document is written in.
        format: u32 = 1,
            within 1 to 1 "" because "formats are numbered from 1";
        /// The paper in the printer.
        paper: PaperSize = PaperSize::A4;
        /// The edge of each page that stays blank.
        margin: Length = Length::from_mm(10.0),
            within 4 to 20 "mm" because "printers don't reach the edge, and a wide one wastes paper";
        /// How much two pages side by side have in common.
        overlap: Length = Length::from_mm(10.0),
            within 8 to 30 "mm" because "marks have to lie in it, and a wide one wastes paper";
    }
}

options!(
    PaperOptions,
    name: "paper options",
    subject: "pages",
    title: "How sheets are put on paper",
    example: "paper"
);

choice! {
    /// The unit of a drawing's coordinates.
    DrawingUnit {
        /// Millimetres.
        Millimetres = "mm",
        /// Inches.
        Inches = "in",
    }
}

group! {
    /// How sheets are written as DXF.
    DxfOptions {
        /// The format this document is written in.
        format: u32 = 1,
            within 1 to 1 "" because "formats are numbered from 1";
        /// The unit of the coordinates, which the drawing says of itself.
        unit: DrawingUnit = DrawingUnit::Millimetres;
    }
}

options!(
    DxfOptions,
    name: "DXF options",
    subject: "drawing",
    title: "How sheets are written as DXF",
    example: "unit"
);

//! Drawings of a neck at full size, and the files they are written to.
//!
//! A [`Sheet`] is one description of a drawing on paper: its size, and items on [layers](Layer) with the
//! names of the trade, in millimetres from the sheet's lower left corner with `y` upward. It knows nothing of
//! any file format. [`Sheet::to_svg`] writes it as SVG in which one unit is one millimetre; [`fn@pdf`] writes sheets
//! as the pages of one PDF, [`dxf`] as one drawing. [`tile`] shares a sheet out over the pages of the paper in the
//! printer; its pages are sheets again, so they can be written in any of the formats.
//!
//! The drawings are [`plan`], [`side`] and [`sections`], the pages of a carving plan,
//! [`carving_pages`], the map of an [`inspection`], and the [`templates`]: fret strip, board, headstock, gauges of sections and
//! of the board's radius, templates of volute and heel. Each carries two bars to measure before cutting, and
//! tells nothing by colour alone: line weights and dashes survive a photocopier.

mod bars;
mod block;
mod callout;
mod carving;
mod curve;
mod cut;
mod dimension;
mod draft;
mod dxf;
mod extent;
mod face;
mod flow;
mod inspection;
mod layer;
mod legend;
mod length;
mod letters;
mod number;
mod offset;
mod path;
#[cfg(feature = "std")]
mod pdf;
mod plan;
mod sections;
mod sheet;
mod side;
mod station;
mod stock;
mod svg;
mod table;
mod template;
mod text;
mod tile;

pub use carving::{carving_page, carving_pages};
pub use curve::CHORD_MM;
pub use dimension::Dimension;
pub use dxf::dxf;
pub use inspection::inspection;
pub use layer::Layer;
pub use offset::{OFFSET_MM, offset};
pub use path::{Path, Point, Segment};
#[cfg(feature = "std")]
pub use pdf::pdf;
pub use plan::plan;
pub use sections::sections;
pub use sheet::{Item, Shape, Sheet};
pub use side::{side, side_with_stock};
pub use template::{Gauge, board, fret_strip, gauges, headstock, radius_gauges, templates, transitions};
pub use text::{Anchor, TEXT_MM, Text};
pub use tile::{MAX_PAGES, Page, Tile, Tiling, tile};

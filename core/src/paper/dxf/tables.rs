//! Tables: line types, layers, styles.

use alloc::vec::Vec;

use super::tags::{Tags, handle};
use crate::paper::draft::Room;
use crate::paper::layer::Layer;

/// The line weights that the format has, in hundredths of a millimetre.
const WEIGHTS: [i64; 24] =
    [0, 5, 9, 13, 15, 18, 20, 25, 30, 35, 40, 50, 53, 60, 70, 80, 90, 100, 106, 120, 140, 158, 200, 211];

/// The nearest of them to a layer's weight.
pub(super) fn weight(layer: Layer) -> i64 {
    let wanted = 100.0 * layer.weight_mm();
    let off = |w: &i64| libm::fabs(*w as f64 - wanted);
    WEIGHTS.into_iter().min_by(|a, b| off(a).total_cmp(&off(b))).unwrap_or(25)
}

/// One table: its entries are written by `entries`.
fn table(tags: &mut Tags, name: &str, of: u32, count: usize, entries: impl FnOnce(&mut Tags)) {
    tags.text(0, "TABLE");
    tags.text(2, name);
    tags.handle(5, of);
    tags.handle(330, 0);
    tags.class("AcDbSymbolTable");
    tags.int(70, count as i64);
    if name == "DIMSTYLE" {
        tags.class("AcDbDimStyleTable");
    }
    entries(tags);
    tags.text(0, "ENDTAB");
}

fn record(tags: &mut Tags, kind: &str, handle: u32, owner: u32, class: &str, name: &str) {
    tags.text(0, kind);
    // The one kind of record whose handle has another code.
    tags.handle(if kind == "DIMSTYLE" { 105 } else { 5 }, handle);
    tags.handle(330, owner);
    tags.class("AcDbSymbolTableRecord");
    tags.class(class);
    tags.text(2, name);
}

fn line_types(tags: &mut Tags, scale: f64) {
    let dashed: Vec<Layer> = Layer::ALL.into_iter().filter(|l| !l.dashes_mm().is_empty()).collect();
    let plain = ["ByBlock", "ByLayer", "Continuous"];
    table(tags, "LTYPE", handle::LTYPES, plain.len() + dashed.len(), |tags| {
        let mut next = handle::FIRST_LTYPE;
        let mut begin = |tags: &mut Tags, name: &str, words: &str, dashes: &[f64]| {
            record(tags, "LTYPE", next, handle::LTYPES, "AcDbLinetypeTableRecord", name);
            next += 1;
            tags.int(70, 0);
            tags.text(3, words);
            tags.int(72, 65);
            tags.int(73, dashes.len() as i64);
            tags.real(40, dashes.iter().sum::<f64>() / scale);
            for (i, dash) in dashes.iter().enumerate() {
                tags.real(49, if i % 2 == 0 { dash / scale } else { -dash / scale });
                tags.int(74, 0);
            }
        };
        plain.iter().for_each(|name| begin(tags, name, "", &[]));
        for layer in dashed {
            begin(tags, layer.name(), "strokes and gaps", layer.dashes_mm());
        }
    });
}

fn layers(tags: &mut Tags) {
    table(tags, "LAYER", handle::LAYERS, Layer::ALL.len() + 1, |tags| {
        let mut next = handle::FIRST_LAYER;
        let mut layer = |name: &str, line_type: &str, weight: i64| {
            record(tags, "LAYER", next, handle::LAYERS, "AcDbLayerTableRecord", name);
            next += 1;
            tags.int(70, 0);
            // White on a black screen, black on white paper.
            tags.int(62, 7);
            tags.text(6, line_type);
            tags.int(370, weight);
            tags.handle(390, handle::PLOT_STYLE);
        };
        // Every drawing has a layer 0; -3 is the usual weight.
        layer("0", "Continuous", -3);
        for l in Layer::ALL {
            let line_type = if l.dashes_mm().is_empty() { "Continuous" } else { l.name() };
            layer(l.name(), line_type, weight(l));
        }
    });
}

fn view(tags: &mut Tags, room: &Room) {
    table(tags, "VPORT", handle::VPORTS, 1, |tags| {
        record(tags, "VPORT", handle::VPORT, handle::VPORTS, "AcDbViewportTableRecord", "*Active");
        let middle = [0, 1].map(|k| 0.5 * (room[0][k] + room[1][k]));
        let size = [0, 1].map(|k| f64::max(room[1][k] - room[0][k], 1e-3));
        tags.int(70, 0);
        tags.flat(10, [0.0, 0.0]);
        tags.flat(11, [1.0, 1.0]);
        tags.flat(12, middle);
        tags.flat(13, [0.0, 0.0]);
        tags.flat(14, [1.0, 1.0]);
        tags.flat(15, [1.0, 1.0]);
        for (code, z) in [(16, 1.0), (17, 0.0)] {
            tags.flat(code, [0.0, 0.0]);
            tags.real(code + 20, z);
        }
        // The height of the view, and its shape: twice as wide as high.
        tags.real(40, 1.05 * f64::max(size[1], 0.5 * size[0]));
        tags.real(41, 2.0);
        tags.real(42, 50.0);
        [43, 44, 50, 51].into_iter().for_each(|code| tags.real(code, 0.0));
        tags.int(71, 0);
        tags.int(72, 1000);
        tags.int(73, 1);
        tags.int(74, 3);
        [75, 76, 77, 78].into_iter().for_each(|code| tags.int(code, 0));
    });
}

/// All tables; `scale` is the unit's length, mm.
pub(super) fn tables(tags: &mut Tags, room: &Room, scale: f64) {
    view(tags, room);
    line_types(tags, scale);
    layers(tags);
    table(tags, "STYLE", handle::STYLES, 1, |tags| {
        record(tags, "STYLE", handle::STYLE, handle::STYLES, "AcDbTextStyleTableRecord", "Standard");
        tags.int(70, 0);
        tags.real(40, 0.0);
        tags.real(41, 1.0);
        tags.real(50, 0.0);
        tags.int(71, 0);
        tags.real(42, 2.5 / scale);
        // The face that every system has or replaces by one of the same widths.
        tags.text(3, "txt");
        tags.text(4, "");
    });
    table(tags, "VIEW", handle::VIEWS, 0, |_| {});
    table(tags, "UCS", handle::UCSS, 0, |_| {});
    table(tags, "APPID", handle::APPIDS, 1, |tags| {
        record(tags, "APPID", handle::APPID, handle::APPIDS, "AcDbRegAppTableRecord", "ACAD");
        tags.int(70, 0);
    });
    table(tags, "DIMSTYLE", handle::DIMSTYLES, 1, |tags| {
        record(tags, "DIMSTYLE", handle::DIMSTYLE, handle::DIMSTYLES, "AcDbDimStyleTableRecord", "Standard");
        tags.int(70, 0);
        tags.real(140, 2.5 / scale);
        tags.handle(340, handle::STYLE);
    });
    table(tags, "BLOCK_RECORD", handle::RECORDS, 2, |tags| {
        let spaces = [
            ("*Model_Space", handle::MODEL, handle::MODEL_LAYOUT),
            ("*Paper_Space", handle::PAPER, handle::PAPER_LAYOUT),
        ];
        for (name, own, layout) in spaces {
            record(tags, "BLOCK_RECORD", own, handle::RECORDS, "AcDbBlockTableRecord", name);
            tags.handle(340, layout);
        }
    });
}

//! The sections of the file.

use alloc::string::String;

use super::entity::Entities;
use super::tables::tables;
use super::tags::{Tags, handle};
use crate::paper::draft::Room;
use crate::spec::DrawingUnit;

fn section(tags: &mut Tags, name: &str, inside: impl FnOnce(&mut Tags)) {
    tags.text(0, "SECTION");
    tags.text(2, name);
    inside(tags);
    tags.text(0, "ENDSEC");
}

fn header(tags: &mut Tags, unit: DrawingUnit, room: &Room, next: u32) {
    let (units, metric) = match unit {
        DrawingUnit::Millimetres => (4, 1),
        DrawingUnit::Inches => (1, 0),
    };
    tags.variable("$ACADVER");
    tags.text(1, "AC1015");
    tags.variable("$DWGCODEPAGE");
    tags.text(3, "ANSI_1252");
    for (name, at) in [("$INSBASE", [0.0; 2]), ("$EXTMIN", room[0]), ("$EXTMAX", room[1])] {
        tags.variable(name);
        tags.point(10, at);
    }
    for (name, at) in [("$LIMMIN", room[0]), ("$LIMMAX", room[1])] {
        tags.variable(name);
        tags.flat(10, at);
    }
    tags.variable("$LTSCALE");
    tags.real(40, 1.0);
    tags.variable("$TEXTSTYLE");
    tags.text(7, "Standard");
    tags.variable("$CLAYER");
    tags.text(8, "0");
    tags.variable("$CELTYPE");
    tags.text(6, "ByLayer");
    tags.variable("$CECOLOR");
    tags.int(62, 256);
    tags.variable("$DIMSTYLE");
    tags.text(2, "Standard");
    // Lengths in decimals, to four.
    for (name, value) in [("$LUNITS", 2), ("$LUPREC", 4), ("$INSUNITS", units), ("$MEASUREMENT", metric)] {
        tags.variable(name);
        tags.int(70, value);
    }
    // Line weights are to be seen on the screen.
    tags.variable("$LWDISPLAY");
    tags.int(290, 1);
    tags.variable("$PSTYLEMODE");
    tags.int(290, 1);
    tags.variable("$HANDSEED");
    tags.handle(5, next);
}

fn classes(tags: &mut Tags) {
    let classes = [
        ("ACDBDICTIONARYWDFLT", "AcDbDictionaryWithDefault"),
        ("ACDBPLACEHOLDER", "AcDbPlaceHolder"),
        ("LAYOUT", "AcDbLayout"),
    ];
    for (name, class) in classes {
        tags.text(0, "CLASS");
        tags.text(1, name);
        tags.text(2, class);
        tags.text(3, "ObjectDBX Classes");
        tags.int(90, 0);
        tags.int(280, 0);
        tags.int(281, 0);
    }
}

fn blocks(tags: &mut Tags) {
    let spaces = [
        ("*Model_Space", handle::MODEL, handle::MODEL_BEGIN, handle::MODEL_END, false),
        ("*Paper_Space", handle::PAPER, handle::PAPER_BEGIN, handle::PAPER_END, true),
    ];
    for (name, record, begin, end, paper) in spaces {
        for (kind, own, class) in [("BLOCK", begin, "AcDbBlockBegin"), ("ENDBLK", end, "AcDbBlockEnd")] {
            tags.object(kind, own, record);
            tags.class("AcDbEntity");
            if paper {
                tags.int(67, 1);
            }
            tags.text(8, "0");
            tags.class(class);
            if kind == "BLOCK" {
                tags.text(2, name);
                tags.int(70, 0);
                tags.point(10, [0.0; 2]);
                tags.text(3, name);
                tags.text(1, "");
            }
        }
    }
}

fn dictionary(tags: &mut Tags, own: u32, owner: u32, entries: &[(&str, u32)]) {
    tags.object("DICTIONARY", own, owner);
    tags.class("AcDbDictionary");
    tags.int(281, 1);
    for (name, handle) in entries {
        tags.text(3, name);
        tags.handle(350, *handle);
    }
}

fn layout(tags: &mut Tags, name: &str, own: u32, record: u32, order: i64, room: &Room) {
    tags.object("LAYOUT", own, handle::LAYOUTS);
    tags.class("AcDbPlotSettings");
    for (code, value) in [(1, ""), (2, "none_device"), (4, ""), (6, "")] {
        tags.text(code, value);
    }
    [40, 41, 42, 43, 44, 45, 46, 47, 48, 49, 140, 141].into_iter().for_each(|code| tags.real(code, 0.0));
    [142, 143].into_iter().for_each(|code| tags.real(code, 1.0));
    // Whether it is model space; millimetres; as it lies; its extents; no style sheet.
    tags.int(70, if order == 0 { 1024 } else { 0 });
    [(72, 1), (73, 0), (74, 1)].into_iter().for_each(|(code, value)| tags.int(code, value));
    tags.text(7, "");
    tags.int(75, 16);
    tags.real(147, 1.0);
    tags.real(148, 0.0);
    tags.real(149, 0.0);
    tags.class("AcDbLayout");
    tags.text(1, name);
    tags.int(70, 1);
    tags.int(71, order);
    tags.flat(10, room[0]);
    tags.flat(11, room[1]);
    tags.point(12, [0.0; 2]);
    tags.point(14, room[0]);
    tags.point(15, room[1]);
    tags.real(146, 0.0);
    tags.point(13, [0.0; 2]);
    tags.point(16, [1.0, 0.0]);
    tags.point(17, [0.0, 1.0]);
    tags.int(76, 0);
    tags.handle(330, record);
}

fn objects(tags: &mut Tags, room: &Room) {
    let root = [
        ("ACAD_GROUP", handle::GROUPS),
        ("ACAD_LAYOUT", handle::LAYOUTS),
        ("ACAD_MLINESTYLE", handle::MLINES),
        ("ACAD_PLOTSTYLENAME", handle::PLOT_STYLES),
    ];
    dictionary(tags, handle::ROOT, 0, &root);
    dictionary(tags, handle::GROUPS, handle::ROOT, &[]);
    let layouts = [("Model", handle::MODEL_LAYOUT), ("Layout1", handle::PAPER_LAYOUT)];
    dictionary(tags, handle::LAYOUTS, handle::ROOT, &layouts);
    layout(tags, "Model", handle::MODEL_LAYOUT, handle::MODEL, 0, room);
    layout(tags, "Layout1", handle::PAPER_LAYOUT, handle::PAPER, 1, &[[0.0; 2]; 2]);
    dictionary(tags, handle::MLINES, handle::ROOT, &[("Standard", handle::MLINE)]);
    tags.object("MLINESTYLE", handle::MLINE, handle::MLINES);
    tags.class("AcDbMlineStyle");
    tags.text(2, "Standard");
    tags.int(70, 0);
    tags.text(3, "");
    tags.int(62, 256);
    tags.real(51, 90.0);
    tags.real(52, 90.0);
    tags.int(71, 2);
    for offset in [0.5, -0.5] {
        tags.real(49, offset);
        tags.int(62, 256);
        tags.text(6, "BYLAYER");
    }
    tags.object("ACDBDICTIONARYWDFLT", handle::PLOT_STYLES, handle::ROOT);
    tags.class("AcDbDictionary");
    tags.int(281, 1);
    tags.text(3, "Normal");
    tags.handle(350, handle::PLOT_STYLE);
    tags.class("AcDbDictionaryWithDefault");
    tags.handle(340, handle::PLOT_STYLE);
    tags.object("ACDBPLACEHOLDER", handle::PLOT_STYLE, handle::PLOT_STYLES);
}

/// The whole file.
pub(super) fn file(entities: &Entities, unit: DrawingUnit) -> String {
    // A drawing without anything in it has no extents.
    let room = if entities.room[0][0] <= entities.room[1][0] { entities.room } else { [[0.0; 2]; 2] };
    let mut tags = Tags::default();
    section(&mut tags, "HEADER", |tags| header(tags, unit, &room, entities.next));
    section(&mut tags, "CLASSES", classes);
    section(&mut tags, "TABLES", |tags| tables(tags, &room, entities.unit_mm));
    section(&mut tags, "BLOCKS", blocks);
    section(&mut tags, "ENTITIES", |tags| tags.out.push_str(&entities.tags.out));
    section(&mut tags, "OBJECTS", |tags| objects(tags, &room));
    tags.text(0, "EOF");
    tags.out
}

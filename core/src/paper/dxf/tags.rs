//! Group codes and values, the two lines of which DXF is made.

use alloc::format;
use alloc::string::String;

use super::super::path::Point;

/// Handles of what is there in every drawing; entities come after.
pub(super) mod handle {
    pub(in super::super) const VPORTS: u32 = 0x1;
    pub(in super::super) const LTYPES: u32 = 0x2;
    pub(in super::super) const LAYERS: u32 = 0x3;
    pub(in super::super) const STYLES: u32 = 0x4;
    pub(in super::super) const VIEWS: u32 = 0x5;
    pub(in super::super) const UCSS: u32 = 0x6;
    pub(in super::super) const APPIDS: u32 = 0x7;
    pub(in super::super) const DIMSTYLES: u32 = 0x8;
    pub(in super::super) const RECORDS: u32 = 0x9;
    pub(in super::super) const VPORT: u32 = 0xa;
    pub(in super::super) const STYLE: u32 = 0xb;
    pub(in super::super) const APPID: u32 = 0xc;
    pub(in super::super) const DIMSTYLE: u32 = 0xd;
    pub(in super::super) const MODEL: u32 = 0xe;
    pub(in super::super) const MODEL_BEGIN: u32 = 0xf;
    pub(in super::super) const MODEL_END: u32 = 0x10;
    pub(in super::super) const PAPER: u32 = 0x11;
    pub(in super::super) const PAPER_BEGIN: u32 = 0x12;
    pub(in super::super) const PAPER_END: u32 = 0x13;
    pub(in super::super) const ROOT: u32 = 0x14;
    pub(in super::super) const GROUPS: u32 = 0x15;
    pub(in super::super) const LAYOUTS: u32 = 0x16;
    pub(in super::super) const MODEL_LAYOUT: u32 = 0x17;
    pub(in super::super) const PAPER_LAYOUT: u32 = 0x18;
    pub(in super::super) const MLINES: u32 = 0x19;
    pub(in super::super) const MLINE: u32 = 0x1a;
    pub(in super::super) const PLOT_STYLES: u32 = 0x1b;
    pub(in super::super) const PLOT_STYLE: u32 = 0x1c;
    pub(in super::super) const FIRST_LTYPE: u32 = 0x20;
    pub(in super::super) const FIRST_LAYER: u32 = 0x80;
    pub(in super::super) const FIRST_ENTITY: u32 = 0x100;
}

/// Tags as they are written.
#[derive(Default)]
pub(super) struct Tags {
    pub out: String,
}

impl Tags {
    pub fn text(&mut self, code: u32, value: &str) {
        self.out.push_str(&format!("{code:>3}\n{value}\n"));
    }

    pub fn int(&mut self, code: u32, value: i64) {
        self.text(code, &format!("{value}"));
    }

    pub fn handle(&mut self, code: u32, value: u32) {
        self.text(code, &format!("{value:X}"));
    }

    /// A number with as many digits as it takes, never `-0`, with a point always.
    pub fn real(&mut self, code: u32, value: f64) {
        let text = format!("{}", value + 0.0);
        self.text(code, &if text.contains('.') { text } else { format!("{text}.0") });
    }

    /// A point in the plane, by the group codes of its `x`: `y` comes 10 and `z` 20 later.
    pub fn point(&mut self, code: u32, p: Point) {
        self.flat(code, p);
        self.real(code + 20, 0.0);
    }

    /// The same without a `z`.
    pub fn flat(&mut self, code: u32, p: Point) {
        self.real(code, p[0]);
        self.real(code + 10, p[1]);
    }

    /// The plane's normal.
    pub fn normal(&mut self) {
        self.flat(210, [0.0; 2]);
        self.real(230, 1.0);
    }

    /// The beginning of an object: its type, its handle, its owner.
    pub fn object(&mut self, kind: &str, handle: u32, owner: u32) {
        self.text(0, kind);
        self.handle(5, handle);
        self.handle(330, owner);
    }

    pub fn class(&mut self, name: &str) {
        self.text(100, name);
    }

    pub fn variable(&mut self, name: &str) {
        self.text(9, name);
    }
}

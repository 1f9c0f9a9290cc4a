//! What is drawn on a page of a PDF.

use alloc::format;
use alloc::string::String;
use alloc::vec::Vec;

use super::super::cut::arcs;
use super::super::layer::Layer;
use super::super::letters;
use super::super::number::number;
use super::super::path::{Path, Point, Segment, on_arc, turn};
use super::super::sheet::{Shape, Sheet};
use super::super::text::{Anchor, Text};
use super::POINTS;

/// The greatest turn that one cubic stands for.
const TURN: f64 = core::f64::consts::PI / 8.0;

/// The operators of a page. They are written here and not by the crate that writes the file: it has numbers of 24 bits only.
struct Pen {
    out: String,
}

impl Pen {
    fn at(p: Point) -> String {
        format!("{} {}", number(p[0]), number(p[1]))
    }

    fn cubic(&mut self, a: Point, b: Point, to: Point) {
        self.out.push_str(&format!("{} {} {} c\n", Self::at(a), Self::at(b), Self::at(to)));
    }

    /// An arc by cubics with handles of `4/3·tan(turn/4)`. They leave the circle by `2/27·sin⁶(turn/4)/cos²(turn/4)` of its
    /// radius (from memory; for a quarter it is the known 2.73e-4), here 6.7e-8 at most.
    fn arc(&mut self, from: Point, centre: Point, to: Point, counter_clockwise: bool) {
        let way = turn(from, centre, to, counter_clockwise);
        let n = libm::ceil(libm::fabs(way) / TURN).clamp(1.0, 64.0) as u32;
        let handle = 4.0 / 3.0 * libm::tan(0.25 * way / f64::from(n));
        let mut p = from;
        for i in 1..=n {
            let q = if i == n {
                to
            } else {
                on_arc(from, centre, to, counter_clockwise, f64::from(i) / f64::from(n))
            };
            let out = |p: Point, sign: f64| {
                let d = [p[0] - centre[0], p[1] - centre[1]];
                [p[0] - sign * handle * d[1], p[1] + sign * handle * d[0]]
            };
            self.cubic(out(p, 1.0), out(q, -1.0), q);
            p = q;
        }
    }

    fn path(&mut self, path: &Path) {
        self.out.push_str(&format!("{} m\n", Self::at(path.start)));
        let mut from = path.start;
        for segment in &path.segments {
            match *segment {
                Segment::Line(to) => self.out.push_str(&format!("{} l\n", Self::at(to))),
                Segment::Cubic(a, b, to) => self.cubic(a, b, to),
                Segment::Arc { centre, to, counter_clockwise } => {
                    self.arc(from, centre, to, counter_clockwise)
                }
            }
            from = segment.end();
        }
        self.out.push_str(if path.closed { "s\n" } else { "S\n" });
    }

    fn text(&mut self, text: &Text) {
        let size = text.font_size_mm();
        let wide = letters::width_mm(&text.words, size);
        // Only spelled letters can be wider than the room that is kept for what they spell.
        let narrowed = f64::min(1.0, text.width_mm() / f64::max(wide, 1e-9));
        let width = wide * narrowed;
        let left = text.at[0]
            - match text.anchor {
                Anchor::Start => 0.0,
                Anchor::Middle => 0.5 * width,
                Anchor::End => width,
            };
        self.out.push_str(&format!(
            "BT /F {} Tf {} Tz {} Td ",
            number(size),
            number(100.0 * narrowed),
            Self::at([left, text.at[1]])
        ));
        let mut plain = String::new();
        for c in text.words.chars() {
            match letters::code(c) {
                Some(code) => push_code(&mut plain, code),
                None => {
                    self.show(&mut plain);
                    let mut spelled = String::new();
                    letters::spelled(c)
                        .chars()
                        .filter_map(letters::code)
                        .for_each(|code| push_code(&mut spelled, code));
                    let units: String =
                        c.encode_utf16(&mut [0; 2]).iter().map(|u| format!("{u:04X}")).collect();
                    self.out.push_str(&format!("/Span <</ActualText <FEFF{units}>>> BDC "));
                    self.show(&mut spelled);
                    self.out.push_str("EMC ");
                }
            }
        }
        self.show(&mut plain);
        self.out.push_str("ET\n");
    }

    fn show(&mut self, letters: &mut String) {
        if !letters.is_empty() {
            self.out.push_str(&format!("({letters}) Tj "));
            letters.clear();
        }
    }

    fn shape(&mut self, shape: &Shape) {
        match shape {
            Shape::Path(path) => self.path(path),
            Shape::Circle { centre, radius_mm } => self.path(&arcs(*centre, libm::fabs(*radius_mm))),
            Shape::Dimension(dimension) => {
                dimension.strokes().iter().for_each(|stroke| self.path(stroke));
                self.text(&dimension.text);
            }
            Shape::Text(text) => self.text(text),
        }
    }
}

/// A letter within a string in parentheses; beyond ASCII by its code in octal digits.
fn push_code(out: &mut String, code: u8) {
    match code {
        b'(' | b')' | b'\\' => {
            out.push('\\');
            out.push(char::from(code));
        }
        b' '..=b'~' => out.push(char::from(code)),
        _ => out.push_str(&format!("\\{code:03o}")),
    }
}

/// The operators that draw a page.
pub(super) fn content(sheet: &Sheet) -> String {
    let mut pen = Pen { out: format!("{POINTS} 0 0 {POINTS} 0 0 cm 1 j\n") };
    for layer in Layer::ALL {
        if sheet.layer(layer).next().is_none() {
            continue;
        }
        let dashes: Vec<String> = layer.dashes_mm().iter().map(|d| number(*d)).collect();
        let (name, weight) = (layer.name(), number(layer.weight_mm()));
        pen.out.push_str(&format!("/OC /{name} BDC {weight} w [{}] 0 d\n", dashes.join(" ")));
        sheet.layer(layer).for_each(|shape| pen.shape(shape));
        pen.out.push_str("EMC\n");
    }
    pen.out
}

//! SVG.

use alloc::format;
use alloc::string::String;

use super::extent::finite;
use super::layer::Layer;
use super::number::number;
use super::path::{Path, Point, Segment};
use super::sheet::{Shape, Sheet};
use super::text::{Anchor, Text};
use crate::exchange::escaped;
use crate::measure::Error;

/// Writes with `y` downward from the sheet's upper edge.
struct Pen {
    height: f64,
    out: String,
}

impl Pen {
    fn at(&self, p: Point) -> String {
        format!("{} {}", number(p[0]), number(self.height - p[1]))
    }

    fn path(&mut self, path: &Path) {
        let mut d = format!("M{}", self.at(path.start));
        let mut from = path.start;
        for segment in &path.segments {
            d.push_str(&match *segment {
                Segment::Line(to) => format!("L{}", self.at(to)),
                Segment::Cubic(a, b, to) => format!("C{} {} {}", self.at(a), self.at(b), self.at(to)),
                Segment::Arc { centre, to, counter_clockwise } => {
                    let radius = number(libm::hypot(from[0] - centre[0], from[1] - centre[1]));
                    format!("A{radius} {radius} 0 0 {} {}", u8::from(!counter_clockwise), self.at(to))
                }
            });
            from = segment.end();
        }
        if path.closed {
            d.push('Z');
        }
        self.out.push_str(&format!("<path d=\"{d}\"/>\n"));
    }

    fn text(&mut self, text: &Text) {
        let anchor = match text.anchor {
            Anchor::Start => "",
            Anchor::Middle => " text-anchor=\"middle\"",
            Anchor::End => " text-anchor=\"end\"",
        };
        self.out.push_str(&format!(
            "<text x=\"{}\" y=\"{}\" font-size=\"{}\"{anchor} fill=\"#000\" stroke=\"none\">{}</text>\n",
            number(text.at[0]),
            number(self.height - text.at[1]),
            number(text.font_size_mm()),
            escaped(&text.words)
        ));
    }

    fn shape(&mut self, shape: &Shape) {
        match shape {
            Shape::Path(path) => self.path(path),
            Shape::Circle { centre, radius_mm } => self.out.push_str(&format!(
                "<circle cx=\"{}\" cy=\"{}\" r=\"{}\"/>\n",
                number(centre[0]),
                number(self.height - centre[1]),
                number(*radius_mm)
            )),
            Shape::Dimension(dimension) => {
                for stroke in dimension.strokes() {
                    self.path(&stroke);
                }
                self.text(&dimension.text);
            }
            Shape::Text(text) => self.text(text),
        }
    }
}

impl Sheet {
    /// The sheet as SVG 1.1 at full size: width and height in mm with the same numbers in `viewBox`, so that one
    /// unit is one millimetre. A group for each [`Layer`] that is in use bears its name. Numbers have four decimals
    /// at most, so that a point lies within 0.00005 mm of its place along either axis; the same sheet always gives
    /// the same bytes.
    ///
    /// # Errors
    /// - [`Kind::OutOfRange`](crate::measure::Kind::OutOfRange) for a sheet with a place that is no finite number.
    pub fn to_svg(&self) -> Result<String, Error> {
        finite(self)?;
        let [width, height] = self.size_mm.map(number);
        let mut pen = Pen { height: self.size_mm[1], out: String::new() };
        pen.out.push_str(&format!(
            "<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n\
             <svg xmlns=\"http://www.w3.org/2000/svg\" version=\"1.1\" width=\"{width}mm\" height=\"{height}mm\" \
             viewBox=\"0 0 {width} {height}\">\n\
             <title>{}</title>\n\
             <rect width=\"{width}\" height=\"{height}\" fill=\"#fff\"/>\n\
             <g fill=\"none\" stroke=\"#000\" stroke-linejoin=\"round\" font-family=\"sans-serif\">\n",
            escaped(&self.title)
        ));
        for layer in Layer::ALL {
            if self.layer(layer).next().is_none() {
                continue;
            }
            let dashes: alloc::vec::Vec<String> = layer.dashes_mm().iter().map(|d| number(*d)).collect();
            let dashes = if dashes.is_empty() {
                String::new()
            } else {
                format!(" stroke-dasharray=\"{}\"", dashes.join(" "))
            };
            let weight = number(layer.weight_mm());
            pen.out.push_str(&format!("<g id=\"{}\" stroke-width=\"{weight}\"{dashes}>\n", layer.name()));
            for shape in self.layer(layer) {
                pen.shape(shape);
            }
            pen.out.push_str("</g>\n");
        }
        pen.out.push_str("</g>\n</svg>\n");
        Ok(pen.out)
    }
}

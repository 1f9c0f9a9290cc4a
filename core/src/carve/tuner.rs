//! The tuner holes.

use alloc::format;
use alloc::string::String;
use alloc::vec;
use alloc::vec::Vec;

use super::mark::{Datum, Face, Line, Mark};
use super::setting::Setting;

impl Setting {
    /// The tuner holes: where they lie along the face and beside the centreline.
    pub(super) fn tuner_holes(&self) -> Vec<Line> {
        let posts = self.neck.headstock().posts;
        if posts.is_empty() {
            return Vec::new();
        }
        let hand = self.neck.hand_sign();
        let place = |i: usize, y: f64| match y * hand {
            y if y < 0.0 => format!("hole {}, bass side", i + 1),
            y if y > 0.0 => format!("hole {}, treble side", i + 1),
            _ => format!("hole {}, on the centreline", i + 1),
        };
        let line = |name: &str, from: Datum, distance: &dyn Fn(f64, f64) -> f64| Line {
            name: format!(
                "tuner holes of {:.2} mm, {name}",
                self.neck.normalised().headstock.hole_diameter.mm()
            ),
            on: Face::HeadstockFace,
            from,
            straight: false,
            waste: None,
            marks: (posts.iter().enumerate())
                .map(|(i, p)| Mark {
                    x_mm: p.x_mm,
                    place: place(i, p.y_mm),
                    distance_mm: distance(p.along_mm, p.y_mm),
                })
                .collect(),
        };
        vec![
            line("along the face", Datum::FaceStart, &|along, _| along),
            line("out", Datum::Centreline, &|_, y| libm::fabs(y)),
        ]
    }

    /// What is said of the tuner holes.
    pub(super) fn boring(&self) -> String {
        let holes = self.neck.headstock().posts.len();
        if holes == 0 {
            return String::new();
        }
        let head = &self.neck.normalised().headstock;
        format!(
            "Then bore the {holes} tuner hole{} of {:.2} mm from the face, square to it, through that thickness; the holes are \
             as the bushings need them, the posts in them {:.2} mm thick: try a bushing in waste first. ",
            if holes == 1 { "" } else { "s" },
            head.hole_diameter.mm(),
            head.post_diameter.mm()
        )
    }
}

//! What is allowed but ought to be known before wood is cut.

use alloc::format;
use alloc::string::String;
use alloc::vec::Vec;

use super::neck::Neck;
use crate::measure::{Station, shortened};

/// Something that is allowed and yet not what a builder may expect.
#[derive(Clone, Debug, PartialEq, serde::Serialize)]
pub struct Warning {
    /// The field it comes from.
    pub path: String,
    /// What to know, in a sentence.
    pub message: String,
}

/// A string that turns down less than this at the nut may rattle in its slot; common practice, no source.
const LEAST_BREAK_DEG: f64 = 4.0;

impl Neck {
    /// What is allowed but ought to be known before wood is cut.
    #[must_use]
    pub fn warnings(&self) -> Vec<Warning> {
        let mut out = Vec::new();
        let mut warn = |path: String, message: String| out.push(Warning { path, message });
        let [volute_end, heel_start] = self.shaft_reach_mm();
        for (i, t) in self.spec.shaft.thickness.iter().enumerate() {
            let Ok(x) = self.layout.station_mm(&t.at) else { continue };
            let reads = self.thickness(x);
            if (x < volute_end || x > heel_start) && libm::fabs(reads - t.thickness.mm()) > 1e-9 {
                let part = if x < volute_end { "volute" } else { "heel" };
                // A whole small number of millimetres was perhaps meant as a fret.
                let meant = match t.at {
                    Station::Mm(mm) if (1.0..=36.0).contains(&mm) && libm::floor(mm) == mm => {
                        format!("; if fret {mm} was meant, write \"fret {mm}\"")
                    }
                    _ => String::new(),
                };
                warn(
                    format!("shaft.thickness[{i}]"),
                    format!(
                        "this station lies in the {part}: {:.2} mm is where the shaft's line passes, but the \
                         caliper reads {reads:.2} mm there{meant}",
                        t.thickness.mm()
                    ),
                );
            }
        }
        if let Some(wall) = self.least_rod_wall().filter(|w| w.value < self.spec.rod.least_wall.mm()) {
            warn(
                String::from("rod.least_wall"),
                format!(
                    "between the rod's channel and the outside only {:.2} mm of wood are left at {:.1} mm from the \
                     nut; {:.2} mm were asked for",
                    wall.value,
                    wall.x_mm,
                    self.spec.rod.least_wall.mm()
                ),
            );
        }
        for (i, path) in self.string_paths().iter().enumerate() {
            if path.vertical_deg <= 0.0 {
                warn(
                    format!("headstock.posts[{i}]"),
                    format!(
                        "string {} of {} (1 is the bass string) rises from the nut by {:.1} degrees and does not bear on \
                         it: tilt or lower the headstock's face, or lower the post",
                        i + 1,
                        self.spec.strings.count,
                        -path.vertical_deg
                    ),
                );
            } else if path.vertical_deg < LEAST_BREAK_DEG {
                warn(
                    format!("headstock.posts[{i}]"),
                    format!(
                        "string {} turns down only {:.1} degrees at the nut and may rattle in its slot: a lower post, \
                         more angle, or a string guide would help",
                        i + 1,
                        path.vertical_deg
                    ),
                );
            }
        }
        for (path, wood) in
            [("woods.neck", &self.spec.woods.neck), ("woods.fretboard", &self.spec.woods.fretboard)]
        {
            if wood.density.is_none() {
                let meant: Vec<String> =
                    super::wood::meant(&wood.species).map(|name| format!("\"{name}\"")).collect();
                let named = if meant.is_empty() {
                    String::new()
                } else {
                    format!("name it {} if it is that, or ", meant.join(" or "))
                };
                warn(
                    format!("{path}.density"),
                    format!(
                        "no density is known for \"{}\": {named}give one to have its mass",
                        shortened(&wood.species)
                    ),
                );
            }
        }
        out
    }
}

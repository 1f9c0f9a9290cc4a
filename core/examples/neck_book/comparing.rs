//! Two necks held against each other, in the book.

use neckwright::inspect::{Comparison, Difference, Surface};
use neckwright::measure::Length;
use neckwright::shape::Neck;

use crate::csv::{number, table};

/// This neck and another.
pub struct Compared {
    name: String,
    comparison: Comparison,
    inches: bool,
}

/// Compares a neck with that of another specification.
pub fn compare(neck: &Neck, other: &str, inches: bool) -> Result<Compared, String> {
    let other = Neck::from_json(other).map_err(|e| format!("--compare: {e}"))?;
    let name = match other.normalised().name.as_str() {
        "" => "the other neck".into(),
        name => format!("\"{name}\""),
    };
    Ok(Compared { name, comparison: neck.compare(&other), inches })
}

impl Compared {
    /// The parts that both necks have, each with its name.
    fn parts(&self) -> Vec<(&'static str, Difference)> {
        let c = &self.comparison;
        let rest = [
            ("side faces", c.side_faces),
            ("board's face", c.board_face),
            ("board's edges", c.board_edges),
            ("headstock's face", c.headstock_face),
            ("headstock's edges", c.headstock_edges),
        ];
        let rest = rest.into_iter().filter_map(|(name, part)| Some((name, part?)));
        std::iter::once(("back", c.back)).chain(rest).collect()
    }

    /// Every file with its name.
    pub fn files(&self) -> Vec<(String, String)> {
        let header =
            ["part", "difference_mm", "proven_mm", "station_mm", "surface", "side", "across_mm", "depth_mm"];
        let parts = self.parts().into_iter().map(|(name, d)| {
            let [x, across, depth] = [d.x_mm, d.across_mm, d.depth_mm].map(number);
            let mut row = vec![name.into(), format!("{:.6}", d.difference_mm + 0.0)];
            row.push(format!("{:.6}", up(d.proven_mm)));
            row.extend([x, d.surface.name().into(), d.side.name().into(), across, depth]);
            row
        });
        let card = [
            "fret",
            "from_nut_mm",
            "greatest_mm",
            "thickness_mm",
            "width_mm",
            "girth_mm",
            "carve_line_bass_mm",
            "carve_line_treble_mm",
        ];
        let rows = self.comparison.rows.iter().map(|row| {
            let carve = row.carve_line_mm;
            let numbers = [
                row.x_mm,
                row.greatest.difference_mm,
                row.thickness_mm,
                row.width_mm,
                row.girth_mm,
                carve.bass,
                carve.treble,
            ];
            std::iter::once(row.fret.to_string()).chain(numbers.map(number)).collect()
        });
        vec![
            ("comparison.csv".into(), table(&header, parts)),
            ("comparison_card.csv".into(), table(&card, rows)),
        ]
    }

    fn length(&self, mm: f64) -> String {
        if self.inches { format!("{:.4} in", Length::from_mm(mm).inches()) } else { format!("{mm:.3} mm") }
    }

    fn at(&self, d: &Difference) -> String {
        let station = crate::numbers::from_nut(d.x_mm, self.inches);
        let surface = d.surface.name();
        match d.surface {
            Surface::Spine => format!("on the {surface}, {station}"),
            _ => format!("on the {surface}, {} side, {station}", d.side.name()),
        }
    }

    /// What the summary says of it.
    pub fn summary(&self) -> Vec<String> {
        let c = &self.comparison;
        let greatest = &c.greatest;
        let mut out = Vec::new();
        if greatest.proven_mm == 0.0 {
            out.push(format!("This neck and {} have one surface where both have wood: proven.", self.name));
        } else {
            let further = if greatest.difference_mm > 0.0 { "this one" } else { "the other" };
            out.push(format!(
                "This neck and {} are nowhere further apart than {}, proven; that far {}, where {further} stands out. \
                 comparison.csv has it part by part, comparison_card.csv at every fret.",
                self.name,
                self.length(up(greatest.proven_mm)),
                self.at(greatest)
            ));
        }
        let ends = [
            ("the headstock's tip", c.ends.tip_mm),
            ("the headstock's root", c.ends.root_mm),
            ("the volute's tip", c.ends.volute_mm),
            ("the heel's beginning", c.ends.heel_start_mm),
            ("the heel's end", c.ends.heel_end_mm),
            ("the board's end", c.ends.board_end_mm),
        ];
        for (name, mm) in ends.into_iter().filter(|(_, mm)| mm.abs() > 5e-4) {
            let toward = if mm > 0.0 { "bridge" } else { "headstock" };
            out.push(format!(
                "This neck's {} lies {} nearer the {toward}.",
                &name[4..],
                self.length(mm.abs())
            ));
        }
        if let Some(fret) = c.frets.filter(|f| f.difference_mm.abs() > 5e-4) {
            out.push(format!(
                "Fret {} lies furthest from its place on the other: {}.",
                fret.fret,
                self.length(fret.difference_mm.abs())
            ));
        }
        out
    }
}

/// A bound in six decimals, never below what it is.
fn up(value: f64) -> f64 {
    (value * 1e6).ceil() / 1e6
}

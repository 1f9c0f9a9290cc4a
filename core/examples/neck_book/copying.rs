//! A neck copied from readings, in the book.

use neckwright::inspect::{Copied, Measured, Number, Readings, copy_neck};
use neckwright::measure::{Length, Station};
use neckwright::shape::Neck;
use neckwright::spec::{BenchUnit, CopyOptions};

use crate::csv::{caliper_card, field, number, table};
use crate::inspection::read;

/// How many further readings are told.
const NEXT: usize = 5;

/// A neck that was copied.
pub struct Copy {
    readings: Readings,
    copied: Copied,
    /// The neck of its specification.
    pub neck: Neck,
    inches: bool,
}

/// Copies the neck that a text of readings is of; what they do not tell is `base`'s.
pub fn copy(base: &Neck, text: &str, inches: bool) -> Result<Copy, String> {
    let readings = read(text)?;
    let unit = if inches { BenchUnit::Inches } else { BenchUnit::Millimetres };
    let options = CopyOptions { unit, ..CopyOptions::default() };
    let copied = copy_neck(base.normalised(), &readings, &options).map_err(|e| e.to_string())?;
    let neck = Neck::new(&copied.specification).map_err(|e| e.to_string())?;
    Ok(Copy { readings, copied, neck, inches })
}

fn at(station: &Station) -> String {
    match station {
        Station::Fret(0.0) | Station::Mm(0.0) => "nut".into(),
        Station::Fret(fret) => format!("fret {fret}"),
        Station::Mm(mm) => format!("{} mm", number(*mm)),
    }
}

impl Copy {
    /// Every file with its name.
    pub fn files(&self) -> Vec<(String, String)> {
        vec![
            ("copied.json".into(), self.copied.specification.to_json() + "\n"),
            ("copied_numbers.csv".into(), self.numbers()),
            ("copied_caliper_card.csv".into(), caliper_card(&self.neck)),
            ("copied_readings.csv".into(), self.residuals()),
            ("copied_next.csv".into(), self.next()),
        ]
    }

    fn numbers(&self) -> String {
        let told = self.copied.numbers.iter().map(|n| {
            let sure = if n.by_base == 0.0 { "readings" } else { "readings and base" };
            vec![
                field(&n.path),
                number(n.value),
                number(n.uncertainty),
                n.unit.into(),
                sure.into(),
                number(n.by_base),
            ]
        });
        let kept = [(&self.copied.moved, "moved along"), (&self.copied.kept, "base")];
        let kept = kept.into_iter().flat_map(|(list, told_by)| list.iter().map(move |n| (n, told_by)));
        let kept = kept.map(|(n, told_by)| {
            vec![
                field(&n.path),
                number(n.value),
                number(n.uncertainty),
                n.unit.into(),
                told_by.into(),
                String::new(),
            ]
        });
        table(&["path", "value", "uncertainty", "unit", "told_by", "by_base"], told.chain(kept))
    }

    fn residuals(&self) -> String {
        let header = [
            "line",
            "station",
            "measured",
            "left_mm",
            "left_over_its_uncertainty",
            "checked_by_others",
            "not_used_because",
        ];
        let reading = |i: usize| {
            let reading = self.readings.iter().nth(i);
            reading.map_or([String::new(), String::new(), String::new()], |r| {
                [r.line.to_string(), at(&r.at), r.measured.quantity().name().into()]
            })
        };
        let used = self.copied.residuals.iter().map(|r| {
            let mut row = reading(r.reading).to_vec();
            let checked = if r.unchecked { "no" } else { "yes" };
            row.extend([number(r.left_mm), number(r.standardised), checked.into(), String::new()]);
            row
        });
        let unused = self.copied.unused.iter().map(|u| {
            let mut row = reading(u.reading).to_vec();
            row.extend([String::new(), String::new(), String::new(), field(u.reason)]);
            row
        });
        table(&header, used.chain(unused))
    }

    fn next(&self) -> String {
        let header = ["station", "measured", "across_mm", "uncertainty_before_mm", "uncertainty_after_mm"];
        let rows = self.copied.sharpest_next(NEXT).into_iter().map(|next| {
            let across = match next.measured {
                Measured::Point { across_mm } => number(across_mm),
                Measured::CarveLine(side) => side.name().into(),
                _ => String::new(),
            };
            vec![
                at(&next.at),
                next.measured.quantity().name().into(),
                across,
                number(next.before_mm),
                number(next.after_mm),
            ]
        });
        table(&header, rows)
    }

    fn length(&self, mm: f64) -> String {
        if self.inches { format!("{:.3} in", Length::from_mm(mm).inches()) } else { format!("{mm:.2} mm") }
    }

    /// What the summary says of it.
    pub fn summary(&self) -> Vec<String> {
        let Copied { numbers, kept, unused, misfit, p_value, pull, residuals, .. } = &self.copied;
        let count = |n: usize, one: &str, many: &str| format!("{n} {}", if n == 1 { one } else { many });
        let alone = numbers.iter().filter(|n| n.by_base == 0.0).count();
        let mut out = vec![format!(
            "{} alone tell {} of its specification. In {} more this neck has a say too, and {} are this neck's, as nothing \
             tells them: where they matter, read what copied_next.csv asks for. The specification is copied.json, every \
             number with its uncertainty is in copied_numbers.csv.",
            count(residuals.len(), "reading", "readings"),
            count(alone, "number", "numbers"),
            numbers.len() - alone,
            kept.len(),
        )];
        let thickness = |n: &&Number| n.path.ends_with(".thickness");
        let worst = numbers.iter().filter(thickness).max_by(|a, b| a.uncertainty.total_cmp(&b.uncertainty));
        if let Some(worst) = worst {
            out.push(format!(
                "Its thicknesses are told to ±{} or better where they were read (twice the standard uncertainty).",
                self.length(2.0 * worst.uncertainty)
            ));
        }
        if !unused.is_empty() {
            out.push(format!(
                "{} could not be used: copied_readings.csv says why.",
                count(unused.len(), "reading", "readings")
            ));
        }
        let far = residuals.iter().map(|r| r.standardised.abs()).fold(0.0, f64::max);
        if p_value.is_some_and(|p| p < 1e-3) || misfit.is_some_and(|m| m > 2.0) {
            out.push(format!(
                "The readings do not agree with a neck of this sort: the furthest lies {far:.1} of its standard uncertainties \
                 off. Then the uncertainties told do not hold: look at copied_readings.csv, and read those again."
            ));
        }
        if pull.is_some() {
            out.push(
                "The readings come nearest to numbers that make no neck; this neck's were drawn on.".into(),
            );
        }
        let unchecked = residuals.iter().filter(|r| r.unchecked).count();
        if unchecked > 0 {
            out.push(format!(
                "{} of the readings {} checked by no other: a slip in one goes straight into the copy.",
                unchecked,
                if unchecked == 1 { "is" } else { "are" }
            ));
        }
        let next = self.copied.sharpest_next(1);
        out.extend(next.first().map(|next| format!("To sharpen it most, {}.", next.sentence)));
        out
    }
}

//! Readings in the book: what is left to take, what was found, and the neck that low patches leave.

use std::fmt::Write;

use neckwright::carve::CarvingPlan;
use neckwright::inspect::{Deviation, Inspection, MendRow, Mended, Mending, Readings};
use neckwright::measure::Error;
use neckwright::measure::Length;
use neckwright::paper;
use neckwright::shape::Neck;
use neckwright::spec::{BenchUnit, InspectionOptions, MendLimits, StageName};

use crate::csv::{caliper_card, number, table};

/// What the evening class read after contouring.
pub const EVENING_CLASS: &str = include_str!("evening_class_readings.csv");
/// The stage after which it did.
pub const EVENING_CLASS_STAGE: StageName = StageName::Contour;

/// A neck on the bench, looked at.
pub struct Inspected {
    readings: Readings,
    stage: Option<StageName>,
    inspection: Inspection,
    /// What low patches leave, where there are any.
    mending: Option<Mending>,
    inches: bool,
}

/// A text of readings, JSON where it begins like that and CSV otherwise.
pub fn read(text: &str) -> Result<Readings, String> {
    let read =
        if text.trim_start().starts_with('{') { Readings::from_json(text) } else { Readings::from_csv(text) };
    read.map_err(|bad| {
        let sound = match bad.good.len() {
            1 => "1 of them is".into(),
            count => format!("{count} of them are"),
        };
        format!("The readings have faults; {sound} sound in themselves:\n{bad}")
    })
}

/// Inspects readings against the finished neck, and against a stage where one is named.
pub fn inspect(
    neck: &Neck,
    plan: Option<&CarvingPlan>,
    text: &str,
    stage: Option<StageName>,
    inches: bool,
) -> Result<Inspected, String> {
    let readings = read(text)?;
    let unit = if inches { BenchUnit::Inches } else { BenchUnit::Millimetres };
    let options = InspectionOptions { unit, ..InspectionOptions::default() };
    let told = |e: Error| e.to_string();
    let inspection = match stage {
        Some(name) => {
            let stage = plan.and_then(|plan| plan.stage(name)).ok_or_else(|| {
                format!("--stage {}: there is no plan to compare with; see to the stock first", name.name())
            })?;
            neck.inspect_stage(&readings, stage, &options).map_err(told)?
        }
        None => neck.inspect(&readings, &options).map_err(told)?,
    };
    let low = inspection.low_readings(&readings).map_err(told)?;
    let limits = MendLimits { unit, ..MendLimits::default() };
    let mending = if low.is_empty() { None } else { Some(neck.mend(&low, &limits).map_err(told)?) };
    Ok(Inspected { readings, stage, inspection, mending, inches })
}

impl Inspected {
    /// The map of what is left, where there are places enough for one.
    pub fn sheet(&self, neck: &Neck) -> Option<paper::Sheet> {
        paper::inspection(neck, &self.inspection)
    }

    /// Every file with its name.
    pub fn files(&self, neck: &Neck) -> Result<Vec<(String, String)>, Error> {
        let mut files = vec![
            ("readings.csv".into(), self.readings.to_csv()),
            ("inspection.csv".into(), self.rows()),
            ("inspection_findings.csv".into(), self.findings()),
        ];
        if let Some(map) = self.inspection.stage_map.as_ref().or(self.inspection.map.as_ref()) {
            let header = ["station_mm", "around_share", "left_mm", "uncertainty_mm"];
            let rows = map.x_mm.iter().enumerate().flat_map(|(i, x)| {
                map.around.iter().enumerate().filter_map(move |(j, around)| {
                    let cell = map.cell(i, j)?;
                    Some([*x, *around, cell.left_mm, cell.uncertainty_mm].map(number).to_vec())
                })
            });
            files.push(("left_to_take.csv".into(), table(&header, rows)));
        }
        if let Some(sheet) = self.sheet(neck) {
            files.push(("left_to_take.svg".into(), sheet.to_svg()?));
        }
        if let Some(mended) = self.mended() {
            files.push(("mended.json".into(), mended.specification.to_json() + "\n"));
            files.push(("mended_caliper_card.csv".into(), caliper_card(&mended.neck)));
            files.push(("mended_takes.csv".into(), takes(mended)));
        }
        Ok(files)
    }

    fn rows(&self) -> String {
        let header = [
            "line",
            "station_mm",
            "measured",
            "place",
            "from_finished_mm",
            "from_stage_mm",
            "uncertainty_mm",
        ];
        let told = |d: &Option<Deviation>| d.map(|d| number(d.mm)).unwrap_or_default();
        let rows = self.inspection.rows.iter().map(|row| {
            let unsure = row.finished.or(row.stage).map(|d| number(d.uncertainty_mm)).unwrap_or_default();
            vec![
                row.line.to_string(),
                number(row.x_mm),
                row.measured.quantity().name().into(),
                row.place.name().into(),
                told(&row.finished),
                told(&row.stage),
                unsure,
            ]
        });
        table(&header, rows)
    }

    fn findings(&self) -> String {
        let header = [
            "what",
            "place",
            "from_station_mm",
            "to_station_mm",
            "from_around_mm",
            "to_around_mm",
            "amount_mm",
            "uncertainty_mm",
            "chance_if_nothing",
        ];
        let rows = self.inspection.low.iter().chain(&self.inspection.unfair).map(|f| {
            let around = f.around_mm.map_or([String::new(), String::new()], |ends| ends.map(number));
            let [from, to] = f.x_mm.map(number);
            let [a, b] = around;
            let mut row: Vec<String> = vec![f.kind.name().into(), f.place.name().into(), from, to, a, b];
            row.extend([number(f.amplitude_mm), number(f.uncertainty_mm), format!("{:.1e}", f.p_value)]);
            row
        });
        table(&header, rows)
    }

    /// The neck that low patches leave, where it is another one.
    pub fn mended(&self) -> Option<&Mended> {
        match &self.mending {
            Some(Mending::Mended(mended)) if !mended.rows.is_empty() => Some(mended),
            _ => None,
        }
    }

    /// Whether something is too low and can't be mended.
    pub fn is_lost(&self) -> bool {
        matches!(self.mending, Some(Mending::Impossible(_)))
    }

    /// How many readings can't be right, or are one of two that can't both be.
    pub fn set_aside(&self) -> usize {
        self.inspection.set_aside().len()
    }

    /// What the summary says of it.
    pub fn summary(&self, neck: &Neck) -> Vec<String> {
        let mut out = Vec::new();
        let count = match self.readings.len() {
            1 => "One reading".into(),
            count => format!("{count} readings"),
        };
        out.push(match self.stage {
            Some(stage) => format!("{count}, against the stage \"{}\":", stage.name()),
            None => format!("{count}, against the finished neck:"),
        });
        out.extend(self.inspection.sentences.iter().cloned());
        let aside = self.set_aside();
        if aside > 0 {
            out.push(match aside {
                1 => "One reading is set aside, and nothing here rests on it: read it again.".into(),
                _ => format!(
                    "{aside} readings are set aside, and nothing here rests on them: read them again."
                ),
            });
        }
        match &self.mending {
            None if self.readings.is_empty() => out.push("Nothing was read, and nothing is known.".into()),
            None if aside == self.readings.len() => {
                out.push("No other is left, and nothing is known.".into())
            }
            None if aside > 0 => out.push("The others show nothing that has to be mended.".into()),
            None => out.push("These readings show nothing that has to be mended.".into()),
            Some(Mending::Mended(mended)) => {
                match self.mended() {
                    Some(mended) => out.push(self.told(neck, mended)),
                    None => out.push("What is low here does not say how the neck is to be mended:".into()),
                }
                out.extend(mended.notes.iter().cloned());
                out.extend(mended.cautions.iter().map(|caution| caution.words.clone()));
            }
            Some(Mending::Impossible(forbidden)) => {
                out.push(match forbidden.as_slice() {
                    [] | [_] => "It can't be mended within its limits:".into(),
                    all if all.iter().all(|f| f.alone) => {
                        "It can't be mended within its limits; any one of these giving way would do:".into()
                    }
                    _ => "It can't be mended within its limits; all of these would have to give way:".into(),
                });
                out.extend(forbidden.iter().map(|f| f.sentence.clone()));
            }
        }
        out
    }

    fn length(&self, mm: f64) -> String {
        if self.inches { format!("{:.3} in", Length::from_mm(mm).inches()) } else { format!("{mm:.2} mm") }
    }

    fn told(&self, neck: &Neck, mended: &Mended) -> String {
        let mut words = format!(
            "Mended: of the necks with this one's shape of the back, the nearest fair one in the wood that is still there takes \
             {:.2} cm3 more",
            mended.removed_mm3 / 1e3
        );
        let most = |f: fn(&MendRow) -> f64| {
            let row = mended.rows.iter().max_by(|a, b| f(a).total_cmp(&f(b)))?;
            let at = row.fret.map_or_else(
                || crate::numbers::from_nut(row.x_mm, self.inches),
                |fret| if fret == 0 { "the nut".into() } else { format!("fret {fret}") },
            );
            (f(row) > 5e-3).then(|| (self.length(f(row)), at, row))
        };
        if let Some((much, at, row)) = most(|row| row.most_mm) {
            let place = deepest_place(&mended.neck, row);
            let _ = write!(words, ", at the most {much} off the back, {place} at {at}");
            if place != SPINE {
                words += " (measured straight up toward the board; square to a steep flank it is less)";
            }
        }
        if let Some((much, at, _)) = most(|row| row.narrower_mm) {
            let _ = write!(words, ", and gets {much} narrower at the most, at {at}");
        }
        if let (Some(was), Some(is)) = (neck.least_rod_wall(), mended.neck.least_rod_wall()) {
            let _ = write!(
                words,
                "; the wood around the rod goes from {} to {}, proven",
                self.length(crate::numbers::down(was.proven, 2)),
                self.length(crate::numbers::down(is.proven, 2))
            );
        }
        words + ". Work to the mended neck's card from here on; its specification is mended.json."
    }
}

const SPINE: &str = "at the spine";

/// Where around a section the most comes off.
fn deepest_place(neck: &Neck, row: &MendRow) -> &'static str {
    let shaft = &neck.normalised().shaft;
    let alike = shaft.treble_carve_line.is_none()
        && shaft.profile.iter().all(|p| p.treble.is_none() && p.spine_offset.mm() == 0.0);
    if row.most_mm < row.take_off_mm + 5e-3 {
        SPINE
    } else if alike {
        "on both sides"
    } else if row.most_across_mm < 0.0 {
        "on the bass side"
    } else {
        "on the treble side"
    }
}

/// What comes off at each station, and what it will measure then.
fn takes(mended: &Mended) -> String {
    let header = [
        "fret",
        "station_mm",
        "take_off_spine_mm",
        "take_off_most_depth_mm",
        "most_across_mm",
        "narrower_mm",
        "thickness_mm",
        "uncertainty_mm",
        "width_mm",
        "girth_mm",
    ];
    let rows = mended.rows.iter().map(|row| {
        let numbers = [
            row.x_mm,
            row.take_off_mm,
            row.most_mm,
            row.most_across_mm,
            row.narrower_mm,
            row.thickness_mm,
            row.uncertainty_mm,
            row.width_mm,
            row.girth_mm,
        ];
        let fret = row.fret.map(|fret| fret.to_string()).unwrap_or_default();
        std::iter::once(fret).chain(numbers.map(number)).collect()
    });
    table(&header, rows)
}

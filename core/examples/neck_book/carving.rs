//! The carving plan in the book: its stock, its tables, a page for each stage, and what the summary says of it.

use std::fmt::Write;

use neckwright::carve::{CarvingPlan, Line, Stage, Waste};
use neckwright::measure::{Error, Length};
use neckwright::paper;
use neckwright::shape::Neck;
use neckwright::spec::Stock;

use crate::carving_tables;
use crate::csv::{field, number};
use crate::numbers::down;

/// The stock of the evening class, in inches.
pub const EVENING_CLASS: &str = include_str!("evening_class_stock.json");

/// The plan of a neck from a stock document.
pub fn plan(neck: &Neck, stock: &str) -> Result<CarvingPlan, Error> {
    neck.carving_plan(&Stock::from_json(stock)?)
}

/// Every file of the plan with its name.
pub fn files(plan: &CarvingPlan) -> Result<Vec<(String, String)>, Error> {
    let mut files = vec![
        ("stock.json".into(), plan.stock().to_json() + "\n"),
        ("carving_plan.csv".into(), lines(plan)),
        ("carving_checks.csv".into(), checks(plan)),
        ("carving_stages.csv".into(), carving_tables::stages(plan)),
        ("carving_saw_lines.csv".into(), carving_tables::saw_lines(plan)),
        ("carving_cutter.csv".into(), carving_tables::cutter(plan)),
        ("carving_paths.csv".into(), carving_tables::paths(plan)),
        ("carving_facets.csv".into(), carving_tables::facets(plan)),
        ("carving_templates.csv".into(), carving_tables::templates(plan)),
    ];
    for (i, (stage, page)) in plan.stages().iter().zip(paper::carving_pages(plan)).enumerate() {
        let name = format!("carving_{:02}_{}.svg", i + 1, stage.name.name().replace(' ', "_"));
        files.push((name, page.to_svg()?));
    }
    Ok(files)
}

/// A number, or nothing where nothing is to be marked.
fn measure(value: f64) -> String {
    if value.is_nan() { String::new() } else { number(value) }
}

/// Decimal inches, in which an instrument reads.
fn inches(value: f64) -> String {
    if value.is_nan() { String::new() } else { number(Length::from_mm(value).inches()) }
}

/// As an inch rule marks it.
fn sixtyfourths(line: &Line, value: f64) -> String {
    if value.is_nan() { String::new() } else { line.sixtyfourths(value).to_string() }
}

/// The lines to mark, a row for each mark.
fn lines(plan: &CarvingPlan) -> String {
    let mut out = String::from(
        "stage,line,on,from,straight,waste,place,station_mm,distance_mm,distance_in,distance_64ths\n",
    );
    for stage in plan.stages() {
        for line in &stage.lines {
            for mark in &line.marks {
                let row = [
                    stage.name.name().into(),
                    field(&line.name),
                    line.on.name().into(),
                    line.from.name().into(),
                    if line.straight { "yes" } else { "no" }.into(),
                    line.waste.map_or("", Waste::name).into(),
                    field(&mark.place),
                    number(mark.x_mm),
                    measure(mark.distance_mm),
                    inches(mark.distance_mm),
                    sixtyfourths(line, mark.distance_mm),
                ];
                out += &row.join(",");
                out.push('\n');
            }
        }
    }
    out
}

/// What to check after each stage.
fn checks(plan: &CarvingPlan) -> String {
    let mut out = String::from("stage,check,place,station_mm,reads_mm,reads_in\n");
    for stage in plan.stages() {
        for check in &stage.checks {
            let reads = check.reads_mm.unwrap_or(f64::NAN);
            let row = [
                stage.name.name().into(),
                field(&check.what),
                field(&check.place),
                check.x_mm.map(number).unwrap_or_default(),
                measure(reads),
                inches(reads),
            ];
            out += &row.join(",");
            out.push('\n');
        }
    }
    out
}

/// The plan in a few lines.
pub fn summary(plan: &CarvingPlan) -> String {
    let mut out = String::new();
    out += "  stage                 taken off     left  least clearance, proven, and what there has to be\n";
    let cm3 = |mm3: f64| (mm3 / 1e3).max(0.0);
    for (i, stage) in plan.stages().iter().enumerate() {
        let Stage { name, removed_mm3, left_mm3, clearance, .. } = stage;
        let proven = clearance.as_ref().map_or(String::from("-"), |c| {
            let at = format!("at {:.1} mm from the nut", c.least.x_mm);
            if c.needed_mm == 0.0 && c.least.value < 5e-5 {
                // The cutter's allowance is part of what it has to leave.
                return format!("touches its allowance to {:.6} mm, {at}", -down(c.least.proven, 6));
            }
            format!("{:.6} mm, {at}; {:.2}", down(c.least.proven, 6), c.needed_mm)
        });
        let _ = writeln!(
            out,
            "  {:>2} {:<18} {:>6.1} cm3 {:>6.1}  {proven}",
            i + 1,
            name.name(),
            cm3(*removed_mm3),
            cm3(*left_mm3)
        );
    }
    let [from, to] = plan.stops_mm();
    let _ = writeln!(
        out,
        "  Stock {:.1} cm3, finished neck {:.1} cm3. Cuts along the shaft stop at {from:.1} and {to:.1} mm from the nut;\n  \
         from {:.1} mm on the heel is glued, and nothing touches it.",
        cm3(plan.stock_mm3()),
        cm3(plan.finished_mm3()),
        plan.glued_from_mm()
    );
    out
}

//! Everything that can be asked of readings on a neck, and of two necks.

use crate::sound;
use neckwright::carve::Stage;
use neckwright::inspect::{Copied, Measured, Mending, Reading, Readings, copy_neck};
use neckwright::measure::{Error, Station};
use neckwright::paper;
use neckwright::shape::{Neck, Side};
use neckwright::spec::{CopyOptions, Hand, InspectionOptions, MendLimits};

/// How far each reading is off the finished neck by turns, mm: one low patch among wood that still stands.
const OFF_MM: [f64; 7] = [0.3, 0.28, 0.33, -0.4, 0.31, 0.27, 0.3];

/// Asks for the inspection of readings with a low patch, for the mended neck and a copy, and for a comparison with itself and
/// its twin.
pub(crate) fn ask(neck: &Neck) -> Result<(), String> {
    let readings = readings(neck)?;
    let inspection = match neck.inspect(&readings, &InspectionOptions::default()) {
        Ok(inspection) => inspection,
        Err(error) => return Err(format!("refuses readings of its own: {error}")),
    };
    sound("inspection", &inspection)?;
    if paper::inspection(neck, &inspection)
        .is_some_and(|page| !page.to_svg().is_ok_and(|svg| svg.ends_with("</svg>\n")))
    {
        return Err("has a map that is not drawn to its end".to_owned());
    }
    mend(neck, &inspection.low_readings(&readings).map_err(|error| error.to_string())?)?;
    match copy_neck(neck.normalised(), &readings, &CopyOptions::default()) {
        Ok(copied) => {
            sound("copy", &(&copied.numbers, &copied.residuals, copied.chi2))?;
            told(neck, &copied)?;
        }
        Err(error) => refused("a copy", &error)?,
    }
    compare(neck)
}

/// Asks what a stage of the neck's plan says of readings of the finished neck.
pub(crate) fn at_stage(neck: &Neck, stage: &Stage) -> Result<(), String> {
    let readings = readings(neck)?;
    match neck.inspect_stage(&readings, stage, &InspectionOptions::default()) {
        Ok(inspection) => sound("inspection", &inspection),
        Err(error) => Err(format!("refuses readings of its own: {error}")),
    }
}

/// Asks how well a copy is known and what would sharpen it.
fn told(neck: &Neck, copied: &Copied) -> Result<(), String> {
    let [from, to] = neck.shaft_reach_mm();
    let middle = 0.5 * (from.max(0.0) + to);
    let sure = copied.thickness_uncertainty_mm(middle).map_err(|e| format!("copied is not there: {e}"))?;
    let next = copied.sharpest_next(2);
    sound("what to read next", &(sure, &next))?;
    if next.iter().any(|s| s.after_mm > s.before_mm || s.sentence.is_empty()) {
        return Err(format!("would be known less well by one more reading: {next:?}"));
    }
    Ok(())
}

/// Seven thicknesses and widths along the shaft, and a girth and a carve line at its middle.
fn readings(neck: &Neck) -> Result<Readings, String> {
    let [from, to] = neck.shaft_reach_mm();
    let from = from.max(0.0);
    let mut all = Vec::new();
    let mut read = |x: f64, measured: Measured, value: Result<f64, Error>, off: f64| {
        let value_mm = value.map_err(|error| format!("has no reading at {x}: {error}"))? + off;
        all.push(Reading { at: Station::Mm(x), measured, value_mm, uncertainty_mm: 0.05, line: 0 });
        Ok::<(), String>(())
    };
    for (i, off) in (0_u32..).zip(OFF_MM) {
        let x = from + (to - from) * (f64::from(i) + 0.5) / OFF_MM.len() as f64;
        read(x, Measured::Thickness, neck.thickness_mm(x), off)?;
        read(x, Measured::Width, neck.width_mm(x), 0.02)?;
    }
    let middle = 0.5 * (from + to);
    read(middle, Measured::Girth, neck.girth_mm(middle), 0.3)?;
    read(middle, Measured::CarveLine(Side::Bass), neck.carve_line_mm(middle, Side::Bass), 0.1)?;
    Readings::new(all).map_err(|bad| format!("has readings that are refused: {bad}"))
}

/// That something is refused is a good answer where it says why.
fn refused(what: &str, error: &Error) -> Result<(), String> {
    if error.faults().iter().any(|f| f.reason.is_empty()) {
        return Err(format!("refuses {what} and does not say why: {error}"));
    }
    Ok(())
}

fn mend(neck: &Neck, low: &Readings) -> Result<(), String> {
    match neck.mend(low, &MendLimits::default()) {
        Ok(Mending::Mended(mended)) => {
            sound("mended rows", &mended.rows)?;
            if mended.removed_mm3 < -1e-6 {
                return Err(format!("is mended by {} mm3 more wood", -mended.removed_mm3));
            }
            for reading in low {
                let Station::Mm(x) = reading.at else { continue };
                let is = mended.neck.thickness_mm(x).map_err(|e| format!("mended is not there: {e}"))?;
                if reading.measured == Measured::Thickness && is > reading.value_mm + 1e-6 {
                    return Err(format!("mended is {is} thick where {} is left", reading.value_mm));
                }
            }
            Ok(())
        }
        Ok(Mending::Impossible(forbidden)) => {
            sound("what forbids mending", &forbidden)?;
            if forbidden.is_empty() || forbidden.iter().any(|f| f.sentence.is_empty()) {
                return Err("can't be mended and does not say why".to_owned());
            }
            Ok(())
        }
        Err(error) => Err(format!("can't be mended: {error}")),
    }
}

fn compare(neck: &Neck) -> Result<(), String> {
    let mut twin = neck.normalised().clone();
    twin.hand = if twin.hand == Hand::Left { Hand::Right } else { Hand::Left };
    let twin = Neck::new(&twin).map_err(|error| format!("has no twin: {error}"))?;
    let comparison = neck.compare(&twin);
    sound("comparison", &comparison)?;
    if comparison.greatest.proven_mm != 0.0 || !neck.within(&twin, 0.0) {
        return Err(format!("is not its twin's mirror image: {:?}", comparison.greatest));
    }
    Ok(())
}

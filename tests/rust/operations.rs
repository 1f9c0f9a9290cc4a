//! What each operation of the shared cases calls in Rust.

use crate::Case;
use neckwright::measure::Error;
use neckwright::spec::Specification;

/// The results of an operation, each with its name.
pub type Outputs = Vec<(&'static str, Vec<f64>)>;

/// Calls the operation of a case: what the library answers.
///
/// # Errors
/// - the operation or one of its arguments is not known (this is a fault of the case, not of the library).
pub fn perform(case: &Case) -> Result<Result<Outputs, Error>, String> {
    match case.operation.as_str() {
        "fret_positions_mm" => {
            let (scale_mm, fret_count) = (case.number("scale_mm")?, case.count("fret_count")?);
            let divisions = case.count("divisions")?;
            let answer = neckwright::layout::fret_positions_mm(scale_mm, fret_count, divisions);
            Ok(answer.map(|positions| vec![("positions", positions)]))
        }
        "read_specification" => Ok(Specification::from_json(case.document()?).map(|specification| {
            let width = specification.nut.width.mm();
            vec![("nut_width", vec![width]), ("fret_count", vec![f64::from(specification.frets.count)])]
        })),
        other => Err(format!("unknown operation {other}")),
    }
}

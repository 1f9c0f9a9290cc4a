//! Everything that can be asked of the templates of a neck.

use crate::sound;
use neckwright::measure::Length;
use neckwright::paper::templates;
use neckwright::shape::Neck;
use neckwright::spec::TemplateOptions;

/// Cutters by turns: none, a beam, a thick one.
const OFFSETS_MM: [f64; 3] = [0.0, 0.1, 6.0];

/// Asks for all sheets of templates. That an allowance is refused is a good answer where it says why.
pub(crate) fn ask(neck: &Neck) -> Result<(), String> {
    let turn = neck.layout().frets().len();
    let options = TemplateOptions {
        offset: Length::from_mm(OFFSETS_MM[turn % OFFSETS_MM.len()]),
        allowance: Length::from_mm(if turn.is_multiple_of(2) { 0.0 } else { 0.4 }),
        slot_edges: turn.is_multiple_of(5),
        strings: true,
        ..TemplateOptions::default()
    };
    match templates(neck, None, &options) {
        Ok(sheets) => {
            for sheet in &sheets {
                sound(&sheet.title, &sheet.items)?;
                sound(&sheet.title, &sheet.size_mm)?;
            }
            Ok(())
        }
        Err(error) if error.faults().iter().all(|f| f.path == "allowance" && !f.remedy.is_empty()) => Ok(()),
        Err(error) => Err(format!("has no templates: {error}")),
    }
}

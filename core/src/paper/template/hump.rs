//! Templates of volute and heel.

use alloc::boxed::Box;
use alloc::format;
use alloc::vec;
use alloc::vec::Vec;

use super::frame::Frame;
use super::gauge::no_allowance;
use crate::carve::templates_of_neck;
use crate::measure::Error;
use crate::paper::carving::templates::templates;
use crate::paper::sheet::Sheet;
use crate::shape::Neck;
use crate::spec::TemplateOptions;

/// Templates of the volute (or of the transition where there is none) and of the heel: each along the spine, along the carve line
/// of either side, and across at a few stations, with the wood of [`TemplateOptions::allowance`] still on. Chords lie within
/// 0.01 mm of the curves.
///
/// # Errors
/// - as [`TemplateOptions::check`];
/// - an allowance with which no neck can be shown to lie outside the finished one.
pub fn transitions(neck: &Neck, options: &TemplateOptions) -> Result<Sheet, Error> {
    options.check()?;
    let allowance = options.allowance.mm();
    let all = templates_of_neck(neck, allowance).ok_or_else(|| no_allowance(allowance))?;
    let glue = neck.layout().board().thickness_mm();
    let hump = if neck.volute().height_mm > 0.0 { "volute" } else { "transition behind the shaft" };
    let frame = Frame {
        title: "Templates of volute and heel",
        what: format!("Templates of {hump} and heel"),
        notes: vec![
            format!(
                "The wood lies above each curve, the template's body below it. Those along the neck are drawn as in a view from the \
                 side with the nut to the left of the heel; \"down\" is below the crown line, which lies {glue:.2} above the glue line."
            ),
            "Those across are seen from the heel toward the nut, their upper edges at the carve line.".into(),
        ],
        drawing: Box::new(move |width| templates(&all, width, options.offset.mm()).draft),
        tables: Vec::new(),
        placed: false,
    };
    Ok(frame.sheet(neck, options))
}

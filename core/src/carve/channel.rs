//! The rod's channel, which a cut may break into.

use alloc::format;
use alloc::string::{String, ToString};

use crate::measure::told;
use crate::spec::StageName;

/// What to say of the rod's channel at a stage that can break into it.
pub(super) fn rod_channel(stage: StageName, least: Option<(f64, f64)>, asked_mm: f64) -> Option<String> {
    let least = least.filter(|(wall, x)| wall.is_finite() && x.is_finite());
    let work = match stage {
        StageName::RodChannel => {
            "The channel's depth decides how much wood is left behind it: set the depth stop on waste, measure there, and \
             again after the first pass in the neck."
        }
        StageName::Back => {
            "A saw that wanders inward comes out in the rod's channel: watch both ends of the line."
        }
        StageName::Rounding => {
            "Measure the first pass before the second: under a cutter the channel opens unseen."
        }
        StageName::Facets => {
            "The first facets come nearest to the channel's lower corners: count strokes near the line."
        }
        StageName::Contour => {
            "Read the caliper often: the last millimetre over the channel's floor can't be put back."
        }
        StageName::Transitions => {
            "Where the hollow beside the volute meets the rod's end the wood is thin: measure first."
        }
        _ => return None,
    };
    let Some((wall_mm, x_mm)) = least else {
        // A neck whose channel is not known may have none.
        return (stage == StageName::RodChannel).then(|| work.to_string());
    };
    let x = told(x_mm);
    let place = if x > 0.0 {
        format!("{x} mm from the nut")
    } else if x < 0.0 {
        format!("{} mm from the nut on the headstock's side", -x)
    } else {
        String::from("at the nut")
    };
    if wall_mm <= 0.0 {
        return Some(format!(
            "{work} On this neck the finished surface breaks into the channel, {place}: change neck or channel before \
             cutting either."
        ));
    }
    let wall = told(wall_mm);
    // Compared as told: 2.9999 would read "3 mm, less than the 3 mm asked for".
    let asked = if wall < told(asked_mm) {
        format!(", less than the {} mm asked for", told(asked_mm))
    } else {
        String::new()
    };
    Some(format!(
        "{work} The finished neck leaves {wall} mm of wood around the channel where it is thinnest, {place}{asked}."
    ))
}

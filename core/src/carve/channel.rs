//! The rod's channel, which a cut may break into.

use alloc::format;
use alloc::string::{String, ToString};

use super::work::Work;
use crate::measure::told;
use crate::spec::StageName;

/// What to say of the rod's channel at a stage that can break into it.
pub(super) fn rod_channel(stage: StageName, on: &Work<'_>) -> Option<String> {
    let least = on.least_rod_wall.filter(|(wall, x)| wall.is_finite() && x.is_finite());
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
        StageName::Transitions if on.volute => {
            "Where the hollow beside the volute comes over the channel's end the wood is thin: measure first."
        }
        StageName::Transitions => {
            "Where the transition into the headstock comes over the channel's end the wood is thin: measure first."
        }
        _ => return None,
    };
    let Some((wall_mm, x_mm)) = least else {
        // A neck whose channel is not known may have none.
        return (stage == StageName::RodChannel).then(|| work.to_string());
    };
    let x = libm::round(x_mm * 100.0) / 100.0;
    let place = if x > 0.0 {
        format!("{x:.2} mm from the nut")
    } else if x < 0.0 {
        format!("{:.2} mm from the nut on the headstock's side", -x)
    } else {
        String::from("at the nut")
    };
    if wall_mm <= 0.0 {
        // Under a board that is on already there is nothing left to change about the channel.
        let remedy = if on.board_glued {
            "change the neck before cutting it"
        } else {
            "change neck or channel before cutting either"
        };
        return Some(format!(
            "{work} On this neck the finished surface breaks into the channel, {place}: {remedy}."
        ));
    }
    // Compared to a thousandth: 2.9999 is what was asked for. What is less is told so that it looks less too.
    let (wall, asked) = (told(wall_mm), told(on.least_wall_asked_mm));
    let (wall, asked) = if wall < asked {
        let up = libm::ceil(asked * 100.0 - 1e-6) / 100.0;
        (libm::floor(wall * 100.0 + 1e-6) / 100.0, format!(", less than the {up:.2} mm asked for"))
    } else {
        (wall, String::new())
    };
    Some(format!(
        "{work} The finished neck leaves {wall:.2} mm of wood around the channel where it is thinnest, {place}{asked}."
    ))
}

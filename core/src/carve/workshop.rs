//! What to mind with each stage's tools and work holding.

use alloc::vec;
use alloc::vec::Vec;

use super::caution::Topic;
use super::work::Work;
use crate::spec::{CutterShape, StageName};

/// A caution as it stands, with its topic.
type Words = (Topic, &'static str);

/// What comes with the work itself, whatever the wood. Common practice, no source.
pub(super) fn of_the_work(stage: StageName, work: &Work<'_>) -> Vec<Words> {
    let mut words = at(stage, work);
    words.retain(|(_, words)| !words.is_empty());
    words
}

/// The same, with no words where this work gives no reason for them.
fn at(stage: StageName, work: &Work<'_>) -> Vec<Words> {
    match stage {
        StageName::Blank => vec![
            (
                Topic::Blade,
                "Saw and planer: guards on, hands beside the line of the cut and never over the knives, push blocks for \
                 the last of the way. A piece too short or too thin for the machine is planed by hand. The machines' \
                 manuals, local rules and qualified practice come before anything said here.",
            ),
            (
                Topic::WorkHolding,
                "Look for splits, knots and staples before the first cut, and flatten one face first: a blank that rocks \
                 on table or fence jams.",
            ),
            (
                Topic::Glue,
                match (work.scarfed, work.block_glued) {
                    (false, false) => "",
                    (true, false) => {
                        "Slanted faces slide on wet glue: stop both pieces against each other before the clamps, wear \
                         gloves, and give the glue the time that its leaflet asks for."
                    }
                    (false, true) => {
                        "A block creeps on wet glue: stop it against the blank before the clamps, wear gloves, and give \
                         the glue the time that its leaflet asks for."
                    }
                    (true, true) => {
                        "Slanted faces slide on wet glue, and a block creeps on it: stop both pieces of each joint \
                         against each other before the clamps, wear gloves, and give the glue the time that its leaflet \
                         asks for."
                    }
                },
            ),
        ],
        StageName::RodChannel => vec![
            (
                Topic::Cutter,
                "Cut the power before touching the cutter, let it run up and stop clear of the wood, and rout in \
                 several shallow passes. The router's manual, local rules and qualified practice come first.",
            ),
            (
                Topic::ClimbCut,
                "Feed so that the turn of the cutter draws the fence to the work; fed the other way it climbs, takes the \
                 router along and leaves the line. Which way that is, the router's manual, \
                 local rules and qualified practice say.",
            ),
            (
                Topic::WorkHolding,
                "Clamp the blank over its whole length, with stops at both ends of the channel and no clamp in the \
                 router's way: make a dry run with the motor off.",
            ),
        ],
        StageName::HeadstockFace => vec![
            (
                Topic::Blade,
                if work.scarfed {
                    "Fingers stay clear of the knives, whether a hand plane trues the face or a machine. The machine's \
                     manual, local rules and qualified practice come first."
                } else if work.tilted {
                    "Where the blade enters at a slant, it does so on a feather edge that catches and tips the piece: a \
                     cradle holds it at its angle, hands stay off the cradle's line. The saw's manual, local rules and \
                     qualified practice come first."
                } else {
                    "The blade stands bare as high as the headstock is wide: guard just above the wood, a slow feed, and \
                     out of a tight turn back only with the blade stopped. The saw's manual, local rules and qualified \
                     practice come first."
                },
            ),
            (
                Topic::WorkHolding,
                if work.scarfed {
                    "Carry the free end of the headstock from below: what presses on it levers at the joint."
                } else {
                    "Carry the free end of the headstock from below, and the waste so that it does not close on the \
                     blade."
                },
            ),
            (
                Topic::ChipOut,
                "A plane that leaves the face at its far edge takes splinters along: back it with waste, or plane in from \
                 both edges.",
            ),
        ],
        StageName::Board => vec![
            (
                Topic::Blade,
                if work.frets {
                    "A slotting saw jumps out of a slot that is only begun: guide it by a fence and keep the thumb out of \
                     its way. If a machine cuts the slots, its manual, local rules and qualified practice come first."
                } else {
                    "No finger curls under the plane's sole, and a scraper's burr cuts as a knife does. If a machine brings \
                     the board to its thickness, its manual, local rules and qualified practice come first."
                },
            ),
            (
                Topic::WorkHolding,
                if work.frets {
                    "Bed the board flat and over its full length; over a gap it bends, and slots come out too deep."
                } else {
                    "Bed the board flat and over its full length; over a gap it bends, and comes out uneven."
                },
            ),
            (
                Topic::ChipOut,
                if work.frets {
                    "Slots splinter where the saw comes out at the far edge: leave the edges wide until the slots are \
                     sawn, or back them."
                } else {
                    "The board's ends splinter where a saw or a plane leaves them at the far edge: back them with waste."
                },
            ),
            (
                Topic::Glue,
                if work.board_glued {
                    ""
                } else {
                    "A board floats on wet glue: locate it by pins or brads before the clamps. Wear gloves, and air the \
                     room as the glue's leaflet asks."
                },
            ),
            (
                Topic::FretWire,
                if work.frets {
                    "Cut ends of fret wire fly and are sharp: wear glasses, hold a cloth over the ends as they are nipped, \
                     and file the burr off at once."
                } else {
                    ""
                },
            ),
            (
                Topic::Inlay,
                if work.markers {
                    "Markers of shell make a mineral dust that harms the lungs: saw and file them wet or under extraction, \
                     with a mask fit for it."
                } else {
                    ""
                },
            ),
        ],
        StageName::Taper => vec![
            (
                Topic::Blade,
                "Keep hands beside the line, never before the blade, and set the guard just over the wood; back out of a \
                 tight curve only with the blade stopped. The saw's manual, local rules and qualified practice come first.",
            ),
            (
                Topic::WorkHolding,
                "Lay a flat side on the table, and pack whatever does not reach down to it, the headstock above all, or the \
                 blade slams it down.",
            ),
            (
                Topic::ChipOut,
                "The blade splinters the lower edge of the headstock's outline: put waste under it and saw that too.",
            ),
        ],
        StageName::Sides => vec![
            (
                Topic::Blade,
                "No finger curls under the plane's sole, and the neck is held by the bench, never by the hand.",
            ),
            (
                Topic::Cutter,
                "Where a cutter follows a template, it takes no more than what the saw left. Its router's manual, local \
                 rules and qualified practice come first.",
            ),
            (
                Topic::ClimbCut,
                "Along a template feed against the cutter's turn; where the grain runs out and tears, plane those last \
                 tenths rather than make a climb cut. Whether one is made at all is for the router's manual, local \
                 rules and qualified practice.",
            ),
            (
                Topic::WorkHolding,
                "Tapered sides slide out of a vice like a wedge: pack the narrow end with the offcut of the taper.",
            ),
            (
                Topic::ChipOut,
                "Grain that rises toward the plane tears: turn the piece round rather than push on.",
            ),
            (
                Topic::FretWire,
                if work.frets {
                    "Frets that are in already nick the plane and its cutter: nip and file their ends flush first."
                } else {
                    ""
                },
            ),
        ],
        StageName::Back => vec![
            (
                Topic::Blade,
                "The cut is tall and the blade stands bare as high as the piece is wide: guard just above it, a sharp \
                 blade, a slow feed, fingers never in line. The saw's manual, local rules and qualified practice come \
                 first.",
            ),
            (
                Topic::WorkHolding,
                "On a side that is tapered already the neck stands neither square nor firm: fasten the taper's offcut back \
                 on, or a wedge cut to match, and hold it against a tall fence.",
            ),
        ],
        StageName::HeadstockThickness => vec![
            (
                Topic::Blade,
                "On a drum or in a planer a short headstock with a long neck behind it tips into the knives: carry the \
                 neck at its height, or work by hand. The machine's manual, local rules and qualified practice come \
                 first.",
            ),
            (
                Topic::WorkHolding,
                "Support the headstock's face right under the cut; held by the shaft alone it springs and can crack at \
                 the nut.",
            ),
            (
                Topic::ChipOut,
                "The far edge of the headstock breaks away where a stroke across leaves it: work in from both edges, or \
                 clamp waste behind it.",
            ),
        ],
        StageName::Stops => vec![(
            Topic::StopLine,
            "A line stops no tool. Carry each one over the back and down both sides in pencil, for a knife's line shows in \
             the finish, and shade what nothing may touch: the glued zone of the heel above all.",
        )],
        StageName::Rounding => {
            let ball = work.cutter == CutterShape::Ball;
            vec![
                (
                    Topic::Cutter,
                    "A large cutter is for a firm stand or a heavy router at the speed that its maker allows, sunk in several \
                 passes, with the wood's corners sawn off first where they can be. Router's and cutter's manuals, local \
                 rules and qualified practice come first.",
                ),
                (
                    Topic::ClimbCut,
                    "Feed against the turn of the cutter; a climb cut pulls neck or router out of the hands. Whether a last, \
                 hair-thin pass may run the other way is for the router's manual, local rules and qualified practice to \
                 say.",
                ),
                (
                    Topic::WorkHolding,
                    if ball {
                        "A neck that shifts under a cutter that follows points in space spoils every path after: screw or clamp \
                     it in a cradle that does not end under the cutter, and let the ball run once through the air."
                    } else {
                        "The bearing or the fence needs a straight side to run on along the whole cut, and the neck needs a \
                     cradle that does not end under the cutter."
                    },
                ),
                (
                    Topic::ChipOut,
                    if ball {
                        "Toward heel and headstock the grain runs out of the back, and a splinter runs with it: end each path \
                     before that, at the stop, and lift the ball off the wood there."
                    } else {
                        "Toward heel and headstock the grain runs out of the back, and a splinter runs with it: end the cut \
                     before that, at the stop, and draw the cutter off sideways."
                    },
                ),
                (
                    Topic::StopLine,
                    if ball {
                        "Set a stop that the carriage can't pass at either end of the paths: the eye is late. The ball's rim, not \
                     its middle, ends on the line."
                    } else {
                        "Clamp a block at either stop, where router or neck runs against it: the eye is late. Set it so that the \
                     rim of the cutter, not its axis, ends on the line."
                    },
                ),
            ]
        }
        StageName::Facets => vec![
            (
                Topic::Blade,
                "Drawknife, spokeshave and plane: both hands on the tool and none before it, the body out of the way of \
                 a drawknife, blades covered when laid down.",
            ),
            (
                Topic::WorkHolding,
                "Clamp at the headstock or the heel with padding, so that the whole stroke is free and nothing rocks.",
            ),
            (
                Topic::ChipOut,
                "Cut downhill, from thick to thin; where the grain turns, a plane tears below the facet: change direction or \
                 take the rasp.",
            ),
            (
                Topic::StopLine,
                "Ease off before each stop: a split that starts in a facet runs on into heel or headstock.",
            ),
        ],
        StageName::Contour => vec![
            (
                Topic::Blade,
                "A rasp's tang belongs in a handle, and a scraper's burr cuts fingers as well as wood: push away from the \
                 hand that holds.",
            ),
            (
                Topic::WorkHolding,
                match (work.frets, work.round_face) {
                    (true, true) => {
                        "Protect the board and its frets in the vice with a caul of the board's radius; tight jaws bow a \
                         thin neck and the caliper then reads a bent one."
                    }
                    (true, false) => {
                        "Protect the board and its frets in the vice with a flat caul; tight jaws bow a thin neck and the \
                         caliper then reads a bent one."
                    }
                    (false, true) => {
                        "Protect the board's face in the vice with a caul of its radius; tight jaws bow a thin neck and the \
                         caliper then reads a bent one."
                    }
                    (false, false) => {
                        "Protect the board's face in the vice with a flat caul; tight jaws bow a thin neck and the caliper \
                         then reads a bent one."
                    }
                },
            ),
            (
                Topic::StopLine,
                "At the carve line the allowance is nothing: strokes end there, and do not roll over onto the side.",
            ),
        ],
        StageName::Transitions => vec![
            (
                Topic::Blade,
                "Round rasps and gouges slip out of hollows: the other hand stays behind the edge.",
            ),
            (
                Topic::WorkHolding,
                "Hold the part that is worked on: a neck held at its far end whips under the rasp.",
            ),
            (
                Topic::ChipOut,
                "Rasp in from the headstock's edges toward the middle; out over an edge every stroke takes a splinter.",
            ),
            (
                Topic::StopLine,
                "Once the heel is fitted its glued zone stays as it is: tape it, for one stroke there opens the joint.",
            ),
        ],
        StageName::Sanding => vec![
            (
                Topic::Sander,
                "A belt or a drum takes the allowance of the whole sequence in one touch and draws in sleeves and fingers: \
                 the shaft is sanded by hand. For flat faces the sander's manual, local rules and qualified practice come \
                 first.",
            ),
            (
                Topic::WorkHolding,
                if work.nut {
                    "Tape the board's face and the nut's seat, and set the neck down on clean padding: a loose grain under \
                     it scratches what is done."
                } else {
                    "Tape the board's face, and set the neck down on clean padding: a loose grain under it scratches what \
                     is done."
                },
            ),
            (
                Topic::FretWire,
                if work.frets {
                    "The frets' ends cut the hands that stroke along the sides: dress them before."
                } else {
                    ""
                },
            ),
        ],
    }
}

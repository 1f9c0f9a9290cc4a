//! Whether the parts fit one another.

use alloc::format;
use alloc::string::String;
use alloc::vec::Vec;

use super::board::{Board, Side};
use super::fan::{Fan, FretLine};
use super::layout::Layout;
use crate::measure::{Error, Fault, Kind, Station, told};
use crate::spec::Specification;

/// The board's width as `fretboard.widths` may give it, mm.
const WIDTHS_MM: (f64, f64) = (15.0, 160.0);

/// The board has to end beyond the nut and no farther than the bridge.
pub(super) fn end(spec: &Specification, fan: &Fan, end: f64) -> Result<(), Error> {
    let (_, half) = fan.halves();
    let bridge = fan.bridge_line();
    let bridge = bridge.x_at_mm(half).min(bridge.x_at_mm(-half));
    if (Station::LEAST_GAP_MM..=bridge).contains(&end) {
        return Ok(());
    }
    if spec.fretboard.end.is_some() {
        let fault =
            Fault::new(Kind::Geometry, "fretboard.end", "a board ends between the nut and the bridge");
        let fault = fault.value(told(end), "mm").range(Station::LEAST_GAP_MM, bridge);
        return Err(fault.remedy("move it within the range, or leave it out").into());
    }
    let reason =
        format!("the board would end at {} mm and the bridge stands at {} mm", told(end), told(bridge));
    let fault = Fault::new(Kind::Geometry, "frets.count", reason).value(spec.frets.count, "");
    let remedy = if fan.is_fanned() {
        "take fewer frets, bring the two scales nearer to one another, or give fretboard.end"
    } else {
        "take fewer frets, or give fretboard.end"
    };
    Err(fault.remedy(remedy).into())
}

/// Width, radius and edge all along the board. All three are decided at the stations where the outline bends: width and
/// radius are straight between them, and the edge is least at one of them.
pub(super) fn board(board: &Board, spec: &Specification) -> Result<(), Error> {
    let mut faults = Vec::new();
    let (narrowest, widest) = WIDTHS_MM;
    let (end, binding) = (board.end_mm(), board.binding_mm());
    let at_end = board.width_mm(end);
    if !(narrowest..=widest).contains(&at_end) {
        let end = told(end);
        let (reason, remedy) = match &spec.fretboard.widths {
            Some(_) => (
                format!(
                    "the board's width at its end, station {end} mm, where the edges given run on straight"
                ),
                "give a width nearer to the board's end",
            ),
            None => (
                format!("the board's width at its end, station {end} mm, as it follows from the strings"),
                "give it, or spread the strings otherwise",
            ),
        };
        let fault = Fault::new(Kind::Geometry, "fretboard.widths", reason).value(told(at_end), "mm");
        // What else would be wrong with such a board follows from that.
        return Err(fault.range(narrowest, widest).remedy(remedy).into());
    }
    if let Some(x) = board.vertices().find(|&x| board.width_mm(x) <= 2.0 * binding) {
        let reason = format!("leaves no board between the bindings at station {} mm", told(x));
        let fault = Fault::new(Kind::Geometry, "fretboard.binding", reason).value(binding, "mm");
        faults.push(fault.remedy("take a narrower binding or a wider board"));
    }
    let too_round = |x: &f64| board.crown().radius_mm(*x).is_some_and(|r| r < board.width_mm(*x));
    if let Some(x) = board.vertices().find(too_round) {
        let radius = board.crown().radius_mm(x).unwrap_or(0.0);
        let width = board.width_mm(x);
        let path = match (spec.fretboard.end_radius, x > 0.0) {
            (Some(_), true) => "fretboard.end_radius",
            _ => "fretboard.radius",
        };
        let reason = format!("at station {} mm the board is wider than its radius", told(x));
        let fault = Fault::new(Kind::Geometry, path, reason).value(told(radius), "mm");
        faults.push(fault.range(width, None).remedy("take a larger radius or a narrower board"));
        // What the edge would be is then no use.
        return Error::unless_none(faults);
    }
    let (edge, x) = board.least_edge_thickness_mm();
    if edge <= 0.0 {
        let reason = format!("the radius leaves no edge at station {} mm", told(x));
        let fault =
            Fault::new(Kind::Geometry, "fretboard.thickness", reason).value(board.thickness_mm(), "mm");
        let least = board.thickness_mm() - edge;
        faults.push(fault.range(least, None).remedy("take a thicker board or a larger radius"));
    }
    Error::unless_none(faults)
}

/// The slots have to lie apart, on the board, with wood under them.
pub(super) fn frets(layout: &Layout, spec: &Specification) -> Result<(), Error> {
    let (board, frets) = (&layout.board, &layout.frets);
    let slot = spec.frets.slot_width.mm();
    let mut faults = Vec::new();
    // The nut's line comes before the first fret, where it is not itself the zero fret.
    let lines =
        (!spec.frets.zero_fret).then_some(layout.nut_line()).into_iter().chain(frets.iter().map(|f| f.line));
    let ends = |line: FretLine| {
        let x = |side| board.edge_point(line, side, board.binding_mm()).map_or(line.x_mm, |(x, _)| x);
        (x(Side::Bass), line.x_mm, x(Side::Treble))
    };
    let mut before: Option<(f64, f64, f64)> = None;
    for (number, line) in (0..).zip(lines) {
        let here = ends(line);
        if let Some(before) = before {
            // The gap is square to the slots, the stations lie along the neck.
            let along = slot * libm::sqrt(1.0 + line.slope * line.slope);
            let apart = |from: f64, to: f64| to - from > along;
            if !(apart(before.0, here.0) && apart(before.1, here.1) && apart(before.2, here.2)) {
                let reason = if number == 1 && !spec.frets.zero_fret {
                    String::from("the slot of fret 1 runs into the nut")
                } else {
                    format!("the slots of frets {} and {number} run into one another", number - 1)
                };
                let fault = if apart(before.1, here.1) {
                    let fault = Fault::new(Kind::Geometry, "scale.square_fret", reason);
                    fault
                        .value(spec.scale.square_fret, "")
                        .remedy("bring the two scales nearer to one another")
                } else {
                    let fault = Fault::new(Kind::Geometry, "frets.count", reason);
                    fault
                        .value(spec.frets.count, "")
                        .remedy("take fewer frets, or ones that lie farther apart")
                };
                faults.push(fault);
                break;
            }
        }
        before = Some(here);
    }
    if let Some(last) = frets.last() {
        let half_slot = 0.5 * slot * libm::sqrt(1.0 + last.line.slope * last.line.slope);
        let far = [Side::Bass, Side::Treble].map(|side| board.edge_point(last.line, side, 0.0));
        let far = far.iter().flatten().fold(last.line.x_mm, |far, &(x, _)| far.max(x)) + half_slot;
        if far > board.end_mm() {
            let reason = format!("the board ends before the slot of fret {} does", last.number);
            let fault = Fault::new(Kind::Geometry, "fretboard.end", reason).value(told(board.end_mm()), "mm");
            faults.push(fault.range(far, None).remedy("end the board farther on, or take fewer frets"));
        }
    }
    let thin = |wood: (f64, f64)| wood.0.min(wood.1);
    if let Some(fret) = frets.iter().find(|fret| thin(fret.wood_under_ends_mm) <= 0.0) {
        let reason = format!("the slot of fret {} cuts through the board at its end", fret.number);
        let depth = spec.frets.slot_depth.mm();
        let fault = Fault::new(Kind::Geometry, "frets.slot_depth", reason).value(depth, "mm");
        let most = depth + thin(fret.wood_under_ends_mm);
        faults.push(fault.range(None, most.max(0.0)).remedy("saw less deep, or take a thicker board"));
    }
    Error::unless_none(faults)
}

/// The outer strings have to lie on the board.
pub(super) fn strings(layout: &Layout) -> Result<(), Error> {
    let least = layout.least_margin();
    if least.margin_mm >= 0.0 {
        return Ok(());
    }
    let (half, _) = layout.fan.halves();
    let (path, value) = if least.at_mm > 0.0 {
        ("bridge.string_spread", 2.0 * layout.fan.halves().1)
    } else {
        ("nut.string_spread", 2.0 * half)
    };
    let side = if least.side == Side::Bass { "bass" } else { "treble" };
    let (over, at) = (told(-least.margin_mm), told(least.at_mm));
    let reason = format!("the {side} string lies {over} mm over the board's edge at station {at} mm");
    let fault = Fault::new(Kind::Geometry, path, reason).value(value, "mm");
    Err(fault.remedy("spread the strings less, or take a wider board").into())
}

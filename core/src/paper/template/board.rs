//! The fretboard alone.

use alloc::boxed::Box;
use alloc::format;
use alloc::string::String;
use alloc::vec;
use alloc::vec::Vec;

use super::frame::Frame;
use super::strip::{numbers, slot};
use crate::measure::Error;
use crate::paper::callout::{self, Callout};
use crate::paper::dimension::Dimension;
use crate::paper::layer::Layer;
use crate::paper::offset::piece;
use crate::paper::path::{Path, Point};
use crate::paper::plan::View;
use crate::paper::sheet::Sheet;
use crate::paper::station::{middle_fret, mm};
use crate::shape::Neck;
use crate::spec::TemplateOptions;

/// The board's outline, in the neck's own hand: nut, lower edge on the sheet of a right-handed neck, end, other edge.
fn outline(neck: &Neck) -> Vec<Point> {
    let (board, hand) = (neck.layout().board(), neck.hand_sign());
    let edge = |k: usize, sign: f64| {
        let start = board.nut_ends_mm()[k];
        let inner = board.widths_mm().iter().map(|w| w.0).filter(|x| *x > start && *x < board.end_mm());
        let stations = core::iter::once(start).chain(inner).chain([board.end_mm()]);
        stations.map(|x| [x, hand * sign * 0.5 * board.width_mm(x)]).collect::<Vec<Point>>()
    };
    let mut outline = edge(0, -1.0);
    outline.extend(edge(1, 1.0).into_iter().rev());
    outline
}

fn notes(neck: &Neck) -> Vec<String> {
    let board = neck.layout().board();
    let mut notes: Vec<String> = vec![
        "Distances run along the centreline from the front of the nut; numbers stand before their frets."
            .into(),
    ];
    let radius = |x: f64| board.crown().radius_mm(x).unwrap_or_default();
    notes.push(match (board.crown().is_flat(), radius(0.0), radius(board.end_mm())) {
        (true, ..) => "The board is flat.".into(),
        (_, nut, end) if libm::fabs(nut - end) < 5e-3 => format!("Radius {}, a cylinder.", mm(nut)),
        (_, nut, end) => {
            format!("Radius {} at the nut, {} at the end, growing evenly: a cone.", mm(nut), mm(end))
        }
    });
    let (edge, at) = board.least_edge_thickness_mm();
    notes.push(format!(
        "{} thick at the crown; its edge is thinnest, {}, at {} from the nut.",
        mm(board.thickness_mm()),
        mm(edge),
        mm(at)
    ));
    if board.binding_mm() > 0.0 {
        notes.push(format!(
            "Bound: the thin line {} inside the edge is where the board ends and the binding begins; slots end there.",
            mm(board.binding_mm())
        ));
    }
    let frets = &neck.normalised().frets;
    if frets.count > 0 {
        notes.push(format!(
            "Slots {} wide and {} deep below the surface. Saw them before the board is tapered, square to its underside.",
            mm(frets.slot_width.mm()),
            mm(frets.slot_depth.mm())
        ));
    }
    if neck.layout().fan().is_fanned() {
        notes.push("Fanned frets: mark each slot at both its ends.".into());
    }
    notes
}

/// The fretboard alone as a template: its outline with the taper, fret slots from end to end, the centres of dots, the binding,
/// and by option the strings.
///
/// A left-handed neck's is the mirror image, with its words to be read.
///
/// # Errors
/// - as [`TemplateOptions::check`].
pub fn board(neck: &Neck, options: &TemplateOptions) -> Result<Sheet, Error> {
    options.check()?;
    let board = neck.layout().board();
    let (start, end) = (board.start_mm(), board.end_mm());
    let mut view = View::new(neck);
    piece(&mut view.draft, Path::polyline(&outline(neck), true), options.offset.mm());
    view.binding();
    let width = neck.normalised().frets.slot_width.mm();
    for fret in neck.frets() {
        let ((xb, yb), (xt, yt)) = fret.slot_ends_mm;
        slot(&mut view.draft, [[xb, yb], [xt, yt]], width, options.slot_edges);
    }
    view.markers();
    if options.strings {
        for string in neck.strings() {
            let to = end.min(string.bridge_mm.0);
            view.draft.line(Layer::Strings, [string.nut_mm.0, string.nut_mm.1], [to, string.y_mm(to)]);
        }
    }
    view.draft.line(Layer::Centreline, [start - 6.0, 0.0], [end + 6.0, 0.0]);
    numbers(&mut view.draft, &neck.frets(), |fret| {
        let ((xb, yb), (xt, yt)) = fret.slot_ends_mm;
        [[xb, yb], [xt, yt]]
    });
    let [low, high] = view.draft.bounds();
    let half = |x: f64| 0.5 * board.width_mm(x);
    let mut stations: Vec<(f64, String)> = vec![(0.0, "nut".into())];
    stations.extend(middle_fret(neck).map(|(n, x)| (x, format!("fret {n}"))));
    let inner = board.widths_mm().iter().map(|w| w.0).filter(|x| *x > 0.0 && *x < end);
    stations.extend(inner.map(|x| (x, format!("{} from the nut", mm(x)))));
    stations.push((end, "end".into()));
    stations.sort_by(|a, b| a.0.total_cmp(&b.0));
    stations.dedup_by(|b, a| libm::fabs(a.0 - b.0) < 1e-6);
    let widths = stations.iter().map(|(x, name)| Callout {
        foot: [*x, half(*x)],
        words: format!("{} wide, {name}", mm(board.width_mm(*x))),
    });
    callout::place(&mut view.draft, widths.collect(), high[1] + 3.0, true);
    let mut level = low[1] - 6.0;
    let middle = middle_fret(neck).map(|(n, x)| (x, format!("nut to fret {n}: {}", mm(x))));
    for (x, words) in middle.into_iter().chain([(end, format!("nut to end of board: {}", mm(end)))]) {
        view.draft.dimension(Dimension::level([[0.0, -half(0.0)], [x, -half(x)]], level, words));
        level -= 6.5;
    }
    let frame = Frame {
        title: "Fretboard of a neck",
        what: "Fretboard, seen from the front".into(),
        notes: notes(neck),
        drawing: Box::new(move |_| view.draft.clone()),
        tables: Vec::new(),
        placed: true,
    };
    Ok(frame.sheet(neck, options))
}

//! The headstock in the plane of its face.

use alloc::boxed::Box;
use alloc::format;
use alloc::string::String;
use alloc::vec;
use alloc::vec::Vec;

use super::frame::Frame;
use crate::measure::Error;
use crate::paper::draft::Draft;
use crate::paper::face;
use crate::paper::layer::Layer;
use crate::paper::offset::{hole, ways};
use crate::paper::path::{Path, Point};
use crate::paper::sheet::Sheet;
use crate::paper::station::mm;
use crate::shape::Neck;
use crate::spec::{HeadstockKind, TemplateOptions};

/// The nut's line, its front, and the wood's edges between it and the face; laid flat, so that all lengths are true.
fn nut(neck: &Neck, draft: &mut Draft) {
    let (board, hand) = (neck.layout().board(), neck.hand_sign());
    let root = neck.headstock().root_x_mm;
    let front: Vec<Point> = board
        .nut_ends_mm()
        .iter()
        .zip([-1.0, 1.0])
        .map(|(x, sign)| [x - root, hand * sign * 0.5 * board.width_mm(*x)])
        .collect();
    let outline = face::outline(neck);
    for p in &front {
        // The corner of the face on the same side.
        let corner = outline.iter().rfind(|q| q[0] > -1e-6 && (q[1] < 0.0) == (p[1] < 0.0));
        if let Some(q) = corner.filter(|q| libm::hypot(q[0] - p[0], q[1] - p[1]) > 1e-6) {
            draft.line(Layer::Edges, *q, *p);
        }
    }
    draft.line(Layer::Edges, front[0], front[1]);
}

fn notes(neck: &Neck) -> Vec<String> {
    let (head, spec) = (neck.headstock(), &neck.normalised().headstock);
    let mut notes = vec![match head.kind {
        HeadstockKind::Angled => format!(
            "In the plane of the face, which is tilted by {} degrees: lay it on the face itself. All lengths are true there.",
            mm(head.angle_deg)
        ),
        HeadstockKind::Level => {
            format!("Level headstock, its face {} below the glue line.", mm(spec.step.mm()))
        }
    }];
    notes.push(format!(
        "The face begins {} behind the front of the nut, square to the centreline; {} thick, {} long.",
        mm(-head.root_x_mm),
        mm(head.thickness_mm),
        mm(head.length_mm)
    ));
    if !head.posts.is_empty() {
        notes.push(format!(
            "Holes {} in diameter, square to the face: prick their centres through.",
            mm(spec.hole_diameter.mm())
        ));
    }
    let rod = &neck.normalised().rod;
    if rod.fitted && rod.pocket_length.mm() > 0.0 {
        notes.push(format!(
            "Access pocket for the rod {} by {}.",
            mm(rod.pocket_length.mm()),
            mm(rod.pocket_width.mm())
        ));
    }
    notes
}

/// The headstock as a template: its outline in the plane of its face, where nothing is foreshortened, with the tuner holes and
/// their centres, the rod's pocket, and the front of the nut.
///
/// A left-handed neck's is the mirror image, with its words to be read.
///
/// # Errors
/// - as [`TemplateOptions::check`].
pub fn headstock(neck: &Neck, options: &TemplateOptions) -> Result<Sheet, Error> {
    options.check()?;
    let mut draft = Draft::default();
    let by = options.offset.mm();
    if by > 0.0 {
        for way in ways(&Path::polyline(&face::outline(neck), true), by) {
            draft.path(Layer::CutLine, way);
        }
        let radius = 0.5 * neck.normalised().headstock.hole_diameter.mm();
        for centre in face::places(neck, true) {
            hole(&mut draft, centre, radius, by);
        }
    }
    nut(neck, &mut draft);
    let draft = face::face(neck, draft);
    let tables = if neck.headstock().posts.is_empty() { Vec::new() } else { vec![face::table(neck)] };
    let frame = Frame {
        title: "Headstock of a neck",
        what: "Headstock".into(),
        notes: notes(neck),
        drawing: Box::new(move |_| draft.clone()),
        tables,
        placed: false,
    };
    Ok(frame.sheet(neck, options))
}

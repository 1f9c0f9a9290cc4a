//! What lies on the bench: the parts of a neck and of its stock that the cautions depend on.

use crate::measure::Length;
use crate::shape::{Neck, Side};
use crate::spec::{Construction, CutterShape, HeelMade, Radius, Specification, StageName, Stock};

/// What a neck and its stock have and have not, as far as there is something to mind about it.
///
/// The default is the neck of a specification and a stock without entries, nothing being known of the wall around its
/// rod's channel.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Work<'a> {
    /// Names of the neck's wood and of the board's.
    pub species: [&'a str; 2],
    /// The least wood between the rod's channel and the outside, mm, and the station where that is, mm from the nut;
    /// `None` where there is no channel or nothing is known of it.
    pub least_rod_wall: Option<(f64, f64)>,
    /// The least wall that the specification asks for, mm; 0 asks for nothing.
    pub least_wall_asked_mm: f64,
    /// Whether a channel for a rod is cut.
    pub rod: bool,
    /// Whether there is a volute; without one headstock and shaft have a transition alone.
    pub volute: bool,
    /// Whether the headstock's face is tilted.
    pub tilted: bool,
    /// Whether the headstock is scarfed on.
    pub scarfed: bool,
    /// Whether the heel's block is glued on.
    pub block_glued: bool,
    /// Whether the board is on already when the work begins.
    pub board_glued: bool,
    /// Whether the carve line lies in the board somewhere, so that shaping the back cuts the board too.
    pub board_shaped: bool,
    /// Whether the board's face is round across.
    pub round_face: bool,
    /// Whether there are frets.
    pub frets: bool,
    /// Whether the board has markers, on its face or at its side.
    pub markers: bool,
    /// Whether there is a nut with a seat of its own.
    pub nut: bool,
    /// Whether facets are planed.
    pub facets: bool,
    /// The shape of the cutter that rounds the corners over.
    pub cutter: CutterShape,
}

impl Default for Work<'_> {
    fn default() -> Self {
        Self {
            species: ["cherry, black", "maple, sugar"],
            least_rod_wall: None,
            least_wall_asked_mm: 3.0,
            rod: true,
            volute: true,
            tilted: true,
            scarfed: false,
            block_glued: false,
            board_glued: false,
            board_shaped: true,
            round_face: true,
            frets: true,
            markers: true,
            nut: true,
            facets: true,
            cutter: CutterShape::QuarterRound,
        }
    }
}

impl<'a> Work<'a> {
    /// What a neck and a stock have. Takes as long as [`Neck::least_rod_wall`] does.
    #[must_use]
    pub fn of(neck: &'a Neck, stock: &Stock) -> Self {
        let Specification { woods, rod, fretboard, nut, .. } = neck.normalised();
        let layout = neck.layout();
        Self {
            species: [&woods.neck.species, &woods.fretboard.species],
            least_rod_wall: neck.least_rod_wall().map(|w| (w.value, w.x_mm)),
            least_wall_asked_mm: rod.least_wall.mm(),
            rod: !neck.rod_cuts().is_empty(),
            volute: neck.volute().height_mm > 0.0,
            tilted: neck.headstock().angle_deg > 0.0,
            scarfed: stock.construction == Construction::Scarf,
            block_glued: stock.heel_block.made == HeelMade::GluedOn,
            board_glued: stock.board.glued,
            board_shaped: board_shaped(neck),
            round_face: fretboard.radius != Radius::Flat,
            frets: !layout.frets().is_empty(),
            markers: !(layout.face_markers().is_empty() && layout.side_markers().is_empty()),
            nut: nut.thickness > Length::from_mm(0.0),
            facets: has_facets(stock),
            cutter: stock.cutter.shape,
        }
    }
}

/// Whether the stage of the facets is gone through and planes any.
pub(super) fn has_facets(stock: &Stock) -> bool {
    stock.facets.rounds > 0 && stock.order.as_ref().is_none_or(|order| order.contains(&StageName::Facets))
}

/// Whether the carve line lies above the glue line somewhere along the board.
fn board_shaped(neck: &Neck) -> bool {
    // Looked at this closely; what is shallower is no cut.
    const WITHIN_MM: f64 = 1e-3;
    let board = neck.layout().board();
    let [_, end] = neck.wood_reach_mm();
    Side::BOTH.into_iter().any(|side| {
        let line = &neck.built().back.flanks.of(side).depth[0];
        let over = line.restricted(board.start_mm().max(line.start()), board.end_mm().min(end));
        over.is_some_and(|line| line.least(WITHIN_MM).value < board.thickness_mm() - WITHIN_MM)
    })
}

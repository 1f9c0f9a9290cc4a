//! A page: the title, the drawing, the words beside it, the cautions at the foot.

use alloc::format;
use alloc::vec::Vec;

use super::front::Front;
use super::lying::Lying;
use super::scene::{Drawing, Scene};
use super::{marks, rounded, sanded, templates, timber, words};
use crate::carve::Details;
use crate::paper::block::{HEADING_MM, lines as write};
use crate::paper::draft::{Draft, EDGE_MM};
use crate::paper::face;
use crate::paper::flow::{COLUMN_MM, GUTTER_MM, flow, lefts};
use crate::paper::layer::Layer;
use crate::paper::legend::{TEMPLATES, WOOD, legend};
use crate::paper::path::Point;
use crate::paper::sheet::Sheet;
use crate::paper::text::TEXT_MM;
use crate::spec::{Hand, StageName};

/// A4 and A3 lying, mm.
const PAPERS: [Point; 2] = [[297.0, 210.0], [420.0, 297.0]];
/// How far past the nut a view of the headstock goes, mm.
const PAST_NUT_MM: f64 = 40.0;

/// The drawing of a stage, and what only this stage says.
fn drawing(scene: &Scene<'_>) -> (Drawing, Vec<Draft>) {
    let past = (PAST_NUT_MM).min(0.5 * scene.neck.heel().start_x_mm);
    let side = |f: &dyn Fn(&mut Lying<'_>)| {
        let mut view = Lying::whole(scene);
        f(&mut view);
        view.lines();
        view.done()
    };
    let front = |f: &dyn Fn(&mut Front<'_>)| {
        let mut view = Front::new(scene);
        f(&mut view);
        view.done()
    };
    match (scene.stage.name, &scene.stage.details) {
        (StageName::Blank, details) => {
            let Details::Timber(facts) = details else { return (side(&|_| {}), Vec::new()) };
            let lying = |v: &mut Lying<'_>| {
                v.sizes();
                v.heel_block(facts);
            };
            let mut drawing = above(front(&|v| v.lines()), side(&lying));
            if let Some(draft) = timber::scarf(facts, &scene.lines) {
                drawing = above(drawing, Drawing { draft, origin: None });
            }
            (drawing, timber::facts(facts))
        }
        (StageName::RodChannel, _) => {
            let side = side(&|v| v.channel(Layer::Left));
            (
                above(
                    front(&|v| {
                        v.channel();
                        v.lines();
                    }),
                    side,
                ),
                Vec::new(),
            )
        }
        (StageName::HeadstockFace, _) => {
            let mut view = Lying::to(scene, past);
            view.lines();
            (view.done(), Vec::new())
        }
        (StageName::Board, _) => (front(&|v| v.slots()), timber::fan(scene.neck)),
        (StageName::Taper, _) => (front(&|v| v.lines()), Vec::new()),
        (StageName::Sides, _) => (
            front(&|v| {
                v.lines();
                v.widths();
            }),
            Vec::new(),
        ),
        (StageName::Back, details) => {
            let extra = match details {
                Details::Sawing(lines) => timber::saw_lines(lines, scene.neck),
                _ => Vec::new(),
            };
            (side(&|v| v.channel(Layer::Hidden)), extra)
        }
        (StageName::HeadstockThickness, _) => {
            let mut view = Lying::to(scene, past);
            view.holes();
            view.lines();
            (
                above(view.done(), Drawing { draft: face::face(scene.neck, Draft::default()), origin: None }),
                Vec::new(),
            )
        }
        (StageName::Stops, _) => (
            side(&|v| {
                v.glued();
                v.carve_line();
            }),
            Vec::new(),
        ),
        (_, Details::Cutter(facts)) => (rounded::cutter(scene, facts), rounded::cutter_words(scene, facts)),
        (_, Details::Facets(facts)) => (rounded::facets(scene, facts), rounded::facet_words(scene, facts)),
        (_, Details::Targets(facts)) => (rounded::contour(scene, facts), rounded::target_words(scene, facts)),
        (_, Details::Templates(all)) => (templates::templates(all, 264.0, 0.0), Vec::new()),
        (_, Details::Sanding(plan)) => (sanded::section(scene, plan), sanded::grits(plan)),
        _ => (side(&|_| {}), Vec::new()),
    }
}

/// One drawing above another, the neck's stations in line where both have them.
fn above(top: Drawing, bottom: Drawing) -> Drawing {
    let Drawing { mut draft, origin } = top;
    let (low, high) = (draft.bounds()[0], bottom.draft.bounds()[1]);
    let across = if bottom.origin.is_some() { 0.0 } else { low[0] - bottom.draft.bounds()[0][0] };
    draft.stand(bottom.draft, [across, low[1] - 6.0 - high[1]]);
    Drawing { draft, origin }
}

/// The title: which stage of which neck.
fn title(scene: &Scene<'_>, width: f64) -> Draft {
    let mut draft = Draft::default();
    let spec = scene.neck.normalised();
    let stage =
        format!("Stage {} of {}: {}", scene.index + 1, scene.plan.stages().len(), scene.stage.name.name());
    let mut y = write(&mut draft, &stage, 0.0, 0.0, 4.5, width);
    let name = if spec.name.trim().is_empty() { "A neck without a name" } else { spec.name.as_str() };
    let hand = if spec.hand == Hand::Left { "Left-handed" } else { "Right-handed" };
    y = write(&mut draft, name, 0.0, y + 1.0, 3.2, width);
    let scale = format!(
        "{hand}. Full size, 1:1. Marks: millimetres, and inches to a 64th, where wood goes on its waste's side. Readings: millimetres, and inches in \
         thousandths."
    );
    write(&mut draft, &scale, 0.0, y + 1.0, TEXT_MM, width);
    draft
}

/// What a page is put together from.
struct Parts {
    drawing: Draft,
    blocks: Vec<Draft>,
    cautions: Vec<Draft>,
}

impl Parts {
    fn laid_out(&self, scene: &Scene<'_>, width: f64) -> (Draft, Point) {
        let mut draft = Draft::default();
        draft.stand(title(scene, width.min(HEADING_MM)), [0.0; 2]);
        let [low, high] = self.drawing.bounds();
        let top = draft.bounds()[0][1] - 5.0;
        let by = [-low[0], top - high[1]];
        draft.stand(self.drawing.clone(), by);
        let bottom = top - (high[1] - low[1]) - 8.0;
        let right = high[0] - low[0] + GUTTER_MM;
        let lefts = lefts(width);
        // Read from the left to the right, whether below the drawing or beside it.
        let columns: Vec<Point> =
            lefts.iter().map(|x| [*x, if *x >= right { top } else { bottom }]).collect();
        flow(&mut draft, self.blocks.clone(), &columns);
        let foot = draft.bounds()[0][1] - 6.0;
        let mut cautions = self.cautions.clone();
        if let Some(first) = cautions.first_mut() {
            *first = words::heading("Cautions", core::mem::take(first));
        }
        let columns: Vec<Point> = lefts.into_iter().map(|x| [x, foot]).collect();
        flow(&mut draft, cautions, &columns);
        (draft, by)
    }
}

/// The page of a stage.
pub(super) fn page(scene: &Scene<'_>) -> Sheet {
    let (Drawing { draft: drawing, origin }, extra) = drawing(scene);
    let mut blocks = words::action(scene.stage, scene.neck);
    blocks.extend(marks::tables(&scene.lines));
    blocks.extend(marks::unmarked(&scene.stage.lines).map(|w| words::words(&w, COLUMN_MM)));
    blocks.extend(extra);
    if matches!(
        scene.stage.details,
        Details::Cutter(_)
            | Details::Facets(_)
            | Details::Targets(_)
            | Details::Templates(_)
            | Details::Sanding(_)
    ) {
        blocks.push(words::seen(scene.neck, matches!(scene.stage.details, Details::Templates(_))));
    }
    blocks.extend(words::checks(&scene.stage.checks));
    blocks.extend(words::from_the_board(scene.stage, scene.neck));
    blocks.extend(words::places(scene));
    let meaning = if matches!(scene.stage.details, Details::Templates(_)) { TEMPLATES } else { WOOD };
    blocks.extend(legend(meaning, |layer| drawing.uses(layer)));
    let parts = Parts { drawing, blocks, cautions: words::cautions(scene.stage) };
    let [low, high] = parts.drawing.bounds();
    let needed = high[0] - low[0];
    let height = |draft: &Draft| {
        let [low, high] = draft.bounds();
        high[1] - low[1] + 2.0 * EDGE_MM
    };
    let papers = PAPERS.iter().map(|p| (p[0] - 2.0 * EDGE_MM, p[1])).filter(|(width, _)| *width >= needed);
    let fitting = papers
        .map(|(width, high)| (parts.laid_out(scene, width), high))
        .find(|((draft, _), high)| height(draft) <= *high);
    let (draft, by) = fitting.map_or_else(
        || {
            // No paper holds it: of several widths the one that takes the least paper.
            let least = needed.max(PAPERS[1][0] - 2.0 * EDGE_MM);
            let tried = [least, least.max(480.0), least.max(560.0)].map(|width| {
                let laid = parts.laid_out(scene, width);
                (height(&laid.0) * (width + 2.0 * EDGE_MM), laid)
            });
            let [first, others @ ..] = tried;
            others.into_iter().fold(first, |a, b| if b.0 < a.0 - 1.0 { b } else { a }).1
        },
        |(laid, _)| laid,
    );
    let name = format!("Carving plan, stage {}: {}", scene.index + 1, scene.stage.name.name());
    draft.into_sheet(&name, &PAPERS, origin.map(|p| [p[0] + by[0], p[1] + by[1]]))
}

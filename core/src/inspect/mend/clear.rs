//! What has to be clear all along the neck and is asked for at stations: rows there, and between them where a solution
//! breaks them.

use alloc::vec::Vec;

use smallvec::SmallVec;

use super::affine::Affine;
use super::limit::Limit;
use super::model::Model;
use super::programme::Demand;
use crate::law::Law;
use crate::shape::Side;
use crate::spec::{Allowed, ThicknessAt};

/// What the proofs of a neck come near to, and twice that, mm.
pub(super) const CLEAR: f64 = 2e-3;
/// Places between two joints that are looked at first where a neck could not be built, where more than this is left, mm,
/// it is not looked at again, and how often the stretch around the worst of them is cut by a third.
const BETWEEN: usize = 16;
const NEAR: f64 = 0.05;
const THIRDS: usize = 20;
/// Rows of one station.
const KINDS: usize = 11;
/// What is broken by less is rounding, mm.
const BROKEN: f64 = 1e-9;

/// Room that is asked for, or half of what the design has of it where that is less.
fn clear(design: f64) -> f64 {
    if design > 0.0 { CLEAR.min(0.5 * design) } else { design }
}

/// What has to be clear in a model.
pub(super) struct Clear<'m, 'n> {
    model: &'m Model<'n>,
    /// How thick the neck has to be where there is a board over it.
    thickness: f64,
    /// The board's top edge: its chord between two corners lies below it.
    edge: Option<Law>,
}

impl<'m, 'n> Clear<'m, 'n> {
    pub fn new(model: &'m Model<'n>, thickness: f64) -> Self {
        let (built, board) = (model.neck.built(), model.neck.layout().board());
        let board_end = board.end_mm().min(built.end);
        let edge = built.board_half.restricted(board.start_mm(), board_end).and_then(|half| {
            let points: Vec<(f64, f64)> =
                half.breaks().iter().map(|x| (*x, board.crown().sagitta(*x, half.value(*x)))).collect();
            Law::polyline(&points)
        });
        Self { model, thickness, edge }
    }

    /// The rows at the joints and once between each two.
    pub fn at_stations(&self) -> impl Iterator<Item = Demand> + '_ {
        self.model.grid(self.model.reach).into_iter().flat_map(|x| self.at(x)).map(|(_, row)| row)
    }

    /// The rows that a solution breaks between the stations: of each kind the one that is broken most between two joints.
    pub fn broken(&self, unknowns: &[f64]) -> Vec<Demand> {
        let mut all = Vec::new();
        for w in self.model.joints(self.model.reach).windows(2) {
            let step = (w[1] - w[0]) / BETWEEN as f64;
            let mut least: [Option<(f64, f64)>; KINDS] = [None; KINDS];
            for i in 0..=BETWEEN {
                let x = w[0] + step * i as f64;
                for (kind, row) in self.all(x) {
                    let slack = row.slack(unknowns);
                    if least[kind].is_none_or(|(known, _)| slack < known) {
                        least[kind] = Some((slack, x));
                    }
                }
            }
            for (kind, (slack, x)) in least.into_iter().enumerate().filter_map(|(k, l)| l.map(|l| (k, l))) {
                if slack > NEAR {
                    continue;
                }
                let row = |x: f64| self.all(x).into_iter().find(|(k, _)| *k == kind).map(|(_, row)| row);
                let slack = |x: f64| row(x).map_or(f64::INFINITY, |row| row.slack(unknowns));
                let (mut a, mut b) = ((x - step).max(w[0]), (x + step).min(w[1]));
                for _ in 0..THIRDS {
                    let (c, d) = (a + (b - a) / 3.0, b - (b - a) / 3.0);
                    if slack(c) < slack(d) { b = d } else { a = c }
                }
                let found = [x, 0.5 * (a + b)].into_iter().filter_map(row);
                let worst = found.min_by(|a, b| a.slack(unknowns).total_cmp(&b.slack(unknowns)));
                all.extend(worst.filter(|row| row.slack(unknowns) < -BROKEN));
            }
        }
        all
    }

    /// The rows of a station and what keeps it inside the design.
    fn all(&self, x: f64) -> SmallVec<[(usize, Demand); 8]> {
        let mut rows = self.at(x);
        rows.extend(self.inside(x).map(|row| (KINDS - 1, row)));
        rows
    }

    /// The treble side's second control point, which may come out lower than the design's though carve line and spine do
    /// not.
    fn inside(&self, x: f64) -> Option<Demand> {
        let asked = self.model.sides().len() > 1 && self.model.follows(x);
        asked.then(|| Demand::at_least(None, x, self.model.drops(Side::Treble, x)[1].clone(), 0.0))
    }

    /// All rows of a station, each with its kind.
    fn at(&self, x: f64) -> SmallVec<[(usize, Demand); 8]> {
        let mut rows = SmallVec::new();
        let model = self.model;
        let built = model.neck.built();
        // Straight on from its stations the line keeps to what a thickness may be at all.
        let shaft = model.spine.value(x);
        let own = model.spine.design.value(x);
        let least = (Allowed::<ThicknessAt>::thickness.within.lowest + CLEAR).min(own);
        rows.push((0, Demand::at_least(Some(Limit::LeastThickness), x, shaft, least)));
        // Wood is left below the board, and between the headstock's face and back.
        let design = built.back.spine.value(x) - model.neck.wood_top(x);
        let left = Affine::constant(design).plus(&model.spine_drop(x), -1.0);
        rows.push((1, Demand::at_least(Some(Limit::LeastThickness), x, left, clear(design))));
        // On the shaft proper the line is what is there, and has rows of its own.
        if model.share(x) < 1.0 && (0.0..=model.neck.layout().board().end_mm()).contains(&x) {
            let there = Affine::constant(built.back.spine.value(x)).plus(&model.spine_drop(x), -1.0);
            rows.push((9, Demand::at_least(Some(Limit::LeastThickness), x, there, self.thickness)));
        }
        for side in model.sides() {
            self.carve(*side, x, &mut rows);
        }
        rows.extend(self.convex(x).map(|row| (2, row)));
        // What nothing unknown enters holds as it does in the design.
        rows.retain(|(_, row)| row.terms.iter().any(|(_, k)| libm::fabs(*k) > 1e-12));
        rows
    }

    /// The carve line lies above the spine, below the board's top edge, and below the glue line where the block has its
    /// own width.
    fn carve(&self, side: Side, x: f64, rows: &mut SmallVec<[(usize, Demand); 8]>) {
        let (model, limit) = (self.model, Some(Limit::CarveLine));
        let built = model.neck.built();
        let kind = if side == Side::Bass { 3 } else { 6 };
        let room = model.carved_from_spine(side, x);
        let design = built.back.spine.value(x) - built.form.shallow.of(side).value(x);
        rows.push((kind, Demand::at_least(limit, x, room, clear(design))));
        if !model.carve.of(side).is_free() && model.share(x) >= 1.0 {
            return;
        }
        let carve = built.back.flanks.of(side).depth[0].value(x);
        let dropped = Affine::constant(carve).plus(&model.carve_drop(side, x), -1.0);
        if let Some(top) = self.edge.as_ref().and_then(|edge| edge.at(x)) {
            rows.push((kind + 1, Demand::at_least(limit, x, dropped.clone(), top + clear(carve - top))));
        }
        if built.own_block && x >= built.sweep.start {
            let glue = built.head.glue;
            rows.push((kind + 2, Demand::at_least(limit, x, dropped, glue + clear(carve - glue))));
        }
    }

    /// No section is hollow. The bass side's shape does not depend on the depths; the treble side's does where its
    /// shoulder follows from the bass side's.
    fn convex(&self, x: f64) -> Option<Demand> {
        let model = self.model;
        if model.sides().len() < 2 || !model.follows(x) {
            return None;
        }
        let flank = &model.neck.built().back.flanks.treble;
        let [o0, o1, o2] = [0, 1, 2].map(|i| flank.out[i].value(x));
        let (k, _) = model.shoulder(Side::Treble, x);
        let bass = model.carved_from_spine(Side::Bass, x);
        let treble = model.carved_from_spine(Side::Treble, x);
        let size = o0 - o2;
        let turn = treble.times((o1 - o2) / size).plus(&bass, -k);
        let design = model.neck.built().back.spine.value(x);
        let shallow = &model.neck.built().form.shallow;
        let own =
            (design - shallow.treble.value(x)) * (o1 - o2) / size - k * (design - shallow.bass.value(x));
        Some(Demand::at_least(Some(Limit::Convex), x, turn, own.min(CLEAR)))
    }
}

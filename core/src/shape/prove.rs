//! What must hold of a neck's laws, proven over the whole of it rather than sampled.

use alloc::format;
use alloc::vec::Vec;

use super::build::{Built, Work, carve_line, geometry};
use super::rod::{least_wall, walled};
use super::sides::{Side, Sides};
use crate::law::Law;
use crate::measure::{Fault, Kind, told};
use crate::spec::{BlockWidth, HeadstockKind};

/// How close to a proven bound the proofs come, mm.
const CLOSE: f64 = 1e-3;

impl Work<'_> {
    /// The carve line lies above the spine wherever there is something to carve, proven.
    pub(super) fn prove_carved(&mut self, spine: &Law, shallow: &Sides<Law>, reach: [f64; 2]) {
        let treble = self.spec.shaft.treble_carve_line.is_some();
        for side in if treble { &Side::BOTH[..] } else { &[Side::Bass] } {
            let carve = shallow.of(*side);
            let room = spine.minus(carve).and_then(|room| room.restricted(reach[0], reach[1]));
            if let Some(room) = room.map(|room| room.least(CLOSE)).filter(|room| room.bound <= 0.0) {
                let reason = format!("lies no higher than the spine at station {} mm", told(room.x_mm));
                self.faults.push(
                    geometry(carve_line(*side), carve.value(room.x_mm), reason)
                        .range(None, spine.value(room.x_mm))
                        .remedy("raise the carve line or make the neck thicker there"),
                );
            }
        }
    }

    /// Wood has to be left between the top face and the back.
    pub(super) fn prove_wood(&mut self, built: &Built) {
        let (head, spine) = (&built.head, &built.back.spine);
        let wood = |top: Option<Law>, from: f64, to: f64| {
            spine.restricted(from, to)?.minus(&top?).map(|l| l.least(CLOSE)).filter(|l| l.bound <= 0.0)
        };
        if let Some(least) = wood(Some(built.face.clone()), head.tip(), head.root) {
            let x = least.x_mm;
            let reason = format!("at station {} mm no wood is left between the face and the back", told(x));
            let fault = match head.kind {
                HeadstockKind::Angled => Fault::new(Kind::Geometry, "headstock.angle", reason)
                    .value(self.spec.headstock.angle.deg(), "deg")
                    .remedy("tilt the face less, or make the shaft thicker or the volute higher"),
                HeadstockKind::Level => geometry("headstock.step", head.step, reason)
                    .remedy("make the step lower, the shaft thicker or the volute higher"),
            };
            self.faults.push(fault);
        }
        let glue = Law::constant(head.glue, head.root, built.end);
        if let Some(least) = wood(glue, head.root, built.end) {
            let reason =
                format!("at station {} mm no wood is left between the board and the back", told(least.x_mm));
            self.faults.push(
                geometry("fretboard.thickness", head.glue, reason)
                    .range(None, spine.value(least.x_mm))
                    .remedy("make the neck thicker or the board thinner"),
            );
        }
    }

    /// Straight on from the given thicknesses a shaft can come out thinner or thicker than any neck is.
    pub(super) fn prove_shaft(&mut self, shaft: &Law, [from, to]: [f64; 2]) {
        // The bounds of a thickness that is given hold for those that follow from it.
        let (lowest, highest) = (8.0, 60.0);
        let Some(shaft) = shaft.restricted(from, to) else { return };
        let (least, greatest) = (shaft.least(CLOSE), shaft.greatest(CLOSE));
        let worst = if least.value < lowest { least } else { greatest };
        if worst.value < lowest || worst.value > highest {
            let reason = format!("the given thicknesses lead to this one at station {} mm", told(worst.x_mm));
            self.faults.push(
                geometry("shaft.thickness", worst.value, reason)
                    .range(lowest, highest)
                    .remedy("give stations further apart, or one nearer to that place"),
            );
        }
    }

    /// What must hold of the laws over the whole neck, proven rather than sampled.
    pub(super) fn prove(&mut self, built: &Built) {
        let back = &built.back;
        for side in back.distinct() {
            let flank = back.flanks.of(*side);
            let (half, depth) = (flank.out[0].least(CLOSE), &flank.depth[0]);
            if half.bound <= 0.0 {
                let reason = format!("at station {} mm the neck has no width", told(half.x_mm));
                let fault = if half.x_mm < built.head.root {
                    let path =
                        ["headstock.bass_edge", "headstock.treble_edge"][usize::from(*side == Side::Treble)];
                    Fault::new(Kind::Geometry, path, reason)
                        .remedy("widen the outline there, or let the board widen less fast from the nut")
                } else {
                    geometry("heel.end", built.end, reason)
                        .remedy("end the heel sooner, or give the board wider at its end")
                };
                self.faults.push(fault);
            }
            if let Some(flat) = self.flat_side(built, *side).filter(|f| f.bound < 0.0) {
                let reason = format!("lies above the board's top edge at station {} mm", told(flat.x_mm));
                let depth = depth.value(flat.x_mm);
                self.faults.push(
                    geometry(carve_line(*side), depth, reason)
                        .range(depth - flat.value, None)
                        .remedy("lower the carve line there or make the board flatter"),
                );
            }
        }
        self.prove_wood(built);
    }

    /// Height of the flat side from the board's top edge to the carve line, bounded from below: along a
    /// straight edge the sagitta is convex, so the chord between its ends lies above it.
    fn flat_side(&self, built: &Built, side: Side) -> Option<crate::law::Least> {
        let board = self.layout.board();
        let to = board.end_mm().min(built.end);
        let half = built.board_half.restricted(board.start_mm(), to)?;
        let crown = board.crown();
        let edge: Vec<(f64, f64)> =
            half.breaks().iter().map(|x| (*x, crown.sagitta(*x, half.value(*x)))).collect();
        built.back.flanks.of(side).depth[0].minus(&Law::polyline(&edge)?).map(|l| l.least(CLOSE))
    }

    /// The control polygons turn one way only, so every section's back is convex. At the handle near the
    /// spine they do so by the bounds of the numbers; at the one near the edge it has to be shown.
    pub(super) fn prove_convex(&mut self, built: &Built) {
        let profile = &built.form.profile;
        for side in built.back.distinct() {
            let turn = if built.back.even && profile.centred {
                // Convexity does not change where a section is stretched: what is left of width and depth
                // is a matter of the profile's numbers alone.
                let [shoulder, belly, lean] = &profile.bass;
                belly.times_number(-1.0).plus_number(1.0).times(shoulder).and_then(|l| l.minus(lean))
            } else {
                built.back.flanks.of(*side).first_turn()
            };
            // On slab and block the back is flat: the turn is zero there but for rounding.
            let turn = turn.and_then(|t| t.restricted(built.volute.start(), built.sweep.end));
            if let Some(least) = turn.map(|t| t.least(5e-9)).filter(|l| l.bound < -1e-8) {
                let side = if *side == Side::Bass { "" } else { " on the treble side" };
                let reason = format!("at station {} mm the back is hollow{side}", told(least.x_mm));
                self.faults.push(
                    Fault::new(Kind::Geometry, "shaft.profile", reason)
                        .remedy("take less lean or belly, or more shoulder"),
                );
                return;
            }
        }
    }

    /// The channel must not come out of the back.
    pub(super) fn prove_wall(&mut self, built: &Built) {
        if walled(&built.back, &built.cuts) {
            return;
        }
        let fine = least_wall(&built.back, &built.cuts, 0.01, 256);
        let Some(fine) = fine.filter(|fine| fine.bound <= 0.0) else { return };
        let x = fine.least.x_mm;
        let reason = if fine.least.value > 0.0 {
            format!("at station {} mm hardly any wood can be shown to be left behind the cut", told(x))
        } else {
            format!(
                "at station {} mm the cut comes out of the back: the wall there is {:.2} mm",
                told(x),
                fine.least.value
            )
        };
        // The pocket's floor is given from the face, the channel's from the glue line.
        let (path, depth) = match built.cuts.iter().find_map(|cut| cut.at(x)) {
            Some([_, floor]) if x >= built.head.root => ("rod.depth", floor - built.head.glue),
            _ => ("rod.pocket_depth", self.spec.rod.pocket_depth.mm()),
        };
        self.faults.push(
            geometry(path, depth, reason)
                .remedy("make the cut shallower, narrower or shorter, or the neck thicker"),
        );
    }

    /// A block of its own width has to begin below the glue line, or the board would have to change its
    /// width with it.
    pub(super) fn prove_block(&mut self, built: &Built) {
        let BlockWidth::Width(width) = self.spec.heel.block_width else { return };
        for side in Side::BOTH {
            let carve = built.back.flanks.of(side).depth[0].restricted(built.sweep.start, built.end);
            if let Some(least) = carve.map(|l| l.least(CLOSE)).filter(|l| l.bound < built.head.glue) {
                let reason = format!(
                    "a block of its own width begins below the glue line, {} mm deep, and at station {} mm the \
                     carve line is {:.2} mm deep",
                    told(built.head.glue),
                    told(least.x_mm),
                    least.value
                );
                self.faults.push(
                    Fault::new(Kind::Conflict, "heel.block_width", reason)
                        .value(width.mm(), "mm")
                        .remedy("lower the carve line at the heel, or leave the block as wide as the board"),
                );
                return;
            }
        }
    }
}

//! The two ways of making a neck, in one piece and scarfed: the blank that either takes, and how its grain runs.

use alloc::format;
use alloc::string::String;

use super::heel_block::{Needed, needed};
use super::offer::ROUNDING_MM;
use crate::law::Law;
use crate::measure::told;
use crate::shape::{Neck, scarf};
use crate::spec::{Construction, HeadstockKind};

/// Sizes that nobody gave go up to whole steps of this, mm.
const STEP_MM: f64 = 5.0;

/// Share of the bending strength of straight-grained wood that is left at a slope of grain: Wood Handbook,
/// FPL-GTR-282 (2021), table 5-12, modulus of rupture; `(slope, share)`.
const SLOPE_OF_GRAIN: [(f64, f64); 6] = [
    (0.0, 1.0),
    (1.0 / 25.0, 0.96),
    (1.0 / 20.0, 0.93),
    (1.0 / 15.0, 0.89),
    (1.0 / 10.0, 0.81),
    (1.0 / 5.0, 0.55),
];

/// How the grain of a wood runs in the headstock, assuming that it runs along the blank.
#[derive(Clone, Copy, Debug, PartialEq, serde::Serialize)]
pub struct Grain {
    /// Its slope against the headstock's face: 0 runs along it, 0.2 runs out 1 in 5.
    pub slope: f64,
    /// Share of the bending strength of straight grain that is left at that slope, an estimate for clear wood by
    /// interpolation in the Wood Handbook's table 5-12; beyond 1 in 5 the table ends and it is "less than" the last.
    /// The table says nothing of glued joints.
    pub strength: f64,
}

impl Grain {
    fn of(slope: f64) -> Self {
        let last = SLOPE_OF_GRAIN[SLOPE_OF_GRAIN.len() - 1];
        let strength = SLOPE_OF_GRAIN
            .windows(2)
            .find(|w| slope <= w[1].0)
            .map_or(last.1, |w| w[0].1 + (w[1].1 - w[0].1) * (slope - w[0].0) / (w[1].0 - w[0].0));
        Self { slope, strength }
    }
}

/// The piece of a scarf that was turned over.
#[derive(Clone, Copy, Debug, PartialEq, serde::Serialize)]
pub struct Turned {
    /// Its grain.
    pub grain: Grain,
    /// How far along the face from the nut's headstock side the joint comes out of the headstock's back, and of its
    /// face, mm. Before the first all wood of the headstock is the shaft's, beyond the second all is the turned piece's;
    /// between them the shaft's wood lies above the joint and the turned piece below it.
    pub from_mm: [f64; 2],
}

/// One way of making the neck, and the blank that it takes.
#[derive(Clone, Debug, PartialEq, serde::Serialize)]
pub struct Way {
    /// One piece or scarfed.
    pub construction: Construction,
    /// Length, width and thickness of the least blank, mm, allowances and saw cuts counted.
    pub needed_mm: [f64; 3],
    /// Where the heel's block is glued on: length, width and thickness of the least block under that blank, mm. `None`
    /// where it is one with the shaft, or where the blank holds it as it is.
    pub block_mm: Option<[f64; 3]>,
    /// Volume of blank and block, mm³.
    pub volume_mm3: f64,
    /// The grain of the wood that is one with the shaft: of the whole headstock in one piece, and of its beginning behind
    /// the nut where it is scarfed, see [`turned`](Self::turned). The weakest grain of either way is this one.
    pub grain: Grain,
    /// For a scarf that can be made, the wood of the rest of the headstock.
    pub turned: Option<Turned>,
    /// For a scarf, the thickest stock whose joint still ends on the headstock, mm.
    pub thickest_mm: Option<f64>,
    /// Why it can't be done, where it can't.
    pub obstacle: Option<String>,
    /// Where the heel's block is one with the shaft: the thickness of the least blank if it were glued on, mm; `None`
    /// where it would be less by no more than 3 mm, or where it can't be done that way either.
    pub block_glued_mm: Option<f64>,
}

/// What the neck asks of any blank.
#[derive(Clone, Copy)]
pub(super) struct Need<'a> {
    pub neck: &'a Neck,
    /// Wood that the saw leaves.
    pub saw: f64,
    /// How deep its line along the shaft lies.
    pub sawn: f64,
    pub kerf: f64,
    /// Beyond the finished outline in plan and at the ends: the allowance and the saw's cut.
    pub margin: f64,
    /// Whether the heel's block is glued on.
    pub block_glued: bool,
}

impl Need<'_> {
    /// Of the wood between two stations, with the centreline in its middle.
    pub fn width(&self, [from, to]: [f64; 2]) -> f64 {
        let back = &self.neck.built().back;
        let half = |f: &Law| f.restricted(from, to).map_or(0.0, |f| f.greatest(1e-6).bound);
        let out = [&back.flanks.bass, &back.flanks.treble].map(|f| half(&f.out[0]).max(half(&f.out[1])));
        2.0 * (out[0].max(out[1]) + self.margin)
    }

    pub fn deepest(&self, from: f64, to: f64, less: Option<&Law>) -> f64 {
        let spine = self.neck.built().back.spine.restricted(from, to);
        let law = match (spine, less) {
            (Some(spine), Some(less)) => spine.minus(less),
            (spine, None) => spine,
            (None, _) => None,
        };
        law.map_or(0.0, |l| l.greatest(1e-6).bound)
    }

    /// How far the blank's own wood has to reach down to the finished neck: to its end, or to the block.
    fn own_end(&self) -> f64 {
        let [_, end] = self.neck.wood_reach_mm();
        if self.block_glued { self.neck.built().sweep.start.min(end) } else { end }
    }

    /// Slope of the shaft's grain in the headstock.
    fn slope(&self) -> f64 {
        let head = &self.neck.built().head;
        if head.kind == HeadstockKind::Angled { head.sin / head.cos } else { 0.0 }
    }

    fn way(&self, construction: Construction, needed_mm: [f64; 3]) -> Way {
        let block_mm = needed(self, needed_mm[2]).map(|Needed { size_mm, .. }| size_mm);
        let block_mm = block_mm.filter(|_| self.block_glued);
        let volume = |size: [f64; 3]| size.iter().product::<f64>();
        Way {
            construction,
            needed_mm,
            block_mm,
            volume_mm3: volume(needed_mm) + block_mm.map_or(0.0, volume),
            grain: Grain::of(self.slope()),
            turned: None,
            thickest_mm: None,
            obstacle: None,
            block_glued_mm: self.worth_gluing(construction).map(|glued| glued.least),
        }
    }

    /// The least thickness of a blank, mm.
    pub fn least(&self, construction: Construction) -> f64 {
        let [tip, _] = self.neck.wood_reach_mm();
        let built = self.neck.built();
        let head = &built.head;
        match construction {
            Construction::OnePiece => {
                // The line lies the allowance outside, square to itself: on the headstock's slope that is more straight
                // down.
                let deepest = self.deepest(tip, self.own_end(), None) + self.saw / head.cos;
                deepest.max(self.sawn) - head.glue
            }
            Construction::Scarf => {
                let shaft =
                    (self.deepest(head.root, self.own_end(), None) + self.saw).max(self.sawn) - head.glue;
                let slab = self.deepest(tip, head.root, Some(&built.face)) * head.cos;
                shaft.max(slab + self.saw)
            }
        }
    }

    pub fn one_piece(&self) -> Way {
        let [tip, end] = self.neck.wood_reach_mm();
        let least = self.least(Construction::OnePiece);
        let width = self.width([tip, end]);
        self.way(Construction::OnePiece, [end - tip + 2.0 * self.margin, width, least])
    }

    /// Along the headstock's face, to where the piece's square end has passed the tip on its back.
    fn along_the_face(&self) -> f64 {
        let [tip, _] = self.neck.wood_reach_mm();
        let head = &self.neck.built().head;
        (head.root - tip + self.margin) / head.cos
    }

    /// The thickest stock whose scarf still ends on the headstock, mm; `None` for a headstock that takes no scarf.
    pub fn thickest_scarf(&self) -> Option<f64> {
        let head = &self.neck.built().head;
        scarf(self.neck.headstock().angle_deg, 1.0).ok().filter(|_| head.kind == HeadstockKind::Angled)?;
        // The piece shrinks by `1/sin − tan` with each mm of thickness.
        let shrinks = 1.0 / head.sin - head.sin / head.cos;
        Some((self.along_the_face() - self.margin) / shrinks)
    }

    /// From a blank of a thickness, if that is enough; with the joint's length along the blank and along the cut.
    pub fn scarfed(&self, thickness: f64) -> (Way, Option<[f64; 2]>) {
        let [tip, end] = self.neck.wood_reach_mm();
        let head = &self.neck.built().head;
        let least = self.least(Construction::Scarf);
        let thickness = thickness.max(least);
        let width = self.width([tip, end]);
        let none = |why: String| Way {
            obstacle: Some(why),
            ..self.way(Construction::Scarf, [end - tip + 2.0 * self.margin, width, least])
        };
        let Some(thickest) = self.thickest_scarf() else {
            let why = String::from("a scarf needs a headstock that is tilted by 1 degree or more");
            return (none(why), None);
        };
        let thickest_mm = Some(thickest);
        let joint = scarf(self.neck.headstock().angle_deg, thickness).ok();
        let Some(joint) = joint.filter(|_| thickness <= thickest + ROUNDING_MM) else {
            let why = format!(
                "the scarf through {} mm is {} mm long on the face, and the headstock only {} mm",
                told(thickness),
                told(thickness / head.sin),
                told(head.length)
            );
            return (Way { thickest_mm, ..none(why) }, None);
        };
        let piece = self.along_the_face() + thickness * head.sin / head.cos - joint.face_mm;
        let length = end + self.margin - head.root + joint.run_mm + piece + self.kerf / head.sin;
        // The joint lies in the plane of the shaft's underside, which the back meets first.
        let back = (thickness - head.thickness * head.cos).max(0.0) / head.sin;
        let turned = Some(Turned { grain: Grain::of(0.0), from_mm: [back, joint.face_mm] });
        let made = self.way(Construction::Scarf, [length, width, least]);
        (Way { turned, thickest_mm, ..made }, Some([joint.run_mm, joint.face_mm]))
    }
}

pub(super) fn whole(mm: f64) -> f64 {
    STEP_MM * libm::ceil(mm / STEP_MM - 1e-9)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_handbook_s_slopes() {
        // Wood Handbook, FPL-GTR-282 (2021), table 5-12: 1:25 96 %, 1:10 81 %, 1:5 55 %.
        for (slope, share) in [(25.0, 0.96), (20.0, 0.93), (15.0, 0.89), (10.0, 0.81), (5.0, 0.55)] {
            approx::assert_relative_eq!(Grain::of(1.0 / slope).strength, share, epsilon = 1e-12);
        }
        assert_eq!(Grain::of(0.0).strength, 1.0);
        assert_eq!(Grain::of(0.5).strength, 0.55);
    }
}

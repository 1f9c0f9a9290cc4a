//! The wood after a stage of carving as a closed solid.

mod bound;
mod follow;
mod meet;
mod outline;
mod top;
mod under;
mod walk;

use alloc::vec::Vec;

use super::relief::Making;
use super::shell::Solid;
use crate::carve::Wood;
use crate::measure::{Error, Fault, Kind};
use crate::shape::Side;
use walk::Walk;

fn failed(why: &str) -> Error {
    Fault::new(Kind::Geometry, "", alloc::format!("the wood after this stage could not be made a closed solid: {why}"))
        .remedy("please report the specification and the stock")
        .into()
}

impl Wood {
    /// The wood as one closed solid: neck wood and board together, as the plan counts and carves them, the blank of the board in
    /// its place until that is glued on.
    ///
    /// The rod's channel counts as wood, and so do the tuner holes: the volume is [`volume_mm3`](Self::volume_mm3) and what those
    /// have taken, [`bored_mm3`](Self::bored_mm3). Every section is that of [`area_mm2`](Self::area_mm2). Planes are planes;
    /// facets that follow the back, and curves in which cuts meet, lie within 1e-9 mm of theirs.
    ///
    /// # Errors
    /// - wood whose cuts come up through its top face;
    /// - wood whose faces can't be put together: a fault of this library.
    pub fn solid(&self) -> Result<Solid, Error> {
        let bounds = bound::bounds(self).ok_or_else(|| failed("its cuts have no laws"))?;
        let walk = Walk { wood: self, bounds: &bounds };
        let stations = self.all_joints(&bounds);
        let [bass, treble] = Side::BOTH.map(|side| outline::edges(self, &bounds, side));
        let (Some(bass), Some(treble)) = (bass, treble) else { return Err(failed("its outline has gaps")) };
        let lower = under::under(&walk, &stations, [bass.wood, treble.wood])
            .ok_or_else(|| failed("its underside can't be followed"))?;
        let face = match self.faced {
            true => Some(top::face(self, self.wood_reach()).ok_or_else(|| failed("its face has no law"))?),
            false => None,
        };
        let upper = top::top(self, face.as_ref(), [bass.board, treble.board])
            .ok_or_else(|| failed("its top has no laws"))?;
        let making = Making {
            name: "wood".into(),
            outline: [bass.outline, treble.outline],
            lower,
            upper,
            stations,
        };
        let made = making.made().ok_or_else(|| failed("its faces have no curves"))?;
        if !made.solid.is_closed() {
            return Err(failed("its faces do not close"));
        }
        Ok(if self.neck.hand_sign() < 0.0 { made.solid.mirrored() } else { made.solid })
    }

    /// What the rod's channel and the tuner holes have taken, mm³.
    #[must_use]
    pub const fn bored_mm3(&self) -> f64 {
        self.bored_mm3
    }

    /// Stations where the section's formula may change.
    fn all_joints(&self, bounds: &[Option<bound::Bound>]) -> Vec<f64> {
        let [from, to] = self.reach_mm();
        let mut at = self.joints();
        for bound in bounds.iter().flatten() {
            at.extend(bound.reach);
            for law in bound.laws() {
                at.extend(law.breaks());
            }
        }
        at.retain(|x| *x >= from && *x <= to);
        at.sort_by(f64::total_cmp);
        at.dedup_by(|b, a| *b - *a < 1e-9);
        at
    }
}

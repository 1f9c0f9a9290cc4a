//! The wood after a stage of carving as a closed solid.

mod bound;
mod check;
mod follow;
mod meet;
mod outline;
mod parts;
mod top;
mod under;
mod walk;

use alloc::vec::Vec;

use super::relief::{Making, Relief};
use super::shell::Solid;
use crate::carve::{Cut, Wood};
use crate::measure::{Error, Fault, Kind};
use crate::shape::Side;
use walk::Walk;

/// What is shorter or narrower is not looked at, mm: beside an upright end of an arc its height is not known so well.
const SEEN_MM: f64 = 1e-6;
const SEEN_ACROSS_MM: f64 = 2e-3;
/// Heights that differ by no more are one: a step beside a place may be off by rounding.
const AGREES_MM: f64 = 1e-7;

/// Paths of a ball may only just touch each other, the side face or what was cut before: told at their field.
fn of_paths(paths: usize, why: &str) -> Error {
    let reason = alloc::format!("the paths of the ball could not be made faces of a closed solid: {why}");
    Fault::new(Kind::Geometry, "cutter.paths", reason)
        .value(paths as f64, "")
        .remedy("another number of paths or another radius; or take the wood before rounding, or after contouring")
        .into()
}

fn failed(why: &str) -> Error {
    Fault::new(
        Kind::Geometry,
        "",
        alloc::format!("the wood after this stage could not be made a closed solid: {why}"),
    )
    .remedy("please report the specification and the stock")
    .into()
}

impl Wood {
    /// The wood as closed solids: one, named `wood`, of neck wood and board together, as the plan counts and carves them, the
    /// blank of the board in its place until that is glued on. Once the back has its shape at the nut too, which is what the
    /// transitions give it, they are two, named `neck wood` and `fretboard`, as those of [`Neck::solids`](crate::shape::Neck::solids)
    /// are: behind a slanted nut the board's corner stands free of the wood, and from then on the woods are parted by the glue line.
    ///
    /// The rod's channel counts as wood, and so do the tuner holes: the volumes add up to [`volume_mm3`](Self::volume_mm3) and what
    /// those have taken, [`bored_mm3`](Self::bored_mm3), the areas of a section to [`area_mm2`](Self::area_mm2). Planes are planes;
    /// facets that follow the back, and curves in which cuts meet, lie within 1e-9 mm of theirs.
    ///
    /// # Errors
    /// - wood whose cuts come up through its top face;
    /// - `cutter.paths`, where the paths of a ball only just touch each other, the side face or what was cut before, so that the
    ///   faces between them can't be followed;
    /// - other wood whose faces can't be put together: a fault of this library.
    pub fn solids(&self) -> Result<Vec<Solid>, Error> {
        let balls = self.passes.iter().filter(|p| matches!(p.cut, Cut::Ball { .. })).count();
        self.made().map_err(|why| if balls > 0 { of_paths(balls.div_ceil(2), why) } else { failed(why) })
    }

    fn made(&self) -> Result<Vec<Solid>, &'static str> {
        let bounds = bound::bounds(self).ok_or("its cuts have no laws")?;
        let mut made = Vec::new();
        if self.is_in_two() {
            made.push(self.part("neck wood", false, &bounds)?);
            made.push(parts::board(self).ok_or("its board has no curves")?);
        } else {
            made.push(self.part("wood", true, &bounds)?);
        }
        if !made.iter().all(Solid::is_sound) {
            return Err("its faces do not close");
        }
        if !made.iter().all(check::lies) {
            return Err("its edges do not lie on its faces");
        }
        let left_handed = self.neck.hand_sign() < 0.0;
        Ok(made.into_iter().map(|solid| if left_handed { solid.mirrored() } else { solid }).collect())
    }

    /// The neck wood, with or without the board.
    fn part(
        &self,
        name: &str,
        with_board: bool,
        bounds: &[Option<bound::Bound>],
    ) -> Result<Solid, &'static str> {
        let walk = Walk { wood: self, bounds };
        let mut stations = self.all_joints(bounds);
        let face = match self.faced {
            true => Some(top::face(self, self.wood_reach()).ok_or("its face has no law")?),
            false => None,
        };
        if !with_board {
            let [from, to] = self.wood_reach();
            stations.extend(parts::flush(self, face.as_ref()).ok_or("its back has no feet")?);
            stations.retain(|x| *x >= from && *x <= to);
            stations.sort_by(f64::total_cmp);
            stations.dedup_by(|b, a| *b - *a < 1e-9);
        }
        let [bass, treble] =
            Side::BOTH.map(|side| outline::edges(self, with_board, bounds, face.as_ref(), side));
        let (Some(bass), Some(treble)) = (bass, treble) else { return Err("its outline has gaps") };
        let (lower, changes) = under::under(&walk, &stations, [bass.wood, treble.wood])
            .ok_or("its underside can't be followed")?;
        let upper = top::top(self, with_board, face.as_ref(), [bass.board, treble.board])
            .ok_or("its top has no laws")?;
        stations.extend(changes);
        stations.sort_by(f64::total_cmp);
        self.agrees(with_board, &stations, &lower, &upper)?;
        let outline = [bass.outline, treble.outline];
        let making = Making { name: name.into(), outline, lower, upper, stations };
        Ok(making.made().ok_or("its faces have no curves")?.solid)
    }

    /// Whether the two reliefs are the wood's sections, looked at in many places.
    fn agrees(
        &self,
        with_board: bool,
        stations: &[f64],
        lower: &Relief<'_>,
        upper: &Relief<'_>,
    ) -> Result<(), &'static str> {
        let glue = self.neck.layout().board().thickness_mm();
        for w in stations.windows(2) {
            if w[1] - w[0] < SEEN_MM {
                continue;
            }
            for t in [0.003, 0.35, 0.72, 0.998] {
                let x = w[0] + t * (w[1] - w[0]);
                let board = if with_board { self.board_slice(x) } else { None };
                let wood = self.wood_slice(x);
                let shaped = self.shaped_at(x);
                let contour = if shaped.is_none() { self.contour(x) } else { None };
                // Under every bound, or where there are none at as many places.
                let mut at: Vec<[f64; 2]> = contour.iter().flat_map(|c| c.lowest().map(|(_, y)| y)).collect();
                let slices = [wood, board.map(|(slice, _)| slice)];
                at.extend(slices.iter().flatten().flat_map(|s| [[s.y[0], 0.0], [0.0, s.y[1]]]));
                for y in at {
                    if y[1] - y[0] < SEEN_ACROSS_MM {
                        continue;
                    }
                    for share in [0.03, 0.31, 0.57, 0.8, 0.97] {
                        let y = y[0] + share * (y[1] - y[0]);
                        let on = |s: [f64; 2]| y > s[0] && y < s[1];
                        let own = wood.filter(|s| on(s.y));
                        let over = board.filter(|(s, _)| on(s.y));
                        let top = match (over, own) {
                            (Some((s, crown)), _) => s.top + crown.map_or(0.0, |c| c.depth(y)),
                            (None, Some(s)) => s.top,
                            (None, None) => continue,
                        };
                        let bottom = match (shaped, own, &contour) {
                            (_, None, _) => glue,
                            (Some(_), ..) | (_, _, None) => continue,
                            (None, Some(_), Some(contour)) => contour.depth(y),
                        };
                        let [made, high] = [lower, upper].map(|r| r.sheets[(r.sheet_at)(x, y)].height(x, y));
                        if libm::fabs(high + top) > AGREES_MM || libm::fabs(made + bottom) > AGREES_MM {
                            return Err("its faces are not where its sections are");
                        }
                        if bottom <= top {
                            return Err("its cuts come up through its top face");
                        }
                    }
                }
            }
        }
        Ok(())
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

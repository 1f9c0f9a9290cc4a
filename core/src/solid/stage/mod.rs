//! The wood after a stage of carving as a closed solid.

mod bound;
mod chain;
mod check;
mod ends;
mod follow;
mod meet;
mod outline;
mod parts;
mod top;
mod under;
mod walk;
mod why;

use alloc::vec::Vec;

use super::foot::around;
use super::relief::{Making, Relief};
use super::shell::Solid;
use crate::carve::Wood;
use crate::law::Bernstein;
use crate::measure::Error;
use crate::shape::{Back, Side};
use walk::Walk;
use why::Why;

/// What is shorter or narrower is not looked at, mm: beside an upright end of an arc its height is not known so well.
const SEEN_MM: f64 = 1e-6;
const SEEN_ACROSS_MM: f64 = 2e-3;
/// Heights that differ by no more are one: a step beside a place may be off by rounding.
const AGREES_MM: f64 = 1e-7;

/// Depth of a shaped back under a place across.
fn under(back: &Back, x: f64, y: f64) -> f64 {
    let side = if y < back.flanks.treble.out[3].value(x) { Side::Bass } else { Side::Treble };
    let flank = back.flanks.of(side);
    let depth: Bernstein = flank.depth.iter().map(|law| law.value(x)).collect();
    depth.eval(around(flank, x, side.sign() * y))
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
    /// - `shaft.carve_line`, where cuts come up through the wood's top face;
    /// - `cutter.paths`, where the paths of a ball only just touch each other, the side face or what was cut before, so that the
    ///   faces between them can't be followed;
    /// - `solids`, for other wood whose faces can't be put together: a fault of this library.
    pub fn solids(&self) -> Result<Vec<Solid>, Error> {
        self.made().map_err(|why| why.error(self))
    }

    fn made(&self) -> Result<Vec<Solid>, Why> {
        let bounds = bound::bounds(self)?;
        let mut made = Vec::new();
        if self.is_in_two() {
            made.push(self.part("neck wood", false, &bounds)?);
        } else {
            made.push(self.part("wood", true, &bounds)?);
        }
        if !made.iter().all(Solid::is_sound) {
            return Err(Why::Open);
        }
        if !made.iter().all(check::lies) {
            return Err(Why::Edges);
        }
        if self.is_in_two() {
            let board = parts::board(self).filter(|board| board.is_sound() && check::lies(board));
            made.push(board.ok_or(Why::Board)?);
        }
        let left_handed = self.neck.hand_sign() < 0.0;
        Ok(made.into_iter().map(|solid| if left_handed { solid.mirrored() } else { solid }).collect())
    }

    /// The neck wood, with or without the board.
    fn part(&self, name: &str, with_board: bool, bounds: &[Option<bound::Bound>]) -> Result<Solid, Why> {
        let walk = Walk { wood: self, bounds };
        let mut stations = self.all_joints(bounds);
        let face = match self.faced {
            true => Some(top::face(self, self.wood_reach()).ok_or(Why::Face)?),
            false => None,
        };
        if !with_board {
            let [from, to] = self.wood_reach();
            stations.extend(parts::flush(self, face.as_ref()).ok_or(Why::Feet)?);
            stations.retain(|x| *x >= from && *x <= to);
            stations.sort_by(f64::total_cmp);
            stations.dedup_by(|b, a| *b - *a < 1e-9);
        }
        let [bass, treble] =
            Side::BOTH.map(|side| outline::edges(self, with_board, bounds, face.as_ref(), side));
        let (Some(bass), Some(treble)) = (bass, treble) else { return Err(Why::Outline) };
        let (lower, changes) =
            under::under(&walk, &stations, [bass.wood, treble.wood]).ok_or(Why::Underside)?;
        let upper = top::top(self, with_board, face.as_ref(), [bass.board, treble.board]).ok_or(Why::Top)?;
        stations.extend(changes);
        stations.sort_by(f64::total_cmp);
        self.agrees(with_board, &stations, &lower, &upper)?;
        let outline = [bass.outline, treble.outline];
        let making = Making { name: name.into(), outline, lower, upper, stations };
        Ok(making.made().ok_or(Why::Curves)?.solid)
    }

    /// Whether the two reliefs are the wood's sections, looked at in many places.
    fn agrees(
        &self,
        with_board: bool,
        stations: &[f64],
        lower: &Relief<'_>,
        upper: &Relief<'_>,
    ) -> Result<(), Why> {
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
                            (Some(shaped), Some(_), _) => under(&shaped.back, x, y),
                            (None, Some(_), Some(contour)) => contour.depth(y),
                            (None, Some(_), None) => return Err(Why::Sections),
                        };
                        let height = |r: &Relief<'_>| Some(r.sheets.get((r.sheet_at)(x, y)?)?.height(x, y));
                        let (made, high) = height(lower).zip(height(upper)).ok_or(Why::Sections)?;
                        let agree = |height: f64, depth: f64| libm::fabs(height + depth) <= AGREES_MM;
                        if !agree(high, top) || !agree(made, bottom) {
                            return Err(Why::Sections);
                        }
                        // Beyond the foot of a shape that comes up above the wood's top the outline has ended.
                        let ended = shaped.is_some() && over.is_none();
                        if bottom <= top && !ended {
                            return Err(Why::Through { x, by: top - bottom });
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

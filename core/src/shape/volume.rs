//! Volume, mass and the box around a neck.

use alloc::vec::Vec;

use super::back::{Back, Flank};
use super::neck::Neck;
use super::section::{Part, split};
use super::sides::{Side, Sides};
use super::slot::slot_volume;
use crate::law::{Law, adaptive, eval_scaled, gauss16};
use crate::layout::sagitta_mm;

/// Volumes by part, mm³.
#[derive(Clone, Copy, Debug, PartialEq, serde::Serialize)]
pub struct Volumes {
    /// The fretboard, its fret slots not taken off.
    pub fretboard_mm3: f64,
    /// The neck wood, channel, pocket and tuner holes taken off.
    pub neck_wood_mm3: f64,
    /// What the rod's channel and its pocket take off the neck wood.
    pub rod_channel_mm3: f64,
    /// What the tuner holes take off the neck wood.
    pub tuner_holes_mm3: f64,
    /// What the fret slots take off the fretboard once they are cut, as deep below its rounded top everywhere as the specification
    /// says; with a binding as far as it reaches. A board with its slots has `fretboard_mm3 - fret_slots_mm3`.
    pub fret_slots_mm3: f64,
}

impl Volumes {
    /// Board and neck wood together, channel and tuner holes filled, mm³: the integral of
    /// [`Section::area_mm2`](super::Section::area_mm2).
    #[must_use]
    pub fn filled_mm3(&self) -> f64 {
        self.fretboard_mm3 + self.neck_wood_mm3 + self.rod_channel_mm3 + self.tuner_holes_mm3
    }
}

/// Masses by part, kg.
#[derive(Clone, Copy, Debug, PartialEq, serde::Serialize)]
pub struct Masses {
    /// The fretboard, without frets; `None` where its density is not known.
    pub fretboard_kg: Option<f64>,
    /// The neck wood, without rod and tuners; `None` where its density is not known.
    pub neck_wood_kg: Option<f64>,
}

/// A box: least and greatest coordinate along each axis.
#[derive(Clone, Copy, Debug, PartialEq, serde::Serialize)]
pub struct Bounds {
    /// Along the neck, mm.
    pub x_mm: [f64; 2],
    /// Across it, mm.
    pub y_mm: [f64; 2],
    /// Out of the fretboard, mm.
    pub z_mm: [f64; 2],
}

/// Area of one side between the crown plane and the back, from the centreline out: Green's theorem on the
/// side wall and the cubic, a polynomial of the station.
fn side_area(f: &Flank) -> Option<Law> {
    // ∫(B_i·B_j' − B_j·B_i') of the cubic Bernstein polynomials, in twentieths.
    const TWENTIETHS: [(usize, usize, f64); 6] =
        [(0, 1, 6.0), (0, 2, 3.0), (0, 3, 1.0), (1, 2, 3.0), (1, 3, 3.0), (2, 3, 6.0)];
    let mut area = f.out[0].times(&f.depth[0])?.times_number(0.5);
    for (i, j, k) in TWENTIETHS {
        let cross = f.out[i].times(&f.depth[j])?.minus(&f.out[j].times(&f.depth[i])?)?;
        area = area.plus(&cross.times_number(k / 20.0))?;
    }
    Some(area)
}

/// Area of one side between a plane at a depth and the back, from the centreline out: by its control points as distance out
/// and depth, where the control polygon goes down all the way. `∫out·d(depth)` along side wall and cubic.
fn area_below(p: &[[f64; 2]; 4], top: f64) -> f64 {
    // 3·∫Bᵢ³·Bⱼ².
    const SHARES: [[f64; 3]; 4] = [[0.5, 0.2, 0.05], [0.3, 0.3, 0.15], [0.15, 0.3, 0.3], [0.05, 0.2, 0.5]];
    let [out, carve] = p[0];
    let below = if carve < top { split(*p, depth_reached(p, top)).1 } else { *p };
    let falls = [0, 1, 2].map(|j| below[j + 1][1] - below[j][1]);
    let sum =
        |i: usize| below[i][0] * falls.iter().zip(SHARES[i]).map(|(fall, share)| fall * share).sum::<f64>();
    out * (carve - top).max(0.0) + (sum(0) + sum(1)) + (sum(2) + sum(3))
}

/// Where the depth of a cubic that goes down all the way comes to a value: Newton's steps within a bracket.
fn depth_reached(p: &[[f64; 2]; 4], value: f64) -> f64 {
    let [a, b, c, d] = p.map(|p| p[1] - value);
    if d <= 0.0 {
        return 1.0;
    }
    let (linear, square, cube) = (3.0 * (b - a), 3.0 * ((c - b) - (b - a)), (d - a) - 3.0 * (c - b));
    let (mut low, mut high, mut u) = (0.0, 1.0, a / (a - d));
    for _ in 0..80 {
        let v = a + u * (linear + u * (square + u * cube));
        if v == 0.0 {
            return u;
        }
        if v < 0.0 {
            low = u
        } else {
            high = u
        }
        let step = u - v / (linear + u * (2.0 * square + 3.0 * u * cube));
        let next = if step > low && step < high { step } else { 0.5 * (low + high) };
        if libm::fabs(next - u) <= 1e-16 || high - low <= 1e-16 {
            return next;
        }
        u = next;
    }
    u
}

/// A polynomial's coefficients times their binomials, and the stations where its piece begins and ends.
type Scaled = (Vec<f64>, [f64; 2]);

/// The control points of a back's sides over a stretch on which each law is one polynomial.
struct OnePiece {
    /// For each side that differs from the other one: distance out and depth of each control point.
    sides: Vec<[[Scaled; 2]; 4]>,
    /// How often each counts.
    times: f64,
}

impl OnePiece {
    fn new(back: &Back, mid: f64) -> Self {
        let piece = |law: &Law| {
            let (piece, ends) = law.piece_at(mid);
            let mut scaled = Vec::new();
            piece.scaled_into(&mut scaled);
            (scaled, ends)
        };
        let of = |side: &Side| {
            let f = back.flanks.of(*side);
            [0, 1, 2, 3].map(|i| [piece(&f.out[i]), piece(&f.depth[i])])
        };
        let sides = back.distinct().iter().map(of).collect();
        Self { sides, times: if back.even { 2.0 } else { 1.0 } }
    }

    /// Area of the wood below a plane at a depth; `None` where a control polygon does not go down all the way.
    fn area_below(&self, x: f64, top: f64) -> Option<f64> {
        let mut sum = 0.0;
        for laws in &self.sides {
            let value = |(scaled, [from, to]): &Scaled| {
                eval_scaled(scaled, ((x - from) / (to - from)).clamp(0.0, 1.0))
            };
            let p = [0, 1, 2, 3].map(|i| [value(&laws[i][0]), value(&laws[i][1])]);
            if p.windows(2).any(|w| w[1][1] < w[0][1]) {
                return None;
            }
            sum += self.times * area_below(&p, top);
        }
        Some(sum)
    }
}

/// A stretch of the neck over which the same formula holds.
struct Stretches {
    at: Vec<f64>,
}

impl Stretches {
    fn new(mut at: Vec<f64>, from: f64, to: f64) -> Self {
        at.retain(|x| *x > from && *x < to);
        at.extend([from, to]);
        at.sort_by(f64::total_cmp);
        // Joints that rounding has parted are one.
        at.dedup_by(|b, a| *b - *a < 1e-12);
        Self { at }
    }

    fn iter(&self) -> impl Iterator<Item = [f64; 2]> + '_ {
        self.at.windows(2).map(|w| [w[0], w[1]])
    }
}

impl Neck {
    /// Volumes by part.
    ///
    /// Where every bound of a part is polynomial its volume is the closed form, exact but for rounding. The
    /// board's crown is integrated by the 16-point rule in both directions, which leaves less than rounding
    /// does; where the carve line lies above the glue line the split between the two woods (not their sum)
    /// is integrated adaptively to 1e-13 of the volume.
    #[must_use]
    pub fn volume_mm3(&self) -> Volumes {
        let channel = self.channel_volume();
        let holes = self.hole_volume();
        let (board, wood) = self.solid_volumes().unwrap_or_default();
        Volumes {
            fretboard_mm3: board,
            neck_wood_mm3: wood - channel - holes,
            rod_channel_mm3: channel,
            tuner_holes_mm3: holes,
            fret_slots_mm3: slot_volume(&self.layout, &self.spec.frets),
        }
    }

    fn channel_volume(&self) -> f64 {
        let cut = |cut: &super::rod::Cut| {
            let (from, to) = (cut.floor.start(), cut.floor.end());
            let top = if to <= self.built.head.root {
                self.built.face.restricted(from, to)
            } else {
                Law::constant(self.built.head.glue, from, to)
            };
            Some(2.0 * cut.half * cut.floor.minus(&top?)?.integral())
        };
        // Not from -0, which is what an empty sum of floats starts from.
        self.built.cuts.iter().filter_map(cut).fold(0.0, |sum, volume| sum + volume)
    }

    fn hole_volume(&self) -> f64 {
        let radius = 0.5 * self.spec.headstock.hole_diameter.mm();
        let one = core::f64::consts::PI * radius * radius * self.built.head.thickness;
        self.spec.headstock.posts.as_ref().map_or(0.0, |p| p.len() as f64 * one)
    }

    /// Stations where a slanted nut meets the back's contour at the glue line: there the board's area has a
    /// kink so close to the edge that no rule would notice it by itself.
    fn nut_feet(&self, back: &Back) -> Vec<f64> {
        let slope = self.layout.nut_line().slope;
        let ends = self.layout.board().nut_ends_mm();
        let feet = Side::BOTH.into_iter().zip(ends).filter(|(_, end)| *end != 0.0 && slope != 0.0);
        feet.map(|(side, end)| {
            // Short of the foot the nut lies inside the contour, beyond it outside.
            let inside = |x: f64| {
                self.section_over(back, x).foot_mm(side).is_none_or(|foot| libm::fabs(x / slope) < foot)
            };
            let (mut near, mut far) = (0.0, 1.0);
            for _ in 0..52 {
                let mid = 0.5 * (near + far);
                if inside(end * mid) { near = mid } else { far = mid }
            }
            end * far
        })
        .collect()
    }

    /// Stations where the formula of a section's area changes, over a back: joints of the laws, ends of the board, where
    /// the carve line crosses the top of the wood and where a slanted nut crosses the contour. In no order.
    pub(crate) fn section_joints(&self, back: &Back) -> Vec<f64> {
        let (built, board) = (&self.built, self.layout.board());
        let flanks = Side::BOTH.map(|side| back.flanks.of(side));
        let laws = flanks.iter().flat_map(|f| f.out.iter().chain(&f.depth));
        let mut at: Vec<f64> = laws.flat_map(|law| law.breaks().iter().copied()).collect();
        at.extend(built.board_half.breaks());
        at.extend(board.nut_ends_mm());
        at.extend(self.nut_feet(back));
        at.extend([0.0, board.end_mm(), built.head.root, built.end]);
        let root = built.head.root;
        let glue = Law::constant(built.head.glue, root, built.end);
        for (top, from, to) in [(Some(&built.face), built.head.tip(), root), (glue.as_ref(), root, built.end)]
        {
            for side in Side::BOTH {
                let carve = back.flanks.of(side).depth[0].restricted(from, to);
                if let Some(above) = carve.zip(top).and_then(|(carve, top)| carve.minus(top)) {
                    at.extend(above.stations_of(0.0));
                    at.extend(above.breaks());
                }
            }
        }
        at
    }

    /// Board and neck wood, mm³, nothing taken off.
    fn solid_volumes(&self) -> Option<(f64, f64)> {
        let built = &self.built;
        let flanks = &built.back.flanks;
        let back_area = side_area(&flanks.bass)?.plus(&side_area(&flanks.treble)?)?;
        let width = flanks.bass.out[0].plus(&flanks.treble.out[0])?;
        let glue = built.head.glue;
        let over_root = Law::constant(glue, built.head.root, built.end)?;
        let tops = [
            (built.face.clone(), built.head.tip(), built.head.root),
            (over_root, built.head.root, built.end),
        ];
        let at = self.section_joints(&built.back);
        let tolerance = 1e-13 * back_area.integral();
        let [from, to] = self.reach_mm();
        let (mut board_sum, mut wood_sum) = (0.0, 0.0);
        for [a, b] in Stretches::new(at, from, to).iter() {
            let mid = 0.5 * (a + b);
            let section = self.section_at(mid);
            let exactly = |part: Part, x: f64| self.section_at(x).part_moments(part).area_mm2;
            let part = |part: Part| adaptive(a, b, tolerance, &mut |x| exactly(part, x));
            let deep = section
                .back
                .is_none_or(|back| Side::BOTH.iter().all(|s| -back.of(*s)[0][1] >= section.wood_top));
            let whole_board = section.board.is_some_and(|b| b.y[0] <= -b.half && b.y[1] >= b.half);
            let mut wood = 0.0;
            if section.back.is_some() {
                wood = if deep {
                    let top = if mid < built.head.root { &tops[0].0 } else { &tops[1].0 };
                    let above = width.restricted(a, b)?.times(&top.restricted(a, b)?)?;
                    back_area.restricted(a, b)?.integral() - above.integral()
                } else {
                    let pieces = OnePiece::new(&built.back, mid);
                    adaptive(a, b, tolerance, &mut |x| {
                        let area = pieces.area_below(x, self.wood_top(x));
                        area.unwrap_or_else(|| exactly(Part::NeckWood, x))
                    })
                };
            }
            wood_sum += wood;
            if section.board.is_none() {
                continue;
            }
            board_sum += if whole_board {
                let crown = self.crown_volume(a, b);
                if deep {
                    2.0 * glue * built.board_half.restricted(a, b)?.integral() - crown
                } else {
                    back_area.restricted(a, b)?.integral() - crown - wood
                }
            } else {
                part(Part::Fretboard)
            };
        }
        Some((board_sum, wood_sum))
    }

    /// Volume between the crown plane and the board's rounded top over a stretch with straight edges.
    fn crown_volume(&self, from: f64, to: f64) -> f64 {
        let crown = self.layout.board().crown();
        gauss16(from, to, |x| {
            let half = self.built.board_half.value(x);
            crown.radius_mm(x).map_or(0.0, |r| 2.0 * gauss16(0.0, half, |y| sagitta_mm(r, y)))
        })
    }

    /// Masses by part, from the densities of the specification's woods.
    #[must_use]
    pub fn mass_kg(&self) -> Masses {
        let volume = self.volume_mm3();
        let mass = |mm3: f64, density: Option<f64>| density.map(|d| mm3 * 1e-9 * d);
        Masses {
            fretboard_kg: mass(volume.fretboard_mm3, self.spec.woods.fretboard.density),
            neck_wood_kg: mass(volume.neck_wood_mm3, self.spec.woods.neck.density),
        }
    }

    /// The box around the neck, frets not counted: never too small, and to within 1e-6 mm.
    #[must_use]
    pub fn bounds(&self) -> Bounds {
        const CLOSE: f64 = 1e-7;
        let (built, board) = (&self.built, self.layout.board());
        let reach = self.reach_mm();
        let out = Sides::each(|side| {
            let out = &built.back.flanks.of(side).out;
            let wood = out[0].greatest(CLOSE).bound;
            let board = built.board_half.restricted(board.start_mm().max(built.head.root), board.end_mm());
            wood.max(board.map_or(0.0, |half| half.greatest(CLOSE).bound))
        });
        let y = [-out.bass, out.treble];
        let deepest = built.back.spine.greatest(CLOSE).bound.max(built.head.glue);
        Bounds {
            x_mm: reach,
            y_mm: if self.hand_sign() < 0.0 { [-y[1], -y[0]] } else { y },
            z_mm: [-deepest, 0.0],
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::spec::Specification;

    /// The outline of the section's wood, cut by the roots of a polynomial, is another way to the same area.
    #[test]
    fn the_wood_below_the_glue_line_is_that_of_the_sections_outline() {
        let uneven = r#"{"shaft": {"carve_line": [{"at": "nut", "depth": 4}, {"at": "fret 12", "depth": 3}],
            "treble_carve_line": [{"at": "nut", "depth": 3.5}, {"at": "fret 12", "depth": 3.4}]}}"#;
        let uneven = Specification::from_json(uneven).expect("a sound document");
        let (mut looked_at, mut cut) = (0, 0);
        for spec in [Specification::default(), uneven] {
            let neck = Neck::new(&spec).expect("a neck");
            let back = &neck.built.back;
            let [from, to] = neck.wood_reach_mm();
            for i in 0..500 {
                let x = from + (to - from) * (f64::from(i) + 0.5) / 500.0;
                let top = neck.wood_top(x);
                let section = neck.section_at(x);
                let Some(found) = OnePiece::new(back, x).area_below(x, top) else { continue };
                let area = section.part_moments(Part::NeckWood).area_mm2;
                assert!(libm::fabs(found - area) < 1e-11 * area, "{x}: {found} and not {area}");
                looked_at += 1;
                cut += u32::from(Side::BOTH.iter().any(|side| neck.carve_line(*side, x) < top));
            }
        }
        assert!(looked_at > 900 && cut > 200, "{looked_at} {cut}");
    }
}

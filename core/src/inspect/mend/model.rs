//! The back of a neck whose spine and carve lines are unknown.

use alloc::vec::Vec;

use super::affine::Affine;
use super::line::Line;
use crate::law::{Bernstein, gauss16_nodes};
use crate::shape::{Neck, Side, Sides, Treble, cubic_shares};

/// A neck with its lines unknown, widths and profile numbers kept: every depth of the back is linear in the unknowns,
/// through volute and heel too. Right-handed.
#[derive(Clone, Debug)]
pub(super) struct Model<'a> {
    pub neck: &'a Neck,
    pub spine: Line,
    /// The carve lines before they sink to the spine; one and the same for both sides where they stay alike.
    pub carve: Sides<Line>,
    pub joined: bool,
    /// How many unknowns there are.
    pub count: usize,
    /// From where the volute begins to where the sweep ends: beyond, nothing can change.
    pub reach: [f64; 2],
}

impl<'a> Model<'a> {
    /// Which lines are free, over which stations.
    pub fn new(neck: &'a Neck, at: &[f64], carve_free: bool, joined: bool) -> Self {
        let built = neck.built();
        let spine = Line::free(built.shaft.clone(), at, 0);
        let mut count = spine.unknowns();
        let mut line = |side: Side| {
            let design = built.form.shallow.of(side).clone();
            if !carve_free {
                return Line::kept(design);
            }
            let line = Line::free(design, at, count);
            count += line.unknowns();
            line
        };
        let bass = line(Side::Bass);
        let treble = if joined { bass.clone() } else { line(Side::Treble) };
        let reach = [built.volute.start(), built.sweep.end.min(built.end)];
        Self { neck, spine, carve: Sides { bass, treble }, joined, count, reach }
    }

    /// The lines that have unknowns of their own.
    pub fn free_lines(&self) -> Vec<&Line> {
        let treble = (!self.joined).then_some(&self.carve.treble);
        [Some(&self.spine), Some(&self.carve.bass), treble]
            .into_iter()
            .flatten()
            .filter(|l| l.is_free())
            .collect()
    }

    /// Sides that have to be looked at.
    pub fn sides(&self) -> &'static [Side] {
        if self.joined && self.neck.built().back.even { &[Side::Bass] } else { &Side::BOTH }
    }

    /// How much of the carve is there: 1 on the shaft, 0 on headstock and block.
    pub fn share(&self, x: f64) -> f64 {
        self.neck.built().form.share.value(x)
    }

    /// How far the second control point lies above the spine: a share of the carved depth of which side.
    pub fn shoulder(&self, side: Side, x: f64) -> (f64, Side) {
        let profile = &self.neck.built().form.profile;
        let bass = 1.0 - profile.bass[0].value(x);
        let creased = self.neck.normalised().shaft.profile.iter().any(|p| p.crease);
        match (side, &profile.treble) {
            (Side::Bass, _) => (bass, Side::Bass),
            (Side::Treble, Some(Treble::Smooth { reach, .. })) => {
                let reach = reach.value(x);
                (reach * reach * bass, Side::Bass)
            }
            (Side::Treble, Some(Treble::Creased { numbers })) => (1.0 - numbers[0].value(x), Side::Treble),
            // Once the sides are carved from different depths, a crease gives each its own.
            (Side::Treble, None) => (bass, if creased { Side::Treble } else { Side::Bass }),
        }
    }

    /// Whether the treble side's shoulder follows from the bass side's.
    pub fn follows(&self, x: f64) -> bool {
        self.shoulder(Side::Treble, x).1 == Side::Bass
    }

    /// How far the spine drops.
    pub fn spine_drop(&self, x: f64) -> Affine {
        self.spine.drop(x).times(self.share(x))
    }

    /// How far a carve line drops, sunk to the spine where the back goes flat.
    pub fn carve_drop(&self, side: Side, x: f64) -> Affine {
        self.carve_beside(&self.spine_drop(x), side, x)
    }

    /// The same where the spine's is known.
    fn carve_beside(&self, spine: &Affine, side: Side, x: f64) -> Affine {
        let share = self.share(x);
        spine.times(1.0 - share).plus(&self.carve.of(side).drop(x), share)
    }

    /// How far the four control points of a side drop.
    pub fn drops(&self, side: Side, x: f64) -> [Affine; 4] {
        let spine = self.spine_drop(x);
        let (k, of) = self.shoulder(side, x);
        let carve = self.carve_beside(&spine, side, x);
        let other = (of != side).then(|| self.carve_beside(&spine, of, x));
        let handle = spine.times(1.0 - k).plus(other.as_ref().unwrap_or(&carve), k);
        [carve, handle, spine.clone(), spine]
    }

    /// How far a place of the back drops: `u` from the carve line (0) to the spine (1).
    pub fn drop_at(&self, side: Side, x: f64, u: f64) -> Affine {
        weigh(&self.drops(side, x), u)
    }

    /// The design's depth and its distance outward along a side, as polynomials from the carve line to the spine.
    pub fn section(&self, side: Side, x: f64) -> [Bernstein; 2] {
        let flank = self.neck.built().back.flanks.of(side);
        [&flank.out, &flank.depth].map(|laws| laws.iter().map(|law| law.value(x)).collect())
    }

    /// Carved depth `T − s` of a side before the lines sink, how much of it is left.
    pub fn carved(&self, side: Side, x: f64) -> Affine {
        self.spine.value(x).plus(&self.carve.of(side).value(x), -1.0)
    }

    /// The same from the spine with volute and sweep.
    pub fn carved_from_spine(&self, side: Side, x: f64) -> Affine {
        let spine = self.neck.built().back.spine.value(x);
        Affine::constant(spine).plus(&self.spine_drop(x), -1.0).plus(&self.carve.of(side).value(x), -1.0)
    }

    /// All stations where one of the laws has a joint or a spline a station, over a part of the neck, its ends too.
    pub fn joints(&self, [from, to]: [f64; 2]) -> Vec<f64> {
        let built = self.neck.built();
        let mut all: Vec<f64> = built.back.spine.breaks().to_vec();
        for line in [&self.spine, &self.carve.bass, &self.carve.treble] {
            all.extend(line.design.breaks().iter().chain(&line.at));
        }
        all.retain(|x| *x > from && *x < to);
        all.extend([from, to]);
        all.sort_by(f64::total_cmp);
        all.dedup_by(|b, a| *b - *a < 1e-9);
        all
    }

    /// The joints and one station between each two.
    pub fn grid(&self, reach: [f64; 2]) -> Vec<f64> {
        let joints = self.joints(reach);
        let mut all = Vec::with_capacity(2 * joints.len());
        for w in joints.windows(2) {
            all.extend([w[0], 0.5 * (w[0] + w[1])]);
        }
        all.push(reach[1]);
        all
    }

    /// The volume between the design's back and this one, mm³: `(cost of each unknown, cost of none)`.
    ///
    /// The area of one side is linear in the depths of its control points (Green's theorem on the cubic); its integral
    /// along the neck by the 16-point rule from joint to joint, which is exact for it on the shaft and leaves less than
    /// rounding does elsewhere.
    pub fn removed(&self) -> (Vec<f64>, f64) {
        let mut cost = alloc::vec![0.0; self.count];
        let mut offset = 0.0;
        let mut joints = self.joints(self.reach);
        let profile = &self.neck.built().form.profile;
        let further =
            profile.bass.iter().flat_map(|law| law.breaks()).chain(self.neck.built().board_half.breaks());
        joints.extend(further.filter(|x| **x > self.reach[0] && **x < self.reach[1]));
        joints.sort_by(f64::total_cmp);
        joints.dedup_by(|b, a| *b - *a < 1e-9);
        for w in joints.windows(2) {
            for (x, weight) in gauss16_nodes(w[0], w[1]) {
                for side in Side::BOTH {
                    let out: [f64; 4] =
                        [0, 1, 2, 3].map(|i| self.neck.built().back.flanks.of(side).out[i].value(x));
                    for (share, drop) in area_shares(out).iter().zip(&self.drops(side, x)) {
                        let k = weight * share;
                        offset += k * drop.constant;
                        for (at, share) in &drop.terms {
                            cost[*at] += k * share;
                        }
                    }
                }
            }
        }
        (cost, offset)
    }
}

/// What a drop of each control point takes off a side's area.
fn area_shares(out: [f64; 4]) -> [f64; 4] {
    // ∫(B_i·B_j' − B_j·B_i') of the cubic Bernstein polynomials, in twentieths, `i < j`.
    const K: [[f64; 4]; 4] =
        [[0.0, 6.0, 3.0, 1.0], [0.0, 0.0, 3.0, 3.0], [0.0, 0.0, 0.0, 6.0], [0.0, 0.0, 0.0, 0.0]];
    let mut share = [0.5 * out[0], 0.0, 0.0, 0.0];
    for i in 0..4 {
        for j in i + 1..4 {
            share[j] += K[i][j] * out[i] / 20.0;
            share[i] -= K[i][j] * out[j] / 20.0;
        }
    }
    share
}

/// A cubic with these Bernstein coefficients.
pub(super) fn weigh(drops: &[Affine; 4], u: f64) -> Affine {
    drops.iter().zip(cubic_shares(u)).fold(Affine::default(), |sum, (drop, k)| sum.plus(drop, k))
}

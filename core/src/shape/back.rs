//! The back of the neck: the control points of both sides as laws of the position along it.

use alloc::vec::Vec;

use super::outline::Point;
use super::profile::{Profile, Treble};
use super::sides::{Side, Sides};
use crate::law::{Law, Patch};

/// One side of the back: two flat-to-spine cubics' worth of laws, in the side's own outward coordinate.
#[derive(Clone, Debug)]
pub(crate) struct Flank {
    /// Distance of the four control points from the centreline, outward, mm.
    pub out: [Law; 4],
    /// Their depth below the crown plane, mm.
    pub depth: [Law; 4],
}

impl Flank {
    /// How far the control polygon turns at its first handle, mm²: where it is nowhere negative the section is convex, for
    /// at the other handle the polygon turns the same way by the bounds of its numbers.
    pub fn first_turn(&self) -> Option<Law> {
        let ([o0, o1, o2, _], [d0, d1, d2, _]) = (&self.out, &self.depth);
        o1.minus(o0)?.times(&d2.minus(d1)?)?.minus(&d1.minus(d0)?.times(&o2.minus(o1)?)?)
    }
}

/// Both sides of the back.
#[derive(Clone, Debug)]
pub(crate) struct Back {
    /// The spine's depth below the crown plane, mm.
    pub spine: Law,
    /// The two sides.
    pub flanks: Sides<Flank>,
    /// Whether the treble side is the bass side mirrored, so that one of them answers for both.
    pub even: bool,
}

/// What a back is made of.
pub(crate) struct Makings<'a> {
    pub spine: &'a Law,
    pub half: &'a Sides<Law>,
    pub carve: &'a Sides<Law>,
    pub profile: &'a Profile,
}

impl Back {
    /// Joins the laws to control points:
    /// `P0 = (w, s)`, `P1 = (w − lean·w, T − (1 − shoulder)(T − s))`, `P2 = (y0 + b, T)`, `P3 = (y0, T)`,
    /// depths positive and `b = belly·(w − y0)`.
    pub fn new(m: &Makings<'_>) -> Option<Self> {
        let [shoulder, belly, lean] = &m.profile.bass;
        let one_minus = |l: &Law| l.times_number(-1.0).plus_number(1.0);
        let carved = |side: Side| m.spine.minus(m.carve.of(side));
        let span = |side: Side| m.half.of(side).minus(&m.profile.spine_offset.times_number(side.sign()));
        let rise = one_minus(shoulder).times(&carved(Side::Bass)?)?;
        let reach = belly.times(&span(Side::Bass)?)?;
        let flank = |side: Side, rise: &Law, reach: &Law, lean: &Law| -> Option<Flank> {
            let (w, s) = (m.half.of(side), m.carve.of(side));
            let ridge = m.profile.spine_offset.times_number(side.sign());
            Some(Flank {
                out: [w.clone(), one_minus(lean).times(w)?, ridge.plus(reach)?, ridge],
                depth: [s.clone(), m.spine.minus(rise)?, m.spine.clone(), m.spine.clone()],
            })
        };
        let bass = flank(Side::Bass, &rise, &reach, lean)?;
        let same_carve = m.carve.bass == m.carve.treble && m.half.bass == m.half.treble;
        let treble = match &m.profile.treble {
            Some(Treble::Smooth { reach: ratio, lean }) => {
                let rise = ratio.times(ratio)?.times(&rise)?;
                flank(Side::Treble, &rise, &ratio.times(&reach)?, lean)?
            }
            Some(Treble::Creased { numbers: [shoulder, belly, lean] }) => {
                let rise = one_minus(shoulder).times(&carved(Side::Treble)?)?;
                flank(Side::Treble, &rise, &belly.times(&span(Side::Treble)?)?, lean)?
            }
            None if same_carve => bass.clone(),
            None => flank(Side::Treble, &rise, &reach, lean)?,
        };
        let even = m.profile.treble.is_none() && same_carve;
        Some(Self { spine: m.spine.clone(), flanks: Sides { bass, treble }, even })
    }

    /// The sides that have to be looked at where both count: one where they mirror each other.
    pub fn distinct(&self) -> &'static [Side] {
        if self.even { &[Side::Bass] } else { &Side::BOTH }
    }

    /// Whether all sections between two stations are proven to be convex, to within what rounding leaves.
    pub fn is_convex(&self, [from, to]: [f64; 2]) -> bool {
        const ROUNDING: f64 = 1e-8;
        let least = |side: &Side| {
            let turn = self.flanks.of(*side).first_turn().and_then(|turn| turn.restricted(from, to));
            turn.map_or(f64::NEG_INFINITY, |turn| turn.least(0.5 * ROUNDING).bound)
        };
        self.distinct().iter().all(|side| least(side) >= -ROUNDING)
    }

    /// The control points at a station as `[y, z]`, from the carve line to the spine.
    pub fn control_points(&self, side: Side, x: f64) -> [Point; 4] {
        let f = self.flanks.of(side);
        [0, 1, 2, 3].map(|i| [side.sign() * f.out[i].value(x), -f.depth[i].value(x)])
    }
}

/// A piece of one side's surface: outward distance and depth as polynomials over a stretch of the neck.
#[derive(Clone, Debug)]
pub(crate) struct Strip {
    /// Stations where the stretch begins and ends.
    pub x: [f64; 2],
    pub out: Patch,
    pub depth: Patch,
}

impl Back {
    /// One side's surface between two stations, cut wherever one of its laws has a joint or a further
    /// station is given.
    pub fn strips(&self, side: Side, from: f64, to: f64, further: &[f64]) -> Vec<Strip> {
        let f = self.flanks.of(side);
        let parts: Option<Vec<Law>> =
            f.out.iter().chain(&f.depth).map(|law| law.restricted(from, to)).collect();
        let Some(parts) = parts else { return Vec::new() };
        let mut breaks: Vec<f64> = parts.iter().flat_map(|l| l.breaks().iter().copied()).collect();
        breaks.extend(further.iter().filter(|x| **x > from && **x < to));
        breaks.sort_by(f64::total_cmp);
        breaks.dedup();
        let parts: Vec<Law> = parts.iter().map(|l| l.refined(&breaks)).collect();
        breaks
            .windows(2)
            .enumerate()
            .map(|(i, x)| {
                let column = |k: usize| parts[k].pieces()[i].clone();
                let patch =
                    |k: usize| Patch::from_columns(&[column(k), column(k + 1), column(k + 2), column(k + 3)]);
                Strip { x: [x[0], x[1]], out: patch(0), depth: patch(4) }
            })
            .collect()
    }
}

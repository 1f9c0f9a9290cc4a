//! The spine: how deep the back lies under the crown plane, from the headstock's tip to the heel's end.

use alloc::vec;
use alloc::vec::Vec;

use super::headstock::Headstock;
use crate::law::{BLEND_BEND, EndSlope, Law, Piece, Smoothness, fall, natural_spline, rise, through};
use crate::spec::Curve;

/// Where the volute lies and what it is like, lengths in mm.
#[derive(Clone, Copy, Debug)]
pub(crate) struct VoluteRun {
    pub height: f64,
    pub tip: f64,
    pub run_shaft: f64,
    pub run_headstock: f64,
    pub roundness: f64,
}

impl VoluteRun {
    /// Where the headstock's slab ends and the volute begins.
    pub fn start(&self) -> f64 {
        self.tip - self.run_headstock
    }

    /// Where the volute ends and the shaft begins.
    pub fn end(&self) -> f64 {
        self.tip + self.run_shaft
    }

    /// The volute's height above the shaft's line: level with the tip on the headstock's side, falling to
    /// nothing on the shaft's.
    ///
    /// At the tip both sides have the second derivative `−20·roundness·height / max(runs)²`; on the shaft's
    /// side the quintic is then the steepest-curved one that still falls all the way at `roundness = 1`.
    fn law(&self, from: f64, to: f64) -> Option<Law> {
        let v = self.height;
        let long = self.run_shaft.max(self.run_headstock);
        let dip = |run: f64| v * self.roundness * (run / long) * (run / long);
        let joint = Smoothness::Curvature;
        let level = v - dip(self.run_headstock);
        let pieces = [
            Piece { to: self.start(), coefs: vec![v], joint },
            Piece { to: self.tip, coefs: vec![v, v, level, v, v], joint },
            Piece { to: self.end(), coefs: vec![v, v - dip(self.run_shaft), 0.0, 0.0, 0.0], joint },
            Piece { to, coefs: vec![0.0], joint },
        ];
        Law::from_pieces(from, v, &pieces)
    }
}

/// Where the heel's sweep lies.
#[derive(Clone, Copy, Debug)]
pub(crate) struct SweepRun {
    pub start: f64,
    pub end: f64,
    pub depth: f64,
}

/// Run of a sweep of the given drop whose spine has this least radius of curvature:
/// the blend's second derivative is at most `5.7735·drop/run²`.
pub(super) fn sweep_run(drop: f64, radius: f64) -> f64 {
    libm::sqrt(BLEND_BEND * libm::fabs(drop) * radius)
}

/// The shaft's own line: through the given thicknesses and straight on beyond them.
pub(crate) fn shaft_line(points: &[(f64, f64)], curve: Curve, from: f64, to: f64) -> Option<Law> {
    let (first, last) = (points.first()?, points.last()?);
    if points.len() == 1 {
        return Law::constant(first.1, from, to);
    }
    let law = match curve {
        Curve::Monotone => through(points, EndSlope::Natural, EndSlope::Natural),
        Curve::Spline => natural_spline(points),
    }?;
    extended(&law, first.0, last.0, from, to)
}

/// A law carried straight on to `from` and `to` with the slopes at its ends, then cut to them.
fn extended(law: &Law, first: f64, last: f64, from: f64, to: f64) -> Option<Law> {
    let mut pieces: Vec<Piece> = Vec::with_capacity(law.pieces().len() + 2);
    let (start, end) = (law.value2(first), law.value2(last));
    let joint = Smoothness::Curvature;
    let begin = from.min(first);
    let value = if begin < first {
        pieces.push(Piece { to: first, coefs: vec![start[0]], joint });
        start[0] - start[1] * (first - begin)
    } else {
        start[0]
    };
    for (i, p) in law.pieces().iter().enumerate() {
        let joint = if i == 0 { joint } else { law.joints()[i - 1] };
        // A level piece has one coefficient, which is its end as well as its start.
        let coefs = if p.degree() == 0 { p.coefs() } else { &p.coefs()[1..] };
        pieces.push(Piece { to: law.breaks()[i + 1], coefs: coefs.to_vec(), joint });
    }
    if to > last {
        pieces.push(Piece { to, coefs: vec![end[0] + end[1] * (to - last)], joint });
    }
    Law::from_pieces(begin, value, &pieces)?.restricted(from, to)
}

/// The spine's depth over the whole neck, `shaft` being the shaft's own line over it.
///
/// From the headstock's back the spine rises to the volute's tip, falls to the shaft's line and, at the heel,
/// goes down to the block: every step a quintic blend between its neighbours, so that value, slope and
/// second derivative are continuous throughout.
pub(super) fn spine(
    shaft: &Law,
    head: &Headstock,
    volute: &VoluteRun,
    sweep: &SweepRun,
    joints: &[f64],
) -> Option<Law> {
    let (from, to) = (shaft.start(), shaft.end());
    let cut = |law: Option<Law>| Some(law?.refined(joints));
    let raised = shaft.plus(&cut(volute.law(from, to))?)?;
    let head_share = cut(fall(from, volute.start(), volute.tip, to))?;
    let with_head = raised.plus(&cut(head.back_line(from, to))?.minus(&raised)?.times(&head_share)?)?;
    let block = cut(Law::constant(sweep.depth, from, to))?;
    with_head.plus(&block.minus(&with_head)?.times(&cut(block_share(sweep, from, to))?)?)
}

/// How much of the neck is heel block: 0 on the shaft, 1 on the block.
pub(super) fn block_share(sweep: &SweepRun, from: f64, to: f64) -> Option<Law> {
    rise(from, sweep.start, sweep.end, to)
}

/// How much of the carved depth is left to carve: 1 on the shaft, 0 where the back is flat, on the
/// headstock's slab and on the heel block.
pub(super) fn carved_share(volute: &VoluteRun, sweep: &SweepRun, from: f64, to: f64) -> Option<Law> {
    let head = rise(from, volute.start(), volute.tip, to)?;
    let heel = fall(from, sweep.start, sweep.end, to)?;
    head.times(&heel)
}

//! Lengths of two necks, their rods and their frets.

use crate::shape::{Cut, Neck};

/// By how much the parts of one neck lie further toward the bridge than another's, mm.
#[derive(Clone, Copy, Debug, PartialEq, serde::Serialize)]
#[non_exhaustive]
pub struct Ends {
    /// The headstock's tip.
    pub tip_mm: f64,
    /// Where the headstock's face begins.
    pub root_mm: f64,
    /// The volute's tip.
    pub volute_mm: f64,
    /// Where the heel begins.
    pub heel_start_mm: f64,
    /// The end of the neck wood.
    pub heel_end_mm: f64,
    /// The board's end.
    pub board_end_mm: f64,
    /// By how much the board is thicker.
    pub board_thickness_mm: f64,
}

pub(super) fn ends(one: &Neck, two: &Neck) -> Ends {
    let minus = |f: &dyn Fn(&Neck) -> f64| f(one) - f(two);
    Ends {
        tip_mm: minus(&|n| n.built().head.tip()),
        root_mm: minus(&|n| n.built().head.root),
        volute_mm: minus(&|n| n.built().volute.tip),
        heel_start_mm: minus(&|n| n.built().sweep.start),
        heel_end_mm: minus(&|n| n.built().end),
        board_end_mm: minus(&|n| n.layout().board().end_mm()),
        board_thickness_mm: minus(&|n| n.layout().board().thickness_mm()),
    }
}

/// One cut for the rod against another's: the first neck's measure less the second's, mm.
#[derive(Clone, Copy, Debug, PartialEq, serde::Serialize)]
#[non_exhaustive]
pub struct CutDifference {
    /// Its beginning, toward the bridge.
    pub start_mm: f64,
    /// Its end, toward the bridge.
    pub end_mm: f64,
    /// Its width.
    pub width_mm: f64,
    /// The depth of its floor below the crown plane, where that differs most: within 1e-6 of the greatest there is. 0 where
    /// the two have no station in common.
    pub depth_mm: f64,
    /// The station of that.
    pub depth_at_mm: f64,
}

/// The rods' cuts of two necks.
#[derive(Clone, Copy, Debug, PartialEq, serde::Serialize)]
#[non_exhaustive]
pub struct RodDifference {
    /// How many cuts either neck has: none without a rod, one for the channel and one for the access pocket.
    pub cuts: [usize; 2],
    /// The channel, where both have one.
    pub channel: Option<CutDifference>,
    /// The access pocket, where both have one.
    pub pocket: Option<CutDifference>,
}

fn cut([one, two]: [&Cut; 2]) -> CutDifference {
    let [a, b] = [one.reach_mm(), two.reach_mm()];
    let (from, to) = (a[0].max(b[0]), a[1].min(b[1]));
    let floors = [one, two].map(|c| c.floor_depth().restricted(from, to));
    let apart = match &floors {
        [Some(one), Some(two)] => one.minus(two),
        _ => None,
    };
    let (depth_mm, depth_at_mm) = apart.map_or((0.0, from), |law| {
        let (least, most) = (law.least(1e-6), law.greatest(1e-6));
        if most.value >= -least.value { (most.value, most.x_mm) } else { (least.value, least.x_mm) }
    });
    CutDifference {
        start_mm: a[0] - b[0],
        end_mm: a[1] - b[1],
        width_mm: 2.0 * (one.half_width_mm() - two.half_width_mm()),
        depth_mm,
        depth_at_mm,
    }
}

pub(super) fn rod(one: &Neck, two: &Neck) -> RodDifference {
    let cuts = [one.rod_cuts(), two.rod_cuts()];
    let nth = |i: usize| Some(cut([cuts[0].get(i)?, cuts[1].get(i)?]));
    RodDifference { cuts: cuts.map(<[Cut]>::len), channel: nth(0), pocket: nth(1) }
}

/// A fret's place on two necks.
#[derive(Clone, Copy, Debug, PartialEq, serde::Serialize)]
#[non_exhaustive]
pub struct FretDifference {
    /// The fret's number.
    pub fret: u32,
    /// By how much its slot lies further toward the bridge on the first neck, mm: on the centreline or straight on from there
    /// at the first neck's slot's ends, whichever is the most.
    pub difference_mm: f64,
    /// Where across that is, mm from the centreline, positive toward the treble side.
    pub across_mm: f64,
}

pub(super) fn frets(one: &Neck, two: &Neck) -> Option<FretDifference> {
    let mut worst: Option<FretDifference> = None;
    for fret in one.layout().frets() {
        let other = two.layout().frets().iter().find(|f| f.number == fret.number);
        let Some(other) = other else { continue };
        let ((_, bass), (_, treble)) = fret.slot_ends_mm;
        for y in [0.0, bass, treble] {
            let apart = fret.line.x_at_mm(y) - other.line.x_at_mm(y);
            if worst.is_none_or(|w| libm::fabs(apart) > libm::fabs(w.difference_mm)) {
                worst = Some(FretDifference { fret: fret.number, difference_mm: apart, across_mm: y });
            }
        }
    }
    worst
}

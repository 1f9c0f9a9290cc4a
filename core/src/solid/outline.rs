//! The outline of a part in plan, and the back under it.

use alloc::rc::Rc;
use alloc::vec::Vec;

use super::foot::{Foot, below, foot};
use super::knots::{Run, runs};
use super::plan::PlanCurve;
use super::sheet::{Kind, Sheet};
use crate::law::Law;
use crate::shape::{Back, Side};

/// A side's edge along a law.
pub(super) struct EdgeOf {
    pub side: Side,
    /// Whether the law that is followed is the back's own.
    pub own: bool,
}

impl EdgeOf {
    /// A law's curves over a stretch, at `y` of this side.
    pub fn along(&self, law: &Law, reach: [f64; 2]) -> Vec<PlanCurve> {
        let signed = law.times_number(self.side.sign());
        let rail = self.own.then_some((self.side, 0));
        let curve = |Run { reach, straight }: Run| PlanCurve {
            reach,
            law: signed.clone(),
            straight,
            rail,
            foot: None,
            known: None,
        };
        runs(law, reach).into_iter().map(curve).collect()
    }
}

/// Where a back comes up above some depth on its two sides, and its feet there.
pub(super) struct Feet {
    pub all: Vec<Rc<Foot>>,
    /// The stations between which the carve line lies at that depth.
    pub flush: Vec<f64>,
}

impl Feet {
    /// Those of a back at the depth of a law.
    pub fn new(back: &Back, depth: &Law) -> Option<Self> {
        let mut feet = Self { all: Vec::new(), flush: Vec::new() };
        for side in Side::BOTH {
            if back.even && side == Side::Treble {
                let twins: Vec<_> = feet.all.iter().map(|foot| Rc::new(foot.mirrored())).collect();
                feet.all.extend(twins);
                break;
            }
            let flank = back.flanks.of(side);
            let Some(apart) = flank.depth[0].minus(depth) else { continue };
            let [above, flush] = below(&apart);
            for reach in above {
                feet.all.push(Rc::new(foot(flank, side, depth, reach)?));
            }
            feet.flush.extend(flush.into_iter().flatten());
        }
        Some(feet)
    }

    /// Those on one side.
    pub fn on(&self, side: Side) -> impl Iterator<Item = &Rc<Foot>> {
        self.all.iter().filter(move |foot| foot.side == side)
    }
}

/// A foot's curves over a part of its reach, cut at the creases of the back.
pub(super) fn foot_curves(back: &Back, foot: &Rc<Foot>, reach: [f64; 2]) -> Vec<PlanCurve> {
    let creases = creases(back, reach);
    let curve = |x: &[f64]| PlanCurve {
        reach: [x[0], x[1]],
        law: foot.law.clone(),
        straight: false,
        rail: None,
        foot: Some(foot.clone()),
        known: None,
    };
    creases.windows(2).map(curve).collect()
}

/// The stations within a reach at which the back has a crease, and its ends.
pub(super) fn creases(back: &Back, [from, to]: [f64; 2]) -> Vec<f64> {
    let laws = Side::BOTH.into_iter().flat_map(|s| {
        let flank = back.flanks.of(s);
        flank.out.iter().chain(&flank.depth)
    });
    let mut at: Vec<f64> = laws.flat_map(|law| law.creases().collect::<Vec<f64>>()).collect();
    at.retain(|x| *x > from && *x < to);
    at.extend([from, to]);
    at.sort_by(f64::total_cmp);
    at.dedup_by(|b, a| *b - *a < 1e-9);
    at
}

/// A back's two sides as sheets over a reach, cut at its creases.
pub(super) fn back_sheets(back: &Back, reach: [f64; 2]) -> Vec<Sheet<'_>> {
    let cut = creases(back, reach);
    let both = |x: [f64; 2]| {
        Side::BOTH.map(|side| Sheet { reach: x, kind: Kind::Back { side, flank: back.flanks.of(side) } })
    };
    cut.windows(2).flat_map(|x| both([x[0], x[1]])).collect()
}

/// A law that is level across as sheets: planes where it is straight.
pub(super) fn level_sheets(depth: &Law, reach: [f64; 2]) -> Vec<Sheet<'_>> {
    let sheet = |Run { reach, straight }: Run| {
        let kind = if straight {
            let [a, b] = reach.map(|x| depth.value(x));
            Kind::Flat { depth: a, slope: (b - a) / (reach[1] - reach[0]) }
        } else {
            Kind::Level { depth }
        };
        Sheet { reach, kind }
    };
    runs(depth, reach).into_iter().map(sheet).collect()
}

/// The curves along the spine of a back.
pub(super) fn spine_curves(back: &Back, reach: [f64; 2]) -> Vec<PlanCurve> {
    let ridge = back.flanks.treble.out[3].clone();
    let cut = creases(back, reach);
    cut.windows(2)
        .flat_map(|x| runs(&ridge, [x[0], x[1]]))
        .map(|Run { reach, straight }| PlanCurve {
            reach,
            law: ridge.clone(),
            straight,
            rail: Some((Side::Treble, 3)),
            foot: None,
            known: None,
        })
        .collect()
}

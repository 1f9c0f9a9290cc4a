//! The fullness of the back, as laws of the position along the neck.

use alloc::format;
use alloc::vec::Vec;

use super::sides::{Side, Sides};
use crate::law::{EndSlope, Law, through};
use crate::measure::{Fault, Kind, told};
use crate::spec::{ProfileAt, Shape};

/// The numbers of one side of the back, all without a unit.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Fullness {
    /// How far the side runs down before it turns in, as a share of the carved depth.
    pub shoulder: f64,
    /// How far the back stays flat from the spine, as a share of the half width.
    pub belly: f64,
    /// How far the side leans in from the edge while it runs down, as a share of the half width.
    pub lean: f64,
}

/// `4(√2 − 1)/3`: with this for shoulder and belly a side is a quarter of an ellipse to 0.03 %.
pub const ELLIPSE: f64 = 0.552_284_749_830_793_4;

/// The numbers behind the trade's letters. Common practice, no source: no two benches draw the same "C".
#[must_use]
pub const fn fullness(shape: Shape) -> Fullness {
    let (shoulder, belly, lean) = match shape {
        Shape::C => (ELLIPSE, ELLIPSE, 0.0),
        Shape::D => (0.6, 0.72, 0.0),
        Shape::U => (0.8, 0.6, 0.0),
        Shape::V => (0.42, 0.2, 0.04),
        Shape::SoftV => (0.48, 0.36, 0.02),
    };
    Fullness { shoulder, belly, lean }
}

/// How the treble side follows from the bass side.
#[derive(Clone, Debug)]
pub(crate) enum Treble {
    /// By the ratio of its belly's reach to the bass side's: the shoulder then follows, so that both
    /// sides have one curvature at the spine.
    Smooth {
        /// `b_treble / b_bass`.
        reach: Law,
        /// Lean of the treble side.
        lean: Law,
    },
    /// By numbers of its own: the curvature jumps at the spine.
    Creased {
        /// Shoulder, belly and lean of the treble side.
        numbers: [Law; 3],
    },
}

/// The laws of the back's fullness.
#[derive(Clone, Debug)]
pub(crate) struct Profile {
    /// Shoulder, belly and lean of the bass side.
    pub bass: [Law; 3],
    /// The treble side; `None` where it mirrors the bass side.
    pub treble: Option<Treble>,
    /// How far the spine lies off the centreline toward the treble side, mm.
    pub spine_offset: Law,
    /// Whether the spine lies on the centreline everywhere.
    pub centred: bool,
}

impl Profile {
    /// The same laws cut at further stations.
    pub fn refined(&self, stations: &[f64]) -> Self {
        let cut = |laws: &[Law; 3]| [0, 1, 2].map(|i| laws[i].refined(stations));
        let treble = self.treble.as_ref().map(|t| match t {
            Treble::Smooth { reach, lean } => {
                Treble::Smooth { reach: reach.refined(stations), lean: lean.refined(stations) }
            }
            Treble::Creased { numbers } => Treble::Creased { numbers: cut(numbers) },
        });
        let spine_offset = self.spine_offset.refined(stations);
        Self { bass: cut(&self.bass), treble, spine_offset, centred: self.centred }
    }
}

/// One station of the profile, its numbers settled.
struct Settled {
    x: f64,
    sides: Sides<Fullness>,
    reach: f64,
    offset: f64,
}

/// Half width and carve depth at a station, which the two sides may have differently.
pub(super) struct Room {
    /// Half width of either side, mm.
    pub half: Sides<f64>,
    /// Carved depth `T − s` of either side, mm.
    pub carved: Sides<f64>,
}

/// At so many places between its ends a back is asked whether its sides part.
const BETWEEN: u32 = 64;

/// Makes the laws over the stations `from..=to`. `x` are the profile's stations, rising, `room` what there is
/// to carve at each.
pub(super) fn profile(
    at: &[ProfileAt],
    x: &[f64],
    room: impl Fn(f64) -> Room,
    (from, to): (f64, f64),
    faults: &mut Vec<Fault>,
) -> Option<Profile> {
    let before = faults.len();
    let creased = at.iter().any(|p| p.crease);
    // Sides that are carved to different depths, or are of different widths, have their own curvature where
    // they may.
    // Lines that are the same at the profile's stations may part between them.
    let between = (0..=BETWEEN).map(|i| from + (to - from) * f64::from(i) / f64::from(BETWEEN));
    let apart = |x: &f64| {
        let room = room(*x);
        room.carved.bass != room.carved.treble || room.half.bass != room.half.treble
    };
    let uneven = at.iter().any(|p| p.treble.is_some() || p.spine_offset.mm() != 0.0)
        || (creased && x.iter().copied().chain(between).any(|x| apart(&x)));
    let mut settled = Vec::with_capacity(at.len());
    for (i, (p, x)) in at.iter().zip(x).enumerate() {
        settled.push(settle(i, p, *x, &room(*x), faults));
    }
    if faults.len() > before {
        return None;
    }
    let law = |f: &dyn Fn(&Settled) -> f64| {
        held(&settled.iter().map(|s| (s.x, f(s))).collect::<Vec<_>>(), from, to)
    };
    let numbers = |side: Side| -> Option<[Law; 3]> {
        Some([
            law(&|s| s.sides.of(side).shoulder)?,
            law(&|s| s.sides.of(side).belly)?,
            law(&|s| s.sides.of(side).lean)?,
        ])
    };
    let treble = match (uneven, creased) {
        (false, _) => None,
        (true, true) => Some(Treble::Creased { numbers: numbers(Side::Treble)? }),
        (true, false) => {
            Some(Treble::Smooth { reach: law(&|s| s.reach)?, lean: law(&|s| s.sides.treble.lean)? })
        }
    };
    let centred = settled.iter().all(|s| s.offset == 0.0);
    Some(Profile { bass: numbers(Side::Bass)?, treble, spine_offset: law(&|s| s.offset)?, centred })
}

/// A fair law through the points that keeps its first and last value beyond them.
pub(crate) fn held(points: &[(f64, f64)], from: f64, to: f64) -> Option<Law> {
    let (first, last) = (points.first()?, points.last()?);
    let mut all = points.to_vec();
    // Plateaus to the ends of the neck; the slopes there are zero either way.
    if from < first.0 {
        all.insert(0, (from, first.1));
    }
    if to > last.0 {
        all.push((to, last.1));
    }
    through(&all, EndSlope::Given(0.0), EndSlope::Given(0.0))?.restricted(from, to)
}

fn settle(i: usize, p: &ProfileAt, x: f64, room: &Room, faults: &mut Vec<Fault>) -> Settled {
    let base = fullness(p.shape);
    let bass = Fullness {
        shoulder: p.shoulder.unwrap_or(base.shoulder),
        belly: p.belly.unwrap_or(base.belly),
        lean: p.lean.unwrap_or(base.lean),
    };
    let offset = p.spine_offset.mm();
    let own = p.treble.clone().unwrap_or_default();
    let mut treble = Fullness { lean: own.lean.unwrap_or(bass.lean), ..bass };
    let before = faults.len();
    if offset <= -room.half.bass || offset >= room.half.treble {
        faults.push(
            Fault::new(
                Kind::Geometry,
                format!("shaft.profile[{i}].spine_offset"),
                "puts the spine beyond the neck's edge",
            )
            .value(offset, "mm")
            .range(-room.half.bass, room.half.treble)
            .remedy("move the spine toward the centreline"),
        );
    }
    if room.carved.bass <= 0.0 || room.carved.treble <= 0.0 {
        faults.push(
            Fault::new(
                Kind::Geometry,
                format!("shaft.profile[{i}].at"),
                "at this station the carve line lies no higher than the spine, so that nothing is carved",
            )
            .value(told(x), "mm")
            .remedy("raise the carve line there, or give the profile where the neck is carved"),
        );
    }
    if faults.len() > before {
        return Settled { x, sides: Sides { bass, treble }, reach: 1.0, offset };
    }
    // Reach of the belly from the spine on either side, and height of the shoulder above it.
    let span = |side: Side| room.half.of(side) - side.sign() * offset;
    let bass_reach = bass.belly * span(Side::Bass);
    let rise = (1.0 - bass.shoulder) * room.carved.bass;
    let mut reach = 1.0;
    if p.crease {
        treble.shoulder = own.shoulder.unwrap_or(bass.shoulder);
        treble.belly = own.belly.unwrap_or(bass.belly);
    } else {
        let carved = room.carved.treble;
        reach = match (own.shoulder, own.belly) {
            (Some(_), Some(_)) => {
                faults.push(
                    Fault::new(
                        Kind::Conflict,
                        format!("shaft.profile[{i}].treble"),
                        "both shoulder and belly are given, but one follows from the other where the two \
                         sides meet in one curve at the spine",
                    )
                    .remedy("leave one of them out, or ask for a crease with \"crease\": true"),
                );
                1.0
            }
            (Some(shoulder), None) => libm::sqrt((1.0 - shoulder) * carved / rise),
            (None, belly) => belly.unwrap_or(bass.belly) * span(Side::Treble) / bass_reach,
        };
        if p.treble.is_some() || offset != 0.0 || room.carved.bass != room.carved.treble {
            treble.belly = reach * bass_reach / span(Side::Treble);
            treble.shoulder = 1.0 - reach * reach * rise / carved;
            let derived = [("shoulder", treble.shoulder, 0.2, 0.95), ("belly", treble.belly, 0.1, 0.95)];
            for (name, value, lowest, highest) in derived {
                // A number given at its bound may come back a hair beyond it.
                if !(lowest - 1e-9..=highest + 1e-9).contains(&value) {
                    let remedy = if offset == 0.0 {
                        "bring the two sides nearer to each other, or ask for a crease with \"crease\": true"
                    } else {
                        "move the spine toward the centreline, or ask for a crease with \"crease\": true"
                    };
                    faults.push(
                        Fault::new(
                            Kind::Geometry,
                            format!("shaft.profile[{i}].treble.{name}"),
                            "follows from the other numbers, because both sides have one curvature at the spine",
                        )
                        .value(format!("{value:.4}"), "")
                        .range(lowest, highest)
                        .remedy(remedy),
                    );
                }
            }
        }
    }
    Settled { x, sides: Sides { bass, treble }, reach, offset }
}

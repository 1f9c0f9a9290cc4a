//! The neck as closed solids: faces, edges and vertices that are its laws.

mod arc;
mod board;
mod curve;
mod foot;
mod grid;
mod hole;
mod knots;
mod line;
mod mesh;
mod mirror;
mod outline;
mod over;
mod plan;
mod relief;
mod sheet;
mod shell;
mod slant;
mod slot;
mod smooth;
mod spline;
mod stage;
mod surface;
mod trace;
mod wood;

pub use curve::Curve;
pub use mesh::{Mesh, Real};
pub use shell::{Edge, Face, Solid, Step, Trace};
pub use spline::{Knots, Point3, SplineCurve, SplineSurface};
pub use surface::Surface;

use crate::law::Law;
use crate::measure::{Error, Fault, Kind};
use crate::shape::{Back, Built, Flank, Neck, Sides};
use crate::spec::{Allowed, SolidOptions};

/// The least wood under a slot for it to be one, mm.
const LEFT_UNDER_MM: f64 = 1e-3;

/// The solids of a neck.
#[derive(Clone, Debug, PartialEq)]
#[non_exhaustive]
pub struct Solids {
    /// The neck wood, channel, pocket and tuner holes cut.
    pub neck_wood: Solid,
    /// The fretboard.
    pub fretboard: Solid,
}

/// A neck's laws by cubics, none off by more than so much.
fn by_cubics(built: &Built, within: f64) -> Option<Built> {
    let cubic = |law: &Law| law.by_cubics(within);
    let all = |[a, b, c, d]: &[Law; 4]| Some([cubic(a)?, cubic(b)?, cubic(c)?, cubic(d)?]);
    let flank = |f: &Flank| Some(Flank { out: all(&f.out)?, depth: all(&f.depth)? });
    let flanks = Sides { bass: flank(&built.back.flanks.bass)?, treble: flank(&built.back.flanks.treble)? };
    let back = Back { spine: cubic(&built.back.spine)?, flanks, even: built.back.even };
    let cuts: Option<_> = built.cuts.iter().map(|cut| cut.with_floor(cubic)).collect();
    Some(Built { back, face: cubic(&built.face)?, cuts: cuts?, ..built.clone() })
}

impl Neck {
    /// The neck as closed solids, each of faces that share their edges.
    ///
    /// The surfaces are the neck's own: planes, cylinders and splines that are its laws, as smooth in their knots as those are,
    /// with faces parted at creases only. Edges lie on them but for rounding, except those that have no closed form: where the back
    /// comes up above the board's underside, where a slanted nut or slot cuts through the back, and where a crown ends over a line
    /// that is not straight in plan. These lie within 1e-9 mm of both of their faces; [`Edge::within_mm`] tells which they are.
    /// With [`SolidOptions::cubic_within`] the surfaces are of degree 3 along, and within that of the neck's; those edges that are
    /// found by a search are as they were.
    ///
    /// # Errors
    /// - options out of their bounds;
    /// - `cubic_within`, where it would take thousands of cubics for a few millimetres;
    /// - `frets.slot_depth`, where slots are asked for that come out of the board's underside or of the carved back;
    /// - `solids.…`, a neck whose faces can't be put together: a fault of this library, that names the neck's part.
    pub fn solids(&self, options: &SolidOptions) -> Result<Solids, Error> {
        options.check()?;
        if options.slots {
            self.slots_within()?;
        }
        let cubic = match options.cubic_within {
            // Both coordinates of a control point may be off by as much.
            Some(within) => Some(
                by_cubics(self.built(), within.mm() / core::f64::consts::SQRT_2)
                    .ok_or_else(|| too_fine(within.mm()))?,
            ),
            None => None,
        };
        let built = cubic.as_ref().unwrap_or(self.built());
        let tops = wood::tops(built).ok_or_else(|| failed("laws"))?;
        let feet = tops.each_ref().map(|top| outline::Feet::new(&built.back, top));
        let [Some(face), Some(glue)] = feet else { return Err(failed("back")) };
        let feet = [face, glue];
        let wood = wood::wood(self, built, &tops, &feet).and_then(|made| hole::bored(self, made));
        let under =
            board::Under { back: &built.back, feet: &feet[1], reach: [f64::NEG_INFINITY, f64::INFINITY] };
        let board = board::board(self, built, &[under], options.slots);
        let finished = |made: Option<relief::Made>, part: &str| {
            let solid = made.map(|made| made.solid).filter(Solid::is_sound).ok_or_else(|| failed(part))?;
            Ok::<Solid, Error>(if self.hand_sign() < 0.0 { solid.mirrored() } else { solid })
        };
        Ok(Solids { neck_wood: finished(wood, "neck wood")?, fretboard: finished(board, "fretboard")? })
    }
}

impl Neck {
    /// Slots must leave wood under them.
    fn slots_within(&self) -> Result<(), Error> {
        let depth = self.normalised().frets.slot_depth.mm();
        match slot::Slots::new(self).deepest(self) {
            Some((room, fret, side)) if depth > room - LEFT_UNDER_MM => {
                let reason = alloc::format!(
                    "the slot of fret {fret} comes out of the board's underside, or of the carved back, at the {} edge",
                    side.name()
                );
                let most = libm::floor((room - LEFT_UNDER_MM) * 1e3) / 1e3;
                Err(Fault::new(Kind::Geometry, "frets.slot_depth", reason)
                    .value(depth, "mm")
                    .range(None, most)
                    .remedy("make the slots less deep, the carve line deeper, or leave the slots out of the solid")
                    .into())
            }
            _ => Ok(()),
        }
    }
}

fn too_fine(within_mm: f64) -> Error {
    let most = Allowed::<SolidOptions>::cubic_within.within.highest;
    let fault = Fault::new(
        Kind::Geometry,
        "cubic_within",
        "the neck's surfaces take too many cubics to come so close",
    )
    .value(within_mm, "mm");
    if within_mm < most {
        fault
            .range((10.0 * within_mm).min(most), most)
            .remedy("allow ten times as much, or leave it out")
            .into()
    } else {
        fault.remedy("leave it out").into()
    }
}

fn failed(part: &str) -> Error {
    let path = alloc::format!("solids.{}", part.replace(' ', "_"));
    Fault::new(Kind::Geometry, path, alloc::format!("the {part} could not be made a closed solid"))
        .remedy("please report the specification; it passed every check before this one")
        .into()
}

//! Everything that is settled before the first stage: timber, lines, stop lines, allowances.

use alloc::format;
use alloc::string::String;
use alloc::sync::Arc;
use alloc::vec::Vec;

use super::allowance::Following;
use super::offer::ROUNDING_MM;
use super::pass::Faces;
use super::sanding::{SandingPlan, sanding_plan};
use super::sawing::{SawLine, Stretches, back_lines};
use super::taper::Taper;
use super::timber::{Timber, fit};
use crate::measure::{Error, Fault, Kind, Station};
use crate::shape::{Back, Neck, Sides};
use crate::spec::Stock;

/// What the stages are made from.
pub(super) struct Setting {
    pub neck: Arc<Neck>,
    /// The stock with everything filled in that nobody gave.
    pub stock: Stock,
    pub timber: Timber,
    pub faces: Arc<Faces>,
    pub taper: Arc<Taper>,
    pub stretches: Stretches,
    pub back_lines: Vec<SawLine>,
    /// Where every cut along the shaft stops.
    pub stops: [f64; 2],
    /// Where the heel block begins that is planed to its depth while it is square.
    pub block: f64,
    pub sanding: SandingPlan,
    /// Allowance of the contouring stage, mm.
    pub contour: f64,
    /// The back with the shaping allowance, with the contouring allowance, and as it is finished.
    pub shaping_back: Arc<Back>,
    pub contour_back: Arc<Back>,
    pub finished: Arc<Back>,
}

/// The side faces.
fn faces(neck: &Neck) -> Faces {
    let built = neck.built();
    Faces {
        wood: Sides::each(|side| built.back.flanks.of(side).out[0].clone()),
        board: built.board_half.clone(),
    }
}

/// Sizes that nobody gave and that the neck takes, but no piece of stock has. The stock was in bounds before they were
/// filled in.
fn beyond_stock(stock: &Stock) -> Vec<Fault> {
    let reworded = |f: &Fault| {
        // No range: another size is not what helps.
        let limit = match (f.lowest, f.highest, f.value.parse::<f64>()) {
            (Some(least), _, Ok(value)) if value < least => {
                format!(", and no stock has less than {least} {}", f.unit)
            }
            (_, Some(most), _) => format!(", and no stock has more than {most} {}", f.unit),
            _ => String::new(),
        };
        let reason = format!("the neck takes this much as it is{limit}: {}", f.reason);
        let remedy = "leave less outside, or draw the saw's lines nearer to the board";
        Fault::new(Kind::Conflict, f.path.as_str(), reason).value(&f.value, f.unit).remedy(remedy)
    };
    stock.check().err().map_or_else(Vec::new, |error| error.faults().iter().map(reworded).collect())
}

impl Setting {
    /// Settles everything; the faults of numbers without which the stages can be gone through all the same are noted
    /// with it.
    ///
    /// # Errors
    /// - all faults, where the stages can't be gone through.
    pub fn new(neck: &Neck, stock: &Stock) -> Result<(Self, Vec<Fault>), Error> {
        stock.check()?;
        let mut stock = stock.clone();
        let mut faults = Vec::new();
        let allowed = stock.allowances.clone();
        let (saw, shaping) = (allowed.saw.mm(), allowed.shaping.mm());
        let (grits, own, head) = (&stock.sanding, allowed.contour, Some(allowed.headstock));
        // An allowance that is too small keeps nobody from looking at the rest.
        let sanding = sanding_plan(grits, own, head).or_else(|error| {
            faults.extend_from_slice(error.faults());
            sanding_plan(grits, own, None).or_else(|_| sanding_plan(grits, None, None))
        });
        let sanding = sanding.ok().map(|plan| plan.on(neck));
        let contour = sanding.as_ref().map_or(0.0, |s| s.allowance_mm);
        let stretches = Stretches::new(neck, saw);
        let back_lines = back_lines(neck, &stock, &stretches, &mut faults);
        let line = |name: &str| back_lines.iter().find(|line| line.name == name);
        // What cutter and facets start from is the sawn back, so there has to be one all along the shaft.
        let sawn = line("shaft").map_or(0.0, |l| l.depth.value_mm[0].max(l.depth.value_mm[1]));
        let timber = fit(neck, &mut stock, sawn, &mut faults);
        // What a refused line would take says nothing.
        if !faults.iter().any(|f| f.path.starts_with("saw.shaft_line")) {
            faults.extend(beyond_stock(&stock));
        }
        let [volute, heel] = neck.shaft_reach_mm();
        let stop = allowed.stops.mm().max(saw);
        let stops = [volute + stop, heel - stop];
        let furthest_stop = 0.5 * (heel - volute - Station::LEAST_GAP_MM);
        if let Some(sanding) = &sanding {
            let sawn = line("headstock").filter(|line| line.chosen);
            let following = Following {
                saw,
                shaping,
                contour,
                contour_spare: sanding.spare_mm > 0.0,
                headstock: allowed.headstock.mm(),
                grits: sanding.total_mm,
                headstock_finished: neck.headstock().thickness_mm,
                headstock_chosen: sawn.map(|line| line.clearance.least.value),
                hump: super::step::hump(neck),
                stops: allowed.stops.mm(),
                furthest_stop,
                // There the saw's stretch has its length, whatever is let pass for rounding.
                most_saw: furthest_stop - 2.0 * ROUNDING_MM,
            };
            faults.extend(following.faults());
        }
        let shaft = line("shaft").is_some();
        if sanding.is_none() || !shaft || stop > furthest_stop + ROUNDING_MM {
            Error::unless_none(core::mem::take(&mut faults))?;
        }
        let faces = Arc::new(faces(neck));
        // Shaping that rounding puts below what the grits take leaves as much as they do.
        let back = |a: f64| neck.thickened(a).map(Arc::new);
        let (Some(shaping_back), Some(contour_back), Some(sanding)) =
            (back(shaping.max(contour)), back(contour), sanding)
        else {
            return Err(Fault::new(Kind::Geometry, "", "the neck with its allowances could not be built")
                .remedy("please report the specification and the stock")
                .into());
        };
        let taper = Arc::new(Taper::new(neck, &faces, &stretches, &timber.blank, allowed.taper.mm()));
        let block = neck.heel().block_x_mm.min(neck.heel().end_x_mm);
        let setting = Self {
            neck: Arc::new(neck.clone()),
            stock,
            timber,
            faces,
            taper,
            stretches,
            back_lines,
            stops,
            block,
            sanding,
            contour,
            shaping_back,
            contour_back,
            finished: Arc::new(neck.built().back.clone()),
        };
        Ok((setting, faults))
    }
}

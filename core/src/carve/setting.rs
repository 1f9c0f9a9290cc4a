//! Everything that is settled before the first stage: timber, lines, stop lines, allowances.

use alloc::format;
use alloc::sync::Arc;
use alloc::vec;
use alloc::vec::Vec;

use super::fence::Straight;
use super::pass::Faces;
use super::sanding::{SandingPlan, sanding_plan};
use super::sawing::{SawLine, Stretches, back_lines, plan_line};
use super::timber::{Timber, fit};
use super::wood::Taper;
use crate::law::Law;
use crate::measure::{Error, Fault, Kind, Station, told};
use crate::shape::{Back, Neck, Side, Sides};
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

/// The side faces: the finished edges, or as far out as a side that leans outward bulges at the most.
fn faces(neck: &Neck) -> Faces {
    let built = neck.built();
    let bulge = Side::BOTH
        .into_iter()
        .filter_map(|side| {
            let out = &built.back.flanks.of(side).out;
            Some(out[1].minus(&out[0])?.greatest(1e-6).bound)
        })
        .fold(0.0, f64::max);
    // What rounding leaves of a side without any lean is no bulge.
    let bulge = if bulge < 1e-9 { 0.0 } else { bulge };
    let wider = |law: &Law| if bulge > 0.0 { law.plus_number(bulge) } else { law.clone() };
    Faces {
        wood: Sides::each(|side| wider(&built.back.flanks.of(side).out[0])),
        board: wider(&built.board_half),
    }
}

/// The taper's lines: straight from the headstock's root to the end, in two where the heel block has a width of its own.
fn taper(neck: &Neck, faces: &Faces, stretches: &Stretches, out: f64) -> Taper {
    let built = neck.built();
    let (root, board) = (built.head.root, neck.layout().board());
    let [_, end] = neck.wood_reach_mm();
    let far = end.max(board.end_mm());
    let line = |law: &Law, from: f64, to: f64| plan_line(&|x| law.value(x), [from, to], law.breaks(), out);
    let lines = |side: Side| -> Vec<Straight> {
        let wood = faces.wood.of(side);
        let apart = stretches.ends[3];
        if built.own_block && apart > root && apart < end {
            vec![line(wood, root, apart), line(wood, apart, end)]
        } else {
            // The board may reach further than the wood, and both are sawn in one.
            let widest = |x: f64| if x <= end { wood.value(x) } else { faces.board.value(x) };
            let mut kinks = wood.breaks().to_vec();
            kinks.extend(faces.board.breaks());
            vec![plan_line(&widest, [root, far], &kinks, out)]
        }
    };
    Taper { lines: Sides::each(lines), board: line(&faces.board, board.start_mm().max(root), far), out, root }
}

fn crossed(path: &str, value: f64, reason: &str, remedy: alloc::string::String) -> Fault {
    Fault::new(Kind::Conflict, path, reason).value(told(value), "mm").remedy(remedy)
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
        let sanding = match sanding_plan(&stock.sanding, allowed.contour) {
            Ok(plan) => Some(plan),
            Err(error) => {
                faults.extend_from_slice(error.faults());
                None
            }
        };
        let contour = sanding.as_ref().map_or(0.0, |s| s.allowance_mm);
        if shaping > saw {
            let remedy = format!("leave {} mm or less, or let the saw leave more", told(saw));
            let reason = "more wood than the saw leaves outside the finished back";
            faults.push(crossed("allowances.shaping", shaping, reason, remedy).range(0.0, saw));
        }
        if contour > shaping {
            let reason = format!(
                "less than the {} mm that contouring leaves for the grits, so that nothing is left to contour",
                told(contour)
            );
            let remedy = "leave more for shaping, or sand with fewer or finer grits".into();
            faults.push(crossed("allowances.shaping", shaping, &reason, remedy).range(contour, None));
        }
        let timber = fit(neck, &mut stock, &mut faults);
        let stretches = Stretches::new(neck, saw);
        let back_lines = back_lines(neck, &stock, &stretches, &mut faults);
        let [volute, heel] = neck.shaft_reach_mm();
        let stop = allowed.stops.mm().max(saw);
        let stops = [volute + stop, heel - stop];
        if stops[1] - stops[0] < Station::LEAST_GAP_MM {
            let most = 0.5 * (heel - volute - Station::LEAST_GAP_MM);
            let path = if allowed.stops.mm() >= saw { "allowances.stops" } else { "allowances.saw" };
            faults.push(
                crossed(
                    path,
                    stop,
                    "the stop lines cross: between volute and heel no shaft is left to cut",
                    format!(
                        "stop nearer, at {} mm or less, or make the volute's or the heel's run shorter",
                        told(most)
                    ),
                )
                .range(0.0, most.max(0.0)),
            );
        }
        let shaft = back_lines.iter().any(|line| line.name == "shaft");
        if sanding.is_none() || !shaft || stops[1] - stops[0] < Station::LEAST_GAP_MM {
            Error::unless_none(core::mem::take(&mut faults))?;
        }
        let faces = Arc::new(faces(neck));
        let taper = Arc::new(taper(neck, &faces, &stretches, allowed.taper.mm()));
        let back = |a: f64| neck.thickened(a).map(Arc::new);
        let (Some(shaping_back), Some(contour_back), Some(sanding)) = (back(shaping), back(contour), sanding)
        else {
            return Err(Fault::new(Kind::Geometry, "", "the neck with its allowances could not be built")
                .remedy("please report the specification and the stock")
                .into());
        };
        let heel = neck.heel();
        let block = heel.block_x_mm.max(heel.glued_from_x_mm).min(heel.end_x_mm);
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

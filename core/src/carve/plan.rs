//! The plan: from the blank to the last grit.

use alloc::vec::Vec;

use super::caution::cautions;
use super::sawing::too_deep;
use super::setting::Setting;
use super::stage::{Details, Stage};
use super::step::Step;
use super::wood::Wood;
use super::work::Work;
use crate::measure::{Error, Length};
use crate::shape::Neck;
use crate::spec::{StageName, Stock};

/// A carving plan: every stage from the blank to the last grit, each with its lines, checks and cautions, and the proof
/// that it stays outside the finished neck.
///
/// It keeps what it needs of the neck, is immutable, and may be used from any number of threads.
#[derive(Clone, Debug)]
pub struct CarvingPlan {
    stock: Stock,
    start: Wood,
    stock_mm3: f64,
    finished_mm3: f64,
    stages: Vec<Stage>,
    stops_mm: [f64; 2],
    glued_from_mm: f64,
}

impl CarvingPlan {
    /// The stock with every size of timber and cutter filled in that nobody gave.
    #[must_use]
    pub const fn stock(&self) -> &Stock {
        &self.stock
    }

    /// The stages in the order in which they are done.
    #[must_use]
    pub fn stages(&self) -> &[Stage] {
        &self.stages
    }

    /// One stage, where the plan has it.
    #[must_use]
    pub fn stage(&self, name: StageName) -> Option<&Stage> {
        self.stages.iter().find(|s| s.name == name)
    }

    /// The wood before the first stage: the blanks as if they lay in place. Where the headstock is scarfed on the first
    /// stage saws and glues it, and this is the wood after the joint.
    #[must_use]
    pub const fn start(&self) -> &Wood {
        &self.start
    }

    /// Volume of the timber before the first stage, board and neck blank together, mm³.
    #[must_use]
    pub const fn stock_mm3(&self) -> f64 {
        self.stock_mm3
    }

    /// Volume of the finished neck, mm³: fretboard and neck wood, the rod's channel and the tuner holes taken off.
    #[must_use]
    pub const fn finished_mm3(&self) -> f64 {
        self.finished_mm3
    }

    /// Where every cut along the back of the shaft stops, at the headstock's end and at the heel's, mm from the nut.
    #[must_use]
    pub const fn stops_mm(&self) -> [f64; 2] {
        self.stops_mm
    }

    /// From where on the heel is glued to the body, so that nothing may touch it, mm from the nut.
    #[must_use]
    pub const fn glued_from_mm(&self) -> f64 {
        self.glued_from_mm
    }
}

impl Neck {
    /// The carving plan of this neck from a piece of stock.
    ///
    /// # Errors
    /// - everything that [`Stock::check`] finds;
    /// - timber that does not hold the neck, a scarf longer than the headstock;
    /// - a line or a cutter that comes nearer to the finished neck than its allowance, told with the place and by how
    ///   much; allowances that do not follow each other; stop lines that cross.
    ///
    /// Each says what would make it possible.
    pub fn carving_plan(&self, stock: &Stock) -> Result<CarvingPlan, Error> {
        let (setting, mut faults) = Setting::new(self, stock)?;
        let order = setting.stock.order.clone().unwrap_or_else(|| setting.stock.usual_order());
        let volumes = self.volume_mm3();
        let bored = if setting.stock.board.glued { volumes.rod_channel_mm3 } else { 0.0 };
        let stock_mm3 = setting.timber.blank_mm3 + setting.timber.board_mm3 - bored;
        let finished_mm3 = volumes.fretboard_mm3 + volumes.neck_wood_mm3;
        let start = setting.start(bored);
        let (mut wood, mut left, mut stages) = (start.clone(), stock_mm3, Vec::new());
        let work = Work::of(self, &setting.stock);
        for name in order {
            let Step { wood: after, action, tool, lines, checks, clearance, details } =
                setting.step(name, &wood, &mut faults);
            if let Some(near) = clearance.filter(|c| faults.is_empty() && !c.holds()) {
                faults.push(
                    too_deep(
                        self,
                        "order",
                        near.least.value,
                        &near,
                        "please report the specification and the stock",
                    )
                    .value(name.name(), ""),
                );
            }
            // A plan with faults is never given out.
            let left_after = if faults.is_empty() { after.volume_mm3() } else { left };
            stages.push(Stage {
                name,
                action,
                tool: tool.into(),
                lines,
                checks,
                cautions: cautions(name, &work),
                removed_mm3: left - left_after,
                left_mm3: left_after,
                clearance: clearance.map(|c| c.on_hand(self.hand_sign())),
                wood: after.clone(),
                details,
            });
            (wood, left) = (after, left_after);
        }
        Error::unless_none(faults)?;
        let mut stock = setting.stock;
        if let Some(Details::Cutter(cutter)) =
            stages.iter().map(|s| &s.details).find(|d| matches!(d, Details::Cutter(_)))
        {
            stock.cutter.radius = Some(Length::from_mm(cutter.radius_mm));
        }
        let (stops_mm, glued_from_mm) = (setting.stops, self.heel().glued_from_x_mm);
        Ok(CarvingPlan { stock, start, stock_mm3, finished_mm3, stages, stops_mm, glued_from_mm })
    }
}

//! One piece or scarfed: what stock the headstock's angle asks for.

use super::neck::Neck;
use crate::law::Law;
use crate::measure::{Error, Fault, Kind};
use crate::spec::HeadstockKind;

/// A scarf joint through a piece of stock.
#[derive(Clone, Copy, Debug, PartialEq, serde::Serialize)]
pub struct Scarf {
    /// Angle between the cut and the stock's face, degrees.
    pub angle_deg: f64,
    /// Thickness of the stock, mm.
    pub stock_mm: f64,
    /// Length of the cut face, mm: `t/sin a`.
    pub face_mm: f64,
    /// Length of the cut along the stock, mm: `t/tan a`.
    pub run_mm: f64,
}

/// The scarf through stock of the given thickness: face `t/sin a`, run `t/tan a` (elementary geometry).
///
/// # Errors
/// - an angle outside 1 to 45 degrees, a thickness outside 1 to 200 mm.
pub fn scarf(angle_deg: f64, stock_mm: f64) -> Result<Scarf, Error> {
    let check = |path: &str, value: f64, unit: &'static str, range: [f64; 2], reason: &str| {
        let fault = Fault::new(Kind::OutOfRange, path, reason).value(value, unit).range(range[0], range[1]);
        (!(range[0]..=range[1]).contains(&value)).then_some(fault)
    };
    let angle = check(
        "angle_deg",
        angle_deg,
        "deg",
        [1.0, 45.0],
        "a flatter scarf has no end and a steeper one does not hold",
    );
    let stock =
        check("stock_mm", stock_mm, "mm", [1.0, 200.0], "no neck is sawn from thinner or thicker stock");
    Error::unless_none([angle, stock].into_iter().flatten().collect())?;
    let a = angle_deg.to_radians();
    Ok(Scarf { angle_deg, stock_mm, face_mm: stock_mm / libm::sin(a), run_mm: stock_mm / libm::tan(a) })
}

/// Thickness of the stock that each way of making the neck needs, from the glue line down, nothing allowed
/// for the saw.
#[derive(Clone, Copy, Debug, PartialEq, serde::Serialize)]
pub struct Joints {
    /// One piece from tip to heel, mm.
    pub one_piece_stock_mm: f64,
    /// What the shaft with its volute needs, mm: the stock where headstock and heel block are glued on.
    pub shaft_stock_mm: f64,
    /// What shaft, volute and heel block need, mm.
    pub heel_stock_mm: f64,
    /// The scarf through stock of the greater of shaft and headstock thickness; `None` for a headstock that
    /// is not angled (by 1 degree or more).
    pub scarf: Option<Scarf>,
}

impl Neck {
    /// One piece or scarfed: the stock that either needs, proven over the whole neck to within 1e-6 mm and
    /// never too little.
    #[must_use]
    pub fn joints(&self) -> Joints {
        let built = &self.built;
        let spine = &built.back.spine;
        let deepest = |law: Option<Law>| law.as_ref().unwrap_or(spine).greatest(1e-7).bound - built.head.glue;
        let shaft = deepest(spine.restricted(built.volute.tip, built.sweep.start));
        let stock = shaft.max(built.head.thickness);
        let angled = built.head.kind == HeadstockKind::Angled;
        Joints {
            one_piece_stock_mm: deepest(None),
            shaft_stock_mm: shaft,
            heel_stock_mm: deepest(spine.restricted(built.volute.tip, built.end)),
            scarf: angled.then(|| scarf(self.spec.headstock.angle.deg(), stock).ok()).flatten(),
        }
    }
}

//! A solid between two reliefs: over each place in plan it reaches from one sheet up to another, with upright walls where they
//! step and around it.

mod cell;
mod finish;
mod patch;
mod work;

use alloc::string::String;
use alloc::vec::Vec;

use super::plan::PlanCurve;
use super::sheet::Sheet;
use super::shell::Solid;
use super::spline::Point3;
use work::Work;

/// Two places or heights that differ by no more are one, mm.
const ONE_MM: f64 = 3e-9;
/// Two stations that differ by no more are one, mm.
const SAME_STATION_MM: f64 = 1e-9;

/// One of the two reliefs: its sheets, the curves in plan at which one may take the place of another, and which lies where.
pub(in crate::solid) struct Relief<'a> {
    pub sheets: Vec<Sheet<'a>>,
    pub curves: Vec<PlanCurve>,
    /// The sheet that lies at a place; `None` where none does, of which no solid is made.
    #[allow(clippy::type_complexity)]
    pub sheet_at: alloc::boxed::Box<dyn Fn(f64, f64) -> Option<usize> + 'a>,
}

/// What a solid is made of: two reliefs within an outline.
pub(in crate::solid) struct Making<'a> {
    pub name: String,
    /// The outline's curves of lower `y` and of greater, each going on where the one before ends.
    pub outline: [Vec<PlanCurve>; 2],
    pub lower: Relief<'a>,
    pub upper: Relief<'a>,
    /// Further stations at which something changes.
    pub stations: Vec<f64>,
}

/// A solid, and of each of its faces the relief (0 the lower one) and the sheet that it lies on.
pub(in crate::solid) struct Made {
    pub solid: Solid,
    pub sheets: Vec<Option<(usize, usize)>>,
}

impl Made {
    /// The face of a sheet over whose stations and places across a point lies.
    pub fn face_at(&self, part: usize, sheet: usize, [x, y, _]: Point3) -> Option<usize> {
        let over = |i: &usize| {
            let points = self.solid.faces[*i].loops[0].iter().flat_map(|s| self.solid.edges[s.edge].ends);
            let reach = |k: usize| {
                let all = points.clone().map(|v| self.solid.vertices[v][k]);
                [all.clone().fold(f64::INFINITY, f64::min), all.fold(f64::NEG_INFINITY, f64::max)]
            };
            let ([x0, x1], [y0, y1]) = (reach(0), reach(1));
            (x0..=x1).contains(&x) && (y0..=y1).contains(&y)
        };
        let own = (0..self.sheets.len()).filter(|i| self.sheets[*i] == Some((part, sheet)));
        own.clone().find(over).or_else(|| own.clone().next())
    }
}

const LOWER: usize = 0;
const UPPER: usize = 1;

fn near(a: f64, b: f64) -> bool {
    libm::fabs(a - b) <= ONE_MM
}

/// Sorted, and each once.
fn each_once(mut values: Vec<f64>, apart: f64) -> Vec<f64> {
    values.sort_by(f64::total_cmp);
    values.dedup_by(|b, a| *b - *a <= apart);
    values
}

impl Making<'_> {
    /// The solid; `None` where the sheets leave a gap or a curve can't be made.
    pub fn made(&self) -> Option<Made> {
        Work::new(self)?.made()
    }
}

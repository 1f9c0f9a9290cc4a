//! Why the wood after a stage could not be made solids.

use crate::carve::{Cut, Wood};
use crate::measure::{Error, Fault, Kind};
use crate::spec::{Allowed, Cutter};

/// What went wrong.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) enum Why {
    /// A cut has no laws, and which of the passes it is of.
    Cut(usize),
    /// The blank has none.
    Blank,
    Board,
    Face,
    Feet,
    Outline,
    Top,
    /// The underside can't be followed from station to station.
    Underside,
    /// Reliefs that are not the wood's sections.
    Sections,
    /// Cuts come up through the top face: the station, and by how much, mm.
    Through {
        x: f64,
        by: f64,
    },
    Curves,
    Open,
    Edges,
}

impl Why {
    fn words(self) -> &'static str {
        match self {
            Self::Cut(_) => "a cut has no laws",
            Self::Blank => "its blank has no underside",
            Self::Board => "its board has no faces",
            Self::Face => "its face has no law",
            Self::Feet => "its back has no feet",
            Self::Outline => "its outline has gaps",
            Self::Top => "its top has no laws",
            Self::Underside => "its underside can't be followed",
            Self::Sections => "its faces are not where its sections are",
            Self::Through { .. } => "its cuts come up through its top face",
            Self::Curves => "its faces have no curves",
            Self::Open => "its faces do not close",
            Self::Edges => "its edges do not lie on its faces",
        }
    }

    /// Whether the paths of a ball can be the cause: what is made of the wood's underside. Blank, board, top and outline know
    /// nothing of them.
    fn may_be_of_paths(self, wood: &Wood) -> bool {
        let ball = |cut: &Cut| matches!(cut, Cut::Ball { .. });
        match self {
            Self::Cut(pass) => wood.passes.get(pass).is_some_and(|pass| ball(&pass.cut)),
            Self::Underside | Self::Sections | Self::Curves | Self::Open | Self::Edges => {
                wood.passes.iter().any(|pass| ball(&pass.cut))
            }
            Self::Blank
            | Self::Board
            | Self::Face
            | Self::Feet
            | Self::Outline
            | Self::Top
            | Self::Through { .. } => false,
        }
    }

    /// As the caller is told.
    pub fn error(self, wood: &Wood) -> Error {
        if let Self::Through { x, by } = self {
            return through(x, by);
        }
        if self.may_be_of_paths(wood) {
            return of_paths(wood, self.words());
        }
        let reason =
            alloc::format!("the wood after this stage could not be made a closed solid: {}", self.words());
        let fault = Fault::new(Kind::Geometry, "solids", reason);
        fault
            .remedy("please report the specification and the stock; they passed every check before this one")
            .into()
    }
}

/// Paths of a ball may only just touch each other, the side face or what was cut before: told at their field.
fn of_paths(wood: &Wood, why: &str) -> Error {
    let balls = wood.passes.iter().filter(|p| matches!(p.cut, Cut::Ball { .. })).count();
    let reason = alloc::format!("the paths of the ball could not be made faces of a closed solid: {why}");
    let within = Allowed::<Cutter>::paths.within;
    Fault::new(Kind::Geometry, "cutter.paths", reason)
        .value(balls.div_ceil(2) as f64, "")
        .range(within.lowest, within.highest)
        .remedy("another number of paths or another radius; or take the wood before rounding, or after contouring")
        .into()
}

/// How high cuts come at the sides is the carve line's.
fn through(x: f64, by: f64) -> Error {
    let reason = alloc::format!(
        "{x:.1} mm from the nut the cuts of this stage come up through the wood's top face, by {by:.2} mm"
    );
    Fault::new(Kind::Geometry, "shaft.carve_line", reason)
        .remedy("a deeper carve line there; or take the wood before or after this stage")
        .into()
}

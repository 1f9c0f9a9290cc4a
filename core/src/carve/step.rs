//! Making one stage: the wood before it, the wood after it, and what to say about it.

use alloc::format;
use alloc::string::String;
use alloc::vec::Vec;

use super::clearance::Clearance;
use super::mark::{Check, Datum, Face, Line, Place, Waste, marks};
use super::setting::Setting;
use super::stage::Details;
use super::wood::{Board, Width, Wood};
use crate::measure::Fault;
use crate::shape::Neck;
use crate::spec::{Construction, StageName};

/// A stage before its volumes and cautions are known.
pub(super) struct Step {
    pub wood: Wood,
    pub action: String,
    pub tool: &'static str,
    pub lines: Vec<Line>,
    pub checks: Vec<Check>,
    pub clearance: Option<Clearance>,
    pub details: Details,
}

impl Step {
    pub fn new(wood: &Wood, action: impl Into<String>, tool: &'static str) -> Self {
        Self {
            wood: wood.clone(),
            action: action.into(),
            tool,
            lines: Vec::new(),
            checks: Vec::new(),
            clearance: None,
            details: Details::None,
        }
    }
}

/// A face that depths are measured from, and its depth below the crown plane.
pub(super) struct Reference {
    pub datum: Datum,
    pub depth: f64,
}

/// What lies between headstock and shaft, in words: a volute, or where there is none a transition all the same.
pub(super) fn hump(neck: &Neck) -> &'static str {
    if neck.volute().height_mm > 0.0 { "volute" } else { "transition" }
}

impl Setting {
    /// The wood before the first stage.
    pub fn start(&self, bored_mm3: f64) -> Wood {
        Wood {
            neck: self.neck.clone(),
            faces: self.faces.clone(),
            blank: self.timber.blank.clone(),
            board: Board::Blank(self.timber.board.clone()),
            width: Width::Blank,
            faced: self.stock.construction == Construction::Scarf,
            bored_mm3,
            passes: Vec::new(),
            shaped: Vec::new(),
        }
    }

    /// What depths are measured from at a time: the board's top once it is on, the blank's top face before.
    pub fn reference(&self, wood: &Wood) -> Reference {
        match &wood.board {
            Board::Made(_) => Reference { datum: Datum::BoardTop, depth: 0.0 },
            Board::Blank(blank) if self.stock.board.glued => {
                Reference { datum: Datum::BoardTop, depth: blank.top }
            }
            Board::Blank(_) => {
                Reference { datum: Datum::BlankTop, depth: self.neck.layout().board().thickness_mm() }
            }
        }
    }

    /// Whether there are frets on the board at a time.
    fn is_fretted(&self, wood: &Wood) -> bool {
        matches!(wood.board, Board::Made(_)) && !self.neck.frets().is_empty()
    }

    /// What a caliper reads along the centreline, from the top face that is there to a depth below the crown plane. A
    /// fret's wire would keep its jaw off the board.
    pub fn caliper(&self, wood: &Wood, [what, note]: [&str; 2], place: &Place, depth: f64) -> Check {
        let board = self.neck.layout().board();
        let on_board = match &wood.board {
            Board::Made(_) => (0.0..=board.end_mm()).contains(&place.x),
            Board::Blank(blank) => self.stock.board.glued && (blank.x[0]..=blank.x[1]).contains(&place.x),
        };
        let top = match (on_board, wood.faced) {
            (true, _) => self.reference(wood).depth,
            (false, true) => self.neck.wood_top(place.x),
            (false, false) => board.thickness_mm(),
        };
        let off = if on_board && self.is_fretted(wood) { " off the frets" } else { "" };
        Check::reading(format!("{what}{off}, caliper{note}"), place, depth - top)
    }

    /// A line on the side faces at a depth below the crown plane, its waste below it. Where the board is radiused and lies over all of it, its
    /// top edge is what a rule finds there, and that lies lower than the crown.
    pub fn side_line(
        &self,
        wood: &Wood,
        name: impl Into<String>,
        (on, straight): (Face, bool),
        places: &[Place],
        depth: impl Fn(f64) -> f64,
    ) -> Line {
        let reference = self.reference(wood);
        let board = self.neck.layout().board();
        let over = |p: &Place| (0.0..=board.end_mm()).contains(&p.x);
        let edge = |x: f64| wood.edge_depth(x);
        let (from, marks) = if reference.datum == Datum::BoardTop
            && places.iter().all(|p| over(p) && edge(p.x).is_some_and(|e| e > 0.0))
        {
            (Datum::BoardEdge, marks(places, |x| depth(x) - edge(x).unwrap_or(0.0)))
        } else {
            (reference.datum, marks(places, |x| depth(x) - reference.depth))
        };
        Line { name: name.into(), on, from, straight, waste: Some(Waste::Greater), marks }
    }

    /// Of the places of a line at a depth, in their order along the neck, those where there is wood at that depth; where it
    /// comes out of the wood's underside between two of them, or into the front end of a block that is glued under it,
    /// that place is one too.
    pub fn on_the_wood(&self, wood: &Wood, places: &[Place], depth: impl Fn(f64) -> f64) -> Vec<Place> {
        const NEAR_MM: f64 = 1e-6;
        // A place that is told to so many digits may lie a hair beyond the wood's end.
        let [from, to] = wood.wood_reach();
        let air = |x: f64| wood.depth_mm(x.clamp(from, to)).is_ok_and(|deep| depth(x) > deep + NEAR_MM);
        let mut all: Vec<(Place, bool)> = places.iter().map(|p| (p.clone(), air(p.x))).collect();
        if let Some(front) = self.timber.blank.block.as_ref().map(|b| b.x[0]) {
            let at = all.partition_point(|(p, _)| p.x < front);
            let inside = at > 0 && all.get(at).is_some_and(|(p, _)| p.x > front + NEAR_MM);
            if inside && !air(front) && air(front - NEAR_MM) {
                all.insert(at, (Place::new(front, "heel block's front end"), false));
                all.insert(at, (Place::new(front - NEAR_MM, ""), true));
            }
        }
        let mut kept: Vec<Place> = Vec::new();
        for (i, (place, out)) in all.iter().enumerate() {
            if let Some((last, was)) = i.checked_sub(1).map(|k| &all[k]).filter(|(_, was)| was != out) {
                let (mut a, mut b) = (last.x, place.x);
                for _ in 0..60 {
                    let mid = 0.5 * (a + b);
                    if air(mid) == *was { a = mid } else { b = mid }
                }
                let x = if *was { b } else { a };
                if place.x - last.x > 2.0 * NEAR_MM {
                    kept.push(Place::new(x, "underside"));
                }
            }
            if !out {
                kept.push(place.clone());
            }
        }
        kept
    }

    /// The ends of the shaft's run, as places.
    pub fn run(&self) -> [Place; 2] {
        let [from, to] = self.stops;
        [Place::new(from, format!("stop at the {}", self.hump())), Place::new(to, "stop at the heel")]
    }

    /// What lies between headstock and shaft, in words.
    pub fn hump(&self) -> &'static str {
        hump(&self.neck)
    }

    /// A station where a sawn line begins or ends, by its name.
    pub fn named(&self, x: f64) -> Place {
        let [tip, before, past, heel, block, end] = self.stretches.ends;
        let hump = self.hump();
        let names = [
            (tip, "headstock's tip".into()),
            (end, "heel's end".into()),
            (self.neck.layout().board().end_mm(), "board's end".into()),
            (self.neck.built().head.root, "nut's headstock side".into()),
            (before, format!("before the {hump}")),
            (past, format!("past the {hump}")),
            (heel, "before the heel".into()),
            (block, "past the heel's sweep".into()),
        ];
        let found = names.into_iter().find(|(at, _)| libm::fabs(at - x) < 1e-9);
        found.map_or_else(|| Place::at(x), |(_, name)| Place::new(x, name))
    }

    /// The stage of this name.
    pub fn step(&self, name: StageName, wood: &Wood, faults: &mut Vec<Fault>) -> Step {
        match name {
            StageName::Blank => self.blank(wood),
            StageName::RodChannel => self.rod_channel(wood),
            StageName::HeadstockFace => self.headstock_face(wood),
            StageName::Board => self.board(wood),
            StageName::Taper => self.sawn_taper(wood),
            StageName::Sides => self.sides(wood),
            StageName::Back => self.sawn_back(wood),
            StageName::HeadstockThickness => self.headstock_thickness(wood, faults),
            StageName::Stops => self.stop_lines(wood),
            StageName::Rounding => self.rounding(wood, faults),
            StageName::Facets => self.facets(wood),
            StageName::Contour => self.contouring(wood, faults),
            StageName::Transitions => self.transitions(wood, faults),
            StageName::Sanding => self.sanding(wood),
        }
    }
}

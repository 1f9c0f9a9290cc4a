//! The lines that lie across the neck: the nut's, the frets', the board's end; square or, with two scales, aslant.

use alloc::format;
use alloc::string::String;
use alloc::vec;
use alloc::vec::Vec;

use super::mark::{Check, Datum, Face, Line, Mark, Place, marks};
use super::setting::Setting;
use super::step::Step;
use super::wood::{Board, Wood};
use crate::shape::Side;
use crate::spec::Radius;

fn mark(x_mm: f64, place: impl Into<String>, distance_mm: f64) -> Mark {
    Mark { x_mm, place: place.into(), distance_mm }
}

/// Words in a row, the last set off from the others by words of its own.
fn joined<T: AsRef<str>>(words: &[T], last: &str) -> String {
    let mut all = String::new();
    for (i, word) in words.iter().enumerate() {
        all += match i {
            0 => "",
            _ if i + 1 == words.len() => last,
            _ => ", ",
        };
        all += word.as_ref();
    }
    all
}

impl Setting {
    /// The nut's line on the blank, whose edges are parallel: aslant, it meets each of them at a place of its own.
    pub(super) fn nut_line(&self) -> Line {
        let from_end = self.timber.facts.nut_from_end_mm;
        let slope = self.neck.layout().nut_line().slope;
        let on = |side: Side| slope * side.sign() * self.timber.blank.half;
        let (name, marks) = if slope == 0.0 {
            ("nut line, square across", vec![mark(0.0, "nut", from_end)])
        } else {
            let edge = |side: Side| {
                mark(on(side), format!("{} edge of the blank", side.name()), from_end + on(side))
            };
            let centre = mark(0.0, "nut on the centreline", from_end);
            ("nut line, aslant from edge to edge", vec![edge(Side::Bass), centre, edge(Side::Treble)])
        };
        Line { name: name.into(), on: Face::Top, from: Datum::BlankEnd, straight: true, waste: None, marks }
    }

    /// The frets, the nut before them where its own line has to be found on the board, and the board's end after them.
    fn across_the_board(&self, nut: bool) -> Vec<Place> {
        let end = self.neck.layout().board().end_mm();
        let frets = self.neck.layout().frets();
        let frets = frets.iter().map(|f| Place::new(f.line.x_mm, format!("fret {}", f.number)));
        let nut = nut.then(|| Place::new(0.0, "nut"));
        nut.into_iter().chain(frets).chain([Place::new(end, "board's end")]).collect()
    }

    /// Where the same lines end on one side: at the board's edge, or a slot at the binding's inner side.
    fn ends(&self, side: Side, all: &[Place]) -> Vec<Mark> {
        let board = self.neck.layout().board();
        let [bass, treble] = board.nut_ends_mm();
        let of = |(b, t): (f64, f64)| if side == Side::Bass { b } else { t };
        let slots = self.neck.layout().frets().iter().map(|f| of((f.slot_ends_mm.0.0, f.slot_ends_mm.1.0)));
        let ends = core::iter::once(of((bass, treble))).chain(slots).chain([board.end_mm()]);
        all.iter().zip(ends).map(|(p, at)| mark(at, p.name.clone(), at)).collect()
    }

    /// What is let into the board or set on it.
    fn adornments(&self) -> Vec<&'static str> {
        let layout = self.neck.layout();
        [
            ("frets", !layout.frets().is_empty()),
            ("binding", layout.board().binding_mm() > 0.0),
            ("inlay", !layout.face_markers().is_empty()),
            ("side dots", !layout.side_markers().is_empty()),
        ]
        .into_iter()
        .filter_map(|(what, has)| has.then_some(what))
        .collect()
    }

    pub(super) fn board(&self, wood: &Wood) -> Step {
        let board = self.neck.layout().board();
        let glued = self.stock.board.glued;
        let slanted = self.neck.layout().nut_line().slope != 0.0;
        let fanned = self.neck.layout().fan().is_fanned();
        let rod = !self.neck.rod_cuts().is_empty();
        let start = match (glued, rod) {
            (true, _) => "Bring the board",
            (false, true) => "Glue the board on, with no glue in the rod's channel; bring it",
            (false, false) => "Glue the board on; bring it",
        };
        let length = if slanted {
            "cut it to length, at the nut aslant along its line and at the other end square across"
        } else {
            "cut it to length"
        };
        let fretted = !self.neck.layout().frets().is_empty();
        let round = self.neck.normalised().fretboard.radius != Radius::Flat;
        let mut all: Vec<String> = vec![
            format!("{start} to its thickness{}", if round { " and radius" } else { "" }),
            String::from(length),
        ];
        if fretted {
            all.push(String::from(if fanned {
                "saw the slots, each from its mark on one edge to that on the other"
            } else {
                "saw the slots"
            }));
        }
        let adorned = self.adornments();
        if !adorned.is_empty() {
            all.push(format!("do {}", joined(&adorned, " and ")));
        }
        let mut step = Step::new(
            wood,
            format!("{} now, while every face is flat and square.", joined(&all, ", and ")),
            match (round, fretted) {
                (true, true) => "plane, radius block, fret saw",
                (true, false) => "plane, radius block",
                (false, true) => "plane, fret saw",
                (false, false) => "plane",
            },
        );
        step.wood.board = Board::Made(self.timber.board.clone());
        let all = self.across_the_board(fanned);
        let line = |name: String, marks: Vec<Mark>| Line {
            name,
            on: Face::Top,
            from: Datum::Nut,
            straight: true,
            waste: None,
            marks,
        };
        let what = if fretted { "fret lines and the board's ends" } else { "the board's end" };
        step.lines.push(line(format!("{what}, along the centreline"), marks(&all, |x| x)));
        if fanned {
            for side in Side::BOTH {
                let name = format!("{what}, where they end on the {} side", side.name());
                step.lines.push(line(name, self.ends(side, &all)));
            }
        }
        step.checks.push(Check::reading(
            "board's thickness along the crown, caliper",
            &Place::new(0.0, "nut"),
            board.thickness_mm(),
        ));
        if !glued {
            step.checks
                .push(Check::by_eye("the board's centreline lies on the blank's, at the nut and at its end"));
        }
        if fanned {
            step.checks.push(Check::by_eye(
                "a rule laid over the two ends of a line meets its mark on the centreline, at every fret",
            ));
        }
        step
    }
}

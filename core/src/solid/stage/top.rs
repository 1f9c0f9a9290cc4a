//! What bounds a stage's wood from above.

use alloc::boxed::Box;
use alloc::rc::Rc;
use alloc::vec::Vec;

use super::super::foot::{Piece, jet};
use super::super::line::Line;
use super::super::outline::level_sheets;
use super::super::plan::{Known, PlanCurve};
use super::super::relief::Relief;
use super::super::sheet::{Kind, Sheet};
use super::super::smooth::{Jet, Reading, breaks_of, smooth};
use crate::carve::{Board, Width, Wood};
use crate::law::Law;
use crate::layout::sagitta_mm;
use crate::shape::Side;

/// How close the law of the level beside the crown comes, mm.
const WITHIN_MM: f64 = 1e-10;

/// How deep the crown is at its edge.
struct Edge<'a> {
    half: Piece<'a>,
    /// Radius at the nut, and its growth.
    radius: (f64, f64),
}

impl Reading<1> for Edge<'_> {
    fn values(&self, x: f64) -> [f64; 1] {
        self.jets(x).map(|jet| jet[0])
    }

    fn jets(&self, x: f64) -> [Jet; 1] {
        let w = jet(self.half, x);
        let (r, g) = (self.radius.0 + self.radius.1 * x, self.radius.1);
        let q = libm::sqrt((r - w[0]) * (r + w[0]));
        let first = (r * g - w[0] * w[1]) / q;
        let second = (g * g - w[1] * w[1] - w[0] * w[2] - first * first) / q;
        [[sagitta_mm(r, w[0]), g - first, -second]]
    }
}

/// The face of a neck's wood, carried on level to where the wood begins and ends.
pub(super) fn face(wood: &Wood, [from, to]: [f64; 2]) -> Option<Law> {
    let built = wood.neck.built();
    let mut law = built.face.clone();
    if from < law.start() {
        let before = Law::constant(law.value(law.start()), from, law.start())?;
        law = before.followed_by(&law, crate::law::Smoothness::Crease)?;
    }
    if to > law.end() {
        let after = Law::constant(law.value(law.end()), law.end(), to)?;
        law = law.followed_by(&after, crate::law::Smoothness::Crease)?;
    }
    Some(law)
}

fn held(x: f64, reach: [f64; 2]) -> bool {
    x >= reach[0] && x <= reach[1]
}

/// The upper relief, of the wood with or without the board. `face` is the headstock's where that is finished.
pub(super) fn top<'a>(
    wood: &'a Wood,
    with_board: bool,
    face: Option<&'a Law>,
    edges: [Vec<PlanCurve>; 2],
) -> Option<Relief<'a>> {
    let head = &wood.neck.built().head;
    let reach = wood.wood_reach();
    let glue = wood.neck.layout().board().thickness_mm();
    let mut sheets: Vec<Sheet<'a>> = Vec::new();
    let mut from = reach[0];
    if let Some(face) = face.filter(|_| reach[0] < head.root) {
        sheets.extend(level_sheets(face, [reach[0], head.root]));
        from = head.root;
    }
    sheets.push(Sheet { reach: [from, reach[1]], kind: Kind::Flat { depth: glue, slope: 0.0 } });
    let woods = sheets.len();
    let board = wood.board_reach();
    let mut curves: Vec<PlanCurve> = edges.into_iter().flatten().collect();
    let plain = Rc::new(Known { depths: Vec::new(), fitted: false });
    match &wood.board {
        _ if !with_board => {}
        Board::Blank(blank) => {
            sheets.push(Sheet { reach: board, kind: Kind::Flat { depth: blank.top, slope: 0.0 } });
        }
        Board::Made(_) => {
            let crown = wood.neck.layout().board().crown();
            sheets.push(Sheet { reach: board, kind: Kind::Crown { crown, below: 0.0 } });
            if let Some(radius) = crown.law().filter(|_| !matches!(wood.width, Width::True)) {
                let half = &wood.faces.board;
                let breaks = breaks_of([half].into_iter(), board);
                let [law] = smooth(&breaks, [WITHIN_MM], |[from, to]: [f64; 2]| Edge {
                    half: half.piece_at(0.5 * (from + to)),
                    radius,
                })?;
                let height = Rc::new(law);
                let mut cut: Vec<f64> = half.creases().filter(|x| *x > board[0] && *x < board[1]).collect();
                cut.insert(0, board[0]);
                cut.push(board[1]);
                for x in cut.windows(2) {
                    let line = Line { id: usize::MAX, across: 0.0, down: 1.0, height: height.clone() };
                    sheets.push(Sheet { reach: [x[0], x[1]], kind: Kind::Line(line) });
                    for side in Side::BOTH {
                        let law = half.times_number(side.sign());
                        curves.extend(super::super::knots::runs(half, [x[0], x[1]]).into_iter().map(|run| {
                            PlanCurve {
                                reach: run.reach,
                                law: law.clone(),
                                straight: run.straight,
                                rail: None,
                                foot: None,
                                known: Some(plain.clone()),
                            }
                        }));
                    }
                }
            }
            let slope = wood.neck.layout().nut_line().slope;
            if let [a, b] = wood.nut_ends()[..] {
                let [a, b] = [a.min(b), a.max(b)];
                curves.extend(PlanCurve::line([a, a / slope], [b, b / slope]));
            }
        }
    }
    let reaches: Vec<[f64; 2]> = sheets.iter().map(|s| s.reach).collect();
    let sheet_at = move |x: f64, y: f64| {
        let find = |mut ids: core::ops::Range<usize>| ids.find(|i| held(x, reaches[*i]));
        let over = if with_board { wood.board_slice(x) } else { None };
        match over.filter(|(slice, _)| y > slice.y[0] && y < slice.y[1]) {
            None => find(0..woods),
            Some((_, Some(crown))) if libm::fabs(y) > crown.half && reaches.len() > woods + 1 => {
                find(woods + 1..reaches.len())
            }
            Some(_) => Some(woods),
        }
    };
    Some(Relief { sheets, curves, sheet_at: Box::new(sheet_at) })
}

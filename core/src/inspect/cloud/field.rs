//! How the scanned neck stands off the one that it is compared with, where that is still to be found.

use alloc::vec;
use alloc::vec::Vec;

use super::motion::Vector;
use super::skin::{Touch, Zone};
use crate::shape::Neck;

const ALONG: usize = 14;
const AROUND: usize = 9;
const WIDTH: usize = 8;
/// The ends' faces, each of which the base may have a little off, at its near and its far end by itself, so that its angle may be
/// another too: first the headstock's edges on the bass and the treble side, its back and its face, last the heel's back and
/// the top behind the board. The terms of a place rise so.
const EDGES: usize = 0;
const HEAD_BACK: usize = 4;
const HEAD_FACE: usize = 6;
const BACK_FROM: usize = 8;
/// Where the terms of the width and of the crown begin.
const WIDTH_FROM: usize = BACK_FROM + ALONG * AROUND;
const CROWN_FROM: usize = WIDTH_FROM + WIDTH;
/// Where those of the back as a whole begin: how much deeper at either end.
const DEEPER_FROM: usize = CROWN_FROM + 2;
const HEEL_BACK: usize = DEEPER_FROM + 2;
const HEEL_TOP: usize = HEEL_BACK + 2;
/// How many faces headstock, heel and board have that may hold where a scan lies along the neck: the headstock's edges, its face and
/// the top behind the board, its back and the heel block's, and the ends of the headstock, of the board at the nut, of board and
/// heel.
pub(crate) const OF_ENDS: usize = 9;
/// With them, the back between each two knots of its grid.
pub(crate) const FACES: usize = OF_ENDS + ALONG + 1;
/// How many numbers a field has.
pub(crate) const TERMS: usize = HEEL_TOP + 2;
/// How far a term is likely to be from nought, mm.
const LIKELY_MM: f64 = 1.5;
const ANYWHERE_MM: f64 = 30.0;
/// How far a face of the base's headstock or heel is likely to be off the scanned neck's, mm: builders measure them by rule, and
/// what is carved or sawn by eye is off by as much (common practice, no source).
pub(crate) const BASE_OFF_MM: f64 = 0.5;
/// Half a board, mm, for the scale of the crown's terms.
const HALF_MM: f64 = 25.0;

/// What of the outside may be of another shape than the base's: the carved back as it likes (straight between the knots of
/// a grid), the sides by the same amount on both sides of the centreline, the face by its radius. The face's crown line and
/// the ends are as the base has them; each face of headstock and heel block may be off by as much as a base usually is where
/// board and sides were seen, on which the pose then rests. Where they were not it rests on headstock and heel as the base has
/// them, and `rest.rs` adds what those may be off.
#[derive(Clone, Debug)]
pub(crate) struct Field {
    /// Between which stations the back is carved.
    carved: [f64; 2],
    /// Between which stations the width may be another.
    wide: [f64; 2],
    /// Where the board begins.
    nut: f64,
    /// First and last station of the neck.
    reach: [f64; 2],
    /// Where the headstock's face begins and where the board ends.
    faces: [f64; 2],
    /// How far the surface stands outside of the base's, mm, term by term.
    pub values: Vec<f64>,
}

/// So many terms a place has at most: four knots of the back's grid and its two depths.
pub(crate) const MOST_TERMS: usize = 6;

/// The terms of a field at a place: index and factor.
#[derive(Clone, Copy, Debug, Default)]
pub(crate) struct Terms {
    list: [(usize, f64); MOST_TERMS],
    count: usize,
}

impl Terms {
    /// A face of an end, from where it begins to where the neck ends.
    fn add_face(&mut self, index: usize, x: f64, [from, to]: [f64; 2], factor: f64) {
        let share = ((x - from) / (to - from)).clamp(0.0, 1.0);
        self.add(index, factor * (1.0 - share));
        self.add(index + 1, factor * share);
    }

    fn add(&mut self, index: usize, factor: f64) {
        if factor != 0.0
            && let Some(slot) = self.list.get_mut(self.count)
        {
            *slot = (index, factor);
            self.count += 1;
        }
    }

    pub fn iter(&self) -> impl Iterator<Item = (usize, f64)> + '_ {
        self.list.iter().take(self.count).copied()
    }
}

/// The knot before a place and the share of the one after it.
fn knots(place: f64, last: usize) -> (usize, f64) {
    let place = place.clamp(0.0, last as f64);
    let i = (place as usize).min(last - 1);
    (i, place - i as f64)
}

impl Field {
    pub fn new(neck: &Neck) -> Self {
        let built = neck.built();
        let headstock = &neck.normalised().headstock;
        let edges = [&headstock.bass_edge, &headstock.treble_edge];
        let first = edges.into_iter().flatten().flat_map(|edge| edge.first()).map(|p| p.along.mm());
        let along = first.fold(f64::INFINITY, f64::min).min(built.head.length);
        let wide = [built.head.x(along), neck.reach_mm()[1]];
        let nut = neck.layout().board().start_mm().max(wide[0]);
        Self {
            carved: [built.volute.start(), built.sweep.end],
            wide,
            nut,
            reach: neck.reach_mm(),
            faces: [built.head.root, neck.layout().board().end_mm()],
            values: vec![0.0; TERMS],
        }
    }

    /// The terms at a place of the surface.
    #[inline]
    pub fn terms(&self, touch: &Touch, p: Vector) -> Terms {
        let mut terms = Terms::default();
        let x = p[0];
        match touch.zone {
            Zone::Back if x > self.carved[0] && x < self.carved[1] => {
                let share = (x - self.carved[0]) / (self.carved[1] - self.carved[0]);
                let (i, s) = knots(share * (ALONG + 1) as f64, ALONG + 1);
                let (j, t) = knots(0.5 * (touch.around + 1.0) * (AROUND - 1) as f64, AROUND - 1);
                // At either end as headstock and heel are. A place with its normal aslant stands out less when all goes
                // deeper: a plain shift is one of the answers, which a grid that is straight between knots does not have.
                let deeper = -touch.normal[2];
                let of_back = match i {
                    0 => s,
                    ALONG => 1.0 - s,
                    _ => 1.0,
                };
                if i == 0 {
                    terms.add(HEAD_BACK, deeper * (1.0 - s));
                }
                for (i, s) in [(i, 1.0 - s), (i + 1, s)] {
                    if (1..=ALONG).contains(&i) {
                        terms.add(BACK_FROM + (i - 1) * AROUND + j, s * (1.0 - t));
                        terms.add(BACK_FROM + (i - 1) * AROUND + j + 1, s * t);
                    }
                }
                terms.add(DEEPER_FROM, deeper * of_back * (1.0 - share));
                terms.add(DEEPER_FROM + 1, deeper * of_back * share);
                if i == ALONG {
                    terms.add(HEEL_BACK, deeper * s);
                }
            }
            Zone::Back => {
                let end = usize::from(x > self.carved[0]);
                let index = [HEAD_BACK, HEEL_BACK][end];
                terms.add_face(index, x, [self.carved[end], self.reach[end]], -touch.normal[2]);
            }
            // From the headstock's edges, each off by itself, to the nut, and from there the same on both sides.
            Zone::Wall if x < self.nut => {
                let share = ((x - self.wide[0]) / (self.nut - self.wide[0])).clamp(0.0, 1.0);
                let edge = EDGES + 2 * usize::from(touch.around > 0.0);
                terms.add_face(edge, x, [self.wide[0], self.reach[0]], 1.0 - share);
                terms.add(WIDTH_FROM, share);
            }
            Zone::Wall => {
                let share = (x - self.nut) / (self.wide[1] - self.nut);
                let (i, s) = knots(share * (WIDTH - 1) as f64, WIDTH - 1);
                terms.add(WIDTH_FROM + i, 1.0 - s);
                terms.add(WIDTH_FROM + i + 1, s);
            }
            Zone::Face => {
                let share = (x / self.wide[1]).clamp(0.0, 1.0);
                let bend = (p[1] / HALF_MM) * (p[1] / HALF_MM);
                terms.add(CROWN_FROM, bend * (1.0 - share));
                terms.add(CROWN_FROM + 1, bend * share);
            }
            Zone::WoodTop => {
                let end = usize::from(x > 0.0);
                terms.add_face([HEAD_FACE, HEEL_TOP][end], x, [self.faces[end], self.reach[end]], 1.0);
            }
            Zone::End => {}
        }
        terms
    }

    /// How far a term is likely to be from nought, mm. In the fine fit the back may lie anywhere: what the base has in so many
    /// places together would tell how deep the scan lies.
    /// An end's face is as the base has it where nothing else holds the pose: the scan does not show the board's face, or
    /// not both its sides. Free there too it would be a weak spring against many thousands of points.
    pub const fn likely_mm(term: usize, fine: bool, [face, sides]: [bool; 2]) -> f64 {
        match term {
            EDGES..HEAD_BACK if fine && !sides => 0.0,
            HEAD_BACK..BACK_FROM | HEEL_BACK..TERMS if fine && !face => 0.0,
            _ if Self::of_an_end(term) => BASE_OFF_MM,
            DEEPER_FROM..HEEL_BACK if fine && !face => 0.0,
            BACK_FROM..WIDTH_FROM | DEEPER_FROM..HEEL_BACK if fine && face => ANYWHERE_MM,
            _ => LIKELY_MM,
        }
    }

    /// Whether a term is of headstock or heel.
    pub const fn of_an_end(term: usize) -> bool {
        term < BACK_FROM || term >= HEEL_BACK
    }

    /// Which of the faces that may hold where a scan lies along the neck a place is on; none on the board's face and its sides.
    pub fn face_of(&self, touch: &Touch, p: Vector) -> Option<usize> {
        let x = p[0];
        let heelward = usize::from(x > 0.0);
        match touch.zone {
            Zone::Wall if x < self.nut => Some(usize::from(touch.around > 0.0)),
            Zone::WoodTop => Some(2 + heelward),
            Zone::Back if x > self.carved[0] && x < self.carved[1] => {
                let share = (x - self.carved[0]) / (self.carved[1] - self.carved[0]);
                Some(OF_ENDS + knots(share * (ALONG + 1) as f64, ALONG + 1).0)
            }
            Zone::Back => Some(4 + heelward),
            Zone::End if touch.normal[0] > 0.0 => Some(OF_ENDS - 1),
            Zone::End => Some(OF_ENDS - 2 - usize::from(x < 0.5 * self.reach[0])),
            Zone::Wall | Zone::Face => None,
        }
    }

    /// How far the surface stands outside of the base's at a place, mm.
    #[inline]
    pub fn at(&self, touch: &Touch, p: Vector) -> f64 {
        self.terms(touch, p).iter().map(|(i, f)| f * self.values.get(i).copied().unwrap_or(0.0)).sum()
    }
}

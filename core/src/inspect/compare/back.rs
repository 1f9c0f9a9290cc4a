//! How far a piece of one neck's back is from the other neck, bounded from both sides.

use alloc::rc::Rc;
use alloc::vec::Vec;

use super::sheet::Sheet;
use super::skin::{Foot, On, Skin, top};
use crate::law::{Corner, Region};
use crate::shape::{Neck, Point, Side, Sides, Strip};

/// What rounding may take from a bound, mm: some hundred units in the last place of a section's sizes.
const ROUNDING: f64 = 1e-11;

/// The other neck's skin over a stretch.
#[derive(Debug)]
pub(super) struct Slice<'a> {
    neck: &'a Neck,
    x: [f64; 2],
    back: Sides<Sheet>,
    middle: Skin,
    /// The flat side begins nowhere below this depth on the stretch; none where that is not known.
    top: Sides<Option<f64>>,
}

impl<'a> Slice<'a> {
    fn new(neck: &'a Neck, x: [f64; 2], back: Sides<Sheet>) -> Self {
        // Along a straight edge the sagitta is convex, a headstock's face falls or rises only, and the glue line is level: each
        // is deepest at one end of a stretch on which there is one of them. Strips are cut where one ends.
        let highest = |side: Side| {
            let inner = [x[0] + 1e-9 * (x[1] - x[0]), x[1] - 1e-9 * (x[1] - x[0])];
            let depth = inner.map(|x| top(neck, x, f64::INFINITY)).into_iter().fold(0.0, f64::max) + 1e-9;
            let carve = back.of(side).rows.iter().map(|row| -row[0][1]).fold(f64::INFINITY, f64::min);
            (carve > depth).then_some(depth)
        };
        let top = Sides::each(highest);
        let middle = Self::section_of(neck, &back, x, 0.5);
        Self { neck, x, back, middle, top }
    }

    /// The skin at a place along the slice, 0 to 1.
    fn section_of(neck: &Neck, back: &Sides<Sheet>, x: [f64; 2], s: f64) -> Skin {
        let back = Sides::each(|side| back.of(side).across(s));
        let x = x[0] + s * (x[1] - x[0]);
        Skin { back, top: Sides::each(|side| top(neck, x, -back.of(side)[0][1])) }
    }

    fn section(&self, s: f64) -> Skin {
        Self::section_of(self.neck, &self.back, self.x, s)
    }

    fn halves(&self) -> (Self, Self) {
        let mid = 0.5 * (self.x[0] + self.x[1]);
        let (bass, treble) = (self.back.bass.halves_along(), self.back.treble.halves_along());
        (
            Self::new(self.neck, [self.x[0], mid], Sides { bass: bass.0, treble: treble.0 }),
            Self::new(self.neck, [mid, self.x[1]], Sides { bass: bass.1, treble: treble.1 }),
        )
    }
}

/// Which part of a neck's skin a piece is of.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Kind {
    /// The back from the carve line to the spine.
    Carved,
    /// The part of the flat side that lies deeper than the other neck's carve line, from there to its own.
    Flat,
}

/// A piece of one neck's back and what it is held against.
#[derive(Debug)]
pub(super) struct Piece<'a> {
    own: &'a Neck,
    kind: Kind,
    x: [f64; 2],
    around: [f64; 2],
    sheet: Sheet,
    other: Rc<Slice<'a>>,
    /// The bound of the distance, and a distance that is taken.
    bound: f64,
    probe: Corner,
    /// How much the difference changes along the piece and around it.
    change: [f64; 2],
}

/// A way to bound a piece: from above, with the differences that it comes from.
struct Bounded {
    bound: f64,
    change: [f64; 2],
    /// Where along and around the greatest difference is to be looked for.
    at: [f64; 2],
}

impl<'a> Piece<'a> {
    fn new(
        own: &'a Neck,
        kind: Kind,
        x: [f64; 2],
        around: [f64; 2],
        sheet: Sheet,
        other: Rc<Slice<'a>>,
    ) -> Self {
        let probe = Corner { value: 0.0, x_mm: x[0], around: around[0] };
        let mut piece = Self { own, kind, x, around, sheet, other, bound: 0.0, probe, change: [0.0; 2] };
        let middle = piece.sheet.across(0.5);
        let point = crate::shape::cubic_at(middle, 0.5);
        let foot = piece.other.middle.nearest(point);
        let bounded = piece.bounded(&middle, point, &foot);
        piece.bound = bounded.bound + ROUNDING;
        piece.change = bounded.change;
        piece.probe = piece.taken(bounded.at);
        piece
    }

    /// A distance really taken at a place of the piece; 0 where the flat side is not there.
    fn taken(&self, [s, u]: [f64; 2]) -> Corner {
        let x = self.x[0] + s * (self.x[1] - self.x[0]);
        let row = self.sheet.across(s);
        let p = crate::shape::cubic_at(row, u);
        let there = match self.kind {
            Kind::Carved => true,
            Kind::Flat => row[3][1] <= row[0][1] && -p[1] >= top(self.own, x, f64::INFINITY),
        };
        let value = if there { self.other.section(s).nearest(p).distance } else { 0.0 };
        Corner { value, x_mm: x, around: self.around[0] + u * (self.around[1] - self.around[0]) }
    }

    /// The differences of the piece from the other's cubic with `v` going straight from one end to the other.
    fn against(&self, target: &Sheet) -> Bounded {
        let n = self.sheet.degree().max(1) as f64;
        let (mut most, mut at, mut change) = (0.0, [0.5; 2], [0.0_f64; 2]);
        let mut first = None;
        for (i, (a, b)) in self.sheet.beside(target).enumerate() {
            let row = [0, 1, 2, 3].map(|j| [a[j][0] - b[j][0], a[j][1] - b[j][1]]);
            let first = *first.get_or_insert(row);
            for (j, d) in row.iter().enumerate() {
                let square = d[0] * d[0] + d[1] * d[1];
                if square > most {
                    (most, at) = (square, [i as f64 / n, j as f64 / 3.0]);
                }
                let far = |o: Point| libm::fabs(d[0] - o[0]).max(libm::fabs(d[1] - o[1]));
                change = [change[0].max(far(first[j])), change[1].max(far(row[0]))];
            }
        }
        Bounded { bound: libm::sqrt(most), change, at }
    }

    /// Any place of the other skin bounds the distance. The places taken lie on its cubic where the middle's nearest place is,
    /// going along as the nearest places do to first order: `dv/du = A'·B'/(B'·B' − (A − B)·B'')`.
    fn bounded(&self, middle: &[Point; 4], point: Point, foot: &Foot) -> Bounded {
        let curve = self.other.middle.back.of(foot.side);
        let v = match foot.on {
            On::Back(v) => v,
            On::Flat => 0.0,
        };
        let (b, db, ddb) = (crate::shape::cubic_at(*curve, v), slope(curve, v), bend(curve, v));
        let da = slope(middle, 0.5);
        let dot = |a: Point, b: Point| a[0] * b[0] + a[1] * b[1];
        let stiff = dot(db, db) - dot([point[0] - b[0], point[1] - b[1]], ddb);
        let rate = dot(da, db) / stiff;
        let own = if point[0] * foot.side.sign() < 0.0 { -1.0 } else { 1.0 };
        let rate = if rate.is_finite() && libm::fabs(rate) < 4.0 * (self.around[1] - self.around[0]) {
            rate
        } else {
            own * (self.around[1] - self.around[0])
        };
        // On the flat side the cubic is gone back along beyond its end, by as much as the point lies above it.
        let v = if foot.on == On::Flat && db[1] < 0.0 { (foot.at[1] - b[1]) / db[1] } else { v };
        let (from, to) = (v - 0.5 * rate, v + 0.5 * rate);
        let sheet = self.other.back.of(foot.side);
        let (low, high) = (from.min(to), from.max(to));
        if low >= 0.0 && high <= 1.0 {
            return self.against(&sheet.part(from, to));
        }
        let kept = |v: f64| v.clamp(0.0, 1.0);
        let mut best = self.against(&sheet.part(kept(from), kept(to)));
        let gap = self.gap(foot.side, low, high);
        if gap < best.bound {
            let mut carried = self.against(&sheet.part(from, to));
            carried.bound += gap;
            if carried.bound < best.bound {
                best = carried;
            }
        }
        if let Some(flat) = self.against_flat(foot.side).filter(|flat| flat.bound < best.bound) {
            best = flat;
        }
        best
    }

    /// How far the other's cubic, carried on beyond its ends, leaves its skin: at the spine against the other side's cubic, at
    /// the carve line against the flat side.
    fn gap(&self, side: Side, low: f64, high: f64) -> f64 {
        let sheet = self.other.back.of(side);
        let mut gap = 0.0_f64;
        if low < 0.0 {
            let Some(top) = self.other.top.of(side) else { return f64::INFINITY };
            let beyond = sheet.part(low, 0.0);
            for (row, edge) in beyond.beside(sheet) {
                for p in row {
                    if -p[1] < *top || p[1] < edge[0][1] {
                        return f64::INFINITY;
                    }
                    gap = gap.max(libm::fabs(p[0] - edge[0][0]));
                }
            }
        }
        if high > 1.0 {
            let across = if side == Side::Bass { Side::Treble } else { Side::Bass };
            let [here, there] = [side, across].map(|side| {
                let d = slope(self.other.middle.back.of(side), 1.0);
                libm::sqrt(d[0] * d[0] + d[1] * d[1])
            });
            let share = if there > 0.0 { here / there } else { 1.0 };
            let to = 1.0 - share * (high - 1.0);
            if !(0.0..=1.0).contains(&to) {
                return f64::INFINITY;
            }
            gap = gap.max(sheet.part(1.0, high).apart(&self.other.back.of(across).part(1.0, to)));
        }
        gap
    }

    /// Against the flat side alone, where the whole piece lies beside it.
    fn against_flat(&self, side: Side) -> Option<Bounded> {
        let (top, sheet) = ((*self.other.top.of(side))?, self.other.back.of(side));
        let n = self.sheet.degree().max(1) as f64;
        let mut best = Bounded { bound: 0.0, change: [0.0; 2], at: [0.5; 2] };
        let mut first = None;
        for (i, (row, edge)) in self.sheet.beside(sheet).enumerate() {
            let away = row.map(|p| p[0] - edge[0][0]);
            let first = *first.get_or_insert(away);
            for (j, p) in row.iter().enumerate() {
                if -p[1] < top || p[1] < edge[0][1] {
                    return None;
                }
                if libm::fabs(away[j]) > best.bound {
                    (best.bound, best.at) = (libm::fabs(away[j]), [i as f64 / n, j as f64 / 3.0]);
                }
                best.change[0] = best.change[0].max(libm::fabs(away[j] - first[j]));
                best.change[1] = best.change[1].max(libm::fabs(away[j] - away[0]));
            }
        }
        Some(best)
    }
}

fn slope(p: &[Point; 4], u: f64) -> Point {
    let s = 1.0 - u;
    let (a, b, c) = (3.0 * s * s, 6.0 * s * u, 3.0 * u * u);
    [0, 1].map(|k| a * (p[1][k] - p[0][k]) + b * (p[2][k] - p[1][k]) + c * (p[3][k] - p[2][k]))
}

fn bend(p: &[Point; 4], u: f64) -> Point {
    let second = |k: usize, i: usize| p[i][k] - 2.0 * p[i + 1][k] + p[i + 2][k];
    [0, 1].map(|k| 6.0 * ((1.0 - u) * second(k, 0) + u * second(k, 1)))
}

/// The greatest distance is the least of the distances' negatives.
impl Region for Piece<'_> {
    fn probe(&self) -> Corner {
        Corner { value: -self.probe.value, ..self.probe }
    }

    fn lower(&self) -> f64 {
        -self.bound
    }

    fn halves(self) -> (Self, Self) {
        let mid = |[a, b]: [f64; 2]| 0.5 * (a + b);
        let along = self.x[1] > self.x[0] && self.change[0] > self.change[1];
        if along {
            let mid = mid(self.x);
            let (a, b) = self.sheet.halves_along();
            let (near, far) = self.other.halves();
            return (
                Self::new(self.own, self.kind, [self.x[0], mid], self.around, a, Rc::new(near)),
                Self::new(self.own, self.kind, [mid, self.x[1]], self.around, b, Rc::new(far)),
            );
        }
        let mid = mid(self.around);
        let (a, b) = (self.sheet.part(0.0, 0.5), self.sheet.part(0.5, 1.0));
        let other = Rc::clone(&self.other);
        (
            Self::new(self.own, self.kind, self.x, [self.around[0], mid], a, other),
            Self::new(self.own, self.kind, self.x, [mid, self.around[1]], b, self.other),
        )
    }
}

/// The strip of a flat side from one carve line down to another, as a sheet.
fn flat(own: &Sheet, other: &Sheet) -> Option<Sheet> {
    let deeper = own.beside(other).any(|(a, b)| a[0][1] < b[0][1]);
    let row = |(a, b): (&[Point; 4], &[Point; 4])| {
        let (y, from, to) = (a[0][0], b[0][1], a[0][1]);
        [0.0, 1.0, 2.0, 3.0].map(|j| [y, from + j * (to - from) / 3.0])
    };
    deeper.then(|| Sheet { rows: own.beside(other).map(row).collect() })
}

/// The pieces of two backs over the same strips, each held against the other neck; those that are the same to the bit are
/// left out.
fn pieces_of<'a>(necks: [&'a Neck; 2], x: [f64; 2], sheets: [Sides<Sheet>; 2]) -> Vec<Piece<'a>> {
    let [one, two] = sheets;
    let mut pieces = Vec::new();
    if one == two {
        return pieces;
    }
    let degree =
        [&one, &two].into_iter().flat_map(|s| [s.bass.degree(), s.treble.degree()]).max().unwrap_or(0);
    let level = |s: Sides<Sheet>| Sides { bass: s.bass.elevated(degree), treble: s.treble.elevated(degree) };
    let [one, two] = [level(one), level(two)];
    let slices = [
        Rc::new(Slice::new(necks[0], x, Sides { bass: one.bass.clone(), treble: one.treble.clone() })),
        Rc::new(Slice::new(necks[1], x, Sides { bass: two.bass.clone(), treble: two.treble.clone() })),
    ];
    let ways = [(necks[0], &one, &two, &slices[1]), (necks[1], &two, &one, &slices[0])];
    for (own, mine, theirs, slice) in ways {
        for side in Side::BOTH {
            let (sheet, other) = (mine.of(side), theirs.of(side));
            let mut push = |kind: Kind, sheet: Sheet| {
                pieces.push(Piece::new(own, kind, x, [0.0, 1.0], sheet, Rc::clone(slice)));
            };
            push(Kind::Carved, sheet.clone());
            if let Some(flat) = flat(sheet, other) {
                push(Kind::Flat, flat);
            }
        }
    }
    pieces
}

/// All pieces between two stations that both necks' wood has.
pub(super) fn pieces<'a>(necks: [&'a Neck; 2], [from, to]: [f64; 2], cuts: &[f64]) -> Vec<Piece<'a>> {
    let strips = |neck: &Neck, further: &[f64]| {
        Side::BOTH.map(|side| neck.built().back.strips(side, from, to, further))
    };
    // Either neck's strips are cut where the other's are.
    let mut stations: Vec<f64> = cuts.to_vec();
    for neck in necks {
        stations.extend(strips(neck, &[]).iter().flatten().flat_map(|s: &Strip| s.x));
    }
    stations.sort_by(f64::total_cmp);
    let [one, two] = necks.map(|neck| strips(neck, &stations));
    let sheets = |[bass, treble]: [&Strip; 2]| Sides {
        bass: Sheet::new(bass, Side::Bass),
        treble: Sheet::new(treble, Side::Treble),
    };
    let [bass_one, treble_one] = &one;
    let [bass_two, treble_two] = &two;
    let all = bass_one.iter().zip(treble_one).zip(bass_two.iter().zip(treble_two));
    all.flat_map(|((a, b), (c, d))| pieces_of(necks, a.x, [sheets([a, b]), sheets([c, d])])).collect()
}

/// The pieces of one section.
pub(super) fn pieces_at<'a>(necks: [&'a Neck; 2], x: f64) -> Vec<Piece<'a>> {
    let sheets = necks.map(|neck| {
        Sides::each(|side| Sheet { rows: alloc::vec![neck.built().back.control_points(side, x)] })
    });
    pieces_of(necks, [x, x], sheets)
}

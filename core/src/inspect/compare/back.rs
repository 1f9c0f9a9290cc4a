//! How far a piece of one neck's back is from the other neck, bounded from both sides.

use alloc::rc::Rc;
use alloc::vec::Vec;

use super::apart::{Apart, Bounded};
use super::sheet::Sheet;
use super::skin::{Foot, On, Skin};
use crate::law::{Corner, Region};
use crate::shape::{Neck, Point, Side, Sides, Strip, cubic_at, cubic_bend, cubic_slope};

/// What rounding may take from a bound, mm: some hundred units in the last place of a section's sizes.
const ROUNDING: f64 = 1e-11;

/// The other neck's skin over a stretch.
#[derive(Debug)]
struct Slice {
    back: Sides<Sheet>,
    middle: Skin,
    /// Where the back is nearly flat across the neck: for each row what it spans from edge to edge.
    level: Option<Vec<Level>>,
}

/// What a nearly flat back spans in a section: any place across has some point of it, between these heights.
#[derive(Clone, Copy, Debug)]
struct Level {
    y: [f64; 2],
    z: [f64; 2],
}

impl Level {
    /// The most that a back may bend across the neck to count as flat, mm.
    const FLAT_MM: f64 = 0.02;

    fn new(bass: &[Point; 4], treble: &[Point; 4]) -> Option<Self> {
        let all = bass.iter().chain(treble);
        let z =
            all.fold([f64::INFINITY, f64::NEG_INFINITY], |[low, high], p| [low.min(p[1]), high.max(p[1])]);
        (z[1] - z[0] <= Self::FLAT_MM).then_some(Self { y: [bass[0][0], treble[0][0]], z })
    }

    /// How far a point may be from the back, beside its edges and square to it.
    fn away(&self, p: Point) -> Point {
        let beside = (self.y[0] - p[0]).max(p[0] - self.y[1]).max(0.0);
        [beside, (p[1] - self.z[0]).max(self.z[1] - p[1])]
    }
}

impl Slice {
    fn new(back: Sides<Sheet>) -> Self {
        let middle = Skin { back: Sides::each(|side| back.of(side).across(0.5)) };
        let level = back.bass.beside(&back.treble).map(|(bass, treble)| Level::new(bass, treble)).collect();
        Self { back, middle, level }
    }

    /// The skin at a place along the slice, 0 to 1.
    fn section(&self, s: f64) -> Skin {
        Skin { back: Sides::each(|side| self.back.of(side).across(s)) }
    }

    fn halves(&self) -> (Self, Self) {
        let (bass, treble) = (self.back.bass.halves_along(), self.back.treble.halves_along());
        (
            Self::new(Sides { bass: bass.0, treble: treble.0 }),
            Self::new(Sides { bass: bass.1, treble: treble.1 }),
        )
    }
}

/// Which part of a neck's skin a piece is of.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Kind {
    /// The back from the carve line to the spine.
    Carved,
    /// The part of the flat side that lies deeper than the other neck's carve line, from there to its own.
    Flat,
}

/// A piece of one neck's back and what it is held against.
#[derive(Debug)]
pub(super) struct Piece {
    kind: Kind,
    x: [f64; 2],
    around: [f64; 2],
    sheet: Sheet,
    other: Rc<Slice>,
    /// The bound of the distance, and a distance that is taken.
    bound: f64,
    probe: Corner,
    /// Whether it is to be halved along the neck rather than around it.
    along: bool,
}

impl Piece {
    fn new(kind: Kind, x: [f64; 2], around: [f64; 2], sheet: Sheet, other: Rc<Slice>) -> Self {
        let probe = Corner { value: 0.0, x_mm: x[0], around: around[0] };
        let mut piece = Self { kind, x, around, sheet, other, bound: 0.0, probe, along: false };
        let bounded = piece.bounded();
        piece.bound = bounded.bound + ROUNDING;
        piece.probe = piece.taken(bounded.at);
        // Where what the bound may lose does not explain how far it lies off, nearest places jump within the piece.
        let gap = bounded.bound - piece.probe.value;
        let [along, around] =
            if bounded.open[0] + bounded.open[1] < 0.5 * gap { bounded.change } else { bounded.open };
        piece.along = x[1] > x[0] && along > around;
        piece
    }

    /// A distance really taken at a place of the piece; 0 where the flat side is not there.
    fn taken(&self, [s, u]: [f64; 2]) -> Corner {
        let row = self.sheet.across(s);
        let there = self.kind == Kind::Carved || row[3][1] <= row[0][1];
        let value = if there { self.other.section(s).nearest(cubic_at(row, u)).distance } else { 0.0 };
        let within = |[a, b]: [f64; 2], t: f64| if t == 1.0 { b } else { a + t * (b - a) };
        Corner { value, x_mm: within(self.x, s), around: within(self.around, u) }
    }

    /// The differences of the piece from a part of the other's surface, place by place.
    fn against(&self, target: &Sheet) -> Bounded {
        Apart::new(
            self.sheet
                .beside(target)
                .map(|(a, b)| [0, 1, 2, 3].map(|j| [a[j][0] - b[j][0], a[j][1] - b[j][1]])),
        )
        .bounded()
    }

    /// Any place of the other skin bounds the distance.
    fn bounded(&self) -> Bounded {
        let foot = self.other.middle.nearest(self.middle());
        let beside = if foot.on == On::Flat { self.against_flat(foot.side) } else { None };
        let ways = [Some(self.led_along(&foot)), beside, self.over_level()];
        let best = ways.into_iter().flatten().min_by(|a, b| a.bound.total_cmp(&b.bound));
        best.unwrap_or(Bounded { bound: f64::INFINITY, open: [0.0; 2], change: [0.0; 2], at: [0.5; 2] })
    }

    fn middle(&self) -> Point {
        cubic_at(self.sheet.across(0.5), 0.5)
    }

    /// Over a nearly flat back: some point of it lies straight under each of the piece's, or no further beside than its edge.
    fn over_level(&self) -> Option<Bounded> {
        let rows = self.sheet.rows.iter().zip(self.other.level.as_ref()?);
        Some(Apart::new(rows.map(|(row, level)| row.map(|p| level.away(p)))).longest())
    }

    /// Against places on the other's cubic on which the middle's nearest place is, which go along as the nearest places do to
    /// first order: `dv/du = A'·B'/(B'·B' − (A − B)·B'')`.
    fn led_along(&self, foot: &Foot) -> Bounded {
        let (v, rate) = self.going_along(foot);
        let sheet = self.other.back.of(foot.side);
        let [from, to] = [v - 0.5 * rate, v + 0.5 * rate];
        let (low, high) = (from.min(to), from.max(to));
        if low >= 0.0 && high <= 1.0 {
            return self.against(&sheet.part(from, to));
        }
        // Beyond an end either the end itself is taken, or the cubic carried on and how far that leaves the skin.
        let mut best = self.against(&sheet.part(from.clamp(0.0, 1.0), to.clamp(0.0, 1.0)));
        let gap = self.gap(foot.side, low, high);
        if gap < best.bound {
            let mut carried = self.against(&sheet.part(from, to));
            carried.bound += gap;
            if carried.bound < best.bound {
                best = carried;
            }
        }
        best
    }

    /// The place on the foot's cubic that the piece's middle is held against, and by how much it goes along over the piece.
    fn going_along(&self, foot: &Foot) -> (f64, f64) {
        let (middle, point) = (self.sheet.across(0.5), self.middle());
        let curve = self.other.middle.back.of(foot.side);
        let v = match foot.on {
            On::Back(v) => v,
            On::Flat => 0.0,
        };
        let (b, db, ddb, da) =
            (cubic_at(*curve, v), cubic_slope(curve, v), cubic_bend(curve, v), cubic_slope(&middle, 0.5));
        let dot = |a: Point, b: Point| a[0] * b[0] + a[1] * b[1];
        let rate = dot(da, db) / (dot(db, db) - dot([point[0] - b[0], point[1] - b[1]], ddb));
        let size = self.around[1] - self.around[0];
        let way = if point[0] * foot.side.sign() < 0.0 { -size } else { size };
        let rate = if libm::fabs(rate) < 4.0 * size { rate } else { way };
        // Beside the flat side the cubic is gone back along beyond its end, by as much as the point lies above it.
        (if foot.on == On::Flat && db[1] < 0.0 { (foot.at[1] - b[1]) / db[1] } else { v }, rate)
    }

    /// How far the other's cubic, carried on beyond its ends, leaves its skin: at the spine against the other side's cubic, at
    /// the carve line against the flat side.
    fn gap(&self, side: Side, low: f64, high: f64) -> f64 {
        let sheet = self.other.back.of(side);
        let mut gap = 0.0_f64;
        if low < 0.0 {
            for (row, edge) in sheet.part(low, 0.0).beside(sheet) {
                for p in row {
                    if p[1] < edge[0][1] {
                        return f64::INFINITY;
                    }
                    gap = gap.max(libm::fabs(p[0] - edge[0][0]));
                }
            }
        }
        if high > 1.0 {
            let across = if side == Side::Bass { Side::Treble } else { Side::Bass };
            let [here, there] = [side, across].map(|side| {
                let d = cubic_slope(self.other.middle.back.of(side), 1.0);
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
        let sheet = self.other.back.of(side);
        let beside = self.sheet.beside(sheet).all(|(row, edge)| row.iter().all(|p| p[1] >= edge[0][1]));
        let rows = self.sheet.beside(sheet).map(|(row, edge)| row.map(|p| [p[0] - edge[0][0], 0.0]));
        beside.then(|| Apart::new(rows).bounded())
    }
}

/// The greatest distance is the least of the distances' negatives.
impl Region for Piece {
    fn probe(&self) -> Corner {
        Corner { value: -self.probe.value, ..self.probe }
    }

    fn lower(&self) -> f64 {
        -self.bound
    }

    fn halves(self) -> (Self, Self) {
        let mid = |[a, b]: [f64; 2]| 0.5 * (a + b);
        let (kind, x, around) = (self.kind, self.x, self.around);
        if self.along {
            let (a, b) = self.sheet.halves_along();
            let (near, far) = self.other.halves();
            return (
                Self::new(kind, [x[0], mid(x)], around, a, Rc::new(near)),
                Self::new(kind, [mid(x), x[1]], around, b, Rc::new(far)),
            );
        }
        let (a, b) = (self.sheet.part(0.0, 0.5), self.sheet.part(0.5, 1.0));
        (
            Self::new(kind, x, [around[0], mid(around)], a, Rc::clone(&self.other)),
            Self::new(kind, x, [mid(around), around[1]], b, self.other),
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

/// The pieces of two backs over the same stretch, each held against the other neck; nothing where both are the same to the
/// bit.
fn pieces_of(x: [f64; 2], [one, two]: [Sides<Sheet>; 2]) -> Vec<Piece> {
    let mut pieces = Vec::new();
    if one == two {
        return pieces;
    }
    let degrees = [&one, &two].map(|s| s.bass.degree().max(s.treble.degree()));
    let degree = degrees[0].max(degrees[1]);
    let level = |s: Sides<Sheet>| Sides { bass: s.bass.elevated(degree), treble: s.treble.elevated(degree) };
    let [one, two] = [one, two].map(level).map(|back| Rc::new(Slice::new(back)));
    for (own, other) in [(&one, &two), (&two, &one)] {
        for side in Side::BOTH {
            let (sheet, theirs) = (own.back.of(side), other.back.of(side));
            let flat = flat(sheet, theirs).map(|flat| (Kind::Flat, flat));
            for (kind, sheet) in [(Kind::Carved, sheet.clone())].into_iter().chain(flat) {
                pieces.push(Piece::new(kind, x, [0.0, 1.0], sheet, Rc::clone(other)));
            }
        }
    }
    pieces
}

/// All pieces between two stations that both necks' wood has.
pub(super) fn pieces(necks: [&Neck; 2], [from, to]: [f64; 2]) -> Vec<Piece> {
    let strips = |neck: &Neck, further: &[f64]| {
        Side::BOTH.map(|side| neck.built().back.strips(side, from, to, further))
    };
    // Either neck's strips are cut where the other's are.
    let mut stations: Vec<f64> = Vec::new();
    for neck in necks {
        stations.extend(strips(neck, &[]).iter().flatten().flat_map(|s: &Strip| s.x));
    }
    stations.sort_by(f64::total_cmp);
    let [one, two] = necks.map(|neck| strips(neck, &stations));
    let sheets = |[bass, treble]: [&Strip; 2]| Sides {
        bass: Sheet::new(bass, Side::Bass),
        treble: Sheet::new(treble, Side::Treble),
    };
    let pairs = |[bass, treble]: &[Vec<Strip>; 2]| -> Vec<([f64; 2], Sides<Sheet>)> {
        bass.iter().zip(treble).map(|(a, b)| (a.x, sheets([a, b]))).collect()
    };
    let all = pairs(&one).into_iter().zip(pairs(&two));
    all.flat_map(|((x, a), (_, b))| pieces_of(x, [a, b])).collect()
}

/// The pieces of one section.
pub(super) fn pieces_at(necks: [&Neck; 2], x: f64) -> Vec<Piece> {
    let section = |neck: &Neck| {
        Sides::each(|side| Sheet { rows: alloc::vec![neck.built().back.control_points(side, x)] })
    };
    pieces_of([x, x], necks.map(section))
}

//! The nearest fair neck in the wood that is still there.

use alloc::boxed::Box;
use alloc::vec::Vec;

use super::build::{neck, specification, with_shapes_kept};
use super::clear::Clear;
use super::forbid::{all_fixed, forbidden};
use super::limit::{Forbidden, Limit};
use super::low::{Back, Low, Place, lows};
use super::mending::{MendRow, Mended, Mending, Reached};
use super::model::Model;
use super::pool::{Pool, pooled};
use super::programme::{Demand, Programme, Solved, priced};
use super::rows::MISSED;
use super::search::Search;
use super::stations::{fret_there, stations};
use super::verify::{stuck, verified};
use super::wall::{WALL_SPARE, broken};
use super::width::{Edges, edges};
use crate::carve::cautions_of_mending;
use crate::inspect::Readings;
use crate::inspect::mendable::{back_comes_down, edges_come_in};
use crate::measure::Error;
use crate::shape::{Neck, Side, Sides};
use crate::spec::{Curve, DepthAt, MendLimits};

/// How often a neck is built and looked at again.
const ROUNDS: usize = 30;
/// Places of a side that are looked at for where the most comes off, and how often the stretch between is narrowed, to which
/// share of it: by the golden section one of two places is looked at again. A side where it comes to less than that share of the
/// other's is none to look closer at: between two places it is never so much more.
const LOOKED_AT: u32 = 24;
const NARROWED: usize = 25;
const GOLDEN: f64 = 0.618_033_988_749_895;
const HOPELESS: f64 = 0.5;

impl Neck {
    /// The nearest fair neck that lies within the wood that is still there: of all that keep the limits the one that takes
    /// the least wood off the design.
    ///
    /// Readings of one sort within 10 mm of each other along the neck, and points within 12 mm around the section, are of one
    /// place and are taken together, high and low, by their weighted mean: the lowest of many would be lower than the wood
    /// is. Where their scatter shows a shape that noise takes on no more than twice in a hundred times, it is a surface of first or
    /// second degree in place of the mean, and at each reading's place the neck comes down to that. Points count by how far
    /// they lie off square to the finished section. One that lies more than 4.5 standard uncertainties off what the others come
    /// to counts by itself. What then lies below this neck's surface is a low place, to
    /// which the neck comes down; what lies on or above it asks nothing. A thickness is low at the spine, a carve line on its
    /// side, a width at the board's edges, and a point where the design's outline is nearest to it, as in an
    /// [inspection](Neck::inspect): on the back where it lies, on a flat side below the board at the edges. Widths are alike
    /// on both sides of the centreline, so that both edges come in where one flat side is low. A point of the board's or the
    /// headstock's face or of a ledge asks nothing, as a girth and a radius do: it is left out, and a note tells so. Which low
    /// places are more than noise is for others to judge before; of those all readings should be given, as
    /// [`low_readings`](crate::inspect::Inspection::low_readings) does, and not the low ones only.
    ///
    /// So the neck comes down to a hollow nearly as far as it goes, not everywhere: where smooth hollows 0.2 to 1 mm deep and 16
    /// to 32 mm wide lie on the shoulders of random necks, told by points 4 mm apart, it stands out of the wood by up to 0.6
    /// standard uncertainties of one point in the median, 2.0 for 95 % of them and 3.0 at the worst. A `margin` takes more.
    ///
    /// All low places are mended or none. Where they can't be, each limit that forbids it names the readings that ask for
    /// it: the others by themselves may well be mended.
    ///
    /// Widths come in first, by the least area, over the stations at which the board's are given. Then the spine's line
    /// and, where sides are low, both carve lines become natural cubic splines over the frets, the low places and what lies
    /// between; profile numbers, headstock, volute and block are kept. All depths of the back are linear in the values of
    /// these lines, and so are the limits, but for the rod's wall, whose rows are added where a solution breaks them: a
    /// linear programme. Thickness, slope, bend and lying inside the design are held by bounds that hold between the
    /// stations too. Those of thickness and of lying inside the design bound control points, which may lie beyond the curve
    /// between stations: by `d²/(8·R)` where stations lie `d` apart and the spine may bend with a radius `R`, 0.02 mm for
    /// 20 mm and the usual 3000 mm. By so much more than the least may come off there, and by so much too much be told to be
    /// missing where a least thickness forbids. All other limits are held at stations close together, and wherever a neck
    /// turns out to break one between them. Least is meant among these necks.
    /// Where the treble side's shape follows the bass side's, either side goes along with the other, and mirror images are not
    /// mended alike: over random necks a point that is low at 0.65 of the half width took up to a fifth more wood on the
    /// treble side, for which the bass side's carve line comes up too, and one at 0.88 up to half as much again on the
    /// bass side. The neck that is built passes every check of [`Neck::new`]; it is shown to come
    /// down to every low place and to
    /// lie inside the design to 5e-8 mm, and its rod's wall is proven. (Only beyond the board's ends edges that came in
    /// may carry on outside the old outline, by what a note tells.)
    ///
    /// # Errors
    /// - limits out of their bounds;
    /// - readings that can't be of this neck: see [`Readings::check_on`];
    /// - a programme that the solver gives up, or whose neck can't be built or proven.
    pub fn mend(&self, low: &Readings, limits: &MendLimits) -> Result<Mending, Error> {
        limits.check()?;
        let given = low.placed(self)?;
        let pool = &pooled(self, &given);
        let found = lows(self, pool, limits);
        let mut notes = pool.notes();
        if found.is_empty() {
            return Ok(Mending::Mended(Box::new(Mended {
                specification: self.normalised().clone(),
                neck: self.clone(),
                removed_mm3: 0.0,
                rows: Vec::new(),
                reached: Vec::new(),
                notes,
                cautions: Vec::new(),
            })));
        }
        let (base, mut reached) = match narrowed(self, &found, limits, pool)? {
            Ok(narrowed) => narrowed,
            Err(forbidden) => return Ok(Mending::Impossible(forbidden)),
        };
        // On a narrower neck fewer places are low.
        let mut deep = lows(&base, pool, limits);
        deep.retain(|low| !low.place.is_beside());
        let out: Vec<&Low> = deep.iter().filter(|low| !back_comes_down(&base, low.x)).collect();
        if !out.is_empty() {
            return Ok(Mending::Impossible(all_fixed(&base, &out, pool, limits.unit)));
        }
        let mut at = rows_at(&base, &found);
        at.dedup();
        let deepened = if deep.is_empty() {
            Deepened {
                neck: base,
                reached: Vec::new(),
                lent: alloc::vec![0.0; at.len()],
                programme: Programme::default(),
                unknowns: Vec::new(),
            }
        } else {
            let design = self.least_rod_wall().map_or(0.0, |wall| wall.proven);
            match deepened(&base, &deep, limits, wall(self, limits, design), &at, pool)? {
                Ok(deepened) => deepened,
                Err(hindered) => return Ok(Mending::Impossible(hindered.forbidden)),
            }
        };
        notes.extend(verified(self, &deepened.neck, pool, &found, limits)?);
        reached.extend(deepened.reached);
        let rows: Vec<MendRow> =
            at.iter().zip(&deepened.lent).map(|(x, lent)| row(self, &deepened.neck, *x, *lent)).collect();
        let taken: [fn(&MendRow) -> f64; 2] = [|row| row.most_mm, |row| row.narrower_mm];
        let taken = taken.map(|of| rows.iter().any(|row| of(row) > SEEN_MM));
        Ok(Mending::Mended(Box::new(Mended {
            specification: deepened.neck.normalised().clone(),
            removed_mm3: self.volume_mm3().filled_mm3() - deepened.neck.volume_mm3().filled_mm3(),
            rows,
            reached,
            notes,
            cautions: cautions_of_mending(&deepened.neck, taken),
            neck: deepened.neck,
        })))
    }
}

/// What comes off by less is none, mm.
const SEEN_MM: f64 = 1e-6;

/// The wall that has to be proven: what is asked, or what the design has where that is less.
fn wall(neck: &Neck, limits: &MendLimits, design: f64) -> f64 {
    if neck.rod_cuts().is_empty() {
        return 0.0;
    }
    let asked = limits.least_wall.unwrap_or(neck.normalised().rod.least_wall).mm();
    // Rows ask for a little less than the design has, or those of its thinnest place would leave nothing.
    asked.min(design - 1.25 * WALL_SPARE).max(0.0)
}

/// The nut, the frets and the low places, rising.
fn rows_at(neck: &Neck, lows: &[Low]) -> Vec<f64> {
    let to = neck.layout().board().end_mm().min(neck.built().end);
    let frets = neck.layout().frets().iter().map(|fret| f64::from(fret.number));
    let frets = frets.filter_map(|number| neck.layout().station_of_fret_mm(number).ok());
    let mut at: Vec<f64> =
        frets.chain([0.0]).chain(lows.iter().map(|low| low.x)).filter(|x| *x <= to).collect();
    at.sort_by(f64::total_cmp);
    at
}

/// A narrower neck and the limits that its edges come up to, or what forbids it.
type Narrowed = Result<(Neck, Vec<Reached>), Vec<Forbidden>>;

/// A neck with its edges brought in where they have to be and the limits that they come up to, or what forbids that.
fn narrowed(neck: &Neck, lows: &[Low], limits: &MendLimits, pool: &Pool) -> Result<Narrowed, Error> {
    let edged: Vec<Low> = lows.iter().filter(|low| low.place.is_beside()).copied().collect();
    if edged.is_empty() {
        return Ok(Ok((neck.clone(), Vec::new())));
    }
    let fixed = |low: &&Low| matches!(low.place, Place::Kept(_)) || !edges_come_in(neck, low.x);
    let off: Vec<&Low> = edged.iter().filter(|low| fixed(low)).collect();
    if !off.is_empty() {
        return Ok(Err(all_fixed(neck, &off, pool, limits.unit)));
    }
    match edges(neck, &edged, limits, pool)? {
        Edges::Forbidden(forbidden) => Ok(Err(forbidden)),
        Edges::In(spec, reached) => {
            let plain = Neck::new(&spec)?;
            let half = |x: f64| plain.built().form.half.treble.value(x);
            Ok(Ok((Neck::new(&with_shapes_kept(neck, *spec, half, false))?, reached)))
        }
    }
}

/// What comes of the back.
struct Deepened {
    neck: Neck,
    reached: Vec<Reached>,
    /// The standard uncertainty of the thickness at each station that is told.
    lent: Vec<f64>,
    /// What was solved, and its solution.
    programme: Programme,
    unknowns: Vec<f64>,
}

/// What forbids it.
struct Hindered {
    forbidden: Vec<Forbidden>,
    programme: Programme,
    weights: Vec<f64>,
}

/// A programme and its solution where there is one: for tests against another solver.
#[doc(hidden)]
#[derive(Clone, Debug)]
pub struct Asked {
    /// The programme, with all rows that were added while it was solved.
    pub programme: Programme,
    /// The unknowns; `None` where no neck keeps the limits.
    pub unknowns: Option<Vec<f64>>,
    /// Where no neck keeps the limits, what each row counts in the sum of rows that shows it; fewer than rows, as some are
    /// added afterwards.
    pub weights: Vec<f64>,
}

/// What is asked of the back of a neck with low places. `None` where nothing is low, or the edges can't come in.
///
/// # Errors
/// - as [`Neck::mend`].
#[doc(hidden)]
pub fn programme(neck: &Neck, low: &Readings, limits: &MendLimits) -> Result<Option<Asked>, Error> {
    let pool = &pooled(neck, &low.placed(neck)?);
    let found = lows(neck, pool, limits);
    let Ok((base, _)) = narrowed(neck, &found, limits, pool)? else { return Ok(None) };
    let mut deep = lows(&base, pool, limits);
    deep.retain(|low| !low.place.is_beside());
    if deep.is_empty() {
        return Ok(None);
    }
    let design = neck.least_rod_wall().map_or(0.0, |wall| wall.proven);
    Ok(Some(match deepened(&base, &deep, limits, wall(neck, limits, design), &[], pool)? {
        Ok(deepened) => {
            Asked { programme: deepened.programme, unknowns: Some(deepened.unknowns), weights: Vec::new() }
        }
        Err(hindered) => Asked { programme: hindered.programme, unknowns: None, weights: hindered.weights },
    }))
}

/// Whether the carve lines stay the same curves when they are read as splines.
fn carve_keeps(neck: &Neck) -> bool {
    let shaft = &neck.normalised().shaft;
    let few = |list: &[DepthAt]| list.len() <= 2;
    shaft.curve == Curve::Spline
        || few(&shaft.carve_line) && few(shaft.treble_carve_line.as_deref().unwrap_or(&[]))
}

/// Brings the back down.
fn deepened(
    base: &Neck,
    lows: &[Low],
    limits: &MendLimits,
    wall: f64,
    at: &[f64],
    pool: &Pool,
) -> Result<Result<Deepened, Hindered>, Error> {
    let stations = stations(base, lows);
    if stations.len() < 2 {
        return Err(stuck("built: there is no shaft to mend"));
    }
    let sided = lows.iter().any(|low| low.place != Place::Spine);
    let joined = base.built().back.even && (!sided || limits.keep_even);
    // Where only the spine is low, the carve lines stay, unless a limit ties them to it: the least cost of the one
    // programme is then that of the other.
    if !sided && carve_keeps(base) {
        let model = Model::new(base, &stations, false, joined);
        let mut search = Search::new(&model, limits, lows, wall);
        if let Solved::Optimum { unknowns, prices, .. } = search.solve()
            && !tied(&search.programme, &prices)
            && let Some(built) = built(&mut search, unknowns, prices, at)?
        {
            return Ok(Ok(built));
        }
    }
    let model = Model::new(base, &stations, true, joined);
    let mut search = Search::new(&model, limits, lows, wall);
    if let Some(built) = solved(&mut search, at)? {
        return Ok(Ok(built));
    }
    let forbidden = forbidden(&mut search, limits, pool)?;
    // Where only the spare of the wall is missing there is a neck.
    let little = |f: &&Forbidden| f.limit == Limit::RodWall && f.alone && f.by < WALL_SPARE;
    if let Some(by) = forbidden.iter().find(little).map(|f| f.by) {
        let mut closer = Search::new(&model, limits, lows, wall);
        closer.wall -= 0.5 * (WALL_SPARE + by);
        if let Some(built) = solved(&mut closer, at)? {
            return Ok(Ok(built));
        }
    }
    Ok(Err(Hindered { forbidden, programme: search.programme, weights: search.weights }))
}

/// The neck that a search finds, if there is one.
fn solved(search: &mut Search<'_, '_>, at: &[f64]) -> Result<Option<Deepened>, Error> {
    match search.solve() {
        Solved::Optimum { unknowns, prices, .. } => built(search, unknowns, prices, at),
        Solved::Infeasible { .. } => Ok(None),
        Solved::Stuck => Err(stuck("found")),
    }
}

/// Whether a limit that carve lines have a part in costs anything.
fn tied(programme: &Programme, prices: &[f64]) -> bool {
    let shared = |limit: Limit| {
        matches!(limit, Limit::Convex | Limit::CarveLine | Limit::Shape | Limit::Heel | Limit::RodWall)
    };
    let least = priced(prices);
    programme
        .rows
        .iter()
        .zip(prices)
        .any(|(row, price)| row.limit.is_some_and(shared) && libm::fabs(*price) > least)
}

/// Builds the neck and proves it, with further rows where that shows something broken between the stations that rows
/// were made for; `None` where those leave no neck.
fn built(
    search: &mut Search<'_, '_>,
    mut unknowns: Vec<f64>,
    mut prices: Vec<f64>,
    at: &[f64],
) -> Result<Option<Deepened>, Error> {
    let model = search.model;
    for _ in 0..ROUNDS {
        let further = match neck(model, &specification(model, &unknowns)) {
            Ok((mended, true)) => {
                let short = mended.least_rod_wall().filter(|least| least.proven < search.asked_wall);
                let thin = mended.least_thickness().value < search.thickness - MISSED;
                if short.is_none() && !thin {
                    return Ok(Some(Deepened {
                        neck: mended,
                        reached: search.programme.reached(&prices),
                        lent: lent(search, &unknowns, &prices, at),
                        programme: core::mem::take(&mut search.programme),
                        unknowns,
                    }));
                }
                match short {
                    Some(short) => {
                        search.stations.push(short.x_mm);
                        broken(model, &[short.x_mm], &unknowns, search.wall, 0.0)
                    }
                    None => between(search, &unknowns, stuck("proven to be thick enough"))?,
                }
            }
            Ok((_, false)) => between(search, &unknowns, stuck("proven to lie inside the design"))?,
            Err(error) => between(search, &unknowns, error)?,
        };
        search.programme.rows.extend(further);
        match search.solve() {
            Solved::Optimum { unknowns: u, prices: p, .. } => (unknowns, prices) = (u, p),
            Solved::Infeasible { .. } => return Ok(None),
            Solved::Stuck => return Err(stuck("found")),
        }
    }
    Err(stuck("proven to keep what is asked between the stations"))
}

/// The rows that unknowns break between the stations, or an error where there are none.
fn between(search: &Search<'_, '_>, unknowns: &[f64], error: Error) -> Result<Vec<Demand>, Error> {
    let further = Clear::new(search.model, search.thickness).broken(unknowns);
    if further.is_empty() { Err(error) } else { Ok(further) }
}

/// What the low readings that decide lend to the thickness at some stations: each in turn is off by its uncertainty.
fn lent(search: &Search<'_, '_>, unknowns: &[f64], prices: &[f64], at: &[f64]) -> Vec<f64> {
    let model = search.model;
    let least = priced(prices);
    let mut squares = alloc::vec![0.0; at.len()];
    for (i, row) in search.programme.rows.iter().enumerate() {
        let Some(low) = row.low.and_then(|index| search.lows.iter().find(|low| low.index == index)) else {
            continue;
        };
        if prices.get(i).is_none_or(|price| *price <= least) {
            continue;
        }
        let other =
            [low.uncertainty, -low.uncertainty].into_iter().find_map(|by| search.moved(unknowns, i, by));
        // Where that is not found out, the thickness may be off by all of it.
        let Some(other) = other else {
            squares.iter_mut().for_each(|square| *square += low.uncertainty * low.uncertainty);
            continue;
        };
        for (x, square) in at.iter().zip(&mut squares) {
            let drop = model.spine_drop(*x);
            let by = drop.value(&other) - drop.value(unknowns);
            *square += by * by;
        }
    }
    squares.into_iter().map(libm::sqrt).collect()
}

/// Where the most comes off the back at a station, in mm of depth, and where across that is: looked for at places close
/// together, then between the two beside the one where it is most. Edges that came in leave nothing of a place beyond them to
/// compare.
fn most_off(design: &Neck, mended: &Neck, x: f64) -> (f64, f64) {
    let mut most = (0.0, 0.0);
    let [old, new] = [design, mended].map(|neck| Back::new(neck, x));
    for side in Side::BOTH {
        // By place across: edges that came in moved what lies at one share of the way around.
        let off = |u: f64| {
            let [across, depth] = new.at(side, u);
            (old.depth_at(across).map_or(f64::NEG_INFINITY, |old| old - depth), across)
        };
        let step = 1.0 / f64::from(LOOKED_AT);
        let places = (0..=LOOKED_AT).map(|i| (off(f64::from(i) * step), f64::from(i) * step));
        let Some((mut best, at)) = places.max_by(|a, b| a.0.0.total_cmp(&b.0.0)) else { continue };
        // Beside what the other side has there is nothing to look for.
        if best.0 < HOPELESS * most.0 {
            continue;
        }
        let (mut from, mut to) = ((at - step).max(0.0), (at + step).min(1.0));
        let inner = |from: f64, to: f64| to - GOLDEN * (to - from);
        let (mut a, mut b) = (inner(from, to), inner(to, from));
        let (mut low, mut high) = (off(a), off(b));
        for _ in 0..NARROWED {
            for found in [low, high] {
                if found.0 > best.0 {
                    best = found;
                }
            }
            if low.0 < high.0 {
                (from, a, low) = (a, b, high);
                b = inner(to, from);
                high = off(b);
            } else {
                (to, b, high) = (b, a, low);
                a = inner(from, to);
                low = off(a);
            }
        }
        if best.0 > most.0 {
            most = best;
        }
    }
    most
}

/// What comes off at a station.
fn row(design: &Neck, mended: &Neck, x: f64, uncertainty_mm: f64) -> MendRow {
    let section = mended.section_at(x);
    let most = most_off(design, mended, x);
    let spine = |neck: &Neck| neck.built().back.spine.value(x);
    MendRow {
        fret: fret_there(mended, x),
        x_mm: x,
        take_off_mm: spine(design) - spine(mended),
        most_mm: most.0,
        most_across_mm: most.1,
        narrower_mm: design.width(x) - mended.width(x),
        thickness_mm: mended.thickness(x),
        width_mm: mended.width(x),
        girth_mm: section.girth_mm(),
        carve_line_mm: Sides::each(|side| mended.carve_line(side, x)),
        uncertainty_mm,
    }
}

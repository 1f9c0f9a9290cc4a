//! The pose by robust least squares of the distances to the surface.

use alloc::vec;
use alloc::vec::Vec;

use nalgebra::{Cholesky, DMatrix, DVector};

use super::field::{Field, MOST_TERMS, TERMS};
use super::motion::{Motion, Vector, cross, minus};
use super::shown::{End, Holding, Shown, clear_mm};
use super::skin::{Skin, Touch};
use crate::inspect::robust::{MEDIAN, TUKEY};

/// A turn by an angle of `1/LEVER_MM` moves a point so far off by one millimetre.
pub(crate) const LEVER_MM: f64 = 100.0;
/// How far one step may be from where it starts where nothing holds it, mm.
const STEP_MM: f64 = 5.0;
/// A fit is settled when a step moves the points by no more, mm: of the pose's uncertainty a tenth at most.
pub(crate) const SETTLED_MM: f64 = 1e-4;
/// The weight of what is as it is.
const FIXED: f64 = 1e12;
/// How well a pose is known where nothing holds it, mm.
const UNHELD_MM: f64 = 1e3;
/// No scanner is better, mm; keeps noise-free clouds from weighing rounding.
const LEAST_SIGMA_MM: f64 = 1e-4;

/// A pose and how it was fitted.
#[derive(Clone, Debug)]
pub(crate) struct Fit {
    pub motion: Motion,
    pub field: Field,
    /// Standard deviation of the distances, from their median, mm.
    pub sigma: f64,
    pub known: Known,
    /// How well it would be known if headstock and heel were just as the base has them: how well the scan holds it.
    pub held: Known,
    pub shown: Shown,
    /// What the scan shows of headstock, heel or the board's ends; where nothing, its place along rests on the shaft's own shape.
    pub end: End,
}

/// How well a pose is known.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Known {
    /// The middle of the points, about which is turned.
    pub centre: Vector,
    /// Covariance of a turn about `x`, `y`, `z`, in parts of `1/LEVER_MM`, and of a shift along them, mm: mm² all of it.
    pub covariance: [[f64; 6]; 6],
}

impl Known {
    /// How the distance of a place from the surface changes with turn and shift.
    pub fn row(&self, place: Vector, normal: Vector) -> [f64; 6] {
        let turn = cross(minus(place, self.centre), normal).map(|c| c / LEVER_MM);
        [turn[0], turn[1], turn[2], normal[0], normal[1], normal[2]]
    }

    /// Standard uncertainty of a shift along `x`, `y`, `z` (mm) and of a turn about them (radian).
    pub fn uncertainty(&self) -> [[f64; 3]; 2] {
        let each = |k: usize| libm::sqrt(self.covariance[k][k].max(0.0));
        [[3, 4, 5].map(each), [0, 1, 2].map(|k| each(k) / LEVER_MM)]
    }

    /// Standard deviation of what changes so with the pose.
    pub fn deviation(&self, row: &[f64; 6]) -> f64 {
        let sum = |covariances: &[f64; 6]| covariances.iter().zip(row).map(|(c, r)| c * r).sum::<f64>();
        let variance: f64 = self.covariance.iter().zip(row).map(|(c, r)| sum(c) * r).sum();
        libm::sqrt(variance.max(0.0))
    }

    /// The covariance's lower Cholesky factor: its columns are errors of one standard deviation that are independent of each
    /// other. A direction that rounding leaves without variance has none.
    pub fn errors(&self) -> [[f64; 6]; 6] {
        let mut l = [[0.0; 6]; 6];
        for i in 0..6 {
            for j in 0..=i {
                let rest = self.covariance[i][j] - (0..j).map(|k| l[i][k] * l[j][k]).sum::<f64>();
                l[i][j] = match i == j {
                    true => libm::sqrt(rest.max(0.0)),
                    false if l[j][j] > 0.0 => rest / l[j][j],
                    false => 0.0,
                };
            }
        }
        l
    }
}

/// The middle one of the absolute values, times what makes it a standard deviation.
pub(crate) fn spread(values: &mut [f64]) -> f64 {
    let middle = values.len() / 2;
    for value in values.iter_mut() {
        *value = libm::fabs(*value);
    }
    if values.is_empty() {
        return 0.0;
    }
    *values.select_nth_unstable_by(middle, f64::total_cmp).1 / MEDIAN
}

fn square(a: f64) -> f64 {
    a * a
}

/// The mean of the squared distances, none counted for more than `reach`, mm².
pub(crate) fn cost(skin: &Skin, points: &[Vector], motion: &Motion, reach: f64) -> f64 {
    let sum: f64 = points
        .iter()
        .map(|p| {
            let d = skin.touch(motion.of(*p)).distance;
            (d * d).min(reach * reach)
        })
        .sum();
    sum / points.len().max(1) as f64
}

/// Normal equations, the upper half.
struct Normal {
    size: usize,
    matrix: Vec<f64>,
    right: Vec<f64>,
}

impl Normal {
    fn new(size: usize) -> Self {
        Self { size, matrix: vec![0.0; size * size], right: vec![0.0; size] }
    }

    #[inline]
    fn add(&mut self, row: &[(usize, f64)], value: f64, weight: f64) {
        for (k, &(i, a)) in row.iter().enumerate() {
            let wa = weight * a;
            self.right[i] += wa * value;
            for &(j, b) in &row[k..] {
                self.matrix[i * self.size + j] += wa * b;
            }
        }
    }

    fn factored(&self, prior: impl Fn(usize) -> f64) -> Option<Cholesky<f64, nalgebra::Dyn>> {
        let full = DMatrix::from_fn(self.size, self.size, |i, j| {
            let (i, j) = (i.min(j), i.max(j));
            self.matrix[i * self.size + j] + if i == j { prior(i) } else { 0.0 }
        });
        Cholesky::new(full)
    }

    /// What the first six are known to, by the variance of a row of weight 1.
    fn known(&self, centre: Vector, variance: f64, prior: impl Fn(usize) -> f64) -> Option<Known> {
        let factor = self.factored(prior)?;
        let mut covariance = [[0.0; 6]; 6];
        for k in 0..6 {
            let mut one = DVector::zeros(self.size);
            one[k] = 1.0;
            let column = factor.solve(&one);
            for (i, row) in covariance.iter_mut().enumerate() {
                row[k] = variance * column[i];
            }
        }
        Some(Known { centre, covariance })
    }
}

type Row = [(usize, f64); 6 + MOST_TERMS];

/// The row of a point: how its distance changes with turn, shift and the field's terms. Rising indices.
fn row(touch: &Touch, arm: Vector, terms: impl Iterator<Item = (usize, f64)>) -> (Row, usize) {
    let turn = cross(arm, touch.normal).map(|c| c / LEVER_MM);
    let mut row = [(0, 0.0); 6 + MOST_TERMS];
    for k in 0..3 {
        row[k] = (k, turn[k]);
        row[3 + k] = (3 + k, touch.normal[k]);
    }
    let mut count = 6;
    for (i, factor) in terms {
        if let Some(slot) = row.get_mut(count) {
            // The surface moves out where the field grows, and the distance becomes less.
            *slot = (6 + i, -factor);
            count += 1;
        }
    }
    (row, count)
}

/// How one step of the fit weighs and what it may change.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Step {
    /// Distances beyond this have no weight, mm; by the spread of the distances where it is absent.
    pub reach: Option<f64>,
    /// Whether the field is fitted too.
    pub free: bool,
    /// Whether these points tell what the scan shows.
    pub looks: bool,
    /// Whether a face that may hold the scan along weighs only where more points show it than strays explain.
    pub gated: bool,
}

/// How the fine fit comes to its end.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Settling {
    /// The most steps.
    pub steps: usize,
    /// A step that moves the points by less is the last, mm.
    pub least: f64,
    /// Whether these points tell what the scan shows; where not, that is known.
    pub looks: bool,
    /// Whether it is settled again by the faces alone that the scan shows: those that it does not yet lie on must draw it first.
    pub gated: bool,
}

/// One step of Gauss and Newton with Tukey's weights; how far the points moved by it at most, mm. `None` where the
/// equations have no solution.
fn step(
    skin: &Skin,
    points: &[Vector],
    fit: &mut Fit,
    how: Step,
    touches: &mut Vec<(Touch, Vector, f64)>,
) -> Option<f64> {
    touches.clear();
    let mut centre = [0.0; 3];
    for p in points {
        let q = fit.motion.of(*p);
        let touch = skin.touch(q);
        let left = touch.distance - if how.free { fit.field.at(&touch, q) } else { 0.0 };
        touches.push((touch, q, left));
        for k in 0..3 {
            centre[k] += q[k] / points.len() as f64;
        }
    }
    let fine = how.reach.is_none();
    let mut lefts: Vec<f64> =
        touches.iter().filter(|(t, ..)| !(fine && t.edge)).map(|(_, _, left)| *left).collect();
    fit.sigma = spread(&mut lefts).max(LEAST_SIGMA_MM);
    let reach = how.reach.unwrap_or(TUKEY * fit.sigma);
    let clear = clear_mm(fit.sigma);
    if how.looks {
        fit.shown = Shown::default();
        for (touch, q, left) in touches.iter() {
            fit.shown.add(skin, touch, *q, *left, reach);
        }
    }
    let mut holding = Holding::default();
    if how.gated {
        for (touch, q, left) in touches.iter().filter(|(touch, ..)| touch.clear >= clear) {
            if let Some(face) = fit.field.face_of(touch, *q) {
                holding.add(face, *left, reach);
            }
        }
    }
    fit.end = holding.end();
    let unshown = |touch: &Touch, q: Vector| {
        how.gated && fit.field.face_of(touch, q).is_some_and(|face| !holding.shows(face))
    };
    let size = if how.free { 6 + TERMS } else { 6 };
    let mut normal = Normal::new(size);
    for (touch, q, left) in touches.iter() {
        let share = left / reach;
        if share * share >= 1.0 || (fine && touch.clear < clear) || unshown(touch, *q) {
            continue;
        }
        let weight = (1.0 - share * share) * (1.0 - share * share);
        let terms = how.free.then(|| fit.field.terms(touch, *q));
        let terms = terms.iter().flat_map(|t| t.iter());
        let (row, count) = row(touch, minus(*q, centre), terms);
        normal.add(row.get(..count)?, -left, weight);
    }
    let variance = fit.sigma * fit.sigma;
    let holds = [fit.shown.face(), fit.shown.sides()];
    let likely = |i: usize, of_pose: f64| match i {
        0..6 => variance / square(of_pose),
        _ => match Field::likely_mm(i - 6, fine, holds) {
            0.0 => FIXED,
            mm => variance / square(mm),
        },
    };
    if how.free {
        // The field itself is held near nought, not its change.
        for (i, value) in fit.field.values.iter().enumerate() {
            normal.right[6 + i] -= likely(6 + i, 0.0) * value;
        }
    }
    let prior = |i: usize| likely(i, STEP_MM) + 1e-12;
    let change = normal.factored(prior)?.solve(&DVector::from_column_slice(&normal.right));
    if !change.iter().all(|c| c.is_finite()) {
        return None;
    }
    let turn = [change[0], change[1], change[2]].map(|c| (c / LEVER_MM).clamp(-0.3, 0.3));
    let shift = [change[3], change[4], change[5]].map(|c| c.clamp(-30.0, 30.0));
    fit.motion = fit.motion.followed_by(turn, centre, shift);
    if how.free {
        for (value, change) in fit.field.values.iter_mut().zip(change.iter().skip(6)) {
            *value += change;
        }
    }
    if fine {
        // What the pose is known to: without the prior on its own steps, but for one so wide that it only bounds the
        // answer where nothing holds it.
        let wide = |i: usize| likely(i, UNHELD_MM);
        let fixed = |i: usize| if i >= 6 && Field::of_an_end(i - 6) { FIXED } else { wide(i) };
        if let Some(known) = normal.known(centre, variance, wide) {
            fit.known = known;
        }
        if let Some(held) = normal.known(centre, variance, fixed) {
            fit.held = held;
        }
    }
    Some(change.iter().take(6).fold(0.0, |most: f64, c| most.max(libm::fabs(*c))))
}

impl Fit {
    pub fn start(motion: Motion, field: Field) -> Self {
        let known = Known { centre: [0.0; 3], covariance: [[f64::INFINITY; 6]; 6] };
        Self {
            motion,
            field,
            sigma: f64::INFINITY,
            known,
            held: known,
            shown: Shown::default(),
            end: End::None,
        }
    }

    /// Steps with the reaches given, then, where it shall settle, those of the fine fit. `false` where the equations had no
    /// solution.
    pub fn refine(
        &mut self,
        skin: &Skin,
        points: &[Vector],
        coarse: &[f64],
        free: bool,
        settling: Option<Settling>,
    ) -> bool {
        let mut touches = Vec::with_capacity(points.len());
        for reach in coarse {
            if step(
                skin,
                points,
                self,
                Step { reach: Some(*reach), free, looks: false, gated: false },
                &mut touches,
            )
            .is_none()
            {
                return false;
            }
        }
        let Some(Settling { steps, least, looks, gated }) = settling else { return true };
        for gated in [false, true].into_iter().filter(|gate| gated || !gate) {
            for _ in 0..steps {
                match step(skin, points, self, Step { reach: None, free, looks, gated }, &mut touches) {
                    None => return false,
                    Some(moved) if moved < least => break,
                    Some(_) => {}
                }
            }
        }
        true
    }
}

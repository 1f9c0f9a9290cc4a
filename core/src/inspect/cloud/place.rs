//! A scan placed on a neck.

use alloc::format;
use alloc::vec::Vec;

use super::coarse::{Long, coarse, thinned};
use super::even::evened;
use super::field::Field;
use super::fit::{Fit, Known, SETTLED_MM, Settling};
use super::gather::{Behind, CloudPart, Departure, Gathered, turned};
use super::motion::{Motion, Vector};
use super::pose::Pose;
use super::refuse;
use super::rest::Rest;
use super::shown::{End, Shown};
use super::skin::Skin;
use crate::inspect::Readings;
use crate::measure::{Error, Fault, Kind, exactly, told};
use crate::shape::Neck;
use crate::spec::{CloudHand, CloudOptions, Hand};

/// How well a scan's place along the neck has to be known, mm: a shaft that thickens by 1 in 100 is then known to 0.01.
const ALONG_MM: f64 = 1.0;
const ALONG: &str = "where along the neck it lies";
const SCAN_ENDS: &str = "scan an end too: the headstock, the heel or an end of the board";
/// How well its other places, and the thickness with them, mm.
const ACROSS_MM: f64 = 0.1;
/// The mirror image has to fit so much better, by the mean square, to be believed.
const CLEARLY: f64 = 0.8;
/// The most that a fit's steps are repeated.
const SETTLE: usize = 12;
/// What the fine fit starts from is settled when a step moves the points by no more, mm.
const NEARLY_MM: f64 = 1e-2;

/// A scan on a neck: where it lies, how far it stands off, and the readings that its points amount to.
#[derive(Clone, Debug, PartialEq, serde::Serialize)]
#[non_exhaustive]
pub struct PlacedCloud {
    /// How the scan lies to the neck.
    pub pose: Pose,
    /// Root mean square of the distances of the points to the neck's surface, mm, without the outliers; what is noise and
    /// what is another shape counts together.
    pub rms_mm: f64,
    /// Standard deviation of the noise of a single point, mm: what is left when the shape is let free.
    pub noise_mm: f64,
    /// Share of the points that lie off the neck by more than 4.7 times the noise.
    pub outlier_share: f64,
    /// How well the scan fits as it was taken and as its mirror image, mm (root mean square, none counted for more than
    /// 2 mm); `None` where the hand was given, so that only one was tried.
    pub hands_rms_mm: Option<[f64; 2]>,
    /// First and last station with points all around or on a good part of it.
    pub covered_mm: [f64; 2],
    /// Parts of the outside of which less than a tenth has points.
    pub unseen: Vec<CloudPart>,
    /// Where the scanned surface stands off the neck by more than noise, the greatest departures first, 20 at most. Noise alone
    /// makes any of them in one of a hundred scans at most, but for cells beside the nut, where faces meet within the noise: there a
    /// scan of many points has departures of up to 0.04 mm.
    pub departures: Vec<Departure>,
    /// Points of the back and widths of the shaft, gathered from all points: mean places with their standard uncertainty.
    pub readings: Readings,
}

/// A pose as it is worked with: of the points with `y` times `hand`.
pub(super) struct Placing {
    pub hand: f64,
    pub fit: Fit,
    /// The scan's even sample.
    even: Vec<Vector>,
    hands: Option<[f64; 2]>,
}

/// How many points the even sample has, and the one that the fine fit's first steps are by otherwise.
const FIRST: usize = 10_000;
/// By so many points it is told what the scan shows, where it has more than the sample: a thin side has few of them.
const SHOWN_BY: usize = 200_000;
/// Up to where a distance counts when two poses are judged, mm.
const JUDGED_MM: f64 = 2.0;

fn hand_of(sign: f64) -> Hand {
    if sign < 0.0 { Hand::Left } else { Hand::Right }
}

/// The pose of the points, fitted to a sample; the shape of the shaft is left free.
pub(super) fn find(
    neck: &Neck,
    skin: &Skin,
    points: &[Vector],
    options: &CloudOptions,
) -> Result<Placing, Error> {
    refuse::numbers(points)?;
    let hand = neck.hand_sign();
    let [from, to] = neck.reach_mm();
    let of_hand =
        |points: &[Vector], hand: f64| -> Vec<Vector> { points.iter().map(|p| turned(*p, hand)).collect() };
    let field = Field::new(neck);
    // Where the scan's parts are of different density, a sample of its points shows little of the thin ones; one that is even
    // shows more of what lies off the neck. The pose is looked for in both.
    let samples = [thinned(points, 12_000), evened(&thinned(points, 60_000), 12_000)];
    let longs = samples.each_ref().map(|sample| refuse::shape(Long::of(&of_hand(sample, hand)), to - from));
    let found: Vec<Motion> = samples
        .iter()
        .zip(&longs)
        .filter_map(|(sample, long)| coarse(skin, &field, &of_hand(sample, hand), long.as_ref().ok()?))
        .collect();
    if let [Err(error), Err(_)] = longs {
        return Err(error);
    }
    let few = samples.each_ref().map(|sample| thinned(sample, 4000));
    let follow = |hand: f64, motion: Motion| {
        let tried = few.each_ref().map(|own| {
            let mut fit = Fit::start(motion, field.clone());
            let done = fit.refine(skin, &of_hand(own, hand), &[6.0, 4.0, 3.0, 3.0, 2.0, 2.0], true, None);
            let square = few.each_ref().map(|few| free_cost(skin, &of_hand(few, hand), &fit, JUDGED_MM));
            let square = if done { 0.5 * (square[0] + square[1]) } else { f64::INFINITY };
            (square, fit)
        });
        let [a, b] = tried;
        if b.0 < a.0 { b } else { a }
    };
    let nearest = |hand: f64, motion: &dyn Fn(&Motion) -> Motion| {
        found.iter().map(|m| follow(hand, motion(m))).min_by(|a, b| a.0.total_cmp(&b.0))
    };
    let lost = || -> Error {
        Fault::new(Kind::Geometry, "points_mm", "no place was found where the scan lies on the neck")
            .remedy("check that base is a neck like the scanned one")
            .into()
    };
    let (square, mut fit) = nearest(hand, &|m| *m).ok_or_else(lost)?;
    let mut placing_hand = hand;
    let mut hands = None;
    if options.hand == CloudHand::Either
        && let Some((other, mirrored)) = nearest(-hand, &Motion::mirrored)
    {
        hands = Some([square, other].map(libm::sqrt));
        if other < CLEARLY * square {
            (fit, placing_hand) = (mirrored, -hand);
        }
    }
    if !fit.sigma.is_finite() {
        return Err(lost());
    }
    let even = of_hand(&thinned(&samples[1], FIRST), placing_hand);
    let mut placing = Placing { hand: placing_hand, fit, even, hands };
    placing.settle(skin, points, options)?;
    Ok(placing)
}

/// The mean of the squared distances that the field leaves, none counted for more than `reach`, mm².
fn free_cost(skin: &Skin, points: &[Vector], fit: &Fit, reach: f64) -> f64 {
    let sum: f64 = points
        .iter()
        .map(|p| {
            let q = fit.motion.of(*p);
            let touch = skin.touch(q);
            let left = touch.distance - fit.field.at(&touch, q);
            (left * left).min(reach * reach)
        })
        .sum();
    sum / points.len().max(1) as f64
}

impl Placing {
    /// The fine fit, by a large sample. First by the even one, so that a thin part that lies a little off is not taken for stray
    /// points, and by a plain one, in which far-flung stray points are no more than in the scan: on from where the large sample
    /// lies nearer.
    pub fn settle(&mut self, skin: &Skin, points: &[Vector], options: &CloudOptions) -> Result<(), Error> {
        let sample: Vec<Vector> =
            thinned(points, options.sample as usize).into_iter().map(|p| turned(p, self.hand)).collect();
        let plain = thinned(&sample, FIRST);
        let firsts = [&self.even, &plain].into_iter().filter_map(|first| {
            let mut fit = self.fit.clone();
            let settling = Settling { steps: SETTLE, least: NEARLY_MM, looks: true, gated: false };
            let done = fit.refine(skin, first, &[2.0, 1.5], true, Some(settling));
            done.then(|| (free_cost(skin, &sample, &fit, JUDGED_MM), fit))
        });
        let first = firsts.min_by(|a, b| a.0.total_cmp(&b.0)).map(|(_, fit)| fit);
        let more = sample.len() < points.len();
        let fine = first.and_then(|mut fit| {
            if more {
                let all: Vec<Vector> =
                    thinned(points, SHOWN_BY).into_iter().map(|p| turned(p, self.hand)).collect();
                fit.shown = Shown::of(skin, &all, &fit);
            }
            let settling = Settling { steps: SETTLE, least: SETTLED_MM, looks: !more, gated: true };
            fit.refine(skin, &sample, &[], true, Some(settling)).then_some(fit)
        });
        if let Some(fit) = fine {
            self.fit = fit;
        } else {
            return Err(Fault::new(Kind::Geometry, "points_mm", "the pose can't be fitted to these points")
                .remedy("scan more of the neck")
                .into());
        }
        Ok(())
    }

    /// Which hand the scanned neck is for.
    pub fn hand_found(&self) -> Hand {
        hand_of(self.hand)
    }

    /// What the scan has to show.
    fn told_enough(&self, neck: &Neck) -> Vec<Fault> {
        let [[x, y, z], [roll, pitch, yaw]] = self.fit.held.uncertainty();
        // Along, what is told counts, with what headstock and heel may be off: no face of the board holds it.
        let [[along, ..], _] = self.known(neck).uncertainty();
        let mut faults = Vec::new();
        let mut fault = |value: f64, unit: &'static str, most: f64, what: &str, remedy: &str| {
            if value > most || value.is_nan() {
                let reason = format!("nothing in the scan holds {what}");
                let fault = Fault::new(Kind::Geometry, "points_mm", reason);
                // Where nothing at all holds it there is no number to tell: the fit's matrix gives an infinite one, or none.
                let fault = if value.is_finite() { fault.value(exactly(told(value)), unit) } else { fault };
                faults.push(fault.range(None, most).remedy(remedy));
            }
        };
        let face = "scan the board's face too, or the backs of headstock and heel";
        fault(if along > x { along } else { x }, "mm", ALONG_MM, ALONG, SCAN_ENDS);
        fault(y, "mm", ACROSS_MM, "where across the neck it lies", "scan both sides");
        fault(z, "mm", ACROSS_MM, "how deep under the board's face it lies", face);
        for (value, what) in
            [(roll, "its turn about the neck's axis"), (pitch, "its pitch"), (yaw, "its yaw")]
        {
            fault(value, "rad", 2e-3, what, "scan the board's face and both sides over more of their length");
        }
        faults
    }

    /// Without an end a shaft holds the scan along by its own shape, if that is known.
    pub fn held_along(&self, shape_known: bool) -> Result<(), Error> {
        self.held_by(
            self.fit.end != End::None || shape_known,
            "it shows no end, nor is the shaft's shape known",
        )
    }

    /// Where no face of an end is shown, the rise of the back holds the scan along if a copy by it explains the scan.
    pub fn held_by_rise(&self, explained: bool) -> Result<(), Error> {
        let but = "it shows no face of an end, and no neck whose volute or sweep lies there explains it";
        self.held_by(self.fit.end == End::Face || explained, but)
    }

    fn held_by(&self, held: bool, but: &str) -> Result<(), Error> {
        if held {
            return Ok(());
        }
        let reason = format!("nothing in the scan holds {ALONG}: {but}");
        Err(Fault::new(Kind::Geometry, "points_mm", reason).remedy(SCAN_ENDS).into())
    }

    /// How well the pose is known, with what the base's headstock and heel may be off where it rests on them.
    pub fn known(&self, neck: &Neck) -> Known {
        let Fit { known, shown, .. } = &self.fit;
        Rest { reach: neck.reach_mm() }.added(*known, shown.face(), shown.sides())
    }

    /// All points against the neck.
    pub fn gather(&self, neck: &Neck, skin: &Skin, points: &[Vector], options: &CloudOptions) -> Gathered {
        let cells = [options.stations as usize, options.around as usize];
        Gathered::new(neck, skin, points, self.hand, (&self.fit, self.known(neck)), cells)
    }

    /// The report, and what stands behind each of its readings.
    pub fn report(
        &self,
        neck: &Neck,
        skin: &Skin,
        gathered: &Gathered,
        options: &CloudOptions,
    ) -> Result<(PlacedCloud, Vec<Behind>), Error> {
        let outlier_share = gathered.outliers();
        let mut faults = Vec::new();
        if outlier_share > options.most_outliers {
            let reason = "so large a share of the points lies off the neck";
            let fault = Fault::new(Kind::Geometry, "points_mm", reason).value(told(outlier_share), "");
            faults.push(fault.range(None, options.most_outliers).remedy(
                "leave out what is not of this neck, a second neck too, or give a base more like it",
            ));
        }
        let most = options.most_noise.mm();
        if self.fit.sigma > most {
            let reason = "the points scatter too widely around the neck";
            let fault = Fault::new(Kind::Geometry, "points_mm", reason).value(told(self.fit.sigma), "mm");
            faults.push(
                fault.range(None, most).remedy("give a base more like the scanned neck, or a better scan"),
            );
        }
        faults.append(&mut self.told_enough(neck));
        Error::unless_none(faults)?;
        let board = neck.layout().board();
        let (readings, behind) = gathered.readings(skin, neck.shaft_reach_mm());
        let placed = PlacedCloud {
            pose: Pose::new(&self.fit.motion, hand_of(self.hand), self.known(neck).uncertainty()),
            rms_mm: gathered.rms(),
            noise_mm: self.fit.sigma,
            outlier_share,
            hands_rms_mm: self.hands,
            covered_mm: gathered.covered(),
            unseen: gathered.unseen([board.start_mm(), board.end_mm()]),
            departures: gathered.departures(),
            readings: Readings::new(readings)?,
        };
        Ok((placed, behind))
    }
}

/// Places a scan on a neck: finds its pose and gathers its points into readings. The shaft may be of another shape than the
/// neck's; the pose rests on the board's face and sides, the headstock, the heel block and the ends, of which enough has to be
/// in the scan to hold it. Where the board's face was not scanned, its depth rests on what the base says of headstock and heel,
/// and where either of the board's sides was not, its place across: by up to half a millimetre (standard) those are taken to be
/// off, at either end by itself, and the pose's uncertainty has it.
///
/// Where along the neck it lies is held by those faces of headstock, heel and the ends, and by volute and sweep, that more points
/// show than strays explain: seven more on a face than close beside it, and two standard deviations of those. A scan that shows
/// none of them is placed along by the shaft's own shape alone, and only where nothing of it departs from the neck's.
///
/// `points_mm` are of the outside, in any frame and order; up to 30 % may lie off it. The answer is the same, bit for bit,
/// for the same points in the same order.
///
/// # Errors
/// - fewer than 2,000 or more than 50 million points;
/// - every number that is not finite or beyond 10 km, named by its index;
/// - points in one place, on one line, in one plane, or of no long thing;
/// - a scan much shorter or longer than the neck, with the unit that it may be in;
/// - a share of outliers above the options';
/// - whatever of the pose the scan does not hold: more than 1 mm of uncertainty along, as it is told, more than 0.1 mm else;
/// - a scan without an end of the neck, whose shaft is of another shape than the neck's;
/// - options out of their bounds.
pub fn place_cloud(neck: &Neck, points_mm: &[Vector], options: &CloudOptions) -> Result<PlacedCloud, Error> {
    options.check()?;
    let skin = Skin::new(neck);
    let placing = find(neck, &skin, points_mm, options)?;
    let gathered = placing.gather(neck, &skin, points_mm, options);
    let (placed, _) = placing.report(neck, &skin, &gathered, options)?;
    placing.held_along(placed.departures.is_empty())?;
    Ok(placed)
}

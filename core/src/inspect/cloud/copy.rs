//! A neck copied from its scan.

use alloc::format;
use alloc::vec::Vec;

use super::coarse::thinned;
use super::denser::denser;
use super::field::Field;
use super::fit::spread;
use super::gather::{Behind, CloudPart};
use super::motion::Vector;
use super::place::{PlacedCloud, Placing, find};
use super::shown::Share;
use super::skin::Skin;
use crate::inspect::robust::TUKEY;
use crate::inspect::{Copied, Number, Reading, Readings, Residual, copy_neck};
use crate::measure::{Error, Fault, Kind};
use crate::shape::Neck;
use crate::spec::{CloudOptions, CopyOptions, Judging, KnotChoice, Specification};

/// A neck copied from its scan: its specification, and how the scan lies to it and stands off it.
#[derive(Clone, Debug, serde::Serialize)]
#[non_exhaustive]
pub struct CopiedCloud {
    /// The scan on the copied neck: what its points stand off it is what no neck of this sort explains.
    pub placed: PlacedCloud,
    /// The copy, from [`readings`](Self::readings).
    pub copied: Copied,
    /// The readings that the copy was made from, which its [`residuals`](Copied::residuals) and [`unused`](Copied::unused) number:
    /// those of the placement before, on which the last pose was fitted to the copy, less what stray points made. Those of
    /// `placed` are the same points' on that last pose.
    pub readings: Readings,
}

/// Copies a neck from a cloud of scanned points in an unknown position.
///
/// `base` is a specification of roughly such a neck: scale, board, headstock, volute and heel are taken from it;
/// thicknesses, widths, carve lines and the shape of the back are found, and may be off by millimetres. The scan has to be
/// of the outside, most of the shaft's back and both its sides; what holds the pose is said at
/// [`place_cloud`](super::place_cloud).
///
/// Pose and shape are fitted in turn: the pose by robust least squares of the distances to the surface, the shaft's shape
/// let free; then all points are gathered into the mean places of cells, which are copied as readings are; then the pose
/// again, to the copy.
///
/// Which kind of neck it is, even or not, with which stations, is looked for by 100,000 points. More then tell its numbers only;
/// where all of them together do not settle, the copy is that of the 100,000, as uncertain as those make it.
///
/// A scan may be of uneven density, or of a part of the neck: what was not seen is kept from the base and said so. Look at the
/// copy's [`p_value`](Copied::p_value), its uncertainties and the [`departures`](PlacedCloud::departures) before anything is
/// cut by it: what no neck of this sort explains shows there.
///
/// Where the scan shows the board's face and both sides, over more than two thirds of the length over which it shows the back, each
/// face of headstock and heel but the ends' own may be half a millimetre (standard) off the base's, at its near and its far end by
/// itself, so that its angle may be another: of 16 random necks, 30,000 points each, the mean square of what thicknesses were off
/// over what was told was 1.2, of widths 0.7. Without the face, depth rests on the base's headstock and heel, and the uncertainties of
/// thicknesses (0.3 mm and more) have that; widths are then off by a third more than they are told (mean square 1.9, the furthest
/// 3.8 of its uncertainty). A headstock or heel that is further off than that is not covered. Without either side there is no copy,
/// nor where a side has so few points, a dozen or less, that strays may explain them (`tests/inspect_cloud/parts.rs`).
///
/// An end of the neck has to be in the scan too: headstock, heel, an end of the board, or the back where volute or sweep begins. The
/// shape of a shaft alone, which is fitted to the place where the scan was put, does not tell that place; and where nothing but that
/// back shows an end, the copy has to explain the scan (`p` above 1e-4; `tests/inspect_cloud/ends.rs`).
///
/// Known faults: of twenty scans that are a hundred times thinner at the only end which holds them along, twelve are copied right; the
/// others are refused or say that they are unsure (`tests/inspect_cloud/density.rs`). Where the neck's stations are none that
/// are tried, thicknesses are off by 4 to 12 of what is told, by 0.02 mm at a million points and 0.03 mm at a hundred thousand; the
/// chance of the scatter shows it of many points, of fewer not always.
///
/// # Errors
/// - as [`place_cloud`](super::place_cloud);
/// - a scan that does not show both of the board's sides, or no end of the neck;
/// - as [`copy_neck`].
pub fn copy_cloud(
    base: &Specification,
    points_mm: &[Vector],
    options: &CloudOptions,
) -> Result<CopiedCloud, Error> {
    options.check()?;
    let neck = Neck::new(base)?;
    let skin = Skin::new(&neck);
    let placing = find(&neck, &skin, points_mm, options)?;
    // A shape that is fitted to a place holds none: wherever the scan was put, the copy goes along.
    placing.held_along(false)?;
    if let Some((side, share)) = placing.fit.shown.lacking_side() {
        return Err(sideless(side, share));
    }
    let mut spec = neck.normalised().clone();
    spec.hand = placing.hand_found();
    let many = points_mm.len() > 2 * KIND_BY;
    let sample = if many { thinned(points_mm, KIND_BY) } else { Vec::new() };
    let first = if many { &sample } else { points_mm };
    let (placed, behind) = seen(&neck, &skin, &placing, first, options)?;
    let mut work = Work { points: first, options, neck, skin, placing, spec, placed, behind };
    let mut found = work.found().map_err(of_scan)?;
    if many {
        work.points = points_mm;
        found = work.sharpened(found).map_err(of_scan)?;
    }
    let (copied, readings) = found.made;
    work.placing.held_along(false)?;
    work.placing.held_by_rise(copied.p_value.is_none_or(|p| p > RARE))?;
    Ok(CopiedCloud { placed: work.placed, copied, readings })
}

/// A copy whose scatter is rarer explains no scan.
const RARE: f64 = 1e-4;

/// By so many points the kind of neck is looked for where there are many more, which then only tell its numbers.
const KIND_BY: usize = 100_000;

/// All points on a neck as they are placed now.
fn seen(
    neck: &Neck,
    skin: &Skin,
    placing: &Placing,
    points: &[Vector],
    options: &CloudOptions,
) -> Result<(PlacedCloud, Vec<Behind>), Error> {
    let gathered = placing.gather(neck, skin, points, options);
    placing.report(neck, skin, &gathered, options)
}

/// A copy and the readings that it was made from.
type Made = (Copied, Readings);

/// A copy, and the kind of neck that explains the scan: even or not, with the stations of the specification it starts from.
struct Found {
    made: Made,
    family: CopyOptions,
}

/// Numbers of thicknesses and of shapes that are tried in turn where the base's own stations don't explain the scan.
const DENSER: [[u32; 2]; 4] = [[8, 2], [12, 3], [16, 4], [24, 6]];

/// A fit is settled when no number changes by more than this part of its uncertainty.
const SETTLED: f64 = 0.2;
/// More points change numbers by no more than this many of the uncertainties before.
const SHARPER: f64 = 3.0;

/// Whether no number changed by more than so many of the uncertainties before.
fn near(before: &Copied, now: &Copied, most: f64) -> bool {
    let near = |(a, b): (&Number, &Number)| {
        a.path == b.path && libm::fabs(a.value - b.value) <= most * a.uncertainty
    };
    before.numbers.len() == now.numbers.len() && before.numbers.iter().zip(&now.numbers).all(near)
}

/// How often strays are left out.
const STRAYS: u32 = 6;

/// Mean square of what is left of the readings, over their uncertainties.
fn scatter(copied: &Copied) -> f64 {
    copied.chi2 / copied.degrees_of_freedom.max(1) as f64
}

/// Whether what is left of the readings is their noise: its mean square is 1, with a variance of `2/f`.
fn explains(copied: &Copied) -> bool {
    const SPREADS: f64 = 4.0;
    scatter(copied) < 1.0 + SPREADS * libm::sqrt(2.0 / copied.degrees_of_freedom.max(1) as f64)
}

fn even(options: &CopyOptions) -> CopyOptions {
    match options.uneven {
        Judging::Judged => CopyOptions { uneven: Judging::Never, ..options.clone() },
        _ => options.clone(),
    }
}

/// The copy; where it does not settle and both may be tried, as an even neck where an uneven one was thought of, and the
/// other way round.
fn made_from(
    base: &Specification,
    readings: &Readings,
    options: &CopyOptions,
    both: bool,
) -> Result<Copied, Error> {
    let first = copy_neck(base, readings, options);
    let other = match options.uneven {
        Judging::Judged if both => Judging::Never,
        Judging::Never if both => Judging::Judged,
        _ => return first,
    };
    first.or_else(|error| {
        copy_neck(base, readings, &CopyOptions { uneven: other, ..options.clone() }).map_err(|_| error)
    })
}

/// The error of a copy as one of the scan: its readings are of cells that nobody gave.
fn of_scan(error: Error) -> Error {
    let all = error.faults().iter().map(|fault| {
        if !fault.path.starts_with("readings") {
            return fault.clone();
        }
        Fault::new(fault.kind, "points_mm", fault.reason.clone()).remedy(
            "give a base whose other numbers suit the scanned neck, or give them as readings to copy_neck",
        )
    });
    Error::unless_none(all.collect()).err().unwrap_or(error)
}

/// The back alone tells width and carve line together, and neither of them by itself.
fn sideless(side: CloudPart, share: Share) -> Error {
    let name = side.name();
    let fault = if share.points < share.fewest {
        let reason = format!("the scan does not show the board's {name}, and no width is told");
        Fault::new(Kind::Missing, "points_mm", reason)
            .value(share.points, "points on it of those looked at")
            .range(share.fewest as f64, None)
    } else {
        let reason = format!(
            "the scan shows the board's {name} over too little of the length over which it shows the back"
        );
        Fault::new(Kind::Missing, "points_mm", reason)
            .value(format!("{} of {}", share.parts, share.of), "sixths of the board's length")
    };
    fault.remedy("scan both sides, or give the width as readings to copy_neck").into()
}

/// How long pose and shape are fitted in turn.
#[derive(Clone, Copy)]
enum Until<'a> {
    /// Until the numbers stay.
    Settled,
    /// So many rounds at the most.
    Rounds(u32),
    /// Not further where the first numbers are near what fewer points told: no reading is then gathered far from the surface
    /// that it tells.
    Near(&'a Copied),
}

/// A scan on the neck that it is fitted to so far.
struct Work<'a> {
    points: &'a [Vector],
    options: &'a CloudOptions,
    neck: Neck,
    skin: Skin,
    placing: Placing,
    spec: Specification,
    placed: PlacedCloud,
    behind: Vec<Behind>,
}

impl Work<'_> {
    /// The copy by the readings as they are now, the pose's uncertainty in that of its numbers. What lies far off it is left
    /// out where a stray point may have made it, the worst first, and the copy made again.
    fn copied(&self, from: &Specification, options: &CopyOptions) -> Result<Made, Error> {
        let mut kept: Vec<(Reading, Behind)> =
            self.placed.readings.iter().copied().zip(self.behind.iter().copied()).collect();
        let mut turn = 0;
        // Whether the sides are alike is ours to find out only where it was left to us.
        let both = self.options.copying.uneven == Judging::Judged;
        let (mut copied, readings) = loop {
            let readings = Readings::new(kept.iter().map(|(reading, _)| *reading).collect())?;
            let copied = made_from(from, &readings, options, both)?;
            turn += 1;
            let mut sizes: Vec<f64> = copied.residuals.iter().map(|r| r.standardised).collect();
            let usual = spread(&mut sizes).max(1.0);
            let few = |r: &Residual| kept.get(r.reading).is_some_and(|(_, behind)| behind.few);
            let suspects = copied.residuals.iter().filter(|r| few(r));
            let worst = suspects.clone().map(|r| libm::fabs(r.standardised)).fold(0.0, f64::max);
            let most = (TUKEY * usual).max(0.5 * worst);
            if worst <= most || turn > STRAYS {
                break (copied, readings);
            }
            let stray: Vec<usize> =
                suspects.filter(|r| libm::fabs(r.standardised) > most).map(|r| r.reading).collect();
            let mut i = 0;
            kept.retain(|_| {
                i += 1;
                stray.binary_search(&(i - 1)).is_err()
            });
        };
        let errors = self.placing.known(&self.neck).errors();
        let causes = [0, 1, 2, 3, 4, 5].map(|way| -> Vec<f64> {
            let off = |by_pose: &[f64; 6]| (0..6).map(|k| by_pose[k] * errors[k][way]).sum();
            kept.iter().map(|(_, behind)| off(&behind.by_pose)).collect()
        });
        copied.widen(causes.to_vec())?;
        Ok((copied, readings))
    }

    /// The kind of neck that explains the scan. The first readings are of a surface that is still a millimetre off and make an
    /// even neck seem uneven: an even one it is until that does not explain the scan.
    fn found(&mut self) -> Result<Found, Error> {
        let options = self.options;
        let by_base = CopyOptions { stations: KnotChoice::Base, ..options.copying.clone() };
        let family = even(&by_base);
        let first = self.held_to(&self.spec.clone(), &family, Until::Settled);
        let mut best = match first {
            Ok(made) if explains(&made.0) => return Ok(Found { made, family }),
            other => other,
        };
        let source = self.neck.clone();
        let free = options.copying.stations != KnotChoice::Base;
        let denser = DENSER.iter().filter(|_| free).map(|[thicknesses, profiles]| {
            let most = [options.copying.most_thicknesses, options.copying.most_profiles];
            denser(&source, *thicknesses.min(&most[0]), *profiles.min(&most[1]))
        });
        // Each is looked at by two rounds, and the chosen one then held to.
        let tried = best.is_ok() && by_base == family;
        let own = core::iter::once(self.spec.clone()).filter(|_| !tried);
        let mut chosen = None;
        for from in own.chain(denser) {
            // A family that does not settle is none to choose.
            let Ok((copied, _)) = self.held_to(&from, &by_base, Until::Rounds(2)) else { continue };
            if best.as_ref().is_ok_and(|(best, _)| scatter(best) <= scatter(&copied))
                || chosen.as_ref().is_some_and(|best| scatter(best) <= scatter(&copied))
            {
                continue;
            }
            let explained = explains(&copied);
            chosen = Some(copied);
            if explained {
                break;
            }
        }
        let mut kind = family;
        if let Some(chosen) = chosen.filter(|chosen| self.turn_to(chosen).is_ok()) {
            let made = self.held_to(&chosen.specification, &by_base, Until::Settled);
            let better = match (&best, &made) {
                (Ok(best), Ok(made)) => scatter(&made.0) < scatter(&best.0),
                (best, _) => best.is_err(),
            };
            if better {
                (best, kind) = (made, by_base);
            }
        }
        let found = Found { made: best?, family: kind };
        self.stand_on(&found.made.0)?;
        Ok(found)
    }

    /// What was found by fewer points, by all of them. More points may tell that the sides differ where fewer did not.
    fn sharpened(&mut self, found: Found) -> Result<Found, Error> {
        self.turn_to(&found.made.0)?;
        let from = self.spec.clone();
        let judged = CopyOptions { uneven: self.options.copying.uneven, ..found.family.clone() };
        let mut best: Option<Found> = None;
        for family in [found.family.clone(), judged] {
            if best.as_ref().is_some_and(|best| explains(&best.made.0) || best.family == family) {
                break;
            }
            let Ok(made) = self.held_to(&from, &family, Until::Near(&found.made.0)) else { continue };
            if best.as_ref().is_none_or(|best| scatter(&made.0) < scatter(&best.made.0)) {
                best = Some(Found { made, family });
            }
        }
        let best = best.unwrap_or(found);
        self.stand_on(&best.made.0)?;
        Ok(best)
    }

    /// The pose on a copy, where another one was looked at last.
    fn stand_on(&mut self, copied: &Copied) -> Result<(), Error> {
        if self.spec == copied.specification { Ok(()) } else { self.turn_to(copied) }
    }

    /// A kind of neck fitted and the pose to it in turn, until the numbers stay.
    fn held_to(
        &mut self,
        from: &Specification,
        family: &CopyOptions,
        until: Until<'_>,
    ) -> Result<Made, Error> {
        let mut made = self.copied(from, family)?;
        self.turn_to(&made.0)?;
        let rounds = match until {
            Until::Near(fewer) if near(fewer, &made.0, SHARPER) => 1,
            Until::Rounds(rounds) => rounds.min(self.options.rounds),
            Until::Near(_) | Until::Settled => self.options.rounds,
        };
        for _ in 1..rounds {
            let again = self.copied(&self.spec, family)?;
            let same = near(&made.0, &again.0, SETTLED);
            made = again;
            self.turn_to(&made.0)?;
            if same {
                break;
            }
        }
        Ok(made)
    }

    /// From here on against a copy: the pose is fitted to it again.
    fn turn_to(&mut self, copied: &Copied) -> Result<(), Error> {
        self.neck = Neck::new(&copied.specification)?;
        self.skin = Skin::new(&self.neck);
        self.spec.clone_from(&copied.specification);
        self.placing.fit.field = Field::new(&self.neck);
        self.placing.settle(&self.skin, self.points, self.options)?;
        (self.placed, self.behind) = seen(&self.neck, &self.skin, &self.placing, self.points, self.options)?;
        Ok(())
    }
}

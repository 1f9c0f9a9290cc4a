//! A neck copied from its scan.

use alloc::vec::Vec;

use super::denser::denser;
use super::field::Field;
use super::fit::{BIWEIGHT, Known, spread};
use super::gather::Behind;
use super::motion::Vector;
use super::place::{PlacedCloud, Placing, find};
use super::skin::Skin;
use crate::inspect::{Copied, Number, Reading, Readings, Residual, copy_neck};
use crate::measure::{Error, Fault, Kind};
use crate::shape::Neck;
use crate::spec::{CloudOptions, CopyOptions, Judging, KnotChoice, Specification};

/// A neck copied from its scan: its specification, and how the scan lies to it and stands off it.
#[derive(Clone, Debug)]
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
/// A scan may be of uneven density, or of a part of the neck: what was not seen is kept from the base and said so. Look at the
/// copy's [`p_value`](Copied::p_value), its uncertainties and the [`departures`](PlacedCloud::departures) before anything is
/// cut by it: what no neck of this sort explains shows there. Without the board's face or one of its sides the copy rests on the
/// base's headstock and heel, and its uncertainties say that those may be half a millimetre off. A part that is a hundred times thinner at the only end which holds
/// it along is not safe: of twenty such scans one was off by 0.06 mm, 4.2 of its uncertainties, with no sign
/// (`inspect_cloud_density.rs`).
///
/// Known faults: a scan that shows headstock and heel is laid on the base's as if they were exact. Where their faces were half a
/// millimetre (standard) off the base's, thicknesses of sixteen scanned necks were off by up to 134 of the uncertainties told:
/// measure headstock and heel, and give them to the base. Of a neck whose sides differ, single stations were off by 7 to 9 of the
/// uncertainties told (0.01 to 0.02 mm), and the chance told was as small as 1e-13 though the copy was as near as that; where
/// the base's stations don't explain the scan it is fitted several times over, which takes two to three times as long.
///
/// # Errors
/// - as [`place_cloud`](super::place_cloud);
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
    let mut spec = neck.normalised().clone();
    spec.hand = placing.hand_found();
    let (placed, behind, known) = seen(&neck, &skin, &placing, points_mm, options)?;
    let mut work = Work { points: points_mm, options, neck, skin, placing, spec, placed, behind, known };
    // The first readings are of a surface that is still a millimetre off and make an even neck seem uneven: an even one it
    // is until that does not explain the scan.
    let by_base = CopyOptions { stations: KnotChoice::Base, ..options.copying.clone() };
    let mut result = Err(none());
    for _ in 0..options.rounds {
        let again = work.copied(&work.spec, &even(&by_base));
        let same = result
            .as_ref()
            .is_ok_and(|(before, _): &Made| again.as_ref().is_ok_and(|(now, _)| settled(before, now)));
        result = again;
        let Ok((copied, _)) = &result else { break };
        work.turn_to(copied)?;
        if same {
            break;
        }
    }
    if !result.as_ref().is_ok_and(|(copied, _)| explains(copied)) {
        let source = work.neck.clone();
        let free = options.copying.stations != KnotChoice::Base;
        let denser = DENSER.iter().filter(|_| free).map(|[thicknesses, profiles]| {
            let most = [options.copying.most_thicknesses, options.copying.most_profiles];
            denser(&source, *thicknesses.min(&most[0]), *profiles.min(&most[1]))
        });
        for from in core::iter::once(work.spec.clone()).chain(denser) {
            // A family that does not settle is none to choose.
            let Ok((copied, readings)) = work.copied(&from, &by_base) else { continue };
            if result.as_ref().is_ok_and(|(best, _)| scatter(best) <= scatter(&copied)) {
                continue;
            }
            work.turn_to(&copied)?;
            let explained = explains(&copied);
            result = Ok((copied, readings));
            if explained {
                break;
            }
        }
        if let Ok(again) = work.copied(&work.spec, &by_base) {
            // Once more, with readings that were gathered close to the surface that they tell.
            work.turn_to(&again.0)?;
            result = Ok(again);
        }
    }
    let (copied, readings) = result?;
    Ok(CopiedCloud { placed: work.placed, copied, readings })
}

/// All points on a neck as they are placed now.
fn seen(
    neck: &Neck,
    skin: &Skin,
    placing: &Placing,
    points: &[Vector],
    options: &CloudOptions,
) -> Result<(PlacedCloud, Vec<Behind>, Known), Error> {
    let gathered = placing.gather(neck, skin, points, options);
    let (placed, behind) = placing.report(neck, skin, &gathered, options)?;
    Ok((placed, behind, placing.known(neck, &gathered)))
}

/// A copy and the readings that it was made from.
type Made = (Copied, Readings);

/// Numbers of thicknesses and of shapes that are tried in turn where the base's own stations don't explain the scan.
const DENSER: [[u32; 2]; 4] = [[8, 2], [12, 3], [16, 4], [24, 6]];

/// Whether no number changed by more than a small part of its uncertainty.
fn settled(before: &Copied, now: &Copied) -> bool {
    const PART: f64 = 0.2;
    let near = |(a, b): (&Number, &Number)| {
        a.path == b.path && libm::fabs(a.value - b.value) <= PART * b.uncertainty
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

fn none() -> Error {
    Fault::new(Kind::Missing, "points_mm", "nothing of the shaft was seen")
        .remedy("scan the shaft's back too")
        .into()
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
    known: Known,
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
            let most = (BIWEIGHT * usual).max(0.5 * worst);
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
        let errors = self.known.errors();
        let causes = [0, 1, 2, 3, 4, 5].map(|way| -> Vec<f64> {
            let off = |by_pose: &[f64; 6]| (0..6).map(|k| by_pose[k] * errors[k][way]).sum();
            kept.iter().map(|(_, behind)| off(&behind.by_pose)).collect()
        });
        copied.widen(causes.to_vec())?;
        Ok((copied, readings))
    }

    /// From here on against a copy: the pose is fitted to it again.
    fn turn_to(&mut self, copied: &Copied) -> Result<(), Error> {
        self.neck = Neck::new(&copied.specification)?;
        self.skin = Skin::new(&self.neck);
        self.spec.clone_from(&copied.specification);
        self.placing.fit.field = Field::new(&self.neck);
        self.placing.settle(&self.skin, self.points, self.options)?;
        (self.placed, self.behind, self.known) =
            seen(&self.neck, &self.skin, &self.placing, self.points, self.options)?;
        Ok(())
    }
}

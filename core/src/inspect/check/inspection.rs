//! The inspection.

use alloc::string::String;
use alloc::vec::Vec;

use super::doubt::Doubt;
use super::fair::{HALF_HEIGHT, flats_and_bumps};
use super::finding::{Finding, FindingKind, Lowest};
use super::gather::{Frame, Gathered, gather};
use super::low::{low_patches, mean};
use super::map::{Map, map};
use super::place::Place;
use super::row::{Deviation, Row};
use super::sentence::{Wrong, sentences, set_aside};
use super::sequence::{Line, Sequence};
use crate::carve::Stage;
use crate::inspect::Readings;
use crate::inspect::readings::Fingerprint;
use crate::measure::{Error, Fault, Kind, Station, quoted};
use crate::shape::Neck;
use crate::spec::{InspectionOptions, Specification, StageName};

/// What readings say about a neck on the bench.
#[derive(Clone, Debug, PartialEq, serde::Serialize)]
#[non_exhaustive]
pub struct Inspection {
    /// Every reading against the neck, in the order given.
    pub rows: Vec<Row>,
    /// The stage that was asked for.
    pub stage: Option<StageName>,
    /// Readings that contradict each other, in pairs.
    pub doubtful: Vec<Doubt>,
    /// Readings, by their places, that lie more than 5 mm below the finished neck, of a girth more than 10 mm, and more than six
    /// of their standard uncertainties: no tool takes so much by mistake (our own choice), so that they are likelier misread, or
    /// of another neck. They are named in a sentence and, like those in doubt, [set aside](Self::set_aside).
    pub misread: Vec<usize>,
    /// Where the wood lies below the finished neck, the clearest first.
    pub low: Vec<Finding>,
    /// Where the wood departs from a fair surface, the clearest first, whatever allowance is still on.
    pub unfair: Vec<Finding>,
    /// What is left to take to the finished neck, from the nut to the heel; `None` without a thickness or a point there.
    pub map: Option<Map>,
    /// What is left to take to the stage that was asked for.
    pub stage_map: Option<Map>,
    /// All of it in plain words for the bench, each place once: where a low patch tells, neither a hollow nor a station does.
    /// What stands behind ± is twice the standard uncertainty.
    pub sentences: Vec<String>,
    /// The readings that were inspected.
    #[serde(skip)]
    read: Fingerprint,
    /// The neck that they were held against.
    #[serde(skip)]
    of: Specification,
}

impl Inspection {
    /// The readings, by their places, rising, that are set aside because they contradict another one or are likelier
    /// [misread](Self::misread). They have their row, and a sentence that asks to read again; nothing else is built on them.
    #[must_use]
    pub fn set_aside(&self) -> Vec<usize> {
        set_aside(&self.doubtful, &self.misread)
    }

    /// Whether it is this neck that was inspected.
    ///
    /// # Errors
    /// - [`Kind::Conflict`]: another one. Necks that differ in nothing but their name are one.
    pub fn check_of(&self, neck: &Neck) -> Result<(), Error> {
        let name = self.of.name.clone();
        if self.of == (Specification { name, ..neck.normalised().clone() }) {
            return Ok(());
        }
        let fault = Fault::new(Kind::Conflict, "inspection", "this is the inspection of another neck");
        Err(fault.remedy("give the neck that was inspected, or inspect this one").into())
    }

    /// The readings that low patches were found in, all of them but those [set aside](Self::set_aside): what
    /// [`mend`](Neck::mend) is given. Those that lie above the finished neck by their noise are among them, or what is
    /// left would tell of a deeper place than there is. So are those within 10 mm of a patch's ends, along the neck or around
    /// the section, as far as they are likelier of the patch, by its mean, than of the finished neck: where a patch ends is
    /// found only roughly. They keep their [numbers](Readings::number).
    ///
    /// # Errors
    /// - [`Kind::Conflict`]: readings that are not those that were inspected, in the same order. Their name and the lines they
    ///   stood on may be others.
    pub fn low_readings(&self, readings: &Readings) -> Result<Readings, Error> {
        let given = Fingerprint::of(readings);
        if given != self.read {
            let reason = if given.count == self.read.count {
                "some of these are not the readings that were inspected, or stand in another order"
            } else {
                "these are not the readings that were inspected, of which there are more or fewer"
            };
            let fault = Fault::new(Kind::Conflict, "readings", reason).value(given.count, "entries");
            let count = self.read.count as f64;
            let fault = if given.count == self.read.count { fault } else { fault.range(count, count) };
            return Err(fault
                .remedy("give the readings that this inspection was made of, or inspect these")
                .into());
        }
        let aside = self.set_aside();
        let sure = |row: &&Row| row.finished.is_some() && aside.binary_search(&row.reading).is_err();
        let mut rows: Vec<&Row> = self.rows.iter().filter(sure).collect();
        rows.sort_by(|a, b| a.x_mm.total_cmp(&b.x_mm));
        let mut which: Vec<usize> = self.low.iter().flat_map(|finding| of_patch(finding, &rows)).collect();
        which.sort_unstable();
        which.dedup();
        Ok(readings.picked(&which))
    }
}

/// So far beyond the ends of a patch there may be more of it, mm.
const BESIDE_MM: f64 = 10.0;

/// The readings of a low patch, of rows in order along the neck: those between its ends, and on either side as many as are
/// likeliest of it, by the likelihood of normal noise.
fn of_patch(finding: &Finding, rows: &[&Row]) -> Vec<usize> {
    let wider = |[from, to]: [f64; 2]| [from - BESIDE_MM, to + BESIDE_MM];
    let mut wide = *finding;
    match &mut wide.around_mm {
        Some(around) => *around = wider(*around),
        None => wide.x_mm = wider(wide.x_mm),
    }
    let first = rows.partition_point(|row| row.x_mm <= wide.x_mm[0] - Station::LEAST_GAP_MM);
    let near = rows.iter().skip(first).take_while(|row| row.x_mm < wide.x_mm[1] + Station::LEAST_GAP_MM);
    let mut all = Vec::new();
    let mut beside: [Vec<(f64, f64, usize)>; 2] = Default::default();
    for row in near.filter(|row| wide.holds(row)) {
        if finding.holds(row) {
            all.push(row.reading);
            continue;
        }
        let Some(Deviation { mm, uncertainty_mm }) = row.finished else { continue };
        let (at, ends) = match finding.around_mm {
            Some(ends) => (row.around_mm.unwrap_or(0.0), ends),
            None => (row.x_mm, finding.x_mm),
        };
        // Half the difference of the squares of what it lies off either, in uncertainties.
        let gain =
            finding.amplitude_mm * (mm - 0.5 * finding.amplitude_mm) / (uncertainty_mm * uncertainty_mm);
        let beyond = usize::from(at > ends[1]);
        let away = if beyond == 1 { at - ends[1] } else { ends[0] - at };
        if let Some(side) = beside.get_mut(beyond) {
            side.push((away, gain, row.reading));
        }
    }
    for mut side in beside {
        side.sort_by(|a, b| a.0.total_cmp(&b.0));
        let (mut sum, mut most, mut count) = (0.0, 0.0, 0);
        for (i, (_, gain, _)) in side.iter().enumerate() {
            sum += gain;
            if sum > most {
                (most, count) = (sum, i + 1);
            }
        }
        all.extend(side.iter().take(count).map(|(_, _, reading)| *reading));
    }
    all
}

impl Neck {
    /// Inspects readings against the finished neck.
    ///
    /// *Low patches* are looked for in every row of deviations that there is: of thickness, width, girth and either carve
    /// line along the neck, and of the points around each section, with the thicknesses read there as its place at the
    /// spine. Stretches of one and more neighbouring places are tested for a mean below 0. Places more than 100 mm apart
    /// along the neck, or 15 mm around it, are no neighbours, and a place that is not below 0 and lies more than 2.5 combined
    /// standard uncertainties above the mean of the others ends a stretch.
    ///
    /// *Flats and bumps* are looked for along the spine (thickness, and points next to it) and around each section: kernels
    /// `(1 − d²)²` of several widths at many places, each fitted beside a fair curve. Along the spine that is a polynomial of
    /// degree 1 (fewer than 10 places), 2 (fewer than 16) or 3; around a section one of degree 2 and an allowance along the
    /// spine, even or slanting, as it lies square to the finished section. So an allowance is no bump and
    /// no allowance hides one. The places of what is found hold the fair curve no more when the rest is looked at again. A step
    /// or a single place has no kernel's shape: where one stands out by eight standard uncertainties beside the fair curve and
    /// is no longer than three tenths of the row, something is told wholly outside of it in no more than two of a hundred
    /// rows (at a significance of 0.01); of less, in up to a quarter of them. A single place may be told as a narrow bump or
    /// hollow, or not at all.
    /// Nothing is said of fewer than 7 places along the spine or 9 around a section (places less
    /// than 0.1 mm apart along, 0.05 mm around are one, for low patches too), and of four
    /// places no more than one departure is told, of a row no more than 8. In a row of more than 96 places they are looked
    /// for in the means over as many equal parts of its length; low patches are looked for in all of its places.
    ///
    /// Either question is answered so that on a neck without anything to find an answer other than "nothing" is given no
    /// more often than [`InspectionOptions::significance`]: the chance of the greatest of all statistics is reckoned with
    /// the correlations that they have (see [`Finding::p_value`]). It is reckoned too large rather than too small: false
    /// alarms come at 0.65 to 1 of the stated rate, the least where the readings lie in clusters or are unequally sure. That
    /// holds for readings that err independently, normally and as much as they say.
    ///
    /// Readings of one place that can't both be right are named as [`Inspection::doubtful`] (see [`Doubt`] for when two are
    /// held to contradict each other). They and those that are likelier misread are [set aside](Inspection::set_aside).
    ///
    /// Points on the board's face and radii of it have their deviation and their sentence; nothing is looked for in them.
    ///
    /// # Errors
    /// - options out of their bounds;
    /// - readings that can't be of this neck: see [`Readings::check_on`].
    pub fn inspect(&self, readings: &Readings, options: &InspectionOptions) -> Result<Inspection, Error> {
        self.inspected(readings, None, options)
    }

    /// Inspects readings against the wood that a stage of this neck's carving plan leaves, and against the finished neck.
    ///
    /// Low patches are still those below the finished neck; flats and bumps are departures from what the stage leaves. Where
    /// its surface steps along the spine, as where a cut ends, the row of the spine is two, each with its own fair curve.
    ///
    /// # Errors
    /// - [`Kind::Conflict`]: a stage of another neck's plan. Necks that differ in nothing but their name are one;
    /// - as [`inspect`](Self::inspect).
    pub fn inspect_stage(
        &self,
        readings: &Readings,
        stage: &Stage,
        options: &InspectionOptions,
    ) -> Result<Inspection, Error> {
        if !stage.wood.is_of(self) {
            let reason = "this stage is of a plan that was made for another neck";
            return Err(Fault::new(Kind::Conflict, "stage", reason)
                .value(quoted(stage.name.name()), "")
                .remedy("give a stage of this neck's own carving plan")
                .into());
        }
        self.inspected(readings, Some(stage), options)
    }

    fn inspected(
        &self,
        readings: &Readings,
        stage: Option<&Stage>,
        options: &InspectionOptions,
    ) -> Result<Inspection, Error> {
        options.check()?;
        let (placed, wood) = (readings.placed(self)?, stage.map(|stage| &stage.wood));
        let mut gathered = gather(self, &placed, wood, &[])?;
        let mut misread: Vec<usize> =
            gathered.rows.iter().filter(|r| r.is_misread()).map(|r| r.reading).collect();
        misread.sort_unstable();
        let aside = set_aside(&gathered.doubtful, &misread);
        if !aside.is_empty() {
            gathered = gather(self, &placed, wood, &aside)?;
        }
        let Gathered { rows, around, low, fair, spots, stage_spots, doubtful } = gathered;
        let low = low_findings(&low, &around, options.significance);
        let unfair = unfair_findings(&fair, &around, options.significance);
        // The back is one surface from the nut to the heel.
        let stretch = [0.0, self.built().sweep.start];
        let kept = |mut spots: Vec<_>| {
            spots.retain(|s: &super::map::Spot| s.x >= stretch[0] && s.x <= stretch[1]);
            map(stretch, &spots)
        };
        let (map, stage_map) = (kept(spots), kept(stage_spots));
        let (found, wrong) = ([&*low, &unfair], Wrong { doubtful: &doubtful, misread: &misread });
        let sentences = sentences(self, readings, &rows, wrong, found, stage.is_some(), options.unit);
        // Rows are long, and moved once.
        let mut order = alloc::vec![0; rows.len()];
        for (k, row) in rows.iter().enumerate() {
            if let Some(place) = order.get_mut(row.reading) {
                *place = k;
            }
        }
        let mut in_order = Vec::with_capacity(rows.len());
        in_order.extend(order.into_iter().filter_map(|k| rows.get(k).copied()));
        let stage = stage.map(|stage| stage.name);
        let read = Fingerprint::of(readings);
        Ok(Inspection {
            rows: in_order,
            stage,
            doubtful,
            misread,
            low,
            unfair,
            map,
            stage_map,
            sentences,
            read,
            of: self.normalised().clone(),
        })
    }
}

fn line_place(line: Line) -> Place {
    match line {
        Line::Width => Place::Width,
        Line::Girth => Place::Girth,
        Line::Carve(side) => Place::CarveLine(side),
        Line::Spine | Line::Section(_) => Place::Spine,
    }
}

fn low_findings(sequences: &[Sequence], around: &[Frame], significance: f64) -> Vec<Finding> {
    let mut found: Vec<Finding> = low_patches(sequences, significance)
        .into_iter()
        .filter_map(|low| {
            let sequence = sequences.get(low.sequence)?;
            let data = sequence.data.get(low.places.clone())?;
            let ends = [data.first()?.ends[0], data.last()?.ends[1]];
            let [amplitude_mm, uncertainty_mm] = mean(sequence, low.places);
            let lowest = data.iter().min_by(|a, b| a.value.total_cmp(&b.value))?;
            let deviation = Deviation { mm: lowest.value, uncertainty_mm: 1.0 / libm::sqrt(lowest.weight) };
            let (place, x_mm, around_mm, lowest) = match sequence.line {
                Line::Section(i) => {
                    let section = around.get(i)?;
                    let lowest = Lowest { x_mm: section.x, around_mm: Some(lowest.at), deviation };
                    (section.place_at(lowest.around_mm?), [section.x; 2], Some(ends), lowest)
                }
                line => {
                    let lowest = Lowest { x_mm: lowest.at, around_mm: None, deviation };
                    (line_place(line), ends, None, lowest)
                }
            };
            let (kind, p_value, lowest) = (FindingKind::Low, low.p, Some(lowest));
            Some(Finding { kind, place, x_mm, around_mm, amplitude_mm, uncertainty_mm, lowest, p_value })
        })
        .collect();
    found.sort_by(|a, b| a.p_value.total_cmp(&b.p_value));
    found
}

fn unfair_findings(sequences: &[Sequence], around: &[Frame], significance: f64) -> Vec<Finding> {
    let finding = |bump: super::fair::Bump| {
        let ends = [-HALF_HEIGHT, HALF_HEIGHT].map(|half| bump.centre + half * bump.width);
        let raised = bump.height > 0.0;
        let (kind, place, x_mm, around_mm) = match sequences.get(bump.sequence)?.line {
            Line::Section(i) => {
                let section = around.get(i)?;
                let kind = if raised { FindingKind::Bump } else { FindingKind::Flat };
                (kind, section.place_at(bump.centre), [section.x; 2], Some(ends))
            }
            line => {
                let kind = if raised { FindingKind::Bump } else { FindingKind::Hollow };
                (kind, line_place(line), ends, None)
            }
        };
        let (amplitude_mm, uncertainty_mm, p_value) = (bump.height, bump.uncertainty, bump.p);
        Some(Finding { kind, place, x_mm, around_mm, amplitude_mm, uncertainty_mm, lowest: None, p_value })
    };
    flats_and_bumps(sequences, significance).into_iter().filter_map(finding).collect()
}

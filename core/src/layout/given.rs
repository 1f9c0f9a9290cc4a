//! What a specification gives of the layout, and the rules for what it leaves out.

use alloc::format;
use alloc::string::{String, ToString};
use alloc::vec::Vec;

use super::strings::usual_gauges_mm;
use super::temperament::Temperament;
use crate::measure::{Error, Fault, Kind};
use crate::spec::{FretRule, Frets, Radius, Scale, Specification, Strings};

/// By how much the outer strings' centres stand closer than the nut is wide, where nothing is said. Common practice, no
/// source.
const NUT_MARGINS_MM: f64 = 7.0;
/// The most that a specification takes for the strings' spread at the nut.
const WIDEST_SPREAD_MM: f64 = 110.0;

/// One scale, or a bass and a treble scale, mm.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) enum Lengths {
    Single(f64),
    Double(f64, f64),
}

impl Lengths {
    pub(super) fn mean(self) -> f64 {
        match self {
            Self::Single(length) => length,
            Self::Double(bass, treble) => 0.5 * (bass + treble),
        }
    }
}

/// Two results, or the faults of both.
pub(super) fn both<A, B>(a: Result<A, Error>, b: Result<B, Error>) -> Result<(A, B), Error> {
    match (a, b) {
        (Ok(a), Ok(b)) => Ok((a, b)),
        (Err(error), Ok(_)) | (Ok(_), Err(error)) => Err(error),
        (Err(a), Err(b)) => {
            let all = a.faults().iter().chain(b.faults()).cloned().collect();
            Err(Error::unless_none(all).err().unwrap_or(a))
        }
    }
}

/// What a specification gives that has passed its own check, where its fields don't contradict one another.
pub(super) struct Given {
    pub(super) lengths: Lengths,
    pub(super) temperament: Temperament,
    pub(super) gauges: Vec<f64>,
    /// Spread of the outer strings' centres at the nut and at the bridge, mm; 0 for one string.
    pub(super) spreads: (f64, f64),
}

impl Given {
    pub(super) fn read(spec: &Specification) -> Result<Self, Error> {
        let strings = both(gauges(&spec.strings), spreads(spec));
        let ((temperament, (gauges, spreads)), ()) =
            both(both(temperament(&spec.frets), strings), check_fretboard(spec))?;
        Ok(Self { lengths: lengths(&spec.scale), temperament, gauges, spreads })
    }
}

/// The scale lengths; without any the usual one.
fn lengths(scale: &Scale) -> Lengths {
    match (scale.length, scale.bass, scale.treble) {
        (_, Some(bass), Some(treble)) => Lengths::Double(bass.mm(), treble.mm()),
        (length, ..) => Lengths::Single(length.unwrap_or(Scale::USUAL).mm()),
    }
}

/// The temperament, with as many frets as the neck has.
fn temperament(frets: &Frets) -> Result<Temperament, Error> {
    let temperament = match (frets.rule, &frets.cents, &frets.ratios) {
        (FretRule::Equal, ..) => Temperament::equal(frets.divisions)?,
        (FretRule::Eighteen, ..) => Temperament::rule_of_eighteen(),
        (FretRule::Table, Some(cents), _) => Temperament::from_cents_at(cents, "frets.cents")?,
        (FretRule::Table, None, ratios) => {
            let ratios: Vec<f64> = ratios.iter().flatten().map(|ratio| ratio.value()).collect();
            Temperament::from_ratios_at(&ratios, "frets.ratios")?
        }
    };
    let last = temperament.last_fret();
    if frets.count > last {
        let fault = Fault::new(Kind::Conflict, "frets.count", "the table ends before the last fret");
        let remedy =
            "give all frets, or end the table with a whole number of octaves, from where it begins again";
        return Err(fault.value(frets.count, "").range(0.0, f64::from(last)).remedy(remedy).into());
    }
    Ok(temperament)
}

/// The gauges, bass to treble, mm; without any the usual ones.
fn gauges(strings: &Strings) -> Result<Vec<f64>, Error> {
    match &strings.gauges {
        Some(given) => Ok(given.iter().map(|gauge| gauge.mm()).collect()),
        None => Ok(usual_gauges_mm(strings.count)?.to_vec()),
    }
}

/// Spread of the outer strings' centres at the nut and at the bridge, mm; 0 for one string.
fn spreads(spec: &Specification) -> Result<(f64, f64), Error> {
    let given = spec.nut.string_spread.map(|spread| spread.mm());
    let mut faults = Vec::new();
    if spec.strings.count == 1 {
        if let Some(spread) = given.filter(|spread| *spread != 0.0) {
            let fault = Fault::new(Kind::Conflict, "nut.string_spread", "one string has no spread");
            faults.push(fault.value(spread, "mm").remedy("take it out, or give more strings"));
        }
        if spec.scale.bass.is_some() && spec.scale.treble.is_some() {
            let fault = Fault::new(Kind::Conflict, "scale.bass", "one string has one scale");
            faults.push(fault.remedy("give scale.length instead of bass and treble"));
        }
        Error::unless_none(faults)?;
        return Ok((0.0, 0.0));
    }
    let nut = given.unwrap_or((spec.nut.width.mm() - NUT_MARGINS_MM).min(WIDEST_SPREAD_MM));
    let bridge = spec.bridge.string_spread.mm();
    for (spread, path) in [(nut, "nut.string_spread"), (bridge, "bridge.string_spread")] {
        if spread <= 0.0 {
            let fault = Fault::new(Kind::Geometry, path, "the outer strings lie on one another");
            faults.push(fault.value(spread, "mm").remedy("spread them, or have one string"));
        }
    }
    Error::unless_none(faults)?;
    Ok((nut, bridge))
}

/// What can be wrong with the fretboard's fields before anything is computed.
fn check_fretboard(spec: &Specification) -> Result<(), Error> {
    let board = &spec.fretboard;
    let mut faults = Vec::new();
    if let Some(end_radius) = board.end_radius {
        let conflict = |reason: &str, remedy: &str| {
            let fault = Fault::new(Kind::Conflict, "fretboard.end_radius", reason);
            fault.value(end_radius.mm(), "mm").remedy(remedy)
        };
        if board.radius == Radius::Flat {
            faults.push(conflict(
                "the board is flat at the nut",
                "take it out, or give fretboard.radius as a length",
            ));
        } else if board.straight_under_strings {
            let remedy = "take it out, or straight_under_strings";
            faults.push(conflict("fretboard.straight_under_strings already sets it", remedy));
        }
    }
    for (list, name) in [(&board.face_markers, "face_markers"), (&board.side_markers, "side_markers")] {
        for (i, fret) in list.iter().enumerate() {
            if list[..i].contains(fret) {
                let path: String = format!("fretboard.{name}[{i}]");
                let fault = Fault::new(Kind::Conflict, path, "this fret is in the list already");
                faults.push(fault.value(fret.to_string(), "").remedy("name each fret once"));
            }
        }
    }
    Error::unless_none(faults)
}

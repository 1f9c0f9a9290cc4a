//! What a specification gives of the layout, and the rules for what it leaves out.

use alloc::format;
use alloc::string::{String, ToString};
use alloc::vec::Vec;

use super::strings::usual_gauges_mm;
use super::temperament::Temperament;
use crate::measure::{Error, Fault, Kind};
use crate::spec::{FretRule, Frets, Radius, Scale, Specification};

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

/// What a specification gives, as far as it does not contradict itself.
pub(super) struct Given {
    pub(super) lengths: Lengths,
    pub(super) temperament: Temperament,
    pub(super) gauges: Vec<f64>,
    /// Spread of the outer strings' centres at the nut and at the bridge, mm; 0 for one string.
    pub(super) spreads: (f64, f64),
}

impl Given {
    pub(super) fn read(spec: &Specification) -> Result<Self, Error> {
        let scale_and_frets = both(lengths(&spec.scale), temperament(&spec.frets));
        let strings = both(gauges(spec), spreads(spec));
        let (((lengths, temperament), (gauges, spreads)), ()) =
            both(both(scale_and_frets, strings), check_fretboard(spec))?;
        Ok(Self { lengths, temperament, gauges, spreads })
    }
}

/// The scale lengths; without any the usual one.
fn lengths(scale: &Scale) -> Result<Lengths, Error> {
    let side = |name: &str, other: &str| {
        let reason = format!("scale.{other} is given and this is not");
        Fault::new(Kind::Missing, format!("scale.{name}"), reason).remedy("give both, or scale.length alone")
    };
    match (scale.length, scale.bass, scale.treble) {
        (None, None, None) => Ok(Lengths::Single(Scale::USUAL.mm())),
        (Some(length), None, None) => Ok(Lengths::Single(length.mm())),
        (None, Some(bass), Some(treble)) => Ok(Lengths::Double(bass.mm(), treble.mm())),
        (None, Some(_), None) => Err(side("treble", "bass").into()),
        (None, None, Some(_)) => Err(side("bass", "treble").into()),
        (Some(length), _, _) => {
            let fault =
                Fault::new(Kind::Conflict, "scale.length", "given together with scale.bass or scale.treble");
            let remedy = "give one length for all strings, or one for the bass and one for the treble side";
            Err(fault.value(length.mm(), "mm").remedy(remedy).into())
        }
    }
}

fn word(rule: FretRule) -> &'static str {
    match rule {
        FretRule::Equal => "equal",
        FretRule::Eighteen => "eighteen",
        FretRule::Table => "table",
    }
}

/// The temperament, with as many frets as the neck has.
fn temperament(frets: &Frets) -> Result<Temperament, Error> {
    let mut faults = Vec::new();
    if frets.rule != FretRule::Table {
        for (given, name) in [(frets.cents.is_some(), "cents"), (frets.ratios.is_some(), "ratios")] {
            if given {
                let reason = format!("a table, and frets.rule is \"{}\"", word(frets.rule));
                let fault = Fault::new(Kind::Conflict, format!("frets.{name}"), reason);
                faults.push(fault.remedy("take the table out, or say \"rule\": \"table\""));
            }
        }
    }
    let made = match (frets.rule, &frets.cents, &frets.ratios) {
        (FretRule::Equal, _, _) => Temperament::equal(frets.divisions),
        (FretRule::Eighteen, _, _) => Ok(Temperament::rule_of_eighteen()),
        (FretRule::Table, Some(cents), None) => Temperament::from_cents_at(cents, "frets.cents"),
        (FretRule::Table, None, Some(ratios)) => {
            let ratios: Vec<f64> = ratios.iter().map(|ratio| ratio.value()).collect();
            Temperament::from_ratios_at(&ratios, "frets.ratios")
        }
        (FretRule::Table, None, None) => {
            let fault = Fault::new(Kind::Missing, "frets.cents", "the rule \"table\" has no table");
            Err(fault.remedy("give frets.cents or frets.ratios, or another rule").into())
        }
        (FretRule::Table, Some(_), Some(_)) => {
            let fault = Fault::new(Kind::Conflict, "frets.ratios", "given together with frets.cents");
            Err(fault.remedy("give one of the two").into())
        }
    };
    let ((), made) = both(Error::unless_none(faults), made)?;
    if frets.count > made.last_fret() {
        let fault = Fault::new(Kind::Conflict, "frets.count", "the table ends before the last fret");
        let remedy =
            "give all frets, or end the table with a whole number of octaves, from where it begins again";
        let fault = fault.value(frets.count, "").range(0.0, f64::from(made.last_fret())).remedy(remedy);
        return Err(fault.into());
    }
    Ok(made)
}

/// The gauges, bass to treble, mm; without any the usual ones.
fn gauges(spec: &Specification) -> Result<Vec<f64>, Error> {
    let count = spec.strings.count;
    let Some(given) = &spec.strings.gauges else { return Ok(usual_gauges_mm(count)?.to_vec()) };
    if given.len() != count as usize || given.is_empty() {
        let reason = format!("not as many gauges as strings.count says, {count}");
        let fault = Fault::new(Kind::Conflict, "strings.gauges", reason).value(given.len(), "gauges");
        return Err(fault.remedy("give one for each string, bass to treble, or none").into());
    }
    Ok(given.iter().map(|gauge| gauge.mm()).collect())
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

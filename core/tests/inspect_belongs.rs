//! What does not belong together is refused, and what is told of readings names them as their owner numbers them.

mod common;

use neckwright::inspect::{Inspection, Measured, Mending, Reading, Readings};
use neckwright::measure::{Error, Kind, Station};
use neckwright::shape::Neck;
use neckwright::spec::{InspectionOptions, MendLimits, Specification, StageName, Stock};

fn reading(fret: f64, measured: Measured, value_mm: f64) -> Reading {
    Reading { at: Station::Fret(fret), measured, value_mm, uncertainty_mm: 0.02, line: 0 }
}

/// Widths as they should be, then thicknesses, one of them 0.5 mm low.
fn readings(neck: &Neck) -> Vec<Reading> {
    let at = |fret: f64| neck.station_mm(fret).unwrap();
    let width = |fret: f64| reading(fret, Measured::Width, neck.width_mm(at(fret)).unwrap());
    let thick =
        |fret: f64, off: f64| reading(fret, Measured::Thickness, neck.thickness_mm(at(fret)).unwrap() + off);
    let mut all: Vec<Reading> = (1..=4).map(|fret| width(f64::from(fret))).collect();
    all.extend((1..=9).map(|fret| thick(f64::from(fret), if fret == 5 { -0.5 } else { 0.2 })));
    all
}

fn inspect(neck: &Neck, readings: &Readings) -> Inspection {
    neck.inspect(readings, &InspectionOptions::default()).unwrap()
}

fn refused(error: &Error, path: &str) {
    let [fault] = error.faults() else { panic!("{error}") };
    assert_eq!((fault.kind, fault.path.as_str()), (Kind::Conflict, path), "{error}");
    assert!(!fault.value.is_empty() && !fault.reason.is_empty() && !fault.remedy.is_empty(), "{error}");
}

#[test]
fn low_readings_of_other_readings_are_refused() {
    let neck = Neck::from_json("{}").unwrap();
    let all = readings(&neck);
    let list = Readings::new(all.clone()).unwrap();
    let inspection = inspect(&neck, &list);
    assert_eq!(inspection.low_readings(&list).unwrap().readings(), [all[8]]);
    // One more, one less, none, one that says something else, two that have changed places.
    let mut others = vec![all[1..].to_vec(), Vec::new(), [all.clone(), vec![all[0]]].concat()];
    for change in [
        |r: &mut Reading| r.value_mm = f64::from_bits(r.value_mm.to_bits() + 1),
        |r: &mut Reading| r.uncertainty_mm *= 2.0,
        |r: &mut Reading| r.at = Station::Mm(77.0),
        |r: &mut Reading| r.measured = Measured::Girth,
        |r: &mut Reading| r.measured = Measured::Point { across_mm: 0.5 },
    ] {
        for which in [0, 8, 12] {
            let mut other = all.clone();
            change(&mut other[which]);
            others.push(other);
        }
    }
    let mut other = all.clone();
    other.swap(3, 9);
    others.push(other);
    for other in others {
        let other = Readings::new(other).unwrap();
        refused(&inspection.low_readings(&other).unwrap_err(), "readings");
    }
    // A point whose place across alone is another.
    let points = |across_mm: f64| {
        let mut all = all.clone();
        all.push(reading(6.0, Measured::Point { across_mm }, 22.0));
        Readings::new(all).unwrap()
    };
    let inspection = inspect(&neck, &points(1.0));
    assert!(inspection.low_readings(&points(1.0)).is_ok());
    refused(&inspection.low_readings(&points(1.000_000_1)).unwrap_err(), "readings");
    // The lines they stood on and their name say nothing of a neck; 0 and -0 are one station.
    let text = list.to_csv();
    let read = Readings::from_csv(&text).unwrap().named("read again").unwrap();
    let low = inspect(&neck, &list).low_readings(&read).unwrap();
    assert_eq!((low.name(), low.readings()[0].line), ("read again", 10));
    let at = |mm: f64| {
        let thick = Reading { at: Station::Mm(mm), ..reading(0.0, Measured::Thickness, 21.0) };
        Readings::new(vec![thick]).unwrap()
    };
    assert!(inspect(&neck, &at(0.0)).low_readings(&at(-0.0)).is_ok());
}

#[test]
fn a_stage_of_another_necks_plan_is_refused() {
    let spec = Specification::default();
    let neck = Neck::new(&spec).unwrap();
    let list = Readings::new(readings(&neck)).unwrap();
    let asked = |other: &Specification, name: StageName| {
        let plan = Neck::new(other).unwrap().carving_plan(&Stock::default()).unwrap();
        neck.inspect_stage(&list, plan.stage(name).unwrap(), &InspectionOptions::default())
    };
    let mut wider = spec.clone();
    wider.nut.width = neckwright::measure::Length::from_mm(43.5);
    let mut named = spec.clone();
    named.name = String::from("the same under a name");
    for name in [StageName::Blank, StageName::Facets, StageName::Sanding] {
        let error = asked(&wider, name).unwrap_err();
        refused(&error, "stage");
        assert_eq!(error.faults()[0].value, format!("{:?}", name.name()));
        assert_eq!(asked(&spec, name).unwrap(), asked(&named, name).unwrap());
        // With every default written down it is the same neck.
        assert!(asked(neck.normalised(), name).is_ok());
    }
    let mut left = spec.clone();
    left.hand = neckwright::spec::Hand::Left;
    refused(&asked(&left, StageName::Facets).unwrap_err(), "stage");
}

/// Bad readings before the good ones, and the low ones picked out of many: their numbers stay.
#[test]
fn readings_made_in_code_are_named_by_their_own_numbers() {
    let neck = Neck::from_json("{}").unwrap();
    let mut all = readings(&neck);
    all.insert(2, reading(3.5, Measured::Thickness, f64::NAN));
    let bad = Readings::new(all.clone()).unwrap_err();
    assert_eq!(bad.error.faults()[0].path, "readings[2].value");
    let good = bad.good;
    assert_eq!((0..good.len()).map(|i| good.number(i)).collect::<Vec<_>>(), {
        let mut numbers: Vec<usize> = (0..all.len()).collect();
        numbers.remove(2);
        numbers
    });
    let inspection = inspect(&neck, &good);
    let low = inspection.low_readings(&good).unwrap();
    // Its place among the low ones is 0, among the good ones 8.
    assert_eq!((low.len(), low.number(0), low.readings()[0]), (1, 9, all[9]));
    // A neck this thick can't be mended; the reading that asks for it is named as its owner does.
    let least_thickness = neckwright::measure::Length::from_mm(22.0);
    let limits = MendLimits { least_thickness, ..MendLimits::default() };
    let Mending::Impossible(why) = neck.mend(&low, &limits).unwrap() else { panic!("it is mended") };
    for forbidden in &why {
        let [asking] = forbidden.asked_by.as_slice() else { panic!("{why:#?}") };
        assert_eq!((asking.index, asking.number, asking.line), (0, 9, 0));
        assert!(forbidden.sentence.contains("; readings[9] at fret 5 asks for it"), "{}", forbidden.sentence);
    }
    // On another neck, on which it is impossible, too.
    let mut flat = Specification::default();
    flat.fretboard.thickness = neckwright::measure::Length::from_mm(15.0);
    flat.shaft.thickness.iter_mut().for_each(|t| t.thickness = neckwright::measure::Length::from_mm(40.0));
    let radius =
        Readings::new(vec![reading(1.0, Measured::Thickness, 41.0), reading(2.0, Measured::Thickness, 4.0)]);
    let bad = radius.unwrap().check_on(&Neck::new(&flat).unwrap()).unwrap_err();
    assert_eq!((bad.bad[0].entry, bad.good.number(0)), (1, 0));
}

/// Two readings that contradict each other are named from 0, as in every error.
#[test]
fn doubts_count_as_errors_do() {
    let neck = Neck::from_json("{}").unwrap();
    let at =
        |mm: f64, value: f64| Reading { at: Station::Mm(mm), ..reading(0.0, Measured::Thickness, value) };
    let mut all = vec![at(60.0, f64::NAN), at(120.0, 22.0), at(200.0, 22.5), at(120.5, 21.0)];
    let good = Readings::new(all.clone()).unwrap_err().good;
    let told = inspect(&neck, &good).sentences;
    let named = "the thickness of readings[1] and the thickness of readings[3] contradict each other";
    assert!(told[0].contains(named), "{told:#?}");
    // Contradicted outright they are named so too.
    all[3].at = Station::Mm(120.0);
    let bad = Readings::new(all).unwrap_err();
    assert_eq!(bad.error.faults()[1].path, "readings[1].value");
    assert_eq!((bad.good.number(0), bad.good.len()), (2, 1));
}

//! Readings: every way of writing them, what is written is read back, what contradicts is found, and no text breaks the
//! reader.

use crate::seeded::seeded;
use neckwright::inspect::{BadReadings, Instrument, MAX_READINGS, Measured, Quantity, Reading, Readings};
use neckwright::measure::{Kind, Station};
use neckwright::shape::{Neck, Side};
use neckwright::spec::Specification;
use proptest::prelude::*;

/// The same but for the lines they stand on, bit for bit.
fn same(a: &[Reading], b: &[Reading]) -> bool {
    let bare = |list: &[Reading]| -> Vec<String> {
        list.iter().map(|reading| format!("{:?}", Reading { line: 0, ..*reading })).collect()
    };
    bare(a) == bare(b)
}

fn read(csv: &str) -> Vec<Reading> {
    Readings::from_csv(csv).unwrap_or_else(|bad| panic!("{bad}\nin {csv:?}")).into_vec()
}

#[test]
fn one_table_in_many_forms() {
    let plain = "at,quantity,value,side,across,uncertainty,instrument\n\
        fret 5,thickness,22.3,,,,\n\
        nut,width,1 11/16\",,,,rule\n\
        120.5,carve line,6.5,bass,,0.1,\n\
        -30,point,14,,-12.5,,scan\n\
        fret 7.5,radius,12 in,,,,\n\
        fret 3,girth,9.1 cm,,,,\n";
    let expected = read(plain);
    assert_eq!(expected.len(), 6);
    assert_eq!(expected[1].value_mm, 42.8625);
    assert_eq!(expected.iter().map(|r| r.line).collect::<Vec<_>>(), [2, 3, 4, 5, 6, 7]);
    let uncertainties: Vec<f64> = expected.iter().map(|r| r.uncertainty_mm).collect();
    assert_eq!(uncertainties, [0.05, 0.25, 0.1, 0.05, 0.03 * 304.8, 0.5]);
    assert_eq!(expected[2].measured, Measured::CarveLine(Side::Bass));
    assert_eq!(expected[3].measured, Measured::Point { across_mm: -12.5 });

    let fields = |separator: &str| plain.replace(',', separator);
    let forms = [
        plain.replace('\n', "\r\n"),
        plain.replace('\n', "\r"),
        plain.trim_end().to_string(),
        format!("\u{feff}{plain}"),
        fields(";"),
        fields("\t"),
        fields(" , "),
        plain.replace('\n', "  \n"),
        plain.replace('\n', ",,,\n"),
        plain.replace('\n', "\n\n# a comment, with \"a quotation mark\n ,,\n"),
        format!("# by hand\n\n{plain}"),
        plain
            .replace("fret", "Fret")
            .replace("thickness", "Thickness")
            .replace("at,", "AT,")
            .replace("nut", "Nut"),
        plain
            .lines()
            .map(|line| {
                let quoted: Vec<String> =
                    line.split(',').map(|field| format!("\"{}\"", field.replace('"', "\"\""))).collect();
                quoted.join(",") + "\r\n"
            })
            .collect(),
        // The columns the other way round.
        plain.lines().map(|line| line.split(',').rev().collect::<Vec<_>>().join(";") + "\n").collect(),
    ];
    for form in forms {
        assert!(same(&read(&form), &expected), "{form}");
    }
}

#[test]
fn the_least_that_has_to_be_given() {
    let readings = read("at,quantity,value\n3.5e1,thickness,2.2e1\n+7,width,43\n");
    assert_eq!((readings[0].at, readings[0].value_mm), (Station::Mm(35.0), 22.0));
    assert_eq!(readings[1].at, Station::Mm(7.0));
    assert!(Readings::from_csv("at,quantity,value\n").unwrap().is_empty());
    assert!(Readings::from_json("\u{feff}{\"readings\": []}").unwrap().is_empty());
    for quantity in Quantity::ALL {
        let usual = quantity.usual_instrument();
        assert!(quantity.uncertainty_bound().contains(usual.usual_uncertainty_mm(quantity.bound().highest)));
    }
}

#[test]
fn uncertainties_of_a_document_hold_wherever_they_stand() {
    let readings = "\"readings\": [
        {\"at\": \"fret 1\", \"quantity\": \"thickness\", \"value\": 22},
        {\"at\": \"fret 1\", \"quantity\": \"radius\", \"value\": 300},
        {\"at\": \"fret 2\", \"quantity\": \"thickness\", \"value\": 22, \"uncertainty\": 0.01},
        {\"at\": \"fret 1\", \"quantity\": \"girth\", \"value\": 92}]";
    let uncertainties = "\"uncertainties\": {\"caliper\": \"0.03 mm\", \"radius gauge\": \"0.5 in\"}";
    for text in [format!("{{{readings}, {uncertainties}}}"), format!("{{{uncertainties}, {readings}}}")] {
        let read = Readings::from_json(&text).unwrap();
        let told: Vec<f64> = read.iter().map(|r| r.uncertainty_mm).collect();
        assert_eq!(told, [0.03, 12.7, 0.01, 0.5], "{text}");
        assert_eq!(read.iter().map(|r| r.line).collect::<Vec<_>>(), [2, 3, 4, 5]);
    }
}

#[test]
fn lines_of_json_whatever_stands_on_them() {
    let text = "{\"name\": \"[\\\"[\", \"readings\":\n\n[ 7\n, {\"a\": \"\\\\\\\"]\"},\n\n{}, [1,\n 2],\n{\"\\u0061t\": 0},\n \"x\"]}";
    let bad = Readings::from_json(text).unwrap_err();
    assert_eq!(bad.bad_lines().collect::<Vec<_>>(), [3, 4, 6, 6, 8, 9]);
    for fault in bad.error.faults() {
        assert!(fault.path.starts_with("line ") && fault.path.contains(", readings["), "{fault}");
    }
}

#[test]
fn readings_keep_their_name_and_are_walked_along() {
    let one = read("at,quantity,value\nfret 1,thickness,22\n");
    let readings = Readings::new(one.clone()).unwrap().named("a neck, \"as found\"").unwrap();
    let back = Readings::from_json(&readings.to_json()).unwrap();
    assert_eq!(back.name(), "a neck, \"as found\"");
    assert_eq!((&back).into_iter().count(), back.len());
    assert_eq!(readings.clone().named("a\nb").unwrap_err().kind, Kind::Unreadable);
    assert_eq!(readings.named("a".repeat(121)).unwrap_err().kind, Kind::TooLarge);
    let error: neckwright::measure::Error = Readings::from_csv("").unwrap_err().into();
    assert_eq!(error.faults()[0].kind, Kind::Syntax);
}

/// Spreadsheets begin words with a capital, and some write them so altogether: no two units differ in capitals alone.
#[test]
fn capitals_of_units_do_not_matter_in_a_table() {
    let text = "at;quantity;value;uncertainty\nFRET 1;Thickness;22.4 MM;0.05 Mm\n120 MM;WIDTH;1 11/16 IN;0,1 mm\n\
                12 Cm;girth;3.5 Inches;\n";
    let mm = |reading: &Reading| (reading.value_mm, reading.at);
    let read = read(text);
    assert_eq!(mm(&read[0]), (22.4, Station::Fret(1.0)));
    assert_eq!(mm(&read[1]), (42.8625, Station::Mm(120.0)));
    assert_eq!(mm(&read[2]), (88.9, Station::Mm(120.0)));
    assert_eq!([read[0].uncertainty_mm, read[1].uncertainty_mm], [0.05, 0.1]);
    // What is none is shown as it was written.
    let bad = Readings::from_csv("at,quantity,value\nfret 1,thickness,22.4 MMM\n").unwrap_err();
    assert_eq!(bad.error.faults()[0].value, "\"22.4 MMM\"");
    // A document written by a program has its units as they are.
    let text = r#"{"readings": [{"at": 1, "quantity": "thickness", "value": "22.4 MM"}]}"#;
    assert_eq!(Readings::from_json(text).unwrap_err().error.faults()[0].kind, Kind::Unreadable);
}

/// More than the most is refused, and what there is room for comes back. (One gigabyte and a half.)
#[test]
#[ignore = "wants more memory than a small machine has: run it by hand"]
fn more_than_the_most() {
    let text = String::from("at,quantity,value\n") + &"0,thickness,22\n".repeat(MAX_READINGS + 5);
    let bad = Readings::from_csv(&text).unwrap_err();
    assert_eq!((bad.good.len(), bad.bad.len()), (MAX_READINGS, 0));
    assert_eq!(bad.error.faults()[0].kind, Kind::TooLarge);
    assert_eq!(bad.error.faults()[0].path, format!("line {}", MAX_READINGS + 2));
}

/// A number within bounds: an end, or any bits that make one.
fn within(lowest: f64, highest: f64) -> impl Strategy<Value = f64> {
    let bits = any::<u64>().prop_map(move |bits| {
        let value = f64::from_bits(bits);
        if (lowest..=highest).contains(&value) { value } else { lowest }
    });
    prop_oneof![Just(highest), lowest..=highest, bits]
}

fn station() -> impl Strategy<Value = Station> {
    let small = prop_oneof![Just(-0.0), Just(5e-324), Just(1e-7)];
    prop_oneof![
        (-600.0..=1500.0).prop_map(Station::Mm),
        small.prop_map(Station::Mm),
        (0.0..=60.0).prop_map(Station::Fret),
        (0_u32..=60).prop_map(|fret| Station::Fret(f64::from(fret))),
    ]
}

fn reading() -> impl Strategy<Value = Reading> {
    let measured = prop_oneof![
        Just(Measured::Thickness),
        Just(Measured::Width),
        Just(Measured::Girth),
        Just(Measured::CarveLine(Side::Bass)),
        Just(Measured::CarveLine(Side::Treble)),
        within(-250.0, 250.0).prop_map(|across_mm| Measured::Point { across_mm }),
        Just(Measured::Radius),
    ];
    (station(), measured, any::<u32>()).prop_flat_map(|(at, measured, line)| {
        let (value, sure) = (measured.quantity().bound(), measured.quantity().uncertainty_bound());
        let numbers = (value.lowest..=value.highest, within(sure.lowest, sure.highest));
        numbers.prop_map(move |(value_mm, uncertainty_mm)| Reading {
            at,
            measured,
            value_mm,
            uncertainty_mm,
            line,
        })
    })
}

/// Readings of which none contradicts another, because each is at another place or all are of one value.
fn sound() -> impl Strategy<Value = Readings> {
    prop::collection::vec(reading(), 0..12).prop_map(|list| match Readings::new(list) {
        Ok(readings) => readings,
        Err(bad) => bad.good,
    })
}

/// Every pair, one by one.
fn contradicted(list: &[Reading]) -> Vec<u32> {
    let zero = |at: Station| if at == Station::Fret(0.0) { Station::NUT } else { at };
    let against = |a: &Reading, b: &Reading| {
        zero(a.at) == zero(b.at)
            && a.measured == b.measured
            && (a.value_mm - b.value_mm).abs() > 6.0 * libm::hypot(a.uncertainty_mm, b.uncertainty_mm)
    };
    (0..list.len()).filter(|&i| list.iter().any(|b| against(&list[i], b))).map(|i| i as u32).collect()
}

fn crowd() -> impl Strategy<Value = Vec<Reading>> {
    let place = prop_oneof![Just(Station::NUT), Just(Station::Fret(0.0)), Just(Station::Fret(1.0))];
    let measured = prop_oneof![Just(Measured::Thickness), Just(Measured::Width)];
    let one = (place, measured, 20.0..24.0, -3.0..0.0).prop_map(
        |(at, measured, value_mm, power): (_, _, f64, f64)| Reading {
            at,
            measured,
            value_mm,
            uncertainty_mm: libm::exp10(power),
            line: 0,
        },
    );
    prop::collection::vec(one, 0..40)
}

/// What is promised of any text.
fn holds(read: Result<Readings, BadReadings>) -> Result<(), TestCaseError> {
    match read {
        Ok(readings) => {
            prop_assert!(Readings::new(readings.into_vec()).is_ok());
        }
        Err(bad) => {
            prop_assert!(!bad.error.faults().is_empty());
            for fault in bad.error.faults() {
                prop_assert!(fault.path.starts_with("line "), "{fault}");
                prop_assert!(!fault.reason.is_empty() && !fault.remedy.is_empty(), "{fault}");
            }
            prop_assert!(bad.bad.is_sorted_by(|a, b| a.entry < b.entry && a.line <= b.line), "{:?}", bad.bad);
            prop_assert!(Readings::new(bad.good.into_vec()).is_ok());
        }
    }
    Ok(())
}

/// Stations next to the nut that look like numbers of frets: written as what they are, and taken where one other station
/// tells what is meant, or JSON does.
#[test]
fn millimetres_that_look_like_frets() {
    let list = [1.0, 5.0, 24.0].map(|x| Reading {
        at: Station::Mm(x),
        measured: Measured::Thickness,
        value_mm: 21.0,
        uncertainty_mm: 0.03,
        line: 0,
    });
    let near = Readings::new(list.to_vec()).unwrap();
    assert!(near.to_csv().contains("\n24 mm,thickness,21,0.03\n"), "{}", near.to_csv());
    for back in [Readings::from_csv(&near.to_csv()), Readings::from_json(&near.to_json())] {
        assert!(same(back.unwrap().readings(), &list));
    }
    let bare =
        "at,quantity,value,uncertainty\n1,thickness,21,0.03\n5,thickness,21,0.03\n24,thickness,21,0.03\n";
    let bad = Readings::from_csv(bare).unwrap_err();
    assert_eq!((bad.error.faults().len(), bad.good.len(), bad.bad.len()), (1, 0, 3));
    for other in ["24.5,thickness,21,0.03\n", "fret 1,thickness,21,0.03\n"] {
        assert_eq!(Readings::from_csv(&format!("{bare}{other}")).unwrap().len(), 4);
    }
}

proptest! {
    #![proptest_config(seeded(512))]

    #[test]
    fn what_is_written_is_read_back(readings in sound()) {
        for (text, back) in [
            (readings.to_csv(), Readings::from_csv(&readings.to_csv())),
            (readings.to_json(), Readings::from_json(&readings.to_json())),
        ] {
            prop_assert!(back.as_ref().is_ok_and(|back| same(back.readings(), readings.readings())), "{back:?}\n{text}");
        }
    }

    #[test]
    fn contradictions_are_those_of_all_pairs(list in crowd()) {
        let expected = contradicted(&list);
        match Readings::new(list.clone()) {
            Ok(readings) => prop_assert!(expected.is_empty() && readings.readings() == list),
            Err(bad) => {
                prop_assert_eq!(bad.bad.iter().map(|bad| bad.entry).collect::<Vec<_>>(), expected);
                prop_assert!(bad.error.faults().iter().all(|fault| fault.kind == Kind::Conflict));
            }
        }
    }

    #[test]
    fn a_damaged_text_is_read_or_refused_with_its_lines(
        readings in sound(),
        slips in prop::collection::vec((any::<prop::sample::Index>(), 0..4_u8, any::<u8>(), "\\PC|[,;\"\n\r\t#{}\\[\\]:]"), 1..6),
    ) {
        for json in [false, true] {
            let mut bytes = if json { readings.to_json() } else { readings.to_csv() }.into_bytes();
            for (at, how, byte, text) in &slips {
                let at = at.index(bytes.len().max(1)).min(bytes.len());
                match how {
                    0 if at < bytes.len() => bytes[at] = *byte,
                    1 => bytes.insert(at, *byte),
                    2 if at < bytes.len() => drop(bytes.remove(at)),
                    _ => drop(bytes.splice(at..at, text.bytes())),
                }
            }
            let text = String::from_utf8_lossy(&bytes);
            holds(if json { Readings::from_json(&text) } else { Readings::from_csv(&text) })?;
        }
    }

    #[test]
    fn any_text_is_read_or_refused(text in "\\PC{0,200}") {
        holds(Readings::from_csv(&text))?;
        holds(Readings::from_json(&text))?;
        holds(Readings::from_csv(&format!("at,quantity,value\n{text}")))?;
        holds(Readings::from_json(&format!("{{\"readings\": [{text}")))?;
    }

    #[test]
    fn one_bad_line_costs_no_other(readings in sound(), at in any::<prop::sample::Index>(), text in "[a-z\",;]{1,20}") {
        let csv = readings.to_csv();
        let mut lines: Vec<&str> = csv.lines().collect();
        let at = 1 + at.index(lines.len());
        let at = at.min(lines.len());
        let line = format!("{text}!");
        lines.insert(at, &line);
        let bad = Readings::from_csv(&lines.join("\n")).unwrap_err();
        prop_assert_eq!(bad.bad_lines().collect::<Vec<_>>(), [at as u32 + 1]);
        prop_assert!(same(bad.good.readings(), readings.readings()));
    }

    #[test]
    fn any_reading_made_in_code_is_taken_or_refused(bits in prop::collection::vec(any::<[u64; 4]>(), 0..6), which in 0..6_usize) {
        let list: Vec<Reading> = bits.iter().map(|bits| {
            let [at, value_mm, uncertainty_mm, across_mm] = bits.map(f64::from_bits);
            let measured = [Measured::Thickness, Measured::Width, Measured::Girth, Measured::CarveLine(Side::Treble), Measured::Point { across_mm }, Measured::Radius][which];
            Reading { at: if which % 2 == 0 { Station::Mm(at) } else { Station::Fret(at) }, measured, value_mm, uncertainty_mm, line: 0 }
        }).collect();
        if let Err(bad) = Readings::new(list.clone()) {
            prop_assert_eq!(bad.good.len() + bad.bad.len(), list.len());
            prop_assert!(bad.error.faults().iter().all(|fault| fault.path.starts_with("readings[")));
        }
    }
}

#[test]
fn the_card_of_a_neck_lies_on_it() {
    let neck = Neck::new(&Specification::default()).unwrap();
    let mut list = Vec::new();
    for fret in 0..20 {
        let x = neck.station_mm(f64::from(fret)).unwrap();
        for (measured, value_mm) in [
            (Measured::Thickness, neck.thickness_mm(x).unwrap()),
            (Measured::Width, neck.width_mm(x).unwrap()),
            (Measured::Girth, neck.girth_mm(x).unwrap()),
            (Measured::CarveLine(Side::Bass), neck.carve_line_mm(x, Side::Bass).unwrap()),
            (Measured::Radius, 305.0),
        ] {
            let uncertainty_mm = Instrument::Caliper.usual_uncertainty_mm(value_mm);
            list.push(Reading {
                at: Station::Fret(f64::from(fret)),
                measured,
                value_mm,
                uncertainty_mm,
                line: 0,
            });
        }
    }
    let readings = Readings::new(list).unwrap();
    assert_eq!(readings.check_on(&neck), Ok(()));
}

#[test]
fn points_of_a_flat_side_lie_one_below_the_other() {
    let text = "at,quantity,value,across,uncertainty\nfret 5,point,2,23,0.05\nfret 5,point,3,23,0.05\n";
    assert_eq!(Readings::from_csv(text).unwrap().len(), 2);
    let twice = "at,quantity,value,uncertainty\nfret 5,width,46,0.05\nfret 5,width,47,0.05\n";
    assert_eq!(Readings::from_csv(twice).unwrap_err().bad.len(), 2);
}

#[test]
fn where_commas_separate_no_fields_they_may_be_decimal() {
    let semicolons = "at;quantity;value;uncertainty\nfret 1;thickness;21,8;0,05\n12,5;width;4,35 cm;\n";
    let points = semicolons.replace(',', ".");
    let tabs = semicolons.replace(';', "\t");
    let read = |text: &str| Readings::from_csv(text).unwrap();
    assert_eq!(read(semicolons), read(&points));
    assert_eq!(read(&tabs), read(&points));
    assert!(Readings::from_csv("at;quantity;value\nfret 1;thickness;1.021,8\n").is_err());
    assert!(Readings::from_csv("at;quantity;value\nfret 1;thickness;1,021,8\n").is_err());
}

#[test]
fn a_note_is_the_callers_own_in_either_format() {
    let csv = "at,quantity,value,note\nfret 1,thickness,0.86 in,left of the spot\n";
    let json = r#"{"readings": [{"at": "fret 1", "quantity": "thickness", "value": "0.86 in", "note": {"mine": [1]}}]}"#;
    let [csv, json] = [Readings::from_csv(csv), Readings::from_json(json)].map(Result::unwrap);
    assert_eq!(csv.readings()[0].value_mm, json.readings()[0].value_mm);
    let twice = r#"{"readings": [{"at": 1, "quantity": "thickness", "value": 22, "note": 1, "note": 2}]}"#;
    let told = Readings::from_json(twice).unwrap_err().to_string();
    assert!(told.contains("readings[0].note: the key is given twice"), "{told}");
}

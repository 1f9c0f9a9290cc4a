//! Words on the drawings can be read: none lies on a line or on other words, none is small or off the paper.

mod common;

use common::necks;
use common::readable::assert_readable;
use neckwright::measure::Station;
use neckwright::paper::{plan, sections, side};
use neckwright::shape::Neck;

const NECKS: usize = 200;

fn stations(neck: &Neck) -> Vec<Station> {
    let [from, to] = neck.reach_mm();
    (0..=12).map(|i| Station::Mm((from + (to - from) * f64::from(i) / 12.0).clamp(from, to))).collect()
}

#[test]
fn plans_can_be_read() {
    for (i, neck) in necks(NECKS).iter().enumerate() {
        assert_readable(&plan(neck), &format!("plan {i}"));
    }
}

#[test]
fn sides_can_be_read() {
    for (i, neck) in necks(NECKS).iter().enumerate() {
        assert_readable(&side(neck), &format!("side {i}"));
    }
}

#[test]
fn sections_can_be_read() {
    for (i, neck) in necks(NECKS).iter().enumerate() {
        assert_readable(&sections(neck, &stations(neck)).unwrap(), &format!("sections {i}"));
    }
}

#[test]
fn sections_of_no_station_and_of_a_wrong_one() {
    let neck = Neck::from_json("{}").unwrap();
    assert_readable(&sections(&neck, &[]).unwrap(), "no sections");
    let error = sections(&neck, &[Station::Mm(0.0), Station::Mm(5000.0), Station::Fret(-1.0)]).unwrap_err();
    let paths: Vec<&str> = error.faults().iter().map(|f| f.path.as_str()).collect();
    assert_eq!(paths, ["stations[1]", "stations[2]"]);
}

#[test]
fn a_name_of_120_letters_keeps_to_the_paper() {
    for letter in ["W", "i", "木", "long name "] {
        let name: String = letter.chars().cycle().take(120).collect();
        let neck = Neck::from_json(&format!("{{\"name\": \"{name}\"}}")).unwrap();
        for sheet in [plan(&neck), side(&neck), sections(&neck, &stations(&neck)).unwrap()] {
            assert_readable(&sheet, &sheet.title);
        }
    }
}

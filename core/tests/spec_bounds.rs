//! The table of bounds is the truth: every bound it names is allowed, and what lies beyond is refused at
//! that very path.

mod documents;

use documents::Document;
use neckwright::measure::{Kind, Station};
use neckwright::spec::{BoundRow, Specification, Stock};
use serde_json::{Value, json};

/// A document with `value` at a row's path; of a list the one entry, with what it requires besides.
fn document<D: Document>(path: &str, value: Value) -> Value {
    let (head, tail) = match path.rsplit_once('.') {
        Some((head, tail)) => (head, tail),
        None => ("", path),
    };
    let (key, value) = match tail.strip_suffix("[]") {
        Some(key) => (key, json!([value])),
        None => (tail, value),
    };
    let mut group = json!({ key: value });
    if head.ends_with("[]") {
        for row in D::bounds() {
            if row.default == "required"
                && row.path.rsplit_once('.').is_some_and(|(h, k)| h == head && k != key)
            {
                group[row.path.rsplit_once('.').unwrap().1] = json!(row.lowest.unwrap().max(0.0));
            }
        }
    }
    if head.is_empty() { group } else { document::<D>(head, group) }
}

/// The path as a fault names it.
fn faulted(path: &str) -> String {
    path.replace("[]", "[0]")
}

fn faults_at<D: Document>(row: &BoundRow, value: Value) -> Vec<(Kind, String)> {
    let document = document::<D>(&row.path, value);
    let path = faulted(&row.path);
    match D::from_value(&document) {
        Ok(_) => Vec::new(),
        Err(error) => {
            let here = error.faults().iter().filter(|fault| fault.path == path);
            here.map(|fault| (fault.kind, fault.to_string())).collect()
        }
    }
}

fn numbers<D: Document>() -> Vec<BoundRow> {
    let sorts = ["length", "angle", "number", "whole number", "ratio", "station"];
    let is_number =
        |row: &BoundRow| sorts.iter().any(|sort| row.takes == *sort || row.takes.starts_with("length or"));
    D::bounds().into_iter().filter(is_number).collect()
}

#[test]
fn both_ends_of_every_number_are_allowed_and_the_next_beyond_is_not() {
    both_ends::<Specification>(61);
    both_ends::<Stock>(23);
}

fn both_ends<D: Document>(least: usize) {
    let rows = numbers::<D>();
    assert!(rows.len() >= least, "only {} numbers in a {}", rows.len(), D::NAME);
    for row in &rows {
        let (lowest, highest) = (row.lowest.unwrap(), row.highest.unwrap());
        let whole = row.takes == "whole number";
        let number = |value: f64| if whole { json!(value as i64) } else { json!(value) };
        for within in [lowest, highest] {
            assert_eq!(faults_at::<D>(row, number(within)), [], "{} = {within}", row.path);
        }
        let beyond = if whole { [lowest - 1.0, highest + 1.0] } else { [step(lowest, -1), step(highest, 1)] };
        for beyond in beyond.into_iter().filter(|beyond| row.path != "format" || *beyond < 1.0) {
            let faults = faults_at::<D>(row, number(beyond));
            assert_eq!(faults.len(), 1, "{} = {beyond}: {faults:?}", row.path);
            assert_eq!(faults[0].0, Kind::OutOfRange, "{}", faults[0].1);
            assert!(faults[0].1.contains(row.why), "{}", faults[0].1);
            assert!(
                faults[0].1.contains(&format!(" = {}", number(beyond))),
                "{} does not name {beyond:?}",
                faults[0].1
            );
        }
    }
}

/// The neighbouring `f64`, below or above.
fn step(value: f64, direction: i64) -> f64 {
    if value == 0.0 {
        return f64::from_bits(1) * direction as f64;
    }
    let away = if value > 0.0 { direction } else { -direction };
    f64::from_bits((value.to_bits() as i64 + away) as u64)
}

#[test]
fn every_field_refuses_every_other_type() {
    other_types::<Specification>();
    other_types::<Stock>();
}

fn other_types<D: Document>() {
    for row in D::bounds() {
        let mut others = vec![json!(null), json!({ "at": 1 })];
        if row.takes != "list" {
            others.push(json!([1]));
        }
        if row.takes != "true or false" {
            others.push(json!(true));
        }
        if row.takes == "text" || row.takes.starts_with("one of") {
            others.push(json!(7));
        } else {
            others.push(json!("no such thing"));
        }
        for other in others {
            let faults = faults_at::<D>(&row, other.clone());
            assert_eq!(faults.len(), 1, "{} = {other}: {faults:?}", row.path);
            assert!(matches!(faults[0].0, Kind::WrongType | Kind::Unreadable), "{}", faults[0].1);
        }
    }
}

#[test]
fn every_size_is_held() {
    sizes::<Specification>(15);
    sizes::<Stock>(3);
}

fn sizes<D: Document>(at_least: usize) {
    let mut held = 0;
    for row in D::bounds() {
        let make = |size: f64| match row.takes.as_str() {
            "list" => json!(vec![json!({}); size as usize]),
            "text" => json!("é".repeat(size as usize)),
            _ => Value::Null,
        };
        if make(0.0).is_null() {
            continue;
        }
        held += 1;
        let (least, most) = (row.lowest.unwrap(), row.highest.unwrap());
        for size in [least, most] {
            // What is in the list is wrong; how much is right.
            assert_eq!(faults_at::<D>(&row, make(size)), [], "{} of {size}", row.path);
        }
        let faults = faults_at::<D>(&row, make(most + 1.0));
        assert_eq!(faults[0].0, Kind::TooLarge, "{}", row.path);
        if least > 0.0 {
            assert_eq!(faults_at::<D>(&row, make(least - 1.0))[0].0, Kind::Missing, "{}", row.path);
        }
    }
    assert!(held >= at_least, "{held} in a {}", D::NAME);
}

#[test]
fn a_typed_specification_is_held_to_the_same_bounds() {
    use neckwright::measure::Length;
    use neckwright::spec::{BlockWidth, Radius, Ratio, ThicknessAt};

    assert_eq!(Specification::default().check(), Ok(()));
    let mut spec = Specification::default();
    spec.nut.width = Length::from_mm(f64::NAN);
    spec.scale.square_fret = f64::INFINITY;
    spec.frets.count = 61;
    spec.frets.ratios = Some(vec![Ratio::new(1.5), Ratio::new(0.5)]);
    spec.fretboard.radius = Radius::Round(Length::from_mm(1.0));
    spec.shaft.thickness =
        vec![ThicknessAt { at: Station::Fret(61.0), thickness: Length::from_mm(70.0) }; 65];
    spec.shaft.profile.clear();
    spec.heel.block_width = BlockWidth::Width(Length::from_mm(-0.5));
    spec.heel.end = Some(Station::Mm(f64::NEG_INFINITY));
    spec.name = "a\u{7}".into();
    let error = spec.check().unwrap_err();
    let shown: Vec<String> = error.faults().iter().map(|fault| fault.path.clone()).collect();
    assert_eq!(error.more(), 40, "65 stations make 130 faults of their own");
    assert_eq!(
        shown[..9],
        [
            "name",
            "scale.square_fret",
            "frets.count",
            "frets.ratios[1]",
            "nut.width",
            "fretboard.radius",
            "shaft.thickness",
            "shaft.thickness[0].at",
            "shaft.thickness[0].thickness"
        ]
    );
    let message = |path: &str| error.faults().iter().find(|fault| fault.path == path).unwrap().to_string();
    assert_eq!(
        message("nut.width"),
        "nut.width = NaN mm: not a finite number (allowed: 15 to 120 mm); give a number within the range"
    );
    assert_eq!(
        message("shaft.thickness[0].at"),
        "shaft.thickness[0].at = fret 61: frets count from the nut and no neck has more than 60; behind the nut give \
         millimetres (allowed: 0 to 60); give 60 or less"
    );

    let mut spec = Specification::default();
    spec.scale.bass = Some(Length::from_mm(660.0));
    let error = spec.check().unwrap_err();
    assert_eq!(error.faults()[0].kind, Kind::Missing);
    assert_eq!(error.faults()[0].path, "scale.treble");
}

#[test]
fn a_typed_stock_is_held_to_the_same_bounds() {
    use neckwright::measure::Length;
    use neckwright::spec::{LineAt, StageName};

    assert_eq!(Stock::default().check(), Ok(()));
    let mut stock = Stock { format: 2, order: Some(vec![StageName::Blank; 15]), ..Stock::default() };
    stock.allowances.saw = Length::from_mm(-1e-9);
    stock.saw.shaft_line = Some(vec![LineAt { at: Station::Mm(f64::NAN), ..LineAt::default() }; 2]);
    stock.sanding.scratch_share = f64::INFINITY;
    stock.sanding.grits.clear();
    let error = stock.check().unwrap_err();
    let shown: Vec<String> = error.faults().iter().map(|fault| fault.path.clone()).collect();
    assert_eq!(
        shown,
        [
            "format",
            "allowances.saw",
            "saw.shaft_line[0].at",
            "saw.shaft_line[1].at",
            "sanding.grits",
            "sanding.scratch_share",
            "order"
        ]
    );

    let stock = Stock { order: Some(vec![StageName::Blank, StageName::Sanding]), ..Stock::default() };
    let error = stock.check().unwrap_err();
    assert!(error.faults().iter().all(|fault| fault.kind == Kind::Missing && fault.path == "order"));
    assert_eq!(error.faults().len(), 9, "{error}");
}

#[test]
fn the_table_is_whole_and_readable() {
    insta::assert_snapshot!("the_table_is_whole_and_readable", table::<Specification>());
    insta::assert_snapshot!("the_table_of_a_stock_is_whole_and_readable", table::<Stock>());
}

fn table<D: Document>() -> String {
    let rows = D::bounds();
    for row in &rows {
        assert!(
            row.doc.ends_with('.') && row.doc.chars().next().unwrap().is_uppercase(),
            "{}: {}",
            row.path,
            row.doc
        );
        assert!(!row.why.ends_with('.'), "{}: {}", row.path, row.why);
        assert!(row.why.chars().next().is_none_or(|c| !c.is_uppercase()), "{}: {}", row.path, row.why);
        assert_eq!(row.lowest.is_some(), row.highest.is_some(), "{}", row.path);
        assert!(row.lowest.is_none() || !row.why.is_empty(), "{} says no reason", row.path);
        assert!(rows.iter().filter(|other| other.path == row.path).count() == 1, "{} stands twice", row.path);
    }
    rows.iter().map(show).collect::<Vec<_>>().join("\n")
}

fn show(row: &BoundRow) -> String {
    let range = match (row.lowest, row.highest) {
        (Some(lowest), Some(highest)) => format!(", {lowest} to {highest} {}", row.unit),
        _ => String::new(),
    };
    let default = if row.default.is_empty() { String::new() } else { format!(", default {}", row.default) };
    format!("{}: {}{}{default}\n    {}\n    {}", row.path, row.takes, range.trim_end(), row.doc, row.why)
        .trim_end()
        .into()
}

#[test]
fn the_defaults_of_the_table_are_those_of_the_types() {
    defaults::<Specification>();
    defaults::<Stock>();
}

fn defaults<D: Document>() {
    let default: Value = serde_json::from_str(&D::default().to_json()).unwrap();
    for row in D::bounds() {
        if row.path.contains("[]") {
            continue;
        }
        let at = row.path.split('.').try_fold(&default, |value, key| value.get(key));
        match (at, row.default.as_str()) {
            (None, "absent") => {}
            (Some(value), text) => assert_eq!(value.to_string(), text, "{}", row.path),
            (None, text) => panic!("{} has no default but {text}", row.path),
        }
    }
}

//! What is written is read back bit for bit.

mod seeded;

use neckwright::measure::{Kind, Length, Station};
use neckwright::spec::{Specification, numbers};
use proptest::prelude::*;
use seeded::seeded;

/// Equal in every bit: `==` would take -0 for 0.
fn same(a: &Specification, b: &Specification) -> bool {
    a == b && format!("{a:?}") == format!("{b:?}")
}

proptest! {
    #![proptest_config(seeded(512))]

    #[test]
    fn every_specification_comes_back(seed in any::<u64>()) {
        let specification = Specification::random(&mut numbers(seed));
        prop_assert_eq!(specification.check(), Ok(()));
        let text = specification.to_json();
        let back = Specification::from_json(&text);
        prop_assert!(back.as_ref().is_ok_and(|back| same(back, &specification)), "{back:?}\n{text}");

        let compact = serde_json::to_string(&specification).unwrap();
        let back: Specification = serde_json::from_str(&compact).unwrap();
        prop_assert!(same(&back, &specification));

        let value = serde_json::to_value(&specification).unwrap();
        prop_assert!(same(&Specification::from_value(&value).unwrap(), &specification));
        let back: Specification = serde_json::from_value(value).unwrap();
        prop_assert!(same(&back, &specification));
    }

    #[test]
    fn a_plausible_specification_is_one(seed in any::<u64>()) {
        let specification = Specification::plausible(&mut numbers(seed));
        prop_assert_eq!(specification.check(), Ok(()));
        prop_assert!(same(&Specification::from_json(&specification.to_json()).unwrap(), &specification));
    }

    #[test]
    fn any_station_within_its_bounds_comes_back(bits in any::<u64>(), fret in any::<bool>()) {
        let value = f64::from_bits(bits);
        let (value, bound) = if fret { (value.abs(), Station::FRET) } else { (value, Station::MM) };
        let mut specification = Specification::default();
        specification.rod.start = if fret { Station::Fret(value) } else { Station::Mm(value) };
        if bound.contains(value) {
            prop_assert!(same(&Specification::from_json(&specification.to_json()).unwrap(), &specification));
        } else {
            prop_assert!(specification.check().is_err());
        }
    }

    #[test]
    fn any_text_is_read_or_refused(text in "\\PC{0,200}") {
        let _ = Specification::from_json(&text);
    }

    #[test]
    fn a_document_with_one_character_changed_is_read_or_refused(seed in any::<u64>(), at in any::<prop::sample::Index>(), with in any::<char>()) {
        let text = Specification::random(&mut numbers(seed)).to_json();
        let mut characters: Vec<char> = text.chars().collect();
        let at = at.index(characters.len());
        characters[at] = with;
        let text: String = characters.into_iter().collect();
        if let Ok(specification) = Specification::from_json(&text) {
            prop_assert_eq!(specification.check(), Ok(()));
        }
    }
}

#[test]
fn negative_zero_and_the_tiniest_numbers_come_back() {
    for value in [-0.0, 5e-324, f64::MIN_POSITIVE, 1e-7, 1e-6, 0.1 + 0.2] {
        let mut specification = Specification::default();
        specification.volute.tip = Length::from_mm(value);
        specification.rod.start = Station::Fret(value);
        specification.rod.end = Some(Station::Mm(value));
        let text = specification.to_json();
        assert!(same(&Specification::from_json(&text).unwrap(), &specification), "{text}");
    }
}

#[test]
fn the_random_specifications_reach_the_corners() {
    let (mut lowest, mut highest, mut absent, mut full) = (0, 0, 0, 0);
    for seed in 0..400 {
        let specification = Specification::random(&mut numbers(seed));
        lowest += u32::from(specification.nut.width.mm() == 15.0);
        highest += u32::from(specification.nut.width.mm() == 120.0);
        absent += u32::from(specification.headstock.length.is_none());
        full += u32::from(specification.shaft.thickness.len() > 6);
    }
    for (count, what) in [(lowest, "lowest"), (highest, "highest"), (absent, "absent"), (full, "long list")] {
        assert!(count >= 5, "{what}: {count} of 400");
    }
}

#[test]
fn absent_fields_are_left_out_and_the_keys_keep_their_order() {
    let text = Specification::default().to_json();
    assert!(!text.contains("null"));
    let value: serde_json::Value = serde_json::from_str(&text).unwrap();
    let keys: Vec<&str> = value.as_object().unwrap().keys().map(String::as_str).collect();
    assert_eq!(
        keys,
        [
            "format",
            "name",
            "hand",
            "scale",
            "frets",
            "strings",
            "nut",
            "bridge",
            "fretboard",
            "shaft",
            "rod",
            "headstock",
            "volute",
            "heel",
            "woods"
        ]
    );
    insta::assert_snapshot!(text);
}

#[test]
fn an_empty_document_is_the_default_and_groups_are_merged_into_it() {
    let default = Specification::default();
    assert!(same(&Specification::from_json("{}").unwrap(), &default));
    assert!(same(&Specification::from_json("\u{feff} {}\r\n").unwrap(), &default));
    let read = Specification::from_json(r#"{"scale": {"length": "640 mm"}, "nut": {"width": "1 11/16 in"}}"#)
        .unwrap();
    let mut expected = default;
    expected.scale.length = Some(Length::from_mm(640.0));
    expected.nut.width = Length::from_mm(42.8625);
    assert!(same(&read, &expected));
}

#[test]
fn deserialising_goes_through_the_same_checks() {
    let refused = |text: &str| serde_json::from_str::<Specification>(text).unwrap_err().to_string();
    assert!(refused(r#"{"nut": {"width": 1}}"#).starts_with("nut.width = 1 mm: a narrower neck"));
    assert!(
        refused(r#"{"nut": {"widht": 43}}"#)
            .starts_with("nut.widht: there is no such key; did you mean width?")
    );
    assert!(
        refused(r#"{"nut": {"width": 43, "width": 44}}"#).starts_with("nut.width: the key is given twice")
    );
    assert!(refused(r#"{"scale": {"bass": 660}}"#).starts_with("scale.treble: a bass length calls"));
    assert!(refused(r#"{"format": 2}"#).starts_with("format = 2: the document is written in a later format"));
    assert!(refused("[]").starts_with("the document: a specification is an object"));
    let two = refused(r#"{"nut": {"width": 1}, "bridge": 7}"#);
    assert_eq!(two.lines().count(), 2, "all faults are told: {two}");
    let value = serde_json::json!({ "frets": { "count": 61 } });
    assert!(serde_json::from_value::<Specification>(value.clone()).is_err());
    assert_eq!(Specification::from_value(&value).unwrap_err().faults()[0].kind, Kind::OutOfRange);
}

#[test]
fn numbers_that_are_not_finite_never_get_in_by_another_format() {
    use serde::Deserialize;
    use serde::de::IntoDeserializer;
    use serde::de::value::{Error, MapDeserializer};

    for bad in [f64::NAN, f64::INFINITY, f64::NEG_INFINITY] {
        let map: MapDeserializer<'_, _, Error> =
            MapDeserializer::new([("format", bad.into_deserializer())].into_iter());
        let error = Specification::deserialize(map).unwrap_err().to_string();
        assert!(error.contains("not a finite number"), "{error}");
    }
}

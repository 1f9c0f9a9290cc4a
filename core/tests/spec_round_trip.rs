//! What is written is read back bit for bit.

mod documents;
mod seeded;

use documents::{Document, same};
use neckwright::measure::{Kind, Length, Station};
use neckwright::spec::{LineAt, Specification, Stock, numbers};
use proptest::prelude::*;
use seeded::seeded;

/// A document, written and read back in every way there is.
fn comes_back<D: Document>(document: &D) -> Result<(), TestCaseError> {
    prop_assert_eq!(document.check(), Ok(()));
    let text = document.to_json();
    let back = D::from_json(&text);
    prop_assert!(back.as_ref().is_ok_and(|back| same(back, document)), "{back:?}\n{text}");

    let compact = serde_json::to_string(document).unwrap();
    let back: D = serde_json::from_str(&compact).unwrap();
    prop_assert!(same(&back, document));

    let value = serde_json::to_value(document).unwrap();
    prop_assert!(same(&D::from_value(&value).unwrap(), document));
    let back: D = serde_json::from_value(value).unwrap();
    prop_assert!(same(&back, document));
    Ok(())
}

/// A text with one character changed is read into a sound document, or refused.
fn with_a_slip<D: Document>(text: &str, at: prop::sample::Index, with: char) -> Result<(), TestCaseError> {
    let mut characters: Vec<char> = text.chars().collect();
    let at = at.index(characters.len());
    characters[at] = with;
    let text: String = characters.into_iter().collect();
    if let Ok(document) = D::from_json(&text) {
        prop_assert_eq!(document.check(), Ok(()));
    }
    Ok(())
}

proptest! {
    #![proptest_config(seeded(512))]

    #[test]
    fn every_document_comes_back(seed in any::<u64>()) {
        comes_back(&Specification::random(&mut numbers(seed)))?;
        comes_back(&Stock::random(&mut numbers(seed)))?;
    }

    #[test]
    fn a_plausible_document_is_one(seed in any::<u64>()) {
        comes_back(&Specification::plausible(&mut numbers(seed)))?;
        comes_back(&Stock::plausible(&mut numbers(seed)))?;
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
        let _ = Stock::from_json(&text);
    }

    #[test]
    fn a_document_with_one_character_changed_is_read_or_refused(seed in any::<u64>(), at in any::<prop::sample::Index>(), with in any::<char>()) {
        with_a_slip::<Specification>(&Specification::random(&mut numbers(seed)).to_json(), at, with)?;
        with_a_slip::<Stock>(&Stock::random(&mut numbers(seed)).to_json(), at, with)?;
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

        let mut stock = Stock::default();
        stock.allowances.saw = Length::from_mm(value);
        stock.saw.shaft_line = Some(vec![
            LineAt { at: Station::Fret(value), ..LineAt::default() },
            LineAt { at: Station::Mm(value), ..LineAt::default() },
        ]);
        let text = stock.to_json();
        assert!(same(&Stock::from_json(&text).unwrap(), &stock), "{text}");
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
fn the_random_stocks_reach_the_corners() {
    let (mut lowest, mut highest, mut absent, mut ordered, mut lines, mut glued) = (0, 0, 0, 0, 0, 0);
    for seed in 0..400 {
        let stock = Stock::random(&mut numbers(seed));
        lowest += u32::from(stock.allowances.saw.mm() == 0.0);
        highest += u32::from(stock.allowances.saw.mm() == 20.0);
        absent += u32::from(stock.length.is_none());
        ordered += u32::from(stock.order.is_some());
        lines += u32::from(stock.saw.shaft_line.is_some_and(|line| line.len() == 2));
        glued += u32::from(stock.board.glued);
    }
    for (count, what) in [
        (lowest, "lowest"),
        (highest, "highest"),
        (absent, "absent"),
        (ordered, "ordered"),
        (lines, "two depths"),
        (glued, "glued"),
    ] {
        assert!(count >= 5, "{what}: {count} of 400");
    }
}

/// What the documentation of the generator says.
#[test]
fn a_plausible_stock_is_as_builders_have_it() {
    let mut next = numbers(7);
    let (mut absent, mut usual, mut scarfed, mut contoured, mut by_hand) = (0, 0, 0, 0, 0);
    let mut glued = 0;
    for _ in 0..400 {
        let stock = Stock::plausible(&mut next);
        let within = |lowest: f64, value: Length, highest: f64| {
            assert!((lowest..=highest).contains(&value.mm()), "{value:?}");
        };
        within(1.0, stock.allowances.saw, 4.0);
        within(0.5, stock.allowances.taper, 3.0);
        within(0.6, stock.allowances.headstock, 1.0);
        within(0.7, stock.allowances.shaping, 1.5);
        assert!(stock.allowances.shaping <= stock.allowances.saw);
        within(2.0, stock.allowances.stops, 15.0);
        within(0.5, stock.saw.kerf, 3.0);
        if let Some(contour) = stock.allowances.contour {
            within(0.6, contour, 0.8);
            assert!(contour <= stock.allowances.shaping);
            contoured += 1;
        }
        assert!(stock.facets.rounds <= 4);
        absent += u32::from(stock.length.is_none() && stock.width.is_none() && stock.thickness.is_none());
        let block = &stock.heel_block;
        let own = block.length.is_some() || block.width.is_some() || block.thickness.is_some();
        let glued_on = block.made == neckwright::spec::HeelMade::GluedOn;
        assert!(glued_on || !own);
        glued += u32::from(glued_on);
        scarfed += u32::from(stock.construction == neckwright::spec::Construction::Scarf);
        let order = stock.order.clone().unwrap_or_else(|| stock.usual_order());
        usual += u32::from(order == stock.usual_order());
        by_hand += u32::from(!order.contains(&neckwright::spec::StageName::Rounding));
    }
    assert!(absent > 160 && usual > 240 && usual < 360, "{absent} {usual}");
    assert!(
        (40..120).contains(&scarfed) && contoured > 40 && by_hand > 40 && (70..160).contains(&glued),
        "{scarfed} {contoured} {by_hand} {glued}"
    );
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
    insta::assert_snapshot!("absent_fields_are_left_out_and_the_keys_keep_their_order", text);

    let text = Stock::default().to_json();
    assert!(!text.contains("null"));
    insta::assert_snapshot!("a_default_stock", text);
}

#[test]
fn an_empty_document_is_the_default_and_groups_are_merged_into_it() {
    fn empty<D: Document>() -> D {
        let default = D::default();
        assert!(same(&D::from_json("{}").unwrap(), &default));
        assert!(same(&D::from_json("\u{feff} {}\r\n").unwrap(), &default));
        default
    }
    let mut expected = empty::<Stock>();
    expected.allowances.taper = Length::from_mm(3.175);
    let read = Stock::from_json(r#"{"allowances": {"taper": "1/8 in"}, "board": {}}"#).unwrap();
    assert!(same(&read, &expected));
    let default = empty::<Specification>();
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
    let refused_stock = |text: &str| serde_json::from_str::<Stock>(text).unwrap_err().to_string();
    assert!(refused_stock("[]").starts_with("the document: a stock is an object"));
    assert!(
        refused_stock(r#"{"saw": {"kerf": 1, "kerf": 2}}"#).starts_with("saw.kerf: the key is given twice")
    );
    assert!(refused_stock(r#"{"format": 2}"#).starts_with("format = 2: the document is written in a later"));
    assert!(
        refused_stock(r#"{"sanding": {"grits": [80, 60]}}"#)
            .starts_with("sanding.grits[1] = 60: sanding goes")
    );
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

//! The map of what is left to take: what it says where, on either hand.

use neckwright::inspect::{Finding, Measured, Place, Reading, Readings};
use neckwright::measure::{Kind, Station};
use neckwright::paper::{Layer, Shape, Sheet, Text, inspection};
use neckwright::shape::{Neck, Side};
use neckwright::spec::{Hand, InspectionOptions, Specification, StageName, Stock};

/// 0.3 mm left at every second fret, a low patch at fret 5 and points around the section at fret 9.
fn readings(neck: &Neck) -> Readings {
    let thickness = |fret: f64, off: f64| {
        let x = neck.station_mm(fret).unwrap();
        (fret, Measured::Thickness, neck.thickness_mm(x).unwrap() + off)
    };
    let mut all: Vec<_> = [1.0, 3.0, 7.0, 9.0, 11.0, 13.0].map(|fret| thickness(fret, 0.3)).into();
    all.push(thickness(5.0, -0.5));
    let section = neck.section(neck.station_mm(9.0).unwrap()).unwrap();
    for side in Side::BOTH {
        // Square to the surface at a quarter, half and three quarters of the way by the parameter.
        let p = section.control_points_mm(side).unwrap();
        for u in [0.25, 0.5, 0.75] {
            let v = 1.0 - u;
            let weights = [v * v * v, 3.0 * v * v * u, 3.0 * v * u * u, u * u * u];
            let [y, z] = [0, 1].map(|k| p.iter().zip(weights).map(|(p, w)| p[k] * w).sum::<f64>());
            let across_mm = neck.hand_sign() * y;
            all.push((9.0, Measured::Point { across_mm }, -z));
        }
    }
    let reading = |(fret, measured, value_mm)| Reading {
        at: Station::Fret(fret),
        measured,
        value_mm,
        uncertainty_mm: 0.05,
        line: 0,
    };
    Readings::new(all.into_iter().map(reading).collect()).unwrap()
}

fn page(hand: Hand) -> (Neck, Sheet) {
    let neck = Neck::new(&Specification { hand, ..Specification::default() }).unwrap();
    let inspected = neck.inspect(&readings(&neck), &InspectionOptions::default()).unwrap();
    let sheet = inspection(&neck, &inspected).unwrap();
    (neck, sheet)
}

fn words(sheet: &Sheet) -> Vec<Text> {
    sheet.items.iter().filter_map(|item| item.shape.text().cloned()).collect()
}

/// The number that stands nearest to a place of the page.
fn number_at(sheet: &Sheet, x: f64, y: f64) -> Option<f64> {
    let off = |t: &Text| libm::hypot(t.at[0] - x, t.at[1] + 0.5 * t.height_mm - y);
    let numbers = words(sheet).into_iter().filter_map(|t| Some((off(&t), t.words.parse::<f64>().ok()?)));
    numbers.min_by(|a, b| a.0.total_cmp(&b.0)).map(|n| n.1)
}

/// The page's own frame: where the nut's end of the spine lies.
fn origin(sheet: &Sheet) -> [f64; 2] {
    let spine = words(sheet).into_iter().find(|t| t.words == "spine").unwrap();
    let nut = words(sheet).into_iter().find(|t| t.words == "nut").unwrap();
    [nut.at[0], spine.at[1] + 0.5 * spine.height_mm]
}

/// The number of a ring stands taller than the map's.
fn is_mark(text: &Text) -> bool {
    (3.0..4.0).contains(&text.height_mm) && text.words.parse::<u32>().is_ok()
}

#[test]
fn numbers_stand_where_they_were_read() {
    let (neck, sheet) = page(Hand::Right);
    let [x0, y0] = origin(&sheet);
    for (fret, left, close) in [(3.0, 0.3, 0.12), (5.0, -0.5, 0.12), (11.0, 0.3, 0.12)] {
        let told = number_at(&sheet, x0 + neck.station_mm(fret).unwrap(), y0).unwrap();
        assert!((told - left).abs() < close, "fret {fret}: {told}");
    }
    let told: Vec<String> = words(&sheet).into_iter().map(|t| t.words).collect();
    let all = told.join(" ");
    assert!(all.contains("1: fret 5, the spine: 0.50 below the finished neck (±0.10)."), "{all}");
    assert!(told.iter().any(|w| w == "?"), "at fret 1 nothing is known of the shoulders");
    // A ring around what was found, and the legend.
    assert_eq!(words(&sheet).iter().filter(|t| is_mark(t)).count(), all.matches("(±").count());
    assert!(sheet.layer(Layer::CutLine).count() >= all.matches("(±").count());
    assert!(all.contains("100 mm") && all.contains("Measure both bars"));
}

#[test]
fn the_sides_change_places_on_a_left_handed_neck() {
    let above = |sheet: &Sheet, words_of: &str| {
        let at = words(sheet).into_iter().find(|t| t.words == words_of).unwrap().at[1];
        at > origin(sheet)[1]
    };
    let ((_, right), (_, left)) = (page(Hand::Right), page(Hand::Left));
    assert!(above(&right, "bass side") && !above(&right, "treble side"));
    assert!(!above(&left, "bass side") && above(&left, "treble side"));
    let numbers = |sheet: &Sheet| {
        let mut all: Vec<String> =
            words(sheet).into_iter().map(|t| t.words).filter(|w| w.parse::<f64>().is_ok()).collect();
        all.sort();
        all
    };
    assert_eq!(numbers(&right), numbers(&left));
}

#[test]
fn without_a_map_there_is_no_page() {
    let neck = Neck::new(&Specification::default()).unwrap();
    let inspected = neck.inspect(&Readings::default(), &InspectionOptions::default()).unwrap();
    assert!(inspection(&neck, &inspected).is_none());
}

#[test]
fn an_inspection_knows_its_neck() {
    let neck = Neck::new(&Specification::default()).unwrap();
    let inspected = neck.inspect(&readings(&neck), &InspectionOptions::default()).unwrap();
    inspected.check_of(&neck).unwrap();
    let renamed = Specification { name: "the same by another name".into(), ..Specification::default() };
    inspected.check_of(&Neck::new(&renamed).unwrap()).unwrap();
    let other = Specification { hand: Hand::Left, ..Specification::default() };
    let error = inspected.check_of(&Neck::new(&other).unwrap()).unwrap_err();
    let fault = &error.faults()[0];
    assert_eq!((fault.kind, &*fault.path), (Kind::Conflict, "inspection"));
    assert!(!fault.reason.is_empty() && !fault.remedy.is_empty());
}

#[test]
fn each_ring_has_its_number_and_the_page_its_stage() {
    let neck = Neck::new(&Specification::default()).unwrap();
    let plan = neck.carving_plan(&Stock::default()).unwrap();
    let stage = plan.stage(StageName::Contour).unwrap();
    let inspected = neck.inspect_stage(&readings(&neck), stage, &InspectionOptions::default()).unwrap();
    assert_eq!(inspected.stage, Some(StageName::Contour));
    let sheet = inspection(&neck, &inspected).unwrap();
    let all = words(&sheet);
    let told: Vec<&str> = all.iter().map(|t| t.words.as_str()).collect();
    let whole = told.join(" ");
    assert!(whole.contains("the stage \u{201c}contour\u{201d}, the back laid flat"), "{whole}");
    assert!(whole.contains("the table of what is left to take"), "{whole}");
    // The numbers of the rings stand apart from each other, and each on no other words.
    let rings = all.iter().filter(|t| is_mark(t)).count();
    assert!(rings > 1, "{whole}");
    let whole = |f: &&Finding| matches!(f.place, Place::Width | Place::Girth);
    let all_found = || inspected.low.iter().chain(&inspected.unfair);
    assert_eq!(rings, all_found().count() - all_found().filter(whole).count());
    let mark = |i: usize| all.iter().find(|t| is_mark(t) && t.words == format!("{i}")).unwrap();
    for i in 1..=rings {
        for j in 1..i {
            let (a, b) = (mark(i).at, mark(j).at);
            assert!(libm::hypot(a[0] - b[0], a[1] - b[1]) > 6.0, "{i} {j}");
        }
        let [low, high] = mark(i).room();
        let over = |t: &&Text| {
            let [a, b] = t.room();
            (0..2).all(|k| a[k] < high[k] && low[k] < b[k])
        };
        assert_eq!(all.iter().filter(over).count(), 1, "{i}");
    }
}

/// No number of the map is printed over another one, nor a ring's number over one of the map's, nor does a ring's line run
/// through one: on necks of every sort.
#[test]
fn numbers_are_printed_beside_each_other() {
    let mut least = f64::INFINITY;
    let mut corners = 0;
    for length in [560, 628, 640, 700, 864] {
        let neck = Neck::from_json(&format!("{{\"scale\": {{\"length\": {length}}}}}")).unwrap();
        for low in [[2, 3], [8, 14], [14, 15], [15, 16]] {
            let readings: Vec<Reading> = (1..=16)
                .map(|fret| {
                    let at = Station::Fret(f64::from(fret));
                    let x = neck.station_mm(f64::from(fret)).unwrap();
                    let off = if low.contains(&fret) { -0.5 } else { 0.3 };
                    let value_mm = neck.thickness_mm(x).unwrap() + off;
                    Reading { at, measured: Measured::Thickness, value_mm, uncertainty_mm: 0.05, line: 0 }
                })
                .collect();
            let readings = Readings::new(readings).unwrap();
            let inspected = neck.inspect(&readings, &InspectionOptions::default()).unwrap();
            let sheet = inspection(&neck, &inspected).unwrap();
            let number = |t: &Text| t.words == "?" || t.words.parse::<f64>().is_ok();
            let numbers: Vec<Text> = words(&sheet).into_iter().filter(number).collect();
            assert!(numbers.len() > 50);
            let line = |shape: &Shape| match shape {
                Shape::Path(path) => path.corners(1),
                _ => Vec::new(),
            };
            for corner in sheet.layer(Layer::CutLine).flat_map(line) {
                corners += 1;
                let inside = |t: &&Text| {
                    let [a, b] = t.room();
                    (0..2).all(|k| a[k] < corner[k] && corner[k] < b[k])
                };
                assert!(!numbers.iter().any(|t| inside(&t)), "a ring runs through a number at {corner:?}");
            }
            for (i, a) in numbers.iter().enumerate() {
                for b in &numbers[..i] {
                    let ([p, q], [r, s]) = (a.room(), b.room());
                    let apart = [0, 1].map(|k| (r[k] - q[k]).max(p[k] - s[k]));
                    let apart = apart[0].max(apart[1]);
                    assert!(apart >= 0.0, "{} over {}: {apart}", a.words, b.words);
                    least = least.min(apart);
                }
            }
        }
    }
    assert!(corners > 1000);
    println!("no nearer than {least} mm");
}

/// A width that is too small lies at no one place of the back: it is told, and no ring drawn for it.
#[test]
fn a_low_width_is_told_without_a_ring() {
    let neck = Neck::new(&Specification::default()).unwrap();
    let mut all: Vec<Reading> = Vec::new();
    for fret in 1..=12 {
        let at = Station::Fret(f64::from(fret));
        let x = neck.station_mm(f64::from(fret)).unwrap();
        let low = if fret == 5 { -0.6 } else { 0.0 };
        for (measured, value_mm) in [
            (Measured::Thickness, neck.thickness_mm(x).unwrap() + 0.3),
            (Measured::Width, neck.width_mm(x).unwrap() + low),
        ] {
            all.push(Reading { at, measured, value_mm, uncertainty_mm: 0.05, line: 0 });
        }
    }
    let readings = Readings::new(all).unwrap();
    let inspected = neck.inspect(&readings, &InspectionOptions::default()).unwrap();
    assert!(inspected.low.iter().any(|f| f.place == Place::Width), "{:?}", inspected.low);
    let sheet = inspection(&neck, &inspected).unwrap();
    let told: Vec<String> = words(&sheet).into_iter().map(|t| t.words).collect();
    assert!(
        told.iter().any(|w| w.starts_with("fret 5, the width: ") && w.contains("too narrow")),
        "{told:?}"
    );
    assert_eq!(sheet.layer(Layer::CutLine).count(), 0);
}

//! Deviations are exact, on either hand, whatever is read.

use crate::check_common::{Normal, around, checked, point, reading, sound, stations, thickness};
use neckwright::inspect::{Inspection, Measured, Place, Reading, Readings};
use neckwright::measure::{Kind, Station};
use neckwright::shape::{Neck, Point, Side};
use neckwright::spec::{BenchUnit, Hand, InspectionOptions, StageName, Stock};

fn inspect(neck: &Neck, readings: &[Reading]) -> Inspection {
    neck.inspect(&checked(readings), &InspectionOptions::default()).unwrap()
}

/// Distance from a closed polyline, and whether the point lies inside by the crossings of a ray.
pub fn witness(polyline: &[Point], q: Point) -> f64 {
    let (mut best, mut inside) = (f64::INFINITY, false);
    for w in polyline.windows(2) {
        let (a, b) = (w[0], w[1]);
        let d = [b[0] - a[0], b[1] - a[1]];
        let size = d[0] * d[0] + d[1] * d[1];
        let along = (q[0] - a[0]) * d[0] + (q[1] - a[1]) * d[1];
        let t = if size > 0.0 { (along / size).clamp(0.0, 1.0) } else { 0.0 };
        best = best.min(libm::hypot(q[0] - a[0] - t * d[0], q[1] - a[1] - t * d[1]));
        if (a[1] > q[1]) != (b[1] > q[1]) && q[0] < a[0] + (q[1] - a[1]) * d[0] / d[1] {
            inside = !inside;
        }
    }
    if inside { -best } else { best }
}

#[test]
fn the_distance_of_a_point_is_that_of_the_nearest_place_of_the_outline() {
    let mut noise = Normal::new(21);
    let (mut worst, mut all) = (0.0_f64, 0);
    for neck in crate::common::necks(200) {
        let [from, to] = neck.reach_mm();
        for _ in 0..6 {
            let x = noise.between(from, to);
            let polyline: Vec<Point> = neck.section(x).unwrap().polyline_mm(1e-6).unwrap();
            let polyline: Vec<Point> = polyline.iter().map(|[y, z]| [neck.hand_sign() * y, *z]).collect();
            let readings: Vec<Reading> = (0..25)
                .map(|i| {
                    // Everywhere about the section, and close to its outline.
                    let p = polyline[noise.below(polyline.len())];
                    let far = if i % 2 == 0 { 8.0 } else { 0.3 };
                    let (y, z) = (p[0] + far * noise.next(), p[1] + far * noise.next());
                    reading(x, Measured::Point { across_mm: y }, -z, 0.1)
                })
                .collect();
            let readings = sound(&neck, &readings);
            all += readings.len();
            for (row, r) in inspect(&neck, &readings).rows.iter().zip(&readings) {
                let Measured::Point { across_mm } = r.measured else { unreachable!() };
                let expected = witness(&polyline, [across_mm, -r.value_mm]);
                let got = row.finished.unwrap();
                worst = worst.max((got.mm - expected).abs());
                assert!((got.mm - expected).abs() < 3e-6, "{x} {r:?}: {} and not {expected}", got.mm);
                assert_eq!(got.uncertainty_mm, 0.1);
            }
        }
    }
    println!("worst: {worst:e} mm of {all} points");
    assert!(all > 25_000, "{all} points that can be read");
}

#[test]
fn the_distance_from_a_stage_is_that_from_its_section() {
    let mut noise = Normal::new(22);
    let mut stages = 0;
    for neck in crate::common::necks(60) {
        let Ok(plan) = neck.carving_plan(&Stock::default()) else { continue };
        for stage in plan.stages() {
            let [from, to] = neck.reach_mm();
            let x = noise.between(from, to);
            let polyline = stage.wood.polyline_mm(x, 1e-6).unwrap();
            if polyline.is_empty() {
                continue;
            }
            let polyline: Vec<Point> = polyline.iter().map(|[y, z]| [neck.hand_sign() * y, *z]).collect();
            let mut readings: Vec<Reading> = (0..20)
                .map(|_| {
                    let p = polyline[noise.below(polyline.len())];
                    let (y, z) = (p[0] + noise.next(), p[1] + noise.next());
                    reading(x, Measured::Point { across_mm: y }, -z, 0.1)
                })
                .collect();
            let thick = neck.thickness_mm(x).unwrap();
            readings.push(reading(x, Measured::Thickness, thick, 0.05));
            readings.push(reading(x, Measured::Width, neck.width_mm(x).unwrap(), 0.05));
            readings.push(reading(x, Measured::Girth, neck.girth_mm(x).unwrap(), 0.05));
            let inspection =
                neck.inspect_stage(&checked(&readings), stage, &InspectionOptions::default()).unwrap();
            stages += 1;
            for (row, r) in inspection.rows.iter().zip(&readings) {
                let Measured::Point { across_mm } = r.measured else { continue };
                let (got, expected) = (row.stage.unwrap().mm, witness(&polyline, [across_mm, -r.value_mm]));
                // The polyline of the board's face cuts off the corner where the wood is wider than the finished board.
                let face = neck.layout().board().thickness_mm();
                let close = if r.value_mm < face { 2e-3 } else { 5e-6 };
                assert!(
                    (got - expected).abs() < close,
                    "{:?} at {x} {r:?}: {got} not {expected}",
                    stage.name
                );
            }
            // The finished neck lies in the wood: its own thickness and width come up short, and never stand over.
            for row in &inspection.rows[20..22] {
                if let Some(d) = row.stage {
                    assert!(d.mm < 1e-9, "{:?} at {x}: {row:?}", stage.name);
                }
            }
        }
    }
    assert!(stages > 100, "{stages}");
}

#[test]
fn readings_that_are_the_targets_have_no_deviation() {
    for neck in crate::common::necks(50) {
        let mut readings = Vec::new();
        for x in stations(&neck, 5) {
            readings.push(reading(x, Measured::Thickness, neck.thickness_mm(x).unwrap(), 0.05));
            readings.push(reading(x, Measured::Width, neck.width_mm(x).unwrap(), 0.05));
            readings.push(reading(x, Measured::Girth, neck.girth_mm(x).unwrap(), 0.05));
            for side in Side::BOTH {
                let depth = neck.carve_line_mm(x, side).unwrap();
                readings.push(reading(x, Measured::CarveLine(side), depth, 0.05));
            }
            let radius = neck.layout().board().crown().radius_mm(x);
            // A flat board has none, and readings of it are refused.
            readings.extend(radius.map(|radius| reading(x, Measured::Radius, radius, 1.0)));
        }
        let inspection = inspect(&neck, &readings);
        assert_eq!(inspection.rows.len(), readings.len());
        for (i, row) in inspection.rows.iter().enumerate() {
            assert_eq!((row.reading, row.measured), (i, readings[i].measured));
            match row.finished {
                Some(d) => assert!(d.mm.abs() < 1e-9, "{row:?}"),
                None => assert!(row.measured == Measured::Radius && neck.layout().board().crown().is_flat()),
            }
        }
        assert!(inspection.low.is_empty() && inspection.unfair.is_empty());
    }
}

#[test]
fn a_left_handed_twin_is_inspected_alike() {
    let mut noise = Normal::new(23);
    for neck in crate::common::necks(40) {
        let mut spec = neck.normalised().clone();
        spec.hand = if spec.hand == Hand::Left { Hand::Right } else { Hand::Left };
        let twin = Neck::new(&spec).unwrap();
        let mut readings = Vec::new();
        for x in stations(&neck, 4) {
            let low = |s: &crate::check_common::Spot| if s.way > 4.0 && s.way < 12.0 { -0.4 } else { 0.1 };
            readings.extend(around(&neck, x, 10, 2).iter().map(|s| point(s, low(s), 0.03, &mut noise)));
            readings.push(thickness(&neck, x, 0.1, 0.03, &mut noise));
        }
        // Across is positive toward the treble side on either hand: the same readings, the same answers.
        let (one, other) = (inspect(&neck, &readings), inspect(&twin, &readings));
        assert_ne!(one, other, "each knows its neck");
        let told = |of: &Inspection| {
            let mut told = serde_json::to_value(of).unwrap();
            // Where the wood was touched lies in the neck's own frame, mirrored in the twin's.
            let rows = told["rows"].as_array_mut().unwrap();
            let touched: Vec<_> = rows.iter_mut().map(|row| row["touched_mm"].take()).collect();
            (told, touched)
        };
        let ((one_told, touched), (other_told, mirrored)) = (told(&one), told(&other));
        assert_eq!(one_told, other_told);
        for (at, mirrored) in touched.iter().zip(&mirrored) {
            let [x, y, z] = [0, 1, 2].map(|k| at[k].as_f64().unwrap());
            assert_eq!([0, 1, 2].map(|k| mirrored[k].as_f64().unwrap()), [x, -y, z]);
        }
        assert!(one.low.iter().any(|f| matches!(f.place, Place::Spine | Place::Shoulder(Side::Treble))));
    }
}

#[test]
fn whatever_is_read_no_panic_and_no_nan() {
    let (mut noise, mut all) = (Normal::new(24), 0);
    for (k, neck) in crate::common::necks(60).into_iter().enumerate() {
        let [from, to] = neck.reach_mm();
        let same = noise.between(from, to);
        let readings: Vec<Reading> = (0..200)
            .map(|_| {
                let x = if k % 3 == 0 { same } else { noise.between(from, to) };
                let sigma = if k % 2 == 0 { libm::exp2(noise.between(-19.0, 9.0)) } else { 0.05 };
                let value =
                    if k % 5 == 0 { noise.between(-9999.0, 9999.0) } else { noise.between(0.0, 40.0) };
                let across = if k % 4 == 0 { 0.0 } else { noise.between(-30.0, 30.0) };
                let measured = match noise.below(7) {
                    0 => Measured::Thickness,
                    1 => Measured::Width,
                    2 => Measured::Girth,
                    3 => Measured::CarveLine(Side::Bass),
                    4 => Measured::Radius,
                    _ => Measured::Point { across_mm: across },
                };
                reading(x, measured, value, sigma)
            })
            .collect();
        let readings = sound(&neck, &readings);
        all += readings.len();
        let inspection = inspect(&neck, &readings);
        for d in inspection.rows.iter().flat_map(|r| [r.finished, r.stage]).flatten() {
            assert!(d.mm.is_finite() && d.uncertainty_mm > 0.0);
        }
        for f in inspection.low.iter().chain(&inspection.unfair) {
            let all = [f.amplitude_mm, f.uncertainty_mm, f.x_mm[0], f.x_mm[1], f.p_value];
            assert!(all.iter().all(|v| v.is_finite()) && (0.0..=0.01).contains(&f.p_value), "{f:?}");
        }
        for cell in inspection.map.iter().flat_map(|m| &m.cells) {
            assert!(cell.left_mm.is_finite() && cell.uncertainty_mm.is_finite(), "{cell:?}");
        }
        assert_eq!(inspection.sentences.is_empty(), readings.is_empty());
        assert!(inspection.sentences.iter().all(|s| !s.contains("NaN")));
    }
    assert!(all > 1500, "{all} readings that can be");
    let neck = Neck::from_json("{}").unwrap();
    let none = inspect(&neck, &[]);
    assert!(none.rows.is_empty() && none.map.is_none() && none.sentences.is_empty());
}

#[test]
fn what_cannot_be_a_reading_is_named_all_of_it() {
    let neck = Neck::from_json("{}").unwrap();
    let off = [
        reading(9000.0, Measured::Width, 20.0, 0.1),
        Reading { at: Station::Fret(99.0), line: 7, ..reading(0.0, Measured::Thickness, 20.0, 0.1) },
    ];
    // Numbers that no reading has never come so far: see the tests of readings.
    let off = off.map(|r| Readings::new(vec![r]));
    assert!(off.iter().all(Result::is_err), "{off:?}");
    let beyond = [
        reading(100.0, Measured::Thickness, 20.0, 0.1),
        Reading { line: 7, ..reading(1000.0, Measured::Width, 20.0, 0.1) },
    ];
    let error = neck.inspect(&checked(&beyond), &InspectionOptions::default()).unwrap_err();
    assert_eq!(error.faults()[0].path, "line 7, readings[1].at");
    let options = InspectionOptions { significance: 0.7, ..InspectionOptions::default() };
    let error = neck.inspect(&Readings::default(), &options).unwrap_err();
    assert_eq!((error.faults()[0].path.as_str(), error.faults()[0].kind), ("significance", Kind::OutOfRange));
    assert_eq!(InspectionOptions::from_json("{}").unwrap(), InspectionOptions::default());
    let inches = InspectionOptions::from_json(r#"{"unit": "in", "significance": 0.05}"#).unwrap();
    assert_eq!(inches, InspectionOptions { unit: BenchUnit::Inches, significance: 0.05, format: 1 });
    assert_eq!(InspectionOptions::from_json(&inches.to_json()).unwrap(), inches);
}

#[test]
fn the_bench_is_told_in_plain_words() {
    let neck = Neck::from_json("{}").unwrap();
    let at = |fret: f64| neck.station_mm(fret).unwrap();
    let thick = |fret: f64, out: f64| {
        reading(at(fret), Measured::Thickness, neck.thickness_mm(at(fret)).unwrap() + out, 0.02)
    };
    let mut readings: Vec<Reading> = [1.0, 2.0, 3.0, 4.0, 6.0, 8.0, 9.0].map(|f| thick(f, 0.0)).to_vec();
    readings.push(thick(7.0, -0.2));
    let mut noise = Normal::new(25);
    for spot in around(&neck, at(5.0), 6, 1) {
        let share = spot.way / spot.carved;
        let out = if share > 0.4 && share < 1.0 { 0.4 } else { 0.1 };
        readings.push(Reading { uncertainty_mm: 0.02, ..point(&spot, out, 1e-9, &mut noise) });
    }
    readings.push(reading(at(5.0), Measured::Width, neck.width_mm(at(5.0)).unwrap() + 0.3, 0.05));
    let told = inspect(&neck, &readings).sentences;
    for sentence in [
        "fret 7: 0.20 mm too low at the spine (±0.04); the neck has to come down to it",
        "fret 5: 0.40 mm still to come off, most on the treble shoulder (±0.02)",
        "fret 5: 0.3 mm still to come off in the width (±0.1)",
        "fret 3: no difference at the spine that these readings can tell (±0.04)",
    ] {
        assert!(told.iter().any(|s| s == sentence), "{sentence:?} is not in {told:#?}");
    }
    let options = InspectionOptions { unit: BenchUnit::Inches, ..InspectionOptions::default() };
    let told = neck.inspect(&checked(&readings), &options).unwrap().sentences;
    for sentence in [
        "fret 7: 0.008 in (about 1/64 in) too low at the spine (±0.002); the neck has to come down to it",
        "fret 5: 0.016 in (about 1/64 in) still to come off, most on the treble shoulder (±0.001)",
    ] {
        assert!(told.iter().any(|s| s == sentence), "{sentence:?} is not in {told:#?}");
    }
    let plan = neck.carving_plan(&Stock::default()).unwrap();
    let stage = plan.stage(StageName::Contour).unwrap();
    let told =
        neck.inspect_stage(&checked(&readings), stage, &InspectionOptions::default()).unwrap().sentences;
    assert!(told.iter().any(|s| s.starts_with("fret 3: past this stage by ")), "{told:#?}");
}

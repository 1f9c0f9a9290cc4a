//! Low patches are told where they are, and reach no further than what was read.

use crate::check_common::{Normal, around, checked, limits, point, reading, stations, thickness};
use neckwright::inspect::{Finding, Inspection, Measured, Place, Reading, Readings};
use neckwright::shape::{Neck, Side};
use neckwright::spec::InspectionOptions;

fn neck() -> Neck {
    Neck::from_json(
        r#"{"scale": {"length": 640}, "shaft": {"thickness": [
            {"at": "fret 1", "thickness": "0.86 in"}, {"at": "fret 12", "thickness": "0.90 in"}]}}"#,
    )
    .unwrap()
}

fn inspected(text: &str) -> (Inspection, Readings) {
    let readings = Readings::from_csv(&format!("at,quantity,value,across,uncertainty\n{text}")).unwrap();
    (neck().inspect(&readings, &InspectionOptions::default()).unwrap(), readings)
}

/// Readings of thickness so far from the finished neck.
fn along(off: &[(f64, f64)]) -> Inspection {
    let neck = neck();
    let line = |(fret, off): &(f64, f64)| {
        let thick = neck.thickness_mm(neck.station_mm(*fret).unwrap()).unwrap() + off;
        format!("fret {fret},thickness,{thick},,0.05\n")
    };
    inspected(&off.iter().map(line).collect::<String>()).0
}

#[test]
fn low_shoulders_are_no_low_spine() {
    let (found, readings) =
        inspected("fret 5,point,14.9,16,\nfret 5,point,14.9,-16,\nfret 5,thickness,22.6,,\n");
    let told = &found.sentences;
    let mut places: Vec<Place> = found.low.iter().map(|f| f.place).collect();
    places.sort_by_key(|p| p.name());
    assert_eq!(places, [Place::Shoulder(Side::Bass), Place::Shoulder(Side::Treble)], "{told:#?}");
    assert!(told.iter().all(|s| !s.contains("low at the spine")), "{told:#?}");
    assert!(told.iter().any(|s| s.contains("still to come off at the spine")), "{told:#?}");
    assert!(
        found.low_readings(&readings).unwrap().iter().all(|r| matches!(r.measured, Measured::Point { .. }))
    );
    // Without the caliper nothing was read between them.
    let (found, _) = inspected("fret 5,point,14.9,16,\nfret 5,point,14.9,-16,\n");
    assert!(found.low.len() == 2 && found.low.iter().all(|f| f.place != Place::Spine), "{:#?}", found.low);
}

#[test]
fn a_patch_is_told_at_its_lowest_place_and_ends_where_it_is_not_low() {
    let (found, _) = inspected(
        "fret 5,point,15.0,16,0.05\nfret 5,point,21.0,6,0.05\nfret 5,point,22.3,0,0.05\n\
         fret 5,point,21.0,-6,0.05\nfret 5,point,18.9,-16,0.05\n",
    );
    let off: Vec<f64> = found.rows.iter().map(|r| r.finished.unwrap().mm).collect();
    let at = |i: usize| found.rows[i].around_mm.unwrap();
    let treble: Vec<&Finding> =
        found.low.iter().filter(|f| f.place == Place::Shoulder(Side::Treble)).collect();
    assert_eq!(treble.len(), 1, "{off:?} {:#?}", found.low);
    let lowest = treble[0].lowest.unwrap();
    assert!(
        (lowest.around_mm.unwrap() - at(0)).abs() < 1e-12 && (lowest.deviation.mm - off[0]).abs() < 1e-12
    );
    assert!(off[0] < -1.5, "{off:?}");
    // From the spine on, which is right, nothing is in the patch.
    assert!(treble[0].around_mm.unwrap()[0] >= at(1) - 1e-12);
    let whole = found.low.iter().all(|f| {
        let [a, b] = f.around_mm.unwrap();
        !(a < at(2) && b > at(2))
    });
    assert!(whole, "{:#?}", found.low);
    let told = &found.sentences;
    let words = "at its lowest 1.7 mm (±0.1); what is around it has to come down to it";
    assert!(told.iter().any(|s| s.contains("on the treble shoulder") && s.ends_with(words)), "{told:#?}");
}

#[test]
fn a_low_spine_hides_no_shoulder_that_is_lower() {
    let (found, _) =
        inspected("fret 5,thickness,21.6,,0.05\nfret 5,point,20.6,6,0.05\nfret 5,point,14.9,16,0.05\n");
    let told = &found.sentences;
    assert!(told.iter().any(|s| s.contains("too low at the spine")), "{told:#?}");
    assert!(told.iter().any(|s| s.contains("too low on the treble shoulder")), "{told:#?}");
}

#[test]
fn along_the_neck_a_patch_stays_with_what_was_read() {
    // The whole fingerboard lies between them.
    let found = along(&[(1.0, -0.24), (15.0, -0.24)]);
    assert!(found.low.iter().all(|f| f.x_mm[0] == f.x_mm[1]), "{:#?}", found.low);
    assert_eq!(found.low.len(), 2);
    let found = along(&[(1.0, -0.24), (7.0, 0.0), (15.0, -0.24)]);
    assert!(found.low.len() == 2 && found.low.iter().all(|f| f.x_mm[0] == f.x_mm[1]), "{:#?}", found.low);
    // A place in the middle that is right, nowhere far from the next.
    let found = along(&[(1.0, -0.2), (2.0, -0.2), (3.0, 0.01), (4.0, -0.2), (5.0, -0.2)]);
    let right = neck().station_mm(3.0).unwrap();
    assert_eq!(found.low.len(), 2, "{:#?}", found.low);
    assert!(found.low.iter().all(|f| f.x_mm[1] < right || f.x_mm[0] > right), "{:#?}", found.low);
    // Neighbours are one patch, with the lowest of them.
    let found = along(&[(1.0, 0.1), (3.0, -0.3), (5.0, -0.6), (7.0, -0.3), (9.0, 0.1)]);
    assert_eq!(found.low.len(), 1, "{:#?}", found.low);
    let words = "from fret 3 to fret 7: 0.40 mm too low at the spine (±0.06) on average, \
                 at its lowest 0.6 mm at fret 5 (±0.1); the neck has to come down to it";
    assert!(found.sentences.iter().any(|s| s == words), "{:#?}", found.sentences);
}

/// Where a caliper was held at the sections too, two rows say the same of the spine: an inspection alarms no more often
/// for it. Nor where places lie too far apart to be neighbours.
#[test]
fn nothing_planted_is_found_no_more_often_than_stated() {
    let mut noise = Normal::new(71);
    const NECKS: usize = 2000;
    const SIGMA: f64 = 0.03;
    for (name, sections, calipers) in
        [("with a caliper", 6, 6), ("far apart", 3, 3), ("calipers alone", 0, 5)]
    {
        let mut alarms = 0;
        for neck in crate::common::necks(NECKS) {
            let mut all: Vec<Reading> = Vec::new();
            for x in stations(&neck, sections.max(1)).into_iter().take(sections) {
                all.extend(around(&neck, x, 6, 1).iter().map(|s| point(s, 0.0, SIGMA, &mut noise)));
            }
            all.extend(
                stations(&neck, calipers).iter().map(|x| thickness(&neck, *x, 0.0, SIGMA, &mut noise)),
            );
            let options = InspectionOptions { significance: 0.05, ..InspectionOptions::default() };
            alarms += usize::from(!neck.inspect(&checked(&all), &options).unwrap().low.is_empty());
        }
        println!("{name}: {alarms} of {NECKS}");
        let allowed = limits(NECKS, 0.05);
        assert!(alarms <= *allowed.end(), "{name}: {alarms} not in {allowed:?}");
        // Nor much less often: no less than half as often as is stated.
        assert!(alarms >= *limits(NECKS, 0.025).start(), "{name}: {alarms}");
    }
}

/// A tenth of the way to the first fret is more than three millimetres: that is no longer the nut.
#[test]
fn the_nut_is_the_nut_within_half_a_millimetre() {
    let neck = neck();
    for (x, words) in [
        (0.0, "the nut:"),
        (0.4, "the nut:"),
        (1.0, "between the nut and fret 1, 1 mm from the nut:"),
        (3.0, "between the nut and fret 1, 3 mm from the nut:"),
        (neck.station_mm(0.95).unwrap(), "fret 1:"),
    ] {
        let thick = neck.thickness_mm(x).unwrap() + 0.5;
        let thick = reading(x, Measured::Thickness, thick, 0.05);
        let told = neck.inspect(&checked(&[thick]), &InspectionOptions::default()).unwrap().sentences;
        assert!(told.iter().all(|s| s.starts_with(words)) && !told.is_empty(), "{x}: {told:#?}");
    }
}

#[test]
fn the_headstocks_face_is_no_boards_face() {
    let neck = neck();
    for (x, place) in [(-60.0, "the wood's face"), (100.0, "the board's face")] {
        let across_mm = 2.0;
        let depth = if x < 0.0 { 12.0 } else { 0.1 };
        let point = reading(x, Measured::Point { across_mm }, depth, 0.05);
        let found = neck.inspect(&checked(&[point]), &InspectionOptions::default()).unwrap();
        assert!(found.sentences.iter().any(|s| s.contains(place)), "{:#?}", found.sentences);
    }
}

//! What can be wrong with a layout, and the words for it.

use neckwright::layout::Layout;
use neckwright::measure::{Kind, Length, Station};
use neckwright::spec::{FretRule, Radius, Specification, WidthAt};

fn mm(value: f64) -> Length {
    Length::from_mm(value)
}

fn at(station: Station, width: f64) -> WidthAt {
    WidthAt { at: station, width: mm(width) }
}

/// The faults of the default neck, changed so.
fn faults(change: impl FnOnce(&mut Specification)) -> Vec<(Kind, String)> {
    let mut spec = Specification::default();
    change(&mut spec);
    let error = Layout::new(&spec).unwrap_err();
    error.faults().iter().map(|fault| (fault.kind, fault.to_string())).collect()
}

fn one(kind: Kind, change: impl FnOnce(&mut Specification), message: &str) {
    assert_eq!(faults(change), [(kind, message.to_string())]);
}

#[test]
fn scale() {
    let double = |s: &mut Specification| (s.scale.bass, s.scale.treble) = (Some(mm(660.0)), Some(mm(640.0)));
    one(
        Kind::Conflict,
        |s| {
            double(s);
            s.strings.count = 1;
        },
        "scale.bass: one string has one scale; give scale.length instead of bass and treble",
    );
    one(
        Kind::Conflict,
        |s| {
            double(s);
            s.frets.rule = FretRule::Table;
            s.frets.count = 2;
            s.frets.cents = Some(vec![100.0, 210.0]);
        },
        "scale.square_fret = 7: the table ends before this fret (allowed: 0 to 2); take an earlier fret",
    );
    one(
        Kind::Geometry,
        |s| (s.scale.bass, s.scale.treble) = (Some(mm(900.0)), Some(mm(500.0))),
        "frets.count = 22: the board would end at 605.786 mm and the bridge stands at 566.457 mm; take fewer frets, bring the two scales nearer to one another, or give fretboard.end",
    );
    one(
        Kind::Geometry,
        |s| (s.scale.bass, s.scale.treble) = (Some(mm(1300.0)), Some(mm(200.0))),
        "frets.count = 22: the board would end at 930.942 mm and the bridge stands at 382.781 mm; take fewer frets, bring the two scales nearer to one another, or give fretboard.end",
    );
    one(
        Kind::Geometry,
        |s| {
            (s.scale.bass, s.scale.treble) = (Some(mm(1300.0)), Some(mm(640.0)));
            s.frets.count = 0;
            s.fretboard.widths = Some(vec![at(Station::Mm(20.0), 160.0)]);
            s.fretboard.radius = Radius::Flat;
            s.fretboard.end = Some(Station::Mm(20.0));
        },
        "scale.bass = 1300 mm: so unlike scale.treble that the line of fret 0 never reaches the board's edge; bring the two scales nearer to one another",
    );
    one(
        Kind::Geometry,
        |s| {
            (s.scale.bass, s.scale.treble) = (Some(mm(700.0)), Some(mm(450.0)));
            (s.nut.width, s.nut.string_spread, s.bridge.string_spread) =
                (mm(110.0), Some(mm(20.0)), mm(20.0));
            s.frets.count = 12;
            s.fretboard.radius = Radius::Flat;
            s.fretboard.end = Some(Station::Mm(450.0));
        },
        "scale.square_fret = 7: the slot of fret 1 runs into the nut; bring the two scales nearer to one another",
    );
}

#[test]
fn frets() {
    one(
        Kind::Conflict,
        |s| {
            s.frets.rule = FretRule::Table;
            s.frets.cents = Some(vec![100.0, 200.0]);
        },
        "frets.count = 22: the table ends before the last fret (allowed: 0 to 2); give all frets, or end the table with a whole number of octaves, from where it begins again",
    );
    one(
        Kind::Geometry,
        |s| {
            s.frets.rule = FretRule::Table;
            s.frets.cents = Some(vec![100.0, 90.0, 1200.0]);
        },
        "frets.cents[1] = 90 cents: not above the one before it, 100; give the frets in rising order, without the open string",
    );
    one(
        Kind::Geometry,
        |s| {
            s.frets.rule = FretRule::Table;
            s.frets.count = 2;
            s.frets.cents = Some(vec![100.0, 100.5, 1200.0]);
        },
        "frets.count = 2: the slots of frets 1 and 2 run into one another; take fewer frets, or ones that lie farther apart",
    );
    one(
        Kind::Geometry,
        |s| (s.frets.count, s.frets.divisions) = (40, 5),
        "frets.count = 40: the board would end at 645.5 mm and the bridge stands at 640 mm; take fewer frets, or give fretboard.end",
    );
    one(
        Kind::Geometry,
        |s| {
            (s.frets.count, s.frets.divisions) = (40, 5);
            s.fretboard.end = Some(Station::Mm(640.0));
        },
        "frets.count = 40: the slots of frets 36 and 37 run into one another; take fewer frets, or ones that lie farther apart",
    );
    one(
        Kind::Geometry,
        |s| (s.frets.slot_depth, s.fretboard.radius) = (mm(5.0), Radius::Round(mm(100.0))),
        "frets.slot_depth = 5 mm: the slot of fret 1 cuts through the board at its end (allowed: 3.561474 mm or less); saw less deep, or take a thicker board",
    );
}

#[test]
fn strings() {
    one(
        Kind::Conflict,
        |s| (s.strings.count, s.nut.string_spread) = (1, Some(mm(36.0))),
        "nut.string_spread = 36 mm: one string has no spread; take it out, or give more strings",
    );
    one(
        Kind::Geometry,
        |s| s.nut.string_spread = Some(mm(0.0)),
        "nut.string_spread = 0 mm: the outer strings lie on one another; spread them, or have one string",
    );
    one(
        Kind::Geometry,
        |s| s.bridge.string_spread = mm(0.0),
        "bridge.string_spread = 0 mm: the outer strings lie on one another; spread them, or have one string",
    );
    one(
        Kind::Geometry,
        |s| s.nut.string_spread = Some(mm(3.0)),
        "nut.string_spread = 3 mm: leaves no gap between strings 1 and 2, counted from the bass; spread the strings farther, or take thinner ones or fewer",
    );
    one(
        Kind::Geometry,
        |s| s.nut.string_spread = Some(mm(42.5)),
        "nut.string_spread = 42.5 mm: the bass string lies 0.335 mm over the board's edge at station 0 mm; spread the strings less, or take a wider board",
    );
    one(
        Kind::Geometry,
        |s| {
            s.bridge.string_spread = mm(80.0);
            s.fretboard.widths = Some(vec![at(Station::Fret(12.0), 52.0)]);
        },
        "bridge.string_spread = 80 mm: the bass string lies 6.599 mm over the board's edge at station 468.406 mm; spread the strings less, or take a wider board",
    );
}

#[test]
fn board() {
    one(
        Kind::Geometry,
        |s| s.fretboard.widths = Some(vec![at(Station::NUT, 50.0)]),
        "fretboard.widths[0].at = 0 mm: not beyond the nut, whose width is nut.width (allowed: 0.1 mm or more); give the stations in order from the nut, each once",
    );
    one(
        Kind::Geometry,
        |s| s.fretboard.widths = Some(vec![at(Station::Fret(12.0), 52.0), at(Station::Mm(320.0), 53.0)]),
        "fretboard.widths[1].at = 320 mm: not beyond the station before it, at 320 mm (allowed: 320.1 mm or more); give the stations in order from the nut, each once",
    );
    one(
        Kind::Geometry,
        |s| s.fretboard.end = Some(Station::Mm(-3.0)),
        "fretboard.end = -3 mm: a board ends between the nut and the bridge (allowed: 0.1 to 640 mm); move it within the range, or leave it out",
    );
    one(
        Kind::Geometry,
        |s| s.fretboard.end = Some(Station::Mm(641.0)),
        "fretboard.end = 641 mm: a board ends between the nut and the bridge (allowed: 0.1 to 640 mm); move it within the range, or leave it out",
    );
    one(
        Kind::Geometry,
        |s| s.fretboard.end = Some(Station::Fret(22.0)),
        "fretboard.end = 460.406 mm: the board ends before the slot of fret 22 does (allowed: 460.696072 mm or more); end the board farther on, or take fewer frets",
    );
    one(
        Kind::Conflict,
        |s| (s.fretboard.radius, s.fretboard.end_radius) = (Radius::Flat, Some(mm(400.0))),
        "fretboard.end_radius = 400 mm: the board is flat at the nut; take it out, or give fretboard.radius as a length",
    );
    one(
        Kind::Conflict,
        |s| (s.fretboard.straight_under_strings, s.fretboard.end_radius) = (true, Some(mm(400.0))),
        "fretboard.end_radius = 400 mm: fretboard.straight_under_strings already sets it; take it out, or straight_under_strings",
    );
    one(
        Kind::Geometry,
        |s| s.fretboard.radius = Radius::Round(mm(50.0)),
        "fretboard.radius = 50 mm: at station 468.406 mm the board is wider than its radius (allowed: 54.710152 mm or more); take a larger radius or a narrower board",
    );
    one(
        Kind::Geometry,
        |s| s.fretboard.end_radius = Some(mm(50.0)),
        "fretboard.end_radius = 50 mm: at station 468.406 mm the board is wider than its radius (allowed: 54.710152 mm or more); take a larger radius or a narrower board",
    );
    one(
        Kind::Geometry,
        |s| {
            s.frets.count = 0;
            (s.fretboard.thickness, s.fretboard.radius) = (mm(2.0), Radius::Round(mm(56.0)));
        },
        "fretboard.thickness = 2 mm: the radius leaves no edge at station 467.2 mm (allowed: 7.127468 mm or more); take a thicker board or a larger radius",
    );
    one(
        Kind::Geometry,
        |s| (s.nut.width, s.nut.string_spread) = (mm(120.0), Some(mm(20.0))),
        "fretboard.thickness = 6 mm: the radius leaves no edge at station 468.406 mm (allowed: 8.549913 mm or more); take a thicker board or a larger radius",
    );
    one(
        Kind::Geometry,
        |s| {
            (s.scale.bass, s.scale.treble, s.scale.square_fret) = (Some(mm(640.1)), Some(mm(640.0)), 12.0);
            (s.strings.count, s.nut.width, s.nut.string_spread) = (2, mm(15.0), Some(mm(5.0)));
            (s.frets.count, s.fretboard.radius, s.fretboard.binding) = (0, Radius::Flat, mm(5.0));
            s.fretboard.widths = Some(vec![at(Station::Mm(1.0), 160.0)]);
            s.fretboard.end = Some(Station::Mm(1.0));
        },
        "fretboard.binding = 5 mm: leaves no board between the bindings at station -0.043 mm; take a narrower binding or a wider board",
    );
    one(
        Kind::Conflict,
        |s| s.fretboard.face_markers = vec![3, 5, 3],
        "fretboard.face_markers[2] = 3: this fret is in the list already; name each fret once",
    );
    one(
        Kind::Conflict,
        |s| s.fretboard.side_markers = vec![12, 12],
        "fretboard.side_markers[1] = 12: this fret is in the list already; name each fret once",
    );
}

#[test]
fn all_faults_at_once() {
    let found = faults(|s| {
        s.frets.rule = FretRule::Table;
        s.frets.cents = Some(vec![100.0, 90.0]);
        s.nut.string_spread = Some(mm(0.0));
        s.bridge.string_spread = mm(0.0);
        s.fretboard.straight_under_strings = true;
        s.fretboard.end_radius = Some(mm(400.0));
    });
    let kinds: Vec<Kind> = found.iter().map(|(kind, _)| *kind).collect();
    assert_eq!(kinds, [Kind::Geometry, Kind::Geometry, Kind::Geometry, Kind::Conflict]);
}

#[test]
fn questions_that_have_no_answer() {
    let layout = Layout::new(&Specification::default()).unwrap();
    let path = |error: neckwright::measure::Error| error.faults()[0].path.clone();
    assert_eq!(path(layout.string_y_mm(6, 0.0).unwrap_err()), "string");
    assert_eq!(path(layout.spacing_mm(5, 0.0).unwrap_err()), "string");
    assert_eq!(path(layout.gap_mm(usize::MAX, 0.0).unwrap_err()), "string");
    assert_eq!(path(layout.hump(0, -1.0, 100.0).unwrap_err()), "from_mm");
    assert_eq!(path(layout.hump(0, 100.0, 50.0).unwrap_err()), "to_mm");
    assert_eq!(path(layout.hump(9, 0.0, 50.0).unwrap_err()), "string");
    assert_eq!(path(layout.fret_at(640.0).unwrap_err()), "x_mm");
    assert_eq!(path(layout.fret_at(-1.0).unwrap_err()), "x_mm");
    assert_eq!(path(layout.station_of_fret_mm(60.5).unwrap_err()), "fret");
    assert_eq!(path(layout.station_mm(&Station::Mm(f64::INFINITY)).unwrap_err()), "station");
    assert_eq!(path(layout.board().sagitta_mm(0.0, 306.0).unwrap_err()), "y_mm");
    assert_eq!(path(layout.board().sagitta_mm(f64::NAN, 0.0).unwrap_err()), "y_mm");
    assert_eq!(path(neckwright::layout::usual_gauges_mm(0).unwrap_err()), "count");
    for nowhere in [f64::NAN, f64::INFINITY, -1.0, layout.board().end_mm() + 1e-9] {
        let error = layout.try_margins_mm(nowhere).unwrap_err();
        let fault = &error.faults()[0];
        assert_eq!((fault.kind, &*fault.path, fault.unit), (Kind::OutsideNeck, "x_mm", "mm"));
        assert_eq!((fault.lowest, fault.highest), (Some(0.0), Some(layout.board().end_mm())));
        assert!(!fault.value.is_empty() && !fault.remedy.is_empty());
    }
    assert_eq!(layout.try_margins_mm(100.0), Ok(layout.margins_mm(100.0)));
}

#[test]
fn a_sagitta_of_no_circle_is_a_fault() {
    use neckwright::layout::{sagitta_mm, try_sagitta_mm};
    for (radius, y) in [(305.0, 20.0), (12.0, -12.0), (f64::INFINITY, 30.0)] {
        assert_eq!(try_sagitta_mm(radius, y), Ok(sagitta_mm(radius, y)));
    }
    for (radius, y, path) in [
        (-305.0, 20.0, "radius_mm"),
        (0.0, 0.0, "radius_mm"),
        (f64::NAN, 20.0, "radius_mm"),
        (305.0, 305.1, "y_mm"),
        (305.0, f64::NAN, "y_mm"),
        (f64::INFINITY, f64::INFINITY, "y_mm"),
    ] {
        let error = try_sagitta_mm(radius, y).unwrap_err();
        let fault = &error.faults()[0];
        assert_eq!((fault.kind, &*fault.path, fault.unit), (Kind::OutOfRange, path, "mm"), "{radius} {y}");
        assert!(fault.lowest.is_some() && !fault.value.is_empty() && !fault.remedy.is_empty());
    }
}

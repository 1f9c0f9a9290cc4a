//! What can be wrong with a layout, and the words for it.

use neckwright::layout::Layout;
use neckwright::measure::{Kind, Length, Station};
use neckwright::spec::{FretRule, Radius, Ratio, Specification, WidthAt};

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
    let Err(error) = Layout::new(&spec) else { return vec![] };
    error.faults().iter().map(|fault| (fault.kind, fault.to_string())).collect()
}

fn one(kind: Kind, change: impl FnOnce(&mut Specification), message: &str) {
    let f = faults(change);
    if f != [(kind, message.to_string())] {
        println!("{} {f:?} {kind:?}", if f.len() == 1 && f[0].0 == kind { "ok" } else { "BAD" });
    }
}

#[test]
fn scale() {
    one(Kind::Conflict, |s| (s.scale.length, s.scale.bass) = (Some(mm(640.0)), Some(mm(650.0))), "");
    one(Kind::Missing, |s| s.scale.bass = Some(mm(650.0)), "");
    one(Kind::Missing, |s| s.scale.treble = Some(mm(650.0)), "");
    let double = |s: &mut Specification| (s.scale.bass, s.scale.treble) = (Some(mm(660.0)), Some(mm(640.0)));
    one(
        Kind::Conflict,
        |s| {
            double(s);
            s.strings.count = 1;
        },
        "",
    );
    one(
        Kind::Conflict,
        |s| {
            double(s);
            s.frets.rule = FretRule::Table;
            s.frets.count = 2;
            s.frets.cents = Some(vec![100.0, 210.0]);
        },
        "",
    );
    one(Kind::Geometry, |s| (s.scale.bass, s.scale.treble) = (Some(mm(900.0)), Some(mm(500.0))), "");
    one(Kind::Geometry, |s| (s.scale.bass, s.scale.treble) = (Some(mm(1300.0)), Some(mm(200.0))), "");
    one(
        Kind::Geometry,
        |s| {
            (s.scale.bass, s.scale.treble) = (Some(mm(1300.0)), Some(mm(640.0)));
            s.frets.count = 3;
            s.fretboard.widths = Some(vec![at(Station::Mm(20.0), 100.0), at(Station::Mm(600.0), 101.0)]);
            s.fretboard.end = Some(Station::Mm(600.0));
        },
        "",
    );
    one(
        Kind::Geometry,
        |s| {
            (s.scale.bass, s.scale.treble) = (Some(mm(700.0)), Some(mm(600.0)));
            (s.nut.width, s.nut.string_spread, s.bridge.string_spread) = (mm(80.0), Some(mm(20.0)), mm(20.0));
            s.fretboard.end = Some(Station::Mm(500.0));
        },
        "",
    );
}

#[test]
fn frets() {
    one(Kind::Missing, |s| s.frets.rule = FretRule::Table, "");
    one(Kind::Conflict, |s| s.frets.cents = Some(vec![100.0]), "");
    one(
        Kind::Conflict,
        |s| {
            s.frets.rule = FretRule::Eighteen;
            s.frets.ratios = Some(vec![Ratio::new(2.0)]);
        },
        "",
    );
    one(
        Kind::Conflict,
        |s| {
            s.frets.rule = FretRule::Table;
            s.frets.cents = Some(vec![1200.0]);
            s.frets.ratios = Some(vec![Ratio::new(2.0)]);
        },
        "",
    );
    one(
        Kind::Conflict,
        |s| {
            s.frets.rule = FretRule::Table;
            s.frets.cents = Some(vec![100.0, 200.0]);
        },
        "",
    );
    one(
        Kind::Geometry,
        |s| {
            s.frets.rule = FretRule::Table;
            s.frets.cents = Some(vec![100.0, 90.0, 1200.0]);
        },
        "",
    );
    one(
        Kind::Geometry,
        |s| {
            s.frets.rule = FretRule::Table;
            s.frets.count = 2;
            s.frets.cents = Some(vec![100.0, 100.5, 1200.0]);
        },
        "",
    );
    one(Kind::Geometry, |s| (s.frets.count, s.frets.divisions) = (40, 5), "");
    one(
        Kind::Geometry,
        |s| {
            (s.frets.count, s.frets.divisions) = (40, 5);
            s.fretboard.end = Some(Station::Mm(640.0));
        },
        "",
    );
    one(
        Kind::Geometry,
        |s| (s.frets.slot_depth, s.fretboard.radius) = (mm(5.0), Radius::Round(mm(100.0))),
        "",
    );
}

#[test]
fn strings() {
    one(Kind::Conflict, |s| s.strings.gauges = Some(vec![mm(1.0); 5]), "");
    one(Kind::Conflict, |s| (s.strings.count, s.nut.string_spread) = (1, Some(mm(36.0))), "");
    one(Kind::Geometry, |s| s.nut.string_spread = Some(mm(0.0)), "");
    one(Kind::Geometry, |s| s.bridge.string_spread = mm(0.0), "");
    one(Kind::Geometry, |s| s.nut.string_spread = Some(mm(3.0)), "");
    one(Kind::Geometry, |s| s.nut.string_spread = Some(mm(42.5)), "");
    one(
        Kind::Geometry,
        |s| {
            s.bridge.string_spread = mm(80.0);
            s.fretboard.widths = Some(vec![at(Station::Fret(12.0), 52.0)]);
        },
        "",
    );
}

#[test]
fn board() {
    one(Kind::Geometry, |s| s.fretboard.widths = Some(vec![at(Station::NUT, 50.0)]), "");
    one(
        Kind::Geometry,
        |s| s.fretboard.widths = Some(vec![at(Station::Fret(12.0), 52.0), at(Station::Mm(320.0), 53.0)]),
        "",
    );
    one(Kind::Missing, |s| s.fretboard.widths = Some(vec![]), "");
    one(Kind::OutsideNeck, |s| s.fretboard.end = Some(Station::Mm(f64::NAN)), "");
    one(Kind::OutsideNeck, |s| s.fretboard.end = Some(Station::Fret(61.0)), "");
    one(Kind::Geometry, |s| s.fretboard.end = Some(Station::Mm(-3.0)), "");
    one(Kind::Geometry, |s| s.fretboard.end = Some(Station::Mm(641.0)), "");
    one(Kind::Geometry, |s| s.fretboard.end = Some(Station::Fret(22.0)), "");
    one(
        Kind::Conflict,
        |s| (s.fretboard.radius, s.fretboard.end_radius) = (Radius::Flat, Some(mm(400.0))),
        "",
    );
    one(
        Kind::Conflict,
        |s| (s.fretboard.straight_under_strings, s.fretboard.end_radius) = (true, Some(mm(400.0))),
        "",
    );
    one(Kind::Geometry, |s| s.fretboard.radius = Radius::Round(mm(50.0)), "");
    one(Kind::Geometry, |s| s.fretboard.end_radius = Some(mm(50.0)), "");
    one(
        Kind::Geometry,
        |s| {
            s.frets.count = 0;
            (s.fretboard.thickness, s.fretboard.radius) = (mm(2.0), Radius::Round(mm(56.0)));
        },
        "",
    );
    one(Kind::Geometry, |s| (s.nut.width, s.nut.string_spread) = (mm(120.0), Some(mm(20.0))), "");
    one(
        Kind::Geometry,
        |s| {
            s.fretboard.binding = mm(5.0);
            s.fretboard.widths = Some(vec![at(Station::Mm(200.0), 30.0)]);
        },
        "",
    );
    one(Kind::Conflict, |s| s.fretboard.face_markers = vec![3, 5, 3], "");
    one(Kind::Conflict, |s| s.fretboard.side_markers = vec![12, 12], "");
}

#[test]
fn all_faults_at_once() {
    let found = faults(|s| {
        s.scale.bass = Some(mm(650.0));
        s.frets.rule = FretRule::Table;
        s.strings.gauges = Some(vec![]);
        s.nut.string_spread = Some(mm(0.0));
        s.fretboard.straight_under_strings = true;
        s.fretboard.end_radius = Some(mm(400.0));
    });
    let kinds: Vec<Kind> = found.iter().map(|(kind, _)| *kind).collect();
    assert_eq!(kinds, [Kind::Missing, Kind::Missing, Kind::Conflict, Kind::Geometry, Kind::Conflict]);
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
    assert_eq!(path(layout.fret_at(640.0).unwrap_err()), "distance_mm");
    assert_eq!(path(layout.fret_at(-1.0).unwrap_err()), "distance_mm");
    assert_eq!(path(layout.station_of_fret_mm(60.5).unwrap_err()), "fret");
    assert_eq!(path(layout.station_mm(&Station::Mm(f64::INFINITY)).unwrap_err()), "station");
    assert_eq!(path(layout.board().sagitta_mm(0.0, 306.0).unwrap_err()), "y_mm");
    assert_eq!(path(layout.board().sagitta_mm(f64::NAN, 0.0).unwrap_err()), "y_mm");
    assert_eq!(path(neckwright::layout::usual_gauges_mm(0).unwrap_err()), "count");
}

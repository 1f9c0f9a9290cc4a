//! Strings across the board, and the default neck in plain numbers.

use neckwright::layout::{Layout, StringLine, usual_gauges_mm};
use neckwright::measure::{Length, Station};
use neckwright::spec::{Radius, Spacing, Specification};

fn strings(change: impl FnOnce(&mut Specification)) -> Layout {
    let mut spec = Specification::default();
    change(&mut spec);
    Layout::new(&spec).unwrap_or_else(|error| panic!("{error}"))
}

fn y_at(strings: &[StringLine], end: impl Fn(&StringLine) -> (f64, f64)) -> Vec<f64> {
    strings.iter().map(|string| end(string).1).collect()
}

#[test]
fn even_gaps_are_even_and_even_centres_too() {
    let gaps = strings(|_| {});
    for (end, spread) in [(0.0, 36.0), (gaps.scale_mm(), 52.0)] {
        let first = gaps.gap_mm(0, end).unwrap();
        for i in 1..5 {
            assert!((gaps.gap_mm(i, end).unwrap() - first).abs() < 1e-13);
        }
        // 1.17 + 0.91 + 0.66 + 0.43 + 0.33 + 0.25 mm of string, half of the outer two outside the spread.
        assert!((5.0 * first + 3.75 - 0.5 * (1.17 + 0.25) - spread).abs() < 1e-13);
    }
    let centres = strings(|s| s.strings.spacing = Spacing::EvenCentres);
    assert_eq!(y_at(centres.strings(), |s| s.nut_mm), [-18.0, -10.8, -3.6, 3.6, 10.8, 18.0]);
    assert!((0..5).all(|i| (centres.spacing_mm(i, 640.0).unwrap() - 10.4).abs() < 1e-13));
    for layout in [&gaps, &centres] {
        let nut = y_at(layout.strings(), |s| s.nut_mm);
        let bridge = y_at(layout.strings(), |s| s.bridge_mm);
        assert_eq!((nut[0], nut[5], bridge[0], bridge[5]), (-18.0, 18.0, -26.0, 26.0));
    }
}

#[test]
fn every_count_has_its_usual_gauges() {
    for count in 1..=12 {
        assert_eq!(usual_gauges_mm(count).unwrap().len(), count as usize);
        let layout = strings(|s| {
            s.strings.count = count;
            s.nut.width = Length::from_mm(50.0);
            s.bridge.string_spread = Length::from_mm(60.0);
        });
        assert_eq!(layout.strings().len(), count as usize);
        assert!(layout.margins_mm(100.0).1 > 1.0);
    }
    assert!(usual_gauges_mm(13).is_err());
}

#[test]
fn one_string_lies_on_the_centreline() {
    let layout = strings(|s| s.strings.count = 1);
    assert_eq!(layout.strings()[0].nut_mm, (0.0, 0.0));
    assert_eq!(layout.strings()[0].bridge_mm, (640.0, 0.0));
    assert_eq!(layout.board().width_mm(400.0), 43.0);
    assert!(layout.string_departures_cents()[0].iter().all(|cents| *cents == 0.0));
}

#[test]
fn one_scale_stops_all_strings_alike_whatever_their_gauges() {
    let layout = strings(|_| {});
    assert!(layout.string_departures_cents().iter().flatten().all(|cents| *cents == 0.0));
}

#[test]
fn derived_board_keeps_the_margins_of_the_nut() {
    let layout = strings(|_| {});
    let board = layout.board();
    // Fret 22 at 640 (1 - 2^(-22/12)) = 460.406072 mm, and 8 mm.
    assert!((board.end_mm() - 468.406_072).abs() < 1e-6);
    assert!((board.width_mm(board.end_mm()) - (43.0 + 16.0 * board.end_mm() / 640.0)).abs() < 1e-12);
    for x in [0.0, 123.4, board.end_mm()] {
        let (bass, treble) = layout.margins_mm(x);
        assert!((bass - (3.5 - 0.585)).abs() < 1e-12 && (treble - (3.5 - 0.125)).abs() < 1e-12);
    }
    assert!((layout.least_margin().margin_mm - 2.915).abs() < 1e-12);
    // A board with few frets ends at 0.55 of the scale, one without at 0.73.
    assert!((strings(|s| s.frets.count = 5).board().end_mm() - 352.0).abs() < 1e-12);
    assert!((strings(|s| s.frets.count = 0).board().end_mm() - 467.2).abs() < 1e-12);
}

#[test]
fn a_flat_board_in_plain_numbers() {
    let layout = strings(|s| {
        s.fretboard.radius = Radius::Flat;
        s.frets.zero_fret = true;
        s.frets.overhang = Length::from_mm(2.5);
        s.fretboard.binding = Length::from_mm(1.5);
    });
    let zero = layout.frets()[0];
    assert_eq!((zero.number, zero.cents, zero.line.x_mm), (0, 0.0, 0.0));
    assert_eq!(zero.slot_ends_mm, ((0.0, -20.0), (0.0, 20.0)));
    assert_eq!((zero.slot_length_mm, zero.bottom_depth_at_ends_mm), (40.0, (2.0, 2.0)));
    assert!((zero.wire_length_mm - 45.0).abs() < 1e-13);
    assert_eq!((zero.wood_under_ends_mm, zero.straight_depth_at_ends_mm), ((4.0, 4.0), (2.0, 2.0)));
    let octave = layout.frets()[12];
    assert_eq!((octave.number, octave.line.x_mm, octave.cents), (12, 320.0, 1200.0));
    assert_eq!(layout.frets().len(), 23);
    assert_eq!(layout.hump(0, 0.0, 400.0).unwrap().height_mm, 0.0);
}

#[test]
fn markers_of_the_default_neck() {
    let layout = strings(|_| {});
    let doubles: Vec<u32> = layout.face_markers().iter().filter(|m| m.double).map(|m| m.fret).collect();
    assert_eq!(doubles, [12]);
    assert_eq!(layout.side_markers().len(), 9);
    let nineteen = strings(|s| {
        (s.frets.divisions, s.frets.count) = (19, 38);
        s.fretboard.face_markers = vec![12, 19, 38, 60];
    });
    let doubles: Vec<(u32, bool)> = nineteen.face_markers().iter().map(|m| (m.fret, m.double)).collect();
    assert_eq!(doubles, [(12, false), (19, true), (38, true)]);
}

#[test]
fn a_cylinder_has_a_hump_under_the_outer_strings_and_the_cone_has_none() {
    let cylinder = strings(|s| s.strings.spacing = Spacing::EvenCentres);
    let cone = strings(|s| {
        s.strings.spacing = Spacing::EvenCentres;
        s.fretboard.straight_under_strings = true;
    });
    let end = cone.board().end_mm();
    let (from_nut, to_end) = (cylinder.humps()[0], cone.humps()[0]);
    assert!(from_nut.height_mm > 0.01 && (from_nut.at_mm - end / 2.0).abs() < 1.0);
    assert!(to_end.height_mm < 1e-15);
    // The radius grows as the spread does: 305 mm times (36 + 16 x/640)/36.
    let radius = cone.board().crown().radius_mm(end).unwrap();
    assert!((radius - 305.0 * (36.0 + 16.0 * end / 640.0) / 36.0).abs() < 1e-12);
    // Even gaps of unequal gauges don't meet in one point: a hump is left, thousands of times less.
    let gaps = strings(|s| s.fretboard.straight_under_strings = true);
    let left = gaps.humps().iter().fold(0.0, |most: f64, hump| most.max(hump.height_mm));
    assert!(left > 0.0 && left < 1e-4, "{left:e}");
}

#[test]
fn a_fretted_station_is_where_its_line_crosses_the_centreline() {
    let layout = strings(|s| {
        s.scale.bass = Some(Length::from_mm(686.0));
        s.scale.treble = Some(Length::from_mm(648.0));
    });
    for fret in layout.frets() {
        let station = Station::Fret(f64::from(fret.number));
        assert_eq!(layout.station_mm(&station).unwrap(), fret.line.x_mm);
        let ((xb, yb), (xt, yt)) = fret.slot_ends_mm;
        assert!((xb - yb * (xt - xb) / (yt - yb) - fret.line.x_mm).abs() < 1e-10);
    }
}

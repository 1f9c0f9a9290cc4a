//! What holds for every layout, against dense samples and by other ways.

mod layout_common;
mod seeded;

use layout_common::specification;
use neckwright::layout::{FretLine, Layout, Side};
use neckwright::measure::Station;
use neckwright::spec::{Spacing, Specification, numbers};
use proptest::prelude::*;
use seeded::seeded;

fn samples(from: f64, to: f64, count: u32) -> impl Iterator<Item = f64> {
    (0..=count).map(move |i| from + (to - from) * f64::from(i) / f64::from(count))
}

/// Length along the board above a straight line in plan, by chords, and by half as many; Richardson's extrapolation.
fn along(layout: &Layout, line: FretLine, from: f64, to: f64) -> f64 {
    let chords = |count| {
        let points: Vec<[f64; 3]> = samples(from, to, count)
            .map(|y| {
                let x = line.x_at_mm(y);
                [x, y, -layout.board().sagitta_mm(x, y).unwrap()]
            })
            .collect();
        points
            .windows(2)
            .map(|p| (0..3).map(|i| (p[1][i] - p[0][i]).powi(2)).sum::<f64>().sqrt())
            .sum::<f64>()
    };
    let (coarse, fine) = (chords(400), chords(800));
    fine + (fine - coarse) / 3.0
}

/// Every field from all over its bounds, and as a builder could have written it.
#[test]
fn any_specification_makes_a_layout_or_a_fault() {
    let mut next = numbers(17);
    let (mut layouts, mut refused) = (0, 0);
    for i in 0..4000 {
        let spec =
            if i % 2 == 0 { Specification::random(&mut next) } else { Specification::plausible(&mut next) };
        let Ok(layout) = Layout::new(&spec).inspect_err(|error| assert!(!error.faults().is_empty())) else {
            refused += 1;
            continue;
        };
        layouts += 1;
        let mut filled = spec.clone();
        layout.fill(&mut filled);
        // What is derived is in bounds, and goes through the document to the last bit.
        let read = Specification::from_json(&filled.to_json()).unwrap_or_else(|error| panic!("{error}"));
        assert_eq!(Layout::new(&read).unwrap(), layout);
        let finite = |fret: &neckwright::layout::Fret| {
            fret.wire_length_mm.is_finite() && fret.slot_length_mm > 0.0 && fret.wood_under_ends_mm.0 > 0.0
        };
        assert!(layout.frets().iter().all(finite) && layout.total_wire_mm().is_finite());
        assert!(layout.string_departures_cents().iter().flatten().all(|cents| cents.is_finite()));
        assert!(layout.humps().iter().all(|hump| hump.height_mm >= 0.0 && hump.height_mm.is_finite()));
    }
    println!("{layouts} layouts, {refused} refused");
    assert!(layouts > 1000);
}

proptest! {
    #![proptest_config(ProptestConfig { max_global_rejects: 4000, ..seeded(256) })]

    #[test]
    fn slots_lie_on_their_lines_and_end_at_the_edges(spec in specification()) {
        let Ok(layout) = Layout::new(&spec) else { return Err(TestCaseError::reject("no layout")) };
        let board = layout.board();
        let (mut before, mut wire) = (f64::NEG_INFINITY, 0.0);
        for fret in layout.frets() {
            let ((xb, yb), (xt, yt)) = fret.slot_ends_mm;
            prop_assert!(fret.line.x_mm > before && yb < 0.0 && yt > 0.0);
            before = fret.line.x_mm;
            for (x, y) in [(xb, yb), (xt, yt)] {
                prop_assert!((fret.line.x_at_mm(y) - x).abs() < 1e-11);
                prop_assert!((0.5 * board.width_mm(x) - board.binding_mm() - y.abs()).abs() < 1e-11);
                prop_assert!(x < board.end_mm() && x >= board.start_mm());
            }
            prop_assert!((fret.slot_length_mm - libm::hypot(xt - xb, yt - yb)).abs() < 1e-11);
            let surface = along(&layout, fret.line, yb, yt);
            prop_assert!((fret.wire_length_mm - 2.0 * spec.frets.overhang.mm() - surface).abs() < 1e-9);
            let depth = spec.frets.slot_depth.mm();
            let sagitta = board.sagitta_mm(xb, yb).unwrap();
            prop_assert!((fret.bottom_depth_at_ends_mm.0 - sagitta - depth).abs() < 1e-12);
            prop_assert!((fret.straight_depth_at_ends_mm.0 - (depth - sagitta)).abs() < 1e-12);
            let wood = board.thickness_mm() - fret.bottom_depth_at_ends_mm.1;
            prop_assert!((fret.wood_under_ends_mm.1 - wood).abs() < 1e-12 && wood > 0.0);
            wire += fret.wire_length_mm;
        }
        prop_assert!((layout.total_wire_mm() - wire).abs() < 1e-9);
        let first = u32::from(!spec.frets.zero_fret);
        let numbers: Vec<u32> = layout.frets().iter().map(|fret| fret.number).collect();
        prop_assert_eq!(numbers, (first..=spec.frets.count).collect::<Vec<u32>>());
    }

    #[test]
    fn no_sample_is_above_the_hump_or_below_the_chord(spec in specification(), a in 0.0..1.0, b in 0.0..1.0) {
        let Ok(layout) = Layout::new(&spec) else { return Err(TestCaseError::reject("no layout")) };
        let (a, b): (f64, f64) = (a, b);
        prop_assume!((a - b).abs() > 0.01);
        let board = layout.board();
        let (from, to) = (a.min(b) * board.end_mm(), a.max(b) * board.end_mm());
        for string in 0..layout.strings().len() {
            let height = |x: f64| -board.sagitta_mm(x, layout.string_y_mm(string, x).unwrap()).unwrap();
            let (first, last) = (height(from), height(to));
            let off = |x: f64| height(x) - first - (last - first) * (x - from) / (to - from);
            let hump = layout.hump(string, from, to).unwrap();
            prop_assert!((off(hump.at_mm) - hump.height_mm).abs() < 1e-12);
            prop_assert!(hump.height_mm >= 0.0 && (from..=to).contains(&hump.at_mm));
            let mut highest = 0.0_f64;
            for x in samples(from, to, 500) {
                prop_assert!(off(x) > -1e-12 && off(x) < hump.height_mm + 1e-12);
                highest = highest.max(off(x));
            }
            prop_assert!(highest > 0.9999 * hump.height_mm - 1e-12);
        }
    }

    #[test]
    fn no_sample_is_less_than_the_least(spec in specification()) {
        let Ok(layout) = Layout::new(&spec) else { return Err(TestCaseError::reject("no layout")) };
        let board = layout.board();
        let (edge, at) = board.least_edge_thickness_mm();
        prop_assert_eq!(board.edge_thickness_mm(at), edge);
        let margin = layout.least_margin();
        let margins = layout.margins_mm(margin.at_mm);
        prop_assert_eq!(margin.margin_mm, if margin.side == Side::Bass { margins.0 } else { margins.1 });
        prop_assert!(margin.margin_mm >= 0.0);
        for x in samples(board.start_mm(), board.end_mm(), 300) {
            prop_assert!(board.edge_thickness_mm(x) >= edge - 1e-12);
            let (bass, treble) = layout.margins_mm(x);
            if x >= layout.strings()[0].nut_mm.0 {
                prop_assert!(bass >= margin.margin_mm - 1e-12);
            }
            if x >= layout.strings()[layout.strings().len() - 1].nut_mm.0 {
                prop_assert!(treble >= margin.margin_mm - 1e-12);
            }
        }
    }

    #[test]
    fn a_filled_specification_makes_the_same_layout(spec in specification()) {
        let Ok(layout) = Layout::new(&spec) else { return Err(TestCaseError::reject("no layout")) };
        let mut filled = spec.clone();
        layout.fill(&mut filled);
        prop_assert_eq!(&Layout::new(&filled).unwrap(), &layout);
        let mut again = filled.clone();
        layout.fill(&mut again);
        prop_assert_eq!(&again, &filled);
        prop_assert!(filled.scale.length.is_some() || filled.scale.bass.is_some());
        prop_assert!(filled.strings.gauges.is_some() && filled.nut.string_spread.is_some());
        prop_assert!(filled.fretboard.end.is_some() && filled.fretboard.widths.is_some());
        prop_assert_eq!(filled.woods, spec.woods);
    }

    #[test]
    fn strings_spread_alike_are_stopped_alike(mut spec in specification()) {
        spec.strings.spacing = Spacing::EvenCentres;
        let Ok(layout) = Layout::new(&spec) else { return Err(TestCaseError::reject("no layout")) };
        for string in layout.string_departures_cents() {
            prop_assert_eq!(string.len(), layout.frets().len());
            prop_assert!(string.iter().all(|cents| cents.abs() < 1e-11));
        }
    }

    #[test]
    fn departures_by_crossing_the_lines(spec in specification()) {
        let Ok(layout) = Layout::new(&spec) else { return Err(TestCaseError::reject("no layout")) };
        let temperament = layout.fan().temperament();
        for (string, cents) in layout.strings().iter().zip(layout.string_departures_cents()) {
            let ((x0, y0), (x1, y1)) = (string.nut_mm, string.bridge_mm);
            for (fret, cents) in layout.frets().iter().zip(cents) {
                let part = (fret.line.x_mm + fret.line.slope * y0 - x0) / (x1 - x0 - fret.line.slope * (y1 - y0));
                let remaining = temperament.remaining(f64::from(fret.number)).unwrap();
                prop_assert!((1200.0 * libm::log2(remaining / (1.0 - part)) - cents).abs() < 1e-9);
            }
        }
    }

    #[test]
    fn a_cone_is_straight_under_a_fan_of_strings(mut spec in specification()) {
        spec.strings.spacing = Spacing::EvenCentres;
        spec.fretboard.straight_under_strings = true;
        spec.fretboard.end_radius = None;
        if let Some(bass) = spec.scale.bass.take() {
            spec.scale.length = Some(bass);
            spec.scale.treble = None;
        }
        let Ok(layout) = Layout::new(&spec) else { return Err(TestCaseError::reject("no layout")) };
        prop_assert!(layout.humps().iter().all(|hump| hump.height_mm < 1e-15));
        let outer = layout.strings()[0];
        if let (Some(at_nut), Some(at_end)) =
            (layout.board().crown().radius_mm(0.0), layout.board().crown().radius_mm(layout.board().end_mm()))
            && layout.strings().len() > 1 {
                let spread = outer.y_mm(layout.board().end_mm()) / outer.y_mm(0.0);
                prop_assert!((at_end / at_nut - spread).abs() < 1e-14);
            }
    }

    #[test]
    fn markers_stand_between_their_frets(spec in specification()) {
        let Ok(layout) = Layout::new(&spec) else { return Err(TestCaseError::reject("no layout")) };
        let station = |n: u32| layout.station_of_fret_mm(f64::from(n)).unwrap();
        let on_board = |list: &[u32]| list.iter().filter(|n| **n <= spec.frets.count).count();
        prop_assert_eq!(layout.face_markers().len(), on_board(&spec.fretboard.face_markers));
        prop_assert_eq!(layout.side_markers().len(), on_board(&spec.fretboard.side_markers));
        for marker in layout.face_markers() {
            let middle = 0.5 * (station(marker.fret - 1) + station(marker.fret));
            prop_assert!((marker.x_mm - middle).abs() < 1e-12);
            let quarter = 0.25 * layout.board().width_mm(marker.x_mm);
            prop_assert_eq!(marker.y_mm, if marker.double { quarter } else { 0.0 });
        }
        for marker in layout.side_markers() {
            let half = 0.5 * layout.board().width_mm(marker.x_mm);
            prop_assert!((marker.y_mm + half).abs() < 1e-12);
            // The edge takes the same part of a gap at the side as at the centreline, but where it stands aslant.
            let gap = station(marker.fret) - station(marker.fret - 1);
            let sixth = if marker.double { gap / 6.0 } else { 0.0 };
            let tolerance = if layout.fan().is_fanned() { 1.0 } else { 1e-12 };
            prop_assert!((marker.apart_mm - sixth).abs() < tolerance);
            let top = layout.board().sagitta_mm(marker.x_mm, marker.y_mm).unwrap();
            prop_assert!((marker.depth_mm - 0.5 * (top + layout.board().thickness_mm())).abs() < 1e-12);
        }
    }

    #[test]
    fn stations_and_fret_numbers(spec in specification(), part in 0.0..1.0_f64) {
        let Ok(layout) = Layout::new(&spec) else { return Err(TestCaseError::reject("no layout")) };
        let fret = 24.0 * part;
        let x = layout.station_mm(&Station::Fret(fret)).unwrap();
        prop_assert_eq!(x, layout.station_of_fret_mm(fret).unwrap());
        prop_assert_eq!(layout.station_mm(&Station::Mm(x)).unwrap(), x);
        prop_assert!((layout.fret_at(x).unwrap() - fret).abs() < 1e-10);
    }
}

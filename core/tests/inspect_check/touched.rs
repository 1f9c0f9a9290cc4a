//! Where a reading touched the wood, and what its number says of it.

use super::rows::witness;
use crate::check_common::{Normal, checked, reading, sound};
use neckwright::inspect::{Inspection, Measured, Reading, Verdict};
use neckwright::shape::{Neck, Point, Side};
use neckwright::spec::InspectionOptions;

fn inspect(neck: &Neck, readings: &[Reading]) -> Inspection {
    neck.inspect(&checked(readings), &InspectionOptions::default()).unwrap()
}

#[test]
fn what_is_read_off_the_finished_neck_was_touched_on_its_outline() {
    let mut noise = Normal::new(31);
    let mut touched = 0;
    for neck in crate::common::necks(120) {
        let [from, to] = neck.shaft_reach_mm();
        // Beside a nut that lies aslant the board, and its carve line with it, is not there yet.
        let nut = neck.layout().nut_line();
        let ends = [nut.x_at_mm(40.0), nut.x_at_mm(-40.0)];
        let boarded = ends.into_iter().fold(from, f64::max);
        let bare = ends.into_iter().fold(from, f64::min);
        for x in [noise.between(boarded, to), noise.between(neck.reach_mm()[0], bare)] {
            let polyline: Vec<Point> = neck.section(x).unwrap().polyline_mm(1e-6).unwrap();
            let deepest = polyline.iter().map(|p| p[1]).fold(f64::INFINITY, f64::min);
            let off = 0.3 * noise.next();
            let mut readings =
                vec![reading(x, Measured::Thickness, neck.thickness_mm(x).unwrap() + off, 0.1)];
            for side in Side::BOTH {
                let deep = neck.carve_line_mm(x, side).unwrap();
                readings.push(reading(x, Measured::CarveLine(side), deep + off, 0.1));
            }
            readings.push(reading(x, Measured::Width, neck.width_mm(x).unwrap(), 0.1));
            for row in &inspect(&neck, &sound(&neck, &readings)).rows {
                let Some([at, y, z]) = row.touched_mm else {
                    assert!(row.measured == Measured::Width, "{row:?}");
                    continue;
                };
                touched += 1;
                assert_eq!(at, x);
                let on = witness(&polyline, [y, z + off]);
                assert!(on.abs() < 3e-6, "{row:?} lies {on} off the outline");
                match row.measured {
                    Measured::Thickness => assert!((z + off - deepest).abs() < 3e-6, "{row:?}, {deepest}"),
                    Measured::CarveLine(side) => {
                        assert!(y * side.sign() * neck.hand_sign() > 0.0, "{row:?} on the other side");
                    }
                    _ => unreachable!(),
                }
            }
        }
    }
    assert!(touched > 600, "{touched} places");
}

#[test]
fn a_point_was_touched_where_it_is() {
    for neck in crate::common::necks(20) {
        let [from, to] = neck.shaft_reach_mm();
        let x = 0.5 * (from + to);
        let r = reading(x, Measured::Point { across_mm: 11.25 }, neck.thickness_mm(x).unwrap(), 0.1);
        let row = inspect(&neck, &[r]).rows[0];
        assert_eq!(row.touched_mm, Some([x, 11.25 * neck.hand_sign(), -r.value_mm]));
    }
}

#[test]
fn a_sign_is_told_from_twice_the_uncertainty_on() {
    let neck = crate::common::necks(1).remove(0);
    let [from, to] = neck.shaft_reach_mm();
    let x = 0.5 * (from + to);
    let read = neck.thickness_mm(x).unwrap();
    for (off, told) in [
        (0.201, Verdict::StillOn),
        (0.199, Verdict::Unsure),
        (0.0, Verdict::Unsure),
        (-0.199, Verdict::Unsure),
        (-0.201, Verdict::TooLow),
    ] {
        let row = inspect(&neck, &[reading(x, Measured::Thickness, read + off, 0.1)]).rows[0];
        assert_eq!((row.verdict, row.stage_verdict), (Some(told), None), "{off} mm");
    }
}

#[test]
fn the_map_tells_nothing_where_nobody_read() {
    let neck = crate::common::necks(1).remove(0);
    let [from, to] = neck.shaft_reach_mm();
    let readings: Vec<Reading> = (0..12)
        .map(|i| {
            let x = from + 0.02 * (to - from) * f64::from(i);
            let off = 0.5 + 0.3 * libm::sin(1.3 * f64::from(i));
            reading(x, Measured::Thickness, neck.thickness_mm(x).unwrap() + off, 0.02)
        })
        .collect();
    let map = inspect(&neck, &readings).map.unwrap();
    let spine = map.around.len() / 2;
    assert_eq!(map.around[spine], 0.0);
    let at = |x: f64| map.cell(map.x_mm.partition_point(|at| *at < x), spine).unwrap();
    let read = at(from + 0.1 * (to - from));
    assert_eq!(read.verdict, Verdict::StillOn, "{read:?}");
    let last = map.cell(map.x_mm.len() - 1, spine).unwrap();
    assert_eq!(last.verdict, Verdict::Unread, "{last:?}, of {}", map.spread_mm);
    for cell in &map.cells {
        let sure = cell.left_mm.abs() > 2.0 * cell.uncertainty_mm;
        match cell.verdict {
            Verdict::StillOn => assert!(sure && cell.left_mm > 0.0, "{cell:?}"),
            Verdict::TooLow => assert!(sure && cell.left_mm < 0.0, "{cell:?}"),
            Verdict::Unsure => assert!(!sure, "{cell:?}"),
            // Known to a part of what the readings scatter about their mean.
            _ => assert!(cell.uncertainty_mm > 0.5 * map.spread_mm, "{cell:?}"),
        }
    }
}

//! Points of the board's face, of the headstock's, and of flat sides.
#![allow(missing_docs)]

use crate::common::necks;
use crate::mend_common::planted::{Draw, checked};
use neckwright::inspect::{Limit, Measured, Mended, Mending, Place, Reading, Readings};
use neckwright::measure::{Length, Station};
use neckwright::shape::{Neck, Point, Section, Side};
use neckwright::spec::{BlockWidth, DepthAt, InspectionOptions, MendLimits, Specification, numbers};

fn mending(neck: &Neck, low: &Readings) -> Mending {
    neck.mend(low, &MendLimits::default()).unwrap()
}

fn mended(neck: &Neck, low: &Readings) -> Mended {
    match mending(neck, low) {
        Mending::Mended(mended) => *mended,
        Mending::Impossible(forbidden) => panic!("{forbidden:?}"),
    }
}

fn csv(rows: &str) -> Readings {
    Readings::from_csv(&format!("at,quantity,value,across\n{rows}")).unwrap()
}

fn reading(x: f64, measured: Measured, value_mm: f64) -> Reading {
    Reading { at: Station::Mm(x), measured, value_mm, uncertainty_mm: 0.1, line: 0 }
}

fn point(x: f64, across_mm: f64, deep: f64) -> Reading {
    reading(x, Measured::Point { across_mm }, deep)
}

/// The least and the most across and upward of the corners of a section.
fn bounds(section: &Section) -> [Point; 2] {
    let outline = section.outline();
    let ends = outline.segments.iter().map(|segment| segment.end());
    ends.fold([outline.start; 2], |[least, most], p| {
        [[0, 1].map(|k| least[k].min(p[k])), [0, 1].map(|k| most[k].max(p[k]))]
    })
}

#[test]
fn points_of_the_face_ask_nothing_of_the_back() {
    let neck = Neck::from_json("{}").unwrap();
    let low = "fret 5,thickness,22.0,\n";
    let alone = mended(&neck, &csv(low));
    assert!(alone.removed_mm3 > 0.0 && alone.notes.is_empty());
    for face in ["fret 5,point,0.0,0\n", "fret 5,point,0.3,3\n", "fret 2,point,0.9,-16\n"] {
        let with = mended(&neck, &csv(&format!("{face}{low}")));
        assert_eq!(with.specification, alone.specification, "{face}");
        assert_eq!(with.removed_mm3, alone.removed_mm3, "{face}");
        let note =
            "the reading of line 2 was left out: this point of the face says nothing about back and sides";
        assert_eq!(with.notes, [note], "{face}");
    }
}

#[test]
fn faces_of_random_necks_leave_them_as_they_are() {
    let mut draw = Draw(numbers(31));
    let mut looked = 0;
    for (case, neck) in necks(40).into_iter().enumerate() {
        let board = neck.layout().board();
        let mut face = Vec::new();
        for _ in 0..6 {
            let x = draw.between(0.1, 0.9) * board.end_mm();
            let across = draw.between(-0.7, 0.7) * 0.5 * neck.width_mm(x).unwrap();
            // On it, above it or a little below.
            let off = draw.between(-0.4, 0.4);
            face.push(point(x, across, board.sagitta_mm(x, across).unwrap() + off));
        }
        // And the headstock's.
        if let Some(section) = neck.section(-80.0).ok().filter(|_| neck.headstock().length_mm > 90.0) {
            face.push(point(-80.0, 2.0, -bounds(&section)[1][1]));
        }
        let all = checked(&face);
        let inspection = neck.inspect(&all, &InspectionOptions::default()).unwrap();
        for row in &inspection.rows {
            let place = if row.x_mm < 0.0 { Place::Face } else { Place::Board };
            assert_eq!(row.place, place, "{case}: {row:?} {face:?}");
        }
        let found = mended(&neck, &all);
        assert_eq!(found.removed_mm3, 0.0, "{case}");
        assert_eq!(&found.specification, neck.normalised(), "{case}");
        assert_eq!(found.notes.len(), face.len(), "{case}: {:?}", found.notes);
        looked += face.len();
    }
    assert!(looked > 240, "{looked}");
}

#[test]
fn low_flat_sides_bring_the_edges_in() {
    let neck = Neck::from_json("{}").unwrap();
    let x = neck.station_mm(5.0).unwrap();
    let width = neck.width_mm(x).unwrap();
    let by_width = mended(&neck, &csv("fret 5,width,45.8,\n"));
    for rows in [
        "fret 5,point,2,22.9\nfret 5,point,2,-22.9\n",
        "fret 5,point,2,22.9\n",
        "fret 5,point,2,-22.9\nfret 5,point,4,-22.9\n",
    ] {
        let all = Readings::from_csv(&format!(
            "at,quantity,value,across,uncertainty\n{}",
            rows.replace('\n', ",0.1\n")
        ))
        .unwrap();
        let inspection = neck.inspect(&all, &InspectionOptions::default()).unwrap();
        let low = inspection.low_readings(&all).unwrap();
        assert_eq!(low.len(), all.len(), "{rows}");
        let found = mended(&neck, &low);
        assert!((found.removed_mm3 - by_width.removed_mm3).abs() < 1e-3, "{rows}");
        let left = found.neck.width_mm(x).unwrap();
        assert!((left - 45.8).abs() < 1e-6 && left <= 45.8 && width > 46.9, "{rows}: {left}");
    }
}

/// Of random necks the edges come in as far as the same wood told by a width asks.
#[test]
fn flat_sides_of_random_necks() {
    let mut draw = Draw(numbers(32));
    let [mut same, mut forbidden] = [0; 2];
    for (case, neck) in necks(60).into_iter().enumerate() {
        let to = neck.shaft_reach_mm()[1].min(neck.layout().board().end_mm());
        let x = draw.between(5.0, to);
        let side = Side::BOTH[draw.one_of(2) as usize];
        let half = 0.5 * neck.width_mm(x).unwrap();
        let by = draw.between(0.05, 0.8);
        let top = neck.layout().board().sagitta_mm(x, half).unwrap();
        let carve = neck.carve_line_mm(x, side).unwrap();
        // No nearer to face or back than to the side.
        if carve - top < 2.5 * by {
            continue;
        }
        let low = [point(x, side.sign() * (half - by), 0.5 * (top + carve))];
        let width = [Reading { uncertainty_mm: 0.2, ..reading(x, Measured::Width, 2.0 * (half - by)) }];
        match (mending(&neck, &checked(&low)), mending(&neck, &checked(&width))) {
            (Mending::Mended(ours), Mending::Mended(theirs)) => {
                let [a, b] = [&ours, &theirs].map(|m| m.neck.width_mm(x).unwrap());
                assert!(0.5 * a <= half - by + 1e-7, "{case}: {a}");
                assert!((a - b).abs() < 1e-7, "{case}: {a} for {b}");
                same += 1;
            }
            (Mending::Impossible(ours), Mending::Impossible(theirs)) => {
                let limits = |all: &[neckwright::inspect::Forbidden]| {
                    all.iter().map(|f| (f.limit, f.alone)).collect::<Vec<_>>()
                };
                assert_eq!(limits(&ours), limits(&theirs), "{case}");
                forbidden += 1;
            }
            (ours, theirs) => panic!("{case}: {ours:?} {theirs:?}"),
        }
    }
    println!("{same} the same, {forbidden} forbidden alike");
    assert!(same > 20, "{same}");
}

/// No edge comes in beside a headstock or a block with its own width.
#[test]
fn flat_sides_of_headstock_and_block_are_kept() {
    let fixed = |neck: &Neck, low: Reading, by: f64| {
        let all = checked(&[low]);
        let forbidden = match mending(neck, &all) {
            Mending::Impossible(forbidden) => forbidden,
            Mending::Mended(mended) => panic!("{low:?} {:?}", mended.notes),
        };
        assert!(forbidden.len() == 1 && forbidden[0].limit == Limit::FixedPart, "{forbidden:?}");
        assert!((forbidden[0].by - by).abs() < 1e-6, "{forbidden:?}");
    };
    let mut spec = Specification::default();
    spec.heel.block_width = BlockWidth::Width(Length::from_mm(50.0));
    spec.shaft.carve_line = vec![DepthAt { at: Station::NUT, depth: Length::from_mm(7.0) }];
    let neck = Neck::new(&spec).unwrap();
    let x = neck.wood_reach_mm()[1] - 5.0;
    fixed(&neck, point(x, 24.7, 12.0), 0.3);
    let section = neck.section(-80.0).unwrap();
    let [least, most] = bounds(&section);
    fixed(&neck, point(-80.0, most[0] - 0.3, -0.5 * (least[1] + most[1])), 0.3);
}

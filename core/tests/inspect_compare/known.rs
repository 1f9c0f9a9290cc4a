//! Two necks compared where the answer is known.

use crate::common::necks;
use crate::compare_common::thicker;
use neckwright::inspect::Surface;
use neckwright::layout::sagitta_mm;
use neckwright::measure::{Length, Station};
use neckwright::shape::Neck;
use neckwright::spec::{BlockWidth, Hand, Radius, Specification, ThicknessAt};

/// A neck and its left-handed twin, and a neck and itself: nothing, to the last bit.
#[test]
fn a_twin_differs_by_nothing() {
    for (i, neck) in necks(200).iter().enumerate() {
        let mut spec = neck.normalised().clone();
        spec.hand = if spec.hand == Hand::Left { Hand::Right } else { Hand::Left };
        let twin = Neck::new(&spec).unwrap();
        for other in [&twin, neck] {
            let found = neck.compare(other);
            let parts = [
                Some(found.greatest),
                Some(found.back),
                found.side_faces,
                found.board_face,
                found.board_edges,
                found.headstock_face,
                found.headstock_edges,
            ];
            for part in parts.iter().flatten().chain(found.rows.iter().map(|r| &r.greatest)) {
                assert_eq!((part.difference_mm, part.proven_mm), (0.0, 0.0), "neck {i}: {part:?}");
            }
            assert!(
                found.rows.iter().all(|r| [r.thickness_mm, r.width_mm, r.girth_mm] == [0.0; 3]),
                "neck {i}"
            );
            assert!(neck.within(other, 0.0), "neck {i}");
            assert_eq!(found.frets.map_or(0.0, |f| f.difference_mm), 0.0, "neck {i}");
            assert_eq!(
                found.rod.channel.map_or(0.0, |c| c.depth_mm.abs() + c.width_mm.abs()),
                0.0,
                "neck {i}"
            );
        }
    }
}

/// A shaft thicker by 0.1 mm stands out by that at the spine of every section, and nowhere by more.
#[test]
fn thicker_by_a_tenth() {
    let mut spec = Specification::default();
    let neck = Neck::new(&spec).unwrap();
    thicker(&mut spec, || 0.1);
    let other = Neck::new(&spec).unwrap();
    let found = other.compare(&neck);
    let [_, to] = neck.shaft_reach_mm();
    for row in found.rows.iter().filter(|r| r.x_mm > neck.volute().end_x_mm && r.x_mm < to) {
        assert!((row.greatest.difference_mm - 0.1).abs() < 1e-9, "{row:?}");
        assert!(row.greatest.proven_mm <= 0.1 + 1e-6, "{row:?}");
        assert!((row.thickness_mm - 0.1).abs() < 1e-12 && row.width_mm == 0.0, "{row:?}");
        assert_eq!(row.greatest.surface, Surface::Spine, "{row:?}");
    }
    assert!(other.within(&neck, found.greatest.proven_mm + 1e-6) && !other.within(&neck, 0.0999));
    assert_eq!(neck.compare(&other).greatest.size_mm(), found.greatest.size_mm());
}

/// Boards of 305 and 250 mm radius: square to the flatter face the edge lies `√(y² + (R − d)²) − R` off it, where `d` is the
/// sagitta of the rounder one; the sagittas' difference at the edge is the edges'.
#[test]
fn two_radii() {
    let mut spec = Specification::default();
    spec.fretboard.radius = Radius::Round(Length::from_mm(305.0));
    let flatter = Neck::new(&spec).unwrap();
    spec.fretboard.radius = Radius::Round(Length::from_mm(250.0));
    let rounder = Neck::new(&spec).unwrap();
    let found = flatter.compare(&rounder);
    let end = flatter.layout().board().end_mm();
    let half = 0.5 * flatter.layout().board().width_mm(end);
    let [a, b] = [305.0, 250.0].map(|r| sagitta_mm(r, half));
    let face = found.board_face.unwrap();
    let exact =
        [(305.0, b), (250.0, a)].map(|(r, depth): (f64, f64)| (libm::hypot(half, r - depth) - r).abs());
    assert!((face.difference_mm - exact[0].max(exact[1])).abs() < 1e-6, "{face:?} {exact:?}");
    let edge = found.board_edges.unwrap();
    assert!((edge.difference_mm - (b - a)).abs() < 1e-6 && (edge.x_mm - end).abs() < 1.0, "{edge:?}");
    assert_eq!(found.back.proven_mm, 0.0);
    assert!(face.proven_mm - face.size_mm() <= 1e-6 && edge.proven_mm - edge.size_mm() <= 1e-6);
}

/// A nut wider by 1 mm: half a millimetre at either side where the width at the board's end is given.
#[test]
fn wider_at_the_nut() {
    let spec = Neck::new(&Specification::default()).unwrap().normalised().clone();
    let neck = Neck::new(&spec).unwrap();
    let mut wide = spec.clone();
    wide.nut.width = Length::from_mm(spec.nut.width.mm() + 1.0);
    let found = Neck::new(&wide).unwrap().compare(&neck);
    let row = found.rows.first().unwrap();
    assert!((row.width_mm - 1.0).abs() < 1e-12 && row.fret == 0, "{row:?}");
    let edge = found.board_edges.unwrap();
    let drop = sagitta_mm(305.0, 0.5 * wide.nut.width.mm()) - sagitta_mm(305.0, 0.5 * spec.nut.width.mm());
    if spec.fretboard.radius == Radius::Round(Length::from_mm(305.0)) {
        assert!((edge.difference_mm - libm::hypot(0.5, drop)).abs() < 1e-6, "{edge:?}");
    }
    let sides = found.side_faces.unwrap();
    assert!(sides.difference_mm >= 0.5 - 1e-9 && sides.difference_mm < 0.55, "{sides:?}");
}

/// Two heels with flat blocks, one 2 mm deeper: that much at least, on the block; the longer sweep may make more of it.
#[test]
fn a_deeper_block() {
    let mut spec = Neck::new(&Specification::default()).unwrap().normalised().clone();
    let neck = Neck::new(&spec).unwrap();
    spec.heel.block_depth = spec.heel.block_depth.map(|d| Length::from_mm(d.mm() + 2.0));
    let found = Neck::new(&spec).unwrap().compare(&neck).greatest;
    assert!(found.size_mm() >= 2.0 - 1e-9 && found.surface == Surface::Heel, "{found:?}");
    assert!(found.proven_mm <= found.size_mm() + 1e-6, "{found:?}");
}

/// Lengths, rod and frets are told as they were changed.
#[test]
fn ends_rod_and_frets() {
    let mut spec = Neck::new(&Specification::default()).unwrap().normalised().clone();
    let neck = Neck::new(&spec).unwrap();
    let add = |length: Length, by: f64| Length::from_mm(length.mm() + by);
    spec.headstock.length = spec.headstock.length.map(|l| add(l, 3.0));
    spec.rod.width = add(spec.rod.width, 0.2);
    spec.rod.depth.iter_mut().for_each(|d| d.depth = add(d.depth, 0.25));
    spec.scale.length = spec.scale.length.map(|l| add(l, 1.0));
    let other = Neck::new(&spec).unwrap();
    let found = other.compare(&neck);
    let cosine = libm::cos(spec.headstock.angle.deg().to_radians());
    assert!((found.ends.tip_mm + 3.0 * cosine).abs() < 1e-9, "{:?}", found.ends);
    let channel = found.rod.channel.unwrap();
    assert!((channel.width_mm - 0.2).abs() < 1e-12 && (channel.depth_mm - 0.25).abs() < 1e-9, "{channel:?}");
    assert_eq!(channel.start_mm, 0.0);
    let last = neck.frets().last().unwrap().number;
    let frets = found.frets.unwrap();
    let way = 1.0 - libm::exp2(-f64::from(last) / 12.0);
    assert!(frets.fret == last && (frets.difference_mm - way).abs() < 1e-9, "{frets:?}");
}

/// A caliper's step of the thickness between two frets is found there, on the neck that has it.
#[test]
fn a_bump_is_found_in_its_place() {
    let neck = Neck::new(&Specification::default()).unwrap();
    let mut spec = neck.normalised().clone();
    let at = |fret: f64, mm: f64| ThicknessAt { at: Station::Fret(fret), thickness: Length::from_mm(mm) };
    let mm = |fret: f64| neck.thickness_mm(neck.station_mm(fret).unwrap()).unwrap();
    spec.shaft.thickness = vec![
        at(1.0, mm(1.0)),
        at(3.0, mm(3.0)),
        at(5.0, mm(5.0) + 0.3),
        at(7.0, mm(7.0)),
        at(9.0, mm(9.0)),
        at(12.0, mm(12.0)),
    ];
    spec.heel.block_width = BlockWidth::Board;
    let found = Neck::new(&spec).unwrap().compare(&neck);
    let back = found.back;
    assert!(back.difference_mm > 0.299 && back.surface == Surface::Spine, "{back:?}");
    assert!((4..=6).contains(&back.nearest_fret.unwrap()), "{back:?}");
}

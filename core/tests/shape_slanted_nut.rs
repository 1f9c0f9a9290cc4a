//! Sections across a slanted nut: outlines of the board that go over no line twice.

use neckwright::shape::{Neck, Part, Point};

fn apart(p: Point, a: Point, b: Point) -> f64 {
    let d = [b[0] - a[0], b[1] - a[1]];
    let length = d[0] * d[0] + d[1] * d[1];
    let along = if length > 0.0 { ((p[0] - a[0]) * d[0] + (p[1] - a[1]) * d[1]) / length } else { 0.0 };
    let t = along.clamp(0.0, 1.0);
    libm::hypot(p[0] - a[0] - t * d[0], p[1] - a[1] - t * d[1])
}

/// The least distance of a line's middle from any other line of a closed polygon that does not follow it.
fn clear(corners: &[Point]) -> f64 {
    let n = corners.len();
    let line = |i: usize| (corners[i], corners[(i + 1) % n]);
    let mut least = f64::INFINITY;
    for i in 0..n {
        let (a, b) = line(i);
        let middle = [0.5 * (a[0] + b[0]), 0.5 * (a[1] + b[1])];
        for k in (2..n - 1).map(|k| (i + k) % n) {
            let (c, d) = line(k);
            least = least.min(apart(middle, c, d));
        }
    }
    least
}

#[test]
fn the_boards_corner_has_no_spur() {
    // The back comes up above the glue line, so that a corner of the board hangs over it before the nut.
    let (mut corners, mut all) = (0, 0);
    for hand in ["right", "left"] {
        for [bass, treble] in [[660, 640], [640, 660]] {
            let neck = Neck::from_json(&format!(
                r#"{{"hand":"{hand}","scale":{{"bass":{bass},"treble":{treble},"square_fret":9}},
                    "fretboard":{{"thickness":10,"radius":"flat"}},"frets":{{"slot_depth":1}},
                    "shaft":{{"carve_line":[{{"at":"nut","depth":2}},{{"at":"fret 12","depth":2}}]}}}}"#
            ))
            .unwrap();
            let [from, to] = neck.layout().board().nut_ends_mm();
            for i in 1..400 {
                let x = from.min(to) + (from - to).abs() * f64::from(i) / 400.0;
                let section = neck.section(x).unwrap();
                let Some(outline) = section.part_outline(Part::Fretboard) else { continue };
                // The outline's own ends and corners, its curves in chords.
                let mut polygon = outline.polyline(0.001).unwrap();
                polygon.dedup_by(|a, b| libm::hypot(a[0] - b[0], a[1] - b[1]) < 1e-9);
                let wide = polygon.iter().map(|p| p[0].abs()).fold(0.0, f64::max);
                let narrow = polygon.iter().map(|p| p[0].abs()).fold(f64::INFINITY, f64::min);
                // A corner that is hardly there has its lines close together.
                if wide - narrow < 0.05 {
                    continue;
                }
                all += 1;
                let least = clear(&polygon);
                assert!(least > 1e-3, "{hand} {bass} {treble} at {x}: {least:e}, {polygon:?}");
                let area = section.part_moments(Part::Fretboard).area_mm2;
                let next = polygon.iter().cycle().skip(1);
                let shoelace =
                    0.5 * polygon.iter().zip(next).map(|(a, b)| a[0] * b[1] - b[0] * a[1]).sum::<f64>();
                assert!((area - shoelace).abs() < 0.02 * wide && area > 0.0, "{area} {shoelace}");
                let wood = section.part_outline(Part::NeckWood).unwrap();
                let top = wood.polyline(0.01).unwrap().iter().map(|p| p[1]).fold(f64::NEG_INFINITY, f64::max);
                let lowest = polygon.iter().map(|p| p[1]).fold(f64::INFINITY, f64::min);
                // Nothing of it comes down to the wood's top: it lies beside it.
                if lowest > top + 1e-6 {
                    corners += 1;
                }
            }
        }
    }
    assert!(corners > 30 && all > 1000, "{corners} {all}");
}

//! Two necks compared: boards, sides and whole outlines against sampling.

use crate::common::necks;
use crate::compare_common::pairs;
use neckwright::layout::sagitta_mm;
use neckwright::shape::{Neck, Point};
use neckwright::spec::numbers;

/// The stations that both boards have at their full width, above both necks' wood.
fn boarded(one: &Neck, two: &Neck) -> [f64; 2] {
    let reach = [one, two].map(|n| {
        let board = n.layout().board();
        let [bass, treble] = board.nut_ends_mm();
        [bass.max(treble).max(0.0), board.end_mm().min(n.wood_reach_mm()[1])]
    });
    [reach[0][0].max(reach[1][0]), reach[0][1].min(reach[1][1])]
}

fn stations([from, to]: [f64; 2], parts: u32) -> impl Iterator<Item = f64> {
    (0..=parts).map(move |i| (from + (to - from) * f64::from(i) / f64::from(parts)).min(to))
}

#[test]
fn boards_and_their_edges() {
    let necks = necks(200);
    let mut seen = 0;
    for (i, (one, two)) in pairs(&necks, &mut numbers(11)).iter().enumerate() {
        let found = one.compare(two);
        let (Some(face), Some(edge)) = (found.board_face, found.board_edges) else { panic!("pair {i}") };
        let boards = [one, two].map(|n| n.layout().board());
        let reach =
            [boards[0].start_mm().max(boards[1].start_mm()), boards[0].end_mm().min(boards[1].end_mm())];
        let (mut off, mut apart) = (0.0_f64, 0.0_f64);
        for x in stations(reach, 400) {
            let half = boards.map(|b| 0.5 * b.width_mm(x));
            let radius = boards.map(|b| b.crown().radius_mm(x));
            let depth = |k: usize, y: f64| radius[k].map_or(0.0, |r: f64| sagitta_mm(r, y));
            let ends = [0, 1].map(|k| depth(k, half[k]));
            apart = apart.max(libm::hypot(half[0] - half[1], ends[0] - ends[1]));
            for k in 0..=12 {
                let y = half[0].min(half[1]) * f64::from(k) / 12.0;
                for [from, to] in [[0, 1], [1, 0]] {
                    let z = depth(from, y);
                    off = off.max(radius[to].map_or(z, |r| (libm::hypot(y, r - z) - r).abs()));
                }
            }
        }
        assert!(
            off <= face.proven_mm + 1e-9 && apart <= edge.proven_mm + 1e-9,
            "pair {i}: {face:?} {edge:?}"
        );
        // 400 stations miss the greatest by little.
        assert!(off >= face.size_mm() - 1e-2 && apart >= edge.size_mm() - 1e-2, "pair {i}: {off} {apart}");
        for part in [face, edge] {
            assert!(part.proven_mm <= part.size_mm() + 1e-6, "pair {i}: {part:?}");
        }
        seen += u32::from(off > 1e-3);
    }
    assert!(seen > 20, "only {seen} pairs of boards differ");
}

fn segment_distance(p: Point, a: Point, b: Point) -> f64 {
    let d = [b[0] - a[0], b[1] - a[1]];
    let size = d[0] * d[0] + d[1] * d[1];
    let t = if size > 0.0 { ((p[0] - a[0]) * d[0] + (p[1] - a[1]) * d[1]) / size } else { 0.0 };
    let t = t.clamp(0.0, 1.0);
    libm::hypot(p[0] - a[0] - t * d[0], p[1] - a[1] - t * d[1])
}

/// From the corners of one polyline to another, at the most.
fn hausdorff(one: &[Point], two: &[Point]) -> f64 {
    let nearest =
        |p: &Point| two.windows(2).map(|w| segment_distance(*p, w[0], w[1])).fold(f64::INFINITY, f64::min);
    one.iter().map(nearest).fold(0.0, f64::max)
}

/// No distance between whole outlines, both ways, is greater than the greatest of the parts; of necks that are much alike it
/// comes near to it.
#[test]
fn outlines_are_no_further_apart() {
    const CHORD: f64 = 1e-3;
    let necks = necks(120);
    for (i, (one, two)) in pairs(&necks, &mut numbers(12)).iter().enumerate() {
        let found = one.compare(two);
        let [from, to] = boarded(one, two);
        let polyline = |n: &Neck, x: f64| -> Vec<Point> {
            let points = n.section(x).unwrap().polyline_mm(CHORD).unwrap();
            points.into_iter().map(|p| [n.hand_sign() * p[0], p[1]]).collect()
        };
        for x in stations([from, to], 8) {
            let (a, b) = (polyline(one, x), polyline(two, x));
            let apart = hausdorff(&a, &b).max(hausdorff(&b, &a));
            let greatest = found.greatest;
            assert!(apart <= greatest.proven_mm + 2.0 * CHORD, "pair {i} at {x}: {apart}, {greatest:?}");
        }
    }
}

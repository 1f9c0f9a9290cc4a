//! What is drawn is the neck: widths, slots, mirror images, sections.

mod common;

use common::{necks, without_samples};
use neckwright::measure::Station;
use neckwright::paper::{CHORD_MM, Item, Layer, Point, Segment, Shape, Sheet, plan, sections, side};
use neckwright::shape::{Neck, Side};
use neckwright::spec::Hand;

/// The corners of each path of a layer, as the SVG has them: read from its text, in the neck's own frame.
fn paths(sheet: &Sheet, layer: Layer) -> Vec<Vec<Point>> {
    let svg = without_samples(sheet).to_svg().unwrap();
    let doc = roxmltree::Document::parse(&svg).unwrap();
    let group = doc.descendants().find(|n| n.attribute("id") == Some(layer.name()));
    let origin = sheet.origin_mm.unwrap();
    let corner = |text: &str| {
        let (x, y) = text.split_once(' ')?;
        let (x, y): (f64, f64) = (x.parse().ok()?, y.parse().ok()?);
        Some([x - origin[0], sheet.size_mm[1] - y - origin[1]])
    };
    let path = |d: &str| d.trim_start_matches('M').trim_end_matches('Z').split('L').map(corner).collect();
    let nodes = group.into_iter().flat_map(|g| g.children());
    nodes.filter_map(|n| path(n.attribute("d")?)).collect()
}

/// Lowest and highest point of a closed outline at a station.
fn span(outline: &[Point], x: f64) -> [f64; 2] {
    let mut span = [f64::INFINITY, f64::NEG_INFINITY];
    let next = outline.iter().cycle().skip(1);
    for (a, b) in outline.iter().zip(next) {
        if a[0] != b[0] && (x - a[0]) * (x - b[0]) <= 0.0 {
            let y = a[1] + (b[1] - a[1]) * (x - a[0]) / (b[0] - a[0]);
            span = [span[0].min(y), span[1].max(y)];
        }
    }
    span
}

#[test]
fn the_drawn_outline_is_as_wide_as_the_neck() {
    let (mut compared, mut worst) = (0, 0.0_f64);
    for (i, neck) in necks(100).iter().enumerate() {
        let sheet = plan(neck);
        let outline = paths(&sheet, Layer::Outline).swap_remove(0);
        let [from, to] = [neck.reach_mm()[0], neck.layout().board().end_mm()];
        for k in 1..400 {
            let x = from + (to - from) * f64::from(k) / 400.0;
            let [low, high] = span(&outline, x);
            let width = neck.width_mm(x).unwrap();
            let off = (high - low - width).abs();
            worst = worst.max(off);
            assert!(off < 1e-3, "neck {i} at {x}: {} drawn, {width} wide", high - low);
            if x < 0.0 {
                let half = neck.laws().half_width;
                let [bass, treble] = Side::BOTH.map(|s| half.of(s).at(x).unwrap());
                let upper = if neck.hand_sign() < 0.0 { bass } else { treble };
                assert!((high - upper).abs() < CHORD_MM + 1e-4, "neck {i} at {x}: upper edge");
            }
            compared += 1;
        }
    }
    assert!(compared > 30_000 && worst > 0.0, "{compared} stations, off by {worst} at most");
}

#[test]
fn slots_end_where_the_frets_do() {
    for neck in necks(60) {
        let drawn = paths(&plan(&neck), Layer::FretSlots);
        let frets = neck.frets();
        assert_eq!(drawn.len(), frets.len());
        for (path, fret) in drawn.iter().zip(frets) {
            let (bass, treble) = fret.slot_ends_mm;
            for (p, end) in path.iter().zip([bass, treble]) {
                assert!((p[0] - end.0).abs() < 1e-4 && (p[1] - end.1).abs() < 1e-4, "fret {}", fret.number);
            }
        }
    }
}

#[test]
fn the_side_shows_thickness_and_carve_line() {
    for (i, neck) in necks(60).iter().enumerate() {
        let sheet = side(neck);
        let outline = paths(&sheet, Layer::Outline).swap_remove(0);
        let to = neck.layout().board().end_mm().min(neck.heel().end_x_mm);
        for k in 1..200 {
            let x = to * f64::from(k) / 200.0;
            let [low, high] = span(&outline, x);
            let thickness = neck.thickness_mm(x).unwrap();
            assert!((high - low - thickness).abs() < 1e-3, "neck {i} at {x}: {} and {thickness}", high - low);
            assert!(high.abs() < 1e-3, "neck {i} at {x}: the crown is drawn at {high}");
        }
        for k in 1..100 {
            let x = neck.headstock().tip_x_mm * f64::from(k) / 100.0;
            if x < neck.headstock().root_x_mm {
                let [low, high] = span(&outline, x);
                let thickness = neck.thickness_mm(x).unwrap();
                assert!(
                    (high - low - thickness).abs() < 2e-3,
                    "neck {i} at {x}: {} and {thickness}",
                    high - low
                );
            }
        }
    }
}

/// What is drawn of the neck itself: everything but words, dimensions, bars and samples.
fn drawn(sheet: &Sheet) -> Vec<Item> {
    let mut items = without_samples(sheet).items;
    items.retain(|i| !matches!(i.layer, Layer::Words | Layer::Dimensions | Layer::CheckBars));
    items
}

#[test]
fn a_left_handed_plan_is_the_mirror_image() {
    let mut compared = 0;
    for neck in necks(60) {
        let of = |hand: Hand| {
            let mut spec = neck.normalised().clone();
            spec.hand = hand;
            plan(&Neck::new(&spec).unwrap())
        };
        let (right, left) = (of(Hand::Right), of(Hand::Left));
        let level = neck.headstock().angle_deg == 0.0;
        let (a, b) = (drawn(&right), drawn(&left));
        assert_eq!(a.len(), b.len());
        for (a, b) in a.iter().zip(&b) {
            assert_eq!(a.layer, b.layer);
            let corners = |item: &Item, sheet: &Sheet| -> Vec<Point> {
                let origin = sheet.origin_mm.unwrap();
                let lines = item.shape.lines(8);
                lines.into_iter().flatten().map(|p| [0, 1].map(|k| p[k] - origin[k])).collect()
            };
            // The headstock's face has a place of its own on the sheet.
            let own = |p: &[Point]| level || p.iter().any(|p| p[1].abs() < neck.width_mm(0.0).unwrap());
            let (mut p, mut q) = (corners(a, &right), corners(b, &left));
            if let (Shape::Circle { centre: c, radius_mm: r }, Shape::Circle { centre: d, radius_mm: s }) =
                (&a.shape, &b.shape)
            {
                assert_eq!(r, s);
                let at = |p: &Point, sheet: &Sheet| [0, 1].map(|k| p[k] - sheet.origin_mm.unwrap()[k]);
                (p, q) = (vec![at(c, &right)], vec![at(d, &left)]);
            }
            if !own(&p) || !level && a.layer != Layer::Outline {
                continue;
            }
            q.iter_mut().for_each(|p| p[1] = -p[1]);
            assert_eq!(p.len(), q.len());
            for (p, q) in p.iter().zip(&q) {
                assert!((0..2).all(|k| (p[k] - q[k]).abs() < 1e-9), "{:?}: {p:?} and {q:?}", a.layer);
            }
            compared += 1;
        }
    }
    assert!(compared > 200, "{compared}");
}

#[test]
fn sections_are_exact() {
    let neck = Neck::from_json("{}").unwrap();
    let sheet = sections(&neck, &[Station::Fret(5.0)]).unwrap();
    let Some(Shape::Path(path)) = sheet.layer(Layer::Outline).next() else { panic!("no outline") };
    let kinds = |f: fn(&Segment) -> bool| path.segments.iter().filter(|s| f(s)).count();
    assert_eq!(kinds(|s| matches!(s, Segment::Cubic(..))), 2);
    assert_eq!(kinds(|s| matches!(s, Segment::Arc { .. })), 1);
    // The area within a fine polyline of the drawn path, by the shoelace formula, is the section's.
    let corners = path.corners(400);
    let twice: f64 = corners.windows(2).map(|w| w[0][0] * w[1][1] - w[1][0] * w[0][1]).sum();
    let x = neck.layout().station_of_fret_mm(5.0).unwrap();
    let area = neck.section(x).unwrap().area_mm2();
    assert!((0.5 * twice - area).abs() < 1e-3 * area / 100.0, "{} and {area}", 0.5 * twice);
}

#[test]
fn a_left_handed_section_is_the_mirror_image() {
    for neck in necks(40) {
        let middle = 0.5 * (neck.headstock().tip_x_mm + neck.volute().start_x_mm);
        for station in [Station::Mm(middle), Station::Fret(3.0), Station::Mm(neck.heel().block_x_mm)] {
            // Corners of outline, glue line, channel and width, from the centreline's upper end.
            let of = |hand: Hand| {
                let mut spec = neck.normalised().clone();
                spec.hand = hand;
                let sheet = sections(&Neck::new(&spec).unwrap(), &[station]).unwrap();
                let sheet = without_samples(&sheet);
                let centre = sheet.layer(Layer::Centreline).next().unwrap().lines(1)[0][1];
                let mut shapes: Vec<Vec<Point>> = Vec::new();
                for layer in [Layer::Outline, Layer::Edges] {
                    shapes.extend(sheet.layer(layer).flat_map(|s| s.lines(1)));
                }
                let dimensions = sheet.layer(Layer::Dimensions);
                shapes.extend(dimensions.filter_map(|s| match s {
                    Shape::Dimension(d) if d.line[0][1] == d.line[1][1] => Some(d.between.to_vec()),
                    _ => None,
                }));
                for p in shapes.iter_mut().flatten() {
                    *p = [0, 1].map(|k| p[k] - centre[k]);
                }
                shapes
            };
            let (right, left) = (of(Hand::Right), of(Hand::Left));
            assert!(right.len() == left.len() && right.len() >= 2);
            for (right, left) in right.iter().zip(&left) {
                for p in right {
                    let mirrored =
                        left.iter().any(|q| (p[0] + q[0]).abs() < 1e-9 && (p[1] - q[1]).abs() < 1e-9);
                    assert!(mirrored, "{p:?} has no mirror image at {station}");
                }
            }
        }
    }
}

#[test]
fn the_glue_line_lies_level_at_the_boards_underside() {
    for neck in necks(100) {
        let x = 0.5 * neck.heel().start_x_mm;
        let sheet = sections(&neck, &[Station::Mm(x)]).unwrap();
        let crown = sheet.layer(Layer::Outline).next().unwrap().lines(64)[0]
            .iter()
            .map(|p| p[1])
            .fold(f64::NEG_INFINITY, f64::max);
        let line = &sheet.layer(Layer::Edges).next().unwrap().lines(1)[0];
        let board = neck.layout().board().thickness_mm();
        for p in line {
            // The crown is seen at the corners of a polyline, a hair below its top.
            assert!((crown - p[1] - board).abs() < 0.01, "{} under the crown, {board} thick", crown - p[1]);
        }
        let section = neck.section(x).unwrap();
        let widest = 2.0 * section.control_points_mm(Side::Bass).unwrap()[0][0].abs();
        let long = (line[1][0] - line[0][0]).abs();
        assert!(long > 0.3 * widest && long <= widest + 1e-9 + 2.0 * 0.1 * widest, "{long} of {widest}");
    }
}

//! What is drawn of templates is the neck: slots, outlines, sections, holes, radii, and the ways of a cutter around them.

mod common;

use common::{necks, without_samples};
use neckwright::measure::{Kind, Length, Station};
use neckwright::paper::{
    Gauge, Layer, Path, Point, Segment, Shape, Sheet, board, fret_strip, gauges, headstock, offset,
    radius_gauges, side_with_stock, templates, transitions,
};
use neckwright::shape::{Neck, Part};
use neckwright::spec::{FretRule, Hand, HeadstockKind, Specification, Stock, TemplateOptions};

fn paths(sheet: &Sheet, layer: Layer) -> Vec<Path> {
    let path = |shape: &Shape| match shape {
        Shape::Path(path) => Some(path.clone()),
        _ => None,
    };
    without_samples(sheet).layer(layer).filter_map(path).collect()
}

fn circles(sheet: &Sheet, layer: Layer) -> Vec<(Point, f64)> {
    let circle = |shape: &Shape| match shape {
        Shape::Circle { centre, radius_mm } => Some((*centre, *radius_mm)),
        _ => None,
    };
    without_samples(sheet).layer(layer).filter_map(circle).collect()
}

/// The closed outlines of what is cut out.
fn pieces(sheet: &Sheet) -> Vec<Path> {
    paths(sheet, Layer::Outline).into_iter().filter(|p| p.closed).collect()
}

fn apart(a: Point, b: Point) -> f64 {
    libm::hypot(a[0] - b[0], a[1] - b[1])
}

fn to_line(p: Point, a: Point, b: Point) -> f64 {
    let d = [b[0] - a[0], b[1] - a[1]];
    let length = d[0] * d[0] + d[1] * d[1];
    let along = if length > 0.0 { ((p[0] - a[0]) * d[0] + (p[1] - a[1]) * d[1]) / length } else { 0.0 };
    let t = along.clamp(0.0, 1.0);
    apart(p, [a[0] + t * d[0], a[1] + t * d[1]])
}

/// Distance of a point from the lines between the corners of a closed outline.
fn distance(p: Point, outline: &[Point]) -> f64 {
    let next = outline.iter().cycle().skip(1);
    outline.iter().zip(next).map(|(a, b)| to_line(p, *a, *b)).fold(f64::INFINITY, f64::min)
}

/// The frame of a sheet that shows the neck in its own place.
fn own(sheet: &Sheet, p: Point) -> Point {
    let origin = sheet.origin_mm.unwrap();
    [p[0] - origin[0], p[1] - origin[1]]
}

fn ends(path: &Path) -> [Point; 2] {
    [path.start, path.segments.last().map_or(path.start, Segment::end)]
}

/// Every slot of a strip or board.
fn slots(sheet: &Sheet) -> Vec<[Point; 2]> {
    paths(sheet, Layer::FretSlots).iter().map(|p| ends(p).map(|p| own(sheet, p))).collect()
}

#[test]
fn slots_lie_where_the_frets_do() {
    let mut compared = 0;
    for (i, neck) in necks(80).iter().enumerate() {
        let options = TemplateOptions::default();
        let (strip, board) = (fret_strip(neck, &options).unwrap(), board(neck, &options).unwrap());
        let frets = neck.frets();
        if frets.is_empty() {
            assert!(paths(&strip, Layer::FretSlots).is_empty() && paths(&board, Layer::FretSlots).is_empty());
            continue;
        }
        let (on_strip, on_board) = (slots(&strip), slots(&board));
        assert_eq!((on_strip.len(), on_board.len()), (frets.len(), frets.len()), "neck {i}");
        for ((fret, strip), board) in frets.iter().zip(on_strip).zip(on_board) {
            let ((xb, yb), (xt, yt)) = fret.slot_ends_mm;
            assert!(apart(board[0], [xb, yb]) < 1e-9 && apart(board[1], [xt, yt]) < 1e-9, "neck {i}");
            for p in strip {
                assert!((fret.line.x_at_mm(p[1]) - p[0]).abs() < 1e-9, "neck {i}, fret {}", fret.number);
            }
            assert!(strip[0][1] * strip[1][1] < 0.0, "from one side of the centreline to the other");
            compared += 1;
        }
    }
    assert!(compared > 800, "{compared}");
}

/// Equal temperament of 12 steps: the n-th fret lies `L·(1 − 2^(−n/12))` from the nut (the rule behind the divisor 17.817 =
/// 1/(1 − 2^(−1/12)), common practice).
#[test]
fn the_strip_of_a_640_mm_scale_follows_the_rule_of_17_817() {
    let mut spec = Specification::default();
    spec.scale.length = Some(Length::from_mm(640.0));
    spec.frets.rule = FretRule::Equal;
    let sheet = fret_strip(&Neck::new(&spec).unwrap(), &TemplateOptions::default()).unwrap();
    let mut left = 640.0;
    for (n, [a, b]) in slots(&sheet).into_iter().enumerate() {
        left -= left / 17.817_153_745_105_76;
        assert!((a[0] - (640.0 - left)).abs() < 1e-9 && (b[0] - a[0]).abs() < 1e-12, "fret {}", n + 1);
    }
    // The octave halves the string.
    assert!((slots(&sheet)[11][0][0] - 320.0).abs() < 1e-9);
}

#[test]
fn slots_by_their_edges_are_as_wide_as_the_saw_cuts() {
    for neck in necks(20) {
        let options = TemplateOptions { slot_edges: true, ..Default::default() };
        let middles = slots(&board(&neck, &TemplateOptions::default()).unwrap());
        let edges = slots(&board(&neck, &options).unwrap());
        assert_eq!(edges.len(), 2 * middles.len());
        let half = 0.5 * neck.normalised().frets.slot_width.mm();
        for (pair, [a, b]) in edges.chunks(2).zip(middles) {
            for edge in pair.iter().flatten() {
                let d = [b[0] - a[0], b[1] - a[1]];
                let off = (d[0] * (edge[1] - a[1]) - d[1] * (edge[0] - a[0])) / libm::hypot(d[0], d[1]);
                assert!((off.abs() - half).abs() < 1e-9, "{off}");
            }
        }
    }
}

#[test]
fn the_board_is_as_wide_as_the_neck() {
    for (i, neck) in necks(60).iter().enumerate() {
        let sheet = board(neck, &TemplateOptions::default()).unwrap();
        let corners = pieces(&sheet)[0].corners(1);
        let layout = neck.layout().board();
        for p in corners.iter().map(|p| own(&sheet, *p)) {
            assert!((p[1].abs() - 0.5 * layout.width_mm(p[0])).abs() < 1e-9, "neck {i} at {}", p[0]);
        }
        let nut = neck.layout().nut_line();
        let on_nut = |p: &Point| (p[0] - nut.x_at_mm(neck.hand_sign() * p[1])).abs() < 1e-9;
        let at_nut = corners[..corners.len() - 1].iter().map(|p| own(&sheet, *p)).filter(on_nut).count();
        assert_eq!(at_nut, 2, "neck {i}: both ends of the nut");
    }
}

/// A section of the neck as points closer than any chord: the back's own cubics and the crown's circle.
fn dense(path: &Path) -> Vec<Point> {
    path.corners(2000)
}

#[test]
fn gauges_are_the_sections() {
    let mut compared = 0;
    for (i, neck) in necks(20).iter().enumerate() {
        let [from, to] = neck.wood_reach_mm();
        let at = |t: f64| from + t * (to - from);
        let stations: Vec<f64> = [0.05, 0.2, 0.3, 0.45, 0.6, 0.75, 0.9, 0.99].map(at).into();
        let options = TemplateOptions {
            gauge_stations: Some(stations.iter().map(|x| Station::Mm(*x)).collect()),
            ..Default::default()
        };
        let positive = pieces(&gauges(neck, Gauge::Positive, &options).unwrap());
        let negative = pieces(&gauges(neck, Gauge::Negative, &options).unwrap());
        assert_eq!((positive.len(), negative.len()), (stations.len(), stations.len()), "neck {i}");
        for ((x, positive), negative) in stations.iter().zip(&positive).zip(&negative) {
            let section = neck.section(*x).unwrap();
            let whole = section.polyline_mm(1e-4).unwrap();
            let drawn = dense(positive);
            let (by, outline) = (shift(&drawn, &whole), positive.corners(250));
            for p in whole.iter() {
                let off = distance([p[0] + by[0], p[1] + by[1]], &outline);
                assert!(off < 1e-3, "neck {i} at {x}: {off} off the positive gauge");
            }
            // The plate leaves free what the wood takes up: no point of the wood lies in it, and the back lies on its edge.
            let wood = section.part_outline(Part::NeckWood).unwrap().polyline(1e-4).unwrap();
            let top = wood.iter().map(|p| p[1]).fold(f64::NEG_INFINITY, f64::max);
            let plate = negative.corners(250);
            let high = plate.iter().map(|p| p[1]).fold(f64::NEG_INFINITY, f64::max);
            let middle = {
                // Ears reach as far beyond the wood on either side.
                let x = |f: fn(f64, f64) -> f64, v: f64| plate.iter().map(|p| p[0]).fold(v, f);
                let y = |f: fn(f64, f64) -> f64, v: f64| wood.iter().map(|p| p[0]).fold(v, f);
                0.5 * (x(f64::min, f64::INFINITY) + x(f64::max, f64::NEG_INFINITY))
                    - 0.5 * (y(f64::min, f64::INFINITY) + y(f64::max, f64::NEG_INFINITY))
            };
            for p in wood.iter().filter(|p| p[1] < top - 1e-3) {
                let off = distance([p[0] + middle, p[1] - top + high], &plate);
                assert!(off < 1e-3, "neck {i} at {x}: {off} off the negative gauge");
            }
            compared += wood.len();
        }
    }
    assert!(compared > 25_000, "{compared}");
}

/// How far one outline has been moved to become the other.
fn shift(to: &[Point], from: &[Point]) -> Point {
    let low = |points: &[Point], k: usize| points.iter().map(|p| p[k]).fold(f64::INFINITY, f64::min);
    [0, 1].map(|k| low(to, k) - low(from, k))
}

#[test]
fn an_allowance_is_whole_at_the_spine_and_nowhere_inside() {
    let mut compared = 0;
    for neck in necks(25) {
        let [from, to] = neck.shaft_reach_mm();
        let x = 0.5 * (from + to);
        let options = |mm: f64| TemplateOptions {
            gauge_stations: Some(vec![Station::Mm(x)]),
            allowance: Length::from_mm(mm),
            ..Default::default()
        };
        let of = |mm: f64| gauges(&neck, Gauge::Positive, &options(mm));
        let (Ok(plain), Ok(thick)) = (of(0.0), of(0.4)) else { continue };
        let deep = |sheet: &Sheet| {
            let corners = pieces(sheet)[0].corners(64);
            let (low, high) = corners
                .iter()
                .fold((f64::INFINITY, f64::NEG_INFINITY), |a, p| (a.0.min(p[1]), a.1.max(p[1])));
            high - low
        };
        assert!((deep(&thick) - deep(&plain) - 0.4).abs() < 1e-6, "{} and {}", deep(&thick), deep(&plain));
        compared += 1;
    }
    assert!(compared > 10, "{compared}");
}

#[test]
fn holes_are_as_far_apart_as_along_the_face() {
    let (mut compared, mut angled) = (0, 0);
    for (i, neck) in necks(60).iter().enumerate() {
        let options = TemplateOptions::default();
        let sheet = headstock(neck, &options).unwrap();
        let head = neck.headstock();
        let holes = circles(&sheet, Layer::Holes);
        assert_eq!(holes.len(), head.posts.len(), "neck {i}");
        let face = pieces(&sheet)[0].corners(1);
        let reach = |f: fn(f64, f64) -> f64, v: f64| face.iter().map(|p| p[0]).fold(v, f);
        let (tip, root) = (reach(f64::min, f64::INFINITY), reach(f64::max, f64::NEG_INFINITY));
        assert!((root - tip - head.length_mm).abs() < 1e-9, "neck {i}: {} long", root - tip);
        // In space, from the stations and the depth of the face: nothing is foreshortened.
        let depth = |x: f64| neck.laws().face_depth.at(x).unwrap();
        for (a, p) in holes.iter().zip(&head.posts) {
            assert!((a.1 - 0.5 * neck.normalised().headstock.hole_diameter.mm()).abs() < 1e-12);
            assert!((root - a.0[0] - p.along_mm).abs() < 1e-9, "neck {i}");
            for (b, q) in holes.iter().zip(&head.posts) {
                if head.kind == HeadstockKind::Angled {
                    let in_space = libm::sqrt(
                        (p.x_mm - q.x_mm).powi(2)
                            + (p.y_mm - q.y_mm).powi(2)
                            + (depth(p.x_mm) - depth(q.x_mm)).powi(2),
                    );
                    assert!((apart(a.0, b.0) - in_space).abs() < 1e-9, "neck {i}");
                    angled += 1;
                }
            }
            compared += 1;
        }
    }
    assert!(compared > 100 && angled > 100, "{compared}, {angled}");
}

/// The sagitta of an arc of radius `r` over a chord `w`: `r − √(r² − w²/4)` (standard circle geometry, as the tables of
/// circle segments in machinists' handbooks have it; from memory).
#[test]
fn radius_gauges_have_the_height_of_their_segment() {
    let mut compared = 0;
    for (i, neck) in necks(60).iter().enumerate() {
        let sheet = radius_gauges(neck, &TemplateOptions::default()).unwrap();
        let crown = neck.layout().board().crown();
        let Some(sheet) = sheet else {
            assert!(crown.is_flat(), "neck {i}");
            continue;
        };
        let cells = pieces(&sheet);
        assert_eq!(cells.len() % 2, 0, "hollow and round");
        let (_, growth) = crown.law().unwrap();
        assert!(growth != 0.0 || cells.len() == 2, "one pair for a cylinder");
        for cell in &cells {
            let Segment::Arc { centre, to, .. } = cell.segments[0] else { panic!("an arc first") };
            let r = apart(centre, to);
            let w = apart(cell.start, to);
            let high = dense(cell).iter().take(2000).map(|p| p[1]).fold(f64::NEG_INFINITY, f64::max);
            let sagitta = r - libm::sqrt(r * r - 0.25 * w * w);
            assert!((high - cell.start[1] - sagitta).abs() < 1e-6, "neck {i}");
            let end = neck.layout().board().end_mm();
            let [a, b] = [0.0, end].map(|x| crown.radius_mm(x).unwrap());
            assert!(r > a.min(b) - 1e-9 && r < a.max(b) + 1e-9, "neck {i}: {r}");
            compared += 1;
        }
        let first = |cell: &Path| match cell.segments[0] {
            Segment::Arc { centre, to, .. } => apart(centre, to),
            _ => f64::NAN,
        };
        assert!((first(&cells[0]) - crown.radius_mm(0.0).unwrap()).abs() < 1e-9);
    }
    assert!(compared > 60, "{compared}");
}

/// Points along a polyline, no further apart than a step.
fn along(line: &[Point], step: f64) -> Vec<Point> {
    let mut all = Vec::new();
    for w in line.windows(2) {
        let n = (apart(w[0], w[1]) / step).ceil().max(1.0) as u32;
        all.extend((0..n).map(|i| {
            let t = f64::from(i) / f64::from(n);
            [0, 1].map(|k| w[0][k] + t * (w[1][k] - w[0][k]))
        }));
    }
    all
}

#[test]
fn a_cutters_way_is_as_far_from_the_outline_as_its_radius() {
    // The promise of `paper::OFFSET_MM`, against an outline cut into four hundred parts for each curve.
    const PROMISED_MM: f64 = 0.001;
    let (mut compared, mut worst) = (0, 0.0_f64);
    for (i, neck) in necks(6).iter().enumerate() {
        let radius = [0.1, 1.0, 3.0, 6.35][i % 4];
        let options = TemplateOptions { offset: Length::from_mm(radius), ..Default::default() };
        for sheet in templates(neck, None, &options).unwrap() {
            let closed = pieces(&sheet);
            let mut ways = paths(&sheet, Layer::CutLine);
            ways.retain(|p| p.closed);
            if ways.is_empty() {
                continue;
            }
            let outlines: Vec<Vec<Point>> = closed.iter().map(|p| p.corners(400)).collect();
            assert_eq!(ways.len(), outlines.len(), "neck {i}, {}: one way around each piece", sheet.title);
            for way in &ways {
                let line = way.corners(1);
                let pitch = (line.windows(2).map(|w| apart(w[0], w[1])).sum::<f64>() / 300.0).max(0.02);
                let outline = outlines
                    .iter()
                    .min_by(|a, b| {
                        (distance(line[0], a) - radius)
                            .abs()
                            .total_cmp(&(distance(line[0], b) - radius).abs())
                    })
                    .unwrap();
                for p in along(&line, pitch) {
                    let off = (distance(p, outline) - radius).abs();
                    worst = worst.max(off);
                    compared += 1;
                    assert!(off <= PROMISED_MM, "neck {i}, {}: {off} off", sheet.title);
                }
            }
        }
    }
    assert!(compared > 20_000 && worst > 0.0, "{compared} points, {worst} at worst");
}

#[test]
fn a_cutter_that_is_too_thick_for_a_hollow_stays_out_of_it() {
    // A slot of width 4 in a plate, and a cutter of radius 3: the way is a single line that goes over the slot.
    let plate = [
        [0.0, 0.0],
        [40.0, 0.0],
        [40.0, 20.0],
        [22.0, 20.0],
        [22.0, 8.0],
        [18.0, 8.0],
        [18.0, 20.0],
        [0.0, 20.0],
    ];
    let plate = Path::polyline(&plate, true);
    let [way] = &offset(&plate, 3.0).unwrap()[..] else { panic!("one line") };
    let corners = plate.corners(1);
    for p in along(&way.corners(1), 0.05) {
        assert!((distance(p, &corners) - 3.0).abs() < 1e-3);
    }
    // It sinks between both corners of the slot to where it touches them.
    let over = way
        .corners(1)
        .iter()
        .filter(|p| (p[0] - 20.0).abs() < 1.0 && p[1] > 10.0)
        .map(|p| p[1])
        .fold(f64::INFINITY, f64::min);
    assert!((over - (20.0 + libm::sqrt(9.0 - 4.0))).abs() < 1e-3, "{over}");
    // A thinner one goes down into it.
    let [way] = &offset(&plate, 1.0).unwrap()[..] else { panic!("one line") };
    let low = way
        .corners(1)
        .iter()
        .filter(|p| (p[0] - 20.0).abs() < 2.0 && p[1] > 1.0)
        .map(|p| p[1])
        .fold(f64::INFINITY, f64::min);
    assert!((low - 9.0).abs() < 1e-3, "{low}");
}

/// Outline, slots, holes and ways of a sheet, moved so that the leftmost point lies at 0 and mirrored about the middle of its
/// height where asked.
fn points(sheet: &Sheet, layers: &[Layer], mirrored: bool) -> Vec<Point> {
    let mut all: Vec<Point> = Vec::new();
    for layer in layers {
        for path in paths(sheet, *layer).iter().filter(|p| p.segments.len() > 1 || *layer == Layer::FretSlots)
        {
            all.extend(path.corners(8));
        }
        all.extend(circles(sheet, *layer).iter().map(|c| c.0));
    }
    let at = |k: usize, f: fn(f64, f64) -> f64, v: f64| all.iter().map(|p| p[k]).fold(v, f);
    let (left, low, high) =
        (at(0, f64::min, f64::INFINITY), at(1, f64::min, f64::INFINITY), at(1, f64::max, f64::NEG_INFINITY));
    let middle = 0.5 * (low + high);
    all.iter().map(|p| [p[0] - left, if mirrored { middle - p[1] } else { p[1] - middle }]).collect()
}

#[test]
fn left_handed_templates_are_the_mirror_image() {
    let mut compared = 0;
    for (i, neck) in necks(12).iter().enumerate() {
        let of = |hand: Hand| {
            let mut spec = neck.normalised().clone();
            spec.hand = hand;
            Neck::new(&spec).unwrap()
        };
        let (right, left) = (of(Hand::Right), of(Hand::Left));
        let options = TemplateOptions::default();
        // The sheets that show the neck from the front.
        let pairs = [
            (board(&right, &options).unwrap(), board(&left, &options).unwrap()),
            (headstock(&right, &options).unwrap(), headstock(&left, &options).unwrap()),
        ];
        for (a, b) in pairs {
            let layers = [Layer::Outline, Layer::Holes];
            let (a, b) = (points(&a, &layers, false), points(&b, &layers, true));
            assert_eq!(a.len(), b.len(), "neck {i}");
            for p in &a {
                let near = b.iter().map(|q| apart(*p, *q)).fold(f64::INFINITY, f64::min);
                assert!(near < 1e-8, "neck {i}: {near}");
                compared += 1;
            }
        }
        // Slots come in the same order.
        for (a, b) in
            slots(&board(&right, &options).unwrap()).iter().zip(slots(&board(&left, &options).unwrap()))
        {
            for (p, q) in a.iter().zip(b) {
                assert!(apart(*p, [q[0], -q[1]]) < 1e-9, "neck {i}");
            }
        }
    }
    assert!(compared > 500, "{compared}");
}

#[test]
fn every_sheet_has_both_bars_its_words_and_room() {
    let stock = Stock::default();
    for (i, neck) in necks(12).iter().enumerate() {
        let plan = neck.carving_plan(&stock).ok();
        let options = TemplateOptions { offset: Length::from_mm(2.0), strings: true, ..Default::default() };
        let sheets = templates(neck, plan.as_ref(), &options).unwrap();
        let flat = neck.layout().board().crown().is_flat();
        assert_eq!(sheets.len(), if flat { 8 } else { 9 }, "neck {i}");
        for sheet in &sheets {
            let bars = paths(sheet, Layer::CheckBars);
            let level = |p: &&Path| ends(p)[0][1] == ends(p)[1][1];
            let lengths: Vec<f64> =
                bars.iter().filter(level).map(|p| apart(ends(p)[0], ends(p)[1])).collect();
            assert_eq!(lengths.len(), 2, "{}", sheet.title);
            for (length, bar) in lengths.iter().zip([100.0, 101.6]) {
                assert!((length - bar).abs() < 1e-9, "{}: {length}", sheet.title);
            }
            let words: Vec<&str> =
                sheet.items.iter().filter_map(|i| i.shape.text()).map(|t| t.words.as_str()).collect();
            let said = words.join(" ");
            assert!(said.contains("Measure both bars"), "{}", sheet.title);
            assert!(said.contains("wood dust"), "{}", sheet.title);
            for item in &sheet.items {
                let corners = item.shape.lines(8).concat();
                let rooms = item.shape.text().map(|t| t.room()).unwrap_or([[10.0; 2]; 2]);
                for p in corners.iter().chain(&rooms) {
                    assert!(
                        (0..2).all(|k| p[k] > 9.9 && p[k] < sheet.size_mm[k] - 9.9),
                        "{}: {p:?}",
                        sheet.title
                    );
                }
            }
        }
    }
}

#[test]
fn words_lie_on_no_other_words() {
    let overlap = |a: [Point; 2], b: [Point; 2]| (0..2).all(|k| a[0][k] < b[1][k] && b[0][k] < a[1][k]);
    let mut looked = 0;
    for (i, neck) in necks(25).iter().enumerate() {
        let options = TemplateOptions {
            offset: Length::from_mm([0.0, 3.0][i % 2]),
            slot_edges: i % 3 == 0,
            strings: i % 4 == 0,
            ..Default::default()
        };
        for sheet in templates(neck, None, &options).unwrap() {
            // Plan and side are tested by themselves.
            if ["Plan", "Side"].iter().any(|t| sheet.title.starts_with(t)) {
                continue;
            }
            let texts: Vec<_> = sheet.items.iter().filter_map(|i| i.shape.text()).collect();
            let layers = [Layer::Outline, Layer::CutLine, Layer::FretSlots, Layer::Strings, Layer::Edges];
            let lines: Vec<Vec<Point>> =
                layers.iter().flat_map(|l| paths(&sheet, *l)).map(|p| p.corners(32)).collect();
            for text in &texts {
                let [low, high] = text.room();
                let inside = |p: &Point| (0..2).all(|k| p[k] > low[k] && p[k] < high[k]);
                for line in &lines {
                    let on = along(line, 0.5).iter().any(inside);
                    assert!(!on, "neck {i}, {}: a line through {:?}", sheet.title, text.words);
                }
            }
            for (k, a) in texts.iter().enumerate() {
                for b in &texts[..k] {
                    assert!(
                        !overlap(a.room(), b.room()),
                        "neck {i}, {}: {:?} on {:?}",
                        sheet.title,
                        a.words,
                        b.words
                    );
                    looked += 1;
                }
            }
        }
    }
    assert!(looked > 100_000, "{looked}");
}

#[test]
fn the_stock_lies_around_the_neck_and_its_lines_where_the_plan_has_them() {
    let mut seen = 0;
    for neck in necks(15) {
        let Ok(plan) = neck.carving_plan(&Stock::default()) else { continue };
        let sheet = side_with_stock(&plan);
        let lines: Vec<[Point; 2]> =
            paths(&sheet, Layer::CutLine).iter().map(|p| ends(p).map(|p| own(&sheet, p))).collect();
        for stage in plan.stages() {
            if let neckwright::carve::Details::Sawing(saw) = &stage.details {
                assert_eq!(lines.len(), saw.len());
                for (line, saw) in lines.iter().zip(saw) {
                    for (k, p) in line.iter().enumerate() {
                        let at = [saw.depth.x_mm[k], -saw.depth.value_mm[k]];
                        assert!(apart(*p, at) < 1e-9);
                    }
                }
                seen += 1;
            }
        }
        let [blank, ..] = &paths(&sheet, Layer::Left)[..] else { panic!("no blank") };
        let corners: Vec<Point> = blank.corners(1).iter().map(|p| own(&sheet, *p)).collect();
        let [from, to] = neck.wood_reach_mm();
        let reach =
            corners.iter().fold([f64::INFINITY, f64::NEG_INFINITY], |a, p| [a[0].min(p[0]), a[1].max(p[0])]);
        assert!(reach[0] <= from + 1e-9 && reach[1] >= to - 1e-9, "{reach:?} around {from} to {to}");
    }
    assert!(seen > 2, "{seen}");
}

#[test]
fn transitions_are_drawn_for_every_neck() {
    for (i, neck) in necks(40).iter().enumerate() {
        let sheet = transitions(neck, &TemplateOptions::default()).unwrap();
        // Along the spine and across at four or more places, of both ends.
        assert!(pieces(&sheet).len() >= 10, "neck {i}: {}", pieces(&sheet).len());
    }
}

#[test]
fn stations_off_the_neck_are_told_with_their_place() {
    let neck = Neck::new(&Specification::default()).unwrap();
    let options = TemplateOptions {
        gauge_stations: Some(vec![Station::Fret(1.0), Station::Mm(900.0)]),
        radius_stations: Some(vec![Station::Mm(-20.0)]),
        ..Default::default()
    };
    let error = templates(&neck, None, &options).unwrap_err();
    let told: Vec<&str> = error.faults().iter().map(|f| f.path.as_str()).collect();
    assert_eq!(told, ["gauge_stations[1]", "radius_stations[0]"]);
    assert!(error.faults().iter().all(|f| f.kind == Kind::OutsideNeck));
    let options = TemplateOptions { offset: Length::from_mm(-1.0), ..Default::default() };
    assert_eq!(templates(&neck, None, &options).unwrap_err().faults()[0].path, "offset");
}

#[test]
fn the_same_neck_has_the_same_templates() {
    let neck = &necks(3)[2];
    let options = TemplateOptions { offset: Length::from_mm(3.0), ..Default::default() };
    let of =
        || templates(neck, None, &options).unwrap().iter().map(|s| s.to_svg().unwrap()).collect::<Vec<_>>();
    assert_eq!(of(), of());
}

#[test]
fn options_are_read_back_as_they_were_written() {
    let options = TemplateOptions {
        gauge_stations: Some(vec![Station::Fret(3.0), Station::Mm(120.5)]),
        offset: Length::from_mm(3.175),
        slot_edges: true,
        ..Default::default()
    };
    assert_eq!(TemplateOptions::from_json(&options.to_json()).unwrap(), options);
}

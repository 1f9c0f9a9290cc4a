//! Sheets shared out over pages: nothing of the drawing is lost or twice, marks meet, bars are true.

mod common;

use std::collections::BTreeMap;

use common::necks;
use neckwright::measure::{Kind, Length, Station};
use neckwright::paper::{Anchor, Item, Layer, Page, Path, Point, Segment, Shape, Sheet, Text, Tile, Tiling};
use neckwright::paper::{MAX_PAGES, carving_pages, plan, sections, side, templates, tile};
use neckwright::shape::Neck;
use neckwright::spec::{PaperOptions, PaperSize, Stock, TemplateOptions, numbers};

/// Layers that belong to a page and not to the drawing.
const OF_PAGES: [Layer; 3] = [Layer::CheckBars, Layer::Seams, Layer::PageMarks];
/// Height of the strip with the bars, mm, and what is kept around a block for the weight of its lines.
const STRIP_MM: f64 = 29.0;
const INK_MM: f64 = 0.4;

fn options(paper: PaperSize) -> PaperOptions {
    PaperOptions { paper, ..PaperOptions::default() }
}

fn sheets(neck: &Neck) -> Vec<Sheet> {
    let stations = [0.0, 1.0, neck.heel().start_x_mm].map(Station::Mm);
    let mut all = vec![plan(neck), side(neck), sections(neck, &stations).unwrap()];
    all.extend(templates(neck, None, &TemplateOptions::default()).unwrap());
    all
}

/// Sheets of all kinds with the pages they are shared out over, and how.
fn tiled() -> Vec<(Sheet, Tiling, PaperOptions)> {
    let mut all: Vec<Sheet> = necks(10).iter().flat_map(sheets).collect();
    let left = r#"{ "hand": "left" }"#;
    let fanned = r#"{ "scale": { "bass": 686, "treble": 648, "square_fret": 8 }, "strings": { "count": 7 },
        "bridge": { "string_spread": 66 } }"#;
    for text in [left, fanned] {
        let neck = Neck::from_json(text).unwrap();
        all.extend(sheets(&neck));
        all.extend(carving_pages(&neck.carving_plan(&Stock::default()).unwrap()));
    }
    let mut wide = options(PaperSize::Letter);
    (wide.margin, wide.overlap) = (Length::from_mm(20.0), Length::from_mm(30.0));
    let choices = [options(PaperSize::A4), options(PaperSize::Letter), wide];
    let pages = all.into_iter().enumerate().map(|(i, sheet)| {
        let options = choices[i % 3].clone();
        let tiling = tile(&sheet, &options).unwrap();
        (sheet, tiling, options)
    });
    pages.collect()
}

fn moved(window: [Point; 2], by: Point) -> [Point; 2] {
    window.map(|p| [p[0] + by[0], p[1] + by[1]])
}

fn lengths<'a>(items: impl Iterator<Item = &'a Item>, window: [Point; 2]) -> BTreeMap<Layer, f64> {
    let mut sums = BTreeMap::new();
    for item in items.filter(|i| !OF_PAGES.contains(&i.layer)) {
        let length: f64 = item.shape.within(window).iter().map(Shape::length_mm).sum();
        *sums.entry(item.layer).or_default() += length;
    }
    sums
}

const EVERYWHERE: [Point; 2] = [[-1e6; 2], [1e6; 2]];

/// The part of a page that shows a tile's block.
fn of(block: usize, sheet: &Sheet) -> impl Iterator<Item = &Item> {
    sheet.items.iter().filter(move |i| i.block == block)
}

#[test]
fn the_pages_put_together_are_the_sheet() {
    let mut several = 0;
    for (sheet, tiling, _) in tiled() {
        let whole = lengths(sheet.items.iter(), EVERYWHERE);
        let mut sums: BTreeMap<Layer, f64> = BTreeMap::new();
        for page in &tiling.pages {
            for tile in &page.tiles {
                let cell = moved(tile.cell_mm, tile.by_mm);
                for (layer, length) in lengths(of(tile.block, &page.sheet), cell) {
                    *sums.entry(layer).or_default() += length;
                }
            }
        }
        for (layer, length) in whole {
            let sum = sums.get(&layer).copied().unwrap_or_default();
            assert!(
                (sum - length).abs() <= 1e-9 * (1.0 + length),
                "{}: {layer:?} {sum} of {length}",
                sheet.title
            );
        }
        several += usize::from(tiling.pages.len() > 1);
    }
    assert!(several > 60, "only {several} sheets took several pages");
}

#[test]
fn a_page_shows_its_windows_and_all_of_them() {
    for (sheet, tiling, _) in tiled().into_iter().filter(|(_, t, _)| t.pages.len() > 1) {
        for page in &tiling.pages {
            for tile in &page.tiles {
                let window = moved(tile.window_mm, tile.by_mm);
                let shown = lengths(of(tile.block, &page.sheet), window);
                for (layer, length) in lengths(of(tile.block, &sheet), tile.window_mm) {
                    let found = shown.get(&layer).copied().unwrap_or_default();
                    assert!(
                        (found - length).abs() <= 1e-9 * (1.0 + length),
                        "{} {}",
                        page.sheet.title,
                        layer.name()
                    );
                }
            }
            let windows: Vec<[Point; 2]> = page.tiles.iter().map(|t| moved(t.window_mm, t.by_mm)).collect();
            for item in page.sheet.items.iter().filter(|i| !OF_PAGES.contains(&i.layer)) {
                for p in item.shape.lines(8).concat() {
                    let within =
                        |w: &[Point; 2]| (0..2).all(|k| p[k] >= w[0][k] - 1e-9 && p[k] <= w[1][k] + 1e-9);
                    assert!(windows.iter().any(within), "{p:?} on {}", page.sheet.title);
                }
            }
        }
    }
}

/// Lower left and upper right corner of what a block takes.
fn room(items: &[&Item]) -> [Point; 2] {
    let mut room = [[f64::INFINITY; 2], [f64::NEG_INFINITY; 2]];
    for item in items {
        let corners = item
            .shape
            .lines(64)
            .concat()
            .into_iter()
            .chain(item.shape.text().into_iter().flat_map(|t| t.room()));
        for p in corners {
            for k in 0..2 {
                room[0][k] = room[0][k].min(p[k]);
                room[1][k] = room[1][k].max(p[k]);
            }
        }
    }
    room
}

#[test]
fn what_fits_a_page_stands_whole_on_one() {
    let (mut whole, mut shared) = (0, 0);
    for (sheet, tiling, options) in tiled().into_iter().filter(|(_, t, _)| t.pages.len() > 1) {
        let mut blocks: BTreeMap<usize, Vec<&Item>> = BTreeMap::new();
        for item in sheet.items.iter().filter(|i| i.layer != Layer::CheckBars) {
            blocks.entry(item.block).or_default().push(item);
        }
        let [w, h] = match options.paper {
            PaperSize::A4 => [210.0, 297.0],
            _ => [215.9, 279.4],
        };
        let margins = 2.0 * options.margin.mm();
        let free = [[w, h], [h, w]].map(|[w, h]| [w - margins, h - margins - STRIP_MM]);
        for (block, items) in blocks {
            let [low, high] = room(&items);
            let fits = free.iter().any(|f| (0..2).all(|k| high[k] - low[k] + 2.0 * INK_MM <= f[k] - 1e-6));
            let tiles: Vec<(&Page, &Tile)> = tiling
                .pages
                .iter()
                .flat_map(|p| p.tiles.iter().filter(|t| t.block == block).map(move |t| (p, t)))
                .collect();
            if !fits {
                // A curve's handles may reach further than the curve.
                shared += 1;
                continue;
            }
            whole += 1;
            assert_eq!(tiles.len(), 1, "{}: block {block} of {:?}", sheet.title, [low, high]);
            let (page, tile) = tiles[0];
            assert_eq!(tile.grid, [1, 1]);
            let found: Vec<Item> = of(block, &page.sheet)
                .filter(|i| {
                    !OF_PAGES.contains(&i.layer) && room(&[i])[0][1] > options.margin.mm() + STRIP_MM - 1e-6
                })
                .cloned()
                .collect();
            assert_eq!(found.len(), items.len(), "{}: block {block}", sheet.title);
        }
    }
    assert!(whole > 500 && shared > 30, "{whole} whole, {shared} shared out");
}

#[test]
fn the_first_page_has_the_title() {
    let mut several = 0;
    for (sheet, tiling, _) in tiled() {
        let highest =
            |texts: &mut dyn Iterator<Item = &Text>| texts.map(|t| t.height_mm).fold(0.0_f64, f64::max);
        // Nothing is lettered as large as the title's first line.
        let texts = |sheet: &Sheet| -> Vec<Text> {
            sheet
                .items
                .iter()
                .filter(|i| !OF_PAGES.contains(&i.layer))
                .filter_map(|i| i.shape.text().cloned())
                .collect()
        };
        let all = texts(&sheet);
        let title = highest(&mut all.iter());
        several += usize::from(tiling.pages.len() > 1);
        let first = texts(&tiling.pages[0].sheet);
        assert_eq!(highest(&mut first.iter()), title, "{} begins without its title", sheet.title);
    }
    assert!(several > 40, "{several} on more than one page");
}

#[test]
fn no_words_are_lost_or_broken() {
    let words = |sheet: &Sheet| -> Vec<String> {
        let texts = sheet.items.iter().filter(|i| i.layer != Layer::CheckBars).filter_map(|i| i.shape.text());
        texts.map(|t| t.words.clone()).collect()
    };
    let mut count = 0;
    for (sheet, tiling, _) in tiled() {
        let printed: std::collections::BTreeSet<String> =
            tiling.pages.iter().flat_map(|p| words(&p.sheet)).collect();
        for text in words(&sheet) {
            assert!(printed.contains(&text), "{text} of {}", sheet.title);
            count += 1;
        }
    }
    assert!(count > 1000, "{count}");
}

fn overlap(a: &[Point; 2], b: &[Point; 2]) -> bool {
    (0..2).all(|k| a[0][k] < b[1][k] - 1e-9 && b[0][k] < a[1][k] - 1e-9)
}

#[test]
fn words_keep_clear_of_edges_seams_marks_and_other_words() {
    let (mut crosses, mut over_lines, mut labels) = (0, 0, 0);
    for (sheet, tiling, options) in tiled().into_iter().filter(|(_, t, _)| t.pages.len() > 1) {
        // Words that lie on each other on the sheet itself are no fault of its pages.
        let texts: Vec<&Text> = sheet.items.iter().filter_map(|i| i.shape.text()).collect();
        let clash = |a: &str, b: &str| {
            let of = |w: &str| texts.iter().filter(|t| t.words == w).map(|t| t.room()).collect::<Vec<_>>();
            of(a).iter().any(|r| of(b).iter().any(|q| overlap(r, q)))
        };
        for page in &tiling.pages {
            let at = &page.sheet.title;
            let paper = page.sheet.size_mm;
            let edge = options.margin.mm() - 1e-6;
            let all: Vec<(&Item, [Point; 2])> =
                page.sheet.items.iter().filter_map(|i| Some((i, i.shape.text()?.room()))).collect();
            for (i, (item, r)) in all.iter().enumerate() {
                let words = &item.shape.text().unwrap().words;
                let inside = (0..2).all(|k| r[0][k] >= edge && r[1][k] <= paper[k] - edge);
                assert!(inside, "{words} crosses the edge of {at}: {r:?}");
                for (other, q) in &all[..i] {
                    let other = &other.shape.text().unwrap().words;
                    let apart = !overlap(r, q) || clash(words, other);
                    assert!(apart, "{words} lies on {other} on {at}");
                }
            }
            let strokes = page.sheet.layer(Layer::PageMarks).chain(page.sheet.layer(Layer::Seams));
            let foot = options.margin.mm() + STRIP_MM;
            for stroke in strokes.flat_map(|s| s.lines(8)) {
                for line in stroke.windows(2).filter(|l| l[0][1] > foot) {
                    let [a, b] = [line[0], line[1]];
                    let hull = [[a[0].min(b[0]), a[1].min(b[1])], [a[0].max(b[0]), a[1].max(b[1])]];
                    for (item, r) in &all {
                        // Strokes are level or upright, or so short that their hull tells as much.
                        let on = (0..2).all(|k| hull[0][k] < r[1][k] && r[0][k] < hull[1][k]);
                        assert!(!on, "a mark lies on {} on {at}", item.shape.text().unwrap().words);
                    }
                }
            }
            for tile in page.tiles.iter().filter(|t| t.grid != [1, 1]) {
                let window = moved(tile.window_mm, tile.by_mm);
                let cell = moved(tile.cell_mm, tile.by_mm);
                for (item, r) in
                    all.iter().filter(|(i, _)| i.block == tile.block && !OF_PAGES.contains(&i.layer))
                {
                    if !overlap(r, &window) {
                        continue;
                    }
                    // In the cell, or in the next one's where that is shown too.
                    let cut = (0..2).any(|k| {
                        (r[0][k] < cell[0][k] && r[1][k] > cell[0][k])
                            || (r[0][k] < cell[1][k] && r[1][k] > cell[1][k])
                    });
                    assert!(!cut, "{} is cut by a seam of {at}", item.shape.text().unwrap().words);
                    labels += 1;
                }
                for ring in rings(page, tile) {
                    let c = [ring[0] + tile.by_mm[0], ring[1] + tile.by_mm[1]];
                    let lines = page.sheet.items.iter().filter(|i| !OF_PAGES.contains(&i.layer));
                    let square = [c.map(|v| v - 3.0), c.map(|v| v + 3.0)];
                    let crossed =
                        lines.flat_map(|i| i.shape.within(square)).map(|s| s.length_mm()).sum::<f64>() > 0.0;
                    crosses += 1;
                    over_lines += usize::from(crossed);
                }
            }
        }
    }
    assert!(crosses > 400 && labels > 1000, "{crosses} crosses, {labels} labels");
    assert!(over_lines * 100 <= crosses, "{over_lines} of {crosses} crosses lie on lines");
}

/// Where the rings of the crosses are, in the sheet's own frame.
fn rings(page: &Page, tile: &Tile) -> Vec<Point> {
    let centre = |shape: &Shape| match shape {
        Shape::Circle { centre, .. } => Some([centre[0] - tile.by_mm[0], centre[1] - tile.by_mm[1]]),
        _ => None,
    };
    page.sheet.layer(Layer::PageMarks).filter_map(centre).collect()
}

#[test]
fn crosses_are_at_the_same_place_of_the_drawing_on_both_pages() {
    let (mut met, mut close) = (0, 0);
    for (_, tiling, _) in tiled() {
        let parts: Vec<(&Page, &Tile)> = tiling
            .pages
            .iter()
            .filter_map(|p| Some((p, p.tiles.first().filter(|t| t.grid != [1, 1])?)))
            .collect();
        for (page, a) in &parts {
            for (next, b) in parts.iter().filter(|(_, b)| b.block == a.block) {
                let (right, below) =
                    (b.column == a.column + 1 && b.row == a.row, b.row == a.row + 1 && b.column == a.column);
                if !right && !below {
                    continue;
                }
                let axis = usize::from(below);
                // The seam: where a page's cell ends and the next one's begins, to the bit.
                let seam = if right { a.cell_mm[1][0] } else { a.cell_mm[0][1] };
                assert_eq!(seam.to_bits(), (if right { b.cell_mm[0][0] } else { b.cell_mm[1][1] }).to_bits());
                let on = |page: &Page, tile: &Tile| {
                    let mut all = rings(page, tile);
                    // Those of the seam itself, and not of one that meets it.
                    all.retain(|p| (p[axis] - seam).abs() < 1e-9);
                    all
                };
                let (here, there) = (on(page, a), on(next, b));
                assert_eq!((here.len(), there.len()), (2, 2), "{} and {}", page.sheet.title, next.name);
                for (p, q) in here.iter().zip(&there) {
                    assert!((p[0] - q[0]).abs() < 1e-9 && (p[1] - q[1]).abs() < 1e-9);
                }
                close += usize::from((here[0][1 - axis] - here[1][1 - axis]).abs() < 40.0);
                let names = |page: &Page, name: &str| {
                    page.sheet.layer(Layer::PageMarks).filter_map(Shape::text).any(|t| t.words == name)
                };
                assert!(names(page, &page.name) && names(next, &next.name));
                met += 1;
            }
        }
    }
    assert!(met > 100 && close * 50 <= met, "{met} seams, on {close} of them crosses too close to turn by");
}

#[test]
fn both_bars_are_on_every_page_clear_of_the_drawing() {
    for (sheet, tiling, _) in tiled() {
        for page in &tiling.pages {
            let bars: Vec<&Shape> = page.sheet.layer(Layer::CheckBars).collect();
            let level = |shape: &&Shape| match shape {
                Shape::Path(Path { start, segments, .. }) => {
                    segments.first().is_some_and(|s| s.end()[1].to_bits() == start[1].to_bits())
                }
                _ => false,
            };
            let lengths: Vec<f64> = bars.iter().copied().filter(level).map(Shape::length_mm).collect();
            assert_eq!(lengths.len(), 2, "{}", page.sheet.title);
            assert!((lengths[0] - 100.0).abs() < 1e-12 && (lengths[1] - 101.6).abs() < 1e-12, "{lengths:?}");
            if tiling.pages.len() == 1 {
                continue;
            }
            let feet = page.tiles.iter().map(|t| t.window_mm[0][1] + t.by_mm[1]);
            let foot = feet.fold(f64::INFINITY, f64::min);
            let top = bars.iter().flat_map(|s| s.lines(1)).flatten().map(|p| p[1]).fold(0.0, f64::max);
            assert!(top < foot, "{}: bars up to {top}, the drawing from {foot}", sheet.title);
            let told = bars.iter().filter_map(|s| s.text()).any(|t| t.words.starts_with("Measure both bars"));
            assert!(told, "{}", page.sheet.title);
        }
    }
}

#[test]
fn pages_are_the_papers_size_and_the_same_every_time() {
    for neck in necks(3) {
        for sheet in sheets(&neck) {
            for (paper, size) in [(PaperSize::A4, [210.0, 297.0]), (PaperSize::Letter, [215.9, 279.4])] {
                let tiling = tile(&sheet, &options(paper)).unwrap();
                assert_eq!(tiling, tile(&sheet, &options(paper)).unwrap());
                for page in tiling.pages {
                    let [w, h] = page.sheet.size_mm;
                    assert!([w, h] == size || [h, w] == size, "{w} × {h}");
                }
            }
            let drawn = tile(&sheet, &options(PaperSize::AsDrawn)).unwrap();
            assert_eq!((drawn.pages.len(), &drawn.pages[0].sheet), (1, &sheet));
        }
    }
}

#[test]
fn a_sheet_that_fits_is_one_page_with_its_own_bars() {
    let mut draft = plan(&necks(1)[0]);
    // Only the bars and what is close to them: a small drawing.
    let bars: Vec<Point> = draft.layer(Layer::CheckBars).flat_map(|s| s.lines(1)).flatten().collect();
    let [x, y] = bars[0];
    draft.items.retain(|i| i.layer == Layer::CheckBars);
    let circle = Shape::Circle { centre: [x + 50.0, y - 40.0], radius_mm: 20.0 };
    draft.items.push(Item::new(Layer::Holes, circle));
    let tiling = tile(&draft, &options(PaperSize::A4)).unwrap();
    assert_eq!((tiling.pages.len(), tiling.pages[0].name.as_str()), (1, ""));
    assert_eq!(tiling.pages[0].sheet.items.len(), draft.items.len());
    // Without bars of its own it gets the page's.
    draft.items.retain(|i| i.layer != Layer::CheckBars);
    let tiling = tile(&draft, &options(PaperSize::A4)).unwrap();
    assert_eq!((tiling.pages.len(), tiling.pages[0].name.as_str()), (1, ""));
    assert!(tiling.pages[0].sheet.layer(Layer::CheckBars).count() > 10);
}

#[test]
fn pages_with_nothing_on_them_are_left_out_and_named() {
    let line = |a: Point, b: Point| Item::new(Layer::Outline, Shape::Path(Path::line(a, b)));
    let items = vec![line([0.0, 0.0], [900.0, 0.0]), line([0.0, 0.0], [0.0, 700.0])];
    let sheet = Sheet { title: "Two edges".into(), size_mm: [900.0, 700.0], origin_mm: None, items };
    let tiling = tile(&sheet, &options(PaperSize::A4)).unwrap();
    let [columns, rows] = tiling.pages[0].tiles[0].grid;
    assert_eq!(tiling.pages.len(), columns + rows - 1);
    assert_eq!(tiling.pages.len() + tiling.left_out.len(), columns * rows);
    assert!(tiling.left_out.contains(&format!("A{columns}")), "{:?}", tiling.left_out);
    let words: Vec<&str> =
        tiling.pages[0].sheet.items.iter().filter_map(|i| i.shape.text()).map(|t| t.words.as_str()).collect();
    for name in &tiling.left_out {
        assert!(words.contains(&format!("({name})").as_str()), "{name} is not in the overview: {words:?}");
    }
}

/// Random shapes of every kind.
fn shapes(count: usize) -> Vec<Shape> {
    let mut next = numbers(5);
    let mut unit = move || (next() >> 11) as f64 / (1_u64 << 53) as f64;
    let mut point = move || [100.0 * unit(), 100.0 * unit()];
    let mut shapes = Vec::new();
    for i in 0..count {
        let mut at = point();
        let start = at;
        let mut segments = Vec::new();
        for k in 0..1 + i % 4 {
            let to = point();
            segments.push(match (i + k) % 3 {
                0 => Segment::Line(to),
                1 => Segment::Cubic(point(), point(), to),
                _ => {
                    let share = 0.02 + 0.02 * point()[0];
                    let [x, y] = [0.5 * (at[0] + to[0]), 0.5 * (at[1] + to[1])];
                    let centre = [x + share * (to[1] - at[1]), y + share * (at[0] - to[0])];
                    Segment::Arc { centre, to, counter_clockwise: false }
                }
            });
            at = to;
        }
        shapes.push(Shape::Path(Path { start, segments, closed: i % 2 == 0 }));
        shapes.push(Shape::Circle { centre: point(), radius_mm: point()[0] });
    }
    shapes
}

#[test]
fn windows_side_by_side_share_out_every_length() {
    let lines = [-1e4, 10.0, 25.0, 26.0, 50.0, 77.7, 1e4];
    for (i, shape) in shapes(300).iter().enumerate() {
        let mut sum = 0.0;
        for x in lines.windows(2) {
            for y in lines.windows(2) {
                let window = [[x[0], y[0]], [x[1], y[1]]];
                for piece in shape.within(window) {
                    sum += piece.length_mm();
                    for p in piece.lines(16).concat() {
                        let inside =
                            (0..2).all(|k| p[k] >= window[0][k] - 1e-9 && p[k] <= window[1][k] + 1e-9);
                        assert!(inside, "shape {i}: {p:?} is not in {window:?}");
                    }
                }
            }
        }
        assert!((sum - shape.length_mm()).abs() < 1e-8, "shape {i}: {sum} of {}", shape.length_mm());
    }
}

#[test]
fn lines_along_the_edge_of_two_windows_are_in_one_of_them() {
    let line = Shape::Path(Path::line([10.0, 0.0], [10.0, 30.0]));
    assert!(line.within([[0.0, 0.0], [10.0, 50.0]]).is_empty());
    assert_eq!(line.within([[10.0, 0.0], [20.0, 50.0]]), std::slice::from_ref(&line));
    // A closed path that lies inside stays closed; one that is cut begins where it comes in.
    let square = Path::polyline(&[[2.0, 2.0], [8.0, 2.0], [8.0, 8.0], [2.0, 8.0]], true);
    let shape = Shape::Path(square);
    assert_eq!(shape.within([[0.0, 0.0], [9.0, 9.0]]), std::slice::from_ref(&shape));
    let pieces = shape.within([[0.0, 0.0], [5.0, 9.0]]);
    let expected = Path::polyline(&[[5.0, 8.0], [2.0, 8.0], [2.0, 2.0], [5.0, 2.0]], false);
    assert_eq!(pieces, [Shape::Path(expected)]);
}

#[test]
fn what_cannot_be_done_is_refused() {
    let sheet = plan(&necks(1)[0]);
    let thin = PaperOptions { margin: Length::from_mm(2.0), ..PaperOptions::default() };
    let error = tile(&sheet, &thin).unwrap_err();
    assert_eq!((error.faults()[0].kind, error.faults()[0].path.as_str()), (Kind::OutOfRange, "margin"));
    let far = Item::new(Layer::Outline, Shape::Path(Path::line([0.0; 2], [1e7, 1e7])));
    let error = tile(&Sheet { items: vec![far], ..sheet.clone() }, &options(PaperSize::A4)).unwrap_err();
    assert_eq!(error.faults()[0].kind, Kind::TooLarge);
    assert!(error.to_string().contains(&MAX_PAGES.to_string()), "{error}");
    for v in [f64::NAN, f64::INFINITY] {
        let odd = Item::new(Layer::Outline, Shape::Path(Path::line([0.0; 2], [v, 5.0])));
        let odd = Sheet { items: vec![odd], ..sheet.clone() };
        for error in [tile(&odd, &options(PaperSize::A4)).unwrap_err(), odd.to_svg().unwrap_err()] {
            assert_eq!(error.faults()[0].kind, Kind::OutOfRange);
        }
    }
    assert!(PaperOptions::from_json(r#"{ "paper": "letter", "overlap": "1/2 in" }"#).is_ok());
    assert!(PaperOptions::from_json(r#"{ "paper": "foolscap" }"#).is_err());
    // A sheet with nothing on it is one page.
    let empty = Sheet { items: Vec::new(), ..sheet };
    assert!(tile(&empty, &options(PaperSize::A4)).is_ok());
    let long = Text::new([0.0; 2], Anchor::Middle, "m".repeat(300)).high(40.0);
    let shout = Item::new(Layer::Words, Shape::Text(long));
    let tiling = tile(&Sheet { items: vec![shout], ..empty }, &options(PaperSize::A4)).unwrap();
    let letters: usize = tiling
        .pages
        .iter()
        .flat_map(|p| &p.sheet.items)
        .filter_map(|i| i.shape.text())
        .map(|t| t.words.matches("mm").count())
        .sum();
    assert!(tiling.pages.len() > 10 && letters > 100, "{letters} on {} pages", tiling.pages.len());
}

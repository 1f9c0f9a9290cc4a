//! Writes sheets as DXF, PDF and SVG into a folder, with a table of what other programs have to find in them.
//!
//!     cargo run --release --bin paper -- FOLDER

use std::collections::BTreeMap;
use std::error::Error;
use std::fs;
use std::path::Path as File;

use neckwright::inspect::{Measured, Reading, Readings};
use neckwright::measure::{Length, Station};
use neckwright::paper::{Anchor, Item, Layer, Path, Segment, Shape, Sheet, Text, dxf, pdf, tile};
use neckwright::paper::{carving_pages, inspection, plan, sections, side, templates};
use neckwright::shape::Neck;
use neckwright::spec::{
    DrawingUnit, DxfOptions, Hand, PaperOptions, PaperSize, Specification, Stock, TemplateOptions, numbers,
};
use serde_json::{Value, json};

const CLASS: &str = include_str!("../../core/examples/neck_book/evening_class.json");
const CLASS_STOCK: &str = include_str!("../../core/examples/neck_book/evening_class_stock.json");
const FANNED: &str = r#"{ "hand": "left", "name": "Fächer 木 🎸 100 %%d ^J \"12″\"",
    "scale": { "bass": 686, "treble": 648, "square_fret": 8 }, "strings": { "count": 7 }, "bridge": { "string_spread": 66 } }"#;

/// Every kind of shape, every kind of joint, and words that writers have to take care of.
fn shapes() -> Sheet {
    let mut next = numbers(11);
    let mut unit = move || (next() >> 11) as f64 / (1_u64 << 53) as f64;
    let mut items = Vec::new();
    for i in 0..40 {
        let mut at = [30.0 + 800.0 * unit(), 30.0 + 500.0 * unit()];
        let start = at;
        let mut handle = [10.0, 0.0];
        let mut segments = Vec::new();
        for _ in 0..1 + i % 5 {
            let mut by = |from: [f64; 2]| [from[0] + 60.0 * (unit() - 0.5), from[1] + 60.0 * (unit() - 0.5)];
            let to = by(at);
            segments.push(match i % 4 {
                0 => Segment::Line(to),
                // Straight on through the joint, or with a corner in it.
                1 => {
                    let straight = [at[0] + 0.7 * handle[0], at[1] + 0.7 * handle[1]];
                    let a = if i % 8 == 1 { straight } else { by(at) };
                    let b = by(to);
                    handle = [to[0] - b[0], to[1] - b[1]];
                    Segment::Cubic(a, b, to)
                }
                2 => {
                    let middle = [0.5 * (at[0] + to[0]), 0.5 * (at[1] + to[1])];
                    let away = [to[1] - at[1], at[0] - to[0]];
                    let centre = [middle[0] + 0.3 * away[0], middle[1] + 0.3 * away[1]];
                    // The shorter way around.
                    Segment::Arc { centre, to, counter_clockwise: false }
                }
                _ if segments.len() % 2 == 0 => Segment::Cubic(by(at), by(to), to),
                _ => Segment::Line(to),
            });
            at = to;
        }
        let path = Path { start, segments, closed: i % 3 == 0 };
        items.push(Item::new(Layer::ALL[i % 13], Shape::Path(path)));
        let centre = [30.0 + 800.0 * unit(), 30.0 + 500.0 * unit()];
        let circle = Shape::Circle { centre, radius_mm: 0.5 + 40.0 * unit() };
        items.push(Item::new(Layer::Holes, circle));
        let ellipse = Path::ellipse(centre, [12.0, 7.0 + 9.0 * unit()]);
        items.push(Item::new(Layer::Holes, Shape::Path(ellipse)));
    }
    let words = [
        "(100 %) \\ ^J %%d",
        "½ × 12″ ± 0.1 – é",
        "木 🎸 ≤ 5",
        "Words that go on and on over the edge of a page, to be broken between two words",
    ];
    for (i, words) in words.into_iter().enumerate() {
        for (k, anchor) in [Anchor::Start, Anchor::Middle, Anchor::End].into_iter().enumerate() {
            let at = [180.0 + 220.0 * k as f64, 20.0 + 7.0 * i as f64];
            items.push(Item::new(Layer::Words, Shape::Text(Text::new(at, anchor, words))));
        }
    }
    Sheet { title: "Shapes – all of them".into(), size_mm: [900.0, 600.0], origin_mm: None, items }
}

/// A neck's sheets: the drawings, the templates, the carving plan's pages where it has a plan, a map of an inspection.
fn sheets(neck: &Neck, stock: Option<&str>) -> Result<Vec<Sheet>, Box<dyn Error>> {
    let heel = neck.heel();
    let at =
        [0.5 * neck.headstock().tip_x_mm, 0.0, 1.0, 0.5 * heel.start_x_mm, heel.start_x_mm, heel.block_x_mm];
    let stations: Vec<Station> = at.into_iter().map(Station::Mm).collect();
    let mut all = vec![plan(neck), side(neck), sections(neck, &stations)?];
    let plain = TemplateOptions::default();
    let cutter = TemplateOptions {
        offset: Length::from_mm(1.5),
        allowance: Length::from_mm(0.4),
        slot_edges: true,
        ..TemplateOptions::default()
    };
    all.extend(templates(neck, None, if stock.is_some() { &cutter } else { &plain })?);
    if let Some(stock) = stock {
        all.extend(carving_pages(&neck.carving_plan(&Stock::from_json(stock)?)?));
        let readings = [0.2, 0.4, 0.6, 0.8].map(|share| {
            let at = share * heel.start_x_mm;
            let value_mm = neck.thickness_mm(at).unwrap_or(20.0) + 0.3 - share;
            Reading {
                at: Station::Mm(at),
                measured: Measured::Thickness,
                value_mm,
                uncertainty_mm: 0.05,
                line: 0,
            }
        });
        let inspected = neck.inspect(&Readings::new(readings.to_vec())?, &Default::default())?;
        all.extend(inspection(neck, &inspected));
    }
    Ok(all)
}

/// Total length on each layer, and how many circles it has.
fn lengths<'a>(sheets: impl IntoIterator<Item = &'a Sheet>) -> Value {
    let mut sums: BTreeMap<&str, f64> = BTreeMap::new();
    for item in sheets.into_iter().flat_map(|s| &s.items) {
        if item.shape.length_mm() > 0.0 {
            *sums.entry(item.layer.name()).or_default() += item.shape.length_mm();
        }
    }
    json!(sums)
}

fn words<'a>(sheets: impl IntoIterator<Item = &'a Sheet>) -> Vec<&'a str> {
    let texts = sheets.into_iter().flat_map(|s| &s.items).filter_map(|i| i.shape.text());
    texts.map(|t| t.words.as_str()).collect()
}

/// Writes all files of some sheets; what is to be found in them by the files' names.
fn written(folder: &File, name: &str, sheets: &[Sheet]) -> Result<Vec<(String, Value)>, Box<dyn Error>> {
    let mut found = Vec::new();
    let mut write = |file: String, bytes: &[u8], facts: Value| {
        let file = format!("{name}/{file}");
        found.push((file.clone(), facts));
        fs::write(folder.join(file), bytes)
    };
    fs::create_dir_all(folder.join(name))?;
    for (unit, file, insunits, unit_mm) in
        [(DrawingUnit::Millimetres, "all.dxf", 4, 1.0), (DrawingUnit::Inches, "all_in.dxf", 1, 25.4)]
    {
        let text = dxf(sheets, &DxfOptions { unit, ..DxfOptions::default() })?;
        let titles = sheets.iter().map(|s| s.title.as_str());
        let words: Vec<&str> = words(sheets).into_iter().chain(titles).collect();
        let facts =
            json!({ "insunits": insunits, "unit_mm": unit_mm, "lengths": lengths(sheets), "words": words });
        write(file.into(), text.as_bytes(), facts)?;
    }
    let first = &sheets[0];
    let facts =
        json!({ "insunits": 4, "unit_mm": 1.0, "lengths": lengths([first]), "words": words([first]) });
    write("first.dxf".into(), first.to_dxf(&DxfOptions::default())?.as_bytes(), facts)?;
    let of = |paper| PaperOptions { paper, ..PaperOptions::default() };
    // As wide as both may be.
    let [margin, overlap] = [20.0, 30.0].map(Length::from_mm);
    let printed = [
        (of(PaperSize::A4), "a4.pdf"),
        (of(PaperSize::Letter), "letter.pdf"),
        (PaperOptions { margin, overlap, ..of(PaperSize::Letter) }, "letter_wide.pdf"),
        (of(PaperSize::AsDrawn), "as_drawn.pdf"),
    ];
    for (options, file) in printed {
        // Of a carving plan's many pages those of the usual options are enough.
        if file == "letter_wide.pdf" && sheets.len() > 3 {
            continue;
        }
        let mut pages = Vec::new();
        for (i, sheet) in sheets.iter().enumerate() {
            let tiling = tile(sheet, &options)?;
            let several = tiling.pages.len() > 1;
            for page in &tiling.pages {
                let facts = json!({
                    "size_mm": page.sheet.size_mm, "lengths": lengths([&page.sheet]), "words": words([&page.sheet]),
                    "chapter": i, "name": page.name, "bars": page.sheet.layer(Layer::CheckBars).next().is_some(),
                });
                if several && i == 0 {
                    let svg = format!("{}_{}.svg", file.trim_end_matches(".pdf"), page.name);
                    write(svg, page.sheet.to_svg()?.as_bytes(), facts.clone())?;
                }
                pages.push(facts);
            }
        }
        let titles: Vec<&str> = sheets.iter().map(|s| s.title.as_str()).collect();
        write(file.into(), &pdf(sheets, &options)?, json!({ "pages": pages, "titles": titles }))?;
    }
    Ok(found)
}

fn main() -> Result<(), Box<dyn Error>> {
    let folder = std::env::args().nth(1).ok_or("name a folder")?;
    let folder = File::new(&folder);
    let class = Neck::from_json(CLASS)?;
    let left = Neck::new(&Specification { hand: Hand::Left, ..class.normalised().clone() })?;
    let fanned = Neck::from_json(FANNED)?;
    let mut sets = vec![
        ("shapes".to_string(), vec![shapes()]),
        ("class".to_string(), sheets(&class, Some(CLASS_STOCK))?),
        ("left".to_string(), sheets(&left, None)?),
        ("fanned".to_string(), sheets(&fanned, Some("{}"))?),
    ];
    let mut next = numbers(2026);
    while sets.len() < 9 {
        if let Ok(neck) = Neck::new(&Specification::plausible(&mut next)) {
            sets.push((format!("random_{}", sets.len() - 4), sheets(&neck, None)?));
        }
    }
    let mut files = BTreeMap::new();
    for (name, sheets) in &sets {
        files.extend(written(folder, name, sheets)?);
    }
    fs::write(folder.join("expected.json"), serde_json::to_string_pretty(&files)?)?;
    println!("{} files", files.len());
    Ok(())
}

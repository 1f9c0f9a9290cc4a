//! SVG, PDF and DXF of one sheet show the same numbers, and the same every time.

mod common;

use common::necks;
use neckwright::measure::{Kind, Station};
use neckwright::paper::{Layer, Path, Point, Segment, Shape, Sheet, dxf, pdf, plan, sections, side};
use neckwright::shape::Neck;
use neckwright::spec::{DrawingUnit, DxfOptions, PaperOptions, PaperSize};

fn sheets(neck: &Neck) -> Vec<Sheet> {
    let stations = [0.0, 1.0, neck.heel().start_x_mm].map(Station::Mm);
    vec![plan(neck), side(neck), sections(neck, &stations).unwrap()]
}

fn as_drawn(sheet: &Sheet) -> Vec<u8> {
    let options = PaperOptions { paper: PaperSize::AsDrawn, ..PaperOptions::default() };
    pdf(std::slice::from_ref(sheet), &options).unwrap()
}

/// Layers with nothing but straight lines, no corner of which is there twice: DXF has the last corner of a closed line once.
fn straight(sheet: &Sheet) -> Vec<Layer> {
    let lines = |shape: &Shape| match shape {
        Shape::Path(Path { segments, closed, start }) => {
            segments.iter().all(|s| matches!(s, Segment::Line(_)))
                && !(*closed && segments.last().is_some_and(|s| s.end() == *start))
        }
        Shape::Circle { .. } => false,
        Shape::Dimension(_) | Shape::Text(_) => true,
    };
    Layer::ALL
        .into_iter()
        .filter(|l| sheet.layer(*l).next().is_some() && sheet.layer(*l).all(lines))
        .collect()
}

fn numbers(text: &str) -> Vec<f64> {
    let split = text.split(|c: char| !c.is_ascii_digit() && c != '.' && c != '-');
    split.filter(|t| !t.is_empty()).map(|t| t.parse().unwrap()).collect()
}

/// The corners on a layer, in order: of the SVG, with `y` upward.
fn of_svg(svg: &str, sheet: &Sheet, layer: Layer) -> Vec<Point> {
    let begin = svg.find(&format!("<g id=\"{}\"", layer.name())).unwrap();
    let group = &svg[begin..begin + svg[begin..].find("</g>").unwrap()];
    let paths = group.lines().filter_map(|l| l.strip_prefix("<path d=\""));
    let all = paths.flat_map(|d| numbers(d.split('"').next().unwrap()));
    let flat: Vec<f64> = all.collect();
    flat.chunks(2).map(|p| [p[0], sheet.size_mm[1] - p[1]]).collect()
}

/// Of the first page's content of a PDF.
fn of_pdf(content: &str, layer: Layer) -> Vec<Point> {
    let begin = content.find(&format!("/OC /{} BDC", layer.name())).unwrap();
    let group = &content[begin..];
    let lines = group.lines().skip(1).take_while(|l| *l != "EMC");
    let corners = lines.filter(|l| l.ends_with(" m") || l.ends_with(" l"));
    corners.map(numbers).map(|p| [p[0], p[1]]).collect()
}

/// Of a DXF: starts and ends of lines and the corners of polylines.
fn of_dxf(text: &str, layer: Layer) -> Vec<Point> {
    let lines: Vec<&str> = text.lines().map(str::trim).collect();
    let tags: Vec<(&str, &str)> = lines.chunks(2).map(|t| (t[0], t[1])).collect();
    let mut corners = Vec::new();
    let mut wanted = false;
    let mut kind = "";
    for (i, (code, value)) in tags.iter().enumerate() {
        match *code {
            "0" => (kind, wanted) = (value, false),
            "8" => wanted = *value == layer.name() && matches!(kind, "LINE" | "LWPOLYLINE"),
            "10" | "11" if wanted => corners.push([value.parse().unwrap(), tags[i + 1].1.parse().unwrap()]),
            _ => {}
        }
    }
    corners
}

#[test]
fn all_three_show_the_same_numbers() {
    let mut compared = 0;
    for neck in necks(12) {
        for sheet in sheets(&neck) {
            let (svg, drawing) =
                (sheet.to_svg().unwrap(), dxf(std::slice::from_ref(&sheet), &DxfOptions::default()).unwrap());
            let bytes = as_drawn(&sheet);
            let file = String::from_utf8_lossy(&bytes);
            let content = &file[file.find("stream\n").unwrap()..];
            for layer in straight(&sheet) {
                let exact = of_dxf(&drawing, layer);
                let (a, b) = (of_svg(&svg, &sheet, layer), of_pdf(content, layer));
                assert_eq!(
                    (a.len(), b.len()),
                    (exact.len(), exact.len()),
                    "{} {}",
                    sheet.title,
                    layer.name()
                );
                for ((p, q), r) in exact.iter().zip(&a).zip(&b) {
                    for k in 0..2 {
                        // Four decimals; the SVG's are counted from the other edge.
                        assert!(
                            (p[k] - q[k]).abs() < 5.1e-5 && (p[k] - r[k]).abs() < 5.1e-5,
                            "{p:?} {q:?} {r:?}"
                        );
                    }
                    compared += 1;
                }
            }
        }
    }
    assert!(compared > 10_000, "{compared} corners");
}

#[test]
fn the_drawings_corners_are_the_sheets_to_the_bit() {
    for sheet in sheets(&necks(1)[0]) {
        let text = dxf(std::slice::from_ref(&sheet), &DxfOptions::default()).unwrap();
        for layer in straight(&sheet) {
            let corners: Vec<Point> = sheet.layer(layer).flat_map(|s| s.lines(1)).flatten().collect();
            let read = of_dxf(&text, layer);
            for p in &read {
                assert!(corners.contains(p), "{p:?} on {} of {}", layer.name(), sheet.title);
            }
        }
    }
}

#[test]
fn a_single_drawing_has_the_necks_own_origin() {
    for neck in necks(8) {
        let sheet = plan(&neck);
        let slots = of_dxf(&sheet.to_dxf(&DxfOptions::default()).unwrap(), Layer::FretSlots);
        let frets = neck.frets();
        let ends = frets.iter().flat_map(|f| <[_; 2]>::from(f.slot_ends_mm));
        for (p, end) in slots.iter().zip(ends) {
            let end: (f64, f64) = end;
            assert!((p[0] - end.0).abs() < 1e-9 && (p[1] - end.1).abs() < 1e-9, "{p:?} and {end:?}");
        }
        let inch = DxfOptions { unit: DrawingUnit::Inches, ..DxfOptions::default() };
        let inches = of_dxf(&sheet.to_dxf(&inch).unwrap(), Layer::FretSlots);
        assert_eq!(inches.len(), slots.len());
        for (p, q) in slots.iter().zip(inches) {
            assert!((p[0] - 25.4 * q[0]).abs() < 1e-9 && (p[1] - 25.4 * q[1]).abs() < 1e-9);
        }
    }
}

#[test]
fn the_same_sheets_give_the_same_bytes() {
    let spec = necks(3)[2].normalised().clone();
    let write = || {
        let sheets = sheets(&Neck::new(&spec).unwrap());
        (pdf(&sheets, &PaperOptions::default()).unwrap(), dxf(&sheets, &DxfOptions::default()).unwrap())
    };
    let (first, second) = (write(), write());
    assert!(first == second, "two runs differ");
    // Nothing of the time or of the machine.
    let text = String::from_utf8_lossy(&first.0);
    for word in ["CreationDate", "ModDate", "/ID", "Producer"] {
        assert!(!text.contains(word), "{word}");
    }
}

#[test]
fn options_out_of_their_bounds_are_refused() {
    let odd = DxfOptions { format: 2, ..DxfOptions::default() };
    assert!(dxf(&[], &odd).is_err() && plan(&necks(1)[0]).to_dxf(&odd).is_err());
    assert!(DxfOptions::from_json(r#"{ "unit": "in" }"#).is_ok());
    assert!(DxfOptions::from_json(r#"{ "unit": "furlong" }"#).is_err());
}

#[test]
fn without_a_sheet_a_drawing_is_empty_and_a_pdf_is_none() {
    let drawing = dxf(&[], &DxfOptions::default()).unwrap();
    assert!(drawing.ends_with("EOF\n"));
    let lines: Vec<&str> = drawing.lines().map(str::trim).collect();
    let after = |word: &str| lines.iter().position(|l| *l == word).unwrap();
    assert_eq!(lines[after("ENTITIES") + 1..][..2], ["0", "ENDSEC"]);
    // Where nothing is drawn its room is one point, at nought.
    for corner in ["$EXTMIN", "$EXTMAX"] {
        assert_eq!(lines[after(corner) + 1..][..4], ["10", "0.0", "20", "0.0"]);
    }
    let error = pdf(&[], &PaperOptions::default()).unwrap_err();
    let fault = &error.faults()[0];
    assert_eq!((fault.kind, fault.path.as_str(), fault.lowest), (Kind::Missing, "sheets", Some(1.0)));
}

#[test]
fn a_sheet_with_nothing_on_it_is_an_empty_page() {
    let bare = Sheet { title: "bare".into(), size_mm: [210.0, 297.0], origin_mm: None, items: Vec::new() };
    let svg = bare.to_svg().unwrap();
    let read = roxmltree::Document::parse(&svg).unwrap();
    let drawn = |n: &roxmltree::Node<'_, '_>| ["path", "circle", "text"].contains(&n.tag_name().name());
    assert!(
        !read.descendants().any(|n| drawn(&n)) && read.root_element().attribute("width") == Some("210mm")
    );
    assert!(bare.to_dxf(&DxfOptions::default()).unwrap().ends_with("EOF\n"));
    let file = as_drawn(&bare);
    let text = String::from_utf8_lossy(&file);
    assert_eq!(text.matches("/Type /Page\n").count(), 1);
    assert!(text.contains("/Count 1") && text.ends_with("%%EOF"));
}

//! The SVG of every sheet: full size, well formed, the bars true, nothing told by colour.

mod common;

use common::necks;
use neckwright::measure::Station;
use neckwright::paper::{Layer, Sheet, plan, sections, side};
use neckwright::shape::Neck;

fn sheets(neck: &Neck) -> Vec<Sheet> {
    let heel = neck.heel();
    let at =
        [0.5 * (neck.headstock().tip_x_mm + heel.start_x_mm), 0.0, 1.0, heel.start_x_mm, heel.block_x_mm];
    let stations: Vec<Station> = at.into_iter().map(Station::Mm).collect();
    vec![plan(neck), side(neck), sections(neck, &stations).unwrap()]
}

/// Start and end of a path of one straight line.
fn ends(d: &str) -> Option<[[f64; 2]; 2]> {
    let (from, to) = d.strip_prefix('M')?.split_once('L')?;
    let point = |text: &str| {
        let (x, y) = text.split_once(' ')?;
        Some([x.parse().ok()?, y.parse().ok()?])
    };
    Some([point(from)?, point(to)?])
}

fn group<'a>(doc: &'a roxmltree::Document<'a>, id: &str) -> Option<roxmltree::Node<'a, 'a>> {
    doc.descendants().find(|n| n.attribute("id") == Some(id))
}

#[test]
fn both_bars_are_on_every_sheet_and_true() {
    for neck in necks(40) {
        for sheet in sheets(&neck) {
            let svg = sheet.to_svg().unwrap();
            let doc = roxmltree::Document::parse(&svg).unwrap();
            let bars = group(&doc, "check-bars").unwrap();
            let lengths: Vec<f64> = bars
                .children()
                .filter_map(|n| ends(n.attribute("d")?))
                .filter(|[a, b]| a[1] == b[1])
                .map(|[a, b]| (b[0] - a[0]).abs())
                .collect();
            assert_eq!(lengths.len(), 2, "{}: {lengths:?}", sheet.title);
            // Either end is rounded to four decimals.
            for (length, expected) in lengths.iter().zip([100.0, 101.6]) {
                assert!((length - expected).abs() <= 1.0001e-4, "{}: {length} mm", sheet.title);
            }
            let words: String =
                doc.descendants().filter(|n| n.has_tag_name("text")).filter_map(|n| n.text()).collect();
            assert!(words.contains("100 mm") && words.contains("4 in (101.6 mm)"), "{words}");
            assert!(words.contains("Measure both bars before you cut."), "{words}");
            // The bars are real size: one unit of the view box is a millimetre.
            let root = doc.root_element();
            let [width, height] = ["width", "height"].map(|a| root.attribute(a).unwrap());
            let view = format!("0 0 {} {}", width.trim_end_matches("mm"), height.trim_end_matches("mm"));
            assert!(width.ends_with("mm") && height.ends_with("mm"));
            assert_eq!(root.attribute("viewBox"), Some(view.as_str()));
        }
    }
}

#[test]
fn black_on_white_and_dashes_where_lines_mean_different_things() {
    for neck in necks(10) {
        for sheet in sheets(&neck) {
            let svg = sheet.to_svg().unwrap();
            let doc = roxmltree::Document::parse(&svg).unwrap();
            for node in doc.descendants().filter(|n| n.is_element()) {
                for attribute in ["fill", "stroke", "color", "style", "opacity"] {
                    let colour = node.attribute(attribute);
                    assert!(matches!(colour, None | Some("none" | "#000" | "#fff")), "{colour:?}");
                }
            }
            for (layer, dashes) in [(Layer::Hidden, "3 1.5"), (Layer::Centreline, "9 1.5 1.5 1.5")] {
                let Some(group) = group(&doc, layer.name()) else { continue };
                assert_eq!(group.attribute("stroke-dasharray"), Some(dashes));
            }
        }
    }
}

#[test]
fn numbers_have_four_decimals_at_most() {
    for neck in necks(10) {
        for sheet in sheets(&neck) {
            let svg = sheet.to_svg().unwrap();
            let doc = roxmltree::Document::parse(&svg).unwrap();
            for node in doc.descendants() {
                for attribute in node
                    .attributes()
                    .filter(|a| ["d", "x", "y", "cx", "cy", "r", "viewBox"].contains(&a.name()))
                {
                    for number in
                        attribute.value().split(|c: char| !c.is_ascii_digit() && c != '.' && c != '-')
                    {
                        let decimals = number.split_once('.').map_or(0, |(_, after)| after.len());
                        assert!(decimals <= 4 && number != "-0", "{number} in {}", attribute.value());
                    }
                }
            }
        }
    }
}

#[test]
fn the_same_neck_gives_the_same_bytes() {
    let spec = necks(3)[2].normalised().clone();
    let write = || sheets(&Neck::new(&spec).unwrap()).iter().map(|s| s.to_svg().unwrap()).collect::<Vec<_>>();
    assert_eq!(write(), write());
}

#[test]
fn a_name_with_marks_of_xml_is_written_and_read_back() {
    let name = "<Neck> & \"friends\" 'n' ü 木";
    let json = format!("{{\"name\": {}}}", serde_json_text(name));
    let svg = plan(&Neck::from_json(&json).unwrap()).to_svg().unwrap();
    let doc = roxmltree::Document::parse(&svg).unwrap();
    let found = doc.descendants().filter(|n| n.has_tag_name("text")).any(|n| n.text() == Some(name));
    assert!(found, "the name is not on the sheet");
}

fn serde_json_text(text: &str) -> String {
    format!("\"{}\"", text.replace('\\', "\\\\").replace('"', "\\\""))
}

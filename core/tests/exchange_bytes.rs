//! Files of solids, meshes and drawings are the same bytes on every machine: their sums are held against those that are kept beside this test.
//!
//! `REGENERATE=1 cargo test -p neckwright --test exchange_bytes` writes them anew: changed bytes are a change-log entry.
#![allow(missing_docs)]

mod exchange_common;

use exchange_common::{ball, cuboid};
use neckwright::exchange::{StepOptions, StepProtocol, gltf, step, stl, threemf};
use neckwright::measure::{Length, Station};
use neckwright::paper::{dxf, pdf, sections, templates};
use neckwright::shape::Neck;
use neckwright::spec::{
    DxfOptions, MeshOptions, PaperOptions, PaperSize, SolidOptions, Specification, TemplateOptions,
};
use std::fmt::Write;

const KEPT: &str = concat!(env!("CARGO_MANIFEST_DIR"), "/tests/exchange_bytes.txt");

/// FNV-1a in 64 bits: no library's, so that none can change it.
fn sum(bytes: &[u8]) -> u64 {
    bytes
        .iter()
        .fold(0xcbf2_9ce4_8422_2325, |sum, byte| (sum ^ u64::from(*byte)).wrapping_mul(0x0100_0000_01b3))
}

#[test]
fn files_are_the_same_bytes_everywhere() {
    let mut told = String::new();
    let mut tell = |name: &str, bytes: &[u8]| {
        let _ = writeln!(told, "{name} {:016x} {}", sum(bytes), bytes.len());
    };
    let class = include_str!("../examples/neck_book/evening_class.json");
    let left = class.replacen('{', "{\"hand\": \"left\",", 1);
    for (name, document) in [("class", class), ("left", &left)] {
        let neck = Neck::new(&Specification::from_json(document).unwrap()).unwrap();
        let plain = SolidOptions { slots: false, ..SolidOptions::default() };
        let cubic = SolidOptions { cubic_within: Some(Length::from_mm(0.001)), ..plain.clone() };
        for (kind, options) in [("slots", SolidOptions::default()), ("plain", plain), ("cubic", cubic)] {
            let solids = neck.solids(&options).unwrap();
            let parts = [(&solids.neck_wood, [0.6, 0.3, 0.2]), (&solids.fretboard, [0.2, 0.1, 0.05])];
            for protocol in [StepProtocol::Ap242, StepProtocol::Ap214] {
                let options = StepOptions { protocol };
                tell(
                    &format!("{name} {kind} {protocol:?}.step"),
                    step(name, &parts, &options).unwrap().as_bytes(),
                );
            }
        }
    }
    let neck = Neck::from_json("{}").unwrap();
    let stations: Vec<Station> = [0.0, 5.0, 12.0].map(Station::Fret).into();
    let options = TemplateOptions { offset: Length::from_mm(3.0), strings: true, ..Default::default() };
    let mut sheets = templates(&neck, None, &options).unwrap();
    sheets.push(sections(&neck, &stations).unwrap());
    for (i, sheet) in sheets.iter().enumerate() {
        tell(&format!("sheet {i}.svg"), sheet.to_svg().unwrap().as_bytes());
    }
    tell("sheets.dxf", dxf(&sheets, &DxfOptions::default()).unwrap().as_bytes());
    for paper in [PaperSize::A4, PaperSize::Letter, PaperSize::AsDrawn] {
        let options = PaperOptions { paper, ..PaperOptions::default() };
        tell(&format!("sheets {}.pdf", paper.name()), &pdf(&sheets, &options).unwrap());
    }
    let meshes =
        [cuboid("box", [-10.0, -20.1, -0.3], [300.0, 20.0, 0.7]), ball("ball", [50.0, 0.1, -40.0], 12.3, 20)];
    let meshes = [(&meshes[0], [0.6, 0.3, 0.2]), (&meshes[1], [0.2, 0.1, 0.05])];
    tell("solids.stl", &stl("solids", &meshes).unwrap());
    tell("solids.3mf", &threemf("solids", &meshes).unwrap());
    tell("solids.glb", &gltf("solids", &meshes).unwrap());
    let solids = neck.solids(&SolidOptions::default()).unwrap();
    let options = MeshOptions { chord: Length::from_mm(0.1), ..MeshOptions::default() };
    let meshes = [&solids.neck_wood, &solids.fretboard].map(|solid| solid.mesh(&options).unwrap());
    let meshes = [(&meshes[0], [0.6, 0.3, 0.2]), (&meshes[1], [0.2, 0.1, 0.05])];
    tell("neck.stl", &stl("neck", &meshes).unwrap());
    if std::env::var_os("REGENERATE").is_some() {
        std::fs::write(KEPT, &told).unwrap();
    }
    assert_eq!(told, std::fs::read_to_string(KEPT).unwrap());
}

//! 3MF files (core specification 1.3).

use alloc::format;
use alloc::string::String;
use alloc::vec::Vec;
use core::fmt::Write;

use super::parts::{ColouredMesh, check};
use super::xml::escaped;
use super::zip::zip;
use crate::measure::Error;

const TYPES: &str = "<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n\
    <Types xmlns=\"http://schemas.openxmlformats.org/package/2006/content-types\">\
    <Default Extension=\"rels\" ContentType=\"application/vnd.openxmlformats-package.relationships+xml\"/>\
    <Default Extension=\"model\" ContentType=\"application/vnd.ms-package.3dmanufacturing-3dmodel+xml\"/></Types>\n";

const RELATIONS: &str = "<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n\
    <Relationships xmlns=\"http://schemas.openxmlformats.org/package/2006/relationships\">\
    <Relationship Id=\"model\" Target=\"/3D/3dmodel.model\" \
    Type=\"http://schemas.microsoft.com/3dmanufacturing/2013/01/3dmodel\"/></Relationships>\n";

/// A colour as `#RRGGBB`.
fn hexadecimal(colour: [f64; 3]) -> String {
    let [r, g, b] = colour.map(|c| libm::round(255.0 * c) as u8);
    format!("#{r:02X}{g:02X}{b:02X}")
}

/// A 3MF file of meshes as named, coloured objects, held together in one assembly of the name given. Millimetres in the neck's own
/// frame, each number with the digits that read back the same bits; the same bytes every time.
///
/// A mesh without triangles is left out.
///
/// # Errors
/// - no mesh that has a triangle: many programs refuse a file without one;
/// - a mesh whose lists don't fit each other, or with a number that is none;
/// - a part of a colour outside 0 to 1;
/// - more than 4 GiB.
pub fn threemf(name: &str, meshes: &[ColouredMesh<'_>]) -> Result<Vec<u8>, Error> {
    check(meshes)?;
    let meshes: Vec<_> = meshes.iter().filter(|(mesh, _)| !mesh.triangles.is_empty()).collect();
    let title = escaped(name);
    let mut out = format!(
        "<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n<model unit=\"millimeter\" xml:lang=\"en-US\" \
         xmlns=\"http://schemas.microsoft.com/3dmanufacturing/core/2015/02\">\n\
         <metadata name=\"Title\">{title}</metadata>\n\
         <metadata name=\"Application\">neckwright {}</metadata>\n<resources>\n",
        crate::VERSION
    );
    out.push_str("<basematerials id=\"1\">\n");
    for (mesh, colour) in &meshes {
        let (part, colour) = (escaped(&mesh.name), hexadecimal(*colour));
        let _ = writeln!(out, "<base name=\"{part}\" displaycolor=\"{colour}\"/>");
    }
    out.push_str("</basematerials>\n");
    for (i, (mesh, _)) in meshes.iter().enumerate() {
        let (id, part) = (i + 2, escaped(&mesh.name));
        let _ = write!(
            out,
            "<object id=\"{id}\" type=\"model\" name=\"{part}\" pid=\"1\" pindex=\"{i}\">\n<mesh>\n<vertices>\n"
        );
        let (corners, triangles) = mesh.places()?;
        for [x, y, z] in corners.iter().map(|p| p.map(|c| c + 0.0)) {
            let _ = writeln!(out, "<vertex x=\"{x}\" y=\"{y}\" z=\"{z}\"/>");
        }
        out.push_str("</vertices>\n<triangles>\n");
        for [a, b, c] in triangles.iter().filter(|[a, b, c]| a != b && b != c && c != a) {
            let _ = writeln!(out, "<triangle v1=\"{a}\" v2=\"{b}\" v3=\"{c}\"/>");
        }
        out.push_str("</triangles>\n</mesh>\n</object>\n");
    }
    let whole = meshes.len() + 2;
    let _ = writeln!(out, "<object id=\"{whole}\" type=\"model\" name=\"{title}\">\n<components>");
    for id in 2..whole {
        let _ = writeln!(out, "<component objectid=\"{id}\"/>");
    }
    let _ = write!(
        out,
        "</components>\n</object>\n</resources>\n<build>\n<item objectid=\"{whole}\"/>\n</build>\n</model>\n"
    );
    zip(&[
        ("[Content_Types].xml", TYPES.as_bytes()),
        ("_rels/.rels", RELATIONS.as_bytes()),
        ("3D/3dmodel.model", out.as_bytes()),
    ])
}

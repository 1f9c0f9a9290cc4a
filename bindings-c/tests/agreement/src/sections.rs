//! Sections.

use crate::necks::stations;
use crate::script::{Script, Words};
use neckwright::measure::Error;
use neckwright::shape::{Moments, Neck, Outline, Part, Section, Side};
use serde_json::json;

/// What the header says of moments: of nothing there is no centroid.
fn six(moments: Moments) -> [f64; 6] {
    let none = moments.area_mm2 == 0.0;
    let [y, z] = if none { [f64::NAN; 2] } else { moments.centroid_mm() };
    let [yy, zz, yz] = if none { [0.0; 3] } else { moments.central_mm4() };
    [moments.area_mm2, y, z, yy, zz, yz]
}

fn outline(section: &Section, part: Option<Part>) -> Option<Outline> {
    match part {
        None => Some(section.outline()),
        Some(part) => section.part_outline(part),
    }
}

pub(crate) fn all(out: &mut Script, name: &str, neck: &Neck) {
    let x = stations(neck);
    for (number, part) in
        [(0, None), (1, Some(Part::Fretboard)), (2, Some(Part::NeckWood)), (3, Some(Part::Channel))]
    {
        for x in [&x[..], &x[6..7], &[1e6]] {
            let moments: Result<Vec<[f64; 6]>, Error> = x
                .iter()
                .map(|x| {
                    let section = neck.section(*x)?;
                    Ok(six(part.map_or_else(|| section.moments(), |part| section.part_moments(part))))
                })
                .collect();
            out.call("nw_neck_section_moments").handle("neck", name).reals("x_mm", x).size("count", x.len());
            out.whole("part", number).size("capacity", 6 * x.len());
            out.answer(moments, |out, values| {
                out.gives_reals("moments", values.as_flattened());
            });
        }
        for x_mm in [x[2], x[6], x[10], 1e6] {
            for chord_mm in [0.05, 2.0, -1.0] {
                let corners = neck.section(x_mm).and_then(|section| {
                    outline(&section, part).map_or(Ok(Vec::new()), |outline| outline.polyline(chord_mm))
                });
                out.call("nw_neck_section_polyline_count").handle("neck", name).real("x_mm", x_mm);
                out.whole("part", number).real("chord_mm", chord_mm);
                out.answer(corners.clone(), |out, corners| {
                    out.gives("count_out", Words::default().size(corners.len()));
                });
                out.call("nw_neck_section_polyline").handle("neck", name).real("x_mm", x_mm);
                out.whole("part", number).real("chord_mm", chord_mm);
                out.size("capacity", corners.as_ref().map_or(10, |corners| 2 * corners.len()));
                out.answer(corners, |out, corners| {
                    out.gives_reals("corners_mm", corners.as_flattened());
                });
            }
            out.call("nw_neck_section_outline").handle("neck", name).real("x_mm", x_mm).whole("part", number);
            let told = neck.section(x_mm).map(|section| outline(&section, part));
            out.answer(told, |out, outline| {
                out.tells(&outline);
            });
        }
    }
    for x_mm in [x[2], x[6], x[10], 1e6] {
        out.call("nw_neck_section_bends").handle("neck", name).real("x_mm", x_mm);
        out.answer(neck.section(x_mm), |out, section| {
            out.tells(&json!({ "sharpest": section.sharpest(), "flattest": section.flattest() }));
        });
        for (number, side) in [(0, Side::Bass), (1, Side::Treble)] {
            out.call("nw_neck_section_control_points").handle("neck", name).real("x_mm", x_mm);
            out.whole("side", number).size("capacity", 8);
            out.answer(neck.section(x_mm), |out, section| {
                let points = section.control_points_mm(side).expect("the wood reaches there");
                out.gives_reals("control_points_mm", points.as_flattened());
            });
        }
    }
}

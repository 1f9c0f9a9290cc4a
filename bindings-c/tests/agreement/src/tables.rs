//! Measures, tables, schemas, and what is said of codes and versions.

use crate::script::{Script, Words};
use neckwright::inspect::Readings;
use neckwright::layout::{Temperament, fret_positions_into, try_sagitta_mm, usual_gauges_mm};
use neckwright::measure::{Angle, Kind, Length};
use neckwright::shape::{density_kg_m3, fullness, known_species, scarf};
use neckwright::spec::{
    BoundRow, CloudOptions, CopyOptions, DxfOptions, InspectionOptions, MendLimits, MeshOptions,
    PaperOptions, Shape, SolidOptions, Specification, Stock, TemplateOptions,
};
use serde_json::{Value, json};

pub(crate) fn all(out: &mut Script) {
    out.plain("nw_version", None, env!("CARGO_PKG_VERSION"));
    out.plain("nw_core_version", None, neckwright::VERSION);
    for kind in Kind::ALL {
        out.plain("nw_code_name", Some(kind.code()), kind.name());
    }
    out.plain("nw_code_name", Some(0), "ok");
    out.plain("nw_code_name", Some(999_999), "unknown");
    measures(out);
    positions(out);
    woods_and_shapes(out);
    for (subject, schema) in [Specification::schema(), Stock::schema(), Readings::schema()].iter().enumerate()
    {
        out.call("nw_schema").size("subject", subject).tells(schema);
    }
    for (subject, rows) in [
        (0, Specification::bounds()),
        (1, Stock::bounds()),
        (3, SolidOptions::bounds()),
        (4, MeshOptions::bounds()),
        (5, TemplateOptions::bounds()),
        (6, PaperOptions::bounds()),
        (7, DxfOptions::bounds()),
        (8, InspectionOptions::bounds()),
        (9, MendLimits::bounds()),
        (10, CopyOptions::bounds()),
        (11, CloudOptions::bounds()),
    ] {
        out.call("nw_bounds").size("subject", subject).tells(&rows.iter().map(row).collect::<Vec<_>>());
    }
}

fn row(row: &BoundRow) -> Value {
    json!({
        "path": row.path,
        "takes": row.takes,
        "unit": row.unit,
        "lowest": row.lowest,
        "highest": row.highest,
        "default": row.default,
        "why": row.why,
        "doc": row.doc,
    })
}

fn measures(out: &mut Script) {
    for text in ["43", "4.3 cm", "1 11/16 in", "1-11/16\"", "", "long", "1e400"] {
        out.call("nw_length_mm").text_of("text", text);
        out.answer(Length::parse(text), |out, length| {
            out.gives_reals("length_mm_out", &[length.mm()]);
        });
    }
    for text in ["12.5", "1 in 6", "9°", "wide"] {
        out.call("nw_angle_deg").text_of("text", text);
        out.answer(Angle::parse(text), |out, angle| {
            out.gives_reals("angle_deg_out", &[angle.deg()]);
        });
    }
    for length_mm in [43.0, 42.8625, 0.1, -7.0, f64::NAN, -1e9] {
        for (number, round) in (0..).zip([Length::nearest_64th, Length::ceil_64th, Length::floor_64th]) {
            out.call("nw_sixtyfourths").real("length_mm", length_mm).whole("rounding", number);
            out.answer(Length::try_from_mm(length_mm).map(round), |out, rounded| {
                out.tells(&json!({
                    "text": rounded.to_string(),
                    "mm": rounded.length().mm(),
                    "error_mm": rounded.error_mm(),
                }));
            });
        }
    }
    for (radius_mm, y_mm) in [
        (305.0, 20.0),
        (184.15, -21.5),
        (12.0, 12.0),
        (f64::INFINITY, 9.0),
        (-305.0, 20.0),
        (305.0, f64::NAN),
    ] {
        out.call("nw_sagitta_mm").real("radius_mm", radius_mm).real("y_mm", y_mm);
        let sagitta = try_sagitta_mm(radius_mm, y_mm);
        out.answer(sagitta, |out, sagitta| {
            out.gives_reals("sagitta_mm_out", &[sagitta]);
        });
    }
    for (angle_deg, stock_mm) in [(12.0, 20.0), (0.5, 20.0), (12.0, 500.0), (f64::NAN, -1.0)] {
        out.call("nw_scarf").real("angle_deg", angle_deg).real("stock_mm", stock_mm);
        out.answer(scarf(angle_deg, stock_mm), |out, scarf| {
            out.tells(&scarf);
        });
    }
    for count in [0, 1, 6, 12, 13] {
        out.call("nw_usual_gauges_mm").whole("count", count).whole("capacity", count.min(12));
        out.answer(usual_gauges_mm(count), |out, gauges| {
            out.gives_reals("gauges_mm", gauges);
        });
    }
}

fn positions(out: &mut Script) {
    for (scale_mm, frets, divisions) in [(640.0, 24, 12), (863.6, 30, 19), (640.0, 1, 0), (-1.0, 2, 12)] {
        let mut positions_mm = vec![0.0; frets as usize];
        let done = fret_positions_into(scale_mm, divisions, &mut positions_mm);
        out.call("nw_fret_positions_mm").real("scale_mm", scale_mm).whole("fret_count", frets);
        out.whole("divisions", divisions).whole("capacity", frets);
        out.answer(done, |out, ()| {
            out.gives_reals("positions_mm", &positions_mm);
        });
        for grid_mm in [0.5, 25.4 / 64.0, 1e3] {
            out.call("nw_rounded_positions").real("scale_mm", scale_mm).whole("fret_count", frets);
            out.whole("divisions", divisions).real("grid_mm", grid_mm);
            let rounded = Temperament::equal(divisions).and_then(|t| t.rounded(scale_mm, frets, grid_mm));
            out.answer(rounded, |out, rounded| {
                out.tells(&rounded);
            });
        }
    }
    let cents: &[f64] =
        &[90.0, 204.0, 294.0, 408.0, 498.0, 612.0, 702.0, 792.0, 906.0, 996.0, 1110.0, 1200.0];
    let ratios: &[f64] =
        &[16.0 / 15.0, 9.0 / 8.0, 6.0 / 5.0, 5.0 / 4.0, 4.0 / 3.0, 1.5, 1.6, 5.0 / 3.0, 1.875, 2.0];
    for (steps, of, made) in [
        (cents, "cents", Temperament::from_cents(cents)),
        (ratios, "ratios", Temperament::from_ratios(ratios)),
        (&[], "cents", Temperament::from_cents(&[])),
        (&[-1.0], "ratios", Temperament::from_ratios(&[-1.0])),
    ] {
        out.call(&format!("nw_fret_positions_of_{of}_mm")).reals(of, steps).size("count", steps.len());
        out.real("scale_mm", 640.0).whole("fret_count", 17).size("capacity", 17);
        let positions = made.and_then(|temperament| temperament.positions_mm(640.0, 17));
        out.answer(positions, |out, all| {
            out.gives_reals("positions_mm", &all);
        });
    }
}

fn woods_and_shapes(out: &mut Script) {
    let woods =
        known_species().map(|species| json!({ "species": species, "density_kg_m3": density_kg_m3(species) }));
    out.call("nw_known_woods").tells(&woods.collect::<Vec<_>>());
    let shapes = Shape::ALL.iter().map(|shape| {
        let of = fullness(*shape);
        json!({ "shape": shape, "shoulder": of.shoulder, "belly": of.belly, "lean": of.lean })
    });
    out.call("nw_known_shapes").tells(&shapes.collect::<Vec<_>>());
}

/// Words of 4 bytes, for the readers of documents.
pub(crate) fn whole(number: u32) -> Words {
    Words::default().whole(number)
}

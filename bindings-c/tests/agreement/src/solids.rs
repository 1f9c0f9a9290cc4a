//! Solids, their meshes, and the files of both.

use crate::necks::stations;
use crate::script::{Script, Words};
use neckwright::exchange::{StepOptions, StepProtocol, gltf, step, stl, threemf};
use neckwright::shape::Neck;
use neckwright::solid::{Curve, Edge, Face, Knots, Mesh, Solid, SplineCurve, SplineSurface, Surface, Trace};
use neckwright::spec::{MeshOptions, SolidOptions};

/// The colours that C takes where none are given: the library for C says so of files.
const USUAL: [[f64; 3]; 2] = [[0.72, 0.45, 0.28], [0.25, 0.16, 0.11]];
const OTHER: [[f64; 3]; 2] = [[0.5, 0.25, 0.125], [0.75, 0.0, 1.0]];
const NONE: [[f64; 3]; 2] = [[0.5, f64::NAN, 0.125], [0.75, 0.0, 255.0]];

pub(crate) fn of_neck(out: &mut Script, name: &str, neck: &Neck) {
    let cubic = r#"{"slots": false, "cubic_within": 0.001}"#;
    for (as_json, json) in [("solids", "{}"), ("solids.cubic", cubic), ("none", r#"{"slot": 1}"#)] {
        let handle = format!("{name}.{as_json}");
        out.call("nw_neck_solids").handle("neck", name).text_of("options_json", json);
        let made = SolidOptions::from_json(json).and_then(|options| neck.solids(&options));
        out.answer(made, |out, made| {
            out.keeps("solids_out", &handle);
            let made = [made.neck_wood, made.fretboard];
            all(out, &handle, &made);
            files(out, &handle, &made);
            if json == "{}" {
                meshes(out, &handle, &made);
            }
        });
    }
    grid(out, name, neck);
}

/// Every number of every solid.
pub(crate) fn all(out: &mut Script, handle: &str, solids: &[Solid]) {
    out.call("nw_solids_count")
        .handle("solids", handle)
        .gives("count_out", Words::default().size(solids.len()));
    for (i, solid) in solids.iter().enumerate() {
        let begin = |out: &mut Script, function: &str| {
            out.call(function).handle("solids", handle).size("solid", i);
        };
        begin(out, "nw_solid_name");
        out.says("name_out", &solid.name);
        begin(out, "nw_solid_counts");
        let counts = [solid.vertices.len(), solid.edges.len(), solid.faces.len()];
        out.gives("counts_out", counts.into_iter().fold(Words::default(), Words::size));
        begin(out, "nw_solid_vertices");
        let vertices = solid.vertices.as_flattened();
        out.size("capacity", vertices.len()).gives_reals("vertices_mm", vertices);
        for (k, edge) in solid.edges.iter().enumerate() {
            begin(out, "nw_solid_edge");
            out.size("edge", k).gives("edge_out", edge_words(edge));
            if let Curve::Spline(spline) = &edge.curve {
                begin(out, "nw_solid_edge_spline");
                edge_spline(out.size("edge", k), spline);
            }
        }
        for (k, face) in solid.faces.iter().enumerate() {
            begin(out, "nw_solid_face");
            out.size("face", k).gives("face_out", face_words(face));
            begin(out, "nw_solid_face_loops");
            loops(out.size("face", k), face);
            if let Surface::Spline(spline) = &face.surface {
                for (direction, knots) in (0..).zip(&spline.knots) {
                    begin(out, "nw_solid_face_knots");
                    out.size("face", k)
                        .whole("direction", direction)
                        .size("knots_capacity", knots.values.len());
                    knots_of(out, knots);
                }
                begin(out, "nw_solid_face_poles");
                face_poles(out.size("face", k), spline);
            }
            for (t, trace) in face.traces.iter().enumerate() {
                begin(out, "nw_solid_face_trace");
                out.size("face", k).size("trace", t).gives("trace_out", trace_words(trace));
                begin(out, "nw_solid_face_trace_spline");
                out.size("face", k).size("trace", t).size("knots_capacity", trace.knots.values.len());
                knots_of(out, &trace.knots);
                out.size("poles_capacity", trace.poles.len())
                    .gives_reals("poles", trace.poles.as_flattened());
            }
        }
    }
}

fn knots_of(out: &mut Script, knots: &Knots) {
    out.gives_reals("knots", &knots.values);
    let times = knots.multiplicities.iter().fold(Words::default(), |words, times| words.whole(*times as u32));
    out.gives("multiplicities", times);
}

fn edge_spline(out: &mut Script, spline: &SplineCurve) {
    out.size("knots_capacity", spline.knots.values.len()).size("poles_capacity", spline.poles.len());
    knots_of(out, &spline.knots);
    out.gives_reals("poles_mm", spline.poles.as_flattened());
    let weights = spline.weights.clone().unwrap_or_else(|| vec![1.0; spline.poles.len()]);
    out.gives_reals("weights", &weights);
}

fn face_poles(out: &mut Script, spline: &SplineSurface) {
    let poles = spline.poles.concat();
    out.size("poles_capacity", poles.len()).gives_reals("poles_mm", poles.as_flattened());
    match &spline.weights {
        Some(weights) => out.gives_reals("weights", &weights.concat()),
        None => out.null("weights"),
    };
}

fn loops(out: &mut Script, face: &Face) {
    let steps: Vec<_> = face.loops.iter().flatten().collect();
    out.size("loops_capacity", face.loops.len()).size("steps_capacity", steps.len());
    out.gives("sizes", face.loops.iter().fold(Words::default(), |words, steps| words.size(steps.len())));
    out.gives("edges", steps.iter().fold(Words::default(), |words, step| words.size(step.edge)));
    out.gives(
        "forward",
        steps.iter().fold(Words::default(), |words, step| words.byte(u8::from(step.forward))),
    );
}

/// The members of an `NwEdge`, in order.
fn edge_words(edge: &Edge) -> Words {
    let begin = |curve: u32| Words::default().size(edge.ends[0]).size(edge.ends[1]).whole(curve);
    let no_spline = |words: Words| words.whole(0).size(0).size(0).whole(0).whole(0).real(edge.within_mm);
    match &edge.curve {
        Curve::Line => no_spline(begin(0)).reals(&[0.0; 7]),
        Curve::Arc { centre, axis, radius_mm } => {
            no_spline(begin(1)).reals(centre).reals(axis).real(*radius_mm)
        }
        Curve::Spline(spline) => begin(2)
            .whole(spline.knots.degree as u32)
            .size(spline.knots.values.len())
            .size(spline.poles.len())
            .whole(u32::from(spline.weights.is_some()))
            .whole(0)
            .real(edge.within_mm)
            .reals(&[0.0; 7]),
    }
}

/// The members of an `NwFace`, in order.
fn face_words(face: &Face) -> Words {
    let steps = face.loops.iter().flatten().count();
    let begin = |surface: u32| {
        let words = Words::default().whole(surface).whole(u32::from(face.outward));
        words.size(face.loops.len()).size(steps).size(face.traces.len())
    };
    let no_spline = |words: Words| words.whole(0).whole(0).size(0).size(0).size(0).size(0).whole(0).whole(0);
    match &face.surface {
        Surface::Plane { point, normal, along } => {
            no_spline(begin(0).reals(point).reals(normal).reals(along).real(0.0))
        }
        Surface::Cylinder { point, axis, across, radius_mm } => {
            no_spline(begin(1).reals(point).reals(axis).reals(across).real(*radius_mm))
        }
        Surface::Spline(spline) => {
            let [along, around] = &spline.knots;
            let words = begin(2).reals(&[0.0; 10]).whole(along.degree as u32).whole(around.degree as u32);
            let words = words.size(along.values.len()).size(around.values.len());
            let words = words.size(spline.poles.len()).size(spline.poles[0].len());
            words.whole(u32::from(spline.weights.is_some())).whole(0)
        }
    }
}

/// The members of an `NwTrace`, in order.
fn trace_words(trace: &Trace) -> Words {
    let words = Words::default().size(trace.edge).whole(trace.knots.degree as u32).whole(0);
    words.size(trace.knots.values.len()).size(trace.poles.len())
}

fn given_colours(out: &mut Script, colours: Option<&[[f64; 3]; 2]>) {
    match colours {
        Some(colours) => out.reals("colours", colours.as_flattened()).size("colour_count", 2),
        None => out.null("colours").size("colour_count", 0),
    };
}

fn files(out: &mut Script, handle: &str, solids: &[Solid; 2]) {
    for (number, protocol, colours) in [
        (0, StepProtocol::Ap242, None),
        (1, StepProtocol::Ap214, Some(&OTHER)),
        (0, StepProtocol::Ap242, Some(&NONE)),
    ] {
        out.call("nw_solids_step").handle("solids", handle).text_of("name", handle).whole("protocol", number);
        given_colours(out, colours);
        let coloured: Vec<_> = solids.iter().zip(*colours.unwrap_or(&USUAL)).collect();
        let made = step(handle, &coloured, &StepOptions { protocol });
        out.answer(made, |out, text| {
            out.file(text.as_bytes());
        });
    }
}

fn meshes(out: &mut Script, handle: &str, solids: &[Solid; 2]) {
    let names = [0, 1].map(|i| format!("{handle}.mesh.{i}"));
    let json = r#"{"chord": 0.4}"#;
    let options = MeshOptions::from_json(json).expect("options");
    let mut made = Vec::new();
    for (i, solid) in solids.iter().enumerate() {
        out.call("nw_solid_mesh").handle("solids", handle).size("solid", i).text_of("options_json", json);
        let mesh = solid.mesh(&options).unwrap_or_else(|e| panic!("{handle}: {e}"));
        out.keeps("mesh_out", &names[i]);
        numbers(out, &names[i], &mesh);
        made.push(mesh);
    }
    let bad = r#"{"chord": -1}"#;
    out.call("nw_solid_mesh").handle("solids", handle).size("solid", 0).text_of("options_json", bad);
    out.answer(MeshOptions::from_json(bad), |_, _| unreachable!("no chord is negative"));
    for colours in [None, Some(&OTHER), Some(&NONE)] {
        let coloured: Vec<_> = made.iter().zip(*colours.unwrap_or(&USUAL)).collect();
        for (function, file) in [
            ("nw_meshes_stl", stl(handle, &coloured)),
            ("nw_meshes_threemf", threemf(handle, &coloured)),
            ("nw_meshes_gltf", gltf(handle, &coloured)),
        ] {
            out.call(function).handles("meshes", &names).size("count", 2).text_of("name", handle);
            given_colours(out, colours);
            out.answer(file, |out, bytes| {
                out.file(&bytes);
            });
        }
    }
}

fn numbers(out: &mut Script, handle: &str, mesh: &Mesh) {
    let count = mesh.positions_mm.len();
    let counts = Words::default().size(count).size(mesh.triangles.len()).real(mesh.chord_mm);
    out.call("nw_mesh_counts").handle("mesh", handle).gives("counts_out", counts);
    let lists = [
        ("positions_mm", mesh.positions_mm.as_flattened()),
        ("normals", mesh.normals.as_flattened()),
        ("station_girth", mesh.station_girth.as_flattened()),
    ];
    out.call("nw_mesh_vertices").handle("mesh", handle).size("vertices_capacity", count);
    for (name, list) in lists {
        out.gives_reals(name, list);
    }
    out.call("nw_mesh_vertices_f32").handle("mesh", handle).size("vertices_capacity", count);
    for (name, list) in lists {
        let singles: Vec<f32> = list.iter().map(|value| *value as f32).collect();
        out.gives(name, Words::default().singles(&singles));
    }
    out.call("nw_mesh_triangles").handle("mesh", handle).size("capacity", 3 * mesh.triangles.len());
    out.gives(
        "indices",
        mesh.triangles.as_flattened().iter().fold(Words::default(), |words, i| words.whole(*i)),
    );
    out.call("nw_mesh_same_place").handle("mesh", handle).size("capacity", count);
    out.gives("first", mesh.same_place.iter().fold(Words::default(), |words, i| words.whole(*i)));
}

fn grid(out: &mut Script, name: &str, neck: &Neck) {
    let [from, to] = neck.wood_reach_mm();
    let on_wood: Vec<f64> = stations(neck).into_iter().filter(|x| (from..=to).contains(x)).collect();
    for (x, columns) in
        [(&on_wood[..], 7), (&on_wood[3..4], 2), (&[1e6], 4), (&on_wood[..2], 1), (&on_wood[..2], 0)]
    {
        let size = 3 * columns * x.len();
        let (mut positions, mut normals) = (vec![0.0; size], vec![0.0; size]);
        let (mut singles, mut single_normals) = (vec![0.0_f32; size], vec![0.0_f32; size]);
        for function in ["nw_neck_back_grid", "nw_neck_back_grid_f32"] {
            out.call(function).handle("neck", name).reals("x_mm", x).size("count", x.len());
            out.size("columns", columns).size("points_capacity", columns * x.len());
            if function.ends_with("f32") {
                let done = neck.back_grid_into(x, columns, &mut singles, &mut single_normals);
                out.answer(done, |out, ()| {
                    out.gives("positions_mm", Words::default().singles(&singles));
                    out.gives("normals", Words::default().singles(&single_normals));
                });
            } else {
                let done = neck.back_grid_into(x, columns, &mut positions, &mut normals);
                out.answer(done, |out, ()| {
                    out.gives_reals("positions_mm", &positions).gives_reals("normals", &normals);
                });
            }
        }
    }
}

//! What is read off a neck along its length, and what is told of it as a whole.

use crate::script::{Script, Words};
use neckwright::layout::Layout;
use neckwright::measure::{Error, Fault, Kind, Station};
use neckwright::shape::{Neck, Side};
use serde::Serialize;
use serde_json::json;

/// From one end to the other, both among them.
pub(crate) fn stations(neck: &Neck) -> Vec<f64> {
    let [from, to] = neck.reach_mm();
    let inner = (1..16).map(|i| from + (to - from) * f64::from(i) / 16.0);
    [from].into_iter().chain(inner).chain([0.0, to]).collect()
}

/// Numbers at stations or frets: many at once, one alone, and what is refused.
fn along(
    out: &mut Script,
    neck: &str,
    function: &str,
    [argument, result]: [&str; 2],
    more: &[(&str, u32)],
    given: &[f64],
    each: impl Fn(&[f64]) -> Result<Vec<f64>, Error>,
) {
    let one = &given[given.len() / 2..=given.len() / 2];
    for given in [given, one, &[], &[1e6], &[f64::NAN], &[0.0, -1e6, 1e7]] {
        out.call(function).handle("neck", neck).reals(argument, given).size("count", given.len());
        for (name, number) in more {
            out.whole(name, *number);
        }
        out.answer(each(given), |out, values| {
            out.gives_reals(result, &values);
        });
    }
}

/// A function of the core that fills a buffer.
fn filled(x: &[f64], fill: impl FnOnce(&[f64], &mut [f64]) -> Result<(), Error>) -> Result<Vec<f64>, Error> {
    let mut values = vec![0.0; x.len()];
    fill(x, &mut values)?;
    Ok(values)
}

fn one_by_one(x: &[f64], f: impl Fn(f64) -> Result<f64, Error>) -> Result<Vec<f64>, Error> {
    x.iter().map(|x| f(*x)).collect()
}

fn told(out: &mut Script, neck: &str, function: &str, told: &impl Serialize) {
    out.call(function).handle("neck", neck).tells(told);
}

pub(crate) fn all(out: &mut Script, name: &str, neck: &Neck) {
    let x = stations(neck);
    let names = |result| ["x_mm", result];
    along(out, name, "nw_neck_thickness_mm", names("thickness_mm"), &[], &x, |x| {
        filled(x, |x, out| neck.thickness_mm_into(x, out))
    });
    along(out, name, "nw_neck_width_mm", names("width_mm"), &[], &x, |x| {
        filled(x, |x, out| neck.width_mm_into(x, out))
    });
    along(out, name, "nw_neck_girth_mm", names("girth_mm"), &[], &x, |x| {
        filled(x, |x, out| neck.girth_mm_into(x, out))
    });
    along(out, name, "nw_neck_rod_wall_mm", names("rod_wall_mm"), &[], &x, |x| {
        filled(x, |x, out| neck.rod_wall_mm_into(x, out))
    });
    for (number, side) in [(0, Side::Bass), (1, Side::Treble)] {
        along(out, name, "nw_neck_carve_line_mm", names("carve_line_mm"), &[("side", number)], &x, |x| {
            filled(x, |x, out| neck.carve_line_mm_into(x, side, out))
        });
    }
    let frets: Vec<f64> = (0..9).map(|n| 2.75 * f64::from(n)).collect();
    along(out, name, "nw_neck_station_mm", ["fret", "x_mm"], &[], &frets, |frets| {
        one_by_one(frets, |fret| neck.station_mm(fret))
    });
    let on_strings: Vec<f64> = frets.iter().map(|fret| neck.station_mm(*fret).expect("a fret")).collect();
    along(out, name, "nw_neck_fret_at", names("fret"), &[], &on_strings, |x| {
        one_by_one(x, |x| neck.fret_at(x))
    });
    of_strings(out, name, neck.layout(), &on_strings);
    told(out, name, "nw_neck_specification", neck.normalised());
    told(out, name, "nw_neck_caliper_card", &neck.caliper_card());
    told(out, name, "nw_neck_frets", &neck.frets());
    told(out, name, "nw_neck_strings", &neck.strings());
    told(out, name, "nw_neck_string_paths", &neck.string_paths());
    let markers = json!({ "face": neck.layout().face_markers(), "side": neck.side_markers() });
    told(out, name, "nw_neck_markers", &markers);
    let reach = json!({ "neck_mm": neck.reach_mm(), "wood_mm": neck.wood_reach_mm(), "shaft_mm": neck.shaft_reach_mm() });
    told(out, name, "nw_neck_reach", &reach);
    told(out, name, "nw_neck_headstock", &neck.headstock());
    told(out, name, "nw_neck_volute", &neck.volute());
    told(out, name, "nw_neck_heel", &neck.heel());
    told(out, name, "nw_neck_rod_cuts", &neck.rod_cuts());
    told(out, name, "nw_neck_volume", &neck.volume_mm3());
    told(out, name, "nw_neck_mass", &neck.mass_kg());
    told(out, name, "nw_neck_bounds", &neck.bounds());
    told(out, name, "nw_neck_joints", &neck.joints());
    told(out, name, "nw_neck_least_thickness", &neck.least_thickness());
    told(out, name, "nw_neck_least_rod_wall", &neck.least_rod_wall());
    told(out, name, "nw_neck_least_curvature", &neck.least_curvature());
    told(out, name, "nw_neck_least_margin", &neck.layout().least_margin());
    told(out, name, "nw_neck_warnings", &neck.warnings());
    told(out, name, "nw_neck_layout", &layout(neck.layout()));
}

fn layout(layout: &Layout) -> serde_json::Value {
    let board = layout.board();
    let radius = board.crown().law();
    json!({
        "board": {
            "start_mm": board.start_mm(),
            "end_mm": board.end_mm(),
            "nut_ends_mm": board.nut_ends_mm(),
            "thickness_mm": board.thickness_mm(),
            "binding_mm": board.binding_mm(),
            "widths_mm": board.widths_mm(),
            "radius_at_nut_mm": radius.map(|(at_nut, _)| at_nut),
            "radius_growth": radius.map(|(_, growth)| growth),
            "least_edge_thickness_mm": board.least_edge_thickness_mm().0,
            "least_edge_thickness_at_mm": board.least_edge_thickness_mm().1,
        },
        "scale_mm": layout.scale_mm(),
        "nut_line": layout.nut_line(),
        "bridge_line": layout.bridge_line(),
        "total_wire_mm": layout.total_wire_mm(),
        "string_departures_cents": layout.string_departures_cents(),
        "humps": layout.humps(),
    })
}

fn of_strings(out: &mut Script, name: &str, layout: &Layout, x: &[f64]) {
    for string in [0, 3, 99] {
        for (function, result) in
            [("nw_neck_string_spacing_mm", "spacing_mm"), ("nw_neck_string_gap_mm", "gap_mm")]
        {
            let answer = one_by_one(x, |x| match result {
                "gap_mm" => layout.gap_mm(string, x),
                _ => layout.spacing_mm(string, x),
            });
            out.call(function)
                .handle("neck", name)
                .size("string", string)
                .reals("x_mm", x)
                .size("count", x.len());
            out.answer(answer, |out, values| {
                out.gives_reals(result, &values);
            });
        }
        out.call("nw_neck_hump").handle("neck", name).size("string", string);
        out.real("from_mm", 10.0).real("to_mm", 300.0);
        out.answer(layout.hump(string, 10.0, 300.0), |out, hump| {
            out.tells(&hump);
        });
    }
    for x in [x, &[f64::NAN], &[-50.0], &[0.0, 1e3]] {
        let margins: Result<Vec<[f64; 2]>, Error> =
            x.iter().map(|x| layout.try_margins_mm(*x).map(<[f64; 2]>::from)).collect();
        out.call("nw_neck_margins_mm").handle("neck", name).reals("x_mm", x).size("count", x.len());
        out.size("capacity", 2 * x.len());
        out.answer(margins, |out, margins| {
            out.gives_reals("margins_mm", margins.as_flattened());
        });
    }
    for station in ["fret 5", "4 in", "nut", "120.5", "freet 5", "fret 900"] {
        out.call("nw_neck_station_of_text_mm").handle("neck", name).text_of("station", station);
        let at = Station::parse(station).and_then(|station| layout.station_mm(&station));
        out.answer(at, |out, x| {
            out.gives_reals("x_mm_out", &[x]);
        });
    }
}

pub(crate) fn compared(out: &mut Script, one: (&str, &str), other: (&str, &str)) {
    let [a, b] = [one, other].map(|(_, json)| Neck::from_json(json).expect("a neck"));
    let mut pair = |this: (&str, &Neck), that: (&str, &Neck)| {
        out.call("nw_neck_compare")
            .handle("neck", this.0)
            .handle("other", that.0)
            .tells(&this.1.compare(that.1));
        for tolerance_mm in [0.0, 0.5, 1e3] {
            out.call("nw_neck_within").handle("neck", this.0).handle("other", that.0);
            let within = this.1.within(that.1, tolerance_mm);
            out.real("tolerance_mm", tolerance_mm)
                .gives("within_out", Words::default().whole(u32::from(within)));
        }
    };
    pair((one.0, &a), (other.0, &b));
    pair((other.0, &b), (one.0, &a));
    pair((one.0, &a), (one.0, &a));
    for json in
        ["{", r#"{"nut": {"widht": 43, "thickness": 1e9}, "name": "a\u0000b", "scale": {"length": "long"}}"#]
    {
        out.call("nw_neck_from_json").text_of("json", json);
        out.answer(Neck::from_json(json), |out, _| {
            out.keeps("neck_out", "none");
        });
    }
    // More faults than an error keeps.
    let many: Vec<String> = (0..130).map(|i| format!(r#""key {i}": 1"#)).collect();
    let many = format!("{{{}}}", many.join(","));
    let error = Neck::from_json(&many).err().unwrap_or_else(|| Fault::new(Kind::Syntax, "", "").into());
    out.call("nw_neck_from_json").text_of("json", &many).fails(&error);
}

//! `numbers.csv`: headstock, volute, heel, strings, stock, weight, guaranteed least values and warnings, one to a line.

use neckwright::shape::{LeastValue, Neck};
use neckwright::spec::HeadstockKind;

use crate::csv::{field, number};

/// Lines of `part,what,value,unit,remark`.
struct Lines(String);

impl Lines {
    fn say(&mut self, part: &str, what: &str, value: &str, unit: &str, remark: &str) {
        self.0 += &[part, what, value, unit, remark].map(field).join(",");
        self.0.push('\n');
    }

    fn mm(&mut self, part: &str, what: &str, value: f64, remark: &str) {
        self.say(part, what, &number(value), "mm", remark);
    }
}

const STATION: &str = "from the nut along the centreline; negative on the headstock";
const CROWN: &str = "below the board's crown line";

pub fn csv(neck: &Neck) -> String {
    let mut lines = Lines("part,what,value,unit,remark\n".into());
    headstock(&mut lines, neck);
    volute_and_heel(&mut lines, neck);
    strings(&mut lines, neck);
    stock(&mut lines, neck);
    least(&mut lines, neck);
    for warning in neck.warnings() {
        lines.say("warning", &warning.path, "", "", &warning.message);
    }
    lines.0
}

fn headstock(lines: &mut Lines, neck: &Neck) {
    let head = neck.headstock();
    let part = "headstock";
    let kind = if head.kind == HeadstockKind::Angled { "angled" } else { "level" };
    lines.say(part, "kind", kind, "", "");
    lines.say(part, "angle", &number(head.angle_deg), "deg", "between its face and the board");
    lines.mm(part, "length", head.length_mm, "along its face from the nut's headstock side");
    lines.mm(part, "thickness", head.thickness_mm, "square to its face");
    lines.mm(part, "root", head.root_x_mm, STATION);
    lines.mm(part, "tip", head.tip_x_mm, STATION);
    lines.mm(part, "width at the tip", head.tip_width_mm, "");
    lines.mm(part, "face at the tip", head.tip_face_depth_mm, CROWN);
    lines.mm(part, "back at the tip", head.tip_back_depth_mm, CROWN);
    for (i, post) in head.posts.iter().enumerate() {
        let part = format!("tuner post {}", i + 1);
        lines.mm(&part, "along the face", post.along_mm, "from the nut's headstock side");
        lines.mm(&part, "y", post.y_mm, "from the centreline, as seen on this neck");
        lines.mm(&part, "x", post.x_mm, STATION);
    }
}

fn volute_and_heel(lines: &mut Lines, neck: &Neck) {
    let (volute, heel) = (neck.volute(), neck.heel());
    let part = "volute";
    lines.mm(part, "height", volute.height_mm, "above the line of the shaft; 0 without a volute");
    lines.mm(part, "tip", volute.tip_x_mm, STATION);
    lines.mm(part, "depth of the tip", volute.tip_depth_mm, CROWN);
    lines.mm(part, "begins", volute.start_x_mm, STATION);
    lines.mm(part, "ends", volute.end_x_mm, STATION);
    let part = "heel";
    lines.mm(part, "begins", heel.start_x_mm, STATION);
    lines.mm(part, "block begins", heel.block_x_mm, STATION);
    lines.mm(part, "ends", heel.end_x_mm, STATION);
    lines.mm(part, "depth of the block", heel.block_depth_mm, CROWN);
    lines.mm(part, "width at the end", heel.end_width_mm, "");
    lines.mm(
        part,
        "glued or bolted from",
        heel.glued_from_x_mm,
        "nothing may be taken off from there to its end",
    );
    if let Some(radius) = heel.least_sweep_radius_mm {
        lines.mm(part, "least radius of the sweep", radius, "proven: the spine is bent nowhere tighter");
    }
}

fn strings(lines: &mut Lines, neck: &Neck) {
    for (i, path) in neck.string_paths().iter().enumerate() {
        let part = format!("string {}", i + 1);
        let degrees = [
            ("turn down at the nut", path.vertical_deg),
            ("turn aside at the nut", path.sideways_deg),
            ("whole turn at the nut", path.total_deg),
        ];
        for (what, value) in degrees {
            lines.say(&part, what, &number(value), "deg", "");
        }
        lines.mm(&part, "from nut to post", path.free_length_mm, "");
        let force = number(path.nut_force_per_newton);
        lines.say(
            &part,
            "force on the nut",
            &force,
            "N/N",
            "for each newton of tension; friction not counted",
        );
    }
}

fn stock(lines: &mut Lines, neck: &Neck) {
    let joints = neck.joints();
    let part = "stock";
    lines.mm(
        part,
        "one piece",
        joints.one_piece_stock_mm,
        "thickness below the board, nothing added for the saw",
    );
    lines.mm(part, "shaft and heel", joints.heel_stock_mm, "thickness where only the headstock is glued on");
    lines.mm(
        part,
        "shaft only",
        joints.shaft_stock_mm,
        "thickness where headstock and heel block are glued on",
    );
    if let Some(scarf) = joints.scarf {
        lines.say("scarf", "angle", &number(scarf.angle_deg), "deg", "between the cut and the stock's face");
        lines.mm("scarf", "through stock of", scarf.stock_mm, "");
        lines.mm("scarf", "length of the cut face", scarf.face_mm, "");
        lines.mm("scarf", "length along the stock", scarf.run_mm, "");
    }
    let volume = neck.volume_mm3();
    for (what, value) in [
        ("fretboard", volume.fretboard_mm3),
        ("neck wood", volume.neck_wood_mm3),
        ("rod channel", volume.rod_channel_mm3),
        ("tuner holes", volume.tuner_holes_mm3),
        ("fret slots", volume.fret_slots_mm3),
        ("fretboard with its slots", volume.fretboard_mm3 - volume.fret_slots_mm3),
    ] {
        // Without a rod the channel's is -0.
        lines.say("volume", what, &format!("{:.1}", value + 0.0), "mm3", "");
    }
    let mass = neck.mass_kg();
    for (what, value) in [("fretboard", mass.fretboard_kg), ("neck wood", mass.neck_wood_kg)] {
        if let Some(value) = value {
            lines.say(
                "mass",
                what,
                &number(value),
                "kg",
                "from the density of the species; a board may differ by a fifth",
            );
        }
    }
    lines.mm("fret wire", "all together", neck.layout().total_wire_mm(), "each piece with its overhang");
}

fn least(lines: &mut Lines, neck: &Neck) {
    let mut say = |what: &str, least: &LeastValue, unit: &str, places: usize| {
        let where_ = format!(
            "taken at {:.2} mm; proven to be nowhere below {:.places$} {unit}",
            least.x_mm,
            down(least.proven, places)
        );
        lines.say("guaranteed least", what, &format!("{:.places$}", least.value), unit, &where_);
    };
    say("thickness", &neck.least_thickness(), "mm", 5);
    if let Some(wall) = neck.least_rod_wall() {
        say("rod wall", &wall, "mm", 5);
    }
    say("curvature of the back", &neck.least_curvature(), "1/mm", 7);
    let margin = neck.layout().least_margin();
    lines.mm("least", "string to board edge", margin.margin_mm, &format!("at {:.2} mm", margin.at_mm));
    let (edge, at) = neck.layout().board().least_edge_thickness_mm();
    lines.mm("least", "thickness of the board's edge", edge, &format!("at {at:.2} mm"));
}

/// A proven bound is rounded down, never to more than what is proven.
pub fn down(value: f64, places: usize) -> f64 {
    let scale = 10_f64.powi(i32::try_from(places).unwrap_or(0));
    (value * scale).floor() / scale
}

/// How far a station is from the nut, and on which side of it.
pub fn from_nut(x_mm: f64, inches: bool) -> String {
    let away = x_mm.abs();
    let away = if inches {
        format!("{:.3} in", neckwright::measure::Length::from_mm(away).inches())
    } else {
        format!("{away:.1} mm")
    };
    format!("{away} {} the nut", if x_mm < 0.0 { "behind" } else { "from" })
}

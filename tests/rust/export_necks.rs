//! Writes the solids of random necks as STEP files, each with a JSON file of what an independent kernel has to find in it:
//!
//!     cargo run --release --bin export_necks -- FOLDER FAMILY COUNT [POINTS]
//!
//! `FAMILY` is `plain`, `slots`, `cubic` or `ap214`; or `stages`, the wood after every stage of so many plans.
//! Points are taken from the neck's sections, not from the solids' faces;
//! they are in a file of their own beside the other two, a [`Found`] after the other.
#![forbid(unsafe_code)]

mod found;
mod slot;

use found::Found;
use neckwright::exchange::{StepOptions, StepProtocol, step};
use neckwright::measure::Length;
use neckwright::shape::{Neck, Outline, Part, Point, Section, Segment, Side};
use neckwright::solid::Solid;
use neckwright::spec::{Curve, HeadstockKind, SolidOptions, Specification, numbers};
use serde_json::{Value, json};
use slot::Slot;
use std::path::Path;

mod export_stages;

/// The bound that the family `cubic` states.
const CUBIC_MM: f64 = 0.001;

/// Sections of each neck.
const STATIONS: usize = 24;

/// A number from 0 up to 1.
fn share(next: &mut dyn FnMut() -> u64) -> f64 {
    (next() >> 11) as f64 / (1_u64 << 53) as f64
}

/// A tuner hole's axis: where it leaves the face, and its direction out of it.
struct Hole {
    top: [f64; 3],
    up: [f64; 3],
    radius_mm: f64,
}

impl Hole {
    fn all(neck: &Neck) -> Vec<Self> {
        let head = neck.headstock();
        let face = neck.laws().face_depth;
        let angle = head.angle_deg.to_radians();
        let up = [-libm::sin(angle), 0.0, libm::cos(angle)];
        let radius_mm = 0.5 * neck.normalised().headstock.hole_diameter.mm();
        let hole = |p: &neckwright::shape::PostPlace| Self {
            top: [p.x_mm, p.y_mm, -face.at(p.x_mm).expect("a station of the headstock")],
            up,
            radius_mm,
        };
        head.posts.iter().map(hole).collect()
    }

    /// How far from its axis a point lies.
    fn distance(&self, p: [f64; 3]) -> f64 {
        let d = [0, 1, 2].map(|k| p[k] - self.top[k]);
        let along: f64 = (0..3).map(|k| d[k] * self.up[k]).sum();
        libm::sqrt((0..3).map(|k| d[k] - along * self.up[k]).map(|c| c * c).sum())
    }

    fn wall(&self, thickness: f64, angle: f64, depth: f64) -> [f64; 3] {
        let along = [self.up[2], 0.0, -self.up[0]];
        let (sin, cos) = (libm::sin(angle), libm::cos(angle));
        let y = [0.0, 1.0, 0.0];
        [0, 1, 2].map(|k| {
            self.top[k] - depth * thickness * self.up[k] + self.radius_mm * (cos * along[k] + sin * y[k])
        })
    }
}

fn on(segment: &Segment, from: Point, t: f64) -> Point {
    let to = segment.end();
    match *segment {
        Segment::Line(_) => [0, 1].map(|k| from[k] + t * (to[k] - from[k])),
        Segment::Cubic(a, b, _) => {
            let s = 1.0 - t;
            [0, 1].map(|k| {
                s * s * s * from[k] + 3.0 * s * s * t * a[k] + 3.0 * s * t * t * b[k] + t * t * t * to[k]
            })
        }
        Segment::Crown { radius, .. } => {
            let y = from[0] + t * (to[0] - from[0]);
            let half = libm::sin(0.5 * libm::asin(y / radius));
            [y, -2.0 * radius * half * half]
        }
    }
}

/// What stretch of the neck a station lies in.
fn stretch(neck: &Neck, x: f64) -> &'static str {
    let (head, volute, heel) = (neck.headstock(), neck.volute(), neck.heel());
    if x < head.root_x_mm {
        "headstock"
    } else if volute.height_mm > 0.0 && x < volute.end_x_mm {
        "volute"
    } else if x > heel.start_x_mm {
        "heel"
    } else {
        "shaft"
    }
}

/// Whether a place of a section is in the open top of its channel, where the wood has no face.
fn open(section: &Section, p: Point) -> bool {
    let Some(channel) = section.part_outline(Part::Channel) else { return false };
    let corners = || channel.segments.iter().map(Segment::end);
    let top = corners().map(|c| c[1]).fold(f64::NEG_INFINITY, f64::max);
    p[0].abs() <= corners().map(|c| c[0]).fold(0.0, f64::max) && (p[1] - top).abs() < 1e-9
}

/// A random point of one part's outline in a section.
fn of_outline(neck: &Neck, section: &Section, part: Part, next: &mut dyn FnMut() -> u64) -> Option<Found> {
    let outline = section.part_outline(part)?;
    let pick = next() as usize % outline.segments.len();
    let from = if pick == 0 { outline.start } else { outline.segments[pick - 1].end() };
    let segment = &outline.segments[pick];
    let t = share(next);
    let p = on(segment, from, t);
    if part != Part::Fretboard && open(section, p) {
        return None;
    }
    let level = from[1] == segment.end()[1];
    let place = stretch(neck, section.x_mm());
    let around = match segment {
        Segment::Cubic(..) if from[0].abs() > segment.end()[0].abs() => t,
        Segment::Cubic(..) => 1.0 - t,
        _ => f64::NAN,
    };
    let kind = match (part, segment) {
        (Part::Channel, _) => "channel".into(),
        (Part::Fretboard, Segment::Cubic(..)) => "back of the board".into(),
        (Part::Fretboard, Segment::Crown { .. }) => "crown".into(),
        (Part::Fretboard, _) if level => "board above and below".into(),
        (Part::Fretboard, _) => "sides of the board".into(),
        (_, Segment::Cubic(..)) => format!("back of the {place}"),
        _ if level => format!("top of the {place}"),
        _ => format!("sides of the {place}"),
    };
    Some(Found { kind, solid: u8::from(part == Part::Fretboard), around, at: [section.x_mm(), p[0], p[1]] })
}

/// A random point of the wood's end at the tip or the heel.
fn of_end(neck: &Neck, next: &mut dyn FnMut() -> u64) -> Option<Found> {
    let tip = next().is_multiple_of(2);
    let x = neck.wood_reach_mm()[usize::from(!tip)];
    let section = neck.section(x).ok()?;
    // Between the centreline at the top and a point of the outline; sections are star-shaped from there.
    let rim = of_outline(neck, &section, Part::NeckWood, next)?.at;
    let t = share(next);
    let outline = section.part_outline(Part::NeckWood)?;
    let top = outline.segments.iter().map(|s| s.end()[1]).fold(f64::NEG_INFINITY, f64::max);
    let p = [t * rim[1], top + t * (rim[2] - top)];
    if let Some(channel) = section.part_outline(Part::Channel)
        && p[0].abs() <= channel.start[0].abs()
    {
        return None;
    }
    Some(Found::off_the_back(if tip { "tip" } else { "end of the heel" }, 0, [x, p[0], p[1]]))
}

/// Random points of the surface, of the board with its slots where there are any.
fn points(neck: &Neck, slots: &[Slot], count: usize, next: &mut dyn FnMut() -> u64) -> Vec<Found> {
    let holes = Hole::all(neck);
    let [from, to] = neck.reach_mm();
    let head = neck.headstock();
    let mut found = Vec::with_capacity(count);
    while found.len() < count {
        let point = match next() % 16 {
            0 if !holes.is_empty() => {
                let hole = &holes[next() as usize % holes.len()];
                let angle = core::f64::consts::TAU * share(next);
                Some(Found::off_the_back("holes", 0, hole.wall(head.thickness_mm, angle, share(next))))
            }
            1 => of_end(neck, next),
            8 | 9 if !slots.is_empty() => slots[next() as usize % slots.len()].inside(neck, next),
            way => {
                let cut = neck.rod_cuts().get(next() as usize % neck.rod_cuts().len().max(1));
                let reach = match (way, cut) {
                    (2, Some(cut)) => cut.reach_mm(),
                    (3 | 4, _) => [from, head.root_x_mm],
                    (5 | 6, _) => [neck.heel().start_x_mm, to],
                    (7, _) => [head.root_x_mm, neck.volute().end_x_mm.max(1.0)],
                    _ => [from, to],
                };
                let x = reach[0] + share(next) * (reach[1] - reach[0]);
                let part = match way {
                    2 => Part::Channel,
                    3..=6 => Part::NeckWood,
                    _ if next().is_multiple_of(2) => Part::Fretboard,
                    _ => Part::NeckWood,
                };
                neck.section(x).ok().and_then(|s| of_outline(neck, &s, part, next))
            }
        };
        let Some(point) = point else { continue };
        let p = point.at;
        // A section's outline may go down the back's contour and up again before a slanted nut, around nothing.
        if point.solid == 1 && p[0] < neck.layout().nut_line().x_at_mm(neck.hand_sign() * p[1]) - 1e-9 {
            continue;
        }
        if point.kind != "holes" && point.solid == 0 && holes.iter().any(|h| h.distance(p) < h.radius_mm) {
            continue;
        }
        found.extend(if point.solid == 1 { Slot::cut(slots, neck, point) } else { Some(point) });
    }
    found
}

/// Random stations, clear of tuner holes, with the areas of both solids' sections; half of them across slots, if there are any.
fn sections(neck: &Neck, slots: &[Slot], next: &mut dyn FnMut() -> u64) -> Vec<Value> {
    let holes = Hole::all(neck);
    let head = neck.headstock();
    let [from, to] = neck.reach_mm();
    let mut found = Vec::with_capacity(STATIONS);
    while found.len() < STATIONS {
        if found.len() % 2 == 1 && !slots.is_empty() {
            let slot = &slots[next() as usize % slots.len()];
            let y = (share(next) - 0.5) * neck.layout().board().width_mm(slot.line.x_mm);
            // Not along a wall of a slot that is square to the neck, where a section is two.
            let x = slot.line.x_at_mm(y) + 1.98 * (share(next) - 0.5) * slot.half;
            found.push(area(neck, x));
            continue;
        }
        let x = from + (to - from) * (found.len() as f64 + share(next)) / STATIONS as f64;
        let bored = |h: &Hole| {
            let lean = head.thickness_mm * h.up[0].abs() + h.radius_mm;
            (x - h.top[0]).abs() < lean + 0.1
        };
        if holes.iter().any(bored) {
            // Anywhere else, since holes may take all of this stretch.
            let x = head.root_x_mm + (to - head.root_x_mm) * share(next);
            found.push(area(neck, x));
            continue;
        }
        found.push(area(neck, x));
    }
    found
}

fn length_mm(outline: &Outline) -> f64 {
    outline.walk().map(|(start, segment)| segment.length_mm(start)).sum()
}

/// A station with the areas of wood and board there, and the lengths of outline around them.
fn area(neck: &Neck, x: f64) -> Value {
    let section = neck.section(x).expect("a station of the neck");
    let of = |part: Part| section.part_moments(part).area_mm2;
    let around = |part: Part| section.part_outline(part).map_or(0.0, |o| length_mm(&o));
    let [wood, board] = [around(Part::NeckWood) + around(Part::Channel), around(Part::Fretboard)];
    json!([x, of(Part::NeckWood) - of(Part::Channel), of(Part::Fretboard), wood, board])
}

/// What kind of neck it is.
fn kinds(neck: &Neck) -> Vec<&'static str> {
    let spec = neck.normalised();
    let laws = neck.laws();
    let [from, to] = neck.shaft_reach_mm();
    let mid = 0.5 * (from + to);
    let uneven = laws
        .control_out
        .of(Side::Bass)
        .iter()
        .zip(*laws.control_out.of(Side::Treble))
        .any(|(a, b)| (a.at(mid).unwrap_or(0.0) - b.at(mid).unwrap_or(0.0)).abs() > 1e-6);
    let foot = [0.2, 0.4, 0.6, 0.8].iter().any(|t| {
        let x = from + t * (to - from);
        laws.carve_line.bass.at(x).unwrap_or(9e9) < neck.normalised().fretboard.thickness.mm()
    });
    let all = [
        (neck.volute().height_mm > 0.0, "volute"),
        (neck.volute().height_mm == 0.0, "no volute"),
        (neck.headstock().kind == HeadstockKind::Angled, "angled headstock"),
        (neck.headstock().kind == HeadstockKind::Level, "level headstock"),
        (neck.headstock().posts.is_empty(), "no tuner holes"),
        (uneven, "asymmetric"),
        (neck.layout().nut_line().slope != 0.0, "slanted nut"),
        (spec.scale.bass.is_some(), "multi-scale"),
        (neck.hand_sign() < 0.0, "left-handed"),
        (!neck.rod_cuts().is_empty(), "rod"),
        (neck.wood_reach_mm()[1] < neck.reach_mm()[1], "board beyond the heel"),
        (neck.wood_reach_mm()[1] > neck.layout().board().end_mm(), "heel beyond the board"),
        (foot, "carved above the glue line"),
        (spec.shaft.curve == Curve::Spline, "splines"),
    ];
    all.iter().filter(|(has, _)| *has).map(|(_, name)| *name).collect()
}

/// What the slots take off the board: each is as deep everywhere, so its share of the plan times the depth.
fn slots(neck: &Neck) -> Value {
    let board = neck.layout().board();
    let slot = |f: &neckwright::layout::Fret| json!([f.line.x_mm, f.line.slope]);
    json!({
        "width": neck.normalised().frets.slot_width.mm(),
        "depth": neck.normalised().frets.slot_depth.mm(),
        "binding": board.binding_mm(),
        "widths": board.widths_mm(),
        "lines": neck.layout().frets().iter().map(slot).collect::<Vec<_>>(),
    })
}

/// The solids; `None` where slots as deep as this neck's would come out below.
fn solids(neck: &Neck, options: &SolidOptions) -> Option<Result<[Solid; 2], String>> {
    match neck.solids(options) {
        Ok(solids) => Some(Ok([solids.neck_wood, solids.fretboard])),
        Err(error) if error.faults().iter().any(|f| f.path == "frets.slot_depth") => None,
        Err(error) => Some(Err(error.to_string())),
    }
}

fn main() -> Result<(), Box<dyn std::error::Error>> {
    let arguments: Vec<String> = std::env::args().skip(1).collect();
    let [folder, family, rest @ ..] = &arguments[..] else {
        eprintln!("export_necks FOLDER FAMILY COUNT [POINTS]");
        std::process::exit(2);
    };
    let number = |i: usize, usual: usize| rest.get(i).and_then(|s| s.parse().ok()).unwrap_or(usual);
    let (count, point_count) = (number(0, 10), number(1, 50));
    let mut options = SolidOptions { slots: family == "slots", ..SolidOptions::default() };
    let mut written = StepOptions::default();
    match family.as_str() {
        "plain" | "slots" | "stages" => {}
        "cubic" => options.cubic_within = Some(Length::from_mm(CUBIC_MM)),
        "ap214" => written.protocol = StepProtocol::Ap214,
        _ => {
            eprintln!("no family {family}");
            std::process::exit(2);
        }
    }
    let folder = Path::new(folder).join(family);
    std::fs::create_dir_all(&folder)?;
    if family == "stages" {
        return export_stages::export(&folder, count);
    }
    let mut next = numbers(2026);
    let (mut made, mut tried) = (0, 0);
    while made < count {
        tried += 1;
        let mut spec = Specification::plausible(&mut next);
        if tried % 10 == 0 {
            spec.shaft.curve = Curve::Spline;
        }
        let Ok(neck) = Neck::new(&spec) else { continue };
        let Some(solids) = solids(&neck, &options) else { continue };
        let mut dice = numbers(1000 + made as u64);
        let volume = neck.volume_mm3();
        let slotted = if options.slots { Slot::all(&neck) } else { vec![] };
        let stations = sections(&neck, &slotted, &mut dice);
        let (mut point_kinds, mut bytes) = (vec![], vec![]);
        for point in points(&neck, &slotted, point_count, &mut dice) {
            point.write(&mut point_kinds, &mut bytes);
        }
        std::fs::write(folder.join(format!("{made:03}.points")), bytes)?;
        let mut expected = json!({
            "kinds": kinds(&neck),
            "volumes": [volume.neck_wood_mm3, volume.fretboard_mm3],
            "sections": stations,
            "point_kinds": point_kinds,
            "slots": slots(&neck),
            "specification": serde_json::from_str::<Value>(&spec.to_json()).expect("what the library has written"),
        });
        match solids {
            Ok([wood, board]) => {
                let parts = [(&wood, [0.6, 0.3, 0.2]), (&board, [0.2, 0.1, 0.05])];
                std::fs::write(folder.join(format!("{made:03}.step")), step("neck", &parts, &written)?)?;
            }
            Err(error) => expected["error"] = error.into(),
        }
        std::fs::write(folder.join(format!("{made:03}.json")), expected.to_string())?;
        made += 1;
    }
    Ok(())
}

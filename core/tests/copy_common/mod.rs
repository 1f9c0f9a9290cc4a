//! Necks to be copied, and readings made from them.
#![allow(dead_code, missing_docs)]

use neckwright::inspect::{Measured, Reading, Readings};
use neckwright::measure::{Length, Station};
use neckwright::shape::{Neck, Side};
use neckwright::spec::{
    Curve, DepthAt, ProfileAt, Shape, Specification, ThicknessAt, TrebleSide, WidthAt, numbers,
};

/// Random numbers between 0 and 1, and normal ones by Box and Muller's rule.
pub struct Chance(pub Box<dyn FnMut() -> u64>);

impl Chance {
    pub fn new(seed: u64) -> Self {
        Self(Box::new(numbers(seed)))
    }

    pub fn unit(&mut self) -> f64 {
        ((self.0)() >> 11) as f64 / (1_u64 << 53) as f64
    }

    pub fn between(&mut self, low: f64, high: f64) -> f64 {
        low + (high - low) * self.unit()
    }

    pub fn normal(&mut self) -> f64 {
        let (a, b) = (1.0 - self.unit(), self.unit());
        libm::sqrt(-2.0 * libm::log(a)) * libm::cos(2.0 * core::f64::consts::PI * b)
    }
}

/// A neck whose numbers are given where it will be read, the base that it is copied from, and the stations.
pub struct Planted {
    pub truth: Specification,
    pub neck: Neck,
    pub base: Specification,
    pub thirds: [Station; 3],
    pub sections: [Station; 2],
}

fn mm(value: f64) -> Length {
    Length::from_mm(value)
}

/// A random neck of thicknesses at three frets, widths at the nut and two of them, a carve line and two sections. With
/// `uneven` the treble side has numbers of its own; with `lean` the base knows how the sides lean.
pub fn planted(chance: &mut Chance, uneven: bool, lean: Option<f64>) -> Planted {
    loop {
        let base = Specification::plausible(&mut chance.0);
        let Ok(neck) = Neck::new(&base) else { continue };
        let [from, to] = neck.shaft_reach_mm();
        let fret = |share: f64| {
            let x = from + share * (to - from);
            Station::Fret(libm::round(2.0 * neck.fret_at(x).unwrap()) / 2.0)
        };
        let thirds = [fret(0.08), fret(0.5), fret(0.93)];
        let sections = [fret(0.2), fret(0.8)];
        let x = |at: &Station| neck.layout().station_mm(at).unwrap();
        let said = |at: Station| if base.scale.bass.is_some() { Station::Mm(x(&at)) } else { at };
        // Where frets are fanned their stations depend on how the strings spread, which follows the nut's width.
        let (thirds, sections) = (thirds.map(said), sections.map(said));
        if x(&thirds[0]) < from || x(&thirds[2]) > to {
            continue;
        }
        let mut truth = base.clone();
        let t0 = chance.between(19.0, 22.5);
        let t = [t0, t0 + chance.between(0.2, 1.2), t0 + chance.between(0.8, 2.4)];
        truth.shaft.curve = Curve::Spline;
        truth.shaft.thickness =
            thirds.iter().zip(t).map(|(at, t)| ThicknessAt { at: said(*at), thickness: mm(t) }).collect();
        let width = base.nut.width.mm() + chance.between(-0.6, 0.6);
        truth.nut.width = mm(width);
        let board = neck.layout().board();
        truth.fretboard.widths = Some(
            [thirds[1], thirds[2]]
                .iter()
                .map(|at| WidthAt {
                    at: said(*at),
                    width: mm(board.width_mm(x(at)) + chance.between(-0.6, 0.6)),
                })
                .collect(),
        );
        let s = chance.between(4.0, 8.0);
        truth.shaft.treble_carve_line = None;
        truth.shaft.carve_line = vec![
            DepthAt { at: said(sections[0]), depth: mm(s) },
            DepthAt { at: said(sections[1]), depth: mm(s + chance.between(-0.3, 1.0)) },
        ];
        truth.shaft.profile = sections
            .iter()
            .map(|at| ProfileAt {
                at: said(*at),
                shape: Shape::C,
                shoulder: Some(chance.between(0.47, 0.66)),
                belly: Some(chance.between(0.46, 0.64)),
                lean: Some(lean.unwrap_or_else(|| chance.between(0.03, 0.09))),
                spine_offset: mm(if uneven { chance.between(-1.0, 1.0) } else { 0.0 }),
                treble: uneven.then(|| TrebleSide {
                    shoulder: None,
                    belly: Some(chance.between(0.5, 0.6)),
                    lean: Some(chance.between(0.03, 0.09)),
                }),
                crease: false,
            })
            .collect();
        let mut base = base;
        // What the base has of the back is far from the truth, and even.
        base.shaft.treble_carve_line = None;
        base.shaft.profile = vec![ProfileAt { lean, ..ProfileAt::default() }];
        if Neck::new(&base).is_err() {
            continue;
        }
        if let Ok(neck) = Neck::new(&truth) {
            return Planted { truth, neck, base, thirds, sections };
        }
    }
}

/// As much as necks differ in shoulder, belly and lean, in the carve line's depth and in the spine's offset, as `copy_neck` says.
pub const DIFFER: [f64; 5] = [0.15, 0.15, 0.03, 3.0, 2.0];

/// A neck as [`planted`] has it whose lean, shoulder, belly and carve line, and with `uneven` offset and treble side too, are
/// normal around those of its base, as different as necks are said to be. Those that make no neck are left out.
pub fn differing(chance: &mut Chance, uneven: bool) -> Planted {
    loop {
        let mut p = planted(chance, uneven, None);
        let middle =
            ProfileAt { shoulder: Some(0.56), belly: Some(0.56), lean: Some(0.08), ..ProfileAt::default() };
        p.base.shaft.profile = vec![middle];
        p.base.shaft.carve_line.truncate(1);
        p.base.shaft.carve_line[0].depth = mm(8.0);
        let mut near = |middle: f64, kind: usize| middle + DIFFER[kind] * chance.normal();
        for line in &mut p.truth.shaft.carve_line {
            line.depth = mm(near(8.0, 3));
        }
        for profile in &mut p.truth.shaft.profile {
            (profile.shoulder, profile.belly) = (Some(near(0.56, 0)), Some(near(0.56, 1)));
            profile.lean = Some(near(0.08, 2));
            if let Some(treble) = &mut profile.treble {
                (treble.belly, treble.lean) = (Some(near(0.56, 1)), Some(near(0.08, 2)));
                profile.spine_offset = mm(near(0.0, 4));
            }
        }
        if Neck::new(&p.base).is_ok()
            && let Ok(neck) = Neck::new(&p.truth)
        {
            return Planted { neck, ..p };
        }
    }
}

impl Planted {
    pub fn x(&self, at: &Station) -> f64 {
        self.neck.layout().station_mm(at).unwrap()
    }
}

pub fn reading(at: Station, measured: Measured, value_mm: f64, uncertainty_mm: f64) -> Reading {
    Reading { at, measured, value_mm, uncertainty_mm, line: 0 }
}

/// As the copy takes them.
pub fn gathered(readings: &[Reading]) -> Readings {
    Readings::new(readings.to_vec()).unwrap_or_else(|e| panic!("{e}"))
}

/// Points of a section, as many on either side, from the edge down to the spine.
pub fn points(neck: &Neck, at: Station, each: usize, u: f64) -> Vec<Reading> {
    let x = neck.layout().station_mm(&at).unwrap();
    let section = neck.section(x).unwrap();
    let board = neck.layout().board();
    let mut all = Vec::new();
    for side in Side::BOTH {
        let p = section.control_points_mm(side).unwrap();
        let y = |y: f64| neck.hand_sign() * y;
        let flats = each / 4;
        let top = board.thickness_mm() - board.edge_thickness_mm(x);
        for k in 0..flats {
            let share = (k as f64 + 0.5) / flats as f64;
            let depth = top + share * (-p[0][1] - top);
            // By no more than rounding apart: two depths at the very same place across count as a contradiction.
            let across_mm = y(p[0][0]) * (1.0 - 1e-14 * k as f64);
            all.push(reading(at, Measured::Point { across_mm }, depth, u));
        }
        for k in 0..each - flats {
            let t = (k as f64 + 0.3) / (each - flats) as f64;
            let s = 1.0 - t;
            let b = [s * s * s, 3.0 * s * s * t, 3.0 * s * t * t, t * t * t];
            let c = |i: usize| (0..4).map(|k| b[k] * p[k][i]).sum::<f64>();
            all.push(reading(at, Measured::Point { across_mm: y(c(0)) }, -c(1), u));
        }
    }
    all
}

/// Thickness and width at three frets, width at the nut, two sections.
pub fn readings(planted: &Planted, each: usize, u: f64) -> Vec<Reading> {
    let neck = &planted.neck;
    let mut all = vec![reading(Station::NUT, Measured::Width, neck.width_mm(0.0).unwrap(), u)];
    for at in planted.thirds {
        let x = planted.x(&at);
        all.push(reading(at, Measured::Thickness, neck.thickness_mm(x).unwrap(), u));
        if at != planted.thirds[0] {
            all.push(reading(at, Measured::Width, neck.width_mm(x).unwrap(), u));
        }
    }
    for at in planted.sections {
        all.extend(points(neck, at, each, u));
    }
    all
}

/// Every reading off by a normal error of its uncertainty, points in both directions.
pub fn with_noise(readings: &[Reading], chance: &mut Chance) -> Vec<Reading> {
    readings
        .iter()
        .map(|r| {
            let mut r = *r;
            r.value_mm += r.uncertainty_mm * chance.normal();
            if let Measured::Point { across_mm } = &mut r.measured {
                *across_mm += r.uncertainty_mm * chance.normal();
            }
            r
        })
        .collect()
}

/// The true value of a number by its path, with laws read off where the copy has stations of its own.
pub fn truth_of(planted: &Planted, copied: &Specification, path: &str) -> f64 {
    let index = |path: &str| -> usize {
        path.split(['[', ']']).nth(1).and_then(|i| i.parse().ok()).unwrap_or_default()
    };
    let i = index(path);
    let (neck, shaft) = (&planted.neck, &copied.shaft);
    if path.starts_with("shaft.thickness") {
        return neck.thickness_mm(planted.x(&shaft.thickness[i].at)).unwrap();
    }
    if path.starts_with("nut.width") {
        return planted.truth.nut.width.mm();
    }
    if path.starts_with("fretboard.widths") {
        return neck.width_mm(planted.x(&copied.fretboard.widths.as_ref().unwrap()[i].at)).unwrap();
    }
    if path.starts_with("shaft.carve_line") {
        return neck.carve_line_mm(planted.x(&shaft.carve_line[i].at), Side::Bass).unwrap();
    }
    if path.starts_with("shaft.treble_carve_line") {
        let line = copied.shaft.treble_carve_line.as_ref().unwrap();
        return neck.carve_line_mm(planted.x(&line[i].at), Side::Treble).unwrap();
    }
    let p = &planted.truth.shaft.profile[i];
    let own = p.treble.clone().unwrap_or_default();
    match path.rsplit_once("].").unwrap().1 {
        "shoulder" => p.shoulder.unwrap(),
        "belly" => p.belly.unwrap(),
        "lean" => p.lean.unwrap(),
        "spine_offset" => p.spine_offset.mm(),
        "treble.belly" => own.belly.or(p.belly).unwrap(),
        "treble.lean" => own.lean.or(p.lean).unwrap(),
        other => panic!("no truth for {other}"),
    }
}

/// Depth of the back at a place across, by halving along the cubic.
pub fn depth_at(neck: &Neck, x: f64, across: f64) -> f64 {
    let side = if across < 0.0 { Side::Bass } else { Side::Treble };
    let p = neck.section(x).unwrap().control_points_mm(side).unwrap();
    let c = |t: f64, i: usize| {
        let s = 1.0 - t;
        s * s * s * p[0][i] + 3.0 * s * s * t * p[1][i] + 3.0 * s * t * t * p[2][i] + t * t * t * p[3][i]
    };
    let (mut low, mut high) = (0.0, 1.0);
    for _ in 0..60 {
        let middle = 0.5 * (low + high);
        if c(middle, 0).abs() > across.abs() { low = middle } else { high = middle }
    }
    -c(0.5 * (low + high), 1)
}

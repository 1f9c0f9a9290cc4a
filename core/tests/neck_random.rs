//! What the neck promises, over 500 random necks.

mod common;

use common::{gauss20, integrate, joints, moments_by_quadrature, necks};
use neckwright::law::{Law, Smoothness};
use neckwright::shape::{Cut, Neck, Part, Side};
use neckwright::spec::Curve;

const NECKS: usize = 500;

#[test]
fn volume_is_the_integral_of_the_section_areas() {
    let rule = gauss20();
    for (i, neck) in necks(NECKS).iter().enumerate() {
        let volume = neck.volume_mm3();
        let size = volume.filled_mm3();
        let mut parts = [0.0; 4];
        for w in joints(neck).windows(2) {
            let area = |f: &dyn Fn(f64) -> f64| {
                // The ends of a stretch belong to both its neighbours: stay inside by a hair's breadth.
                integrate(&rule, w[0], w[1], 1e-14 * size, &mut |x| f(x))
            };
            let part = |p: Part| area(&|x| neck.section(x).unwrap().part_moments(p).area_mm2);
            parts[0] += area(&|x| neck.section(x).unwrap().area_mm2());
            if i % 5 == 0 {
                parts[1] += part(Part::Fretboard);
                parts[2] += part(Part::NeckWood);
                parts[3] += part(Part::Channel);
            }
        }
        assert!((parts[0] - size).abs() <= 1e-12 * size, "neck {i}: {} is not {size}", parts[0]);
        if i % 5 == 0 {
            let wood = volume.neck_wood_mm3 + volume.rod_channel_mm3 + volume.tuner_holes_mm3;
            assert!((parts[1] - volume.fretboard_mm3).abs() <= 1e-12 * size, "neck {i}: board");
            assert!((parts[2] - wood).abs() <= 1e-12 * size, "neck {i}: wood");
            assert!((parts[3] - volume.rod_channel_mm3).abs() <= 1e-12 * size, "neck {i}: channel");
        }
    }
}

#[test]
fn areas_and_moments_agree_with_quadrature() {
    let rule = gauss20();
    for (i, neck) in necks(NECKS).iter().enumerate() {
        let [from, to] = neck.reach_mm();
        for k in 0..12 {
            let x = from + (to - from) * (f64::from(k) + 0.37) / 12.0;
            let section = neck.section(x).unwrap();
            let outline = section.outline();
            let exact = moments_by_quadrature(outline.start, &outline.segments, &rule);
            let m = section.moments();
            let got = [
                m.area_mm2,
                m.first_mm3[0],
                m.first_mm3[1],
                m.second_mm4[0],
                m.second_mm4[1],
                m.second_mm4[2],
            ];
            let size = [exact[0], exact[2].abs(), exact[2].abs(), exact[3], exact[4], exact[4]];
            for j in 0..6 {
                assert!(
                    (got[j] - exact[j]).abs() <= 1e-12 * size[j],
                    "neck {i} at {x}: moment {j} is {} and not {}",
                    got[j],
                    exact[j]
                );
            }
            // The whole is the sum of its parts.
            let sum = section.part_moments(Part::Fretboard).plus(&section.part_moments(Part::NeckWood));
            assert!((sum.area_mm2 - m.area_mm2).abs() <= 1e-12 * m.area_mm2, "neck {i} at {x}");
            assert!(m.area_mm2 > 0.0);
        }
    }
}

fn assert_joints(name: &str, i: usize, law: &Law) {
    let (low, high) = law
        .pieces()
        .iter()
        .map(|p| p.hull())
        .fold((f64::INFINITY, f64::NEG_INFINITY), |(a, b), (c, d)| (a.min(c), b.max(d)));
    let size = high.abs().max(low.abs()).max(1.0);
    for (j, joint) in law.joints().iter().enumerate() {
        let h = [0, 1].map(|k| law.breaks()[j + k + 1] - law.breaks()[j + k]);
        let [l, r] = [law.pieces()[j].eval2(1.0), law.pieces()[j + 1].eval2(0.0)];
        assert!(l[0] == r[0], "{name} of neck {i} at {}", law.breaks()[j + 1]);
        if *joint == Smoothness::Crease {
            continue;
        }
        // Of their size: a slope's is what the value could change by over the shorter neighbour.
        let short = h[0].min(h[1]);
        let slope = l[1] / h[0] - r[1] / h[1];
        assert!(slope.abs() <= 1e-9 * size / short, "{name} of neck {i}: slope at {}", law.breaks()[j + 1]);
        if *joint == Smoothness::Curvature {
            let bend = l[2] / (h[0] * h[0]) - r[2] / (h[1] * h[1]);
            assert!(
                bend.abs() <= 1e-9 * size / (short * short),
                "{name} of neck {i}: bend at {}",
                law.breaks()[j + 1]
            );
        }
    }
}

#[test]
fn laws_are_continuous_to_the_second_derivative() {
    for (i, neck) in necks(NECKS).iter().enumerate() {
        let laws = neck.laws();
        assert_joints("spine", i, laws.spine_depth);
        // The spine has no crease at all; the width may have one at each of the board's stations.
        assert_eq!(laws.spine_depth.creases().count(), 0);
        let stations: Vec<f64> = neck.layout().board().widths_mm().iter().map(|w| w.0).collect();
        for side in Side::BOTH {
            for k in 0..4 {
                assert_joints("control point", i, &laws.control_out.of(side)[k]);
                assert_joints("control depth", i, &laws.control_depth.of(side)[k]);
                assert!(laws.control_out.of(side)[k].creases().all(|x| stations.contains(&x)));
                assert_eq!(laws.control_depth.of(side)[k].creases().count(), 0);
            }
        }
    }
}

#[test]
fn no_thickness_dips_between_two_stations() {
    for (i, neck) in necks(NECKS).iter().enumerate() {
        let [from, to] = neck.shaft_reach_mm();
        let spec = neck.normalised();
        if spec.shaft.curve == Curve::Spline {
            continue;
        }
        let at: Vec<(f64, f64)> = spec
            .shaft
            .thickness
            .iter()
            .map(|t| (neck.layout().station_mm(&t.at).unwrap(), t.thickness.mm()))
            .collect();
        for w in at.windows(2) {
            let (a, b) = (w[0].0.max(from), w[1].0.min(to));
            let (low, high) = (w[0].1.min(w[1].1), w[0].1.max(w[1].1));
            for k in 0..=400 {
                let x = a + (b - a) * f64::from(k) / 400.0;
                if a >= b {
                    break;
                }
                let t = neck.thickness_mm(x).unwrap();
                assert!(
                    t >= low - 4e-15 * low && t <= high + 4e-15 * high,
                    "neck {i} at {x}: {t} not in {low}..{high}"
                );
            }
            for (x, t) in w.iter().filter(|(x, _)| (from..=to).contains(x)) {
                let reads = neck.thickness_mm(*x).unwrap();
                assert!((reads - t).abs() <= 4e-15 * t, "neck {i}: {reads} is not {t} at {x}");
            }
        }
    }
}

/// What is cut out for the rod: a straight-sided solid with a straight floor, open upward.
struct Solid {
    x: [f64; 2],
    half: f64,
    floor: [f64; 2],
    slope: f64,
}

impl Solid {
    fn of(cut: &Cut) -> Self {
        let x = cut.reach_mm();
        let floor = x.map(|x| cut.floor_depth().at(x).unwrap());
        // The generator gives one or two depths, so that every floor is a straight line.
        let middle = cut.floor_depth().at(0.5 * (x[0] + x[1])).unwrap();
        assert!((middle - 0.5 * (floor[0] + floor[1])).abs() < 1e-12 * middle);
        Self { x, half: cut.half_width_mm(), floor, slope: (floor[1] - floor[0]) / (x[1] - x[0]) }
    }

    /// Distance of a point outside it, by elementary geometry; negative inside.
    fn distance(&self, x: f64, out: f64, depth: f64) -> f64 {
        let along = (self.x[0] - x).max(x - self.x[1]).max(0.0);
        let floor = self.floor[0] + self.slope * (x.clamp(self.x[0], self.x[1]) - self.x[0]);
        let beside = out - self.half;
        let in_plane = if depth <= floor {
            along
        } else {
            // To the floor as a segment.
            let d = [self.x[1] - self.x[0], self.floor[1] - self.floor[0]];
            let v = [x - self.x[0], depth - self.floor[0]];
            let t = ((d[0] * v[0] + d[1] * v[1]) / (d[0] * d[0] + d[1] * d[1])).clamp(0.0, 1.0);
            libm::hypot(v[0] - t * d[0], v[1] - t * d[1])
        };
        if in_plane == 0.0 { beside.max(depth - floor) } else { libm::hypot(beside.max(0.0), in_plane) }
    }
}

/// A quantity of one side of a section's back: its control points, its sign, the station, the place.
type OnBack<'a> = dyn Fn(&[[f64; 2]; 4], f64, f64, f64) -> f64 + 'a;

/// Least of samples around one section: 40 places on either side, then closer and closer about the best.
fn least_around(neck: &Neck, x: f64, f: &OnBack<'_>) -> f64 {
    let section = neck.section(x).unwrap();
    let side = |side: Side| {
        let p = section.control_points_mm(side).unwrap();
        let (mut from, mut to, mut best) = (0.0_f64, 1.0_f64, (f64::INFINITY, 0.0));
        for n in [40, 20, 20, 20] {
            for j in 0..=n {
                let u = from + (to - from) * f64::from(j) / f64::from(n);
                let v = f(&p, side.sign(), x, u);
                if v < best.0 {
                    best = (v, u);
                }
            }
            let step = (to - from) / f64::from(n);
            (from, to) = ((best.1 - step).max(0.0), (best.1 + step).min(1.0));
        }
        best.0
    };
    side(Side::Bass).min(side(Side::Treble))
}

/// Least of 400,000 samples, 2,000 stations of 2 × 104 each, and of some more about the best station.
fn least_of_samples(neck: &Neck, [from, to]: [f64; 2], f: &OnBack<'_>) -> f64 {
    let (mut a, mut b, mut best) = (from, to, (f64::INFINITY, from));
    for n in [2000, 20, 20, 20, 20] {
        for i in 0..=n {
            let x = (a + (b - a) * f64::from(i) / f64::from(n)).min(to);
            let v = least_around(neck, x, f);
            if v < best.0 {
                best = (v, x);
            }
        }
        let step = (b - a) / f64::from(n);
        (a, b) = ((best.1 - step).max(from), (best.1 + step).min(to));
    }
    best.0
}

fn cubic(p: &[[f64; 2]; 4], u: f64) -> ([f64; 2], [f64; 2], [f64; 2]) {
    let s = 1.0 - u;
    let each = |f: &dyn Fn(usize) -> f64| [f(0), f(1)];
    let at = |k: usize| s * s * s * p[0][k] + 3.0 * s * u * (s * p[1][k] + u * p[2][k]) + u * u * u * p[3][k];
    let d = |k: usize| {
        3.0 * (s * s * (p[1][k] - p[0][k]) + 2.0 * s * u * (p[2][k] - p[1][k]) + u * u * (p[3][k] - p[2][k]))
    };
    let dd =
        |k: usize| 6.0 * (s * (p[2][k] - 2.0 * p[1][k] + p[0][k]) + u * (p[3][k] - 2.0 * p[2][k] + p[1][k]));
    (each(&at), each(&d), each(&dd))
}

#[test]
fn guaranteed_least_values_hold_against_samples() {
    let (mut worst, mut level) = ([0.0_f64; 3], 0);
    for (i, neck) in necks(NECKS).iter().enumerate() {
        // Thickness: 200,000 stations.
        let least = neck.least_thickness();
        let to = neck.layout().board().end_mm().min(neck.wood_reach_mm()[1]);
        let x: Vec<f64> = (0..=200_000).map(|k| (to * f64::from(k) / 200_000.0).min(to)).collect();
        let mut t = vec![0.0; x.len()];
        neck.thickness_mm_into(&x, &mut t).unwrap();
        let sampled = t.iter().copied().fold(f64::INFINITY, f64::min);
        assert!(least.proven <= sampled, "neck {i}: {least:?} against {sampled}");
        assert!(sampled - least.proven <= 1e-6, "neck {i}: {least:?} against {sampled}");
        worst[0] = worst[0].max(sampled - least.proven);

        // Rod wall, in space: points of the back against the solid that is cut out, past its ends too.
        if let Some(least) = neck.least_rod_wall() {
            let mut sampled = f64::INFINITY;
            let mut slope = 0.0_f64;
            for cut in neck.rod_cuts() {
                let solid = Solid::of(cut);
                slope = slope.max(solid.slope.abs());
                let [from, to] = cut.reach_mm();
                let [tip, end] = neck.wood_reach_mm();
                let reach = [(from - 12.0).max(tip), (to + 12.0).min(end)];
                sampled = sampled.min(least_of_samples(neck, reach, &|p, sign, x, u| {
                    let out = |y: f64| neck.hand_sign() * sign * y;
                    let ([y, z], _, _) = cubic(p, u);
                    // The flat side above the carve line is straight up from it.
                    solid.distance(x, out(y), -z).min(solid.distance(x, out(p[0][0]), f64::NEG_INFINITY))
                }));
            }
            assert!(least.proven <= sampled, "neck {i}: {least:?} against {sampled}");
            // Below a sloping floor what is promised is counted square to it, even where it ends.
            let near = 1e-6 + sampled * slope * slope;
            assert!(sampled - least.proven <= near, "neck {i}: {least:?} against {sampled}");
            if slope == 0.0 {
                worst[1] = worst[1].max(sampled - least.proven);
                level += 1;
            }
        }

        // Curvature of the back.
        let least = neck.least_curvature();
        let hand = neck.hand_sign();
        let sampled = least_of_samples(neck, neck.shaft_reach_mm(), &|p, sign, _, u| {
            let (_, d, dd) = cubic(p, u);
            let speed = libm::hypot(d[0], d[1]);
            hand * sign * (d[1] * dd[0] - d[0] * dd[1]) / (speed * speed * speed)
        });
        assert!(least.proven <= sampled, "neck {i}: {least:?} against {sampled}");
        assert!(sampled - least.proven <= 1e-6, "neck {i}: {least:?} against {sampled}");
        worst[2] = worst[2].max(sampled - least.proven);
    }
    assert!(level > 150, "only {level} level channels were looked at");
    println!("proven less than sampled by at most {worst:?}");
}

#[test]
fn a_left_handed_neck_is_the_mirror_image_to_the_last_bit() {
    use neckwright::spec::Hand;
    for neck in necks(NECKS) {
        let mut other = neck.normalised().clone();
        other.hand = if other.hand == Hand::Left { Hand::Right } else { Hand::Left };
        let mirror = Neck::new(&other).unwrap();
        let [from, to] = neck.reach_mm();
        for k in 0..24 {
            let x = from + (to - from) * (f64::from(k) + 0.5) / 24.0;
            let (a, b) = (neck.section(x).unwrap(), mirror.section(x).unwrap());
            for side in Side::BOTH {
                let (p, q) = (a.control_points_mm(side), b.control_points_mm(side));
                assert_eq!(p.is_some(), q.is_some());
                for (p, q) in p.into_iter().flatten().zip(q.into_iter().flatten()) {
                    assert_eq!((-p[0]).to_bits(), q[0].to_bits());
                    assert_eq!(p[1].to_bits(), q[1].to_bits());
                }
            }
            assert_eq!(a.area_mm2().to_bits(), b.area_mm2().to_bits());
            let (c, d) = (a.centroid_mm(), b.centroid_mm());
            assert_eq!([(-c[0]).to_bits(), c[1].to_bits()], d.map(f64::to_bits));
            assert_eq!(neck.girth_mm(x).unwrap().to_bits(), mirror.girth_mm(x).unwrap().to_bits());
            assert_eq!(
                neck.rod_wall_mm(x).unwrap().map(f64::to_bits),
                mirror.rod_wall_mm(x).unwrap().map(f64::to_bits)
            );
        }
        for (a, b) in neck.frets().iter().zip(mirror.frets()) {
            assert_eq!((-a.slot_ends_mm.0.1).to_bits(), b.slot_ends_mm.0.1.to_bits());
            assert_eq!((-a.slot_ends_mm.1.1).to_bits(), b.slot_ends_mm.1.1.to_bits());
            assert_eq!((a.slot_ends_mm.0.0, a.wire_length_mm), (b.slot_ends_mm.0.0, b.wire_length_mm));
        }
        for (a, b) in neck.strings().iter().zip(mirror.strings()) {
            assert_eq!((-a.nut_mm.1, -a.bridge_mm.1), (b.nut_mm.1, b.bridge_mm.1));
        }
        assert_eq!(neck.volume_mm3(), mirror.volume_mm3());
        assert_eq!(neck.least_rod_wall(), mirror.least_rod_wall());
        for (a, b) in neck.string_paths().iter().zip(mirror.string_paths()) {
            assert_eq!((-a.post_mm[1]).to_bits(), b.post_mm[1].to_bits());
            assert_eq!(a.total_deg.to_bits(), b.total_deg.to_bits());
        }
    }
}

#[test]
fn a_normalised_document_makes_the_same_neck() {
    for neck in necks(NECKS) {
        let text = neck.normalised().to_json();
        let again = Neck::from_json(&text).unwrap();
        assert_eq!(neck.normalised(), again.normalised());
        assert_eq!(text, again.normalised().to_json());
        let (a, b) = (neck.laws(), again.laws());
        assert_eq!(a.spine_depth, b.spine_depth);
        for side in Side::BOTH {
            assert_eq!(a.control_out.of(side), b.control_out.of(side));
            assert_eq!(a.control_depth.of(side), b.control_depth.of(side));
        }
        assert_eq!(neck.layout().frets(), again.layout().frets());
        assert_eq!(neck.layout().strings(), again.layout().strings());
    }
}

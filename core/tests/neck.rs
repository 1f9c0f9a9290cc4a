//! Necks against published values, elementary geometry and common practice.

mod common;

use neckwright::measure::{Angle, Length, Station};
use neckwright::shape::{
    ELLIPSE, Moments, Neck, Outline, Part, Segment, Side, density_kg_m3, sagitta_mm, scarf,
};
use neckwright::spec::{
    BlockWidth, DepthAt, EdgePoint, HeadstockKind, Post, ProfileAt, Radius, Shape, Specification,
    ThicknessAt, TrebleSide,
};

fn mm(value: f64) -> Length {
    Length::from_mm(value)
}

fn inches(text: &str) -> Length {
    Length::parse(text).unwrap()
}

fn close(a: f64, b: f64, tolerance: f64) {
    assert!((a - b).abs() <= tolerance, "{a} is not {b} within {tolerance}");
}

/// The evening class's neck in inches: 0.86 in at the first fret, 0.90 in at the twelfth, 1 11/16 in at the
/// nut. Common practice, no source.
fn evening_class() -> Specification {
    let mut spec = Specification::default();
    spec.nut.width = inches("1 11/16 in");
    spec.shaft.thickness = vec![
        ThicknessAt { at: Station::Fret(1.0), thickness: inches("0.86 in") },
        ThicknessAt { at: Station::Fret(12.0), thickness: inches("0.90 in") },
    ];
    spec.shaft.carve_line = vec![DepthAt { at: Station::NUT, depth: inches("1/8 in") }];
    spec
}

#[test]
fn the_caliper_reads_just_what_was_asked_for() {
    // Common practice, no source: 0.86 in and 0.90 in; a rough line 1 in below the board's top leaves 0.14 in
    // and 0.10 in there; the volute's tip is at the nut.
    let neck = Neck::new(&evening_class()).unwrap();
    let card = neck.caliper_card();
    let thickness = |fret: u32| card.iter().find(|r| r.fret == fret).unwrap().thickness_mm;
    assert_eq!(thickness(1).to_bits(), 21.844_f64.to_bits());
    assert_eq!(thickness(12).to_bits(), 22.86_f64.to_bits());
    close((25.4 - thickness(1)) / 25.4, 0.14, 1e-15);
    close((25.4 - thickness(12)) / 25.4, 0.10, 1e-15);
    assert_eq!(neck.volute().tip_x_mm, 0.0);
    // Above the shaft's own line, which is straight through both readings, nothing stands higher than the tip.
    let x = [1.0, 12.0].map(|f| neck.layout().station_of_fret_mm(f).unwrap());
    let line = |at: f64| 21.844 + (22.86 - 21.844) * (at - x[0]) / (x[1] - x[0]);
    let height = |at: f64| neck.laws().spine_depth.at(at).unwrap() - line(at);
    close(height(0.0), 3.0, 1e-12);
    for i in 1..=250 {
        let d = f64::from(i) * 0.1;
        assert!(height(d) < height(0.0) && height(d) >= -1e-12);
        assert!(i > 60 || height(-d) < height(0.0));
    }
    // Straight data stay straight, to the last bit or two.
    let [from, to] = neck.shaft_reach_mm();
    for i in 0..=1000 {
        let at = from + (to - from) * f64::from(i) / 1000.0;
        close(neck.thickness_mm(at).unwrap(), line(at), 2.0 * f64::EPSILON * 22.0);
    }
}

#[test]
fn a_neck_may_be_as_thick_at_every_station() {
    let mut spec = evening_class();
    for t in &mut spec.shaft.thickness {
        t.thickness = mm(21.0);
    }
    let depth = |at| DepthAt { at, depth: mm(3.2) };
    spec.shaft.carve_line = vec![depth(Station::NUT), depth(Station::Fret(12.0))];
    let neck = Neck::new(&spec).unwrap();
    for x in [30.0, 100.0, 320.0, 380.0] {
        assert_eq!(neck.thickness_mm(x).unwrap(), 21.0);
        // Read back from the spine: to the last bit or two.
        close(neck.carve_line_mm(x, Side::Treble).unwrap(), 3.2, 4.0 * f64::EPSILON * 3.2);
    }
}

#[test]
fn a_c_is_an_ellipse_as_near_as_a_cubic_comes() {
    // Cubic Bézier quarter circle, κ = 4(√2 − 1)/3: radial error at most 0.027 253 000 7 %, seen in a
    // secondary text and computed again.
    close(ELLIPSE, 4.0 * (libm::sqrt(2.0) - 1.0) / 3.0, 2e-16);
    let mut spec = Specification::default();
    spec.shaft.thickness = vec![ThicknessAt { at: Station::NUT, thickness: mm(22.0) }];
    spec.fretboard.radius = Radius::Flat;
    let neck = Neck::new(&spec).unwrap();
    let section = neck.section(200.0).unwrap();
    let p = section.control_points_mm(Side::Treble).unwrap();
    let (w, carve, spine) = (p[0][0], -p[0][1], -p[3][1]);
    let mut worst = 0.0_f64;
    for i in 0..=100_000 {
        let u = f64::from(i) / 100_000.0;
        let s = 1.0 - u;
        let at = |k: usize| {
            s * s * s * p[0][k] + 3.0 * s * s * u * p[1][k] + 3.0 * s * u * u * p[2][k] + u * u * u * p[3][k]
        };
        let radius = libm::hypot(at(0) / w, (-at(1) - carve) / (spine - carve));
        worst = worst.max((radius - 1.0).abs());
    }
    close(worst, 0.000_272_530_007, 1e-12);
}

#[test]
fn moments_of_published_shapes() {
    // Parabolic segment of half width a and height h: A = 4ah/3, centroid 2h/5 above the base, I = 16ah³/175
    // about it. Standard tables; recomputed. A parabola is an exact cubic: no tolerance but rounding.
    let (a, h) = (21.5, 19.0);
    // y = a(1 − 2t), z = h·4t(1 − t) raised to a cubic: handles a third of the way along both end tangents.
    let hump = Segment::Cubic([a / 3.0, 4.0 * h / 3.0], [-a / 3.0, 4.0 * h / 3.0], [-a, 0.0]);
    let m = Outline { start: [a, 0.0], segments: vec![hump, Segment::Line([a, 0.0])] }.moments();
    close(m.area_mm2, 4.0 * a * h / 3.0, 1e-12 * m.area_mm2);
    close(m.centroid_mm()[0], 0.0, 1e-12);
    close(m.centroid_mm()[1], 2.0 * h / 5.0, 1e-12 * h);
    close(m.central_mm4()[0], 16.0 * a * h * h * h / 175.0, 1e-12 * a * h * h * h);

    // Semicircle: centroid 4r/3π, I = (π/8 − 8/9π)r⁴ = 0.10975696·r⁴ (Roark's Formulas, Table A.1, seen in two
    // texts). As two cubics it is a circle to 0.027 %.
    let (r, k) = (20.0, 20.0 * ELLIPSE);
    let half = Outline {
        start: [r, 0.0],
        segments: vec![
            Segment::Cubic([r, k], [k, r], [0.0, r]),
            Segment::Cubic([-k, r], [-r, k], [-r, 0.0]),
            Segment::Line([r, 0.0]),
        ],
    };
    let m = half.moments();
    close(m.centroid_mm()[1], 4.0 * r / (3.0 * core::f64::consts::PI), 3e-4 * r);
    close(m.central_mm4()[0], 0.109_756_96 * r * r * r * r, 1.2e-3 * 0.109_756_96 * r * r * r * r);

    // Circular segment, elementary: area R²(θ − sin θ cos θ) with sin θ = c/R.
    let (radius, c) = (184.0, 45.0);
    let z = -sagitta_mm(radius, c);
    let segment =
        Outline { start: [c, z], segments: vec![Segment::Crown { radius, to_y: -c }, Segment::Line([c, z])] };
    let theta = libm::asin(c / radius);
    let area = radius * radius * (theta - libm::sin(theta) * libm::cos(theta));
    close(segment.moments().area_mm2, area, 1e-11 * area);

    // Composite section by parts, Singer & Pytel, Strength of Materials, problem 1005 (answers seen, plate size
    // inferred): timber 6 × 10 in over a steel plate 4 × ½ in, n = 20: neutral axis 7.1 in below the top,
    // I = 1162.333 in⁴ (computed).
    let timber = Moments::rectangle([-3.0, 3.0], [-10.0, 0.0]);
    let plate = Moments::rectangle([-40.0, 40.0], [-10.5, -10.0]);
    let both = timber.plus(&plate);
    close(-both.centroid_mm()[1], 7.1, 1e-12);
    close(both.central_mm4()[0], 1162.333, 5e-4);

    // Ellipse of semi-axes 2 and 1: perimeter 9.688 448 220 547 676 2 (complete elliptic integral, computed); four
    // cubics are within 0.03 % of it.
    let (a, b, ka, kb) = (2.0, 1.0, 2.0 * ELLIPSE, ELLIPSE);
    let quarter = Segment::Cubic([a, kb], [ka, b], [0.0, b]);
    close(4.0 * quarter.length_mm([a, 0.0]), 9.688_448_220_547_676, 3e-4 * 9.688);
}

#[test]
fn sagitta_and_scarf_are_elementary() {
    // s = R − √(R² − (c/2)²), in a form that loses no digits: against the plain formula where that has digits.
    for (radius, c) in [(184.0, 52.0), (305.0, 56.0), (508.0, 43.0)] {
        let plain = radius - libm::sqrt(radius * radius - 0.25 * c * c);
        close(sagitta_mm(radius, 0.5 * c), plain, 1e-13 * radius);
    }
    // Face t/sin a, run t/tan a; at 30° the face is twice the stock.
    let s = scarf(30.0, 20.0).unwrap();
    close(s.face_mm, 40.0, 1e-12);
    close(s.run_mm, 20.0 * libm::sqrt(3.0), 1e-12);
    close(s.face_mm * s.face_mm, s.run_mm * s.run_mm + 20.0 * 20.0, 1e-10);
    assert!(scarf(0.5, 20.0).is_err() && scarf(f64::NAN, 20.0).is_err() && scarf(10.0, 0.0).is_err());
    assert_eq!(scarf(0.0, -1.0).unwrap_err().faults().len(), 2);
}

#[test]
fn woods_have_the_handbooks_weight() {
    // USDA Wood Handbook, FPL-GTR-282, Table 5-3a: specific gravity at 12 % moisture; the density at 12 % counts
    // the water in.
    for (species, gravity) in [("cherry, black", 0.50), ("maple, sugar", 0.63), ("walnut, black", 0.55)] {
        close(density_kg_m3(species).unwrap(), gravity * 1120.0, 1e-9);
    }
    assert_eq!(density_kg_m3("Cherry, Black"), density_kg_m3("cherry, black"));
    assert_eq!(density_kg_m3("unobtainium"), None);
    let neck = Neck::new(&evening_class()).unwrap();
    let (volume, mass) = (neck.volume_mm3(), neck.mass_kg());
    close(mass.neck_wood_kg.unwrap(), volume.neck_wood_mm3 * 560e-9, 1e-12);
    close(mass.fretboard_kg.unwrap(), volume.fretboard_mm3 * 705.6e-9, 1e-12);
}

#[test]
fn both_sides_have_one_curvature_at_the_spine() {
    let mut uneven = 0;
    for neck in common::necks(300) {
        if neck.normalised().shaft.profile.iter().any(|p| p.crease) {
            continue;
        }
        let [from, to] = neck.shaft_reach_mm();
        for i in 0..=10 {
            let section = neck.section(from + (to - from) * f64::from(i) / 10.0).unwrap();
            // 2h/(3b²) from the control points.
            let [a, b] = Side::BOTH.map(|side| {
                let p = section.control_points_mm(side).unwrap();
                let (h, reach) = (p[1][1] - p[3][1], p[2][0] - p[3][0]);
                assert!(h > 0.0 && (p[2][1] - p[3][1]).abs() < 1e-12);
                2.0 * h / (3.0 * reach * reach)
            });
            close(a, b, 1e-9 * a);
            let (p, q) = (section.control_points_mm(Side::Bass), section.control_points_mm(Side::Treble));
            uneven += usize::from(p.unwrap()[1][1] != q.unwrap()[1][1]);
        }
    }
    assert!(uneven > 100, "only {uneven} uneven sections were looked at");
}

#[test]
fn a_string_breaks_over_the_nut_as_geometry_says() {
    let mut spec = Specification::default();
    spec.strings.count = 1;
    spec.strings.gauges = Some(vec![mm(1.0)]);
    spec.nut.string_spread = Some(mm(0.0));
    spec.bridge.string_spread = mm(0.0);
    spec.headstock.kind = HeadstockKind::Level;
    spec.headstock.length = Some(mm(150.0));
    spec.headstock.step = mm(7.0);
    spec.headstock.posts = Some(vec![Post { along: mm(100.0), offset: mm(3.5) }]);
    spec.headstock.post_diameter = mm(6.0);
    spec.headstock.post_height = mm(9.0);
    let neck = Neck::new(&spec).unwrap();
    let [path] = neck.string_paths()[..] else { panic!("one string, one path") };
    // The string's centre stands at the post's height and half its gauge above the face, 13 mm below the
    // crown, and comes from 1.1 mm above it; it touches the post's inner side, which lies on its own line.
    close(path.nut_mm[2], 1.1, 1e-12);
    close(path.post_mm[2], -13.0 + 9.5, 1e-12);
    close(path.post_mm[1], 0.0, 1e-12);
    close(path.post_mm[0], -105.0, 1e-12);
    close(path.vertical_deg, libm::atan(4.6 / 105.0).to_degrees(), 1e-12);
    close(path.sideways_deg, 0.0, 1e-12);
    close(path.total_deg, path.vertical_deg, 1e-12);
    close(path.nut_force_per_newton, 2.0 * libm::sin(0.5 * path.total_deg.to_radians()), 1e-15);

    for neck in common::necks(100) {
        let head = neck.headstock();
        let (sin, cos) = (libm::sin(head.angle_deg.to_radians()), libm::cos(head.angle_deg.to_radians()));
        let radius = 0.5 * neck.normalised().headstock.post_diameter.mm();
        for ((path, post), string) in neck.string_paths().iter().zip(&head.posts).zip(neck.layout().strings())
        {
            // In the face's own plane: at right angles to the post's radius, at its distance.
            let along = |p: [f64; 3]| -p[0] * cos - p[2] * sin;
            let glue = neck.normalised().fretboard.thickness.mm();
            let level =
                if head.kind == HeadstockKind::Level { neck.normalised().headstock.step.mm() } else { 0.0 };
            let root = along([head.root_x_mm, 0.0, -glue - level]);
            let (da, dy) = (along(path.post_mm) - root - post.along_mm, path.post_mm[1] - post.y_mm);
            close(libm::hypot(da, dy), radius + 0.5 * string.gauge_mm, 1e-9);
            let (ta, ty) = (along(path.post_mm) - along(path.nut_mm), path.post_mm[1] - path.nut_mm[1]);
            close(da * ta + dy * ty, 0.0, 1e-7);
            // On the side toward the centreline.
            assert!(dy * post.y_mm < 0.0 || post.y_mm == 0.0);
            close(path.nut_force_per_newton, 2.0 * libm::sin(0.5 * path.total_deg.to_radians()), 1e-14);
            // cos total = cos vertical · cos sideways, as the string comes level.
            let [v, a, t] =
                [path.vertical_deg, path.sideways_deg, path.total_deg].map(|d| libm::cos(d.to_radians()));
            close(t, v * a, 1e-12);
        }
    }
}

#[test]
fn a_polyline_stays_within_its_chord_error() {
    for neck in common::necks(40) {
        let [from, to] = neck.reach_mm();
        for i in 0..8 {
            let section = neck.section(from + (to - from) * (f64::from(i) + 0.4) / 8.0).unwrap();
            let fine = section.polyline_mm(1e-5).unwrap();
            for chord in [0.5, 0.05, 0.005] {
                let line = section.polyline_mm(chord).unwrap();
                assert_eq!(line.first(), line.last());
                let far = fine.iter().map(|p| distance(&line, *p)).fold(0.0, f64::max);
                assert!(far <= chord + 1.1e-5, "{far} is more than {chord}");
            }
            assert!(section.polyline_mm(0.0).is_err() && section.polyline_mm(f64::NAN).is_err());
            // The tape around the back is what is left of the fine polyline without the top.
            assert!(section.girth_mm() < length(&fine));
        }
    }
}

fn length(line: &[[f64; 2]]) -> f64 {
    line.windows(2).map(|w| libm::hypot(w[1][0] - w[0][0], w[1][1] - w[0][1])).sum()
}

fn distance(line: &[[f64; 2]], p: [f64; 2]) -> f64 {
    line.windows(2)
        .map(|w| {
            let d = [w[1][0] - w[0][0], w[1][1] - w[0][1]];
            let v = [p[0] - w[0][0], p[1] - w[0][1]];
            let size = d[0] * d[0] + d[1] * d[1];
            let t = if size > 0.0 { ((d[0] * v[0] + d[1] * v[1]) / size).clamp(0.0, 1.0) } else { 0.0 };
            libm::hypot(v[0] - t * d[0], v[1] - t * d[1])
        })
        .fold(f64::INFINITY, f64::min)
}

#[test]
fn girth_is_the_tapes_length() {
    for neck in common::necks(60) {
        let to = neck.layout().board().end_mm().min(neck.wood_reach_mm()[1]);
        for i in 1..6 {
            let x = to * f64::from(i) / 6.0;
            let section = neck.section(x).unwrap();
            let fine = section.polyline_mm(1e-6).unwrap();
            let (edge, half) = (neck.layout().board(), 0.5 * neck.width_mm(x).unwrap());
            let top = edge.sagitta_mm(x, half).unwrap();
            // Everything but the crown, which is an arc of known length.
            let crown = edge.crown().radius_mm(x).map_or(2.0 * half, |r| 2.0 * r * libm::asin(half / r));
            let ledge = neck.normalised().heel.block_width != BlockWidth::Board;
            if !ledge {
                close(section.girth_mm(), length(&fine) - crown, 2e-5);
            }
            assert!(top < neck.carve_line_mm(x, Side::Bass).unwrap());
        }
    }
}

#[test]
fn the_box_holds_the_neck_and_no_more() {
    for neck in common::necks(60) {
        let bounds = neck.bounds();
        let [from, to] = neck.reach_mm();
        assert_eq!(bounds.x_mm, [from, to]);
        let (mut y, mut z) = ([0.0_f64; 2], 0.0_f64);
        for i in 0..=2000 {
            let section = neck.section((from + (to - from) * f64::from(i) / 2000.0).min(to)).unwrap();
            for [py, pz] in section.polyline_mm(0.5).unwrap() {
                y = [y[0].min(py), y[1].max(py)];
                z = z.min(pz);
            }
        }
        assert!(bounds.y_mm[0] <= y[0] && bounds.y_mm[1] >= y[1] && bounds.z_mm[0] <= z);
        assert!(y[0] - bounds.y_mm[0] < 0.05 && bounds.y_mm[1] - y[1] < 0.05 && z - bounds.z_mm[0] < 0.05);
    }
}

#[test]
fn other_kinds_of_neck_are_necks_too() {
    let base = evening_class;
    // A board that ends before the heel does, and one that runs on beyond it over the body.
    let mut short = base();
    short.fretboard.end = Some(Station::Mm(465.0));
    short.heel.end = Some(Station::Mm(500.0));
    let neck = Neck::new(&short).unwrap();
    let glue = 6.0;
    let block = neck.heel().block_depth_mm;
    close(neck.thickness_mm(464.0).unwrap(), block, 1e-12);
    close(neck.thickness_mm(490.0).unwrap(), block - glue, 1e-12);
    assert!(neck.section(490.0).unwrap().part_outline(Part::Fretboard).is_none());
    let mut long = base();
    long.fretboard.end = Some(Station::Mm(500.0));
    long.heel.end = Some(Station::Mm(420.0));
    let neck = Neck::new(&long).unwrap();
    close(neck.thickness_mm(480.0).unwrap(), glue, 1e-12);
    assert_eq!(neck.girth_mm(480.0).unwrap(), 0.0);
    assert!(neck.section(480.0).unwrap().part_outline(Part::NeckWood).is_none());
    assert_eq!(neck.rod_wall_mm(480.0).unwrap(), None);

    // Fretless, one string, twelve strings, no rod, no volute, a flat board, a level headstock.
    let mut plain = base();
    plain.frets.count = 0;
    plain.fretboard.face_markers.clear();
    plain.fretboard.side_markers.clear();
    plain.rod.fitted = false;
    plain.volute.height = mm(0.0);
    plain.fretboard.radius = Radius::Flat;
    plain.headstock.kind = HeadstockKind::Level;
    plain.headstock.step = mm(0.0);
    let neck = Neck::new(&plain).unwrap();
    assert!(neck.least_rod_wall().is_none() && neck.layout().frets().is_empty());
    assert_eq!(neck.volume_mm3().rod_channel_mm3.to_bits(), 0.0_f64.to_bits(), "not -0");
    assert!(neck.joints().scarf.is_none());
    let mut twelve = base();
    twelve.strings.count = 12;
    twelve.nut.width = mm(48.0);
    twelve.bridge.string_spread = mm(60.0);
    assert_eq!(Neck::new(&twelve).unwrap().headstock().posts.len(), 12);

    // A block of its own width needs the carve line below the glue line.
    let mut block = base();
    block.heel.block_width = BlockWidth::Width(mm(50.0));
    let error = Neck::new(&block).unwrap_err();
    assert_eq!(error.faults()[0].path, "heel.block_width");
    block.shaft.carve_line = vec![DepthAt { at: Station::NUT, depth: mm(7.0) }];
    let neck = Neck::new(&block).unwrap();
    close(neck.heel().end_width_mm, 50.0, 1e-12);
    let end = neck.section(neck.wood_reach_mm()[1]).unwrap();
    close(end.part_moments(Part::NeckWood).area_mm2, 50.0 * (neck.heel().block_depth_mm - glue), 1e-9);

    // A pocket for the rod's key is part of what must not be broken into.
    let mut pocket = base();
    pocket.rod.pocket_length = mm(25.0);
    pocket.rod.pocket_depth = mm(8.0);
    let neck = Neck::new(&pocket).unwrap();
    let wall = neck.least_rod_wall().unwrap();
    let at_pocket = neck.rod_wall_mm(-20.0).unwrap().unwrap();
    assert!(wall.proven <= at_pocket && at_pocket < 8.0);
    assert!(wall.value > 0.0 && wall.value - wall.proven <= 1e-6);
    assert_eq!(neck.rod_wall_mm(-40.0).unwrap(), None);
}

#[test]
fn profiles_differ_from_station_to_station_and_side_to_side() {
    let mut spec = evening_class();
    let at = |at, shape| ProfileAt { at, shape, ..ProfileAt::default() };
    spec.shaft.profile = vec![at(Station::Fret(1.0), Shape::V), at(Station::Fret(12.0), Shape::U)];
    let neck = Neck::new(&spec).unwrap();
    let area = |x: f64| {
        let s = neck.section(x).unwrap();
        s.area_mm2() / (neck.width_mm(x).unwrap() * neck.thickness_mm(x).unwrap())
    };
    let x = [1.0, 6.0, 12.0].map(|f| neck.layout().station_of_fret_mm(f).unwrap());
    assert!(area(x[0]) < area(x[1]) && area(x[1]) < area(x[2]));

    // More shoulder on the bass side; the treble side's belly follows so that the spine stays one curve.
    let mut uneven = evening_class();
    let treble = TrebleSide { shoulder: Some(0.45), ..TrebleSide::default() };
    uneven.shaft.profile =
        vec![ProfileAt { shoulder: Some(0.6), treble: Some(treble), ..ProfileAt::default() }];
    let neck = Neck::new(&uneven).unwrap();
    let section = neck.section(x[1]).unwrap();
    let [bass, treble] = Side::BOTH.map(|s| section.control_points_mm(s).unwrap());
    let shoulder = |p: [[f64; 2]; 4]| (p[1][1] - p[0][1]) / (p[3][1] - p[0][1]);
    close(shoulder(bass), 0.6, 1e-12);
    close(shoulder(treble), 0.45, 1e-12);
    assert!(section.centroid_mm()[0] < 0.0);
    // Both numbers at once ask for a crease.
    let both = TrebleSide { shoulder: Some(0.45), belly: Some(0.5), ..TrebleSide::default() };
    uneven.shaft.profile[0].treble = Some(both.clone());
    assert!(Neck::new(&uneven).unwrap_err().to_string().contains("crease"));
    uneven.shaft.profile[0].crease = true;
    let neck = Neck::new(&uneven).unwrap();
    let p = neck.section(x[1]).unwrap().control_points_mm(Side::Treble).unwrap();
    close(shoulder(p), 0.45, 1e-12);
}

#[test]
fn a_crease_frees_sides_that_are_only_carved_to_different_depths() {
    let mut spec = evening_class();
    spec.shaft.treble_carve_line = Some(vec![DepthAt { at: Station::NUT, depth: mm(8.0) }]);
    let shoulder = |spec: &Specification| {
        let neck = Neck::new(spec).unwrap();
        let p = neck.section(200.0).unwrap().control_points_mm(Side::Treble).unwrap();
        (p[1][1] - p[0][1]) / (p[3][1] - p[0][1])
    };
    // One curvature at the spine asks for another shoulder; a crease leaves the C as it is.
    assert!(shoulder(&spec) < 0.45);
    spec.shaft.profile[0].crease = true;
    close(shoulder(&spec), ELLIPSE, 1e-12);
    // The same where the lines only part away from the profile's station, which is at the nut here.
    let line = Neck::new(&spec).unwrap().normalised().shaft.carve_line[0].depth;
    let treble = [(0.0, line), (200.0, mm(8.0))];
    spec.shaft.treble_carve_line =
        Some(treble.map(|(x, depth)| DepthAt { at: Station::Mm(x), depth }).to_vec());
    spec.shaft.profile[0].at = Station::NUT;
    close(shoulder(&spec), ELLIPSE, 1e-12);
}

#[test]
fn what_makes_no_neck_is_refused_where_it_shows() {
    let refused = |change: &dyn Fn(&mut Specification), path: &str| {
        let mut spec = evening_class();
        change(&mut spec);
        let error = Neck::new(&spec).unwrap_err();
        assert!(error.faults().iter().any(|f| f.path == path), "{path} is not in {error}");
    };
    // Two thicknesses close together lead far beyond what a neck can be.
    refused(
        &|s| {
            s.shaft.thickness[0] = ThicknessAt { at: Station::Mm(30.0), thickness: mm(21.0) };
            s.shaft.thickness[1] = ThicknessAt { at: Station::Mm(40.0), thickness: mm(23.0) };
        },
        "shaft.thickness",
    );
    // Posts on the step of a level headstock, and in the nut.
    let level = |s: &mut Specification| {
        s.headstock.kind = HeadstockKind::Level;
        s.headstock.step_radius = mm(100.0);
        s.headstock.length = Some(mm(200.0));
    };
    let post = |along: f64| Post { along: mm(along), offset: mm(0.0) };
    refused(
        &|s| {
            level(s);
            s.headstock.posts = Some((0..6).map(|i| post(45.0 + 20.0 * f64::from(i))).collect());
        },
        "headstock.posts[0].along",
    );
    refused(
        &|s| {
            s.volute.tip = mm(50.0);
            s.volute.run_headstock = Some(mm(20.0));
            s.headstock.posts = Some((0..6).map(|i| post(20.0 * f64::from(i))).collect());
        },
        "headstock.posts[0].along",
    );
    let mut spec = evening_class();
    level(&mut spec);
    assert!(Neck::new(&spec).is_ok(), "posts that are placed stand clear of the step");
}

#[test]
fn wood_past_the_channels_end_counts() {
    // Behind the channel's end the back falls away: in its own section the wall is thick, in space it is not.
    let mut spec = evening_class();
    spec.shaft.thickness = vec![ThicknessAt { at: Station::NUT, thickness: mm(30.0) }];
    spec.volute.height = mm(0.0);
    spec.volute.tip = mm(-5.0);
    spec.volute.run_headstock = Some(mm(2.0));
    spec.headstock.angle = Angle::from_deg(10.0);
    spec.rod.depth[0].depth = mm(4.0);
    let neck = Neck::new(&spec).unwrap();
    let least = neck.least_rod_wall().unwrap();
    let in_section = neck.rod_wall_mm(0.0).unwrap().unwrap();
    assert!(least.proven < in_section - 2.0 && least.x_mm < 0.0, "{least:?} against {in_section}");
}

#[test]
fn stations_off_the_neck_are_named() {
    let neck = Neck::new(&evening_class()).unwrap();
    let [from, to] = neck.reach_mm();
    for x in [from - 1e-9, to + 1e-9, f64::NAN, f64::INFINITY] {
        let error = neck.thickness_mm(x).unwrap_err();
        assert_eq!(error.faults()[0].path, "x_mm");
        assert_eq!((error.faults()[0].lowest, error.faults()[0].highest), (Some(from), Some(to)));
        assert!(neck.section(x).is_err() && neck.girth_mm(x).is_err() && neck.rod_wall_mm(x).is_err());
    }
    let mut out = [7.0; 3];
    let error = neck.width_mm_into(&[0.0, 1.0, 9e9], &mut out).unwrap_err();
    assert_eq!(error.faults()[0].path, "x_mm[2]");
    assert_eq!(out, [7.0; 3], "nothing is written on failure");
    assert!(
        neck.girth_mm_into(&[0.0], &mut out).unwrap_err().to_string().contains("one place for each station")
    );
    // Arrays have the bits of single answers.
    let x: Vec<f64> = (0..500).map(|i| from + (to - from) * f64::from(i) / 500.0).collect();
    let mut out = vec![0.0; x.len()];
    neck.thickness_mm_into(&x, &mut out).unwrap();
    let bits = |value: f64| value.to_bits();
    for (x, t) in x.iter().zip(&out) {
        assert_eq!(neck.thickness_mm(*x).unwrap().to_bits(), t.to_bits());
        // And so have arrays of one.
        let (mut thickness, mut width) = (0.0, 0.0);
        neck.thickness_mm_into(&[*x], std::slice::from_mut(&mut thickness)).unwrap();
        neck.width_mm_into(&[*x], std::slice::from_mut(&mut width)).unwrap();
        assert_eq!([thickness, width].map(bits), [*t, neck.width_mm(*x).unwrap()].map(bits));
    }
    for off in [from - 1e-9, f64::NAN] {
        let mut out = [7.0];
        assert_eq!(neck.thickness_mm_into(&[off], &mut out).unwrap_err().faults()[0].path, "x_mm[0]");
        assert_eq!(neck.width_mm_into(&[off], &mut out).unwrap_err().faults()[0].path, "x_mm[0]");
        assert_eq!(out, [7.0]);
    }
}

#[test]
fn warnings_tell_what_a_caliper_would_not() {
    assert!(Neck::new(&evening_class()).unwrap().warnings().is_empty());
    let mut spec = evening_class();
    spec.shaft.thickness[0].at = Station::NUT;
    spec.rod.least_wall = mm(9.0);
    spec.woods.neck.species = "elm of the village green".into();
    spec.woods.neck.density = None;
    spec.headstock.angle = Angle::from_deg(0.5);
    let neck = Neck::new(&spec).unwrap();
    let warnings = neck.warnings();
    for path in ["shaft.thickness[0]", "rod.least_wall", "woods.neck.density", "headstock.posts[0]"] {
        assert!(warnings.iter().any(|w| w.path == path), "{path} is missing in {warnings:?}");
    }
    assert_eq!(neck.mass_kg().neck_wood_kg, None);
}

#[test]
fn an_outline_of_ones_own_is_kept() {
    let mut spec = evening_class();
    let edge = |points: &[(f64, f64)]| {
        Some(points.iter().map(|p| EdgePoint { along: mm(p.0), offset: mm(p.1) }).collect())
    };
    spec.headstock.length = Some(mm(160.0));
    spec.headstock.bass_edge = edge(&[(40.0, 36.0), (110.0, 39.0), (160.0, 30.0)]);
    spec.headstock.treble_edge = edge(&[(40.0, 34.0), (160.0, 34.0)]);
    let neck = Neck::new(&spec).unwrap();
    let head = neck.headstock();
    let cos = libm::cos(head.angle_deg.to_radians());
    for (along, width) in [(40.0, 70.0), (160.0, 64.0)] {
        let x = (head.root_x_mm - along * cos).max(head.tip_x_mm);
        close(neck.width_mm(x).unwrap(), width, 1e-9);
    }
    // Depth of the slab, square to its face, anywhere on it.
    let x = head.root_x_mm - 120.0 * cos;
    close(neck.thickness_mm(x).unwrap() * cos, head.thickness_mm, 1e-12);
}

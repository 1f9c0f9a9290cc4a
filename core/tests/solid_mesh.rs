//! Meshes of random necks: closed, turned outward, of no flat triangle, and everywhere within their tolerance of the solid.

use std::collections::BTreeMap;

use neckwright::measure::{Kind, Length};
use neckwright::shape::{Neck, Side};
use neckwright::solid::{Curve, Mesh, Point3, Solid, SplineCurve, SplineSurface, Surface};
use neckwright::spec::{MeshOptions, Radius, SolidOptions, numbers};

use common::near::{Near, cross, dot, minus};

mod common;

/// Every triangle is higher than this over its longest side, mm.
const LEAST_MM: f64 = 1e-6;

/// No triangle looks the other way than the surface at any of its corners, or is flat.
fn turned_outward(mesh: &Mesh) {
    for t in &mesh.triangles {
        let [a, b, c] = t.map(|v| mesh.positions_mm[v as usize]);
        let normal = cross(minus(b, a), minus(c, a));
        let longest = [[a, b], [b, c], [c, a]].map(|[a, b]| dot(minus(b, a), minus(b, a))).into_iter();
        let height = (dot(normal, normal) / longest.fold(0.0, f64::max)).sqrt();
        assert!(height > LEAST_MM, "a flat triangle {t:?} of the {}: {height:e} mm", mesh.name);
        for v in t {
            let toward = dot(normal, mesh.normals[*v as usize]);
            assert!(toward > 0.0, "a triangle of the {} at {a:?} is turned over: {toward:e}", mesh.name);
        }
    }
}

/// Closed, turned outward, no triangle flat or turned over; and its volume.
fn sound(mesh: &Mesh) -> f64 {
    turned_outward(mesh);
    let (corners, triangles) = mesh.places().expect("lists that go together");
    let mut sides: BTreeMap<[u32; 2], u32> = BTreeMap::new();
    let mut volume = 0.0;
    for t in &triangles {
        for k in 0..3 {
            *sides.entry([t[k], t[(k + 1) % 3]]).or_default() += 1;
        }
        let [a, b, c] = t.map(|v| corners[v as usize]);
        volume += dot(a, cross(b, c)) / 6.0;
    }
    for ([a, b], times) in &sides {
        assert_eq!((*times, sides.get(&[*b, *a])), (1, Some(&1)), "a side of the {}", mesh.name);
    }
    let mut places: Vec<[u64; 3]> = corners.iter().map(|p| p.map(f64::to_bits)).collect();
    places.sort_unstable();
    places.dedup();
    assert_eq!(places.len(), corners.len(), "two corners of the {} at one place", mesh.name);
    volume
}

fn meshed(solid: &Solid, chord: f64) -> Mesh {
    let options = MeshOptions { chord: Length::from_mm(chord), ..MeshOptions::default() };
    let mesh = solid.mesh(&options).expect("a mesh");
    assert!(mesh.chord_mm <= chord);
    for normal in &mesh.normals {
        assert!((dot(*normal, *normal) - 1.0).abs() < 1e-9);
    }
    assert!(mesh.station_girth.iter().flatten().all(|v| v.is_finite()));
    mesh
}

fn necks(seed: u64, count: usize) -> Vec<Neck> {
    let mut next = numbers(seed);
    let specs = std::iter::from_fn(|| Some(neckwright::spec::Specification::plausible(&mut next)));
    specs.filter_map(|s| Neck::new(&s).ok()).take(count).collect()
}

fn solids(neck: &Neck, slots: bool) -> [Solid; 2] {
    let made = neck.solids(&SolidOptions { slots, ..SolidOptions::default() }).expect("solids");
    [made.neck_wood, made.fretboard]
}

#[test]
fn closed_turned_outward_and_as_large() {
    for neck in necks(54, 10) {
        for slots in [false, true] {
            for solid in solids(&neck, slots) {
                for chord in [0.1, 0.02] {
                    let volume = sound(&meshed(&solid, chord));
                    assert!(volume > 0.0);
                    let want = neck.volume_mm3();
                    let want =
                        if solid.name == "neck wood" { want.neck_wood_mm3 } else { want.fretboard_mm3 };
                    // No face is larger than some 130 mm by the length of the neck.
                    let most = chord * 130.0 * 2.0 * 800.0;
                    if !(slots && solid.name == "fretboard") {
                        assert!((volume - want).abs() < most, "{volume} for {want}");
                    }
                }
            }
        }
    }
}

/// The meshes with and without slots differ by the slots' volume: to rounding where all faces beside them are planes, as on a
/// flat board whose carve lines lie below it.
#[test]
fn slots_take_off_what_is_told() {
    let mut exact = 0;
    for neck in necks(56, 24) {
        let mut spec = neck.normalised().clone();
        (spec.fretboard.radius, spec.fretboard.end_radius) = (Radius::Flat, None);
        for spec in [spec, neck.normalised().clone()] {
            let Ok(neck) = Neck::new(&spec) else { continue };
            let made = |slots| neck.solids(&SolidOptions { slots, ..SolidOptions::default() });
            let (Ok(plain), Ok(slotted)) = (made(false), made(true)) else { continue };
            let [plain, slotted] = [plain, slotted].map(|s| sound(&meshed(&s.fretboard, 0.02)));
            let told = neck.volume_mm3();
            assert!(told.fret_slots_mm3 >= 0.0 && told.fret_slots_mm3 < 0.2 * told.fretboard_mm3);
            let flat = (plain - told.fretboard_mm3).abs() < 1e-9 * plain;
            // Meshes of a crown lie below it by no more than the chord.
            let most = if flat { 1e-9 * plain } else { 0.04 * plain / neck.layout().board().thickness_mm() };
            let off = (plain - slotted - told.fret_slots_mm3).abs();
            assert!(off <= most, "{} and not {}", plain - slotted, told.fret_slots_mm3);
            exact += usize::from(flat && told.fret_slots_mm3 > 0.0);
        }
    }
    assert!(exact >= 5, "{exact} boards without a bent face");
}

#[test]
fn nowhere_further_off_than_the_chord() {
    let mut next = numbers(52);
    let mut draw = || (next() >> 11) as f64 / (1_u64 << 53) as f64;
    let mut tried = 0;
    for (i, neck) in necks(53, 8).iter().enumerate() {
        let chord = [0.1, 0.02, 0.02, 0.005][i % 4];
        let [wood, board] = solids(neck, i % 2 == 0);
        for solid in [&wood, &board] {
            let near = Near::new(&meshed(solid, chord));
            for edge in &solid.edges {
                let Curve::Spline(curve) = &edge.curve else { continue };
                let [from, to] = curve.knots.reach();
                for _ in 0..200 {
                    let p = curve.at(from + (to - from) * draw());
                    assert!(near.within(p, chord), "an edge's {p:?} lies off the {}", solid.name);
                    tried += 1;
                }
            }
        }
        tried += back_lies_within(neck, &wood, chord, 100_000, &mut draw);
    }
    assert!(tried > 700_000, "{tried}");
}

/// Random points of the back, where it lies below the wood's top, lie within the tolerance of its mesh; how many those were.
fn back_lies_within(
    neck: &Neck,
    wood: &Solid,
    chord: f64,
    count: usize,
    draw: &mut impl FnMut() -> f64,
) -> usize {
    let near = Near::new(&meshed(wood, chord));
    let [from, to] = neck.shaft_reach_mm();
    let mut tried = 0;
    for _ in 0..count {
        let (x, u) = (from + (to - from) * draw(), draw());
        let side = Side::BOTH[usize::from(draw() < 0.5)];
        let laws = neck.laws();
        let at = |k: usize| {
            let (out, depth) = (&laws.control_out.of(side)[k], &laws.control_depth.of(side)[k]);
            [out.at(x).expect("on the neck"), depth.at(x).expect("on the neck")]
        };
        let share = [
            (1.0 - u) * (1.0 - u) * (1.0 - u),
            3.0 * u * (1.0 - u) * (1.0 - u),
            3.0 * u * u * (1.0 - u),
            u * u * u,
        ];
        let [out, depth] = [0, 1].map(|c| (0..4).map(|k| share[k] * at(k)[c]).sum::<f64>());
        if depth <= board_underside(wood) + 1e-6 {
            continue;
        }
        let p = [x, side.sign() * neck.hand_sign() * out, -depth];
        assert!(near.within(p, chord), "{p:?} of the back lies off the mesh");
        tried += 1;
    }
    tried
}

#[test]
fn nowhere_further_off_than_a_micrometre() {
    let mut next = numbers(55);
    let mut draw = || (next() >> 11) as f64 / (1_u64 << 53) as f64;
    let neck = common::necks(1).remove(0);
    let [wood, _] = solids(&neck, false);
    assert!(back_lies_within(&neck, &wood, 0.001, 100_000, &mut draw) > 80_000);
}

/// Depth of the glue line: that of the wood's highest place over the shaft.
fn board_underside(wood: &Solid) -> f64 {
    let over = wood.vertices.iter().filter(|v| v[0] > 0.0);
    -over.map(|v| v[2]).fold(f64::NEG_INFINITY, f64::max)
}

#[test]
fn a_grid_lies_on_the_back() {
    let neck = common::necks(1).remove(0);
    let [from, to] = neck.shaft_reach_mm();
    let x: Vec<f64> = (0..=40).map(|i| from + (to - from) * f64::from(i) / 40.0).collect();
    let columns = 33;
    let mut points = vec![0.0; x.len() * columns * 3];
    let mut normals = points.clone();
    neck.back_grid_into(&x, columns, &mut points, &mut normals).expect("buffers that fit");
    let at =
        |all: &[f64], i: usize, j: usize| -> Point3 { [0, 1, 2].map(|k| all[(i * columns + j) * 3 + k]) };
    for (i, x) in x.iter().enumerate() {
        let spine = at(&points, i, columns / 2);
        assert!((spine[2] + neck.laws().spine_depth.at(*x).expect("on the neck")).abs() < 1e-12);
        for j in 0..columns {
            let normal = at(&normals, i, j);
            assert!((dot(normal, normal) - 1.0).abs() < 1e-12);
            if j > 0 && j + 1 < columns && i > 0 && i < 40 {
                let around = minus(at(&points, i, j + 1), at(&points, i, j - 1));
                assert!(dot(normal, around).abs() < 0.2 * dot(around, around).sqrt());
            }
        }
        assert!(at(&normals, i, columns / 2)[2] < -0.5);
    }
    let mut single = vec![0.0_f32; points.len()];
    let mut square = single.clone();
    neck.back_grid_into(&x, columns, &mut single, &mut square).expect("buffers that fit");
    assert!(single.iter().zip(&points).all(|(a, b)| *a == *b as f32));
    let short = neck.back_grid_into(&x, columns, &mut single[1..], &mut square).expect_err("a short buffer");
    assert!(short.to_string().contains("positions_mm"), "{short}");
    for columns in [0, 1] {
        let few = neck.back_grid_into(&x, columns, &mut single, &mut square).expect_err("no grid");
        let fault = &few.faults()[0];
        assert_eq!(
            (&*fault.path, fault.lowest, &*fault.value),
            ("columns", Some(2.0), &*columns.to_string())
        );
        assert!(!fault.remedy.is_empty());
    }
    // Rows without end, but none of them: no room is asked for.
    let none: &mut [f64] = &mut [];
    neck.back_grid_into(&[], usize::MAX, none, &mut []).expect("no stations, no buffers");
}

/// A solid that is none of the library's, and what its error says.
fn refused(solid: &Solid, what: &str) {
    let options = MeshOptions { chord: Length::from_mm(0.5), ..MeshOptions::default() };
    let error = solid.mesh(&options).expect_err(what);
    let fault = &error.faults()[0];
    assert_eq!((fault.kind, fault.path.as_str()), (Kind::Geometry, "solid"), "{what}");
    assert!(!fault.remedy.is_empty() && fault.reason.contains(&solid.name), "{fault:?}");
}

#[test]
fn a_solid_that_is_none_is_refused() {
    let [wood, board] = solids(&necks(57, 1)[0], false);
    for good in [&wood, &board] {
        let with = |what: &str, change: &dyn Fn(&mut Solid)| {
            let mut solid = good.clone();
            change(&mut solid);
            refused(&solid, what);
        };
        let spline = good.faces.iter().position(|f| matches!(f.surface, Surface::Spline(_)));
        let spline =
            spline.or_else(|| good.faces.iter().position(|f| matches!(f.surface, Surface::Cylinder { .. })));
        let spline = spline.expect("a face that is not flat");
        let curved = good.edges.iter().position(|e| matches!(e.curve, Curve::Spline(_))).expect("a curve");
        let surface = |s: &mut Solid, change: &dyn Fn(&mut SplineSurface)| match &mut s.faces[spline].surface
        {
            Surface::Spline(own) => change(own),
            Surface::Cylinder { radius_mm, .. } => *radius_mm = 0.0,
            Surface::Plane { .. } => {}
        };
        let curve = |s: &mut Solid, change: &dyn Fn(&mut SplineCurve)| {
            if let Curve::Spline(own) = &mut s.edges[curved].curve {
                change(own);
            }
        };
        with("a face left out", &|s| drop(s.faces.remove(0)));
        with("a loop left out", &|s| drop(s.faces[0].loops.pop()));
        with("a loop of nothing", &|s| s.faces[0].loops.push(Vec::new()));
        with("a step left out", &|s| _ = s.faces[1].loops[0].pop());
        with("an edge that is none", &|s| s.faces[1].loops[0][0].edge = 1 << 40);
        with("an edge that nobody goes along", &|s| s.edges.push(s.edges[0].clone()));
        with("an end that is none", &|s| s.edges[2].ends[1] = usize::MAX);
        with("no vertices", &|s| s.vertices.clear());
        with("a vertex that is none", &|s| s.vertices[3][1] = f64::NAN);
        with("a vertex far away", &|s| s.vertices[3][1] = 1e200);
        with("an edge off by nothing known", &|s| s.edges[0].within_mm = f64::NAN);
        with("a pole that is none", &|s| surface(s, &|own| own.poles[0][0][2] = f64::INFINITY));
        with("a row of poles too few", &|s| surface(s, &|own| drop(own.poles.pop())));
        with("a short row of poles", &|s| surface(s, &|own| _ = own.poles[1].pop()));
        with("no poles", &|s| surface(s, &|own| own.poles.clear()));
        with("knots that fall", &|s| surface(s, &|own| own.knots[0].values.reverse()));
        with("no knots", &|s| surface(s, &|own| own.knots[1].values.clear()));
        with("knots without end", &|s| surface(s, &|own| own.knots[0].multiplicities[0] = usize::MAX));
        with("a degree without end", &|s| surface(s, &|own| own.knots[1].degree = usize::MAX));
        with("degree 0", &|s| surface(s, &|own| own.knots[1].degree = 0));
        with("weights too few", &|s| surface(s, &|own| own.weights = Some(vec![vec![1.0]])));
        let none = |own: &mut SplineSurface| {
            own.weights = Some(own.poles.iter().map(|row| vec![0.0; row.len()]).collect());
        };
        with("weights of nothing", &|s| surface(s, &none));
        with("a curve's pole too few", &|s| curve(s, &|own| _ = own.poles.pop()));
        with("a curve's weight below 0", &|s| {
            curve(s, &|own| own.weights = Some(vec![-1.0; own.poles.len()]))
        });
        with("a curve that ends elsewhere", &|s| curve(s, &|own| own.poles[0][1] += 1.0));
        with("a curve's knots as one", &|s| curve(s, &|own| own.knots.values.truncate(1)));
    }
}

/// A random neck whose spine has a row a rounding error past its first knot: second differences of what lies between the two are noise,
/// and no tolerance but a few could be kept while they were taken for its bend.
#[test]
fn a_row_beside_a_knot_by_rounding_makes_a_mesh() {
    let neck = Neck::from_json(include_str!("solid_mesh_rounding.json")).expect("a neck");
    let [wood, _] = solids(&neck, false);
    for chord in [0.3, 0.1, 0.05, 0.02, 0.01] {
        assert!(sound(&meshed(&wood, chord)) > 0.0);
    }
}

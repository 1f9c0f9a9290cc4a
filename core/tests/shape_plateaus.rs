//! Equal neighbouring measures make a neck like any others, level between them.

use neckwright::shape::Neck;

#[test]
fn equal_thicknesses_stay_level() {
    for (list, from, to, reads) in [
        (r#"[{"at": "fret 1", "thickness": 21}, {"at": "fret 12", "thickness": 21}]"#, 60.0, 300.0, 21.0),
        (
            r#"[{"at": 0, "thickness": 20}, {"at": 150, "thickness": 21}, {"at": 350, "thickness": 21}]"#,
            150.0,
            350.0,
            21.0,
        ),
        (
            r#"[{"at": 0, "thickness": 20}, {"at": 150, "thickness": 20}, {"at": 350, "thickness": 22}]"#,
            60.0,
            150.0,
            20.0,
        ),
        (
            r#"[{"at": 20, "thickness": 20}, {"at": 90, "thickness": 20}, {"at": 200, "thickness": 20}]"#,
            60.0,
            300.0,
            20.0,
        ),
    ] {
        let neck = Neck::from_json(&format!(r#"{{"shaft": {{"thickness": {list}}}}}"#))
            .unwrap_or_else(|e| panic!("{list}: {e}"));
        for i in 0..=100 {
            let x = from + (to - from) * f64::from(i) / 100.0;
            let got = neck.thickness_mm(x).unwrap();
            assert!((got - reads).abs() <= 4e-15 * reads, "{list}: {got} at {x}");
        }
    }
}

#[test]
fn equal_depths_of_the_carve_line_and_the_rod_stay_level() {
    let neck = Neck::from_json(
        r#"{"shaft": {"carve_line": [{"at": 0, "depth": 4}, {"at": 300, "depth": 4}]},
            "rod": {"depth": [{"at": 0, "depth": 8}, {"at": 200, "depth": 8}, {"at": 300, "depth": 8}]}}"#,
    )
    .unwrap();
    let one = Neck::from_json(
        r#"{"shaft": {"carve_line": [{"at": 0, "depth": 4}]}, "rod": {"depth": [{"at": 0, "depth": 8}]}}"#,
    )
    .unwrap();
    for i in 0..=100 {
        let x = 60.0 + 2.4 * f64::from(i);
        let (a, b) = (neck.rod_wall_mm(x).unwrap().unwrap(), one.rod_wall_mm(x).unwrap().unwrap());
        assert!((a - b).abs() <= 1e-12, "{a} and {b} at {x}");
        let side = neckwright::shape::Side::Bass;
        let (a, b) = (neck.carve_line_mm(x, side).unwrap(), one.carve_line_mm(x, side).unwrap());
        assert!((a - b).abs() <= 1e-12, "{a} and {b} at {x}");
    }
}

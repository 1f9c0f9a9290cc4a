//! Runs every shared case in Rust; with `NECKWRIGHT_WRITE_CASES` set it writes bits and messages first.

use neckwright_cases::{CaseFile, case_files, check, pinned};

#[test]
fn every_shared_case_holds_in_rust() {
    let write = std::env::var_os("NECKWRIGHT_WRITE_CASES").is_some_and(|v| !v.is_empty());
    let (mut passed, mut failures) = (0, Vec::new());
    for path in case_files().unwrap() {
        let name = path.file_name().unwrap_or_default().to_string_lossy().into_owned();
        let mut text = std::fs::read_to_string(&path).unwrap();
        if write {
            match pinned(&text) {
                Ok(new) if new != text => {
                    std::fs::write(&path, &new).unwrap();
                    text = new;
                }
                Ok(_) => {}
                Err(e) => failures.push(format!("{name}:{e}")),
            }
        }
        let file = CaseFile::read(&text).unwrap_or_else(|e| panic!("{name}:{e}"));
        assert!(!file.cases.is_empty(), "{name} holds no case");
        if !file.is_for("rust") {
            println!("{name}: not for Rust");
            continue;
        }
        for case in &file.cases {
            match check(case, true) {
                Ok(()) => passed += 1,
                Err(e) => failures.push(format!("{name}:{}: {}: {}", case.line, case.title, e.join("; "))),
            }
        }
    }
    println!("{passed} cases passed, {} failed", failures.len());
    assert!(failures.is_empty(), "\n{}", failures.join("\n"));
}

/// The runner itself: what it must not let through.
#[test]
fn a_wrong_case_fails() {
    let run = |text: &str| {
        let file = CaseFile::read(text).unwrap();
        check(&file.cases[0], true).map_err(|e| e.join("; "))
    };
    let head =
        "case t\noperation fret_positions_mm\ngiven scale_mm 640\ngiven fret_count 1\ngiven divisions 1\n";
    let right = "expect positions mm within 1e-9\n  320\nbits positions\n  4074000000000000\n";
    assert_eq!(run(&format!("{head}{right}")), Ok(()));
    for (wrong, complaint) in [
        (right.replace("320", "320.1"), "320 instead of 320.1"),
        (right.replace("320", "320 1"), "1 values instead of 2"),
        (right.replace("4074000000000000", "4074000000000001"), "other bits"),
        (right.replace("bits positions\n  4074000000000000\n", ""), "no bits"),
        (right.replace("positions", "places"), "no result places"),
        ("fault out_of_range scale_mm\n  text\n".to_owned(), "a fault was expected"),
    ] {
        let complaint_given = run(&format!("{head}{wrong}")).expect_err(&wrong);
        assert!(complaint_given.contains(complaint), "{complaint_given}");
    }
    for nonsense in ["what\n", "case t\n", &format!("{head}{right}fault out_of_range -\n"), "  continues\n"] {
        assert!(CaseFile::read(nonsense).is_err(), "{nonsense}");
    }
}

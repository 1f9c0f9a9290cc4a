//! Readings that come to no neck: it is said that it is the copied one, and which readings to look at.

use neckwright::inspect::{Readings, copy_neck};
use neckwright::measure::Length;
use neckwright::spec::{CopyOptions, Specification};

fn refused(text: &str) -> String {
    let readings = Readings::from_csv(text).unwrap();
    let mut base = Specification::default();
    base.nut.string_spread = Some(Length::from_mm(36.0));
    copy_neck(&base, &readings, &CopyOptions::default()).unwrap_err().to_string()
}

/// No number in what is said has more than four decimals.
fn is_short(told: &str) -> bool {
    told.split(|c: char| !c.is_ascii_digit() && c != '.')
        .filter_map(|number| number.split_once('.'))
        .all(|(_, decimals)| decimals.len() <= 4)
}

#[test]
fn thicknesses_that_come_to_less_than_nothing() {
    let told = refused("at,quantity,value\nfret 3,thickness,8\nfret 9,thickness,40\n");
    assert!(is_short(&told), "{told}");
    for line in told.lines() {
        assert!(
            line.starts_with("line 2, readings[0].value = 8 mm: the copied neck can't be built, "),
            "{told}"
        );
        assert!(
            line.contains("it would have shaft.thickness[") && line.contains("line 2 and line 3"),
            "{told}"
        );
    }
}

#[test]
fn a_width_in_which_no_strings_lie() {
    let told = refused("at,quantity,value\nfret 3,thickness,22\nnut,width,20\n");
    assert!(is_short(&told), "{told}");
    assert!(
        told.starts_with("line 3, readings[1].value = 20 mm: the copied neck can't be built, "),
        "{told}"
    );
    assert!(told.contains("look at the reading there, line 3"), "{told}");
    assert!(!told.contains("spread the strings less"), "{told}");
}

/// What is wrong with the line through all of them is the fault of none in particular.
#[test]
fn a_line_through_several_thicknesses_blames_no_one_of_them() {
    let told = refused(
        "at,quantity,value\nfret 1,thickness,22\nfret 2,thickness,22.1\nfret 8,thickness,10\nfret 12,thickness,40\n",
    );
    assert!(is_short(&told) && told.contains("shaft.thickness = "), "{told}");
    assert!(!told.contains("line 2 and line 3"), "{told}");
}

//! Readings that contradict each other are named, and nothing is built on them.

use crate::check_common::{Normal, around, checked, point, stations, thickness};
use neckwright::inspect::{Inspection, Reading, Readings};
use neckwright::shape::Neck;
use neckwright::spec::{InspectionOptions, Stock};

fn inspected(text: &str) -> (Inspection, Readings) {
    let readings = Readings::from_csv(text).unwrap();
    (Neck::from_json("{}").unwrap().inspect(&readings, &InspectionOptions::default()).unwrap(), readings)
}

#[test]
fn a_point_at_the_spine_against_a_thickness() {
    let (found, readings) = inspected(
        "at,quantity,value,across,uncertainty\nfret 3,width,46,,\nfret 5,point,19.3,1,0.1\nfret 5,thickness,22.2,,0.1\n",
    );
    assert_eq!(found.doubtful.len(), 1, "{found:#?}");
    let doubt = found.doubtful[0];
    let mut lines = doubt.lines;
    lines.sort_unstable();
    assert_eq!(lines, [3, 4]);
    assert!(
        (doubt.apart.mm - 2.9).abs() < 0.1 && (doubt.apart.uncertainty_mm - 0.02_f64.sqrt()).abs() < 1e-12
    );
    assert_eq!(
        found.sentences[0],
        "fret 5: the point of line 3 and the thickness of line 4 contradict each other by 2.9 mm (±0.3): read again"
    );
    // Nothing is told of that place but the doubt.
    assert_eq!(found.set_aside(), [1, 2]);
    assert!(found.low.is_empty() && found.low_readings(&readings).unwrap().is_empty());
    assert!(found.sentences[1..].iter().all(|s| s.starts_with("fret 3")), "{:#?}", found.sentences);
}

#[test]
fn no_wood_is_as_steep_as_two_thicknesses_say() {
    let (found, readings) =
        inspected("at,quantity,value,uncertainty\n120,thickness,22.0,0.05\n120.5,thickness,21.0,0.05\n");
    assert_eq!(found.doubtful.len(), 1);
    assert_eq!(found.doubtful[0].readings, [0, 1]);
    assert!(found.low_readings(&readings).unwrap().is_empty());
    let (found, _) =
        inspected("at,quantity,value,uncertainty\n120,thickness,22.0,0.05\n140,thickness,21.0,0.05\n");
    assert!(found.doubtful.is_empty());
    // One that is wrong takes one other with it, and no more.
    let (found, _) = inspected(
        "at,quantity,value,uncertainty\n120,thickness,22.0,0.05\n120.5,thickness,22.0,0.05\n\
         121,thickness,20.5,0.05\n121.5,thickness,22.0,0.05\n",
    );
    assert_eq!(found.doubtful.len(), 1);
    assert!(found.doubtful[0].readings.contains(&2), "{:#?}", found.doubtful);
}

#[test]
fn readings_that_err_as_they_say_contradict_nothing() {
    let mut noise = Normal::new(61);
    const SIGMA: f64 = 0.03;
    for neck in crate::common::necks(300) {
        let mut all: Vec<Reading> = Vec::new();
        for x in stations(&neck, 8) {
            let off = noise.between(-0.5, 0.5);
            all.push(thickness(&neck, x, off, SIGMA, &mut noise));
            all.push(thickness(&neck, x + 0.5, off, SIGMA, &mut noise));
            all.extend(around(&neck, x, 20, 0).iter().map(|s| point(s, off, SIGMA, &mut noise)));
        }
        let found = neck.inspect(&checked(&all), &InspectionOptions::default()).unwrap();
        assert!(found.doubtful.is_empty(), "{:?}", found.doubtful);
    }
}

/// The wood of every stage, read without any error to speak of: no surface contradicts itself.
#[test]
fn the_wood_of_no_stage_contradicts_itself() {
    let mut told = 0;
    for neck in crate::common::necks(60) {
        let Ok(plan) = neck.carving_plan(&Stock::default()) else { continue };
        for stage in plan.stages() {
            for x in stations(&neck, 3) {
                let Ok(line) = stage.wood.polyline_mm(x, 1e-3) else { continue };
                // Places every 0.25 mm across, on the side that is away from the board.
                let mut all: Vec<Reading> = Vec::new();
                for i in -16..=16 {
                    let across = 0.25 * f64::from(i);
                    let low = line.windows(2).filter_map(|w| {
                        let (a, b) = (w[0], w[1]);
                        let y = neck.hand_sign() * across;
                        ((a[0] - y) * (b[0] - y) <= 0.0 && a[0] != b[0])
                            .then(|| a[1] + (b[1] - a[1]) * (y - a[0]) / (b[0] - a[0]))
                    });
                    let depth = -low.fold(f64::INFINITY, f64::min);
                    if depth.is_finite() {
                        let measured = neckwright::inspect::Measured::Point { across_mm: across };
                        all.push(crate::check_common::reading(x, measured, depth, 0.01));
                    }
                }
                let all = crate::check_common::sound(&neck, &all);
                told += all.len();
                let found = neck.inspect(&checked(&all), &InspectionOptions::default()).unwrap();
                assert!(found.doubtful.is_empty(), "{:?} at {x}: {:?}", stage.name, found.doubtful);
            }
        }
    }
    assert!(told > 10_000, "{told}");
}

/// A width read as 30 where 44 mm are: named, with what to do, and nothing is built on it.
#[test]
fn what_no_tool_takes_is_likelier_misread() {
    let neck = Neck::from_json("{}").unwrap();
    let at = |fret: f64| neck.station_mm(fret).unwrap();
    let width = |fret: f64| neck.width_mm(at(fret)).unwrap();
    let text = format!(
        "at,quantity,value\nfret 3,width,{}\nfret 4,width,30\nfret 5,width,{}\nfret 7,thickness,21.0\n",
        width(3.0),
        width(5.0)
    );
    let (found, readings) = inspected(&text);
    assert_eq!(found.misread, [1]);
    let off = width(4.0) - 30.0;
    let named = format!(
        "fret 4: the width of line 3 lies {off:.1} mm below the finished neck (±0.1), more than any tool takes by mistake: it is \
         likelier misread, or of another neck; read again"
    );
    assert_eq!(found.sentences[0], named);
    assert!(found.sentences[1..].iter().all(|s| !s.starts_with("fret 4")), "{:#?}", found.sentences);
    // It has its row, and the other one is mended to.
    assert!(found.low.len() == 1 && found.rows[1].finished.unwrap().mm < -10.0);
    let low = found.low_readings(&readings).unwrap();
    assert_eq!(low.readings(), [readings.readings()[3]]);
}

/// From where on: 5 mm, of a girth 10, as the documentation says, and only where the reading is as sure as that.
#[test]
fn how_far_off_is_misread() {
    let neck = Neck::from_json("{}").unwrap();
    let x = neck.station_mm(5.0).unwrap();
    for (what, is, most) in [
        ("thickness", neck.thickness_mm(x).unwrap(), 5.0),
        ("width", neck.width_mm(x).unwrap(), 5.0),
        ("girth", neck.girth_mm(x).unwrap(), 10.0),
    ] {
        for (off, uncertainty, misread) in [
            (-most - 0.01, 0.05, true),
            (-most + 0.01, 0.05, false),
            (most + 0.01, 0.05, false),
            (-most - 0.01, 0.9 * most / 6.0, true),
            (-most - 0.01, 1.1 * most / 6.0, false),
        ] {
            let text = format!("at,quantity,value,uncertainty\nfret 5,{what},{},{uncertainty}\n", is + off);
            let (found, _) = inspected(&text);
            assert_eq!(found.misread.len(), usize::from(misread), "{what}: {off} ± {uncertainty}");
        }
    }
    // A gauge that shows half the radius is off by 150 mm, and is told as what it is.
    assert!(inspected("at,quantity,value\nfret 5,radius,150\n").0.misread.is_empty());
}

/// No sentence tells of wood where all that was read of it contradicts something, and each of those readings is named.
#[test]
fn no_sentence_rests_on_what_is_in_doubt() {
    let tells = |s: &String| s.contains("come off") || s.contains("too low") || s.contains("no difference");
    let (found, _) = inspected("at,quantity,value\nfret 5,thickness,21\n160.54,thickness,25\n");
    assert_eq!(found.set_aside(), [0, 1]);
    assert!(
        found.sentences.len() == 1 && found.low.is_empty() && found.map.is_none(),
        "{:#?}",
        found.sentences
    );

    // Of three that all say something else each is named, in whatever order.
    for [a, b, c] in [[21, 25, 23], [21, 23, 25], [23, 21, 25], [23, 25, 21], [25, 21, 23], [25, 23, 21]] {
        let text =
            format!("at,quantity,value\n160.5,thickness,{a}\n160.6,thickness,{b}\n160.7,thickness,{c}\n");
        let (found, _) = inspected(&text);
        assert_eq!(found.set_aside(), [0, 1, 2], "{a} {b} {c}");
        for line in ["line 2", "line 3", "line 4"] {
            assert!(found.sentences.iter().any(|s| s.contains(line)), "{line}: {:#?}", found.sentences);
        }
        assert!(!found.sentences.iter().any(tells), "{:#?}", found.sentences);
    }

    // What others tell beside them is told as if those were not there.
    let rest = "fret 3,thickness,22\nfret 4,thickness,22.4\nfret 7,thickness,23\n";
    let (with, _) = inspected(&format!(
        "at,quantity,value\n{rest}fret 5,thickness,21\n160.54,thickness,25\nfret 8,thickness,11\n"
    ));
    let (without, _) = inspected(&format!("at,quantity,value\n{rest}"));
    assert_eq!(with.set_aside(), [3, 4, 5]);
    assert_eq!(with.sentences[2..], without.sentences);
    assert_eq!((&with.low, &with.unfair, &with.map), (&without.low, &without.unfair, &without.map));
}

/// Below the board mending takes the neck down; of headstock and heel block it takes nothing.
#[test]
fn what_mending_can_not_change() {
    let neck = Neck::from_json("{}").unwrap();
    let said = |x: f64| {
        let depth = neck.thickness_mm(x).unwrap() - 1.0;
        let (found, readings) = inspected(&format!("at,quantity,value\n{x},thickness,{depth}\n"));
        let low = found.low_readings(&readings).unwrap();
        let mended = neck.mend(&low, &neckwright::spec::MendLimits::default()).unwrap();
        let fixed = match mended {
            neckwright::inspect::Mending::Impossible(all) => {
                all.iter().any(|f| f.limit == neckwright::inspect::Limit::FixedPart)
            }
            _ => false,
        };
        let sentence = found.sentences.iter().find(|s| s.contains("too low at the spine")).unwrap().clone();
        (sentence, fixed)
    };
    let end = neck.layout().board().end_mm();
    for (x, ends, fixed) in [
        (-80.0, "; no mending changes the headstock", true),
        (160.0, "; the neck has to come down to it", false),
        (end - 5.0, "; no mending changes the heel block", true),
    ] {
        let (sentence, is_fixed) = said(x);
        assert!(sentence.ends_with(ends) && fixed == is_fixed, "{x}: {sentence} {is_fixed}");
    }
}

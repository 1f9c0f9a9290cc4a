//! What has to hold between fields, before anything is worked out from them.

use alloc::format;

use super::{FretRule, Specification};
use crate::measure::{Fault, Faults, Kind};

/// Notes the fields that contradict each other and those that others call for.
pub(crate) fn check(specification: &Specification, faults: &mut Faults) {
    scale(specification, faults);
    frets(specification, faults);
    one_per_string(specification, faults);
}

fn scale(specification: &Specification, faults: &mut Faults) {
    let scale = &specification.scale;
    if scale.length.is_some() && (scale.bass.is_some() || scale.treble.is_some()) {
        faults.add(|| {
            Fault::new(
                Kind::Conflict,
                "scale.length",
                "a scale is either one length or a bass and a treble length",
            )
            .remedy("keep length alone, or bass and treble")
        });
        return;
    }
    let other = match (scale.bass, scale.treble) {
        (Some(_), None) => ("scale.treble", "bass"),
        (None, Some(_)) => ("scale.bass", "treble"),
        _ => return,
    };
    faults.add(|| {
        Fault::new(Kind::Missing, other.0, format!("a {} length calls for the other side's", other.1))
            .remedy(format!("add \"{}\", or give \"length\" alone", other.0.trim_start_matches("scale.")))
    });
}

fn frets(specification: &Specification, faults: &mut Faults) {
    let frets = &specification.frets;
    match (frets.rule, frets.cents.is_some(), frets.ratios.is_some()) {
        (FretRule::Table, false, false) => faults.add(|| {
            Fault::new(Kind::Missing, "frets.cents", "the rule \"table\" calls for a table")
                .remedy("add \"cents\" or \"ratios\", or take another rule")
        }),
        (FretRule::Table, true, true) => faults.add(|| {
            Fault::new(Kind::Conflict, "frets.ratios", "the table is given in cents already")
                .remedy("keep one of the two")
        }),
        (FretRule::Equal | FretRule::Eighteen, cents, ratios) => {
            for (given, path) in [(cents, "frets.cents"), (ratios, "frets.ratios")] {
                if given {
                    faults.add(|| {
                        let reason = format!("the rule {:?} has no use for a table", frets.rule.name());
                        Fault::new(Kind::Conflict, path, reason)
                            .remedy("leave it out, or set rule to \"table\"")
                    });
                }
            }
        }
        (FretRule::Table, ..) => {}
    }
}

fn one_per_string(specification: &Specification, faults: &mut Faults) {
    let count = specification.strings.count as usize;
    let gauges = specification.strings.gauges.as_ref().map(alloc::vec::Vec::len);
    let posts = specification.headstock.posts.as_ref().map(alloc::vec::Vec::len);
    for (path, what, entries) in [("strings.gauges", "gauge", gauges), ("headstock.posts", "post", posts)] {
        if let Some(entries) = entries.filter(|entries| *entries != count) {
            faults.add(|| {
                Fault::new(Kind::Conflict, path, format!("each of the {count} strings has one {what}"))
                    .value(entries, "entries")
                    .remedy(format!("give {count}, or change strings.count"))
            });
        }
    }
}

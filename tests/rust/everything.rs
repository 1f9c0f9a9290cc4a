//! Everything that can be asked of a specification: what the fuzzed documents are put through.

use neckwright::shape::{LeastValue, Neck, Part, Side};
use neckwright::spec::Specification;
use std::fmt::Debug;

/// How far a neck came.
pub enum Reached {
    /// The specification makes no neck.
    Specification,
    /// The neck was built and asked everything.
    Neck,
}

/// Asks everything of a specification that was accepted. A fault is a good answer; a number that is none is not.
///
/// # Errors
/// - an answer that no input may lead to, in words.
pub fn everything(specification: &Specification) -> Result<Reached, String> {
    match Specification::from_json(&specification.to_json()) {
        Ok(again) if again == *specification => {}
        Ok(_) => return Err("reads back as another specification".to_owned()),
        Err(error) => return Err(format!("does not read back: {error}")),
    }
    match Neck::new(specification) {
        Ok(neck) => ask(&neck).map(|()| Reached::Neck),
        Err(error) if error.faults().is_empty() => Err("makes no neck and says nothing".to_owned()),
        Err(_) => Ok(Reached::Specification),
    }
}

fn ask(neck: &Neck) -> Result<(), String> {
    match Neck::new(neck.specification()) {
        Ok(again) if again.specification() == neck.specification() => {}
        Ok(_) => return Err("its full specification fills in to another".to_owned()),
        Err(error) => return Err(format!("its full specification makes no neck: {error}")),
    }
    let layout = neck.layout();
    sound("fan", layout.fan())?;
    sound("board", layout.board())?;
    sound("strings", &layout.strings())?;
    sound("frets", &layout.frets())?;
    sound("markers", &(layout.face_markers(), layout.side_markers()))?;
    sound("least margin", &layout.least_margin())?;
    sound("departures", &layout.string_departures_cents())?;
    sound("humps", &layout.humps())?;
    sound("wire", &layout.total_wire_mm())?;
    sound("headstock", &neck.headstock())?;
    sound("volute", &neck.volute())?;
    sound("heel", &neck.heel())?;
    sound("joints", &neck.joints())?;
    sound("string paths", &neck.string_paths())?;
    sound("caliper card", &neck.caliper_card())?;
    sound("volume", &neck.volume())?;
    sound("mass", &neck.mass())?;
    sound("bounds", &neck.bounds())?;
    sound("least thickness", &neck.least_thickness())?;
    sound("least curvature", &neck.least_curvature())?;
    kept("least thickness", &neck.least_thickness())?;
    kept("least curvature", &neck.least_curvature())?;
    let wall = neck.least_rod_wall();
    sound("least rod wall", &wall)?;
    wall.as_ref().map_or(Ok(()), |wall| kept("least rod wall", wall))?;
    let _ = neck.warnings();
    let [from, to] = neck.reach_mm();
    let [wood_from, wood_to] = neck.wood_reach_mm();
    let [shaft_from, shaft_to] = neck.shaft_reach_mm();
    let between = |share: f64| from + share * (to - from);
    let stations = [
        from,
        between(0.1),
        between(0.3),
        between(0.7),
        0.0,
        -0.0,
        shaft_from,
        shaft_to,
        wood_from,
        wood_to,
        to,
    ];
    for x in stations {
        station(neck, x)?;
    }
    for i in 0..=100 {
        let x = wood_from + f64::from(i) / 100.0 * (wood_to - wood_from);
        match (&wall, neck.rod_wall_mm(x)) {
            (Some(least), Ok(Some(here))) if here < least.proven => {
                return Err(format!("has a rod wall of {here} at {x}, and {} was proven", least.proven));
            }
            _ => {}
        }
    }
    for nowhere in [f64::NAN, f64::INFINITY, f64::NEG_INFINITY, f64::MAX, from - 1.0, to + 1.0] {
        if neck.section(nowhere).is_ok() || neck.thickness_mm(nowhere).is_ok() {
            return Err(format!("has a section at {nowhere}"));
        }
    }
    Ok(())
}

/// How near to the value the proven bound of a least value is.
const PROMISED: f64 = 1e-6;

/// Whether a least value keeps what it promises.
fn kept(name: &str, least: &LeastValue) -> Result<(), String> {
    if least.proven <= least.value && least.value - least.proven <= PROMISED {
        return Ok(());
    }
    Err(format!("{name} is {} and only proven to {}", least.value, least.proven))
}

fn station(neck: &Neck, x: f64) -> Result<(), String> {
    let section = neck.section(x).map_err(|e| format!("section at {x}: {e}"))?;
    sound("outline", &section.outline())?;
    sound("polyline", &section.polyline_mm(0.1).map_err(|e| e.to_string())?)?;
    sound("area", &(section.area_mm2(), section.moments(), section.second_moment_mm4()))?;
    if section.area_mm2() > 0.0 {
        sound("centroid", &section.centroid_mm())?;
    }
    sound("bends", &(section.sharpest(), section.flattest()))?;
    sound("wood", &section.part_moments(Part::NeckWood))?;
    sound("thickness", &neck.thickness_mm(x))?;
    sound("width", &neck.width_mm(x))?;
    sound("girth", &neck.girth_mm(x))?;
    sound("carve line", &Side::BOTH.map(|side| neck.carve_line_mm(x, side)))?;
    sound("rod wall", &neck.rod_wall_mm(x))?;
    let _ = neck.layout().fret_at(x);
    Ok(())
}

/// Whether every number in an answer is one, read off the way it prints.
///
/// # Errors
/// - an answer that holds NaN or an infinity.
pub fn sound(name: &str, answer: &impl Debug) -> Result<(), String> {
    let text = format!("{answer:?}");
    let wrong = text
        .match_indices(['N', 'i'])
        .find(|(i, _)| ["NaN", "inf"].iter().any(|word| text[*i..].starts_with(word) && whole(&text, *i)));
    match wrong {
        Some((i, _)) => {
            let mut before: Vec<char> = text[..i].chars().rev().take(60).collect();
            before.reverse();
            Err(format!("{name}: …{}{}", before.iter().collect::<String>(), &text[i..i + 3]))
        }
        None => Ok(()),
    }
}

/// Whether the three letters at `i` are a word of their own.
fn whole(text: &str, i: usize) -> bool {
    let letter = |c: Option<char>| c.is_some_and(|c| c.is_alphanumeric() || c == '_');
    !letter(text[..i].chars().next_back()) && !letter(text[i + 3..].chars().next())
}

#[cfg(test)]
mod tests {
    use super::sound;

    #[test]
    fn numbers_that_are_none_are_found() {
        assert!(sound("a", &[1.0, f64::NAN]).is_err());
        assert!(sound("a", &Some(f64::NEG_INFINITY)).is_err());
        assert_eq!(sound("inf", &(1.0, "info", "NaNo")), Ok(()));
    }
}

//! Everything that can be asked of a neck.

use crate::{layout, section, sound};
use neckwright::law::Law;
use neckwright::measure::Error;
use neckwright::shape::{LeastValue, Neck, Side};

/// How near to the value the proven bound of a least value is.
const PROMISED: f64 = 1e-6;

/// Asks everything of a neck.
pub(crate) fn ask(neck: &Neck) -> Result<(), String> {
    match Neck::new(neck.normalised()) {
        Ok(again) if again.normalised() == neck.normalised() => {}
        Ok(_) => return Err("its full specification fills in to another".to_owned()),
        Err(error) => return Err(format!("its full specification makes no neck: {error}")),
    }
    layout::ask(neck.layout())?;
    let hand = neck.hand_sign();
    let (own, right) = (neck.strings(), neck.layout().strings());
    if own.len() != right.len() || own.iter().zip(right).any(|(o, r)| o.nut_mm.1 != hand * r.nut_mm.1) {
        return Err(format!("has strings {own:?} on its own hand"));
    }
    sound("own hand", &(neck.frets(), neck.side_markers()))?;
    sound("headstock", &neck.headstock())?;
    sound("volute", &neck.volute())?;
    sound("heel", &neck.heel())?;
    sound("joints", &neck.joints())?;
    sound("string paths", &neck.string_paths())?;
    sound("caliper card", &neck.caliper_card())?;
    sound("mass", &neck.mass_kg())?;
    if neck.warnings().iter().any(|w| w.path.is_empty() || w.message.is_empty()) {
        return Err("warns of nothing".to_owned());
    }
    whole(neck)?;
    laws(neck)?;
    proven_near(neck)?;
    proven(neck)?;
    stations(neck)
}

/// Volumes and the box around the neck.
fn whole(neck: &Neck) -> Result<(), String> {
    let (volume, bounds) = (neck.volume_mm3(), neck.bounds());
    sound("volume", &(volume, volume.filled_mm3()))?;
    let parts = [volume.fretboard_mm3, volume.neck_wood_mm3, volume.rod_channel_mm3, volume.tuner_holes_mm3];
    if parts.iter().any(|part| *part < -1e-6) {
        return Err(format!("has a volume of {volume:?}"));
    }
    sound("bounds", &bounds)?;
    for [from, to] in [bounds.x_mm, bounds.y_mm, bounds.z_mm] {
        if from >= to {
            return Err(format!("lies within {bounds:?}"));
        }
    }
    Ok(())
}

fn laws(neck: &Neck) -> Result<(), String> {
    let laws = neck.laws();
    let one = |name: &str, law: &Law| {
        let [from, to] = [law.start(), law.end()];
        let rising = law.breaks().windows(2).all(|w| w[0] < w[1]);
        if !rising || law.joints().len() + 2 != law.breaks().len() {
            return Err(format!("has a {name} with breaks at {:?}", law.breaks()));
        }
        sound(name, &law.pieces())?;
        sound(name, &(law.at2(from), law.at2(0.3 * from + 0.7 * to), law.at2(to)))?;
        if [from, to].iter().any(|x| law.at(*x).is_none()) || law.at(f64::NAN).is_some() {
            return Err(format!("has a {name} that does not know where it is"));
        }
        Ok(())
    };
    one("spine", laws.spine_depth)?;
    one("face", laws.face_depth)?;
    for cut in neck.rod_cuts() {
        one("cut's floor", cut.floor_depth())?;
        let [from, to] = cut.reach_mm();
        if from >= to || cut.half_width_mm() <= 0.0 {
            return Err(format!("has a cut from {from} to {to}, {} wide to a side", cut.half_width_mm()));
        }
    }
    for side in Side::BOTH {
        one("carve line", laws.carve_line.of(side))?;
        one("half width", laws.half_width.of(side))?;
        for law in laws.control_out.of(side).iter().chain(*laws.control_depth.of(side)) {
            one("control point", law)?;
        }
    }
    Ok(())
}

/// The guaranteed least values: proven as near as is promised.
pub(crate) fn proven_near(neck: &Neck) -> Result<(), String> {
    kept("least thickness", &neck.least_thickness())?;
    kept("least curvature", &neck.least_curvature())?;
    neck.least_rod_wall().map_or(Ok(()), |wall| kept("least rod wall", &wall))
}

/// The guaranteed least values, against samples.
fn proven(neck: &Neck) -> Result<(), String> {
    let (thickness, curvature) = (neck.least_thickness(), neck.least_curvature());
    let wall = neck.least_rod_wall();
    let [wood_from, wood_to] = neck.wood_reach_mm();
    let [shaft_from, shaft_to] = neck.shaft_reach_mm();
    let board_to = neck.layout().board().end_mm().min(wood_to);
    let sampled = |name: &str, least: Option<f64>, x: f64, here: Option<f64>| match (least, here) {
        (Some(least), Some(here)) if here < least => {
            Err(format!("has a {name} of {here} at {x}, and {least} was proven"))
        }
        _ => Ok(()),
    };
    for i in 0..=100 {
        let at = |from: f64, to: f64| if i == 100 { to } else { from + f64::from(i) / 100.0 * (to - from) };
        let x = at(0.0, board_to);
        sampled("thickness", Some(thickness.proven), x, neck.thickness_mm(x).ok())?;
        let x = at(wood_from, wood_to);
        sampled("rod wall", wall.map(|w| w.proven), x, neck.rod_wall_mm(x).ok().flatten())?;
        if i % 5 == 0 {
            let x = at(shaft_from, shaft_to);
            let flattest = neck.section(x).ok().and_then(|s| s.flattest()).map(|b| b.curvature_per_mm);
            sampled("curvature", Some(curvature.proven), x, flattest.map(|c| c + 1e-12))?;
        }
    }
    Ok(())
}

/// Whether a least value keeps what it promises.
fn kept(name: &str, least: &LeastValue) -> Result<(), String> {
    sound(name, least)?;
    if least.proven <= least.value && least.value - least.proven <= PROMISED {
        return Ok(());
    }
    Err(format!("{name} is {} and only proven to {}", least.value, least.proven))
}

/// Readings and sections at stations of every sort, on the neck and off it.
fn stations(neck: &Neck) -> Result<(), String> {
    let [from, to] = neck.reach_mm();
    let [wood_from, wood_to] = neck.wood_reach_mm();
    let [shaft_from, shaft_to] = neck.shaft_reach_mm();
    let between = |share: f64| from + share * (to - from);
    let root = neck.headstock().root_x_mm;
    let board = neck.layout().board();
    let mut on = vec![from, between(0.1), between(0.3), between(0.7), 0.0, -0.0, shaft_from, shaft_to];
    on.extend([wood_from, wood_to, to, root, 0.5 * root, board.start_mm().max(from), board.end_mm()]);
    for x in &on {
        let section = neck.section(*x).map_err(|e| format!("section at {x}: {e}"))?;
        section::ask(&section)?;
    }
    readings(neck, &on)?;
    for nowhere in [f64::NAN, f64::INFINITY, f64::NEG_INFINITY, f64::MAX, from - 1.0, to + 1.0] {
        let mut out = [1.5; 2];
        let refused = [
            neck.section(nowhere).is_err(),
            neck.thickness_mm(nowhere).is_err(),
            neck.width_mm(nowhere).is_err(),
            neck.girth_mm(nowhere).is_err(),
            neck.carve_line_mm(nowhere, Side::Bass).is_err(),
            neck.rod_wall_mm(nowhere).is_err(),
            neck.thickness_mm_into(&[0.0, nowhere], &mut out).is_err(),
            neck.width_mm_into(&[0.0, nowhere], &mut out).is_err(),
            neck.girth_mm_into(&[0.0, nowhere], &mut out).is_err(),
            neck.carve_line_mm_into(&[0.0, nowhere], Side::Treble, &mut out).is_err(),
            neck.rod_wall_mm_into(&[0.0, nowhere], &mut out).is_err(),
            neck.thickness_mm_into(&[0.0], &mut out).is_err(),
        ];
        if refused.contains(&false) || out != [1.5; 2] {
            return Err(format!("has a reading at {nowhere}: {refused:?}, {out:?}"));
        }
    }
    Ok(())
}

type One<'a> = &'a dyn Fn(f64) -> Result<f64, Error>;
type Many<'a> = &'a dyn Fn(&[f64], &mut [f64]) -> Result<(), Error>;

/// Readings are numbers, and those of many stations at once are the same bits.
fn readings(neck: &Neck, x: &[f64]) -> Result<(), String> {
    // No wall is NaN where many stations are asked for.
    let wall = |x: f64| Ok(neck.rod_wall_mm(x)?.unwrap_or(f64::NAN));
    let both: [(&str, One<'_>, Many<'_>); 6] = [
        ("thickness", &|x| neck.thickness_mm(x), &|x, out| neck.thickness_mm_into(x, out)),
        ("width", &|x| neck.width_mm(x), &|x, out| neck.width_mm_into(x, out)),
        ("girth", &|x| neck.girth_mm(x), &|x, out| neck.girth_mm_into(x, out)),
        ("bass carve line", &|x| neck.carve_line_mm(x, Side::Bass), &|x, out| {
            neck.carve_line_mm_into(x, Side::Bass, out)
        }),
        ("treble carve line", &|x| neck.carve_line_mm(x, Side::Treble), &|x, out| {
            neck.carve_line_mm_into(x, Side::Treble, out)
        }),
        ("rod wall", &wall, &|x, out| neck.rod_wall_mm_into(x, out)),
    ];
    for (name, one, many) in both {
        let mut all = vec![0.0; x.len()];
        many(x, &mut all).map_err(|e| format!("{name} at all stations: {e}"))?;
        for (x, of_all) in x.iter().zip(all) {
            let here = one(*x).map_err(|e| format!("{name} at {x}: {e}"))?;
            if here.to_bits() != of_all.to_bits() && !(here.is_nan() && of_all.is_nan()) {
                return Err(format!("has a {name} of {here} at {x}, and of {of_all} among others"));
            }
            if name != "rod wall" {
                sound(name, &here)?;
            } else if here.is_infinite() {
                return Err(format!("has a {name} of {here} at {x}"));
            }
        }
    }
    Ok(())
}

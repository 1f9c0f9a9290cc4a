//! What a builder calls a station, and numbers as a drawing shows them.

use alloc::format;
use alloc::string::String;

use crate::shape::Neck;

/// A measure with two decimals, never `-0.00`.
pub(super) fn mm(value: f64) -> String {
    format!("{:.2}", libm::round(value * 100.0) / 100.0 + 0.0)
}

/// The fret at a station, where there is one.
fn fret(neck: &Neck, x: f64) -> Option<f64> {
    let fret = neck.layout().fret_at(x).ok()?;
    let whole = libm::round(fret);
    let on_neck = whole <= f64::from(neck.normalised().frets.count);
    (on_neck && libm::fabs(fret - whole) < 1e-6).then_some(whole)
}

/// The name of a station: a fret, a place of the neck, or how far from the nut it is.
pub(super) fn name(neck: &Neck, x: f64) -> String {
    let near = |place: f64| libm::fabs(x - place) < 1e-6;
    let (volute, heel) = (neck.volute(), neck.heel());
    if near(0.0) {
        return "nut".into();
    }
    if let Some(fret) = fret(neck, x) {
        return format!("fret {fret}");
    }
    let places = [
        (volute.tip_x_mm, "volute's tip"),
        (volute.end_x_mm, "volute ends"),
        (heel.start_x_mm, "heel begins"),
        (heel.block_x_mm, "heel block begins"),
        (heel.end_x_mm, "heel ends"),
    ];
    match places.into_iter().find(|(at, _)| near(*at)) {
        Some((_, name)) => name.into(),
        None if x < 0.0 => format!("{} behind the nut", mm(-x)),
        None => format!("{} from the nut", mm(x)),
    }
}

/// The fret that necks are compared at: the 12th, or the last where there are fewer; its number and station.
pub(super) fn middle_fret(neck: &Neck) -> Option<(u32, f64)> {
    let fret = neck.normalised().frets.count.min(12);
    let x = neck.layout().station_of_fret_mm(f64::from(fret)).ok()?;
    (fret > 0 && x <= neck.layout().board().end_mm()).then_some((fret, x))
}

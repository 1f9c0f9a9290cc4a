//! The drawings of the book.

use neckwright::measure::{Error, Station};
use neckwright::paper;
use neckwright::shape::Neck;

/// Frets at which sections are drawn, where the neck has them on its shaft.
const FRETS: [u32; 6] = [1, 3, 5, 7, 9, 12];

/// Where sections are drawn: on the headstock, at the volute's tip or the nut, at some frets, at the heel.
fn stations(neck: &Neck) -> Vec<Station> {
    let (head, volute, heel) = (neck.headstock(), neck.volute(), neck.heel());
    let mut at = vec![0.5 * (head.tip_x_mm + volute.start_x_mm), 0.0, volute.tip_x_mm];
    let frets = FRETS.iter().filter(|n| **n <= neck.normalised().frets.count);
    at.extend(frets.filter_map(|n| neck.layout().station_of_fret_mm(f64::from(*n)).ok()));
    at.extend([heel.start_x_mm, 0.5 * (heel.start_x_mm + heel.block_x_mm), heel.block_x_mm]);
    let end = heel.end_x_mm;
    at.retain(|x| *x <= end);
    at.sort_by(f64::total_cmp);
    at.dedup_by(|a, b| (*a - *b).abs() < 1e-6);
    at.into_iter().map(Station::Mm).collect()
}

/// Every drawing with the name of its file.
pub fn all(neck: &Neck) -> Result<Vec<(&'static str, String)>, Error> {
    Ok(vec![
        ("plan.svg", paper::plan(neck).to_svg()),
        ("side.svg", paper::side(neck).to_svg()),
        ("sections.svg", paper::sections(neck, &stations(neck))?.to_svg()),
    ])
}

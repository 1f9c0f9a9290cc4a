//! Everything that can be asked of a section.

use crate::sound;
use neckwright::shape::{Part, Section, Side};

/// Asks everything of a section.
pub(crate) fn ask(section: &Section) -> Result<(), String> {
    sound("section", section)?;
    let outline = section.outline();
    sound("outline", &outline)?;
    let ring = outline.end();
    if (ring[0] - outline.start[0]).abs().max((ring[1] - outline.start[1]).abs()) > 1e-9 {
        return Err(format!("has an outline at {} that does not close: {outline:?}", section.x_mm()));
    }
    sound("length", &outline.walk().map(|(start, s)| s.length_mm(start)).sum::<f64>())?;
    let (whole, area) = (section.moments(), section.area_mm2());
    sound("area", &(area, whole, section.second_moment_mm4(), section.centroid_mm(), section.girth_mm()))?;
    let mut sum = 0.0;
    for part in [Part::Fretboard, Part::NeckWood, Part::Channel] {
        let moments = section.part_moments(part);
        sound("part", &(section.part_outline(part), moments))?;
        if moments.area_mm2 < -1e-9 {
            return Err(format!("has a {part:?} of {} mm² at {}", moments.area_mm2, section.x_mm()));
        }
        if part != Part::Channel {
            sum += moments.area_mm2;
        }
    }
    if (sum - area).abs() > 1e-9 * area.abs().max(1.0) {
        return Err(format!("has an area of {area} at {} and parts of {sum}", section.x_mm()));
    }
    polyline(section, 0.1, area)?;
    sound("control points", &Side::BOTH.map(|side| section.control_points_mm(side)))?;
    let bends = (section.flattest(), section.sharpest());
    sound("bends", &bends)?;
    match bends {
        (None, None) => Ok(()),
        (Some(flat), Some(sharp)) if flat.curvature_per_mm <= sharp.curvature_per_mm => Ok(()),
        _ => Err(format!("has bends at {} of {bends:?}", section.x_mm())),
    }
}

/// A polyline within `chord` of the outline encloses its area to within the chord's error all round.
fn polyline(section: &Section, chord: f64, area: f64) -> Result<(), String> {
    let points = section.polyline_mm(chord).map_err(|e| e.to_string())?;
    sound("polyline", &points)?;
    let (mut twice, mut round) = (0.0, 0.0);
    for pair in points.windows(2) {
        let ([y0, z0], [y1, z1]) = (pair[0], pair[1]);
        twice += y0 * z1 - y1 * z0;
        round += ((y1 - y0) * (y1 - y0) + (z1 - z0) * (z1 - z0)).sqrt();
    }
    if (0.5 * twice - area).abs() > chord * round + 1e-9 {
        return Err(format!("has an area of {area} at {} and a polyline of {}", section.x_mm(), 0.5 * twice));
    }
    let nonsense = [f64::NAN, f64::INFINITY, -1.0, 0.0];
    if nonsense.iter().any(|chord| section.polyline_mm(*chord).is_ok()) {
        return Err("has a polyline of no tolerance".to_owned());
    }
    Ok(())
}

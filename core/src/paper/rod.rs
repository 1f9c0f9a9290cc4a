//! Where the rod's channel and its pocket lie, for the drawings.

use alloc::vec::Vec;

use super::path::Point;
use crate::shape::{Neck, Part};

/// One straight-sided cut: its stations and half its width, mm.
#[derive(Clone, Copy, Debug)]
pub(super) struct Cut {
    pub x: [f64; 2],
    pub half: f64,
}

/// The channel, then the pocket; none where no rod is fitted.
pub(super) fn cuts(neck: &Neck) -> Vec<Cut> {
    let (rod, head) = (&neck.specification().rod, neck.headstock());
    let mut cuts = Vec::new();
    if !rod.fitted {
        return cuts;
    }
    let station = |s: &crate::measure::Station| neck.layout().station_mm(s).ok();
    let pocket = rod.pocket_length.mm();
    if let (Some(start), Some(end)) = (station(&rod.start), rod.end.as_ref().and_then(station)) {
        let start = if pocket > 0.0 { start.min(head.root_x_mm) } else { start };
        cuts.push(Cut { x: [start, end], half: 0.5 * rod.width.mm() });
    }
    if pocket > 0.0 {
        let from = head.root_x_mm - pocket * libm::cos(head.angle_deg.to_radians());
        cuts.push(Cut { x: [from, head.root_x_mm], half: 0.5 * rod.pocket_width.mm() });
    }
    cuts
}

/// Height of the cut's floor (negative) at a station within it.
pub(super) fn floor(neck: &Neck, cut: &Cut, x: f64) -> f64 {
    // Where both cuts meet, the section shows the other one.
    let inside = 1e-9 * (cut.x[1] - cut.x[0]);
    let x = x.clamp(cut.x[0] + inside, cut.x[1] - inside);
    let outline = neck.section(x).ok().and_then(|s| s.part_outline(Part::Channel));
    outline.map_or(0.0, |o| o.segments.iter().map(|s| s.end()[1]).fold(0.0, f64::min))
}

/// The floor of a cut along the neck.
pub(super) fn floor_line(neck: &Neck, cut: &Cut) -> Vec<Point> {
    let depths = neck.specification().rod.depth.iter();
    let mut stations: Vec<f64> = depths.filter_map(|d| neck.layout().station_mm(&d.at).ok()).collect();
    stations.retain(|x| *x > cut.x[0] && *x < cut.x[1]);
    stations.insert(0, cut.x[0]);
    stations.push(cut.x[1]);
    super::curve::function(|x| floor(neck, cut, x), &stations)
}

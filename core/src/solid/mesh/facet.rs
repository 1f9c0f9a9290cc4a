//! A triangle of a face with what is known of it.

use super::bezier::{minus, size};
use super::chart::Chart;
use super::deviation::{Around, Deviation, Triangle, angle};
use super::patch::Corner;
use super::patches::dot;

/// A triangle of a face.
#[derive(Clone)]
pub(super) struct Facet {
    pub corners: [u32; 3],
    /// Over its longest side, mm, as seen along the surface's normal at the corner where that is least: little where it stands up
    /// from the surface there, and negative where it looks the other way.
    pub height: f64,
    /// The same as seen along its own normal.
    pub lowest: f64,
    /// Bounds of the angles by which its plane turns away from the surface at its corners.
    pub turn: [f64; 3],
    /// Whether its sides have not been looked at for turning since it was made.
    pub fresh: bool,
    /// How far off the surface lies, once that has been asked for.
    deviation: Option<Deviation>,
    /// What it was found to lie off, and for which triangles around.
    found: Option<(f64, Around)>,
}

pub(super) fn triangle(of: &[Corner], corners: [u32; 3]) -> Triangle {
    let own = corners.map(|v| &of[v as usize]);
    Triangle { at: own.map(|c| c.at), points: own.map(|c| c.point) }
}

impl Facet {
    pub fn new(corners: [u32; 3], of: &[Corner], outward: bool) -> Self {
        let own = triangle(of, corners);
        let normal = own.normal();
        let double = size(&normal);
        let longest = own.longest();
        let way = if outward { 1.0 } else { -1.0 } / double.max(f64::MIN_POSITIVE);
        let normal = normal.map(|x| x * way);
        let normals = corners.map(|v| of[v as usize].normal);
        let toward = normals.iter().map(|n| dot(*n, normal)).fold(f64::INFINITY, f64::min);
        Self {
            corners,
            height: toward * double / longest.max(f64::MIN_POSITIVE),
            lowest: double / longest.max(f64::MIN_POSITIVE),
            turn: normals.map(|n| angle(size(&minus(&normal, &n)))),
            fresh: true,
            deviation: None,
            found: None,
        }
    }

    /// Bound of how far the surface lies from it and those around it; no closer than need be to tell that it is within the
    /// tolerance.
    pub fn off(&mut self, chart: &Chart, of: &[Corner], around: &Around, chord: f64) -> f64 {
        if let Some((off, _)) = self.found.filter(|(_, found)| found.covers(around)) {
            return off;
        }
        let own = triangle(of, self.corners);
        let off = if let Chart::Spline { net, .. } = chart {
            let found = self.deviation.get_or_insert_with(|| own.deviation(net));
            if found.off(around) > chord {
                found.refine(net, &own);
            }
            found.off(around)
        } else {
            chart.off(&own)
        };
        self.found = Some((off, *around));
        off
    }

    /// Which of its sides to halve, from this corner on: the one that the surface leaves most.
    pub fn worst(&self) -> Option<usize> {
        self.deviation.as_ref().map(|d| d.worst)
    }
}

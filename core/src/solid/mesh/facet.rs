//! A triangle of a face, with its neighbours and what is known of it.

use super::bezier::{minus, size};
use super::chart::Chart;
use super::deviation::{Around, Deviation, Triangle, angle};
use super::patches::dot;
use super::turns::LEAST_MM;
use crate::solid::Point3;

/// None of them.
pub(super) const NONE: u32 = u32::MAX;
/// A side that lies on a crease of its surface.
pub(super) const HELD: u32 = u32::MAX - 1;

/// Triangles no longer than this, mm, may be as flat as edges of the solid come close to each other.
const TINY_MM: f64 = 1e-3;
/// Those are higher than this, mm: edges lie on their faces within as much.
const FLAT_MM: f64 = 1e-9;

/// A corner of the triangles of a face.
#[derive(Clone)]
pub(super) struct Corner {
    pub face: u32,
    /// The place on an edge that it is, or [`NONE`].
    pub place: u32,
    /// Whether it lies on an edge over which the faces do not go on smoothly.
    pub sharp: bool,
    pub point: Point3,
    /// Out of the solid.
    pub normal: Point3,
    /// Its parameters.
    pub at: [f64; 2],
}

/// A triangle of a face; its sides go from each corner to the next.
#[derive(Clone)]
pub(super) struct Facet {
    pub corners: [u32; 3],
    /// What lies beyond each side, on the same face or over an edge.
    pub beside: [u32; 3],
    /// For each side on an edge twice its stretch, and one more where it goes along it backwards; [`HELD`] or [`NONE`] for others.
    pub on: [u32; 3],
    /// Over its longest side, mm, as seen along the surface's normal at the corner where that is least: little where it stands up
    /// from the surface there, and negative where it looks the other way.
    pub height: f64,
    /// The same as seen along its own normal.
    pub lowest: f64,
    /// Bounds of the angles by which its plane turns away from the surface at its corners.
    pub turn: [f64; 3],
    /// Whether it has been found within the tolerance, but for those around.
    pub settled: bool,
    /// How far off the surface lies, once that has been asked for.
    deviation: Option<Deviation>,
}

pub(super) fn triangle(of: &[Corner], corners: [u32; 3]) -> Triangle {
    let own = corners.map(|v| &of[v as usize]);
    Triangle { at: own.map(|c| c.at), points: own.map(|c| c.point) }
}

impl Facet {
    pub fn new(corners: [u32; 3], of: &[Corner]) -> Self {
        let own = triangle(of, corners);
        let normal = own.normal();
        let double = size(&normal);
        let longest = own.longest();
        let normal = normal.map(|x| x / double.max(f64::MIN_POSITIVE));
        let normals = corners.map(|v| of[v as usize].normal);
        let toward = normals.iter().map(|n| dot(*n, normal)).fold(f64::INFINITY, f64::min);
        Self {
            corners,
            beside: [NONE; 3],
            on: [NONE; 3],
            height: toward * double / longest.max(f64::MIN_POSITIVE),
            lowest: double / longest.max(f64::MIN_POSITIVE),
            turn: normals.map(|n| angle(size(&minus(&normal, &n)))),
            settled: false,
            deviation: None,
        }
    }

    /// Whether it is flat or looks the other way; a tiny one only once it is as good as turned over.
    pub fn is_low(&self, of: &[Corner]) -> bool {
        let tiny = || triangle(of, self.corners).longest() < TINY_MM;
        self.height <= FLAT_MM || (self.height <= LEAST_MM && !tiny())
    }

    /// With these neighbours, and these sides.
    pub fn beside(self, beside: [u32; 3], on: [u32; 3]) -> Self {
        Self { beside, on, ..self }
    }

    /// None any more: it keeps its place in the list only.
    pub fn gone(self) -> Self {
        Self { beside: [NONE; 3], settled: true, deviation: None, ..self }
    }

    pub fn is_gone(&self) -> bool {
        self.beside[0] == NONE
    }

    /// Bound of how far the surface lies from it and those around it; no closer than need be to tell that it is within the
    /// tolerance.
    pub fn off(&mut self, chart: &Chart, of: &[Corner], around: &Around, chord: f64) -> f64 {
        let own = triangle(of, self.corners);
        let found = self.deviation.get_or_insert_with(|| chart.deviation(&own));
        if found.off(around) > chord
            && found.may_be(chord)
            && let Chart::Spline { patches, strips, .. } = chart
        {
            found.refine(patches, strips, &own);
        }
        found.off(around)
    }

    /// Which of its sides to halve, from this corner on: the one that the surface leaves most.
    /// `None` before that has been measured.
    pub fn worst(&self) -> Option<usize> {
        self.deviation.as_ref().map(|d| d.worst)
    }
}

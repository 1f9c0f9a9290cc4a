//! Tuner holes: round, straight through the headstock's slab.

use super::curve::Curve;
use super::relief::Made;
use super::shell::{Edge, Face, Step};
use super::spline::Point3;
use super::surface::Surface;
use crate::shape::Neck;

/// The sheets of the slab: the first of each relief.
const SLAB: usize = 0;

/// Bores the tuner holes of a neck's wood.
pub(super) fn bored(neck: &Neck, mut made: Made) -> Option<Made> {
    let (spec, head) = (&neck.normalised().headstock, &neck.built().head);
    let radius_mm = 0.5 * spec.hole_diameter.mm();
    let up = [-head.sin, 0.0, head.cos];
    let along = [head.cos, 0.0, head.sin];
    for post in spec.posts.iter().flatten() {
        let x = head.x(post.along.mm());
        let top = [x, post.offset.mm(), -neck.wood_top(x)];
        let bottom = [0, 1, 2].map(|k| top[k] - head.thickness * up[k]);
        let faces = [made.face_at(1, SLAB, top)?, made.face_at(0, SLAB, bottom)?];
        let solid = &mut made.solid;
        let first = solid.vertices.len();
        for centre in [top, bottom] {
            for way in [1.0, -1.0] {
                solid.vertices.push([0, 1, 2].map(|k| centre[k] + way * radius_mm * along[k]));
            }
        }
        let [a, b, c, d] = [0, 1, 2, 3].map(|k| first + k);
        let from = solid.edges.len();
        let arc = |ends: [usize; 2], centre: Point3| Edge {
            ends,
            curve: Curve::Arc { centre, axis: up, radius_mm },
            within_mm: 0.0,
        };
        let line = |ends: [usize; 2]| Edge { ends, curve: Curve::Line, within_mm: 0.0 };
        solid.edges.extend([
            arc([a, b], top),
            arc([b, a], top),
            arc([c, d], bottom),
            arc([d, c], bottom),
            line([a, c]),
            line([b, d]),
        ]);
        let step = |k: usize, forward: bool| Step { edge: from + k, forward };
        // A hole goes round the other way than its face's edge does.
        solid.faces[faces[0]].loops.push([step(0, false), step(1, false)].into());
        solid.faces[faces[1]].loops.push([step(2, true), step(3, true)].into());
        let halves = [
            [step(0, true), step(5, true), step(2, false), step(4, false)],
            [step(1, true), step(4, true), step(3, false), step(5, false)],
        ];
        for steps in halves {
            let surface = Surface::Cylinder { point: bottom, axis: up, across: along, radius_mm };
            solid.faces.push(Face {
                surface,
                outward: false,
                loops: [steps.into()].into(),
                traces: [].into(),
            });
            made.sheets.push(None);
        }
    }
    Some(made)
}

//! Curves and surfaces for what was put together.

use alloc::collections::BTreeMap;
use alloc::vec::Vec;

use super::super::curve::Curve;
use super::super::foot::FOOT_MM;
use super::super::sheet::{Kind, Sheet};
use super::super::shell::{Edge, Face, Solid, Step};
use super::super::surface::Surface;
use super::super::trace::trace;
use super::patch::joined;
use super::work::{Draft, Group, Over, Work};
use super::{Made, UPPER};

impl<'a> Work<'a, '_> {
    pub(super) fn curve(&self, edge: &Draft) -> Option<(Curve, f64)> {
        let ends = edge.ends.map(|v| self.vertices[v]);
        let best = |rank: &dyn Fn(&Sheet<'a>) -> u8| {
            let sheets = edge.sheets.iter().map(|(p, s)| self.sheet(*p, *s));
            sheets.min_by_key(|s| rank(s))
        };
        match edge.over {
            Over::Point => Some((Curve::Line, 0.0)),
            Over::Cross => {
                // A back goes its own pace even where it is level.
                let paced = |s: &Sheet<'a>| match s.kind {
                    Kind::Back { .. } => 0,
                    _ => 1 + u8::from(s.across(ends) != Curve::Line),
                };
                Some((best(&paced)?.across(ends), 0.0))
            }
            Over::Curve(curve) => {
                let over = self.curves[curve];
                let sheet = best(&|s| s.rank(over))?;
                // What is found by a search lies on the other sheet as well as that was found.
                let exact = edge.sheets.iter().all(|(p, s)| self.sheet(*p, *s).rank(over) < 3);
                let within = if exact { 0.0 } else { FOOT_MM };
                Some((sheet.over(over, ends)?, within))
            }
        }
    }

    pub(super) fn surface(&self, group: Group, [low, high]: [f64; 2], half: f64) -> Option<(Surface, bool)> {
        match group {
            Group::Sheet { part, sheet } => {
                let sheet = self.sheet(part, sheet);
                Some((sheet.surface(half)?, sheet.up() == (part == UPPER)))
            }
            Group::Wall { curve, right } => Some((self.curves[curve].wall([low, high])?, right)),
            Group::Cross { station, right } => {
                let point = [self.stations[station], 0.0, 0.0];
                Some((Surface::Plane { point, normal: [1.0, 0.0, 0.0], along: [0.0, 1.0, 0.0] }, right))
            }
        }
    }

    /// Twice the area of a loop as seen from its face's side, by its vertices in the plane that shows it best.
    pub(super) fn area(&self, group: Group, steps: &[Step]) -> f64 {
        let flat = |v: usize| {
            let [x, y, z] = self.vertices[v];
            match group {
                Group::Sheet { part: UPPER, .. } => [x, y],
                Group::Sheet { .. } => [y, x],
                Group::Wall { right: true, .. } => [x, z],
                Group::Wall { .. } => [z, x],
                Group::Cross { right: true, .. } => [y, z],
                Group::Cross { .. } => [z, y],
            }
        };
        let ends = |s: &Step| {
            let [a, b] = self.edges[s.edge].ends;
            if s.forward { [a, b] } else { [b, a] }
        };
        steps
            .iter()
            .map(|s| {
                let [a, b] = ends(s).map(flat);
                a[0] * b[1] - b[0] * a[1]
            })
            .sum()
    }

    pub(super) fn made(mut self) -> Option<Made> {
        self.stand();
        for i in 0..self.stretches.len() {
            self.over_stretch(i)?;
        }
        for station in 0..self.stations.len() {
            self.across_station(station)?;
        }
        let cells = core::mem::take(&mut self.cells);
        let mut patches = joined(&cells, &self.edges);
        self.tidy(&mut patches);
        let z = self.vertices.iter().map(|v| v[2]);
        let reach = [z.clone().fold(f64::INFINITY, f64::min), z.fold(f64::NEG_INFINITY, f64::max)];
        let half = self.vertices.iter().map(|v| libm::fabs(v[1])).fold(0.0, f64::max);
        let mut edge_of: BTreeMap<usize, usize> = BTreeMap::new();
        let mut vertex_of: BTreeMap<usize, usize> = BTreeMap::new();
        let mut solid = Solid {
            name: self.making.name.clone(),
            vertices: Vec::new(),
            edges: Vec::new(),
            faces: Vec::new(),
            left_handed: false,
        };
        let mut sheets = Vec::new();
        for patch in &mut patches {
            let areas: Vec<f64> = patch.loops.iter().map(|l| self.area(patch.group, l)).collect();
            let outer = (0..areas.len()).max_by(|a, b| areas[*a].total_cmp(&areas[*b]))?;
            patch.loops.swap(0, outer);
            let mut loops = Vec::new();
            for steps in &patch.loops {
                let mut own = Vec::new();
                for step in steps {
                    let index = match edge_of.get(&step.edge) {
                        Some(i) => *i,
                        None => {
                            let draft = &self.edges[step.edge];
                            let (curve, within_mm) = self.curve(draft)?;
                            let ends = draft.ends.map(|v| {
                                *vertex_of.entry(v).or_insert_with(|| {
                                    solid.vertices.push(self.vertices[v]);
                                    solid.vertices.len() - 1
                                })
                            });
                            solid.edges.push(Edge { ends, curve, within_mm });
                            edge_of.insert(step.edge, solid.edges.len() - 1);
                            solid.edges.len() - 1
                        }
                    };
                    own.push(Step { edge: index, forward: step.forward });
                }
                loops.push(own);
            }
            let (surface, outward) = self.surface(patch.group, reach, half)?;
            let drafts = patch.loops.iter().flatten().map(|step| &self.edges[step.edge]);
            let ids: Vec<usize> = loops.iter().flatten().map(|step: &Step| step.edge).collect();
            let mut traces = Vec::new();
            for (draft, id) in drafts.zip(&ids) {
                let over = if let Over::Curve(curve) = draft.over { Some(self.curves[curve]) } else { None };
                let sheet = match patch.group {
                    Group::Sheet { part, sheet } => Some(self.sheet(part, sheet)),
                    _ => None,
                };
                traces.extend(trace(&surface, sheet, over, (*id, &solid.edges[*id]))?);
            }
            solid.faces.push(Face { surface, outward, loops, traces });
            sheets.push(match patch.group {
                Group::Sheet { part, sheet } => Some((part, sheet)),
                _ => None,
            });
        }
        Some(Made { solid, sheets })
    }
}

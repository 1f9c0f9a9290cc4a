//! Faces within polylines: the first triangles, between points of edges only.

use alloc::vec;
use alloc::vec::Vec;

use super::chart::Chart;
use super::facet::{Corner, Facet, HELD, NONE};
use super::patch::{Patch, triangulated};
use super::polyline::{Along, Polyline};
use super::web::{Stretch, Web, is_blocked};
use crate::solid::{Face, Solid};

/// How often edges that cross once they are polylines are halved.
const ROUNDS: u32 = 16;
/// How often those are whose middles lie past other sides of their triangles.
const BENT_ROUNDS: u32 = 6;
/// How often all of them are, where it is not known which ones cross.
const BLIND_ROUNDS: u32 = 5;

/// A point on a loop, and the stretch that goes on from there.
#[derive(Clone, Copy)]
struct Stop {
    edge: usize,
    /// Which of the edge's points it is, and which of its stretches goes on.
    point: usize,
    stretch: usize,
    forward: bool,
}

/// One face's corners, all on its loops.
struct Rim {
    corners: Vec<Corner>,
    stops: Vec<Stop>,
    loops: Vec<Vec<u32>>,
}

impl Rim {
    fn new(face: &Face, f: usize, chart: &Chart, edges: &[Along<'_>], lines: &[Polyline]) -> Option<Self> {
        let mut rim = Self { corners: Vec::new(), stops: Vec::new(), loops: Vec::new() };
        for steps in &face.loops {
            let first = rim.corners.len() as u32;
            for step in steps {
                let line = &lines[step.edge];
                let last = line.t.len() - 1;
                for k in 0..last {
                    let (edge, forward) = (step.edge, step.forward);
                    let (point, stretch) = if forward { (k, k) } else { (last - k, last - k - 1) };
                    rim.stops.push(Stop { edge, point, stretch, forward });
                    let (point, at) = edges[step.edge].at(line.t[point])?;
                    let at = at[usize::from(!forward)];
                    let normal = chart.normal(at);
                    let normal = if face.outward { normal } else { normal.map(|x| 0.0 - x) };
                    rim.corners.push(Corner { face: f as u32, place: NONE, sharp: false, point, normal, at });
                }
            }
            let last = rim.corners.len() as u32;
            rim.loops.push((first..last).collect());
        }
        Some(rim)
    }

    /// The stretches whose middles lie so close to the other sides of their triangles, or past them, that halving them would turn one
    /// over.
    fn blocked(
        &self,
        patch: &Patch,
        edges: &[Along<'_>],
        lines: &[Polyline],
        face: &Face,
    ) -> Vec<(usize, usize)> {
        let mut next = vec![NONE; self.corners.len()];
        for own in &self.loops {
            (0..own.len()).for_each(|i| next[own[i] as usize] = own[(i + 1) % own.len()]);
        }
        let mut found = Vec::new();
        for t in &patch.triangles {
            for k in 0..3 {
                let [a, b, c] = [0, 1, 2].map(|i| t[(k + i) % 3]);
                let stop = self.stops[a as usize];
                let side = usize::from(!stop.forward);
                if next[a as usize] != b || !edges[stop.edge].winds(side) {
                    continue;
                }
                let over = &lines[stop.edge].t[stop.stretch..stop.stretch + 2];
                let Some(middle) = edges[stop.edge].parameters(side, 0.5 * (over[0] + over[1])) else {
                    continue;
                };
                let [a, b, c] = [a, b, c].map(|c| self.corners[c as usize].at);
                if is_blocked([a, b, c], middle, face.outward) {
                    found.push((stop.edge, stop.stretch));
                }
            }
        }
        found
    }
}

impl<'a> Web<'a> {
    /// Every face as triangles between the points of edges, which are halved where they cross as polylines; `None` where they
    /// always do.
    pub fn laid(
        solid: &Solid,
        charts: &'a [Chart],
        edges: &'a [Along<'a>],
        lines: &mut [Polyline],
    ) -> Option<Self> {
        let mut made: Vec<Option<(Rim, Patch)>> = solid.faces.iter().map(|_| None).collect();
        for round in 0..=ROUNDS {
            let mut halved: Vec<(usize, usize)> = Vec::new();
            for (f, face) in solid.faces.iter().enumerate() {
                if made[f].is_some() {
                    continue;
                }
                let rim = Rim::new(face, f, &charts[f], edges, lines)?;
                match triangulated(&charts[f], &rim.loops, &rim.corners, !face.outward) {
                    Ok(patch) => {
                        let blocked = if round < BENT_ROUNDS {
                            rim.blocked(&patch, edges, lines, face)
                        } else {
                            Vec::new()
                        };
                        if blocked.is_empty() {
                            made[f] = Some((rim, patch));
                        } else {
                            halved.extend(blocked);
                        }
                    }
                    Err(_) if round == ROUNDS => return None,
                    Err(crossed) if crossed.0.is_empty() => {
                        // What lies on a line that bends between edges that bend: no one side is to blame.
                        let bent = rim.stops.iter().filter(|stop| !edges[stop.edge].course.is_line());
                        let count = halved.len();
                        halved.extend(bent.map(|stop| (stop.edge, stop.stretch)));
                        if halved.len() == count || round >= BLIND_ROUNDS {
                            return None;
                        }
                    }
                    Err(crossed) => {
                        let stretch = |c: &u32| (rim.stops[*c as usize].edge, rim.stops[*c as usize].stretch);
                        halved.extend(crossed.0.iter().map(stretch));
                    }
                }
            }
            if halved.is_empty() {
                break;
            }
            halved.sort_unstable();
            halved.dedup();
            for (edge, i) in halved.into_iter().rev() {
                lines[edge].halve(i);
                edges[edge].faces.iter().for_each(|f| made[*f] = None);
            }
        }
        let outward = solid.faces.iter().map(|f| f.outward).collect();
        let (corners, facets, stretches) = (Vec::new(), Vec::new(), Vec::new());
        let mut web = Self { charts, outward, edges, corners, facets, stretches, places: 0 };
        web.joined(solid, lines, made.into_iter().collect::<Option<_>>()?)?;
        Some(web)
    }

    /// Puts faces together: numbers places and stretches, and tells each triangle what lies beside it.
    fn joined(&mut self, solid: &Solid, lines: &[Polyline], made: Vec<(Rim, Patch)>) -> Option<()> {
        // Places are the vertices, then what lies between on each edge.
        self.places = solid.vertices.len() as u32;
        let mut starts: Vec<[u32; 2]> = Vec::with_capacity(lines.len());
        for (e, line) in lines.iter().enumerate() {
            starts.push([self.places, self.stretches.len() as u32]);
            self.places += line.t.len() as u32 - 2;
            let stretch = |w: &[f64]| Stretch { edge: e as u32, over: [w[0], w[1]] };
            self.stretches.extend(line.t.windows(2).map(stretch));
        }
        let mut sharp = vec![false; self.places as usize];
        // A side by its corners, with its facet: on a loop, and in a triangle.
        let mut on_loops: Vec<([u32; 2], u32)> = Vec::new();
        let mut held: Vec<[u32; 2]> = Vec::new();
        for (rim, patch) in made {
            let start = self.corners.len() as u32;
            for own in &rim.loops {
                for (i, c) in own.iter().enumerate() {
                    let stop = rim.stops[*c as usize];
                    let on = 2 * (starts[stop.edge][1] + stop.stretch as u32) + u32::from(!stop.forward);
                    on_loops.push(([start + c, start + own[(i + 1) % own.len()]], on));
                }
            }
            for (corner, stop) in rim.corners.into_iter().zip(&rim.stops) {
                let ends = solid.edges[stop.edge].ends;
                let last = lines[stop.edge].t.len() - 1;
                let place = match stop.point {
                    0 => ends[0] as u32,
                    i if i == last => ends[1] as u32,
                    i => starts[stop.edge][0] + i as u32 - 1,
                };
                self.corners.push(Corner { place, ..corner });
            }
            for t in &patch.triangles {
                self.facets.push(Facet::new(t.map(|c| c + start), &self.corners));
            }
            held.extend(patch.held.iter().map(|side| side.map(|c| c + start)));
        }
        for ([a, b], on) in &on_loops {
            if self.edges[self.stretches[(on >> 1) as usize].edge as usize].sharp {
                for c in [a, b] {
                    sharp[self.corners[*c as usize].place as usize] = true;
                }
            }
        }
        for corner in &mut self.corners {
            corner.sharp = sharp[corner.place as usize];
        }
        on_loops.sort_unstable();
        held.sort_unstable();
        self.meet(&on_loops, &held)
    }

    fn meet(&mut self, on_loops: &[([u32; 2], u32)], held: &[[u32; 2]]) -> Option<()> {
        // By what both facets beside a side know of it: its corners, or its stretch.
        let mut sides: Vec<([u32; 3], u32, usize)> = Vec::with_capacity(3 * self.facets.len());
        for (f, facet) in self.facets.iter_mut().enumerate() {
            for k in 0..3 {
                let side = [facet.corners[k], facet.corners[(k + 1) % 3]];
                let ends = [side[0].min(side[1]), side[0].max(side[1])];
                let key = match on_loops.binary_search_by_key(&side, |s| s.0) {
                    Ok(i) => {
                        facet.on[k] = on_loops[i].1;
                        [1, facet.on[k] >> 1, 0]
                    }
                    Err(_) => {
                        facet.on[k] = if held.binary_search(&ends).is_ok() { HELD } else { NONE };
                        [0, ends[0], ends[1]]
                    }
                };
                sides.push((key, f as u32, k));
            }
        }
        sides.sort_unstable();
        for pair in sides.chunk_by(|a, b| a.0 == b.0) {
            let [(_, f, k), (_, g, l)] = pair else { return None };
            self.facets[*f as usize].beside[*k] = *g;
            self.facets[*g as usize].beside[*l] = *f;
        }
        Some(())
    }
}

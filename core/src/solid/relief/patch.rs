//! Cells of one face, and the loops around it.

use alloc::collections::{BTreeMap, BTreeSet};
use alloc::vec;
use alloc::vec::Vec;

use super::super::shell::Step;
use super::near;
use super::work::{Cell, Draft, Group, Over, Work};

/// Cells of one face each, and the loops around it.
pub(super) struct Patch {
    pub(super) group: Group,
    pub(super) loops: Vec<Vec<Step>>,
}

/// The cells that belong together, joined where they share an edge that both go along, each its own way.
pub(super) fn joined(cells: &[Cell], edges: &[Draft]) -> Vec<Patch> {
    let mut parent: Vec<usize> = (0..cells.len()).collect();
    pub(super) fn root(parent: &mut [usize], mut i: usize) -> usize {
        while parent[i] != i {
            parent[i] = parent[parent[i]];
            i = parent[i];
        }
        i
    }
    let mut first: BTreeMap<(Group, usize), (usize, bool)> = BTreeMap::new();
    let mut gone: BTreeSet<(Group, usize)> = BTreeSet::new();
    for (i, cell) in cells.iter().enumerate() {
        for step in &cell.steps {
            let key = (cell.group, step.edge);
            match first.get(&key) {
                Some((j, forward)) if *forward != step.forward => {
                    let (a, b) = (root(&mut parent, i), root(&mut parent, *j));
                    parent[a.max(b)] = a.min(b);
                    gone.insert(key);
                }
                _ => {
                    first.insert(key, (i, step.forward));
                }
            }
        }
    }
    let mut by_root: BTreeMap<usize, Vec<Step>> = BTreeMap::new();
    for (i, cell) in cells.iter().enumerate() {
        let at = root(&mut parent, i);
        let left = cell.steps.iter().filter(|s| !gone.contains(&(cell.group, s.edge))).copied();
        by_root.entry(at).or_default().extend(left);
    }
    let faces = by_root.into_iter().filter(|(_, steps)| !steps.is_empty());
    faces.map(|(at, steps)| Patch { group: cells[at].group, loops: chained(steps, edges) }).collect()
}

/// Steps in closed loops.
pub(super) fn chained(mut steps: Vec<Step>, edges: &[Draft]) -> Vec<Vec<Step>> {
    let end = |step: &Step, end: bool| edges[step.edge].ends[usize::from(end == step.forward)];
    let mut loops = Vec::new();
    while let Some(step) = steps.pop() {
        let start = end(&step, false);
        let mut own = vec![step];
        while let Some(last) = own.last() {
            let at = end(last, true);
            if at == start {
                break;
            }
            let Some(next) = steps.iter().position(|s| end(s, false) == at) else { break };
            own.push(steps.swap_remove(next));
        }
        loops.push(own);
    }
    loops
}

impl Work<'_, '_> {
    /// Joins the two edges of a vertex that only they meet in, where they go on over one another's curve.
    pub(super) fn tidy(&mut self, patches: &mut [Patch]) {
        let mut using: Vec<Vec<usize>> = vec![Vec::new(); self.vertices.len()];
        let used: BTreeSet<usize> =
            patches.iter().flat_map(|p| p.loops.iter().flatten()).map(|s| s.edge).collect();
        for e in &used {
            self.edges[*e].ends.iter().for_each(|v| using[*v].push(*e));
        }
        for v in 0..using.len() {
            let [a, b] = using[v][..] else { continue };
            let (p, q) = (self.edges[a].clone(), self.edges[b].clone());
            let same_sheets = p.sheets.iter().any(|s| q.sheets.contains(s)) || p.over == Over::Point;
            let cross =
                p.over != Over::Cross || near(self.vertices[p.ends[0]][0], self.vertices[q.ends[1]][0]);
            if a == b || p.over != q.over || !same_sheets || !cross {
                continue;
            }
            let other = |edge: &Draft| if edge.ends[0] == v { edge.ends[1] } else { edge.ends[0] };
            let (from, to) = (other(&p), other(&q));
            if from == to {
                continue;
            }
            // The one goes on: it keeps its way, and takes the place of both.
            let forward = p.ends[1] == v;
            let sheets = p.sheets.iter().filter(|s| q.sheets.contains(s)).copied().collect();
            self.edges[a].ends = if forward { [from, to] } else { [to, from] };
            self.edges[a].sheets = sheets;
            for steps in patches.iter_mut().flat_map(|p| &mut p.loops) {
                steps.retain(|s| s.edge != b);
            }
            for e in &mut using[to] {
                if *e == b {
                    *e = a;
                }
            }
            using[v].clear();
        }
    }
}

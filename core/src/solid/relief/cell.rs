//! The parts of faces over one stretch or across one station.

use alloc::vec;
use alloc::vec::Vec;

use super::super::shell::{Step, reversed};
use super::work::{Cell, Draft, Group, Over, Stretch, Work};
use super::{LOWER, UPPER, near};

impl Work<'_, '_> {
    /// The edge between two vertices, as it was made before where it was; `None` where they are one.
    pub(super) fn edge(
        &mut self,
        from: usize,
        to: usize,
        over: Over,
        middle: f64,
        sheet: Option<(usize, usize)>,
    ) -> Option<Step> {
        if from == to {
            return None;
        }
        let key = [from.min(to), from.max(to)];
        let known = self.by_ends.entry(key).or_default();
        let same = known.iter().find(|e| {
            let edge = &self.edges[**e];
            edge.over == over && near(edge.middle, middle)
        });
        let index = match same {
            Some(e) => *e,
            None => {
                known.push(self.edges.len());
                self.edges.push(Draft { ends: [from, to], over, middle, sheets: Vec::new() });
                self.edges.len() - 1
            }
        };
        let edge = &mut self.edges[index];
        if let Some(sheet) = sheet.filter(|s| !edge.sheets.contains(s)) {
            edge.sheets.push(sheet);
        }
        Some(Step { edge: index, forward: edge.ends[0] == from })
    }

    /// The edge of a sheet along a curve over a stretch, toward the bridge.
    pub(super) fn along(
        &mut self,
        (part, sheet): (usize, usize),
        curve: usize,
        stretch: usize,
    ) -> Option<Step> {
        let made = self.sheet(part, sheet);
        let over = self.curves[curve];
        let end = |work: &Self, station: usize| {
            let place = work.place(station, work.y(curve, station))?;
            work.vertex(station, place, made.height_over(over, work.stations[station]))
        };
        let (from, to) = (end(self, stretch)?, end(self, stretch + 1)?);
        let middle = 0.5 * (self.stations[stretch] + self.stations[stretch + 1]);
        let middle = made.height_over(over, middle);
        self.edge(from, to, Over::Curve(curve), middle, Some((part, sheet)))
    }

    /// The edges of a sheet across a station between two places, of rising `y`; none where these are one.
    pub(super) fn across(
        &mut self,
        (part, sheet): (usize, usize),
        station: usize,
        [from, to]: [usize; 2],
    ) -> Option<Vec<Step>> {
        if from > to {
            return None;
        }
        let made = self.sheet(part, sheet);
        let x = self.stations[station];
        let mut steps = Vec::new();
        for k in from..to {
            let y = [self.places[station][k], self.places[station][k + 1]];
            let ends = [0, 1].map(|i| self.vertex(station, k + i, made.height(x, y[i])));
            let [Some(a), Some(b)] = ends else { return None };
            let middle = made.height(x, 0.5 * (y[0] + y[1]));
            steps.push(self.edge(a, b, Over::Cross, middle, Some((part, sheet)))?);
        }
        Some(steps)
    }

    /// The edges straight up over a place from one vertex to another.
    pub(super) fn upright(
        &mut self,
        station: usize,
        place: usize,
        [from, to]: [usize; 2],
    ) -> Option<Vec<Step>> {
        let all = self.standing[station][place].clone();
        let at = |v: usize| all.iter().position(|o| *o == v);
        let (a, b) = (at(from)?, at(to)?);
        if a > b {
            return None;
        }
        let mut steps = Vec::new();
        for k in a..b {
            let (p, q) = (all[k], all[k + 1]);
            let middle = 0.5 * (self.vertices[p][2] + self.vertices[q][2]);
            steps.push(self.edge(p, q, Over::Point, middle, None)?);
        }
        Some(steps)
    }

    pub(super) fn ends(&self, steps: &[Step]) -> Option<[usize; 2]> {
        let end = |step: &Step, end: bool| self.edges[step.edge].ends[usize::from(end == step.forward)];
        Some([end(steps.first()?, false), end(steps.last()?, true)])
    }

    /// A wall between two edges, or chains of them, that go the same way; it faces to their right, or left.
    pub(super) fn wall(
        &mut self,
        group: Group,
        right: bool,
        [low, high]: [Vec<Step>; 2],
        at: [(usize, usize); 2],
    ) -> Option<()> {
        if low == high {
            return Some(());
        }
        let ([a, b], [d, c]) = (self.ends(&low)?, self.ends(&high)?);
        let mut steps = low;
        steps.extend(self.upright(at[1].0, at[1].1, [b, c])?);
        steps.extend(reversed(&high));
        let up = self.upright(at[0].0, at[0].1, [a, d])?;
        steps.extend(reversed(&up));
        let steps = if right { steps } else { reversed(&steps) };
        self.cells.push(Cell { group, steps });
        Some(())
    }

    /// Faces of the reliefs over one stretch, and the walls along its boundaries.
    pub(super) fn over_stretch(&mut self, i: usize) -> Option<()> {
        for part in [LOWER, UPPER] {
            let Stretch { curves, sheets } = &self.stretches[i];
            let (curves, sheets) = (curves[part].clone(), sheets[part].clone());
            for (k, sheet) in sheets.iter().enumerate() {
                let own = (part, *sheet);
                let mut steps = vec![self.along(own, curves[k], i)?];
                let places = |work: &Self, station: usize| {
                    let [from, to] =
                        [curves[k], curves[k + 1]].map(|c| work.place(station, work.y(c, station)));
                    Some([from?, to?])
                };
                let ends = [places(self, i)?, places(self, i + 1)?];
                steps.extend(self.across(own, i + 1, ends[1])?);
                steps.extend(reversed(&[self.along(own, curves[k + 1], i)?]));
                steps.extend(reversed(&self.across(own, i, ends[0])?));
                let steps = if part == UPPER { steps } else { reversed(&steps) };
                self.cells.push(Cell { group: Group::Sheet { part, sheet: *sheet }, steps });
            }
            for k in 1..sheets.len() {
                let [right, left] = [(part, sheets[k - 1]), (part, sheets[k])];
                self.wall_between(curves[k], i, [right, left])?;
            }
        }
        let Stretch { curves, sheets } = &self.stretches[i];
        let last = [LOWER, UPPER].map(|p| sheets[p].len() - 1);
        let ends = [
            (curves[LOWER][0], [sheets[LOWER][0], sheets[UPPER][0]], true),
            (curves[LOWER][last[0] + 1], [sheets[LOWER][last[0]], sheets[UPPER][last[1]]], false),
        ];
        for (curve, [low, high], right) in ends {
            self.wall_along(curve, i, [(LOWER, low), (UPPER, high)], right)?;
        }
        Some(())
    }

    pub(super) fn wall_along(
        &mut self,
        curve: usize,
        i: usize,
        sheets: [(usize, usize); 2],
        right: bool,
    ) -> Option<()> {
        let [low, high] = sheets.map(|s| self.along(s, curve, i));
        let [from, to] =
            [i, i + 1].map(|station| Some((station, self.place(station, self.y(curve, station))?)));
        self.wall(Group::Wall { curve, right }, right, [vec![low?], vec![high?]], [from?, to?])
    }

    /// The wall where two sheets of one relief meet along a curve: that on its right and that on its left.
    pub(super) fn wall_between(
        &mut self,
        curve: usize,
        i: usize,
        [right, left]: [(usize, usize); 2],
    ) -> Option<()> {
        let x = 0.5 * (self.stations[i] + self.stations[i + 1]);
        let [r, l] = [right, left].map(|(p, s)| self.sheet(p, s).height_over(self.curves[curve], x));
        if near(r, l) {
            return Some(());
        }
        // Solid is under an upper sheet and over a lower one.
        let left_more = if right.0 == UPPER { l > r } else { l < r };
        let sheets = if l > r { [right, left] } else { [left, right] };
        self.wall_along(curve, i, sheets, left_more)
    }

    /// The walls across a station.
    pub(super) fn across_station(&mut self, station: usize) -> Option<()> {
        let x = self.stations[station];
        for k in 0..self.places[station].len().saturating_sub(1) {
            let y = 0.5 * (self.places[station][k] + self.places[station][k + 1]);
            let cells = self.beside(station).map(|stretch| {
                let stretch = stretch?;
                let sheet = |part| Some((part, self.cell_at(stretch, part, station, y)?));
                Some([sheet(LOWER)?, sheet(UPPER)?])
            });
            let height = |(p, s): (usize, usize)| self.sheet(p, s).height(x, y);
            // What lies toward the headstock is on the left of the way across.
            let mut walls: Vec<([(usize, usize); 2], bool)> = Vec::new();
            match cells {
                [Some(only), None] => walls.push((only, true)),
                [None, Some(only)] => walls.push((only, false)),
                [Some(left), Some(right)] => {
                    for part in [LOWER, UPPER] {
                        let (l, r) = (left[part], right[part]);
                        let (hl, hr) = (height(l), height(r));
                        if !near(hl, hr) {
                            let left_more = if part == UPPER { hl > hr } else { hl < hr };
                            walls.push((if hl > hr { [r, l] } else { [l, r] }, left_more));
                        }
                    }
                }
                [None, None] => {}
            }
            for (sheets, right) in walls {
                let [low, high] = sheets.map(|s| self.across(s, station, [k, k + 1]));
                let at = [(station, k), (station, k + 1)];
                self.wall(Group::Cross { station, right }, right, [low?, high?], at)?;
            }
        }
        Some(())
    }
}

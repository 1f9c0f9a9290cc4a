//! How much wood there is.

use alloc::vec::Vec;

use smallvec::SmallVec;

use super::limit::Contour;
use super::wood::Wood;
use crate::law::{Part, pair_nodes, refined};

/// How many of the section's bounds a window holds at the least.
const BOUNDS: usize = 1;
/// Sections by fewer cuts are taken whole.
const FEW: usize = 8;
/// A kink that makes less of a difference than this is not looked for, mm³: halving comes by it sooner.
const STRONG: f64 = 1e-6;
/// The most parts that are parted in two, the most doubtful first.
const MOST: usize = 20_000;

/// A line along the neck between two windows, on one bound all the way: a parabola about the middle of a stretch.
#[derive(Clone, Copy)]
struct Border {
    middle: f64,
    across: [f64; 3],
}

impl Border {
    const fn beyond(sign: f64) -> Self {
        Self { middle: 0.0, across: [sign * f64::INFINITY, 0.0, 0.0] }
    }

    /// Through places at three stations, the second midway.
    fn through(x: [f64; 3], y: [f64; 3]) -> Self {
        let half = 0.5 * (x[2] - x[0]);
        let (rise, bend) = (0.5 * (y[2] - y[0]), 0.5 * (y[2] + y[0]) - y[1]);
        Self { middle: x[1], across: [y[1], rise / half, bend / (half * half)] }
    }

    fn at(&self, x: f64) -> f64 {
        let [y, rise, bend] = self.across;
        let t = x - self.middle;
        y + t * (rise + t * bend)
    }
}

/// A part of the sections over a stretch between two joints. Where one cut takes the place of another the area has a kink;
/// in windows only the cuts nearby have to be asked again for it.
struct Window {
    across: [Border; 2],
    /// The cuts that have been seen in it or right beside it; `None` where sections are taken whole.
    passes: Option<SmallVec<[usize; 8]>>,
}

impl Window {
    fn at(&self, x: f64) -> [f64; 2] {
        self.across.map(|b| b.at(x))
    }
}

impl Wood {
    /// Volume of the wood, mm³, the rod's channel and the tuner holes taken off once they are made: the integral of
    /// [`area_mm2`](Self::area_mm2), parted down to 1e-13 of it, or 20,000 times. The hardest neck and stock that were
    /// tried, dozens of cuts along a back that changes its shape dozens of times, take 14,130.
    #[must_use]
    pub fn volume_mm3(&self) -> f64 {
        self.integral().0 - self.bored_mm3
    }

    /// The integral of the sections, and how many parts it took beyond the first.
    fn integral(&self) -> (f64, usize) {
        let (mut windows, mut parts): (Vec<Window>, Vec<Part>) = (Vec::new(), Vec::new());
        for w in self.joints().windows(2) {
            self.stretch([w[0], w[1]], &mut windows, &mut parts);
        }
        let mut apart = |part: &Part| {
            let window = &windows[part.of];
            let of = |x: [f64; 2]| Part::new(x, part.of, &pair_nodes(x).map(|x| self.area_in(x, window)));
            let at = (part.error > STRONG)
                .then(|| self.kink(part.x, window))
                .flatten()
                .unwrap_or(0.5 * (part.x[0] + part.x[1]));
            [of([part.x[0], at]), of([at, part.x[1]])]
        };
        refined(parts, 1e-13, MOST, &mut apart)
    }

    /// A station between two others where in a window one cut takes the place of another, or its contour comes through the
    /// glue line, closed in on to where the rule does not mind it; `None` where there is none to be seen.
    fn kink(&self, x: [f64; 2], window: &Window) -> Option<f64> {
        const HALVINGS: u32 = 12;
        let passes = window.passes.as_ref()?;
        let glue = self.neck.layout().board().thickness_mm();
        let pattern = |x: f64| {
            let cuts = passes.iter().map(|i| &self.passes[*i]);
            Some(self.contour_of(x, window.at(x), cuts)?.pattern(glue))
        };
        let mut nodes = pair_nodes(x);
        nodes.sort_by(f64::total_cmp);
        let first = pattern(nodes[0]);
        let mut last = nodes[0];
        for x in &nodes[1..] {
            if pattern(*x) == first {
                last = *x;
                continue;
            }
            let (mut a, mut b) = (last, *x);
            for _ in 0..HALVINGS {
                let mid = 0.5 * (a + b);
                if pattern(mid) == first { a = mid } else { b = mid }
            }
            return Some(0.5 * (a + b));
        }
        None
    }

    /// The area in a window.
    fn area_in(&self, x: f64, window: &Window) -> f64 {
        let Some(passes) = &window.passes else { return self.area_mm2(x) };
        let across = window.at(x);
        let contour = self.contour_of(x, across, passes.iter().map(|i| &self.passes[*i]));
        contour.map_or(0.0, |contour| self.area_within(x, &contour, across))
    }

    /// The windows over a stretch between two joints, and a first part of each.
    fn stretch(&self, x: [f64; 2], windows: &mut Vec<Window>, parts: &mut Vec<Part>) {
        let nodes = pair_nodes(x);
        let first = windows.len();
        // Between two joints a cut is there everywhere or nowhere.
        let here: Vec<usize> = (0..self.passes.len()).filter(|i| self.passes[*i].covers(nodes[0])).collect();
        let contours: Option<Vec<Contour>> = (here.len() >= FEW && self.shaped_at(nodes[0]).is_none())
            .then(|| nodes.iter().map(|x| self.contour(*x)).collect())
            .flatten();
        let Some(contours) = contours else {
            windows.push(Window { across: [Border::beyond(-1.0), Border::beyond(1.0)], passes: None });
            parts.push(Part::new(x, first, &nodes.map(|x| self.area_mm2(x))));
            return;
        };
        let mut from = Border::beyond(-1.0);
        for to in borders(&nodes, &contours).into_iter().chain([Border::beyond(1.0)]) {
            let mut window = Window { across: [from, to], passes: None };
            let mut seen: SmallVec<[usize; 8]> = SmallVec::new();
            let mut areas = [0.0; 15];
            for ((x, contour), area) in nodes.iter().zip(&contours).zip(&mut areas) {
                let across = window.at(*x);
                *area = self.area_within(*x, contour, across);
                let cuts = contour.about(across).filter_map(|i| i.checked_sub(contour.bounds() - here.len()));
                for pass in cuts.map(|k| here[k]) {
                    if !seen.contains(&pass) {
                        seen.push(pass);
                    }
                }
            }
            seen.sort_unstable();
            window.passes = Some(seen);
            parts.push(Part::new(x, windows.len(), &areas));
            windows.push(window);
            from = to;
        }
    }
}

/// Borders on bounds that are the lowest there at all of the stations, from left to right.
fn borders(nodes: &[f64; 15], contours: &[Contour]) -> Vec<Border> {
    // The middle, the first and the last.
    let of = [13, 0, 14];
    let mut all = Vec::new();
    let mut since = 0;
    for index in contours[0].order() {
        since += 1;
        if since <= BOUNDS {
            continue;
        }
        let [Some(a), Some(b), Some(c)] = of.map(|i| contours[i].middle_of(index)) else { continue };
        let border = Border::through(of.map(|i| nodes[i]), [a, b, c]);
        // One bound may be the lowest in two places, and its first place may lie left of the border before.
        let rises = |x: f64| all.last().is_none_or(|last: &Border| last.at(x) < border.at(x));
        let on_it = |(x, contour): (&f64, &Contour)| rises(*x) && contour.is_lowest(index, border.at(*x));
        if nodes.iter().zip(contours).all(on_it) {
            all.push(border);
            since = 0;
        }
    }
    all
}

#[cfg(test)]
mod tests {
    use alloc::format;
    use alloc::string::String;

    use super::*;
    use crate::shape::Neck;
    use crate::spec::{StageName, Stock};

    /// How many partings the stages of a plan take at the most.
    fn partings(neck: &str, stock: &str) -> (usize, StageName) {
        let plan = Neck::from_json(neck).unwrap().carving_plan(&Stock::from_json(stock).unwrap()).unwrap();
        plan.stages().iter().map(|s| (s.wood.integral().1, s.name)).max_by_key(|p| p.0).unwrap()
    }

    #[test]
    fn the_usual_plan_takes_few_sections() {
        let (most, stage) = partings("{}", "{}");
        assert!(most <= 40, "{most} for {}", stage.name());
    }

    #[test]
    fn many_stations_and_facets_take_no_more_than_there_may_be() {
        let at = |i: u32| 21.5 + if i.is_multiple_of(2) { 0.25 } else { -0.25 } + 0.02 * f64::from(i);
        let list: Vec<String> = (0..60)
            .map(|i| format!(r#"{{"at": {}, "thickness": {}}}"#, 10.0 + 6.5 * f64::from(i), at(i)))
            .collect();
        let neck = format!(r#"{{"shaft": {{"thickness": [{}]}}}}"#, list.join(","));
        let (most, stage) = partings(&neck, r#"{"facets": {"rounds": 5}}"#);
        assert!(most <= 1250, "{most} for {}", stage.name());
    }
}

//! The outside of a neck, tabulated for many points.

use alloc::vec;
use alloc::vec::Vec;

use super::motion::Vector;
use crate::law::Law;
use crate::shape::{Neck, Side, cubic_shares};

/// Gap between tabulated stations, mm. Between them everything goes straight, which leaves `gap²/8` times the second
/// derivative: 1e-6 mm on a shaft, 3e-4 mm along a sweep of 25 mm radius, both far below what a scanner sees.
const GAP_MM: f64 = 0.25;

/// What a neck's outside is made of at a station; distances outward from the centreline and depths, mm.
#[derive(Clone, Copy, Debug, Default)]
struct Row {
    /// Depth of the neck wood's top face.
    top: f64,
    /// Half width of the board.
    board_half: f64,
    /// Control points of the back, bass and treble.
    out: [[f64; 4]; 2],
    depth: [[f64; 4]; 2],
}

/// The part of the outside that a point lies nearest to.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Zone {
    /// The board's face.
    Face,
    /// The top face of the neck wood where no board lies on it: the headstock's face, the shelf behind the nut.
    WoodTop,
    /// A side face.
    Wall,
    /// The carved back, the headstock's and the heel block's flat back with it.
    Back,
    /// An end of the neck or of the board.
    End,
}

/// The nearest place of the outside to a point.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Touch {
    /// Distance of the point from the surface, mm, positive outside.
    pub distance: f64,
    /// The outward normal there.
    pub normal: Vector,
    pub zone: Zone,
    /// Where around: −1 on the bass side's wall, 0 at the spine, 1 on the treble side's wall; of no meaning on the tops.
    pub around: f64,
    /// Whether the nearest place is an edge, where the distance is not one to a plane.
    pub edge: bool,
    /// How far inside of the edges of its face it lies, mm; nothing on an edge.
    pub clear: f64,
}

/// The outside of a neck, right-handed, in its own frame.
#[derive(Clone, Debug)]
pub(crate) struct Skin {
    from: f64,
    gap: f64,
    rows: Vec<Row>,
    /// Where the wood ends.
    end: f64,
    /// Where the board ends.
    board_end: f64,
    nut_slope: f64,
    glue: f64,
    /// Radius of the crown at the nut and its growth; `None` where it is flat.
    crown: Option<(f64, f64)>,
}

/// A place in the section's plane while the nearest one is looked for.
#[derive(Clone, Copy)]
struct Near {
    squared: f64,
    distance: f64,
    /// Gradient along the neck, outward and downward; not yet of length 1.
    gradient: [f64; 3],
    zone: Zone,
    u: f64,
    edge: bool,
}

impl Near {
    fn nearer(&mut self, other: Self) {
        if other.squared < self.squared {
            *self = other;
        }
    }
}

impl Skin {
    pub fn new(neck: &Neck) -> Self {
        let built = neck.built();
        let board = neck.layout().board();
        let [from, to] = neck.reach_mm();
        let count = (libm::ceil((to - from) / GAP_MM) as usize).clamp(1, 20_000);
        let gap = (to - from) / count as f64;
        let x: Vec<f64> = (0..=count).map(|i| (from + gap * i as f64).min(to)).collect();
        let wood: Vec<f64> = x.iter().map(|x| x.min(built.end)).collect();
        let mut rows = vec![Row::default(); x.len()];
        let mut values = vec![0.0; x.len()];
        for (s, side) in Side::BOTH.into_iter().enumerate() {
            let flank = built.back.flanks.of(side);
            for k in 0..4 {
                let mut each = |law: &Law, put: fn(&mut Row, usize, usize, f64)| {
                    law.values_into(&wood, &mut values);
                    for (row, value) in rows.iter_mut().zip(&values) {
                        put(row, s, k, *value);
                    }
                };
                each(&flank.out[k], |row, s, k, value| row.out[s][k] = value);
                each(&flank.depth[k], |row, s, k, value| row.depth[s][k] = value);
            }
        }
        for (row, x) in rows.iter_mut().zip(&x) {
            row.top = neck.wood_top(*x);
            row.board_half = built.board_half.value(*x);
        }
        Self {
            from,
            gap,
            rows,
            end: built.end,
            board_end: board.end_mm(),
            nut_slope: neck.layout().nut_line().slope,
            glue: built.head.glue,
            crown: board.crown().law(),
        }
    }

    pub fn reach(&self) -> [f64; 2] {
        [self.from, self.from + self.gap * (self.rows.len() - 1) as f64]
    }

    /// The row at a station and the slopes of all its numbers there.
    #[inline]
    fn row(&self, x: f64) -> (&Row, &Row, f64) {
        let place = ((x - self.from) / self.gap).max(0.0);
        let last = self.rows.len() - 2;
        let i = (place as usize).min(last);
        (&self.rows[i], &self.rows[i + 1], (place - i as f64).min(1.0))
    }

    /// How far the board's top lies below the crown line and its slope across.
    #[inline]
    fn sagitta(&self, x: f64, out: f64) -> [f64; 2] {
        let Some((at_nut, growth)) = self.crown else { return [0.0; 2] };
        let radius = (at_nut + growth * x).max(1.0);
        let out = out.clamp(-0.9 * radius, 0.9 * radius);
        let rest = libm::sqrt((radius - out) * (radius + out));
        [out * out / (radius + rest), out / rest]
    }

    /// Whether a board lies above a place in plan.
    #[inline]
    fn boarded(&self, x: f64, y: f64) -> bool {
        x <= self.board_end && x >= self.nut_slope * y
    }

    /// The place of the outside nearest to a point, looked for in the section at the point's station and on the ends;
    /// the distance is that to the tangent plane (Chen & Medioni, Image and Vision Computing 10 (1992) 145; memory).
    pub fn touch(&self, p: Vector) -> Touch {
        let [from, to] = self.reach();
        let x = p[0].clamp(from, to);
        let (a, b, t) = self.row(x);
        let mix = |a: f64, b: f64| a + t * (b - a);
        let slope = |a: f64, b: f64| (b - a) / self.gap;
        let (y, d) = (p[1], -p[2]);
        let ridge = mix(a.out[1][3], b.out[1][3]);
        let (s, sign) = if y < ridge { (0, -1.0) } else { (1, 1.0) };
        let o = sign * y;
        let wood = x <= self.end;
        let boarded = self.boarded(x, y);
        let half = mix(a.board_half, b.board_half);
        let edge_out = mix(a.out[s][0], b.out[s][0]);
        let carve = mix(a.depth[s][0], b.depth[s][0]);
        let top = mix(a.top, b.top);

        // The face or the wood's top, over its whole width.
        let mut near = if boarded {
            let [sag, lean] = self.sagitta(x, o.clamp(-half, half));
            let beyond = (libm::fabs(o) - half).max(0.0);
            let distance = (sag - d) / libm::sqrt(1.0 + lean * lean);
            let squared = distance * distance + beyond * beyond;
            Near {
                squared,
                distance,
                gradient: [0.0, lean, -1.0],
                zone: Zone::Face,
                u: 0.0,
                edge: beyond > 0.0,
            }
        } else {
            let beyond = (libm::fabs(o) - edge_out).max(0.0);
            let distance = top - d;
            let squared = distance * distance + beyond * beyond;
            let gradient = [slope(a.top, b.top), 0.0, -1.0];
            Near { squared, distance, gradient, zone: Zone::WoodTop, u: 0.0, edge: beyond > 0.0 }
        };
        let wall = |out: f64, out_slope: f64, from: f64, to: f64| {
            let (distance, beyond) = (o - out, (from - d).max(d - to).max(0.0));
            let squared = distance * distance + beyond * beyond;
            let gradient = [-out_slope, 1.0, 0.0];
            Near { squared, distance, gradient, zone: Zone::Wall, u: 0.0, edge: beyond > 0.0 }
        };
        if boarded {
            let bottom = if wood { self.glue.min(carve) } else { self.glue };
            let sag = self.sagitta(x, half)[0];
            near.nearer(wall(half, slope(a.board_half, b.board_half), sag, bottom.max(sag)));
        }
        if wood {
            if carve > top {
                near.nearer(wall(edge_out, slope(a.out[s][0], b.out[s][0]), top, carve));
            }
            // No point of the curve lies above the carve line.
            let above = (carve - d).max(0.0);
            if above * above < near.squared {
                near.nearer(self.cubic(a, b, t, s, [o, d]));
            }
        } else {
            let beyond = (o - half).max(0.0);
            let distance = d - self.glue;
            let squared = distance * distance + beyond * beyond;
            let gradient = [0.0, 0.0, 1.0];
            near.nearer(Near { squared, distance, gradient, zone: Zone::Back, u: 1.0, edge: beyond > 0.0 });
        }
        if near.edge {
            // Beyond an edge the sign says little: such a point lies outside.
            near.distance = libm::sqrt(near.squared);
        }
        // How deep inside of the section, for the ends.
        let mut clear = -near.distance;
        let off = p[0] - x;
        if off != 0.0 {
            let inside = near.distance <= 0.0;
            let squared = off * off + if inside { 0.0 } else { near.squared };
            let way = if off < 0.0 { -1.0 } else { 1.0 };
            let distance = if inside { way * off } else { libm::sqrt(squared) };
            near =
                Near { squared, distance, gradient: [way, 0.0, 0.0], zone: Zone::End, u: 0.0, edge: !inside };
        } else if near.distance < 0.0 {
            let end = |at: f64, way: f64, tilt: f64| {
                let distance = way * (x - at) / libm::sqrt(1.0 + tilt * tilt);
                let gradient = [way, -way * sign * tilt, 0.0];
                let squared = distance * distance;
                Near { squared, distance, gradient, zone: Zone::End, u: 0.0, edge: false }
            };
            near.nearer(end(from, -1.0, 0.0));
            near.nearer(end(to, 1.0, 0.0));
            if d < self.glue && boarded {
                near.nearer(end(self.board_end, 1.0, 0.0));
                near.nearer(end(self.nut_slope * y, -1.0, self.nut_slope));
            }
            if d > self.glue && wood {
                near.nearer(end(self.end, 1.0, 0.0));
            }
        } else if !near.edge || near.zone == Zone::WoodTop || near.zone == Zone::Back {
            // Before the nut's end of the board and behind the ends inside the reach: outside of the section.
            let mut end = |at: f64, way: f64, tilt: f64, within: f64| {
                let distance = way * (x - at) / libm::sqrt(1.0 + tilt * tilt);
                let gradient = [way, -way * sign * tilt, 0.0];
                let squared = distance * distance;
                if distance >= 0.0 && within > 0.0 && squared < near.squared {
                    near = Near { squared, distance, gradient, zone: Zone::End, u: 0.0, edge: false };
                    clear = within;
                }
            };
            let sag = self.sagitta(x, o)[0];
            if !boarded {
                let within = (half - libm::fabs(o)).min(d - sag).min(self.glue - d);
                end(self.nut_slope * y, -1.0, self.nut_slope, within);
                end(self.board_end, 1.0, 0.0, within);
            }
            if !wood {
                end(
                    self.end,
                    1.0,
                    0.0,
                    (d - self.glue).min(edge_out - o).min(mix(a.depth[s][3], b.depth[s][3]) - d),
                );
            }
        }
        let [gx, go, gd] = near.gradient;
        let long = libm::sqrt(gx * gx + go * go + gd * gd);
        // The section's own distance becomes the one in space where the surface slopes along the neck.
        let scale = match near.zone {
            Zone::End => 1.0,
            _ if near.edge => 1.0,
            _ => libm::sqrt(go * go + gd * gd) / long,
        };
        Touch {
            distance: near.distance * scale,
            normal: [gx / long, sign * go / long, -gd / long],
            zone: near.zone,
            around: sign * (1.0 - near.u),
            edge: near.edge,
            clear: match near.zone {
                _ if near.edge => 0.0,
                Zone::Face => {
                    (half - libm::fabs(o)).min(self.board_end - p[0]).min(p[0] - self.nut_slope * y)
                }
                Zone::Wall => {
                    let upper = if boarded { self.sagitta(x, half)[0] } else { top };
                    let lower = if wood { carve } else { self.glue };
                    (d - upper).min(lower - d)
                }
                Zone::WoodTop => edge_out - libm::fabs(o),
                Zone::Back if wood => libm::hypot(o - edge_out, d - carve),
                Zone::Back => f64::INFINITY,
                Zone::End => clear,
            },
        }
    }

    /// The nearest place on one side's curve: the nearest of a few, then Newton's method.
    #[inline]
    fn cubic(&self, a: &Row, b: &Row, t: f64, s: usize, [o, d]: [f64; 2]) -> Near {
        let point = |k: usize| {
            [
                a.out[s][k] + t * (b.out[s][k] - a.out[s][k]),
                a.depth[s][k] + t * (b.depth[s][k] - a.depth[s][k]),
            ]
        };
        let p = [point(0), point(1), point(2), point(3)];
        // By powers of u.
        let power = |k: usize| {
            let c1 = 3.0 * (p[1][k] - p[0][k]);
            let c2 = 3.0 * (p[2][k] - p[1][k]) - c1;
            [p[0][k], c1, c2, p[3][k] - p[0][k] - c1 - c2]
        };
        let (co, cd) = (power(0), power(1));
        let value = |c: &[f64; 4], u: f64| c[0] + u * (c[1] + u * (c[2] + u * c[3]));
        let first = |c: &[f64; 4], u: f64| c[1] + u * (2.0 * c[2] + 3.0 * u * c[3]);
        let second = |c: &[f64; 4], u: f64| 2.0 * c[2] + 6.0 * u * c[3];
        let mut u = 0.5;
        let mut best = f64::INFINITY;
        for trial in [0.05, 0.25, 0.45, 0.65, 0.85, 1.0] {
            let (eo, ed) = (value(&co, trial) - o, value(&cd, trial) - d);
            let squared = eo * eo + ed * ed;
            if squared < best {
                (best, u) = (squared, trial);
            }
        }
        for _ in 0..4 {
            let (eo, ed) = (value(&co, u) - o, value(&cd, u) - d);
            let (fo, fd) = (first(&co, u), first(&cd, u));
            let speed = fo * fo + fd * fd;
            let bent = speed + eo * second(&co, u) + ed * second(&cd, u);
            let step = (eo * fo + ed * fd) / if bent > 0.2 * speed { bent } else { speed.max(1e-9) };
            let next = (u - step.clamp(-0.15, 0.15)).clamp(0.0, 1.0);
            let settled = libm::fabs(next - u) < 1e-5;
            u = next;
            if settled {
                break;
            }
        }
        let (eo, ed) = (o - value(&co, u), d - value(&cd, u));
        let (mut fo, mut fd) = (first(&co, u), first(&cd, u));
        let speed = libm::sqrt(fo * fo + fd * fd);
        if speed > 1e-9 {
            (fo, fd) = (fo / speed, fd / speed);
        } else {
            (fo, fd) = (-1.0, 0.0);
        }
        // Outward is to the left of the way from the carve line to the spine.
        let (no, nd) = (fd, -fo);
        let weight = cubic_shares(u);
        let moved = |r: &dyn Fn(&Row, usize) -> f64| -> f64 {
            (0..4).map(|k| weight[k] * (r(b, k) - r(a, k))).sum::<f64>() / self.gap
        };
        let along = no * moved(&|r, k| r.out[s][k]) + nd * moved(&|r, k| r.depth[s][k]);
        let squared = eo * eo + ed * ed;
        let edge = u <= 0.0;
        Near { squared, distance: eo * no + ed * nd, gradient: [-along, no, nd], zone: Zone::Back, u, edge }
    }

    /// The point of the back at a station and a place around, and its outward normal.
    pub fn back_at(&self, x: f64, around: f64) -> (Vector, Vector) {
        let (a, b, t) = self.row(x);
        let (s, sign) = if around < 0.0 { (0, -1.0) } else { (1, 1.0) };
        let weight = cubic_shares(1.0 - libm::fabs(around).min(1.0));
        let (mut o, mut d) = (0.0, 0.0);
        for (k, weight) in weight.into_iter().enumerate() {
            o += weight * (a.out[s][k] + t * (b.out[s][k] - a.out[s][k]));
            d += weight * (a.depth[s][k] + t * (b.depth[s][k] - a.depth[s][k]));
        }
        let near = self.cubic(a, b, t, s, [o, d]);
        let [gx, go, gd] = near.gradient;
        let long = libm::sqrt(gx * gx + go * go + gd * gd);
        ([x, sign * o, -d], [gx / long, sign * go / long, -gd / long])
    }

    /// Half the board's width at a station, mm.
    pub fn board_half(&self, x: f64) -> f64 {
        let (a, b, t) = self.row(x);
        a.board_half + t * (b.board_half - a.board_half)
    }

    /// Share of the way along the board at which a station lies; behind its end more than 1.
    pub fn along_board(&self, x: f64) -> f64 {
        x / self.board_end.max(f64::MIN_POSITIVE)
    }

    /// Share of the way down the side of the board from the face to the carve line at which a point lies.
    pub fn down(&self, p: Vector) -> f64 {
        let (a, b, t) = self.row(p[0]);
        let s = usize::from(p[1] >= a.out[1][3]);
        let lower =
            if p[0] <= self.end { a.depth[s][0] + t * (b.depth[s][0] - a.depth[s][0]) } else { self.glue };
        let upper = self.sagitta(p[0], self.board_half(p[0]))[0];
        (-p[2] - upper) / (lower - upper).max(f64::MIN_POSITIVE)
    }

    /// Points of the outside at a station, evenly around, with the length of outline that each stands for.
    pub fn ring(&self, x: f64, out: &mut Vec<(Vector, f64)>) {
        const PLACES: usize = 8;
        out.clear();
        let (row, next, t) = self.row(x);
        for (s, sign) in [(0, -1.0), (1, 1.0)] {
            let at = |k: usize| row.out[s][k] + t * (next.out[s][k] - row.out[s][k]);
            let deep = |k: usize| row.depth[s][k] + t * (next.depth[s][k] - row.depth[s][k]);
            let board = x >= 0.0 && x <= self.board_end;
            let (half, top) =
                if board { (self.board_half(x), self.sagitta(x, at(0))[0]) } else { (at(0), row.top) };
            for i in 0..PLACES {
                let share = (i as f64 + 0.5) / PLACES as f64;
                let o = share * half;
                let depth = if board { self.sagitta(x, o)[0] } else { row.top };
                out.push(([x, sign * o, -depth], half / PLACES as f64));
                let w = cubic_shares(share);
                let sum = |f: &dyn Fn(usize) -> f64| (0..4).map(|k| w[k] * f(k)).sum::<f64>();
                let long = libm::fabs(at(0) - at(3)) + libm::fabs(deep(3) - deep(0));
                out.push(([x, sign * sum(&at), -sum(&deep)], 0.8 * long / PLACES as f64));
            }
            let tall = (deep(0) - top).max(0.0);
            out.push(([x, sign * at(0), -top - 0.5 * tall], tall));
        }
    }
}

//! From a specification with every default filled in to the laws of a neck; all the ways in which
//! numbers that are each in bounds can make no neck together.

use alloc::format;
use alloc::string::String;
use alloc::vec;
use alloc::vec::Vec;

use super::back::Back;
use super::form::Form;
use super::headstock::{Headstock, edges};
use super::hole::{holes_apart, holes_in_slab};
use super::profile::{Room, profile};
use super::rod::Cut;
use super::sides::{Side, Sides};
use super::spine::{SweepRun, VoluteRun, block_share, carved_share, shaft_line, spine, sweep_run};
use crate::law::{Law, Piece, Smoothness};
use crate::layout::Layout;
use crate::measure::{Error, Fault, Kind, Station, told};
use crate::spec::{BlockWidth, Curve, DepthAt, EdgePoint, HeadstockKind, Specification};

/// The laws of a neck and the stations where its parts begin and end, right-handed, lengths in mm.
#[derive(Clone, Debug)]
pub(crate) struct Built {
    pub head: Headstock,
    pub volute: VoluteRun,
    pub sweep: SweepRun,
    /// Where the neck wood ends.
    pub end: f64,
    /// The shaft's own line over the whole neck, before volute, headstock and heel are blended in.
    #[cfg_attr(not(feature = "std"), allow(dead_code))]
    pub shaft: Law,
    pub back: Back,
    /// What the back is made of, to make it again over another spine.
    pub form: Form,
    /// Half the board's width, from the headstock's root to the board's or the heel's end.
    pub board_half: Law,
    /// Depth of the headstock's face.
    pub face: Law,
    pub cuts: Vec<Cut>,
    /// Whether the wood's own width differs from the board's somewhere.
    pub own_block: bool,
}

/// Everything goes through here: stations to millimetres, faults collected.
pub(super) struct Work<'a> {
    pub spec: &'a Specification,
    pub layout: &'a Layout,
    pub faults: Vec<Fault>,
}

/// Something that the checks before it make sure of was not there: a fault of this library.
fn unexpected(what: &str) -> Fault {
    Fault::new(Kind::Geometry, "", format!("the {what} could not be built from these numbers"))
        .remedy("please report the specification; it passed every check before this one")
}

pub(super) fn geometry(path: impl Into<String>, value: f64, reason: impl Into<String>) -> Fault {
    Fault::new(Kind::Geometry, path, reason).value(libm::round(value * 1e6) / 1e6, "mm")
}

/// The field that gives a side's carve line.
pub(super) fn carve_line(side: Side) -> &'static str {
    match side {
        Side::Bass => "shaft.carve_line",
        Side::Treble => "shaft.treble_carve_line",
    }
}

fn not_beyond(path: String, before: f64, x: f64) -> Fault {
    let reason = format!("not beyond the one before it, at {} mm", told(before));
    geometry(path, x, reason)
        .range(before + Station::LEAST_GAP_MM, None)
        .remedy("give them in order along the neck, each once")
}

impl Work<'_> {
    fn station(&mut self, path: &str, station: &Station) -> f64 {
        self.layout.station_at(station, path).unwrap_or_else(|error| {
            self.faults.extend_from_slice(error.faults());
            0.0
        })
    }

    fn filled(&mut self, path: &str, station: Option<Station>) -> f64 {
        station.map_or(0.0, |s| self.station(path, &s))
    }

    /// Stations of a list, which have to rise and to lie on a part of the neck.
    fn rising(&mut self, path: &str, at: &[Station], [from, to]: [f64; 2], part: &str) -> Vec<f64> {
        let before = self.faults.len();
        let x: Vec<f64> =
            at.iter().enumerate().map(|(i, s)| self.station(&format!("{path}[{i}].at"), s)).collect();
        if self.faults.len() > before {
            return x;
        }
        for (i, x) in x.iter().enumerate().filter(|(_, x)| !(from..=to).contains(*x)) {
            let reason = format!("this station is not on the {part}");
            self.faults.push(
                geometry(format!("{path}[{i}].at"), *x, reason)
                    .range(from, to)
                    .remedy("move it within the range, or leave it out"),
            );
        }
        for (i, pair) in x.windows(2).enumerate() {
            if pair[0] + Station::LEAST_GAP_MM > pair[1] {
                self.faults.push(not_beyond(format!("{path}[{}].at", i + 1), pair[0], pair[1]));
            }
        }
        x
    }

    fn depths(&mut self, path: &str, list: &[DepthAt], from: f64, to: f64) -> Option<Law> {
        let stations: Vec<Station> = list.iter().map(|d| d.at).collect();
        let before = self.faults.len();
        let x = self.rising(path, &stations, [from, to], "neck");
        if self.faults.len() > before {
            return None;
        }
        let points: Vec<(f64, f64)> = x.into_iter().zip(list.iter().map(|d| d.depth.mm())).collect();
        shaft_line(&points, self.spec.shaft.curve, from, to)
    }

    fn head(&mut self) -> Headstock {
        let h = &self.spec.headstock;
        let board = self.layout.board();
        let angle = if h.kind == HeadstockKind::Angled { h.angle.deg().to_radians() } else { 0.0 };
        let length = h.length.unwrap_or_default().mm();
        let step = if h.kind == HeadstockKind::Level { h.step.mm() } else { 0.0 };
        let head = Headstock {
            kind: h.kind,
            root: board.start_mm() - self.spec.nut.thickness.mm(),
            glue: board.thickness_mm(),
            thickness: h.thickness.mm(),
            length,
            sin: libm::sin(angle),
            cos: libm::cos(angle),
            step,
            step_run: sweep_run(step, h.step_radius.mm()),
        };
        if head.step_run >= length {
            self.faults.push(
                geometry(
                    "headstock.step_radius",
                    h.step_radius.mm(),
                    format!(
                        "makes a step {:.1} mm long, and the headstock is {} mm long",
                        head.step_run,
                        told(length)
                    ),
                )
                .remedy("make the radius smaller, the step lower or the headstock longer"),
            );
        }
        head
    }

    fn volute(&mut self, head: &Headstock) -> VoluteRun {
        let v = &self.spec.volute;
        let run = VoluteRun {
            height: v.height.mm(),
            tip: v.tip.mm(),
            run_shaft: v.run_shaft.unwrap_or_default().mm(),
            run_headstock: v.run_headstock.unwrap_or_default().mm(),
            roundness: v.roundness,
        };
        if run.tip <= head.tip() {
            self.faults.push(
                geometry("volute.tip", run.tip, "lies beyond the headstock's end")
                    .range(head.tip(), None)
                    .remedy("move the volute's tip toward the nut or lengthen the headstock"),
            );
        } else if run.start() <= head.tip() {
            self.faults.push(
                geometry("volute.run_headstock", run.run_headstock, "reaches beyond the headstock's end")
                    .range(None, run.tip - head.tip())
                    .remedy("shorten the volute's run or lengthen the headstock"),
            );
        }
        run
    }

    fn sweep(
        &mut self,
        shaft: &Law,
        carve: &Sides<Law>,
        volute: &VoluteRun,
        [start, end]: [f64; 2],
    ) -> SweepRun {
        let h = &self.spec.heel;
        let depth = h.block_depth.unwrap_or_default().mm();
        let (line, radius) = (shaft.value(start), h.sweep_radius.unwrap_or_default().mm());
        // The back goes flat along the sweep, so a sweep without a drop still needs a run: as much as there
        // is carved depth to lose.
        let carved = line - carve.bass.value(start).min(carve.treble.value(start));
        let run = sweep_run(depth - line, radius).max(carved.max(1.0));
        let before = self.faults.len();
        if start <= volute.end() {
            self.faults.push(
                geometry("heel.start", start, "the heel begins before the volute has ended")
                    .range(volute.end(), None)
                    .remedy("move the heel toward the bridge or shorten the volute's run on the shaft"),
            );
        } else if start >= end {
            self.faults.push(
                geometry("heel.start", start, "the heel begins beyond its own end")
                    .range(volute.end(), end)
                    .remedy("move the heel's start toward the nut or its end toward the bridge"),
            );
        } else if start + run > end {
            let reason =
                format!("makes a sweep {run:.1} mm long, and the heel has only {:.1} mm for it", end - start);
            let earlier = if end - run > volute.end() {
                format!("begin the heel at {:.1} mm or before, or ", libm::floor(10.0 * (end - run)) / 10.0)
            } else {
                String::new()
            };
            self.faults.push(
                geometry("heel.sweep_radius", radius, reason)
                    .remedy(earlier + "make the sweep's radius or the block's depth less"),
            );
        }
        let sweep = SweepRun { start, end: start + run, depth };
        if self.faults.len() == before {
            self.glued_zone(&sweep, end);
        }
        sweep
    }

    /// The glued zone, which only the plan of the work needs to know, but which has to be on the heel.
    fn glued_zone(&mut self, sweep: &SweepRun, end: f64) {
        let from = self.filled("heel.glued_from", self.spec.heel.glued_from);
        if !(sweep.start..=end).contains(&from) {
            self.faults.push(
                geometry("heel.glued_from", from, "the glued zone begins on the heel")
                    .range(sweep.start, end)
                    .remedy("move it within the range, or leave it out"),
            );
        }
    }

    fn edge_points(&mut self, head: &Headstock) -> Sides<Vec<EdgePoint>> {
        let h = &self.spec.headstock;
        let mut list = |name: &str, points: &Option<Vec<EdgePoint>>| {
            let points = points.clone().unwrap_or_default();
            for (i, p) in points.iter().enumerate() {
                let path = format!("headstock.{name}[{i}].along");
                let before = if i == 0 { 0.0 } else { points[i - 1].along.mm() };
                if p.along.mm() > head.length {
                    self.faults.push(
                        geometry(path, p.along.mm(), "lies off the headstock")
                            .range(None, head.length)
                            .remedy("move the point toward the nut or lengthen the headstock"),
                    );
                } else if p.along.mm() < before + Station::LEAST_GAP_MM {
                    let mut fault = not_beyond(path, before, p.along.mm());
                    if i == 0 {
                        fault.reason = "not beyond the nut, where the board's own edge is".into();
                    }
                    self.faults.push(fault);
                }
            }
            points
        };
        Sides { bass: list("bass_edge", &h.bass_edge), treble: list("treble_edge", &h.treble_edge) }
    }

    /// The wood's half width on either side over the whole neck.
    fn halves(
        &mut self,
        head: &Headstock,
        board_half: &Law,
        sweep: &SweepRun,
        end: f64,
    ) -> Option<Sides<Law>> {
        let points = self.edge_points(head);
        if !self.faults.is_empty() {
            return None;
        }
        let [half, slope, _] = board_half.value2(head.root);
        let edges = edges(head, &points, [half, slope])?;
        let along = board_half.restricted(head.root, end)?;
        let (from, to) = (head.tip(), end);
        let joined = |edge: &Law| -> Option<Law> {
            let half = edge.followed_by(&along, Smoothness::Curvature)?;
            match self.spec.heel.block_width {
                BlockWidth::Board => Some(half),
                BlockWidth::Width(width) => {
                    let block = Law::constant(0.5 * width.mm(), from, to)?;
                    half.plus(&block.minus(&half)?.times(&block_share(sweep, from, to)?)?)
                }
            }
        };
        Some(Sides { bass: joined(&edges.bass)?, treble: joined(&edges.treble)? })
    }

    /// The channel and the pocket.
    fn cuts(&mut self, head: &Headstock, end: f64) -> Vec<Cut> {
        let rod = &self.spec.rod;
        let mut cuts = Vec::new();
        if !rod.fitted {
            return cuts;
        }
        let pocket = rod.pocket_length.mm();
        let start = self.station("rod.start", &rod.start);
        let stop = self.filled("rod.end", rod.end);
        let reach = end.min(self.layout.board().end_mm());
        for (path, x) in [("rod.start", start), ("rod.end", stop)] {
            if !(head.root..=reach).contains(&x) {
                self.faults.push(
                    geometry(
                        path,
                        x,
                        "the channel runs under the board, from the headstock's root to the heel's end",
                    )
                    .range(head.root, reach)
                    .remedy("move it within the range"),
                );
            }
        }
        if stop <= start {
            self.faults.push(
                geometry("rod.end", stop, "the channel ends before it has begun")
                    .range(start, reach)
                    .remedy("move its end toward the bridge or its start toward the nut"),
            );
        }
        let stations: Vec<Station> = rod.depth.iter().map(|d| d.at).collect();
        let before = self.faults.len();
        let x = self.rising("rod.depth", &stations, [head.root, reach], "channel's part of the neck");
        if self.faults.len() > before || stop <= start {
            return cuts;
        }
        let points: Vec<(f64, f64)> =
            x.into_iter().zip(rod.depth.iter().map(|d| head.glue + d.depth.mm())).collect();
        if let Some(floor) = shaft_line(&points, Curve::Monotone, start, stop) {
            cuts.push(Cut { half: 0.5 * rod.width.mm(), floor });
        }
        if pocket > 0.0 {
            if pocket > head.length {
                self.faults.push(
                    geometry("rod.pocket_length", pocket, "the pocket is longer than the headstock")
                        .range(0.0, head.length)
                        .remedy("shorten the pocket or lengthen the headstock"),
                );
            } else if let Some(face) = head.face().and_then(|f| f.restricted(head.x(pocket), head.root)) {
                let floor = face.plus_number(rod.pocket_depth.mm() / head.cos);
                cuts.push(Cut { half: 0.5 * rod.pocket_width.mm(), floor });
            }
        }
        cuts
    }

    fn build(&mut self) -> Option<Built> {
        let (spec, board) = (self.spec, self.layout.board());
        let end = self.filled("heel.end", spec.heel.end);
        let head = self.head();
        let volute = self.volute(&head);
        if end <= volute.end() {
            self.faults.push(
                geometry("heel.end", end, "the neck ends before the volute does")
                    .range(volute.end(), None)
                    .remedy("move the heel's end toward the bridge or shorten the volute"),
            );
        }
        let stations: Vec<Station> = spec.shaft.thickness.iter().map(|t| t.at).collect();
        // A neck that ends too soon is told already.
        let shaft_end = if self.faults.is_empty() { end } else { f64::INFINITY };
        let x = self.rising("shaft.thickness", &stations, [0.0, shaft_end], "shaft");
        if !self.faults.is_empty() {
            return None;
        }
        let (from, to) = (head.tip(), end);
        let points: Vec<(f64, f64)> =
            x.into_iter().zip(spec.shaft.thickness.iter().map(|t| t.thickness.mm())).collect();
        let shaft = shaft_line(&points, spec.shaft.curve, from, to)?;
        let bass = self.depths("shaft.carve_line", &spec.shaft.carve_line, from, to);
        let treble = match &spec.shaft.treble_carve_line {
            Some(list) => self.depths("shaft.treble_carve_line", list, from, to),
            None => bass.clone(),
        };
        let shallow = Sides { bass: bass?, treble: treble? };
        let start = self.filled("heel.start", spec.heel.start);
        self.prove_shaft(&shaft, [volute.end(), start]);
        if !self.faults.is_empty() {
            return None;
        }
        let sweep = self.sweep(&shaft, &shallow, &volute, [start, end]);
        let board_half = half_width(board, head.root, board.end_mm().max(end))?;
        if !self.faults.is_empty() {
            return None;
        }
        let half = self.halves(&head, &board_half, &sweep, end)?;
        self.faults.extend(holes_in_slab(&self.spec.headstock, &head, volute.start(), &half));
        // Every law is cut at the same stations before they are joined, so that they join piece by piece.
        let joints =
            joints([&shaft, &half.bass, &half.treble, &shallow.bass, &shallow.treble], &volute, &sweep);
        let cut = |law: &Law| law.refined(&joints);
        let both = |laws: &Sides<Law>| Sides { bass: cut(&laws.bass), treble: cut(&laws.treble) };
        let (shaft, half, shallow) = (cut(&shaft), both(&half), both(&shallow));
        let spine = spine(&shaft, &head, &volute, &sweep, &joints)?;
        self.prove_carved(&spine, &shallow, [volute.start(), sweep.end]);
        let share = cut(&carved_share(&volute, &sweep, from, to)?);
        let at: Vec<Station> = spec.shaft.profile.iter().map(|p| p.at).collect();
        let x = self.rising("shaft.profile", &at, [from, to], "neck");
        if !self.faults.is_empty() {
            return None;
        }
        let room = |x: f64| Room {
            half: Sides::each(|side| half.of(side).value(x)),
            carved: Sides::each(|side| shaft.value(x) - shallow.of(side).value(x)),
        };
        let mut found = Vec::new();
        let profile = profile(&spec.shaft.profile, &x, room, (from, to), &mut found);
        self.faults.append(&mut found);
        let cuts = self.cuts(&head, end);
        self.faults.extend(holes_apart(&self.spec.headstock, &head, &cuts));
        if !self.faults.is_empty() {
            return None;
        }
        let form = Form { half, shallow, share, profile: profile?.refined(&joints) };
        let back = form.back(&spine)?;
        let own_block = spec.heel.block_width != BlockWidth::Board;
        let face = head.face()?;
        let built = Built { head, volute, sweep, end, shaft, back, form, board_half, face, cuts, own_block };
        self.prove(&built);
        self.prove_block(&built);
        if self.faults.is_empty() {
            self.prove_convex(&built);
            self.prove_wall(&built);
        }
        Some(built)
    }
}

/// All the stations where one of the laws has a joint, rising.
fn joints(laws: [&Law; 5], volute: &VoluteRun, sweep: &SweepRun) -> Vec<f64> {
    let mut all: Vec<f64> = laws.iter().flat_map(|l| l.breaks().iter().copied()).collect();
    all.extend([volute.start(), volute.tip, volute.end(), sweep.start, sweep.end]);
    all.sort_by(f64::total_cmp);
    all.dedup();
    all
}

/// Half the board's width, its end stretches carried on straight; a crease at every inner station.
fn half_width(board: &crate::layout::Board, from: f64, to: f64) -> Option<Law> {
    let inner = board.widths_mm().iter().map(|w| w.0).filter(|x| *x > from && *x < to);
    let pieces: Vec<Piece> = inner
        .chain([to])
        .map(|x| Piece { to: x, coefs: vec![0.5 * board.width_mm(x)], joint: Smoothness::Crease })
        .collect();
    let mut pieces = pieces;
    // The first stretch goes on straight behind the nut, so what begins at the nut is no crease.
    if let Some(second) = pieces.get_mut(1).filter(|_| from < 0.0) {
        second.joint = Smoothness::Curvature;
    }
    Law::from_pieces(from, 0.5 * board.width_mm(from), &pieces)
}

/// Builds the laws, or tells everything that is wrong.
pub(super) fn build(spec: &Specification, layout: &Layout) -> Result<Built, Error> {
    let mut work = Work { spec, layout, faults: Vec::new() };
    let built = work.build();
    Error::unless_none(core::mem::take(&mut work.faults))?;
    built.ok_or_else(|| unexpected("neck").into())
}

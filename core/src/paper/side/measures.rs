//! What a side view says of its drawing: thicknesses, lengths, the names of its lines.

use alloc::format;
use alloc::vec;
use alloc::vec::Vec;

use super::super::callout::{self, Callout};
use super::super::dimension::Dimension;
use super::super::layer::Layer;
use super::super::station::{mm, name};
use super::super::text::{Anchor, Text};
use super::View;

/// From one level of dimensions to the next, mm.
const LEVEL_MM: f64 = 6.5;

/// The height of a line at a station, where it has one.
type Height<'a> = &'a dyn Fn(f64) -> Option<f64>;

impl View<'_> {
    /// Thicknesses and places below, lengths above.
    pub(super) fn dimensions(&mut self) -> usize {
        let neck = self.neck;
        let (head, volute, heel) = (neck.headstock(), neck.volute(), neck.heel());
        let spine = |x: f64| -neck.laws().spine_depth.value(x);
        let [low, high] = self.draft.bounds();
        let mut below: Vec<Callout> = Vec::new();
        let mut stations: Vec<f64> = Vec::new();
        for given in &neck.normalised().shaft.thickness {
            if let Ok(x) = neck.layout().station_mm(&given.at) {
                stations.push(x);
            }
        }
        if volute.height_mm > 0.0 && !stations.contains(&volute.tip_x_mm) {
            stations.push(volute.tip_x_mm);
        }
        for place in [heel.start_x_mm, heel.end_x_mm] {
            if !stations.contains(&place) {
                stations.push(place);
            }
        }
        for x in stations {
            let (Ok(thickness), top) = (neck.thickness_mm(x), self.top(x)) else { continue };
            for z in [top, spine(x)] {
                self.draft.line(Layer::Dimensions, [x - 0.9, z - 0.9], [x + 0.9, z + 0.9]);
            }
            self.draft.line(Layer::Dimensions, [x, top], [x, spine(x)]);
            let place = match () {
                () if libm::fabs(x - volute.tip_x_mm) < 1e-6 && volute.height_mm > 0.0 => {
                    "volute's tip".into()
                }
                () => name(neck, x),
            };
            below.push(Callout { foot: [x, spine(x)], words: format!("{} thick, {place}", mm(thickness)) });
        }
        let left_out = callout::place(&mut self.draft, below, low[1] - 3.0, false);
        self.name_lines(low[1] - 3.0);

        let mut lengths = vec![
            (volute.end_x_mm, format!("nut to end of volute: {}", mm(volute.end_x_mm))),
            (heel.start_x_mm, format!("nut to heel: {}", mm(heel.start_x_mm))),
            (heel.block_x_mm, format!("nut to heel block: {}", mm(heel.block_x_mm))),
            (heel.end_x_mm, format!("nut to end of heel: {}", mm(heel.end_x_mm))),
        ];
        if volute.height_mm == 0.0 {
            lengths.remove(0);
        }
        let base = high[1] + 5.0;
        for (x, words) in lengths {
            let between = [[0.0, self.top(0.0)], [x, self.top(x)]];
            let level = |i: i32| Dimension::level(between, base + LEVEL_MM * f64::from(i), words.as_str());
            let places: Vec<Dimension> = (0..12).flat_map(|i| [level(i), level(i).words_left()]).collect();
            self.draft.place_dimension(&places);
        }
        // The stock that the headstock's fall asks for.
        let tip = head.tip_x_mm;
        let left = self.draft.bounds()[0][0].min(tip) - 8.0;
        self.draft.line(
            Layer::Centreline,
            [left - 4.0, 0.0],
            [-neck.normalised().nut.thickness.mm() - 2.0, 0.0],
        );
        let drop = Dimension::upright([[tip, spine(tip)], [tip, 0.0]], left, mm(-spine(tip)));
        let text = Text { anchor: Anchor::End, at: [left - 1.5, drop.text.at[1]], ..drop.text };
        self.draft.dimension(Dimension { text, ..drop });
        left_out
    }

    /// Says what the lines within the outline are, each at the first place along the shaft where there is room.
    fn name_lines(&mut self, base: f64) {
        const PLACES: u32 = 40;
        let (neck, glue) = (self.neck, self.glue());
        let [from, to] = neck.shaft_reach_mm();
        let laws = neck.laws();
        let carve = laws.carve_line.of(self.near);
        let channel = neck.rod_cuts().first().map(|cut| cut.floor_depth());
        let floor = |x: f64| channel.and_then(|floor| floor.at(x)).map(|depth| -depth);
        let mut first = PLACES / 4;
        let named: [(&str, Height<'_>); 3] = [
            ("carve line", &|x| Some(-carve.value(x))),
            ("glue line", &|_| Some(glue)),
            ("floor of rod channel", &floor),
        ];
        for (words, height) in named {
            for i in (first..PLACES).chain(1..first) {
                let x = from + (to - from) * f64::from(i) / f64::from(PLACES);
                let Some(z) = height(x) else { continue };
                let callout = vec![Callout { foot: [x, z], words: words.into() }];
                if callout::place(&mut self.draft, callout, base, false) == 0 {
                    first = i + PLACES / 8;
                    break;
                }
            }
        }
    }

    /// Height of what a caliper sets on at a station: the crown line, or the neck wood's face.
    fn top(&self, x: f64) -> f64 {
        let board = self.neck.layout().board();
        if (0.0..=board.end_mm()).contains(&x) { 0.0 } else { self.face(x) }
    }
}

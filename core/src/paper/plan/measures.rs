//! What a plan says of its drawing: widths, lengths, the frets' numbers.

use alloc::format;
use alloc::string::String;
use alloc::vec;
use alloc::vec::Vec;

use super::super::callout::{self, Callout};
use super::super::dimension::Dimension;
use super::super::path::Point;
use super::super::station::{middle_fret, mm};
use super::super::text::{Anchor, TEXT_MM, Text};
use super::View;
use crate::layout::Fret;
use crate::shape::Side;
use crate::spec::HeadstockKind;

/// From one level of dimensions to the next, mm.
const LEVEL_MM: f64 = 6.5;

impl View<'_> {
    /// Widths above, lengths below.
    pub(super) fn dimensions(&mut self) {
        let (neck, [low, high]) = (self.neck, self.draft.bounds());
        let board = neck.layout().board();
        let (heel, middle) = (neck.heel(), middle_fret(neck));
        let upper = |x: f64, words: String| Callout {
            foot: [x, self.half(if self.hand < 0.0 { Side::Bass } else { Side::Treble }, x)],
            words,
        };
        let wide = |x: f64| mm(neck.width_mm(x).unwrap_or_default());
        let mut widths = vec![upper(0.0, format!("{} wide at the nut", wide(0.0)))];
        widths.extend(middle.map(|(n, x)| upper(x, format!("{} wide at fret {n}", wide(x)))));
        widths.push(upper(heel.start_x_mm, format!("{} wide, heel begins", wide(heel.start_x_mm))));
        widths.push(upper(board.end_mm(), format!("{} wide, board ends", wide(board.end_mm()))));
        callout::place(&mut self.draft, widths, high[1] + 3.0, true);

        let mut lengths: Vec<(f64, String)> = Vec::new();
        lengths.extend(middle.map(|(n, x)| (x, format!("nut to fret {n}: {}", mm(x)))));
        lengths.push((heel.start_x_mm, format!("nut to heel: {}", mm(heel.start_x_mm))));
        lengths.push((board.end_mm(), format!("nut to end of board: {}", mm(board.end_mm()))));
        if libm::fabs(heel.end_x_mm - board.end_mm()) > 1e-6 {
            lengths.push((heel.end_x_mm, format!("nut to end of heel: {}", mm(heel.end_x_mm))));
        }
        lengths.sort_by(|a, b| a.0.total_cmp(&b.0));
        let lower = self.lower();
        let edge = |x: f64| [x, -self.half(lower, x)];
        let levels = |between: [Point; 2], words: String| -> Vec<Dimension> {
            let base = low[1] - 8.0;
            let level = |i: i32| Dimension::level(between, base - LEVEL_MM * f64::from(i), words.as_str());
            (0..12).flat_map(|i| [level(i), level(i).words_left()]).collect()
        };
        let head = neck.headstock();
        let seen = if head.kind == HeadstockKind::Angled { " seen from the front" } else { "" };
        let headstock = format!("headstock{seen}: {}", mm(head.root_x_mm - head.tip_x_mm));
        let glued = format!("glued or bolted: {}", mm(heel.end_x_mm - heel.glued_from_x_mm));
        let mut tip = levels([edge(head.tip_x_mm), edge(head.root_x_mm)], headstock);
        // To the right lie the witness lines of the nut: words that find no room on the line go to the left.
        tip.retain(|d| d.text.anchor != Anchor::Start);
        let glued = (heel.end_x_mm - heel.glued_from_x_mm > 1e-6)
            .then(|| levels([edge(heel.glued_from_x_mm), edge(heel.end_x_mm)], glued));
        let lengths = lengths.into_iter().map(|(x, words)| levels([edge(0.0), edge(x)], words));
        let mut all: Vec<Vec<Dimension>> = core::iter::once(tip).chain(lengths).collect();
        // Where the heel ends beyond the board, the glued zone may have to lie further out than the lengths.
        let nearest = glued.as_ref().map(|glued| {
            let mut all = all.clone();
            all.insert(1, glued.clone());
            all
        });
        all.extend(glued);
        self.draft.place_dimensions(&[nearest.unwrap_or_default(), all]);
    }

    /// Each fret's number beside its slot, where there is room for it.
    pub(super) fn numbers(&mut self) {
        let (hand, lower) = (self.hand, self.lower());
        let end = |fret: &Fret| if lower == Side::Bass { fret.slot_ends_mm.0 } else { fret.slot_ends_mm.1 };
        let mut before = self.nut_ends()[usize::from(lower == Side::Treble)].0;
        for fret in self.neck.layout().frets().iter().filter(|f| f.number > 0) {
            let (x, _) = end(fret);
            let words = format!("{}", fret.number);
            let width = Text::new([0.0; 2], Anchor::End, words.as_str()).width_mm();
            let room = x - before - width - 1.4;
            let places: Vec<Text> = (0..8)
                .map(|i| x - 0.7 - room.max(0.0) * f64::from(i) / 7.0)
                .map(|x| {
                    let y = -hand.abs() * self.half(lower, x.max(0.0)) - 1.4 - TEXT_MM;
                    Text::new([x, y], Anchor::End, words.as_str())
                })
                .collect();
            if room > 0.0 {
                self.draft.place(places);
            }
            before = x;
        }
    }
}

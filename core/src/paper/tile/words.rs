//! Words on the pages of a sheet.

use alloc::string::String;
use alloc::vec;
use alloc::vec::Vec;

use super::super::cut::{Window, holds};
use super::super::letters;
use super::super::path::Point;
use super::super::text::{Anchor, Text};
use super::label::inside;

/// Something that is not broken any further: a word, or a letter of one that no page holds.
struct Part {
    words: String,
    spaced: bool,
    left: f64,
    right: f64,
}

/// The words of a text, placed as Helvetica runs.
fn parts(text: &Text, left: f64) -> Vec<Part> {
    let width = |words: &str| letters::width_mm(words, text.font_size_mm());
    let mut parts = Vec::new();
    let mut begin = 0;
    for word in text.words.split(' ') {
        if !word.is_empty() {
            let left = left + width(&text.words[..begin]);
            let spaced = begin > 0;
            parts.push(Part { words: String::from(word), spaced, left, right: left + width(word) });
        }
        begin += word.len() + 1;
    }
    parts
}

fn broken(part: Part, font_size: f64) -> Vec<Part> {
    let width = |words: &str| letters::width_mm(words, font_size);
    let letter = |(i, c): (usize, char)| {
        let left = part.left + width(&part.words[..i]);
        let words = String::from(c);
        let right = left + width(&words);
        Part { words, spaced: i == 0 && part.spaced, left, right }
    };
    part.words.char_indices().map(letter).collect()
}

/// The words of one text on each page, and which page they can't do without. A page shows them whole where it holds them
/// whole; words that no page holds are broken where pages meet, between two words if one page or the other holds each.
pub(super) fn shared(text: &Text, windows: &[Window], cells: &[Window]) -> (Vec<Option<Text>>, Vec<usize>) {
    let owner = |room: &Window, pages: &[usize]| -> Option<usize> {
        let middle: Point = [0, 1].map(|k| 0.5 * (room[0][k] + room[1][k]));
        let own = (0..cells.len()).find(|i| holds(&cells[*i], middle));
        match own {
            Some(i) if pages.is_empty() || pages.contains(&i) => Some(i),
            _ => pages.first().copied(),
        }
    };
    let held =
        |room: &Window| -> Vec<usize> { (0..windows.len()).filter(|i| inside(room, &windows[*i])).collect() };
    let mut found: Vec<Option<Text>> = vec![None; windows.len()];
    let room = text.room();
    let pages = held(&room);
    if !pages.is_empty() {
        for i in &pages {
            found[*i] = Some(text.clone());
        }
        return (found, owner(&room, &pages).into_iter().collect());
    }
    let width = letters::width_mm(&text.words, text.font_size_mm());
    let left = match text.anchor {
        Anchor::Start => text.at[0],
        Anchor::Middle => text.at[0] - 0.5 * width,
        Anchor::End => text.at[0] - width,
    };
    let around = |part: &Part| [[part.left, room[0][1]], [part.right, room[1][1]]];
    let whole = parts(text, left);
    let words = whole.into_iter().flat_map(|part| {
        if held(&around(&part)).is_empty() { broken(part, text.font_size_mm()) } else { vec![part] }
    });
    let mut owners = Vec::new();
    for part in words {
        let room = around(&part);
        let mut pages = held(&room);
        let own = owner(&room, &pages);
        if pages.is_empty() {
            pages.extend(own);
        }
        owners.extend(own);
        for i in pages {
            let run = found[i].get_or_insert_with(|| Text {
                at: [part.left, text.at[1]],
                height_mm: text.height_mm,
                anchor: Anchor::Start,
                words: String::new(),
            });
            if part.spaced && !run.words.is_empty() {
                run.words.push(' ');
            }
            run.words.push_str(&part.words);
        }
    }
    (found, owners)
}

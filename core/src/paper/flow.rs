//! Blocks of words in columns.

use alloc::vec::Vec;

use super::draft::Draft;

/// Width of a column of words: two stand side by side on a lying page of either paper.
pub(super) const COLUMN_MM: f64 = 126.0;
/// Between columns.
pub(super) const GUTTER_MM: f64 = 8.0;
/// Between the blocks of a column.
const APART_MM: f64 = 3.4;

/// How many columns a width holds.
fn columns(width: f64) -> usize {
    let n = libm::floor((width + GUTTER_MM + 1e-9) / (COLUMN_MM + GUTTER_MM));
    if n.is_nan() { 1 } else { n.clamp(1.0, 12.0) as usize }
}

/// Left end of each column: spread over the whole width.
pub(super) fn lefts(width: f64) -> Vec<f64> {
    let n = columns(width);
    let pitch = if n > 1 { (width - COLUMN_MM) / (n - 1) as f64 } else { 0.0 };
    (0..n).map(|i| pitch * i as f64).collect()
}

/// A column and the upper end of each block, none below the level unless a column holds it alone.
fn places(heights: &[f64], tops: &[f64], level: f64) -> Option<Vec<(usize, f64)>> {
    let (mut column, mut y) = (0, *tops.first()?);
    let mut places = Vec::with_capacity(heights.len());
    for height in heights {
        while y - height < level {
            column += 1;
            y = *tops.get(column)?;
        }
        places.push((column, y));
        y -= height + APART_MM;
    }
    Some(places)
}

/// Puts blocks one below the other in columns that begin at the places given, all down to about the same level: the
/// highest that they fit above; each a block of its own. There has to be a column.
pub(super) fn flow(draft: &mut Draft, blocks: Vec<Draft>, columns: &[[f64; 2]]) {
    let tops: Vec<f64> = columns.iter().map(|c| c[1]).collect();
    let bounds: Vec<_> = blocks.iter().map(Draft::bounds).collect();
    let heights: Vec<f64> = bounds.iter().map(|b| b[1][1] - b[0][1]).collect();
    let whole: f64 = heights.iter().map(|h| h + APART_MM).sum();
    let top = tops.iter().copied().fold(f64::NEG_INFINITY, f64::max);
    let lowest = tops.iter().copied().fold(f64::INFINITY, f64::min);
    let mut level = top;
    let mut found = None;
    while found.is_none() && level > lowest - whole - 2.0 {
        level -= 1.0;
        found = places(&heights, &tops, level);
    }
    // Below no level at all everything stands in the first column: no block is ever left out.
    let found = found.or_else(|| places(&heights, &tops, f64::NEG_INFINITY)).unwrap_or_default();
    for ((block, bound), (column, y)) in blocks.into_iter().zip(bounds).zip(found) {
        draft.stand(block, [columns[column][0] - bound[0][0].min(0.0), y - bound[1][1]]);
    }
}

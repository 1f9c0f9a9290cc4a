//! Words on the drawings can be read: none lies on a line or on other words, none is small or off the paper.

use neckwright::paper::{Point, Sheet, TEXT_MM};

/// Whether a line comes into a room: sampled so densely that no part of it longer than a tenth of a millimetre is
/// missed, and written differently from the library's own check.
fn touches([low, high]: &[Point; 2], a: Point, b: Point) -> bool {
    let outside = |k: usize| a[k].max(b[k]) <= low[k] || a[k].min(b[k]) >= high[k];
    if outside(0) || outside(1) {
        return false;
    }
    let n = (libm::hypot(b[0] - a[0], b[1] - a[1]) * 20.0).ceil().max(1.0) as usize;
    (0..=n).any(|i| {
        let t = i as f64 / n as f64;
        let p = [0, 1].map(|k| a[k] + t * (b[k] - a[k]));
        (0..2).all(|k| p[k] > low[k] && p[k] < high[k])
    })
}

/// Every text lies on the paper, on no line and on no other text.
pub fn assert_readable(sheet: &Sheet, which: &str) {
    let texts: Vec<_> = sheet.items.iter().filter_map(|i| i.shape.text()).collect();
    let lines: Vec<Vec<Point>> = sheet.items.iter().flat_map(|i| i.shape.lines(16)).collect();
    for (i, text) in texts.iter().enumerate() {
        let room = text.room();
        assert!(text.height_mm >= TEXT_MM && !text.words.is_empty());
        let inside = (0..2).all(|k| room[0][k] >= 5.0 && room[1][k] <= sheet.size_mm[k] - 5.0);
        assert!(inside, "{which}: \"{}\" is off the paper", text.words);
        for other in &texts[..i] {
            let [low, high] = other.room();
            let apart = (0..2).any(|k| low[k] >= room[1][k] || high[k] <= room[0][k]);
            assert!(apart, "{which}: \"{}\" lies on \"{}\"", text.words, other.words);
        }
        for line in &lines {
            for w in line.windows(2) {
                assert!(
                    !touches(&room, w[0], w[1]),
                    "{which}: \"{}\" lies on the line {:?} {:?}",
                    text.words,
                    w[0],
                    w[1]
                );
            }
        }
    }
    for p in lines.iter().flatten() {
        assert!(
            (0..2).all(|k| p[k] >= 5.0 && p[k] <= sheet.size_mm[k] - 5.0),
            "{which}: {p:?} is off the paper"
        );
    }
}

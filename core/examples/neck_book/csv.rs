//! Tables: comma between fields, point in numbers, units in the header.

use neckwright::shape::Neck;

/// A measure with four decimals, never `-0.0000`.
pub fn number(value: f64) -> String {
    format!("{:.4}", (value * 1e4).round() / 1e4 + 0.0)
}

/// A field that may hold a comma or a quotation mark.
pub fn field(text: &str) -> String {
    if text.contains([',', '"', '\n', '\r']) {
        format!("\"{}\"", text.replace('"', "\"\""))
    } else {
        text.into()
    }
}

pub fn table(header: &[&str], rows: impl Iterator<Item = Vec<String>>) -> String {
    let mut out = header.join(",") + "\n";
    for row in rows {
        out += &row.join(",");
        out.push('\n');
    }
    out
}

/// Fret by fret what the saw and the wire cutters need, as seen on the neck's own hand.
pub fn frets(neck: &Neck) -> String {
    let header = [
        "fret",
        "from_nut_mm",
        "pitch_cents",
        "from_nut_along_bass_string_mm",
        "from_nut_along_treble_string_mm",
        "bass_end_x_mm",
        "bass_end_y_mm",
        "treble_end_x_mm",
        "treble_end_y_mm",
        "slot_length_mm",
        "wire_length_mm",
        "bottom_depth_centre_mm",
        "bottom_depth_bass_end_mm",
        "bottom_depth_treble_end_mm",
        "straight_cut_depth_bass_end_mm",
        "straight_cut_depth_treble_end_mm",
        "wood_under_bass_end_mm",
        "wood_under_treble_end_mm",
    ];
    // A zero fret stands on the nut's line, and is its row.
    let nut = (!neck.normalised().frets.zero_fret).then(|| nut(neck, header.len()));
    let rows = neck.frets().into_iter().map(|fret| {
        let (bass, treble) = fret.slot_ends_mm;
        let numbers = [
            fret.line.x_mm,
            fret.cents,
            fret.along_strings_mm.0,
            fret.along_strings_mm.1,
            bass.0,
            bass.1,
            treble.0,
            treble.1,
            fret.slot_length_mm,
            fret.wire_length_mm,
            fret.bottom_depth_mm,
            fret.bottom_depth_at_ends_mm.0,
            fret.bottom_depth_at_ends_mm.1,
            fret.straight_depth_at_ends_mm.0,
            fret.straight_depth_at_ends_mm.1,
            fret.wood_under_ends_mm.0,
            fret.wood_under_ends_mm.1,
        ];
        std::iter::once(fret.number.to_string()).chain(numbers.map(number)).collect()
    });
    table(&header, nut.into_iter().chain(rows))
}

/// The nut's line, from which all lengths are told: its ends, and nothing of what only a slot has.
fn nut(neck: &Neck, fields: usize) -> Vec<String> {
    let board = neck.layout().board();
    let [bass, treble] = board.nut_ends_mm();
    let out = |x: f64| 0.5 * neck.hand_sign() * board.width_mm(x);
    let numbers = [0.0, 0.0, 0.0, 0.0, bass, -out(bass), treble, out(treble)].map(number);
    let mut row: Vec<String> = std::iter::once("0".into()).chain(numbers).collect();
    row.resize(fields, String::new());
    row
}

/// What the caliper should read at the nut and at every fret.
pub fn caliper_card(neck: &Neck) -> String {
    let header = [
        "fret",
        "from_nut_mm",
        "width_mm",
        "thickness_mm",
        "girth_mm",
        "carve_line_bass_mm",
        "carve_line_treble_mm",
        "rod_wall_mm",
    ];
    let rows = neck.caliper_card().into_iter().map(|row| {
        let numbers = [
            row.x_mm,
            row.width_mm,
            row.thickness_mm,
            row.girth_mm,
            row.carve_line_mm.bass,
            row.carve_line_mm.treble,
        ];
        let wall = row.rod_wall_mm.map(number).unwrap_or_default();
        std::iter::once(row.fret.to_string()).chain(numbers.map(number)).chain([wall]).collect()
    });
    table(&header, rows)
}

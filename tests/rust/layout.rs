//! Everything that can be asked of a layout.

use crate::sound;
use neckwright::layout::{Layout, Temperament};
use neckwright::measure::Station;

/// Asks everything of a layout.
pub(crate) fn ask(layout: &Layout) -> Result<(), String> {
    sound("fan", layout.fan())?;
    sound("strings", &layout.strings())?;
    sound("frets", &layout.frets())?;
    sound("markers", &(layout.face_markers(), layout.side_markers()))?;
    sound("departures", &layout.string_departures_cents())?;
    sound("humps", &layout.humps())?;
    sound("wire", &layout.total_wire_mm())?;
    sound("lines", &(layout.nut_line(), layout.bridge_line(), layout.bridge_line().angle_deg()))?;
    let least = layout.least_margin();
    sound("least margin", &least)?;
    board(layout)?;
    temperament(layout.fan().temperament(), layout.scale_mm())?;
    let [from, to] = [layout.board().start_mm(), layout.board().end_mm()];
    // Beyond the last fret that a temperament has, stations still have their number.
    let last = f64::from(layout.fan().temperament().last_fret());
    for i in 0..=10 {
        let x = if i == 10 { to } else { from + f64::from(i) / 10.0 * (to - from) };
        let margins = layout.margins_mm(x);
        sound("margins", &margins)?;
        // The nut's own ends of the outer strings are where margins begin.
        let begun = layout.strings().iter().all(|s| x >= s.nut_mm.0);
        if begun && margins.0.min(margins.1) < least.margin_mm - 1e-9 {
            return Err(format!("has a margin of {margins:?} at {x}, and the least was {least:?}"));
        }
        for i in 0..layout.strings().len() {
            sound("string", &layout.string_y_mm(i, x))?;
            if i + 1 < layout.strings().len() {
                sound("gap", &(layout.spacing_mm(i, x), layout.gap_mm(i, x)))?;
            }
            if x > from {
                sound("hump", &layout.hump(i, from, x))?;
            }
        }
        if let Some(fret) = layout.fret_at(x).ok().filter(|fret| *fret <= last) {
            let back = layout.station_of_fret_mm(fret);
            if !back.as_ref().is_ok_and(|back| (back - x).abs() <= 1e-9 * layout.scale_mm()) {
                return Err(format!("has fret {fret} at {x}, and fret {fret} at {back:?}"));
            }
        }
    }
    for nonsense in [f64::NAN, f64::INFINITY, -1.0, 1e300] {
        let _ = (layout.station_of_fret_mm(nonsense), layout.fret_at(nonsense));
        let _ = (layout.station_mm(&Station::Fret(nonsense)), layout.station_mm(&Station::Mm(nonsense)));
        let _ = (layout.hump(0, nonsense, to), layout.hump(0, from, nonsense), layout.margins_mm(nonsense));
        let _ = (layout.gap_mm(usize::MAX, nonsense), layout.string_y_mm(usize::MAX, nonsense));
        let _ = (layout.board().width_mm(nonsense), layout.board().sagitta_mm(nonsense, nonsense));
        let _ = (layout.board().edge_thickness_mm(nonsense), layout.fan().line(nonsense));
    }
    Ok(())
}

fn board(layout: &Layout) -> Result<(), String> {
    let board = layout.board();
    sound("board", board)?;
    let (least, at) = board.least_edge_thickness_mm();
    sound("least edge", &(least, at))?;
    let [from, to] = [board.start_mm(), board.end_mm()];
    for i in 0..=20 {
        let x = if i == 20 { to } else { from + f64::from(i) / 20.0 * (to - from) };
        let (half, edge) = (0.5 * board.width_mm(x), board.edge_thickness_mm(x));
        sound("board at a station", &(half, edge, board.crown().radius_mm(x)))?;
        sound("board's top", &(board.sagitta_mm(x, half), board.sagitta_mm(x, -0.3 * half)))?;
        if half <= 0.0 || edge < least - 1e-9 {
            return Err(format!("has a board {half} wide to a side and {edge} thick at {x}"));
        }
    }
    Ok(())
}

fn temperament(temperament: &Temperament, scale: f64) -> Result<(), String> {
    let last = temperament.last_fret();
    sound("positions", &temperament.positions_mm(scale, last))?;
    sound("rounded", &temperament.rounded(scale, last.min(24), 0.254).ok())?;
    for fret in 0..=last {
        let fret = f64::from(fret);
        sound("fret", &(temperament.cents(fret), temperament.remaining(fret)))?;
    }
    sound("error", &temperament.error_cents(last, 12))?;
    for nonsense in [f64::NAN, f64::INFINITY, -1.0, 0.0, 1e300] {
        let _ = (temperament.position_mm(nonsense, 1.0), temperament.position_mm(scale, nonsense));
        let _ = (temperament.fret_at(scale, nonsense), temperament.rounded(scale, last, nonsense));
    }
    Ok(())
}

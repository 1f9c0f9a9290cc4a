//! How large the grains of a grit are.

use crate::spec::GritScale;

/// Grit and mean grain size, µm: FEPA 43-1 (macrogrits), ISO 6344-2 and -3. Seen in secondary texts, but for those
/// marked "memory".
const FEPA: &[(u32, f64)] = &[
    (24, 764.0),
    (30, 642.0),
    (36, 538.0),
    (40, 425.0),
    (50, 336.0),
    (60, 269.0),
    (80, 201.0),
    (100, 162.0),
    (120, 125.0),
    (150, 100.0),
    (180, 82.0),
    (220, 68.0),
    (240, 58.5),
    (280, 52.2), // memory; 52 seen
    (320, 46.2),
    (360, 40.5), // memory; 40 seen
    (400, 35.0),
];

/// Grit and mean grain size, µm: ANSI B74.18. Seen in secondary texts, but for those marked "memory"; charts differ by
/// a few µm.
const CAMI: &[(u32, f64)] = &[
    (24, 715.0),
    (30, 638.0),
    (36, 535.0),
    (40, 428.0),
    (50, 351.0),
    (60, 268.0),
    (80, 192.0),
    (100, 141.0),
    (120, 116.0),
    (150, 93.0),
    (180, 78.0), // memory
    (220, 66.0), // memory
    (240, 53.0), // memory
    (280, 44.0), // memory
    (320, 36.0), // memory
    (360, 28.0),
    (400, 23.0), // memory
];

/// Every grit of a standard with its mean grain size, µm, the coarsest first.
pub(super) const fn table(scale: GritScale) -> &'static [(u32, f64)] {
    match scale {
        GritScale::Fepa => FEPA,
        GritScale::Cami => CAMI,
    }
}

/// Mean size of the grains of a grit, µm; `None` for a number that is no grit of the standard from 24 to 400.
///
/// FEPA: FEPA 43-1 and ISO 6344. CAMI: ANSI B74.18.
///
/// ```
/// use neckwright::carve::grain_um;
/// use neckwright::spec::GritScale;
/// assert_eq!(grain_um(GritScale::Fepa, 120), Some(125.0));
/// assert_eq!(grain_um(GritScale::Fepa, 121), None);
/// ```
#[must_use]
pub fn grain_um(scale: GritScale, grit: u32) -> Option<f64> {
    table(scale).iter().find(|(number, _)| *number == grit).map(|(_, grain)| *grain)
}

#[cfg(test)]
mod tests {
    use super::*;

    /// FEPA 43-1, ISO 6344-2: seen in secondary texts.
    #[test]
    fn fepa_43_1_macrogrits() {
        for (grit, grain) in [
            (24, 764.0),
            (30, 642.0),
            (36, 538.0),
            (40, 425.0),
            (50, 336.0),
            (60, 269.0),
            (80, 201.0),
            (100, 162.0),
            (120, 125.0),
            (150, 100.0),
            (180, 82.0),
            (220, 68.0),
        ] {
            assert_eq!(grain_um(GritScale::Fepa, grit), Some(grain), "P{grit}");
        }
    }

    /// ISO 6344-3: 240, 320 and 400 seen in secondary texts, 280 and 360 from memory.
    #[test]
    fn iso_6344_3_microgrits() {
        for (grit, grain) in [(240, 58.5), (280, 52.2), (320, 46.2), (360, 40.5), (400, 35.0)] {
            assert_eq!(grain_um(GritScale::Fepa, grit), Some(grain), "P{grit}");
        }
    }

    /// ANSI B74.18: to 150, and 360, seen in secondary texts; the rest from memory.
    #[test]
    fn ansi_b74_18() {
        for (grit, grain) in [
            (24, 715.0),
            (30, 638.0),
            (36, 535.0),
            (40, 428.0),
            (50, 351.0),
            (60, 268.0),
            (80, 192.0),
            (100, 141.0),
            (120, 116.0),
            (150, 93.0),
            (180, 78.0),
            (220, 66.0),
            (240, 53.0),
            (280, 44.0),
            (320, 36.0),
            (360, 28.0),
            (400, 23.0),
        ] {
            assert_eq!(grain_um(GritScale::Cami, grit), Some(grain), "{grit}");
        }
    }

    #[test]
    fn finer_grits_have_smaller_grains() {
        for scale in GritScale::ALL.iter().copied() {
            assert!(table(scale).windows(2).all(|pair| pair[0].0 < pair[1].0 && pair[0].1 > pair[1].1));
            for no_grit in [0, 1, 23, 61, 401, u32::MAX] {
                assert_eq!(grain_um(scale, no_grit), None, "{no_grit}");
            }
        }
    }
}

//! The strings in plan.

use alloc::format;
use alloc::vec::Vec;

use super::fan::Fan;
use crate::measure::{Error, Fault, Kind};
use crate::spec;

/// Usual gauges, bass to treble, mm, for 1 to 12 strings. Common practice, no source: four and five are a bass's, ten and
/// more go in courses.
const GAUGES_MM: [&[f64]; 12] = [
    &[0.61],
    &[0.81, 0.61],
    &[1.07, 0.81, 0.61],
    &[2.67, 2.16, 1.65, 1.14],
    &[3.30, 2.67, 2.16, 1.65, 1.14],
    &[1.17, 0.91, 0.66, 0.43, 0.33, 0.25],
    &[1.47, 1.17, 0.91, 0.66, 0.43, 0.33, 0.25],
    &[1.88, 1.47, 1.17, 0.91, 0.66, 0.43, 0.33, 0.25],
    &[2.29, 1.88, 1.47, 1.17, 0.91, 0.66, 0.43, 0.33, 0.25],
    &[0.46, 0.91, 0.30, 0.66, 0.20, 0.43, 0.33, 0.33, 0.25, 0.25],
    &[1.17, 0.46, 0.91, 0.30, 0.66, 0.20, 0.43, 0.33, 0.33, 0.25, 0.25],
    &[0.66, 1.17, 0.46, 0.91, 0.30, 0.66, 0.20, 0.43, 0.33, 0.33, 0.25, 0.25],
];

/// Usual gauges for so many strings, bass to treble, mm; common practice, no source.
///
/// # Errors
/// - `count` outside 1..=12.
pub fn usual_gauges_mm(count: u32) -> Result<&'static [f64], Error> {
    let gauges = (count as usize).checked_sub(1).and_then(|i| GAUGES_MM.get(i));
    gauges.copied().ok_or_else(|| {
        let fault = Fault::new(Kind::OutOfRange, "count", "a neck carries one to twelve strings");
        fault.value(count, "").range(1.0, 12.0).into()
    })
}

/// One string: a straight line from the nut to the bridge, in plan.
#[derive(Clone, Copy, Debug, PartialEq, serde::Serialize)]
pub struct StringLine {
    /// Its diameter, mm.
    pub gauge_mm: f64,
    /// Its centre at the nut, `(x, y)`, mm.
    pub nut_mm: (f64, f64),
    /// Its centre at the bridge, `(x, y)`, mm.
    pub bridge_mm: (f64, f64),
}

impl StringLine {
    /// The same string of the mirror image.
    #[must_use]
    pub fn mirrored(&self) -> Self {
        let (nut, bridge) = (self.nut_mm, self.bridge_mm);
        Self { gauge_mm: self.gauge_mm, nut_mm: (nut.0, -nut.1), bridge_mm: (bridge.0, -bridge.1) }
    }

    /// Its centre's distance from the centreline at a station, mm; above 0 on the treble side. The line goes on straight
    /// beyond nut and bridge.
    #[must_use]
    pub fn y_mm(&self, x_mm: f64) -> f64 {
        self.nut_mm.1 + (x_mm - self.nut_mm.0) * self.slope()
    }

    /// How far it runs toward the treble side for each mm toward the bridge.
    #[must_use]
    pub fn slope(&self) -> f64 {
        (self.bridge_mm.1 - self.nut_mm.1) / (self.bridge_mm.0 - self.nut_mm.0)
    }

    /// Its length from nut to bridge in plan, mm.
    #[must_use]
    pub fn length_mm(&self) -> f64 {
        libm::hypot(self.bridge_mm.0 - self.nut_mm.0, self.bridge_mm.1 - self.nut_mm.1)
    }

    /// How many cents a fret line that takes `taken` of the outer strings stops this one sharp (above 0) or flat of the
    /// fret it is meant for, by its length alone.
    ///
    /// With `s` the slope of the line, `s₀` and `s₁` those of nut and bridge, the string's own part taken is more by
    /// `(y₀ (1-g)(s-s₀) + y₁ g (s-s₁)) / (x₁ - x₀ - s (y₁ - y₀))`. (Derived here; the tests cross the lines otherwise.)
    pub(super) fn departure_cents(&self, fan: &Fan, taken: f64) -> f64 {
        let slope = fan.slope(taken);
        let ((x0, y0), (x1, y1)) = (self.nut_mm, self.bridge_mm);
        let over = y0 * (1.0 - taken) * (slope - fan.slope(0.0)) + y1 * taken * (slope - fan.slope(1.0));
        let over = over / (x1 - x0 - slope * (y1 - y0));
        -1200.0 / core::f64::consts::LN_2 * libm::log1p(-over / (1.0 - taken))
    }
}

/// Centres across a spread, the outer two at its ends.
fn centres(gauges: &[f64], spread: f64, spacing: spec::Spacing) -> Vec<f64> {
    let count = gauges.len();
    if count == 1 {
        return alloc::vec![0.0];
    }
    let between = (count - 1) as f64;
    let first = -0.5 * spread;
    if spacing == spec::Spacing::EvenCentres {
        return (0..count).map(|i| -first * (2.0 * i as f64 - between) / between).collect();
    }
    let gap = clear_gap(gauges, spread);
    let mut y = first;
    let mut centres: Vec<f64> = Vec::with_capacity(count);
    for i in 0..count {
        if i > 0 {
            y += 0.5 * gauges[i - 1] + gap + 0.5 * gauges[i];
        }
        centres.push(y);
    }
    // The last one by its definition, not by what the sum has gathered.
    centres[count - 1] = -first;
    centres
}

/// The clear gap that is the same between all neighbours.
fn clear_gap(gauges: &[f64], spread: f64) -> f64 {
    let filled: f64 = gauges.iter().sum::<f64>() - 0.5 * (gauges[0] + gauges[gauges.len() - 1]);
    (spread - filled) / (gauges.len() - 1) as f64
}

/// Lays the strings out from the nut's line to the bridge's, with a fault for each end where they touch.
pub(super) fn lay_out(gauges: &[f64], spacing: spec::Spacing, fan: &Fan) -> Result<Vec<StringLine>, Error> {
    let (nut_half, bridge_half) = fan.halves();
    let nut = centres(gauges, 2.0 * nut_half, spacing);
    let bridge = centres(gauges, 2.0 * bridge_half, spacing);
    let mut faults = Vec::new();
    for (row, path, spread) in
        [(&nut, "nut.string_spread", 2.0 * nut_half), (&bridge, "bridge.string_spread", 2.0 * bridge_half)]
    {
        let touching = (1..gauges.len()).find(|&i| row[i] - row[i - 1] <= 0.5 * (gauges[i] + gauges[i - 1]));
        if let Some(i) = touching {
            let reason = format!("leaves no gap between strings {i} and {}, counted from the bass", i + 1);
            let fault = Fault::new(Kind::Geometry, path, reason).value(spread, "mm");
            faults.push(fault.remedy("spread the strings farther, or take thinner ones or fewer"));
        }
    }
    Error::unless_none(faults)?;
    let bridge_line = fan.bridge_line();
    let nut_slope = fan.slope(0.0);
    let lines = gauges.iter().zip(nut.iter().zip(&bridge)).map(|(&gauge_mm, (&y0, &y1))| StringLine {
        gauge_mm,
        // Plus 0, so that a square nut's strings start at 0 and not at -0.
        nut_mm: (nut_slope * y0 + 0.0, y0),
        bridge_mm: (bridge_line.x_at_mm(y1), y1),
    });
    Ok(lines.collect())
}

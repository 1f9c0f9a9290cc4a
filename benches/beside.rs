//! What `beside_kernel.py`, `python.py` and `sweep.py` call of the library, so that both run in one process. Numbers go in and come out, no memory.

use neckwright::exchange::{StepOptions, step};
use neckwright::measure::Length;
use neckwright::shape::{Neck, Part, Segment};
use neckwright::solid::Solid;
use neckwright::spec::{MeshOptions, SolidOptions, Specification};
use std::hint::black_box;
use std::sync::LazyLock;
use std::time::Instant;

/// The neck of the evening class, as far as its maker has told it.
static CLASS: LazyLock<Specification> = LazyLock::new(|| {
    Specification::from_json(include_str!("../core/examples/neck_book/evening_class.json"))
        .expect("the class's document")
});
static NECK: LazyLock<Neck> = LazyLock::new(|| Neck::new(&CLASS).expect("the class's neck"));
/// Its solids as the kernel lofts them: neck wood, and fretboard without slots.
static SOLIDS: LazyLock<[Solid; 2]> = LazyLock::new(|| {
    let options = SolidOptions { slots: false, ..SolidOptions::default() };
    let solids = NECK.solids(&options).expect("its solids");
    [solids.neck_wood, solids.fretboard]
});

fn part(board: u32) -> Part {
    if board == 0 { Part::NeckWood } else { Part::Fretboard }
}

/// The stations between which a part lies: 0 for the neck wood, 1 for the fretboard.
fn reach(board: u32) -> [f64; 2] {
    let layout = NECK.layout().board();
    if board == 0 { NECK.wood_reach_mm() } else { [layout.start_mm(), layout.end_mm()] }
}

/// The station that lies at a share of a part's reach.
#[unsafe(no_mangle)]
pub extern "C" fn beside_station(board: u32, share: f64) -> f64 {
    let [from, to] = reach(board);
    from + share * (to - from)
}

/// The numbers of a part's outline at a station one by one: the start's two, then for each segment 1, 2 or 3 for a line, a cubic
/// or a crown, with its six coordinates; NaN at the end.
#[unsafe(no_mangle)]
pub extern "C" fn beside_outline(board: u32, x: f64, index: u32) -> f64 {
    let outline = NECK.section(x).ok().and_then(|s| s.part_outline(part(board)));
    let Some(outline) = outline else { return f64::NAN };
    let mut numbers = outline.start.to_vec();
    for segment in &outline.segments {
        let end = segment.end();
        let (kind, [a, b]) = match *segment {
            Segment::Line(p) => (1.0, [p, p]),
            Segment::Cubic(a, b, _) => (2.0, [a, b]),
            // The top of its arc, for an arc through three points.
            Segment::Crown { .. } => (3.0, [[0.0, 0.0], end]),
        };
        numbers.extend([kind, a[0], a[1], b[0], b[1], end[0], end[1]]);
    }
    numbers.get(index as usize).copied().unwrap_or(f64::NAN)
}

/// Builds the neck and its solids with all slots or without, and writes them as STEP; gives the number of bytes.
#[unsafe(no_mangle)]
pub extern "C" fn beside_step(slots: u32) -> usize {
    let options = SolidOptions { slots: slots != 0, ..SolidOptions::default() };
    let neck = Neck::new(black_box(&CLASS)).expect("the class's neck");
    let solids = neck.solids(&options).expect("its solids");
    let parts = [(&solids.neck_wood, [0.6, 0.3, 0.2]), (&solids.fretboard, [0.2, 0.1, 0.05])];
    black_box(step("neck", &parts, &StepOptions::default())).map_or(0, |text| text.len())
}

/// The least time in which so many thicknesses, evenly along the default neck's board, are read: into memory that is there already,
/// or each time into new memory; of several times, in seconds.
#[unsafe(no_mangle)]
pub extern "C" fn beside_thicknesses_s(count: u32, fresh: u32, times: u32) -> f64 {
    let neck = Neck::new(&Specification::default()).expect("the default neck is one");
    let end = neck.layout().board().end_mm().min(neck.wood_reach_mm()[1]);
    let x: Vec<f64> = (0..count).map(|i| end * f64::from(i) / f64::from(count)).collect();
    let mut out = vec![0.0; x.len()];
    let one = |_| {
        let begun = Instant::now();
        if fresh != 0 {
            out = vec![0.0; x.len()];
        }
        neck.thickness_mm_into(black_box(&x), black_box(&mut out)).expect("stations of the neck");
        begun.elapsed().as_secs_f64()
    };
    (0..times).map(one).fold(f64::INFINITY, f64::min)
}

/// The loop that a sweep stands beside: so many necks from JSON texts that lie there already, over a grid of widths and thicknesses, two
/// readings off each at fret 5; in seconds.
#[unsafe(no_mangle)]
pub extern "C" fn beside_necks_s(side: u32) -> f64 {
    let step = f64::from(side.saturating_sub(1).max(1));
    let text = |i: u32| {
        let (width, thickness) =
            (40.0 + 6.0 * f64::from(i / side) / step, 20.0 + 2.5 * f64::from(i % side) / step);
        format!(
            r#"{{"scale":{{"length":640}},"shaft":{{"thickness":[{{"at":"fret 1","thickness":{thickness}}},{{"at":"fret 12","thickness":23}}]}},"nut":{{"width":{width}}}}}"#
        )
    };
    let texts: Vec<String> = (0..side * side).map(text).collect();
    let begun = Instant::now();
    for text in &texts {
        let neck = Neck::from_json(black_box(text)).expect("a neck of the grid");
        let x = neck.layout().station_of_fret_mm(5.0).expect("fret 5");
        black_box((neck.thickness_mm(x).expect("its thickness"), neck.width_mm(x).expect("its width")));
    }
    begun.elapsed().as_secs_f64()
}

/// The areas of so many sections of both parts, evenly along the board, added up.
#[unsafe(no_mangle)]
pub extern "C" fn beside_sections(count: u32) -> f64 {
    let [from, to] = reach(1);
    let area = |i: u32| {
        let x = from + (to - from) * (f64::from(i) + 0.5) / f64::from(count);
        let section = NECK.section(black_box(x)).expect("a station of the neck");
        [Part::NeckWood, Part::Fretboard].map(|p| section.part_moments(p).area_mm2)
    };
    (0..count).flat_map(area).sum()
}

/// Meshes of both solids at a chord tolerance; gives the number of triangles.
#[unsafe(no_mangle)]
pub extern "C" fn beside_mesh(chord_mm: f64) -> usize {
    let options = MeshOptions { chord: Length::from_mm(chord_mm), ..MeshOptions::default() };
    let mesh = |solid: &Solid| black_box(solid.mesh(black_box(&options)).expect("a mesh")).triangles.len();
    SOLIDS.iter().map(mesh).sum()
}

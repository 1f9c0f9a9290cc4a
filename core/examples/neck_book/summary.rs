//! The summary for the bench.

use std::fmt::Write;
use std::path::Path;

use neckwright::measure::Length;
use neckwright::shape::{CaliperRow, LeastValue, Neck};
use neckwright::spec::{Hand, HeadstockKind};

use crate::comparing::Compared;
use crate::copying::Copy;
use crate::inspection::Inspected;
use crate::numbers::down;

const CAUTIONS: &[&str] = &[
    "Rod: mark the channel on blank and back, and check what is left over it while you carve. Once a",
    "  blade has come through into the channel, the neck is lost.",
    "Edges: hold the work, keep both hands behind the edge, stop the machine before you measure. Slots",
    "  and pockets chip out where a cutter leaves the wood: back them up.",
    "Dust: wood dust is a proven cause of cancer in people (IARC Group 1). Collect it where it arises",
    "  and wear a mask that fits; many hardwoods also make skin and lungs allergic.",
    "These pages replace neither the machine's manual nor your local rules nor qualified practice;",
    "  where they disagree with these pages, they are right.",
];

fn heading(out: &mut String, words: &str) {
    let _ = writeln!(out, "\n{words}\n{}", "-".repeat(words.chars().count()));
}

/// What was worked out besides the neck itself.
pub struct Parts<'a> {
    /// The plan in a few lines, or why there is none.
    pub plan: Result<&'a str, &'a String>,
    /// The neck on the bench, where there are readings of it.
    pub inspected: Option<&'a Inspected>,
    /// A neck copied from readings.
    pub copy: Option<&'a Copy>,
    /// The neck beside another.
    pub compared: Option<&'a Compared>,
    /// What is left out of the models, and why.
    pub left_out: &'a [String],
}

/// The whole summary.
pub fn of(
    neck: &Neck,
    folder: &Path,
    files: &[(String, Vec<u8>)],
    parts: &Parts<'_>,
    inches: bool,
) -> String {
    let mut out = String::new();
    title(&mut out, neck);
    cards(&mut out, neck, "Caliper card", inches);
    heading(&mut out, "Never less than");
    least(&mut out, neck);
    ends(&mut out, neck);
    strings(&mut out, neck);
    heading(&mut out, "Carving plan");
    match parts.plan {
        Ok(plan) => out += plan,
        Err(why) => {
            out += "  There is no plan from this stock, and no page of one was written:\n";
            for line in why.lines() {
                wrapped(&mut out, line);
            }
        }
    }
    if let Some(inspected) = parts.inspected {
        heading(&mut out, "On the bench");
        inspected.summary(neck).iter().for_each(|words| wrapped(&mut out, words));
        if let Some(mended) = inspected.mended() {
            cards(&mut out, &mended.neck, "Caliper card of the mended neck", inches);
        }
    }
    if let Some(copy) = parts.copy {
        heading(&mut out, "The copied neck");
        copy.summary().iter().for_each(|words| wrapped(&mut out, words));
        cards(&mut out, &copy.neck, "Caliper card of the copied neck", inches);
    }
    if let Some(compared) = parts.compared {
        heading(&mut out, "Beside the other neck");
        compared.summary().iter().for_each(|words| wrapped(&mut out, words));
    }
    heading(&mut out, "To know before you cut");
    let warnings = neck.warnings();
    for warning in &warnings {
        wrapped(&mut out, &format!("{}: {}", warning.path, warning.message));
    }
    let bench = match parts.inspected {
        Some(inspected) if inspected.is_lost() => {
            "  On the bench more wood is gone than this neck can lose: see above.\n"
        }
        Some(inspected) if inspected.mended().is_some() => {
            "  On the bench wood is gone that this neck should have: work to the mended neck's card, above.\n"
        }
        Some(inspected) if inspected.set_aside() > 0 => {
            "  On the bench there are readings that can't be right: read them again first, see above.\n"
        }
        _ if warnings.is_empty() => "  Nothing about the design's numbers stands out.\n",
        _ => "",
    };
    out += bench;
    heading(&mut out, "Cautions");
    for line in CAUTIONS {
        let _ = writeln!(out, "  {line}");
    }
    let woods = &neck.normalised().woods;
    if [&woods.neck, &woods.fretboard].iter().any(|w| w.species.to_lowercase().contains("rosewood")) {
        out += "  Rosewoods (Dalbergia) are under CITES: ask your national authority before you buy, sell or send.\n";
    }
    let names: Vec<&str> = files.iter().map(|(name, _)| name.as_str()).collect();
    heading(&mut out, &format!("Written to {}", folder.display()));
    wrapped(&mut out, &names.join(", "));
    parts.left_out.iter().for_each(|what| wrapped(&mut out, what));
    wrapped(
        &mut out,
        "The drawings are at full size: print them at 100 %, and measure both bars before you cut.",
    );
    out
}

fn title(out: &mut String, neck: &Neck) {
    let spec = neck.normalised();
    let name = if spec.name.is_empty() { "A neck without a name" } else { spec.name.as_str() };
    let _ = writeln!(out, "{name}\n{}", "=".repeat(name.chars().count()));
    let hand = if spec.hand == Hand::Left { "left-handed" } else { "right-handed" };
    let (layout, fan) = (neck.layout(), neck.layout().fan());
    let scale = if fan.is_fanned() {
        format!("scale {:.2} mm bass, {:.2} mm treble", fan.bass_mm(), fan.treble_mm())
    } else {
        format!("scale {:.2} mm", layout.scale_mm())
    };
    let _ = writeln!(
        out,
        "{hand}, {} strings, {} frets, {scale}; {} neck, {} board",
        spec.strings.count, spec.frets.count, spec.woods.neck.species, spec.woods.fretboard.species
    );
}

fn cards(out: &mut String, neck: &Neck, name: &str, inches: bool) {
    card(out, neck, name);
    if inches {
        inch_card(out, neck, name);
    }
}

fn card(out: &mut String, neck: &Neck, name: &str) {
    heading(out, &format!("{name}, mm (thickness in inches too)"));
    out.push_str("  fret  from nut   width  thick   (in)  girth  carve line  rod wall\n");
    for row in neck.caliper_card() {
        let carve = row.carve_line_mm;
        let carve = if (carve.bass - carve.treble).abs() < 5e-3 {
            format!("{:.2}", carve.bass)
        } else {
            format!("{:.2}/{:.2}", carve.bass, carve.treble)
        };
        let wall = row.rod_wall_mm.map_or("-".into(), |w| format!("{w:.2}"));
        let _ = writeln!(
            out,
            "  {:>4} {:>9.2} {:>7.2} {:>6.2} {:>6.3} {:>6.2} {carve:>11} {wall:>9}",
            label(&row),
            row.x_mm,
            row.width_mm,
            row.thickness_mm,
            Length::from_mm(row.thickness_mm).inches(),
            row.girth_mm,
        );
    }
    out.push_str(
        "  Thickness from the board's crown to the spine, frets not counted; carve line below the crown;\n",
    );
    out.push_str("  girth with a tape round the back from edge to edge of the board.\n");
}

fn label(row: &CaliperRow) -> String {
    if row.fret == 0 { "nut".into() } else { row.fret.to_string() }
}

fn inch_card(out: &mut String, neck: &Neck, name: &str) {
    heading(out, &format!("{name}, inches (decimal, and to the nearest 1/64)"));
    out.push_str("  fret  from nut               width                thickness            girth\n");
    for row in neck.caliper_card() {
        let _ = write!(out, "  {:>4}", label(&row));
        for mm in [row.x_mm, row.width_mm, row.thickness_mm, row.girth_mm] {
            let length = Length::from_mm(mm);
            let nearest = length.nearest_64th().to_string();
            let _ = write!(out, " {:>7.3} = {:<11}", length.inches(), nearest.trim_end_matches(" in"));
        }
        while out.ends_with(' ') {
            out.pop();
        }
        out.push('\n');
    }
    out.push_str("  A 64th is off by up to 0.008 in: where it matters, set the caliper to the decimal.\n");
}

fn least(out: &mut String, neck: &Neck) {
    let mut say = |what: &str, least: &LeastValue| {
        let _ = writeln!(
            out,
            "  {what:<22} {:>8.4} mm, taken {:.1} mm from the nut; proven nowhere below {:.4} mm",
            least.value,
            least.x_mm,
            down(least.proven, 4)
        );
    };
    say("thickness", &neck.least_thickness());
    if let Some(wall) = neck.least_rod_wall() {
        say("wood around the rod", &wall);
    }
    let bend = neck.least_curvature();
    let words = if bend.proven > 0.0 {
        format!(
            "{:>8.2} mm radius at the flattest; proven: no flat and no hollow on the shaft",
            1.0 / bend.value
        )
    } else {
        format!("flat or hollow {:.1} mm from the nut", bend.x_mm)
    };
    let _ = writeln!(out, "  {:<22} {words}", "roundness of the back");
    out.push_str("  Proven means at every station of the part that is named, not only at those of the card: thickness\n  from the nut to the end of board or heel, roundness on the shaft, the wall all around the rod.\n");
}

fn ends(out: &mut String, neck: &Neck) {
    let (head, volute, heel, joints) = (neck.headstock(), neck.volute(), neck.heel(), neck.joints());
    heading(out, "Headstock, volute, heel, stock (mm)");
    let kind = match head.kind {
        HeadstockKind::Angled => format!("tilted {:.2} degrees", head.angle_deg),
        HeadstockKind::Level => "level".into(),
    };
    let mut line = |words: String| wrapped(out, &words);
    line(format!(
        "Headstock: {kind}, {:.2} thick, {:.2} long along its face, {:.2} wide at the tip, whose back lies {:.2} below \
         the crown line.",
        head.thickness_mm, head.length_mm, head.tip_width_mm, head.tip_back_depth_mm
    ));
    if volute.height_mm > 0.0 {
        line(format!(
            "Volute: {:.2} high, from {:.2} to {:.2}, its tip at {:.2} and {:.2} below the crown line.",
            volute.height_mm, volute.start_x_mm, volute.end_x_mm, volute.tip_x_mm, volute.tip_depth_mm
        ));
    }
    line(format!(
        "Heel: begins at {:.2}, block from {:.2} to {:.2}, {:.2} deep, {:.2} wide at its end; glued or bolted from {:.2} \
         on, where nothing may be taken off.",
        heel.start_x_mm,
        heel.block_x_mm,
        heel.end_x_mm,
        heel.block_depth_mm,
        heel.end_width_mm,
        heel.glued_from_x_mm
    ));
    let scarf = joints.scarf.map_or(String::new(), |s| {
        format!(
            " Scarfed: {:.2}, and {:.2} where the heel block is glued on too; the scarf runs {:.2} along stock {:.2} thick.",
            joints.heel_stock_mm, joints.shaft_stock_mm, s.run_mm, s.stock_mm
        )
    });
    line(format!(
        "Stock below the board, nothing added for the saw: {:.2} for one piece.{scarf}",
        joints.one_piece_stock_mm
    ));
    let mass = neck.mass_kg();
    if let (Some(board), Some(wood)) = (mass.fretboard_kg, mass.neck_wood_kg) {
        line(format!(
            "Weight: about {:.0} g of neck wood and {:.0} g of fretboard, without frets, rod and tuners; a board may \
             differ by a fifth from the mean of its species.",
            1000.0 * wood,
            1000.0 * board
        ));
    }
    line(format!(
        "Fret wire: {:.0} mm in all, with the overhang of each piece.",
        neck.layout().total_wire_mm()
    ));
}

fn strings(out: &mut String, neck: &Neck) {
    let paths = neck.string_paths();
    if paths.is_empty() {
        return;
    }
    heading(out, "Strings over the nut (degrees)");
    out.push_str("  String 1 is the bass string. Down: toward the headstock's face from the board's plane; aside: toward\n");
    out.push_str("  the treble side where it has no sign, toward the bass side where it is below 0.\n");
    out.push_str("  string  gauge mm    down   aside   whole  load on the nut for each newton\n");
    for (i, (path, string)) in paths.iter().zip(neck.layout().strings()).enumerate() {
        let _ = writeln!(
            out,
            "  {:>6} {:>9.2} {:>7.1} {:>7.1} {:>7.1} {:>12.3} N",
            i + 1,
            string.gauge_mm,
            path.vertical_deg,
            path.sideways_deg,
            path.total_deg,
            path.nut_force_per_newton
        );
    }
}

/// Writes words in lines of no more than 96 letters, indented by two.
fn wrapped(out: &mut String, words: &str) {
    let mut line = String::new();
    for word in words.split_whitespace() {
        if line.chars().count() + word.chars().count() > 95 {
            let _ = writeln!(out, "  {line}");
            line.clear();
            line.push_str("  ");
        }
        if !line.trim().is_empty() {
            line.push(' ');
        }
        line.push_str(word);
    }
    let _ = writeln!(out, "  {line}");
}

//! What can hurt the builder or the neck, stage by stage.

use alloc::string::{String, ToString};
use alloc::vec::Vec;

use super::channel::rod_channel;
use super::dust::dust;
use super::species::{protected, sensitises, sensitising};
use super::work::Work;
use super::workshop::of_the_work;
#[cfg(feature = "std")]
use crate::shape::Neck;
use crate::spec::StageName;
#[cfg(feature = "std")]
use crate::spec::Stock;

/// What a caution is about.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, serde::Serialize)]
#[serde(rename_all = "snake_case")]
pub enum Topic {
    /// A sawing, planing or rasping edge.
    Blade,
    /// A turning cutter.
    Cutter,
    /// A cutter that runs with the feed instead of against it.
    ClimbCut,
    /// A sanding machine.
    Sander,
    /// How the work is held.
    WorkHolding,
    /// Splinters at the far edge, and grain that tears.
    ChipOut,
    /// Where a cut has to stop.
    StopLine,
    /// Breaking into the rod's channel.
    RodChannel,
    /// Glue.
    Glue,
    /// Fret wire and its ends.
    FretWire,
    /// Shell and other inlay.
    Inlay,
    /// Wood dust.
    Dust,
    /// A wood that is known to sensitise.
    Sensitising,
    /// A wood whose trade is watched.
    Protected,
}

impl Topic {
    /// All of them, in the order in which a stage names them.
    pub const ALL: [Self; 14] = [
        Self::Blade,
        Self::Cutter,
        Self::ClimbCut,
        Self::Sander,
        Self::WorkHolding,
        Self::ChipOut,
        Self::StopLine,
        Self::RodChannel,
        Self::Glue,
        Self::FretWire,
        Self::Inlay,
        Self::Dust,
        Self::Sensitising,
        Self::Protected,
    ];

    /// Its name.
    #[must_use]
    pub const fn name(self) -> &'static str {
        match self {
            Self::Blade => "blade",
            Self::Cutter => "cutter",
            Self::ClimbCut => "climb cut",
            Self::Sander => "sander",
            Self::WorkHolding => "work holding",
            Self::ChipOut => "chip-out",
            Self::StopLine => "stop line",
            Self::RodChannel => "rod channel",
            Self::Glue => "glue",
            Self::FretWire => "fret wire",
            Self::Inlay => "inlay",
            Self::Dust => "dust",
            Self::Sensitising => "sensitising wood",
            Self::Protected => "protected wood",
        }
    }
}

/// One caution of a stage.
#[derive(Clone, Debug, PartialEq, Eq, serde::Serialize)]
pub struct Caution {
    /// What it is about.
    pub topic: Topic,
    /// What to mind: a few sentences.
    pub words: String,
}

/// Before a low place sets the whole neck's depth. Common practice, no source.
#[cfg(feature = "std")]
const READ_AGAIN: &str = "Read the low places once more before any wood goes: what is off stays off. Local rules, the tools' \
    manuals and qualified practice come before anything said here.";

/// What there is to mind when a neck is brought down to a mended one, its board on: the back by rasp and scraper, as when it was
/// contoured, where it comes down; the edges as when they were trimmed, where they come in.
#[cfg(feature = "std")]
pub(crate) fn cautions_of_mending(neck: &Neck, [down, inward]: [bool; 2]) -> Vec<Caution> {
    let stock = Stock::default();
    let work = Work { board_glued: true, ..Work::of(neck, &stock) };
    let of = |stage, is_done: bool| if is_done { cautions(stage, &work) } else { Vec::new() };
    // What ends at the carve line is an allowance; a mending has none.
    let mut all = of(StageName::Contour, down || !inward);
    all.retain(|caution| caution.topic != Topic::StopLine);
    for caution in of(StageName::Sides, inward) {
        // Of both the limits in the air are the same.
        let said = |other: &Caution| other.topic == Topic::Dust && caution.topic == Topic::Dust;
        if !all.iter().any(|other| other.words == caution.words || said(other)) {
            all.push(caution);
        }
    }
    all.sort_by_key(|caution| Topic::ALL.iter().position(|topic| *topic == caution.topic));
    let again = Caution { topic: Topic::StopLine, words: READ_AGAIN.to_string() };
    core::iter::once(again).chain(all).collect()
}

/// What there is to mind at a stage of the work on a neck; nothing at one that cuts nothing there: that of the channel
/// where no rod is fitted, that of the facets where none are planed.
///
/// The woods that the stage cuts are looked up among those known to sensitise (common knowledge, by no means complete)
/// and those whose trade CITES watches.
///
/// The order is that of [`Topic::ALL`]. No stage says a sentence twice. Nothing here takes the place of a machine's
/// manual, of the rules that hold where the work is done or of a qualified person's judgement, and every caution about a
/// machine says so.
#[must_use]
pub fn cautions(stage: StageName, work: &Work<'_>) -> Vec<Caution> {
    match stage {
        StageName::RodChannel if !work.rod => return Vec::new(),
        StageName::Facets if !work.facets => return Vec::new(),
        _ => {}
    }
    let mut out: Vec<Caution> = of_the_work(stage, work)
        .into_iter()
        .map(|(topic, words)| Caution { topic, words: words.to_string() })
        .collect();
    let mut add = |topic, words| out.push(Caution { topic, words });

    if let Some(words) = rod_channel(stage, work) {
        add(Topic::RodChannel, words);
    }
    let cut = woods_cut(stage, work);
    let [neck, board] = work.species.map(str::trim);
    let mut woods: Vec<&str> = Vec::new();
    for (wood, is_cut) in [(neck, cut.neck), (board, cut.board)] {
        if is_cut && !woods.iter().any(|other| other.eq_ignore_ascii_case(wood)) {
            woods.push(wood);
        }
    }
    if let Some(words) = dust(stage) {
        add(Topic::Dust, words);
    }
    let sensitisers: Vec<&str> = woods.iter().copied().filter(|wood| sensitises(wood)).collect();
    if !sensitisers.is_empty() {
        add(Topic::Sensitising, sensitising(&sensitisers));
    }
    // Papers are a matter of the blanks: asked for once, where each comes to the bench.
    if (stage == StageName::Blank || (stage == StageName::Board && !work.board_glued))
        && let Some(words) = protected(&woods)
    {
        add(Topic::Protected, words);
    }
    out.sort_by_key(|caution| Topic::ALL.iter().position(|topic| *topic == caution.topic));
    out
}

/// Which of the two woods a stage cuts.
struct WoodsCut {
    neck: bool,
    board: bool,
}

const fn woods_cut(stage: StageName, work: &Work<'_>) -> WoodsCut {
    let (neck, board) = match stage {
        StageName::Stops => (false, false),
        StageName::Board => (false, true),
        // The top of a board that is on already is the first face to be planed.
        StageName::Blank => (true, work.board_glued),
        // The board is glued on before these, and its edges are cut with the neck's.
        StageName::Taper | StageName::Sides | StageName::Sanding => (true, true),
        StageName::RodChannel
        | StageName::HeadstockFace
        | StageName::Back
        | StageName::HeadstockThickness => (true, false),
        StageName::Rounding | StageName::Facets | StageName::Contour | StageName::Transitions => {
            (true, work.board_shaped)
        }
    };
    WoodsCut { neck, board }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::spec::CutterShape;

    const PLAIN: [&str; 2] = ["cherry, black", "maple, sugar"];

    fn usual() -> Work<'static> {
        Work { species: PLAIN, least_rod_wall: Some((3.456_78, 101.25)), ..Work::default() }
    }

    /// Everything that can be glued is.
    fn glued() -> Work<'static> {
        Work { scarfed: true, block_glued: true, ..usual() }
    }

    /// The least that a neck can have.
    fn bare() -> Work<'static> {
        Work {
            rod: false,
            volute: false,
            tilted: false,
            board_glued: true,
            board_shaped: false,
            round_face: false,
            frets: false,
            markers: false,
            nut: false,
            facets: false,
            cutter: CutterShape::Ball,
            ..usual()
        }
    }

    fn with<'a>(species: [&'a str; 2], least_rod_wall: Option<(f64, f64)>) -> Work<'a> {
        Work { species, least_rod_wall, ..usual() }
    }

    fn of(stage: StageName) -> Vec<Caution> {
        cautions(stage, &glued())
    }

    fn find(cautions: &[Caution], topic: Topic) -> Option<&str> {
        cautions.iter().find(|caution| caution.topic == topic).map(|caution| caution.words.as_str())
    }

    fn cuts(stage: StageName) -> bool {
        stage != StageName::Stops
    }

    fn defers(words: &str) -> bool {
        words.contains("manual") && words.contains("local rules") && words.contains("qualified practice")
    }

    /// Every stage with every sort of neck, wood and wall.
    fn everything() -> impl Iterator<Item = (StageName, Vec<Caution>)> {
        let woods = [
            PLAIN,
            ["rosewood, indian", "cocobolo"],
            ["Brazilian rosewood", "rosewood, indian"],
            ["mahogany, true", "bubinga"],
            ["western red cedar", "ebony"],
            ["wenge", "WENGE"],
            ["", "  "],
        ];
        let walls = [None, Some((3.5, 100.0)), Some((2.5, -3.0)), Some((-0.5, 0.0)), Some((f64::NAN, 1.0))];
        let half = Work { frets: false, scarfed: true, board_glued: true, ..usual() };
        let rest = Work { round_face: false, block_glued: true, volute: false, ..usual() };
        let necks = [usual(), glued(), bare(), half, rest];
        StageName::ALL.iter().flat_map(move |stage| {
            woods.into_iter().flat_map(move |species| {
                walls.into_iter().flat_map(move |least_rod_wall| {
                    necks.map(|neck| (*stage, cautions(*stage, &Work { species, least_rod_wall, ..neck })))
                })
            })
        })
    }

    #[test]
    fn names_are_told_apart() {
        for (i, topic) in Topic::ALL.iter().enumerate() {
            assert!(!topic.name().is_empty());
            assert!(Topic::ALL[..i].iter().all(|other| other != topic && other.name() != topic.name()));
        }
    }

    #[test]
    fn every_stage_that_cuts_has_dust_and_defers() {
        for stage in StageName::ALL.iter().copied() {
            let list = of(stage);
            assert_eq!(find(&list, Topic::Dust).is_some(), cuts(stage), "{}", stage.name());
            assert_eq!(list.iter().any(|caution| defers(&caution.words)), cuts(stage), "{}", stage.name());
            assert_eq!(find(&list, Topic::WorkHolding).is_some(), cuts(stage), "{}", stage.name());
            assert!(!list.is_empty(), "{}", stage.name());
        }
        assert_eq!(of(StageName::Stops).len(), 1);
    }

    #[test]
    fn whatever_concerns_a_machine_defers_to_its_manual() {
        use StageName::{Contour, Facets, Sides, Transitions};
        let by_hand = |stage| matches!(stage, Sides | Facets | Contour | Transitions);
        for (stage, list) in everything() {
            for caution in &list {
                let of_a_machine = matches!(caution.topic, Topic::Cutter | Topic::ClimbCut | Topic::Sander)
                    || (caution.topic == Topic::Blade && !by_hand(stage));
                assert!(!of_a_machine || defers(&caution.words), "{}: {}", stage.name(), caution.words);
            }
        }
    }

    #[test]
    fn the_limits_are_quoted() {
        for stage in StageName::ALL.iter().copied().filter(|stage| cuts(*stage)) {
            let list = of(stage);
            let dust = find(&list, Topic::Dust).unwrap();
            for limit in [
                "IARC Group 1 (Vol. 62, 1995; 100C, 2012)",
                "NIOSH REL 1 mg/m³",
                "OSHA, as particulates, 15 mg/m³ total and 5 mg/m³ respirable",
                "ACGIH TLV 1 mg/m³, western red cedar 0.5 mg/m³",
                "EU, hardwood dust, 2 mg/m³ (Directive (EU) 2017/2398)",
            ] {
                assert!(dust.contains(limit), "{}: {limit}", stage.name());
            }
        }
    }

    #[test]
    fn no_sentence_stands_twice_in_a_stage_and_every_one_ends() {
        for (stage, list) in everything() {
            let mut seen: Vec<&str> = Vec::new();
            for caution in &list {
                let words = &caution.words;
                assert!(words.ends_with('.'), "{}: {words}", stage.name());
                assert!(!words.contains("  ") && !words.contains('\n') && !words.contains(".."), "{words}");
                for sentence in words.split(". ").map(|sentence| sentence.trim_end_matches('.')) {
                    assert!(!seen.contains(&sentence), "{}: {sentence}", stage.name());
                    seen.push(sentence);
                }
            }
        }
    }

    #[test]
    fn topics_come_once_and_in_their_order() {
        for (stage, list) in everything() {
            let places: Vec<_> =
                list.iter().map(|c| Topic::ALL.iter().position(|topic| *topic == c.topic).unwrap()).collect();
            assert!(places.windows(2).all(|pair| pair[0] < pair[1]), "{}: {places:?}", stage.name());
        }
    }

    #[test]
    fn every_topic_has_a_stage() {
        for topic in Topic::ALL {
            assert!(everything().any(|(_, list)| find(&list, topic).is_some()), "{}", topic.name());
        }
    }

    #[test]
    fn what_fits_no_stage_is_not_said_there() {
        let stages = |topic| {
            let with = |stage: &&StageName| find(&of(**stage), topic).is_some();
            StageName::ALL.iter().filter(with).copied().collect::<Vec<_>>()
        };
        use StageName::*;
        assert_eq!(stages(Topic::Sander), [Sanding]);
        assert_eq!(stages(Topic::Glue), [Blank, Board]);
        assert_eq!(stages(Topic::Inlay), [Board]);
        assert_eq!(stages(Topic::ClimbCut), [RodChannel, Sides, Rounding]);
        assert_eq!(stages(Topic::Cutter), [RodChannel, Sides, Rounding]);
        assert_eq!(stages(Topic::RodChannel), [RodChannel, Back, Rounding, Facets, Contour, Transitions]);
        for stage in [HeadstockFace, Taper, HeadstockThickness, Transitions] {
            assert!(
                find(&of(stage), Topic::ChipOut).unwrap().contains("headstock") || stage == HeadstockFace
            );
        }
    }

    #[test]
    fn woods_that_sensitise_are_named_where_they_are_cut() {
        let list = |stage, woods| cautions(stage, &Work { board_shaped: false, ..with(woods, None) });
        let named = |stage, woods| find(&list(stage, woods), Topic::Sensitising).map(ToString::to_string);
        let woods = ["maple, sugar", "rosewood, indian"];
        assert_eq!(named(StageName::Facets, woods), None, "below the glue line facets cut no board");
        use StageName::{Blank, Contour, Facets, Rounding, Transitions};
        for stage in [Rounding, Facets, Contour, Transitions] {
            let list = cautions(stage, &with(woods, None));
            assert!(find(&list, Topic::Sensitising).is_some(), "{}: the board is cut too", stage.name());
        }
        assert_eq!(named(Blank, woods), None);
        let glued = cautions(Blank, &Work { board_glued: true, ..with(woods, None) });
        assert!(find(&glued, Topic::Sensitising).is_some(), "the glued board's top is planed");
        assert!(named(StageName::Board, woods).unwrap().starts_with("\"rosewood, indian\" is among"));
        assert!(
            named(StageName::Sanding, ["Wenge", "Ebony"]).unwrap().starts_with("\"Wenge\" and \"Ebony\" are")
        );
        assert!(named(StageName::Sanding, ["Wenge", "wenge"]).unwrap().starts_with("\"Wenge\" is among"));
        assert!(named(StageName::Back, ["cedar, western red", ""]).unwrap().contains("asthma"));
        assert!(
            named(StageName::Back, woods).is_none() && named(StageName::Stops, ["ebony", "ebony"]).is_none()
        );
        assert_eq!(named(StageName::Sanding, PLAIN), None);
    }

    #[test]
    fn woods_whose_trade_is_watched_are_named_at_their_blanks() {
        let words = |stage, woods| {
            find(&cautions(stage, &with(woods, None)), Topic::Protected).map(ToString::to_string)
        };
        let glued = Work { board_glued: true, ..with(["maple, sugar", "rosewood, indian"], None) };
        assert!(find(&cautions(StageName::Blank, &glued), Topic::Protected).is_some());
        assert!(find(&cautions(StageName::Board, &glued), Topic::Protected).is_none(), "asked for once");
        let indian = words(StageName::Board, ["maple, sugar", "rosewood, indian"]).unwrap();
        for part in ["CITES Appendix II", "D. nigra in Appendix I", "annotation #15", "blanks may not be"] {
            assert!(indian.contains(part), "{part}");
        }
        let nigra = words(StageName::Blank, ["Dalbergia nigra", "maple, sugar"]).unwrap();
        assert!(nigra.contains("Appendix I,") && !nigra.contains("excepted"));
        let mahogany = words(StageName::Blank, ["mahogany, true", "rosewood, indian"]).unwrap();
        assert!(
            mahogany.contains("\"mahogany, true\"") && !mahogany.contains("rosewood"),
            "the board is not here yet"
        );
        for text in [&indian, &nigra, &mahogany] {
            assert!(text.contains("ask the national authority"));
            assert!(!text.contains(" kg"), "sources conflict about a limit of weight");
        }
        assert_eq!(words(StageName::Board, PLAIN), None);
        assert_eq!(words(StageName::Sanding, ["cocobolo", "cocobolo"]), None);
    }

    #[test]
    fn the_wall_of_the_channel_is_told() {
        let words = |wall, asked| {
            let work = Work { least_wall_asked_mm: asked, ..with(PLAIN, wall) };
            find(&cautions(StageName::Facets, &work), Topic::RodChannel).map(ToString::to_string)
        };
        let ends = |wall, asked, end: &str| {
            let words = words(wall, asked).unwrap();
            assert!(words.ends_with(end), "{words}");
        };
        ends(
            Some((3.456_78, 101.25)),
            3.0,
            "leaves 3.46 mm of wood around the channel where it is thinnest, 101.25 mm from the nut.",
        );
        ends(Some((3.0, 0.0)), 3.0, "thinnest, at the nut.");
        ends(
            Some((2.9999, 0.0)),
            3.0,
            "leaves 3.00 mm of wood around the channel where it is thinnest, at the nut.",
        );
        ends(
            Some((2.5, -3.0)),
            3.0,
            "leaves 2.50 mm of wood around the channel where it is thinnest, 3.00 mm from the nut on the headstock's \
             side, less than the 3.00 mm asked for.",
        );
        // What is less looks less, to whatever it is rounded.
        for (wall, asked, as_told) in
            [(2.996, 3.0, "2.99 3.00"), (3.171, 3.174, "3.17 3.18"), (3.17, 3.175, "3.17 3.18")]
        {
            let words = words(Some((wall, 0.0)), asked).unwrap();
            let [wall, asked] = as_told.split_once(' ').map(<[&str; 2]>::from).unwrap();
            assert!(words.contains(&alloc::format!("leaves {wall} mm")), "{words}");
            assert!(words.ends_with(&alloc::format!("less than the {asked} mm asked for.")), "{words}");
        }
        ends(
            Some((0.0, 40.0)),
            0.0,
            "breaks into the channel, 40.00 mm from the nut: change neck or channel before cutting either.",
        );
        let covered = Work { board_glued: true, ..with(PLAIN, Some((0.0, 40.0))) };
        let list = cautions(StageName::Back, &covered);
        assert!(find(&list, Topic::RodChannel).unwrap().ends_with("change the neck before cutting it."));
        assert_eq!(words(None, 3.0), None, "there may be no channel");
        assert_eq!(words(Some((f64::INFINITY, 0.0)), 3.0), None);
        let rod = cautions(StageName::RodChannel, &with(PLAIN, None));
        assert!(find(&rod, Topic::RodChannel).is_some_and(|words| !words.contains("finished neck")));
    }

    #[test]
    fn a_hostile_name_is_cut_short() {
        let long = "ebony \u{7}".repeat(1000);
        let list = cautions(StageName::Board, &with(["", &long], None));
        let words = find(&list, Topic::Sensitising).unwrap();
        assert!(words.len() < 800 && !words.contains('\u{7}'));
    }
}

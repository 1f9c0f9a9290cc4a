//! The headstock seen square to its face, and where the tuners' posts stand.

use alloc::format;
use alloc::vec::Vec;

use super::curve;
use super::dimension::Dimension;
use super::draft::Draft;
use super::layer::Layer;
use super::path::Point;
use super::sheet::Shape;
use super::station::mm;
use super::text::{Anchor, TEXT_MM, Text};
use crate::shape::{Neck, Side};

/// The posts' places as a drawing shows them: along the face, or seen from the front.
pub(super) fn places(neck: &Neck, along_face: bool) -> Vec<Point> {
    let posts = neck.headstock().posts;
    posts.iter().map(|p| [if along_face { -p.along_mm } else { p.x_mm }, p.y_mm]).collect()
}

/// Numbers the posts, bass string first: outward of the hole where there is room.
pub(super) fn number_posts(draft: &mut Draft, posts: &[Point], radius: f64) {
    for (i, [x, y]) in posts.iter().enumerate() {
        let words = format!("{}", i + 1);
        let out = if *y < 0.0 { -1.0 } else { 1.0 };
        // Past all that is drawn at last.
        let beside = (0..80).flat_map(|step| {
            let away = radius + 1.8 + f64::from(step);
            let level = y - 0.5 * TEXT_MM;
            [
                [*x, level + out * (away + 0.5 * TEXT_MM)],
                [x + away + 0.5 * TEXT_MM, level],
                [x - away - 0.5 * TEXT_MM, level],
                [*x, level - out * (away + 0.5 * TEXT_MM)],
            ]
        });
        draft.place(beside.map(|at| Text::new(at, Anchor::Middle, words.as_str())));
    }
}

/// The face's edges from the tip to where it begins, bass and treble, as [`face`] draws them.
fn edges(neck: &Neck) -> [Vec<Point>; 2] {
    let (head, hand) = (neck.headstock(), neck.hand_sign());
    let longer = 1.0 / libm::cos(head.angle_deg.to_radians());
    let half = neck.laws().half_width;
    let edge = |side: Side| -> Vec<Point> {
        let points = curve::law(half.of(side), head.tip_x_mm, head.root_x_mm);
        points.iter().map(|p| [(p[0] - head.root_x_mm) * longer, hand * side.sign() * p[1]]).collect()
    };
    Side::BOTH.map(edge)
}

/// The face's outline, as [`face`] draws it.
pub(super) fn outline(neck: &Neck) -> Vec<Point> {
    let [mut outline, treble] = edges(neck);
    outline.extend(treble.into_iter().rev());
    outline
}

/// The face as a template sees it: the nut's headstock side at `x = 0`, the tip to the left; around what is drawn of it already.
pub(super) fn face(neck: &Neck, mut draft: Draft) -> Draft {
    let (head, hand) = (neck.headstock(), neck.hand_sign());
    let [bass, treble] = edges(neck);
    let ends = [bass[0], treble[0], bass[bass.len() - 1]];
    draft.closed(Layer::Outline, &outline(neck));
    draft.line(Layer::Centreline, [-head.length_mm - 5.0, 0.0], [5.0, 0.0]);
    let spec = neck.normalised();
    let (length, half) = (spec.rod.pocket_length.mm(), 0.5 * spec.rod.pocket_width.mm());
    if spec.rod.fitted && length > 0.0 {
        draft.closed(Layer::Edges, &[[0.0, -half], [-length, -half], [-length, half], [0.0, half]]);
    }
    let radius_mm = 0.5 * spec.headstock.hole_diameter.mm();
    let posts = places(neck, true);
    for centre in &posts {
        draft.add(Layer::Holes, Shape::Circle { centre: *centre, radius_mm });
        for way in [[1.5, 0.0], [0.0, 1.5]] {
            let end = |sign: f64| [0, 1].map(|k| centre[k] + sign * way[k]);
            draft.line(Layer::Centreline, end(-1.0), end(1.0));
        }
    }
    let [low, high] = draft.bounds();
    let lower = if hand < 0.0 { ends[1] } else { ends[0] };
    let upper = if hand < 0.0 { ends[0] } else { ends[1] };
    let root = [0.0, -libm::fabs(ends[2][1])];
    draft.dimension(Dimension::level(
        [lower, root],
        low[1] - 7.0,
        format!("along the face: {}", mm(head.length_mm)),
    ));
    let wide = Dimension::upright([lower, upper], low[0] - 6.0, mm(head.tip_width_mm));
    let text = Text { anchor: Anchor::End, at: [wide.line[0][0] - 1.5, wide.text.at[1]], ..wide.text };
    draft.dimension(Dimension { text, ..wide });
    number_posts(&mut draft, &posts, radius_mm);
    draft.text(Text::new([low[0], high[1] + 4.0], Anchor::Start, "Headstock, seen square to its face"));
    draft
}

/// A table of the posts' places, its upper left corner at `(0, 0)`.
pub(super) fn table(neck: &Neck) -> Draft {
    let mut draft = Draft::default();
    let posts = neck.headstock().posts;
    let row = |i: usize| -TEXT_MM - 1.9 * TEXT_MM * i as f64;
    draft.text(Text::new([0.0, row(0)], Anchor::Start, "Tuner posts, bass string first"));
    for (x, words) in [(22.0, "along face"), (46.0, "off centre"), (49.0, "toward")] {
        let anchor = if x == 49.0 { Anchor::Start } else { Anchor::End };
        draft.text(Text::new([x, row(1)], anchor, words));
    }
    for (i, post) in posts.iter().enumerate() {
        let y = row(i + 2);
        let offset = neck.hand_sign() * post.y_mm;
        let side = match offset {
            o if o < 0.0 => "bass",
            o if o > 0.0 => "treble",
            _ => "-",
        };
        for (x, words) in
            [(4.5, format!("{}", i + 1)), (22.0, mm(post.along_mm)), (46.0, mm(libm::fabs(offset)))]
        {
            draft.text(Text::new([x, y], Anchor::End, words));
        }
        draft.text(Text::new([49.0, y], Anchor::Start, side));
    }
    draft
}

//! The string's way over the nut to its post.

use alloc::vec::Vec;

use super::neck::Neck;

/// How one string breaks over the nut.
#[derive(Clone, Copy, Debug, PartialEq, serde::Serialize)]
pub struct StringPath {
    /// Where it bears on the nut, `[x, y, z]` of its centre in mm.
    pub nut_mm: [f64; 3],
    /// Where it meets its post, `[x, y, z]` of its centre in mm.
    pub post_mm: [f64; 3],
    /// From the nut to the post, mm.
    pub free_length_mm: f64,
    /// How far it turns down at the nut, degrees.
    pub vertical_deg: f64,
    /// How far it turns aside at the nut, degrees, positive toward the treble side.
    pub sideways_deg: f64,
    /// The whole turn, degrees.
    pub total_deg: f64,
    /// Force on the nut for each newton of tension, `2·sin(total/2)`, friction not counted.
    pub nut_force_per_newton: f64,
}

type Vector = [f64; 3];

fn minus(a: Vector, b: Vector) -> Vector {
    [a[0] - b[0], a[1] - b[1], a[2] - b[2]]
}

fn dot(a: Vector, b: Vector) -> f64 {
    a[0] * b[0] + a[1] * b[1] + a[2] * b[2]
}

fn cross(a: Vector, b: Vector) -> Vector {
    [a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0]]
}

fn length(a: Vector) -> f64 {
    libm::sqrt(dot(a, a))
}

impl Neck {
    /// Each string's way over the nut to its post, bass string first.
    ///
    /// The strings lie above the board's surface at the nut by the height given, so that they follow its radius. A
    /// post on the centreline is passed on its treble side. The string comes level from the bridge along its
    /// line (a usual action changes the turn by half a degree at the most), bears at the front of the nut and leaves for
    /// the inner side of its post (the one toward the centreline), where it meets it tangentially in the
    /// plane through [`post_height`](crate::spec::Headstock::post_height) parallel to the headstock's face.
    /// Elementary statics: the nut bears the sum of both pulls.
    #[must_use]
    pub fn string_paths(&self) -> Vec<StringPath> {
        let posts = self.spec.headstock.posts.as_deref().unwrap_or_default();
        self.layout
            .strings()
            .iter()
            .zip(posts)
            .map(|(string, post)| {
                let head = &self.built.head;
                // The nut's slots follow the board's radius.
                let board = -self.layout.board().crown().sagitta(string.nut_mm.0, string.nut_mm.1);
                let height = board + self.spec.nut.string_height.mm() + 0.5 * string.gauge_mm;
                let nut = [string.nut_mm.0, string.nut_mm.1, height];
                // The plane parallel to the face in which the string meets the post: an origin, the way along
                // the face and the way out of it.
                let along = [-head.cos, 0.0, -head.sin];
                let out = [-head.sin, 0.0, head.cos];
                let lift = self.spec.headstock.post_height.mm() + 0.5 * string.gauge_mm;
                let origin = [head.root + lift * out[0], 0.0, -head.glue - head.step + lift * out[2]];
                let centre = [post.along.mm(), post.offset.mm()];
                let radius = 0.5 * (self.spec.headstock.post_diameter.mm() + string.gauge_mm);
                let from = [dot(minus(nut, origin), along), nut[1]];
                let touch = tangent_point(from, centre, radius, -centre[1]);
                let post =
                    [0, 1, 2].map(|k| origin[k] + touch[0] * along[k] + if k == 1 { touch[1] } else { 0.0 });
                self.turned(string.slope(), nut, post)
            })
            .collect()
    }

    fn turned(&self, slope: f64, nut: Vector, post: Vector) -> StringPath {
        let size = libm::hypot(1.0, slope);
        let incoming = [-1.0 / size, -slope / size, 0.0];
        let leaving = minus(post, nut);
        let free = length(leaving);
        let outgoing = leaving.map(|v| v / free);
        let total = libm::atan2(length(cross(incoming, outgoing)), dot(incoming, outgoing));
        let flat = libm::hypot(outgoing[0], outgoing[1]);
        let aside = incoming[1] * outgoing[0] - incoming[0] * outgoing[1];
        let ahead = incoming[0] * outgoing[0] + incoming[1] * outgoing[1];
        let seen = |p: Vector| [p[0], self.hand_sign() * p[1], p[2]];
        StringPath {
            nut_mm: seen(nut),
            post_mm: seen(post),
            free_length_mm: free,
            vertical_deg: libm::atan2(-outgoing[2], flat).to_degrees(),
            sideways_deg: libm::atan2(aside, ahead).to_degrees(),
            total_deg: total.to_degrees(),
            nut_force_per_newton: 2.0 * libm::sin(0.5 * total),
        }
    }
}

/// Where a line from a point touches a circle; of both places the one further toward `inward` across.
/// Posts are kept clear of the nut, so that the point lies outside the circle.
fn tangent_point(from: [f64; 2], centre: [f64; 2], radius: f64, inward: f64) -> [f64; 2] {
    let d = [centre[0] - from[0], centre[1] - from[1]];
    let square = d[0] * d[0] + d[1] * d[1];
    let tangent = (square - radius * radius).max(0.0);
    let sign = if inward < 0.0 { -1.0 } else { 1.0 };
    let (a, b) = (tangent / square, sign * radius * libm::sqrt(tangent) / square);
    // The touching point turned about `from` by the half angle under which the circle is seen.
    [from[0] + a * d[0] - b * d[1], from[1] + a * d[1] + b * d[0]]
}

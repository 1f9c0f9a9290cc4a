//! What of a neck a scan shows: by more points than strays explain.

use super::field::{FACES, OF_ENDS};
use super::fit::Fit;
use super::gather::CloudPart;
use super::motion::Vector;
use super::skin::{Skin, Touch, Zone};
use crate::inspect::robust::TUKEY;

/// Nearer to an edge than the noise reaches, and than this, a point may be of what is beyond it, mm.
const CLEAR_MM: f64 = 0.5;
/// So much of the face at its rim, and of a side at the carve line, does not show it: where the base is wider than the neck,
/// points of the sides lie over the face's rim, and the carve line is little known.
const FRINGE: f64 = 0.25;
/// So many more points on a side or the face than close beside it, and two standard deviations of those, show it: strays are no
/// denser on it.
const SHOWN: f64 = 3.0;
/// So many more where they may hold the scan along: its place is the one, of many, at which most strays lie on them.
const HOLDING: f64 = 6.0;
/// How far beside is close, in reaches of the noise; both outside and inside, so that strays are twice as many there.
const CLOSE: f64 = 3.0;

/// How far from an edge a point has to be to show its face, mm, by the noise.
pub(crate) fn clear_mm(sigma: f64) -> f64 {
    (TUKEY * sigma).min(CLEAR_MM)
}

/// How many points show a face with so many close beside it.
fn fewest(beside: usize, more: f64) -> usize {
    let strays = beside as f64;
    (more + strays + 2.0 * libm::sqrt(strays)) as usize + 1
}

/// What a scan shows of an end of the neck.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Default)]
pub(crate) enum End {
    /// None.
    #[default]
    None,
    /// The back where volute or sweep begins, which a shaft of another shape may be taken for.
    Rise,
    /// A face.
    Face,
}

/// The faces that may hold where a scan lies along the neck: how many points lie on each and close beside it.
#[derive(Clone, Copy, Debug, Default)]
pub(crate) struct Holding([[usize; 2]; FACES]);

impl Holding {
    /// One more point that lies clear of the edges of its face.
    pub fn add(&mut self, face: usize, left: f64, reach: f64) {
        let off = libm::fabs(left) / reach;
        if off < CLOSE
            && let Some(counts) = self.0.get_mut(face)
        {
            counts[usize::from(off >= 1.0)] += 1;
        }
    }

    /// What end is shown: any face of headstock, heel or the board's ends, or the back where it begins to rise to one of them. A
    /// volute runs over two parts of the grid, a sweep over one.
    pub fn end(&self) -> End {
        let any = |mut faces: core::ops::Range<usize>| faces.any(|face| self.shows(face));
        if any(0..OF_ENDS) {
            End::Face
        } else if any(OF_ENDS..OF_ENDS + 2) || self.shows(FACES - 1) {
            End::Rise
        } else {
            End::None
        }
    }

    /// Whether a face is shown.
    pub fn shows(&self, face: usize) -> bool {
        self.0.get(face).is_some_and(|[on, beside]| *on >= fewest(*beside, HOLDING))
    }
}

/// Into so many parts of its length the board is divided to tell over how much of it the scan shows a face.
const PARTS: usize = 6;
/// A face has to be shown over more than so much of the length over which the back is.
const OVER: f64 = 2.0 / 3.0;
/// Of so many points that are to be expected there is one by a chance of 0.99.
const MISSING: f64 = 4.6;
/// The back is shown in a part of the length by so many points.
const BACK_SHOWN: usize = 5;

/// The face of the board, its bass and its treble side, and the back: how many points the scan has on each and close beside it,
/// part by part of the length.
#[derive(Clone, Copy, Debug, Default)]
pub(crate) struct Shown([[[usize; 2]; PARTS]; 4]);

/// How much is shown of a face of the board.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Share {
    /// Points on it.
    pub points: usize,
    /// How many would show it.
    pub fewest: usize,
    /// Parts of the length in which it has points.
    pub parts: usize,
    /// Those in which the back has.
    pub of: usize,
    /// How many points it would have in the others if it were shown as the back is.
    pub missing: f64,
}

impl Share {
    pub fn enough(self) -> bool {
        let over = self.parts as f64 > OVER * self.of as f64;
        self.points >= self.fewest && (over || self.missing < MISSING)
    }
}

impl Shown {
    /// What a scan shows, by its pose and shape.
    pub fn of(skin: &Skin, points: &[Vector], fit: &Fit) -> Self {
        let mut shown = Self::default();
        for p in points {
            let q = fit.motion.of(*p);
            let touch = skin.touch(q);
            let left = touch.distance - fit.field.at(&touch, q);
            shown.add(skin, &touch, q, left, TUKEY * fit.sigma);
        }
        shown
    }

    /// One more point: on its part, close beside it or neither.
    pub fn add(&mut self, skin: &Skin, touch: &Touch, q: Vector, left: f64, reach: f64) {
        let part = match touch.zone {
            Zone::Face => 0,
            Zone::Wall => 1 + usize::from(touch.around > 0.0),
            Zone::Back => 3,
            _ => return,
        };
        let share = skin.along_board(q[0]);
        let off = libm::fabs(left) / reach;
        let within = touch.clear >= clear_mm(reach / TUKEY);
        let middle = match touch.zone {
            Zone::Face => touch.clear >= FRINGE * 2.0 * skin.board_half(q[0]),
            Zone::Wall => skin.down(q) <= 1.0 - FRINGE,
            _ => true,
        };
        if within && middle && off < CLOSE && (0.0..1.0).contains(&share) {
            let slot = self.0.get_mut(part).and_then(|parts| parts.get_mut((share * PARTS as f64) as usize));
            if let Some(counts) = slot {
                counts[usize::from(off >= 1.0)] += 1;
            }
        }
    }

    fn share(&self, part: usize) -> Share {
        let [own, back] = [part, 3].map(|part| self.0.get(part).copied().unwrap_or_default());
        let [points, beside] = [0, 1].map(|k| own.iter().map(|counts| counts[k]).sum::<usize>());
        let seen = |i: &usize| back.get(*i).is_some_and(|[on, _]| *on >= BACK_SHOWN);
        // Strays are twice as many beside as on it.
        let has = |i: &usize| own.get(*i).is_some_and(|[on, beside]| 2 * on > *beside);
        let backs = |parts: &dyn Fn(&usize) -> bool| {
            let of = |i: usize| back.get(i).map_or(0, |counts| counts[0]);
            (0..PARTS).filter(seen).filter(parts).map(of).sum::<usize>() as f64
        };
        Share {
            missing: points as f64 * backs(&|i| !has(i)) / backs(&|_| true).max(1.0),
            points,
            fewest: fewest(beside, SHOWN),
            parts: (0..PARTS).filter(seen).filter(has).count(),
            of: (0..PARTS).filter(seen).count(),
        }
    }

    /// The side of the board that is shown less, if it is not shown.
    pub fn lacking_side(&self) -> Option<(CloudPart, Share)> {
        let sides = [(CloudPart::BassSide, 1), (CloudPart::TrebleSide, 2)]
            .map(|(side, part)| (side, self.share(part)));
        sides.into_iter().filter(|(_, share)| !share.enough()).min_by_key(|(_, share)| share.points)
    }

    /// Whether the board's face is shown.
    pub fn face(&self) -> bool {
        self.share(0).enough()
    }

    /// Whether both of the board's sides are shown.
    pub fn sides(&self) -> bool {
        self.lacking_side().is_none()
    }
}

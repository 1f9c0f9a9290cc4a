//! The numbers of headstock, volute and heel that a builder marks and checks.

use alloc::vec::Vec;

use super::neck::Neck;
use crate::law::Law;
use crate::spec::HeadstockKind;

/// A tuner post's place.
#[derive(Clone, Copy, Debug, PartialEq, serde::Serialize)]
pub struct PostPlace {
    /// Distance along the face from the nut's headstock side, mm.
    pub along_mm: f64,
    /// Distance from the centreline, mm, with the sign of `y`.
    pub y_mm: f64,
    /// Station, mm from the nut (negative).
    pub x_mm: f64,
}

/// The headstock.
#[derive(Clone, Debug, PartialEq, serde::Serialize)]
pub struct HeadstockFacts {
    /// Angled or level.
    pub kind: HeadstockKind,
    /// How far the face is tilted, degrees.
    pub angle_deg: f64,
    /// Length along the face from the nut's headstock side, mm.
    pub length_mm: f64,
    /// What a caliper reads, square to the face, mm.
    pub thickness_mm: f64,
    /// Station where the face begins, mm.
    pub root_x_mm: f64,
    /// Station of the tip, mm.
    pub tip_x_mm: f64,
    /// Depth of the face below the crown plane at the tip, mm.
    pub tip_face_depth_mm: f64,
    /// Width at the tip, mm.
    pub tip_width_mm: f64,
    /// Depth of the back below the crown plane at the tip, mm.
    pub tip_back_depth_mm: f64,
    /// The posts, bass string first.
    pub posts: Vec<PostPlace>,
}

/// The volute.
#[derive(Clone, Copy, Debug, PartialEq, serde::Serialize)]
pub struct VoluteFacts {
    /// Height of its tip above the shaft's line, mm; 0 without a volute.
    pub height_mm: f64,
    /// Station of the tip, mm.
    pub tip_x_mm: f64,
    /// Depth of the tip below the crown plane, mm.
    pub tip_depth_mm: f64,
    /// Station where it has run out into the headstock's slab, mm.
    pub start_x_mm: f64,
    /// Station where it has run out into the shaft, mm.
    pub end_x_mm: f64,
}

/// The heel.
#[derive(Clone, Copy, Debug, PartialEq, serde::Serialize)]
pub struct HeelFacts {
    /// Station where the sweep begins, mm.
    pub start_x_mm: f64,
    /// Station where the sweep has come down to the block, mm.
    pub block_x_mm: f64,
    /// Station of the heel's end, mm.
    pub end_x_mm: f64,
    /// Depth of the block below the crown plane, mm.
    pub block_depth_mm: f64,
    /// Width of the block at its end, mm.
    pub end_width_mm: f64,
    /// Station from which nothing may touch the wood: it is glued or bolted there.
    pub glued_from_x_mm: f64,
    /// The sweep's spine is nowhere bent to a smaller radius than this, mm; proven to 1e-6 of it. `None` where it
    /// is not bent at all.
    pub least_sweep_radius_mm: Option<f64>,
}

impl Neck {
    /// The headstock's numbers.
    #[must_use]
    pub fn headstock(&self) -> HeadstockFacts {
        let head = &self.built.head;
        let (tip, sign) = (head.tip(), self.hand_sign());
        let posts = self.spec.headstock.posts.as_deref().unwrap_or_default();
        HeadstockFacts {
            kind: head.kind,
            angle_deg: if head.kind == HeadstockKind::Angled { self.spec.headstock.angle.deg() } else { 0.0 },
            length_mm: head.length,
            thickness_mm: head.thickness,
            root_x_mm: head.root,
            tip_x_mm: tip,
            tip_face_depth_mm: self.built.face.value(tip),
            tip_width_mm: self.width(tip),
            tip_back_depth_mm: self.built.back.spine.value(tip),
            posts: posts
                .iter()
                .map(|p| PostPlace {
                    along_mm: p.along.mm(),
                    y_mm: sign * p.offset.mm(),
                    x_mm: head.x(p.along.mm()),
                })
                .collect(),
        }
    }

    /// The volute's numbers.
    #[must_use]
    pub fn volute(&self) -> VoluteFacts {
        let v = &self.built.volute;
        VoluteFacts {
            height_mm: v.height,
            tip_x_mm: v.tip,
            tip_depth_mm: self.built.back.spine.value(v.tip),
            start_x_mm: v.start(),
            end_x_mm: v.end(),
        }
    }

    /// The heel's numbers.
    #[must_use]
    pub fn heel(&self) -> HeelFacts {
        let (built, sweep) = (&self.built, &self.built.sweep);
        let spine = &built.back.spine;
        let bend: Option<Law> =
            spine.restricted(sweep.start, sweep.end).and_then(|s| s.derivative()?.derivative());
        // The radius (1 + slope²)^(3/2)/|bend| is at least 1/|bend|.
        let most = bend.map_or(0.0, |b| b.greatest(1e-9).bound.max(-b.least(1e-9).bound));
        let glued = self.spec.heel.glued_from.and_then(|s| self.layout.station_mm(&s).ok());
        HeelFacts {
            start_x_mm: sweep.start,
            block_x_mm: sweep.end,
            end_x_mm: built.end,
            block_depth_mm: sweep.depth,
            end_width_mm: self.wood_width(built.end),
            glued_from_x_mm: glued.unwrap_or(sweep.end),
            least_sweep_radius_mm: (most > 1e-9).then(|| (1.0 - 1e-6) / most),
        }
    }
}

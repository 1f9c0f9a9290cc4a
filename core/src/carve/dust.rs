//! Wood dust: how each stage makes it, and the limits in the air.

use alloc::format;
use alloc::string::String;

use crate::spec::StageName;

/// The limits: IARC Monographs Vol. 62 (1995) and 100C (2012); NIOSH; OSHA; ACGIH; Directive (EU) 2017/2398.
const LIMITS: &str = "Wood dust causes cancer in humans: IARC Group 1 (Vol. 62, 1995; 100C, 2012). Limits in the air \
    breathed: NIOSH REL 1 mg/m\u{b3}; OSHA, as particulates, 15 mg/m\u{b3} total and 5 mg/m\u{b3} respirable; ACGIH \
    TLV 1 mg/m\u{b3}, western red cedar 0.5 mg/m\u{b3}; EU, hardwood dust, 2 mg/m\u{b3} (Directive (EU) 2017/2398).";

const LIMITS_DEFER: &str = "Which limit binds, and what extractor and mask keep to it, is for local rules, their manuals \
    and qualified practice to say.";

/// What to say of the dust at a stage; `None` for one that cuts nothing.
pub(super) fn dust(stage: StageName) -> Option<String> {
    made(stage).map(|lead| format!("{lead} {LIMITS} {LIMITS_DEFER}"))
}

/// How a stage makes its dust.
const fn made(stage: StageName) -> Option<&'static str> {
    Some(match stage {
        StageName::Stops => return None,
        StageName::Blank => {
            "Planers and saws throw chips that fall and dust that stays in the air: extract at the machine."
        }
        StageName::RodChannel => {
            "A cutter in a channel has nowhere to throw its dust: extract at the router."
        }
        StageName::HeadstockFace => {
            "Plane and sander may both true this face, and the sander's dust is the finest: extract, wear a mask."
        }
        StageName::Board => {
            "Work on a board makes fine dust right under the nose: extract at the bench, wear a mask."
        }
        StageName::Taper => {
            "Board and neck are sawn at once, and the dust of both falls and floats: extract above the table and below it."
        }
        StageName::Sides => {
            "Edges that are trimmed make finer dust than edges that are planed: extract at the tool."
        }
        StageName::Back => "A long, tall cut makes a heap of saw dust: extract under the table and above it.",
        StageName::HeadstockThickness => {
            "Thicknessing ends in scraping or sanding, whose dust is the fine one: extract."
        }
        StageName::Rounding => {
            "A router throws fine dust wide along the whole neck: extract at the cutter, wear a mask."
        }
        StageName::Facets => {
            "Edge tools make shavings and little dust; sweeping them up raises it: take a vacuum."
        }
        StageName::Contour => {
            "Rasps make a coarse dust that falls and a fine one that floats: the bench wants extraction."
        }
        StageName::Transitions => {
            "Rasping close work brings the face near the dust: wear a mask, and never blow a hollow clean."
        }
        StageName::Sanding => {
            "Sanding makes the finest dust of all, and the most: extract at the bench, wear a mask, wipe up damp."
        }
    })
}

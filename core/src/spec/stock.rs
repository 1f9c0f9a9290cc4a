//! The piece of timber, the tools and the allowances that a carving plan is made for.

use alloc::vec;
use alloc::vec::Vec;

use super::visit::{choice, group};
use crate::measure::{Length, Station};

choice! {
    /// How shaft and headstock are made of the timber.
    Construction {
        /// One piece from tip to heel, the headstock sawn out of its depth.
        OnePiece = "one piece",
        /// The headstock sawn off at its angle, turned over and glued under the shaft.
        Scarf = "scarf",
    }
}

choice! {
    /// How the heel's block is made.
    HeelMade {
        /// Sawn out of the blank's depth with the shaft.
        OneWithShaft = "one with the shaft",
        /// A block glued under the end of a blank that is only as thick as shaft and headstock need.
        GluedOn = "glued on",
    }
}

choice! {
    /// A step of the carving plan.
    StageName {
        /// Squaring the blank and marking the neck on it.
        Blank = "blank",
        /// The channel for the truss rod, and its pocket.
        RodChannel = "rod channel",
        /// The headstock's face: sawn and planed, or scarfed on.
        HeadstockFace = "headstock face",
        /// The board: glued on, radiused, slotted, fretted, inlaid.
        Board = "board",
        /// Sawing the taper and the headstock's outline in plan.
        Taper = "taper",
        /// Truing the side faces to the finished width.
        Sides = "sides",
        /// Sawing the back in side view, along straight lines.
        Back = "back",
        /// The headstock to its thickness.
        HeadstockThickness = "headstock thickness",
        /// Marking where every cut along the back has to stop.
        Stops = "stops",
        /// Rounding over the lower corners with a cutter.
        Rounding = "rounding",
        /// Planing facets by hand.
        Facets = "facets",
        /// Contouring the shaft to its shape, the last allowance still on.
        Contour = "contour",
        /// Rasping the volute and the heel into the shaft.
        Transitions = "transitions",
        /// Sanding through the grits.
        Sanding = "sanding",
    }
}

choice! {
    /// The shape of a cutter that is run along the lower corners of the rough shaft.
    CutterShape {
        /// Leaves a rounded corner, tangent to the side and to the back.
        QuarterRound = "quarter round",
        /// Leaves a hollow around the corner.
        Cove = "cove",
        /// Leaves a flat at 45 degrees; its radius is the width that it takes off either face.
        Chamfer = "chamfer",
        /// A ball that follows paths beside each other, each tangent to the shape.
        Ball = "ball",
    }
}

choice! {
    /// Which standard a sheet of abrasive is graded by.
    GritScale {
        /// The P grits of FEPA 43-1 and ISO 6344.
        Fepa = "FEPA",
        /// The grits of ANSI B74.18.
        Cami = "CAMI",
    }
}

group! {
    /// The heel's block, and its sizes where it is glued on.
    HeelBlockStock {
        /// Whether it is one piece with the shaft, or glued under the blank.
        made: HeelMade = HeelMade::OneWithShaft;
        /// Length of a block that is glued on, along the grain and the neck; what is needed, in whole 5 mm as far as the
        /// blank goes, where absent.
        length: Option<Length> = None,
            within 5 to 600 "mm" because "a shorter block holds no heel and a longer one is a second neck";
        /// Width of a block that is glued on; as wide as the blank where absent.
        width: Option<Length> = None,
            within 5 to 400 "mm" because "a narrower block holds no heel and a wider one is a plank";
        /// Thickness of a block that is glued on; what is needed, in whole 5 mm, where absent.
        thickness: Option<Length> = None,
            within 1 to 150 "mm" because "a thinner block is a veneer and a thicker one comes out of every body";
    }
}

group! {
    /// The blank of the fretboard.
    BoardStock {
        /// Whether it is on the neck already, with the rod's channel cut before.
        glued: bool = false;
        /// Length of the blank; the finished length and 10 mm where absent: 5 mm at each end, or at the far end what the
        /// headstock's face leaves no room for behind the nut.
        length: Option<Length> = None,
            within 100 to 1500 "mm" because "a shorter blank is no fretboard and no neck needs a longer one";
        /// Width of the blank; as much as the sawn taper needs, in whole 5 mm, where absent.
        width: Option<Length> = None,
            within 15 to 200 "mm" because "a narrower blank is no fretboard and no neck needs a wider one";
        /// Thickness of the blank; the finished thickness where absent.
        thickness: Option<Length> = None,
            within 2 to 30 "mm" because "a thinner blank is no fretboard and no neck needs a thicker one";
    }
}

group! {
    /// How much wood the cuts leave for those that come after.
    Allowances {
        /// Wood that the saw leaves outside the finished back, square to its line.
        saw: Length = Length::from_mm(1.5),
            within 0 to 20 "mm" because "a cut never lies inside the finished neck, and more is no allowance but a blank";
        /// Wood that the saw leaves outside either finished edge in plan.
        taper: Length = Length::from_mm(1.0),
            within 0 to 20 "mm" because "a cut never lies inside the finished neck, and more is no allowance but a blank";
        /// Wood that is left on the headstock's back for sanding, square to its face.
        headstock: Length = Length::from_mm(0.4),
            within 0 to 10 "mm" because "a cut never lies inside the finished neck, and more is no sanding";
        /// Wood that cutter and facets leave: a cutter's along the spine, running out to nothing at the carve line, a
        /// facet's square to it.
        shaping: Length = Length::from_mm(0.8),
            within 0 to 10 "mm" because "a cut never lies inside the finished neck, and more is no shaping";
        /// Wood that contouring leaves along the spine, running out to nothing at the carve line; what the grits take
        /// off together where absent.
        contour: Option<Length> = None,
            within 0 to 5 "mm" because "a cut never lies inside the finished neck, and more is no sanding";
        /// How far from the volute's end and the heel's start every cut along the shaft stops.
        stops: Length = Length::from_mm(4.0),
            within 0 to 100 "mm" because "a cut stops on the shaft, and one that stops sooner leaves the shaft to the rasp";
    }
}

group! {
    /// Depth of a saw's line below the board's crown.
    LineAt {
        /// Where along the neck.
        at: Station = Station::NUT, required because "a measure means nothing without its place";
        /// Depth of the line there.
        depth: Length = Length::from_mm(24.0),
            within 5 to 160 "mm" because "a shallower line is inside every neck and a deeper one below every blank",
            required because "a station without a depth says nothing";
    }
}

group! {
    /// The saw, and the lines that the builder would rather choose than have found.
    Saw {
        /// Width of the cut; it lies on the waste side of the line.
        kerf: Length = Length::from_mm(1.0),
            within 0 to 8 "mm" because "a cut has a width, and a wider one is no saw's";
        /// The line along the back of the shaft: one depth for a line parallel to the board, two for a slanted one. The
        /// closest line that leaves the allowance where absent.
        shaft_line: Option<Vec<LineAt>> = None,
            size 1 to 2 because "one depth or two make a straight line";
        /// Thickness of the headstock as sawn, square to its face; the finished one and the saw's allowance where absent.
        headstock_thickness: Option<Length> = None,
            within 6 to 80 "mm" because "a thinner headstock breaks and a thicker one finds no stock";
    }
}

group! {
    /// The cutter that rounds over the lower corners of the rough shaft.
    Cutter {
        /// Its shape.
        shape: CutterShape = CutterShape::QuarterRound;
        /// Its radius; the largest that is safe everywhere, in whole half millimetres, where absent.
        radius: Option<Length> = None,
            within 0.5 to 60 "mm" because "a smaller cutter rounds nothing and no larger one is made for a hand-held router";
        /// Diameter of the bearing that guides it along the side face; a ball has none.
        bearing: Length = Length::from_mm(12.7),
            within 2 to 60 "mm" because "a smaller bearing breaks and a larger one follows no edge";
        /// How many paths a ball follows on either side.
        paths: u32 = 8,
            within 2 to 64 "" because "one path shapes nothing and no builder stays for more than 64";
    }
}

group! {
    /// The facets of the hand method.
    FacetRounds {
        /// How many rounds: the first at 45 degrees, each further one between all that are there.
        rounds: u32 = 2,
            within 0 to 5 "" because "0 planes none, and after 5 rounds a facet is narrower than a rasp's stroke";
        /// A facet is planed as one plane where that leaves no more than this over one that follows the back.
        straight_within: Length = Length::from_mm(0.3),
            within 0 to 5 "mm" because "0 follows the back everywhere, and more wood than this is not left by facets";
    }
}

group! {
    /// The grits, and what their scratches are taken to be.
    Grits {
        /// The standard that the grits are graded by.
        scale: GritScale = GritScale::Fepa;
        /// The grits, from the coarsest on.
        grits: Vec<u32> = vec![60, 80, 100, 120, 150, 220],
            within 24 to 400 "" because "a coarser grit is for floors and a finer one for finishes",
            size 1 to 12 because "sanding takes a grit, and each of 12 has to be half as fine again";
        /// Depth of a scratch as a share of the mean size of the grain that made it.
        scratch_share: f64 = 0.3,
            within 0.05 to 1 "" because "a grain bites, and not deeper than it is thick";
        /// Depth of the marks that rasp and scraper leave for the first grit.
        tool_marks: Length = Length::from_mm(0.1),
            within 0 to 2 "mm" because "0 is a surface without marks, and deeper ones are taken off with the tool that made them";
    }
}

group! {
    /// The piece of timber, the tools and the allowances that a carving plan is made for. Every field has a default.
    Stock {
        /// The format this document is written in.
        format: u32 = 1,
            within 1 to 1 "" because "formats are numbered from 1";
        /// How shaft and headstock are made of the timber.
        construction: Construction = Construction::OnePiece;
        /// Length of the blank; what is needed, in whole 5 mm, where absent.
        length: Option<Length> = None,
            within 100 to 3000 "mm" because "a shorter blank holds no neck and a longer one is a plank";
        /// Width of the blank; what is needed, in whole 5 mm, where absent.
        width: Option<Length> = None,
            within 15 to 400 "mm" because "a narrower blank holds no neck and a wider one is a plank";
        /// Thickness of the blank; what is needed where absent: in whole 5 mm, or to a tenth where a scarf or a heel's block
        /// that is glued on takes no such blank.
        thickness: Option<Length> = None,
            within 8 to 200 "mm" because "a thinner blank holds no neck and a thicker one no saw passes";
        /// The heel's block: one with the shaft, or glued on.
        heel_block: HeelBlockStock = HeelBlockStock::default();
        /// The blank of the fretboard.
        board: BoardStock = BoardStock::default();
        /// How much wood the cuts leave.
        allowances: Allowances = Allowances::default();
        /// The saw.
        saw: Saw = Saw::default();
        /// The cutter.
        cutter: Cutter = Cutter::default();
        /// The facets.
        facets: FacetRounds = FacetRounds::default();
        /// The grits.
        sanding: Grits = Grits::default();
        /// The steps in the order in which they are done; the usual order where absent. "rounding", "facets" and "stops"
        /// may be left out.
        order: Option<Vec<StageName>> = None,
            size 1 to 14 because "there are 14 steps, each done once";
    }
}

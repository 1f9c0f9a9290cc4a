//! What the solids of a neck have, and how fine their meshes are.

use super::options::options;
use super::visit::group;
use crate::measure::Length;

group! {
    /// What the solids of a neck have.
    SolidOptions {
        /// The format this document is written in.
        format: u32 = 1,
            within 1 to 1 "" because "formats are numbered from 1";
        /// Whether the fret slots are sawn into the board.
        slots: bool = true;
        /// How far surfaces may lie off the neck for them to be of degree 3 along; without it they are the neck's own, of whatever
        /// degree that takes.
        cubic_within: Option<Length> = None,
            within 1e-6 to 0.1 "mm" because "less takes more pieces than it is worth, and more is seen";
    }
}

options!(
    SolidOptions,
    name: "solids' options",
    subject: "solids of a neck",
    title: "What the solids of a neck have",
    example: "slots"
);

group! {
    /// How fine a mesh is.
    MeshOptions {
        /// The format this document is written in.
        format: u32 = 1,
            within 1 to 1 "" because "formats are numbered from 1";
        /// How far the triangles may lie off the surface.
        chord: Length = Length::from_mm(0.02),
            within 0.0005 to 5.0 "mm" because "less takes millions of triangles, and more shows no neck";
    }
}

options!(
    MeshOptions,
    name: "mesh options",
    subject: "mesh of a solid",
    title: "How fine a mesh is",
    example: "chord"
);

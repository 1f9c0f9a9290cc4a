//! What writes itself by hand in the core: fields that serde is told one by one.

/// Name, type in Python and documentation of each field.
pub type ByHand = &'static [(&'static str, &'static str, &'static str)];

/// Each by its name. Of fields that may be left out the type says so.
pub const BY_HAND: &[(&str, &str, ByHand)] = &[
    (
        "Board",
        "The fretboard.",
        &[
            ("start_mm", "float", "Its first station, mm."),
            ("end_mm", "float", "Its last station, mm."),
            ("nut_ends_mm", "tuple[float, float]", "Where the nut's line meets its edges, mm."),
            ("thickness_mm", "float", "Its thickness on the centreline, mm."),
            ("binding_mm", "float", "Thickness of its binding, mm; 0 without one."),
            (
                "widths_mm",
                "tuple[tuple[float, float], ...]",
                "Stations and widths, edge to edge, mm; straight in between.",
            ),
            (
                "radius_at_nut_mm",
                "float | None",
                "The face's radius at the nut, mm; ``None`` for a flat board.",
            ),
            ("radius_growth", "float | None", "By how much the radius grows with each mm of the station."),
            ("least_edge_thickness_mm", "float", "Least thickness of its edge, mm."),
            ("least_edge_thickness_at_mm", "float", "The station where that is, mm."),
        ],
    ),
    (
        "BoundRow",
        "One field of a document: what it takes, its bounds and its default.",
        &[
            (
                "path",
                "str",
                "The field's path, such as ``nut.width`` or, for each entry of a list, ``shaft.thickness[].at``.",
            ),
            ("takes", "str", "What it takes: a length, an angle, a station, a number and so on."),
            ("unit", "str", "Unit of the bounds; empty where it has none."),
            ("lowest", "float | None", "Lowest value allowed."),
            ("highest", "float | None", "Highest value allowed."),
            (
                "default",
                "str",
                "The default as JSON; ``absent`` where it is worked out from the rest or not needed.",
            ),
            ("why", "str", "Why the bounds are there; empty where there are none."),
            ("doc", "str", "What it is."),
        ],
    ),
    (
        "KnownShape",
        "A shape of the back as the trade calls it, and the fullness that it stands for.",
        &[
            ("shape", "Shape", "Its name."),
            ("shoulder", "float", "How far the section keeps out beside the carve line, of 1."),
            ("belly", "float", "How flat it is about the spine, of 1."),
            ("lean", "float", "How far it leans in beside the carve line, of 1."),
        ],
    ),
    (
        "KnownWood",
        "A wood whose usual density is known.",
        &[("species", "str", "Its name."), ("density_kg_m3", "float | None", "Its usual density, kg/m³.")],
    ),
    (
        "Sixtyfourths",
        "A length in 64ths of an inch.",
        &[
            ("text", "str", "As it is marked, such as ``1 11/16 in``."),
            ("mm", "float", "The same, mm."),
            ("error_mm", "float", "By how much it is longer than the length that was given, mm."),
        ],
    ),
    (
        "Cut",
        "One straight-sided cut for the rod, from the top of the neck wood down to a floor.",
        &[
            ("reach_mm", "tuple[float, float]", "The stations it covers, first and last, mm from the nut."),
            ("half_width_mm", "float", "Half its width, mm; it lies evenly on both sides of the centreline."),
            (
                "floor_depth_mm",
                "Law",
                "Depth of its floor below the crown plane, mm, over the stations it covers.",
            ),
        ],
    ),
    (
        "Forbidden",
        "A limit that forbids mending.",
        &[
            ("limit", "Limit", "Which."),
            ("x_mm", "float", "The station where it binds hardest, mm from the nut."),
            ("by", "float", "The least by which it would have to give way, in its unit."),
            ("unit", "str", "Its unit."),
            (
                "alone",
                "bool",
                "Whether that would do by itself; where not, all that are named have to give way together.",
            ),
            ("asked_by", "tuple[Asking, ...]", "The readings of the low places that ask for it."),
            ("sentence", "str", "The same in words."),
        ],
    ),
    (
        "Law",
        "A law of the position along the neck: a continuous piecewise polynomial in Bernstein form.",
        &[
            ("breaks_mm", "tuple[float, ...]", "The stations of its joints, first to last, mm from the nut."),
            (
                "coefs",
                "tuple[tuple[float, ...], ...]",
                "The Bernstein coefficients of each piece between them, in the unit of what it is the law of.",
            ),
        ],
    ),
    (
        "Measured",
        "What an instrument was held to.",
        &[
            ("quantity", "Quantity", "The quantity."),
            ("side", "Side | None", "On which side, of a carve line."),
            (
                "across_mm",
                "float | None",
                "Of a point: its distance from the centreline, mm, positive toward the treble side.",
            ),
        ],
    ),
    (
        "Reading",
        "One reading.",
        &[
            ("at", "float | str", "Where along the neck: mm from the nut, or a text such as ``fret 5``."),
            ("quantity", "Quantity", "What of it."),
            ("value", "float", "What the instrument showed, mm; of a point its depth below the crown plane."),
            ("side", "Side | None", "On which side, of a carve line."),
            ("across", "float | None", "Of a point: its distance from the centreline, mm."),
            (
                "uncertainty",
                "float",
                "Its standard uncertainty, mm: one standard deviation (JCGM 100:2008, 2.3.1).",
            ),
        ],
    ),
    (
        "Readings",
        "Readings of instruments, as their document has them.",
        &[
            ("format", "int", "The format of the document."),
            ("name", "str | None", "What they are called, where they have a name."),
            ("readings", "tuple[Reading, ...]", "The readings."),
        ],
    ),
];

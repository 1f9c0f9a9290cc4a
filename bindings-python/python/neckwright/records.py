"""Records: what the library tells, field by field, as named tuples.

Generated from the library's sources by ``REGENERATE=1 cargo test -p neckwright-sources``; names, units and words are
those of its Rust documentation. Records can't be changed; they compare, hash and pickle by their fields, and a list of
them is a table for pandas and polars.
"""

from __future__ import annotations

import sys
from typing import TYPE_CHECKING, Any, Generic, Literal, NamedTuple, TypeAlias, TypeVar

T = TypeVar("T")

BenchUnit: TypeAlias = Literal["mm", "in"]
Block: TypeAlias = Literal["hard", "faced", "flexible", "round", "rest"]
CloudHand: TypeAlias = Literal["either", "as base"]
CloudPart: TypeAlias = Literal[
    "face",
    "bass_side",
    "treble_side",
    "back",
    "headstock_face",
    "headstock_back",
    "heel_back",
]
Construction: TypeAlias = Literal["one piece", "scarf"]
Curve: TypeAlias = Literal["monotone", "spline"]
CutterShape: TypeAlias = Literal["quarter round", "cove", "chamfer", "ball"]
Datum: TypeAlias = Literal[
    "board_top",
    "board_edge",
    "blank_top",
    "blank_end",
    "blank_heel_end",
    "centreline",
    "headstock_face",
    "face_start",
    "nut",
]
DrawingUnit: TypeAlias = Literal["mm", "in"]
Face: TypeAlias = Literal[
    "top",
    "bass_side",
    "treble_side",
    "both_sides",
    "back",
    "beside",
    "headstock_face",
    "headstock_sides",
]
FindingKind: TypeAlias = Literal["low", "flat", "hollow", "bump"]
FretRule: TypeAlias = Literal["equal", "eighteen", "table"]
GritScale: TypeAlias = Literal["FEPA", "CAMI"]
Hand: TypeAlias = Literal["right", "left"]
HeadstockKind: TypeAlias = Literal["angled", "level"]
HeelMade: TypeAlias = Literal["one with the shaft", "glued on"]
Instrument: TypeAlias = Literal["caliper", "rule", "tape", "radius_gauge", "contour_gauge", "scan"]
Judging: TypeAlias = Literal["judged", "never", "always"]
KnotChoice: TypeAlias = Literal["readings", "base", "fewest"]
Limit: TypeAlias = Literal[
    "rise_toward_nut",
    "spine_radius",
    "carve_radius",
    "least_thickness",
    "rod_wall",
    "convex",
    "carve_line",
    "shape",
    "heel",
    "string_margin",
    "least_width",
    "fixed_part",
]
PaperSize: TypeAlias = Literal["a4", "letter", "as_drawn"]
Part: TypeAlias = Literal["fretboard", "neck_wood", "channel"]
Quantity: TypeAlias = Literal["thickness", "width", "girth", "carve line", "point", "radius"]
Shape: TypeAlias = Literal["C", "D", "U", "V", "soft V"]
Side: TypeAlias = Literal["bass", "treble"]
Spacing: TypeAlias = Literal["even_gaps", "even_centres"]
StageName: TypeAlias = Literal[
    "blank",
    "rod channel",
    "headstock face",
    "board",
    "taper",
    "sides",
    "back",
    "headstock thickness",
    "stops",
    "rounding",
    "facets",
    "contour",
    "transitions",
    "sanding",
]
Surface: TypeAlias = Literal[
    "spine",
    "shoulder",
    "carve_line",
    "side_face",
    "board_edge",
    "board_face",
    "headstock_face",
    "headstock_corner",
    "headstock_edge",
    "headstock_back",
    "heel",
]
Topic: TypeAlias = Literal[
    "blade",
    "cutter",
    "climb_cut",
    "sander",
    "work_holding",
    "chip_out",
    "stop_line",
    "rod_channel",
    "glue",
    "fret_wire",
    "inlay",
    "dust",
    "sensitising",
    "protected",
]
Verdict: TypeAlias = Literal["still_on", "too_low", "unsure", "unread"]
Waste: TypeAlias = Literal["greater", "less"]
Zone: TypeAlias = Literal[
    "headstock_face",
    "headstock_back",
    "sides",
    "shaft_back",
    "volute",
    "transition",
    "heel_sweep",
    "heel_block",
]


class Asking(NamedTuple):
    """A reading of a low place that asks for more than a limit leaves."""

    index: int  # type: ignore[assignment]
    """Which of the readings given, by its place among them, from 0."""
    number: int
    """Its number: its place in the list that the readings given were picked from."""
    line: int
    """Its line in the document that it came from; 0 where it came from none."""
    x_mm: float
    """Its station, mm from the nut."""


class BadEntry(NamedTuple):
    """Where a bad reading stands."""

    line: int
    """The line of the text, counted from 1; 0 where it was made in code."""
    entry: int
    """Its number among the readings, counted from 0. Blank lines, comments and the header are none."""


class Bend(NamedTuple):
    """The place on a section's back that is bent most or least."""

    curvature_per_mm: float
    """Curvature there, in 1/mm; positive where the back is rounded outward."""
    side: Side
    """Which side of the spine it is on."""
    at_mm: tuple[float, float]
    """The place, ``[y, z]`` in mm."""


class Board(NamedTuple):
    """The fretboard."""

    start_mm: float
    """Its first station, mm."""
    end_mm: float
    """Its last station, mm."""
    nut_ends_mm: tuple[float, float]
    """Where the nut's line meets its edges, mm."""
    thickness_mm: float
    """Its thickness on the centreline, mm."""
    binding_mm: float
    """Thickness of its binding, mm; 0 without one."""
    widths_mm: tuple[tuple[float, float], ...]
    """Stations and widths, edge to edge, mm; straight in between."""
    radius_at_nut_mm: float | None
    """The face's radius at the nut, mm; ``None`` for a flat board."""
    radius_growth: float | None
    """By how much the radius grows with each mm of the station."""
    least_edge_thickness_mm: float
    """Least thickness of its edge, mm."""
    least_edge_thickness_at_mm: float
    """The station where that is, mm."""


class BoundRow(NamedTuple):
    """One field of a document: what it takes, its bounds and its default."""

    path: str
    """The field's path, such as ``nut.width`` or, for each entry of a list, ``shaft.thickness[].at``."""
    takes: str
    """What it takes: a length, an angle, a station, a number and so on."""
    unit: str
    """Unit of the bounds; empty where it has none."""
    lowest: float | None
    """Lowest value allowed."""
    highest: float | None
    """Highest value allowed."""
    default: str
    """The default as JSON; ``absent`` where it is worked out from the rest or not needed."""
    why: str
    """Why the bounds are there; empty where there are none."""
    doc: str
    """What it is."""


class Bounds(NamedTuple):
    """A box: least and greatest coordinate along each axis."""

    x_mm: tuple[float, float]
    """Along the neck, mm."""
    y_mm: tuple[float, float]
    """Across it, mm."""
    z_mm: tuple[float, float]
    """Out of the fretboard, mm."""


class CaliperRow(NamedTuple):
    """One row of the caliper card."""

    fret: int
    """Number of the fret; 0 is the nut."""
    x_mm: float
    """Its station on the centreline, mm from the nut."""
    width_mm: float
    """Width, board edge to board edge, mm."""
    thickness_mm: float
    """Thickness from the board's crown to the spine, frets not counted, mm."""
    girth_mm: float
    """A tape around the back from one top edge of the board to the other, mm."""
    carve_line_mm: Sides[float]
    """Depth of the carve line below the crown plane on either side, mm."""
    rod_wall_mm: float | None
    """Least wood between the rod's channel and the outside, mm; ``None`` where nothing is cut."""


class Caution(NamedTuple):
    """One caution of a stage."""

    topic: Topic
    """What it is about."""
    words: str
    """What to mind: a few sentences."""


class Cell(NamedTuple):
    """What is left at one place."""

    left_mm: float
    """Wood over the target, square to the surface, mm; negative where it lies too low."""
    uncertainty_mm: float
    """Its standard uncertainty, mm. Spread and lengths are read off the readings and then taken as known: of wood
    that is as the map takes it for granted the cells are off by 1.1 times as much where it was read, by 1.2 times
    as much where it was not; of smoother wood by less than is told.
    """
    verdict: Verdict
    """What the two say of the wood."""


class Check(NamedTuple):
    """A reading to check before going on."""

    what: str
    """What is measured, and with what."""
    x_mm: float | None
    """Station, mm from the nut; ``None`` where the check belongs to no station."""
    place: str
    """The station in words, empty without one."""
    reads_mm: float | None
    """What the instrument should read, mm; ``None`` for a check by eye."""


class Clearance(NamedTuple):
    """The least clearance of a cut, proven, and the place on the neck where it is."""

    least: LeastValue
    """The least clearance, where along the neck, and what is proven."""
    at_mm: tuple[float, float]
    """The place ``[y, z]`` on the section there, mm."""
    needed_mm: float
    """How much there has to be, mm."""


class ComparedRow(NamedTuple):
    """Two necks at one fret. Differences are the neck's that was asked less the other's, mm."""

    fret: int
    """Number of the fret; 0 is the nut."""
    x_mm: float
    """Its station on the centreline of the neck that was asked, mm from the nut; both are measured there."""
    greatest: Difference
    """The greatest difference in this section."""
    thickness_mm: float
    """Thickness."""
    width_mm: float
    """Width."""
    girth_mm: float
    """Girth."""
    carve_line_mm: Sides[float]
    """Depth of the carve line on either side."""


class Comparison(NamedTuple):
    """One neck held against another, each in its own frame, so that nut and centreline of both coincide; a
    left-handed neck is seen in the mirror.

    In every section that both have, each point's distance is taken to the same part of the other neck, both ways,
    and the greatest of all told (the Hausdorff distance of two sets; Rockafellar & Wets, *Variational Analysis*,
    1998, 4.C, from memory):

    - the back, from one carve line to the other (above the glue line too where no board lies), and what of a flat
    side lies deeper than the other's carve line: to the other's back and its flat sides, these carried straight
    on upward; - side faces to side faces and edges to edges, point to point; - faces to faces, over the width
    that both have.

    Where no carve line lies above the other neck's top edge, which is so on every usual neck, whole outlines of
    sections are no further apart than the greatest of that. Where the necks end differently is told by ``ends``.

    All differences are this neck's measure less the other's: positive where this one stands further out, is
    longer or thicker.
    """

    greatest: Difference
    """The greatest of all parts."""
    back: Difference
    """The back, from one carve line around the spine to the other."""
    side_faces: Difference | None
    """The side faces of shaft and heel, square to the centreline."""
    board_face: Difference | None
    """The board's face, square to itself."""
    board_edges: Difference | None
    """The board's top edges, point to point."""
    headstock_face: Difference | None
    """The headstock's face, square to the crown line."""
    headstock_edges: Difference | None
    """The headstock's edges, square to the centreline, and their upper corners, point to point."""
    ends: Ends
    """Where the parts begin and end."""
    rod: RodDifference
    """The rod's channel and its access pocket."""
    frets: FretDifference | None
    """The fret that lies furthest from its place on the other neck; none where no fret is on both."""
    rows: tuple[ComparedRow, ...]
    """By fret: at every fret of this neck where both have wood and board."""


class Copied(NamedTuple):
    """A neck copied from readings."""

    specification: dict[str, Any]
    """The specification; it makes a neck."""
    numbers: tuple[Number, ...]
    """Every number of which the readings tell something, in the order of the document."""
    kept: tuple[Kept, ...]
    """The numbers of the same fields that no reading tells."""
    moved: tuple[Kept, ...]
    """The thicknesses of the base that went along with the one or two that the readings tell, as they are now, and
    how far off that line the neck's may be: as much as necks differ, but no more than readings around them leave.
    How far off the line itself may be is not in it; see ``thickness_uncertainty_mm``.
    """
    covariance: tuple[float, ...]
    """Covariance of ``numbers``, row by row, in their units."""
    residuals: tuple[Residual, ...]
    """What is left of every reading that was used, in the order given."""
    unused: tuple[Unused, ...]
    """The readings that were of no use, in the order given."""
    chi2: float
    """Sum of the squares of what is left, each over its reading's uncertainty, and of how far the numbers that the
    base has a say in are off the base's, each over how much necks differ in it.
    """
    degrees_of_freedom: int
    """Readings used less numbers that they alone tell."""
    p_value: float | None
    """The chance that readings of these uncertainties scatter as much or more: a small one says that they scatter
    more than their uncertainties say, or that the neck is not one of this sort. ``None`` where nothing is left
    over, or where far-off readings counted less: then see ``misfit``. Too small rather than too great where there
    was a ``pull`` of more than 1, as the sum of squares then is not the least there is.
    """
    misfit: float | None
    """How far the readings scatter, in their uncertainties: the median size of what is left of them,
    ``standardised``, over that of a standard normal number; of those that others check (``Residual::unchecked``),
    ``None`` where none is. About 1 where readings and neck are as they are said to be; far-off readings hardly
    change it. Of a robust fit, which has no chance to tell, look here: 2 or more says that the neck is not one of
    this sort, or that the uncertainties are too small, and then the uncertainties told do not hold.
    """
    pull: float | None
    """Where numbers that make no neck were nearest to the readings: how many times as sharp the base's values
    counted as they are, in every number, so that there was a neck, 1 to 8. ``None``: they had no more say than
    they should. The uncertainties told are those of the fit that was made so.
    """
    steps: int
    """Steps that the fit took."""


class CopiedCloud(NamedTuple):
    """A neck copied from its scan: its specification, and how the scan lies to it and stands off it."""

    placed: PlacedCloud
    """The scan on the copied neck: what its points stand off it is what no neck of this sort explains."""
    copied: Copied
    """The copy, from ``readings``."""
    readings: Readings
    """The readings that the copy was made from, which its ``residuals`` and ``unused`` number: those of the
    placement before, on which the last pose was fitted to the copy, less what stray points made. Those of
    ``placed`` are the same points' on that last pose.
    """


class Cut(NamedTuple):
    """One straight-sided cut for the rod, from the top of the neck wood down to a floor."""

    reach_mm: tuple[float, float]
    """The stations it covers, first and last, mm from the nut."""
    half_width_mm: float
    """Half its width, mm; it lies evenly on both sides of the centreline."""
    floor_depth_mm: Law
    """Depth of its floor below the crown plane, mm, over the stations it covers."""


class CutDifference(NamedTuple):
    """One cut for the rod against another's: the first neck's measure less the second's, mm."""

    start_mm: float
    """Its beginning, toward the bridge."""
    end_mm: float
    """Its end, toward the bridge."""
    width_mm: float
    """Its width."""
    depth_mm: float
    """The depth of its floor below the crown plane, where that differs most: within 1e-6 of the greatest there is. 0
    where the two have no station in common.
    """
    depth_at_mm: float
    """The station of that."""


class CutterFacts(NamedTuple):
    """A cutter and what it does."""

    shape: CutterShape
    """Its shape."""
    radius_mm: float
    """Its radius (for a chamfer the width that it takes off either face), mm."""
    largest_mm: float | None
    """The largest radius that is safe over the whole run, mm. A ball's is the radius of the sharpest hollow of the
    back, looked for along and around, and ``None`` on a back without one, which a ball of any size touches in one
    place.
    """
    largest_x_mm: float
    """Where that limit comes from, mm from the nut."""
    largest_side: Side
    """On which side."""
    run_mm: tuple[float, float]
    """Where the cutter's axis is set in and lifted out, mm from the nut: as far from the stops as its rim reaches.
    Of a ball the first and the last station that it touches; its centres lie beyond them on a back that rises or
    falls, and their rims too stay between the stops.
    """
    rows: tuple[CutterRow, ...]
    """What it leaves standing at the marked stations."""
    paths: tuple[CutterPath, ...]
    """Its paths."""


class CutterPath(NamedTuple):
    """The path of a cutter along one side, mm: ``[x, y, z]`` in the neck's frame, on its own hand. A guided cutter's
    is that of its axis, upright on the back, where it meets the plane of the sawn back; a ball's that of its
    centre.
    """

    side: Side
    """The side that it runs along."""
    around: float | None
    """For a ball, the place around the section that it touches: 0 at the carve line, 1 at the spine; ``None`` for
    cutters that are guided by the faces.
    """
    points_mm: tuple[tuple[float, float, float], ...]
    """Points of the path from the headstock's end to the heel's, those over the marked stations among them, no
    further apart than 2 mm along the neck.
    """


class CutterRow(NamedTuple):
    """What a cutter leaves standing in one section."""

    x_mm: float
    """Station, mm from the nut."""
    place: str
    """The station in words."""
    largest_mm: Sides[float | None]
    """The largest radius that is safe at this station on either side, mm; of a ball ``None`` where the back is
    hollow in no direction.
    """
    left_mm: Sides[tuple[float, float, float, float, float]]
    """Wood that is left over the finished back, square to it, at the carve line, a quarter, half and three quarters
    of the way around, and at the spine, mm.
    """


class Departure(NamedTuple):
    """A place where the scanned surface stands off the neck by more than the noise of its points tells."""

    station_mm: float
    """Station, mm."""
    part: CloudPart
    """The part of the outside."""
    across_mm: float
    """Where across, mm from the centreline, positive toward the treble side."""
    departure_mm: float
    """How far the scanned surface stands outside of the neck, square to it, mm; negative inside."""
    uncertainty_mm: float
    """Its standard uncertainty from the noise of the points and from the pose's uncertainty, mm."""
    points: int
    """How many points tell it."""


class Details(NamedTuple):
    """What only some stages have."""

    kind: Literal["none", "timber", "sawing", "cutter", "facets", "targets", "templates", "sanding"]
    """Which of them."""
    facts: None | TimberFacts | tuple[SawLine, ...] | CutterFacts | FacetFacts | Targets | tuple[Template, ...] | SandingPlan
    """What comes with it."""


class Deviation(NamedTuple):
    """A reading less what it should be."""

    mm: float
    """Positive where wood is still standing, negative where too much is gone, mm. Of a point: its distance from the
    outline of the section, square to it, positive outside.
    """
    uncertainty_mm: float
    """Its standard uncertainty, mm: the reading's own. Of a point that is taken to be as large in every direction."""


class Difference(NamedTuple):
    """A greatest difference between two necks over a part of their surface."""

    difference_mm: float
    """The distance, mm, in the plane of the section: really taken at this place, positive where the neck that was
    asked stands further out there than the other and negative where the other does.
    """
    proven_mm: float
    """Proven: nowhere on this part are the necks further apart, mm. Never below the size of ``difference_mm``, and
    within 1e-6 of it unless the search was given up.
    """
    x_mm: float
    """Station of the place, mm from the nut."""
    nearest_fret: int | None
    """The nearest fret of the neck that was asked; none behind the nut or beyond what its temperament tells."""
    surface: Surface
    """What the place lies on."""
    side: Side
    """The side; where both sides differ alike the bass side."""
    across_mm: float
    """Distance of the place from the centreline, mm, positive toward the treble side on either hand."""
    depth_mm: float
    """Its depth below the crown plane, mm."""


class Doubt(NamedTuple):
    """Two readings that contradict each other.

    Thicknesses and points next to the spine tell of the spine; two widths, two girths and two carve lines of one
    side tell of the same thing too. Two such readings no more than 2 mm apart along the neck contradict each
    other where their deviations from the finished neck differ by more than 6 of their combined standard
    uncertainties (the root of the sum of both squares: JCGM 100:2008, 5.1.2) and a third of the way from one to
    the other besides: steeper no wood is left from spot to spot (common practice, no source), but where the stage
    that they are held against steps itself: readings on either side of such a step contradict nothing across it.
    Points tell of the spine within 0.15 of the carved side's length from it where the surface is level to some
    18°. Of a crowd each is held against the 32 before it.

    A reading that is wrong contradicts all that are right, and takes one with it: of those before it the one that
    it contradicts the most, or, where it comes before them, the first of them. Of the others those are in doubt
    too, each in a pair with the one in doubt that it contradicts the most, that no reading within 2 mm bears out
    to 3 of their combined standard uncertainties: where all say something else none is the right one.
    """

    readings: tuple[int, int]
    """Which readings, in the order given, from 0."""
    lines: tuple[int, int]
    """The lines of the text they stood in; 0 where they were made in code."""
    x_mm: float
    """The first one's station, mm from the nut."""
    apart: Deviation
    """How far apart their deviations lie, mm, and the combined standard uncertainty of that."""


class Ends(NamedTuple):
    """By how much the parts of one neck lie further toward the bridge than another's, mm."""

    tip_mm: float
    """The headstock's tip."""
    root_mm: float
    """Where the headstock's face begins."""
    volute_mm: float
    """The volute's tip."""
    heel_start_mm: float
    """Where the heel begins."""
    heel_end_mm: float
    """The end of the neck wood."""
    board_end_mm: float
    """The board's end."""
    board_thickness_mm: float
    """By how much the board is thicker."""


class FaceMarker(NamedTuple):
    """Marker in the board's face, midway along the centreline between its fret and the one before it."""

    fret: int
    """The fret it stands before."""
    double: bool
    """Whether it is two dots: at every octave."""
    x_mm: float
    """Its station."""
    y_mm: float
    """Distance of its dots from the centreline, mm: 0 for one, a quarter of the board's width there, to either side,
    for two. Common practice, no source.
    """


class Facet(NamedTuple):
    """One facet."""

    round: int
    """The round in which it is planed, from 1."""
    side: Side
    """The side that it is on."""
    angle_deg: float
    """Angle between the facet and the side face, degrees: 90 is the back itself, 45 the first facet beside it."""
    straight: bool
    """Whether it is planed as one plane, along a straight edge."""
    height: Straight | None
    """For a straight facet its distance from the crown's centre, measured square to it in each section, over the
    run.
    """
    over_mm: float
    """The most that a straight facet leaves over one that follows the back, mm."""
    marks: tuple[FacetMarks, ...]
    """Its edges at the marked stations, all along the run, and where it runs out between two of them. Right where a
    cutter was set in or lifted out there are two: of the corner that is square still and of the one that the
    cutter has shaped.
    """


class FacetFacts(NamedTuple):
    """The facets of all rounds."""

    allowance_mm: float
    """Wood that every facet leaves over the finished back, square to it, mm."""
    run_mm: tuple[float, float]
    """First and last station of the run, mm from the nut."""
    facets: tuple[Facet, ...]
    """The facets, round by round."""
    most_left_mm: float
    """The most wood that is left anywhere on the run, at an edge between two facets, square to the finished back,
    mm; a cutter that went before may have left less.
    """
    most_left_x_mm: float
    """Where that is, mm from the nut."""


class FacetMarks(NamedTuple):
    """Where a facet's two edges lie at a station, on the wood as it is before it is planed: on the faces, the facets
    and the rounded corners beside it.
    """

    x_mm: float
    """Station, mm from the nut."""
    place: str
    """The station in words."""
    upper_mm: tuple[float, float] | None
    """The edge nearer to the board, ``[from the centreline, below the crown plane]``, mm; on the side face its depth
    is what is marked. ``None`` where the facet takes nothing at this station.
    """
    lower_mm: tuple[float, float] | None
    """The edge nearer to the spine; on the back its distance from the centreline is what is marked."""


class Finding(NamedTuple):
    """A low patch, a flat, a hollow or a bump."""

    kind: FindingKind
    """What it is."""
    place: Place
    """Where in the section: of a low patch where it lies lowest."""
    x_mm: tuple[float, float]
    """First and last station, mm from the nut: of a low patch those of its readings; of a hollow or a bump where it
    has half its height. One station twice for what was found around a section.
    """
    around_mm: tuple[float, float] | None
    """From where to where around the section, mm along its outline from the spine, positive toward the treble side;
    ``None`` for what was found along the neck.
    """
    amplitude_mm: float
    """How far off, mm: the mean over a low patch; the height of the others over the fair curve at their middle, from
    where they fall off as ``(1 − d²)²``. Negative where wood is missing.

    What is found was chosen because it stands out, so it is told as standing out further than it does. A low
    patch whose mean lies 8 of its standard uncertainties deep is told too deep by, on average, 0.1 to 0.35 of
    them, one of 6 by 0.2 to 0.6, and one of 4, if it is found, by 0.7 to 1.5: the more, the more places there are
    to choose from. The heights of the others are told too large by 0.15 of 8 and 0.3 of 6.

    Where there are two departures in a row their heights are as sure as they are told, of three they are off by a
    third more. A step is no kernel: beside others, or where they leave little of a row, its height may be told as
    up to three times the span of all that was read (``tests/inspect_check/several.rs``).
    """
    uncertainty_mm: float
    """Its standard uncertainty, mm: that of the readings, and of the height of what is no low patch also of where it
    lies and how wide it is.
    """
    lowest: Lowest | None
    """Of a low patch, where it lies lowest."""
    p_value: float
    """How often, at most, an inspection of a neck without any would find something that stands out as much: reckoned
    as ``Neck::inspect`` says.
    """


class Forbidden(NamedTuple):
    """A limit that forbids mending."""

    limit: Limit
    """Which."""
    x_mm: float
    """The station where it binds hardest, mm from the nut."""
    by: float
    """The least by which it would have to give way, in its unit."""
    unit: str
    """Its unit."""
    alone: bool
    """Whether that would do by itself; where not, all that are named have to give way together."""
    asked_by: tuple[Asking, ...]
    """The readings of the low places that ask for it."""
    sentence: str
    """The same in words."""


class Fret(NamedTuple):
    """One fret: its slot and its wire. Pairs are bass side first. Places and lengths are good to 1e-11 mm."""

    number: int
    """Its number; 0 is the zero fret."""
    cents: float
    """Its pitch above the open string, cents."""
    line: FretLine
    """Its line."""
    along_strings_mm: tuple[float, float]
    """Its distance from the nut along each outer string, in plan, mm."""
    slot_ends_mm: tuple[tuple[float, float], tuple[float, float]]
    """Both slot ends, ``(x, y)`` in plan, mm: at the board's edge, or at the binding's inner side."""
    slot_length_mm: float
    """Length of the slot in plan, mm."""
    wire_length_mm: float
    """Length to cut the wire to, mm: along the board's surface from slot end to slot end and the overhang at both."""
    bottom_depth_mm: float
    """Depth of the slot's bottom under the crown line, mm, on the centreline."""
    bottom_depth_at_ends_mm: tuple[float, float]
    """The same at the slot's ends: the bottom follows the radius."""
    wood_under_ends_mm: tuple[float, float]
    """Wood left under the slot at its ends, mm."""
    straight_depth_at_ends_mm: tuple[float, float]
    """Depth left of the slot at its ends, mm, where it is sawn straight across to its depth in the middle; below 0
    the saw does not reach the surface there.
    """


class FretDifference(NamedTuple):
    """A fret's place on two necks."""

    fret: int
    """The fret's number."""
    difference_mm: float
    """By how much its slot lies further toward the bridge on the first neck, mm: on the centreline or straight on
    from there at the first neck's slot's ends, whichever is the most.
    """
    across_mm: float
    """Where across that is, mm from the centreline, positive toward the treble side."""


class FretLine(NamedTuple):
    """A straight line across the board: ``x = x_mm + slope * y``."""

    x_mm: float
    """Where it crosses the centreline, mm from the nut."""
    slope: float
    """How far it advances toward the bridge for each mm toward the treble side: 0 for a line square to the
    centreline.
    """


class Grain(NamedTuple):
    """How the grain of a wood runs in the headstock, assuming that it runs along the blank."""

    slope: float
    """Its slope against the headstock's face: 0 runs along it, 0.2 runs out 1 in 5."""
    strength: float
    """Share of the bending strength of straight grain that is left at that slope, an estimate for clear wood by
    interpolation in the Wood Handbook's table 5-12; beyond 1 in 5 the table ends and it is "less than" the last.
    The table says nothing of glued joints.
    """


class GritStep(NamedTuple):
    """One grit of the sequence. All depths are mm, square to the back; on the spine, where nothing else is said."""

    grit: int
    """Its number."""
    grain_um: float
    """Mean size of its grains, µm."""
    scratch_mm: float
    """Depth of the scratches that it leaves itself: the next grit's work."""
    removes: Removes
    """Whose marks it takes off."""
    marks_mm: float
    """Depth of those marks."""
    spare_mm: float
    """What it takes off besides, because the allowance is more than the sum of all marks; 0 but for the first grit."""
    removes_mm: float
    """What it takes off in all: the marks and the spare."""
    left_before_mm: float
    """Allowance still on the spine before this grit: what the caliper reads over the finished thickness."""
    left_after_mm: float
    """The same when it has done its work; exactly 0 after the last grit."""
    headstock_before_mm: float
    """Allowance still on the headstock's back before this grit: what the caliper reads there over the finished
    thickness. From the second grit on it is that of the spine.
    """
    lengthwise: bool
    """Whether the strokes go along the neck only, because no further grit, or one alone, takes its scratches off."""
    blocks: tuple[ZoneBlock, ...]
    """What every zone is sanded with, in the order of ``Zone::ALL``; in the plan of a neck, those zones that it has."""
    notes: tuple[str, ...]
    """What to mind at this grit, a sentence or two each."""


class HeadstockFacts(NamedTuple):
    """The headstock."""

    kind: HeadstockKind
    """Angled or level."""
    angle_deg: float
    """How far the face is tilted, degrees."""
    length_mm: float
    """Length along the face from the nut's headstock side, mm."""
    thickness_mm: float
    """What a caliper reads, square to the face, mm."""
    root_x_mm: float
    """Station where the face begins, mm."""
    tip_x_mm: float
    """Station of the tip, mm."""
    tip_face_depth_mm: float
    """Depth of the face below the crown plane at the tip, mm."""
    tip_width_mm: float
    """Width at the tip, mm."""
    tip_back_depth_mm: float
    """Depth of the back below the crown plane at the tip, mm."""
    posts: tuple[PostPlace, ...]
    """The posts, bass string first."""


class HeelBlock(NamedTuple):
    """The block that is glued under the blank for the heel, its grain along the neck and the blank's centreline over
    its middle.
    """

    size_mm: tuple[float, float, float]
    """Length, width and thickness, mm."""
    from_x_mm: float
    """Station of its front end, mm from the nut: where the sweep comes to within the saw's allowance of the blank's
    underside and once more the allowance before it, so that its front end leaves the allowance too.
    """
    from_end_mm: float
    """From the blank's end at the heel to its front end, mm."""
    short_of_end_mm: float
    """From the blank's end at the heel to its own, mm."""


class HeelFacts(NamedTuple):
    """The heel."""

    start_x_mm: float
    """Station where the sweep begins, mm."""
    block_x_mm: float
    """Station where the sweep has come down to the block, mm."""
    end_x_mm: float
    """Station of the heel's end, mm."""
    block_depth_mm: float
    """Depth of the block below the crown plane, mm."""
    end_width_mm: float
    """Width of the block at its end, mm."""
    glued_from_x_mm: float
    """Station from which nothing may touch the wood: it is glued or bolted there."""
    least_sweep_radius_mm: float | None
    """The sweep's spine is nowhere bent to a smaller radius than this, mm; proven to 1e-6 of it. ``None`` where it
    is not bent at all.
    """


class Hump(NamedTuple):
    """How the board stands off the straight line between its two points at the ends of a stretch of a string."""

    height_mm: float
    """Greatest height above the chord, mm; 0 where the board is straight there. A hollow would be below 0, and there
    is none on a convex board.
    """
    at_mm: float
    """The station where it is greatest."""


class Inspection(NamedTuple):
    """What readings say about a neck on the bench."""

    rows: tuple[Row, ...]
    """Every reading against the neck, in the order given."""
    stage: StageName | None
    """The stage that was asked for."""
    doubtful: tuple[Doubt, ...]
    """Readings that contradict each other, in pairs."""
    misread: tuple[int, ...]
    """Readings, by their places, that lie more than 5 mm below the finished neck, of a girth more than 10 mm, and
    more than six of their standard uncertainties: no tool takes so much by mistake (our own choice), so that they
    are likelier misread, or of another neck. They are named in a sentence and, like those in doubt, set aside.
    """
    low: tuple[Finding, ...]
    """Where the wood lies below the finished neck, the clearest first."""
    unfair: tuple[Finding, ...]
    """Where the wood departs from a fair surface, the clearest first, whatever allowance is still on."""
    map: Map | None
    """What is left to take to the finished neck, from the nut to the heel; ``None`` without a thickness or a point
    there.
    """
    stage_map: Map | None
    """What is left to take to the stage that was asked for."""
    sentences: tuple[str, ...]
    """All of it in plain words for the bench, each place once: where a low patch tells, neither a hollow nor a
    station does. What stands behind ± is twice the standard uncertainty.
    """


class Joints(NamedTuple):
    """Thickness of the stock that each way of making the neck needs, from the glue line down, nothing allowed for
    the saw.
    """

    one_piece_stock_mm: float
    """One piece from tip to heel, mm."""
    shaft_stock_mm: float
    """What the shaft with its volute needs, mm: the stock where headstock and heel block are glued on."""
    heel_stock_mm: float
    """What shaft, volute and heel block need, mm."""
    scarf: Scarf | None
    """The scarf through stock of the greater of shaft and headstock thickness; ``None`` for a headstock that is not
    angled (by 1 degree or more).
    """


class Kept(NamedTuple):
    """A number that no reading tells: it is the base's."""

    path: str
    """The field's path in the specification."""
    value: float
    """Its value."""
    uncertainty: float
    """How uncertain it counts, standard, in the same unit: as much as necks differ in it; 0 of a lean that is not to
    be fitted (``Judging::Never``), which counts as known.
    """
    unit: str
    """Its unit; empty where it has none."""


class KnownShape(NamedTuple):
    """A shape of the back as the trade calls it, and the fullness that it stands for."""

    shape: Shape
    """Its name."""
    shoulder: float
    """How far the section keeps out beside the carve line, of 1."""
    belly: float
    """How flat it is about the spine, of 1."""
    lean: float
    """How far it leans in beside the carve line, of 1."""


class KnownWood(NamedTuple):
    """A wood whose usual density is known."""

    species: str
    """Its name."""
    density_kg_m3: float | None
    """Its usual density, kg/m³."""


class Law(NamedTuple):
    """A law of the position along the neck: a continuous piecewise polynomial in Bernstein form."""

    breaks_mm: tuple[float, ...]
    """The stations of its joints, first to last, mm from the nut."""
    coefs: tuple[tuple[float, ...], ...]
    """The Bernstein coefficients of each piece between them, in the unit of what it is the law of."""


class LeastMargin(NamedTuple):
    """The least distance from an outer string's side to the edge of the board."""

    margin_mm: float
    """The distance, mm, in plan and square to the centreline."""
    at_mm: float
    """The station."""
    side: Side
    """The side."""


class LeastValue(NamedTuple):
    """A least value over the whole neck, where it is taken, and the bound it is proven to."""

    value: float
    """A value that is really taken, in mm (a curvature in 1/mm)."""
    x_mm: float
    """Station where it is taken, mm from the nut."""
    proven: float
    """Proven: nowhere is there less than this. Within 1e-6 of ``value``, unless the search was given up after 20,000
    steps, which no specification tried so far has needed.
    """
    unit: str
    """The unit of both: ``mm``, or ``1/mm`` of a curvature."""


class Line(NamedTuple):
    """A line to mark before a cut."""

    name: str
    """What it is."""
    on: Face
    """The face it is drawn on."""
    from_: Datum
    """What its distances are measured from."""
    straight: bool
    """Whether a straight edge through its first and last mark meets all the others."""
    waste: Waste | None
    """On which side the wood goes; ``None`` for a line that bounds no cut."""
    marks: tuple[Mark, ...]
    """Its points, from the headstock's end on; where nothing is to be marked at a station there is none."""


class Lowest(NamedTuple):
    """Where a low patch lies lowest."""

    x_mm: float
    """Its station, mm from the nut."""
    around_mm: float | None
    """Its place around the section, as ``Finding::around_mm``; ``None`` along the neck."""
    deviation: Deviation
    """How far it lies off: the mean of what was read there."""


class Map(NamedTuple):
    """What is left to take over stations and around the section, with its uncertainty.

    A surface of cubic B-splines over station and place around is fitted to thickness readings and points
    (penalised B-splines: Eilers & Marx, Statistical Science 11 (1996) 89), in Bayesian form: before any reading a
    coefficient lies about a mean that nobody knows with the spread that the readings have, and hangs together
    with its neighbours in such a way that the correlation falls as ``(1 + d/ℓ)·exp(−d/ℓ)``, with lengths ``ℓ``
    along (12 to 150 mm) and around under which the readings are most likely. The readings then draw mean and
    uncertainty in. Far from all readings the map says mean and spread again, that is: that it does not know. A
    twentieth of the spread is added everywhere for what the splines do not follow. Their knots lie some 16 mm
    apart along the neck, and a sixth of the way around: what is smaller than that the map does not show; the
    findings do.
    """

    x_mm: tuple[float, ...]
    """Stations, mm from the nut, some 8 mm apart."""
    around: tuple[float, ...]
    """Places around, as a share of the way from the spine to the top edge of either side: −1 at the bass edge, 0 at
    the spine, 1 at the treble edge.
    """
    cells: tuple[Cell, ...]
    """The cells, all around the first station first."""
    mean_mm: float
    """What is taken to be left where nothing is known: the readings' mean, mm."""
    spread_mm: float
    """And how far off that may be, as a standard deviation, mm."""
    length_mm: float
    """The length ``ℓ`` along the neck, mm: what is left changes little over less."""
    length_around: float
    """The same around, the way from one edge to the other being 2."""
    misfit: float
    """How far the readings lie off the map against their uncertainty, root mean square; the map's uncertainty is
    widened by it where it is more than 1.
    """


class Mark(NamedTuple):
    """One point of a line."""

    x_mm: float
    """Station, mm from the nut."""
    place: str
    """The station in words: ``nut``, ``fret 5``, ``heel``."""
    distance_mm: float
    """Distance from the line's datum, mm."""


class Masses(NamedTuple):
    """Masses by part, kg."""

    fretboard_kg: float | None
    """The fretboard, without frets; ``None`` where its density is not known."""
    neck_wood_kg: float | None
    """The neck wood, without rod and tuners; ``None`` where its density is not known."""


class Measured(NamedTuple):
    """What an instrument was held to."""

    quantity: Quantity
    """The quantity."""
    side: Side | None
    """On which side, of a carve line."""
    across_mm: float | None
    """Of a point: its distance from the centreline, mm, positive toward the treble side."""


class MendRow(NamedTuple):
    """What comes off at a station and what it will measure."""

    fret: int | None
    """The fret whose line crosses the centreline there, 0 for the nut."""
    x_mm: float
    """Station, mm from the nut."""
    take_off_mm: float
    """What comes off the design at the spine, mm of depth, which is square to the board there; what the wood still
    has over the design comes off besides.
    """
    most_mm: float
    """The most that comes off the design anywhere around the section, in mm of depth: straight up from the back
    toward the board, at a place across that both backs have, as ``take_off_mm`` is. On a flank, which lies steep,
    less comes off square to the surface.
    """
    most_across_mm: float
    """Distance of that place from the centreline, mm: positive toward the treble side, on a left-handed neck too."""
    narrower_mm: float
    """What comes off the width, mm."""
    thickness_mm: float
    """Thickness as it will measure, mm."""
    width_mm: float
    """Width as it will measure, mm."""
    girth_mm: float
    """Girth as it will measure, mm."""
    carve_line_mm: Sides[float]
    """Carve lines as they will measure, mm."""
    uncertainty_mm: float
    """Standard uncertainty of the thickness that the low readings lend it, mm: for each reading that decides the
    mended neck what the thickness changes by if that reading is off by its own standard uncertainty, added as
    squares. 0 where no reading decides.
    """


class Mended(NamedTuple):
    """The nearest fair neck that lies within the wood that is still there."""

    specification: dict[str, Any]
    """Its specification, with every default filled in. The very one of the design where nothing is low."""
    removed_mm3: float
    """What the board's edges and the back lose against the design, mm³ of wood. (What is made least is the volume
    between the two backs; the little of it that lies above the glue line behind the nut is no wood.)
    """
    rows: tuple[MendRow, ...]
    """At the nut, every fret and every station with a low place, in order along the neck; none where nothing is low."""
    reached: tuple[Reached, ...]
    """The limits that the neck comes up to, each with the station where it costs most."""
    notes: tuple[str, ...]
    """Readings that ask nothing although they were given, and why."""
    cautions: tuple[Caution, ...]
    """What to mind before and while the wood comes off; nothing where none does."""


class Mending(NamedTuple):
    """What comes of mending."""

    outcome: Literal["mended", "impossible"]
    """Which of them."""
    result: Mended | tuple[Forbidden, ...]
    """What comes with it."""


class Moments(NamedTuple):
    """Area and its first and second moments, about the origin of the section's plane."""

    area_mm2: float
    """Area, mm²."""
    first_mm3: tuple[float, float]
    """``∫y``, ``∫z``, mm³."""
    second_mm4: tuple[float, float, float]
    """``∫y²``, ``∫z²``, ``∫yz``, mm⁴."""


class Number(NamedTuple):
    """A number of which the readings tell something."""

    path: str
    """The field's path in the specification, such as ``shaft.thickness[1].thickness``."""
    value: float
    """Its value."""
    uncertainty: float
    """Its standard uncertainty, in the same unit; what it owes to numbers that the readings do not tell is in it."""
    by_base: float
    """How much the base has a say in it, 0 to 1: 0 where the readings alone tell it; else its variance, other
    numbers that are kept left aside, over that of what necks differ in it. Where there was a ``pull`` it is above
    0 of all.
    """
    unit: str
    """Its unit; empty where it has none."""
    readings: int
    """How many readings would show it if the number were quite another."""
    at_bound: bool
    """Whether it lies at a bound of its field that the readings would have it go beyond; its uncertainty, and that
    of the others, is then told as if there were no bound.
    """


class Outline(NamedTuple):
    """A closed outline; the last segment is expected to end at the start."""

    start_mm: tuple[float, float]
    """Where the first segment begins."""
    segments: tuple[Segment, ...]
    """The segments in order."""


class Place(NamedTuple):
    """A place in the section, or a measure that has none of its own."""

    part: Literal["spine", "shoulder", "edge", "board", "face", "width", "girth", "carve_line"]
    """Which of them."""
    side: None | Side
    """What comes with it."""


class PlacedCloud(NamedTuple):
    """A scan on a neck: where it lies, how far it stands off, and the readings that its points amount to."""

    pose: Pose
    """How the scan lies to the neck."""
    rms_mm: float
    """Root mean square of the distances of the points to the neck's surface, mm, without the outliers; what is noise
    and what is another shape counts together.
    """
    noise_mm: float
    """Standard deviation of the noise of a single point, mm: what is left when the shape is let free."""
    outlier_share: float
    """Share of the points that lie off the neck by more than 4.7 times the noise."""
    hands_rms_mm: tuple[float, float] | None
    """How well the scan fits as it was taken and as its mirror image, mm (root mean square, none counted for more
    than 2 mm); ``None`` where the hand was given, so that only one was tried.
    """
    covered_mm: tuple[float, float]
    """First and last station with points all around or on a good part of it."""
    unseen: tuple[CloudPart, ...]
    """Parts of the outside of which less than a tenth has points."""
    departures: tuple[Departure, ...]
    """Where the scanned surface stands off the neck by more than noise, the greatest departures first, 20 at most.
    Noise alone makes any of them in one of a hundred scans at most, but for cells beside the nut, where faces
    meet within the noise: there a scan of many points has departures of up to 0.04 mm.
    """
    readings: Readings
    """Points of the back and widths of the shaft, gathered from all points: mean places with their standard
    uncertainty.
    """


class Pose(NamedTuple):
    """How a scan lies to its neck: ``p_neck = rotation · p_scan + translation``.

    The neck's frame is that of ``Neck``: stations along ``x``, ``y`` toward the treble side of a right-handed
    neck and the bass side of a left-handed one, ``z`` out of the board.
    """

    rotation: tuple[tuple[float, float, float], tuple[float, float, float], tuple[float, float, float]]
    """The rotation's rows; a proper rotation whatever the neck's hand."""
    translation_mm: tuple[float, float, float]
    """Where the scan's origin lies in the neck's frame, mm."""
    hand: Hand
    """Whether the scanned neck is right-handed or left-handed."""
    shift_uncertainty_mm: tuple[float, float, float]
    """Standard uncertainty of a shift along the neck's ``x``, ``y`` and ``z``, mm, from the noise of the points;
    large where nothing in the scan holds it, and half a millimetre where only what the base says of headstock and
    heel does.
    """
    turn_uncertainty_deg: tuple[float, float, float]
    """Standard uncertainty of a turn about the neck's ``x``, ``y`` and ``z`` through the middle of the scan,
    degrees.
    """


class PostPlace(NamedTuple):
    """A tuner post's place."""

    along_mm: float
    """Distance along the face from the nut's headstock side, mm."""
    y_mm: float
    """Distance from the centreline, mm, with the sign of ``y``."""
    x_mm: float
    """Station, mm from the nut (negative)."""


class Reached(NamedTuple):
    """A limit that a mended neck comes up to."""

    limit: Limit
    """The limit."""
    x_mm: float
    """The station where it costs most, mm from the nut."""


class Reading(NamedTuple):
    """One reading."""

    at: float | str
    """Where along the neck: mm from the nut, or a text such as ``fret 5``."""
    quantity: Quantity
    """What of it."""
    value: float
    """What the instrument showed, mm; of a point its depth below the crown plane."""
    side: Side | None
    """On which side, of a carve line."""
    across: float | None
    """Of a point: its distance from the centreline, mm."""
    uncertainty: float
    """Its standard uncertainty, mm: one standard deviation (JCGM 100:2008, 2.3.1)."""


class Readings(NamedTuple):
    """Readings of instruments, as their document has them."""

    format: int
    """The format of the document."""
    name: str | None
    """What they are called, where they have a name."""
    readings: tuple[Reading, ...]
    """The readings."""


class Removes(NamedTuple):
    """Whose marks a grit takes off."""

    what: Literal["tool_marks", "scratches_of"]
    """Which of them."""
    grit: None | int
    """What comes with it."""


class Residual(NamedTuple):
    """What is left of a reading."""

    reading: int
    """Its place in the list given, from 0."""
    left_mm: float
    """Reading less copied neck, mm; of a point its distance from the section's outline, positive outside."""
    standardised: float
    """The same over the uncertainty that it has after the fit, ``u·√(1 − leverage)``; 0 where the reading alone
    tells a number.
    """
    leverage: float
    """How much the reading draws the fit to itself: 0 not at all, 1 altogether."""
    unchecked: bool
    """Whether it decides its own number, nothing checking it: were it ten of its uncertainties wrong, fewer than
    three would be left of that, and the copied neck would have the rest (leverage above 0.91).
    """
    weight: float
    """What it counted: 1, or less where the fit was robust and the reading lies far off."""


class RodDifference(NamedTuple):
    """The rods' cuts of two necks."""

    cuts: tuple[int, int]
    """How many cuts either neck has: none without a rod, one for the channel and one for the access pocket."""
    channel: CutDifference | None
    """The channel, where both have one."""
    pocket: CutDifference | None
    """The access pocket, where both have one."""


class Rounded(NamedTuple):
    """A fret that was put on a grid."""

    fret: int
    """The fret's number."""
    exact_mm: float
    """Where it belongs, from the nut, mm."""
    rounded_mm: float
    """The grid point nearest to that, mm; half way between two goes to the one farther from the nut."""
    cents: float
    """How much sharp (above 0) or flat (below 0) of its own pitch it then sounds."""


class Row(NamedTuple):
    """One reading against the neck."""

    reading: int
    """Which reading it is, in the order given, from 0."""
    line: int
    """The line of the text it stood in; 0 where it was made in code."""
    x_mm: float
    """Its station, mm from the nut."""
    measured: Measured
    """What was measured."""
    place: Place
    """Where in the section."""
    around_mm: float | None
    """Where around it, of a point on back or sides: mm along the finished section's outline from the spine, positive
    toward the treble side. ``None`` for all else.
    """
    touched_mm: tuple[float, float, float] | None
    """Where the wood's outside was touched, in the neck's frame, of its own hand, mm: of a thickness the spine, of a
    carve line the board's edge line on its side, as deep as was read. ``None`` of what lies at no one place, or
    where the neck has nothing of the sort.
    """
    finished: Deviation | None
    """Against the finished neck; ``None`` where that has nothing of the sort."""
    verdict: Verdict | None
    """What ``finished`` says of the wood."""
    stage: Deviation | None
    """Against the stage that was asked for; ``None`` without one, off its wood, and for the radius of a board that
    is not made yet.
    """
    stage_verdict: Verdict | None
    """What ``stage`` says of the wood."""


class SandingPlan(NamedTuple):
    """The grits in their order and what they take off together. All depths are mm, square to the back."""

    scale: GritScale
    """The standard that the grits are graded by."""
    steps: tuple[GritStep, ...]
    """The grits, the coarsest first; never empty."""
    total_mm: float
    """Depth of all marks that are taken off: those of the tools, and the scratches of every grit but the last."""
    allowance_mm: float
    """What contouring leaves on the spine for the grits: the allowance given, or the total where none is."""
    spare_mm: float
    """What that has over the total; the first grit takes it off."""
    headstock_mm: float
    """What is left on the headstock's back for the grits: the allowance given, or the total where none is."""
    headstock_spare_mm: float
    """What that has over the total; the first grit takes it off."""
    scratches_left_mm: float
    """Depth of the scratches that the last grit leaves, under the finished surface. On faces that were finished
    before (see ``Zone::has_allowance``) the last grit is the only one, and takes off less than this.
    """


class SawLine(NamedTuple):
    """A straight line in side view that the back is sawn along."""

    name: str
    """The part of the neck that it belongs to."""
    depth: Straight
    """Depth below the crown plane over its stretch of the neck."""
    chosen: bool
    """Whether the builder chose it; otherwise it is the closest straight line that leaves the allowance."""
    clearance: Clearance
    """The least wood between the line and the finished back, square to the line."""


class Scarf(NamedTuple):
    """A scarf joint through a piece of stock."""

    angle_deg: float
    """Angle between the cut and the stock's face, degrees."""
    stock_mm: float
    """Thickness of the stock, mm."""
    face_mm: float
    """Length of the cut face, mm: ``t/sin a``."""
    run_mm: float
    """Length of the cut along the stock, mm: ``t/tan a``."""


class SegmentCrown(NamedTuple):
    """What ``crown`` comes with."""

    radius_mm: float
    """Radius of the circle, mm."""
    to_y_mm: float
    """Where the arc ends, mm from the centreline."""


class Segment(NamedTuple):
    """One segment of an outline; it begins where the one before ends."""

    kind: Literal["line", "cubic", "crown"]
    """Which of them."""
    to_mm: tuple[float, float] | tuple[tuple[float, float], tuple[float, float], tuple[float, float]] | SegmentCrown
    """What comes with it."""


class SideMarker(NamedTuple):
    """Marker in the board's bass side, midway along the edge between its fret and the one before it, and in the
    middle of the edge's thickness.
    """

    fret: int
    """The fret it stands before."""
    double: bool
    """Whether it is two dots: at every octave."""
    x_mm: float
    """Its middle's station."""
    y_mm: float
    """Where the board's edge is there; below 0, being the bass side."""
    depth_mm: float
    """Depth of its middle under the crown line, mm."""
    apart_mm: float
    """How far each of two dots stands from the middle along the centreline, mm: a sixth of the way between the
    frets; 0 for one dot. Common practice, no source.
    """


if TYPE_CHECKING or sys.version_info >= (3, 11):
    class Sides(NamedTuple, Generic[T]):
        """Something that either side has."""

        bass: T
        """What the bass side has."""
        treble: T
        """What the treble side has."""

else:

    class Sides(NamedTuple):
        """Something that either side has."""

        bass: Any
        treble: Any


class Sixtyfourths(NamedTuple):
    """A length in 64ths of an inch."""

    text: str
    """As it is marked, such as ``1 11/16 in``."""
    mm: float
    """The same, mm."""
    error_mm: float
    """By how much it is longer than the length that was given, mm."""


class Stage(NamedTuple):
    """One stage: what to mark, what to cut, what to check."""

    name: StageName
    """Which one."""
    action: str
    """What is done."""
    tool: str
    """With what kind of tool."""
    lines: tuple[Line, ...]
    """The lines to mark before it."""
    checks: tuple[Check, ...]
    """What to check after it, before going on."""
    cautions: tuple[Caution, ...]
    """Cautions."""
    removed_mm3: float
    """Wood that this stage takes off, mm³."""
    left_mm3: float
    """Wood that is left after it, board and neck together, mm³."""
    clearance: Clearance | None
    """The least wood between this stage's cut and the finished neck (or, where an allowance runs out at the carve
    line, the neck with that allowance still on), proven; of contouring and the transitions, whose allowance runs
    out at the carve line, straight down along the spine. ``None`` for a stage that takes nothing, or that cuts
    faces to their finished place.
    """
    details: Details
    """What only this stage has."""


class Straight(NamedTuple):
    """A straight line over the stations ``x[0]..=x[1]``."""

    x_mm: tuple[float, float]
    """Stations where it begins and ends, mm from the nut."""
    value_mm: tuple[float, float]
    """Its values there, mm."""


class StringLine(NamedTuple):
    """One string: a straight line from the nut to the bridge, in plan."""

    gauge_mm: float
    """Its diameter, mm."""
    nut_mm: tuple[float, float]
    """Its centre at the nut, ``(x, y)``, mm."""
    bridge_mm: tuple[float, float]
    """Its centre at the bridge, ``(x, y)``, mm."""


class StringPath(NamedTuple):
    """How one string breaks over the nut."""

    nut_mm: tuple[float, float, float]
    """Where it bears on the nut, ``[x, y, z]`` of its centre in mm."""
    post_mm: tuple[float, float, float]
    """Where it meets its post, ``[x, y, z]`` of its centre in mm."""
    free_length_mm: float
    """From the nut to the post, mm."""
    vertical_deg: float
    """How far it turns down at the nut, degrees."""
    sideways_deg: float
    """How far it turns aside at the nut, degrees, positive toward the treble side."""
    total_deg: float
    """The whole turn, degrees."""
    nut_force_per_newton: float
    """Force on the nut for each newton of tension, ``2·sin(total/2)``, friction not counted."""


class Suggestion(NamedTuple):
    """A reading worth taking."""

    at: float | str
    """Where along the neck."""
    measured: Measured
    """What of it."""
    uncertainty_mm: float
    """How sharp it counts, standard, mm: as the readings of its quantity that were taken, or as the instrument that
    it is usually measured with.
    """
    before_mm: float
    """Root mean square of the standard uncertainty of thickness and surface over the shaft, mm, before it is taken;
    see ``Copied::mean_uncertainty_mm``.
    """
    after_mm: float
    """The same once it is."""
    sentence: str
    """What to do and what for, in a sentence, in the options' ``unit``; what stands behind ± in it is twice the
    standard uncertainty.
    """


class TargetRow(NamedTuple):
    """Readings at one station, the allowance still on."""

    x_mm: float
    """Station, mm from the nut."""
    place: str
    """The station in words."""
    thickness_mm: float
    """What a caliper reads from the board's crown to the spine, mm."""
    width_mm: float
    """Width, board edge to board edge, mm."""
    girth_mm: float
    """A tape laid around the back from one top edge of the board to the other, mm."""
    widths_mm: tuple[float, float, float]
    """Width of the back at three quarters, half and a quarter of the way up from the spine to the carve line, mm:
    what a caliper reads with its jaws' ends at that height.
    """
    depths_mm: tuple[float, float, float]
    """The depths below the board's crown at which those widths are read, mm. The carve line they go up to is the
    deeper of both sides' there.
    """


class Targets(NamedTuple):
    """The readings, and where to look for a flat."""

    allowance_mm: float
    """Wood along the spine that the readings have still on, mm."""
    rows: tuple[TargetRow, ...]
    """The readings."""
    flattest: LeastValue
    """The least curvature of the finished back on the run and where: there a flat shows first. 1/mm."""
    flattest_radius_mm: float | None
    """The radius there, mm; ``None`` where the back is flat."""


class Template(NamedTuple):
    """A curve to draw or to cut a template from, of the shape that the transitions are worked to: the finished neck
    with the wood for the grits still on it, so that the template touches all along when the work is done; in the
    glued zone, where no grit goes, the finished neck itself.
    """

    name: str
    """What it is for."""
    plane: TemplatePlane
    """The plane that it is held in."""
    allowance_mm: float
    """How far its shape lies outside the finished neck at the spine, mm; it runs out to nothing at the carve line."""
    points_mm: tuple[tuple[float, float], ...]
    """Its points in the neck's frame, mm; chords between them lie within 0.01 mm of the curve."""


class TemplatePlaneAcross(NamedTuple):
    """What ``across`` comes with."""

    x_mm: float
    """The station, mm from the nut."""


class TemplatePlane(NamedTuple):
    """The plane that a template is held in."""

    kind: Literal["spine", "across", "side_face"]
    """Which of them."""
    at: None | TemplatePlaneAcross | Side
    """What comes with it."""


class TimberFacts(NamedTuple):
    """The blank, and the two ways of making a neck of one side by side."""

    blank_mm: tuple[float, float, float]
    """Length, width and thickness of the blank, mm."""
    heel_block: HeelBlock | None
    """The heel's block, where it is glued on."""
    board_blank_mm: tuple[float, float, float]
    """Length, width and thickness of the board's blank, mm."""
    nut_from_end_mm: float
    """From the blank's headstock end to the nut's line, mm."""
    stock_mm3: float
    """Volume of both blanks, and of the heel's block where it is glued on, mm³."""
    waste_mm3: float
    """What of it does not become neck, mm³."""
    ways: tuple[Way, Way]
    """One piece, then scarfed."""
    scarf_mm: tuple[float, float] | None
    """For a scarf, the joint: its length along the blank and along the cut, mm."""
    scarf_from_end_mm: tuple[float, float] | None
    """For a scarf, where its cut begins on the blank's top face and where it comes out of the underside, both from
    the blank's end at the heel, mm: the headstock's end is sawn off and turned over, this one stays.
    """


class Turned(NamedTuple):
    """The piece of a scarf that was turned over."""

    grain: Grain
    """Its grain."""
    from_mm: tuple[float, float]
    """How far along the face from the nut's headstock side the joint comes out of the headstock's back, and of its
    face, mm. Before the first all wood of the headstock is the shaft's, beyond the second all is the turned
    piece's; between them the shaft's wood lies above the joint and the turned piece below it.
    """


class Unused(NamedTuple):
    """A reading that can't tell any of the numbers that are fitted."""

    reading: int
    """Its place in the list given, from 0."""
    reason: str
    """Why it is of no use here."""


class Volumes(NamedTuple):
    """Volumes by part, mm³."""

    fretboard_mm3: float
    """The fretboard, its fret slots not taken off."""
    neck_wood_mm3: float
    """The neck wood, channel, pocket and tuner holes taken off."""
    rod_channel_mm3: float
    """What the rod's channel and its pocket take off the neck wood."""
    tuner_holes_mm3: float
    """What the tuner holes take off the neck wood."""
    fret_slots_mm3: float
    """What the fret slots take off the fretboard once they are cut, as deep below its rounded top everywhere as the
    specification says; with a binding as far as it reaches. A board with its slots has ``fretboard_mm3 -
    fret_slots_mm3``.
    """


class VoluteFacts(NamedTuple):
    """The volute."""

    height_mm: float
    """Height of its tip above the shaft's line, mm; 0 without a volute."""
    tip_x_mm: float
    """Station of the tip, mm."""
    tip_depth_mm: float
    """Depth of the tip below the crown plane, mm."""
    start_x_mm: float
    """Station where it has run out into the headstock's slab, mm."""
    end_x_mm: float
    """Station where it has run out into the shaft, mm."""


class Warning(NamedTuple):
    """Something that is allowed and yet not what a builder may expect."""

    path: str
    """The field it comes from."""
    message: str
    """What to know, in a sentence."""


class Way(NamedTuple):
    """One way of making the neck, and the blank that it takes."""

    construction: Construction
    """One piece or scarfed."""
    needed_mm: tuple[float, float, float]
    """Length, width and thickness of the least blank, mm, allowances and saw cuts counted."""
    block_mm: tuple[float, float, float] | None
    """Where the heel's block is glued on: length, width and thickness of the least block under that blank, mm.
    ``None`` where it is one with the shaft, or where the blank holds it as it is.
    """
    volume_mm3: float
    """Volume of blank and block, mm³."""
    grain: Grain
    """The grain of the wood that is one with the shaft: of the whole headstock in one piece, and of its beginning
    behind the nut where it is scarfed, see ``turned``. The weakest grain of either way is this one.
    """
    turned: Turned | None
    """For a scarf that can be made, the wood of the rest of the headstock."""
    thickest_mm: float | None
    """For a scarf, the thickest stock whose joint still ends on the headstock, mm."""
    obstacle: str | None
    """Why it can't be done, where it can't."""
    block_glued_mm: float | None
    """Where the heel's block is one with the shaft: the thickness of the least blank if it were glued on, mm;
    ``None`` where it would be less by no more than 3 mm, or where it can't be done that way either.
    """


class ZoneBlock(NamedTuple):
    """What one zone is sanded with at one grit, and how."""

    zone: Zone
    """Where."""
    block: Block
    """With what."""
    words: str
    """How: one sentence or two."""


_CLASSES: tuple[tuple[str, tuple[str, ...], type], ...] = (
    ("Asking", ("index", "number", "line", "x_mm",), Asking),
    ("BadEntry", ("line", "entry",), BadEntry),
    ("Bend", ("curvature_per_mm", "side", "at_mm",), Bend),
    (
        "Board",
        (
            "start_mm",
            "end_mm",
            "nut_ends_mm",
            "thickness_mm",
            "binding_mm",
            "widths_mm",
            "radius_at_nut_mm",
            "radius_growth",
            "least_edge_thickness_mm",
            "least_edge_thickness_at_mm",
        ),
        Board,
    ),
    ("BoundRow", ("path", "takes", "unit", "lowest", "highest", "default", "why", "doc",), BoundRow),
    ("Bounds", ("x_mm", "y_mm", "z_mm",), Bounds),
    (
        "CaliperRow",
        (
            "fret",
            "x_mm",
            "width_mm",
            "thickness_mm",
            "girth_mm",
            "carve_line_mm",
            "rod_wall_mm",
        ),
        CaliperRow,
    ),
    ("Caution", ("topic", "words",), Caution),
    ("Cell", ("left_mm", "uncertainty_mm", "verdict",), Cell),
    ("Check", ("what", "x_mm", "place", "reads_mm",), Check),
    ("Clearance", ("least", "at_mm", "needed_mm",), Clearance),
    (
        "ComparedRow",
        (
            "fret",
            "x_mm",
            "greatest",
            "thickness_mm",
            "width_mm",
            "girth_mm",
            "carve_line_mm",
        ),
        ComparedRow,
    ),
    (
        "Comparison",
        (
            "greatest",
            "back",
            "side_faces",
            "board_face",
            "board_edges",
            "headstock_face",
            "headstock_edges",
            "ends",
            "rod",
            "frets",
            "rows",
        ),
        Comparison,
    ),
    (
        "Copied",
        (
            "specification",
            "numbers",
            "kept",
            "moved",
            "covariance",
            "residuals",
            "unused",
            "chi2",
            "degrees_of_freedom",
            "p_value",
            "misfit",
            "pull",
            "steps",
        ),
        Copied,
    ),
    ("CopiedCloud", ("placed", "copied", "readings",), CopiedCloud),
    ("Cut", ("reach_mm", "half_width_mm", "floor_depth_mm",), Cut),
    ("CutDifference", ("start_mm", "end_mm", "width_mm", "depth_mm", "depth_at_mm",), CutDifference),
    (
        "CutterFacts",
        (
            "shape",
            "radius_mm",
            "largest_mm",
            "largest_x_mm",
            "largest_side",
            "run_mm",
            "rows",
            "paths",
        ),
        CutterFacts,
    ),
    ("CutterPath", ("side", "around", "points_mm",), CutterPath),
    ("CutterRow", ("x_mm", "place", "largest_mm", "left_mm",), CutterRow),
    ("Departure", ("station_mm", "part", "across_mm", "departure_mm", "uncertainty_mm", "points",), Departure),
    ("Details", ("kind", "facts",), Details),
    ("Deviation", ("mm", "uncertainty_mm",), Deviation),
    (
        "Difference",
        (
            "difference_mm",
            "proven_mm",
            "x_mm",
            "nearest_fret",
            "surface",
            "side",
            "across_mm",
            "depth_mm",
        ),
        Difference,
    ),
    ("Doubt", ("readings", "lines", "x_mm", "apart",), Doubt),
    (
        "Ends",
        (
            "tip_mm",
            "root_mm",
            "volute_mm",
            "heel_start_mm",
            "heel_end_mm",
            "board_end_mm",
            "board_thickness_mm",
        ),
        Ends,
    ),
    ("FaceMarker", ("fret", "double", "x_mm", "y_mm",), FaceMarker),
    ("Facet", ("round", "side", "angle_deg", "straight", "height", "over_mm", "marks",), Facet),
    ("FacetFacts", ("allowance_mm", "run_mm", "facets", "most_left_mm", "most_left_x_mm",), FacetFacts),
    ("FacetMarks", ("x_mm", "place", "upper_mm", "lower_mm",), FacetMarks),
    (
        "Finding",
        (
            "kind",
            "place",
            "x_mm",
            "around_mm",
            "amplitude_mm",
            "uncertainty_mm",
            "lowest",
            "p_value",
        ),
        Finding,
    ),
    ("Forbidden", ("limit", "x_mm", "by", "unit", "alone", "asked_by", "sentence",), Forbidden),
    (
        "Fret",
        (
            "number",
            "cents",
            "line",
            "along_strings_mm",
            "slot_ends_mm",
            "slot_length_mm",
            "wire_length_mm",
            "bottom_depth_mm",
            "bottom_depth_at_ends_mm",
            "wood_under_ends_mm",
            "straight_depth_at_ends_mm",
        ),
        Fret,
    ),
    ("FretDifference", ("fret", "difference_mm", "across_mm",), FretDifference),
    ("FretLine", ("x_mm", "slope",), FretLine),
    ("Grain", ("slope", "strength",), Grain),
    (
        "GritStep",
        (
            "grit",
            "grain_um",
            "scratch_mm",
            "removes",
            "marks_mm",
            "spare_mm",
            "removes_mm",
            "left_before_mm",
            "left_after_mm",
            "headstock_before_mm",
            "lengthwise",
            "blocks",
            "notes",
        ),
        GritStep,
    ),
    (
        "HeadstockFacts",
        (
            "kind",
            "angle_deg",
            "length_mm",
            "thickness_mm",
            "root_x_mm",
            "tip_x_mm",
            "tip_face_depth_mm",
            "tip_width_mm",
            "tip_back_depth_mm",
            "posts",
        ),
        HeadstockFacts,
    ),
    ("HeelBlock", ("size_mm", "from_x_mm", "from_end_mm", "short_of_end_mm",), HeelBlock),
    (
        "HeelFacts",
        (
            "start_x_mm",
            "block_x_mm",
            "end_x_mm",
            "block_depth_mm",
            "end_width_mm",
            "glued_from_x_mm",
            "least_sweep_radius_mm",
        ),
        HeelFacts,
    ),
    ("Hump", ("height_mm", "at_mm",), Hump),
    (
        "Inspection",
        (
            "rows",
            "stage",
            "doubtful",
            "misread",
            "low",
            "unfair",
            "map",
            "stage_map",
            "sentences",
        ),
        Inspection,
    ),
    ("Joints", ("one_piece_stock_mm", "shaft_stock_mm", "heel_stock_mm", "scarf",), Joints),
    ("Kept", ("path", "value", "uncertainty", "unit",), Kept),
    ("KnownShape", ("shape", "shoulder", "belly", "lean",), KnownShape),
    ("KnownWood", ("species", "density_kg_m3",), KnownWood),
    ("Law", ("breaks_mm", "coefs",), Law),
    ("LeastMargin", ("margin_mm", "at_mm", "side",), LeastMargin),
    ("LeastValue", ("value", "x_mm", "proven", "unit",), LeastValue),
    ("Line", ("name", "on", "from", "straight", "waste", "marks",), Line),
    ("Lowest", ("x_mm", "around_mm", "deviation",), Lowest),
    ("Map", ("x_mm", "around", "cells", "mean_mm", "spread_mm", "length_mm", "length_around", "misfit",), Map),
    ("Mark", ("x_mm", "place", "distance_mm",), Mark),
    ("Masses", ("fretboard_kg", "neck_wood_kg",), Masses),
    ("Measured", ("quantity", "side", "across_mm",), Measured),
    (
        "MendRow",
        (
            "fret",
            "x_mm",
            "take_off_mm",
            "most_mm",
            "most_across_mm",
            "narrower_mm",
            "thickness_mm",
            "width_mm",
            "girth_mm",
            "carve_line_mm",
            "uncertainty_mm",
        ),
        MendRow,
    ),
    ("Mended", ("specification", "removed_mm3", "rows", "reached", "notes", "cautions",), Mended),
    ("Mending", ("outcome", "result",), Mending),
    ("Moments", ("area_mm2", "first_mm3", "second_mm4",), Moments),
    ("Number", ("path", "value", "uncertainty", "by_base", "unit", "readings", "at_bound",), Number),
    ("Outline", ("start_mm", "segments",), Outline),
    ("Place", ("part", "side",), Place),
    (
        "PlacedCloud",
        (
            "pose",
            "rms_mm",
            "noise_mm",
            "outlier_share",
            "hands_rms_mm",
            "covered_mm",
            "unseen",
            "departures",
            "readings",
        ),
        PlacedCloud,
    ),
    ("Pose", ("rotation", "translation_mm", "hand", "shift_uncertainty_mm", "turn_uncertainty_deg",), Pose),
    ("PostPlace", ("along_mm", "y_mm", "x_mm",), PostPlace),
    ("Reached", ("limit", "x_mm",), Reached),
    ("Reading", ("at", "quantity", "value", "side", "across", "uncertainty",), Reading),
    ("Readings", ("format", "name", "readings",), Readings),
    ("Removes", ("what", "grit",), Removes),
    ("Residual", ("reading", "left_mm", "standardised", "leverage", "unchecked", "weight",), Residual),
    ("RodDifference", ("cuts", "channel", "pocket",), RodDifference),
    ("Rounded", ("fret", "exact_mm", "rounded_mm", "cents",), Rounded),
    (
        "Row",
        (
            "reading",
            "line",
            "x_mm",
            "measured",
            "place",
            "around_mm",
            "touched_mm",
            "finished",
            "verdict",
            "stage",
            "stage_verdict",
        ),
        Row,
    ),
    (
        "SandingPlan",
        (
            "scale",
            "steps",
            "total_mm",
            "allowance_mm",
            "spare_mm",
            "headstock_mm",
            "headstock_spare_mm",
            "scratches_left_mm",
        ),
        SandingPlan,
    ),
    ("SawLine", ("name", "depth", "chosen", "clearance",), SawLine),
    ("Scarf", ("angle_deg", "stock_mm", "face_mm", "run_mm",), Scarf),
    ("crown", ("radius_mm", "to_y_mm",), SegmentCrown),
    ("Segment", ("kind", "to_mm",), Segment),
    ("SideMarker", ("fret", "double", "x_mm", "y_mm", "depth_mm", "apart_mm",), SideMarker),
    ("Sides", ("bass", "treble",), Sides),
    ("Sixtyfourths", ("text", "mm", "error_mm",), Sixtyfourths),
    (
        "Stage",
        (
            "name",
            "action",
            "tool",
            "lines",
            "checks",
            "cautions",
            "removed_mm3",
            "left_mm3",
            "clearance",
            "details",
        ),
        Stage,
    ),
    ("Straight", ("x_mm", "value_mm",), Straight),
    ("StringLine", ("gauge_mm", "nut_mm", "bridge_mm",), StringLine),
    (
        "StringPath",
        (
            "nut_mm",
            "post_mm",
            "free_length_mm",
            "vertical_deg",
            "sideways_deg",
            "total_deg",
            "nut_force_per_newton",
        ),
        StringPath,
    ),
    ("Suggestion", ("at", "measured", "uncertainty_mm", "before_mm", "after_mm", "sentence",), Suggestion),
    ("TargetRow", ("x_mm", "place", "thickness_mm", "width_mm", "girth_mm", "widths_mm", "depths_mm",), TargetRow),
    ("Targets", ("allowance_mm", "rows", "flattest", "flattest_radius_mm",), Targets),
    ("Template", ("name", "plane", "allowance_mm", "points_mm",), Template),
    ("across", ("x_mm",), TemplatePlaneAcross),
    ("TemplatePlane", ("kind", "at",), TemplatePlane),
    (
        "TimberFacts",
        (
            "blank_mm",
            "heel_block",
            "board_blank_mm",
            "nut_from_end_mm",
            "stock_mm3",
            "waste_mm3",
            "ways",
            "scarf_mm",
            "scarf_from_end_mm",
        ),
        TimberFacts,
    ),
    ("Turned", ("grain", "from_mm",), Turned),
    ("Unused", ("reading", "reason",), Unused),
    ("Volumes", ("fretboard_mm3", "neck_wood_mm3", "rod_channel_mm3", "tuner_holes_mm3", "fret_slots_mm3",), Volumes),
    ("VoluteFacts", ("height_mm", "tip_x_mm", "tip_depth_mm", "start_x_mm", "end_x_mm",), VoluteFacts),
    ("Warning", ("path", "message",), Warning),
    (
        "Way",
        (
            "construction",
            "needed_mm",
            "block_mm",
            "volume_mm3",
            "grain",
            "turned",
            "thickest_mm",
            "obstacle",
            "block_glued_mm",
        ),
        Way,
    ),
    ("ZoneBlock", ("zone", "block", "words",), ZoneBlock),
)

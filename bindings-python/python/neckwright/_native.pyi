from array import array
from collections.abc import Mapping, Sequence
from os import PathLike
from typing import Any, Literal, Protocol, SupportsFloat, SupportsIndex, TypeAlias, TypedDict, final, overload

import numpy as np
from numpy.typing import NDArray
from typing_extensions import Required, Unpack

from . import records

__all__ = [
    "CarvingPlan",
    "Copied",
    "Edge",
    "Face",
    "Inspection",
    "Layout",
    "Mending",
    "Mesh",
    "Neck",
    "Readings",
    "Section",
    "Sheet",
    "Solid",
    "Stage",
    "Wood",
    "__version__",
    "angle_deg",
    "bounds",
    "core_version",
    "dxf",
    "fret_positions_mm",
    "fret_positions_of_cents_mm",
    "fret_positions_of_ratios_mm",
    "gltf",
    "known_shapes",
    "known_woods",
    "length_mm",
    "pdf",
    "rounded_positions",
    "sagitta_mm",
    "scarf",
    "schema",
    "sixtyfourths",
    "step",
    "stl",
    "threemf",
    "usual_gauges_mm",
]

class _ByMagnitude(Protocol):
    @property
    def magnitude(self) -> Any: ...
    @property
    def units(self) -> Any: ...
    def to(self, unit: Any, /) -> Any: ...

class _ByValue(Protocol):
    @property
    def value(self) -> Any: ...
    @property
    def unit(self) -> Any: ...
    def to(self, unit: Any, /) -> Any: ...

_Array: TypeAlias = NDArray[np.float64]
_Document: TypeAlias = Mapping[str, Any] | str | PathLike[str]
_Number: TypeAlias = SupportsFloat | SupportsIndex
_One: TypeAlias = float | str | np.floating[Any] | np.integer[Any]
_Many: TypeAlias = NDArray[Any] | list[Any] | tuple[Any, ...] | range | array[Any] | memoryview
_Side: TypeAlias = Literal["bass", "treble"]
_Part: TypeAlias = Literal["whole", "fretboard", "neck_wood", "channel"]
_Colours: TypeAlias = Sequence[tuple[float, float, float]]
_Quantity: TypeAlias = _ByMagnitude | _ByValue
_Length: TypeAlias = float | str | _Quantity
_Measure: TypeAlias = _Number | str | _Quantity

# Options, generated from the library's own tables of bounds; so are the documents' groups.
class _SpecificationScale(TypedDict, total=False):
    length: _Length | None
    """Scale length of all strings, from the nut to the bridge without compensation. Not together with bass and treble; 640 mm where all three are absent."""
    bass: _Length | None
    """Scale length along the bass edge of the strings, for fanned frets; goes with treble."""
    treble: _Length | None
    """Scale length along the treble edge of the strings, for fanned frets; goes with bass."""
    square_fret: float | None
    """The fret, whole or not, that stands square to the centreline where bass and treble differ."""

class _SpecificationFrets(TypedDict, total=False):
    count: int | None
    """How many frets there are, a zero fret not counted."""
    divisions: int | None
    """Equal steps to the octave."""
    rule: Literal["equal", "eighteen", "table"] | None
    """How the frets divide the string."""
    cents: _Many | None
    """For the rule "table": the pitch of each fret above the open string; a table of whole octaves repeats."""
    ratios: _Many | None
    """For the rule "table": the frequency of each fret over the open string's; a table of whole octaves repeats."""
    zero_fret: bool | None
    """Whether a fret at the nut carries the strings."""
    slot_width: _Length | None
    """Width of the fret slot."""
    slot_depth: _Length | None
    """Depth of the fret slot below the board's surface."""
    crown_width: _Length | None
    """Width of the wire's crown."""
    crown_height: _Length | None
    """Height of the wire's crown above the board."""
    overhang: _Length | None
    """How much longer than the slot the wire is cut, at each end."""

class _SpecificationStrings(TypedDict, total=False):
    count: int | None
    """How many strings there are."""
    gauges: _Many | None
    """Diameter of each string, bass to treble."""
    spacing: Literal["even_gaps", "even_centres"] | None
    """How the strings between the outer two are spaced."""

class _SpecificationNut(TypedDict, total=False):
    width: _Length | None
    """Width of the board at the nut."""
    thickness: _Length | None
    """Thickness of the nut along the neck; 0 where a zero fret does without."""
    string_spread: _Length | None
    """Distance between the centres of the outer strings at the nut."""
    string_height: _Length | None
    """Height of the strings' undersides above the board's crown at the nut."""

class _SpecificationBridge(TypedDict, total=False):
    string_spread: _Length | None
    """Distance between the centres of the outer strings at the bridge."""

class _SpecificationFretboardWidths(TypedDict, total=False):
    at: Required[_Length]
    """Where along the neck."""
    width: Required[_Length]
    """Width of the board there, edge to edge."""

class _SpecificationFretboard(TypedDict, total=False):
    thickness: _Length | None
    """Thickness of the board at its crown."""
    widths: Sequence[_SpecificationFretboardWidths | Mapping[str, Any]] | None
    """The board's width at stations beyond the nut, whose own width is nut.width."""
    end: _Length | None
    """Where the board ends."""
    radius: _Length | None
    """Radius across the board at the nut, or "flat"."""
    end_radius: _Length | None
    """Radius across the board at its end, where it differs from the one at the nut."""
    straight_under_strings: bool | None
    """Whether the board is straight under each string rather than along its centre."""
    binding: _Length | None
    """Width of the binding along each edge; 0 for none."""
    face_markers: _Many | None
    """Frets with a marker in the board's face before them; those the neck does not have are left out."""
    side_markers: _Many | None
    """Frets with a marker in the board's bass side; those the neck does not have are left out."""

class _SpecificationShaftThickness(TypedDict, total=False):
    at: Required[_Length]
    """Where along the neck."""
    thickness: Required[_Length]
    """What a caliper reads there."""

class _SpecificationShaftProfileTreble(TypedDict, total=False):
    shoulder: float | None
    """How far the side runs down before it turns in."""
    belly: float | None
    """How far the back stays flat from the spine."""
    lean: float | None
    """How far the side leans in from the edge."""

class _SpecificationShaftProfile(TypedDict, total=False):
    at: Required[_Length]
    """Where along the neck."""
    shape: Literal["C", "D", "U", "V", "soft V"] | None
    """The shape that the numbers below start from."""
    shoulder: float | None
    """How far the side runs down before it turns in, as a share of the carved depth."""
    belly: float | None
    """How far the back stays flat from the spine, as a share of the half width."""
    lean: float | None
    """How far the side leans in from the edge, as a share of the half width."""
    spine_offset: _Length | None
    """How far the spine lies off the centreline, positive toward the treble side."""
    crease: bool | None
    """Whether each side keeps its own curvature at the spine, where the two then meet with one tangent only."""
    treble: _SpecificationShaftProfileTreble | Mapping[str, Any] | None

class _SpecificationShaftCarveLine(TypedDict, total=False):
    at: Required[_Length]
    """Where along the neck."""
    depth: Required[_Length]
    """Depth below the board's crown."""

class _SpecificationShaft(TypedDict, total=False):
    thickness: Sequence[_SpecificationShaftThickness | Mapping[str, Any]] | None
    """Thickness at stations; straight or smoothly changing between them."""
    curve: Literal["monotone", "spline"] | None
    """The curve through the thicknesses, and through the depths of either carve line."""
    profile: Sequence[_SpecificationShaftProfile | Mapping[str, Any]] | None
    """Shape of the back at stations; it changes smoothly between them."""
    carve_line: Sequence[_SpecificationShaftCarveLine | Mapping[str, Any]] | None
    """Depth below the board's crown at which the flat side ends and the carve begins, at stations."""
    treble_carve_line: Sequence[_SpecificationShaftCarveLine | Mapping[str, Any]] | None
    """The carve line of the treble side, where it differs."""

class _SpecificationRodDepth(TypedDict, total=False):
    at: Required[_Length]
    """Where along the neck."""
    depth: Required[_Length]
    """Depth of the channel's floor below the glue line."""

class _SpecificationRod(TypedDict, total=False):
    fitted: bool | None
    """Whether there is a rod at all."""
    width: _Length | None
    """Width of the channel."""
    depth: Sequence[_SpecificationRodDepth | Mapping[str, Any]] | None
    """Depth of the channel's floor below the glue line, at stations."""
    start: _Length | None
    """Where the channel starts."""
    end: _Length | None
    """Where the channel ends."""
    pocket_length: _Length | None
    """Length of the access pocket in the headstock's face, from the nut's headstock side; 0 for none."""
    pocket_width: _Length | None
    """Width of the access pocket."""
    pocket_depth: _Length | None
    """Depth of the access pocket below the headstock's face."""
    least_wall: _Length | None
    """The least wood there should be between the channel and the back; less is a caution."""

class _SpecificationHeadstockBassEdge(TypedDict, total=False):
    along: Required[_Length]
    """Distance along the face from the nut's headstock side."""
    offset: Required[_Length]
    """Distance from the centreline to this edge."""

class _SpecificationHeadstockPosts(TypedDict, total=False):
    along: Required[_Length]
    """Distance along the face from the nut's headstock side."""
    offset: Required[_Length]
    """Distance from the centreline, positive toward the treble side."""

class _SpecificationHeadstock(TypedDict, total=False):
    kind: Literal["angled", "level"] | None
    """How the face lies to the board."""
    angle: _Length | None
    """Angle of an angled headstock's face to the board."""
    length: _Length | None
    """Length of the headstock along its face."""
    thickness: _Length | None
    """Thickness of the headstock."""
    step: _Length | None
    """How far a level headstock's face lies below the glue line."""
    step_radius: _Length | None
    """Radius of the turn from the board down to a level headstock's face."""
    bass_edge: Sequence[_SpecificationHeadstockBassEdge | Mapping[str, Any]] | None
    """The bass edge of the outline, from the nut on; a plain paddle where absent."""
    treble_edge: Sequence[_SpecificationHeadstockBassEdge | Mapping[str, Any]] | None
    """The treble edge of the outline, from the nut on; a plain paddle where absent."""
    posts: Sequence[_SpecificationHeadstockPosts | Mapping[str, Any]] | None
    """Where the tuners' posts stand, the bass string's first."""
    post_diameter: _Length | None
    """Diameter of a post where the string winds on."""
    post_height: _Length | None
    """Height above the face at which a string leaves its post."""
    hole_diameter: _Length | None
    """Diameter of the hole for a tuner."""

class _SpecificationVolute(TypedDict, total=False):
    height: _Length | None
    """Height of the volute's tip above the shaft's own line; 0 for none."""
    tip: _Length | None
    """Station of the volute's tip, positive toward the bridge."""
    run_shaft: _Length | None
    """How far the volute runs out toward the shaft."""
    run_headstock: _Length | None
    """How far the volute runs out toward the headstock's end."""
    roundness: float | None
    """From 0, a broad tip with a flat top, to 1, the roundest."""

class _SpecificationHeel(TypedDict, total=False):
    start: _Length | None
    """Where the sweep down to the heel block begins."""
    sweep_radius: _Length | None
    """Radius of the sweep."""
    block_depth: _Length | None
    """Depth of the heel block below the board's crown."""
    block_width: _Length | None
    """Width of the heel block, or "board" for as wide as the board."""
    end: _Length | None
    """Where the heel block ends."""
    glued_from: _Length | None
    """From where on the heel is glued or bolted to the body, so that nothing may be taken off."""

class _SpecificationWoodsNeck(TypedDict, total=False):
    species: str | None
    """The wood's name, as in the handbook's tables: kind first, then which."""
    density: float | None
    """Its density, where the piece at hand has been weighed."""

class _SpecificationWoods(TypedDict, total=False):
    neck: _SpecificationWoodsNeck | Mapping[str, Any] | None
    fretboard: _SpecificationWoodsNeck | Mapping[str, Any] | None

class _Specification(TypedDict, total=False):
    format: int | None
    """The format this document is written in."""
    name: str | None
    """What the neck is called."""
    hand: Literal["right", "left"] | None
    """Whether the instrument is right-handed or left-handed."""
    scale: _SpecificationScale | Mapping[str, Any] | None
    frets: _SpecificationFrets | Mapping[str, Any] | None
    strings: _SpecificationStrings | Mapping[str, Any] | None
    nut: _SpecificationNut | Mapping[str, Any] | None
    bridge: _SpecificationBridge | Mapping[str, Any] | None
    fretboard: _SpecificationFretboard | Mapping[str, Any] | None
    shaft: _SpecificationShaft | Mapping[str, Any] | None
    rod: _SpecificationRod | Mapping[str, Any] | None
    headstock: _SpecificationHeadstock | Mapping[str, Any] | None
    volute: _SpecificationVolute | Mapping[str, Any] | None
    heel: _SpecificationHeel | Mapping[str, Any] | None
    woods: _SpecificationWoods | Mapping[str, Any] | None

class _StockHeelBlock(TypedDict, total=False):
    made: Literal["one with the shaft", "glued on"] | None
    """Whether it is one piece with the shaft, or glued under the blank."""
    length: _Length | None
    """Length of a block that is glued on, along the grain and the neck; what is needed, in whole 5 mm as far as the blank goes, where absent."""
    width: _Length | None
    """Width of a block that is glued on; as wide as the blank where absent."""
    thickness: _Length | None
    """Thickness of a block that is glued on; what is needed, in whole 5 mm, where absent."""

class _StockBoard(TypedDict, total=False):
    glued: bool | None
    """Whether it is on the neck already, with the rod's channel cut before."""
    length: _Length | None
    """Length of the blank; the finished length and 10 mm where absent: 5 mm at each end, or at the far end what the headstock's face leaves no room for behind the nut."""
    width: _Length | None
    """Width of the blank; as much as the sawn taper needs, in whole 5 mm, where absent."""
    thickness: _Length | None
    """Thickness of the blank; the finished thickness where absent."""

class _StockAllowances(TypedDict, total=False):
    saw: _Length | None
    """Wood that the saw leaves outside the finished back, square to its line."""
    taper: _Length | None
    """Wood that the saw leaves outside either finished edge in plan."""
    headstock: _Length | None
    """Wood that is left on the headstock's back for sanding, square to its face."""
    shaping: _Length | None
    """Wood that cutter and facets leave: a cutter's along the spine, running out to nothing at the carve line, a facet's square to it."""
    contour: _Length | None
    """Wood that contouring leaves along the spine, running out to nothing at the carve line; what the grits take off together where absent."""
    stops: _Length | None
    """How far from the volute's end and the heel's start every cut along the shaft stops."""

class _StockSawShaftLine(TypedDict, total=False):
    at: Required[_Length]
    """Where along the neck."""
    depth: Required[_Length]
    """Depth of the line there."""

class _StockSaw(TypedDict, total=False):
    kerf: _Length | None
    """Width of the cut; it lies on the waste side of the line."""
    shaft_line: Sequence[_StockSawShaftLine | Mapping[str, Any]] | None
    """The line along the back of the shaft: one depth for a line parallel to the board, two for a slanted one. The closest line that leaves the allowance where absent."""
    headstock_thickness: _Length | None
    """Thickness of the headstock as sawn, square to its face; the finished one and the saw's allowance where absent."""

class _StockCutter(TypedDict, total=False):
    shape: Literal["quarter round", "cove", "chamfer", "ball"] | None
    """Its shape."""
    radius: _Length | None
    """Its radius; the largest that is safe everywhere, in whole half millimetres, where absent."""
    bearing: _Length | None
    """Diameter of the bearing that guides it along the side face; a ball has none."""
    paths: int | None
    """How many paths a ball follows on either side."""

class _StockFacets(TypedDict, total=False):
    rounds: int | None
    """How many rounds: the first at 45 degrees, each further one between all that are there."""
    straight_within: _Length | None
    """A facet is planed as one plane where that leaves no more than this over one that follows the back."""

class _StockSanding(TypedDict, total=False):
    scale: Literal["FEPA", "CAMI"] | None
    """The standard that the grits are graded by."""
    grits: _Many | None
    """The grits, from the coarsest on."""
    scratch_share: float | None
    """Depth of a scratch as a share of the mean size of the grain that made it."""
    tool_marks: _Length | None
    """Depth of the marks that rasp and scraper leave for the first grit."""

class _Stock(TypedDict, total=False):
    format: int | None
    """The format this document is written in."""
    construction: Literal["one piece", "scarf"] | None
    """How shaft and headstock are made of the timber."""
    length: _Length | None
    """Length of the blank; what is needed, in whole 5 mm, where absent."""
    width: _Length | None
    """Width of the blank; what is needed, in whole 5 mm, where absent."""
    thickness: _Length | None
    """Thickness of the blank; what is needed where absent: in whole 5 mm, or to a tenth where a scarf or a heel's block that is glued on takes no such blank."""
    heel_block: _StockHeelBlock | Mapping[str, Any] | None
    board: _StockBoard | Mapping[str, Any] | None
    allowances: _StockAllowances | Mapping[str, Any] | None
    saw: _StockSaw | Mapping[str, Any] | None
    cutter: _StockCutter | Mapping[str, Any] | None
    facets: _StockFacets | Mapping[str, Any] | None
    sanding: _StockSanding | Mapping[str, Any] | None
    order: _Many | None
    """The steps in the order in which they are done; the usual order where absent. "rounding", "facets" and "stops" may be left out."""

class _SolidOptions(TypedDict, total=False):
    slots: bool
    """Whether the fret slots are sawn into the board."""
    cubic_within: _Length
    """How far surfaces may lie off the neck for them to be of degree 3 along; without it they are the neck's own, of whatever degree that takes."""

class _MeshOptions(TypedDict, total=False):
    chord: _Length
    """How far the triangles may lie off the surface."""

class _TemplateOptions(TypedDict, total=False):
    gauge_stations: _Many
    """The stations of the section gauges; without them frets 1, 3, 5, 7, 9, 12 and 15 as far as they lie on the shaft."""
    allowance: _Length
    """Wood that is still to go at the spine when the gauges and the templates of volute and heel fit; it runs out to nothing at the carve line."""
    radius_stations: _Many
    """The stations of the radius gauges of a board whose radius grows; without them the nut, frets 5 and 12 and the last one."""
    offset: _Length
    """Radius of the cutter, or half the saw's or the beam's kerf: how far outside an outline and inside a hole its middle goes."""
    slot_edges: bool
    """Whether fret slots are drawn by both their edges, as wide as the specification has them, instead of their middles."""
    strings: bool
    """Whether the strings are drawn on the board."""

class _PaperOptions(TypedDict, total=False):
    paper: Literal["a4", "letter", "as_drawn"]
    """The paper in the printer."""
    margin: _Length
    """The edge of each page that stays blank."""
    overlap: _Length
    """How much two pages side by side have in common."""

class _DxfOptions(TypedDict, total=False):
    unit: Literal["mm", "in"]
    """The unit of the coordinates, which the drawing says of itself."""

class _InspectionOptions(TypedDict, total=False):
    significance: float
    """How often an inspection of a neck on which nothing is wrong may report something, for each of the two questions by itself: is anything too low, and is there a flat or a bump."""
    unit: Literal["mm", "in"]
    """The unit of the sentences."""

class _MendLimits(TypedDict, total=False):
    margin: float
    """How many standard uncertainties below its reading a low place is taken to be."""
    rise_toward_nut: _Length
    """How much thicker the neck may get toward the nut over 100 mm; where the design does so it may as much."""
    spine_radius: _Length
    """The least radius of the spine along the shaft, or as much bend as the design has somewhere; common practice, no source."""
    carve_radius: _Length
    """The least radius of a carve line along the shaft, or as much bend as the design has somewhere; common practice, no source."""
    least_thickness: _Length
    """The least thickness, or the design's where it is less."""
    least_wall: _Length
    """The least wood around the rod's channel, or the design's where it is less; as the specification asks where absent."""
    string_margin: _Length
    """The least from the outer strings to the board's edges, or the design's where it is less."""
    keep_even: bool
    """Whether a neck whose sides are alike has to keep them so."""
    unit: Literal["mm", "in"]
    """The unit of the sentences that tell what forbids it."""

class _CopyOptions(TypedDict, total=False):
    stations: Literal["readings", "base", "fewest"]
    """Whether the numbers are given at the readings' stations, at few of them, or at those that the base has."""
    uneven: Literal["judged", "never", "always"]
    """Whether the treble side may have numbers of its own."""
    lean: Literal["judged", "never", "always"]
    """Whether the sides' lean is fitted, so far as the readings tell it; never: it is the base's and counts as known. Shoulder, belly and lean change a side in much the same way, and only sharp readings tell them apart."""
    most_thicknesses: int
    """The most stations that the thickness is given at."""
    most_profiles: int
    """The most stations that the shape of the back is given at."""
    least_gap: _Length
    """The least distance between two stations that are made from readings."""
    robust: bool
    """Whether readings that lie far off the others count for less, so that a few gross ones do not matter. What readings that stand alone at their station would decide is then given at few stations: where there are four or more."""
    scatter_counts: bool
    """Whether the uncertainties told are widened by as much as the readings scatter more than they should."""
    most_steps: int
    """The most steps of the fit."""
    unit: Literal["mm", "in"]
    """The unit of the sentences that tell what to measure next."""

class _CloudOptions(TypedDict, total=False):
    hand: Literal["either", "as base"]
    """Which hand the scanned neck is taken for."""
    sample: int
    """How many of the points the pose is fitted to."""
    rounds: int
    """The most times that neck and pose are fitted in turn."""
    most_outliers: float
    """The most of the points that may lie off the neck."""
    most_noise: _Length
    """The most that the points may scatter around the neck."""
    stations: int
    """Cells along the neck into which the points are gathered."""
    around: int
    """Cells around the back, from one carve line to the other."""
    copying: _CopyOptions

# ---- end of options

__version__: str
"""The version of this package."""
core_version: str
_kinds: dict[str, int]
"""The version of the library that this package translates."""

def fret_positions_mm(
    scale_mm: _Measure,
    fret_count: SupportsIndex,
    *,
    divisions: SupportsIndex = 12,
) -> _Array:
    """Distances of the frets from the nut in equal divisions of the octave.

    Fret ``n`` lies at ``scale_mm * (1 - 2 ** (-n / divisions))``. Each distance is within one unit in the last place of
    the exact value.

    Parameters
    ----------
    scale_mm : float, str or quantity
        Length of the open string, mm; 0.001 to 1000000.
    fret_count : int
        Number of frets; 0 to 60.
    divisions : int
        Number of equal steps in an octave; 1 to 99.

    Returns
    -------
    ndarray
        mm, of shape ``(fret_count,)``: frets 1 to ``fret_count``.

    Raises
    ------
    NeckwrightError
        An argument is out of its range; every such argument has its fault.
    TypeError
        An argument is no number, or a count is not whole.

    Examples
    --------
    >>> from neckwright import fret_positions_mm
    >>> float(fret_positions_mm(640, 12)[11])
    320.0

    Notes
    -----
    Rust: ``layout::fret_positions_mm``, ``layout::fret_positions_into``. C: ``nw_fret_positions_mm``.
    """
def fret_positions_of_cents_mm(cents: NDArray[Any] | Sequence[float], scale_mm: _Measure, fret_count: SupportsIndex) -> _Array:
    """Distances of the frets from the nut by a table of pitches.

    Parameters
    ----------
    cents : array
        Cents of frets 1, 2, … above the open string, rising; the last one is the period after which they repeat.
    scale_mm : float, str or quantity
        Length of the open string, mm.
    fret_count : int
        Number of frets; 0 to 60.

    Returns
    -------
    ndarray
        mm, of shape ``(fret_count,)``.

    Raises
    ------
    NeckwrightError
        Cents that do not rise or are out of their range; a scale or a count out of its range.

    Examples
    --------
    >>> from neckwright import fret_positions_of_cents_mm
    >>> round(float(fret_positions_of_cents_mm([700, 1200], 640, 2)[1]), 9)
    320.0

    Notes
    -----
    Rust: ``layout::Temperament::from_cents``, ``layout::Temperament::positions_mm``. C: ``nw_fret_positions_of_cents_mm``.
    """
def fret_positions_of_ratios_mm(ratios: NDArray[Any] | Sequence[float | str], scale_mm: _Measure, fret_count: SupportsIndex) -> _Array:
    """Distances of the frets from the nut by a table of ratios.

    Parameters
    ----------
    ratios : array
        Frequencies of frets 1, 2, … over that of the open string, rising; the last one is the period after which they repeat.
        Numbers, or texts such as ``"3:2"`` and ``"18/17"``.
    scale_mm : float, str or quantity
        Length of the open string, mm.
    fret_count : int
        Number of frets; 0 to 60.

    Returns
    -------
    ndarray
        mm, of shape ``(fret_count,)``.

    Raises
    ------
    NeckwrightError
        Ratios that do not rise or are out of their range; a scale or a count out of its range.

    Examples
    --------
    >>> from neckwright import fret_positions_of_ratios_mm
    >>> round(float(fret_positions_of_ratios_mm([3 / 2, 2], 640, 2)[1]), 9)
    320.0

    Notes
    -----
    Rust: ``layout::Temperament::from_ratios``, ``layout::Temperament::positions_mm``. C: ``nw_fret_positions_of_ratios_mm``.
    """
def rounded_positions(
    scale_mm: _Measure,
    fret_count: SupportsIndex,
    grid_mm: _Measure,
    *,
    divisions: SupportsIndex = 12,
) -> tuple[records.Rounded, ...]:
    """Fret positions put on a grid, as a rule or a machine has it, and what that costs in pitch.

    Parameters
    ----------
    scale_mm : float, str or quantity
        Length of the open string, mm.
    fret_count : int
        Number of frets; 0 to 60.
    grid_mm : float, str or quantity
        The grid, mm.
    divisions : int
        Number of equal steps in an octave; 1 to 99.

    Returns
    -------
    tuple of records.Rounded

    Raises
    ------
    NeckwrightError
        An argument out of its range.

    Notes
    -----
    Rust: ``layout::Temperament::rounded``. C: ``nw_rounded_positions``.
    """
def usual_gauges_mm(count: SupportsIndex) -> _Array:
    """Gauges of the strings of a usual set.

    Parameters
    ----------
    count : int
        Number of strings.

    Returns
    -------
    ndarray
        mm, bass string first, of shape ``(count,)``.

    Raises
    ------
    NeckwrightError
        A number of strings that there is no usual set of.

    Notes
    -----
    Rust: ``layout::usual_gauges_mm``. C: ``nw_usual_gauges_mm``.
    """
def length_mm(length: str | _Quantity) -> float:
    """A length in mm: a text as builders write it, or a quantity.

    Parameters
    ----------
    length : str or quantity
        Such as ``"43 mm"``, ``"4.3 cm"``, ``"1 11/16 in"`` or ``"0.86 in"``; a decimal without a unit is in mm.

    Returns
    -------
    float
        mm, the nearest to the exact value, an inch being 25.4 mm.

    Raises
    ------
    NeckwrightError
        ``unreadable`` for a text that is no length, ``wrong_type`` for another quantity.
    TypeError
        Something else.

    Examples
    --------
    >>> from neckwright import length_mm
    >>> length_mm("25 1/2 in")
    647.7

    Notes
    -----
    Rust: ``measure::Length::parse``. C: ``nw_length_mm``.
    """
def angle_deg(text: str) -> float:
    """An angle in degrees, of a text as builders write it.

    Parameters
    ----------
    text : str
        Such as ``"10 deg"``, ``"10°"`` or ``"1 in 6"``.

    Returns
    -------
    float
        Degrees.

    Raises
    ------
    NeckwrightError
        ``unreadable`` for a text that is no angle.

    Examples
    --------
    >>> from neckwright import angle_deg
    >>> round(angle_deg("1 in 6"), 4)
    9.4623

    Notes
    -----
    Rust: ``measure::Angle::parse``. C: ``nw_angle_deg``.
    """
def sixtyfourths(
    length_mm: _Measure,
    *,
    rounding: Literal["nearest", "up", "down"] = "nearest",
) -> records.Sixtyfourths:
    """A length in 64ths of an inch, and how far off that is.

    Parameters
    ----------
    length_mm : float, str or quantity
        The length, mm.
    rounding : {"nearest", "up", "down"}
        To which 64th.

    Returns
    -------
    records.Sixtyfourths

    Raises
    ------
    NeckwrightError
        A word for none of them, or a length that is no number.

    Examples
    --------
    >>> from neckwright import sixtyfourths
    >>> sixtyfourths(42.8625).text
    '1 11/16 in'

    Notes
    -----
    Rust: ``measure::Length::try_from_mm``, ``measure::Length::nearest_64th``, ``measure::Length::ceil_64th``, ``measure::Length::floor_64th``, ``measure::Sixtyfourths``. C: ``nw_sixtyfourths``.
    """
@overload
def sagitta_mm(radius_mm: _One, y_mm: _One) -> float:
    """How far the arc of a circle lies under its crown, at a distance from the middle.

    Parameters
    ----------
    radius_mm : float, str, quantity or array of them
        Radius, mm.
    y_mm : float, str, quantity or array of them
        Distance from the middle, mm; broadcast against the radius.

    Returns
    -------
    float or ndarray
        mm.

    Raises
    ------
    NeckwrightError
        A radius that is not above 0, or a distance that the circle does not reach; of arrays it is named by its place in the result.

    Examples
    --------
    >>> from neckwright import sagitta_mm
    >>> sagitta_mm(5, [3, 4])
    array([1., 2.])

    Notes
    -----
    Rust: ``layout::try_sagitta_mm``. C: ``nw_sagitta_mm``.
    """
@overload
def sagitta_mm(radius_mm: _One | _Many | _Quantity, y_mm: _Many) -> _Array:
    """How far the arc of a circle lies under its crown, at a distance from the middle.

    Parameters
    ----------
    radius_mm : float, str, quantity or array of them
        Radius, mm.
    y_mm : float, str, quantity or array of them
        Distance from the middle, mm; broadcast against the radius.

    Returns
    -------
    float or ndarray
        mm.

    Raises
    ------
    NeckwrightError
        A radius that is not above 0, or a distance that the circle does not reach; of arrays it is named by its place in the result.

    Examples
    --------
    >>> from neckwright import sagitta_mm
    >>> sagitta_mm(5, [3, 4])
    array([1., 2.])

    Notes
    -----
    Rust: ``layout::try_sagitta_mm``. C: ``nw_sagitta_mm``.
    """
@overload
def sagitta_mm(radius_mm: _Many, y_mm: _One | _Quantity) -> _Array:
    """How far the arc of a circle lies under its crown, at a distance from the middle.

    Parameters
    ----------
    radius_mm : float, str, quantity or array of them
        Radius, mm.
    y_mm : float, str, quantity or array of them
        Distance from the middle, mm; broadcast against the radius.

    Returns
    -------
    float or ndarray
        mm.

    Raises
    ------
    NeckwrightError
        A radius that is not above 0, or a distance that the circle does not reach; of arrays it is named by its place in the result.

    Examples
    --------
    >>> from neckwright import sagitta_mm
    >>> sagitta_mm(5, [3, 4])
    array([1., 2.])

    Notes
    -----
    Rust: ``layout::try_sagitta_mm``. C: ``nw_sagitta_mm``.
    """
def scarf(angle_deg: _Measure, stock_mm: _Measure) -> records.Scarf:
    """The scarf of a headstock that is glued on.

    Parameters
    ----------
    angle_deg : float, str or quantity
        Angle of the headstock, degrees; a text such as ``"10 deg"`` or ``"1 in 6"``.
    stock_mm : float, str or quantity
        Thickness of the stock, mm.

    Returns
    -------
    records.Scarf

    Raises
    ------
    NeckwrightError
        An argument out of its range.

    Notes
    -----
    Rust: ``shape::scarf``. C: ``nw_scarf``.
    """
def known_woods() -> tuple[records.KnownWood, ...]:
    """The woods whose usual densities are known.

    Returns
    -------
    tuple of records.KnownWood
        Usual densities, kg/m³; boards differ by a sixth and more.

    Examples
    --------
    >>> from neckwright import known_woods
    >>> "cherry, black" in [wood.species for wood in known_woods()]
    True

    Notes
    -----
    Rust: ``shape::known_species``, ``shape::density_kg_m3``. C: ``nw_known_woods``.
    """
def known_shapes() -> tuple[records.KnownShape, ...]:
    """The trade's shapes of the back, and the fullness that each stands for.

    Returns
    -------
    tuple of records.KnownShape

    Examples
    --------
    >>> from neckwright import known_shapes
    >>> [known.shape for known in known_shapes()]
    ['C', 'D', 'U', 'V', 'soft V']

    Notes
    -----
    Rust: ``shape::fullness``. C: ``nw_known_shapes``.
    """
def schema(subject: Literal["specification", "stock", "readings"]) -> dict[str, Any]:
    """The JSON Schema (2020-12) of a document that the library reads.

    Parameters
    ----------
    subject : {"specification", "stock", "readings"}
        Of which.

    Returns
    -------
    dict

    Raises
    ------
    NeckwrightError
        A word for none of them.

    Examples
    --------
    >>> from neckwright import schema
    >>> schema("stock")["type"]
    'object'

    Notes
    -----
    Rust: ``spec::Specification::schema``, ``spec::Stock::schema``, ``inspect::Readings::schema``. C: ``nw_schema``.
    """
def bounds(
    subject: Literal[
        "specification",
        "stock",
        "solid_options",
        "mesh_options",
        "template_options",
        "paper_options",
        "dxf_options",
        "inspection_options",
        "mend_limits",
        "copy_options",
        "cloud_options",
    ],
) -> tuple[records.BoundRow, ...]:
    """The table of bounds of a document or of options: every field with what it takes, its unit, range, default, and why.

    Parameters
    ----------
    subject : str
        ``"specification"``, ``"stock"``, ``"solid_options"``, ``"mesh_options"``, ``"template_options"``, ``"paper_options"``,
        ``"dxf_options"``, ``"inspection_options"``, ``"mend_limits"``, ``"copy_options"`` or ``"cloud_options"``.

    Returns
    -------
    tuple of records.BoundRow

    Raises
    ------
    NeckwrightError
        A word for none of them.

    Examples
    --------
    >>> from neckwright import bounds
    >>> row = [row for row in bounds("specification") if row.path == "nut.width"][0]
    >>> row.lowest, row.highest, row.unit
    (15.0, 120.0, 'mm')

    Notes
    -----
    Rust: ``spec::Specification::bounds``, ``spec::Stock::bounds``. C: ``nw_bounds``.
    """
def step(
    solids: Sequence[Solid],
    *,
    name: str = "neck",
    protocol: Literal["ap242", "ap214"] = "ap242",
    colours: _Colours | None = None,
) -> bytes:
    """Solids as a STEP file (ISO 10303-21): named products in one assembly, millimetres, the same bytes every time.

    Parameters
    ----------
    solids : sequence of Solid
        The solids.
    name : str
        What the assembly is called.
    protocol : {"ap242", "ap214"}
        AP242 (ISO 10303-242), or AP214 for programs that read nothing newer.
    colours : sequence of (float, float, float), optional
        Red, green and blue from 0 to 1 of each solid; without it woods.

    Returns
    -------
    bytes

    Raises
    ------
    NeckwrightError
        Colours out of their range, or another number of them; a name that is too long; ``missing`` where there is nothing to write.

    Examples
    --------
    >>> from neckwright import Neck, step
    >>> step(Neck().solids(slots=False))[:13]
    b'ISO-10303-21;'

    Notes
    -----
    Rust: ``exchange::step``. C: ``nw_solids_step``.
    """
def stl(meshes: Sequence[Mesh], *, name: str = "neck", colours: _Colours | None = None) -> bytes:
    """Meshes as one binary STL file, mm; colours of facets as some programs read them.

    Parameters
    ----------
    meshes : sequence of Mesh
        The meshes.
    name : str
        What it is called in the file.
    colours : sequence of (float, float, float), optional
        Red, green and blue from 0 to 1 of each mesh; without it woods.

    Returns
    -------
    bytes

    Raises
    ------
    NeckwrightError
        Colours out of their range, or another number of them; a name that is too long; ``missing`` where there is nothing to write.

    Notes
    -----
    Rust: ``exchange::stl``. C: ``nw_meshes_stl``.
    """
def threemf(meshes: Sequence[Mesh], *, name: str = "neck", colours: _Colours | None = None) -> bytes:
    """Meshes as one 3MF file, mm, each an object of its own.

    Parameters
    ----------
    meshes : sequence of Mesh
        The meshes.
    name : str
        What it is called in the file.
    colours : sequence of (float, float, float), optional
        Red, green and blue from 0 to 1 of each mesh; without it woods.

    Returns
    -------
    bytes

    Raises
    ------
    NeckwrightError
        Colours out of their range, or another number of them; a name that is too long; ``missing`` where there is nothing to write.

    Notes
    -----
    Rust: ``exchange::threemf``. C: ``nw_meshes_threemf``.
    """
def gltf(meshes: Sequence[Mesh], *, name: str = "neck", colours: _Colours | None = None) -> bytes:
    """Meshes as one binary glTF file, metres as that format has it, with normals.

    Parameters
    ----------
    meshes : sequence of Mesh
        The meshes.
    name : str
        What it is called in the file.
    colours : sequence of (float, float, float), optional
        Red, green and blue from 0 to 1 of each mesh; without it woods.

    Returns
    -------
    bytes

    Raises
    ------
    NeckwrightError
        Colours out of their range, or another number of them; a name that is too long; ``missing`` where there is nothing to write.

    Notes
    -----
    Rust: ``exchange::gltf``. C: ``nw_meshes_gltf``.
    """
def dxf(sheets: Sequence[Sheet], **options: Unpack[_DxfOptions]) -> bytes:
    """Sheets as one DXF drawing, in order.

    Parameters
    ----------
    sheets : sequence of Sheet
        The sheets.
    **options
        ``unit``; ``bounds("dxf_options")`` tells them.

    Returns
    -------
    bytes

    Raises
    ------
    NeckwrightError
        Options out of their bounds.

    Notes
    -----
    Rust: ``paper::dxf``. C: ``nw_sheets_dxf``.
    """
def pdf(sheets: Sequence[Sheet], **options: Unpack[_PaperOptions]) -> bytes:
    """Sheets as one PDF document, in order; on paper that is smaller than a sheet it goes over several pages with marks.

    Parameters
    ----------
    sheets : sequence of Sheet
        The sheets.
    **options
        ``paper``, ``margin``, ``overlap``; ``bounds("paper_options")`` tells them.

    Returns
    -------
    bytes

    Raises
    ------
    NeckwrightError
        Options out of their bounds; a sheet that takes too many pages.

    Examples
    --------
    >>> from neckwright import Neck, pdf
    >>> pdf([Neck().sheet("side")], paper="letter")[:5]
    b'%PDF-'

    Notes
    -----
    Rust: ``paper::pdf``, ``paper::tile``. C: ``nw_sheets_pdf``.
    """
@final
class Neck:
    """A neck: every number of it, at every station, from one specification.

    Stations are millimetres along the centreline from the nut's fretboard side, positive toward the bridge; ``y`` is
    positive toward the treble side of a right-handed neck, ``z`` out of the fretboard, and the crown of the board lies at
    ``z = 0``. A neck never changes and may be used from any number of threads.

    Two are equal, and hash alike, where their specifications are with every default filled in: then every answer of both has the
    same bits. How much of it was given and how much left to its default does not count; only :meth:`with_` makes a difference of
    it, and a pickle keeps it.

    Parameters
    ----------
    document : mapping, str or path, optional
        The specification: a mapping, JSON text, or a file (a path object, or a text that ends in ``.json``). What it leaves out
        has its default; without it there is a whole neck of defaults. Lengths are numbers in mm, texts such as
        ``"1 11/16 in"``, or quantities with a unit, as pint has them. ``bounds("specification")`` tells every field.
    **groups
        Groups of the specification, which change the document as :meth:`with_` does.

    Raises
    ------
    NeckwrightError
        Everything that is wrong with it, each fault with its path.
    TypeError
        Something that no document can hold.
    OSError
        A file that can't be read.

    Examples
    --------
    >>> from neckwright import Neck
    >>> neck = Neck(scale={"length": 640}, nut={"width": "1 11/16 in"})
    >>> neck.width_mm(0)
    42.8625

    Notes
    -----
    Rust: ``shape::Neck::from_json``, ``shape::Neck::new``. C: ``nw_neck_from_json``.
    """
    def __new__(cls, document: _Document | None = None, /, **groups: Unpack[_Specification]) -> Neck: ...
    def with_(self, **groups: Unpack[_Specification]) -> Neck:
        """Another neck, by what is changed of this one's specification.

        Groups are put together key by key, anything else takes the place of what was there, and ``None`` takes it away (RFC
        7396). What this neck's specification left to its default is left to it again, and follows what is changed. So equal necks may
        have other variations: ``Neck(neck.to_json())`` was given all of its numbers, and keeps all that are not changed. Start from
        ``Neck(neck.to_json())`` for that.

        Parameters
        ----------
        **groups
            Groups of the specification.

        Returns
        -------
        Neck

        Raises
        ------
        NeckwrightError, TypeError
            As :class:`Neck`.

        Examples
        --------
        >>> from neckwright import Neck
        >>> Neck().with_(nut={"width": 44}).width_mm(0)
        44.0
        """
    def specification(self) -> dict[str, Any]:
        """The specification with every default filled in; it makes the same neck, bit for bit.

        Returns
        -------
        dict
            A new one each time.

        Examples
        --------
        >>> from neckwright import Neck
        >>> Neck(nut={"width": "1 11/16 in"}).specification()["nut"]["width"]
        42.8625

        Notes
        -----
        Rust: ``shape::Neck::normalised``. C: ``nw_neck_specification``.
        """
    def to_json(self) -> str:
        """The specification with every default filled in, as JSON text.

        Returns
        -------
        str

        Examples
        --------
        >>> from neckwright import Neck
        >>> Neck(Neck().to_json()) == Neck()
        True

        Notes
        -----
        Rust: ``spec::Specification::to_json``. C: ``nw_neck_specification``, ``nw_document_json``.
        """
    @overload
    def thickness_mm(self, x_mm: _One, *, out: None = None) -> float:
        """Thickness at stations: from the board's crown, frets not counted, to the spine.

        On the headstock and beyond the board's end it is measured from the wood's own top face, square to the crown line.

        Parameters
        ----------
        x_mm : float, str, quantity or array of them
            Stations, mm from the nut toward the bridge; a text such as ``"fret 5"`` or ``"4 3/4 in"``.
        out : ndarray of float64, optional
            Where the answers are written; of the shape of ``x_mm``, in C order; it may be ``x_mm`` or share memory with it. Other
            threads run meanwhile: none may write to ``x_mm`` or touch ``out``.

        Returns
        -------
        float or ndarray
            mm; a float for one station, an array of the shape of ``x_mm`` for an array.

        Raises
        ------
        NeckwrightError
            ``outside_neck`` for a station that is not on the neck, which of an array is named by its index.
        TypeError
            Something that is no number, text or quantity.

        Examples
        --------
        >>> from neckwright import Neck
        >>> neck = Neck(shaft={"thickness": [{"at": "fret 1", "thickness": 21}, {"at": "fret 12", "thickness": 23}]})
        >>> neck.thickness_mm("fret 12")
        23.0

        Notes
        -----
        Rust: ``shape::Neck::thickness_mm``, ``shape::Neck::thickness_mm_into``. C: ``nw_neck_thickness_mm``.
        """
    @overload
    def thickness_mm(self, x_mm: _Many, *, out: _Array | None = None) -> _Array: ...
    @overload
    def thickness_mm(self, x_mm: _Quantity, *, out: _Array | None = None) -> Any: ...
    @overload
    def width_mm(self, x_mm: _One, *, out: None = None) -> float:
        """Width at stations: board edge to board edge; on the headstock and beyond the board's end the wood's own.

        Parameters
        ----------
        x_mm : float, str, quantity or array of them
            Stations, mm from the nut toward the bridge; a text such as ``"fret 5"`` or ``"4 3/4 in"``.
        out : ndarray of float64, optional
            Where the answers are written; of the shape of ``x_mm``, in C order; it may be ``x_mm`` or share memory with it. Other
            threads run meanwhile: none may write to ``x_mm`` or touch ``out``.

        Returns
        -------
        float or ndarray
            mm; a float for one station, an array of the shape of ``x_mm`` for an array.

        Raises
        ------
        NeckwrightError
            ``outside_neck`` for a station that is not on the neck, which of an array is named by its index.
        TypeError
            Something that is no number, text or quantity.

        Examples
        --------
        >>> from neckwright import Neck
        >>> Neck(nut={"width": 43}).width_mm(0)
        43.0

        Notes
        -----
        Rust: ``shape::Neck::width_mm``, ``shape::Neck::width_mm_into``. C: ``nw_neck_width_mm``.
        """
    @overload
    def width_mm(self, x_mm: _Many, *, out: _Array | None = None) -> _Array: ...
    @overload
    def width_mm(self, x_mm: _Quantity, *, out: _Array | None = None) -> Any: ...
    @overload
    def girth_mm(self, x_mm: _One, *, out: None = None) -> float:
        """Girth at stations: a tape laid around the back from one top edge of the board to the other.

        On the headstock it goes from one edge of its face to the other, beyond the heel it is 0.

        Parameters
        ----------
        x_mm : float, str, quantity or array of them
            Stations, mm from the nut toward the bridge; a text such as ``"fret 5"`` or ``"4 3/4 in"``.
        out : ndarray of float64, optional
            Where the answers are written; of the shape of ``x_mm``, in C order; it may be ``x_mm`` or share memory with it. Other
            threads run meanwhile: none may write to ``x_mm`` or touch ``out``.

        Returns
        -------
        float or ndarray
            mm; a float for one station, an array of the shape of ``x_mm`` for an array.

        Raises
        ------
        NeckwrightError
            ``outside_neck`` for a station that is not on the neck, which of an array is named by its index.
        TypeError
            Something that is no number, text or quantity.

        Examples
        --------
        >>> from neckwright import Neck
        >>> neck = Neck()
        >>> bool(neck.girth_mm(100) > neck.width_mm(100))
        True

        Notes
        -----
        Rust: ``shape::Neck::girth_mm``, ``shape::Neck::girth_mm_into``. C: ``nw_neck_girth_mm``.
        """
    @overload
    def girth_mm(self, x_mm: _Many, *, out: _Array | None = None) -> _Array: ...
    @overload
    def girth_mm(self, x_mm: _Quantity, *, out: _Array | None = None) -> Any: ...
    @overload
    def carve_line_mm(self, x_mm: _One, *, side: _Side, out: None = None) -> float:
        """Depth of the carve line below the crown plane at stations: where the flat side ends and the carve begins.

        On the headstock's slab and the heel block it is the whole depth of the back; beyond the end of the neck wood the
        board's underside.

        Parameters
        ----------
        x_mm : float, str, quantity or array of them
            Stations, mm from the nut toward the bridge; a text such as ``"fret 5"`` or ``"4 3/4 in"``.
        side : {"bass", "treble"}
            On which side.
        out : ndarray of float64, optional
            Where the answers are written; of the shape of ``x_mm``, in C order; it may be ``x_mm`` or share memory with it. Other
            threads run meanwhile: none may write to ``x_mm`` or touch ``out``.

        Returns
        -------
        float or ndarray
            mm; a float for one station, an array of the shape of ``x_mm`` for an array.

        Raises
        ------
        NeckwrightError
            ``outside_neck`` for a station that is not on the neck, which of an array is named by its index.
        TypeError
            Something that is no number, text or quantity.

        Examples
        --------
        >>> from neckwright import Neck
        >>> neck = Neck(shaft={"carve_line": [{"at": 0, "depth": 6.5}, {"at": 400, "depth": 7.5}]})
        >>> neck.carve_line_mm(200, side="bass")
        7.0

        Notes
        -----
        Rust: ``shape::Neck::carve_line_mm``, ``shape::Neck::carve_line_mm_into``. C: ``nw_neck_carve_line_mm``.
        """
    @overload
    def carve_line_mm(self, x_mm: _Many, *, side: _Side, out: _Array | None = None) -> _Array: ...
    @overload
    def carve_line_mm(self, x_mm: _Quantity, *, side: _Side, out: _Array | None = None) -> Any: ...
    @overload
    def rod_wall_mm(self, x_mm: _One, *, out: None = None) -> float:
        """Least wood between the rod's channel and the outside in the sections at stations; NaN where nothing is cut.

        In space there can be less, past an end of the channel or square to a sloping floor: that is what
        :meth:`least_rod_wall` counts.

        Parameters
        ----------
        x_mm : float, str, quantity or array of them
            Stations, mm from the nut toward the bridge; a text such as ``"fret 5"`` or ``"4 3/4 in"``.
        out : ndarray of float64, optional
            Where the answers are written; of the shape of ``x_mm``, in C order; it may be ``x_mm`` or share memory with it. Other
            threads run meanwhile: none may write to ``x_mm`` or touch ``out``.

        Returns
        -------
        float or ndarray
            mm; a float for one station, an array of the shape of ``x_mm`` for an array.

        Raises
        ------
        NeckwrightError
            ``outside_neck`` for a station that is not on the neck, which of an array is named by its index.
        TypeError
            Something that is no number, text or quantity.

        Examples
        --------
        >>> from neckwright import Neck
        >>> bool(Neck().rod_wall_mm(200) > 3)
        True

        Notes
        -----
        Rust: ``shape::Neck::rod_wall_mm``, ``shape::Neck::rod_wall_mm_into``. C: ``nw_neck_rod_wall_mm``.
        """
    @overload
    def rod_wall_mm(self, x_mm: _Many, *, out: _Array | None = None) -> _Array: ...
    @overload
    def rod_wall_mm(self, x_mm: _Quantity, *, out: _Array | None = None) -> Any: ...
    @overload
    def station_mm(self, fret: _One, *, out: None = None) -> float:
        """Stations of frets on the centreline, mm from the nut.

        Parameters
        ----------
        fret : float, array of them, or str
            Any real fret number from 0, the nut, on; or one station as builders write it: ``"fret 5"``, ``"nut"``,
            ``"4 3/4 in"``.
        out : ndarray of float64, optional
            Where the answers are written; of the shape of ``fret``, in C order; it may be ``fret`` or share memory with it. Other
            threads run meanwhile: none may write to ``fret`` or touch ``out``.

        Returns
        -------
        float or ndarray
            mm; a float for one fret, an array of the shape of ``fret`` for an array.

        Raises
        ------
        NeckwrightError
            ``out_of_range`` for a fret below 0 or beyond the temperament; ``unreadable`` for a text that is no station.

        Examples
        --------
        >>> from neckwright import Neck
        >>> Neck(scale={"length": 640}).station_mm(12)
        320.0

        Notes
        -----
        Rust: ``shape::Neck::station_mm``, ``layout::Layout::station_mm``, ``measure::Station::parse``. C: ``nw_neck_station_mm``, ``nw_neck_station_of_text_mm``.
        """
    @overload
    def station_mm(self, fret: _Many, *, out: _Array | None = None) -> _Array: ...
    @overload
    def fret_at(self, x_mm: _One, *, out: None = None) -> float:
        """Real fret numbers whose lines cross the centreline at stations.

        Parameters
        ----------
        x_mm : float, str, quantity or array of them
            Stations, mm from the nut toward the bridge; a text such as ``"fret 5"`` or ``"4 3/4 in"``.
        out : ndarray of float64, optional
            Where the answers are written; of the shape of ``x_mm``, in C order; it may be ``x_mm`` or share memory with it. Other
            threads run meanwhile: none may write to ``x_mm`` or touch ``out``.

        Returns
        -------
        float or ndarray
            Fret numbers, of the shape of ``x_mm``.

        Raises
        ------
        NeckwrightError
            ``outside_neck`` or ``out_of_range`` for a station without one.

        Examples
        --------
        >>> from neckwright import Neck
        >>> round(Neck(scale={"length": 640}).fret_at(320), 9)
        12.0

        Notes
        -----
        Rust: ``shape::Neck::fret_at``. C: ``nw_neck_fret_at``.
        """
    @overload
    def fret_at(self, x_mm: _Many, *, out: _Array | None = None) -> _Array: ...
    @overload
    def fret_at(self, x_mm: _Quantity, *, out: _Array | None = None) -> Any: ...
    def caliper_card(self) -> tuple[records.CaliperRow, ...]:
        """What the caliper should read at the nut and at every fret that lies on the neck.

        Returns
        -------
        tuple of records.CaliperRow
            A row for each.

        Examples
        --------
        >>> from neckwright import Neck
        >>> [row.fret for row in Neck(frets={"count": 3}).caliper_card()]
        [0, 1, 2, 3]

        Notes
        -----
        Rust: ``shape::Neck::caliper_card``. C: ``nw_neck_caliper_card``.
        """
    def frets(self) -> tuple[records.Fret, ...]:
        """The frets in order from the nut on, on the neck's own hand.

        Returns
        -------
        tuple of records.Fret
            A record for each.

        Examples
        --------
        >>> from neckwright import Neck
        >>> len(Neck(frets={"count": 22}).frets())
        22

        Notes
        -----
        Rust: ``shape::Neck::frets``. C: ``nw_neck_frets``.
        """
    def strings(self) -> tuple[records.StringLine, ...]:
        """The strings, bass to treble, on the neck's own hand.

        Returns
        -------
        tuple of records.StringLine
            A record for each.

        Examples
        --------
        >>> from neckwright import Neck
        >>> len(Neck().strings())
        6

        Notes
        -----
        Rust: ``shape::Neck::strings``. C: ``nw_neck_strings``.
        """
    def string_paths(self) -> tuple[records.StringPath, ...]:
        """The strings' paths from the nut to their posts.

        Returns
        -------
        tuple of records.StringPath
            A record for each.

        Notes
        -----
        Rust: ``shape::Neck::string_paths``. C: ``nw_neck_string_paths``.
        """
    def face_markers(self) -> tuple[records.FaceMarker, ...]:
        """The markers in the board's face.

        Returns
        -------
        tuple of records.FaceMarker
            A record for each; they are symmetric.

        Notes
        -----
        Rust: ``layout::Layout::face_markers``. C: ``nw_neck_markers``.
        """
    def side_markers(self) -> tuple[records.SideMarker, ...]:
        """The markers in the board's bass side, on the neck's own hand.

        Returns
        -------
        tuple of records.SideMarker
            A record for each.

        Notes
        -----
        Rust: ``shape::Neck::side_markers``. C: ``nw_neck_markers``.
        """
    def reach_mm(self) -> tuple[float, float]:
        """First and last station: the headstock's tip, and the end of the board or the heel, whichever is further.

        Returns
        -------
        tuple of float
            mm.

        Notes
        -----
        Rust: ``shape::Neck::reach_mm``. C: ``nw_neck_reach``.
        """
    def wood_reach_mm(self) -> tuple[float, float]:
        """First and last station of the neck wood: the headstock's tip and the heel's end.

        Returns
        -------
        tuple of float
            mm.

        Notes
        -----
        Rust: ``shape::Neck::wood_reach_mm``. C: ``nw_neck_reach``.
        """
    def shaft_reach_mm(self) -> tuple[float, float]:
        """First and last station of the shaft proper: from the volute's end to where the heel begins.

        Returns
        -------
        tuple of float
            mm.

        Notes
        -----
        Rust: ``shape::Neck::shaft_reach_mm``. C: ``nw_neck_reach``.
        """
    def hand_sign(self) -> float:
        """1 for a right-handed neck, -1 for a left-handed one: what ``y`` of a right-handed neck is multiplied by.

        Returns
        -------
        float
            1 or -1.

        Examples
        --------
        >>> from neckwright import Neck
        >>> Neck(hand="left").hand_sign()
        -1.0

        Notes
        -----
        Rust: ``shape::Neck::hand_sign``. C: ``nw_neck_specification``.
        """
    def headstock(self) -> records.HeadstockFacts:
        """The headstock's numbers, its tuner posts among them.

        Returns
        -------
        records.HeadstockFacts

        Notes
        -----
        Rust: ``shape::Neck::headstock``. C: ``nw_neck_headstock``.
        """
    def volute(self) -> records.VoluteFacts:
        """The volute's numbers.

        Returns
        -------
        records.VoluteFacts

        Notes
        -----
        Rust: ``shape::Neck::volute``. C: ``nw_neck_volute``.
        """
    def heel(self) -> records.HeelFacts:
        """The heel's numbers.

        Returns
        -------
        records.HeelFacts

        Notes
        -----
        Rust: ``shape::Neck::heel``. C: ``nw_neck_heel``.
        """
    def rod_cuts(self) -> tuple[records.Cut, ...]:
        """What is cut out of the neck wood for the rod: the channel first, then the access pocket.

        Returns
        -------
        tuple of records.Cut
            Empty where no rod is fitted.

        Notes
        -----
        Rust: ``shape::Neck::rod_cuts``. C: ``nw_neck_rod_cuts``.
        """
    def volume_mm3(self) -> records.Volumes:
        """Volumes of the woods and of what is cut out of them.

        Areas of sections are integrated exactly where they are polynomials; only the board's crown and the split between the two
        woods are integrated numerically, to 1e-13 of the volume.

        Returns
        -------
        records.Volumes
            mm³.

        Notes
        -----
        Rust: ``shape::Neck::volume_mm3``. C: ``nw_neck_volume``.
        """
    def mass_kg(self) -> records.Masses:
        """Masses: estimates, by the woods' usual densities where none is given.

        Returns
        -------
        records.Masses
            kg.

        Notes
        -----
        Rust: ``shape::Neck::mass_kg``. C: ``nw_neck_mass``.
        """
    def bounds(self) -> records.Bounds:
        """The box around the neck.

        Returns
        -------
        records.Bounds
            mm.

        Notes
        -----
        Rust: ``shape::Neck::bounds``. C: ``nw_neck_bounds``.
        """
    def joints(self) -> records.Joints:
        """The joints that a headstock glued on would have, and the stock that they need.

        Returns
        -------
        records.Joints
            mm.

        Notes
        -----
        Rust: ``shape::Neck::joints``. C: ``nw_neck_joints``.
        """
    def least_thickness(self) -> records.LeastValue:
        """The least thickness of board and neck wood together, proven over all stations where both are.

        Returns
        -------
        records.LeastValue
            mm.

        Examples
        --------
        >>> from neckwright import Neck
        >>> least = Neck().least_thickness()
        >>> bool(least.proven <= least.value)
        True

        Notes
        -----
        Rust: ``shape::Neck::least_thickness``. C: ``nw_neck_least_thickness``.
        """
    def least_rod_wall(self) -> records.LeastValue | None:
        """The least wood between the rod's channel and the outside of the neck, in space, proven over its whole length.

        Returns
        -------
        records.LeastValue or None
            mm; ``None`` where no rod is fitted.

        Notes
        -----
        Rust: ``shape::Neck::least_rod_wall``. C: ``nw_neck_least_rod_wall``.
        """
    def least_curvature(self) -> records.LeastValue:
        """The least curvature of the back across the neck, proven over the shaft proper from the carve line to the spine.

        Returns
        -------
        records.LeastValue
            1/mm; above zero there is no flat and no hollow anywhere.

        Notes
        -----
        Rust: ``shape::Neck::least_curvature``. C: ``nw_neck_least_curvature``.
        """
    def warnings(self) -> tuple[records.Warning, ...]:
        """What is possible but unusual about the neck.

        Returns
        -------
        tuple of records.Warning
            Empty where there is nothing to say.

        Examples
        --------
        >>> from neckwright import Neck
        >>> Neck().warnings()
        ()

        Notes
        -----
        Rust: ``shape::Neck::warnings``. C: ``nw_neck_warnings``.
        """
    def layout(self) -> Layout:
        """The neck's layout: scale, fretboard and strings.

        Returns
        -------
        Layout

        Notes
        -----
        Rust: ``shape::Neck::layout``. C: ``nw_neck_layout``.
        """
    def section(self, x_mm: _One | _Quantity) -> Section:
        """The section at a station.

        Parameters
        ----------
        x_mm : float, str or quantity
            The station, mm from the nut; a text such as ``"fret 5"``.

        Returns
        -------
        Section

        Raises
        ------
        NeckwrightError
            ``outside_neck`` for a station that is not on the neck.
        TypeError
            Something that is no station, or several.

        Examples
        --------
        >>> from neckwright import Neck
        >>> Neck().section("fret 5").polyline_mm(0.1).shape[1]
        2

        Notes
        -----
        Rust: ``shape::Neck::section``. C: ``nw_neck_section_outline``.
        """
    def section_moments(self, x_mm: _One | _Many | _Quantity, *, part: _Part = "whole") -> _Array:
        """Area, centroid and second moments of the sections at many stations.

        Parameters
        ----------
        x_mm : float, str, quantity or array of them
            Stations, mm from the nut toward the bridge; a text such as ``"fret 5"`` or ``"4 3/4 in"``.
        part : {"whole", "fretboard", "neck_wood", "channel"}
            What of them: all of the neck with the rod's channel filled, or a part.

        Returns
        -------
        ndarray
            Of the shape of ``x_mm`` and one more axis of 6: area in mm², the centroid's ``y`` and ``z`` in mm, then
            ``∫(z-z₀)²``, ``∫(y-y₀)²`` and ``∫(y-y₀)(z-z₀)`` about it in mm⁴. Where there is nothing of the part, 0 and NaN for the
            centroid.

        Raises
        ------
        NeckwrightError
            ``outside_neck`` for a station that is not on the neck, which of an array is named by its index.
        TypeError
            Something that is no number, text or quantity.

        Examples
        --------
        >>> from neckwright import Neck
        >>> Neck().section_moments([0, 100, 200]).shape
        (3, 6)

        Notes
        -----
        Rust: ``shape::Section::moments``, ``shape::Section::part_moments``. C: ``nw_neck_section_moments``.
        """
    @overload
    def back_grid(self, x_mm: _Many | _Quantity, columns: SupportsIndex, *, out: None = None) -> tuple[_Array, _Array]:
        """The carved back as a grid of points with normals, for drawing.

        A row for each station, in it places from the bass carve line to the treble one, even in the parameter of either side's cubic.

        Parameters
        ----------
        x_mm : array
            Stations, mm from the nut.
        columns : int
            Places in each row.
        out : tuple of two ndarrays, optional
            Where positions and normals are written, both of float64 or float32, of the shape of the results, in C order, without a byte
            in common. Other threads run meanwhile: none may touch them.

        Returns
        -------
        tuple of ndarray
            Positions, mm, and normals out of the wood, of length 1, both of shape ``(stations, columns, 3)``.

        Raises
        ------
        NeckwrightError
            ``outside_neck`` for a station that is not on the neck wood, named by its index; ``buffer`` for arrays of another size, ``conflict``
            for arrays that share memory; ``out_of_range`` for a number of columns that is no count.

        Examples
        --------
        >>> from neckwright import Neck
        >>> positions, normals = Neck().back_grid([0, 100, 200], 9)
        >>> positions.shape
        (3, 9, 3)

        Notes
        -----
        Rust: ``shape::Neck::back_grid_into``. C: ``nw_neck_back_grid``, ``nw_neck_back_grid_f32``.
        """
    @overload
    def back_grid(
        self,
        x_mm: _Many | _Quantity,
        columns: SupportsIndex,
        *,
        out: tuple[NDArray[Any], NDArray[Any]],
    ) -> tuple[NDArray[Any], NDArray[Any]]: ...
    def carving_plan(self, stock: _Document | None = None, /, **groups: Unpack[_Stock]) -> CarvingPlan:
        """The carving plan from a piece of timber to the finished neck.

        Parameters
        ----------
        stock : mapping, str or path, optional
            The timber, the tools and the order of the stages: a mapping, JSON text, or a file. What it leaves out has its default.
            ``bounds("stock")`` tells every field.
        **groups
            Groups of the stock, which change the document as :meth:`with_` does.

        Returns
        -------
        CarvingPlan

        Raises
        ------
        NeckwrightError
            Everything that is wrong with the stock; ``too_small`` for timber that does not hold the neck, ``too_deep`` for a cut
            that comes nearer to it than its allowance.
        TypeError
            Something that no document can hold.

        Examples
        --------
        >>> from neckwright import Neck
        >>> plan = Neck().carving_plan(thickness="45 mm")
        >>> plan.stages()[0].name
        'blank'

        Notes
        -----
        Rust: ``shape::Neck::carving_plan``, ``spec::Stock::from_json``. C: ``nw_neck_carving_plan``.
        """
    def inspect(
        self,
        readings: Readings,
        *,
        stage: Stage | None = None,
        **options: Unpack[_InspectionOptions],
    ) -> Inspection:
        """Inspects readings against this neck.

        Parameters
        ----------
        readings : Readings
            The readings.
        stage : Stage, optional
            A stage of this neck's carving plan: then they are inspected against the wood that it leaves as well.
        **options
            ``significance`` of what is told, ``unit`` of the sentences; ``bounds("inspection_options")`` tells them.

        Returns
        -------
        Inspection

        Raises
        ------
        NeckwrightError
            Readings that can't be of this neck, a stage of another neck's plan, options out of their bounds.

        Examples
        --------
        >>> from neckwright import Neck, Readings
        >>> neck = Neck()
        >>> read = [{"at": 100, "quantity": "thickness", "value": neck.thickness_mm(100) + 0.5}]
        >>> round(neck.inspect(Readings(read)).rows[0].finished.mm, 6)
        0.5

        Notes
        -----
        Rust: ``shape::Neck::inspect``, ``shape::Neck::inspect_stage``. C: ``nw_neck_inspect``.
        """
    def mend(self, low: Readings, **limits: Unpack[_MendLimits]) -> Mending:
        """The nearest fair neck that lies within the wood that is still there.

        Parameters
        ----------
        low : Readings
            The readings of the low places: :meth:`Inspection.low_readings`.
        **limits
            Limits of mending, such as ``least_thickness``; ``bounds("mend_limits")`` tells them.

        Returns
        -------
        Mending

        Raises
        ------
        NeckwrightError
            Readings that can't be of this neck, limits out of their bounds.

        Notes
        -----
        Rust: ``shape::Neck::mend``. C: ``nw_neck_mend``.
        """
    def copy_neck(self, readings: Readings, **options: Unpack[_CopyOptions]) -> Copied:
        """Copies a neck from readings; this one is the base, which has all that no reading tells.

        Parameters
        ----------
        readings : Readings
            The readings of the neck to copy.
        **options
            How it is copied, such as ``robust``; ``bounds("copy_options")`` tells them.

        Returns
        -------
        Copied

        Raises
        ------
        NeckwrightError
            Readings that can't be of such a neck or make none, options out of their bounds.

        Notes
        -----
        Rust: ``inspect::copy_neck``. C: ``nw_neck_copy``.
        """
    def place_cloud(self, points_mm: Any, **options: Unpack[_CloudOptions]) -> records.PlacedCloud:
        """Places a scan on this neck: how it lies, how far it stands off, and the readings that its points amount to.

        Parameters
        ----------
        points_mm : array or quantity
            Points ``(x, y, z)`` in the scanner's frame, mm, of shape ``(n, 3)``; a quantity is told in mm.
        **options
            Such as ``hand``; ``bounds("cloud_options")`` tells them.

        Returns
        -------
        records.PlacedCloud
            Its ``readings`` are :class:`Readings`.

        Raises
        ------
        NeckwrightError
            A scan that can't be placed, options out of their bounds.

        Notes
        -----
        Rust: ``inspect::place_cloud``. C: ``nw_neck_place_cloud``.
        """
    def copy_cloud(self, points_mm: Any, **options: Unpack[_CloudOptions]) -> records.CopiedCloud:
        """Copies a neck from a scan; this one is the base, roughly such a neck.

        Parameters
        ----------
        points_mm : array or quantity
            Points ``(x, y, z)`` in the scanner's frame, mm, of shape ``(n, 3)``; a quantity is told in mm.
        **options
            Such as ``hand`` and ``copying``; ``bounds("cloud_options")`` tells them.

        Returns
        -------
        records.CopiedCloud
            Its ``readings`` are :class:`Readings`, its ``copied`` is :class:`Copied`.

        Raises
        ------
        NeckwrightError
            A scan that can't be placed or copied, options out of their bounds.

        Notes
        -----
        Rust: ``inspect::copy_cloud``. C: ``nw_neck_copy_cloud``.
        """
    def compare(self, other: Neck) -> records.Comparison:
        """How far this neck and another are apart, part by part and fret by fret, proven.

        Parameters
        ----------
        other : Neck
            The other one.

        Returns
        -------
        records.Comparison
            This neck's measures less the other's.

        Notes
        -----
        Rust: ``shape::Neck::compare``. C: ``nw_neck_compare``.
        """
    def within(self, other: Neck, *, tolerance_mm: _Measure) -> bool:
        """Whether this neck and another are nowhere further apart than a tolerance, proven.

        Parameters
        ----------
        other : Neck
            The other one.
        tolerance_mm : float, str or quantity
            How far they may be apart, mm. None are within one that is negative or NaN.

        Returns
        -------
        bool

        Examples
        --------
        >>> from neckwright import Neck
        >>> Neck().within(Neck(), tolerance_mm=0.001)
        True

        Notes
        -----
        Rust: ``shape::Neck::within``. C: ``nw_neck_within``.
        """
    def solids(self, **options: Unpack[_SolidOptions]) -> tuple[Solid, ...]:
        """The neck as closed solids: the neck wood and the fretboard.

        The rod's channel, its pocket and the tuner holes are cut, and the fret slots where they are asked for. Edges lie within 1e-9 mm
        of both of their faces.

        Parameters
        ----------
        **options
            ``slots``: whether the fret slots are sawn into the board. ``cubic_within``: how far surfaces may lie off the neck for them
            to be of degree 3 along. ``bounds("solid_options")`` tells them.

        Returns
        -------
        tuple of Solid
            Neck wood, fretboard.

        Raises
        ------
        NeckwrightError
            A slot that comes out of the wood, options out of their bounds.

        Examples
        --------
        >>> from neckwright import Neck
        >>> [solid.name for solid in Neck().solids(slots=False)]
        ['neck wood', 'fretboard']

        Notes
        -----
        Rust: ``shape::Neck::solids``. C: ``nw_neck_solids``.
        """
    def sheet(
        self,
        what: Literal[
            "plan",
            "side",
            "fret_strip",
            "board",
            "headstock",
            "positive_gauges",
            "negative_gauges",
            "transitions",
            "radius_gauges",
        ],
        **options: Unpack[_TemplateOptions],
    ) -> Sheet | None:
        """A drawing of the neck at full size.

        Parameters
        ----------
        what : {"plan", "side", "fret_strip", "board", "headstock", "positive_gauges", "negative_gauges", "transitions", "radius_gauges"}
            The neck from above or from its side; a strip with the frets; the fretboard; the headstock with its tuner holes; section
            gauges with the shape of the neck, or to hold against it; templates of volute and heel; radius gauges of the board.
        **options
            Options of templates, such as ``offset`` for a bearing; ``bounds("template_options")`` tells them.

        Returns
        -------
        Sheet or None
            ``None`` for the radius gauges of a flat board.

        Raises
        ------
        NeckwrightError
            A word for none of them, options out of their bounds.

        Notes
        -----
        Rust: ``paper::plan``, ``paper::side``, ``paper::fret_strip``, ``paper::board``, ``paper::headstock``, ``paper::gauges``, ``paper::transitions``, ``paper::radius_gauges``. C: ``nw_neck_sheet``.
        """
    def templates(self, plan: CarvingPlan | None = None, **options: Unpack[_TemplateOptions]) -> tuple[Sheet, ...]:
        """All sheets to work from, in the order in which they are needed.

        Parameters
        ----------
        plan : CarvingPlan, optional
            This neck's carving plan: then the blank and the saw's lines are with them.
        **options
            Options of templates; ``bounds("template_options")`` tells them.

        Returns
        -------
        tuple of Sheet

        Raises
        ------
        NeckwrightError
            ``conflict`` for the plan of another neck; options out of their bounds.

        Notes
        -----
        Rust: ``paper::templates``, ``paper::side_with_stock``. C: ``nw_neck_templates``.
        """
    def section_sheet(self, x_mm: _One | _Many | _Quantity) -> Sheet:
        """Sections at stations on one sheet.

        Parameters
        ----------
        x_mm : array, or sequence of float, str or quantity
            Stations, mm from the nut; texts such as ``"fret 5"``.

        Returns
        -------
        Sheet

        Raises
        ------
        NeckwrightError
            ``outside_neck`` for a station that is not on the neck.

        Notes
        -----
        Rust: ``paper::sections``. C: ``nw_neck_section_sheet``.
        """
    def _copied_cloud(self, points: bytes, **options: Any) -> Copied:
        """As :meth:`copy_cloud`, for what comes back from a pickle: the copy alone, from the bytes of the points."""
    def _inspected(self, readings: Readings, stage: Stage | None, **options: Any) -> Inspection:
        """As :meth:`inspect`, for what comes back from a pickle."""
    def __eq__(self, other: object, /) -> bool: ...
    def __hash__(self) -> int: ...
    def __copy__(self) -> Neck: ...
    def __deepcopy__(self, _memo: object, /) -> Neck: ...

@final
class Layout:
    """Scale, fretboard and strings of a neck, as if it were right-handed: lengths, angles and stations are the same, ``y`` changes its
    sign on a left-handed neck. :meth:`Neck.frets` and :meth:`Neck.strings` have it right already.

    Notes
    -----
    Rust: ``layout::Layout``. C: ``nw_neck_layout`` and its like.
    """
    def board(self) -> records.Board:
        """The fretboard's numbers.

        Returns
        -------
        records.Board

        Notes
        -----
        Rust: ``layout::Layout::board``, ``layout::Board``. C: ``nw_neck_layout``.
        """
    def scale_mm(self) -> float:
        """Scale length on the centreline, mm.

        Returns
        -------
        float

        Notes
        -----
        Rust: ``layout::Layout::scale_mm``. C: ``nw_neck_layout``.
        """
    def nut_line(self) -> records.FretLine:
        """The line of the nut.

        Returns
        -------
        records.FretLine

        Notes
        -----
        Rust: ``layout::Layout::nut_line``. C: ``nw_neck_layout``.
        """
    def bridge_line(self) -> records.FretLine:
        """The line of the bridge.

        Returns
        -------
        records.FretLine

        Notes
        -----
        Rust: ``layout::Layout::bridge_line``. C: ``nw_neck_layout``.
        """
    def total_wire_mm(self) -> float:
        """Length of wire that all frets take, mm.

        Returns
        -------
        float

        Notes
        -----
        Rust: ``layout::Layout::total_wire_mm``. C: ``nw_neck_layout``.
        """
    def string_departures_cents(self) -> _Array:
        """How much sharp (above 0) or flat each fret stops each string by its length alone, against the temperament.

        Returns
        -------
        ndarray
            Cents, of shape ``(strings, frets)``, bass string first.

        Notes
        -----
        Rust: ``layout::Layout::string_departures_cents``. C: ``nw_neck_layout``.
        """
    def hump(self, string: SupportsIndex, from_mm: _Measure, to_mm: _Measure) -> records.Hump:
        """How the board stands off a straight edge that is laid along a string's line from one station to another.

        Parameters
        ----------
        string : int
            Which string, from 0, the bass string.
        from_mm, to_mm : float, str or quantity
            The stations, mm from the nut, the nearer one first; a text such as ``"fret 5"``.

        Returns
        -------
        records.Hump

        Raises
        ------
        NeckwrightError
            A string that is not there; stations off the board, or not in order.

        Notes
        -----
        Rust: ``layout::Layout::hump``. C: ``nw_neck_hump``.
        """
    def humps(self) -> tuple[records.Hump, ...]:
        """The hump under each string from the nut to the board's end.

        Returns
        -------
        tuple of records.Hump
            Bass string first.

        Notes
        -----
        Rust: ``layout::Layout::humps``. C: ``nw_neck_layout``.
        """
    def least_margin(self) -> records.LeastMargin:
        """Where a string comes nearest to the board's edge.

        Returns
        -------
        records.LeastMargin

        Notes
        -----
        Rust: ``layout::Layout::least_margin``. C: ``nw_neck_least_margin``.
        """
    def margins_mm(self, x_mm: _One | _Many | _Quantity) -> _Array:
        """From the outer strings' outer sides to the board's edges at stations.

        Parameters
        ----------
        x_mm : float, str, quantity or array of them
            Stations, mm from the nut toward the bridge; a text such as ``"fret 5"`` or ``"4 3/4 in"``.

        Returns
        -------
        ndarray
            mm, of the shape of ``x_mm`` and one more axis of 2: bass and treble.

        Raises
        ------
        NeckwrightError
            A station that is not on the board.
        TypeError
            Something that is no number, text or quantity.

        Notes
        -----
        Rust: ``layout::Layout::try_margins_mm``. C: ``nw_neck_margins_mm``.
        """
    @overload
    def spacing_mm(self, x_mm: _One, *, string: SupportsIndex, out: None = None) -> float:
        """Distance between the centres of a string and of the next one toward the treble side at stations.

        Strings are straight lines: behind the nut and beyond the bridge the answer is that of the line carried on.

        Parameters
        ----------
        x_mm : float, str, quantity or array of them
            Stations, mm from the nut toward the bridge; a text such as ``"fret 5"`` or ``"4 3/4 in"``.
        string : int
            Which string, from 0, the bass string.
        out : ndarray of float64, optional
            Where the answers are written; of the shape of ``x_mm``, in C order; it may be ``x_mm`` or share memory with it. Other
            threads run meanwhile: none may write to ``x_mm`` or touch ``out``.

        Returns
        -------
        float or ndarray
            mm; a float for one station, an array of the shape of ``x_mm`` for an array.

        Raises
        ------
        NeckwrightError
            ``out_of_range`` where there are no such two strings; ``outside_neck`` for a station that is no finite number.

        Examples
        --------
        >>> from neckwright import Neck
        >>> neck = Neck(nut={"width": 43, "string_spread": 36}, strings={"spacing": "even_centres"})
        >>> round(neck.layout().spacing_mm(0, string=0), 9)
        7.2

        Notes
        -----
        Rust: ``layout::Layout::spacing_mm``. C: ``nw_neck_string_spacing_mm``.
        """
    @overload
    def spacing_mm(self, x_mm: _Many, *, string: SupportsIndex, out: _Array | None = None) -> _Array: ...
    @overload
    def spacing_mm(self, x_mm: _Quantity, *, string: SupportsIndex, out: _Array | None = None) -> Any: ...
    @overload
    def gap_mm(self, x_mm: _One, *, string: SupportsIndex, out: None = None) -> float:
        """Clear gap between a string and the next one toward the treble side at stations.

        Strings are straight lines: behind the nut and beyond the bridge the answer is that of the line carried on.

        Parameters
        ----------
        x_mm : float, str, quantity or array of them
            Stations, mm from the nut toward the bridge; a text such as ``"fret 5"`` or ``"4 3/4 in"``.
        string : int
            Which string, from 0, the bass string.
        out : ndarray of float64, optional
            Where the answers are written; of the shape of ``x_mm``, in C order; it may be ``x_mm`` or share memory with it. Other
            threads run meanwhile: none may write to ``x_mm`` or touch ``out``.

        Returns
        -------
        float or ndarray
            mm; a float for one station, an array of the shape of ``x_mm`` for an array.

        Raises
        ------
        NeckwrightError
            ``out_of_range`` where there are no such two strings; ``outside_neck`` for a station that is no finite number.

        Notes
        -----
        Rust: ``layout::Layout::gap_mm``. C: ``nw_neck_string_gap_mm``.
        """
    @overload
    def gap_mm(self, x_mm: _Many, *, string: SupportsIndex, out: _Array | None = None) -> _Array: ...
    @overload
    def gap_mm(self, x_mm: _Quantity, *, string: SupportsIndex, out: _Array | None = None) -> Any: ...
    @overload
    def string_y_mm(self, x_mm: _One, *, string: SupportsIndex, out: None = None) -> float:
        """Distance of a string's centre from the centreline at stations, above 0 on the treble side.

        Strings are straight lines: behind the nut and beyond the bridge the answer is that of the line carried on.

        Parameters
        ----------
        x_mm : float, str, quantity or array of them
            Stations, mm from the nut toward the bridge; a text such as ``"fret 5"`` or ``"4 3/4 in"``.
        string : int
            Which string, from 0, the bass string.
        out : ndarray of float64, optional
            Where the answers are written; of the shape of ``x_mm``, in C order; it may be ``x_mm`` or share memory with it. Other
            threads run meanwhile: none may write to ``x_mm`` or touch ``out``.

        Returns
        -------
        float or ndarray
            mm; a float for one station, an array of the shape of ``x_mm`` for an array.

        Raises
        ------
        NeckwrightError
            ``out_of_range`` where there is no such string; ``outside_neck`` for a station that is no finite number.

        Notes
        -----
        Rust: ``layout::Layout::string_y_mm``. C: ``nw_neck_strings``.
        """
    @overload
    def string_y_mm(self, x_mm: _Many, *, string: SupportsIndex, out: _Array | None = None) -> _Array: ...
    @overload
    def string_y_mm(self, x_mm: _Quantity, *, string: SupportsIndex, out: _Array | None = None) -> Any: ...
    def __eq__(self, other: object, /) -> bool: ...
    def __hash__(self) -> int: ...
    def __copy__(self) -> Layout: ...
    def __deepcopy__(self, _memo: object, /) -> Layout: ...

@final
class Section:
    """A section of a neck, in the plane square to the centreline at one station.

    Points are ``(y, z)`` in mm in the frame of the neck: ``y`` toward the treble side of a right-handed neck, ``z`` out of the
    fretboard, the crown of the board at ``z = 0``. Made by :meth:`Neck.section`.

    Notes
    -----
    Rust: ``shape::Section``. C: ``nw_neck_section_outline`` and its like.
    """
    def x_mm(self) -> float:
        """Its station, mm from the nut.

        Returns
        -------
        float

        Notes
        -----
        Rust: ``shape::Section::x_mm``.
        """
    def area_mm2(self) -> float:
        """Its area, the rod's channel filled, mm².

        Returns
        -------
        float

        Notes
        -----
        Rust: ``shape::Section::area_mm2``. C: ``nw_neck_section_moments``.
        """
    def centroid_mm(self) -> tuple[float, float]:
        """Its centroid ``(y, z)``, mm.

        Returns
        -------
        tuple of float

        Notes
        -----
        Rust: ``shape::Section::centroid_mm``. C: ``nw_neck_section_moments``.
        """
    def second_moment_mm4(self) -> tuple[float, float, float]:
        """Its second moments of area about the centroid: ``∫(z-z₀)²``, which resists bending along the neck, ``∫(y-y₀)²`` and
        ``∫(y-y₀)(z-z₀)``, mm⁴.

        Returns
        -------
        tuple of float

        Notes
        -----
        Rust: ``shape::Section::second_moment_mm4``. C: ``nw_neck_section_moments``.
        """
    def moments(self, *, part: _Part = "whole") -> records.Moments:
        """Area, first and second moments about the frame's own axes.

        Parameters
        ----------
        part : {"whole", "fretboard", "neck_wood", "channel"}
            What of it.

        Returns
        -------
        records.Moments
            Zeros where there is nothing of the part.

        Notes
        -----
        Rust: ``shape::Section::moments``, ``shape::Section::part_moments``. C: ``nw_neck_section_moments``.
        """
    def outline(self, *, part: _Part = "whole") -> records.Outline | None:
        """Its outline as exact segments: straight lines, cubic Béziers and the crown's arc.

        Parameters
        ----------
        part : {"whole", "fretboard", "neck_wood", "channel"}
            What of it.

        Returns
        -------
        records.Outline or None
            ``None`` where there is nothing of the part.

        Notes
        -----
        Rust: ``shape::Section::outline``, ``shape::Section::part_outline``. C: ``nw_neck_section_outline``.
        """
    def polyline_mm(self, chord_mm: _Measure = 0.05, *, part: _Part = "whole") -> _Array:
        """Its outline as a polyline, no further from it than a chord's height.

        Parameters
        ----------
        chord_mm : float, str or quantity
            How far it may lie off, mm; above 0.
        part : {"whole", "fretboard", "neck_wood", "channel"}
            What of it.

        Returns
        -------
        ndarray
            Corners ``(y, z)``, mm, of shape ``(n, 2)``; the last is joined to the first. No corner where there is nothing of the
            part.

        Raises
        ------
        NeckwrightError
            A chord that is out of its range.

        Notes
        -----
        Rust: ``shape::Section::polyline_mm``, ``shape::Outline::polyline``. C: ``nw_neck_section_polyline``.
        """
    def control_points_mm(self, *, side: _Side) -> _Array | None:
        """The four control points of one side of the back, a cubic Bézier from the carve line to the spine.

        Parameters
        ----------
        side : {"bass", "treble"}
            On which side.

        Returns
        -------
        ndarray or None
            ``(y, z)`` of each, mm, of shape ``(4, 2)``; ``None`` beyond the end of the neck wood.

        Notes
        -----
        Rust: ``shape::Section::control_points_mm``. C: ``nw_neck_section_control_points``.
        """
    def girth_mm(self) -> float:
        """A tape laid around the back from one top edge of the board to the other, mm.

        Returns
        -------
        float

        Notes
        -----
        Rust: ``shape::Section::girth_mm``. C: ``nw_neck_girth_mm``.
        """
    def sharpest(self) -> records.Bend | None:
        """The place on the back that is bent most.

        Returns
        -------
        records.Bend or None
            ``None`` beyond the end of the neck wood.

        Notes
        -----
        Rust: ``shape::Section::sharpest``. C: ``nw_neck_section_bends``.
        """
    def flattest(self) -> records.Bend | None:
        """The place on the back that is bent least.

        Returns
        -------
        records.Bend or None
            ``None`` beyond the end of the neck wood.

        Notes
        -----
        Rust: ``shape::Section::flattest``. C: ``nw_neck_section_bends``.
        """
    def __eq__(self, other: object, /) -> bool: ...
    def __hash__(self) -> int: ...
    def __copy__(self) -> Section: ...
    def __deepcopy__(self, _memo: object, /) -> Section: ...

@final
class CarvingPlan:
    """A carving plan: every stage from the blank to the last grit.

    Made by :meth:`Neck.carving_plan`. It never changes, and may be used from any number of threads.

    Every stage carries its cautions, of blade, cutter, dust, chip-out and breaking into the rod's channel. The machines' manuals,
    local rules and qualified practice come first.

    Notes
    -----
    Rust: ``carve::CarvingPlan``. C: ``nw_plan_document``.
    """
    def stages(self) -> tuple[Stage, ...]:
        """The stages in their order.

        Returns
        -------
        tuple of Stage

        Notes
        -----
        Rust: ``carve::CarvingPlan::stages``. C: ``nw_plan_document``, ``nw_plan_stage_count``.
        """
    def stage(self, name: str) -> Stage:
        """The stage of a name.

        Parameters
        ----------
        name : str
            Such as ``"contour"``; :data:`neckwright.records.StageName` has all of them.

        Returns
        -------
        Stage

        Raises
        ------
        NeckwrightError
            The plan has no such stage; those that it has are named.

        Notes
        -----
        Rust: ``carve::CarvingPlan::stage``. C: ``nw_plan_document``.
        """
    def start(self) -> Wood:
        """The wood before the first stage: the blanks.

        Returns
        -------
        Wood

        Notes
        -----
        Rust: ``carve::CarvingPlan::start``. C: ``nw_plan_wood_volume_mm3``.
        """
    def stock(self) -> dict[str, Any]:
        """The stock that the plan was made for, with every default filled in.

        Returns
        -------
        dict
            A new one each time.

        Notes
        -----
        Rust: ``carve::CarvingPlan::stock``, ``spec::Stock::to_json``. C: ``nw_plan_document``.
        """
    def stock_mm3(self) -> float:
        """Volume of the blanks, mm³.

        Returns
        -------
        float

        Notes
        -----
        Rust: ``carve::CarvingPlan::stock_mm3``. C: ``nw_plan_document``.
        """
    def finished_mm3(self) -> float:
        """Volume of the finished neck, mm³.

        Returns
        -------
        float

        Notes
        -----
        Rust: ``carve::CarvingPlan::finished_mm3``. C: ``nw_plan_document``.
        """
    def stops_mm(self) -> tuple[float, float]:
        """The stop lines: first and last station of what is carved between headstock and heel, mm.

        Returns
        -------
        tuple of float

        Notes
        -----
        Rust: ``carve::CarvingPlan::stops_mm``. C: ``nw_plan_document``.
        """
    def glued_from_mm(self) -> float:
        """The station from which the heel is glued or bolted, and nothing may touch it, mm.

        Returns
        -------
        float

        Notes
        -----
        Rust: ``carve::CarvingPlan::glued_from_mm``. C: ``nw_plan_document``.
        """
    def sheets(self) -> tuple[Sheet, ...]:
        """The pages of the plan, one for each stage, in their order.

        Returns
        -------
        tuple of Sheet

        Notes
        -----
        Rust: ``paper::carving_pages``. C: ``nw_plan_sheets``.
        """
    def __eq__(self, other: object, /) -> bool: ...
    def __hash__(self) -> int: ...
    def __copy__(self) -> CarvingPlan: ...
    def __deepcopy__(self, _memo: object, /) -> CarvingPlan: ...

@final
class Stage:
    """One stage of a carving plan: what to mark, what to cut, what to check, and the wood after it.

    Made by :meth:`CarvingPlan.stages`.

    Notes
    -----
    Rust: ``carve::Stage``. C: ``nw_plan_document``.
    """
    @property
    def name(self) -> records.StageName:
        """Which one."""
    @property
    def action(self) -> str:
        """What is done."""
    @property
    def tool(self) -> str:
        """With what kind of tool."""
    @property
    def lines(self) -> tuple[records.Line, ...]:
        """The lines to mark before it."""
    @property
    def checks(self) -> tuple[records.Check, ...]:
        """What to check after it, before going on."""
    @property
    def cautions(self) -> tuple[records.Caution, ...]:
        """Cautions."""
    @property
    def removed_mm3(self) -> float:
        """Wood that this stage takes off, mm³."""
    @property
    def left_mm3(self) -> float:
        """Wood that is left after it, board and neck together, mm³."""
    @property
    def clearance(self) -> records.Clearance | None:
        """The least wood between this stage's cut and the finished neck (or, where an allowance runs out at the
        carve line, the neck with that allowance still on), proven; of contouring and the transitions, whose
        allowance runs out at the carve line, straight down along the spine. ``None`` for a stage that takes
        nothing, or that cuts faces to their finished place.
        """
    @property
    def details(self) -> records.Details:
        """What only this stage has."""
    @property
    def wood(self) -> Wood:
        """The wood after it."""
    @property
    def index(self) -> int:
        """Its place among the stages of its plan, from 0."""
    @property
    def plan(self) -> CarvingPlan:
        """The plan that it is of."""
    def sheet(self) -> Sheet:
        """Its page of the plan: what to do, the lines to mark, the wood before and after, the readings to check and the cautions.

        Returns
        -------
        Sheet

        Notes
        -----
        Rust: ``paper::carving_page``. C: ``nw_plan_sheets``, by the stage's number.
        """
    def __eq__(self, other: object, /) -> bool: ...
    def __hash__(self) -> int: ...
    def __copy__(self) -> Stage: ...
    def __deepcopy__(self, _memo: object, /) -> Stage: ...

@final
class Wood:
    """The wood after a stage of a carving plan: the blanks less the cuts so far.

    That after a stage is :attr:`Stage.wood`, that before the first one :meth:`CarvingPlan.start`.

    Notes
    -----
    Rust: ``carve::Wood``. C: ``nw_plan_wood_volume_mm3`` and its like.
    """
    @overload
    def area_mm2(self, x_mm: _One, *, out: None = None) -> float:
        """Area of board and neck wood together in the sections at stations, the rod's channel filled; 0 off the wood.

        Parameters
        ----------
        x_mm : float, str, quantity or array of them
            Stations, mm from the nut; a text such as ``"4 3/4 in"``. Where a fret lies tells :meth:`Neck.station_mm`.
        out : ndarray of float64, optional
            Where the answers are written; of the shape of ``x_mm``, in C order; it may be ``x_mm`` or share memory with it. Other
            threads run meanwhile: none may write to ``x_mm`` or touch ``out``.

        Returns
        -------
        float or ndarray
            mm², of the shape of ``x_mm``.

        Notes
        -----
        Rust: ``carve::Wood::area_mm2``. C: ``nw_plan_wood_area_mm2``.
        """
    @overload
    def area_mm2(self, x_mm: _Many, *, out: _Array | None = None) -> _Array: ...
    @overload
    def area_mm2(self, x_mm: _Quantity, *, out: _Array | None = None) -> Any: ...
    @overload
    def depth_mm(self, x_mm: _One, *, out: None = None) -> float:
        """Depth of its underside below the crown plane on the centreline at stations.

        Parameters
        ----------
        x_mm : float, str, quantity or array of them
            Stations, mm from the nut; a text such as ``"4 3/4 in"``. Where a fret lies tells :meth:`Neck.station_mm`.
        out : ndarray of float64, optional
            Where the answers are written; of the shape of ``x_mm``, in C order; it may be ``x_mm`` or share memory with it. Other
            threads run meanwhile: none may write to ``x_mm`` or touch ``out``.

        Returns
        -------
        float or ndarray
            mm; a float for one station, an array of the shape of ``x_mm`` for an array.

        Raises
        ------
        NeckwrightError
            A station where there is no wood.

        Notes
        -----
        Rust: ``carve::Wood::depth_mm``. C: ``nw_plan_wood_depth_mm``.
        """
    @overload
    def depth_mm(self, x_mm: _Many, *, out: _Array | None = None) -> _Array: ...
    @overload
    def depth_mm(self, x_mm: _Quantity, *, out: _Array | None = None) -> Any: ...
    def polyline_mm(self, x_mm: _Measure, chord_mm: _Measure = 0.05) -> _Array:
        """Its section at a station as a polyline, no further from it than a chord's height.

        Parameters
        ----------
        x_mm : float, str or quantity
            The station, mm from the nut; a text such as ``"4 3/4 in"``.
        chord_mm : float, str or quantity
            How far it may lie off, mm; above 0.

        Returns
        -------
        ndarray
            Corners ``(y, z)``, mm, of shape ``(n, 2)``; the last is joined to the first.

        Raises
        ------
        NeckwrightError
            A station where there is no wood, or a chord that is out of its range.

        Notes
        -----
        Rust: ``carve::Wood::polyline_mm``. C: ``nw_plan_wood_polyline``.
        """
    def contains_mm(self, points_mm: Any, *, within_mm: _Measure = 0.0) -> NDArray[np.bool_]:
        """Whether points lie in it.

        Parameters
        ----------
        points_mm : array or quantity
            Points ``(x, y, z)``, mm, of shape ``(n, 3)``.
        within_mm : float, str or quantity
            How far outside a point may lie and still count, mm; below 0, how far inside it has to lie.

        Returns
        -------
        ndarray of bool
            Of shape ``(n,)``. A point with a NaN lies in nothing.

        Raises
        ------
        NeckwrightError
            ``out_of_range`` for a ``within_mm`` that is no finite number; ``buffer`` for points of another shape.
        TypeError
            What is no array of points.

        Notes
        -----
        Rust: ``carve::Wood::contains_mm``. C: ``nw_plan_wood_contains``.
        """
    def volume_mm3(self) -> float:
        """Its volume, mm³, less the rod's channel and the tuner holes once they are cut.

        Returns
        -------
        float

        Notes
        -----
        Rust: ``carve::Wood::volume_mm3``. C: ``nw_plan_wood_volume_mm3``.
        """
    def bored_mm3(self) -> float:
        """What the channel and the tuner holes have taken of it so far, mm³.

        Returns
        -------
        float

        Notes
        -----
        Rust: ``carve::Wood::bored_mm3``. C: ``nw_neck_volume``.
        """
    def reach_mm(self) -> tuple[float, float]:
        """First and last station of it, mm.

        Returns
        -------
        tuple of float

        Notes
        -----
        Rust: ``carve::Wood::reach_mm``. C: ``nw_plan_wood_reach_mm``.
        """
    def solids(self) -> tuple[Solid, ...]:
        """It as closed solids: one, named ``wood``, up to the transitions; from then on two, ``neck wood`` and ``fretboard``.

        Channel and tuner holes count as wood here, unlike in :meth:`volume_mm3`.

        Returns
        -------
        tuple of Solid

        Raises
        ------
        NeckwrightError
            Wood whose faces can't be put together; the fault says which cut is the reason.

        Notes
        -----
        Rust: ``carve::Wood::solids``. C: ``nw_plan_wood_solids``.
        """
    def __eq__(self, other: object, /) -> bool: ...
    def __hash__(self) -> int: ...
    def __copy__(self) -> Wood: ...
    def __deepcopy__(self, _memo: object, /) -> Wood: ...

@final
class Readings:
    """Readings of instruments, in the order in which they were given.

    Two are equal where all that is made of them is: what they are called, the readings, and the lines and numbers by which
    sentences name them. The text that they were read from does not count.

    Parameters
    ----------
    document : mapping, list, str or path
        Readings as their JSON document has them: a mapping with ``readings``, a list of readings alone, JSON text, or a file (a path
        object, or a text that ends in ``.json``). A reading is a
        mapping of ``at``, ``quantity``, ``value`` and, where it has them, ``side``, ``across``, ``uncertainty``, ``instrument``.
        :func:`schema` tells all of it; :meth:`from_csv` reads tables.
    good : bool
        Whether readings that are wrong are left out, instead of refusing all.

    Raises
    ------
    NeckwrightError
        Everything that is wrong with them, each fault with the line or the number of its reading.
    TypeError
        Something that no document can hold.

    Examples
    --------
    >>> from neckwright import Readings
    >>> readings = Readings([{"at": "fret 5", "quantity": "thickness", "value": 22.3}])
    >>> readings.readings()[0].uncertainty
    0.05

    Notes
    -----
    Rust: ``inspect::Readings``, ``inspect::Readings::from_json``, ``inspect::Readings::new``. C: ``nw_readings_from_json``, ``nw_readings_from_json_good``.
    """
    def __new__(
        cls,
        document: _Document | list[Any] | tuple[Any, ...],
        *,
        good: bool = False,
    ) -> Readings: ...
    @classmethod
    def from_csv(cls, text: str | PathLike[str], *, good: bool = False) -> Readings:
        """Reads a table of comma-separated values: a header that names the columns, then a reading a line.

        Parameters
        ----------
        text : str or path object
            The table, or the file that it is in: a path object, or a text that ends in ``.csv``. Columns: ``at``, ``quantity``, ``value``, and where wanted ``side``, ``across``,
            ``uncertainty``, ``instrument``, ``note``.
        good : bool
            Whether readings that are wrong are left out, instead of refusing all.

        Returns
        -------
        Readings

        Raises
        ------
        NeckwrightError
            Everything that is wrong with them, each fault with its line.

        Examples
        --------
        >>> from neckwright import Readings
        >>> len(Readings.from_csv("at,quantity,value\\nfret 5,thickness,22.3\\n"))
        1

        Notes
        -----
        Rust: ``inspect::Readings::from_csv``. C: ``nw_readings_from_csv``, ``nw_readings_from_csv_good``.
        """
    @classmethod
    def from_json(cls, text: str | PathLike[str], *, good: bool = False) -> Readings:
        """Reads a JSON document of readings.

        Parameters
        ----------
        text : str or path object
            The document, or the file that it is in: a path object, or a text that ends in ``.json``.
        good : bool
            Whether readings that are wrong are left out, instead of refusing all.

        Returns
        -------
        Readings

        Raises
        ------
        NeckwrightError
            Everything that is wrong with them, each fault with its line.

        Notes
        -----
        Rust: ``inspect::Readings::from_json``. C: ``nw_readings_from_json``, ``nw_readings_from_json_good``.
        """
    @classmethod
    def _told(cls, text: str) -> Readings:
        """As :meth:`from_json`, for what comes back from a pickle and was not read from any line."""
    def readings(self) -> tuple[records.Reading, ...]:
        """All of them.

        Returns
        -------
        tuple of records.Reading

        Notes
        -----
        Rust: ``inspect::Readings::readings``, ``inspect::Readings::iter``, ``inspect::Readings::into_vec``. C: ``nw_readings_json``.
        """
    def name(self) -> str:
        """What they are called; empty without a name.

        Returns
        -------
        str

        Notes
        -----
        Rust: ``inspect::Readings::name``. C: ``nw_readings_json``.
        """
    def number(self, place: SupportsIndex) -> int:
        """The place of one of them in the list that they were picked from.

        Parameters
        ----------
        place : int
            Its place among these, from 0.

        Returns
        -------
        int

        Raises
        ------
        NeckwrightError
            A place that there is none at.

        Notes
        -----
        Rust: ``inspect::Readings::number``.
        """
    def to_csv(self) -> str:
        """As a table of comma-separated values.

        Returns
        -------
        str

        Notes
        -----
        Rust: ``inspect::Readings::to_csv``. C: ``nw_readings_csv``.
        """
    def to_json(self) -> str:
        """As JSON text.

        Returns
        -------
        str

        Notes
        -----
        Rust: ``inspect::Readings::to_json``. C: ``nw_readings_json``.
        """
    def check_on(self, neck: Neck) -> None:
        """Checks that they can be of a neck.

        Parameters
        ----------
        neck : Neck
            The neck.

        Raises
        ------
        NeckwrightError
            Readings that can't be of it, each with its line.

        Notes
        -----
        Rust: ``inspect::Readings::check_on``. C: ``nw_readings_check_on``.
        """
    def __len__(self) -> int: ...
    def __getitem__(self, key: SupportsIndex, /) -> records.Reading: ...
    def __eq__(self, other: object, /) -> bool: ...
    def __hash__(self) -> int: ...
    def __copy__(self) -> Readings: ...
    def __deepcopy__(self, _memo: object, /) -> Readings: ...

@final
class Inspection:
    """What readings say about a neck: how far each lies off it, where too much is gone, where the wood is not fair, what is left to
    take.

    Made by :meth:`Neck.inspect`.

    Notes
    -----
    Rust: ``inspect::Inspection``. C: ``nw_inspection_document``.
    """
    @property
    def rows(self) -> tuple[records.Row, ...]:
        """Every reading against the neck, in the order given."""
    @property
    def stage(self) -> records.StageName | None:
        """The stage that was asked for."""
    @property
    def doubtful(self) -> tuple[records.Doubt, ...]:
        """Readings that contradict each other, in pairs."""
    @property
    def misread(self) -> tuple[int, ...]:
        """Readings, by their places, that lie more than 5 mm below the finished neck, of a girth more than 10 mm,
        and more than six of their standard uncertainties: no tool takes so much by mistake (our own choice), so
        that they are likelier misread, or of another neck. They are named in a sentence and, like those in doubt,
        set aside.
        """
    @property
    def low(self) -> tuple[records.Finding, ...]:
        """Where the wood lies below the finished neck, the clearest first."""
    @property
    def unfair(self) -> tuple[records.Finding, ...]:
        """Where the wood departs from a fair surface, the clearest first, whatever allowance is still on."""
    @property
    def map(self) -> records.Map | None:
        """What is left to take to the finished neck, from the nut to the heel; ``None`` without a thickness or a
        point there.
        """
    @property
    def stage_map(self) -> records.Map | None:
        """What is left to take to the stage that was asked for."""
    @property
    def sentences(self) -> tuple[str, ...]:
        """All of it in plain words for the bench, each place once: where a low patch tells, neither a hollow nor a
        station does. What stands behind ± is twice the standard uncertainty.
        """
    @property
    def neck(self) -> Neck:
        """The neck that was inspected."""
    def set_aside(self) -> tuple[int, ...]:
        """The readings, by their places, rising, that are set aside because they contradict another one or are likelier misread.

        Returns
        -------
        tuple of int

        Notes
        -----
        Rust: ``inspect::Inspection::set_aside``. C: ``nw_inspection_document``.
        """
    def low_readings(self, readings: Readings) -> Readings:
        """The readings that low patches were found in, but those set aside: what :meth:`Neck.mend` is given.

        Parameters
        ----------
        readings : Readings
            The readings that were inspected.

        Returns
        -------
        Readings
            Empty where nothing is low.

        Raises
        ------
        NeckwrightError
            ``conflict`` for other readings.

        Notes
        -----
        Rust: ``inspect::Inspection::low_readings``. C: ``nw_inspection_low_readings``.
        """
    def sheet(self) -> Sheet | None:
        """The map of what is left to take, at full size.

        Returns
        -------
        Sheet or None
            ``None`` where there is no map.

        Notes
        -----
        Rust: ``paper::inspection``. C: ``nw_inspection_sheets``.
        """
    def __eq__(self, other: object, /) -> bool: ...
    def __hash__(self) -> int: ...
    def __copy__(self) -> Inspection: ...
    def __deepcopy__(self, _memo: object, /) -> Inspection: ...

@final
class Mending:
    """What comes of mending: the nearest fair neck that lies within the wood that is still there, or what forbids it.

    Made by :meth:`Neck.mend`.

    Notes
    -----
    Rust: ``inspect::Mending``. C: ``nw_mending_document``.
    """
    @property
    def outcome(self) -> Literal["mended", "impossible"]:
        """Whether it can be mended: ``"mended"`` or ``"impossible"``."""
    @property
    def result(self) -> records.Mended | tuple[records.Forbidden, ...]:
        """What comes off where (:class:`records.Mended`), or what forbids it (a tuple of :class:`records.Forbidden`). A new one each
        time, as a specification that can be changed is in it.
        """
    @property
    def neck(self) -> Neck | None:
        """The mended neck; ``None`` where it is impossible."""
    def __eq__(self, other: object, /) -> bool: ...
    def __hash__(self) -> int: ...
    def __copy__(self) -> Mending: ...
    def __deepcopy__(self, _memo: object, /) -> Mending: ...

@final
class Copied:
    """A neck copied from readings, and how surely each of its numbers is known.

    Made by :meth:`Neck.copy_neck`, and part of what :meth:`Neck.copy_cloud` makes.

    Notes
    -----
    Rust: ``inspect::Copied``. C: ``nw_copied_document``.
    """
    @property
    def specification(self) -> dict[str, Any]:
        """The specification; it makes a neck. A new one each time."""
    @property
    def numbers(self) -> tuple[records.Number, ...]:
        """Every number of which the readings tell something, in the order of the document."""
    @property
    def kept(self) -> tuple[records.Kept, ...]:
        """The numbers of the same fields that no reading tells."""
    @property
    def moved(self) -> tuple[records.Kept, ...]:
        """The thicknesses of the base that went along with the one or two that the readings tell, as they are now,
        and how far off that line the neck's may be: as much as necks differ, but no more than readings around
        them leave. How far off the line itself may be is not in it; see ``thickness_uncertainty_mm``.
        """
    @property
    def covariance(self) -> tuple[float, ...]:
        """Covariance of ``numbers``, row by row, in their units."""
    @property
    def residuals(self) -> tuple[records.Residual, ...]:
        """What is left of every reading that was used, in the order given."""
    @property
    def unused(self) -> tuple[records.Unused, ...]:
        """The readings that were of no use, in the order given."""
    @property
    def chi2(self) -> float:
        """Sum of the squares of what is left, each over its reading's uncertainty, and of how far the numbers that
        the base has a say in are off the base's, each over how much necks differ in it.
        """
    @property
    def degrees_of_freedom(self) -> int:
        """Readings used less numbers that they alone tell."""
    @property
    def p_value(self) -> float | None:
        """The chance that readings of these uncertainties scatter as much or more: a small one says that they
        scatter more than their uncertainties say, or that the neck is not one of this sort. ``None`` where
        nothing is left over, or where far-off readings counted less: then see ``misfit``. Too small rather than
        too great where there was a ``pull`` of more than 1, as the sum of squares then is not the least there is.
        """
    @property
    def misfit(self) -> float | None:
        """How far the readings scatter, in their uncertainties: the median size of what is left of them,
        ``standardised``, over that of a standard normal number; of those that others check
        (``Residual::unchecked``), ``None`` where none is. About 1 where readings and neck are as they are said to
        be; far-off readings hardly change it. Of a robust fit, which has no chance to tell, look here: 2 or more
        says that the neck is not one of this sort, or that the uncertainties are too small, and then the
        uncertainties told do not hold.
        """
    @property
    def pull(self) -> float | None:
        """Where numbers that make no neck were nearest to the readings: how many times as sharp the base's values
        counted as they are, in every number, so that there was a neck, 1 to 8. ``None``: they had no more say
        than they should. The uncertainties told are those of the fit that was made so.
        """
    @property
    def steps(self) -> int:
        """Steps that the fit took."""
    def neck(self) -> Neck:
        """The copied neck.

        Returns
        -------
        Neck

        Notes
        -----
        Rust: ``shape::Neck::new``. C: ``nw_document_part``, ``nw_neck_from_json``.
        """
    def number(self, path: str) -> records.Number | None:
        """The number of a field by its path.

        Parameters
        ----------
        path : str
            Such as ``"shaft.thickness[0].thickness"``.

        Returns
        -------
        records.Number or None
            ``None`` where readings tell nothing of it.

        Notes
        -----
        Rust: ``inspect::Copied::number``. C: ``nw_copied_document``.
        """
    @overload
    def thickness_uncertainty_mm(self, x_mm: _One, *, out: None = None) -> float:
        """Standard uncertainty of the thickness at stations.

        Parameters
        ----------
        x_mm : float, str, quantity or array of them
            Stations, mm from the nut toward the bridge; a text such as ``"fret 5"`` or ``"4 3/4 in"``.
        out : ndarray of float64, optional
            Where the answers are written; of the shape of ``x_mm``, in C order; it may be ``x_mm`` or share memory with it. Other
            threads run meanwhile: none may write to ``x_mm`` or touch ``out``.

        Returns
        -------
        float or ndarray
            mm; a float for one station, an array of the shape of ``x_mm`` for an array.

        Raises
        ------
        NeckwrightError
            ``outside_neck`` for a station that is not on the shaft.

        Notes
        -----
        Rust: ``inspect::Copied::thickness_uncertainty_mm``. C: ``nw_copied_thickness_uncertainty_mm``.
        """
    @overload
    def thickness_uncertainty_mm(self, x_mm: _Many, *, out: _Array | None = None) -> _Array: ...
    @overload
    def thickness_uncertainty_mm(self, x_mm: _Quantity, *, out: _Array | None = None) -> Any: ...
    def mean_uncertainty_mm(self) -> float:
        """Root mean square of the standard uncertainty of thickness and surface over the shaft, mm.

        Returns
        -------
        float

        Notes
        -----
        Rust: ``inspect::Copied::mean_uncertainty_mm``. C: ``nw_copied_sharpest_next``.
        """
    def sharpest_next(self, most: SupportsIndex) -> tuple[records.Suggestion, ...]:
        """The readings worth taking next, the one that tells most first.

        Parameters
        ----------
        most : int
            How many at most.

        Returns
        -------
        tuple of records.Suggestion

        Notes
        -----
        Rust: ``inspect::Copied::sharpest_next``. C: ``nw_copied_sharpest_next``.
        """
    def __eq__(self, other: object, /) -> bool: ...
    def __hash__(self) -> int: ...
    def __copy__(self) -> Copied: ...
    def __deepcopy__(self, _memo: object, /) -> Copied: ...

@final
class Solid:
    """One closed solid: faces that share their edges, exact.

    Made by :meth:`Neck.solids` and :meth:`Wood.solids`. Faces, edges and vertices are numbered from 0.

    Notes
    -----
    Rust: ``solid::Solid``. C: ``nw_solid_counts`` and its like.
    """
    @property
    def name(self) -> str:
        """What it is of the neck."""
    @property
    def left_handed(self) -> bool:
        """Whether it is of a left-handed neck: its bass side lies at positive ``y``."""
    @property
    def vertices_mm(self) -> _Array:
        """Its vertices, mm, of shape ``(n, 3)``; read-only."""
    @property
    def edges(self) -> tuple[Edge, ...]:
        """Its edges: a tuple of :class:`Edge`."""
    @property
    def faces(self) -> tuple[Face, ...]:
        """Its faces: a tuple of :class:`Face`."""
    def is_closed(self) -> bool:
        """Whether every edge is gone along once each way; every solid that the library makes is.

        Returns
        -------
        bool

        Notes
        -----
        Rust: ``solid::Solid::is_closed``.
        """
    def mesh(self, **options: Unpack[_MeshOptions]) -> Mesh:
        """The solid as triangles, none of them further from it than a tolerance that is proven.

        Parameters
        ----------
        **options
            ``chord``: how far the triangles may lie off the surface. ``bounds("mesh_options")`` tells them.

        Returns
        -------
        Mesh

        Raises
        ------
        NeckwrightError
            Options out of their bounds.

        Examples
        --------
        >>> from neckwright import Neck
        >>> board = Neck().solids(slots=False)[1].mesh(chord=0.1)
        >>> bool(board.chord_mm <= 0.1)
        True

        Notes
        -----
        Rust: ``solid::Solid::mesh``. C: ``nw_solid_mesh``.
        """
    def __eq__(self, other: object, /) -> bool: ...
    def __hash__(self) -> int: ...
    def __copy__(self) -> Solid: ...
    def __deepcopy__(self, _memo: object, /) -> Solid: ...

@final
class Edge:
    """An edge of a solid, which two faces share.

    What its curve does not have is ``None``.

    Notes
    -----
    Rust: ``solid::Edge``, ``solid::Curve``, ``solid::SplineCurve``. C: ``nw_solid_edge``, ``nw_solid_edge_spline``.
    """
    @property
    def ends(self) -> tuple[int, int]:
        """The vertices where it starts and ends."""
    @property
    def curve(self) -> Literal["line", "arc", "spline"]:
        """Its curve: ``"line"``, ``"arc"`` or ``"spline"``."""
    @property
    def within_mm(self) -> float:
        """How far it may lie off either of its faces' surfaces, mm: 0 where it lies on both but for rounding."""
    @property
    def centre_mm(self) -> tuple[float, float, float] | None:
        """Of an arc: the circle's centre, mm. The arc goes counter-clockwise about the axis from start to end."""
    @property
    def axis(self) -> tuple[float, float, float] | None:
        """Of an arc: the axis, of length 1."""
    @property
    def radius_mm(self) -> float | None:
        """Of an arc: the radius, mm."""
    @property
    def degree(self) -> int | None:
        """Of a spline: the degree."""
    @property
    def knots(self) -> _Array | None:
        """Of a spline: the knots, rising, each once."""
    @property
    def multiplicities(self) -> NDArray[np.int64] | None:
        """Of a spline: how often each knot counts."""
    @property
    def poles_mm(self) -> _Array | None:
        """Of a spline: the poles, mm, of shape ``(n, 3)``; read-only."""
    @property
    def weights(self) -> _Array | None:
        """Of a rational spline: the weights of its poles, of shape ``(n,)``; read-only."""
    def at(self, t: _Number) -> tuple[float, float, float]:
        """The point of a spline at a parameter.

        Parameters
        ----------
        t : float
            The parameter, from the first knot to the last.

        Returns
        -------
        tuple of float
            ``(x, y, z)``, mm.

        Raises
        ------
        NeckwrightError
            ``out_of_range`` for a parameter before the first knot or beyond the last.
        TypeError
            The edge is no spline, or the parameter is no number.

        Notes
        -----
        Rust: ``solid::SplineCurve::at``. C: ``nw_solid_edge_spline``.
        """
    def __eq__(self, other: object, /) -> bool: ...
    def __hash__(self) -> int: ...
    def __copy__(self) -> Edge: ...
    def __deepcopy__(self, _memo: object, /) -> Edge: ...

@final
class Face:
    """A face of a solid: a part of a surface within closed loops of edges.

    What its surface does not have is ``None``.

    Notes
    -----
    Rust: ``solid::Face``, ``solid::Surface``, ``solid::SplineSurface``. C: ``nw_solid_face``, ``nw_solid_face_knots``,
    ``nw_solid_face_poles``, ``nw_solid_face_loops``.
    """
    @property
    def surface(self) -> Literal["plane", "cylinder", "spline"]:
        """Its surface: ``"plane"``, ``"cylinder"`` or ``"spline"``."""
    @property
    def outward(self) -> bool:
        """Whether the surface's normal points out of the solid. A spline's is that of its first parameter's direction times its second's."""
    @property
    def loops(self) -> tuple[tuple[tuple[int, bool], ...], ...]:
        """Its loops, each counter-clockwise as seen from outside, the outer one first: tuples of ``(edge, forward)``."""
    @property
    def point_mm(self) -> tuple[float, float, float] | None:
        """Of a plane: a point of it; of a cylinder: a point of its axis; mm."""
    @property
    def axis(self) -> tuple[float, float, float] | None:
        """Of a plane: the normal; of a cylinder: the axis; of length 1."""
    @property
    def across(self) -> tuple[float, float, float] | None:
        """Of a plane and a cylinder: a direction square to the axis, of length 1."""
    @property
    def radius_mm(self) -> float | None:
        """Of a cylinder: the radius, mm."""
    @property
    def degree(self) -> tuple[int, int] | None:
        """Of a spline: the degrees of both parameters, along and around."""
    @property
    def knots(self) -> tuple[_Array, _Array] | None:
        """Of a spline: the knots of both parameters, along and around, rising, each once."""
    @property
    def multiplicities(self) -> tuple[NDArray[np.int64], NDArray[np.int64]] | None:
        """Of a spline: how often each knot of both parameters counts."""
    @property
    def poles_mm(self) -> _Array | None:
        """Of a spline: the poles, mm, of shape ``(along, around, 3)``; read-only."""
    @property
    def weights(self) -> _Array | None:
        """Of a rational spline: the weights of its poles, of shape ``(along, around)``; read-only."""
    @property
    def traces(self) -> tuple[tuple[int, int, _Array, NDArray[np.int64], _Array], ...]:
        """For the edges that have one their traces in the surface's two parameters, splines by the parameter of the edge's curve: tuples of
        ``(edge, degree, knots, multiplicities, poles)``, the poles of shape ``(n, 2)``. Other edges lie on isolines of the surface.
        """
    def at(self, s: _Number, u: _Number) -> tuple[float, float, float]:
        """The point of a spline at two parameters.

        Parameters
        ----------
        s, u : float
            The parameters along and around, from the first knot to the last.

        Returns
        -------
        tuple of float
            ``(x, y, z)``, mm.

        Raises
        ------
        NeckwrightError
            ``out_of_range`` for a parameter before its first knot or beyond the last.
        TypeError
            The face is no spline, or a parameter is no number.

        Notes
        -----
        Rust: ``solid::SplineSurface::at``. C: ``nw_solid_face_poles``.
        """
    def __eq__(self, other: object, /) -> bool: ...
    def __hash__(self) -> int: ...
    def __copy__(self) -> Face: ...
    def __deepcopy__(self, _memo: object, /) -> Face: ...

@final
class Mesh:
    """The surface of one solid as triangles, none further from it than a proven tolerance.

    Made by :meth:`Solid.mesh`. A vertex belongs to one face of the solid; where faces meet in an edge, each has vertices of its own
    there, at the same bits of the same place, so that normals do not round the edge over. Its arrays are made once and can't be
    written to.

    Notes
    -----
    Rust: ``solid::Mesh``. C: ``nw_mesh_counts``, ``nw_mesh_vertices``, ``nw_mesh_triangles``.
    """
    @property
    def name(self) -> str:
        """What it is of the neck: the solid's name."""
    @property
    def chord_mm(self) -> float:
        """How far at most any point of the faces lies from the triangles, and of the triangles from the faces, mm, proven."""
    @property
    def positions_mm(self) -> _Array:
        """Where each vertex lies, mm, of shape ``(n, 3)``; read-only."""
    @property
    def normals(self) -> _Array:
        """Square to the face at each vertex, out of the solid, of length 1, of shape ``(n, 3)``; read-only."""
    @property
    def station_girth(self) -> _Array:
        """The station of each vertex, mm, and how far around it lies from 0 to 1, of shape ``(n, 2)``; read-only."""
    @property
    def triangles(self) -> NDArray[np.uint32]:
        """Triangles of three vertices each, counter-clockwise as seen from outside, of shape ``(m, 3)``; read-only."""
    @property
    def same_place(self) -> NDArray[np.uint32]:
        """For each vertex the first one of those at the same place: what makes the mesh watertight. Of shape ``(n,)``."""
    def places(self) -> tuple[_Array, NDArray[np.uint32]]:
        """The triangles by places: the corners of the mesh, each once, and the triangles between them.

        Returns
        -------
        tuple of ndarray
            Places, mm, of shape ``(n, 3)``, and triangles of shape ``(m, 3)``.

        Notes
        -----
        Rust: ``solid::Mesh::places``. C: ``nw_mesh_same_place``.
        """
    def vertices_into(
        self,
        positions_mm: NDArray[Any],
        normals: NDArray[Any],
        station_girth: NDArray[Any],
    ) -> None:
        """Writes the vertices into arrays that are there already, all of float64 or all of float32, in C order.

        Other threads run meanwhile: none may touch the arrays.

        Parameters
        ----------
        positions_mm, normals : ndarray
            Of shape ``(n, 3)``.
        station_girth : ndarray
            Of shape ``(n, 2)``.

        Raises
        ------
        NeckwrightError
            ``buffer`` for an array of another size; ``conflict`` for arrays that share memory.
        TypeError
            Arrays of another type, or that can't be written to.

        Notes
        -----
        Rust: ``solid::Mesh::vertices_into``. C: ``nw_mesh_vertices``, ``nw_mesh_vertices_f32``.
        """
    def indices_into(self, indices: NDArray[np.uint32]) -> None:
        """Writes the triangles' vertices into an array that is there already.

        Other threads run meanwhile: none may touch the array.

        Parameters
        ----------
        indices : ndarray of uint32
            Of shape ``(m, 3)``, in C order.

        Raises
        ------
        NeckwrightError
            ``buffer`` for an array of another size.
        TypeError
            An array of another type, or that can't be written to.

        Notes
        -----
        Rust: ``solid::Mesh::indices_into``. C: ``nw_mesh_triangles``.
        """
    def __eq__(self, other: object, /) -> bool: ...
    def __hash__(self) -> int: ...
    def __copy__(self) -> Mesh: ...
    def __deepcopy__(self, _memo: object, /) -> Mesh: ...

@final
class Sheet:
    """A drawing at full size.

    Made by :meth:`Neck.sheet`, :meth:`Neck.templates`, :meth:`Neck.section_sheet`, :meth:`CarvingPlan.sheets` and
    :meth:`Inspection.sheet`.

    Notes
    -----
    Rust: ``paper::Sheet``. C: ``nw_sheets_svg`` and its like.
    """
    @property
    def title(self) -> str:
        """What is drawn, in a few words."""
    @property
    def size_mm(self) -> tuple[float, float]:
        """Width and height of the paper, mm."""
    @property
    def origin_mm(self) -> tuple[float, float] | None:
        """Where the neck's own origin lies on the sheet, from its lower left corner, mm; ``None`` where several places of the neck are
        drawn side by side.
        """
    def to_svg(self) -> str:
        """As an SVG drawing at full size.

        Returns
        -------
        str

        Examples
        --------
        >>> from neckwright import Neck
        >>> "<svg" in Neck().sheet("side").to_svg()
        True

        Notes
        -----
        Rust: ``paper::Sheet::to_svg``. C: ``nw_sheets_svg``.
        """
    def __eq__(self, other: object, /) -> bool: ...
    def __hash__(self) -> int: ...
    def __copy__(self) -> Sheet: ...
    def __deepcopy__(self, _memo: object, /) -> Sheet: ...

from collections.abc import Mapping
from os import PathLike
from typing import Any, Literal, Protocol, SupportsFloat, SupportsIndex, TypeAlias, final, overload

import numpy as np
from numpy.typing import NDArray

__all__ = ["Neck", "__version__", "core_version", "fret_positions_mm"]

class _Quantity(Protocol):
    @property
    def magnitude(self) -> Any: ...
    @property
    def units(self) -> Any: ...
    def to(self, unit: Any, /) -> Any: ...

_Array: TypeAlias = NDArray[np.float64]
_Document: TypeAlias = Mapping[str, Any] | str | PathLike[str]
_One: TypeAlias = float | str | np.floating[Any] | np.integer[Any]
_Many: TypeAlias = NDArray[Any] | list[Any] | tuple[Any, ...]
_Side: TypeAlias = Literal["bass", "treble"]

__version__: str
"""The version of this package."""
core_version: str
"""The version of the library that this package translates."""

def fret_positions_mm(
    scale_mm: SupportsFloat | SupportsIndex,
    fret_count: SupportsIndex,
    *,
    divisions: SupportsIndex = 12,
) -> _Array:
    """Distances of the frets from the nut in equal divisions of the octave, in mm.

    Fret ``n`` lies at ``scale_mm * (1 - 2 ** (-n / divisions))``. Each distance is within one unit in the last place of
    the exact value.

    Args:
        scale_mm: Length of the open string, in mm; 0.001 to 1000000.
        fret_count: Number of frets; 0 to 60.
        divisions: Number of equal steps in an octave; 1 to 99.

    Returns:
        A new array of shape ``(fret_count,)``: frets 1 to ``fret_count``.

    Raises:
        NeckwrightError: an argument is out of its range; every such argument has its fault.
        TypeError: an argument is no number, or a count is not whole.

    >>> float(fret_positions_mm(640, 12)[11])
    320.0
    """
@final
class Neck:
    """A neck: every number of it, at every station, from one specification.

    Stations are millimetres along the centreline from the nut's fretboard side, positive toward the bridge; ``y`` is
    positive toward the treble side of a right-handed neck, ``z`` out of the fretboard, and the crown of the board lies at
    ``z = 0``. A neck never changes and may be used from any number of threads. Two are equal where their specifications
    are, with every default filled in.

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
    def __new__(cls, document: _Document | None = None, /, **groups: Any) -> Neck: ...
    def with_(self, **groups: Any) -> Neck:
        """Another neck, by what is changed of this one's specification.

        Groups are put together key by key, anything else takes the place of what was there, and ``None`` takes it away (RFC
        7396). What this neck's specification left to its default is left to it again.

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
            Where the answers are written; of the shape of ``x_mm``, in C order.

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
            Where the answers are written; of the shape of ``x_mm``, in C order.

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
            Where the answers are written; of the shape of ``x_mm``, in C order.

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
            Where the answers are written; of the shape of ``x_mm``, in C order.

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
            Where the answers are written; of the shape of ``x_mm``, in C order.

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
            Where the answers are written; of the shape of ``fret``, in C order.

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
            Where the answers are written; of the shape of ``x_mm``, in C order.

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
    def __eq__(self, other: object, /) -> bool: ...
    def __hash__(self) -> int: ...
    def __reduce__(self) -> tuple[type[Neck], tuple[str]]: ...
    def __copy__(self) -> Neck: ...
    def __deepcopy__(self, _memo: object, /) -> Neck: ...

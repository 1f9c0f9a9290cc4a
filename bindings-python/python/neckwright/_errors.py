"""What the library raises."""

from __future__ import annotations

from typing import NamedTuple

from ._native import _kinds


class Fault(NamedTuple):
    """One fault: where it is, what was given, what is allowed, why, and what to do."""

    code: int
    """The stable number of its kind, the same in every language."""
    kind: str
    """The stable name of its kind, such as ``"out_of_range"``."""
    path: str
    """The field's path in its document (``"shaft.thickness[2].at"``) or the argument's name."""
    value: str
    """The value given, as text; empty where nothing was given."""
    unit: str
    """Unit of the value and of the bounds; empty where it has none."""
    lowest: float | None
    """The lowest value allowed, where there is one."""
    highest: float | None
    """The highest value allowed, where there is one."""
    reason: str
    """What is wrong, or why the bound is where it is."""
    remedy: str
    """What to do about it; may be empty."""
    message: str
    """All of it in one sentence."""

    def __str__(self) -> str:
        return self.message


class NeckwrightError(ValueError):
    """An input that the library can't take. All its faults are told, not only the first.

    Its message has a line for each fault. Code, kind, path, value, unit, range and remedy are those of the first one, which
    often is the only one.

    Examples
    --------
    >>> import neckwright
    >>> try:
    ...     neckwright.Neck(nut={"width": 430}, scale={"lenght": 640})
    ... except neckwright.NeckwrightError as error:
    ...     for fault in error.faults:
    ...         print(fault.kind, fault.path, fault.value, fault.unit, fault.remedy)
    unknown_key scale.lenght   did you mean length?
    out_of_range nut.width 430 mm give 120 mm or less

    Notes
    -----
    Rust: ``measure::Error``, ``measure::Fault``, ``measure::Kind``. C: ``nw_error_count``, ``nw_error_code``.
    """

    faults: tuple[Fault, ...]
    """The faults, in the order of the input; never empty."""
    more: int
    """How many more faults there were than are kept."""

    def __init__(self, message: str, faults: tuple[Fault, ...], more: int = 0) -> None:
        super().__init__(message, faults, more)
        self.faults = faults
        self.more = more

    def __str__(self) -> str:
        return str(self.args[0])

    @property
    def code(self) -> int:
        """The stable number of the first fault's kind, the same in every language."""
        return self.faults[0].code

    @property
    def kind(self) -> str:
        """The stable name of the first fault's kind."""
        return self.faults[0].kind

    @property
    def path(self) -> str:
        """Where the first fault is."""
        return self.faults[0].path

    @property
    def value(self) -> str:
        """What was given there, as text."""
        return self.faults[0].value

    @property
    def unit(self) -> str:
        """The unit of the first fault's value and range."""
        return self.faults[0].unit

    @property
    def range(self) -> tuple[float | None, float | None]:
        """The lowest and the highest value allowed there, ``None`` where there is no such bound."""
        return (self.faults[0].lowest, self.faults[0].highest)

    @property
    def remedy(self) -> str:
        """What to do about the first fault; may be empty."""
        return self.faults[0].remedy


def refused(kind: str, path: str, value: str, reason: str, remedy: str) -> NeckwrightError:
    """An error with one fault, of what this package refuses before the library is asked."""
    told = f" = {value}" if value else ""
    message = f"{path}{told}: {reason}" + (f"; {remedy}" if remedy else "")
    return NeckwrightError(message, (Fault(_kinds[kind], kind, path, value, "", None, None, reason, remedy, message),))

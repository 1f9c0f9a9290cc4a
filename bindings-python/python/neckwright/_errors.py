"""What the library raises."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True)
class Fault:
    """One fault: where it is, what was given, what is allowed, why, and what to do."""

    code: int
    """The stable number of its kind, the same in every language."""
    kind: str
    """The stable name of its kind, such as ``"out_of_range"``."""
    path: str
    """The field's path in the specification (``"shaft.thickness[2].at"``) or the argument's name."""
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
    """An input that the library can't take. All its faults are told, not only the first."""

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

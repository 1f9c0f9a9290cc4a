"""The parts of what a notebook shows: black on white, every sign also told in words."""

from __future__ import annotations

import base64
import re
from collections.abc import Iterable, Sequence
from html import escape
from typing import Any

from .._native import Neck
from ..tables import Table, fret_of
from ..tables import inches as _inches

_NUMBER = re.compile(r"[+-]?[0-9.]+")
_STYLE = """.neckwright{background:#fff;color:#000;padding:8px;font:14px sans-serif}
.neckwright table{border-collapse:collapse;margin:6px 0;color:#000;font-size:14px}
.neckwright th,.neckwright td{padding:2px 10px;border-bottom:1px solid #999;text-align:right;background:#fff;vertical-align:top}
.neckwright .words{text-align:left}
.neckwright .sheet{overflow-x:auto;border:1px solid #999;margin:6px 0}
.neckwright .sheet img{max-width:none;display:block}
.neckwright h3{font-size:17px;margin:4px 0}.neckwright h4{font-size:14px;margin:10px 0 2px}"""


def page(*parts: str) -> str:
    """Everything in one box."""
    return f'<div class="neckwright"><style>{_STYLE}</style>{"".join(parts)}</div>'


def heading(words: str, level: int = 3) -> str:
    """A heading."""
    return f"<h{level}>{escape(words)}</h{level}>"


def paragraph(words: str) -> str:
    """A paragraph."""
    return f"<p>{escape(words)}</p>"


def items(words: Iterable[str]) -> str:
    """A list; nothing where there is nothing in it."""
    made = "".join(f"<li>{escape(one)}</li>" for one in words)
    return f"<ul>{made}</ul>" if made else ""


def nested(words: Iterable[tuple[str, Iterable[str]]]) -> str:
    """A list whose entries may have a list below them."""
    return f"<ul>{''.join(f'<li>{escape(one)}{items(below)}</li>' for one, below in words)}</ul>"


def cell(value: Any) -> str:
    """A value as it is read: lengths to 0.01."""
    if value is None:
        return "–"
    if isinstance(value, float):
        return f"{value:.2f}" if abs(value) < 10000 else f"{value:.0f}"
    return str(value)


def signed(mm: float) -> str:
    """A difference with its sign."""
    return f"{mm:+.2f}"


def inches(mm: float | None, power: int = 1) -> str:
    """A length in thousandths of an inch; of an area, a volume or a bend what power of a length it is."""
    return "–" if mm is None else f"{_inches(mm, power):.3f}"


def volume(mm3: float) -> str:
    """A volume in both units."""
    return f"{mm3 / 1000:.1f} cm³ ({inches(mm3, 3)} in³)"


def fret_name(neck: Neck, x_mm: float) -> str:
    """The fret at a station; a dash between frets."""
    fret = fret_of(neck, x_mm)
    return "–" if fret is None else "nut" if fret == 0 else f"fret {fret}"


def place(neck: Neck, x_mm: float) -> str:
    """A station in words: the fret where there is one, and how far it is from the nut in both units."""
    fret = fret_name(neck, x_mm)
    if fret == "nut":
        return "at the nut"
    words = "" if fret == "–" else f"at {fret}, "
    return f"{words}{abs(x_mm):.1f} mm ({inches(abs(x_mm))} in) {'from' if x_mm > 0 else 'behind'} the nut"


def in_both_units(names: Sequence[str], rows: Iterable[Sequence[Any]]) -> str:
    """A table, and once more with what is named in mm in inches."""
    rows = list(rows)
    lengths = [name.endswith(", mm") for name in names]
    return (
        rows_html(names, rows)
        + heading("The same in inches", 4)
        + rows_html(
            [f"{name[:-2]}in" if length else name for name, length in zip(names, lengths, strict=True)],
            [[inches(value) if length else value for value, length in zip(row, lengths, strict=True)] for row in rows],
        )
    )


def rows_html(names: Sequence[str], rows: Iterable[Sequence[Any]]) -> str:
    """A table; words stand on the left, numbers on the right."""
    rows = list(rows)
    made = "".join(f"<tr>{''.join(_cell(value) for value in row)}</tr>" for row in rows)
    wordy = [any(_is_words(row[k]) for row in rows[1:] or rows) for k in range(len(names))]
    head = "".join(f'<th scope="col"{_class(words)}>{escape(name)}</th>' for name, words in zip(names, wordy, strict=True))
    return f"<table><thead><tr>{head}</tr></thead><tbody>{made}</tbody></table>"


def heads(names: Iterable[str]) -> list[str]:
    """Names of columns as words, with their units behind them."""
    return [re.sub(r"_(mm|in)$", r", \1", name).replace("_", " ") for name in names]


def table_html(table: Table, *, words: bool = False) -> str:
    """A table of results, in inches to a thousandth; its columns by their names, or by these as words."""
    names = tuple(table.columns)
    fine = any(name.endswith(("_in", "_in2", "_in3", "_in4")) for name in names)
    rows: Iterable[Sequence[Any]] = table.rows()
    if fine:
        rows = ([f"{value:.3f}" if isinstance(value, float) else value for value in row] for row in rows)
    return rows_html(heads(names) if words else names, rows)


def _is_words(value: Any) -> bool:
    return isinstance(value, str) and value != "–" and not _NUMBER.fullmatch(value)


def _class(words: bool) -> str:
    return ' class="words"' if words else ""


def _cell(value: Any) -> str:
    return f"<td{_class(_is_words(value))}>{escape(cell(value))}</td>"


def drawing(svg: str, title: str) -> str:
    """A drawing at full size, to be moved along; apart from the page, so that no two share a name in it."""
    data = base64.b64encode(svg.encode()).decode()
    return f'<div class="sheet"><img alt="{escape(title)}" src="data:image/svg+xml;base64,{data}"/></div>'

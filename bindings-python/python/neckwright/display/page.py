"""The parts of what a notebook shows: black on white, every sign also told in words."""

from __future__ import annotations

import base64
from collections.abc import Iterable, Sequence
from html import escape
from typing import Any

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


def inches(mm: float | None) -> str:
    """A length in thousandths of an inch."""
    return "–" if mm is None else f"{mm / 25.4:.3f}"


def rows_html(names: Sequence[str], rows: Iterable[Sequence[Any]]) -> str:
    """A table; words stand on the left, numbers on the right."""
    rows = list(rows)
    made = "".join(f"<tr>{''.join(_cell(value) for value in row)}</tr>" for row in rows)
    wordy = [any(_is_words(row[k]) for row in rows[1:] or rows) for k in range(len(names))]
    head = "".join(f'<th scope="col"{_class(words)}>{escape(name)}</th>' for name, words in zip(names, wordy, strict=True))
    return f"<table><thead><tr>{head}</tr></thead><tbody>{made}</tbody></table>"


def _is_words(value: Any) -> bool:
    return isinstance(value, str) and value != "–" and not value.lstrip("+-")[:1].isdigit()


def _class(words: bool) -> str:
    return ' class="words"' if words else ""


def _cell(value: Any) -> str:
    return f"<td{_class(_is_words(value))}>{escape(cell(value))}</td>"


def drawing(svg: str, title: str) -> str:
    """A drawing at full size, to be moved along; apart from the page, so that no two share a name in it."""
    data = base64.b64encode(svg.encode()).decode()
    return f'<div class="sheet"><img alt="{escape(title)}" src="data:image/svg+xml;base64,{data}"/></div>'

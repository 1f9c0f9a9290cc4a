"""The list of what Python reaches, the documentation of each function and the package say the same."""

from __future__ import annotations

import inspect
import re
from pathlib import Path

import pytest

import neckwright
from neckwright import records
from test_documentation import PLACES

ROOT = Path(__file__).resolve().parents[2]
LIST = (ROOT / "bindings-python" / "tests" / "reach.txt").read_text(encoding="utf-8")
HEADER = (ROOT / "bindings-c" / "include" / "neckwright.h").read_text(encoding="utf-8")
LINES = dict(line.split(" = ", 1) for line in LIST.splitlines() if line and not line.startswith("#"))


def _is_there(name: str) -> bool:
    of: object = {"records": records}.get(name.split(".")[0], neckwright)
    for part in name.removeprefix("records.").split("."):
        fields = getattr(of, "__annotations__", {})
        if not hasattr(of, part) and part not in fields:
            return False
        of = getattr(of, part, None)
    return True


@pytest.mark.parametrize("what", LINES)
def test_what_the_list_names_is_there(what: str) -> None:
    for name in re.findall(r"`([\w.]+)`", LINES[what]):
        assert _is_there(name), name


def _sources(name: str) -> tuple[list[str], list[str]]:
    """The Rust paths and the functions of C that the documentation of something names."""
    text = " ".join((inspect.getdoc(PLACES[name]) or "").split())
    found = re.search(r"Rust: (.*?)\.(?: C: (.*))?$", text)
    if found is None:
        return [], []
    return re.findall(r"``([\w:]+)``", found[1]), re.findall(r"``(nw_\w+)``", found[2] or "")


# Tables and sweeps are Python's own: they hold what records of the library say, and read necks by what the library has.
OWN = ("Fault", "Neck.with_", "Swept", "sweep", "Table", "table")
FUNCTIONS = [
    name for name in PLACES if callable(PLACES[name]) and name not in OWN and name.split(".")[0] not in ("Swept", "Table")
]


@pytest.mark.parametrize("name", FUNCTIONS)
def test_the_documentation_names_the_other_languages(name: str) -> None:
    rust, c = _sources(name)
    assert rust, "no Rust"
    for function in c:
        assert re.search(rf"\b{function}\(", HEADER), function


@pytest.mark.parametrize("name", FUNCTIONS)
def test_the_list_names_what_the_documentation_names(name: str) -> None:
    for path in _sources(name)[0]:
        if path in LINES and "`" in LINES[path] and "::" in path and not inspect.isclass(PLACES[name]):
            assert f"`{name}`" in LINES[path], (path, LINES[path])

"""The examples run from top to bottom; their own assertions hold, and every figure and table is there."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest

nbformat: Any = pytest.importorskip("nbformat")
nbclient: Any = pytest.importorskip("nbclient")

EXAMPLES = Path(__file__).resolve().parents[1] / "examples"
# How many figures each draws, and how many results show themselves as a page.
SHOWN = {"blank_to_neck": (4, 6), "copy_and_mend": (1, 3), "sweep_designs": (1, 1)}


def test_every_notebook_is_run() -> None:
    assert {path.stem for path in EXAMPLES.glob("*.ipynb")} == set(SHOWN)


@pytest.mark.parametrize("name", SHOWN)
@pytest.mark.filterwarnings("ignore::Warning")
def test_notebook(name: str) -> None:
    book = nbformat.read(EXAMPLES / f"{name}.ipynb", as_version=4)
    assert not any(cell.get("outputs") for cell in book.cells), "outputs are not committed"
    nbclient.NotebookClient(book, timeout=60, kernel_name="python3").execute()
    outputs = [output for cell in book.cells for output in cell.get("outputs", ())]
    shown = [output.get("data", {}) for output in outputs]
    figures = sum("image/png" in data for data in shown)
    pages = sum('class="neckwright"' in data.get("text/html", "") for data in shown)
    assert figures >= SHOWN[name][0] and pages >= SHOWN[name][1], (figures, pages)
    assert not any(output.output_type == "stream" and output.name == "stderr" for output in outputs)

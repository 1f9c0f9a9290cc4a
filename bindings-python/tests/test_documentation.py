"""The documentation: there for every public name, the same in the stub, its examples true."""

from __future__ import annotations

import doctest
import inspect
import re
from collections.abc import Iterator
from pathlib import Path

import pytest

import neckwright
from neckwright import _native
from stub import STUB, documented


def _documented() -> Iterator[tuple[str, object]]:
    for name in neckwright.__all__:
        of = getattr(neckwright, name)
        if name not in ("__version__", "core_version"):
            yield name, of
        if inspect.isclass(of):
            for inner, value in vars(of).items():
                if not inner.startswith("_") and (callable(value) or inspect.isdatadescriptor(value)):
                    yield f"{name}.{inner}", value


PLACES = dict(_documented())


@pytest.mark.parametrize("name", PLACES)
def test_every_public_name_is_documented(name: str) -> None:
    assert inspect.getdoc(PLACES[name]), name


def test_the_stub_has_the_documentation() -> None:
    text = STUB.read_text(encoding="utf-8")
    assert documented(text) == text, "python tests/stub.py --write"


def test_examples() -> None:
    parser = doctest.DocTestParser()
    runner = doctest.DocTestRunner(optionflags=doctest.ELLIPSIS | doctest.NORMALIZE_WHITESPACE)
    names = {name: getattr(neckwright, name) for name in neckwright.__all__}
    for name, of in PLACES.items():
        runner.run(parser.get_doctest(inspect.getdoc(of) or "", dict(names), name, None, None))
    assert runner.tries > 10 and runner.failures == 0


ROOT = Path(__file__).resolve().parents[2]
BLOCKS = [
    block
    for file in (ROOT / "README.md", ROOT / "bindings-python" / "README.md")
    for block in re.findall(r"^```python\n(.*?)^```", file.read_text(encoding="utf-8"), re.DOTALL | re.MULTILINE)
]


@pytest.mark.parametrize("block", BLOCKS)
def test_examples_of_the_readme(block: str, capsys: pytest.CaptureFixture[str]) -> None:
    names: dict[str, object] = {}
    for line, told in re.findall(r"^(\S.*?) +# ([\d.]+)[:;]", block, re.MULTILINE):
        exec(block, names)
        assert eval(line, names) == float(told)
    exec(block, names)
    capsys.readouterr()


def test_every_public_name_of_the_module_is_handed_on() -> None:
    missing = set(_native.__all__) - set(neckwright.__all__)
    assert not missing

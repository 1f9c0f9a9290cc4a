"""Reads the files of shared cases; the format is described in tests/README.md."""

from __future__ import annotations

from dataclasses import dataclass, field
from pathlib import Path

FOLDER = Path(__file__).resolve().parents[2] / "tests" / "cases"


@dataclass
class Expected:
    """One expected result."""

    unit: str
    tolerance: float
    values: list[float]
    bits: list[str] | None = None


@dataclass
class Case:
    """One case."""

    where: str
    title: str
    operation: str = ""
    given: dict[str, str] = field(default_factory=dict)
    document: str | None = None
    expected: dict[str, Expected] = field(default_factory=dict)
    faults: list[tuple[str, str, str]] = field(default_factory=list)

    def number(self, name: str) -> float:
        """An argument that is one number."""
        return float(self.given[name])

    def numbers(self, name: str) -> list[float]:
        """An argument that is several numbers."""
        return [float(word) for word in self.given[name].split()]

    def count(self, name: str) -> int:
        """An argument that is a count."""
        return int(self.given[name])


def read(path: Path) -> list[Case]:
    """The cases of a file, none where the file is not for Python."""
    cases: list[Case] = []
    documents: dict[str, str] = {}
    for_python = True
    for entries in _blocks(path):
        line, word, rest, more = entries[0]
        if word == "case":
            cases.append(_case(f"{path.name}:{line}", entries, documents))
        elif word == "document":
            documents[rest] = "\n".join(more)
        elif word == "languages":
            for_python = "python" in rest.split(" ")
        else:
            raise ValueError(f"{path.name}:{line}: unknown word {word!r}")
    if not cases:
        raise ValueError(f"{path.name} holds no case")
    return cases if for_python else []


_Entry = tuple[int, str, str, list[str]]


def _blocks(path: Path) -> list[list[_Entry]]:
    blocks: list[list[_Entry]] = [[]]
    for number, line in enumerate(path.read_text(encoding="utf-8").split("\n"), 1):
        if line.startswith("#"):
            continue
        if not line:
            blocks.append([])
        elif line.startswith("  "):
            blocks[-1][-1][3].append(line[2:])
        else:
            word, _, rest = line.partition(" ")
            blocks[-1].append((number, word, rest, []))
    return [block for block in blocks if block]


def _case(where: str, entries: list[_Entry], documents: dict[str, str]) -> Case:
    case = Case(where, entries[0][2])
    for line, word, rest, more in entries[1:]:
        if word == "operation":
            case.operation = rest
        elif word == "given":
            name, _, value = rest.partition(" ")
            case.given[name] = "\n".join([value, *more])
        elif word == "use":
            case.document = documents[rest]
        elif word == "expect":
            name, unit, _within, tolerance = rest.split(" ")
            values = [float(text) for text in " ".join(more).split()]
            case.expected[name] = Expected(unit, float(tolerance), values)
        elif word == "bits":
            case.expected[rest].bits = " ".join(more).split()
        elif word == "fault":
            kind, path = rest.split(" ")
            case.faults.append((kind, "" if path == "-" else path, "\n".join(more)))
        else:
            raise ValueError(f"{where}: line {line}: not a line of a case")
    if not case.operation or bool(case.expected) == bool(case.faults):
        raise ValueError(f"{where}: a case has an operation and expects either values or faults")
    return case

"""What the header declares: functions, constants, handles, structs. The header is generated, so it is regular."""

import re
from dataclasses import dataclass
from pathlib import Path

PACKAGE = Path(__file__).resolve().parent.parent
HEADER = PACKAGE / "include" / "neckwright.h"


@dataclass
class Parameter:
    type: str  # as C writes it, without the name: "const double *"
    name: str


@dataclass
class Function:
    result: str
    name: str
    parameters: list[Parameter]

    @property
    def can_fail(self) -> bool:
        return bool(self.parameters) and self.parameters[-1].type == "NwError **"

    def __str__(self) -> str:
        inner = ", ".join(_joined(p.type, p.name) for p in self.parameters) or "void"
        return _joined(self.result, f"{self.name}({inner})")


@dataclass
class Field:
    type: str
    name: str
    length: int  # 1 for a field that is no array


@dataclass
class Struct:
    name: str
    fields: list[Field]


@dataclass
class Header:
    functions: list[Function]
    constants: list[tuple[str, str]]
    handles: list[str]
    structs: list[Struct]


def _joined(type_: str, name: str) -> str:
    return type_ + name if type_.endswith("*") else f"{type_} {name}"


def _declared(text: str) -> tuple[str, str]:
    """Type and name of "const double *x_mm"."""
    match = re.fullmatch(r"(.*?[\s*])(\w+)", " ".join(text.split()))
    assert match, f"not understood: {text!r}"
    return match[1].strip(), match[2]


def _fields(body: str) -> list[Field]:
    found = []
    for line in filter(None, (part.strip() for part in body.split(";"))):
        match = re.fullmatch(r"(\w+) (\w+)(?:\[(\d+)\])?", line)
        assert match, f"not understood: {line!r}"
        found.append(Field(match[1], match[2], int(match[3] or 1)))
    return found


def read(path: Path = HEADER) -> Header:
    text = re.sub(r"/\*.*?\*/", "", path.read_text(encoding="utf-8"), flags=re.S)
    constants = re.findall(r"^#define (NW_\w+) (\S+)$", text, flags=re.M)
    text = re.sub(r"^#.*$", "", text, flags=re.M)
    structs = [Struct(m[2], _fields(m[1])) for m in re.finditer(r"typedef struct \{(.*?)\} (\w+);", text, flags=re.S)]
    handles = re.findall(r"typedef struct (\w+) \1;", text)
    functions = []
    for match in re.finditer(r"([\w\s*]+?)\b(nw_\w+)\(([^)]*)\);", re.sub(r"typedef struct.*?;\s*(?=typedef|\n)", "", text, flags=re.S)):
        inner = " ".join(match[3].split())
        parameters = [] if inner == "void" else [Parameter(*_declared(p)) for p in inner.split(",")]
        functions.append(Function(" ".join(match[1].split()[-3:]), match[2], parameters))
    for function in functions:
        function.result = re.sub(r'^.*?(?=const|uint32_t|size_t|double|void)', "", function.result).strip()
    # None may be missed: every name that is followed by a bracket is a function's.
    named = sorted(set(re.findall(r"\b(nw_\w+)\(", text)))
    assert named == sorted(f.name for f in functions), "a declaration was not understood"
    return Header(functions, constants, handles, structs)


if __name__ == "__main__":
    header = read()
    for function in header.functions:
        print(function.name)

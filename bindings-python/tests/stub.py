"""Puts the native module's documentation into its stub, where editors find it.

python tests/stub.py --write     after a change of the documentation or the stub
"""

from __future__ import annotations

import ast
import inspect
import sys
from pathlib import Path
from typing import Any

from neckwright import _native

STUB = Path(__file__).resolve().parents[1] / "python" / "neckwright" / "_native.pyi"
WITHOUT = {"__eq__", "__hash__", "__reduce__", "__copy__", "__deepcopy__", "__new__", "__len__", "__getitem__", "__iter__"}
"""Methods of Python's own protocols, whose meaning is Python's."""


SUBJECTS = {
    "specification": "_Specification",
    "stock": "_Stock",
    "solid_options": "_SolidOptions",
    "mesh_options": "_MeshOptions",
    "template_options": "_TemplateOptions",
    "paper_options": "_PaperOptions",
    "dxf_options": "_DxfOptions",
    "inspection_options": "_InspectionOptions",
    "mend_limits": "_MendLimits",
    "copy_options": "_CopyOptions",
    "cloud_options": "_CloudOptions",
}

TYPES = {
    "length": "_Length",
    "angle": "_Length",
    "station": "_Length",
    "number": "float",
    "whole number": "int",
    "ratio": "float | str",
    'length or "flat"': "_Length",
    'length or "board"': "_Length",
    "text": "str",
    "true or false": "bool",
    "list": "_Many",
}


DOCUMENTS = {"specification", "stock"}
"""What comes from files and dictionaries too: its groups may be any mapping, and None takes a field back to its default."""


class Field:
    """One field of a document, or a group of them."""

    def __init__(self) -> None:
        self.row: Any = None
        self.many = False
        self.below: dict[str, Field] = {}


def _fields(subject: Any) -> dict[str, Field]:
    fields: dict[str, Field] = {}
    for row in _native.bounds(subject):
        below = fields
        for step in row.path.split("."):
            field = below.setdefault(step.removesuffix("[]"), Field())
            field.many |= step.endswith("[]")
            below = field.below
        if not row.path.endswith("[]"):
            field.row = row
    return fields


class Groups:
    """Typed dictionaries, each after those that are in it; of two alike the first stands for both."""

    def __init__(self) -> None:
        self.text = ""
        self._known: dict[str, str] = {}

    def add(self, name: str, fields: dict[str, Field], document: bool) -> str:
        """The name of the type of a group."""
        body = ""
        for key, field in fields.items():
            if key == "format" and not document:
                continue
            of = self._type(name + key.title().replace("_", ""), field, document)
            if field.row is not None and field.row.default == "required":
                of = f"Required[{of}]"
            elif document:
                of += " | None"
            body += f"    {key}: {of}\n"
            if field.row is not None and (doc := field.row.doc.strip().replace("`", "``")):
                body += f'    """{doc}"""\n'
        if body not in self._known:
            self._known[body] = name
            self.text += f"class {name}(TypedDict, total=False):\n{body}\n"
        return self._known[body]

    def _type(self, name: str, field: Field, document: bool) -> str:
        if not field.below:
            takes = field.row.takes
            return "Literal[" + takes.removeprefix("one of ") + "]" if takes.startswith("one of ") else TYPES[takes]
        of = self.add(name, field.below, document)
        of = f"{of} | Mapping[str, Any]" if document else of
        return f"Sequence[{of}]" if field.many else of


def _with_options(text: str) -> str:
    before, rest = text.split("# Options, generated")
    first, rest = rest.split("\n", 1)
    after = rest.split("# ---- end of options", 1)[1]
    groups = Groups()
    for subject, name in SUBJECTS.items():
        groups.add(name, _fields(subject), subject in DOCUMENTS)
    return before + "# Options, generated" + first + "\n" + groups.text + "# ---- end of options" + after


def documented(text: str) -> str:
    """The stub with options and documentation in it."""
    text = _with_options(text)
    lines = text.splitlines()
    tree = ast.parse(text)
    places: list[tuple[ast.FunctionDef | ast.ClassDef, object]] = []
    for node in tree.body:
        if isinstance(node, ast.FunctionDef):
            places.append((node, getattr(_native, node.name)))
        elif isinstance(node, ast.ClassDef) and not node.name.startswith("_"):
            of = getattr(_native, node.name)
            places.append((node, of))
            told: set[str] = set()
            for inner in node.body:
                if isinstance(inner, ast.FunctionDef) and inner.name not in WITHOUT:
                    # Of several ways to call it the first has the documentation.
                    places.append((inner, None if inner.name in told else inspect.getattr_static(of, inner.name)))
                    told.add(inner.name)
    for node, of in reversed(places):
        first = node.body[0]
        indent = " " * (node.col_offset + 4)
        if isinstance(first, ast.Expr) and isinstance(first.value, ast.Constant) and isinstance(first.value.value, str):
            assert first.end_lineno is not None
            del lines[first.lineno - 1 : first.end_lineno]
            if len(node.body) == 1:
                lines[first.lineno - 2] += " ..."
            at = first.lineno - 1
        else:
            decorated = getattr(first, "decorator_list", None)
            line = decorated[0].lineno if decorated else first.lineno
            at = line if isinstance(node, ast.FunctionDef) else line - 1
        text_of = inspect.getdoc(of) if of is not None else None
        if text_of:
            if isinstance(node, ast.FunctionDef):
                lines[at - 1] = lines[at - 1].removesuffix(" ...")
            escaped = text_of.replace("\\", "\\\\")
            doc = [f"{indent}{line}".rstrip() for line in f'"""{escaped}'.splitlines()]
            lines[at:at] = [*doc, f'{indent}"""'] if len(doc) > 1 else [doc[0] + '"""']
    return "\n".join(lines) + "\n"


if __name__ == "__main__":
    new = documented(STUB.read_text(encoding="utf-8"))
    if "--write" in sys.argv:
        STUB.write_text(new, encoding="utf-8")
    elif new != STUB.read_text(encoding="utf-8"):
        sys.exit("the stub's documentation is not the module's: python tests/stub.py --write")

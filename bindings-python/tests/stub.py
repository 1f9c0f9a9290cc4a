"""Puts the native module's documentation into its stub, where editors find it.

python tests/stub.py --write     after a change of the documentation or the stub
"""

from __future__ import annotations

import ast
import inspect
import sys
from pathlib import Path

from neckwright import _native

STUB = Path(__file__).resolve().parents[1] / "python" / "neckwright" / "_native.pyi"
WITHOUT = {"__eq__", "__hash__", "__reduce__", "__copy__", "__deepcopy__", "__new__", "__len__", "__getitem__", "__iter__"}
"""Methods of Python's own protocols, whose meaning is Python's."""


OPTIONS = {
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
    "text": "str",
    "true or false": "bool",
    "list": "_Many",
}


def _with_options(text: str) -> str:
    before, rest = text.split("# Options, generated")
    first, rest = rest.split("\n", 1)
    after = rest.split("# ---- end of options", 1)[1]
    made = ""
    for subject, name in OPTIONS.items():
        made += f"class {name}(TypedDict, total=False):\n"
        groups: set[str] = set()
        for row in _native.bounds(subject):  # type: ignore[arg-type]
            key, _, below = row.path.partition(".")
            if "[" in row.path or key in groups or key == "format":
                continue
            if below:
                groups.add(key)
                made += f"    {key}: Mapping[str, Any]\n"
                continue
            takes = row.takes
            of = "Literal[" + takes.removeprefix("one of ") + "]" if takes.startswith("one of ") else TYPES[takes]
            doc = row.doc.strip().replace("`", "``")
            made += f'    {key}: {of}\n    """{doc}"""\n'
        made += "\n"
    return before + "# Options, generated" + first + "\n" + made + "# ---- end of options" + after


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

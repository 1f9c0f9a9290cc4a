"""The list of all members of all documents, include/documents.txt, against what the library gives and against earlier lists.

    documents.py AGREEMENT          fails if a line of the list is no longer true or a member is not in it, or if a line is gone that a
                                    version given away has, under the same number of the interface
    documents.py AGREEMENT --write  adds what is new; what is there stays as it is

A line is a function, the path of a member with `*` for each of a list, and the sorts that its values have. Where they are from: the
documents in AGREEMENT, the file that the program in agreement/ writes, and what the core's own tests saw of its results over many random
necks (core/tests/snapshots). As in abi.py the list only ever grows while the interface keeps its number, its first line.

Specifications, stocks and readings within a document are told by `nw_schema`, and are left out here.
"""

import json
import re
import sys
from pathlib import Path

import abi
import declarations

LIST = declarations.PACKAGE / "include" / "documents.txt"
SEEN = declarations.PACKAGE.parent / "core" / "tests" / "snapshots" / "results__the_names_of_results.snap"

# Documents of builders, which have schemas of their own, and documents that are parts of others.
LEFT_OUT = {"nw_neck_specification", "nw_schema", "nw_document_part"}
OF_BUILDERS = re.compile(r"/(specification|stock|readings)(?=/|$)")
# In these `readings` are results.
RESULTS = {"nw_copied_sharpest_next"}

# Where a core's result stands in C's documents: its name in SEEN, the function, and the path there.
CORE = {
    "bends/*": ("nw_neck_section_bends", ["/sharpest", "/flattest"]), "bounds": ("nw_neck_bounds", [""]),
    "caliper_card": ("nw_neck_caliper_card", [""]), "channel": ("nw_neck_section_outline", [""]),
    "comparison": ("nw_neck_compare", [""]), "copied": ("nw_copied_document", [""]), "copied_cloud": ("nw_neck_copy_cloud", [""]),
    "face_markers": ("nw_neck_markers", ["/face"]), "frets": ("nw_neck_frets", [""]), "headstock": ("nw_neck_headstock", [""]),
    "heel": ("nw_neck_heel", [""]), "humps": ("nw_neck_layout", ["/humps"]), "inspection": ("nw_inspection_document", [""]),
    "joints": ("nw_neck_joints", [""]), "least_curvature": ("nw_neck_least_curvature", [""]),
    "least_margin": ("nw_neck_least_margin", [""]), "least_rod_wall": ("nw_neck_least_rod_wall", [""]),
    "least_thickness": ("nw_neck_least_thickness", [""]), "masses": ("nw_neck_mass", [""]), "mending": ("nw_mending_document", [""]),
    "nut_line": ("nw_neck_layout", ["/nut_line", "/bridge_line"]), "placed_cloud": ("nw_neck_place_cloud", [""]),
    "rod_cuts": ("nw_neck_rod_cuts", [""]), "rounded": ("nw_rounded_positions", [""]), "scarf": ("nw_scarf", [""]),
    "side_markers": ("nw_neck_markers", ["/side"]), "stages": ("nw_plan_document", ["/stages"]),
    "string_paths": ("nw_neck_string_paths", [""]), "strings": ("nw_neck_strings", [""]),
    "suggestions": ("nw_copied_sharpest_next", ["/readings"]), "volumes": ("nw_neck_volume", [""]), "volute": ("nw_neck_volute", [""]),
    "warnings": ("nw_neck_warnings", [""]),
}
# Results that come to C by other ways than documents, or whose parts are told above: outlines and moments, errors, what builders write.
ELSEWHERE = {"bends", "faults", "section", "readings", "specification", "stock"}


def sort_of(value: object) -> str:
    for type_, name in ((type(None), "null"), (bool, "boolean"), (int, "number"), (float, "number"), (str, "text"), (list, "list")):
        if isinstance(value, type_):
            return name
    return "object"


def walk(path: str, value: object, into: dict[str, set[str]]) -> None:
    into.setdefault(path, set()).add(sort_of(value))
    if isinstance(value, list):
        for element in value:
            walk(f"{path}/*", element, into)
    elif isinstance(value, dict):
        for name, member in value.items():
            walk(f"{path}/{name}", member, into)


def of_rust(agreement: Path) -> dict[str, dict[str, set[str]]]:
    """The members of the documents in the file, by the function that gives them."""
    found: dict[str, dict[str, set[str]]] = {}
    function = ""
    with agreement.open(encoding="utf-8") as lines:
        for line in lines:
            if line.startswith("call "):
                function = line[5:].strip()
            elif line.startswith("document_out > json "):
                text = line.removeprefix("document_out > json ").rstrip("\n").replace("\\\\", "\\")
                walk("", json.loads(text), found.setdefault(function, {}))
    return found


def of_core(found: dict[str, dict[str, set[str]]]) -> None:
    """Adds what the core's tests saw."""
    for line in SEEN.read_text(encoding="utf-8").splitlines()[4:]:
        path, _, sorts = line.partition(": ")
        name = max((name for name in CORE if path == name or path.startswith(f"{name}/")), key=len, default=None)
        if name is None:
            if path.split("/")[0] not in ELSEWHERE:
                sys.exit(f"{path}: not known to documents.py")
            continue
        function, places = CORE[name]
        for place in places:
            into = found.setdefault(function, {}).setdefault(place + path.removeprefix(name), set())
            into.update("number" if sort == "whole" else sort for sort in sorts.split(", "))


def lines(agreement: Path) -> list[str]:
    found = of_rust(agreement)
    of_core(found)
    declared = {f.name for f in declarations.read().functions if any(p.name == "document_out" for p in f.parameters)}
    missing = declared - set(found)
    if missing:
        sys.exit(f"no document of {sorted(missing)}")
    out = [f"interface {abi.interface()}"]
    for function in sorted(set(found) - LEFT_OUT):
        for path, sorts in sorted(found[function].items()):
            match = None if function in RESULTS else OF_BUILDERS.search(path)
            if match is None or match.end() == len(path):
                out.append(f"{function} {path or '/'}: {', '.join(sorted(sorts))}")
    return out


def main(arguments: list[str]) -> int:
    now = lines(Path(arguments[0]))
    listed = LIST.read_text(encoding="utf-8").splitlines() if LIST.exists() else []
    if arguments[1:] == ["--write"] and listed[:1] != now[:1]:
        listed = []
    gone = [line for line in listed if line not in set(now)]
    new = [line for line in now if line not in set(listed)]
    if arguments[1:] == ["--write"] and not gone:
        LIST.write_text("\n".join(now) + "\n", encoding="utf-8")
        listed, new = now, []
    for line in gone:
        print(f"gone or changed: {line}")
    for line in new:
        print(f"not in the list (documents.py AGREEMENT --write): {line}")
    failed = abi.against_earlier(listed, LIST) or bool(gone or new)
    print(f"{len(now)} members of documents of interface {abi.interface()}: {'NOT as listed' if failed else 'as listed'}")
    return int(failed)


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))

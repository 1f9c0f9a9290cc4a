"""The list of all that programs rely on once they are compiled, include/abi.txt, against the header and against earlier lists.

    abi.py                 fails if a line of the list is no longer true, or something of the header is not in it; or if a line is
                           gone that a version given away has, under the same number of the interface
    abi.py --write         adds what is new; what is there stays as it is
    abi.py --asserts FILE  writes a C file that holds the structs' layout against the compiler's

The list only ever grows while the interface keeps its number (its first line, which names the shared library too). To change it
deliberately raise the number, which is the major version in Cargo.toml, or 0 and the minor one before version 1, and run
`abi.py --write`: the list is then written anew. As long as no version with that number is given away the list may also be removed
and written anew; what that changes since the branch left `main` is told.

A version is given away when it has a tag, such as v0.1.0.
"""

import re
import subprocess
import sys
from pathlib import Path

import declarations
from declarations import Header, Struct

LIST = declarations.PACKAGE / "include" / "abi.txt"
# Bytes where addresses have 8, as everywhere that this list is checked.
SIZES = {"size_t": 8, "double": 8, "uint32_t": 4, "uint8_t": 1}


def layout(struct: Struct) -> tuple[list[int], int]:
    """Offsets of the fields and the size, as every C compiler lays numbers out: each at a multiple of its own size."""
    offsets, at = [], 0
    for field in struct.fields:
        size = SIZES[field.type]
        at = (at + size - 1) // size * size
        offsets.append(at)
        at += size * field.length
    most = max(SIZES[f.type] for f in struct.fields)
    return offsets, (at + most - 1) // most * most


def interface() -> str:
    """The number of the interface that the version in Cargo.toml belongs to."""
    text = (declarations.PACKAGE.parent / "Cargo.toml").read_text(encoding="utf-8")
    match = re.search(r'^version = "(\d+)\.(\d+)', text, flags=re.M)
    assert match
    return match[1] if match[1] != "0" else f"0.{match[2]}"


def lines(header: Header) -> list[str]:
    out = [f"interface {interface()}"]
    out += [f"constant {name} {value}" for name, value in header.constants]
    out += [f"handle {name}" for name in header.handles]
    for struct in header.structs:
        offsets, size = layout(struct)
        fields = [f"{f.type} {f.name}{f'[{f.length}]' if f.length > 1 else ''} at {at}" for f, at in zip(struct.fields, offsets)]
        out.append(f"struct {struct.name} {{{'; '.join(fields)}}} size {size}")
    return out + [f"function {function}" for function in header.functions]


def asserts(header: Header) -> str:
    out = ['#include "neckwright.h"\n', "_Static_assert(sizeof(void *) == 8 && sizeof(size_t) == 8, \"addresses have 8 bytes\");"]
    for struct in header.structs:
        offsets, size = layout(struct)
        out.append(f'_Static_assert(sizeof({struct.name}) == {size}, "{struct.name}");')
        for field, at in zip(struct.fields, offsets):
            out.append(f'_Static_assert(offsetof({struct.name}, {field.name}) == {at}, "{struct.name}.{field.name}");')
    return "\n".join(out) + "\n"


def git(*arguments: str) -> str | None:
    """What git answers; None where it doesn't, or is not there."""
    try:
        done = subprocess.run(["git", *arguments], cwd=declarations.PACKAGE, capture_output=True, text=True, check=False)
    except OSError:
        return None
    return done.stdout.strip() if done.returncode == 0 else None


def gone_since(commit: str, listed: list[str], path: Path) -> list[str] | None:
    """Lines of a list of another commit that are not in this one; none where its interface has another number, None where it has
    no list."""
    text = git("show", f"{commit}:./{path.relative_to(declarations.PACKAGE)}")
    if text is None:
        return None
    before = text.splitlines()
    return [line for line in before if line not in listed] if before[:1] == listed[:1] else []


def against_earlier(listed: list[str], path: Path) -> bool:
    """Says what is gone since the last version that was given away, or else since the branch left main; whether that is a fault."""
    tag = git("describe", "--tags", "--abbrev=0", "--match", "v[0-9]*")
    if tag:
        gone = gone_since(tag, listed, path)
        for line in gone or []:
            print(f"gone since {tag}: {line}")
        print(f"{tag} has no list" if gone is None else f"{len(gone)} lines are gone since {tag}")
        return bool(gone)
    base = git("merge-base", "HEAD", "main") or git("merge-base", "HEAD", "origin/main")
    gone = gone_since(base, listed, path) if base else None
    for line in gone or []:
        print(f"gone since main, of an interface not yet given away: {line}")
    print("no earlier list: no tag, no branch main with one" if gone is None else f"no tag; {len(gone)} lines are gone since main")
    return False


def main(arguments: list[str]) -> int:
    header = declarations.read()
    if arguments[:1] == ["--asserts"]:
        with open(arguments[1], "w", encoding="utf-8") as file:
            file.write(asserts(header))
        return 0
    now = lines(header)
    listed = LIST.read_text(encoding="utf-8").splitlines() if LIST.exists() else []
    if arguments == ["--write"] and listed[:1] != now[:1]:
        listed = []
    gone = [line for line in listed if line not in now]
    new = [line for line in now if line not in listed]
    if arguments == ["--write"] and not gone:
        listed, new = listed + new, []
        LIST.write_text("\n".join(listed) + "\n", encoding="utf-8")
    for line in gone:
        print(f"gone or changed: {line}")
    for line in new:
        print(f"not in the list (abi.py --write): {line}")
    failed = against_earlier(listed, LIST) or bool(gone or new)
    print(f"{len(now)} lines of the binary interface {interface()}: {'NOT as listed' if failed else 'as listed'}")
    return int(failed)


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))

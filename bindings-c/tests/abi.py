"""The list of all that programs rely on once they are compiled, include/abi.txt, against the header.

    abi.py                 fails if a line of the list is no longer true, or something of the header is not in it
    abi.py --write         adds what is new; what is there stays as it is
    abi.py --asserts FILE  writes a C file that holds the structs' layout against the compiler's

The list only ever grows while the interface keeps its number (its first line). To change it deliberately raise the number, which
is the major version in Cargo.toml, or 0 and the minor one before version 1, and run `abi.py --write`: the list is then written anew. As long as no version with that number
is given away the list may also be removed and written anew.
"""

import re
import sys

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
        LIST.write_text("\n".join(listed + new) + "\n", encoding="utf-8")
        new = []
    for line in gone:
        print(f"gone or changed: {line}")
    for line in new:
        print(f"not in the list (abi.py --write): {line}")
    failed = bool(gone or new)
    print(f"{len(now)} lines of the binary interface {interface()}: {'NOT as listed' if failed else 'as listed'}")
    return int(failed)


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))

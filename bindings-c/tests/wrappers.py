"""Fails where a function of neckwright.h is not called by neckwright.hpp."""

import re
import sys

import declarations

WRAPPERS = declarations.PACKAGE / "include" / "neckwright.hpp"


def main() -> int:
    code = re.sub(r"//.*", "", WRAPPERS.read_text(encoding="utf-8"))
    named = set(re.findall(r"\bnw_\w+\b", code))
    declared = {function.name for function in declarations.read().functions}
    for name in sorted(declared - named):
        print(f"not in neckwright.hpp: {name}")
    for name in sorted(named - declared):
        print(f"in neckwright.hpp, and not in neckwright.h: {name}")
    print(f"{len(declared & named)} of {len(declared)} functions are in neckwright.hpp")
    return int(declared != named)


if __name__ == "__main__":
    sys.exit(main())

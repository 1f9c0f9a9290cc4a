#!/usr/bin/env python3
"""Writes temperaments.txt: exact distances from the nut for real fret numbers and for tables, to 50 digits in mpmath.

A line holds the rule (`equal N`, `eighteen`, `cents`, `ratios`; tables are those of the test), then the bits of the
scale, of the fret's number and of the nearest double to the exact distance, and how far the exact distance lies from
that double in thousandths of its unit in the last place.

    python3 tests/reference/temperaments.py > tests/reference/temperaments.txt
"""

import random
import struct

import mpmath
from mpmath import mpf

mpmath.mp.dps = 50
random.seed(1581)

# The same as in the Rust test, which makes them by the same arithmetic.
CENTS = [76.05, 193.16, 310.26, 386.31, 503.42, 579.47, 696.58, 772.63, 889.74, 1006.84, 1082.89, 1200.0]
RATIOS = [a / b for a, b in [(16, 15), (9, 8), (6, 5), (5, 4), (4, 3), (45, 32), (3, 2), (8, 5), (5, 3), (16, 9), (15, 8), (2, 1)]]


def bits(value):
    return struct.pack(">d", value).hex()


def ulp(value):
    return mpmath.ldexp(1, mpmath.frexp(mpmath.mpf(value))[1] - 53)


def cents_of_table(fret, entries):
    """Entry `fret` of a table that repeats itself by its last entry, straight in between."""
    whole = int(mpmath.floor(fret))
    at = lambda n: (n // len(entries)) * entries[-1] + ([mpf(0)] + entries)[n % len(entries)]
    return at(whole) + (fret - whole) * (at(whole + 1) - at(whole))


def main():
    ratios_in_cents = [1200 * mpmath.log(mpf(r), 2) for r in RATIOS]
    rules = [(f"equal {n}", lambda f, n=n: 1200 * f / n) for n in (12, 19, 99)]
    rules.append(("eighteen", lambda f: f * 1200 * mpmath.log(mpf(18) / 17, 2)))
    rules.append(("cents", lambda f: cents_of_table(f, [mpf(c) for c in CENTS])))
    rules.append(("ratios", lambda f: cents_of_table(f, ratios_in_cents)))
    for name, cents in rules:
        for i in range(36):
            scale = random.uniform(200, 1300)
            fret = float(random.randint(1, 36)) if i % 3 == 0 else random.uniform(0, 36 if i % 3 == 1 else 1)
            exact = mpf(scale) * (1 - mpmath.power(2, -cents(mpf(fret)) / 1200))
            nearest = float(exact)
            residue = int(mpmath.nint(1000 * (exact - nearest) / ulp(nearest)))
            print(name, bits(scale), bits(fret), bits(nearest), residue)


if __name__ == "__main__":
    main()

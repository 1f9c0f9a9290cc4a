#!/usr/bin/env python3
"""Writes fret_positions.txt: the exact distances of frets from the nut, scale * (1 - 2^(-n/N)), to 50 digits in mpmath.

A line holds N, then the bits of the scale as hexadecimal, then for each fret 1..=36 the bits of the nearest double
and, after a colon, how far the exact value lies from that double in thousandths of its unit in the last place.

    python3 tests/reference/fret_positions.py > tests/reference/fret_positions.txt
"""

import struct

import mpmath

mpmath.mp.dps = 50

DIVISIONS = [12, 17, 19, 22, 24, 31, 53]
FRETS = range(1, 37)
# Round ones, ones that come from inches, short and long ones, and ones with every bit in use.
SCALES = [
    200.0, 330.0, 380.0, 480.0, 520.7, 546.1, 580.0, 600.0, 609.6, 625.0, 628.65, 635.0, 640.0,
    641.35, 647.7, 650.0, 660.4, 685.8, 762.0, 863.6, 889.0, 1066.8, 1300.0,
    200.0 * 3.0**0.5, 1000.0 / 1.7,
]  # fmt: skip


def bits(value):
    return struct.pack(">d", value).hex()


def ulp(value):
    return mpmath.ldexp(1, mpmath.frexp(mpmath.mpf(value))[1] - 53)


def main():
    assert len(SCALES) == 25
    for divisions in DIVISIONS:
        for scale in SCALES:
            row = []
            for n in FRETS:
                exact = mpmath.mpf(scale) * (1 - mpmath.power(2, -mpmath.mpf(n) / divisions))
                nearest = float(exact)
                row.append(f"{bits(nearest)}:{int(mpmath.nint(1000 * (exact - nearest) / ulp(nearest)))}")
            print(divisions, bits(scale), *row)


if __name__ == "__main__":
    main()

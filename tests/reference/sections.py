#!/usr/bin/env python3
"""Writes the shared cases of sections, computed with 30 digits in mpmath and in other ways than the library's.

The neck's measures are straight between two stations, so that any of them is a weighted mean; the back is the two cubics of
DEVELOPERS.md. Areas and moments are double integrals over the section, by columns of known height; lengths are integrals of the
speed; the wall is the least distance that a search along the curve finds.

    python3 tests/reference/sections.py > tests/cases/sections.cases
    NECKWRIGHT_WRITE_CASES=1 cargo test --release -p neckwright-cases
"""

import json

import mpmath
from mpmath import mpf

mpmath.mp.dps = 30

SPEC = {
    "scale": {"length": 640},
    "nut": {"width": 43},
    "fretboard": {"thickness": 6, "radius": 305, "widths": [{"at": 450, "width": 56}]},
    "shaft": {
        "thickness": [{"at": 20, "thickness": 21}, {"at": 320, "thickness": 23}],
        "profile": [{"at": 0, "shoulder": 0.6, "belly": 0.5, "lean": 0.05}],
        "carve_line": [{"at": 0, "depth": 6.5}, {"at": 400, "depth": 7.5}],
    },
    "rod": {"width": 6, "start": 30, "end": 310, "depth": [{"at": 0, "depth": 9}, {"at": 320, "depth": 10}]},
}
STATIONS = [40, 110, 172.5, 240, 300]


def between(x, a, b, from_, to):
    return from_ + (to - from_) * (mpf(x) - a) / (mpf(b) - a)


def section(x):
    w = between(x, 0, 450, mpf(43), mpf(56)) / 2
    t = between(x, 20, 320, mpf(21), mpf(23))
    s = between(x, 0, 400, mpf("6.5"), mpf("7.5"))
    floor = 6 + between(x, 0, 320, mpf(9), mpf(10))
    shoulder, belly, lean = mpf("0.6"), mpf("0.5"), mpf("0.05")
    # Out from the middle and down from the crown.
    points = [(w, s), (w - lean * w, s + shoulder * (t - s)), (belly * w, t), (mpf(0), t)]
    return w, t, s, floor, points


def bezier(points, u):
    v = 1 - u
    weights = [v**3, 3 * v * v * u, 3 * v * u * u, u**3]
    return [sum(k * p[i] for k, p in zip(weights, points)) for i in (0, 1)]


def crown(y):
    return 305 - mpmath.sqrt(mpf(305) ** 2 - y * y)


def girth(x):
    w, _, s, _, points = section(x)
    speed = lambda u: mpmath.hypot(*[mpmath.diff(lambda u: bezier(points, u)[i], u) for i in (0, 1)])
    return 2 * (s - crown(w) + mpmath.quad(speed, [0, 0.5, 1]))


def wall(x):
    """From the channel, a rectangle around the middle, to one half of the back; the halves are alike."""
    _, _, _, floor, points = section(x)

    def off(u):
        y, depth = bezier(points, u)
        return mpmath.hypot(max(y - 3, mpf(0)), max(depth - floor, mpf(0)))

    low, high = mpf(0), mpf(1)
    for _ in range(12):
        at = [low + (high - low) * i / 200 for i in range(201)]
        best = min(range(201), key=lambda i: off(at[i]))
        low, high = at[max(best - 1, 0)], at[min(best + 1, 200)]
    return off((low + high) / 2)


def least_wall():
    """In space, over all of the channel's length: from each place of the back to the nearest of the channel."""
    slope, at_0 = mpf(1) / 320, mpf(15)

    def off(x, u):
        y, depth = bezier(section(x)[4], u)
        along = max(mpf(30), min(mpf(310), (x + slope * (depth - at_0)) / (1 + slope**2)))
        beyond = max(depth - (at_0 + slope * along), mpf(0))
        return mpmath.sqrt((x - along) ** 2 + max(y - 3, mpf(0)) ** 2 + beyond**2)

    (x0, x1), (u0, u1) = (mpf(20), mpf(320)), (mpf(0), mpf(1))
    for _ in range(14):
        places = [(x0 + (x1 - x0) * i / 24, u0 + (u1 - u0) * j / 24) for i in range(25) for j in range(25)]
        x, u = min(places, key=lambda place: off(*place))
        dx, du = (x1 - x0) / 8, (u1 - u0) / 8
        (x0, x1), (u0, u1) = (max(x - dx, mpf(20)), min(x + dx, mpf(320))), (max(u - du, mpf(0)), min(u + du, mpf(1)))
    return off(x, u), x


def moments(x):
    """Columns of the section at a height `depth`: as wide as twice what the outline is out there."""
    w, t, s, _, points = section(x)

    def out(depth):
        if depth < crown(w):
            return mpmath.sqrt(mpf(305) ** 2 - (305 - depth) ** 2)
        if depth <= s:
            return w
        u = mpmath.findroot(lambda u: bezier(points, u)[1] - depth, (mpf(0), mpf(1)), solver="anderson", tol=1e-50)
        return bezier(points, u)[0]

    def over(f):
        top = mpmath.quad(lambda d: f(d, out(d)), [0, crown(w)])
        side = mpmath.quad(lambda d: f(d, out(d)), [crown(w), s])
        # Along the curve, whose depth changes by so much.
        depth = lambda u: bezier(points, u)[1]
        back = mpmath.quad(lambda u: f(depth(u), bezier(points, u)[0]) * mpmath.diff(depth, u), [0, 0.5, 1])
        return top + side + back

    area = over(lambda d, y: 2 * y)
    z = -over(lambda d, y: 2 * y * d) / area
    return [area, mpf(0), z, over(lambda d, y: 2 * y * (z + d) ** 2), over(lambda d, y: 2 * y**3 / 3), mpf(0)]


def told(name, unit, tolerance, values):
    print(f"expect {name} {unit} within {tolerance}")
    words = [mpmath.nstr(v, 18, strip_zeros=True) for v in values]
    for i in range(0, len(words), 5):
        print("  " + " ".join(words[i : i + 5]))


def document(name, spec):
    print(f"document {name}")
    groups = [f' "{key}": {json.dumps(value)}' for key, value in spec.items()]
    print("  {\n  " + ",\n  ".join(groups) + "\n  }")
    print()


def readings(title, name):
    print(f"case {title}\noperation neck_along\nuse {name}\ngiven x_mm {' '.join(map(str, STATIONS))}")
    all_ = [section(x) for x in STATIONS]
    told("thickness", "mm", "1e-12", [t for _, t, _, _, _ in all_])
    told("width", "mm", "1e-12", [2 * w for w, *_ in all_])
    told("girth", "mm", "1e-9", [girth(x) for x in STATIONS])
    for side in ("bass", "treble"):
        told(f"carve_line_{side}", "mm", "1e-12", [s for _, _, s, _, _ in all_])
    told("rod_wall", "mm", "1e-9", [wall(x) for x in STATIONS])
    print()


def sections(title, name, hand):
    for x in (STATIONS[0], STATIONS[2], STATIONS[4]):
        print(f"case {title}, {x} mm from the nut\noperation neck_section\nuse {name}\ngiven x_mm {x}")
        area, *rest = moments(x)
        told("area", "mm2", "1e-9", [area])
        told("centroid", "mm", "1e-10", rest[:2])
        told("second_moments", "mm4", "1e-7", rest[2:])
        points = section(x)[4]
        for side, sign in (("bass", -hand), ("treble", hand)):
            told(f"control_points_{side}", "mm", "1e-12", [v for y, d in points for v in (sign * y, -d)])
        print()


print("# Sections of a neck whose measures are straight between two stations; written by tests/reference/sections.py.")
print()
document("straight", SPEC)
readings("readings along a straight neck", "straight")
sections("a section", "straight", 1)
least, x = least_wall()
print("case the thinnest wall anywhere: below the channel's end at the nut\noperation neck_whole\nuse straight")
told("least_rod_wall", "mm", "1e-6", [least])
print("expect least_rod_wall_at mm within 0.1\n  " + mpmath.nstr(x, 8))
print()
document("left", {**SPEC, "hand": "left"})
readings("a left-handed neck reads the same", "left")
sections("a left-handed neck's section, mirrored", "left", -1)

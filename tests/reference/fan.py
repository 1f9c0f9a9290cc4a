#!/usr/bin/env python3
"""Writes fan.txt: frets of two scales, built with 40 digits in mpmath and in other ways than the library's.

Points and lines are homogeneous triples: a line through two points and a point on two lines are cross products. How far
the nut stands aslant is found by trial (secant method) until the square fret is square. The wire's length is the integral
along the curve in space, its slope by numerical differentiation.

A line `case` holds the specification; a line `fret` its number, both slot ends (x y x y), the slot's length, the wire's
length and then for each string, bass first, the cents by which it sounds sharp of its own equal division.

    python3 tests/reference/fan.py > tests/reference/fan.txt
"""

import mpmath
from mpmath import mpf

mpmath.mp.dps = 40

# All mm, as text, so that mpmath reads what the Rust test reads. Widths: station and width, the nut's first.
CASES = [
    dict(bass="686", treble="648", square="7", divisions=12, nut="36.5", bridge="64", widths="0 44 300 53.5 500 60.25",
         end="510", binding="0", radius="305", end_radius="508", overhang="3", spacing="even_gaps", zero=0, count=24,
         gauges="1.47 1.17 0.91 0.66 0.43 0.33 0.25", frets="1 2 7 12 19 24"),
    dict(bass="640", treble="610", square="0", divisions=12, nut="35", bridge="52", widths="0 42 470 54",
         end="470", binding="1.5", radius="254", end_radius="254", overhang="0", spacing="even_gaps", zero=1, count=22,
         gauges="1.17 0.91 0.66 0.43 0.33 0.25", frets="0 1 5 12 20 22"),
    dict(bass="889", treble="813", square="11.5", divisions=12, nut="38", bridge="57.5", widths="0 45 200 50 210 51.5 600 62",
         end="655", binding="0.5", radius="400", end_radius="300", overhang="2.5", spacing="even_centres", zero=0, count=22,
         gauges="3.30 2.67 2.16 1.65 1.14", frets="1 3 11 12 21"),
    dict(bass="600", treble="655", square="9", divisions=19, nut="36", bridge="50", widths="0 43 450 52",
         end="500", binding="0", radius="184", end_radius="360", overhang="3", spacing="even_gaps", zero=0, count=36,
         gauges="1.17 0.91 0.66 0.43 0.33 0.25", frets="1 9 19 30 36"),
]  # fmt: skip


def line(p, q):
    return cross((p[0], p[1], mpf(1)), (q[0], q[1], mpf(1)))


def meet(a, b):
    x, y, w = cross(a, b)
    return (x / w, y / w)


def cross(a, b):
    return (a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0])


def distance(p, q):
    return mpmath.sqrt((p[0] - q[0]) ** 2 + (p[1] - q[1]) ** 2)


def string_end(start, length, half):
    """The end of a string of this length that begins at `start` and ends this far from the centreline."""
    return (start[0] + mpmath.sqrt(length**2 - (half - start[1]) ** 2), half)


def along(p, q, part):
    return (p[0] + part * (q[0] - p[0]), p[1] + part * (q[1] - p[1]))


class Case:
    def __init__(self, given):
        self.given = given
        num = {k: mpf(given[k]) for k in "bass treble square nut bridge end binding radius end_radius overhang".split()}
        self.num = num
        self.widths = [mpf(w) for w in given["widths"].split()]
        self.widths = list(zip(self.widths[::2], self.widths[1::2]))
        self.gauges = [mpf(g) for g in given["gauges"].split()]
        slant = mpmath.findroot(lambda d: self.aslant_at_square(d), (mpf(0), mpf(1)))
        self.place(slant)
        self.strings = [
            (self.on_line(self.bass[0], self.treble[0], y0), self.on_line(self.bass[1], self.treble[1], y1))
            for y0, y1 in zip(self.centres(num["nut"]), self.centres(num["bridge"]))
        ]

    def place(self, slant):
        nut, bridge = self.num["nut"] / 2, self.num["bridge"] / 2
        bass, treble = (-slant, -nut), (slant, nut)
        self.bass = (bass, string_end(bass, self.num["bass"], -bridge))
        self.treble = (treble, string_end(treble, self.num["treble"], bridge))

    def taken(self, fret):
        return 1 - mpmath.power(2, -mpf(fret) / self.given["divisions"])

    def points(self, fret):
        return along(*self.bass, self.taken(fret)), along(*self.treble, self.taken(fret))

    def aslant_at_square(self, slant):
        self.place(slant)
        p, q = self.points(self.num["square"])
        return q[0] - p[0]

    @staticmethod
    def on_line(p, q, y):
        return along(p, q, (y - p[1]) / (q[1] - p[1]))

    def centres(self, spread):
        count = len(self.gauges)
        if self.given["spacing"] == "even_centres":
            return [spread * i / (count - 1) - spread / 2 for i in range(count)]
        gap = (spread - sum((a + b) / 2 for a, b in zip(self.gauges, self.gauges[1:]))) / (count - 1)
        y = [-spread / 2]
        for a, b in zip(self.gauges, self.gauges[1:]):
            y.append(y[-1] + a / 2 + gap + b / 2)
        return y

    def slot_end(self, fret_line, side):
        """The point nearest to the centreline where the line meets an edge within one of its stretches."""
        found = []
        stretches = list(zip(self.widths, self.widths[1:]))
        for i, ((x0, w0), (x1, w1)) in enumerate(stretches):
            inset = self.num["binding"]
            edge = line((x0, side * (w0 / 2 - inset)), (x1, side * (w1 / 2 - inset)))
            p = meet(fret_line, edge)
            if (i == 0 or p[0] >= x0) and (i == len(stretches) - 1 or p[0] <= x1) and side * p[1] > 0:
                found.append(p)
        return min(found, key=lambda p: abs(p[1]))

    def height(self, x, y):
        r = self.num["radius"] + (self.num["end_radius"] - self.num["radius"]) * x / self.num["end"]
        return mpmath.sqrt(r**2 - y**2) - r

    def wire(self, p, q):
        plan = distance(p, q)

        def speed(t):
            return mpmath.sqrt(plan**2 + mpmath.diff(lambda u: self.height(*along(p, q, u)), t) ** 2)

        mpmath.mp.dps = 25
        length = mpmath.quad(speed, [0, 0.5, 1])
        mpmath.mp.dps = 40
        return length + 2 * self.num["overhang"]

    def fret(self, number):
        fret_line = line(*self.points(number))
        p, q = self.slot_end(fret_line, -1), self.slot_end(fret_line, 1)
        row = [*p, *q, distance(p, q), self.wire(p, q)]
        for nut, bridge in self.strings:
            stopped = meet(fret_line, line(nut, bridge))
            cents = 1200 * mpmath.log(distance(nut, bridge) / distance(stopped, bridge), 2)
            row.append(mpmath.chop(cents - mpf(1200) * number / self.given["divisions"], mpf("1e-25")))
        return row


def main():
    for given in CASES:
        case = Case(given)
        print("case", ";".join(f"{k}={v}" for k, v in given.items() if k != "frets"))
        for number in map(int, given["frets"].split()):
            print("fret", number, *(mpmath.nstr(v, 18) for v in case.fret(number)))


if __name__ == "__main__":
    main()

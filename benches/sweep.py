"""Necks per second of a sweep: in this process, on one and two processes, through a local Dask cluster; beside the plain loop.

    cargo build --release -p neckwright-benches --lib
    pip install ./bindings-python distributed
    python benches/sweep.py [necks [target/release]]

The plain loops, in Rust and in Python, make necks of the same grid and read the same numbers: what is above them is the sweep's own.
"""

import ctypes
import json
import sys
import time

import numpy as np

from beside import library
from neckwright import Neck, sweep

BASE = {"scale": {"length": 640}, "shaft": {"thickness": [{"at": "fret 1", "thickness": 21}, {"at": "fret 12", "thickness": 23}]}}
READ = ["thickness_mm at fret 5", "width_mm at fret 5"]


def plain(variations):
    """The loop without a sweep, in µs a neck: (made from texts, made from dicts)."""
    (a, widths), (b, thicknesses) = variations.items()
    documents = []
    for width in widths.tolist():
        for thickness in thicknesses.tolist():
            shaft = {"thickness": [{"at": "fret 1", "thickness": thickness}, BASE["shaft"]["thickness"][1]]}
            documents.append(BASE | {"nut": {"width": width}, "shaft": shaft})
    told = []
    for given in ([json.dumps(document) for document in documents], documents):
        begun = time.perf_counter()
        for one in given:
            neck = Neck(one)
            neck.thickness_mm("fret 5"), neck.width_mm("fret 5")
        told.append((time.perf_counter() - begun) / len(given) * 1e6)
    return told


def rust(side):
    """The loop in Rust, in µs a neck; None where the library of the benches is not built."""
    found = library(sys.argv[2] if len(sys.argv) > 2 else "target/release")
    if found is None:
        return None
    necks_s = found.beside_necks_s
    necks_s.argtypes, necks_s.restype = [ctypes.c_uint32], ctypes.c_double
    return necks_s(side) / side**2 * 1e6


def main():
    """Prints a line for each way."""
    side = int(int(sys.argv[1]) ** 0.5) if len(sys.argv) > 1 else 100
    variations = {"nut.width": np.linspace(40, 46, side), "shaft.thickness[0].thickness": np.linspace(20, 22.5, side)}
    part = {path: values[:: max(1, side // 50)] for path, values in variations.items()}
    text, mapping = plain(part)
    print(f"{side * side} necks, two readings each")
    loop = rust(side)
    print("loop in Rust: not run, it is not built" if loop is None else f"{'loop in Rust':32} {1e6 / loop:9.0f} necks/s {loop:8.1f} µs a neck")
    print(f"{'loop over JSON texts':32} {1e6 / text:9.0f} necks/s {text:8.1f} µs a neck")
    print(f"{'loop over dicts':32} {1e6 / mapping:9.0f} necks/s {mapping:8.1f} µs a neck")

    found = None

    def timed(name, executor):
        nonlocal found
        begun = time.perf_counter()
        swept = sweep(BASE, variations, READ, executor=executor, progress=False)
        seconds = time.perf_counter() - begun
        assert found is None or all(swept[c].tobytes() == found[c].tobytes() for c in swept), name
        found = swept
        print(f"{name:32} {swept.rows / seconds:9.0f} necks/s {seconds / swept.rows * 1e6:8.1f} µs a neck")

    timed("sweep, in this process", None)
    timed("sweep, 1 process", 1)
    timed("sweep, 2 processes", 2)
    try:
        from distributed import Client, LocalCluster
    except ImportError:
        print("Dask: not run, distributed is not installed")
        return
    with LocalCluster(n_workers=2, threads_per_worker=1, dashboard_address=None) as cluster, Client(cluster) as client:
        client.wait_for_workers(2)
        timed("sweep, Dask, 2 workers", client)


if __name__ == "__main__":
    main()

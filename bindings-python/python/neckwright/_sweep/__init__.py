"""Sweeps: many specifications, made and read by as many processes or machines as there are."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from operator import index
from os import PathLike
from typing import TYPE_CHECKING, Any

from .._errors import refused
from .._native import Neck
from .bar import Bar
from .reading import Read, Reading
from .swept import Faults, Swept
from .variations import Grid, Listed, Product, Row
from .work import Done, Task
from .workers import Call, Elsewhere, Here, count_of

if TYPE_CHECKING:
    from concurrent.futures import ProcessPoolExecutor

__all__ = ["Faults", "Swept", "sweep"]

# A part should take about this long: much longer than to hand it over, much shorter than anybody waits.
_PART_S = 0.25
_LARGEST = 20_000


def sweep(
    base: Neck | Mapping[str, Any] | str | PathLike[str],
    variations: Grid | Iterable[Mapping[str, Any]],
    read: Read,
    *,
    executor: Any = None,
    chunk: int | None = None,
    progress: bool = True,
) -> Swept:
    """Makes the necks of many specifications, and reads numbers off each.

    A specification that can't be made, or a reading that its neck can't give, is a row with faults; the sweep goes on.

    Parameters
    ----------
    base : Neck, mapping, str or path
        What the variations change: a neck, or a document that makes one as it stands.
    variations : mapping, or iterable of mappings
        A mapping of paths to their values gives all combinations, the last path changing fastest:
        ``{"nut.width": [42, 43], "shaft.thickness[0].thickness": numpy.linspace(20, 22, 9)}``. Several paths that vary together are
        a tuple, and their values tuples: ``{("nut.width", "string_count"): …}``. Otherwise each mapping is a row, of paths to what
        stands there; a generator is asked for rows only as the sweep comes to them.
        ``None`` takes away what the base has there: of a field its value, so that its default holds; of a list the entry, the others of
        that row keep the numbers that they have in the base. Paths go into lists only as far as the base has entries.
    read : str, sequence of str, mapping, or function
        Numbers by their names, which are those of a neck's methods and of the fields of what they give, with a station where they
        take one: ``"least_rod_wall.proven"``, ``"mass_kg.neck_wood_kg"``, ``"thickness_mm at fret 5"``, ``"width_mm at 0"``; a
        mapping of columns to such names or functions of a neck; or one function of a neck, which gives a number, an array of the
        same shape each time, a named tuple, or a mapping of columns to those.
    executor : int or executor, optional
        How many processes; or anything with ``submit`` as :mod:`concurrent.futures` has it; or a client of Dask's distributed
        scheduler. Without it, this process. The result is the same, bit for bit.
    chunk : int, optional
        Rows that are handed over at a time, 1 or more; without it as many as take a quarter of a second.
    progress : bool
        Whether a bar shows how far it is, where tqdm is installed and the sweep takes more than half a second.

    Returns
    -------
    Swept
        Columns, in the order of the variations.

    Raises
    ------
    NeckwrightError
        The base makes no neck; a path that is no field's, that is varied twice or leads into a list that the base does not have; a
        text in the place of a station that is none. All before the first row is made; only of rows that a generator gives a wrong path
        is a fault of the row.
    TypeError
        What is read gives no number, or can't be sent to another process; an executor or chunk that is none.
    AttributeError
        A neck has nothing of a name; the nearest one is told.
    RuntimeError
        A function failed otherwise than by an error of this library; row and reason are told.

    Notes
    -----
    Functions reach other processes by pickle, so they stand at the top of a module; with cloudpickle installed, as it is with Dask,
    they may be lambdas or stand in a notebook. Scripts that use processes begin with ``if __name__ == "__main__":``.

    Examples
    --------
    >>> from neckwright import sweep
    >>> swept = sweep({"scale": {"length": 640}}, {"nut.width": [42, 43, 44]}, ["width_mm at 0", "volume_mm3.neck_wood_mm3"])
    >>> swept["width_mm at 0"]
    array([42., 43., 44.])
    >>> int(swept["volume_mm3.neck_wood_mm3"].argmin())
    0
    """
    if chunk is not None and _whole("chunk", chunk, "a whole number of rows") < 1:
        raise refused("out_of_range", "chunk", str(chunk), "a part has rows", "give 1 or more")
    neck = base if isinstance(base, Neck) else Neck(base)
    text: str = neck.__reduce__()[1][0]
    reading = Reading(read)
    reading.check(neck)
    source = Product(variations) if isinstance(variations, Mapping) else Listed(variations)
    source.check(text)
    task = Task(text, read, source if isinstance(source, Product) else None)
    with _Workers(executor) as workers:
        return _swept(workers.ready(task), source, text, reading.names, chunk, progress)


def _whole(name: str, value: Any, wanted: str) -> int:
    if isinstance(value, bool) or not hasattr(value, "__index__"):
        raise TypeError(f"{name} = {value!r:.60}: give {wanted}")
    return index(value)


def _swept(worker: Here | Elsewhere, source: Product | Listed, text: str, names: list[str], chunk: int | None, progress: bool) -> Swept:
    rows: list[Row] = []
    done: list[Done] = []
    size = [chunk or 16]

    def calls() -> Iterator[Call]:
        start = 0
        while True:
            if isinstance(source, Product):
                part: Any = min(size[0], source.size - start)
                count = part
            else:
                part = source.take(size[0])
                count = len(part)
                rows.extend(part)
            if not count:
                return
            yield start, part
            start += count

    bar = Bar(source.size, progress)
    try:
        for part in worker.run(calls()):
            done.append(part)
            bar.add(part.size)
            if chunk is None:
                wanted = part.size * _PART_S / max(part.seconds, 1e-6)
                size[0] = max(1, min(int(wanted), 4 * part.size, _LARGEST))
    finally:
        bar.close()
    return Swept(text, source if isinstance(source, Product) else rows, names, done)


class _Workers:
    """What was given as an executor; processes that the sweep started end with it."""

    def __init__(self, executor: Any) -> None:
        self._own: ProcessPoolExecutor | None = None
        if executor is not None and not hasattr(executor, "submit"):
            processes = _whole("executor", executor, "a whole number of processes, or what has submit, as concurrent.futures has it")
            if processes < 1:
                raise refused("out_of_range", "executor", str(executor), "a sweep needs a process", "give 1 or more")
            from concurrent.futures import ProcessPoolExecutor

            executor = self._own = ProcessPoolExecutor(processes)
        self._executor = executor

    def __enter__(self) -> _Workers:
        return self

    def __exit__(self, *_: object) -> None:
        if self._own is not None:
            self._own.shutdown(cancel_futures=True)

    def ready(self, task: Task) -> Here | Elsewhere:
        """Those who do this task."""
        if self._executor is None:
            return Here(task)
        # Dask's client takes calls of one function with the same arguments for one; its executor does not.
        executor = self._executor
        submit = executor.get_executor(pure=False).submit if hasattr(executor, "get_executor") else executor.submit
        return Elsewhere(task.packed(), submit, 2 * count_of(executor) + 2)


# Shown and pickled under the name that users import.
Swept.__module__ = sweep.__module__ = "neckwright"

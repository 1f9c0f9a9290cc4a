"""How far a sweep has come."""

from __future__ import annotations

import time
from typing import Any

# Nobody watches a bar for less, and loading it takes a tenth of a second.
_DELAY_S = 0.5


class Bar:
    """A progress bar where tqdm is installed, once the sweep takes a while."""

    def __init__(self, total: int | None, wanted: bool) -> None:
        self._total, self._wanted = total, wanted
        self._begun = time.monotonic()
        self._done = 0
        self._bar: Any = None

    def add(self, rows: int) -> None:
        """So many rows more are done."""
        self._done += rows
        if self._bar is None and self._wanted and time.monotonic() - self._begun > _DELAY_S:
            try:
                from tqdm.auto import tqdm
            except ImportError:
                self._wanted = False
                return
            self._bar = tqdm(total=self._total, unit="neck", unit_scale=True)
            rows = self._done
        if self._bar is not None:
            self._bar.update(rows)

    def close(self) -> None:
        """The sweep is over."""
        if self._bar is not None:
            self._bar.close()

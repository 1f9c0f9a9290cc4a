"""How results come back from a pickle: made again from what they were made from."""

from __future__ import annotations

import json
from typing import Any


def again(of: Any, method: str, arguments: tuple[Any, ...], options: str, index: int | None) -> Any:
    """Calls a method once more, or reads an attribute; of several results the one of this index."""
    made = getattr(of, method)
    if callable(made):
        made = made(*arguments, **(json.loads(options) if options else {}))
    return made if index is None else made[index]


def of(whole: Any, name: str) -> Any:
    """What an object has by a name: an attribute, or what a method makes."""
    made = getattr(whole, name)
    return made() if callable(made) else made


def maker(result: Any) -> Any:
    """What a result was made of: the neck of a section or a plan."""
    return result.__reduce__()[1][0]

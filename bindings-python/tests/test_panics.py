"""A library that panics: an ordinary exception comes of it, and everything goes on.

`tests/run python` runs this with a module that was built to panic when asked to.
"""

from __future__ import annotations

import pytest

from neckwright import Neck, _native

panic = getattr(_native, "panic", None)


@pytest.mark.skipif(panic is None, reason="this module was not built to panic")
@pytest.mark.parametrize("place", ["held", "free", "told"])
def test_a_panic_is_an_ordinary_exception(place: str) -> None:
    assert panic is not None
    for _ in range(100):
        with pytest.raises(RuntimeError, match="please report it: seven frets too many") as caught:
            panic(place)
        assert isinstance(caught.value, Exception) and type(caught.value) is RuntimeError
    assert Neck().thickness_mm("fret 12") == 22.86

"""Look for garbage seldom: pages are many small values, and hardly any of them in rings."""

from __future__ import annotations

import atexit
import gc

SELDOM = 200_000
"""So many more values there are when those that have come are looked through."""


def look_seldom() -> None:
    """For a process that is all ours: look seldom, and when it ends not at all.

    The one saves 5 % of a book's time and costs 3 % of its memory; a run that makes a single book
    ends before the first look. The other saves 40 ms: what is left goes with the process, whether
    it has been looked through or not.
    """
    gc.set_threshold(SELDOM, 20, 20)
    atexit.register(gc.freeze)

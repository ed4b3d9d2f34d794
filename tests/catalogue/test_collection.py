"""Garbage is looked for late the first time and seldom then, and rings are found all the same."""

from __future__ import annotations

import subprocess
import sys

SCRIPT = """
import gc, weakref
from publisher.catalogue.build.collection import look_seldom

class Ring:
    def __init__(self):
        self.itself = self

look_seldom()
look_seldom()
first = gc.get_threshold()[0]
ring = weakref.ref(Ring())
kept = [[] for _ in range(first // 2)]
assert ring() is not None
kept += [[] for _ in range(first)]
assert ring() is None
then = gc.get_threshold()[0]
assert 0 < then < first
ring = weakref.ref(Ring())
kept += [[] for _ in range(2 * then)]
assert ring() is None
print("well")
"""


def test_rings_are_found_late_at_first_and_sooner_then() -> None:
    said = subprocess.run([sys.executable, "-c", SCRIPT], capture_output=True, text=True)
    assert said.stdout == "well\n", said.stderr

"""Garbage is looked for seldom, and rings are found all the same."""

from __future__ import annotations

import subprocess
import sys

SCRIPT = """
import gc, weakref
from publisher.catalogue.build.collection import SELDOM, look_seldom

class Ring:
    def __init__(self):
        self.itself = self

look_seldom()
ring = weakref.ref(Ring())
kept = [[] for _ in range(SELDOM // 2)]
assert ring() is not None
kept += [[] for _ in range(SELDOM)]
assert ring() is None
print("well")
"""


def test_rings_are_found_late() -> None:
    said = subprocess.run([sys.executable, "-c", SCRIPT], capture_output=True, text=True)
    assert said.stdout == "well\n", said.stderr

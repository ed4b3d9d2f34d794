"""svgwrite comes without its slow tables, and whoever wants its checks still has them."""

from __future__ import annotations

import subprocess
import sys

SCRIPT = """
import sys
from publisher.drawing.canvas import Canvas
canvas = Canvas()
canvas.fill("M0 0H1V1Z", "#000000")
assert "<path" in canvas.svg()
assert not any(name.startswith("svgwrite.data.svgparser") for name in sys.modules)
import svgwrite
try:
    svgwrite.Drawing().rect(colour_of_the_sky="blue")
except ValueError:
    print("checked")
"""


def test_drawing_loads_no_tables_of_svgwrite_and_leaves_its_checks_to_others() -> None:
    said = subprocess.run([sys.executable, "-c", SCRIPT], capture_output=True, text=True)
    assert said.stdout == "checked\n", said.stderr

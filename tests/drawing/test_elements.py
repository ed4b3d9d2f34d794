"""svgwrite comes without what is slow to load, and whoever wants that of it still has it."""

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
assert "http.client" not in sys.modules
import svgwrite
try:
    svgwrite.Drawing().rect(colour_of_the_sky="blue")
except ValueError:
    print("checked")
print(svgwrite.container.urlopen("data:,fetched").read().decode())
import urllib.request
print(urllib.request.urlopen("data:,whole").read().decode())
"""


def test_drawing_loads_neither_tables_nor_web_for_svgwrite_and_leaves_both_to_others() -> None:
    said = subprocess.run([sys.executable, "-c", SCRIPT], capture_output=True, text=True)
    assert said.stdout.split() == ["checked", "fetched", "whole"], said.stderr

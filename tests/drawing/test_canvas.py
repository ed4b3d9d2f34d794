"""A canvas is made of svgwrite's own elements, and writes what it was given."""

from __future__ import annotations

import subprocess
import sys
from xml.etree import ElementTree

from hypothesis import given
from hypothesis import strategies as st

from publisher.drawing.base.canvas import FigureCanvas
from publisher.drawing.base.numbers import number

WORDS = st.text(st.sampled_from("ab 5°—◆&<>\"'"), min_size=1, max_size=8)

SCRIPT = """
import sys
from publisher.drawing.base.canvas import FigureCanvas
canvas = FigureCanvas()
canvas.fill("M0 0H1V1Z", "#000000")
assert "<path" in canvas.svg()
import svgwrite, urllib.request
from svgwrite.validator2 import get_validator
assert svgwrite.container.urlopen is urllib.request.urlopen
assert all(sys.modules[name].__file__ for name in sys.modules if name.startswith("svgwrite"))
try:
    svgwrite.Drawing().rect(colour_of_the_sky="blue")
except ValueError:
    print("checked")
"""


def test_svgwrite_is_used_as_it_comes() -> None:
    run = subprocess.run([sys.executable, "-c", SCRIPT], capture_output=True, text=True)
    assert run.stdout == "checked\n", run.stderr


@given(WORDS, WORDS)
def test_words_and_attributes_are_read_back_as_they_were_given(words: str, paint: str) -> None:
    canvas = FigureCanvas(data_note=paint)
    canvas.label(1.5, 2.0, words, "0.5")
    canvas.group(fill="#123456").path("M0 0H1", stroke_width="0.2")
    root = ElementTree.fromstring(canvas.svg())
    text, group = root
    assert root.attrib == {"data-note": paint}
    assert (text.tag, text.text) == ("text", words)
    assert text.attrib == {"x": "1.5", "y": "2", "data-advance": "0.5"}
    assert group.attrib == {"fill": "#123456"}
    assert group[0].attrib == {"d": "M0 0H1", "stroke-width": "0.2"}


def test_a_figure_drawn_before_stands_in_another_as_it_was() -> None:
    inner = FigureCanvas(fill="none")
    inner.text(1.0, 2.0, "5° & more", "sans", 8.0, "#000000")
    figure = inner.figure(10.0, 10.0)
    outer = FigureCanvas()
    outer.add(figure)
    assert outer.svg() == f"<g>{figure.svg}</g>"


@given(st.floats(-1e6, 1e6), st.integers(0, 4))
def test_a_number_is_as_short_as_its_rounding_allows(value: float, places: int) -> None:
    text = number(value, places)
    assert float(text) == round(value, places)
    assert text != "-0"
    assert "." not in text or not text.endswith(("0", "."))

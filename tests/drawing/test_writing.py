"""What is drawn is written as svgwrite itself would write it."""

from __future__ import annotations

import svgwrite.container
import svgwrite.path
import svgwrite.text
from hypothesis import given
from hypothesis import strategies as st

from publisher.drawing.elements import Element, group, path, text
from publisher.drawing.numbers import number
from publisher.drawing.writing import write, write_label, write_path

WORDS = st.text(st.sampled_from("ab 5°—◆&<>\"'\t\n\r"), max_size=8)
ATTRIBUTES = st.dictionaries(st.sampled_from(("fill", "stroke_width", "class_", "x")), WORDS)
PATHS = st.builds(path, ATTRIBUTES, WORDS)
TEXTS = st.builds(text, ATTRIBUTES, WORDS)


def holding(inner: list[Element], given: dict[str, str]) -> Element:
    made = group(given)
    made.elements += inner
    return made


GROUPS = st.recursive(
    st.builds(holding, st.lists(PATHS | TEXTS, max_size=3), ATTRIBUTES),
    lambda inner: st.builds(holding, st.lists(inner | PATHS | TEXTS, max_size=4), ATTRIBUTES),
    max_leaves=8,
)


def by_svgwrite(element: Element) -> svgwrite.base.BaseElement:
    """The same element, made with svgwrite."""
    attributes = dict(element.attributes)
    if element.name == "path":
        made = svgwrite.path.Path(attributes.pop("d"), debug=False)
    elif element.name == "text":
        made = svgwrite.text.Text(element.text, debug=False)
    else:
        made = svgwrite.container.Group(debug=False)
    made.attribs = attributes
    for inner in element.elements:
        assert isinstance(inner, Element)
        made.add(by_svgwrite(inner))
    return made


@given(GROUPS)
def test_elements_are_written_as_svgwrite_writes_them(drawn: Element) -> None:
    assert write(drawn) == by_svgwrite(drawn).tostring()


@given(WORDS, WORDS)
def test_what_is_written_as_it_comes_is_an_element_too(data: str, words: str) -> None:
    drawn = holding([path({}, data), text({"x": "1"}, words)], {})
    made = group({})
    made.elements += [write_path({"d": data}), write_label('x="1"', words)]
    assert write(made) == write(drawn)


@given(st.floats(-1e6, 1e6), st.integers(0, 4))
def test_a_number_is_as_short_as_its_rounding_allows(value: float, places: int) -> None:
    text = number(value, places)
    assert float(text) == round(value, places)
    assert text != "-0"
    assert "." not in text or not text.endswith(("0", "."))

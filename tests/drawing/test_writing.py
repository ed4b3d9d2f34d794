"""What is drawn is written as svgwrite itself would write it."""

from __future__ import annotations

from typing import Any

from hypothesis import given
from hypothesis import strategies as st

from publisher.drawing.elements import Group, Path, Text, unchecked
from publisher.drawing.numbers import number
from publisher.drawing.writing import write, write_label, write_path

WORDS = st.text(st.sampled_from("ab 5°—◆&<>\"'\t\n\r"), max_size=8)
ATTRIBUTES = st.dictionaries(st.sampled_from(("fill", "stroke_width", "class_", "x")), WORDS)
PATHS = st.builds(lambda d, given: unchecked(Path, given, d), WORDS, ATTRIBUTES)
TEXTS = st.builds(lambda words, given: unchecked(Text, given, words), WORDS, ATTRIBUTES)


def group(inner: list[Any], given: dict[str, str]) -> Group:
    made = unchecked(Group, given)
    for element in inner:
        made.add(element)
    return made


GROUPS = st.recursive(
    st.builds(group, st.lists(PATHS | TEXTS, max_size=3), ATTRIBUTES),
    lambda inner: st.builds(group, st.lists(inner | PATHS | TEXTS, max_size=4), ATTRIBUTES),
    max_leaves=8,
)


@given(GROUPS)
def test_elements_are_written_as_svgwrite_writes_them(drawn: Group) -> None:
    assert write(drawn) == drawn.tostring()


@given(WORDS, WORDS)
def test_what_is_written_as_it_comes_is_an_element_too(path: str, words: str) -> None:
    drawn = group([unchecked(Path, {}, path), unchecked(Text, {"x": "1"}, words)], {})
    made = group([], {})
    made.elements += [write_path({"d": path}), write_label('x="1"', words)]
    assert write(made) == drawn.tostring()


@given(st.floats(-1e6, 1e6), st.integers(0, 4))
def test_a_number_is_as_short_as_its_rounding_allows(value: float, places: int) -> None:
    text = number(value, places)
    assert float(text) == round(value, places)
    assert text != "-0"
    assert "." not in text or not text.endswith(("0", "."))

"""A figure in a file of its own: plain SVG 1.1 that needs nothing else, and says what it is."""

from __future__ import annotations

import re
from xml.etree import ElementTree

import pytest
from svgwrite.validator2 import get_validator

from publisher.drawing import standalone_svg
from publisher.drawing.base.canvas import FigureCanvas
from publisher.errors import FontError
from publisher.model.colour import WHITE
from tests.support.lone import lone, names_of, svg_of

SLUGS = (
    "boats-at-the-weir",
    "heron-step",
    "kingfisher-over-reeds",
    "lantern-window",
    "lock-keepers-key-cord",
    "tide-lines",
)
SVG = "{http://www.w3.org/2000/svg}"
ELSEWHERE = re.compile(r"https?:|file:|//|@import|url\(|javascript:")


@pytest.mark.parametrize("slug", SLUGS)
def test_files_are_shapes_alone_and_name_nothing_that_lies_elsewhere(slug: str) -> None:
    for name in names_of(slug):
        svg = svg_of(slug, name)
        for node in ElementTree.fromstring(svg).iter():
            assert node.tag in {SVG + tag for tag in ("svg", "title", "desc", "defs", "g", "path")}
            assert not {key for key in node.attrib if "font" in key or key.startswith("on")}
            assert not [value for value in node.attrib.values() if ELSEWHERE.search(value)]


@pytest.mark.parametrize("slug", SLUGS)
def test_files_have_a_title_and_a_description_first_and_ids_of_their_own(slug: str) -> None:
    ids: list[str] = []
    for name in names_of(slug):
        root = ElementTree.fromstring(svg_of(slug, name))
        title, described = root[0], root[1]
        assert (title.tag, described.tag) == (f"{SVG}title", f"{SVG}desc")
        assert title.text and described.text and title.text != described.text
        assert not re.search(r"[*{}]", title.text + described.text)
        assert root.get("{http://www.w3.org/XML/1998/namespace}lang") == "en"
        found = [node.attrib["id"] for node in root.iter() if "id" in node.attrib]
        assert all(re.fullmatch("[a-z][a-z0-9-]*", one) for one in found)
        ids += found
    assert len(ids) == len(set(ids))


@pytest.mark.parametrize("name", ["knot-square-knot-2", "part-reed-leaf"])
def test_files_are_valid_svg_1_1(name: str) -> None:
    """By svgwrite's own validator, which has the tables of the standard (W3C, SVG 1.1)."""
    valid = get_validator("full", debug=True)
    root = ElementTree.fromstring(svg_of("kingfisher-over-reeds", name))
    assert root.get("version") == "1.1"
    for node in root.iter():
        kind = node.tag.removeprefix(SVG)
        own = {key: value for key, value in node.attrib.items() if "{" not in key}
        valid.check_all_svg_attribute_values(kind, own)
        for inner in node:
            valid.check_valid_children(kind, inner.tag.removeprefix(SVG))


def test_it_has_its_true_size_and_a_margin_round_it() -> None:
    shown = lone("tide-lines", "chart-panel")
    root = ElementTree.fromstring(svg_of("tide-lines", "chart-panel"))
    assert shown.margin_mm == 2
    width, height = shown.figure.width_mm + 4, shown.figure.height_mm + 4
    assert float(root.attrib["width"].removesuffix("mm")) == pytest.approx(width, abs=0.01)
    assert float(root.attrib["height"].removesuffix("mm")) == pytest.approx(height, abs=0.01)
    assert root.attrib["viewBox"].split()[:2] == ["0", "0"]


def test_a_word_that_no_face_can_write_is_told() -> None:
    canvas = FigureCanvas()
    canvas.text(1.0, 2.0, "knot 結", "sans", 8.0, "#000000")
    figure = canvas.figure(9.0, 9.0, "A word.")
    with pytest.raises(FontError, match="has no “結” for “knot 結”"):
        standalone_svg(figure, "Word", "word", "en", WHITE)


def test_marks_in_titles_are_written_as_xml_has_them() -> None:
    figure = FigureCanvas().figure(9.0, 9.0, 'Less < more, "both" & all')
    root = ElementTree.fromstring(standalone_svg(figure, "Fish & <Chips>", "a", "en", WHITE))
    assert root[0].text == "Fish & <Chips>"
    assert root[1].text == 'Less < more, "both" & all'


def test_a_picture_of_pixels_stands_in_the_file_itself() -> None:
    canvas = FigureCanvas()
    canvas.image(1.0, 2.0, 3.0, 4.0, "data:image/png;base64,AAAA")
    root = ElementTree.fromstring(
        standalone_svg(canvas.figure(9.0, 9.0, "Pixels."), "Picture", "picture", "en", WHITE)
    )
    (image,) = root.iter(f"{SVG}image")
    assert image.get("{http://www.w3.org/1999/xlink}href") == "data:image/png;base64,AAAA"
    assert [image.get(name) for name in ("x", "y", "width", "height")] == ["1", "2", "3", "4"]

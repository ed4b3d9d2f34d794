"""What a knot's figures promise: one a stage, its size, its words, its dialect, and no colour
where there is to be none."""

from __future__ import annotations

import re
from xml.etree import ElementTree

import pytest

from publisher.drawing import draw_knot_stages
from publisher.knots import Knot, load_knots
from publisher.knots.refill import with_fillers
from publisher.knots.turn import mirror_knot
from publisher.model.colour import Colour, contrast
from publisher.model.figure import Figure
from publisher.model.look import Look
from tests.support.looks import TABLES, look_of

KNOTS = load_knots()
LOOK = look_of(TABLES)
GREY = {"figure": "#ffffff", "accent": "#22282c", "ink": "#222222", "soft": "#555555"}
MONO = look_of({**TABLES, "mono": True, "colours": {**TABLES["colours"], **GREY}})
WIDTH, HEIGHT = 39.0, 50.7
SEGMENTS = re.compile(r"[MmLlHhVvCcZz](?: ?-?\d*\.?\d+)*")


def drawn(knot: str, look: Look = LOOK, **options: object) -> tuple[Figure, ...]:
    return draw_knot_stages(KNOTS[knot], look, WIDTH, HEIGHT, **options)  # type: ignore[arg-type]


def tree(figure: Figure) -> ElementTree.Element:
    return ElementTree.fromstring(figure.svg)


@pytest.mark.parametrize("knot", KNOTS)
def test_every_stage_has_its_figure_and_words(knot: str) -> None:
    figures = drawn(knot)
    assert len(figures) == len(KNOTS[knot].stages) >= 2
    for number, figure in enumerate(figures, 1):
        assert (figure.width_mm, figure.height_mm) == (WIDTH, HEIGHT)
        assert len(figure.alt) > 20 and "*" not in figure.alt
        assert [text.text for text in tree(figure).iter("text")][-1] == str(number)


@pytest.mark.parametrize("knot", KNOTS)
@pytest.mark.parametrize("width", [39.0, 84.0])
def test_figures_are_small_and_in_the_dialect_that_the_press_draws_fast(
    knot: str, width: float
) -> None:
    for figure in draw_knot_stages(KNOTS[knot], LOOK, width, width * 1.3):
        assert len(figure.svg) < 25_600
        for element in tree(figure).iter():
            assert element.tag in ("g", "path", "text")
            assert not {"style", "class", "clip-path", "filter", "id"} & set(element.keys())
            data = element.get("d")
            assert data is None or SEGMENTS.sub("", data).strip() == "", data


@pytest.mark.parametrize("knot", KNOTS)
def test_a_mono_look_draws_without_colour(knot: str) -> None:
    red = Colour.from_hex("#cc0000")
    for figure in drawn(knot, MONO, working=red, second=red):
        for written in set(re.findall(r"#[0-9a-f]{6}", figure.svg)):
            colour = Colour.from_hex(written)
            assert (
                max(colour.red, colour.green, colour.blue)
                - min(colour.red, colour.green, colour.blue)
                <= 12
            )


@pytest.mark.parametrize("knot", ["square-knot", "pair-tied-double-knot"])
def test_two_cords_differ_in_tone_where_there_is_no_colour(knot: str) -> None:
    from publisher.drawing.knot.colours import MONO_BODIES

    working, second, filler = (MONO_BODIES[role] for role in ("working", "second", "filler"))
    assert contrast(working, second) > 2
    assert contrast(second, filler) > 2


@pytest.mark.parametrize("yarn", ["#ffffff", "#f6e7b0", "#101010", "#1f2a44", "#e0e000"])
def test_arrows_and_letters_can_be_read_whatever_the_yarn(yarn: str) -> None:
    """WCAG 2.1: 4.5 to 1 for text, 3 to 1 for graphics."""
    for figure in drawn("vertical-double-half-hitch", working=Colour.from_hex(yarn)):
        letter = next(text for text in tree(figure).iter("text") if text.text == "W")
        fill = Colour.from_hex(letter.get("fill") or "")
        assert contrast(fill, LOOK.colours["figure"]) >= 4.5


def test_the_yarns_own_colour_is_drawn() -> None:
    for figure in drawn("overhand", working=Colour.from_hex("#336699")):
        assert "#336699" in figure.svg


def test_what_was_there_before_is_quiet_and_what_moves_is_strong() -> None:
    strong = BODY
    first, second, third, finished = (f.svg for f in drawn("vertical-double-half-hitch"))
    quiet = Colour.from_hex(BODY).mix(LOOK.colours["figure"], 0.55).hex
    assert strong in first and quiet not in first
    assert strong in second and quiet in second
    assert strong in third and quiet in third
    assert strong in finished and quiet not in finished


BODY = "#b24a22"


def test_a_patterns_own_yarn_is_shown_whatever_colour_the_look_has_for_cords() -> None:
    own, house = Colour.from_hex("#7a1fa0"), {"knot-working": "#00a000", "knot-filler": "#00a0a0"}
    look = look_of({**TABLES, "colours": {**TABLES["colours"], **house}})
    plain = drawn("vertical-double-half-hitch", look)
    yarn = drawn("vertical-double-half-hitch", look, working=own)
    fillers = drawn("vertical-double-half-hitch", look, fillers=own)
    assert all("#00a000" in figure.svg and "#7a1fa0" not in figure.svg for figure in plain)
    assert all("#7a1fa0" in figure.svg and "#00a000" not in figure.svg for figure in yarn)
    assert all("#7a1fa0" in figure.svg and "#00a0a0" not in figure.svg for figure in fillers)


@pytest.mark.parametrize("hand", ["right", "left"])
@pytest.mark.parametrize("strands", [1, 2])
def test_cords_are_numbered_from_the_left_in_either_hand(hand: str, strands: int) -> None:
    for figure in drawn("vertical-double-half-hitch", hand=hand, strands=strands):
        places = {t.text: float(t.get("x") or "") for t in tree(figure).iter("text")}
        numbers = [text for text in places if text in ("1", "2")][:strands]
        labels = [
            (float(t.get("x") or ""), t.text)
            for t in tree(figure).iter("text")
            if float(t.get("y") or "") > HEIGHT - 6 and t.text in numbers
        ]
        assert [label for _, label in sorted(labels)] == ["1", "2"][:strands]


def test_the_left_hand_is_the_mirror_image() -> None:
    right, left = drawn("larks-head"), drawn("larks-head", hand="left")
    assert len(right) == len(left)
    knot = KNOTS["vertical-double-half-hitch"]
    straight = draw_knot_stages(mirror_knot(knot), LOOK, WIDTH, HEIGHT)
    assert straight == draw_knot_stages(knot, LOOK, WIDTH, HEIGHT, hand="left")


@pytest.mark.parametrize("knot", KNOTS)
@pytest.mark.parametrize("hand", ["right", "left"])
def test_nothing_is_drawn_outside_its_panel(knot: str, hand: str) -> None:
    for figure in drawn(knot, hand=hand):
        inner = tree(figure).find("g")
        assert inner is not None
        for path in inner.iter("path"):
            for x, y in _places(path.get("d") or ""):
                assert -10 < x < 100 * WIDTH + 10, (figure.alt, x)
                assert -10 < y < 100 * HEIGHT + 10, (figure.alt, y)
        for text in tree(figure).iter("text"):
            assert 0 < float(text.get("x") or "") < WIDTH - 1
            assert 2 < float(text.get("y") or "") < HEIGHT


def _places(data: str) -> list[tuple[float, float]]:
    """The ends of a path's segments."""
    found, x, y = [], 0.0, 0.0
    for segment in SEGMENTS.findall(data):
        numbers = [float(n) for n in re.findall(r"-?\d*\.?\d+", segment)]
        if segment[0] in "ML":
            x, y = numbers[-2:]
        elif segment[0] in "mlc":
            x, y = x + numbers[-2], y + numbers[-1]
        found.append((x, y))
    return found


def test_the_same_call_draws_the_same_bytes() -> None:
    assert drawn("square-knot") == drawn("square-knot")


def knots_with_numbers() -> list[Knot]:
    return [knot for knot in KNOTS.values() if knot.fillers_vary]


@pytest.mark.parametrize("knot", knots_with_numbers())
@pytest.mark.parametrize("count", [1, 2, 3, 4])
def test_the_words_name_the_cords_that_are_drawn(knot: Knot, count: int) -> None:
    shown = with_fillers(knot, count)
    said = " ".join(stage.words for stage in shown.stages) + shown.intro
    for number in range(1, 5):
        named = re.search(rf"\b{number}\b", said.replace("stage 2", ""))
        assert bool(named) == (number <= count), said
    labels = [s.label for s in shown.loose.strands.values() if s.role == "filler"]
    assert labels == [str(number) for number in range(1, count + 1)]

"""Lines hold whole words where they can, in order, and are never wider than their column."""

from __future__ import annotations

import itertools

from hypothesis import assume, given
from hypothesis import strategies as st

from publisher.fonts import text_width_mm
from publisher.layout.lines import Line, break_lines
from publisher.manuscript.blocks import Span, Text
from publisher.manuscript.markup import page_of, read_marks
from publisher.model.look import TypeStyle

BODY = TypeStyle("sans", 10.5, 5.0)
WORDS = st.lists(st.text("abcdefghijklmnop,.", min_size=1, max_size=12), min_size=1, max_size=60)


SPANS = st.lists(
    st.builds(
        Span,
        st.text("abci. \n\u00a0", max_size=9),
        st.booleans(),
        st.sampled_from((None, None, "terms", "https://reedbank.example")),
        st.sampled_from((None, None, None, "terms")),
    ),
    max_size=8,
).map(tuple)


@given(WORDS, st.floats(30, 200), st.booleans())
def test_no_line_is_wider_than_its_column(words: list[str], width: float, even: bool) -> None:
    lines = break_lines((Span(" ".join(words)),), BODY, width, even=even)
    for line in lines:
        assert line.width_mm <= width + 1e-6


@given(WORDS, st.floats(30, 200), st.booleans())
def test_every_word_stays_in_its_order(words: list[str], width: float, even: bool) -> None:
    assume(_all_fit(words, width))
    lines = break_lines((Span(" ".join(words)),), BODY, width, even=even)
    assert " ".join(line.text for line in lines).split() == words


@given(WORDS, st.floats(60, 200))
def test_an_even_edge_never_costs_a_line(words: list[str], width: float) -> None:
    text = (Span(" ".join(words)),)
    even = break_lines(text, BODY, width)
    full = break_lines(text, BODY, width, even=False)
    assert len(even) <= len(full) + 1  # one more at most, to save a last line of one short word
    if len(even) > len(full):
        assert full[-1].width_mm < 0.2 * width


@given(WORDS, st.floats(30, 200))
def test_a_line_measures_what_the_font_says(words: list[str], width: float) -> None:
    for line in break_lines((Span(" ".join(words)),), BODY, width):
        assert abs(line.width_mm - text_width_mm(line.text, "sans", 10.5)) < 1e-6


@given(SPANS, st.floats(6, 40), st.booleans())
def test_words_wider_than_their_column_go_on_in_the_next_line(
    text: Text, width: float, even: bool
) -> None:
    """No letter is lost or added, and none is over the edge: a page number is the widest of all
    that is never parted."""
    lines = break_lines(text, BODY, width, even=even)
    assert all(line.width_mm <= width + 1e-6 for line in lines)
    shown = "".join("00" if span.page_of else span.text for span in text)
    assert "".join("".join(line.text for line in lines).split()) == "".join(shown.split())


def test_a_long_word_is_parted_only_where_the_line_is_full() -> None:
    name = "mid" * 30
    for even in (True, False):
        lines = break_lines((Span(f"a {name} of"),), BODY, 40.0, even=even)
        assert lines[0].text == "a"
        assert "".join(line.text for line in lines[1:]) == f"{name} of"
        for line, after in itertools.pairwise(lines[1:]):
            assert line.width_mm > 40.0 - text_width_mm(after.text[:1], "sans", 10.5) - 0.1
    assert len(break_lines((Span("midnight navy"),), BODY, 20.0)) == 2


def test_accents_stay_with_their_letter() -> None:
    lines = break_lines((Span("a\u0330" * 40),), BODY, 20.0)
    assert len(lines) > 1 and all(line.text[0] == "a" for line in lines)


def test_words_that_belong_together_are_not_parted() -> None:
    lines = break_lines((Span("leave ten\u00a0cm " * 12),), BODY, 40.0)
    assert all("ten\u00a0cm" in line.text or "ten" not in line.text for line in lines)


def test_strong_words_keep_their_face_across_a_break() -> None:
    text = read_marks("Take it *once more behind all of the cords* and out.")
    runs = [run for line in break_lines(text, BODY, 30.0) for run in line.runs]
    strong = " ".join(run.text.strip() for run in runs if run.face == "semibold")
    assert strong == "once more behind all of the cords"


def test_a_page_number_to_come_has_its_room_and_its_target() -> None:
    text = read_marks("see page {page}, below", page=page_of("terms"))
    (line,) = break_lines(text, BODY, 100.0)
    waiting = [run for run in line.runs if run.page_of]
    assert [run.page_of for run in waiting] == ["terms"]
    assert line.text == "see page 00, below"


def test_marks_in_a_writers_own_words_mean_nothing() -> None:
    text = read_marks("by *{who}*", who="a *star* and a [bracket](x)")
    assert [(span.text, span.strong) for span in text] == [
        ("by ", False),
        ("a *star* and a [bracket](x)", True),
    ]


@given(SPANS, st.floats(8, 90), st.booleans())
def test_marked_words_keep_their_face_and_target_wherever_lines_break(
    text: Text, width: float, even: bool
) -> None:
    lines = break_lines(text, BODY, width, even=even)
    assert [told for line in lines for told in _told(line)] == _letters(text)
    for line in lines:
        assert all(run.text for run in line.runs)
        assert abs(line.width_mm - _drawn_mm(line)) < 1.0  # a word may change its face midway


@given(WORDS.filter(lambda words: len(words) < 9), st.floats(20, 90))
def test_an_even_edge_is_the_quietest_there_is(words: list[str], width: float) -> None:
    assume(_all_fit(words, width))
    lines = break_lines((Span(" ".join(words)),), BODY, width)
    broken = [line.text for line in lines]
    assert (
        _raggedness(broken, width)
        <= min(_raggedness(way, width) for way in _ways(words) if _fits(way, width)) + 1e-9
    )


def _all_fit(words: list[str], width: float) -> bool:
    """Whether each word is narrower than the column."""
    return all(text_width_mm(word, "sans", BODY.size_pt) <= width for word in words)


def _letters(text: Text) -> list[tuple[str, str, str | None, str | None]]:
    """Every letter that is not a blank, with its face, target and page to come."""
    return [
        (letter, "semibold" if span.strong else "sans", span.target, span.page_of)
        for span in text
        for letter in ("00" if span.page_of else span.text.replace("\n", " "))
        if letter != " "
    ]


def _told(line: Line) -> list[tuple[str, str, str | None, str | None]]:
    return [
        (letter, run.face, run.target, run.page_of)
        for run in line.runs
        for letter in run.text
        if letter != " "
    ]


def _drawn_mm(line: Line) -> float:
    return sum(text_width_mm(run.text, run.face, BODY.size_pt) for run in line.runs)


def _ways(words: list[str]) -> list[list[str]]:
    """Every way to break words into lines."""
    found = []
    for breaks in itertools.product((" ", "\n"), repeat=len(words) - 1):
        text = "".join(itertools.chain(*zip(words, (*breaks, ""), strict=True)))
        found.append(text.split("\n"))
    return found


def _fits(lines: list[str], width: float) -> bool:
    return all(" " not in line or _wide(line) <= width for line in lines)


def _raggedness(lines: list[str], width: float) -> float:
    """The squared gaps at the ends of lines, a little a line, and 1 for a very short last one."""
    if len(lines) == 1 and _wide(lines[0]) <= width:
        return 0.0
    gaps = [(width - _wide(line)) / width for line in lines]
    return sum(gap**2 + 0.02 for gap in gaps[:-1]) + (gaps[-1] > 0.8)


def _wide(text: str) -> float:
    return text_width_mm(text, BODY.face, BODY.size_pt)

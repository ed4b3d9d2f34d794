"""What errata tell earlier buyers: the whole sheet of one change, and what each maker is told."""

from __future__ import annotations

from dataclasses import asdict, replace
from datetime import UTC, date, datetime
from pathlib import Path
from typing import Any

import pytest

from publisher.errata.compare import content_of, find_errata
from publisher.errata.sheet import changes_in_brief, write_errata
from publisher.errata.sheet.context import EarlierRelease
from publisher.knots import load_knots
from publisher.layout import lay_out, lay_out_text
from publisher.manuscript.phrases import ranges
from publisher.manuscript.words import read_words
from publisher.model.parts import Glue
from publisher.model.pattern import Fringe, FringeShape, Gauge, Pattern
from publisher.plan import make_plan
from publisher.press import print_book
from tests.support.shop import demo, installed

GOLDEN = Path(__file__).parent / "golden"
DAY = datetime(2026, 3, 20, tzinfo=UTC)
WORDS = read_words(installed())


def with_cells(pattern: Pattern, *edits: tuple[int, int, str]) -> Pattern:
    """The pattern with knots changed in its first chart: (row, cord, letters from there on)."""
    piece = pattern.charts[0]
    rows = list(piece.cells)
    for row, cord, letters in edits:
        line = rows[row - 1]
        rows[row - 1] = line[: cord - 1] + letters + line[cord - 1 + len(letters) :]
    pieces = (replace(piece, cells=tuple(rows)), *pattern.pieces[1:])
    return replace(pattern, pieces=pieces, version="1.0.1")


def told(before: Pattern, after: Pattern, older: bool = False) -> str:
    plan = make_plan(after)
    errata = find_errata(content_of(before, make_plan(before), "T"), content_of(after, plan, "T"))
    earlier = EarlierRelease(before.version, before.date, older)
    manuscript = write_errata(
        after, plan, load_knots(), installed(), "a4", errata, earlier, date=DAY, form="text"
    )
    return lay_out_text(manuscript)


def in_brief(before: Pattern, after: Pattern) -> str:
    contents = (content_of(one, make_plan(one), "T") for one in (before, after))
    return changes_in_brief(find_errata(*contents), WORDS)


def said(text: str, start: str) -> str:
    """The item of a list that starts so, in one line."""
    items = (" ".join(item.split()) for item in text.split("\n  - "))
    return next(item for item in items if item.startswith(start))


def test_whole_sheet_of_one_changed_knot() -> None:
    """The numbers of it are worked out by hand in tests/errata/test_compare.py."""
    before = demo("tide-lines")
    text = told(before, with_cells(before, (1, 24, "D")))
    assert text == (GOLDEN / "tide-lines-errata.txt").read_text(encoding="utf-8")


def test_rows_above_the_first_change_stay() -> None:
    before = demo("kingfisher-over-reeds")
    text = told(before, with_cells(before, (12, 18, "TT")))
    assert "Rows 1 to 11 are as they were. From row 12 on" in said(text, "On the dowel?")
    assert in_brief(before, with_cells(before, (12, 18, "TT"))).startswith("rows 12 and 13 of the")


def test_rows_do_not_stay_where_the_chart_is_read_otherwise() -> None:
    """A chart turned to the other side concerns every row; another shade, those it is in."""
    before = demo("tide-lines")
    piece = replace(before.charts[0], first_row_from="right")
    turned = replace(before, pieces=(piece,), version="1.1")
    assert "are as they were" not in told(before, turned)
    assert "Row 1 starts from the right" in told(before, turned)
    colours = (replace(before.colours[0], srgb=before.colours[1].srgb), *before.colours[1:])
    recoloured = replace(with_cells(before, (25, 1, "S")), colours=colours)
    letter = colours[0].letter
    rows = [number for number, row in enumerate(before.charts[0].cells, 1) if letter in row]
    assert f"From row {rows[0]} on" in said(told(before, recoloured), "On the dowel?")


FIRST_ROW = "the changes begin at the first row"


@pytest.mark.parametrize(
    "changes",
    [
        {"price": 9.0},
        {"ball_metres": 55.0, "ball_grams": None},
        {"grams_per_metre": 8.0},
        {"name": "3 mm cotton, softly twisted"},
    ],
)
def test_what_a_yarn_costs_weighs_or_is_called_leaves_the_rows_as_they_were(
    changes: dict[str, Any],
) -> None:
    before = demo("tide-lines")
    after = with_cells(before, (25, 1, "S"))
    colours = [replace(one, yarn=replace(one.yarn, **changes)) for one in after.colours]
    other = replace(after, colours=tuple(colours))
    begun = said(told(before, after), "On the dowel?")
    assert "From row 25 on" in begun
    assert said(told(before, other), "On the dowel?") == begun
    thicker = [replace(one, yarn=replace(one.yarn, diameter_mm=5.0)) for one in after.colours]
    text = told(before, replace(after, colours=tuple(thicker)))
    assert FIRST_ROW in said(text, "On the dowel?")


def test_a_price_is_nothing_that_errata_tell() -> None:
    before = demo("tide-lines")
    dearer = [replace(one, yarn=replace(one.yarn, price=99.0)) for one in before.colours]
    for after in (replace(before, colours=tuple(dearer)), replace(before, currency="EUR")):
        contents = (content_of(one, make_plan(one), "T") for one in (before, after))
        assert find_errata(*contents).is_empty


def test_a_yarn_under_another_key_is_the_same_yarn() -> None:
    """Keys are the writer's own: no maker is told one."""
    before = demo("tide-lines")
    keyed = [replace(one, yarn=replace(one.yarn, key="soft")) for one in before.colours]
    after = replace(before, colours=tuple(keyed))
    contents = [content_of(one, make_plan(one), "T") for one in (before, after)]
    assert find_errata(*contents).is_empty
    cut = with_cells(after, (1, 24, "D"))
    assert told(before, cut) == told(before, with_cells(before, (1, 24, "D")))


def test_only_colours_of_which_something_changed_are_listed_and_what_it_is() -> None:
    before = demo("tide-lines")
    first, second, *others = before.colours
    colours = (replace(first, name="low water"), replace(second, srgb=first.srgb), *others)
    after = replace(before, colours=colours)
    assert in_brief(before, after) == (
        f"{first.letter} low water (its name) and {second.letter} {second.name} (its shade)"
    )
    listed = told(before, after).partition("Colours and yarns")[2].split("\n  - ")[1:]
    assert [item.split()[0] for item in listed] == [first.letter, second.letter]
    lighter = [replace(one, yarn=replace(one.yarn, ball_metres=60.0)) for one in before.colours]
    brief = in_brief(before, replace(before, colours=tuple(lighter)))
    assert f"{first.yarn.name} (the size of its balls)" in brief
    assert first.name not in brief


def test_measures_are_named_only_where_the_printed_size_changed() -> None:
    before = demo("tide-lines")
    piece = before.charts[0]
    cell = make_plan(before).charts[0].cell

    def swatch(width_mm: float) -> Pattern:
        knots = {"columns": 20, "rows": 20, "height_mm": 20 * cell.height_mm}
        gauge = Gauge(**{**asdict(piece.gauge), **knots, "width_mm": width_mm})
        return replace(before, pieces=(replace(piece, gauge=gauge),))

    narrow = 20 * cell.width_mm
    wide = swatch(narrow + 20)
    assert "the measures of the panel" in in_brief(swatch(narrow), wide)
    assert "It comes out" in told(swatch(narrow), wide)
    hair = swatch(narrow + 0.05)
    assert "measures" not in in_brief(swatch(narrow), hair)
    assert "It comes out" not in told(swatch(narrow), hair)
    retied = in_brief(before, with_cells(before, (25, 1, "S")))
    assert "measures" not in retied
    allowed = replace(before, pieces=(replace(piece, allowance_percent=11.0),))
    assert "measures" not in in_brief(before, allowed)
    assert "what is to spare for the panel" in in_brief(before, allowed)


def test_finished_pieces_are_untouched_only_where_lists_or_words_changed() -> None:
    before = demo("tide-lines")
    untouched = "None of this affects a piece that is finished"
    assert untouched in told(before, replace(before, subtitle="Calm", version="1.0.1"))
    rolled = [replace(one, yarn=replace(one.yarn, ball_metres=55.0)) for one in before.colours]
    assert untouched in told(before, replace(before, colours=tuple(rolled), version="1.0.1"))
    more = replace(before.charts[0], allowance_percent=20.0)
    text = told(before, replace(before, pieces=(more,), version="1.0.1"))
    assert untouched not in text, "a fact of the piece changed: in doubt, it is not claimed"
    assert untouched not in told(before, with_cells(before, (1, 24, "D")))
    longer = replace(before.charts[0].fringe, longest_mm=200.0, shortest_mm=200.0)
    fringed = replace(before, pieces=(replace(before.charts[0], fringe=longer),), version="2.0")
    assert untouched not in told(before, fringed)


@pytest.mark.parametrize(
    ("shape", "longest", "shortest", "tells"),
    [
        ("straight", 160, 160, ("The fringe is 16 cm long now, not 12 cm.", "keep the fringe")),
        ("straight", 90, 90, ("The fringe is 9 cm long now, not 12 cm.",)),
        ("point", 160, 120, ("use the new template", "keep the fringe of version 1.0")),
        ("point", 120, 90, ("use the new template",)),
    ],
)
def test_another_fringe_is_told_with_its_length_and_to_whom_it_is_too_late(
    shape: FringeShape, longest: float, shortest: float, tells: tuple[str, ...]
) -> None:
    before = demo("tide-lines")
    fringe = Fringe(shape, longest, shortest)
    after = replace(before, pieces=(replace(before.charts[0], fringe=fringe),), version="2.0")
    text = " ".join(told(before, after).split())
    assert all(words in text for words in tells)
    assert ("template" in text) == (shape != "straight")
    assert ("keep the fringe" in text) == (longest > 120)


def test_a_fringe_that_is_straight_now_has_no_template() -> None:
    after = demo("tide-lines")
    pointed = replace(after.charts[0], fringe=Fringe("point", 160.0, 90.0))
    text = " ".join(told(replace(after, pieces=(pointed,), version="0.9"), after).split())
    assert "The fringe is straight now, 12 cm long." in text
    assert "keep the fringe of version 0.9" in text, "at the edges it is longer"


def test_new_caution_comes_before_everything_but_what_it_means() -> None:
    before = demo("lock-keepers-key-cord")
    part = before.parts[0]
    glued = replace(part, steps=(*part.steps, Glue(what="the ends")))
    after = replace(before, pieces=(glued,), version="1.1")
    text = told(before, after)
    assert "New cautions: please read, whatever you have made" in text
    assert "Hot glue. A glue gun melts glue" in " ".join(text.split())
    assert text.index("New cautions") < text.index("Key cord\n---")
    assert "Finished? A piece made by version 1.0 may differ" in " ".join(text.split())


def test_words_come_in_the_writers_own_words() -> None:
    before = demo("tide-lines")
    about = (before.about[0], "Braces {like} these, *and* stars are taken as they are.")
    text = " ".join(
        told(before, replace(before, about=about, title="Low Tide", version="2")).split()
    )
    assert about[1] in text
    assert before.about[0] not in text, "what is as it was is not told again"
    assert "The title is now: “Low Tide”" in text


def test_older_buyers_are_sent_to_the_errata_before() -> None:
    before = demo("tide-lines")
    after = with_cells(before, (1, 24, "D"))
    hint = "If yours is older, read the errata of version 1.0 first."
    assert hint not in " ".join(told(before, after).split())
    assert hint in " ".join(told(before, after, older=True).split())


@pytest.mark.parametrize("paper", ["a4", "letter"])
def test_sheets_are_laid_out_the_same_every_time(paper: str) -> None:
    before = demo("kingfisher-over-reeds")
    after = with_cells(before, (12, 18, "TT"), (40, 6, "M"))
    plan = make_plan(after)
    errata = find_errata(content_of(before, make_plan(before), "T"), content_of(after, plan, "T"))
    pdfs = set()
    for _ in range(2):
        manuscript = write_errata(
            after,
            plan,
            load_knots(),
            installed(),
            paper,
            errata,
            EarlierRelease("1.0", date(2026, 6, 20)),
            date=DAY,
        )
        book = lay_out(manuscript, installed())
        assert "data-tag" in book.pages[0].svg
        pdfs.add(print_book(book))
    assert len(pdfs) == 1


def test_ranges_of_numbers_in_words() -> None:
    assert ranges(WORDS, [4]) == "4"
    assert ranges(WORDS, [5, 4]) == "4 and 5"
    assert ranges(WORDS, [1, 2, 3, 9, 7, 8, 12, 9]) == "1 to 3, 7 to 9 and 12"

"""Before row 1: what is done between the lists and the first knot, by the pattern's own plan."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import pytest

from publisher.layout import lay_out_text
from publisher.layout.context import LayoutContext
from publisher.layout.sheets import lay_sections
from publisher.manuscript.blocks import Caution, Heading, Items, Manuscript, Section
from publisher.manuscript.markup import plain
from publisher.model.pattern import Cords, Fringe, Pattern
from tests.support.grids import pattern_of
from tests.support.shop import demo, demo_plan, installed, manuscript, with_files

WORKED = ("booklet", "handout", "large-print", "ink-saver", "left-handed", "plain-text")


def begin(written: Manuscript) -> Section:
    (found,) = (one for one in written.sections if one.name == "begin")
    return found


def steps(pattern: Pattern, edition: str = "booklet") -> list[str]:
    (items,) = begin(manuscript(pattern, edition)).body
    assert isinstance(items, Items) and items.numbered
    return [plain(item).replace("\u00a0", " ") for item in items.items]


def of(*cells: str, **changes: Any) -> list[str]:
    return steps(made(*cells, **changes))


def made(*cells: str, **changes: Any) -> Pattern:
    return replace(pattern_of(*cells, **changes), terms="personal-use")


@pytest.mark.parametrize("edition", WORKED)
def test_it_stands_before_the_chart_and_the_rows(edition: str) -> None:
    names = [section.name for section in manuscript(demo("tide-lines"), edition).sections]
    after = names[names.index("begin") + 1 :]
    assert "rows" in after and ("chart" in after or "chart" not in names)


@pytest.mark.parametrize("edition", [*WORKED, "at-the-bench"])
def test_where_there_is_no_chart_there_is_nothing_to_say(edition: str) -> None:
    written = manuscript(demo("lock-keepers-key-cord"), edition)
    assert all(section.name != "begin" for section in written.sections)
    assert "Before row 1" not in lay_out_text(written)


def test_the_starter_panel_is_begun_so() -> None:
    plan = demo_plan("tide-lines").charts[0]
    first = plan.row_list[0].notes[0]
    assert (len(plan.hanging_cords), plan.hanging_cords[0].length_mm) == (24, 1255.0)
    assert (first.yarn, first.cord, first.cut_mm) == ("C1", 1, 3000.0)
    assert steps(demo("tide-lines"), "plain-text") == [
        "Cut the hanging cords (page ): 24 of 125.5 cm (49½ in).",
        "Mount them. Fold each in half and tie it to the dowel with a lark's head (page ), one "
        "beside the other, cord 1 at the left. The two ends of each, held together, are one cord "
        "of the chart.",
        "Count 24 cords from the left, and hang a paper tag on every fifth: 5, 10 and so on, to "
        "20.",
        "Hang the dowel level from its rail or hooks, so that all cords hang free.",
        "Cut the working yarn (page ) and lay it ready by colour and length. The rows tell how "
        "long a yarn is that starts or joins. Take a length of 300 cm where none is told.",
        "Start at the left, at cord 1, with 300 cm of shell cream: yarn C1. Leave 10 cm at the "
        "back (page ). Row 1 goes to the right, and row 2 comes back.",
    ]


def test_the_left_handed_begin_at_the_other_side() -> None:
    last = steps(demo("tide-lines"), "left-handed")[-1]
    assert last.startswith("Start at the right, at cord 24, with ")
    assert last.endswith("Row 1 goes to the left, and row 2 comes back.")


@pytest.mark.parametrize(
    ("cells", "changes", "told"),
    [
        (("AB",), {}, "Start at the left, at cord 1, with 30 cm of colour A: yarn A1."),
        (("AB",), {"first_row_from": "right"}, "Start at the right, at cord 2"),
        (("AB", "AB"), {"order": "one-way"}, "Row 1 goes to the right, and so does every row."),
        (("AB", "AB"), {}, "Row 1 goes to the right, and row 2 comes back."),
        (("AABB",), {"cords": Cords("A", 1)}, "Each end that hangs is one cord of the chart."),
        (("AAB",), {"cords": Cords("A", 1)}, "the last at the right is left over: tie it back"),
        (("AAB",), {"cords": Cords("A", 2)}, "The two ends of each, held together, are one cord"),
        (("AAAAB",), {}, "Count 5 cords from the left, and hang a paper tag on cord 5."),
        (("AB" * 7,), {}, "a paper tag on every fifth: 5 and 10."),
        (("AB" * 9,), {}, "a paper tag on every fifth: 5, 10 and 15."),
        (("AB" * 11,), {}, "a paper tag on every fifth: 5, 10 and so on, to 20."),
        (("AAAB",), {"fringe": Fringe("point", 300.0, 90.0)}, "the hanging cords by number (page"),
        (("A" * 36,), {"working_length_mm": 2600.0}, "all of it in lengths of 260 cm"),
    ],
)
def test_it_says_what_the_pattern_asks(
    cells: tuple[str, ...], changes: dict[str, Any], told: str
) -> None:
    assert told in " ".join(of(*cells, **changes))


def test_nothing_is_said_that_the_pattern_has_not() -> None:
    told = " ".join(of("AB"))
    assert "tag" not in told, "there is no fifth cord"
    assert "row 2" not in told, "there is one row"
    assert "where none is told" not in told, "no yarn is cut to the full length"


def test_inches_come_first_where_the_house_has_them_first() -> None:
    told = steps(replace(demo("tide-lines"), units="inch-first"))
    assert "24 of 49½ in (125.5 cm)" in told[0]
    assert "with 118¼ in of shell cream" in told[-1]


def test_each_of_several_charts_has_its_own_list() -> None:
    one = made("AB", "BA")
    pieces = (one.pieces[0], replace(one.pieces[0], id="small-panel", make=3))
    body = begin(manuscript(replace(one, pieces=pieces))).body
    assert [block.text for block in body if isinstance(block, Heading)] == ["Panel", "Small panel"]
    assert [block.lead_in for block in body if isinstance(block, Heading)] == [
        "",
        "for each of the 3; the cutting list has all of them",
    ]
    assert sum(isinstance(block, Items) for block in body) == 2


@pytest.mark.parametrize("edition", ["booklet", "left-handed"])
def test_it_goes_on_below_the_cautions_where_there_is_room(edition: str) -> None:
    written = manuscript(demo("tide-lines"), edition)
    pages = lay_sections(written.sections, LayoutContext(written))
    (page,) = (page for page in pages if "begin" in page.targets)
    assert "cautions" in page.targets


def test_a_handouts_cautions_come_before_the_work_and_once() -> None:
    sections = manuscript(demo("kingfisher-over-reeds"), "handout").sections
    having = [
        section.name
        for section in sections
        if any(isinstance(block, Caution) for block in section.body)
    ]
    assert having == ["cautions", "assembly"], "and again before what is glued"
    names = [section.name for section in sections]
    assert names.index("cautions") < names.index("begin") < names.index("chart")
    (notes,) = (section for section in sections if section.name == "class-notes")
    assert notes.title == "Notes"


def test_a_handout_of_ones_own_without_them_still_ends_with_cautions() -> None:
    mine = installed().text("editions/handout.toml").replace('"cautions", ', "")
    templates = with_files({"editions/handout.toml": mine})
    sections = manuscript(demo("tide-lines"), "handout", templates=templates).sections
    (notes,) = (section for section in sections if section.name == "class-notes")
    assert isinstance(notes.body[0], Caution)

"""The picture is painted beside the books; what fails in it is told as if it were not."""

from __future__ import annotations

from collections.abc import Callable
from datetime import UTC, datetime
from pathlib import Path

import pytest

from publisher.catalogue.build.build import begin
from publisher.catalogue.build.pipeline import Pipeline
from publisher.catalogue.build.values import Outcome
from publisher.errors import TemplateError
from publisher.model.book import Book, Page
from publisher.press import page_png, print_book
from tests.support.stand_ins import StandIns, everything, make_workshop, write_pattern

BODY = '<path d="M5 5H30V30H5Z" fill="#2f6f8f"/>'
HEAD = '<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 40 40"><g data-tag="Artifact">'


def book(body: str) -> Book:
    page = Page(f"{HEAD}{body}</g></svg>", 40.0, 40.0, "1")
    return Book((page, page), (), "Picture", "", "", (), "en", datetime(2000, 1, 1, tzinfo=UTC))


class Spilt(StandIns):
    """The paint is spilt long after the picture was begun."""

    def picture_of(self, book: Book, dpi: float) -> Callable[[], bytes]:
        def spill() -> bytes:
            raise RuntimeError("the paint was spilt")

        return spill


def outcome_of(folder: Path, **table: object) -> Outcome:
    workshop = make_workshop(folder)
    write_pattern(folder, "reed", **table)
    run = begin(workshop, ("booklet",), ("a4",), Spilt(folder / "log"))
    (outcome,) = run.outcomes(run.tasks(everything(workshop)), 1)
    return outcome


def test_the_picture_is_the_first_page_as_the_press_paints_it() -> None:
    assert Pipeline().picture_of(book(BODY), 100.0)() == page_png(print_book(book(BODY)), 1, 100.0)


def test_a_page_that_cannot_be_printed_is_told_at_once() -> None:
    with pytest.raises(TemplateError):
        Pipeline().picture_of(book('<rect width="wide" height="2"/>'), 100.0)


def test_what_fails_in_painting_is_told_by_whoever_asks_for_the_picture() -> None:
    ask = Pipeline().picture_of(book(BODY), float("nan"))
    with pytest.raises(ValueError, match="NaN"):
        ask()


def test_a_picture_that_fails_takes_only_its_own_target_with_it(tmp_path: Path) -> None:
    outcome = outcome_of(tmp_path)
    assert [path.name for path in outcome.made] == ["reed-1.0-booklet-a4.pdf"]
    (problem,) = outcome.problems
    assert "the paint was spilt" in problem.message
    assert "the paint was spilt" in outcome.trace


def test_problems_are_told_in_the_order_of_the_targets(tmp_path: Path) -> None:
    told = [problem.message for problem in outcome_of(tmp_path, print="broken").problems]
    assert len(told) == 2
    assert "the paint was spilt" in told[0]
    assert told[1] == "the chart is torn"

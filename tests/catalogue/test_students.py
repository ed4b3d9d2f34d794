"""How many students there are is part of what a handout is made from, and of nothing else."""

from __future__ import annotations

from pathlib import Path

import pypdfium2
import pytest

from publisher import publish
from publisher.catalogue.build.build import begin
from publisher.catalogue.build.values import Target
from publisher.catalogue.workshop import Workshop
from publisher.errors import TemplateError, UsageError
from tests.support.shop import demo, with_files
from tests.support.stand_ins import StandIns, done, everything, make_workshop

HANDOUT, BOOKLET = Target("handout", "a4"), Target("booklet", "a4")


@pytest.fixture
def workshop(tmp_path: Path) -> Workshop:
    return make_workshop(tmp_path, "heron")


def why(workshop: Workshop, students: int | None) -> dict[Target, tuple[str, ...]]:
    """Build both editions, and say why each was made."""
    log = StandIns(workshop.out.parent / "log")
    run = begin(workshop, ("booklet", "handout"), pipeline=log, students=students)
    outcomes = list(run.outcomes(run.tasks(everything(workshop)), jobs=1))
    assert not any(outcome.problems for outcome in outcomes)
    done(workshop)
    return dict(outcomes[0].reasons)


def test_handout_is_made_anew_when_the_class_grows(workshop: Workshop) -> None:
    why(workshop, 9)
    again = why(workshop, 9)
    assert not any(again.values())
    grown = why(workshop, 10)
    assert grown[HANDOUT] == ("the number of students has changed",)
    assert grown[BOOKLET] == ()
    assert why(workshop, None)[HANDOUT] == ("the number of students has changed",)


def test_the_number_is_said_to_the_manuscript(workshop: Workshop) -> None:
    why(workshop, 9)
    made = workshop.out / "heron"
    assert b"students: 9" in (made / "heron-1.0-handout-a4.pdf").read_bytes()


def test_students_without_an_edition_for_them_are_refused(workshop: Workshop) -> None:
    with pytest.raises(UsageError, match="no edition here has a kit for them") as caught:
        begin(workshop, ("booklet",), pipeline=StandIns(workshop.out.parent / "log"), students=9)
    assert caught.value.exit_status == 2


def first_page(pdf: bytes) -> str:
    document = pypdfium2.PdfDocument(pdf)
    try:
        return str(document[0].get_textpage().get_text_range())
    finally:
        document.close()


def test_the_shopping_list_names_and_feeds_the_class() -> None:
    pattern = demo("tide-lines")
    for students, said in ((1, "To buy for one student"), (9, "To buy for 9 students")):
        text = first_page(publish(pattern, edition="handout", students=students))
        assert said in text
    assert "To buy for 12 students" in first_page(publish(pattern, edition="handout"))


@pytest.mark.parametrize("wrong", ["students = 0", "students = true", 'students = "nine"'])
def test_a_wrong_number_in_the_editions_file_is_told_with_its_file(wrong: str) -> None:
    text = f'title = "Class"\nsections = ["kit"]\n{wrong}\n'
    with pytest.raises(TemplateError, match=r"editions/class\.toml:3: `students` (is|must be)"):
        publish(
            demo("tide-lines"),
            edition="class",
            templates=with_files({"editions/class.toml": text}),
        )

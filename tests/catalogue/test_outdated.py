"""Change each kind of thing that a book is made from: exactly the right editions are made anew."""

from __future__ import annotations

import shutil
from collections.abc import Callable
from pathlib import Path

import pytest

from publisher.catalogue.build.build import begin
from publisher.catalogue.build.values import Summary
from publisher.catalogue.workshop import Workshop
from publisher.frozen import frozen
from publisher.model.pattern import Pattern
from tests.support.stand_ins import (
    StandIns,
    begin_with_stand_ins,
    done,
    everything,
    files_made,
    make_workshop,
    write,
    write_pattern,
)

EDITIONS = ("booklet", "handout")


def build(workshop: Workshop, *editions: str, papers: tuple[str, ...] = ()) -> Summary:
    run = begin_with_stand_ins(workshop, *(editions or EDITIONS), papers=papers)
    outcomes = tuple(run.outcomes(run.tasks(everything(workshop)), jobs=1))
    return Summary(outcomes, 0, 0.0)


def made(workshop: Workshop, *editions: str, papers: tuple[str, ...] = ()) -> set[str]:
    """Build, and give the names of the files that are new."""
    summary = build(workshop, *editions, papers=papers)
    assert not summary.failed
    return {path.name for path in summary.made}


@pytest.fixture
def workshop(tmp_path: Path) -> Workshop:
    """Three patterns, two editions each, already built."""
    workshop = make_workshop(tmp_path, "heron", "tide")
    write_pattern(tmp_path, "lamp", picture="lamp.png", knots=("square", "overhand"))
    write(tmp_path / "patterns/lamp.png", "picture")
    write(tmp_path / "patterns/house.toml", "designer = 'Reedbank'\n")
    write(tmp_path / "patterns/knots/square.toml", "over, under\n")
    build(workshop)
    done(workshop)
    return workshop


def test_first_build_makes_everything(tmp_path: Path) -> None:
    workshop = make_workshop(tmp_path, "heron")
    assert made(workshop) == {
        "heron-1.0-booklet-a4.pdf",
        "heron-1.0-handout-a4.pdf",
        "plan.json",
        "cutting-list.csv",
        "picture.png",
    }


def test_nothing_to_do_touches_nothing(workshop: Workshop) -> None:
    before = {path: path.stat().st_mtime_ns for path in workshop.out.rglob("*")}
    summary = build(workshop)
    assert summary.up_to_date == 3
    assert done(workshop) == []
    assert {path: path.stat().st_mtime_ns for path in workshop.out.rglob("*")} == before


def test_clock_does_not_matter(workshop: Workshop) -> None:
    for path in workshop.patterns.parent.rglob("*"):
        if path.is_file():
            path.touch()
    assert made(workshop) == set()
    assert done(workshop) == []


Change = Callable[[Path], object]
BOOKLETS = {f"{slug}-1.0-booklet-a4.pdf" for slug in ("heron", "lamp", "tide")}
HANDOUTS = {f"{slug}-1.0-handout-a4.pdf" for slug in ("heron", "lamp", "tide")}
LAMPS = {"lamp-1.0-booklet-a4.pdf", "lamp-1.0-handout-a4.pdf"}
CHANGES: dict[str, tuple[Change, set[str]]] = {
    "a pattern": (
        lambda folder: write_pattern(folder, "tide", title="Ebb"),
        {
            "tide-1.0-booklet-a4.pdf",
            "tide-1.0-handout-a4.pdf",
            "plan.json",
            "picture.png",
        },
    ),
    "a picture": (lambda folder: write(folder / "patterns/lamp.png", "brighter"), LAMPS),
    "the house file": (
        lambda folder: write(folder / "patterns/house.toml", "designer = 'Weir'\n"),
        BOOKLETS | HANDOUTS,
    ),
    "no more house file": (
        lambda folder: (folder / "patterns/house.toml").unlink(),
        BOOKLETS | HANDOUTS,
    ),
    "the words": (
        lambda folder: write(folder / "templates/words/en.toml", "title = 'Pattern'\n"),
        BOOKLETS | HANDOUTS,
    ),
    "the look of the picture": (
        lambda folder: write(folder / "templates/look.toml", "ink = 'blue'\n"),
        {"picture.png"},
    ),
    "a page of one edition": (
        lambda folder: write(folder / "templates/pages/cover.svg", "<front>\n"),
        BOOKLETS,
    ),
    "a page of both editions": (
        lambda folder: write(folder / "templates/pages/chart.svg", "<grid>\n"),
        BOOKLETS | HANDOUTS,
    ),
    "the sections of an edition": (
        lambda folder: write(
            folder / "templates/editions/handout.toml", "title = 'H'\nsections = ['note']\n"
        ),
        HANDOUTS,
    ),
    "a knot that one uses": (
        lambda folder: write(folder / "patterns/knots/square.toml", "under, over\n"),
        LAMPS,
    ),
    "an own knot instead of an installed one": (
        lambda folder: write(folder / "patterns/knots/overhand.toml", "round\n"),
        LAMPS,
    ),
    "a knot that none uses": (
        lambda folder: write(folder / "patterns/knots/berry.toml", "round\n"),
        set(),
    ),
    "a template that none uses": (
        lambda folder: write(folder / "templates/pages/back.svg", "<back>\n"),
        set(),
    ),
}


@pytest.mark.parametrize("name", CHANGES)
def test_exactly_what_depends_on_it_is_made_anew(name: str, workshop: Workshop) -> None:
    change, expected = CHANGES[name]
    change(workshop.patterns.parent)
    assert made(workshop) == expected
    incremental = files_made(workshop)
    shutil.rmtree(workshop.out)
    build(workshop)
    assert files_made(workshop) == incremental, "a clean build gives other bytes"


def test_template_that_comes_out_the_same_prints_nothing(workshop: Workshop) -> None:
    write(workshop.patterns.parent / "templates/pages/cover.svg", "# only a remark\n<cover>\n")
    assert made(workshop) == set()
    assert not [line for line in done(workshop) if line.startswith("print")]
    assert made(workshop) == set()
    assert done(workshop) == [], "the second time there is nothing left to look at"


def test_plan_is_kept_when_a_template_changes(workshop: Workshop) -> None:
    write(workshop.patterns.parent / "templates/pages/chart.svg", "<grid>\n")
    build(workshop)
    assert not [line for line in done(workshop) if line.startswith("plan")]


def test_edition_is_made_beside_what_is_there(workshop: Workshop) -> None:
    assert made(workshop, "booklet", papers=("letter",)) == {
        f"{slug}-1.0-booklet-letter.pdf" for slug in ("heron", "lamp", "tide")
    }


def test_lost_and_damaged_files_are_made_anew(workshop: Workshop) -> None:
    (workshop.out / "tide/tide-1.0-booklet-a4.pdf").unlink()
    (workshop.out / "heron/plan.json").write_text("{")
    assert made(workshop) == {"tide-1.0-booklet-a4.pdf", "plan.json"}


@pytest.mark.parametrize(
    "damage", [b"", b"{", b"[]", b'{"format": 1}', b"\xff\x00", b"[" * 100_000]
)
def test_damaged_cache_costs_work_and_nothing_else(workshop: Workshop, damage: bytes) -> None:
    before = files_made(workshop)
    for path in (workshop.out / ".cache").rglob("*"):
        if path.is_file():
            path.write_bytes(damage)
    assert made(workshop) == set()
    assert files_made(workshop) == before
    done(workshop)
    build(workshop)
    assert done(workshop) == []


def test_cache_may_be_deleted(workshop: Workshop) -> None:
    before = files_made(workshop)
    shutil.rmtree(workshop.out / ".cache")
    assert made(workshop) == set()
    assert files_made(workshop) == before


def test_program_fonts_and_date_count(workshop: Workshop, monkeypatch: pytest.MonkeyPatch) -> None:
    from publisher.catalogue.build import digests

    for what, function in (("program", "program_digest"), ("fonts", "fonts_digest")):
        with monkeypatch.context() as patch:
            patch.setattr(digests, function, lambda: "another")
            run = begin_with_stand_ins(workshop)
            for task in run.tasks(everything(workshop)):
                for reasons in task.reasons.values():
                    assert reasons == (
                        f"the {what} {'has' if what == 'program' else 'have'} changed",
                    )
    monkeypatch.setenv("SOURCE_DATE_EPOCH", "1700000000")
    run = begin_with_stand_ins(workshop)
    for task in run.tasks(everything(workshop)):
        assert [target.name for target in task.stale] == ["booklet-a4"]


def test_reasons_name_what_has_changed(workshop: Workshop) -> None:
    folder = workshop.patterns.parent
    write(folder / "templates/pages/cover.svg", "<front>\n")
    write(folder / "patterns/knots/overhand.toml", "round\n")
    (folder / "patterns/house.toml").unlink()
    (workshop.out / "lamp/lamp-1.0-booklet-a4.pdf").unlink()
    run = begin_with_stand_ins(workshop, *EDITIONS)
    lamp = next(task for task in run.tasks(everything(workshop)) if task.slug == "lamp")
    told = {target.name: set(reasons) for target, reasons in lamp.reasons.items()}
    assert told["booklet-a4"] == {
        "house.toml is gone",
        "knot overhand is new",
        "template pages/cover.svg has changed",
        "lamp-1.0-booklet-a4.pdf is not there",
    }
    assert told["handout-a4"] == {"house.toml is gone", "knot overhand is new"}


def test_pattern_saved_while_it_is_read_counts_as_changed(tmp_path: Path) -> None:
    workshop = make_workshop(tmp_path, "tide")
    run = begin(workshop, pipeline=SavedMeanwhile(tmp_path / "log"))
    list(run.outcomes(run.tasks(everything(workshop)), jobs=1))
    assert made(workshop, "booklet") == {"tide-1.0-booklet-a4.pdf", "plan.json", "picture.png"}


@frozen(slots=False)
class SavedMeanwhile(StandIns):
    """The writer saves her file just after it was read."""

    def read_pattern(self, path: Path) -> Pattern:
        pattern = super().read_pattern(path)
        write_pattern(path.parents[1], path.stem, title="Ebb")
        return pattern

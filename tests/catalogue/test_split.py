"""Many editions of one pattern are made side by side, with the same result as one after another."""

from __future__ import annotations

import datetime
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from publisher.catalogue.build.build import begin
from publisher.catalogue.build.split import number_of_portions, split_job, together
from publisher.catalogue.build.values import COMPANIONS, BuildJob, Made, Outcome, Result, Target
from publisher.catalogue.workshop import Workshop
from publisher.errors import Place, Problem
from tests.support.shop import ROOT, demo, installed

EDITIONS = ("booklet", "handout", "ink-saver", "large-print", "left-handed", "plain-text")


def job(targets: tuple[Target, ...]) -> BuildJob:
    packs = {target.name: b"drawings" for target in targets} | {"plan-right": b"plan"}
    return BuildJob(demo("tide-lines"), targets, datetime.datetime(2026, 9, 1), packs, {})


targets = st.lists(
    st.builds(Target, st.sampled_from(EDITIONS), st.sampled_from(("a4", "letter"))),
    unique=True,
    min_size=1,
).map(lambda found: (COMPANIONS, *found))


@given(targets, st.integers(1, 8))
def test_every_target_is_in_one_portion_with_what_was_kept_of_it(
    found: tuple[Target, ...], most: int
) -> None:
    parts = split_job(job(found), most)
    assert len(parts) == number_of_portions(found, most) <= most
    assert sorted(one for part in parts for one in part.targets) == sorted(found)
    for part in parts:
        assert part.targets
        assert set(part.packs) == {"plan-right", *(target.name for target in part.targets)}
        assert list(part.targets) == [one for one in found if one in part.targets]


@given(targets, st.integers(2, 8))
def test_an_edition_stays_together(found: tuple[Target, ...], most: int) -> None:
    """Its papers share their drawings; and there is no portion that has nothing but companions."""
    parts = split_job(job(found), most)
    for edition in {one.edition for one in found if one != COMPANIONS}:
        assert sum(any(one.edition == edition for one in part.targets) for part in parts) == 1
    assert all(part.targets != (COMPANIONS,) for part in parts)


def test_a_booklet_and_what_lies_beside_it_are_not_parted() -> None:
    whole = job((COMPANIONS, Target("booklet", "a4")))
    assert split_job(whole, 8) == (whole,)


def test_results_come_together_in_the_order_asked_for_and_tell_everything_once() -> None:
    first, second, third = (Target(edition, "a4") for edition in EDITIONS[:3])
    wrong = Problem(Place("tide.toml"), "wrong", "mend it")
    made = {one: Made(one, None, one.name, ()) for one in (first, second, third)}
    halves = [
        Result("tide", (made[second],), (wrong,), packs={"plan-right": b"1"}, seconds=2.0),
        Result("tide", (made[first], made[third]), (wrong,), shared={"k": b"2"}, seconds=3.0),
    ]
    whole = together(halves, (first, second, third))
    assert [one.target for one in whole.made] == [first, second, third]
    assert whole.problems == (wrong,)
    assert (whole.packs, whole.shared) == ({"plan-right": b"1"}, {"k": b"2"})
    assert whole.seconds == 3.0


def made_by(jobs: int, folder: Path, templates: Path | None = None) -> Outcome:
    editions = ("ink-saver", "left-handed", "booklet")
    run = begin(Workshop(ROOT / "patterns", templates, folder), editions)
    (outcome,) = run.outcomes(run.tasks(run.workshop.find(["tide-lines"])), jobs)
    return outcome


def files(folder: Path) -> dict[str, bytes]:
    return {
        str(path.relative_to(folder)): path.read_bytes() for path in folder.glob("tide-lines/*")
    }


def test_side_by_side_they_are_the_same_to_the_byte(tmp_path: Path) -> None:
    alone, together = (made_by(jobs, tmp_path / str(jobs)) for jobs in (1, 2))
    assert not alone.problems and not together.problems
    assert [path.name for path in alone.made] == [path.name for path in together.made]
    assert alone.advice == together.advice
    assert files(tmp_path / "1") == files(tmp_path / "2")
    assert len(files(tmp_path / "2")) == 7


@pytest.mark.parametrize("jobs", [1, 3])
def test_an_edition_that_fails_leaves_the_others_alone(jobs: int, tmp_path: Path) -> None:
    templates = tmp_path / "templates"
    (templates / "editions").mkdir(parents=True)
    text = installed().text("editions/ink-saver.toml").replace('"chart"', '"chrat"')
    (templates / "editions/ink-saver.toml").write_text(text)
    outcome = made_by(jobs, tmp_path / "out", templates)
    (problem,) = outcome.problems
    assert "chrat" in problem.message
    names = {path.name for path in outcome.made}
    assert {"tide-lines-1.0-booklet-a4.pdf", "tide-lines-1.0-left-handed-a4.pdf"} <= names
    assert "tide-lines-1.0-ink-saver-a4.pdf" not in names

"""The index says what is there now, and is made anew when that has changed and only then."""

from __future__ import annotations

from pathlib import Path

import pytest

from publisher.catalogue.build.build import conclude
from publisher.catalogue.build.entries import entry_path
from publisher.catalogue.build.values import Outcome
from publisher.catalogue.workshop import Workshop
from tests.support.stand_ins import (
    begin_with_stand_ins,
    done,
    everything,
    make_workshop,
    write,
    write_pattern,
)


def build(workshop: Workshop, *editions: str, papers: tuple[str, ...] = ()) -> Outcome:
    """Build all patterns, and give what became of the index."""
    run = begin_with_stand_ins(workshop, *editions, papers=papers)
    tasks = run.tasks(everything(workshop))
    list(run.outcomes(tasks, jobs=1))
    index = conclude(run, tasks, whole=True).index
    assert index
    return index


def why(index: Outcome) -> tuple[str, ...]:
    (reasons,) = index.reasons.values()
    return reasons


@pytest.fixture
def workshop(tmp_path: Path) -> Workshop:
    workshop = make_workshop(tmp_path, "heron", "tide")
    index = build(workshop)
    assert [path.name for path in index.made] == ["index.html", "index.pdf"]
    assert build(workshop).up_to_date
    done(workshop)
    return workshop


def page(workshop: Workshop) -> str:
    return (workshop.out / "index.html").read_text()


def test_nothing_to_do_reads_no_entry(workshop: Workshop) -> None:
    before = {path: path.stat().st_mtime_ns for path in workshop.out.rglob("*")}
    assert build(workshop).up_to_date
    assert done(workshop) == []
    assert {path: path.stat().st_mtime_ns for path in workshop.out.rglob("*")} == before


def test_new_version_is_in_it(workshop: Workshop, tmp_path: Path) -> None:
    write_pattern(tmp_path, "tide", version="2.0")
    index = build(workshop)
    assert why(index) == ("entry tide has changed",)
    assert "tide 2.0" in page(workshop) and "tide-2.0-booklet-a4.pdf" in page(workshop)
    assert "tide 1.0" not in page(workshop) and "tide-1.0" not in page(workshop)


def test_pattern_comes_and_goes(workshop: Workshop, tmp_path: Path) -> None:
    write_pattern(tmp_path, "lamp")
    assert why(build(workshop)) == ("entry lamp is new",)
    (tmp_path / "patterns/heron.toml").unlink()
    assert why(build(workshop)) == ("entry heron is gone",)
    assert "lamp 1.0" in page(workshop) and "heron" not in page(workshop)


def test_another_edition_is_linked(workshop: Workshop) -> None:
    assert "entry heron has changed" in why(build(workshop, "handout"))
    assert "heron/heron-1.0-booklet-a4.pdf" in page(workshop)
    assert "heron/heron-1.0-handout-a4.pdf" in page(workshop)


def test_change_that_comes_out_the_same_prints_nothing(workshop: Workshop, tmp_path: Path) -> None:
    write(tmp_path / "templates/pages/cover.svg", "# another note\n<cover>\n")
    index = build(workshop)
    assert why(index) == ("template pages/cover.svg has changed",)
    assert index.made == ()
    assert [line for line in done(workshop) if line.startswith("print")] == []
    assert build(workshop).up_to_date


def test_paper_is_that_of_the_books(workshop: Workshop) -> None:
    assert "the paper has changed" in why(build(workshop, papers=("letter",)))


@pytest.mark.parametrize("harm", ["gone", "changed"])
@pytest.mark.parametrize("name", ["index.pdf", "index.html"])
def test_damage_is_mended(workshop: Workshop, name: str, harm: str) -> None:
    path = workshop.out / name
    before = path.read_bytes()
    path.unlink() if harm == "gone" else path.write_bytes(before[:-1])
    build(workshop)
    assert path.read_bytes() == before


@pytest.mark.parametrize("harm", ["gone", "changed"])
def test_lost_entry_is_made_again(workshop: Workshop, tmp_path: Path, harm: str) -> None:
    path = entry_path(workshop.out, "tide")
    before = path.read_bytes()
    path.unlink() if harm == "gone" else path.write_text("{}")
    build(workshop)
    assert path.read_bytes() == before
    assert "tide 1.0" in page(workshop)


def test_broken_pattern_keeps_its_old_entry(workshop: Workshop, tmp_path: Path) -> None:
    write_pattern(tmp_path, "tide", title="Ebb", plan="broken")
    write_pattern(tmp_path, "lamp")
    assert not build(workshop).problems
    assert "tide 1.0" in page(workshop) and "lamp 1.0" in page(workshop)


def test_mistake_in_a_template_is_told(workshop: Workshop, tmp_path: Path) -> None:
    write(tmp_path / "templates/pages/cover.svg", "{{ wrong }}\n")
    before = page(workshop)
    (problem,) = build(workshop).problems
    assert str(problem).endswith("pages/cover.svg:1: wrong is not defined; mend the line")
    assert page(workshop) == before

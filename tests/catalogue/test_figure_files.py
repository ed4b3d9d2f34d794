"""Figures of earlier runs: which stay, which count as left over, and what is never touched."""

from __future__ import annotations

import shutil
from pathlib import Path

import pytest

from publisher.catalogue.build.build import begin, conclude
from publisher.catalogue.build.run import BuildRun
from publisher.catalogue.figure_files import begin_figures
from publisher.catalogue.workshop import Workshop
from tests.support.cairo_library import needs_cairo
from tests.support.shop import ROOT

SLUG = "lock-keepers-key-cord"


@pytest.fixture
def workshop(tmp_path: Path) -> Workshop:
    patterns = tmp_path / "patterns"
    patterns.mkdir()
    for name in (SLUG, "house"):
        shutil.copy(ROOT / "patterns" / f"{name}.toml", patterns)
    return Workshop(patterns, None, tmp_path / "build")


def make(workshop: Workshop, *names: str, png_px: int | None = None) -> BuildRun:
    run, lacking = begin_figures(workshop, names, png_px)
    assert lacking is None
    outcomes = list(run.outcomes(run.tasks(workshop.find()), jobs=1))
    assert not any(outcome.problems for outcome in outcomes)
    return run


def change(workshop: Workshop, before: str, after: str) -> None:
    path = workshop.patterns / f"{SLUG}.toml"
    text = path.read_text()
    assert before in text
    path.write_text(text.replace(before, after))


def left_over(run: BuildRun, *, prune: bool = False) -> dict[str, str]:
    return {file.path.name: file.why for file in run.leftovers(prune=prune).files}


def files(workshop: Workshop) -> set[str]:
    return {path.name for path in (workshop.out / SLUG / "figures").iterdir()}


def test_a_figure_that_the_pattern_has_no_more_is_left_over(workshop: Workshop) -> None:
    make(workshop)
    before = files(workshop)
    change(workshop, "key-cord", "cord")
    run = make(workshop)
    assert left_over(run) == {"part-key-cord.svg": "its pattern has changed"}
    assert left_over(run, prune=True)
    assert files(workshop) == before - {"part-key-cord.svg"} | {"part-cord.svg"}
    assert not left_over(run)


def test_figures_that_were_not_asked_for_again_stay(workshop: Workshop) -> None:
    make(workshop)
    before = files(workshop)
    run = make(workshop, "part")
    assert not left_over(run)
    change(workshop, "\ntitle =", '\ntitle = "Another" # ')
    assert not left_over(make(workshop, "knot-square-knot"))
    assert files(workshop) == before


def test_a_new_version_leaves_figures_as_they_are(workshop: Workshop) -> None:
    run = make(workshop)
    change(workshop, 'version = "1.0"', 'version = "2.0"')
    assert not left_over(run)
    assert not left_over(make(workshop))


@needs_cairo
def test_a_png_is_left_over_when_its_svg_shows_something_else(workshop: Workshop) -> None:
    make(workshop, png_px=40)
    run = make(workshop)
    assert not left_over(run)
    change(workshop, "\ntitle =", '\ntitle = "Another" # ')
    run = make(workshop)
    assert set(left_over(run)) == {"part-key-cord.png"}
    assert not left_over(make(workshop, png_px=40))


def test_figures_of_a_removed_pattern_go_with_their_folder(workshop: Workshop) -> None:
    run = make(workshop)
    (workshop.patterns / f"{SLUG}.toml").unlink()
    assert left_over(run, prune=True).keys() >= {"part-key-cord.svg", "knot-square-knot-1.svg"}
    assert not (workshop.out / SLUG).exists()


def test_what_the_writer_put_there_or_changed_is_never_taken_away(workshop: Workshop) -> None:
    run = make(workshop)
    folder = workshop.out / SLUG / "figures"
    (folder / "mine.svg").write_text("<svg/>")
    (folder / "part-key-cord.svg").write_text("<svg/>")
    (workshop.patterns / f"{SLUG}.toml").unlink()
    left_over(run, prune=True)
    assert files(workshop) == {"mine.svg", "part-key-cord.svg"}


def test_a_folder_that_leads_elsewhere_is_left_alone(workshop: Workshop, tmp_path: Path) -> None:
    run = make(workshop)
    folder = workshop.out / SLUG / "figures"
    folder.rename(tmp_path / "elsewhere")
    folder.symlink_to(tmp_path / "elsewhere")
    (workshop.patterns / f"{SLUG}.toml").unlink()
    assert not left_over(run, prune=True)
    assert (tmp_path / "elsewhere" / "part-key-cord.svg").is_file()


def test_a_damaged_record_of_figures_says_how_it_is_mended(workshop: Workshop) -> None:
    run = make(workshop)
    (workshop.out / f".cache/made/{SLUG}/figures.json").write_text("{}")
    (problem,) = run.leftovers().damaged
    assert f"publisher figures {SLUG} writes it anew" in str(problem)


def test_the_index_names_no_figure(workshop: Workshop) -> None:
    make(workshop, "part")
    run = begin(workshop)
    tasks = run.tasks(workshop.find())
    assert not any(outcome.problems for outcome in run.outcomes(tasks, jobs=1))
    conclude(run, tasks, whole=True)
    index = (workshop.out / "index.html").read_text("utf-8")
    assert f"{SLUG}/{SLUG}-1.0-booklet-a4.pdf" in index
    assert "figures" not in index and ".svg" not in index

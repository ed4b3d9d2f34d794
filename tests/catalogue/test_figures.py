"""Drawings of knots that are kept between runs: the same, whole, or not used at all."""

from __future__ import annotations

from pathlib import Path

import pytest

from publisher.catalogue.build import figures
from publisher.catalogue.build.build import begin
from publisher.catalogue.build.figures import (
    figures_to_bytes,
    finder_of,
    keep_figures,
    keep_with_package,
    read_figures,
)
from publisher.catalogue.build.publish_files import work_folder
from publisher.catalogue.workshop import Workshop
from publisher.manuscript import knot_figures as drawing
from publisher.manuscript.knot_figures import Stages, bring_stages, take_fresh_stages
from tests.support.shop import ROOT, demo, installed, manuscript

PATTERNS = ROOT / "patterns"


@pytest.fixture
def drawn() -> dict[str, Stages]:
    """What one booklet's knots are drawn as, in a process that knows none."""
    bring_stages(lambda name: None)
    manuscript(demo("tide-lines"))
    fresh = take_fresh_stages()
    assert fresh
    return fresh


def test_kept_and_read_again_they_are_the_same(drawn: dict[str, Stages], tmp_path: Path) -> None:
    with work_folder(tmp_path) as work:
        keep_figures(work, tmp_path, figures_to_bytes(drawn))
    find = finder_of(read_figures(tmp_path))
    assert {name: find(name) for name in drawn} == drawn


def test_what_is_known_is_not_drawn_again(
    drawn: dict[str, Stages], monkeypatch: pytest.MonkeyPatch
) -> None:
    before = manuscript(demo("tide-lines"))
    bring_stages(finder_of(figures_to_bytes(drawn)))
    monkeypatch.setattr(drawing, "draw_knot_stages", None)
    assert manuscript(demo("tide-lines")).sections == before.sections
    assert take_fresh_stages() == {}


def test_another_look_is_drawn_anew(drawn: dict[str, Stages]) -> None:
    manuscript(demo("tide-lines"), "large-print")
    assert take_fresh_stages().keys().isdisjoint(drawn)


@pytest.mark.parametrize("harm", ["cut", "changed", "empty", "renamed", "not ours"])
def test_what_is_not_whole_is_not_used(drawn: dict[str, Stages], harm: str) -> None:
    kept = figures_to_bytes(drawn)
    name, *others = kept
    content = kept[name]
    kept[name] = {
        "cut": content[:-1],
        "changed": content.replace(b"<", b">", 1),
        "empty": b"",
        "renamed": kept[others[0]],
        "not ours": b"\x80\x05cos\nsystem\n",
    }[harm]
    find = finder_of(kept)
    assert find(name) is None
    assert all(find(other) == drawn[other] for other in others)


def test_those_of_another_program_are_cleared_away(
    drawn: dict[str, Stages], tmp_path: Path
) -> None:
    old = tmp_path / ".cache/figures/another/square-knot"
    old.parent.mkdir(parents=True)
    old.write_bytes(b"old")
    assert read_figures(tmp_path) == {}
    with work_folder(tmp_path) as work:
        keep_figures(work, tmp_path, figures_to_bytes(drawn))
    assert not old.exists() and len(read_figures(tmp_path)) == len(drawn)


def built(workshop: Workshop) -> set[str]:
    """Make a starter panel's booklet in a process that knows no drawings."""
    bring_stages(lambda name: None)
    run = begin(workshop)
    (outcome,) = run.outcomes(run.tasks(workshop.find(["tide-lines"])), 1)
    assert not outcome.problems
    return set(read_figures(workshop.out))


@pytest.fixture
def with_package(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    folder = tmp_path / "package/figures/these"
    monkeypatch.setattr(figures, "package_folder", lambda: folder)
    return folder


def test_a_new_workshop_finds_what_another_drew(
    with_package: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    old = with_package.parent / "another-program"
    old.mkdir(parents=True)
    first, second = (Workshop(PATTERNS, None, tmp_path / name) for name in ("first", "second"))
    assert built(first) == set()
    assert {path.name.rpartition("-")[0] for path in with_package.iterdir()} >= {
        "larks-head",
        "vertical-double-half-hitch",
    }
    assert not old.exists()
    monkeypatch.setattr(drawing, "draw_knot_stages", None)
    assert built(second) == set()
    name = "tide-lines/tide-lines-1.0-booklet-a4.pdf"
    assert (first.out / name).read_bytes() == (second.out / name).read_bytes()


def test_what_only_one_workshop_needs_is_kept_in_its_output(
    with_package: Path, tmp_path: Path
) -> None:
    templates = tmp_path / "templates"
    templates.mkdir()
    (templates / "look.toml").write_text(installed().text("look.toml") + "\n# hers\n")
    assert built(Workshop(PATTERNS, templates, tmp_path / "out"))
    assert not with_package.exists()


def test_a_package_that_may_only_be_read_is_no_hindrance(
    with_package: Path, tmp_path: Path
) -> None:
    with_package.parent.parent.write_bytes(b"no folder")
    assert not keep_with_package({"overhand-0": b"drawing"})
    assert built(Workshop(PATTERNS, None, tmp_path / "out"))

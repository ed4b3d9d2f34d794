"""Drawings of knots that are kept between runs: the same, whole, or not used at all."""

from __future__ import annotations

from pathlib import Path

import pytest
from shop import demo, manuscript

from publisher.catalogue.figures import (
    figures_from_bytes,
    figures_to_bytes,
    keep_figures,
    read_figures,
)
from publisher.catalogue.putting import work_folder
from publisher.manuscript import stages as drawing
from publisher.manuscript.stages import Stages, bring_stages, take_fresh_stages


@pytest.fixture
def drawn() -> dict[str, Stages]:
    """What one booklet's knots are drawn as, in a process that knows none."""
    bring_stages({})
    manuscript(demo("tide-lines"))
    fresh = take_fresh_stages()
    assert fresh
    return fresh


def test_kept_and_read_again_they_are_the_same(drawn: dict[str, Stages], tmp_path: Path) -> None:
    with work_folder(tmp_path) as work:
        keep_figures(work, tmp_path, figures_to_bytes(drawn))
    assert figures_from_bytes(read_figures(tmp_path)) == drawn


def test_what_is_known_is_not_drawn_again(
    drawn: dict[str, Stages], monkeypatch: pytest.MonkeyPatch
) -> None:
    before = manuscript(demo("tide-lines"))
    bring_stages(figures_from_bytes(figures_to_bytes(drawn)))
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
    assert figures_from_bytes(kept).keys() == set(others)


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

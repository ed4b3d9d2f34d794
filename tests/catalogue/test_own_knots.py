"""Knots of the writer's own, from her file to the page: tied in steps, drawn, kept up to date."""

from __future__ import annotations

from pathlib import Path

import pytest
from pypdf import PdfReader

from publisher import build_catalogue
from publisher.catalogue.build.values import Summary
from tests.support.own_knots import HALF, SQUARE, write_pattern

STEPS = """{ tie = "weir-knot", on = [1, 2, 3, 4], times = 3 },
    { tie = "weir-knot", on = [1, 2, 3, 4], facing = "right" },"""
BOTH = ("booklet", "left-handed")


def build(folder: Path, pattern: Path | None = None) -> Summary:
    summary = build_catalogue(
        folder / "patterns",
        out=folder / "build",
        templates=None,
        editions=BOTH,
        only=[str(pattern)] if pattern else (),
    )
    assert not summary.failed, [outcome.problems for outcome in summary.outcomes]
    return summary


def text_of(folder: Path, edition: str) -> str:
    (path,) = (folder / "build/weir-cord").glob(f"*-{edition}-a4.pdf")
    return " ".join(" ".join(page.extract_text() for page in PdfReader(path).pages).split())


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    write_pattern(tmp_path / "patterns", STEPS, weir_knot=SQUARE)
    build(tmp_path)
    return tmp_path


def test_steps_tell_it_and_the_glossary_draws_it(folder: Path) -> None:
    for edition, other in (("booklet", "right"), ("left-handed", "left")):
        text = text_of(folder, edition)
        assert "a weir knot (page" in text
        assert "4 × weir knot" in text
        assert "Weir knot" in text and "Four cords: the outer two" in text
        assert f"Begin from the {other}: the drawing on that page, in a mirror." in text


def test_another_drawing_of_it_brings_its_patterns_up_to_date(folder: Path) -> None:
    (outcome,) = build(folder).outcomes
    assert not outcome.made
    before = (folder / "build/weir-cord/plan.json").read_bytes()
    (folder / "patterns/knots/weir-knot.toml").write_text(HALF, "utf-8")
    (outcome,) = build(folder).outcomes
    assert len([name for name in outcome.made if name.suffix == ".pdf"]) == len(BOTH)
    assert (folder / "build/weir-cord/plan.json").read_bytes() != before


def test_a_pattern_from_elsewhere_has_the_knots_beside_it(folder: Path, tmp_path: Path) -> None:
    path = write_pattern(tmp_path / "elsewhere", STEPS, weir_knot=SQUARE)
    (folder / "patterns/weir-cord.toml").unlink()
    (folder / "patterns/knots/weir-knot.toml").unlink()
    build(folder, path)
    assert "Weir knot" in text_of(folder, "booklet")

"""Figures of parts that are kept: used again where they are whole, never seen in what is made."""

from __future__ import annotations

import os
import pickle
from collections.abc import Iterator
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from publisher import build_catalogue
from publisher.catalogue.build.kept import parts_from_bytes, parts_to_bytes
from publisher.drawing import kept
from publisher.drawing.kept import bring_figures
from publisher.drawing.knot.pen import SvgPen
from publisher.drawing.part import paint as part_paint
from publisher.model.figure import Figure
from tests.support.keeping import Trap, edit, exchange, new_frame, sealed, workshop_of

SLUG = "lock-keepers-key-cord"
FIGURES = {"a": (Figure("<g/>", 1.0, 2.0, "a cord"), Figure("<g />", 3.0, 4.5)), "b": ()}
KEPT = parts_to_bytes(FIGURES)


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    return workshop_of(tmp_path, SLUG)


@pytest.fixture
def pens(monkeypatch: pytest.MonkeyPatch) -> Iterator[list[SvgPen]]:
    """The pens that parts are drawn with, each time one is taken."""
    taken: list[SvgPen] = []

    def pen(*given: object) -> SvgPen:
        taken.append(SvgPen(*given))  # type: ignore[arg-type]
        return taken[-1]

    monkeypatch.setattr(part_paint, "SvgPen", pen)
    yield taken
    forget()


def forget() -> None:
    """As a new process would begin."""
    kept._kept.clear()
    kept._weight = 0
    bring_figures({})


def build(folder: Path, out: str = "build") -> dict[str, bytes]:
    forget()
    summary = build_catalogue(
        folder / "patterns", out=folder / out, templates=folder / "templates", jobs=1
    )
    assert not summary.failed
    return {path.name: path.read_bytes() for path in (folder / out / SLUG).iterdir()}


def kept_files(folder: Path) -> list[Path]:
    return sorted(folder.glob(f"build/.cache/parts/{SLUG}/*/*"))


def test_a_template_that_changed_draws_no_part_again(folder: Path, pens: list[SvgPen]) -> None:
    build(folder)
    assert len(pens) > 10
    assert [path.parent.name for path in kept_files(folder)] == ["booklet-a4", "companions"]
    pens.clear()
    new_frame(folder)
    edit(folder / "templates/words/en.toml", "Finished size", "Size when done")
    after = build(folder)
    assert pens == []
    assert after == build(folder, "clean")


def test_a_colour_that_changed_draws_it_again(folder: Path, pens: list[SvgPen]) -> None:
    build(folder)
    before = len(pens)
    pens.clear()
    edit(folder / f"patterns/{SLUG}.toml", 'srgb = "#2f6f8f"', 'srgb = "#123456"')
    after = build(folder)
    assert len(pens) == before
    assert after == build(folder, "clean")


@pytest.mark.parametrize("spoil", ["cut", "changed", "strange", "gone"])
def test_figures_that_are_not_whole_are_drawn_again(
    folder: Path, pens: list[SvgPen], spoil: str
) -> None:
    build(folder)
    before = len(pens)
    for path in kept_files(folder):
        content = bytearray(path.read_bytes())
        if spoil == "cut":
            path.write_bytes(content[: len(content) // 2])
        elif spoil == "changed":
            content[len(content) // 2] ^= 1
            path.write_bytes(content)
        elif spoil == "strange":
            path.write_bytes(sealed(KEPT, pickle.dumps({"a": ("figure",)}, 5)))
        else:
            path.unlink()
    pens.clear()
    for path in (folder / "build" / SLUG).glob("*.p*"):
        path.unlink()
    after = build(folder)
    assert len(pens) == before
    assert after == build(folder, "clean")


def test_figures_go_with_their_pattern(folder: Path) -> None:
    build(folder)
    assert kept_files(folder)
    exchange(folder, SLUG)
    assert not (folder / f"build/.cache/parts/{SLUG}").exists()
    forget()


def test_figures_come_back_as_they_were() -> None:
    assert parts_from_bytes(KEPT) == FIGURES


@settings(max_examples=100, deadline=None)
@given(st.data())
def test_changed_or_cut_off_figures_are_refused(data: st.DataObject) -> None:
    content = bytearray(KEPT)
    where = data.draw(st.integers(0, len(content) - 1))
    if data.draw(st.booleans()):
        del content[where:]
    else:
        content[where] ^= data.draw(st.integers(1, 255))
    assert parts_from_bytes(bytes(content)) == {}


@pytest.mark.parametrize("thing", [Trap(), print, os.system, Path("x"), None, [], (1,), "<g/>"])
def test_nothing_but_figures_is_taken(
    thing: object, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Even in bytes whose digest is right, as a stranger could write them."""
    monkeypatch.chdir(tmp_path)
    assert parts_from_bytes(sealed(KEPT, pickle.dumps(thing, 5))) == {}
    assert parts_from_bytes(sealed(KEPT, pickle.dumps({"name": thing}, 5))) == {}
    assert list(tmp_path.iterdir()) == []

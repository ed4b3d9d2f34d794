"""Drawn pages that are kept: used again where they are whole, and never seen in what is made."""

from __future__ import annotations

import os
import pickle
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from publisher import build_catalogue
from publisher.catalogue.build.kept import pages_from_bytes, pages_to_bytes
from publisher.press import Fragment, collect_fragments, load_fragments, print_book
from publisher.press.pdf import fragments as pieces
from tests.support.keeping import Trap, edit, exchange, new_frame, sealed, workshop_of
from tests.support.svg_books import RICH


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    return workshop_of(tmp_path, "tide-lines")


@pytest.fixture
def drawn(monkeypatch: pytest.MonkeyPatch) -> Iterator[list[str]]:
    """The bodies that are drawn, each time one is."""
    bodies: list[str] = []
    draw = pieces._draw

    def note(body: str, *rest: Any) -> Fragment:
        bodies.append(body)
        return draw(body, *rest)

    monkeypatch.setattr(pieces, "_draw", note)
    yield bodies
    forget()


def forget() -> None:
    """As a new process would begin."""
    pieces._kept.clear()
    load_fragments({})
    collect_fragments()


def build(folder: Path, out: str = "build") -> dict[str, bytes]:
    forget()
    summary = build_catalogue(
        folder / "patterns",
        out=folder / out,
        templates=folder / "templates",
        only=["tide-lines"],  # and not the index, which has a page too
        jobs=1,
    )
    assert not summary.failed
    return {path.name: path.read_bytes() for path in (folder / out / "tide-lines").iterdir()}


def kept_file(folder: Path) -> Path:
    (path,) = (folder / "build/.cache/pages/tide-lines/booklet-a4").iterdir()
    return path


def test_a_frame_that_changed_draws_no_body_again(folder: Path, drawn: list[str]) -> None:
    build(folder)
    assert len(drawn) > 10
    drawn.clear()
    new_frame(folder)
    after = build(folder)
    assert drawn == []
    assert after == build(folder, "clean")


def test_a_word_that_changed_draws_its_own_pages_alone(folder: Path, drawn: list[str]) -> None:
    build(folder)
    before = len(drawn)
    drawn.clear()
    edit(folder / "templates/terms/personal-use.txt", "T", "Once more: t")
    after = build(folder)
    assert 0 < len(drawn) < before / 4
    assert after == build(folder, "clean")


@pytest.mark.parametrize("spoil", ["cut", "changed", "strange", "gone"])
def test_kept_pages_that_are_not_whole_are_drawn_again(
    folder: Path, drawn: list[str], spoil: str
) -> None:
    build(folder)
    before, kept = len(drawn), kept_file(folder)
    content = kept.read_bytes()
    if spoil == "cut":
        kept.write_bytes(content[: len(content) // 2])
    elif spoil == "changed":
        middle = len(content) // 2
        kept.write_bytes(content[:middle] + bytes([content[middle] ^ 1]) + content[middle + 1 :])
    elif spoil == "strange":
        kept.write_bytes(sealed(KEPT, pickle.dumps({"a": "page"}, 5)))
    else:
        kept.unlink()
    drawn.clear()
    new_frame(folder)
    after = build(folder)
    assert len(drawn) == before
    assert after == build(folder, "clean")


def test_what_is_kept_of_a_pattern_goes_with_it(folder: Path) -> None:
    build(folder)
    assert kept_file(folder).exists()
    exchange(folder, "tide-lines")
    assert not (folder / "build/.cache/pages/tide-lines").exists()


def some_pages() -> dict[str, Fragment]:
    """A body with all sorts of structure, drawn."""
    from dataclasses import replace

    from publisher.model.book import BODY

    page = RICH.pages[0]
    start, end = page.svg.index(">") + 1, page.svg.rindex("</svg>")
    whole = replace(page, frame=page.svg[:start] + BODY + "</svg>", body=page.svg[start:end])
    forget()
    print_book(replace(RICH, pages=(whole, RICH.pages[1])))
    return dict(collect_fragments())


def test_pages_come_back_as_they_were() -> None:
    made = some_pages()
    assert len(made) == 1
    again = pages_from_bytes(pages_to_bytes(made))
    assert again.keys() == made.keys()
    (piece,), (other,) = made.values(), again.values()
    assert (piece.stream, piece.needs, piece.missing) == (other.stream, other.needs, other.missing)
    assert repr(piece.told) == repr(other.told)


KEPT = pages_to_bytes(some_pages())


@settings(max_examples=200, deadline=None)
@given(st.data())
def test_changed_or_cut_off_pages_are_refused(data: st.DataObject) -> None:
    kept = bytearray(KEPT)
    where = data.draw(st.integers(0, len(kept) - 1))
    if data.draw(st.booleans()):
        del kept[where:]
    else:
        kept[where] ^= data.draw(st.integers(1, 255))
    assert pages_from_bytes(bytes(kept)) == {}


@pytest.mark.parametrize("thing", [Trap(), print, os.system, Path("x"), None, [], {"a": 1}])
def test_nothing_but_pages_is_taken(
    thing: object, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Even in bytes whose digest is right, as a stranger could write them."""
    monkeypatch.chdir(tmp_path)
    assert pages_from_bytes(sealed(KEPT, pickle.dumps(thing, 5))) == {}
    assert pages_from_bytes(sealed(KEPT, pickle.dumps({"name": thing}, 5))) == {}
    assert list(tmp_path.iterdir()) == []

"""A pattern with words that no page can show fails alone, is told where, and does no other harm."""

from __future__ import annotations

import re
import shutil
from pathlib import Path

import pytest

from publisher import make_plan, publish
from publisher.catalogue.build.build import begin, conclude
from publisher.catalogue.build.values import Outcome
from publisher.catalogue.workshop import Workshop
from publisher.errors import FontError, Place, Problem
from publisher.model.book import Book
from publisher.press.pdf.pages import draw_pages
from publisher.source import find_unprintable, read_pattern
from publisher.store import NO_STORE, Store
from tests.support.drivers import publisher
from tests.support.shop import ROOT, book
from tests.support.stand_ins import StandIns, everything, make_workshop, write_pattern

TOLD = (
    "patterns/heron.toml:2:10: pages can't show this `title`: the fonts have no א (U+05D0), "
    "נ (U+05E0), פ (U+05E4), ה (U+05D4); write it from left to right: Latin, Greek and Cyrillic "
    "letters can be printed\n"
)


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    """Two patterns, one of them with a Hebrew title."""
    (tmp_path / "patterns").mkdir()
    shutil.copy(ROOT / "patterns/house.toml", tmp_path / "patterns")
    text = (ROOT / "patterns/tide-lines.toml").read_text("utf-8")
    (tmp_path / "patterns/tide.toml").write_text(text, "utf-8")
    title = text.replace('title = "Tide Lines"', 'title = "אנפה"')
    (tmp_path / "patterns/heron.toml").write_text(title, "utf-8")
    return tmp_path


def test_check_and_build_tell_the_line_once(folder: Path) -> None:
    for words in (["check"], ["build", "--paper", "a4", "--paper", "letter"]):
        result = publisher(folder, *words)
        assert (result.returncode, result.stderr) == (1, TOLD)
    assert "heron: failed" in result.stdout
    assert not list(folder.glob("build/heron/*.pdf"))
    assert (folder / "build/tide/tide-1.0-booklet-a4.pdf").exists()
    assert "index: made build/index.pdf and 1 more beside it, without heron\n" in result.stdout
    page = (folder / "build/index.html").read_text("utf-8")
    assert "Tide Lines" in page and "אנפה" not in page


def test_editions_without_pages_show_any_script(folder: Path) -> None:
    result = publisher(folder, "build", "--edition", "plain-text", "--edition", "at-the-bench")
    assert (result.returncode, result.stderr) == (0, "")
    assert "אנפה" in (folder / "build/heron/heron-1.0-plain-text.txt").read_text("utf-8")
    assert "אנפה" in (folder / "build/heron/heron-1.0-at-the-bench.html").read_text("utf-8")


def test_a_release_and_one_book_are_refused_with_the_line(
    folder: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    assert publisher(folder, "release", "heron").stderr == TOLD
    assert not (folder / "build/heron/releases").exists()
    monkeypatch.chdir(folder)
    pattern = read_pattern("patterns/heron.toml")
    with pytest.raises(FontError) as caught:
        publish(pattern, make_plan(pattern), edition="left-handed")
    assert f"{caught.value}\n" == TOLD


class _Picky(StandIns):
    """Fonts that lack one letter."""

    def print_book(self, book: Book, store: Store = NO_STORE) -> bytes:
        if "ש" in repr(book.pages):
            raise FontError(Problem(Place("page 1"), "the font has no ש", "write another"))
        return super().print_book(book, store)


def _index(workshop: Workshop) -> Outcome:
    run = begin(workshop, pipeline=_Picky(workshop.out.parent / "log"))
    tasks = run.tasks(everything(workshop))
    list(run.outcomes(tasks, jobs=1))
    index = conclude(run, tasks, whole=True).index
    assert index
    return index


def test_index_is_made_without_those_that_it_cannot_show(tmp_path: Path) -> None:
    workshop = make_workshop(tmp_path, "a", "b", "c", "d", "e")
    write_pattern(tmp_path, "b", title="ש")
    write_pattern(tmp_path, "e", title="ש ש")
    index = _index(workshop)
    assert (index.problems, index.left_out) == ((), ("b", "e"))
    page = (workshop.out / "index.html").read_text()
    assert all(f"{slug} 1.0" in page for slug in "acd") and "ש" not in page
    before = (workshop.out / "index.pdf").read_bytes()
    assert not _index(workshop).made
    assert (workshop.out / "index.pdf").read_bytes() == before


def test_index_fails_where_its_own_words_cannot_be_shown(tmp_path: Path) -> None:
    workshop = make_workshop(tmp_path, "a", "b")
    (tmp_path / "templates/words/en.toml").write_text("title = 'ש'\n")
    assert [str(problem) for problem in _index(workshop).problems] == [
        "page 1: the font has no ש; write another"
    ]


@pytest.mark.parametrize("edition", ["booklet", "handout", "large-print", "left-handed"])
def test_every_edition_prints_what_is_let_through(edition: str, tmp_path: Path) -> None:
    """Words with letters that italics lack, and but for the title also with a sign that serifs
    lack: so no page sets a word of the writer's in a face that was not asked."""
    text = (ROOT / "patterns/kingfisher-over-reeds.toml").read_text("utf-8")
    text = re.sub(r'(?m)^title = "', r"\g<0>Жα ", text)
    text = re.sub(r'(?m)(\b(subtitle|level|name|note) = "|^He waits )', r"\g<0>Жα⌜ ", text)
    text = re.sub("(?m)^[A-Z]{48}$", lambda row: row[0].replace("W", "Ж"), text)
    text = text.replace("[colours.W]", '[colours."Ж"]')
    text = text.replace(
        'id = "seed-head"\n', 'id = "seed-head"\nmount = { on = "Жα⌜", diameter_mm = 2 }\n'
    ).replace(
        '    { tie = "berry', '    { glue = "Жα⌜" },\n    { sew = "Жα⌜" },\n    { tie = "berry'
    )
    house = (ROOT / "patterns/house.toml").read_text("utf-8")
    house = re.sub(r'(?m)^(designer|contact|name) = "', r"\g<0>Жα⌜ ", house)
    (tmp_path / "house.toml").write_text(house, "utf-8")
    (tmp_path / "kingfisher.toml").write_text(text, "utf-8")
    pattern = read_pattern(tmp_path / "kingfisher.toml")
    assert find_unprintable(pattern) == ()
    pages = book(pattern, edition).pages
    assert sum(page.svg.count("Жα") for page in pages) > 20
    draw_pages(book(pattern, edition))

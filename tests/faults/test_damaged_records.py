"""A damaged record counts as none: no letter of one, changed, takes a living book away or makes a
wrong index."""

from __future__ import annotations

import re
import shutil
from collections.abc import Iterator
from pathlib import Path

import pytest

from publisher.catalogue.build.build import conclude
from publisher.catalogue.build.records import BuildRecord
from publisher.catalogue.build.values import Aftermath
from publisher.catalogue.workshop import Workshop
from tests.support.stand_ins import (
    begin_with_stand_ins,
    everything,
    files_made,
    make_workshop,
    write_pattern,
)

BOTH = ("booklet", "handout")


def build(workshop: Workshop, *editions: str, prune: bool = False) -> Aftermath:
    run = begin_with_stand_ins(workshop, *(editions or BOTH))
    tasks = run.tasks(everything(workshop))
    assert not any(outcome.problems for outcome in run.outcomes(tasks, jobs=1))
    return conclude(run, tasks, whole=True, prune=prune)


@pytest.fixture(scope="module")
def made(tmp_path_factory: pytest.TempPathFactory) -> Workshop:
    """Two patterns, one of which has been at another version and is back: what was made of it then
    is left over, and its records call old what another record calls living."""
    folder = tmp_path_factory.mktemp("made")
    workshop = make_workshop(folder, "heron", "tide")
    build(workshop)
    write_pattern(folder, "tide", version="1.1")
    build(workshop)
    write_pattern(folder, "tide", version="1.0")
    build(workshop)
    return workshop


@pytest.fixture
def workshop(made: Workshop, tmp_path: Path) -> Workshop:
    shutil.copytree(made.out.parent, tmp_path, dirs_exist_ok=True)
    return Workshop(tmp_path / "patterns", tmp_path / "templates", tmp_path / "build")


def records(workshop: Workshop) -> list[Path]:
    return sorted(workshop.out.glob(".cache/made/*/*.json"))


def damages(content: bytes, step: int) -> Iterator[bytes]:
    """The content with one byte changed, every `step`-th in turn: to its neighbour, which makes
    another letter or figure of most, and by its highest bit."""
    for place in range(0, len(content), step):
        for mask in (0x01, 0x80):
            yield content[:place] + bytes([content[place] ^ mask]) + content[place + 1 :]
    yield content[: len(content) // 2]
    yield b""
    yield b"\0" * len(content)


def left(workshop: Workshop) -> set[str]:
    """What counts as left over."""
    found = begin_with_stand_ins(workshop, *BOTH).leftovers()
    return {file.path.relative_to(workshop.out).as_posix() for file in found.files}


OLD = {"tide/tide-1.1-booklet-a4.pdf", "tide/tide-1.1-handout-a4.pdf"}


def test_no_damage_to_a_record_makes_a_living_book_left_over(workshop: Workshop) -> None:
    assert left(workshop) == OLD
    for path in records(workshop):
        whole = path.read_bytes()
        for number, content in enumerate(damages(whole, 1)):
            path.write_bytes(content)
            assert BuildRecord.read(path) is None
            if number % 61 == 0:
                assert left(workshop) == (set() if path.parent.name == "tide" else OLD)
        path.write_bytes(whole)
    assert left(workshop) == OLD


@pytest.mark.parametrize("gone", [False, True])
def test_pruning_takes_nothing_of_a_pattern_with_a_damaged_record(
    workshop: Workshop, gone: bool
) -> None:
    """Even where the pattern itself is gone: what is doubtful stays until all records are whole."""
    if gone:
        (workshop.patterns / "tide.toml").unlink()
    before = files_made(workshop)
    for path in (path for path in records(workshop) if path.parent.name == "tide"):
        whole = path.read_bytes()
        for content in damages(whole, 97):
            path.write_bytes(content)
            found = begin_with_stand_ins(workshop, *BOTH).leftovers(prune=True)
            assert not found.files
            assert [problem.place.file for problem in found.damaged] == [str(path)]
            assert files_made(workshop) == before
        path.write_bytes(whole)
    begin_with_stand_ins(workshop, *BOTH).leftovers(prune=True)
    gone_now = set(before) - set(files_made(workshop))
    assert gone_now == ({name for name in before if name.startswith("tide/")} if gone else OLD)


def test_the_index_is_right_after_the_build_that_finds_the_damage(workshop: Workshop) -> None:
    build(workshop)
    page, pdf = (workshop.out / "index.html", workshop.out / "index.pdf")
    good = page.read_bytes(), pdf.read_bytes()
    for path in (*records(workshop), workshop.out / ".cache/index.json"):
        for content in damages(path.read_bytes(), 211):
            path.write_bytes(content)
            after = build(workshop)
            assert (page.read_bytes(), pdf.read_bytes()) == good
            assert BuildRecord.read(path), "it is written anew"
            assert not after.damaged


def test_a_record_that_is_not_made_anew_leaves_a_link_out_and_is_told(workshop: Workshop) -> None:
    build(workshop)
    page = workshop.out / "index.html"
    good = set(re.findall(r"'([^']+\.pdf)'", page.read_text()))
    path = workshop.out / ".cache/made/tide/handout-a4.json"
    whole = path.read_bytes()
    for content in damages(whole, 211):
        path.write_bytes(content)
        after = build(workshop, "booklet", prune=True)
        links = set(re.findall(r"'([^']+\.pdf)'", page.read_text()))
        assert links == good - {"tide/tide-1.0-handout-a4.pdf"}
        (told,) = after.damaged
        assert str(told) == (
            f"{path}: this record is damaged, and nothing of tide counts as left over, nor has the "
            "index a link to what it tells of; publisher build tide --edition handout --paper a4 "
            "writes it anew; or remove it"
        )
        assert not after.leftovers
    path.write_bytes(whole)
    assert {file.path.name for file in build(workshop, prune=True).leftovers} == {
        Path(name).name for name in OLD
    }
    assert set(re.findall(r"'([^']+\.pdf)'", page.read_text())) == good


def test_a_pattern_whose_entry_is_lost_is_back_in_the_index_when_it_has_one(
    workshop: Workshop, tmp_path: Path
) -> None:
    """While it can't be made, the index is made without it, and must not pass for whole later."""
    build(workshop)
    good = (workshop.out / "index.html").read_bytes()
    entry = workshop.out / ".cache/entries/tide.json"
    entry.write_bytes(entry.read_bytes().replace(b"tide", b"tidy"))
    write_pattern(tmp_path, "tide", version="1.0", plan="broken")
    (workshop.out / "index.html").unlink()
    run = begin_with_stand_ins(workshop, *BOTH)
    tasks = run.tasks(everything(workshop))
    assert any(outcome.problems for outcome in run.outcomes(tasks, jobs=1))
    conclude(run, tasks, whole=True)
    assert b"tid" not in (workshop.out / "index.html").read_bytes()
    write_pattern(tmp_path, "tide", version="1.0")
    build(workshop)
    assert (workshop.out / "index.html").read_bytes() == good

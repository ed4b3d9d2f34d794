"""What nothing makes any more is told; it goes only when asked for, and nothing else ever does."""

from __future__ import annotations

import errno
from pathlib import Path

import pytest

from publisher.catalogue.build.records import BuildRecord, record_path
from publisher.catalogue.build.run import BuildRun
from publisher.catalogue.build.values import COMPANIONS
from publisher.catalogue.workshop import Workshop
from publisher.errors import OutputError
from tests.support.stand_ins import (
    begin_with_stand_ins,
    everything,
    files_made,
    make_workshop,
    write_pattern,
)


def build(workshop: Workshop, *editions: str) -> BuildRun:
    run = begin_with_stand_ins(workshop, *(editions or ("booklet", "handout")))
    assert not any(outcome.problems for outcome in run.outcomes(_tasks(run), jobs=1))
    return run


def _tasks(run: BuildRun) -> tuple:  # type: ignore[type-arg]
    return run.tasks(everything(run.workshop))


def told(run: BuildRun, *slugs: str, prune: bool = False) -> dict[str, str]:
    return {file.path.name: file.why for file in run.leftovers(slugs, prune=prune).files}


@pytest.fixture
def workshop(tmp_path: Path) -> Workshop:
    workshop = make_workshop(tmp_path, "heron", "tide")
    assert not told(build(workshop))
    return workshop


COMPANION_FILES = {"plan.json", "cutting-list.csv", "picture.png"}


def test_removed_pattern_leaves_its_files(workshop: Workshop) -> None:
    (workshop.patterns / "tide.toml").unlink()
    run = build(workshop)
    books = {"tide-1.0-booklet-a4.pdf", "tide-1.0-handout-a4.pdf"}
    assert told(run) == dict.fromkeys(COMPANION_FILES | books, "its pattern is gone")
    assert (workshop.out / "tide/plan.json").exists()
    assert told(run, prune=True).keys() == COMPANION_FILES | books
    assert not (workshop.out / "tide").exists()
    assert not told(build(workshop))
    assert not list(workshop.out.glob(".cache/*/tide"))
    assert (workshop.out / "heron/plan.json").exists()


def test_old_version_is_left_until_pruned(workshop: Workshop, tmp_path: Path) -> None:
    write_pattern(tmp_path, "tide", version="1.1")
    run = build(workshop, "booklet")
    assert told(run) == {
        "tide-1.0-booklet-a4.pdf": "its pattern has changed",
        "tide-1.0-handout-a4.pdf": "its pattern is at version 1.1",
    }
    build(workshop, "booklet")  # what was left before is not forgotten by building again
    assert len(told(run, prune=True)) == 2
    assert sorted(path.name for path in workshop.out.glob("tide/*.pdf")) == [
        "tide-1.1-booklet-a4.pdf"
    ]
    assert not told(build(workshop, "booklet"))


def test_version_that_comes_back_is_no_leftover(workshop: Workshop, tmp_path: Path) -> None:
    write_pattern(tmp_path, "tide", version="1.1")
    build(workshop)
    write_pattern(tmp_path, "tide", version="1.0")
    run = build(workshop)
    assert set(told(run, prune=True)) == {"tide-1.1-booklet-a4.pdf", "tide-1.1-handout-a4.pdf"}
    assert (workshop.out / "tide/tide-1.0-booklet-a4.pdf").exists()


def test_edition_that_is_gone(workshop: Workshop, tmp_path: Path) -> None:
    sampler = tmp_path / "templates/editions/sampler.toml"
    sampler.write_text("title = 'Sampler'\nsections = ['note']\n")
    assert not told(build(workshop, "sampler"))
    sampler.unlink()
    why = "there is no edition sampler any more"
    names = ("heron-1.0-sampler-a4.pdf", "tide-1.0-sampler-a4.pdf")
    assert told(build(workshop), prune=True) == dict.fromkeys(names, why)


def test_record_that_cannot_be_removed_is_told(
    workshop: Workshop, monkeypatch: pytest.MonkeyPatch
) -> None:
    (workshop.patterns / "tide.toml").unlink()
    run, unlink = build(workshop), Path.unlink

    def refuse(path: Path, missing_ok: bool = False) -> None:
        if path.suffix == ".json" and path.parent.parent.name == "made":
            raise PermissionError(errno.EACCES, "no", str(path))
        unlink(path, missing_ok)

    monkeypatch.setattr(Path, "unlink", refuse)
    with pytest.raises(OutputError, match="you may not write here"):
        run.leftovers(prune=True)


def test_edition_not_asked_for_is_no_leftover(workshop: Workshop) -> None:
    assert not told(build(workshop, "booklet"))


def test_only_the_patterns_that_are_named(workshop: Workshop, tmp_path: Path) -> None:
    for slug in ("heron", "tide"):
        write_pattern(tmp_path, slug, version="2.0")
    run = build(workshop)
    assert set(told(run, "heron", prune=True)) == {
        "heron-1.0-booklet-a4.pdf",
        "heron-1.0-handout-a4.pdf",
    }
    assert (workshop.out / "tide/tide-1.0-booklet-a4.pdf").exists()


def test_pattern_of_another_folder_is_not_gone(workshop: Workshop, tmp_path: Path) -> None:
    elsewhere = Workshop(tmp_path / "other/patterns", workshop.templates, workshop.out)
    write_pattern(tmp_path / "other", "lamp")
    build(elsewhere)
    assert not told(build(workshop))
    (tmp_path / "other/patterns/lamp.toml").unlink()
    assert "lamp-1.0-booklet-a4.pdf" in told(build(workshop))


def test_what_the_program_did_not_make_stays(workshop: Workshop, tmp_path: Path) -> None:
    folder = workshop.out / "tide"
    (folder / "notes.txt").write_text("mine")
    (folder / "plan.json").write_text("changed by hand")
    (folder / "releases/1.0").mkdir(parents=True)
    (folder / "releases/1.0/tide.pdf").write_bytes(b"sold")
    (tmp_path / "mine.pdf").write_bytes((folder / "tide-1.0-booklet-a4.pdf").read_bytes())
    (folder / "tide-1.0-booklet-a4.pdf").unlink()
    (folder / "tide-1.0-booklet-a4.pdf").symlink_to(tmp_path / "mine.pdf")
    (workshop.patterns / "tide.toml").unlink()
    run = begin_with_stand_ins(workshop)
    assert set(told(run, prune=True)) == {
        "tide-1.0-handout-a4.pdf",
        "cutting-list.csv",
        "picture.png",
    }
    left = {name for name in files_made(workshop) if name.startswith("tide/")}
    assert left == {
        "tide/notes.txt",
        "tide/plan.json",
        "tide/releases/1.0/tide.pdf",
        "tide/tide-1.0-booklet-a4.pdf",
    }
    assert (tmp_path / "mine.pdf").exists()


@pytest.mark.parametrize("name", ["../heron/plan.json", "/plan.json", "..", ".", ""])
def test_record_that_names_another_folder_removes_nothing(workshop: Workshop, name: str) -> None:
    path = record_path(workshop.out, "tide", COMPANIONS)
    record = BuildRecord.read(path)
    assert record
    digest = next(iter(record.files.values()))
    path.write_bytes(
        BuildRecord({}, "", {name: digest}, {name: digest}, record.source, "1.0").to_bytes()
    )
    (workshop.patterns / "tide.toml").unlink()
    before = files_made(workshop)
    run = begin_with_stand_ins(workshop)
    gone = {f"tide/{name}" for name in told(run, prune=True)}
    assert set(files_made(workshop)) == set(before) - gone
    assert "tide/plan.json" not in gone

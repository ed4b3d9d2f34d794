"""What is saved is made at once, and the board shows how everything stands."""

from __future__ import annotations

import errno
import threading
import time
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

import pytest
import watchfiles

from publisher.catalogue.watch.board import Board, BoardState
from publisher.catalogue.watch.watching import Watch
from publisher.errors import UsageError
from tests.support.stand_ins import StandIns, done, make_workshop, write, write_pattern


class Silent:
    def outcome(self, outcome: object) -> None: ...

    def problems(self, problems: object) -> None: ...

    def aftermath(self, after: object) -> None: ...


SLUGS = ("heron", "tide")


@pytest.fixture
def watch(tmp_path: Path) -> Iterator[Watch]:
    """A watch of two patterns, whose first round is done."""
    workshop = make_workshop(tmp_path, *SLUGS)
    stages = StandIns(tmp_path / "log")
    watch = Watch(workshop, SLUGS, ("booklet",), ("a4",), Board(), Silent(), stages)
    thread = threading.Thread(target=watch.run)
    thread.start()
    until(watch, lambda state: len(books(state)) == 2 and not state.left)
    time.sleep(0.3)  # the folders are watched a moment after the first round has begun
    done(workshop)
    yield watch
    watch.stop()
    thread.join(10)
    assert not thread.is_alive()


def until(watch: Watch, holds: Callable[[BoardState], bool], patience_s: float = 10.0) -> float:
    """Wait for the board to show something; the seconds it took."""
    started = time.monotonic()
    state = watch.board.state
    while not holds(state):
        left = started + patience_s - time.monotonic()
        assert left > 0, f"not in {patience_s} s: {state}"
        state = watch.board.after(state.revision, left)
    return time.monotonic() - started


def books(state: BoardState) -> dict[str, str]:
    return {book.file: book.digest for entry in state.entries.values() for book in entry.books}


def test_saved_pattern_is_made_within_a_second(watch: Watch, tmp_path: Path) -> None:
    before = books(watch.board.state)
    write_pattern(tmp_path, "tide", title="Ebb")
    assert until(watch, lambda state: books(state) != before and not state.left) < 1.0
    assert "print tide" not in done(watch.workshop)  # its title is Ebb now
    assert (
        books(watch.board.state)["heron/heron-1.0-booklet-a4.pdf"]
        == before["heron/heron-1.0-booklet-a4.pdf"]
    )


def test_saved_template_is_taken_up(watch: Watch, tmp_path: Path) -> None:
    before = books(watch.board.state)
    write(tmp_path / "templates/pages/cover.svg", "<front>\n")
    until(watch, lambda state: all(books(state)[file] != before[file] for file in before))


def test_mistake_is_shown_with_its_place_and_the_book_stays(watch: Watch, tmp_path: Path) -> None:
    before = books(watch.board.state)
    write_pattern(tmp_path, "tide", plan="broken")
    until(watch, lambda state: bool(state.entries["tide"].problems))
    state = watch.board.state
    (problem,) = state.entries["tide"].problems
    assert (problem.place.file, problem.place.line) == (str(tmp_path / "patterns/tide.toml"), 3)
    assert books(state) == before
    write_pattern(tmp_path, "tide")
    until(watch, lambda state: not state.entries["tide"].problems and not state.left)


def test_mistake_in_what_all_share_is_shown_and_mended(watch: Watch, tmp_path: Path) -> None:
    (tmp_path / "templates/words/en.toml").write_bytes(b"title = '\xff'\n")
    until(watch, lambda state: bool(state.problems))
    assert "UTF-8" in watch.board.state.problems[0].message
    assert len(books(watch.board.state)) == 2
    write(tmp_path / "templates/words/en.toml", "title = 'A pattern'\n")
    until(watch, lambda state: not state.problems)


def test_file_saved_by_renaming_is_noticed(watch: Watch, tmp_path: Path) -> None:
    """As many editors save."""
    before = books(watch.board.state)
    new = write(tmp_path / "patterns/.tide.swp", "title = 'Ebb'\n")
    new.rename(tmp_path / "patterns/tide.toml")
    until(watch, lambda state: books(state) != before)


def test_templates_that_come_later_are_watched(tmp_path: Path) -> None:
    workshop = make_workshop(tmp_path, *SLUGS)
    (tmp_path / "templates").rename(tmp_path / "away")
    stages = StandIns(tmp_path / "log")
    watch = Watch(workshop, SLUGS, ("booklet",), ("a4",), Board(), Silent(), stages)
    thread = threading.Thread(target=watch.run)
    thread.start()
    try:
        until(watch, lambda state: bool(state.entries) and not state.left)
        (tmp_path / "away").rename(tmp_path / "templates")
        until(watch, lambda state: len(books(state)) == 2)
        before = books(watch.board.state)
        time.sleep(0.3)
        write(tmp_path / "templates/pages/cover.svg", "<front>\n")
        until(watch, lambda state: bool(books(state)) and books(state) != before)
    finally:
        watch.stop()
        thread.join(10)


def test_two_editions_that_come_out_alike_are_both_shown(tmp_path: Path) -> None:
    """As those do of which one is a copy of the other, to be changed."""
    workshop = make_workshop(tmp_path, "tide")
    editions = tmp_path / "templates/editions"
    write(editions / "sampler.toml", (editions / "booklet.toml").read_text())
    stages = StandIns(tmp_path / "log")
    watch = Watch(workshop, ("tide",), ("booklet", "sampler"), ("a4",), Board(), Silent(), stages)
    names = [(f"{name}-a4", f"tide/tide-1.0-{name}-a4.pdf") for name in ("booklet", "sampler")]
    watch._build(first=True)
    for _ in range(2):
        watch._build()
        shown = watch.board.state.entries["tide"].books
        assert [(book.name, book.file) for book in shown] == names
        assert len({book.digest for book in shown}) == 1


def test_files_are_looked_at_where_the_system_has_no_watches_left(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    really, tries = watchfiles.watch, []

    def watching(*folders: Path, force_polling: bool | None = None, **how: Any) -> Iterator[Any]:
        tries.append(bool(force_polling))
        if not force_polling:
            raise OSError(errno.ENOSPC, "no watches left")
        yield from really(*folders, force_polling=True, **how)

    monkeypatch.setattr(watchfiles, "watch", watching)
    workshop = make_workshop(tmp_path, *SLUGS)
    stages = StandIns(tmp_path / "log")
    watch = Watch(workshop, SLUGS, ("booklet",), ("a4",), Board(), Silent(), stages)
    thread = threading.Thread(target=watch.run)
    thread.start()
    try:
        until(watch, lambda state: len(books(state)) == 2 and not state.left)
        before = books(watch.board.state)
        time.sleep(2)
        write_pattern(tmp_path, "tide", title="Ebb")
        until(watch, lambda state: books(state) != before)
    finally:
        watch.stop()
        thread.join(10)
    assert tries == [False, True]


def test_what_is_looked_at_comes_first(watch: Watch, tmp_path: Path) -> None:
    watch.board.looked_at = "tide"
    before = books(watch.board.state)
    done(watch.workshop)
    write(tmp_path / "templates/pages/cover.svg", "<front>\n")
    until(watch, lambda state: all(books(state)[file] != before[file] for file in before))
    log = (tmp_path / "log").read_text().splitlines()
    assert [line for line in log if line.startswith("print")][:2] == ["print tide", "print heron"]


def test_wrong_call_is_told_at_once(tmp_path: Path) -> None:
    workshop = make_workshop(tmp_path, *SLUGS)
    stages = StandIns(tmp_path / "log")
    watch = Watch(workshop, ("eel",), ("booklet",), ("a4",), Board(), Silent(), stages)
    with pytest.raises(UsageError, match="there is no such pattern"):
        watch.run()

"""`publisher release` as a person calls it."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.support.drivers import publisher
from tests.support.releases import SLUG, files_in, workshop_in, write_pattern

QUICK = ("--edition", "booklet", "--paper", "a4")


def test_release_and_release_again(tmp_path: Path) -> None:
    workshop = workshop_in(tmp_path)
    done = publisher(tmp_path, "release", SLUG, *QUICK)
    assert (done.returncode, done.stderr) == (0, "")
    first, *names = done.stdout.splitlines()
    assert first == f"{SLUG} 1.0: released in build/{SLUG}/releases/1.0"
    folder = workshop.out / SLUG / "releases/1.0"
    assert {name.strip() for name in names} == set(files_in(folder))
    again = publisher(tmp_path, "release", SLUG, *QUICK)
    assert (again.returncode, again.stderr) == (0, "")
    assert again.stdout == (
        f"{SLUG} 1.0: released already, in build/{SLUG}/releases/1.0; nothing has changed since\n"
    )

    write_pattern(workshop, NWWWWN="NWNNWN")
    refused = publisher(tmp_path, "release", SLUG, *QUICK)
    assert (refused.returncode, refused.stdout) == (1, "")
    (line,) = refused.stderr.splitlines()
    assert line.startswith(f"patterns/{SLUG}.toml:3: version 1.0 was released on ")

    write_pattern(workshop, version="1.1", NWWWWN="NWNNWN")
    before = files_in(workshop.out)
    rehearsed = publisher(tmp_path, "release", SLUG, *QUICK, "--dry-run")
    assert rehearsed.returncode == 0
    assert "would be released in" in rehearsed.stdout
    assert "errata to 1.0: row 2 of the panel" in rehearsed.stdout
    assert "What has changed since version 1.0\n===" in rehearsed.stdout
    assert "the date is still that of version 1.0" in rehearsed.stderr
    assert files_in(workshop.out) == before

    made = publisher(tmp_path, "release", f"patterns/{SLUG}.toml", *QUICK)
    assert made.returncode == 0
    assert "errata to 1.0: row 2 of the panel" in made.stdout
    assert f"{SLUG}-1.1-errata-a4.pdf" in made.stdout


@pytest.mark.parametrize(
    ("words", "told"),
    [
        (("release",), "Missing argument 'PATTERN'"),
        (("release", "heron"), "heron: there is no such pattern"),
        (("release", SLUG, "--edition", "mini"), "mini: there is no such edition; choose "),
        (("release", SLUG, "--paper", "a5"), "'a5' is not one of"),
        (("release", SLUG, "other"), "unexpected extra argument"),
    ],
)
def test_call_that_is_wrong(tmp_path: Path, words: tuple[str, ...], told: str) -> None:
    workshop_in(tmp_path)
    done = publisher(tmp_path, *words)
    assert done.returncode == 2
    assert told in done.stderr
    assert "Traceback" not in done.stderr
    assert not (tmp_path / "build").exists()


def test_python_says_the_same(tmp_path: Path) -> None:
    from publisher import release_pattern

    workshop = workshop_in(tmp_path)
    folders = {"patterns": workshop.patterns, "out": workshop.out, "templates": None}
    done = release_pattern(SLUG, **folders, editions=["booklet"], papers=["a4"])
    assert (done.state, done.version) == ("made", "1.0")
    assert set(done.files) == set(files_in(done.folder))
    again = release_pattern(SLUG, **folders, editions=["booklet"], papers=["a4"])
    assert again.state == "there"


def test_check_warns_of_a_released_version_that_was_changed(tmp_path: Path) -> None:
    """Or books under the old version would come out of the next build, and be handed out."""
    workshop = workshop_in(tmp_path)
    publisher(tmp_path, "release", SLUG, *QUICK)
    before = files_in(workshop.out)
    assert "is released" not in publisher(tmp_path, "check").stdout
    write_pattern(workshop, NWWWWN="NWNNWN")
    done = publisher(tmp_path, "check")
    assert done.returncode == 0
    warning = f"patterns/{SLUG}.toml:3: advice: version 1.0 is released, and buyers of it have "
    assert f"{warning}something else: row 2 of the panel" in done.stdout + done.stderr
    assert files_in(workshop.out) == before
    write_pattern(workshop, version="1.1", NWWWWN="NWNNWN")
    assert "is released" not in publisher(tmp_path, "check").stdout

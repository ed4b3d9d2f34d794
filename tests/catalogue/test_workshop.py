"""A writer's folders: her templates over the installed ones, her patterns by name or path."""

from __future__ import annotations

import os
from pathlib import Path

import pytest

from publisher.catalogue.build.digests import MISSING, digest_of_file
from publisher.catalogue.workshop import Workshop, read_own_knots, read_templates
from publisher.errors import TemplateError, UsageError
from tests.support.stand_ins import make_workshop, write, write_pattern


def test_own_template_goes_before_the_installed_one(tmp_path: Path) -> None:
    installed = read_templates(None)
    own = write(tmp_path / "look.toml", "mono = true\n")
    both = read_templates(tmp_path)
    assert both.text("look.toml") == "mono = true\n"
    assert both.file("look.toml").path == str(own)
    assert set(both.files) == set(installed.files)
    assert installed.text("look.toml") != both.text("look.toml")


def test_no_folder_of_ones_own_is_no_problem(tmp_path: Path) -> None:
    assert read_templates(tmp_path / "nowhere").files == read_templates(None).files


def test_new_template_is_found_by_its_name(tmp_path: Path) -> None:
    write(tmp_path / "editions/pocket.toml", "title = 'Pocket'\n")
    assert "pocket" in read_templates(tmp_path).names("editions")


def test_pictures_hidden_files_and_backups_are_no_templates(tmp_path: Path) -> None:
    for name in ("logo.png", ".hidden.toml", "look.toml~", ".git/config.toml"):
        (tmp_path / name).parent.mkdir(exist_ok=True)
        (tmp_path / name).write_bytes(b"\xff\xfe")
    assert read_templates(tmp_path).files == read_templates(None).files


def test_every_file_that_is_not_text_is_named_with_its_line(tmp_path: Path) -> None:
    (tmp_path / "look.toml").write_bytes(b"a = 1\nb = 2\nc = '\xe9'\n")
    (tmp_path / "page.svg").write_bytes(b"\xff\xfe<")
    with pytest.raises(TemplateError) as caught:
        read_templates(tmp_path)
    assert [str(problem.place) for problem in caught.value.problems] == [
        f"{tmp_path}/look.toml:3",
        f"{tmp_path}/page.svg:1",
    ]
    assert "with the encoding UTF-8" in str(caught.value)


def test_what_is_no_file_is_told_and_not_waited_for(tmp_path: Path) -> None:
    (tmp_path / "look.toml").mkdir()
    os.mkfifo(tmp_path / "page.svg")
    with pytest.raises(TemplateError) as caught:
        read_templates(tmp_path)
    assert [str(problem) for problem in caught.value.problems] == [
        f"{tmp_path}/{name}, not a file; put a file in its place, or name another"
        for name in ("look.toml: this is a folder", "page.svg: this is a pipe or a device")
    ]
    assert digest_of_file(tmp_path / "page.svg") == MISSING


def test_windows_line_ends_and_marks_do_not_matter(tmp_path: Path) -> None:
    (tmp_path / "look.toml").write_bytes(b"\xef\xbb\xbfa = 1\r\nb = 2\r\n")
    assert read_templates(tmp_path).text("look.toml") == "a = 1\nb = 2\n"


def test_patterns_are_found_by_name_and_by_path(tmp_path: Path) -> None:
    workshop = make_workshop(tmp_path, "heron", "tide")
    elsewhere = write_pattern(tmp_path / "elsewhere", "boat")
    names = ["tide", str(elsewhere), "tide", str(workshop.patterns / "tide.toml")]
    assert workshop.find(names) == (workshop.patterns / "tide.toml", elsewhere)


@pytest.mark.parametrize("name", ["hero", "nothing-like-it", "x" * 5000, "a/b", ""])
def test_unknown_pattern_is_told_with_those_there_are(tmp_path: Path, name: str) -> None:
    workshop = make_workshop(tmp_path, "heron", "tide")
    with pytest.raises(UsageError, match=r"there is no such pattern; did you mean .*heron"):
        workshop.find([name])


def test_all_unknown_patterns_are_told_at_once(tmp_path: Path) -> None:
    workshop = make_workshop(tmp_path, "heron")
    with pytest.raises(UsageError) as caught:
        workshop.find(["one", "heron", "two"])
    assert [problem.place.file for problem in caught.value.problems] == ["one", "two"]


def test_two_files_of_one_name_would_share_a_folder(tmp_path: Path) -> None:
    workshop = make_workshop(tmp_path, "heron")
    twin = write_pattern(tmp_path / "elsewhere", "heron")
    with pytest.raises(UsageError, match="the same name"):
        workshop.find(["heron", str(twin)])


def test_no_folder_and_no_pattern_are_told_apart(tmp_path: Path) -> None:
    with pytest.raises(UsageError, match="there is no such folder"):
        Workshop(patterns=tmp_path / "nowhere").find()
    with pytest.raises(UsageError, match="there are no patterns here"):
        Workshop(patterns=tmp_path).find()


def test_own_knots_lie_beside_the_patterns(tmp_path: Path) -> None:
    path = write(tmp_path / "knots/bow.toml", "over\n")
    write(tmp_path / "knots/notes.txt", "")
    assert read_own_knots(tmp_path) == {str(path): "over\n"}

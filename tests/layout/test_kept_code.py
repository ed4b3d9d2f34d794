"""The package's own templates are compiled once for all processes; a writer's by each process."""

from __future__ import annotations

import sys
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import jinja2
import pytest

from publisher.catalogue.workshop import read_templates
from publisher.errors import TemplateError
from publisher.layout import kept_code
from publisher.layout.templating import Compiled
from publisher.templates import TemplateFile, Templates

PAGE = "pages/text.svg"


@pytest.fixture
def folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """Where code is kept, in place of the package's own folder."""
    monkeypatch.setattr(kept_code, "_folder", lambda: tmp_path)
    monkeypatch.setattr(sys, "dont_write_bytecode", False)
    return tmp_path


@pytest.fixture
def compilings(monkeypatch: pytest.MonkeyPatch) -> Iterator[list[str]]:
    """The names of the templates that are compiled, as they are."""
    names: list[str] = []
    compile_ = jinja2.Environment.compile

    def noting(self: Any, source: Any, name: Any = None, *rest: Any) -> Any:
        names.append(name)
        return compile_(self, source, name, *rest)

    monkeypatch.setattr(jinja2.Environment, "compile", noting)
    yield names


def templates(text: str, as_installed: bool, path: str = "templates/pages/text.svg") -> Templates:
    return Templates({PAGE: TemplateFile(text, path, as_installed)})


def drawn(text: str, as_installed: bool = True) -> str:
    compiled = Compiled(templates(text, as_installed))
    return str(compiled.guard(compiled.template(PAGE).render))


def test_what_came_with_the_package_is_compiled_once(folder: Path, compilings: list[str]) -> None:
    assert [drawn("a{{ 1.50|n }}") for _ in range(3)] == ["a1.5"] * 3
    assert compilings == [PAGE]
    assert len(list(folder.iterdir())) == 1


def test_other_text_is_compiled_anew_in_the_place_of_the_old(
    folder: Path, compilings: list[str]
) -> None:
    assert [drawn(text) for text in ("a", "b", "a")] == ["a", "b", "a"]
    assert compilings == [PAGE] * 3
    assert len(list(folder.iterdir())) == 1


def test_code_made_under_other_settings_is_not_used(
    folder: Path, compilings: list[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    drawn("a")
    monkeypatch.setattr(jinja2, "__version__", "0.0")
    drawn("a")
    assert compilings == [PAGE] * 2


def test_no_code_is_kept_or_taken_for_what_a_writer_changed(
    folder: Path, compilings: list[str]
) -> None:
    assert drawn("own", as_installed=False) == "own"
    assert not list(folder.iterdir())
    drawn("own")
    assert drawn("own", as_installed=False) == "own"
    assert compilings == [PAGE] * 3


@pytest.mark.parametrize("damage", [b"", b"j2", b"cut off", None])
def test_damaged_code_is_made_anew(folder: Path, damage: bytes | None) -> None:
    drawn("a")
    (kept,) = folder.iterdir()
    whole = kept.read_bytes()
    kept.write_bytes(whole[: len(whole) // 2] if damage is None else damage)
    assert drawn("a") == "a"
    assert kept.read_bytes() == whole


def test_a_package_that_can_only_be_read_works_too(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(kept_code, "_folder", lambda: tmp_path / "nowhere")
    assert drawn("a") == "a"


def test_nothing_is_kept_where_python_keeps_nothing(
    folder: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(sys, "dont_write_bytecode", True)
    assert drawn("a") == "a"
    assert not list(folder.iterdir())


def test_a_mistake_is_told_where_the_template_was_read(folder: Path) -> None:
    """Also where the code was kept by a run that read the same text elsewhere."""
    text = "first\n{{ nothing.there }}\n"
    for path in ("/package/pages/text.svg", "templates/pages/text.svg"):
        compiled = Compiled(templates(text, True, path))
        with pytest.raises(TemplateError) as caught:
            compiled.guard(compiled.template(PAGE).render)
        assert str(caught.value.problems[0].place) == f"{path}:2"


def test_only_what_is_as_installed_counts_as_such(tmp_path: Path) -> None:
    installed = read_templates(None)
    assert all(file.as_installed for file in installed.files.values())
    (tmp_path / "pages").mkdir()
    (tmp_path / PAGE).write_text(installed.text(PAGE), "utf-8")
    (tmp_path / "pages/cover.svg").write_text("<svg/>", "utf-8")
    (tmp_path / "pages/own.svg").write_text("<svg/>", "utf-8")
    found = read_templates(tmp_path).files
    assert found[PAGE].as_installed
    assert found[PAGE].path == str(tmp_path / PAGE)
    assert not found["pages/cover.svg"].as_installed
    assert not found["pages/own.svg"].as_installed

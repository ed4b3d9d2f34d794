"""The package's own templates come compiled with it; a writer's are compiled by each process."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path
from typing import Any

import jinja2
import pytest

from publisher.catalogue import packaging
from publisher.catalogue.workshop import read_templates
from publisher.errors import TemplateError
from publisher.layout import installed_code
from publisher.layout.sandbox import SETTINGS
from publisher.layout.templating import Compiled
from publisher.templates import TemplateFile, Templates

PAGE = "pages/text.svg"


@pytest.fixture
def pack(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Iterator[Path]:
    """Where code comes with the package, in place of its own folder."""
    monkeypatch.setattr(installed_code, "CODE_FILE", tmp_path / "templates.pack")
    installed_code.installed_code.cache_clear()
    yield tmp_path / "templates.pack"
    installed_code.installed_code.cache_clear()


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


def packed(text: str) -> None:
    """Have a template's code packed, as it is while a wheel is built."""
    compiled = Compiled(templates(text, True))
    compiled.template(PAGE)
    installed_code.pack_code(compiled.code.compiled, SETTINGS)
    installed_code.installed_code.cache_clear()


def test_what_came_with_the_package_is_not_compiled(pack: Path, compilings: list[str]) -> None:
    packed("a{{ 1.50|n }}")
    compilings.clear()
    assert [drawn("a{{ 1.50|n }}") for _ in range(3)] == ["a1.5"] * 3
    assert compilings == []


def test_all_templates_of_the_package_come_compiled(pack: Path, compilings: list[str]) -> None:
    packaging.compile_templates()
    installed_code.installed_code.cache_clear()
    compilings.clear()
    compiled = Compiled(read_templates(None))
    for name in compiled.files:
        if name.startswith(("blocks/", "pages/")):
            compiled.template(name)
    assert compilings == [] and len(compiled.files) > 20


def test_other_text_is_compiled(pack: Path, compilings: list[str]) -> None:
    packed("a")
    assert [drawn(text) for text in ("b", "a")] == ["b", "a"]
    assert compilings == [PAGE] * 2


def test_code_made_under_other_settings_is_not_used(
    pack: Path, compilings: list[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    packed("a")
    monkeypatch.setattr(jinja2, "__version__", "0.0")
    assert drawn("a") == "a"
    assert compilings == [PAGE] * 2


def test_no_code_is_taken_or_packed_for_what_a_writer_changed(
    pack: Path, compilings: list[str]
) -> None:
    packed("own")
    assert drawn("own", as_installed=False) == "own"
    assert compilings == [PAGE] * 2
    compiled = Compiled(templates("own", as_installed=False))
    compiled.template(PAGE)
    assert compiled.code.compiled == {}


@pytest.mark.parametrize("damage", [b"", b"j2", b"cut off", None])
def test_damaged_code_is_made_anew(pack: Path, damage: bytes | None) -> None:
    packed("a")
    whole = pack.read_bytes()
    pack.write_bytes(whole[: len(whole) // 2] if damage is None else damage)
    assert drawn("a") == "a"


def test_nothing_is_written_where_the_program_is_installed(pack: Path) -> None:
    assert drawn("a") == "a"
    assert not list(pack.parent.iterdir())


def test_a_mistake_is_told_where_the_template_was_read(pack: Path) -> None:
    """Also where the code was made of the same text elsewhere."""
    text = "first\n{{ nothing.there }}\n"
    packed(text)
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

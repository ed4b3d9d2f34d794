"""Read a writer's folders: her templates over the installed ones, her knots, her patterns."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from contextlib import suppress
from pathlib import Path

from publisher.catalogue.calls import TEMPLATES, check_templates
from publisher.errors import (
    Place,
    Problem,
    PublisherError,
    TemplateError,
    UsageError,
)
from publisher.frozen import frozen
from publisher.tables.text_files import read_text
from publisher.tables.words import near_ones
from publisher.templates import TemplateFile, Templates, installed_folder

_TEXTS = frozenset((".toml", ".svg", ".txt", ".md", ".html", ".css", ".js"))


@frozen
class Workshop:
    """The folders of a writer: her patterns, her templates, and where her books are put."""

    patterns: Path = Path("patterns")
    templates: Path | None = TEMPLATES
    out: Path = Path("build")

    def find(self, names: Sequence[str] = ()) -> tuple[Path, ...]:
        """The pattern files of these slugs or paths; of none: all. UsageError names what is not."""
        found = [self._one(name) for name in names] if names else self._all()
        problems = [item for item in found if isinstance(item, Problem)]
        if problems:
            raise UsageError(*problems)
        paths = tuple(dict.fromkeys(item for item in found if isinstance(item, Path)))
        _refuse_twins(paths)
        return paths

    def _all(self) -> list[Path | Problem]:
        from publisher.source import list_patterns

        if not self.patterns.is_dir():
            return [Problem(Place(str(self.patterns)), "there is no such folder", _WHERE)]
        found: list[Path | Problem] = list(list_patterns(self.patterns))
        return found or [Problem(Place(str(self.patterns)), "there are no patterns here", _NEW)]

    def _one(self, name: str) -> Path | Problem:
        as_path, as_slug = Path(name), self.patterns / f"{name}.toml"
        for path in (as_slug, as_path):
            if _is_file(path):
                return _as_listed(path)
        return Problem(Place(name), "there is no such pattern", self._nearest(name))

    def _nearest(self, name: str) -> str:
        slugs = [path.stem for path in self.patterns.glob("*.toml") if path.stem != "house"]
        near = near_ones(Path(name).stem, slugs) or sorted(slugs)[:5]
        return f"did you mean {' or '.join(near)}?" if near else _NEW


def workshop_in(patterns: str | Path, templates: str | Path | None, out: str | Path) -> Workshop:
    """The workshop in these folders. UsageError where that of the templates is not there, unless
    it is called as it always is."""
    if templates and Path(templates) != TEMPLATES:
        check_templates(Path(templates))
    return Workshop(Path(patterns), Path(templates) if templates else None, Path(out))


_WHERE = "say with --patterns where the patterns are"
_NEW = "`publisher new SLUG` starts one"


def _is_file(path: Path) -> bool:
    try:
        return path.is_file()
    except OSError:  # a name longer than any file's
        return False


def _as_listed(path: Path) -> Path:
    """A file under the name that its folder lists it by: a pattern's name is that of its books, and
    Windows and macOS find a file in large or small letters alike."""
    with suppress(OSError):
        listed = list(path.parent.iterdir())
        if path.name not in {other.name for other in listed}:
            return next((other for other in listed if other.samefile(path)), path)
    return path


def _refuse_twins(paths: Sequence[Path]) -> None:
    """Two files of one name would be put in one folder."""
    seen: dict[str, Path] = {}
    for path in paths:
        twin = seen.setdefault(path.stem, path)
        if twin is not path:
            message = f"this pattern has the same name as {twin}"
            raise UsageError(Problem(Place(str(path)), message, "rename one, or build one a call"))


def read_templates(folder: Path | None) -> Templates:
    """Read all template texts by name: those of `folder` over the installed ones.

    A folder that is not there has none. TemplateError names each file that is not UTF-8 text.
    """
    files: dict[str, TemplateFile] = {}
    problems: list[Problem] = []
    installed = installed_folder()
    for root in (installed, folder):
        for name, path in _texts(root) if root else ():
            try:
                text = read_text(path)
            except PublisherError as error:
                problems += error.problems
                continue
            before = files[name].text if name in files else ""
            ours = root is installed or before == text
            files[name] = TemplateFile(text, str(path), ours, "" if ours else before)
    if problems:
        raise TemplateError(*problems)
    return Templates(files)


def read_own_knots(patterns: Path) -> dict[str, str]:
    """The writer's own knot files (`knots/NAME.toml` beside her patterns), text by path."""
    return {str(path): read_text(path) for path in sorted(patterns.glob("knots/*.toml"))}


def _texts(root: Path) -> Iterator[tuple[str, Path]]:
    """Every text file under a folder, by its name there. Hidden files and backups are none."""
    for path in sorted(root.rglob("*")):
        name = path.relative_to(root)
        if path.suffix in _TEXTS and not any(part.startswith(".") for part in name.parts):
            yield name.as_posix(), path

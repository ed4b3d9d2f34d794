"""Quick verbs in the place of the rooms', so that the catalogue can be tested on its own.

They read, use and fail as the real ones do. A pattern is a TOML file with `title`, `version`,
`knots`, perhaps `picture` (a file's name), and perhaps a trouble: `read`, `plan` or `print` =
"broken" (a problem), "failing" (a mistake of the program), "dead" (the process is killed) or
"slow".
"""

from __future__ import annotations

import os
import signal
import time
import tomllib
from collections.abc import Callable, Mapping, Sequence
from datetime import UTC, datetime
from pathlib import Path
from typing import Any

from publisher.catalogue.build.build import begin
from publisher.catalogue.build.pipeline import Pipeline
from publisher.catalogue.build.run import BuildRun
from publisher.catalogue.workshop import Workshop
from publisher.errors import Place, Problem, SourceError, TemplateError
from publisher.frozen import frozen
from publisher.manuscript.index import IndexEntry
from publisher.model.book import Book, Page
from publisher.model.figure import Figure
from publisher.model.pattern import Pattern
from publisher.model.plan import Plan
from publisher.store import NO_STORE, Store
from publisher.templates import TemplateFile, Templates


@frozen(slots=False)
class StandIns(Pipeline):
    """The stand-ins; each call adds a line to `log`."""

    log: Path

    def read_pattern(self, path: Path) -> Pattern:
        table = tomllib.loads(path.read_text())
        self._note("read", path.stem)
        _suffer(table.get("read"), str(path))
        house = path.parent / "house.toml"
        files = [path, *([house] if house.exists() else [])]
        seen = [house.read_text() if house.exists() else ""]
        if "picture" in table:
            files.append(path.parent / table["picture"])
            seen.append(files[-1].read_bytes().hex())
        return Pattern(
            slug=path.stem,
            title=table["title"],
            version=table.get("version", "1.0"),
            subtitle=repr({**table, "pages": 0}),
            designer=seen[0],
            contact="",
            date=None,
            level="",
            about=tuple(seen[1:]),
            terms="",
            currency=None,
            units="metric-first",
            colours=(),
            pieces=(),
            path=str(path),
            files=tuple(map(str, files)),
        )

    def find_unprintable(self, pattern: Pattern) -> tuple[Problem, ...]:
        return ()

    def refuse_unknown_terms(self, pattern: Pattern, templates: Templates) -> None:
        """Theirs have none."""

    def load_knots(self, own: Mapping[str, str], words: TemplateFile) -> Any:
        return {Path(path).stem: text for path, text in own.items()}

    def edition_form(self, templates: Templates, edition: str) -> str:
        return "pages"

    def edition_hand(self, templates: Templates, edition: str) -> Any:
        return templates.table(f"editions/{edition}.toml").get("hand", "right")

    def counts_students(self, templates: Templates, edition: str) -> bool:
        return edition == "handout"

    def make_plan(self, pattern: Pattern) -> Plan:
        self._note("plan", pattern.slug)
        table = _table(pattern)
        _suffer(table.get("plan"), pattern.path)
        return Plan(
            slug=pattern.slug,
            title=pattern.title,
            version=pattern.version,
            colours=(),
            pieces=(),
            cutting_list=(),
            shopping=(),
            finished_mass_g=0.0,
            masses_g={},
            cautions=(),
            knot_names=tuple(table.get("knots", ())),
            advice=(),
        )

    def plan_as_json(self, plan: Plan) -> dict[str, Any]:
        return {"slug": plan.slug, "title": plan.title, "knot_names": plan.knot_names}

    def cutting_list_csv(self, plan: Plan) -> str:
        return f"piece,count\n{plan.slug},1\n"

    def write_manuscript(
        self,
        pattern: Pattern,
        plan: Plan,
        knots: Any,
        templates: Templates,
        edition: str,
        paper: str,
        date: datetime,
        options: Mapping[str, Any],
        store: Store,
    ) -> Any:
        self._note("write", pattern.slug)
        words = templates.table("words/en.toml")["title"]
        sections = templates.table(f"editions/{edition}.toml")["sections"]
        drawn = [knots.get(name, "installed") for name in plan.knot_names]
        text = [words, pattern.title, pattern.designer, pattern.subtitle, *pattern.about, *drawn]
        text += [f"{key}: {value}" for key, value in options.items()]
        return (text, sections, _table(pattern), pattern.path, paper, date)

    def lay_out(self, manuscript: Any, templates: Templates, store: Store = NO_STORE) -> Book:
        text, sections, table, path, paper, date = manuscript
        pages = []
        for section in sections:
            frame = templates.text(f"pages/{section}.svg")
            if "{{ wrong" in frame:
                place = Place(templates.file(f"pages/{section}.svg").path, 1)
                raise TemplateError(Problem(place, "wrong is not defined", "mend the line"))
            lines = [line for line in frame.splitlines() if not line.startswith("#")]
            pages.append(Page("\n".join([*lines, *text, paper]), 210.0, 297.0, section))
        marks = (repr(table.get("print")), path)
        title = text[1] if len(text) > 1 else ""
        return Book(tuple(pages), (), title, "", "", marks, "en", date)

    def lay_out_picture(
        self, plan: Plan, knots: Any, templates: Templates, store: Store = NO_STORE
    ) -> Book:
        look = templates.text("look.toml")
        page = Page(f"{look} {plan.title}", 100.0, 100.0, "1")
        return Book((page,), (), plan.title, "", "", (), "en", datetime(1980, 1, 1, tzinfo=UTC))

    def write_entry(
        self, pattern: Pattern, plan: Plan, knots: Any, templates: Templates, store: Store
    ) -> IndexEntry:
        return IndexEntry(
            slug=pattern.slug,
            title=pattern.title,
            subtitle="",
            level="",
            version=pattern.version,
            designer="",
            contact="",
            units="metric-first",
            date="",
            columns=0,
            rows=0,
            width_mm=0.0,
            height_mm=0.0,
            colours=(),
            picture=Figure(templates.text("look.toml"), 0.0, 0.0),
        )

    def write_index(
        self,
        entries: Sequence[IndexEntry],
        books: Mapping[str, Sequence[tuple[str, str]]],
        templates: Templates,
        paper: str,
        date: datetime,
    ) -> Any:
        self._note("write", "the index")
        text = [templates.table("words/en.toml")["title"]]
        text += [f"{entry.title} {entry.version} {books[entry.slug]}" for entry in entries]
        text += [entry.picture.svg for entry in entries]
        return (text, ["cover"], {}, "", paper, date)

    def index_words(self, templates: Templates) -> Mapping[str, str]:
        return {"file": "{edition} {paper}"}

    def lay_out_index(self, manuscript: Any, templates: Templates) -> str:
        return f"<html>{manuscript[0]}"

    def print_book(self, book: Book, store: Store = NO_STORE) -> bytes:
        self._note("print", book.title)
        if book.keywords:
            _suffer(book.keywords[0].strip("'"), book.keywords[1])
        return b"%PDF " + repr(book.pages).encode() * 40 + b" %%EOF"

    def picture_of(self, book: Book, dpi: float) -> Callable[[], bytes]:
        return lambda: b"PNG " + repr(book.pages).encode()

    def page_picture(self, pdf: bytes, number: int, dpi: float) -> bytes:
        if not 1 <= number <= 2:
            raise IndexError(number)
        return b"PNG " + pdf[:200]

    def page_sizes(self, pdf: bytes) -> list[tuple[float, float]]:
        return [(595.3, 841.9)] * 2

    def warm(self) -> None:
        pass

    def _note(self, verb: str, what: str) -> None:
        with self.log.open("a") as file:
            file.write(f"{verb} {what}\n")


def _table(pattern: Pattern) -> dict[str, Any]:
    table: dict[str, Any] = eval(pattern.subtitle, {"__builtins__": {}})
    return table


def _suffer(trouble: str | None, file: str) -> None:
    if trouble == "broken":
        raise SourceError(Problem(Place(file, 3), "the chart is torn", "mend it"))
    if trouble == "failing":
        raise RuntimeError("the ink ran out")
    if trouble == "dead":
        os.kill(os.getpid(), signal.SIGKILL)
    if trouble == "slow":
        time.sleep(0.4)


TEMPLATES = {
    "look.toml": "ink = 'black'\n",
    "words/en.toml": "title = 'A pattern'\n",
    "editions/booklet.toml": "title = 'Booklet'\nsections = ['cover', 'chart']\n",
    "editions/handout.toml": "title = 'Handout'\nsections = ['chart', 'note']\n",
    "pages/cover.svg": "# the front\n<cover>\n",
    "pages/chart.svg": "<chart>\n",
    "pages/note.svg": "<note>\n",
}


def make_workshop(folder: Path, *slugs: str) -> Workshop:
    """A workshop with small patterns and templates in a folder."""
    for name, text in TEMPLATES.items():
        write(folder / "templates" / name, text)
    for slug in slugs:
        write_pattern(folder, slug)
    return Workshop(folder / "patterns", folder / "templates", folder / "build")


def write_pattern(folder: Path, slug: str, **table: object) -> Path:
    """A pattern's file; its title is its slug if the table has none."""
    path = folder / "patterns" / f"{slug}.toml"
    lines = {"title": slug, **table}
    write(path, "".join(f"{key} = {_toml(value)}\n" for key, value in lines.items()))
    return path


def _toml(value: object) -> str:
    return repr(list(value) if isinstance(value, tuple) else value)


def write(path: Path, text: str) -> Path:
    path.parent.mkdir(parents=True, exist_ok=True)
    path.write_text(text)
    return path


def begin_with_stand_ins(
    workshop: Workshop, *editions: str, papers: tuple[str, ...] = ()
) -> BuildRun:
    log = workshop.out.parent / "log"
    return begin(workshop, editions or ("booklet",), papers or ("a4",), StandIns(log))


def everything(workshop: Workshop) -> tuple[Path, ...]:
    """All pattern files of a workshop."""
    slugs = sorted({path.stem for path in workshop.patterns.glob("*.toml")} - {"house"})
    return workshop.find(slugs)


def done(workshop: Workshop) -> list[str]:
    """What the stages were asked to do since the last time, sorted."""
    log = workshop.out.parent / "log"
    lines = sorted(log.read_text().splitlines()) if log.exists() else []
    log.unlink(missing_ok=True)
    return lines


def files_made(workshop: Workshop) -> dict[str, bytes]:
    """Every file that a writer sees in the output folder."""
    return {
        path.relative_to(workshop.out).as_posix(): path.read_bytes()
        for path in sorted(workshop.out.rglob("*"))
        if path.is_file() and ".cache" not in path.parts
    }

"""The catalogue with the real stages: the same bytes whoever makes them, and what they rest on."""

from __future__ import annotations

import hashlib
import io
import re
import shutil
import subprocess
import sys
from dataclasses import replace
from pathlib import Path

import pytest
from pypdf import PdfReader

import publisher
from publisher import build_catalogue, make_plan, publish, read_pattern
from publisher.catalogue.build.digests import drawing_digest
from publisher.catalogue.build.records import BuildRecord
from publisher.catalogue.workshop import read_templates
from publisher.manuscript.words import read_words
from publisher.store.packs import from_bytes, to_bytes, unpack
from tests.support.own_knots import write_pattern
from tests.support.shop import ROOT

SLUGS = ("lantern-window", "tide-lines")
EDITIONS = ("booklet", "left-handed")


@pytest.fixture(scope="module")
def folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Two demo patterns, built by two workers, and again by one into another folder."""
    folder = tmp_path_factory.mktemp("real")
    for name in ("house.toml", "lantern-window.png", *(f"{slug}.toml" for slug in SLUGS)):
        (folder / "patterns").mkdir(exist_ok=True)
        shutil.copy(ROOT / "patterns" / name, folder / "patterns")
    shutil.copytree(ROOT / "templates", folder / "templates")
    for out, jobs in (("build", 2), ("alone", 1)):
        assert not build(folder, out, jobs=jobs).failed
    return folder


def build(
    folder: Path, out: str = "build", jobs: int = 1
) -> publisher.catalogue.build.values.Summary:
    return build_catalogue(
        folder / "patterns",
        out=folder / out,
        templates=folder / "templates",
        editions=EDITIONS,
        jobs=jobs,
    )


def made(folder: Path, out: str = "build") -> dict[str, str]:
    return {
        path.relative_to(folder / out).as_posix(): hashlib.sha256(path.read_bytes()).hexdigest()
        for path in sorted((folder / out).rglob("*.*"))
        if ".cache" not in path.parts
    }


def test_one_or_many_workers_make_the_same_bytes(folder: Path) -> None:
    assert made(folder) == made(folder, "alone")
    assert len(made(folder)) == 2 * 6 + 2  # six files a pattern, and the index


def test_index_shows_every_pattern(folder: Path) -> None:
    """Its page leads to what is there, and its PDF names and pictures each pattern."""
    page = (folder / "build/index.html").read_text()
    addresses = re.findall(r'(?:href|src)="([^"]*)"', page)
    assert len(addresses) == 2 * (1 + len(EDITIONS))
    assert all((folder / "build" / address).is_file() for address in addresses)
    pdf = PdfReader(folder / "build/index.pdf")
    text = " ".join(pdf.pages[0].extract_text().split())
    for told in ("Lantern Window", "Tide Lines", "First panel", "5 colours", "Version 1.0"):
        assert told in text and told in page, told
    flat = [line for part in pdf.outline for line in (part if isinstance(part, list) else [part])]
    assert [line["/Title"] for line in flat] == ["Patterns", "Lantern Window", "Tide Lines"]


def test_three_calls_make_the_same_bytes_in_another_process(folder: Path) -> None:
    """The README's example, in a Python with another seed for its hashes."""
    script = f"""
from pathlib import Path
from publisher import make_plan, publish, read_pattern
pattern = read_pattern({str(folder / "patterns/tide-lines.toml")!r})
plan = make_plan(pattern)
for edition in {EDITIONS!r}:
    book = publish(pattern, plan, edition=edition, templates={str(folder / "templates")!r})
    Path({str(folder)!r}, edition).write_bytes(book)
"""
    environment = {"PYTHONHASHSEED": "7", "PYTHONPATH": str(ROOT)}
    subprocess.run([sys.executable, "-c", script], check=True, env=environment)
    for edition in EDITIONS:
        built = folder / f"build/tide-lines/tide-lines-1.0-{edition}-a4.pdf"
        assert (folder / edition).read_bytes() == built.read_bytes()


@pytest.mark.parametrize("slug", SLUGS)
def test_kept_plan_is_the_plan(folder: Path, slug: str) -> None:
    plan = make_plan(read_pattern(folder / f"patterns/{slug}.toml"))
    assert from_bytes(to_bytes(plan)) == plan
    for hand in ("right", "left"):
        packed = (folder / f"build/.cache/store/{slug}/plan-{hand}").read_bytes()
        (kept,) = unpack(packed, drawing_digest()).values()
        assert from_bytes(kept).slug == slug and (hand == "left" or from_bytes(kept) == plan)


def inputs(folder: Path, slug: str, target: str, out: str = "alone") -> dict[str, str]:
    record = BuildRecord.read(folder / out / ".cache/made" / slug / f"{target}.json")
    assert record
    return dict(record.inputs)


@pytest.mark.parametrize("edition", EDITIONS)
def test_what_a_book_rests_on_is_known_whoever_was_made_before_it(
    folder: Path, edition: str
) -> None:
    """Templates are compiled once a process; each book must still be told to have used them."""
    first, second = (set(inputs(folder, slug, f"{edition}-a4")) for slug in SLUGS)
    templates = {name for name in first if name.startswith("template/")}
    assert templates == {name for name in second if name.startswith("template/")}
    assert {
        "template/words/en.toml",
        "template/look.toml",
        f"template/editions/{edition}.toml",
        "template/terms/personal-use.txt",
        "template/pages/frame.svg",
        "template/blocks/text.svg",
    } <= templates
    assert {"source/lantern-window.png", "source/house.toml", "program", "fonts"} <= first
    assert {"knot/larks-head", "knot/vertical-double-half-hitch"} <= first


def changed(folder: Path, before: dict[str, str]) -> set[str]:
    assert not build(folder).failed
    after = made(folder)
    return {name for name in after if after[name] != before.get(name)}


def append(path: Path, text: str) -> None:
    path.write_text(path.read_text() + text)


def test_exactly_what_changed_is_made_anew(folder: Path) -> None:
    """Change upon change; after each, the books are those of a clean build."""
    templates, patterns = folder / "templates", folder / "patterns"
    before = made(folder)
    append(templates / "words/en.toml", "\n# a remark\n")
    append(templates / "look.toml", "\n# a remark\n")
    assert changed(folder, before) == set()

    word = templates / "editions/left-handed.toml"
    word.write_text(word.read_text().replace("title = ", "title = 'For the other hand' # ", 1))
    left_handed = {f"{slug}/{slug}-1.0-left-handed-a4.pdf" for slug in SLUGS}
    assert changed(folder, before) == left_handed | {"index.html"}  # which says their name
    before = made(folder)
    append(templates / "terms/personal-use.txt", "\nAsk us about classes.\n")
    assert changed(folder, before) == {
        f"{slug}/{slug}-1.0-{edition}-a4.pdf" for slug in SLUGS for edition in EDITIONS
    }
    before = made(folder)
    source = patterns / "tide-lines.toml"
    source.write_text(source.read_text().replace('title = "', 'title = "Low ', 1))
    assert {name.split("/")[0] for name in changed(folder, before)} == {
        "tide-lines",
        "index.html",
        "index.pdf",
    }
    incremental = made(folder)
    assert not build(folder, "clean").failed
    assert made(folder, "clean") == incremental


def test_date_is_fixed(folder: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    pattern = read_pattern(folder / "patterns/tide-lines.toml")
    dated = publish(pattern)
    assert b"20260307" in dated or b"2026-03-07" in dated
    assert publish(replace(pattern, date=None)) == publish(replace(pattern, date=None))
    monkeypatch.setenv("SOURCE_DATE_EPOCH", "1700000000")
    assert publish(pattern) != dated
    assert publish(pattern) == publish(pattern)


def test_font_that_is_gone_is_named(folder: Path) -> None:
    """In a process that has not looked for its fonts yet."""
    script = """
import sys
sys.modules["font_source_serif_pro"] = None  # as if it were not installed
sys.argv = ["publisher", "build", "tide-lines", "--out", "fontless"]
from publisher.cli import main
main()
"""
    done = subprocess.run(
        [sys.executable, "-c", script],
        cwd=folder,
        env={"PYTHONPATH": str(ROOT)},
        capture_output=True,
        text=True,
    )
    assert done.returncode == 1
    assert "Traceback" not in done.stderr
    assert "font-source-serif-pro" in done.stderr
    assert "pip install" in done.stderr


def test_every_piece_of_advice_has_words() -> None:
    source = "".join(path.read_text() for path in (ROOT / "publisher/plan").glob("*.py"))
    codes = set(re.findall(r'Advice\(\s*"([a-z-]+)"', source))
    codes |= {"alike", "alike-protan", "alike-deutan", "alike-tritan", "alike-grey"}
    words = read_words(read_templates(None))
    assert codes
    assert not [code for code in sorted(codes) if not words.has(f"advice.{code}")]


def test_names_are_imported_when_they_are_asked_for() -> None:
    """Who only reads the version waits for nothing."""
    script = "import publisher, sys; print(*(n for n in sys.modules if n.startswith('publisher.')))"
    told = subprocess.run(
        [sys.executable, "-c", script],
        env={"PYTHONPATH": str(ROOT)},
        capture_output=True,
        text=True,
    )
    assert told.stdout == "publisher.lazy_exports\n"
    assert set(publisher.__all__) <= set(dir(publisher))
    with pytest.raises(AttributeError):
        publisher.nothing  # noqa: B018


@pytest.mark.parametrize("edition", ["booklet", "handout", "large-print", "left-handed"])
@pytest.mark.parametrize(
    ("count", "step"), [(1, '{ glue = "a shell" },'), (3, "{ cross = [1, 2] },")]
)
def test_a_part_in_which_nothing_is_knotted_has_its_book(
    tmp_path: Path, edition: str, count: int, step: str
) -> None:
    """And no glossary, nor a line that leads to one."""
    path = write_pattern(tmp_path, step, f'[{{ colour = "B", lay = "single", count = {count} }}]')
    reader = PdfReader(io.BytesIO(publish(read_pattern(path), edition=edition, templates=None)))
    titles = [entry.title for entry in reader.outline if not isinstance(entry, list)]
    assert titles and "The knots" not in titles

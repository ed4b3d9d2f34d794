"""The left-handed edition has a cutting list of its own, in the build and in releases."""

from __future__ import annotations

import csv
import io
import zipfile
from collections import Counter
from pathlib import Path

import pytest

from publisher import build_catalogue, read_pattern
from publisher.catalogue.build.build import begin
from publisher.catalogue.workshop import Workshop
from tests.support.printed_lists import cutting_rows, page_texts
from tests.support.releases import SLUG, release_it, workshop_in, write_pattern
from tests.support.shop import ROOT

RIGHT, LEFT = "cutting-list.csv", "cutting-list-left.csv"
LOPSIDED = "NNNNNN\nNWWWWN\nWWNNNN\nNNNWNN"


@pytest.fixture
def workshop(tmp_path: Path) -> Workshop:
    workshop = workshop_in(tmp_path)
    write_pattern(workshop, **{"NNNNNN\nNWWWWN\nNNNNNN": LOPSIDED})
    return workshop


def build(workshop: Workshop, *editions: str, papers: tuple[str, ...] = ("a4",)) -> set[str]:
    """The names of the files in the pattern's folder, when these editions are built."""
    summary = build_catalogue(
        workshop.patterns, out=workshop.out, editions=editions, papers=papers, templates=None
    )
    assert summary.all_well
    return {path.name for path in (workshop.out / SLUG).iterdir() if path.is_file()}


def lengths(text: str) -> Counter[tuple[str, str, float]]:
    """How often a length in cm is cut, by colour and purpose."""
    found: Counter[tuple[str, str, float]] = Counter()
    for row in csv.DictReader(io.StringIO(text.removeprefix("\ufeff"))):
        found[row["colour"], row["for"], int(row["length_mm"]) / 10] += int(row["count"])
    return found


def test_it_is_made_with_an_edition_for_that_hand_and_no_other(workshop: Workshop) -> None:
    assert LEFT not in build(workshop, "booklet", "large-print")
    assert {RIGHT, LEFT} <= build(workshop, "left-handed")


def test_it_has_the_lengths_that_the_left_handed_pages_tell(tmp_path: Path) -> None:
    """Boats at the Weir: many of its lengths differ from hand to hand."""
    slug = "boats-at-the-weir"
    build_catalogue(
        ROOT / "patterns", out=tmp_path, only=[slug], editions=["left-handed"], templates=None
    )
    folder = tmp_path / slug
    pattern = read_pattern(ROOT / "patterns" / f"{slug}.toml")
    rows, _ = cutting_rows(
        page_texts((folder / f"{slug}-1.0-left-handed-a4.pdf").read_bytes()), pattern
    )
    printed: Counter[tuple[str, float]] = Counter()
    for row in rows:
        for count, length in row.lengths["cm"]:
            printed[row.letter, float(length)] += count
    left = lengths((folder / LEFT).read_text("utf-8-sig"))
    right = lengths((folder / RIGHT).read_text("utf-8-sig"))
    listed: Counter[tuple[str, float]] = Counter()
    for (letter, _, length), count in left.items():
        listed[letter, length] += count
    assert listed == printed
    assert (left - right).total() > 20, "what the right hand's list lacks"


def test_another_paper_changes_nothing_and_pruning_knows_it(workshop: Workshop) -> None:
    build(workshop, "left-handed", papers=("a4", "letter"))
    before = (workshop.out / SLUG / LEFT).read_bytes()
    run = begin(workshop)
    assert not run.leftovers(prune=True).files
    assert (workshop.out / SLUG / LEFT).read_bytes() == before
    (workshop.patterns / f"{SLUG}.toml").unlink()
    assert LEFT in {file.path.name for file in run.leftovers(prune=True).files}
    assert not (workshop.out / SLUG).exists()


def test_one_that_is_gone_is_made_again(workshop: Workshop) -> None:
    build(workshop, "left-handed")
    before = (workshop.out / SLUG / LEFT).read_bytes()
    (workshop.out / SLUG / LEFT).unlink()
    build(workshop, "left-handed")
    assert (workshop.out / SLUG / LEFT).read_bytes() == before


def test_the_index_lists_books_and_no_cutting_list(workshop: Workshop) -> None:
    build(workshop, "left-handed")
    page = (workshop.out / "index.html").read_text("utf-8")
    assert f"{SLUG}-1.0-left-handed-a4.pdf" in page
    assert "csv" not in page


@pytest.mark.parametrize(
    ("editions", "lists"),
    [
        (("booklet",), {RIGHT}),
        (("left-handed",), {LEFT}),
        (("booklet", "left-handed"), {RIGHT, LEFT}),
    ],
)
def test_a_release_has_the_lists_of_its_editions(
    workshop: Workshop, editions: tuple[str, ...], lists: set[str]
) -> None:
    planned = release_it(workshop, editions, ("a4", "letter"), dry=True)
    done = release_it(workshop, editions, ("a4", "letter"))
    for names in (planned.files, done.files):
        assert {name for name in names if name.endswith(".csv")} == lists
    manifest = (done.folder / "MANIFEST").read_text("utf-8")
    with zipfile.ZipFile(done.folder / f"{SLUG}-1.0.zip") as bundle:
        bundled = {Path(name).name for name in bundle.namelist()}
    for name in (RIGHT, LEFT):
        assert (f"  {name}\n" in manifest) == (name in bundled) == (name in lists)
        if name in lists:
            made = (workshop.out / SLUG / name).read_bytes()
            assert (done.folder / name).read_bytes() == made

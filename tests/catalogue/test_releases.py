"""A release never changes: what is in it, what is refused, what earlier ones are looked at for."""

from __future__ import annotations

import csv
import io
import json
import shutil
import subprocess
import zipfile
from collections.abc import Callable
from dataclasses import replace
from datetime import UTC, date, datetime
from hashlib import sha256
from itertools import pairwise
from pathlib import Path

import pikepdf
import pytest
from PIL import Image

from publisher.catalogue.release.bundle import archive
from publisher.catalogue.release.pictures import read_listing
from publisher.catalogue.release.record import FoundRelease, after, earlier_releases, number_of
from publisher.catalogue.workshop import Workshop, read_templates
from publisher.errata.compare.content import ReleaseContent
from publisher.errata.compare.keeping import from_plain
from publisher.errors import PublisherError, TemplateError
from publisher.frozen import frozen
from tests.support.releases import (
    PATTERN,
    SLUG,
    files_in,
    refusal,
    release_it,
    workshop_in,
    write_pattern,
)


@pytest.fixture(scope="module")
def first(tmp_path_factory: pytest.TempPathFactory) -> Workshop:
    """A workshop with a first release."""
    workshop = workshop_in(tmp_path_factory.mktemp("first"))
    assert release_it(workshop).state == "made"
    return workshop


@pytest.fixture
def workshop(first: Workshop, tmp_path: Path) -> Workshop:
    """A copy of it to work on."""
    shutil.copytree(first.out.parent, tmp_path, dirs_exist_ok=True)
    return Workshop(tmp_path / "patterns", tmp_path / "templates", tmp_path / "build")


def folder_of(workshop: Workshop, version: str = "1.0") -> Path:
    return workshop.out / SLUG / "releases" / version


def test_what_is_in_a_release(first: Workshop) -> None:
    name = f"{SLUG}-1.0"
    assert set(files_in(folder_of(first))) == {
        f"{name}-booklet-a4.pdf",
        f"{name}-terms.txt",
        f"{name}.zip",
        "MANIFEST",
        "cutting-list.csv",
        "listing/1-piece.png",
        "listing/2-cover.png",
        "listing/3-inside.png",
        "release.json",
    }
    made = first.out / SLUG
    book = folder_of(first) / f"{name}-booklet-a4.pdf"
    assert book.read_bytes() == (made / book.name).read_bytes(), "the very book that is built"
    with pikepdf.open(book) as pdf:
        assert not pdf.check_pdf_syntax()
        assert len(pdf.pages) > 4
    rows = csv.DictReader(
        io.StringIO((folder_of(first) / "cutting-list.csv").read_text("utf-8-sig"))
    )
    assert {row["colour"] for row in rows} == {"N", "W"}
    terms = (folder_of(first) / f"{name}-terms.txt").read_text("utf-8")
    assert "For Mill Pond, version 1.0." in terms
    assert "You may print this pattern for yourself" in terms


def test_default_is_every_edition_for_buyers_on_both_papers(tmp_path: Path) -> None:
    workshop = workshop_in(tmp_path)
    done = release_it(workshop, (), ("a4", "letter"), dry=True)
    assert not workshop.out.exists(), "a rehearsal writes nothing"
    editions = ("booklet", "ink-saver", "large-print", "left-handed")
    books = {f"{SLUG}-1.0-{name}-{paper}.pdf" for name in editions for paper in ("a4", "letter")}
    texts = {f"{SLUG}-1.0-{name}" for name in ("plain-text.txt", "plain-text.html")}
    texts.add(f"{SLUG}-1.0-at-the-bench.html")
    assert set(done.files) == books | texts | {
        "cutting-list.csv",
        "cutting-list-left.csv",
        f"{SLUG}-1.0-terms.txt",
        f"{SLUG}-1.0.zip",
    }


def test_editions_say_themselves_if_they_are_released(tmp_path: Path) -> None:
    workshop = workshop_in(tmp_path)
    editions = tmp_path / "templates/editions"
    editions.mkdir(parents=True)
    for name in ("at-the-bench", "ink-saver", "large-print", "left-handed", "plain-text"):
        text = 'title = "X"\nsections = ["cover"]\nrelease = false\n'
        (editions / f"{name}.toml").write_text(text)
    (editions / "gift.toml").write_text('title = "Gift"\nsections = ["cover", "terms"]\n')
    done = release_it(workshop, (), ("a4",), dry=True)
    assert {f"{SLUG}-1.0-{name}-a4.pdf" for name in ("booklet", "gift")} < set(done.files)
    assert len(done.files) == 5
    (editions / "gift.toml").write_text('title = "Gift"\nsections = ["cover"]\nrelease = "no"\n')
    with pytest.raises(PublisherError, match=r"gift.toml:3: `release` must be true or false"):
        release_it(workshop, (), ("a4",))


def test_standard_tools_find_it_whole(first: Workshop) -> None:
    folder = folder_of(first)
    bundled = folder / f"{SLUG}-1.0.zip"
    with zipfile.ZipFile(bundled) as bundle:
        assert bundle.testzip() is None
        inside = {Path(name).name for name in bundle.namelist()}
        assert all(name.startswith(f"{SLUG}-1.0/") for name in bundle.namelist())
        assert not any("listing" in name or "release.json" in name for name in bundle.namelist())
        assert {"MANIFEST", f"{SLUG}-1.0-booklet-a4.pdf", f"{SLUG}-1.0-terms.txt"} < inside
        unpacked = folder.parents[2] / "unpacked"
        bundle.extractall(unpacked)
    for where in (folder, unpacked / f"{SLUG}-1.0"):
        listed = _listed(where)
        assert set(listed) == set(files_in(where)) - {"MANIFEST"}
        for name, digest in listed.items():
            assert sha256((where / name).read_bytes()).hexdigest() == digest
        if shutil.which("sha256sum"):
            told = subprocess.run(
                ["sha256sum", "-c", "--strict", "MANIFEST"],
                cwd=where,
                capture_output=True,
                text=True,
            )
            assert told.returncode == 0, told.stderr
            assert told.stdout.count(": OK") == len(listed)


def _listed(folder: Path) -> dict[str, str]:
    lines = (folder / "MANIFEST").read_text("utf-8").splitlines()
    pairs = (line.split("  ", 1) for line in lines if not line.startswith("#"))
    return {name: digest for digest, name in pairs}


def test_record_says_what_it_is_and_what_it_was_made_from(first: Workshop) -> None:
    told = json.loads((folder_of(first) / "release.json").read_text("utf-8"))
    assert (told["format"], told["slug"], told["version"]) == (3, SLUG, "1.0")
    assert (told["date"], told["since"]) == ("2026-03-07", "")
    assert told["contents"]["right"]["charts"][0]["cells"] == ["NNNNNN", "NWWWWN", "NNNNNN"]
    assert f"source/{SLUG}.toml" in told["made_from"]
    for file in told["files"]:
        content = (folder_of(first) / file["name"]).read_bytes()
        assert (len(content), sha256(content).hexdigest()) == (file["bytes"], file["sha256"])


def test_archive_is_the_same_to_the_byte_whenever_it_is_made(
    first: Workshop, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    other = workshop_in(tmp_path)
    monkeypatch.setattr("publisher.catalogue.release.release.today", lambda: date(2031, 1, 2))
    release_it(other)
    name = f"{SLUG}-1.0.zip"
    assert (folder_of(other) / name).read_bytes() == (folder_of(first) / name).read_bytes()
    told = json.loads((folder_of(other) / "release.json").read_text("utf-8"))
    assert told["released"] == "2031-01-02"


def test_listing_shows_no_page_to_knot_from(first: Workshop) -> None:
    for path in (folder_of(first) / "listing").iterdir():
        with Image.open(path) as picture:
            assert picture.size == (2000, 2000)
            assert picture.mode == "RGB"
    shown = read_listing(read_templates(None)).pictures
    assert all(
        not one.sections or set(one.sections) <= {"cover", "materials", "knots"} for one in shown
    )


@pytest.mark.parametrize("section", ["chart", "chart-second", "rows", "parts", "parts-reed-leaf"])
def test_listing_can_not_be_asked_for_pages_to_knot_from(workshop: Workshop, section: str) -> None:
    listing = workshop.out.parent / "templates/listing.toml"
    listing.parent.mkdir()
    picture = f'[[pictures]]\nname = "x"\nshow = ["cover", "{section}"]\nground = "#ffffff"\n'
    listing.write_text(f"pixels = [500, 400]\n{picture}")
    write_pattern(workshop, version="1.1")
    told = refusal(workshop)
    assert f"{listing}:4: {section} can't be shown: the piece could be knotted from it" in told
    assert not folder_of(workshop, "1.1").exists()


@pytest.mark.parametrize(
    ("year", "told"), [(1, 1980), (1980, 1980), (2026, 2026), (2107, 2107), (2206, 2107)]
)
def test_archive_has_a_date_whatever_the_patterns_is(year: int, told: int) -> None:
    """A slip of the pen in a pattern's date is no reason to fail."""
    packed = archive("tide", {"a.txt": b"a"}, datetime(year, 9, 1, tzinfo=UTC))
    (entry,) = zipfile.ZipFile(io.BytesIO(packed)).infolist()
    assert entry.date_time[0] == told


@pytest.mark.parametrize("pixels", ["[500]", "[500, 400, 300]", "[500, 99]", "[true, 400]", "500"])
def test_listing_of_no_size_is_told(workshop: Workshop, pixels: str) -> None:
    listing = workshop.out.parent / "templates/listing.toml"
    listing.parent.mkdir()
    listing.write_text(f"pixels = {pixels}\npictures = []\n")
    with pytest.raises(
        TemplateError,
        match=r":1: `pixels` (must|has|is).+; write it like this: pixels = \[2000, 2000\]",
    ):
        read_listing(read_templates(listing.parent))


def test_listing_is_the_writers_to_change(workshop: Workshop) -> None:
    listing = workshop.out.parent / "templates/listing.toml"
    listing.parent.mkdir()
    picture = '[[pictures]]\nname = "{}"\nshow = {}\nground = "#1f2a44"\n'
    shown = picture.format("small", '"piece"') + picture.format("none", '["assembly"]')
    listing.write_text(f"pixels = [500, 400]\n{shown}")
    write_pattern(workshop, version="1.1")
    assert [name for name in release_it(workshop).files if "listing" in name] == [
        "listing/small.png"
    ]
    with Image.open(folder_of(workshop, "1.1") / "listing/small.png") as made:
        assert made.size == (500, 400)
        assert made.getpixel((0, 0)) == (0x1F, 0x2A, 0x44)
    for wrong in (
        "pixels = 5\n",
        "",
        "pixels = [9, 9]\n",
        f"pixels = [500, 400]\n{picture.format('../x', '[]')}",
    ):
        listing.write_text(wrong)
        write_pattern(workshop, version="1.2")
        assert f"{listing}:" in refusal(workshop)


def test_released_again_with_nothing_changed_writes_nothing(workshop: Workshop) -> None:
    before = _stamps(workshop.out)
    done = release_it(workshop)
    assert (done.state, done.folder, done.notes) == ("there", folder_of(workshop), ())
    assert _stamps(workshop.out) == before
    path = write_pattern(workshop)
    path.write_text("# A remark that prints nowhere.\n" + path.read_text())
    assert release_it(workshop).state == "there"
    assert _stamps(workshop.out) == before


def _stamps(folder: Path) -> dict[Path, tuple[int, int]]:
    """When every file and folder was written last, and which it is."""
    found = {path: path.stat() for path in folder.rglob("*")}
    return {path: (stat.st_mtime_ns, stat.st_ino) for path, stat in found.items()}


def test_other_content_under_the_same_version_is_refused(workshop: Workshop) -> None:
    before = files_in(workshop.out)
    path = write_pattern(workshop, NWWWWN="NWNNWN")
    told = refusal(workshop)
    assert told.startswith(f"{path}:3: version 1.0 was released on ")
    assert "with other content: row 2 of the panel" in told
    assert told.endswith("; raise the version: 1.1, or 1.0.1 for a small change")
    assert files_in(workshop.out) == before


@pytest.mark.parametrize(
    ("old", "new", "told"),
    [
        ("chalk white", "milk white", "W milk white (its name)"),
        ("ball_metres = 20", "ball_metres = 25", "soft cotton (the size of its balls)"),
        ('title = "Mill Pond"', 'title = "Mill Race"', "the title"),
        ("strands = 2", "strands = 1", "what to cut"),
    ],
)
def test_whatever_a_buyer_is_told_is_content(
    workshop: Workshop, old: str, new: str, told: str
) -> None:
    write_pattern(workshop, **{old: new})
    assert told in refusal(workshop)


PRICED = {"ball_metres = 20": "ball_metres = 20\nprice = 6.50"}
PRICES = 'date = 2026-03-07\ncurrency = "GBP"\nprices = true\nprices_as_of = 2026-02-01'


@pytest.mark.parametrize("printed", [True, False])
def test_a_price_is_no_part_of_what_a_release_is_known_by(tmp_path: Path, printed: bool) -> None:
    """A dearer ball, another month or currency, or prices printed or not: the same version."""
    workshop = workshop_in(tmp_path)
    head = PRICES if printed else 'date = 2026-03-07\ncurrency = "GBP"'
    prices = {**PRICED, "date = 2026-03-07": head}
    write_pattern(workshop, **prices)
    assert release_it(workshop, ("booklet", "plain-text")).state == "made"
    told = (folder_of(workshop) / f"{SLUG}-1.0-plain-text.txt").read_text("utf-8")
    assert ("6.50" in told, "February 2026" in told) == (printed, printed)
    before = files_in(folder_of(workshop))
    for changes in (
        {**prices, "ball_metres = 20": "ball_metres = 20\nprice = 123456.78"},
        {"date = 2026-03-07": PRICES.replace("2026-02-01", "2026-11-01").replace("GBP", "USD")},
        {},
        {**PRICED, "date = 2026-03-07": PRICES},
    ):
        write_pattern(workshop, **changes)
        assert release_it(workshop, ("booklet", "plain-text")).state == "there"
        assert files_in(folder_of(workshop)) == before
    write_pattern(workshop, **prices, NWWWWN="NWNNWN")
    assert "with other content: row 2 of the panel" in refusal(workshop)


def test_terms_of_use_are_content(workshop: Workshop) -> None:
    terms = workshop.out.parent / "templates/terms/personal-use.txt"
    terms.parent.mkdir(parents=True)
    terms.write_text("Do as you like.\n")
    assert "with other content: the terms of use" in refusal(workshop)


def test_pages_that_only_look_otherwise_are_refused_too(workshop: Workshop) -> None:
    """Buyers of one version would hold two different files."""
    look = workshop.out.parent / "templates/look.toml"
    look.parent.mkdir()
    text = (Path(__file__).parents[2] / "templates/look.toml").read_text()
    look.write_text(text.replace('accent = "#9c3f1c"', 'accent = "#1c3f9c"'))
    before = files_in(workshop.out)
    told = refusal(workshop)
    assert "booklet-a4 would come out otherwise now" in told
    assert "template look.toml has changed" in told
    assert files_in(workshop.out) == before
    write_pattern(workshop, version="1.0.1")
    done = release_it(workshop)
    assert (done.state, done.since, done.changes) == ("made", "1.0", "")
    assert not any("errata" in name for name in done.files), "there is nothing to tell makers"


def test_editions_are_never_added_to_a_release(workshop: Workshop) -> None:
    with pytest.raises(PublisherError, match=r"without ink-saver-a4, and is never added to"):
        release_it(workshop, ("booklet", "ink-saver"))
    with pytest.raises(PublisherError, match=r"without booklet-letter"):
        release_it(workshop, ("booklet",), ("a4", "letter"))


def test_versions_are_compared_as_numbers() -> None:
    ordered = ["0.9", "1.0", "1.0.1", "1.0.10", "1.2", "1.10", "2.0", "10.0"]
    assert all(number_of(one) < number_of(other) for one, other in pairwise(ordered))
    assert number_of("1.0") == number_of("1.0.0") == number_of("01.0")
    assert after("1.9") == ("1.9.1", "1.10")
    assert after("1.0.1") == ("1.0.2", "1.1")
    for wrong in ("1", "1.0.0.0", "1.x", "v1.0", "1.0 ", "", "１.0"):
        with pytest.raises(ValueError, match="no version"):
            number_of(wrong)


def test_version_may_not_go_back_and_may_leave_gaps(workshop: Workshop) -> None:
    write_pattern(workshop, version="1.10", NWWWWN="NWNNWN")
    done = release_it(workshop)
    assert (done.since, done.folder.name) == ("1.0", "1.10")
    path = write_pattern(workshop, version="1.9")
    told = refusal(workshop)
    assert told.startswith(f"{path}:3: version 1.9 comes before 1.10, which is released; ")
    assert "raise the version: 1.11, or 1.10.1" in told
    write_pattern(workshop, version="1.10.0")
    assert "1.10.0 is the same version as 1.10, which is released" in refusal(workshop)
    write_pattern(workshop, version="3.0")
    assert release_it(workshop).since == "1.10"


def test_errata_come_with_the_next_release(workshop: Workshop) -> None:
    write_pattern(workshop, version="1.1", NWWWWN="NWNNWN", **{"2026-03-07": "2026-04-01"})
    done = release_it(workshop, ("booklet",), ("a4", "letter"))
    sheets = {f"{SLUG}-1.1-errata-{paper}.pdf" for paper in ("a4", "letter")}
    assert sheets | {f"{SLUG}-1.1-errata.txt"} < set(done.files)
    assert done.changes.startswith("row 2 of the panel")
    text = (folder_of(workshop, "1.1") / f"{SLUG}-1.1-errata.txt").read_text("utf-8")
    assert done.errata == text
    assert "version 1.0 of Mill Pond, of 7 March 2026" in " ".join(text.split())
    told = "2. Cords: 3 and 4; Version 1.0: W chalk white; Version 1.1: N night navy"
    assert told in " ".join(text.split())
    with pikepdf.open(folder_of(workshop, "1.1") / f"{SLUG}-1.1-errata-letter.pdf") as pdf:
        assert not pdf.check_pdf_syntax()
        assert [round(float(side)) for side in pdf.pages[0].mediabox[2:]] == [612, 792]
    with zipfile.ZipFile(folder_of(workshop, "1.1") / f"{SLUG}-1.1.zip") as bundle:
        assert f"{SLUG}-1.1/{SLUG}-1.1-errata-a4.pdf" in bundle.namelist()
    assert not done.notes


def test_date_that_was_not_changed_is_told(workshop: Workshop) -> None:
    path = write_pattern(workshop, version="1.1", NWWWWN="NWNNWN")
    (note,) = release_it(workshop).notes
    assert note.startswith(f"{path}:3: the date is still that of version 1.0, 2026-03-07")


def test_pattern_with_problems_is_not_released(tmp_path: Path) -> None:
    workshop = workshop_in(tmp_path)
    write_pattern(workshop, NWWWWN="NWWXN")
    told = refusal(workshop)
    assert told.count("\n") >= 1, "all problems at once"
    assert not workshop.out.exists()
    write_pattern(workshop)
    page = tmp_path / "templates/pages/text.svg"
    page.parent.mkdir(parents=True)
    page.write_text("{{ wrong }")
    for dry in (True, False):
        with pytest.raises(PublisherError, match=r"text\.svg"):
            release_it(workshop, dry=dry)
    assert not folder_of(workshop).exists()


SPOILERS: dict[str, Callable[[Path], object]] = {
    "cut off": lambda path: path.write_bytes(path.read_bytes()[:-400]),
    "emptied": lambda path: path.write_bytes(b""),
    "not JSON": lambda path: path.write_bytes(b"\x80\x81"),
    "a list": lambda path: path.write_text("[]"),
    "null": lambda path: path.write_text("null"),
    "a number": lambda path: path.write_text("1"),
    "nested": lambda path: path.write_text("[" * 100_000),
    "a knot changed": lambda path: path.write_text(path.read_text().replace("NWWWWN", "NWWWNN")),
    "a weight": lambda path: path.write_text(
        path.read_text().replace('"grams_per_metre": 4.5', '"grams_per_metre": 1e999')
    ),
    "another version": lambda path: path.write_text(
        path.read_text().replace('"version": "1.0"', '"version": "1.1"')
    ),
    "no date": lambda path: path.write_text(path.read_text().replace("2026-03-07", "soon")),
    "a key more": lambda path: path.write_text(
        path.read_text().replace('"slug"', '"x": 1, "slug"', 1)
    ),
}


@pytest.mark.parametrize("spoil", SPOILERS.values(), ids=SPOILERS)
def test_record_that_was_damaged_is_told_and_never_guessed_at(
    workshop: Workshop, spoil: Callable[[Path], object]
) -> None:
    record = folder_of(workshop) / "release.json"
    spoil(record)
    (found,) = earlier_releases(record.parents[1])
    assert found.record is None
    for version in ("1.0", "1.1"):
        write_pattern(workshop, version=version)
        told = refusal(workshop)
        assert told.startswith(f"{record}: this record is not as it was written; take it back")
    assert sorted(path.name for path in record.parents[1].iterdir()) == ["1.0"]


def test_record_of_a_newer_program_is_not_read(workshop: Workshop) -> None:
    record = folder_of(workshop) / "release.json"
    record.write_text(record.read_text().replace('"format": 3', '"format": 4', 1))
    assert "made by a newer program than this one; use that program" in refusal(workshop)


def test_release_without_a_record(workshop: Workshop) -> None:
    (folder_of(workshop) / "release.json").unlink()
    assert f"{folder_of(workshop)}: this release has no release.json" in refusal(workshop)


def test_files_that_were_changed_by_hand_are_told(workshop: Workshop) -> None:
    book = folder_of(workshop) / f"{SLUG}-1.0-booklet-a4.pdf"
    book.write_bytes(book.read_bytes() + b"%")
    (folder_of(workshop) / "MANIFEST").unlink()
    told = refusal(workshop)
    assert f"{book}: this file is not as it was released" in told
    assert f"{folder_of(workshop) / 'MANIFEST'}: this file of a release is not there" in told
    write_pattern(workshop, version="1.1", NWWWWN="NWNNWN")
    done = release_it(workshop)
    assert done.state == "made", "its record is whole, and that is what errata need"
    assert any(str(book) in note for note in done.notes)


def test_folders_that_are_no_releases_are_left_alone(workshop: Workshop) -> None:
    (folder_of(workshop, "drafts")).mkdir()
    (folder_of(workshop, "notes.txt")).write_text("mine")
    assert release_it(workshop).state == "there"
    found = earlier_releases(folder_of(workshop).parent)
    assert [one.folder.name for one in found] == ["1.0"]
    assert isinstance(found[0], FoundRelease)
    assert found[0].record is not None
    assert isinstance(found[0].record.contents["right"], ReleaseContent)
    again = json.loads(found[0].record.to_bytes())
    assert again == json.loads((folder_of(workshop) / "release.json").read_bytes())


def test_pruning_and_building_leave_releases_alone(workshop: Workshop) -> None:
    from publisher.catalogue.build.build import begin

    before = files_in(folder_of(workshop))
    (workshop.patterns / f"{SLUG}.toml").unlink()
    (workshop.patterns / "other.toml").write_text(PATTERN.replace("Mill Pond", "Other"))
    run = begin(workshop)
    run.leftovers(prune=True)
    assert not (workshop.out / SLUG / f"{SLUG}-1.0-booklet-a4.pdf").exists()
    assert files_in(folder_of(workshop)) == before


def test_left_handed_alone_is_shown_as_it_is(tmp_path: Path) -> None:
    """The listing's pages come from the first edition with pages, planned for its hand."""
    workshop = workshop_in(tmp_path)
    done = release_it(workshop, ("plain-text", "left-handed"))
    assert "listing/2-cover.png" in done.files
    only_text = replace(workshop, out=tmp_path / "text")
    done = release_it(only_text, ("plain-text",))
    assert not any(name.startswith("listing/") for name in done.files)
    assert f"{SLUG}-1.0-plain-text.txt" in done.files


def test_each_hand_has_errata_of_its_own(tmp_path: Path) -> None:
    """Rows, yarns and lengths differ: who works from the other side is told her own."""
    workshop = workshop_in(tmp_path)
    release_it(workshop, ("booklet", "left-handed"))
    write_pattern(workshop, version="1.1", NWWWWN="NWNNWN")
    done = release_it(workshop, ("booklet", "left-handed"))
    texts = {
        hand: " ".join((done.folder / f"{SLUG}-1.1-errata{hand}.txt").read_text("utf-8").split())
        for hand in ("", "-left-handed")
    }
    assert f"{SLUG}-1.1-errata-left-handed-a4.pdf" in done.files
    assert "Row 2, from the right: 1 N, 1 W, 2 N" in texts[""]
    assert "Row 2, from the left: 1 N, 1 W, 2 N" in texts["-left-handed"]
    assert "The left-handed edition has a sheet of its own." in texts[""]
    assert "This sheet is for the left-handed edition." in texts["-left-handed"]
    write_pattern(workshop, version="1.2")
    done = release_it(workshop)
    assert not any("left-handed" in name for name in done.files)
    text = (done.folder / f"{SLUG}-1.2-errata.txt").read_text("utf-8")
    assert "left-handed" not in text, "this release has nothing for that hand"


@pytest.mark.parametrize("number", [1, 2])
def test_records_of_earlier_programs_are_still_read(tmp_path: Path, number: int) -> None:
    """Releases are kept for years. Who makes this test fail has changed what a plan's values are
    made of: give a new field a default, or raise the record's format and read this one too."""
    kept = Path(__file__).parent / "golden" / f"release-format-{number}.json"
    folder = tmp_path / "1.0"
    folder.mkdir()
    shutil.copy(kept, folder / "release.json")
    (found,) = earlier_releases(tmp_path, whole=False)
    assert found.record is not None
    right, left = (found.record.contents[hand] for hand in ("right", "left"))
    assert right.charts[0].cells == ("NNNNNN", "NWWWWN", "NNNNNN")
    assert [step.kind for step in right.parts[0].steps] == ["tie", "gap", "wrap", "trim"]
    assert right.assembly[0].placement is not None
    assert right.charts[0].first_row_from != left.charts[0].first_row_from
    assert b'"price"' not in found.record.to_bytes(), "what yarns cost is no content any more"


def test_field_that_was_not_there_yet_has_its_default() -> None:
    @frozen
    class Now:
        one: int
        more: tuple[str, ...] = ()

    assert from_plain(Now, {"one": 1}) == Now(1)
    for wrong in ({}, {"one": 1, "other": 2}, {"more": []}):
        with pytest.raises(ValueError, match="is not as it was written"):
            from_plain(Now, wrong)


def test_folder_of_releases_that_can_not_be_read_is_told(
    workshop: Workshop, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Not knowing what is released is no leave to release."""

    def closed(self: Path) -> list[Path]:
        raise PermissionError(13, "Permission denied")

    write_pattern(workshop, version="1.1")
    monkeypatch.setattr(Path, "iterdir", closed)
    told = refusal(workshop)
    assert f"{folder_of(workshop).parent}: this folder can't be read (Permission denied)" in told

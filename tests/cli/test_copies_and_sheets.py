"""`publisher stamp` and `publisher impose`: files made, what is said, and every way it can fail."""

from __future__ import annotations

import io
import os
import subprocess
import sys
from collections.abc import Callable
from pathlib import Path

import pikepdf
import pypdfium2
import pytest
from click.testing import CliRunner, Result

from publisher.catalogue import finished
from publisher.cli.commands import commands
from publisher.errors import OutputError, Place, Problem
from publisher.press import print_book
from tests.support.drivers import ROOT
from tests.support.svg_books import RICH, book, numbered
from tests.support.terminal import on_terminal

Call = Callable[..., Result]
FILE = "mill-pond-1.0-booklet-a4.pdf"


@pytest.fixture
def call(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Call:
    """Call `publisher` in a folder with a finished booklet."""
    monkeypatch.chdir(tmp_path)
    Path(FILE).write_bytes(print_book(RICH))

    def run(*words: object) -> Result:
        return CliRunner().invoke(commands, list(map(str, words)))

    return run


def text_of(path: Path | str) -> list[str]:
    document = pypdfium2.PdfDocument(str(path))
    try:
        return [page.get_textpage().get_text_range() for page in document]
    finally:
        document.close()


def names(folder: Path | str = ".") -> set[str]:
    """Every file in a folder, hidden ones too."""
    return {path.name for path in Path(folder).iterdir()}


# Stamping


def test_one_buyers_copy_is_put_beside_the_file(call: Call) -> None:
    before = Path(FILE).read_bytes()
    result = call("stamp", FILE, "--buyer", "Åsa Weir", "--order", "RB-17")
    copy = "mill-pond-1.0-booklet-a4-Asa-Weir.pdf"
    assert (result.exit_code, result.stderr, result.stdout) == (0, "", f"made {copy}\n")
    assert all("Copy for Åsa Weir, order RB-17" in page for page in text_of(copy))
    assert Path(FILE).read_bytes() == before
    assert names() == {FILE, copy}


def test_a_copy_keeps_tags_title_and_links(call: Call) -> None:
    call("stamp", FILE, "--buyer", "Asa", "--into", "copies")
    (copy,) = Path("copies").iterdir()
    with pikepdf.open(FILE) as pdf, pikepdf.open(copy) as stamped:
        assert stamped.check_pdf_syntax() == []
        assert stamped.Root.MarkInfo.Marked is True
        assert stamped.docinfo["/Title"] == pdf.docinfo["/Title"]
        count = [len(page.get("/Annots", [])) for page in pdf.pages]
        assert [len(page.get("/Annots", [])) for page in stamped.pages] == count


def test_every_buyer_of_a_list_gets_a_file_of_their_own(call: Call) -> None:
    people = ["Maren", "maren", "Maren", "../../etc/passwd", "CON", "李 Ning", "a" * 300]
    lines = "".join(f'"{name}",R-{at}\n' for at, name in enumerate(people))
    Path("buyers.csv").write_text("buyer,order\n" + lines, "utf-8")
    result = call("stamp", FILE, "--buyers", "buyers.csv", "--into", "copies/today")
    assert (result.exit_code, result.stderr) == (0, "")
    assert result.stdout.startswith(f"{len(people)} copies made in copies/today, in ")
    made = names("copies/today")
    assert len({name.lower() for name in made}) == len(people)
    assert all(name.startswith("mill-pond-1.0-booklet-a4-") and len(name) < 120 for name in made)
    lines_found = {
        line
        for name in made
        for line in text_of(Path("copies/today") / name)[0].splitlines()
        if line.startswith("Copy for ")
    }
    assert len(lines_found) == len(people), "each says its own order"
    assert names() == {FILE, "buyers.csv", "copies"}


def test_the_line_is_the_writers_own(call: Call) -> None:
    words = (ROOT / "templates/words/en.toml").read_text()
    own = words.replace('copy = "Copy for {buyer}"', 'copy = "Printed for {buyer} alone"')
    Path("templates/words").mkdir(parents=True)
    Path("templates/words/en.toml").write_text(own)
    call("stamp", FILE, "--buyer", "Asa", "--into", "copies")
    (copy,) = Path("copies").iterdir()
    assert "Printed for Asa alone" in text_of(copy)[0]


def test_a_copy_made_again_is_left_as_it_is(call: Call) -> None:
    call("stamp", FILE, "--buyer", "Asa", "--into", "copies")
    (copy,) = Path("copies").iterdir()
    before = copy.stat().st_mtime_ns
    assert call("stamp", FILE, "--buyer", "Asa", "--into", "copies").exit_code == 0
    assert copy.stat().st_mtime_ns == before


def test_every_wrong_line_of_a_list_is_told_and_nothing_made(call: Call) -> None:
    Path("buyers.csv").write_text("buyer,order\nAsa,1\n,2\nMaren,3\n   ,\n,4\n")
    result = call("stamp", FILE, "--buyers", "buyers.csv", "--into", "copies")
    assert result.exit_code == 1
    assert [line.split(": ")[0] for line in result.stderr.splitlines()] == [
        "buyers.csv:3",
        "buyers.csv:6",
    ]
    assert not Path("copies").exists()


@pytest.mark.parametrize(
    ("text", "lines"),
    [
        ('buyer,order\n"Asa,1\nMaren,2\nJonas,3\n', [2]),
        ('buyer,order\nAsa,1\n"Maren\nWeir",2\n', [3, 4]),
        ("buyer,order\nAsa,1\n\u200b,2\n", [3]),
        ("buyer,order,Buyer\nAsa,1,Maren\n", [1]),
    ],
)
def test_a_list_that_could_mix_buyers_up_is_told_by_its_lines_and_nothing_made(
    call: Call, text: str, lines: list[int]
) -> None:
    Path("buyers.csv").write_text(text, "utf-8")
    result = call("stamp", FILE, "--buyers", "buyers.csv")
    assert (result.exit_code, result.stdout) == (1, "")
    told = [line.split(": ")[0] for line in result.stderr.splitlines()]
    assert told == [f"buyers.csv:{line}" for line in lines]
    assert names() == {FILE, "buyers.csv"}


def test_columns_that_are_not_read_are_told_beside_the_copies(call: Call) -> None:
    Path("buyers.csv").write_text("buyer,ordr\nAsa,1\n")
    result = call("stamp", FILE, "--buyers", "buyers.csv", "--into", "copies")
    assert result.exit_code == 0
    assert result.stderr.startswith("buyers.csv:1: nothing is read from “ordr”; ")
    assert len(names("copies")) == 1


@pytest.mark.parametrize(
    ("content", "told"),
    [
        (b"name,order\nAsa,1\n", "buyers.csv:1: there is no column “buyer”"),
        (b"buyer,order\n", "buyers.csv:1: no buyer is listed"),
        (b"", "buyers.csv:1: there is no column “buyer”"),
        (b"buyer\n\xff\xfe\n", "buyers.csv: the file is not UTF-8"),
    ],
)
def test_a_list_that_is_none_is_told_with_what_to_do(call: Call, content: bytes, told: str) -> None:
    Path("buyers.csv").write_bytes(content)
    result = call("stamp", FILE, "--buyers", "buyers.csv")
    assert result.exit_code == 1
    assert result.stderr.startswith(told) and "; " in result.stderr
    assert names() == {FILE, "buyers.csv"}


@pytest.mark.parametrize(
    ("words", "told"),
    [
        ([], "give either --buyer or --buyers"),
        (["--buyer", "Asa", "--buyers", "b.csv"], "give either --buyer or --buyers"),
        (["--buyers", "b.csv", "--order", "7"], "an order belongs to one buyer"),
        (["--buyer", "  "], "--buyer: there is no name"),
        (["--buyer", "\u2060\u3164"], "--buyer: there is no name"),
        (["--buyer", "Asa\nWeir"], "--buyer: the buyer has a line break in it"),
        (["--buyer", "Asa", "--order", "1\n2"], "--order: the order has a line break in it"),
        (["--buyers", "nobody.csv"], "nobody.csv: there is no such file"),
    ],
)
def test_a_call_that_says_too_little_or_too_much_is_refused(
    call: Call, words: list[str], told: str
) -> None:
    result = call("stamp", FILE, *words)
    assert result.exit_code == 2
    assert told in result.stderr
    assert names() == {FILE}


# What both refuse


@pytest.fixture(params=["stamp", "impose"])
def work(request: pytest.FixtureRequest) -> tuple[str, list[str]]:
    """A command, and the words it needs besides the file."""
    words = {"stamp": ["--buyer", "Asa"], "impose": ["--scheme", "booklet"]}
    return request.param, words[request.param]


def test_a_file_that_is_not_there_is_a_wrong_call(call: Call, work: tuple[str, list[str]]) -> None:
    command, words = work
    result = call(command, "mill-pod.pdf", *words)
    assert (result.exit_code, result.stdout) == (2, "")
    assert result.stderr == "mill-pod.pdf: there is no such file; give the path of a PDF\n"
    assert call(command, ".", *words).exit_code == 2


def test_a_file_that_is_no_pdf_is_told_by_its_name(call: Call, work: tuple[str, list[str]]) -> None:
    command, words = work
    for content in (b"", b"Dear reader", Path(FILE).read_bytes()[:900]):
        Path("letter.pdf").write_bytes(content)
        result = call(command, "letter.pdf", *words)
        assert result.exit_code == 1
        assert result.stderr.startswith("letter.pdf: this is not a PDF that can be read (")
        assert result.stderr.count("\n") == 1 and "0x" not in result.stderr
    assert names() == {FILE, "letter.pdf"}


def test_a_locked_pdf_is_told(call: Call, work: tuple[str, list[str]]) -> None:
    command, words = work
    locked = io.BytesIO()
    with pikepdf.open(FILE) as pdf:
        pdf.save(locked, encryption=pikepdf.Encryption(user="sesame", owner="owl"))
    Path("locked.pdf").write_bytes(locked.getvalue())
    result = call(command, "locked.pdf", *words)
    assert result.exit_code == 1
    assert result.stderr == "locked.pdf: the PDF is locked by a password; unlock it first\n"


def test_a_place_that_can_not_be_written_to_is_told(
    call: Call, work: tuple[str, list[str]]
) -> None:
    command, words = work
    Path("shelf").write_text("a file, no folder")
    into = "shelf" if command == "stamp" else "shelf/sheets.pdf"
    result = call(command, FILE, *words, "--into", into)
    assert result.exit_code == 1
    assert "a file stands where a folder is needed" in result.stderr
    assert "--into" in result.stderr and "--out" not in result.stderr
    assert names() == {FILE, "shelf"}


def test_a_full_disk_leaves_whole_copies_only(call: Call, monkeypatch: pytest.MonkeyPatch) -> None:
    """The disk takes two copies and no more: no half of a third is left."""
    put, taken = finished.put_without_trace, []

    def put_two(target: Path, content: bytes) -> bool:
        if len(taken) == 2:
            raise OutputError(Problem(Place(str(target)), "the disk is full", "make room"))
        taken.append(target)
        return put(target, content)

    monkeypatch.setattr(finished, "put_without_trace", put_two)
    monkeypatch.setattr("publisher.catalogue.buyers._WRITERS", 1)
    Path("buyers.csv").write_text("buyer\nAsa\nMaren\nTove\nLiv\n")
    result = call("stamp", FILE, "--buyers", "buyers.csv", "--into", "copies")
    assert result.exit_code == 1
    assert "the disk is full" in result.stderr
    made = [Path("copies") / name for name in names("copies")]
    assert len(made) == 2
    for copy in made:
        with pikepdf.open(copy) as pdf:
            assert pdf.check_pdf_syntax() == []


# Sheets


@pytest.mark.parametrize("scheme", ["booklet", "two-up"])
def test_sheets_are_put_beside_the_file(call: Call, scheme: str) -> None:
    Path("pages.pdf").write_bytes(print_book(numbered(6)))
    result = call("impose", "pages.pdf", "--scheme", scheme)
    assert (result.exit_code, result.stderr) == (0, "")
    assert result.stdout == f"made pages-{scheme}.pdf, its pages at full size\n"
    with pikepdf.open(f"pages-{scheme}.pdf") as pdf:
        assert pdf.check_pdf_syntax() == []
        assert len(pdf.pages) == {"booklet": 4, "two-up": 3}[scheme]
        assert "for paper" in str(pdf.docinfo["/Title"])
        assert "/StructTreeRoot" not in pdf.Root


def test_pages_for_a_print_shop_have_crop_marks(call: Call) -> None:
    result = call("impose", FILE, "--scheme", "crop-marks")
    made = FILE.replace(".pdf", "-crop-marks.pdf")
    assert (result.exit_code, result.stdout) == (0, f"made {made}, its pages at full size\n")
    with pikepdf.open(FILE) as plain, pikepdf.open(made) as marked:
        assert marked.check_pdf_syntax() == []
        assert len(marked.pages) == len(plain.pages)
        for page, was in zip(marked.pages, plain.pages, strict=True):
            assert [*page.trimbox] == [*was.mediabox], "what is cut out is the page as it was"
            assert float(page.mediabox[2]) > float(page.trimbox[2])
    named = call("impose", FILE, "--scheme", "crop-marks", "--paper", "a3")
    assert named.exit_code == 2 and "stay as large as they are" in named.stderr


@pytest.mark.parametrize(
    ("size_mm", "words", "sheet_pt"),
    [
        ((210.0, 297.0), [], (841.89, 595.276)),
        ((148.0, 210.0), [], (841.89, 595.276)),
        ((215.9, 279.4), [], (792.0, 612.0)),
        ((139.7, 215.9), [], (792.0, 612.0)),
        ((210.0, 297.0), ["--paper", "letter"], (792.0, 612.0)),
        ((215.9, 279.4), ["--paper", "a4"], (841.89, 595.276)),
    ],
)
def test_the_sheets_are_of_the_pages_own_paper_if_none_is_named(
    call: Call, size_mm: tuple[float, float], words: list[str], sheet_pt: tuple[float, float]
) -> None:
    width_mm, height_mm = size_mm
    pages = book(*["<g/>"] * 4, width_mm=width_mm, height_mm=height_mm)
    Path("pages.pdf").write_bytes(print_book(pages))
    assert call("impose", "pages.pdf", "--scheme", "two-up", *words).exit_code == 0
    with pikepdf.open("pages-two-up.pdf") as pdf:
        box = [float(side) for side in pdf.pages[0].mediabox]
    assert (box[2], box[3]) == pytest.approx(sheet_pt, abs=0.01)


def test_sheets_can_have_another_name_but_not_that_of_the_pages(call: Call) -> None:
    before = Path(FILE).read_bytes()
    named = call("impose", FILE, "--scheme", "booklet", "--into", "to-print/sheets.pdf")
    assert named.stdout.startswith("made to-print/sheets.pdf, its pages at 71 %")
    own = call("impose", FILE, "--scheme", "booklet", "--into", f"./{FILE}")
    assert own.exit_code == 2
    assert "these are the pages themselves" in own.stderr
    assert Path(FILE).read_bytes() == before


@pytest.mark.parametrize(
    ("paper", "size_mm", "told"),
    [
        ("a3", (210.0, 297.0), ", its pages at full size\n"),
        ("tabloid", (215.9, 279.4), ", its pages at full size\n"),
        ("tabloid", (210.0, 297.0), ", its pages at 94 %, the smallest type 9.4 pt\n"),
        ("a4", (210.0, 297.0), ", its pages at 71 %, the smallest type 7.1 pt\n"),
        ("letter", (215.9, 279.4), ", its pages at 65 %, the smallest type 6.5 pt\n"),
    ],
)
def test_how_small_pages_become_on_their_sheets_is_told(
    call: Call, paper: str, size_mm: tuple[float, float], told: str
) -> None:
    """The smallest type is 10 pt; half a letter sheet is 139.7 mm wide."""
    width_mm, height_mm = size_mm
    ten = '<text x="20" y="20" font-size="3.5278">Tide</text>'
    large = '<text x="20" y="50" font-size="14">Lines</text>'
    Path("p.pdf").write_bytes(print_book(book(ten + large, width_mm=width_mm, height_mm=height_mm)))
    result = call("impose", "p.pdf", "--scheme", "two-up", "--paper", paper)
    assert (result.exit_code, result.stderr) == (0, "")
    assert result.stdout.startswith(f"made p-two-up.pdf{told}")
    assert ("nothing can be measured on these sheets" in result.stdout) == ("full" not in told)


@pytest.mark.parametrize(("size_mm", "hard"), [(3.1, True), (3.4, False)])
def test_type_that_becomes_hard_to_read_is_warned_of(
    call: Call, size_mm: float, hard: bool
) -> None:
    """A4 on half of A4: 8.8 pt becomes 6.2, 9.6 pt 6.8. It is made all the same."""
    body = f'<text x="20" y="20" font-size="{size_mm}">Tide</text>'
    Path("p.pdf").write_bytes(print_book(book(body)))
    result = call("impose", "p.pdf", "--scheme", "booklet")
    assert result.exit_code == 0 and Path("p-booklet.pdf").exists()
    assert ("type under 6.5 pt is hard to read" in result.stdout) == hard


def test_pages_without_a_word_have_no_smallest_type(call: Call) -> None:
    signs = '<text x="9" y="9" font-size="1" font-family="Knot Signs">+</text>'
    Path("p.pdf").write_bytes(print_book(book(f'<g data-tag="Artifact">{signs}</g>')))
    result = call("impose", "p.pdf", "--scheme", "booklet")
    assert result.stdout.startswith("made p-booklet.pdf, its pages at 71 %\n")


def test_a_scheme_has_to_be_chosen(call: Call) -> None:
    assert call("impose", FILE).exit_code == 2
    result = call("impose", FILE, "--scheme", "origami")
    assert result.exit_code == 2
    assert "booklet" in result.stderr and "two-up" in result.stderr


@pytest.mark.parametrize("command", ["stamp", "impose"])
def test_help_says_what_it_is_for(call: Call, command: str) -> None:
    result = call(command, "--help")
    assert result.exit_code == 0
    assert "FILE.pdf" in result.stdout and "--into" in result.stdout


# On a terminal, and in a pipe


def many_buyers(count: int) -> None:
    Path("buyers.csv").write_text("buyer\n" + "".join(f"Maker {at}\n" for at in range(count)))


@pytest.mark.usefixtures("call")
def test_a_pipe_gets_one_line_and_no_progress(tmp_path: Path) -> None:
    many_buyers(150)
    words = ["stamp", FILE, "--buyers", "buyers.csv", "--into", "copies"]
    done = subprocess.run(
        [sys.executable, "-m", "publisher", *words],
        cwd=tmp_path,
        env={**os.environ, "PYTHONPATH": str(ROOT)},
        capture_output=True,
        text=True,
        timeout=60,
    )
    assert (done.returncode, done.stderr) == (0, "")
    assert done.stdout.count("\n") == 1 and "150 copies made in copies" in done.stdout
    assert len(names("copies")) == 150


@pytest.mark.usefixtures("call")
def test_a_terminal_shows_how_far_it_has_come(tmp_path: Path) -> None:
    many_buyers(150)
    command = [sys.executable, "-m", "publisher", "stamp", FILE, "--buyers", "buyers.csv"]
    command += ["--into", "copies"]
    environment = {"PYTHONPATH": str(ROOT), "TERM": "xterm"}
    shown, status = on_terminal(command, tmp_path, environment, 60)
    assert status == 0
    assert b"stamping" in shown and b"150/150" in shown
    assert shown.rstrip().endswith(b" s") and b"150 copies made in copies" in shown

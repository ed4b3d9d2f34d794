"""Printed books against PDF/UA-1 (ISO 14289-1): the machine-checkable failure conditions of the
Matterhorn Protocol 1.1 (PDF Association), each by its number.

The numbers of 01-005, 06, 07, 10-001, 11, 13-004, 14 and 31 as a chapter were looked up there; the
other numbers, and the fonts' single ones, are quoted from memory.
"""

from __future__ import annotations

import io
import re
from collections.abc import Iterator
from dataclasses import replace
from functools import partial
from itertools import pairwise
from typing import Any

import pikepdf
import pytest
from pikepdf import Array, Dictionary

from publisher import make_plan, publish
from publisher.errata.compare import content_of, find_errata
from publisher.errata.sheet import write_errata
from publisher.errata.sheet.context import EarlierRelease
from publisher.knots import load_knots
from publisher.layout import lay_out
from publisher.model.parts import Glue, StepsPiece
from publisher.model.pattern import ChartPiece
from publisher.press import print_book
from tests.support.shop import DATE, demo, demo_pdf, installed
from tests.support.svg_books import RICH

_STANDARD = """Document Part Art Sect Div BlockQuote Caption TOC TOCI Index P H1 H2 H3 H4 H5 H6
    L LI Lbl LBody Table THead TBody TFoot TR TH TD Span Quote Note Reference Code Link Figure
    Formula"""
STANDARD = {f"/{role}" for role in _STANDARD.split()}
_PAINTING = "Tj TJ ' \" f F f* B B* b b* S s sh Do EI"
PAINTING = set(_PAINTING.split())


def demo_booklet() -> bytes:
    pattern = demo("heron-step")
    return publish(pattern, make_plan(pattern))


@pytest.fixture(scope="module")
def rich() -> Any:
    return pikepdf.open(io.BytesIO(print_book(RICH)))


def demo_errata() -> bytes:
    """Knots, a new caution and a part's step changed: tables, lists, pictures, rows and a box."""
    before = demo("kingfisher-over-reeds")
    panel, leaf, *others = before.pieces
    assert isinstance(panel, ChartPiece)
    assert isinstance(leaf, StepsPiece)
    cells = tuple(row.replace("WNN", "WWN") for row in panel.cells)
    leaf = replace(leaf, steps=(*leaf.steps, Glue(what="the stalk")))
    after = replace(before, pieces=(replace(panel, cells=cells), leaf, *others), version="1.1")
    plans = [make_plan(before), make_plan(after)]
    contents = [content_of(*pair, "T") for pair in zip((before, after), plans, strict=True)]
    manuscript = write_errata(
        after,
        plans[1],
        load_knots(),
        installed(),
        "a4",
        find_errata(*contents),
        EarlierRelease("1.0", before.date),
        date=DATE,
    )
    return print_book(lay_out(manuscript, installed()))


EDITIONS = ("handout", "ink-saver", "large-print", "left-handed")
BOOKS = {
    "rich": lambda: print_book(RICH),
    "demo": demo_booklet,
    "errata": demo_errata,
    **{name: partial(demo_pdf, "tide-lines", name) for name in EDITIONS},
}


@pytest.fixture(scope="module", params=BOOKS)
def pdf(request: pytest.FixtureRequest) -> Any:
    """A page with every sort of structure, written by hand; a whole booklet; other editions."""
    return pikepdf.open(io.BytesIO(BOOKS[request.param]()))


@pytest.fixture
def tabled(pdf: Any) -> Any:
    """The same, but for a book that sets all its tables as lists."""
    if not any(str(element.S) == "/Table" for element, _ in elements(pdf)):
        pytest.skip("no table is set in this edition")
    return pdf


def kids(element: Any) -> list[Any]:
    found = element.get("/K")
    if found is None:
        return []
    return list(found) if isinstance(found, Array) else [found]


def elements(pdf: Any) -> Iterator[tuple[Any, Any]]:
    """(element, its parent) of the whole structure tree, in order."""
    waiting = [(kid, pdf.Root.StructTreeRoot) for kid in kids(pdf.Root.StructTreeRoot)]
    while waiting:
        element, parent = waiting.pop(0)
        yield element, parent
        inner = [k for k in kids(element) if isinstance(k, Dictionary) and "/S" in k]
        waiting[:0] = [(kid, element) for kid in inner]


def fonts(pdf: Any) -> Iterator[Any]:
    for page in pdf.pages:
        yield from page.Resources.get("/Font", {}).values()


def descriptor(font: Any) -> Any:
    return (font.DescendantFonts[0] if "/DescendantFonts" in font else font).FontDescriptor


def xmp(pdf: Any) -> str:
    return str(pdf.Root.Metadata.read_bytes().decode())


def test_01_003_and_004_artifacts_and_tagged_content_do_not_nest(pdf: Any) -> None:
    for page in pdf.pages:
        depth = 0
        for operands, operator in pikepdf.parse_content_stream(page):
            del operands
            if str(operator) in ("BDC", "BMC"):
                depth += 1
            elif str(operator) == "EMC":
                depth -= 1
            assert depth in (0, 1)
        assert depth == 0


def test_01_005_all_content_is_tagged_or_artifact(pdf: Any) -> None:
    painted = 0
    for page in pdf.pages:
        marked: list[str] = []
        for operands, operator in pikepdf.parse_content_stream(page):
            if str(operator) in ("BDC", "BMC"):
                marked.append(str(operands[0]))
            elif str(operator) == "EMC":
                marked.pop()
            elif str(operator) in PAINTING:
                painted += 1
                assert marked, operator
    assert painted > 20


def test_01_005_every_mark_is_in_the_tree_and_back(pdf: Any) -> None:
    numbers = pdf.Root.StructTreeRoot.ParentTree.Nums
    parents = {int(numbers[at]): numbers[at + 1] for at in range(0, len(numbers), 2)}
    for page in pdf.pages:
        tagged = {
            int(operands[1]["/MCID"])
            for operands, operator in pikepdf.parse_content_stream(page)
            if str(operator) == "BDC" and len(operands) > 1 and "/MCID" in operands[1]
        }
        array = parents[int(page.StructParents)]
        in_tree = {at for at, parent in enumerate(array) if parent is not None}
        assert tagged == in_tree
        for mark in tagged:
            assert mark in [int(kid) for kid in kids(array[mark]) if isinstance(kid, int)]


def test_02_001_all_structure_types_are_standard(pdf: Any) -> None:
    assert {str(element.S) for element, _ in elements(pdf)} <= STANDARD


def test_06_001_to_003_xmp_metadata_has_the_identifier_and_a_title(pdf: Any) -> None:
    assert str(pdf.Root.Metadata.Subtype) == "/XML"
    assert re.search(r"<pdfuaid:part>1</pdfuaid:part>", xmp(pdf))
    assert "<dc:title><rdf:Alt>" in xmp(pdf)
    with pdf.open_metadata() as metadata:
        assert metadata["dc:title"] == str(pdf.docinfo["/Title"]) != ""
        assert metadata["dc:creator"] == [str(pdf.docinfo["/Author"])]


def test_07_001_and_002_the_title_is_shown(pdf: Any) -> None:
    assert pdf.Root.ViewerPreferences.DisplayDocTitle is True


def test_09_004_table_parts_stand_where_they_may(tabled: Any) -> None:
    allowed = {
        "/TR": {"/Table", "/THead", "/TBody", "/TFoot"},
        "/TH": {"/TR"},
        "/TD": {"/TR"},
        "/THead": {"/Table"},
        "/TBody": {"/Table"},
    }
    seen = set()
    for element, parent in elements(tabled):
        if str(element.S) in allowed:
            assert str(parent.S) in allowed[str(element.S)]
            seen.add(str(element.S))
        if str(element.S) in ("/Table", "/TR"):
            assert not [kid for kid in kids(element) if isinstance(kid, int)]
    assert {"/TR", "/TH", "/TD"} <= seen


def test_09_005_list_parts_stand_where_they_may(pdf: Any) -> None:
    allowed = {"/LI": {"/L"}, "/Lbl": {"/LI"}, "/LBody": {"/LI"}}
    found = [(str(e.S), str(p.S)) for e, p in elements(pdf) if str(e.S) in allowed]
    assert found
    assert all(parent in allowed[role] for role, parent in found)


def test_10_001_every_character_has_its_unicode(pdf: Any) -> None:
    seen = 0
    for page in pdf.pages:
        known: dict[str, set[int]] = {}
        for name, codes in shown_codes(page):
            if name not in known:
                known[name] = mapped_codes(page.Resources.Font[name])
            assert set(codes) <= known[name], page.Resources.Font[name].BaseFont
            seen += len(codes)
    assert seen > 100


def mapped_codes(font: Any) -> set[int]:
    """The codes that a font's ToUnicode gives a character for."""
    found: set[int] = set()
    table = font.ToUnicode.read_bytes()
    for block in re.findall(rb"beginbfchar(.*?)endbfchar", table, re.S):
        found |= {int(code, 16) for code in re.findall(rb"<(\w+)>\s*<\w+>", block)}
    for block in re.findall(rb"beginbfrange(.*?)endbfrange", table, re.S):
        for first, last in re.findall(rb"<(\w+)>\s*<(\w+)>\s*[<\[]", block):
            found |= set(range(int(first, 16), int(last, 16) + 1))
    return found


def shown_codes(page: Any) -> Iterator[tuple[str, list[int]]]:
    """(font's name, character codes) of every text that a page shows."""
    name, size = "", 1
    kept: list[tuple[str, int]] = []
    for operands, operator in pikepdf.parse_content_stream(page):
        if str(operator) == "q":
            kept.append((name, size))
        elif str(operator) == "Q":
            name, size = kept.pop()
        elif str(operator) == "Tf":
            name = str(operands[0])
            size = 2 if "/DescendantFonts" in page.Resources.Font[name] else 1
        elif str(operator) in ("Tj", "TJ"):
            parts = operands[0] if str(operator) == "TJ" else operands
            codes = b"".join(bytes(part) for part in parts if isinstance(part, pikepdf.String))
            yield name, [int.from_bytes(codes[at : at + size]) for at in range(0, len(codes), size)]


def test_11_001_and_006_the_language_is_declared(pdf: Any) -> None:
    assert re.fullmatch(r"[a-z]{2,3}(-[A-Za-z0-9]+)*", str(pdf.Root.Lang))
    assert f"<dc:language><rdf:Bag><rdf:li>{pdf.Root.Lang}<" in xmp(pdf)


def test_13_004_every_figure_has_its_alternative_text(pdf: Any) -> None:
    figures = [element for element, _ in elements(pdf) if str(element.S) == "/Figure"]
    assert figures
    assert all(str(figure.Alt).strip() for figure in figures)


def test_14_002_and_003_headings_begin_with_h1_and_skip_none(pdf: Any) -> None:
    levels = [
        int(str(element.S)[2:])
        for element, _ in elements(pdf)
        if re.fullmatch(r"/H[1-6]", str(element.S))
    ]
    assert levels[0] == 1
    assert all(after <= before + 1 for before, after in pairwise(levels))


def test_15_003_every_table_head_says_what_it_is_the_head_of(tabled: Any) -> None:
    heads = [element for element, _ in elements(tabled) if str(element.S) == "/TH"]
    assert heads
    assert {str(head.A.Scope) for head in heads} <= {"/Column", "/Row", "/Both"}
    assert all(str(head.A.O) == "/Table" for head in heads)


def test_21_001_and_26_001_nothing_is_embedded_or_encrypted(pdf: Any) -> None:
    assert not pdf.is_encrypted
    assert "/EmbeddedFiles" not in pdf.Root.get("/Names", {})
    assert "/AA" not in pdf.Root and "/OpenAction" not in pdf.Root


def test_28_008_and_009_tabs_follow_the_structure(pdf: Any) -> None:
    assert all(str(page.Tabs) == "/S" for page in pdf.pages)


def test_28_011_and_012_links_stand_in_link_elements_and_say_what_they_are(pdf: Any) -> None:
    in_tree = [
        kid.Obj.objgen
        for element, _ in elements(pdf)
        if str(element.S) == "/Link"
        for kid in kids(element)
        if isinstance(kid, Dictionary) and str(kid.get("/Type")) == "/OBJR"
    ]
    annotations = [note for page in pdf.pages for note in page.get("/Annots", ())]
    assert [note.objgen for note in annotations] == in_tree
    assert all(str(note.Contents).strip() for note in annotations)
    numbers = pdf.Root.StructTreeRoot.ParentTree.Nums
    parents = {int(numbers[at]): numbers[at + 1] for at in range(0, len(numbers), 2)}
    for note in annotations:
        assert str(parents[int(note.StructParent)].S) == "/Link"


def test_31_006_composite_fonts_map_their_glyphs(pdf: Any) -> None:
    composite = [font for font in fonts(pdf) if "/DescendantFonts" in font]
    assert composite
    assert all(str(font.DescendantFonts[0].CIDToGIDMap) == "/Identity" for font in composite)


def test_31_009_every_font_is_embedded(pdf: Any) -> None:
    assert all("/FontFile2" in descriptor(font) for font in fonts(pdf))


def test_31_017_widths_agree_with_the_font_programs(pdf: Any) -> None:
    from fontTools.ttLib import TTFont

    checked = 0
    for font in fonts(pdf):
        program = TTFont(io.BytesIO(descriptor(font).FontFile2.read_bytes()))
        metrics, em = program["hmtx"].metrics, program["head"].unitsPerEm
        if "/DescendantFonts" in font:
            order = program.getGlyphOrder()
            array = font.DescendantFonts[0].W
            for offset, width in enumerate(array[1]):
                real = metrics[order[int(array[0]) + offset]][0] * 1000 / em
                assert abs(float(width) - real) < 1
                checked += 1
    assert checked > 3


def test_31_020_simple_fonts_have_a_plain_encoding(pdf: Any) -> None:
    every = list(fonts(pdf))
    assert every
    for font in every:
        if "/DescendantFonts" in font:
            assert font.Encoding == "/Identity-H"
            continue
        assert str(font.Encoding) in ("/WinAnsiEncoding", "/MacRomanEncoding")
        assert int(font.FontDescriptor.Flags) & 32  # non-symbolic
        assert not int(font.FontDescriptor.Flags) & 4


def test_31_030_no_text_shows_a_missing_glyph(pdf: Any) -> None:
    for page in pdf.pages:
        for name, codes in shown_codes(page):
            if "/DescendantFonts" in page.Resources.Font[name]:
                assert 0 not in codes


def test_the_tree_says_what_the_page_was_told_to_say(rich: Any) -> None:
    roles = {role: [e for e, _ in elements(rich) if str(e.S) == role] for role in STANDARD}
    assert [str(e.Alt) for e in roles["/Figure"]] == ["Colour chart, 4 cords by 2 rows."]
    assert [str(e.A.Scope) for e in roles["/TH"]] == ["/Column", "/Column", "/Row"]
    notes = [note for page in rich.pages for note in page.get("/Annots", ())]
    assert [str(note.Contents) for note in notes] == ["the chart", "web", "the top"]
    assert str(rich.Root.Lang) == "en-GB"
    assert str(rich.docinfo["/Title"]) == "Kingfisher & Reeds"

"""Chart, rows, key, lists and plan.json say the same numbers: read from the PDF's own text."""

from __future__ import annotations

import re
from collections import Counter
from dataclasses import replace

import pypdfium2
import pytest

from publisher.layout import lay_out_bench, lay_out_text
from publisher.model.pattern import Pattern
from publisher.plan import plan_as_json
from publisher.press import print_book
from tests.support.shop import SLUGS, book, demo, demo_pdf, demo_plan, installed, manuscript

RUN = re.compile(r"(\d+)\s(\S)(?=,|$)")


def pages(pdf: bytes) -> list[str]:
    """The text of every page, by an engine that is not ours."""
    document = pypdfium2.PdfDocument(pdf)
    try:
        texts = [page.get_textpage().get_text_range() for page in document]
        return [re.sub(r" ?\r\n", "\n", text).replace("\u00a0", " ") for text in texts]
    finally:
        document.close()


def written_rows(texts: list[str]) -> dict[int, tuple[str, list[tuple[int, str]]]]:
    """Row → arrow and runs, as printed; a row's runs may go over several lines."""
    rows: dict[int, tuple[str, list[tuple[int, str]]]] = {}
    current: int | None = None
    for line in "\n".join(texts).split("\n"):
        start = re.match(r"(\d+) ([→←]) (.*)", line)
        if start and start[3] == "continued":
            current = None
            continue
        if start:
            current = int(start[1])
            rows[current] = (start[2], [])
            line = start[3]
        elif current is None or not re.fullmatch(r"(\d+ \S, )*\d+ \S,?", line.strip()):
            current = None
            continue
        runs = [(int(n), letter) for n, letter in RUN.findall(line.strip())]
        rows[current][1].extend(runs)
    return rows


STARTED = re.compile(
    r"(?:start|join a new length of|join) ([A-Z])\d+(?: \(|, )?([\d½¼¾]+ (?:cm|in)\b)?"
)
"""A start or join; and how long it is cut, in brackets or, in brief, after a comma. In a booklet,
what follows a comma is the tail, which is told of every start alike."""


def told_lengths(said: str, *, brief: bool = False) -> Counter[tuple[str, str]]:
    """How often a colour's yarns are started or joined, by the lengths that the rows tell."""
    text = " ".join(said.replace("\u00a0", " ").split())
    found = re.search(r"Take a length of ([\d½¼¾]+ (?:cm|in)) where none is told", text)
    full = found[1] if found else ""
    return Counter(
        (match[1], match[2] if match[2] and (brief or "(" in match[0]) else full)
        for match in STARTED.finditer(text)
    )


def listed_lengths(texts: list[str], pattern: Pattern) -> Counter[tuple[str, str]]:
    """The same by the working yarn of the printed cutting list, in the system that stands first."""
    text = " ".join("\n".join(texts).replace("\n", " ").split())
    working = re.split(r"Cords to cut|Together", text[text.index("Working yarn") :])[0]
    unit = "cm" if pattern.units == "metric-first" else "in"
    names = {f"{colour.letter} {colour.name}": colour.letter for colour in pattern.colours}
    parts = re.split("(" + "|".join(map(re.escape, names)) + ")", working)
    lengths: Counter[tuple[str, str]] = Counter()
    for name, row in zip(parts[1::2], parts[2::2], strict=True):
        count, first, _, others = re.match(
            rf"\s*(\d+) (\S+) (\S+) (?:(.+?) {unit}\b)?", row
        ).groups()
        lengths[names[name], f"{first.removesuffix('.0')} {unit}"] += int(count)
        for other in others.split(", ") if others else ():
            times, length = re.fullmatch(r"(?:(\d+) × )?(\S+)", other).groups()
            lengths[names[name], f"{length} {unit}"] += int(times or 1)
    return lengths


def table_row(texts: list[str], name: str) -> list[list[str]]:
    """The words of every line that begins with a colour's letter and name, after it."""
    found = []
    for line in "\n".join(texts).split("\n"):
        if line.startswith(name + " "):
            found.append(line.removeprefix(name + " ").split(" "))
    return found


@pytest.fixture(scope="module", params=SLUGS)
def slug(request: pytest.FixtureRequest) -> str:
    return str(request.param)


def test_the_written_rows_are_the_chart(slug: str) -> None:
    piece = demo(slug).pieces[0]
    rows = written_rows(pages(demo_pdf(slug)))
    assert sorted(rows) == list(range(1, piece.rows + 1))
    for number, (arrow, runs) in rows.items():
        cells = "".join(letter * count for count, letter in runs)
        picture = piece.cells[number - 1]
        assert cells == (picture if arrow == "→" else picture[::-1]), f"row {number}"
        assert (arrow == "→") == (number % 2 == 1)


def test_key_rows_and_plan_count_the_same_knots(slug: str) -> None:
    texts = pages(demo_pdf(slug))
    plan = plan_as_json(demo_plan(slug))
    panel = plan["pieces"][0]
    from_rows = Counter()
    for _, runs in written_rows(texts).values():
        for count, letter in runs:
            from_rows[letter] += count
    assert dict(from_rows) == panel["knots"]
    together = "\n".join(texts)
    for colour in demo(slug).colours:
        count = panel["knots"][colour.letter]
        entry = f"{colour.letter} {colour.name}\n{count:,} knots"
        assert entry in together, f"the key says otherwise of {colour.letter}"


def test_the_shopping_list_is_the_plans(slug: str) -> None:
    texts = pages(demo_pdf(slug))
    names = {colour.letter: colour.name for colour in demo(slug).colours}
    knots = plan_as_json(demo_plan(slug))["pieces"][0]["knots"]
    for line in plan_as_json(demo_plan(slug))["shopping"]:
        letter = line["colour"]
        printed = table_row(texts, f"{letter} {names[letter]}")
        wanted = [f"{knots.get(letter, 0):,}", f"{line['length_m']:,.0f}"]
        assert any(words[:2] == wanted for words in printed), (letter, printed)


def test_the_cutting_list_covers_every_yarn_of_the_plan(slug: str) -> None:
    """What is cut of a colour is at least what its yarns need; never short."""
    plan = plan_as_json(demo_plan(slug))
    needed: Counter[str] = Counter()
    for piece in plan["pieces"]:
        for yarn in piece.get("yarns", []):
            needed[yarn["colour"]] += yarn["length_mm"] * piece["make"]
    cut: Counter[str] = Counter()
    for line in plan["cutting_list"]:
        if line["for"] == "working yarn":
            cut[line["colour"]] += line["count"] * line["length_mm"]
    for letter, length in needed.items():
        assert cut[letter] >= length


@pytest.mark.parametrize("units", ["metric-first", "inch-first"])
def test_rows_tell_the_lengths_of_the_cutting_list(slug: str, units: str) -> None:
    """Every start and join with its length: the full one, or its own. Together they are what the
    cutting list has a maker cut, and what the plan has."""
    pattern = replace(demo(slug), units=units)
    texts = pages(print_book(book(pattern)))
    listed = listed_lengths(texts, pattern)
    assert told_lengths("\n".join(texts)) == listed
    planned = Counter[str]()
    for line in demo_plan(slug).cutting_list:
        if line.purpose == "working yarn":
            planned[line.colour] += line.count
    counts = Counter[str]()
    for (letter, _), count in listed.items():
        counts[letter] += count
    assert counts == planned


def test_other_editions_tell_the_same_lengths() -> None:
    pattern = demo("kingfisher-over-reeds")
    listed = listed_lengths(pages(demo_pdf(pattern.slug)), pattern)
    handout = "\n".join(pages(demo_pdf(pattern.slug, "handout")))
    assert told_lengths(handout, brief=True) == listed
    assert told_lengths(lay_out_text(manuscript(pattern, "plain-text"))) == listed
    bench = lay_out_bench(manuscript(pattern, "at-the-bench"), installed())
    assert told_lengths(re.sub(r"<[^>]*>", "", bench)) == listed
    notes = [note for row in demo_plan(pattern.slug).charts[0].row_list for note in row.notes]
    cut = Counter((n.yarn[0], f"{n.cut_mm / 10:g} cm") for n in notes if n.cut_mm)
    assert cut == listed


def test_page_numbers_in_the_text_lead_to_what_they_name(slug: str) -> None:
    texts = pages(demo_pdf(slug))
    contents = dict(re.findall(r"^(.+?) (\d+)$", texts[1], re.M))
    number = int(contents["The rows in words"])
    assert "1 → " in texts[number - 1] or "1 ← " in texts[number - 1]
    glossary = int(re.findall(r"\(page (\d+)\)", "\n".join(texts))[0])
    assert "double half hitch" in texts[glossary - 1].lower()

"""Lists of buyers as spreadsheets save them, and file names for any buyer."""

from __future__ import annotations

import csv
import re
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from publisher.errors import SourceError
from publisher.press import Buyer, copy_names, read_buyers, safe_file_name


def saved(folder: Path, text: str, encoding: str = "utf-8") -> Path:
    path = folder / "buyers.csv"
    path.write_bytes(text.encode(encoding))
    return path


@pytest.mark.parametrize(
    "text",
    [
        "buyer,order\nMaren Weir,RB-1\nŁucja,RB-2\n",
        "\ufeffbuyer;order\r\nMaren Weir;RB-1\r\nŁucja;RB-2\r\n",
        "Order\tBuyer\nRB-1\tMaren Weir\nRB-2\tŁucja",
        ' buyer , order , note \n"Maren Weir" ,RB-1,x\n\n ,,\nŁucja, RB-2\n',
    ],
)
def test_buyers_are_read_however_the_table_was_saved(tmp_path: Path, text: str) -> None:
    assert read_buyers(saved(tmp_path, text)).buyers == (
        Buyer("Maren Weir", "RB-1"),
        Buyer("Łucja", "RB-2"),
    )


def test_orders_may_be_left_out_and_names_may_hold_commas(tmp_path: Path) -> None:
    path = saved(tmp_path, 'buyer\n"Weir, Maren"\n')
    assert read_buyers(path).buyers == (Buyer("Weir, Maren", ""),)
    path = saved(tmp_path, 'buyer,order\n"Maren ""Mo"" Weir", 7\n')
    assert read_buyers(path).buyers == (Buyer('Maren "Mo" Weir', "7"),)


def test_every_line_without_a_buyer_is_named(tmp_path: Path) -> None:
    path = saved(tmp_path, "buyer,order\nMaren,1\n,2\nJonas,3\n ,4\n")
    with pytest.raises(SourceError) as caught:
        read_buyers(path)
    assert [problem.place.line for problem in caught.value.problems] == [3, 5]


@pytest.mark.parametrize(
    ("text", "encoding", "message"),
    [
        ("name,order\nMaren,1\n", "utf-8", "1: there is no column “buyer”"),
        ("", "utf-8", "1: there is no column “buyer”"),
        ("buyer,order\n", "utf-8", "1: no buyer is listed"),
        ("buyer\nZoë\n", "latin-1", "the file is not UTF-8"),
    ],
)
def test_what_is_no_list_of_buyers_is_told(
    tmp_path: Path, text: str, encoding: str, message: str
) -> None:
    with pytest.raises(SourceError, match=message):
        read_buyers(saved(tmp_path, text, encoding))


STRAY = "a quotation mark is not closed in its line, or stands inside a cell"


@pytest.mark.parametrize(
    ("text", "told"),
    [
        ('buyer,order\n"Maren,1\nJonas,2\nAsa,3\n', [f"2: {STRAY}"]),
        ('buyer,order\n"Maren,1\nJonas,2\nAsa",3\n', [f"2: {STRAY}", f"4: {STRAY}"]),
        ('buyer,order\nMaren "Mo" Weir,1\n', [f"2: {STRAY}"]),
        ('buyer,order\n"Maren" Weir,1\n', [f"2: {STRAY}"]),
        ('buyer,order\nMaren,"1\n\nJonas,"2"\n', [f"2: {STRAY}"]),
        ('buyer\n"' + "a" * 200_000, [f"2: {STRAY}"]),
        ("buyer\n" + '"' * 200_001, [f"2: {STRAY}"]),
        ('"buyer,order\nMaren,1\n', [f"1: {STRAY}"]),
        ('buyer,order\n"Maren\nWeir",1\n', [f"2: {STRAY}", f"3: {STRAY}"]),
        ("buyer,order\nMaren\u2028Weir,1\n", ["2: the buyer has a line break in it"]),
        ("buyer,order\nMaren,1\x0b2\n", ["2: the order has the invisible sign U+000B in it"]),
        ("buyer,order\nMa\0ren,1\n", ["2: the buyer has the invisible sign U+0000 in it"]),
        ("buyer,order\nMaren,1\n\u200b\u200d,2\n", ["3: there is no name"]),
        ("buyer,order\n\u3164,1\n\u00ad\u2060,2\n", ["2: there is no name", "3: there is no name"]),
        ("Buyer,order,buyer \nMaren,1,Jonas\n", ["1: 2 columns are called “buyer”"]),
        ("buyer;order;ORDER\nMaren;1;2\n", ["1: 2 columns are called “order”"]),
        ("buyer,order\nWeir, Maren,1\n", ["2: this line has 3 cells, but there are 2 columns"]),
        ("buyer,order\nMaren;1\n", ["2: this line has 1 cell, but there are 2 columns"]),
    ],
)
def test_whatever_could_give_a_buyer_anothers_copy_is_told_by_its_line(
    tmp_path: Path, text: str, told: list[str]
) -> None:
    """A cell may hold quotation marks only if it stands in some, with each written twice
    (RFC 4180, section 2); ours hold no line break either."""
    path = saved(tmp_path, text)
    with pytest.raises(SourceError) as caught:
        read_buyers(path)
    said = [str(problem) for problem in caught.value.problems]
    assert [line.partition("; ")[0] for line in said] == [f"{path}:{line}" for line in told]
    assert all("; " in line for line in said), "with what to do"


def test_columns_that_nothing_is_read_from_are_told(tmp_path: Path) -> None:
    path = saved(tmp_path, "buyer,oder,,E-mail\nMaren,1,,m@example.org\n")
    found = read_buyers(path)
    assert found.buyers == (Buyer("Maren"),)
    (note,) = found.notes
    assert str(note).startswith(f"{path}:1: nothing is read from “oder” and “e-mail”; ")
    assert not read_buyers(saved(tmp_path, "buyer,order\nMaren,1,,\n")).notes


CELLS = st.text(st.characters(codec="utf-8", exclude_categories=("Cc", "Zl", "Zp")), max_size=12)


@given(st.lists(st.tuples(CELLS, CELLS), max_size=6), st.sampled_from(",;\t"), st.booleans())
def test_what_the_standard_library_writes_is_read_as_it_was_meant(
    tmp_path_factory: pytest.TempPathFactory,
    rows: list[tuple[str, str]],
    delimiter: str,
    every: bool,
) -> None:
    """Against Python's own csv module, in two of its ways to quote."""
    path = tmp_path_factory.mktemp("lists") / "buyers.csv"
    with path.open("w", encoding="utf-8", newline="") as file:
        writer = csv.writer(
            file, delimiter=delimiter, quoting=csv.QUOTE_ALL if every else csv.QUOTE_MINIMAL
        )
        writer.writerows([("buyer", "order"), *rows, ("last", "")])
    meant = [(buyer.strip(), order.strip()) for buyer, order in rows]
    seen = [pair for pair in meant if any(pair)]
    if all(re.search(r"\w", buyer) for buyer, _ in seen):
        found = read_buyers(path).buyers
        assert [(one.buyer, one.order) for one in found] == [*seen, ("last", "")]


def test_a_missing_list_is_told(tmp_path: Path) -> None:
    with pytest.raises(SourceError, match="No such file"):
        read_buyers(tmp_path / "none.csv")


@pytest.mark.parametrize(
    ("buyer", "name"),
    [
        ("Maren Weir", "Maren-Weir"),
        ("Łucja Wójcik & Söhne", "Lucja-Wojcik-Sohne"),
        ("../../etc/passwd", "etc-passwd"),
        ("C:\\Windows\\con", "C-Windows-con"),
        ("con", "buyer-con"),
        ("LPT1.txt", "buyer-LPT1.txt"),
        ("李小龙", "LiXiaoLong"),
        (".hidden.", "hidden"),
        ("O'Neill", "ONeill"),
        ("  ", "buyer"),
        ("", "buyer"),
        ("\x00\n", "buyer"),
    ],
)
def test_names_become_safe_file_names(buyer: str, name: str) -> None:
    assert safe_file_name(buyer) == name


@given(st.text())
def test_any_name_is_safe_on_any_file_system(buyer: str) -> None:
    name = safe_file_name(buyer)
    assert re.fullmatch(r"[A-Za-z0-9][A-Za-z0-9.-]{0,70}", name)
    assert ".." not in name and not name.endswith((".", "-"))
    assert not re.match(r"(?i)(con|prn|aux|nul|com\d|lpt\d)(\.|$)", name)


def test_buyers_of_one_name_are_counted() -> None:
    names = copy_names("reeds", [Buyer("Ann"), Buyer("Ann 2"), *[Buyer("ann")] * 20_000])
    assert names[:4] == ["reeds-Ann.pdf", "reeds-Ann-2.pdf", "reeds-ann-3.pdf", "reeds-ann-4.pdf"]
    assert names[-1] == "reeds-ann-20002.pdf"


@given(st.lists(st.builds(Buyer, st.sampled_from(["Ann", "ANN", "ann!", "Bo", "Ann-2"]),
                          st.sampled_from(["", "2", "7"])), max_size=12))  # fmt: skip
def test_no_two_copies_have_one_name(buyers: list[Buyer]) -> None:
    names = copy_names("reeds-1.0", buyers)
    assert len({name.lower() for name in names}) == len(buyers)
    assert all(name.startswith("reeds-1.0-") and name.endswith(".pdf") for name in names)

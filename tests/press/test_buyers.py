"""Lists of buyers as spreadsheets save them, and file names for any buyer."""

from __future__ import annotations

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
    assert read_buyers(saved(tmp_path, text)) == (
        Buyer("Maren Weir", "RB-1"),
        Buyer("Łucja", "RB-2"),
    )


def test_orders_may_be_left_out_and_names_may_hold_commas(tmp_path: Path) -> None:
    path = saved(tmp_path, 'buyer\n"Weir, Maren"\n')
    assert read_buyers(path) == (Buyer("Weir, Maren", ""),)


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
        ('buyer\n"' + "a" * 200_000, "utf-8", "field larger than field limit"),
    ],
)
def test_what_is_no_list_of_buyers_is_told(
    tmp_path: Path, text: str, encoding: str, message: str
) -> None:
    with pytest.raises(SourceError, match=message):
        read_buyers(saved(tmp_path, text, encoding))


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

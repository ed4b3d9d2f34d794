"""Another chart and other colours in a pattern's file, and every other byte as it was."""

from __future__ import annotations

import tomllib
from pathlib import Path

import pytest

from publisher.errors import SourceError
from publisher.model.colour import Colour
from publisher.model.pattern import CarryLimit, Pattern, Yarn, YarnColour
from publisher.source import read_pattern
from publisher.source.newchart import chart_text, charted_pattern, colour_table
from publisher.source.rewrite import Change, letters_in_use, rewrite
from publisher.tables.text_files import as_read, read_raw_text

PATTERNS = Path(__file__).parents[2] / "patterns"
COTTON = Yarn("cotton", "cotton", 3.0, 4.5)
ROWS = ("XYX", "YXY")
NEW = tuple(
    YarnColour(letter, name, Colour.from_hex(srgb), COTTON)
    for letter, name, srgb in (("X", "red", "#b03020"), ("Y", "{pale} sand", "#f0e0c0"))
)
TEXT = """\
# My words, above all.
format = 1
title = "Mill pond"   # its name
version = "1.0"

# The sky.
[colours.S]  # S for sky
name = "sky"
srgb = "#a0c0e0"
yarn = "cotton"  # soft


# The reeds,
# which stand in the water.
[colours.R]
name = "reed"
srgb = "#405030"
yarn = "cotton"

[yarns.cotton]
name = "cotton"
diameter_mm = 3.0
grams_per_metre = 4.5

[[pieces]]
id = "panel"       # the large one
chart = '''
SSRS
SRRS
'''   # drawn by hand
tail_mm = 90

[[pieces]]
id = "reed"
kind = "steps"
cords = [{ colour = "R", lay = "across" }]
steps = [{ tie = "overhand", on = [1] }]
# The end."""


def pattern(tmp_path: Path, text: str) -> Pattern:
    path = tmp_path / "mill-pond.toml"
    path.write_bytes(text.encode())
    return read_pattern(path)


def rewritten(tmp_path: Path, text: str = TEXT, stay: frozenset[str] | None = frozenset()) -> str:
    old = pattern(tmp_path, text)
    return rewrite(read_raw_text(Path(old.path)), old, Change(ROWS, NEW, stay))


def test_chart_and_colours_are_replaced_and_nothing_else(tmp_path: Path) -> None:
    sky = TEXT[TEXT.index("[colours.S]") : TEXT.index("\n\n# The reeds")]
    chart = TEXT[TEXT.index("'''") : TEXT.rindex("'''") + 3]
    tables = "\n".join(colour_table(colour) for colour in NEW)
    wanted = TEXT.replace(sky, tables).replace(chart, chart_text(ROWS))
    assert rewritten(tmp_path) == wanted
    again = pattern(tmp_path, rewritten(tmp_path))
    assert again.charts[0].cells == ROWS
    assert [colour.letter for colour in again.colours] == ["X", "Y", "R"]


def test_colours_stay_and_new_ones_follow_the_last(tmp_path: Path) -> None:
    reed = TEXT[TEXT.index("[colours.R]") : TEXT.index("\n[yarns")]
    chart = TEXT[TEXT.index("'''") : TEXT.rindex("'''") + 3]
    tables = "\n".join(colour_table(colour) for colour in NEW)
    wanted = TEXT.replace(reed, f"{reed}\n{tables}").replace(chart, chart_text(ROWS))
    assert rewritten(tmp_path, stay=None) == wanted


def test_a_colour_that_will_do_stays_where_it_is(tmp_path: Path) -> None:
    old = pattern(tmp_path, TEXT)
    new = rewrite(TEXT, old, Change(("SXS", "XSX"), NEW[:1], frozenset("S")))
    assert [colour.letter for colour in read_pattern(old.path, text=new).colours] == ["S", "R", "X"]
    nothing = rewrite(TEXT, old, Change(("SSRS", "SRRS"), (), frozenset("S")))
    assert nothing == TEXT.replace("'''\nSSRS", '"""\nSSRS').replace("SRRS\n'''", 'SRRS\n"""')


@pytest.mark.parametrize("mark", ["", "\ufeff"])
def test_line_ends_and_the_mark_before_the_text_stay(tmp_path: Path, mark: str) -> None:
    text = mark + TEXT.replace("\n", "\r\n")
    new = rewritten(tmp_path, text)
    assert new.startswith(mark + "# My words")
    assert new.replace("\r\n", "\n").removeprefix(mark) == rewritten(tmp_path, TEXT)
    assert new.count("\n") == new.count("\r\n")


def test_a_picture_makes_way_for_the_chart(tmp_path: Path) -> None:
    for name in ("lantern-window.toml", "lantern-window.png", "house.toml"):
        (tmp_path / name).write_bytes((PATTERNS / name).read_bytes())
    old = read_pattern(tmp_path / "lantern-window.toml")
    rows = ("NDTAY", "YATDN")
    new = rewrite(read_raw_text(Path(old.path)), old, Change(rows, (), None))
    before = (PATTERNS / "lantern-window.toml").read_text()
    assert new == before.replace('chart_file = "lantern-window.png"', f"chart = {chart_text(rows)}")


@pytest.mark.parametrize("path", sorted(PATTERNS.glob("*.toml")), ids=lambda path: path.stem)
def test_demo_patterns_keep_every_line_that_is_not_replaced(path: Path) -> None:
    if path.stem in ("house", "lock-keepers-key-cord"):
        pytest.skip("it has no chart")
    old, raw = read_pattern(path), read_raw_text(path)
    stay = letters_in_use(old, raw)
    yarn = old.colours[0].yarn
    letters = [letter for letter in "XYZQ" if letter not in stay][:2]
    new_colours = tuple(
        YarnColour(letter, "new", Colour(at, 2, 3), yarn) for at, letter in enumerate(letters)
    )
    rows = (letters[0] * 200, letters[1] * 200) * 300
    new = rewrite(raw, old, Change(rows, new_colours, frozenset()))
    pattern = read_pattern(path, text=as_read(new))
    assert pattern.charts[0].cells == rows
    assert {colour.letter for colour in pattern.colours} == {*stay, *letters}
    lines = iter(new.splitlines())
    data = tomllib.loads(raw)
    gone = {row for piece in data["pieces"][:1] for row in piece.get("chart", "").splitlines()}
    for line in raw[raw.index("[[pieces]]") :].splitlines():
        if line not in gone and not line.startswith("chart"):
            assert line in lines  # in this order


def test_letters_that_others_need(tmp_path: Path) -> None:
    assert letters_in_use(pattern(tmp_path, TEXT), TEXT) == {"R"}
    second = TEXT + '\n[[pieces]]\nid = "small"\nchart = "SS"\ncords = { colour = "R" }\n'
    assert letters_in_use(pattern(tmp_path, second), second) == {"R", "S"}
    hung = TEXT.replace("tail_mm = 90", 'cords = { colour = "S" }')
    assert letters_in_use(pattern(tmp_path, hung), hung) == {"R", "S"}


def test_the_first_colour_stays_where_another_chart_hangs_on_it(tmp_path: Path) -> None:
    """A chart that names no colour for its cords has the file's first."""
    second = TEXT + '\n[[pieces]]\nid = "small"\nchart = "RR"\n'
    assert letters_in_use(pattern(tmp_path, second), second) == {"R", "S"}
    again = pattern(tmp_path, rewritten(tmp_path, second))
    assert again.charts[1].cords.colour == "S"


INLINE = [
    TEXT.replace(
        TEXT[TEXT.index("[colours.S]") : TEXT.index("\n\n# The reeds")],
        '[colours]\nS = { name = "sky", srgb = "#a0c0e0", yarn = "cotton" }\n',
    ),
    "colours.S = { name = 'sky', srgb = '#a0c0e0', yarn = 'cotton' }\n"
    "colours.R = { name = 'reed', srgb = '#405030', yarn = 'cotton' }\n"
    + TEXT[: TEXT.index("# The sky")]
    + TEXT[TEXT.index("[yarns") :],
    TEXT.replace("\n", "\r"),
]


@pytest.mark.parametrize(
    "text", INLINE, ids=["under one head", "on lines of their own", "old ends"]
)
def test_what_can_not_be_changed_alone_is_left_alone(tmp_path: Path, text: str) -> None:
    with pytest.raises(SourceError, match="can't be replaced alone; write each colour under a li"):
        rewritten(tmp_path, text)


def test_letters_that_need_quotes(tmp_path: Path) -> None:
    text = (
        TEXT.replace("[colours.S]", '[colours."#"]').replace("SSRS", "##R#").replace("SRRS", "#RR#")
    )
    assert letters_in_use(pattern(tmp_path, text), text) == {"R"}
    again = pattern(tmp_path, rewritten(tmp_path, text))
    assert [colour.letter for colour in again.colours] == ["X", "Y", "R"]


def test_a_colour_is_written_as_it_is_read(tmp_path: Path) -> None:
    for carry in (None, CarryLimit(0, 0), CarryLimit(along_row=True), CarryLimit(4, 1)):
        colour = YarnColour('"', 'half "dark" \\ grey', Colour(1, 2, 3), COTTON, carry)
        table = colour_table(colour)
        rows = ('S"S', 'SS"')
        text = TEXT.replace("# The reeds", f"{table}\n# The reeds")
        text = text.replace("'''\nSSRS\nSRRS\n'''", chart_text(rows))
        read = pattern(tmp_path, text)
        assert read.charts[0].cells == rows
        assert read.colours[1] == colour


@pytest.mark.parametrize("own_yarn", [True, False])
def test_a_new_file_reads_as_it_is_and_explains_itself(tmp_path: Path, own_yarn: bool) -> None:
    house = '[yarns.cotton]\nname = "cotton"\ndiameter_mm = 3.0\ngrams_per_metre = 4.5\n'
    if not own_yarn:
        (tmp_path / "house.toml").write_text(house)
    text = charted_pattern("mill-pond", NEW, ROWS, own_yarn=own_yarn, own_names=own_yarn)
    assert ("Their names are only descriptions" in text) == (not own_yarn)
    read = pattern(tmp_path, text)
    assert (read.title, read.colours) == ("Mill pond", NEW)
    assert read.charts[0].cords.colour == "X"
    assert read.charts[0].cells == ROWS
    assert max(map(len, text.splitlines())) <= 100
    assert "\n\n\n\n" not in text
    assert "    publisher build mill-pond\n" in text
    swatch = pattern(tmp_path, text.replace("# gauge", "gauge")).charts[0].gauge
    assert swatch.yarn_mm_per_knot == 66

"""A pattern's values: what was written, the house's settings under it, the defaults under both."""

from __future__ import annotations

import datetime
import tomllib
from pathlib import Path

import pytest

from publisher.errors import Place, SourceError
from publisher.model.colour import Colour
from publisher.model.parts import Tie
from publisher.model.pattern import CarryLimit, Cords, Fringe, Gauge, Mount, Pattern
from publisher.source import list_patterns, read_pattern

HEAD = """\
format = 1
title = "Reed Warbler"
version = "1.2.3"
"""
COLOURS = """\
[colours.N]
name = "night navy"
srgb = "#1f2A44"
yarn = "cotton-3"

[colours.W]
name = "chalk"
srgb = "#FFFFFF"
yarn = "cotton-3"
"""
YARN = """\
[yarns.cotton-3]
name = "3 mm cotton"
diameter_mm = 3
grams_per_metre = 4.5
"""
PIECE = """\
[[pieces]]
id = "panel"
chart = '''
NNWN
NWWN
'''
"""


def write(folder: Path, text: str, house: str | None = None, name: str = "reed-warbler") -> Path:
    if house is not None:
        (folder / "house.toml").write_text(house, encoding="utf-8")
    path = folder / f"{name}.toml"
    path.write_bytes(text.encode())
    return path


def read(folder: Path, top: str = "", piece: str = "", house: str | None = None) -> Pattern:
    text = HEAD + top + COLOURS + (YARN if house is None else "") + PIECE + piece
    return read_pattern(write(folder, text, house))


def problems(path: Path) -> list[str]:
    with pytest.raises(SourceError) as caught:
        read_pattern(path)
    return [str(problem).replace(f"{path.parent}/", "") for problem in caught.value.problems]


@pytest.mark.parametrize("letter", ["'", '"', "\\", "#", ".", "é", "x", "-"])
def test_hint_for_a_strange_letter_can_be_copied(tmp_path: Path, letter: str) -> None:
    """Whatever the letter is, the heading that is offered is one, and stands for it."""
    row = f"NN{letter}N".replace("\\", "\\\\")
    piece = PIECE.replace("'''", '"' * 3).replace("NNWN", row)
    (told,) = problems(write(tmp_path, HEAD + COLOURS + YARN + piece))
    heading = told.partition("add a colour ")[2].partition(", or change")[0]
    assert tomllib.loads(heading) == {"colours": {letter: {}}}


def test_hitches_may_be_worked_once_in_so_many_words(tmp_path: Path) -> None:
    hitch = 'tie = "horizontal-double-half-hitch", leader = 1, on = [2], times'
    part = f"""\
[[pieces]]
id = "leaf"
kind = "steps"
cords = [{{ colour = "N", lay = "single", count = 2 }}]
steps = [{{ {hitch} = 1 }}]
"""
    (piece,) = read_pattern(write(tmp_path, HEAD + COLOURS + YARN + part)).parts
    assert piece.steps == (Tie(knot="horizontal-double-half-hitch", leader=1, on=(2,)),)
    (told,) = problems(write(tmp_path, HEAD + COLOURS + YARN + part.replace("= 1 }", "= 2 }")))
    assert "can't be worked 2 times" in told


def test_what_a_pattern_leaves_out_has_its_usual_value(tmp_path: Path) -> None:
    pattern = read(tmp_path)
    (piece,) = pattern.pieces
    assert (pattern.slug, pattern.title, pattern.version) == (
        "reed-warbler",
        "Reed Warbler",
        "1.2.3",
    )
    assert (pattern.subtitle, pattern.designer, pattern.contact, pattern.level) == ("", "", "", "")
    assert (pattern.about, pattern.date, pattern.currency) == ((), None, None)
    assert (pattern.terms, pattern.units) == ("personal-use", "metric-first")
    assert pattern.files == (pattern.path,) == (str(tmp_path / "reed-warbler.toml"),)
    assert piece.cells == ("NNWN", "NWWN")
    assert (piece.make, piece.first_row_from, piece.order) == (1, "left", "zigzag")
    assert piece.knot == "vertical-double-half-hitch"
    assert piece.mount == Mount("larks-head", "dowel", 12.0)
    assert piece.cords == Cords("N", 2)
    assert piece.fringe == Fringe("straight", 150.0, 150.0)
    assert (piece.working_length_mm, piece.tail_mm) == (3000.0, 100.0)
    assert (piece.carry, piece.gauge) == (CarryLimit(6, 2), Gauge())
    assert (piece.allowance_percent, piece.seconds_per_knot) == (10.0, None)


def test_colours_keep_their_order_and_yarn(tmp_path: Path) -> None:
    pattern = read(tmp_path)
    assert [colour.letter for colour in pattern.colours] == ["N", "W"]
    navy = pattern.colour("N")
    assert navy.srgb == Colour(0x1F, 0x2A, 0x44)
    assert (navy.yarn.key, navy.yarn.diameter_mm, navy.yarn.grams_per_metre) == (
        "cotton-3",
        3.0,
        4.5,
    )


def test_own_values_come_before_the_houses(tmp_path: Path) -> None:
    house = (
        'designer = "Reedbank Knot Room"\ncontact = "Ask at the Knot Room"\ncurrency = "GBP"\n'
        'units = "inch-first"\nterms = "class-licence"\nallowance_percent = 12\n'
        "mount = { diameter_mm = 15 }\ncarry = { columns = 9, rows = 1 }\n" + YARN
    )
    plain = read(tmp_path, house=house)
    (piece,) = plain.pieces
    assert (plain.designer, plain.contact) == ("Reedbank Knot Room", "Ask at the Knot Room")
    assert (plain.currency, plain.units, plain.terms) == ("GBP", "inch-first", "class-licence")
    assert (piece.allowance_percent, piece.carry) == (12.0, CarryLimit(9, 1))
    assert piece.mount == Mount("larks-head", "dowel", 15.0)
    assert plain.files == (plain.path, str(tmp_path / "house.toml"))

    own = read(
        tmp_path,
        top='designer = "N. N."\nunits = "metric-first"\nallowance_percent = 8\n',
        piece='mount = { knot = "reverse-larks-head" }\ncarry = { rows = 0 }\n',
        house=house,
    )
    (piece,) = own.pieces
    assert (own.designer, own.units, piece.allowance_percent) == ("N. N.", "metric-first", 8.0)
    assert piece.mount == Mount("reverse-larks-head", "dowel", 15.0), "key by key"
    assert piece.carry == CarryLimit(9, 0)


def test_a_pieces_own_values_come_before_its_patterns_and_those_before_the_houses(
    tmp_path: Path,
) -> None:
    house = (
        'allowance_percent = 12\nmount = { knot = "reverse-larks-head", diameter_mm = 15 }\n'
        "carry = { columns = 9, rows = 1 }\n" + YARN
    )
    top = "allowance_percent = 8\nmount = { diameter_mm = 14 }\ncarry = { columns = 7 }\n"
    own = "allowance_percent = 6\nmount = { diameter_mm = 9 }\ncarry = { columns = 5 }\n"
    for text, percent, mount_mm, columns in (("", 8.0, 14.0, 7), (own, 6.0, 9.0, 5)):
        (piece,) = read(tmp_path, top=top, piece=text, house=house).pieces
        assert piece.allowance_percent == percent
        assert piece.mount == Mount("reverse-larks-head", "dowel", mount_mm)
        assert piece.carry == CarryLimit(columns, 1)


def test_house_can_be_elsewhere_or_none(tmp_path: Path) -> None:
    path = write(tmp_path, HEAD + COLOURS + PIECE, house="designer = 'here'\n" + YARN)
    other = tmp_path / "other.toml"
    other.write_text("designer = 'there'\n" + YARN)
    assert read_pattern(path).designer == "here"
    assert read_pattern(str(path), other).designer == "there"
    with pytest.raises(SourceError, match="of a yarn cotton-3, but there is none"):
        read_pattern(path, house=None)


def test_own_yarn_hides_the_houses(tmp_path: Path) -> None:
    text = HEAD + COLOURS + YARN + PIECE
    path = write(tmp_path, text, house=YARN.replace("= 3\n", "= 5\n"))
    assert read_pattern(path).colours[0].yarn.diameter_mm == 3.0


def test_tex_is_grams_a_kilometre(tmp_path: Path) -> None:
    """ISO 1144: tex is the mass of a kilometre in grams."""
    text = HEAD + COLOURS + YARN.replace("grams_per_metre = 4.5", "tex = 4600") + PIECE
    assert read_pattern(write(tmp_path, text)).colours[0].yarn.grams_per_metre == 4.6


def test_date_level_and_paragraphs(tmp_path: Path) -> None:
    about = 'about = """\nOne,\ngoing on.\n  \n\nTwo.\n"""\n'
    pattern = read(tmp_path, top='date = 2026-09-01\nlevel = " confident beginner "\n' + about)
    assert pattern.date == datetime.date(2026, 9, 1)
    assert pattern.level == "confident beginner"
    assert pattern.about == ("One, going on.", "Two.")


@pytest.mark.parametrize(
    ("written", "limit"),
    [
        ('"never"', CarryLimit(0, 0)),
        ('"row"', CarryLimit(8, 3, along_row=True)),
        ("{ columns = 4, rows = 1 }", CarryLimit(4, 1)),
        ("{ columns = 4 }", CarryLimit(4, 3)),
        ("{ rows = 1 }", CarryLimit(8, 1)),
    ],
)
def test_colours_own_carry(tmp_path: Path, written: str, limit: CarryLimit) -> None:
    text = HEAD + COLOURS + f"carry = {written}\n" + YARN + PIECE
    path = write(tmp_path, text + "carry = { columns = 8, rows = 3 }\n")
    pattern = read_pattern(path)
    assert pattern.colour("W").carry == limit
    assert pattern.colour("N").carry is None
    assert pattern.pieces[0].carry == CarryLimit(8, 3)


def test_one_given_fringe_length_is_both(tmp_path: Path) -> None:
    assert read(tmp_path, piece="fringe = { longest_mm = 90 }\n").pieces[0].fringe == Fringe(
        "straight", 90.0, 90.0
    )


@pytest.mark.parametrize("title", ["x" * 300, "Šípková růže", "سُنونو فوق القصب", "川の鷺", "  a  "])
def test_titles_of_any_script(tmp_path: Path, title: str) -> None:
    path = write(tmp_path, (HEAD + COLOURS + YARN + PIECE).replace("Reed Warbler", title))
    assert read_pattern(path).title == title.strip()


def test_accents_are_composed(tmp_path: Path) -> None:
    """An e and an accent on top become one é, which fonts have."""
    path = write(tmp_path, (HEAD + COLOURS + YARN + PIECE).replace("Reed", "Re\u0301ed"))
    assert read_pattern(path).title == "Réed Warbler"


@pytest.mark.parametrize(
    "chart",
    [
        "'''\r\nNNWN\r\nNWWN\r\n'''",
        "'''\nNNWN  \nNWWN\t\n\n'''",
        "'''\n\n\n  NNWN\n  NWWN\n  '''",
        "'''\n\tNNWN\n\tNWWN'''",
        "'''NNWN\nNWWN'''",
        '"NNWN\\nNWWN"',
        '"""NNWN\nNW\\u0057N"""',
    ],
)
def test_blanks_round_a_chart_do_not_count(tmp_path: Path, chart: str) -> None:
    text = HEAD + COLOURS + YARN + PIECE.replace("'''\nNNWN\nNWWN\n'''", chart)
    assert read_pattern(write(tmp_path, text)).pieces[0].cells == ("NNWN", "NWWN")


def test_byte_order_mark_and_windows_line_ends(tmp_path: Path) -> None:
    text = "\ufeff" + (HEAD + COLOURS + YARN + PIECE).replace("\n", "\r\n")
    pattern = read_pattern(write(tmp_path, text))
    assert pattern.pieces[0].place.line == 20


@pytest.mark.parametrize(
    ("chart", "line", "column"),
    [
        ("'''\nNNWN\nNWWN\n'''", 20, None),
        ("'''\n\n    NNWN\n    NWWN\n'''", 21, 5),
        ('"NNWN\\nNWWN"', 19, None),
        ("\n'''NNWN\nNWWN'''".lstrip(), 19, None),
    ],
)
def test_place_is_the_charts_first_row(
    tmp_path: Path, chart: str, line: int, column: int | None
) -> None:
    text = HEAD + COLOURS + YARN + PIECE.replace("'''\nNNWN\nNWWN\n'''", chart)
    path = write(tmp_path, text)
    assert read_pattern(path).pieces[0].place == Place(str(path), line, column)


def test_places_of_several_charts(tmp_path: Path) -> None:
    """Charts alike, one in a comment, one in a text: each piece has its own line."""
    decoy = "about = \"\"\"\nchart = '''\nNNWN\nNWWN\n'''\n\"\"\"\n"
    more = "\n# chart = '''\n# NNWN\n" + PIECE.replace("panel", "second")
    path = write(tmp_path, HEAD + decoy + COLOURS + YARN + PIECE + more)
    lines = path.read_text().split("\n")
    first, second = read_pattern(path).pieces
    assert lines[(first.place.line or 0) - 2].startswith("chart")
    assert lines[(first.place.line or 0) - 3] == 'id = "panel"'
    assert lines[(second.place.line or 0) - 3] == 'id = "second"'


@pytest.mark.parametrize("letter", ["#", "é", "字", ".", "=", "]", "0", "-"])
def test_any_printable_letter(tmp_path: Path, letter: str) -> None:
    text = (HEAD + COLOURS + YARN + PIECE).replace("colours.W", f"colours.'{letter}'")
    text = text.replace("NNWN\nNWWN", f"NN{letter}N\nN{letter}{letter}N")
    pattern = read_pattern(write(tmp_path, text))
    assert pattern.pieces[0].cells == (f"NN{letter}N", f"N{letter}{letter}N")


@pytest.mark.parametrize("letter", ["NN", "\\u0301", "\\u200b", " ", "", "\\u0000"])
def test_no_letter_that_cannot_be_seen(tmp_path: Path, letter: str) -> None:
    text = (HEAD + COLOURS + YARN + PIECE).replace("colours.W", f'colours."{letter}"')
    (problem,) = problems(write(tmp_path, text))
    assert "can't be a colour's letter" in problem
    assert problem.startswith("reed-warbler.toml:9: ")


@pytest.mark.parametrize(("sign", "code"), [("\u200b", "U+200B"), ("\u0332", "U+0332")])
def test_signs_of_a_chart_that_cannot_be_seen_are_named(
    tmp_path: Path, sign: str, code: str
) -> None:
    text = HEAD + COLOURS + YARN + PIECE.replace("NNWN", f"NN{sign}N")
    assert problems(write(tmp_path, text)) == [
        f"reed-warbler.toml:20:3: the invisible sign {code} stands for no colour (row 1, cord 3); "
        "take it out"
    ]


@pytest.mark.parametrize("chart", ["N", "NNNN", "N\nN\nN", "N\nW"])
def test_smallest_charts(tmp_path: Path, chart: str) -> None:
    text = HEAD + COLOURS + YARN + PIECE.replace("NNWN\nNWWN", chart)
    assert read_pattern(write(tmp_path, text)).pieces[0].cells == tuple(chart.split("\n"))


def test_an_unused_colour_is_no_mistake(tmp_path: Path) -> None:
    text = HEAD + COLOURS + YARN + PIECE.replace("W", "N")
    assert len(read_pattern(write(tmp_path, text)).colours) == 2


def test_house_mistakes_are_told_in_the_house(tmp_path: Path) -> None:
    house = 'desinger = "x"\ncurrency = "gbp"\n' + YARN.replace("= 3\n", "= -3\n")
    path = write(tmp_path, HEAD + COLOURS + PIECE.replace("NWWN", "NWW"), house=house)
    assert problems(path) == [
        "house.toml:1: nothing here is called `desinger`; did you mean `designer`?",
        "house.toml:2: `currency` can't be \"gbp\"; write the currency's three capital letters, "
        'such as currency = "GBP"',
        "house.toml:5: `diameter_mm` is -3, but the least is 0.1; "
        "write it like this: diameter_mm = 3.0",
        "reed-warbler.toml:17:4: row 2 has 3 knots, but row 1 has 4; add 1 letter to it",
    ]


def test_broken_house_brings_no_false_alarms(tmp_path: Path) -> None:
    path = write(tmp_path, HEAD + COLOURS + PIECE, house="designer = Reedbank\n" + YARN)
    assert problems(path) == [
        "house.toml:1: the text after `designer =` must stand in quotes; "
        'write designer = "Reedbank"'
    ]


@pytest.mark.parametrize("name", ["Reed Warbler", "reed_warbler", "-reed", "rëed", "x" * 101])
def test_file_names_that_cannot_be_slugs(tmp_path: Path, name: str) -> None:
    path = write(tmp_path, HEAD + COLOURS + YARN + PIECE, name=name)
    assert problems(path) == [
        f"{name}.toml: this file's name can't be a pattern's name; "
        "rename it with small letters, figures and single hyphens, like reed-warbler.toml"
    ]


def test_files_that_cannot_be_read(tmp_path: Path) -> None:
    assert problems(tmp_path / "gone.toml") == [
        "gone.toml: there is no such file; look at the spelling and the folder"
    ]
    (tmp_path / "folder.toml").mkdir()
    assert problems(tmp_path / "folder.toml") == [
        "folder.toml: this is a folder, not a file; put a file in its place, or name another"
    ]
    latin = tmp_path / "latin.toml"
    latin.write_bytes(b'format = 1\ntitle = "caf\xe9"\n')
    assert problems(latin) == [
        "latin.toml:2: character 13 of this line is not UTF-8 text; "
        "save the file again with the encoding UTF-8 (your editor's Save As offers it)"
    ]
    wide = tmp_path / "wide.toml"
    wide.write_bytes("format = 1\n".encode("utf-16"))
    assert problems(wide)[0].startswith("wide.toml:1: this file is UTF-16 text; ")
    big = tmp_path / "big.toml"
    big.write_bytes(b"#" * 8_000_001)
    assert problems(big)[0].startswith("big.toml: this file is larger than 8 MB; ")


def test_a_house_that_is_a_link_to_nothing_is_told(tmp_path: Path) -> None:
    path = write(tmp_path, HEAD + COLOURS + YARN + PIECE)
    (tmp_path / "house.toml").symlink_to(tmp_path / "gone.toml")
    assert problems(path) == [
        "house.toml: this is a link to a file that is not there; mend the link, or take it away"
    ]


def test_house_is_no_pattern(tmp_path: Path) -> None:
    path = tmp_path / "house.toml"
    path.write_text(YARN)
    assert problems(path)[0].startswith("house.toml: house.toml is what patterns share, not a")


def test_list_patterns(tmp_path: Path) -> None:
    for name in ("b.toml", "a.toml", "house.toml", ".c.toml", "d.png", "knots/e.toml"):
        (tmp_path / name).parent.mkdir(exist_ok=True)
        (tmp_path / name).touch()
    assert list_patterns(str(tmp_path)) == [tmp_path / "a.toml", tmp_path / "b.toml"]

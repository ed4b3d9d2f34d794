"""Words that no page can show are told, each text once, at its place in the file."""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path

import pytest

from publisher.source import find_unprintable, read_pattern

HOUSE = """\
designer = "סטודיו"
contact = "Ask at the shop"
[yarns.cotton-3]
name = "綿 3 mm"
diameter_mm = 3
grams_per_metre = 4.5
[yarns.never-used]
name = "羊毛"
diameter_mm = 3
grams_per_metre = 4.5
"""
PATTERN = """\
format = 1
title = "طائر الماء"
version = "1.0"
subtitle = 'by the 川'
level = "for \\u05d0ll"
about = '''
A first paragraph.

Then a swan 🦢 and a duck 🦆 pass.
'''

[colours.N]
name = "night navy"
srgb = "#1f2a44"
yarn = "cotton-3"

[colours."語"]
name = "夜"
srgb = "#fdf8ec"
yarn = "own"

[yarns.own]
name = "Жук"
diameter_mm = 3
grams_per_metre = 4.5

[[pieces]]
id = "panel"
chart = '''
N語
'''

[[pieces]]
id = "leaf"
kind = "steps"
mount = { on = "環", diameter_mm = 2 }
cords = [{ colour = "N", lay = "folded", count = 2 }]
steps = [
    { tie = "square-knot", on = [1, 2, 3, 4], note = "Pull →→ 引く" },
    { repeat = 2, note = "弐", steps = [
        { tie = "half-knot", on = [1, 2, 3, 4] },
        { gap_mm = 10, note = "十" },
    ] },
    { glue = "端 to the back" },
    { sew = "縁" },
]

[[assembly]]
do = "hang"
piece = "panel"
note = "最後"
"""
OTHERS = "write it with others: most of Latin, Greek and Cyrillic can be printed"
TOLD = f"""\
p.toml:2:10: pages can't show this `title`: the fonts have no ط (U+0637), ا (U+0627), ئ (U+0626), \
ر (U+0631), ل (U+0644) and 2 more; write it from left to right: Latin, Greek and Cyrillic letters \
can be printed
p.toml:4:20: pages can't show this `subtitle`: the fonts have no 川 (U+5DDD); {OTHERS}
house.toml:1:13: pages can't show this `designer`: the fonts have no ס (U+05E1), ט (U+05D8), \
ו (U+05D5), ד (U+05D3), י (U+05D9); write it from left to right: Latin, Greek and Cyrillic \
letters can be printed
p.toml:5: pages can't show this `level`: the fonts have no א (U+05D0); write it from left to \
right: Latin, Greek and Cyrillic letters can be printed
p.toml:9:13: pages can't show this `about`: the fonts have no 🦢 (U+1F9A2), 🦆 (U+1F986); say it \
in words, or with other signs
p.toml:17: pages can't show the colour's letter: the fonts have no 語 (U+8A9E); give the colour \
another letter, here and in the chart
p.toml:18:9: pages can't show this `name`: the fonts have no 夜 (U+591C); {OTHERS}
house.toml:4:9: pages can't show this `name`: the fonts have no 綿 (U+7DBF); {OTHERS}
p.toml:36:17: pages can't show this `on`: the fonts have no 環 (U+74B0); {OTHERS}
p.toml:39:63: pages can't show this `note`: the fonts have no 引 (U+5F15), く (U+304F); {OTHERS}
p.toml:40:27: pages can't show this `note`: the fonts have no 弐 (U+5F10); {OTHERS}
p.toml:42:32: pages can't show this `note`: the fonts have no 十 (U+5341); {OTHERS}
p.toml:44:15: pages can't show this `glue`: the fonts have no 端 (U+7AEF); {OTHERS}
p.toml:45:14: pages can't show this `sew`: the fonts have no 縁 (U+7E01); {OTHERS}
p.toml:51:9: pages can't show this `note`: the fonts have no 最 (U+6700), 後 (U+5F8C); {OTHERS}
"""


def told(pattern: str, house: str = HOUSE) -> str:
    """What is told of the pattern in the working folder."""
    Path("house.toml").write_text(house)
    Path("p.toml").write_text(pattern)
    problems = find_unprintable(read_pattern("p.toml"))
    return "".join(f"{problem}\n" for problem in problems)


@pytest.fixture(autouse=True)
def folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(tmp_path)


def test_every_text_that_is_printed_is_looked_at() -> None:
    assert told(PATTERN) == TOLD


def test_a_pattern_s_own_word_is_told_where_it_stands_and_the_house_s_is_not_printed() -> None:
    own = PATTERN.replace("version", 'designer = "工房"\nversion')
    assert "p.toml:3:13: pages can't show this `designer`" in told(own)
    assert "house.toml:1" not in told(own)
    assert "house.toml:1" not in told(PATTERN.replace("version", 'designer = "Us"\nversion'))


def test_a_house_s_yarn_that_is_not_used_is_no_fault_of_the_pattern() -> None:
    assert "羊" not in told(PATTERN)


@pytest.mark.parametrize(
    "title", ["Šípková růže", "Жук и камыш", "Ερωδιός", "Fjörður – “½”", "Re\u0301ed", "Tiếng Việt"]
)
def test_titles_with_the_letters_that_the_fonts_have_are_right(title: str) -> None:
    pattern = Path(__file__).parents[2] / "patterns/tide-lines.toml"
    text = pattern.read_text("utf-8").replace('"Tide Lines"', f'"{title}"')
    house = (pattern.parent / "house.toml").read_text("utf-8")
    assert title in text
    assert told(text, house) == ""


def test_usual_letters_open_no_font() -> None:
    """A build with nothing to do for a font is quick; so is `check` of the usual pattern."""
    code = (
        "import sys; from publisher.source import find_unprintable, read_pattern\n"
        f"pattern = read_pattern({str(Path(__file__).parents[2] / 'patterns/tide-lines.toml')!r})\n"
        "assert find_unprintable(pattern) == ()\n"
        "assert not {'uharfbuzz', 'tree_sitter'} & {*sys.modules}"
    )
    subprocess.run([sys.executable, "-c", code], check=True)

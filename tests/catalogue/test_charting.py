"""A chart is put where it is to go, whole or not at all, in colours that are to be had."""

from __future__ import annotations

import itertools
import os
import re
from pathlib import Path

import numpy as np
import pytest

import publisher
from publisher.catalogue.charting import job as chart_job
from publisher.catalogue.charting.outcome import Charted
from publisher.errors import OutputError, SourceError, UsageError
from publisher.model.colour import Colour
from publisher.model.pattern import Pattern
from publisher.plan import make_plan
from publisher.source import read_pattern
from tests.support.pictures import HIGH, WIDE, as_picture, disc, plain, save

SAND, BLUE, INK, WHITE = (232, 209, 156), (30, 107, 171), (27, 33, 54), (253, 248, 236)
HOUSE = """\
designer = "The Knot Room"

[yarns.thick]
name = "thick"
diameter_mm = 6.0
grams_per_metre = 18

[yarns.thin]
name = "thin"
diameter_mm = 3.0
grams_per_metre = 4.5
"""
COLOURS = """
[colours.N]
name = "night"
srgb = "#1b2136"
yarn = "thin"

[colours.C]
name = "chalk"
srgb = "#fdf8ec"
yarn = "thin"
carry = "row"

[colours.G]
name = "moss"
srgb = "#4d5a2a"
yarn = "thick"
"""


@pytest.fixture
def bird(tmp_path: Path) -> Path:
    """A blue bird with an eye, on sand."""
    picture = plain(400, 500, SAND)
    picture[disc(400, 500, (200, 250), 120)] = BLUE
    picture[disc(400, 500, (150, 200), 25)] = INK
    return save(picture, tmp_path / "bird.png")


def chart(picture: Path, into: Path, columns: int = 30, **options: object) -> Charted:
    return publisher.chart_picture(picture, into, columns=columns, **options)  # type: ignore[arg-type]


def check(made: Charted) -> Pattern:
    """What is told is what the plan says of the file."""
    pattern = read_pattern(made.path)
    plan = make_plan(pattern).charts[0]
    assert (made.columns, made.rows) == (plan.columns, plan.rows)
    assert (made.width_mm, made.height_mm) == pytest.approx((plan.width_mm, plan.height_mm))
    assert made.measured == plan.cell.measured
    knots = {colour.letter: knots for colour, knots in made.colours}
    assert knots == {letter: count for letter, count in plan.knots.items() if count}
    assert [*knots.values()] == sorted(knots.values(), reverse=True)
    assert made.tidied.yarns
    assert made.tidied.yarns[1] == len(plan.yarns) <= made.tidied.yarns[0]
    assert made.tidied.single_knots[1] <= made.tidied.single_knots[0]
    return pattern


def test_a_new_pattern_in_the_proportion_of_the_picture(tmp_path: Path, bird: Path) -> None:
    made = chart(bird, tmp_path / "kingfisher.toml")
    pattern = check(made)
    assert made.width_mm / made.height_mm == pytest.approx(400 / 500, rel=0.02)
    assert [(c.letter, c.name) for c, _ in made.colours] == [
        ("S", "pale sand"),
        ("B", "blue"),
        ("D", "dark blue"),
    ]
    assert pattern.charts[0].cords.colour == "S"
    assert made.replaced is None


def test_new_colours_are_of_the_houses_first_yarn(tmp_path: Path, bird: Path) -> None:
    (tmp_path / "house.toml").write_text(HOUSE)
    pattern = check(chart(bird, tmp_path / "kingfisher.toml"))
    assert {colour.yarn.key for colour in pattern.colours} == {"thick"}


def test_a_swatch_says_how_many_rows(tmp_path: Path, bird: Path) -> None:
    path = tmp_path / "kingfisher.toml"
    chart(bird, path)
    text = re.sub(
        r"# gauge = .*",
        "gauge = { columns = 10, width_mm = 90, rows = 10, height_mm = 100 }",
        path.read_text(),
    )
    path.write_text(text)
    made = chart(bird, path)
    check(made)
    assert made.measured
    assert made.rows == round(30 * 500 / 400 * 9 / 10)


def test_the_picture_comes_back_from_its_chart(tmp_path: Path, bird: Path) -> None:
    """Drawn as a picture in true proportion, a chart gives the same pattern again."""
    path = tmp_path / "kingfisher.toml"
    chart(bird, path)
    before = path.read_text()
    pattern = read_pattern(path)
    srgb = {c.letter: (c.srgb.red, c.srgb.green, c.srgb.blue) for c in pattern.colours}
    cells = np.array([[srgb[letter] for letter in row] for row in pattern.charts[0].cells])
    drawn = save(as_picture(cells.astype(np.uint8), WIDE, HIGH), tmp_path / "drawn.png")
    path.unlink()
    chart(drawn, path)
    assert path.read_text() == before


@pytest.mark.parametrize("yarns", [None, "house"])
def test_the_same_picture_once_more_changes_nothing(
    tmp_path: Path, bird: Path, yarns: str | None
) -> None:
    (tmp_path / "house.toml").write_text(HOUSE + COLOURS)
    path = tmp_path / "kingfisher.toml"
    chart(bird, path, yarns=yarns)
    before = path.read_bytes()
    made = chart(bird, path, yarns=yarns)
    assert path.read_bytes() == before
    assert made.replaced
    assert (made.replaced.colours, made.replaced.kept) == ((), ())


def test_names_and_letters_stay_with_colours_that_are_found_again(
    tmp_path: Path, bird: Path
) -> None:
    path = tmp_path / "kingfisher.toml"
    chart(bird, path)
    own = path.read_text().replace("pale sand", "dry straw").replace("[colours.D]", "[colours.Z]")
    path.write_text(own.replace("D", "Z"))
    made = chart(bird, path, columns=40)
    assert [(c.letter, c.name) for c, _ in made.colours] == [
        ("S", "dry straw"),
        ("B", "blue"),
        ("Z", "dark blue"),
    ]


def test_what_was_there_is_told(tmp_path: Path, bird: Path) -> None:
    path = tmp_path / "pond.toml"
    path.write_text(publisher.source.starter_pattern("pond").replace("#f1dfc0", "#e07ac0"))
    made = chart(bird, path)
    pattern = check(made)
    old = made.replaced
    assert old
    assert (old.piece, old.columns, old.rows, old.picture) == ("panel", 16, 20, "")
    assert [colour.letter for colour in old.colours] == ["R", "N", "W"]
    # The starter's cords are of colour S, which stays.
    assert [colour.letter for colour in old.kept] == ["S"]
    assert pattern.charts[0].cords.colour == "S"
    assert pattern.colour("S").name == "evening sky"


def test_a_kept_colour_is_used_where_it_will_do(tmp_path: Path, bird: Path) -> None:
    path = tmp_path / "pond.toml"
    path.write_text(publisher.source.starter_pattern("pond").replace("#f1dfc0", "#ead29f"))
    made = chart(bird, path)
    assert made.colours[0][0].name == "evening sky"
    assert made.replaced
    assert made.replaced.kept == ()


def test_colours_of_the_house_alone(tmp_path: Path, bird: Path) -> None:
    (tmp_path / "house.toml").write_text(HOUSE + COLOURS)
    made = chart(bird, tmp_path / "kingfisher.toml", yarns="house")
    pattern = check(made)
    names = {"N": "night", "C": "chalk", "G": "moss"}
    assert {c.letter: c.name for c in pattern.colours}.items() <= names.items()
    assert made.patterns is None
    if "C" in "".join(pattern.charts[0].cells):
        assert pattern.colour("C").carry is not None


def test_only_so_many_of_the_house(tmp_path: Path, bird: Path) -> None:
    (tmp_path / "house.toml").write_text(HOUSE + COLOURS)
    made = chart(bird, tmp_path / "kingfisher.toml", yarns="house", colours=2)
    check(made)
    assert len(made.colours) == 2


def test_the_proportion_is_that_of_the_yarns_that_are_used(tmp_path: Path) -> None:
    (tmp_path / "house.toml").write_text(HOUSE + COLOURS)
    picture = plain(300, 300, INK)
    picture[100:200, 100:200] = WHITE
    made = chart(save(picture, tmp_path / "square.png"), tmp_path / "square.toml", yarns="house")
    check(made)
    assert {colour.name for colour, _ in made.colours} == {"night", "chalk"}
    assert made.width_mm / made.height_mm == pytest.approx(1, rel=0.02)


def test_a_kept_colour_of_thicker_yarn_counts_in_the_proportion(tmp_path: Path, bird: Path) -> None:
    """Knots are as high as the thickest yarn that the chart has."""
    thick = '[yarns.thick]\nname = "thick"\ndiameter_mm = 5.0\ngrams_per_metre = 12\n\n'
    red = '[colours.R]\nname = "sail red"\nsrgb = "#b9482f"\nyarn = "cotton"\n'
    leaf = 'cords = [{ colour = "R", lay = "across" }]\nsteps = [{ tie = "overhand", on = [1] }]\n'
    text = publisher.source.starter_pattern("pond")
    assert red in text
    text = text.replace(red, red.replace("#b9482f", "#1e6bab").replace("cotton", "thick"))
    text = text.replace("[yarns.cotton]", f"{thick}[yarns.cotton]")
    text += f'\n[[pieces]]\nid = "leaf"\nkind = "steps"\n{leaf}'
    (tmp_path / "pond.toml").write_text(text)
    made = chart(bird, tmp_path / "pond.toml", 60)
    check(made)
    assert {colour.yarn.key for colour, _ in made.colours} == {"thick", "cotton"}
    assert made.width_mm / made.height_mm == pytest.approx(400 / 500, rel=0.02)


def test_a_patterns_own_colours_stay_and_the_houses_come_to_them(
    tmp_path: Path, bird: Path
) -> None:
    (tmp_path / "house.toml").write_text(HOUSE + COLOURS)
    path = tmp_path / "pond.toml"
    path.write_text(publisher.source.starter_pattern("pond"))
    before = path.read_text()
    made = chart(bird, path, yarns="house")
    pattern = check(made)
    for table in re.findall(r"\[colours\.\w\]\n(?:.+\n)+", before):
        assert table in path.read_text()
    assert pattern.colour("N").name == "night navy"
    assert made.replaced
    assert made.replaced.colours == ()


def test_a_house_without_colours_has_those_of_its_patterns(tmp_path: Path, bird: Path) -> None:
    (tmp_path / "house.toml").write_text(HOUSE)
    first = chart(bird, tmp_path / "first.toml")
    (tmp_path / "own.toml").write_text(publisher.source.starter_pattern("own"))
    (tmp_path / "broken.toml").write_text("title = 3")
    made = chart(bird, tmp_path / "second.toml", yarns="house")
    assert made.colours == first.colours
    assert made.patterns == 1
    assert made.passed_over == (tmp_path / "broken.toml",)


def test_a_house_with_nothing_to_choose_from(tmp_path: Path, bird: Path) -> None:
    for text, hint in ((None, "write this file"), (HOUSE, "add each colour that you have")):
        if text:
            (tmp_path / "house.toml").write_text(text)
        with pytest.raises(SourceError, match=f"the house has no colours to choose from; {hint}"):
            chart(bird, tmp_path / "kingfisher.toml", yarns="house")
        assert not (tmp_path / "kingfisher.toml").exists()


def test_what_is_wrong_with_the_houses_colours_is_told_with_its_line(
    tmp_path: Path, bird: Path
) -> None:
    wrong = COLOURS.replace('"thick"', '"thik"').replace("#1b2136", "navy")
    (tmp_path / "house.toml").write_text(HOUSE + wrong)
    (tmp_path / "pond.toml").write_text(publisher.source.starter_pattern("pond"))
    for call in (
        lambda: chart(bird, tmp_path / "kingfisher.toml", yarns="house"),
        lambda: read_pattern(tmp_path / "pond.toml"),
    ):
        with pytest.raises(SourceError) as raised:
            call()
        house = tmp_path / "house.toml"
        assert [str(problem.place) for problem in raised.value.problems] == [
            f"{house}:15",
            f"{house}:27",
        ]
        assert "did you mean thick?" in str(raised.value)


def test_house_colours_change_no_pattern(tmp_path: Path) -> None:
    path = tmp_path / "pond.toml"
    path.write_text(publisher.source.starter_pattern("pond"))
    (tmp_path / "house.toml").write_text(HOUSE)
    before = read_pattern(path)
    (tmp_path / "house.toml").write_text(HOUSE + COLOURS)
    assert read_pattern(path) == before


@pytest.mark.parametrize(
    ("into", "options", "message"),
    [
        ("bird.txt", {}, "a chart is put into a .toml file"),
        ("Bird One.toml", {}, "this file's name can't be a pattern's name"),
        ("house.toml", {}, "house.toml is what patterns share"),
        ("bird.toml", {"columns": 0}, "0 is no number of columns; choose 1 to 2,000"),
        ("bird.toml", {"columns": 2001}, "2,001 is no number of columns"),
        ("bird.toml", {"colours": 41}, "41 is no number of colours; choose 1 to 40"),
        ("bird.toml", {"yarns": "mine"}, "'mine' is not known here"),
        ("bird.toml", {"columns": 1500}, "the most are 2,000 columns, .* at most --columns 75"),
    ],
)
def test_a_wrong_call_changes_nothing(
    tmp_path: Path, bird: Path, into: str, options: dict[str, object], message: str
) -> None:
    with pytest.raises(UsageError, match=message):
        chart(bird, tmp_path / into, **options)  # type: ignore[arg-type]
    assert [path.name for path in tmp_path.iterdir()] == ["bird.png"]


@pytest.mark.parametrize("slope", [(1, 40), (40, 1), (1, 3), (7, 5)])
def test_as_many_columns_as_it_says_are_possible(tmp_path: Path, slope: tuple[int, int]) -> None:
    across, down = slope
    picture = save(plain(across * 30, down * 30, BLUE), tmp_path / "a.png")
    with pytest.raises(UsageError) as raised:
        chart(picture, tmp_path / "a.toml", 2000)
        raise UsageError  # a wide one is possible
    said = re.search(r"at most --columns ([\d,]+)", str(raised.value))
    most = int(said[1].replace(",", "")) if said else 2000
    made = chart(picture, tmp_path / "a.toml", most)
    assert made.columns == most
    assert (made.tidied.yarns is None) == (made.columns * made.rows > 100_000)


def test_a_pattern_that_is_wrong_is_left_as_it_is(tmp_path: Path, bird: Path) -> None:
    path = tmp_path / "pond.toml"
    text = publisher.source.starter_pattern("pond").replace("title", "titel", 1)
    path.write_text(text)
    with pytest.raises(SourceError, match=r"pond.toml:7: .*did you mean `title`"):
        chart(bird, path)
    assert path.read_text() == text


def test_a_pattern_without_a_chart(tmp_path: Path, bird: Path) -> None:
    text = (Path(__file__).parents[2] / "patterns/lock-keepers-key-cord.toml").read_text()
    (tmp_path / "house.toml").write_text(
        (Path(__file__).parents[2] / "patterns/house.toml").read_text()
    )
    (tmp_path / "cord.toml").write_text(text)
    with pytest.raises(SourceError, match="this pattern has no chart that could be replaced"):
        chart(bird, tmp_path / "cord.toml")


def test_a_picture_that_can_not_be_seen(tmp_path: Path) -> None:
    clear = np.zeros((9, 9, 4), np.uint8)
    with pytest.raises(SourceError, match="all of it is see-through; fill it"):
        chart(save(clear, tmp_path / "clear.png"), tmp_path / "clear.toml")
    assert not (tmp_path / "clear.toml").exists()


def test_of_a_disk_that_takes_nothing_the_old_file_is_left(
    tmp_path: Path, bird: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    path = tmp_path / "pond.toml"
    path.write_text(publisher.source.starter_pattern("pond"))
    before = path.read_text()

    def full(*_: object) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(os, "fsync", full)
    with pytest.raises(OutputError, match="the disk is full, and nothing there was changed"):
        chart(bird, path)
    assert path.read_text() == before
    assert sorted(entry.name for entry in tmp_path.iterdir()) == ["bird.png", "pond.toml"]


def test_a_file_that_may_not_be_changed(
    tmp_path: Path, bird: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    path = tmp_path / "pond.toml"
    path.write_text(publisher.source.starter_pattern("pond"))
    monkeypatch.setattr(chart_job.os, "access", lambda *_: False)
    with pytest.raises(OutputError, match="you may not change this file"):
        chart(bird, path)


def test_a_link_leads_to_the_file_that_is_changed(tmp_path: Path, bird: Path) -> None:
    (tmp_path / "real").mkdir()
    real, link = tmp_path / "real/pond.toml", tmp_path / "pond.toml"
    real.write_text(publisher.source.starter_pattern("pond"))
    link.symlink_to(real)
    chart(bird, link)
    assert link.is_symlink()
    assert len(read_pattern(real).charts[0].cells[0]) == 30


def test_yarns_never_become_more(tmp_path: Path) -> None:
    """Pictures of noise and blots, small and large ones."""
    rng = np.random.default_rng(8)
    for number, (columns, grain) in enumerate(itertools.product((8, 25, 40), (1, 3, 9))):
        noise = rng.integers(0, 256, (90 // grain + 1, 120 // grain + 1, 3)).astype(np.uint8)
        picture = noise.repeat(grain, 0).repeat(grain, 1)
        path = tmp_path / f"noise-{number}.toml"
        made = chart(save(picture, tmp_path / "noise.png"), path, columns, colours=5)
        check(made)


def test_colours_are_never_more_than_asked_for(tmp_path: Path, bird: Path) -> None:
    for most in range(1, 5):
        made = chart(bird, tmp_path / f"bird-{most}.toml", colours=most)
        assert len(made.colours) == min(most, 3)
        assert {c.srgb for c, _ in made.colours} <= {Colour(*rgb) for rgb in (SAND, BLUE, INK)}

"""Names that say what one sees, and letters that one would have chosen."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from publisher.charting import choose_letters, name_colours
from publisher.fonts.faces import FACES
from publisher.fonts.shaping import missing_characters
from publisher.model.colour import Colour

NAMES = [
    ("#000000", "black"),
    ("#ffffff", "white"),
    ("#808080", "grey"),
    ("#333333", "dark grey"),
    ("#cccccc", "light grey"),
    ("#ff0000", "red"),
    ("#00a000", "green"),
    ("#0000ff", "blue"),
    ("#ffff00", "yellow"),
    ("#ff8000", "orange"),
    ("#1b2136", "dark blue"),
    ("#d4662a", "orange"),
    ("#4d5a2a", "olive"),
    ("#965a28", "brown"),
    ("#fdf8ec", "white"),
    ("#fbeeb8", "cream"),
    ("#800080", "dark purple"),
    ("#ffc0cb", "pale pink"),
]


@pytest.mark.parametrize(("srgb", "name"), NAMES)
def test_plain_name(srgb: str, name: str) -> None:
    assert name_colours([Colour.from_hex(srgb)]) == (name,)


channels = st.integers(0, 255)
colours = st.builds(Colour, channels, channels, channels)


@given(st.lists(colours, max_size=40))
def test_every_colour_has_a_name_of_its_own(some: list[Colour]) -> None:
    names = name_colours(some, ["red"])
    assert len({*names, "red"}) == len(some) + 1
    assert all(name == name.lower() and name.strip() == name for name in names)


def test_the_second_of_a_name_says_so() -> None:
    blue = Colour.from_hex("#1e6bab")
    assert name_colours([blue, blue, blue], ["blue 2"]) == ("blue", "blue 3", "blue 4")


def test_the_letter_is_the_initial_of_the_word_that_says_the_colour() -> None:
    assert choose_letters(["dark blue", "white", "orange"], [None] * 3) == ("B", "W", "O")


def test_the_next_best_letter_where_that_is_taken() -> None:
    assert choose_letters(["blue", "dark blue", "blue 2"], [None] * 3, "W") == ("B", "D", "L")


def test_a_colour_keeps_the_letter_that_is_its_own() -> None:
    names = ["blue", "night navy", "newt"]
    assert choose_letters(names, [None, "N", "N"], "B") == ("L", "N", "E")


@given(
    st.lists(st.sampled_from(["blue", "dark blue", "été", "夜", "Io", "", "0 l"]), max_size=40),
    st.sets(st.sampled_from("BDEINLOS夜"), max_size=9),
)
def test_all_letters_differ_and_can_be_read(names: list[str], taken: set[str]) -> None:
    letters = choose_letters(names, [None] * len(names), taken)
    assert len({*letters} | taken) == len(names) + len(taken)
    assert all(len(letter) == 1 and letter.isascii() and letter.isalnum() for letter in letters)


def test_there_are_letters_for_the_most_colours_beside_very_many_others() -> None:
    """What is easily read comes first; every letter is one that a pattern's file can have."""
    letters = choose_letters(["blue"] * 120, [None] * 120)
    assert len({*letters}) == 120
    assert not {*letters[:55]} & {*"IlO01"}
    assert all(len(letter) == 1 and letter.isprintable() and letter.isalnum() for letter in letters)
    for face in FACES.keys() - {"signs"}:
        assert not missing_characters("".join(letters), face)

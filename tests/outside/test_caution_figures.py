"""Every number in a caution has its source, or is marked as common practice.

    fire       fire services' advice to households: candles at least 12 in (30 cm) from what burns
               (National Fire Protection Association, USA, "Candle safety"); heaters, stoves and
               open fires at least 1 m or 3 ft from it (London Fire Brigade; Fire and Emergency New
               Zealand, "heater metre rule"; NFPA, "Heating safety")
    burns      cool or lukewarm running water for 20 minutes, no ice, nothing pulled off that sticks
               (NHS, "Burns and scalds: treatment"; British Burn Association, first aid position
               statement)
    toys       16 CFR 1501: small parts, toys for children under 3 years
    practice   common practice, no published source

They are background figures, never a pass mark.
"""

from __future__ import annotations

import re
from collections.abc import Iterator

import pytest

from tests.support.shop import installed

SOURCES = {"fire", "burns", "toys", "practice"}
FIGURES = {
    ("flames", "30 cm"): "fire",
    ("flames", "12 in"): "fire",
    ("flames", "1 m"): "fire",
    ("flames", "3 ft"): "fire",
    ("hands", "half hour"): "practice",
    ("hot-glue", "120 to 210 °C"): "practice",  # low and high temperature guns, as makers state it
    ("hot-glue", "20 minutes"): "burns",
    ("hot-iron", "20 minutes"): "burns",
    ("small-parts", "child under 3"): "toys",
}
_IN_WORDS = "half|quarter|one|two|three|four|five|six|seven|eight|nine|ten|dozen|hundred|thousand"
_NUMBER = re.compile(rf"\d+(?:[.,]\d+)?|[¼½¾]|\b(?:{_IN_WORDS})\b", re.IGNORECASE)


def caution(code: str) -> str:
    """The text, without the names that are filled in from the plan."""
    return re.sub(r"\{\w+\}", "", " ".join(installed().text(f"cautions/{code}.txt").split()))


def numbers_without_a_source(code: str) -> Iterator[str]:
    text = caution(code)
    for of, words in FIGURES:
        text = text.replace(words, "") if of == code else text
    yield from _NUMBER.findall(text)


@pytest.mark.parametrize("code", installed().names("cautions"))
def test_no_number_is_without_its_source(code: str) -> None:
    assert not list(numbers_without_a_source(code))


@pytest.mark.parametrize(("code", "words"), FIGURES)
def test_every_figure_that_has_a_source_is_there(code: str, words: str) -> None:
    assert words in caution(code)
    assert FIGURES[code, words] in SOURCES


def test_a_number_would_be_found_in_whatever_way_it_is_written() -> None:
    told = "keep 2.5 m away, or three feet, and ½ an hour; none of it is often done by somebody"
    assert _NUMBER.findall(told) == ["2.5", "three", "½"]

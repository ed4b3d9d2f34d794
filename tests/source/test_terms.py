"""Terms of use that no text has are told at the line that names them."""

from __future__ import annotations

from pathlib import Path

import pytest

from publisher.errors import SourceError
from publisher.source import read_pattern, refuse_unknown_terms, starter_pattern

KNOWN = ("class-use", "personal-use")


def told(folder: Path, pattern: str, house: str | None = None) -> str:
    path = folder / "reed-warbler.toml"
    path.write_text(pattern, encoding="utf-8")
    if house is not None:
        (folder / "house.toml").write_text(house, encoding="utf-8")
    with pytest.raises(SourceError) as caught:
        refuse_unknown_terms(read_pattern(path), KNOWN)
    return str(caught.value).removeprefix(f"{folder}/")


def test_a_misspelt_name_is_told_in_the_pattern(tmp_path: Path) -> None:
    text = 'terms = "persnal-use"\n' + starter_pattern("reed-warbler")
    assert told(tmp_path, text, 'terms = "other-use"\n') == (
        "reed-warbler.toml:1: there are no terms of use named persnal-use; did you mean "
        "personal-use? Your own would be a text, templates/terms/persnal-use.txt"
    )


def test_or_in_the_house_where_that_names_them(tmp_path: Path) -> None:
    text = starter_pattern("reed-warbler")
    assert told(tmp_path, text, 'designer = "R"\n\nterms = "shared"\n') == (
        "house.toml:3: there are no terms of use named shared; there are class-use, personal-use. "
        "Your own would be a text, templates/terms/shared.txt"
    )


def test_those_that_are_there_are_well(tmp_path: Path) -> None:
    path = tmp_path / "reed-warbler.toml"
    path.write_text('terms = "class-use"\n' + starter_pattern("reed-warbler"), encoding="utf-8")
    refuse_unknown_terms(read_pattern(path), KNOWN)

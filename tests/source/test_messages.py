"""Every mistake in `wrong/NAME.toml` is told as `wrong/NAME.txt` has it, line for line."""

from __future__ import annotations

from pathlib import Path

import pytest

from publisher.errors import SourceError
from publisher.source import read_pattern

FOLDER = Path(__file__).parent / "wrong"
NAMES = sorted(path.stem for path in FOLDER.glob("*.toml"))


def told(name: str) -> str:
    with pytest.raises(SourceError) as caught:
        read_pattern(f"{name}.toml", house=None)
    return "".join(f"{problem}\n" for problem in caught.value.problems)


@pytest.mark.parametrize("name", NAMES)
def test_messages_are_exact(name: str, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(FOLDER)
    assert told(name) == (FOLDER / f"{name}.txt").read_text(encoding="utf-8")


@pytest.mark.parametrize("name", NAMES)
def test_messages_speak_the_makers_language(name: str) -> None:
    text = (FOLDER / f"{name}.txt").read_text(encoding="utf-8").lower()
    library_words = ("pydantic", "input should", "valid dictionary", "field required", "traceback")
    assert not [word for word in library_words if word in text]
    for line in text.splitlines():
        place, _, said = line.partition(": ")
        assert place.split(":")[0] == f"{name}.toml"
        assert place.split(":")[1].isdigit()
        assert "; " in said, "what is wrong; what to do"

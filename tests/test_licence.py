"""The program, its fonts and its libraries may be used as the README says."""

from __future__ import annotations

import re
import tomllib
from collections.abc import Iterable
from importlib.metadata import PackageNotFoundError, distribution
from pathlib import Path
from typing import Any

import pytest
from fontTools.ttLib import TTFont
from packaging.requirements import Requirement

from publisher import fonts

ROOT = Path(__file__).parents[1]
PROJECT: dict[str, Any] = tomllib.loads((ROOT / "pyproject.toml").read_text("utf-8"))["project"]
README = (ROOT / "README.md").read_text("utf-8")
LICENCE = (ROOT / "publisher/LICENSE").read_text("utf-8")
COPYRIGHT = next(line for line in LICENCE.splitlines() if line.startswith("Copyright"))

# OpenType 1.9, OS/2 fsType: 0 is "installable embedding", the least restricted; names 0, 13 and
# 14 are the copyright notice, the licence and where it is found.
EMBEDS_FREELY, COPYRIGHT_NAME, LICENCE_NAME, LICENCE_URL_NAME = 0, 0, 13, 14


def test_the_project_is_under_the_mit_licence() -> None:
    """An SPDX expression, and the file that goes with every copy (PEP 639)."""
    assert PROJECT["license"] == "MIT"
    assert PROJECT["license-files"] == ["publisher/LICENSE"]
    assert LICENCE.startswith("MIT License") and "WITHOUT WARRANTY OF ANY KIND" in LICENCE
    assert "## Licence" in README and "`publisher/LICENSE`" in README


def test_the_font_of_signs_says_whose_it_is_and_may_be_embedded() -> None:
    font = TTFont(fonts.font_file("signs"))
    names = font["name"]
    assert font["OS/2"].fsType == EMBEDS_FREELY
    assert names.getDebugName(COPYRIGHT_NAME) == COPYRIGHT
    assert names.getDebugName(LICENCE_NAME).startswith("MIT License")
    assert names.getDebugName(LICENCE_URL_NAME) == "https://spdx.org/licenses/MIT.html"


@pytest.mark.parametrize("face", [face for face in fonts.FACES if face != "signs"])
def test_the_faces_of_the_text_are_open_and_may_be_embedded(face: str) -> None:
    font = TTFont(fonts.font_file(face))
    assert font["OS/2"].fsType == EMBEDS_FREELY
    assert "SIL Open Font License, Version 1.1" in font["name"].getDebugName(LICENCE_NAME)


def licence_of(package: str) -> str:
    """What a package's own metadata say: an expression, a word or two, classifiers."""
    about = distribution(package).metadata
    said = about.get("License-Expression") or (about.get("License") or "").split("\n")[0]
    kinds = [one for one in about.get_all("Classifier", []) if one.startswith("License ::")]
    return "; ".join([said, *kinds])


def is_gpl(licence: str) -> bool:
    """GPL or AGPL, of any version; the lesser one (LGPL) lets any program use a library."""
    return re.search(r"(?<!L)GPL|GNU (Affero )?General Public", licence) is not None


def with_what_they_need(requirements: Iterable[str]) -> set[str]:
    """The packages asked for, and those that they ask for in turn, as far as installed here."""
    waiting, found = [Requirement(line) for line in requirements], set()
    while waiting:
        wanted = waiting.pop()
        if wanted.name in found or (wanted.marker and not wanted.marker.evaluate({"extra": ""})):
            continue
        try:
            asks = distribution(wanted.name).requires or []
        except PackageNotFoundError:
            continue
        found.add(wanted.name)
        waiting += map(Requirement, asks)
    return found


def test_no_library_of_the_program_is_under_the_gpl() -> None:
    needed = with_what_they_need(PROJECT["dependencies"])
    assert {Requirement(line).name for line in PROJECT["dependencies"]} <= needed
    assert not [name for name in needed if is_gpl(licence_of(name))]


def test_test_tools_under_the_gpl_are_named() -> None:
    tools = [Requirement(line).name for line in PROJECT["optional-dependencies"]["test"]]
    bound = {name for name in tools if is_gpl(licence_of(name))}
    assert bound, "the check finds those that are known to be"
    assert {name for name in tools if f"`{name}`" in README} == bound

"""A picture saved with pixels of another shape: its pattern is planned anew, and only then."""

from __future__ import annotations

import json
import shutil
from io import BytesIO
from pathlib import Path

import pytest
from PIL import Image

from publisher import build_catalogue
from publisher.catalogue.build.digests import digest_of_pattern
from publisher.source import read_pattern
from tests.support.shop import ROOT

SLUG = "lantern-window"


@pytest.fixture
def patterns(tmp_path: Path) -> Path:
    for name in ("house.toml", f"{SLUG}.png", f"{SLUG}.toml"):
        (tmp_path / "patterns").mkdir(exist_ok=True)
        shutil.copy(ROOT / "patterns" / name, tmp_path / "patterns")
    return tmp_path / "patterns"


def save_again(patterns: Path, dpi: tuple[int, int] | None) -> None:
    data = BytesIO((patterns / f"{SLUG}.png").read_bytes())
    with Image.open(data) as image:
        image.save(patterns / f"{SLUG}.png", **({"dpi": dpi} if dpi else {}))


def test_a_plan_goes_by_the_shape_of_the_pixels(patterns: Path) -> None:
    def digest(dpi: tuple[int, int] | None) -> str:
        save_again(patterns, dpi)
        return digest_of_pattern(read_pattern(patterns / f"{SLUG}.toml"))

    square = digest(None)
    assert digest((254, 254)) == digest((508, 508)) == square
    assert digest((254, 508)) == digest((508, 1016)) != square


def test_what_was_kept_does_not_hide_the_advice(patterns: Path) -> None:
    def built() -> list[str]:
        summary = build_catalogue(
            patterns, out=patterns.parent / "build", editions=["plain-text"], jobs=1
        )
        assert not summary.failed
        told = json.loads((patterns.parent / f"build/{SLUG}/plan.json").read_text())["advice"]
        return [advice["code"] for advice in told if advice["code"].startswith("picture-")]

    assert built() == []
    save_again(patterns, None)
    assert built() == ["picture-wider"]
    save_again(patterns, (100, 280))
    assert built() == ["picture-taller"]

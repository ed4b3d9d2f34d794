"""What was drawn is kept from run to run: used again where it is whole, and never seen in what is
made."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest

from publisher import build_catalogue, plan
from publisher.catalogue import packaging
from publisher.catalogue.build import packs as packs_kept
from publisher.catalogue.build.digests import knots_digest
from publisher.catalogue.build.packs import read_shared
from publisher.drawing.base.canvas import FigureCanvas
from publisher.drawing.part import paint as part_paint
from publisher.manuscript import knot_figures
from publisher.press.pdf import fragments
from publisher.store import unpack
from tests.support.keeping import edit, exchange, new_frame, workshop_of

CHART, CORD = "tide-lines", "lock-keepers-key-cord"


class Drawn:
    """What is drawn, each time it is."""

    def __init__(self) -> None:
        self.bodies, self.knots, self.pens, self.figures = 0, 0, 0, 0

    @property
    def nothing(self) -> bool:
        return not (self.bodies or self.knots or self.pens or self.figures)


@pytest.fixture
def drawn(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> Iterator[Drawn]:
    """The work of drawing, counted, by a program without drawings of its own knots."""
    found = Drawn()

    def count(module: Any, name: str, what: str) -> None:
        draw = getattr(module, name)

        def counted(*given: Any, **named: Any) -> Any:
            setattr(found, what, getattr(found, what) + 1)
            return draw(*given, **named)

        monkeypatch.setattr(module, name, counted)

    count(fragments, "_draw", "bodies")
    count(knot_figures, "draw_knot_stages", "knots")
    count(part_paint, "SvgPen", "pens")
    count(FigureCanvas, "svg", "figures")
    monkeypatch.setattr(packs_kept, "installed_pack", lambda: tmp_path / "drawings.pack")
    yield found


def build(folder: Path, slug: str, out: str = "build") -> dict[str, bytes]:
    """One pattern's files, made by a new run; not the index, which has a page too."""
    summary = build_catalogue(
        folder / "patterns",
        out=folder / out,
        templates=folder / "templates",
        only=[slug],
        jobs=1,
    )
    assert not summary.failed
    return {path.name: path.read_bytes() for path in (folder / out / slug).iterdir()}


def packs(folder: Path, slug: str) -> list[Path]:
    return sorted((folder / "build/.cache/store" / slug).iterdir())


def spoil(path: Path, how: str) -> None:
    content = bytearray(path.read_bytes())
    if how == "cut":
        path.write_bytes(content[: len(content) // 2])
    elif how == "changed":
        content[len(content) // 2] ^= 1
        path.write_bytes(content)
    else:
        path.unlink()


def test_a_frame_that_changed_draws_nothing_again(tmp_path: Path, drawn: Drawn) -> None:
    workshop_of(tmp_path, CHART)
    build(tmp_path, CHART)
    assert drawn.bodies > 10 and drawn.knots > 2
    names = [path.name for path in packs(tmp_path, CHART)]
    assert names == ["booklet-a4", "companions", "plan-right"]
    drawn.__init__()  # type: ignore[misc]
    new_frame(tmp_path)
    after = build(tmp_path, CHART)
    assert drawn.bodies == drawn.knots == 0
    assert after == build(tmp_path, CHART, "clean")


def test_plans_of_both_hands_are_kept(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    workshop_of(tmp_path, CHART)
    planned: list[str] = []
    make_plan = plan.make_plan
    monkeypatch.setattr(plan, "make_plan", lambda one: planned.append(one.slug) or make_plan(one))
    folders = {"out": tmp_path / "build", "templates": tmp_path / "templates"}
    editions = {"editions": ["booklet", "left-handed"], "jobs": 1}
    build_catalogue(tmp_path / "patterns", **folders, **editions)  # type: ignore[arg-type]
    assert planned == [CHART, CHART]
    new_frame(tmp_path)
    build_catalogue(tmp_path / "patterns", **folders, **editions)  # type: ignore[arg-type]
    assert planned == [CHART, CHART]


def test_charts_and_backs_are_drawn_once(tmp_path: Path, drawn: Drawn) -> None:
    """All that is drawn after a frame has changed are keys and swatches, which are small."""
    workshop_of(tmp_path, CHART)
    build(tmp_path, CHART)
    before = drawn.figures
    drawn.__init__()  # type: ignore[misc]
    new_frame(tmp_path)
    build(tmp_path, CHART)
    assert drawn.figures < before / 2


def test_a_word_that_changed_draws_its_own_pages_alone(tmp_path: Path, drawn: Drawn) -> None:
    workshop_of(tmp_path, CHART)
    build(tmp_path, CHART)
    before = drawn.bodies
    drawn.__init__()  # type: ignore[misc]
    edit(tmp_path / "templates/terms/personal-use.txt", "T", "Once more: t")
    after = build(tmp_path, CHART)
    assert 0 < drawn.bodies < before / 4
    assert after == build(tmp_path, CHART, "clean")


def test_a_template_that_changed_draws_no_part_again(tmp_path: Path, drawn: Drawn) -> None:
    workshop_of(tmp_path, CORD)
    build(tmp_path, CORD)
    assert drawn.pens > 10
    drawn.__init__()  # type: ignore[misc]
    new_frame(tmp_path)
    edit(tmp_path / "templates/words/en.toml", "Finished size", "Size when done")
    after = build(tmp_path, CORD)
    assert drawn.pens == 0
    assert after == build(tmp_path, CORD, "clean")


def test_a_colour_that_changed_draws_its_parts_again(tmp_path: Path, drawn: Drawn) -> None:
    workshop_of(tmp_path, CORD)
    build(tmp_path, CORD)
    before = drawn.pens
    drawn.__init__()  # type: ignore[misc]
    edit(tmp_path / f"patterns/{CORD}.toml", 'srgb = "#2f6f8f"', 'srgb = "#123456"')
    after = build(tmp_path, CORD)
    assert drawn.pens == before
    assert after == build(tmp_path, CORD, "clean")


def test_a_new_edition_finds_the_knots_of_another(tmp_path: Path, drawn: Drawn) -> None:
    workshop_of(tmp_path, CHART)
    build(tmp_path, CHART)
    drawn.__init__()  # type: ignore[misc]
    summary = build_catalogue(
        tmp_path / "patterns",
        out=tmp_path / "build",
        templates=tmp_path / "templates",
        editions=["plain-text", "booklet"],
        papers=["letter"],
        jobs=1,
    )
    assert not summary.failed and drawn.bodies > 5
    assert drawn.knots < 3


@pytest.mark.parametrize("how", ["cut", "changed", "gone"])
@pytest.mark.parametrize("slug", [CHART, CORD])
def test_packs_that_are_not_whole_are_made_again(
    tmp_path: Path, drawn: Drawn, slug: str, how: str
) -> None:
    workshop_of(tmp_path, slug)
    build(tmp_path, slug)
    before = drawn.bodies, drawn.pens
    for path in (*packs(tmp_path, slug), tmp_path / "build/.cache/shared"):
        spoil(path, how)
    drawn.__init__()  # type: ignore[misc]
    for path in (tmp_path / "build" / slug).glob("*.p*"):
        path.unlink()
    after = build(tmp_path, slug)
    assert (drawn.bodies, drawn.pens) == before
    assert after == build(tmp_path, slug, "clean")
    assert read_shared(tmp_path / "build")


def test_packs_go_with_their_pattern(tmp_path: Path) -> None:
    workshop_of(tmp_path, CHART)
    build(tmp_path, CHART)
    assert packs(tmp_path, CHART)
    exchange(tmp_path, CHART)
    assert not (tmp_path / "build/.cache/store" / CHART).exists()


def test_an_installed_program_has_its_knots_drawn(
    tmp_path: Path, drawn: Drawn, monkeypatch: pytest.MonkeyPatch
) -> None:
    """A first booklet draws none of the library's knots but those in a width of its own."""
    monkeypatch.setattr(packaging, "installed_pack", lambda: tmp_path / "drawings.pack")
    packaging.draw_knots()
    packed = (tmp_path / "drawings.pack").read_bytes()
    assert len(unpack(packed, knots_digest())) >= 40
    assert unpack(packed, "another program") == {}
    drawn.__init__()  # type: ignore[misc]
    workshop_of(tmp_path, CHART)
    with_pack = build(tmp_path, CHART)
    assert drawn.knots == 0
    assert not (tmp_path / "build/.cache/shared").exists()
    (tmp_path / "drawings.pack").unlink()
    assert build(tmp_path, CHART, "without") == with_pack
    assert drawn.knots > 2

"""Who asks for little loads little: a room's verbs come in when they are asked for."""

from __future__ import annotations

import subprocess
import sys
from importlib import import_module
from pathlib import Path

import pytest

import publisher
from tests.support.shop import ROOT

ROOMS = (
    "catalogue",
    "charting",
    "drawing",
    "knots",
    "layout",
    "manuscript",
    "plan",
    "press",
    "source",
)
PACKAGE = Path(publisher.__file__).parent


def loaded_by(*words: str) -> set[str]:
    """The modules that a call of the command has loaded when it is done."""
    code = (
        "import atexit, sys\n"
        "atexit.register(lambda: print('loaded:', *sys.modules, file=sys.stderr))\n"
        "from publisher.cli import main\n"
        "sys.argv[0] = 'publisher'\n"
        "main()\n"
    )
    run = subprocess.run(
        [sys.executable, "-c", code, *words], capture_output=True, text=True, cwd=PACKAGE.parent
    )
    assert run.returncode == 0, run.stderr
    return set(run.stderr.rpartition("loaded:")[2].split())


@pytest.mark.parametrize("room", ROOMS)
def test_every_verb_of_a_room_is_there(room: str) -> None:
    door = import_module(f"publisher.{room}")
    for name in door.__all__:
        assert getattr(door, name) is getattr(door, name)
    with pytest.raises(AttributeError, match="nothing"):
        _ = door.nothing


@pytest.mark.parametrize("room", ROOMS)
def test_no_verb_has_the_name_of_a_module_beside_it(room: str) -> None:
    """The one would hide the other, depending on which was asked for first."""
    modules = {path.stem for path in (PACKAGE / room).iterdir()}
    assert not modules & set(import_module(f"publisher.{room}").__all__)


def test_help_loads_no_room() -> None:
    loaded = loaded_by("--help")
    assert "publisher.cli.commands" in loaded
    for name in ("plan", "drawing", "manuscript", "layout", "press", "knots", "source.read"):
        assert f"publisher.{name}" not in loaded
    assert not loaded & {"pydantic_core", "jinja2", "svgwrite", "multiprocessing", "rich"}


def test_one_pattern_of_charts_loads_nothing_for_parts_or_workers(tmp_path: Path) -> None:
    loaded = loaded_by(
        "build", "heron-step", "--patterns", str(ROOT / "patterns"), "--out", str(tmp_path)
    )
    assert "publisher.press.pdf.booklet" in loaded
    for name in (
        "catalogue.workers",
        "catalogue.cluster",
        "catalogue.releasing",
        "drawing.changes",
        "drawing.part_events",
        "drawing.part_figures",
        "drawing.part_lay",
        "manuscript.part_figures",
        "manuscript.step_words",
        "manuscript.errata",
        "manuscript.kit",
        "manuscript.spoken_plan",
        "layout.plain_text",
        "layout.web",
        "plan.errata",
        "plan.limits",
        "press.listing",
        "charting",
        "source.photo",
        "source.starter",
        "source.mirror",
        "knots.inspect",
    ):
        assert f"publisher.{name}" not in loaded
    unwanted = {"numpy", "scipy", "multiprocessing", "concurrent.futures", "importlib.metadata"}
    assert not loaded & {
        *unwanted,
        "rich",
        "PIL",
        "cairocffi",
        "pikepdf",
        "watchfiles",
        "tree_sitter",
    }

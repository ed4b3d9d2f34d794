"""`publisher figures`: which files it makes, what it says, and with which exit status."""

from __future__ import annotations

import io
import shutil
import subprocess
import sys
from collections.abc import Callable
from pathlib import Path

import pytest
from click.testing import CliRunner, Result
from PIL import Image

from publisher.catalogue.build import draw_figures
from publisher.cli.commands import commands
from tests.support.cairo_library import needs_cairo
from tests.support.shop import ROOT

Figures = Callable[..., Result]

KNOT = ["knot-larks-head-1", "knot-larks-head-2", "knot-larks-head-3"]
NO_CAIRO = """
import sys
class Without:
    def find_spec(self, name, path=None, target=None):
        if name == "cairocffi":
            raise OSError('no library called "cairo-2" was found')
sys.meta_path.insert(0, Without())
from publisher.cli import main
sys.argv[0] = "publisher"
main()
"""


@pytest.fixture
def figures(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Figures:
    """Call the command in a workshop of a picture with parts and a key cord."""
    (tmp_path / "patterns").mkdir()
    for name in ("tide-lines", "lock-keepers-key-cord", "house"):
        shutil.copy(ROOT / "patterns" / f"{name}.toml", tmp_path / "patterns")
    monkeypatch.chdir(tmp_path)
    return lambda *words: CliRunner().invoke(commands, ["figures", *words])


def made(slug: str = "tide-lines") -> dict[str, bytes]:
    folder = Path("build") / slug / "figures"
    return {path.name: path.read_bytes() for path in sorted(folder.glob("*"))}


def test_every_figure_of_every_pattern_is_made(figures: Figures) -> None:
    result = figures()
    assert (result.exit_code, result.stderr) == (0, "")
    assert {"chart-panel.svg", "finished-panel.svg", "back-panel.svg"} < made().keys()
    assert {f"{name}.svg" for name in KNOT} < made().keys()
    knot = "knot-vertical-double-half-hitch"
    assert {f"{knot}-to-{side}-4.svg" for side in ("left", "right")} < made().keys()
    cord = made("lock-keepers-key-cord")
    assert "part-key-cord.svg" in cord and not any(name.startswith("chart") for name in cord)
    told = result.stdout.splitlines()
    assert f"tide-lines: {len(made())} figures as SVG in build/tide-lines/figures" in told
    assert told[-1].startswith(f"2 patterns: {len(made()) + len(cord)} figures, in ")


def test_they_are_the_same_to_the_byte_whenever_they_are_made(figures: Figures) -> None:
    assert figures("tide-lines", "--jobs", "1").exit_code == 0
    first = made()
    assert "as they were" in figures("--jobs", "2").stdout
    assert made() == first
    shutil.rmtree("build")
    assert figures("tide-lines").exit_code == 0
    assert made() == first


def test_some_are_chosen_by_their_names_or_how_they_begin(figures: Figures) -> None:
    result = figures("tide-lines", "--figure", "knot-larks-head", "--figure", "chart-panel")
    assert result.exit_code == 0
    assert list(made()) == ["chart-panel.svg", *(f"{name}.svg" for name in KNOT)]


@needs_cairo
def test_png_are_made_beside_them_as_wide_as_asked_for(figures: Figures) -> None:
    result = figures("tide-lines", "--figure", "knot-larks-head", "--png", "501")
    assert result.exit_code == 0
    assert "3 figures as SVG and PNG in " in result.stdout
    for name in KNOT:
        picture = Image.open(io.BytesIO(made()[f"{name}.png"]))
        assert picture.size == (501, round(501 * 1.3))
    before = made()
    figures("tide-lines", "--figure", "knot-larks-head", "--png", "501")
    assert made() == before


@needs_cairo
def test_a_png_is_filled_to_its_edges(figures: Figures) -> None:
    """Also where a figure ends within a pixel, as most do: no light line on a dark slide."""
    assert figures("tide-lines", "--figure", "back", "--png", "800").exit_code == 0
    picture = Image.open(io.BytesIO(made()["back-panel.png"])).convert("RGBA")
    assert picture.getchannel("A").getextrema() == (255, 255)


@pytest.mark.parametrize("width", ["0", "-5", "15", "10001", "100000"])
def test_a_width_that_no_picture_can_have_is_refused(figures: Figures, width: str) -> None:
    result = figures("--png", width)
    assert result.exit_code == 2
    told = f"--png: no picture can be {int(width):,} pixels wide; choose from 16 to 10,000\n"
    assert result.stderr == told
    assert not Path("build").exists()


@needs_cairo
def test_a_picture_that_would_be_too_large_is_told_and_the_others_are_made(
    figures: Figures, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(draw_figures, "_MOST_PIXELS", 100 * 100)
    names = ("--figure", "part", "--figure", "knot-square-knot-1")
    result = figures("lock-keepers-key-cord", *names, "--png", "80")
    assert result.exit_code == 1
    assert "key-cord.toml: part-key-cord: a PNG of it would have 80 × " in result.stderr
    assert "; choose --png " in result.stderr
    assert set(made("lock-keepers-key-cord")) == {
        "knot-square-knot-1.png",
        "knot-square-knot-1.svg",
        "part-key-cord.svg",
    }


def test_a_name_that_no_figure_has_is_told_with_the_nearest_and_the_others_are_made(
    figures: Figures,
) -> None:
    result = figures("tide-lines", "--figure", "chart-panle", "--figure", "back")
    assert result.exit_code == 2
    assert "--figure chart-panle: there is no such figure; did you mean chart-panel" in (
        result.stderr
    )
    assert list(made()) == ["back-panel.svg"]
    result = figures("tide-lines", "--figure", "zzz")
    assert "choose among chart, finished, back, knot" in result.stderr


def test_a_figure_that_some_patterns_lack_is_told_and_made_of_the_others(figures: Figures) -> None:
    result = figures("--figure", "part")
    assert result.exit_code == 0
    assert "tide-lines: no figure part" in result.stdout
    assert list(made("lock-keepers-key-cord")) == ["part-key-cord.svg"]
    assert figures("tide-lines", "--figure", "part").exit_code == 2


def test_a_pattern_that_can_not_be_read_is_told_and_the_others_are_made(figures: Figures) -> None:
    Path("patterns/tide-lines.toml").write_text("title = 3\n")
    result = figures("--figure", "part")
    assert result.exit_code == 1
    assert "patterns/tide-lines.toml:1: " in result.stderr
    assert list(made("lock-keepers-key-cord")) == ["part-key-cord.svg"]


def test_a_folder_that_can_not_be_written_is_told_and_what_was_there_stays(
    figures: Figures,
) -> None:
    folder = Path("build/tide-lines")
    folder.mkdir(parents=True)
    (folder / "figures").write_text("a file of the writer's own")
    result = figures("--figure", "chart", "--figure", "part")
    assert result.exit_code == 1
    assert "build/tide-lines/figures" in result.stderr
    assert "a file stands where a folder is needed" in result.stderr
    assert (folder / "figures").read_text() == "a file of the writer's own"
    assert list(made("lock-keepers-key-cord")) == ["part-key-cord.svg"]


def test_without_the_cairo_library_svg_is_made_and_one_line_says_what_to_install(
    figures: Figures,
) -> None:
    words = ["figures", "--figure", "knot-larks-head", "--png", "400", "tide-lines"]
    done = subprocess.run(
        [sys.executable, "-c", NO_CAIRO, *words], capture_output=True, text=True, check=False
    )
    assert done.returncode == 1
    (line,) = done.stderr.splitlines()
    assert line.startswith("--png: the cairo library, which draws PNG, is not installed")
    assert "apt install libcairo2" in line and "brew install cairo" in line and "Windows" in line
    assert list(made()) == [f"{name}.svg" for name in KNOT]
    done = subprocess.run(
        [sys.executable, "-c", NO_CAIRO, "build", "tide-lines"], capture_output=True, text=True
    )
    assert (done.returncode, done.stderr) == (0, "")
    assert Path("build/tide-lines/picture.png").is_file()


def test_a_word_that_no_face_can_write_is_told_and_the_others_are_made(figures: Figures) -> None:
    words = (ROOT / "templates/words/en.toml").read_text("utf-8")
    assert '\nstart = "start"' in words
    Path("templates/words").mkdir(parents=True)
    changed = words.replace('\nstart = "start"', '\nstart = "結"')
    Path("templates/words/en.toml").write_text(changed, "utf-8")
    result = figures("tide-lines", "--figure", "chart", "--figure", "back")
    assert result.exit_code == 1
    assert "patterns/tide-lines.toml: chart-panel: " in result.stderr
    assert "has no “結” for “結”; write it with other characters" in result.stderr
    assert list(made()) == ["back-panel.svg"]

"""`publisher chart` as a person calls it."""

from __future__ import annotations

from pathlib import Path

import numpy as np
import pytest
from PIL import Image

from tests.support.drivers import publisher
from tests.support.pictures import disc, plain, save

SKY, SUN = (160, 192, 224), (255, 240, 200)


@pytest.fixture(scope="module")
def workshop(tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = tmp_path_factory.mktemp("workshop")
    picture = plain(300, 200, SKY)
    picture[disc(300, 200, (100, 100), 50)] = SUN
    save(picture, folder / "sun.jpg", quality=95)
    clear = np.dstack((picture, np.where(disc(300, 200, (100, 100), 50), 255, 0)))
    save(clear.astype(np.uint8), folder / "clear.png")
    frames = [Image.new("RGB", (20, 20), colour) for colour in ("blue", "red", "white")]
    frames[0].save(folder / "moving.gif", save_all=True, append_images=frames[1:])
    return folder


def test_a_picture_becomes_a_pattern_that_builds(workshop: Path) -> None:
    call = ("chart", "sun.jpg", "--columns", "20", "--into", "patterns/sun.toml")
    done = publisher(workshop, *call)
    assert (done.returncode, done.stderr) == (0, "")
    lines = done.stdout.splitlines()
    assert lines[0] == (
        "made patterns/sun.toml: 20 columns x 19 rows, about 22.5 x 15.5 cm (9 x 6 in), 380 knots"
    )
    assert lines[1] == "2 colours:"
    assert [line.split()[0] for line in lines[2:4]] == ["B", "C"]
    assert lines[4].startswith("tidied: 0 single knots before, 0 now; ")
    assert lines[5] == "`publisher build patterns/sun.toml` makes its booklet"
    built = publisher(workshop, "build", "sun")
    assert (built.returncode, built.stderr) == (0, "")


def test_one_is_told_as_one(workshop: Path) -> None:
    call = ("chart", "sun.jpg", "--columns", "1", "--into", "patterns/dot.toml")
    lines = publisher(workshop, *call).stdout.splitlines()
    assert lines[0].startswith("made patterns/dot.toml: 1 column x 1 row, ")
    assert lines[1] == "1 colour:"
    assert lines[2].endswith("  1 knot")


def test_a_chart_can_have_one_colour_and_no_fewer(workshop: Path) -> None:
    call = ("chart", "sun.jpg", "--columns", "9", "--into", "patterns/grey.toml", "--colours")
    assert publisher(workshop, *call, "1").stdout.splitlines()[1] == "1 colour:"
    for count in ("0", "41"):
        refused = publisher(workshop, *call, count)
        assert refused.returncode == 2 and "1<=x<=40" in refused.stderr


def test_a_chart_in_the_place_of_another(workshop: Path) -> None:
    publisher(workshop, "new", "mill-pond")
    path = workshop / "patterns/mill-pond.toml"
    before = path.read_text()
    done = publisher(workshop, "chart", "sun.jpg", "--columns", "20", "--into", str(path))
    assert (done.returncode, done.stderr) == (0, "")
    lines = done.stdout.splitlines()
    assert lines[0].startswith(f"changed {path}: 20 columns x 19 rows, ")
    assert lines[1] == "replaced: the chart of panel (16 columns x 20 rows)"
    assert lines[2] == "replaced: R sail red #b9482f, N night navy #1f2a44, W river blue #4f8fa3"
    text = path.read_text()
    assert text[: text.index("[colours")] == before[: before.index("[colours")]
    assert text[text.index("first_row_from") :] == before[before.index("first_row_from") :]


@pytest.mark.parametrize(
    ("picture", "line"),
    [
        ("clear.png", "what is see-through in the picture became white"),
        ("moving.gif", "the file has 3 pictures; the first was taken"),
        (
            "moving.gif",
            "the picture is 20 pixels wide, which is fewer than columns: a larger one would show "
            "more",
        ),
    ],
)
def test_what_one_should_know_is_told(workshop: Path, picture: str, line: str) -> None:
    done = publisher(workshop, "chart", picture, "--columns", "24", "--into", "patterns/known.toml")
    assert done.returncode == 0
    assert line in done.stdout.splitlines()


def test_inches_first_where_the_house_says_so(workshop: Path, tmp_path: Path) -> None:
    (tmp_path / "house.toml").write_text('units = "inch-first"\n')
    call = ("chart", "sun.jpg", "--columns", "20", "--into", str(tmp_path / "sun.toml"))
    assert "about 9 x 6 in (22.5 x 15.5 cm)" in publisher(workshop, *call).stdout


@pytest.mark.parametrize(
    ("words", "status", "said"),
    [
        (("none.png", "--columns", "9", "--into", "a.toml"), 2, "none.png: there is no such pict"),
        (("sun.jpg", "--into", "a.toml"), 2, "Missing option '--columns'"),
        (("sun.jpg", "--columns", "9"), 2, "Missing option '--into'"),
        (("sun.jpg", "--columns", "0", "--into", "a.toml"), 2, "0 is not in the range"),
        (("sun.jpg", "--columns", "9", "--into", "a.png"), 2, "a.png: a chart is put into a .toml"),
        (("patterns", "--columns", "9", "--into", "a.toml"), 2, "patterns: this is a folder; "),
        (("broken.png", "--columns", "9", "--into", "a.toml"), 1, "broken.png: this is not a pic"),
        (("sun.jpg", "--columns", "9", "--into", "broken.toml"), 1, "broken.toml:1: "),
        (
            ("sun.jpg", "--columns", "9", "--yarns", "house", "--into", "a.toml"),
            1,
            "house.toml: the house has no colours to choose from; ",
        ),
        (("sun.jpg", "--columns", "9", "--into", "sun.jpg/a.toml"), 1, "sun.jpg: a file stands wh"),
    ],
)
def test_what_is_wrong_is_told_in_a_line(
    workshop: Path, words: tuple[str, ...], status: int, said: str
) -> None:
    (workshop / "patterns").mkdir(exist_ok=True)
    (workshop / "broken.png").write_bytes(b"GIF89a")
    (workshop / "broken.toml").write_text("title = 3")
    done = publisher(workshop, "chart", *words)
    assert done.returncode == status
    assert said in done.stderr
    assert "Traceback" not in done.stderr
    assert done.stdout == ""
    assert not (workshop / "a.toml").exists()
    assert (workshop / "broken.toml").read_text() == "title = 3"

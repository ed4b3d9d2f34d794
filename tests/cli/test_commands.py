"""Every command as a person calls it, with nothing in the place of anything."""

from __future__ import annotations

import csv
import io
import json
import re
import shutil
from pathlib import Path

import pikepdf
import pytest
from PIL import Image

from tests.support.drivers import ROOT, publisher

SLUG = "mill-pond"
PICTURE = str(ROOT / "patterns/lantern-window.png")


@pytest.fixture(scope="module")
def workshop(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A folder with one new pattern, built; no house file, no templates of its own."""
    folder = tmp_path_factory.mktemp("workshop")
    begun = publisher(folder, "new", SLUG)
    assert (begun.returncode, begun.stderr) == (0, "")
    built = publisher(folder, "build")
    assert (built.returncode, built.stderr) == (0, "")
    return folder


def test_new_pattern_builds_as_it_is(workshop: Path) -> None:
    made = workshop / "build" / SLUG
    plan = json.loads((made / "plan.json").read_text())
    book = f"{SLUG}-{plan['version']}-booklet-a4.pdf"
    assert {path.name for path in made.iterdir()} == {
        book,
        "plan.json",
        "cutting-list.csv",
        "picture.png",
    }
    with pikepdf.open(made / book) as pdf:
        assert len(pdf.pages) >= 5
        assert pdf.docinfo["/Title"]
    with Image.open(made / "picture.png") as picture:
        assert min(picture.size) > 400
    rows = list(csv.DictReader(io.StringIO((made / "cutting-list.csv").read_text("utf-8-sig"))))
    assert len(rows) == len(plan["cutting_list"])


def test_check_finds_nothing_wrong_in_it_and_writes_nothing(workshop: Path) -> None:
    before = sorted(workshop.rglob("*"))
    done = publisher(workshop, "check", "--out", "nowhere")
    assert (done.returncode, done.stderr) == (0, "")
    assert done.stdout.splitlines()[-1].startswith("1 pattern: no problems, ")
    assert sorted(workshop.rglob("*")) == before


def test_second_build_has_nothing_to_do(workshop: Path) -> None:
    done = publisher(workshop, "build", "--why")
    assert f"{SLUG} booklet-a4: nothing has changed" in done.stdout
    assert "1 pattern: 0 made, 0 failed, 1 up to date" in done.stdout


def test_plan_for_programs_is_the_one_beside_the_book(workshop: Path) -> None:
    done = publisher(workshop, "plan", SLUG, "--json")
    assert (done.returncode, done.stderr) == (0, "")
    assert done.stdout == (workshop / "build" / SLUG / "plan.json").read_text()


def test_plan_for_people(workshop: Path) -> None:
    done = publisher(workshop, "plan", f"patterns/{SLUG}.toml")
    assert done.returncode == 0
    plan = json.loads((workshop / "build" / SLUG / "plan.json").read_text())
    assert plan["title"] in done.stdout
    assert (
        f"{plan['pieces'][0]['columns']} cords by {plan['pieces'][0]['rows']} rows" in done.stdout
    )


def test_other_carry_limits(workshop: Path) -> None:
    table = publisher(workshop, "plan", SLUG, "--carry-columns", "4..6").stdout.splitlines()
    assert [line.split()[0] for line in table] == ["columns", "4", "5", "6"]
    told = json.loads(publisher(workshop, "plan", SLUG, "--carry-columns", "6", "--json").stdout)
    plan = json.loads((workshop / "build" / SLUG / "plan.json").read_text())
    assert [row["yarns"] for row in told] == [len(plan["pieces"][0]["yarns"])]


def test_knots(workshop: Path) -> None:
    lines = publisher(workshop, "knots").stdout.splitlines()
    names = [line.split()[0] for line in lines]
    geometry = json.loads(publisher(workshop, "knots", "--json").stdout)
    assert {"larks-head", "vertical-double-half-hitch", "overhand"} <= set(names)
    assert {knot["name"] for knot in geometry} <= set(names)
    assert all(strand["points"] for knot in geometry for strand in knot["strands"])


@pytest.mark.parametrize("slug", ["Mill Pond", "../up", "-x", "x--y", "", "house", "a" * 101])
def test_name_that_no_pattern_can_have(tmp_path: Path, slug: str) -> None:
    done = publisher(tmp_path, "new", "--", slug)
    assert done.returncode == 2
    assert "this can't be a pattern's name; use small letters" in done.stderr
    assert list(tmp_path.iterdir()) == []


@pytest.mark.parametrize("slug", ["con", "prn", "aux", "nul", "com1", "com9", "lpt1", "lpt9"])
def test_name_that_windows_keeps_for_itself_starts_no_pattern(tmp_path: Path, slug: str) -> None:
    """Its books and its file could be on no such machine (Microsoft, “Naming Files, Paths, and
    Namespaces”); a name that only begins so can be had."""
    for words in (("new", slug), ("chart", PICTURE, "--columns", "9", "--into", f"{slug}.toml")):
        done = publisher(tmp_path, *words)
        assert done.returncode == 2
        assert done.stderr.startswith(f"{slug}: Windows keeps this name for itself")
        assert list(tmp_path.iterdir()) == []


def test_name_that_only_begins_like_one_of_those_can_be_had(tmp_path: Path) -> None:
    assert publisher(tmp_path, "new", "con-fluence").returncode == 0


def test_new_never_replaces(workshop: Path) -> None:
    path = workshop / "patterns" / f"{SLUG}.toml"
    before = path.read_bytes()
    done = publisher(workshop, "new", SLUG)
    assert done.returncode == 2
    assert done.stderr.startswith(f"patterns/{SLUG}.toml: this pattern is there already; ")
    assert path.read_bytes() == before


def broken_workshop(folder: Path) -> Path:
    """The starter, good; and a copy of it with three mistakes."""
    publisher(folder, "new", "good")
    good = (folder / "patterns/good.toml").read_text()
    bad = good.replace('title = "', 'titel = "x"\ntitle = "', 1).replace("version", "vresion", 1)
    (folder / "patterns/bad.toml").write_text(bad)
    (folder / "patterns/latin.toml").write_bytes(b'title = "caf\xe9"\n')
    return folder


@pytest.mark.parametrize("command", ["build", "check"])
def test_every_problem_of_every_pattern_in_one_run(tmp_path: Path, command: str) -> None:
    done = publisher(broken_workshop(tmp_path), command)
    assert done.returncode == 1
    places = {":".join(line.split(":")[:2]) for line in done.stderr.splitlines()}
    assert {place.split(":")[0] for place in places} == {
        "patterns/bad.toml",
        "patterns/latin.toml",
    }
    assert len(done.stderr.splitlines()) >= 3
    assert "Traceback" not in done.stderr
    assert (tmp_path / "build/good").exists() == (command == "build")


def test_template_error_names_template_and_line(workshop: Path) -> None:
    own = workshop / "templates/pages/frame.svg"
    own.parent.mkdir(parents=True)
    text = (ROOT / "templates/pages/frame.svg").read_text()
    line = text.count("\n", 0, text.index("<svg")) + 1
    own.write_text(text.replace("<svg", "<svg {{ nowhere }}", 1))
    try:
        done = publisher(workshop, "build")
        checked = publisher(workshop, "check")
    finally:
        shutil.rmtree(workshop / "templates")
    assert done.returncode == checked.returncode == 1
    assert done.stderr == checked.stderr
    assert done.stderr.startswith(f"templates/pages/frame.svg:{line}: ")
    assert "nowhere" in done.stderr
    assert len(list((workshop / "build" / SLUG).glob("*.pdf"))) == 1


def test_advice_has_its_place_in_the_chart(tmp_path: Path) -> None:
    (tmp_path / "patterns").mkdir()
    for name in ("heron-step.toml", "house.toml"):
        shutil.copy(ROOT / "patterns" / name, tmp_path / "patterns")
    done = publisher(tmp_path, "check")
    lines = (tmp_path / "patterns/heron-step.toml").read_text().splitlines()
    first = next(line for line in done.stdout.splitlines() if "stands alone" in line)
    _, line, column, kind, told = first.split(":", 4)
    assert kind == " advice"
    assert lines[int(line) - 1][int(column) - 1] in told


@pytest.mark.parametrize("words", [["build"], ["check"], ["release", SLUG]])
def test_terms_of_no_text_are_told_at_the_line_that_names_them(
    tmp_path: Path, words: list[str]
) -> None:
    publisher(tmp_path, "new", SLUG)
    path = tmp_path / "patterns" / f"{SLUG}.toml"
    path.write_text('terms = "persnal-use"\n' + path.read_text())
    done = publisher(tmp_path, *words)
    assert done.returncode == 1
    (line,) = done.stderr.splitlines()
    assert line.startswith(f"patterns/{SLUG}.toml:1: there are no terms of use named persnal-use; ")
    assert "personal-use?" in line


@pytest.mark.parametrize("words", [["build"], ["check"], ["plan", SLUG], ["watch"]])
def test_a_templates_folder_that_is_named_must_be_there(workshop: Path, words: list[str]) -> None:
    done = publisher(workshop, *words, "--templates", "nowhere")
    assert (done.returncode, done.stdout) == (2, "")
    assert done.stderr == (
        "nowhere: there is no such folder; name one, or leave this option out and have the "
        "installed templates\n"
    )


def test_check_tells_patterns_in_their_order_and_a_yarn_where_it_stands(tmp_path: Path) -> None:
    """Two workers get them done in any order; the first here takes longest."""
    publisher(tmp_path, "new", "a-mill-pond")
    first = tmp_path / "patterns/a-mill-pond.toml"
    heavy = re.sub("grams_per_metre = .*", "grams_per_metre = 90", first.read_text())
    line = heavy[: heavy.index("name = ", heavy.index("\n[yarns."))].count("\n") + 1
    for name in "abcdef":
        (tmp_path / f"patterns/{name}-mill-pond.toml").write_text(heavy)
    (tmp_path / "patterns/a-mill-pond.toml").write_text(
        re.sub(
            r'chart = """.*?"""', f'chart = """\n{("NW" * 60 + chr(10)) * 60}"""', heavy, flags=re.S
        )
    )
    done = publisher(tmp_path, "check", "--jobs", "2")
    told = [text for text in done.stdout.splitlines() if "unusual" in text]
    assert [text.split(": ")[0] for text in told] == [
        f"patterns/{name}-mill-pond.toml:{line}" for name in "abcdef"
    ]

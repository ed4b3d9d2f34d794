"""What the commands refuse, Python refuses: as a wrong call, before anything is read or made."""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import Path
from typing import Any

import pytest

from publisher import build_catalogue, chart_picture, publish, release_pattern
from publisher.catalogue.workshop import Workshop
from publisher.errors import UsageError
from tests.support.drivers import publisher
from tests.support.releases import SLUG, workshop_in
from tests.support.shop import demo, installed

KNOWN = "choose at-the-bench, booklet, handout, ink-saver, large-print, left-handed, plain-text"
NOWHERE = "nowhere: there is no such folder; name one, or leave this option out and have the"


@pytest.fixture
def workshop(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Workshop:
    monkeypatch.chdir(tmp_path)
    return workshop_in(Path())


SHARED: list[tuple[dict[str, Any], str]] = [
    ({"editions": "booklet"}, "editions: 'booklet' is one name, not some; write editions=["),
    ({"editions": ["brochure"]}, f"brochure: there is no such edition; {KNOWN}"),
    ({"papers": "a4"}, "papers: 'a4' is one name, not some; write papers=['a4']"),
    ({"papers": []}, "papers: no paper is named; choose a4 or letter"),
    ({"papers": ["a4", "a5"]}, "papers: there is no paper 'a5' for books; choose a4 or letter"),
    ({"templates": "nowhere"}, NOWHERE),
]
BUILDS: list[tuple[dict[str, Any], str]] = [
    ({"editions": []}, f"editions: no edition is named; {KNOWN}"),
    ({"only": SLUG}, f"only: '{SLUG}' is one name, not some; write only=['{SLUG}']"),
    ({"only": Path("patterns/mill-pond.toml")}, "is one name, not some"),
    ({"only": ["nobody"]}, "nobody: there is no such pattern"),
    ({"patterns": "nowhere"}, "nowhere: there is no such folder"),
    ({"students": 9}, "students: no edition here has a kit for them"),
    ({"students": 0, "editions": ["handout"]}, "students: 0 is no number of students"),
    ({"students": -1, "editions": ["handout"]}, "students: -1 is no number of students"),
    ({"students": 2.5, "editions": ["handout"]}, "students: 2.5 is no number of students"),
    ({"students": True, "editions": ["handout"]}, "students: True is no number of students"),
    ({"students": "9", "editions": ["handout"]}, "students: '9' is no number of students"),
    ({"jobs": 0}, "jobs: 0 is no number of jobs; give a whole number, 1 or more"),
]


@pytest.mark.parametrize(("words", "told"), [*SHARED, *BUILDS])
def test_a_catalogue_is_not_built_by_a_wrong_call(
    workshop: Workshop, words: Mapping[str, Any], told: str
) -> None:
    with pytest.raises(UsageError) as caught:
        build_catalogue(**words)
    assert told in str(caught.value)
    assert not workshop.out.exists()


@pytest.mark.parametrize(("words", "told"), SHARED)
def test_a_pattern_is_not_released_by_a_wrong_call(
    workshop: Workshop, words: Mapping[str, Any], told: str
) -> None:
    with pytest.raises(UsageError) as caught:
        release_pattern(SLUG, **words)
    assert told in str(caught.value)
    assert not workshop.out.exists()


@pytest.mark.parametrize(
    ("words", "told"),
    [
        ({"edition": "brochure"}, f"brochure: there is no such edition; {KNOWN}"),
        ({"edition": "plain-text"}, "plain-text: this edition has no pages, and no PDF; build_cat"),
        ({"edition": "at-the-bench"}, "at-the-bench: this edition has no pages, and no PDF"),
        ({"paper": "a5"}, "papers: there is no paper 'a5' for books; choose a4 or letter"),
        ({"templates": "nowhere"}, NOWHERE),
        ({"students": 9}, "students: no edition here has a kit for them"),
        ({"edition": "handout", "students": 0}, "students: 0 is no number of students"),
        ({"edition": "handout", "students": 1.0}, "students: 1.0 is no number of students"),
    ],
)
def test_a_book_is_not_published_by_a_wrong_call(words: Mapping[str, Any], told: str) -> None:
    with pytest.raises(UsageError) as caught:
        publish(demo("tide-lines"), **words)
    assert told in str(caught.value)


@pytest.mark.parametrize(
    ("words", "told"),
    [
        ({"columns": 0}, "columns: 0 is no number of columns; choose 1 to 2,000"),
        ({"columns": 2.5}, "columns: 2.5 is no number of columns"),
        ({"columns": 2001}, "columns: 2,001 is no number of columns"),
        ({"columns": 9, "colours": True}, "colours: True is no number of colours"),
        ({"columns": 9, "yarns": "mine"}, "yarns: 'mine' is not known here"),
    ],
)
def test_no_chart_is_made_by_a_wrong_call(
    tmp_path: Path, words: Mapping[str, Any], told: str
) -> None:
    picture = Path(__file__).parents[2] / "patterns/lantern-window.png"
    with pytest.raises(UsageError) as caught:
        chart_picture(picture, tmp_path / "reeds.toml", **words)
    assert told in str(caught.value)
    assert list(tmp_path.iterdir()) == []


def test_what_is_named_twice_is_made_once(workshop: Workshop) -> None:
    summary = build_catalogue(editions=["booklet", "booklet"], papers=("a4", "a4"))
    assert [path.name for path in summary.made if path.suffix == ".pdf"] == [
        f"{SLUG}-1.0-booklet-a4.pdf",
    ]


def test_the_usual_folder_of_templates_need_not_be_there(workshop: Workshop) -> None:
    assert not Path("templates").exists()
    done = release_pattern(SLUG, editions=["booklet"], papers=["a4"], dry=True)
    assert done.state == "dry"
    assert publish(demo("tide-lines"), templates=installed()).startswith(b"%PDF")


@pytest.mark.parametrize(
    "words",
    [
        ("build", "--edition", "brochure"),
        ("build", "--paper", "a5"),
        ("build", "--students", "0", "--edition", "handout"),
        ("build", "--students", "9"),
        ("build", "--jobs", "0"),
        ("build", "--templates", "nowhere"),
        ("build", "nobody"),
        ("release", SLUG, "--paper", "a5"),
        ("release", SLUG, "--edition", "brochure"),
        ("release", SLUG, "--templates", "nowhere"),
    ],
)
def test_the_commands_refuse_the_same_as_a_wrong_call(
    workshop: Workshop, words: tuple[str, ...]
) -> None:
    done = publisher(Path(), *words)
    assert (done.returncode, done.stdout) == (2, "")
    assert done.stderr
    assert not workshop.out.exists()

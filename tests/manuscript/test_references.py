"""An edition of the writer's own may have any sections: what it leaves out is not referred to."""

from __future__ import annotations

import io
import re
from pathlib import Path

import pypdf
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from publisher.errors import TemplateError
from publisher.layout import lay_out
from publisher.manuscript import write_manuscript
from publisher.manuscript.options import WRITERS
from publisher.press import print_book
from publisher.store import Store
from tests.support.drivers import publisher
from tests.support.keeping import workshop_of
from tests.support.printed_lists import page_texts
from tests.support.shop import (
    DATE,
    MEMORY,
    demo,
    demo_plan,
    installed,
    load_knots,
    with_files,
)

SECTIONS = tuple(name for name in WRITERS if name != "kit")
PARTS_ALONE = "lock-keepers-key-cord"
BROKEN = re.compile(r"(?<!which )\bpages?\s*[).,;]|\(\s*\)|\(page\b(?! \d)")
"""A page without a number, brackets round nothing."""


def printed(slug: str, *sections: str) -> bytes:
    """A booklet of these sections alone."""
    named = ", ".join(f'"{name}"' for name in sections)
    templates = with_files({"editions/card.toml": f'title = "Card"\nsections = [{named}]\n'})
    store = Store(MEMORY)
    plan, pattern = demo_plan(slug), demo(slug)
    written = write_manuscript(
        pattern, plan, load_knots(), templates, "card", "a4", date=DATE, store=store
    )
    return print_book(lay_out(written, templates, store), store)


def links(pdf: bytes) -> list[str]:
    """Where links lead to, by name."""
    reader = pypdf.PdfReader(io.BytesIO(pdf))
    notes = [note.get_object() for page in reader.pages for note in page.get("/Annots", [])]
    assert all(str(note["/Dest"]) in reader.named_destinations for note in notes if "/Dest" in note)
    return [str(note["/Dest"]) for note in notes if "/Dest" in note]


@settings(max_examples=12)
@given(
    st.lists(st.sampled_from(SECTIONS), min_size=1, max_size=5, unique=True),
    st.sampled_from(["tide-lines", "kingfisher-over-reeds", PARTS_ALONE]),
)
def test_any_sections_make_a_book(sections: list[str], slug: str) -> None:
    pdf = printed(slug, *dict.fromkeys(("chart" if slug != PARTS_ALONE else "parts", *sections)))
    links(pdf)
    words = " ".join(" ".join(page_texts(pdf)).split())
    assert not BROKEN.search(words), BROKEN.search(words)


@pytest.mark.parametrize("slug", ["tide-lines", "kingfisher-over-reeds"])
def test_a_card_of_chart_and_rows_names_the_knot_without_a_page(slug: str) -> None:
    pdf = printed(slug, "chart", "rows")
    assert links(pdf) == []
    words = " ".join(" ".join(page_texts(pdf)).split())
    assert "vertical double half hitch" in words
    assert "(page" not in words


def test_what_is_there_is_still_referred_to() -> None:
    pdf = printed("tide-lines", "chart", "rows", "knots")
    assert links(pdf) and set(links(pdf)) == {"knots"}
    whole = printed("tide-lines", *installed().table("editions/booklet.toml")["sections"])
    assert len(links(whole)) > 15


def test_an_edition_that_has_nothing_to_say_of_a_pattern_is_told_at_its_line() -> None:
    with pytest.raises(TemplateError) as caught:
        printed("tide-lines", "parts", "assembly")
    (problem,) = caught.value.problems
    assert str(problem.place) == "templates/editions/card.toml:2"
    assert problem.message == "none of these sections has anything to say of Tide Lines"


def test_check_looks_at_the_writers_own_editions(tmp_path: Path) -> None:
    workshop_of(tmp_path, "tide-lines")
    card = tmp_path / "templates/editions/card.toml"
    card.write_text('title = "Card"\nsections = ["chart", "rows"]\n', "utf-8")
    found = publisher(tmp_path, "check")
    assert (found.returncode, "templates/" in found.stdout + found.stderr) == (0, False)
    card.write_text('title = "Card"\nsections = ["parts"]\n', "utf-8")
    found = publisher(tmp_path, "check")
    assert found.returncode == 1
    assert "templates/editions/card.toml:2: none of these sections" in found.stderr

"""A book is made anew with another version of a library that made it, and of no other."""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path

import pytest

from publisher.catalogue.build import digests, libraries
from publisher.catalogue.build.libraries import ALWAYS, LARGE_RUNS, SOMETIMES
from publisher.catalogue.workshop import Workshop
from tests.support.shop import ROOT
from tests.support.stand_ins import begin_with_stand_ins, everything, make_workshop, write

MODULES = {"pillow": "PIL"}
PIXELS = {"pillow", "pypdfium2"}
GRADIENTS = {"cairocffi", "cairosvg", "pypdf", "tinycss2"}


@pytest.fixture
def workshop(tmp_path: Path) -> Workshop:
    return make_workshop(tmp_path, "heron")


def build(workshop: Workshop) -> None:
    run = begin_with_stand_ins(workshop)
    assert not any(outcome.problems for outcome in run.outcomes(run.tasks(everything(workshop)), 1))


def stale_with_another(name: str, workshop: Workshop, monkeypatch: pytest.MonkeyPatch) -> set[str]:
    """What would be made anew, were another version of a library installed."""
    found = {**libraries.versions(), name: f"{name}-999.dist-info"}
    with monkeypatch.context() as patch:
        patch.setattr(digests, "versions", lambda: found)
        digests.program_digest.cache_clear()
        (task,) = begin_with_stand_ins(workshop).tasks(everything(workshop))
        reasons = {target.name: task.reasons[target] for target in task.stale}
    digests.program_digest.cache_clear()
    assert all(name in " ".join(told) or "program" in " ".join(told) for told in reasons.values())
    return {*reasons}


@pytest.mark.parametrize("name", SOMETIMES)
def test_a_library_that_did_nothing_for_a_book_is_nothing_to_it(
    name: str, workshop: Workshop, monkeypatch: pytest.MonkeyPatch
) -> None:
    write(workshop.templates / "pages/chart.svg", "<chart>")  # type: ignore[operator]
    build(workshop)
    expected = {"companions"} if name in PIXELS else set()
    if name == "tinycss2":  # the templates are the writer's, and may name a colour
        expected = {"booklet-a4", "companions"}
    assert stale_with_another(name, workshop, monkeypatch) == expected


@pytest.mark.parametrize("name", sorted(GRADIENTS))
def test_what_draws_gradients_counts_where_a_template_has_one(
    name: str, workshop: Workshop, monkeypatch: pytest.MonkeyPatch
) -> None:
    write(workshop.templates / "pages/chart.svg", "<linearGradient/>")  # type: ignore[operator]
    build(workshop)
    assert "booklet-a4" in stale_with_another(name, workshop, monkeypatch)


@pytest.mark.parametrize("name", ALWAYS)
def test_what_makes_every_book_makes_it_anew(
    name: str, workshop: Workshop, monkeypatch: pytest.MonkeyPatch
) -> None:
    build(workshop)
    assert "booklet-a4" in stale_with_another(name, workshop, monkeypatch)


def test_all_of_them_are_installed() -> None:
    assert {*libraries.versions()} == {*ALWAYS, *SOMETIMES}


def test_a_usual_booklet_loads_none_of_the_others() -> None:
    """So that none of them can have done anything for it."""
    script = (
        "import sys\n"
        "from publisher.catalogue.single import publish\n"
        "from publisher.source import read_pattern\n"
        "for slug in sys.argv[1:]: publish(read_pattern(f'patterns/{slug}.toml'))\n"
        "print(*sys.modules)"
    )
    slugs = ["kingfisher-over-reeds", "heron-step", "lock-keepers-key-cord"]
    loaded = subprocess.run(
        [sys.executable, "-c", script, *slugs], cwd=ROOT, capture_output=True, text=True, check=True
    ).stdout.split()
    assert not {MODULES.get(name, name) for name in SOMETIMES} & {*loaded}


def test_a_chart_that_is_not_large_is_planned_without_the_library_for_large_ones() -> None:
    """As many runs as may be, of two colours by turns, and all of them in one tangle."""
    side = int(LARGE_RUNS**0.5)
    script = (
        "import sys\n"
        f"sys.path.insert(0, {str(ROOT)!r})\n"
        "from tests.support.grids import plan_of\n"
        "from publisher.catalogue.build.libraries import is_large\n"
        f"plan = plan_of(*['AB' * {side // 2} for _ in range({side})])\n"
        "assert not is_large(plan) and not {'numpy', 'scipy'} & {*sys.modules}\n"
        f"assert is_large(plan_of(*['AB' * {side} for _ in range({side})]))"
    )
    subprocess.run([sys.executable, "-c", script], cwd=ROOT, check=True)

"""`publisher watch` as a writer meets it: its page in a browser, and a clean end."""

from __future__ import annotations

import json
import os
import re
import signal
import subprocess
import sys
import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path
from urllib.request import urlopen

import pytest

from tests.support.browser import chromium
from tests.support.drivers import ROOT, publisher

PATIENCE_S = 60.0


@contextmanager
def watching(folder: Path, *words: str) -> Iterator[tuple[subprocess.Popen[str], str]]:
    """The command running in a folder, and its page's address."""
    environment = {k: v for k, v in os.environ.items() if k != "PYTHONDONTWRITEBYTECODE"}
    process = subprocess.Popen(
        [sys.executable, "-u", "-m", "publisher", "watch", "--no-browser", *words],
        cwd=folder,
        env={**environment, "PYTHONPATH": str(ROOT)},
        stdout=subprocess.PIPE,
        stderr=subprocess.PIPE,
        text=True,
    )
    try:
        yield process, address_of(process)
    finally:
        process.kill()
        process.communicate()


def address_of(process: subprocess.Popen[str]) -> str:
    assert process.stdout
    found = re.match(r"showing (http://127\.0\.0\.1:\d+/) ", process.stdout.readline())
    assert found
    return found[1]


def state(address: str, after: int = -1) -> dict:  # type: ignore[type-arg]
    with urlopen(f"{address}state?after={after}", timeout=PATIENCE_S) as answer:
        told: dict = json.load(answer)  # type: ignore[type-arg]
    return told


def until(what: Callable[[], object], words: str) -> float:
    """Wait for something to be so; the seconds it took."""
    started = time.monotonic()
    while not what():
        assert time.monotonic() < started + PATIENCE_S, words
        time.sleep(0.02)
    return time.monotonic() - started


@pytest.fixture(scope="module")
def workshop(tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = tmp_path_factory.mktemp("watched")
    (folder / "patterns").mkdir()
    assert publisher(folder, "new", "mill-pond").returncode == 0
    return folder


@pytest.mark.parametrize("how", [signal.SIGINT, signal.SIGTERM])
def test_ends_cleanly_when_told_to(workshop: Path, how: signal.Signals) -> None:
    with watching(workshop) as (process, address):
        until(lambda: state(address)["revision"] > 0, "the first round has begun")
        process.send_signal(how)
        told, errors = process.communicate(timeout=20)
    assert (process.returncode, errors) == (0, "")
    assert told.endswith("stopped; every file is whole, as it was or as it is now\n")
    assert not list(workshop.glob("build/.cache/work/*"))


def test_wrong_calls(workshop: Path) -> None:
    with watching(workshop) as (_, address):
        port = address.rpartition(":")[2].strip("/")
        taken = publisher(workshop, "watch", "--no-browser", "--port", port)
    assert taken.returncode == 2
    assert taken.stderr.startswith(f"--port {port}: it can't be had (")
    nothing = publisher(workshop, "watch", "--no-browser", "mill-pnd")
    assert nothing.returncode == 2
    assert "did you mean mill-pond?" in nothing.stderr


def test_page_shows_what_is_saved(workshop: Path, tmp_path: Path) -> None:
    """Pages as pictures, anew within a short time; a mistake with file and line, until mended."""
    source = workshop / "patterns/mill-pond.toml"
    good = source.read_text()
    with chromium(tmp_path / "profile") as browser, watching(workshop) as (process, address):
        browser.get(address)

        def pictures() -> list[str]:
            return browser.execute_script(
                "return [...document.querySelectorAll('#pages img')]"
                ".filter(image => image.complete && image.naturalWidth > 500)"
                ".map(image => image.src)"
            )

        def text(where: str) -> str:
            return str(
                browser.execute_script(f"return document.querySelector('{where}').innerText")
            )

        until(lambda: text("#state") == "All is up to date" and pictures(), "the first pages")
        assert text("#patterns") == "mill-pond" and text("#books") == "booklet-a4"
        pages = browser.execute_script("return document.querySelectorAll('#pages img').length")
        assert pages == len(state(address)["patterns"][0]["books"][0]["pages"]) > 3
        before = set(pictures())

        browser.execute_script("window.scrollTo(0, 200)")
        source.write_text(good.replace('title = "', 'title = "Still ', 1))
        took = until(lambda: pictures() and not before & set(pictures()), "the new pages")
        assert took < 20
        assert browser.execute_script("return window.scrollY") == 200, "the page has jumped"

        source.write_text(good.replace("version = ", "versoin = ", 1))
        until(lambda: "To mend" in text("#problems"), "the problem")
        told = text("#problems")
        assert re.search(r"patterns/mill-pond\.toml:\d+", told) and "versoin" in told
        assert pictures(), "the pages of before stay"
        assert browser.title.startswith("(")

        source.write_text(good)
        until(lambda: text("#state") == "All is up to date", "the mended pattern")
        assert not browser.execute_script(
            "return document.querySelector('main').innerText.includes('To mend')"
        )

        complaints = [
            line for line in browser.get_log("browser") if "favicon" not in line["message"]
        ]
        assert complaints == []
        browser.get(f"{address}out/index.html")
        assert "Patterns" in text("h1")
        width = "return document.images[0].naturalWidth"
        until(lambda: browser.execute_script(width) > 500, "the first cover")
        browser.get(address)
        process.send_signal(signal.SIGINT)
        until(lambda: text("#state") == "The watch has been stopped", "the end")
        assert process.wait(10) == 0


def test_saved_pattern_is_on_the_page_soon(workshop: Path) -> None:
    """By plain HTTP: the state tells of another book, and its page is another picture."""
    source = workshop / "patterns/mill-pond.toml"
    good = source.read_text()
    with watching(workshop) as (_, address):
        until(lambda: _is_done(state(address)), "the first round")
        before = state(address)["patterns"][0]["books"][0]
        source.write_text(good.replace('title = "', 'title = "Quiet ', 1))

        def book() -> dict:  # type: ignore[type-arg]
            found: dict = state(address)["patterns"][0]["books"][0]  # type: ignore[type-arg]
            return found

        until(lambda: book()["digest"] != before["digest"], "another book")
        with urlopen(f"{address}page/{book()['file']}/1", timeout=PATIENCE_S) as answer:
            assert answer.read(8) == b"\x89PNG\r\n\x1a\n"
    source.write_text(good)


def _is_done(state: dict) -> bool:  # type: ignore[type-arg]
    return not state["left"] and bool(state["patterns"] and state["patterns"][0]["books"])

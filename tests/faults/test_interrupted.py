"""Ctrl-C stops a build with a line, at once, and with every file whole."""

from __future__ import annotations

import os
import signal
import subprocess
import sys
import time
from pathlib import Path

import pytest

from tests.support.drivers import COMMAND
from tests.support.stand_ins import make_workshop, write_pattern


def _hear_interrupts() -> None:
    """As at a terminal: what was started in the background may be deaf to Ctrl-C."""
    signal.signal(signal.SIGINT, signal.SIG_DFL)


@pytest.mark.parametrize("jobs", ["1", "2"])
def test_interrupted_build(tmp_path: Path, jobs: str) -> None:
    make_workshop(tmp_path)
    slugs = list("abcdefghijkl")
    for slug in slugs:
        write_pattern(tmp_path, slug, plan="slow")
    process = subprocess.Popen(
        [sys.executable, "-c", COMMAND, "build", "--jobs", jobs, *slugs],
        cwd=tmp_path,
        stdout=subprocess.PIPE,
        stderr=subprocess.PIPE,
        text=True,
        start_new_session=True,
        preexec_fn=_hear_interrupts,
    )
    assert process.stdout is not None
    assert "made build/" in process.stdout.readline()
    begun = time.monotonic()
    os.killpg(process.pid, signal.SIGINT)  # as a terminal does: to the workers too
    _, trouble = process.communicate(timeout=30)
    assert process.returncode == 128 + signal.SIGINT
    assert trouble == "stopped; every file is whole, as it was or as it is now\n"
    assert time.monotonic() - begun < 3.0
    assert not list((tmp_path / "build/.cache/work").iterdir())
    assert not (tmp_path / "build/l").exists()

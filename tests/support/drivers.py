"""Processes that tests start, watch and kill: each in a Python of its own."""

from __future__ import annotations

import os
import subprocess
import sys
from pathlib import Path

ROOT = Path(__file__).parents[2]


# The command `publisher` with quick stages.
COMMAND = f"""
import sys
from functools import partial
from pathlib import Path
sys.path.insert(0, {str(ROOT)!r})
from tests.support.stand_ins import StandIns
from publisher.catalogue.build import build
build.begin = partial(build.begin, pipeline=StandIns(Path("log")))
from publisher.cli import main
main()
"""


# Python may keep what it compiled, as on a person's machine.
_ENVIRONMENT = {k: v for k, v in os.environ.items() if k != "PYTHONDONTWRITEBYTECODE"}


def start(script: str, folder: Path, *args: str) -> subprocess.Popen[str]:
    """Start a Python script that can import the stand-ins, in a folder."""
    paths = [str(ROOT), os.environ.get("PYTHONPATH", "")]
    return subprocess.Popen(
        [sys.executable, "-c", script, *args],
        cwd=folder,
        env={**_ENVIRONMENT, "PYTHONPATH": os.pathsep.join(filter(None, paths))},
        stdout=subprocess.PIPE,
        stderr=subprocess.PIPE,
        text=True,
    )


def publisher(folder: Path, *words: str, **environment: str) -> subprocess.CompletedProcess[str]:
    """Run the command `publisher` in a folder, as a person would."""
    return subprocess.run(
        [sys.executable, "-m", "publisher", *words],
        cwd=folder,
        env={**_ENVIRONMENT, "PYTHONPATH": str(ROOT), **environment},
        capture_output=True,
        text=True,
        timeout=120,
    )


def outputs(script: str, *folders: Path) -> set[str]:
    """What a script prints under two hash seeds: one text, if nothing hangs on their order.

    It can import the tests' support, and what stands in `folders`.
    """
    paths = os.pathsep.join(map(str, (*folders, ROOT)))
    return {
        subprocess.run(
            [sys.executable, "-c", script],
            env={**os.environ, "PYTHONPATH": paths, "PYTHONHASHSEED": seed},
            capture_output=True,
            text=True,
            check=True,
        ).stdout
        for seed in ("1", "2")
    }


def is_alive(process_id: int) -> bool:
    """Whether a process is there and not just waiting to be buried."""
    try:
        state = Path(f"/proc/{process_id}/stat").read_text().rpartition(")")[2].split()[0]
    except OSError:
        return False
    return state != "Z"

"""Run a command on a terminal of its own, and keep all that it shows there."""

from __future__ import annotations

import os
import subprocess
from collections.abc import Mapping, Sequence
from pathlib import Path

import pytest


def on_terminal(
    command: Sequence[str], folder: Path, environment: Mapping[str, str], timeout_s: float
) -> tuple[bytes, int]:
    """What is shown, and the exit status. `environment` is added to that of the tests. Where a
    system has no such terminals (Windows), the test is skipped."""
    pty = pytest.importorskip("pty")
    parent, child = pty.openpty()
    running = subprocess.Popen(
        command,
        cwd=folder,
        env={**os.environ, **environment},
        stdin=child,
        stdout=child,
        stderr=child,
    )
    os.close(child)
    shown = b""
    try:
        while data := os.read(parent, 65536):
            shown += data
    except OSError:  # the other end is closed
        pass
    os.close(parent)
    return shown, running.wait(timeout=timeout_s)

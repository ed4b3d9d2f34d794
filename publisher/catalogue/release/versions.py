"""Compare versions as numbers: 1.0 is 1.0.0, and comes before 1.0.1 and 1.10."""

from __future__ import annotations

import re

Number = tuple[int, int, int]

_VERSION = re.compile(r"(\d+)\.(\d+)(?:\.(\d+))?")


def number_of(version: str) -> Number:
    """ValueError where this is no version."""
    match = _VERSION.fullmatch(version)
    if not match or not version.isascii():
        raise ValueError(f"{version!r} is no version")
    major, minor, patch = match.groups(default="0")
    return int(major), int(minor), int(patch)


def after(version: str) -> tuple[str, str]:
    """The next versions, for a small change and for a larger one."""
    major, minor, patch = number_of(version)
    return f"{major}.{minor}.{patch + 1}", f"{major}.{minor + 1}"

"""Looks from tables, read as from a writer's own look.toml."""

from __future__ import annotations

import tomllib
from collections.abc import Mapping
from typing import Any

from publisher.manuscript.edition import house_look
from publisher.model.look import Look
from publisher.tables.words import written
from tests.support.shop import installed, with_files

TABLES = tomllib.loads(installed().text("look.toml"))


def look_of(tables: Mapping[str, Any], paper: str = "a4") -> Look:
    """TemplateError says what is wrong with them."""
    text = "".join(f"{key} = {written(value)}\n" for key, value in tables.items())
    return house_look(with_files({"look.toml": text}), paper)

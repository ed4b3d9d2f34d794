"""The published JSON Schema: what the reader takes, an editor takes, and no more keys."""

from __future__ import annotations

import datetime
import json
import tomllib
from pathlib import Path
from typing import Any

import jsonschema
import pytest

import publisher.source
from publisher.source import starter_pattern
from publisher.source.format.publish import PUBLISHED, json_schema

PACKAGE = Path(publisher.source.__file__).parent
PATTERNS = Path(__file__).parents[2] / "patterns"
WRONG = Path(__file__).parent / "wrong"


def schema(name: str) -> Any:
    return json.loads((PACKAGE / name).read_text(encoding="utf-8"))


def as_json(text: str) -> Any:
    """TOML as an editor hands it to a JSON Schema: dates as text."""

    def plain(value: object) -> str:
        assert isinstance(value, (datetime.date, datetime.time))
        return value.isoformat()

    return json.loads(json.dumps(tomllib.loads(text), default=plain))


def validator(name: str) -> jsonschema.Draft202012Validator:
    jsonschema.Draft202012Validator.check_schema(schema(name))
    return jsonschema.Draft202012Validator(
        schema(name), format_checker=jsonschema.Draft202012Validator.FORMAT_CHECKER
    )


@pytest.mark.parametrize("name", PUBLISHED)
def test_it_is_up_to_date(name: str) -> None:
    assert schema(name) == json.loads(json_schema(*PUBLISHED[name])), (
        "run python -m publisher.source.format.publish"
    )


@pytest.mark.parametrize("path", sorted(PATTERNS.glob("*.toml")), ids=lambda path: path.stem)
def test_it_takes_the_demo_patterns(path: Path) -> None:
    kind = "house" if path.name == "house.toml" else "pattern"
    validator(f"{kind}.schema.json").validate(as_json(path.read_text(encoding="utf-8")))


def test_it_takes_the_starter() -> None:
    validator("pattern.schema.json").validate(as_json(starter_pattern("reed-warbler")))


@pytest.mark.parametrize(
    "name",
    [
        "misspelt-key",
        "misspelt-needed-key",
        "version-misshapen",
        "version-without-quotes",
        "colour-by-name",
        "colour-letter-too-long",
        "diameter-zero",
        "make-too-large",
        "make-with-decimals",
        "unknown-choice",
        "unknown-carry",
        "mount-with-mistakes",
        "no-title",
        "long-title",
        "id-misshapen",
        "other-format",
    ],
)
def test_it_refuses_what_the_reader_refuses(name: str) -> None:
    with pytest.raises(jsonschema.ValidationError):
        validator("pattern.schema.json").validate(as_json((WRONG / f"{name}.toml").read_text()))


@pytest.mark.parametrize("name", PUBLISHED)
def test_every_key_is_explained_with_an_example(name: str) -> None:
    keys = list(_keys(schema(name)))
    assert len(keys) > 20
    for key, rule in keys:
        says, _, example = rule["description"].partition("\n\n")
        assert says.endswith("."), key
        assert example.startswith((f"{key} = ", f"[{key}", f"[[{key}")), key


def _keys(node: Any) -> Any:
    if isinstance(node, dict):
        yield from node.get("properties", {}).items()
        for inner in node.values():
            yield from _keys(inner)
    elif isinstance(node, list):
        for inner in node:
            yield from _keys(inner)

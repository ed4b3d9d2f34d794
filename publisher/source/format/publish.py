"""Write the pattern format down as JSON Schema, so that editors complete and check it.

`python -m publisher.source.format.publish` brings the published files up to date.
"""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

from publisher.source.format.files import HouseTable, PatternTable
from publisher.tables.schema import table_schema

FOLDER = Path(__file__).parent.parent
PUBLISHED = {
    "pattern.schema.json": (PatternTable, "A knotting pattern: its colours and its pieces."),
    "house.schema.json": (HouseTable, "What all patterns of a house share. A pattern's own wins."),
}
_DIALECT = "https://json-schema.org/draft/2020-12/schema"


def json_schema(table: type, says: str) -> str:
    """A file's table as a JSON Schema document."""
    from pydantic.json_schema import GenerateJsonSchema

    schema: Any = _tidy(GenerateJsonSchema().generate(table_schema(table)))
    document = {"$schema": _DIALECT, "title": table.__name__.removesuffix("Table").lower()}
    document |= schema | {"description": says}
    return json.dumps(document, indent=2, ensure_ascii=False) + "\n"


def _tidy(node: Any) -> Any:
    """Refuse unknown keys, as the reader does; drop titles that only repeat names."""
    if isinstance(node, list):
        return [_tidy(item) for item in node]
    if not isinstance(node, dict):
        return node
    tidy = {
        key: {name: _tidy(value) for name, value in inner.items()}
        if key in ("properties", "$defs")
        else _tidy(inner)
        for key, inner in node.items()
        if not (key == "title" and isinstance(inner, str)) and (key, inner) != ("default", None)
    }
    if "properties" in tidy:
        tidy["additionalProperties"] = False
    return tidy


def publish() -> None:
    """Write the schema files into the package."""
    for name, (table, says) in PUBLISHED.items():
        (FOLDER / name).write_text(json_schema(table, says), encoding="utf-8")


if __name__ == "__main__":
    publish()

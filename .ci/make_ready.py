"""Draw the program's knots and compile its templates while its wheel is built."""

from __future__ import annotations

import sys
from typing import Any

from hatchling.builders.hooks.plugin.interface import BuildHookInterface


class MakeReady(BuildHookInterface[Any]):
    """It needs the libraries alone that `build-system.requires` names."""

    def initialize(self, version: str, build_data: dict[str, Any]) -> None:
        sys.path.insert(0, self.root)
        from publisher.catalogue.packaging import compile_templates, draw_knots

        draw_knots()
        compile_templates()

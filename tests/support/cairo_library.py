"""CairoSVG for tests, where the cairo library is installed: it comes with the system, not with pip.

Tests that draw with it, or print gradients, are marked with `needs_cairo`.
"""

from __future__ import annotations

from typing import Any

import pytest

cairocffi: Any
cairosvg: Any
try:
    import cairocffi
    import cairosvg
except (ImportError, OSError):
    cairocffi = cairosvg = None

needs_cairo = pytest.mark.skipif(
    cairosvg is None,
    reason="the cairo library is not installed (apt install libcairo2, brew install cairo)",
)

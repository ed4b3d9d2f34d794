"""A figure in a file of its own looks the same in three engines: as SVG drawn by CairoSVG and by
Chromium, and in a PDF drawn by pdfium.

There its words are text in the house's fonts, in the SVG they are outlines. Edges are smoothed in
another way by each engine: so pictures are compared 4 by 4 pixels at a time, of which one in 500
may be off by more than 24 of 255. pdfium draws no line thinner than a pixel, so that a chart is
compared at 300 dots an inch, where none is.
"""

from __future__ import annotations

import base64
import io
from collections.abc import Iterator
from functools import cache
from typing import Any

import numpy as np
import pytest
from PIL import Image

from publisher.model.colour import WHITE
from publisher.press import page_pictures, svg_picture
from tests.support.browser import chromium
from tests.support.cairo_library import needs_cairo
from tests.support.lone import in_a_pdf, svg_of

KINGFISHER, TIDE = "kingfisher-over-reeds", "tide-lines"
FIGURES = [
    (TIDE, "chart-panel", 300),
    (TIDE, "back-panel", 150),
    (KINGFISHER, "finished-panel", 150),
    (KINGFISHER, "part-reed-leaf", 100),
    (KINGFISHER, "knot-square-knot-2", 200),
]
OFF, MOST = 24, 1 / 500


@cache
def by_pdfium(slug: str, name: str, dpi: int) -> Image.Image:
    return page_pictures(in_a_pdf(slug, name), dpi)[0]


def by_cairosvg(slug: str, name: str, size: tuple[int, int]) -> Image.Image:
    png = svg_picture(svg_of(slug, name), *size, WHITE)
    return Image.open(io.BytesIO(png)).convert("RGB")


def share_off(one: Image.Image, other: Image.Image) -> float:
    """How many of the blocks of 4 by 4 pixels differ."""
    assert one.size == other.size
    small = one.width // 4, one.height // 4
    blocks = [np.asarray(p.resize(small, Image.Resampling.BOX), dtype=int) for p in (one, other)]
    return float((np.abs(blocks[0] - blocks[1]).max(axis=2) > OFF).mean())


@needs_cairo
@pytest.mark.parametrize(("slug", "name", "dpi"), FIGURES)
def test_cairosvg_draws_what_pdfium_draws(slug: str, name: str, dpi: int) -> None:
    pdf = by_pdfium(slug, name, dpi)
    assert share_off(by_cairosvg(slug, name, pdf.size), pdf) <= MOST


@needs_cairo
def test_the_comparison_sees_a_number_that_is_missing_or_out_of_place() -> None:
    slug, name, dpi = FIGURES[-1]
    pdf, svg = by_pdfium(slug, name, dpi), svg_of(slug, name)
    last = svg[svg.rindex("<path") : svg.rindex("/>") + 2]
    for instead in ("", f'<g transform="translate(1 0)">{last}</g>'):
        png = svg_picture(svg.replace(last, instead), *pdf.size, WHITE)
        assert share_off(Image.open(io.BytesIO(png)).convert("RGB"), pdf) > MOST


@pytest.fixture(scope="module")
def page(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Any]:
    with chromium(tmp_path_factory.mktemp("figures") / "profile") as browser:
        yield browser


def by_chromium(page: Any, svg: str, size: tuple[int, int]) -> Image.Image:
    """As a page shows an SVG file in an `img`, which fetches nothing and runs nothing."""
    screen = {"width": size[0], "height": size[1], "deviceScaleFactor": 1, "mobile": False}
    page.execute_cdp_cmd("Emulation.setDeviceMetricsOverride", screen)
    source = "data:image/svg+xml;base64," + base64.b64encode(svg.encode()).decode()
    page.get("about:blank")
    page.execute_async_script(
        "const [source, width, height, done] = arguments;"
        "document.body.style.margin = 0;"
        "const img = new Image(width, height); img.style.display = 'block';"
        "img.onload = done; img.src = source; document.body.append(img);",
        source,
        *size,
    )
    shot = page.execute_cdp_cmd("Page.captureScreenshot", {"format": "png"})["data"]
    return Image.open(io.BytesIO(base64.b64decode(shot))).convert("RGB")


@pytest.mark.parametrize(("slug", "name", "dpi"), FIGURES)
def test_chromium_draws_what_pdfium_draws(page: Any, slug: str, name: str, dpi: int) -> None:
    pdf = by_pdfium(slug, name, dpi)
    assert share_off(by_chromium(page, svg_of(slug, name), pdf.size), pdf) <= MOST


def test_several_stand_in_one_web_page_each_with_its_name_and_description(page: Any) -> None:
    names = [f"knot-square-knot-{number}" for number in (1, 2, 3)]
    files = [svg_of(KINGFISHER, name) for name in names]
    page.get("about:blank")
    page.execute_script("document.body.innerHTML = arguments[0]", "".join(files))
    nodes = page.execute_cdp_cmd("Accessibility.getFullAXTree", {})["nodes"]
    images = [node for node in nodes if node["role"]["value"] == "image"]
    said = [(node["name"]["value"], node["description"]["value"]) for node in images]
    assert [name for name, _ in said] == [f"Square knot, step {n} of 5" for n in (1, 2, 3)]
    assert all(words.endswith(".") and "*" not in words for _, words in said)
    ids = page.execute_script("return [...document.querySelectorAll('[id]')].map(e => e.id)")
    assert len(ids) == len(set(ids)) == 9
    assert not page.execute_script("return document.querySelectorAll('text, script').length")

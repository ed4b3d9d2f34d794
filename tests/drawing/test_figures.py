"""What all figures share: plain SVG that the press draws quickly, their size, their sameness."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from publisher.drawing import (
    draw_back_legend,
    draw_back_maps,
    draw_chart_tile,
    draw_hanging,
    draw_key,
    draw_key_map,
    draw_legend,
    draw_swatch,
)
from publisher.drawing.base.numbers import number
from publisher.model.figure import Figure
from tests.support.charts import kingfisher, look, nodes, tiles_of, words
from tests.support.drivers import outputs

EDITIONS = ("booklet", "ink-saver", "large-print")


def figures(edition: str) -> dict[str, Figure]:
    chosen, said = look(edition), words()
    plan, colours = kingfisher()
    tiles = tiles_of(plan, chosen)
    back = {**words("backmap"), "pairs": "pairs", "singles": "singles"}
    return {
        "tile": draw_chart_tile(plan, colours, tiles, 1, chosen, said),
        "key": draw_key(plan, colours, chosen, 146.0, said),
        "legend": draw_legend(plan, chosen, 146.0, said),
        "map": draw_key_map(plan, colours, tiles, tiles.pages[0], chosen, said),
        "swatch": draw_swatch(colours[0], colours, chosen, 4.6, 4.2),
        "hanging": draw_hanging(plan, colours, chosen, 129.0, 200.0),
        "back": draw_back_maps(plan, colours, chosen, 124.0, 190.0, back)[0],
        "back legend": draw_back_legend(plan, chosen, back),
    }


@pytest.mark.parametrize("edition", EDITIONS)
def test_only_plain_svg_is_used(edition: str) -> None:
    for name, figure in figures(edition).items():
        for node in nodes(figure):
            assert node.tag in ("g", "path", "text", "image"), name
            assert not {"class", "style", "text-anchor", "clip-path"} & set(node.attrib), name
            assert re.fullmatch(r"[MLHVCZmlhvcz0-9. -]*", node.get("d", "")), name


@pytest.mark.parametrize("edition", EDITIONS)
def test_no_figure_draws_beyond_its_own_size(edition: str) -> None:
    for name, figure in figures(edition).items():
        for node in nodes(figure):
            if node.tag == "text":
                x, y = float(node.get("x", 0)), float(node.get("y", 0))
                assert -0.01 <= x <= figure.width_mm, (name, node.text)
                assert -0.01 <= y <= figure.height_mm, (name, node.text)


def test_all_figures_are_the_same_to_the_byte_in_another_process() -> None:
    script = (
        "import hashlib\nfrom test_figures import figures\n"
        "print([hashlib.sha256(f.svg.encode()).hexdigest() for f in figures('booklet').values()])"
    )
    assert len(outputs(script, Path(__file__).parent)) == 1


@pytest.mark.parametrize(
    ("value", "text"),
    [(1.5, "1.5"), (2.0, "2"), (-0.001, "0"), (0.005, "0.01"), (-3.256, "-3.26"), (100.0, "100")],
)
def test_numbers_are_written_short(value: float, text: str) -> None:
    assert number(value) == text

"""Long runs carry their count, yarns their marks; and a chart stays small on paper and in bytes."""

from __future__ import annotations

import pytest

from publisher.drawing import draw_chart_tile, draw_legend
from publisher.drawing.base.symbols import BLANK
from publisher.drawing.base.yarn_signs import YARN_CHARACTERS
from publisher.drawing.chart.view import View
from publisher.drawing.chart.yarn_marks import mark_size
from publisher.model.figure import Figure
from publisher.model.look import Look
from publisher.plan import make_plan
from tests.support.charts import (
    Shot,
    chart_of,
    kingfisher,
    look,
    mark_rows,
    near,
    nodes,
    plan_of,
    sign_rows,
    texts,
    tile_of,
    tiles_of,
    words,
)
from tests.support.drivers import outputs
from tests.support.shop import demo

BOOKLET, MONO, LARGE = look(), look("ink-saver"), look("large-print")
PLAIN = look(run_length_from=0, yarn_marks=False)
WORDS = words()


def test_a_long_run_shows_the_whole_rows_count_on_every_tile_with_enough_of_it() -> None:
    plan, colours = plan_of("A" * 60, "B" + "A" * 9 + "B" * 50)
    tiles = tiles_of(plan)
    assert tiles.across == 3
    for tile in tiles.tiles:
        figure = draw_chart_tile(plan, colours, tiles, tile.number, BOOKLET, WORDS)
        view = View.of(plan, tiles, tile.number, BOOKLET)
        counts = {
            said.text
            for said in texts(figure)
            if view.left < said.x < view.right and view.top < said.y < view.bottom
        }
        assert "60" in counts and ("50" in counts) and "9" not in counts


def test_a_run_that_shows_too_little_of_itself_is_not_counted_there() -> None:
    plan, colours = plan_of("B" * 17 + "A" * 20 + "B" * 23)
    tiles = tiles_of(plan)
    first = tiles.tile(1)
    seen = first.last_cord - 17
    assert 0 < seen < 6
    figure = draw_chart_tile(plan, colours, tiles, 1, BOOKLET, WORDS)
    view = View.of(plan, tiles, 1, BOOKLET)
    inside = {
        said.text
        for said in texts(figure)
        if view.top < said.y < view.bottom and said.x > view.left
    }
    assert "17" in inside and "20" not in inside


def test_a_count_takes_the_place_of_the_second_symbol_in_working_order() -> None:
    plan, colours = plan_of("A" * 14, "A" * 14)
    figure, view = tile_of((plan, colours), 1)
    places = {
        said.y < view.y(2): said.x
        for said in texts(figure)
        if said.text == "14" and view.top < said.y < view.bottom
    }
    assert view.x(2) < places[True] < view.x(3)
    assert view.x(13) < places[False] < view.x(14)
    rows = sorted(sign_rows(figure), key=lambda row: row.y)
    assert [row.text.count(BLANK) for row in rows] == [1, 1]


def test_the_marks_of_the_yarns_can_be_turned_off() -> None:
    chart = kingfisher()
    assert list(mark_rows(tile_of(chart, 1, BOOKLET)[0]))
    assert not list(mark_rows(tile_of(chart, 1, PLAIN)[0]))


@pytest.mark.parametrize("number", [1, 4])
def test_every_yarn_note_has_its_mark_on_the_edge_that_the_yarn_crosses(number: int) -> None:
    figure, view = tile_of(kingfisher(), number)
    accent = str(BOOKLET.colours["accent"])
    size = mark_size(BOOKLET)
    shown = {}
    for row in mark_rows(figure):
        if row.fill == accent:
            line = view.tile.first_row + int((row.y - size / 2 - view.top) / view.cell_height)
            first = round((row.x + size / 2 - view.left) / view.cell_width)
            half = (row.y - size / 2 - view.y(line)) > view.cell_height / 2
            shown |= {
                (line, half, first + at): character
                for at, character in enumerate(row.text)
                if character != BLANK
            }
    expected = {}
    for row in view.rows:
        joined = {note.cord for note in row.notes if note.kind == "join"}
        way = "right" if row.start == "left" else "left"
        for note in row.notes:
            near = note.kind == "pick-up" and note.behind is None and note.rows_down <= 1
            if note.cord not in view.cords or near:
                continue
            if note.kind == "pick-up" and note.cord in joined:
                continue
            leaves = note.kind == "leave"
            edge = note.cord - view.tile.first_cord + (leaves == (way == "right"))
            named = f"{note.kind} {way}" if note.kind in ("start", "pick-up") else note.kind
            expected[row.row, leaves, edge] = YARN_CHARACTERS[named]
    assert shown == expected and len(expected) > 20


def test_every_mark_has_its_rim() -> None:
    figure, _ = tile_of(kingfisher(), 1)
    paper = str(BOOKLET.colours["paper"])
    rows = list(mark_rows(figure))
    rims = {(row.x, row.y): len(row.text.replace(BLANK, "")) for row in rows if row.fill == paper}
    marks = {(row.x, row.y): len(row.text.replace(BLANK, "")) for row in rows if row.fill != paper}
    assert rims == marks and marks


def test_a_yarns_start_and_end_are_marked_where_it_comes_and_goes() -> None:
    plan, colours = plan_of("AABBB")
    figure, view = tile_of((plan, colours), 1, look(run_length_from=0))
    shot = Shot(figure, 400)
    accent = BOOKLET.colours["accent"]
    upper, lower = view.y(1.27), view.y(1.73)
    for edge, y in ((1, upper), (3, upper), (3, lower), (6, lower)):
        assert near(shot.at(view.x(edge), y), accent, 40), (edge, y)
    assert not near(shot.at(view.x(2), upper), accent, 40)


def test_a_tile_has_far_fewer_nodes_than_cells() -> None:
    cells = tuple("ABCDEF"[(x // 7 + y // 9) % 6] for y in range(90) for x in range(60))
    rows = ["".join(cells[y * 60 : y * 60 + 60]) for y in range(90)]
    plan, colours = plan_of(*rows)
    tiles = tiles_of(plan)
    drawn = [
        draw_chart_tile(plan, colours, tiles, tile.number, BOOKLET, WORDS) for tile in tiles.tiles
    ]
    shown = sum(tile.columns * tile.rows for tile in tiles.tiles)
    assert sum(len(nodes(figure)) for figure in drawn) < 0.45 * shown
    assert all(len(figure.svg) < 60_000 for figure in drawn)


def test_a_noisy_chart_of_sixty_colours_has_no_more_than_a_few_lines_a_row() -> None:
    letters = "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz01234567"
    palette = {
        letter: f"#{index * 4:02x}{(index * 53) % 256:02x}{255 - index * 4:02x}"
        for index, letter in enumerate(letters)
    }
    rows = [
        "".join(letters[(x * x + 7 * y * x + 3 * y) % 60] for x in range(25)) for y in range(40)
    ]
    plan, colours = plan_of(*rows, palette=palette)
    figure, view = tile_of((plan, colours), 1, PLAIN)
    assert len(list(sign_rows(figure))) <= 16 * view.tile.rows


def test_the_same_chart_is_the_same_to_the_byte_in_another_process() -> None:
    script = (
        "import hashlib\nfrom tests.support.charts import kingfisher, tile_of\n"
        "figure, _ = tile_of(kingfisher(), 3)\n"
        "print(hashlib.sha256(figure.svg.encode()).hexdigest())"
    )
    assert len(outputs(script)) == 1


def test_the_words_for_the_ear_say_which_part_it_is() -> None:
    figure, view = tile_of(kingfisher(), 4)
    for number in (4, view.tile.first_row, view.tile.last_row, view.tile.first_cord):
        assert str(number) in figure.alt


@pytest.mark.parametrize("chosen", [BOOKLET, MONO], ids=["booklet", "ink saver"])
def test_the_count_of_a_run_is_framed_as_the_legend_shows_it(chosen: Look) -> None:
    """A white pill would not show on white cells without."""
    plan, colours = plan_of("A" * 14)
    figure = draw_chart_tile(plan, colours, tiles_of(plan), 1, chosen, WORDS)
    legend = draw_legend(plan, chosen, 174.0, WORDS)
    assert _frames(figure, chosen) == _frames(legend, chosen) == 1


def _frames(figure: Figure, chosen: Look) -> int:
    soft, paper = (str(chosen.colours[name]) for name in ("soft", "paper"))
    drawn = nodes(figure)
    lines = {node.get("d"): node for node in drawn if node.get("stroke") == soft}
    return sum(node.get("fill") == paper and node.get("d") in lines for node in drawn)


def test_the_number_of_a_part_stands_in_the_middle_of_the_cell_where_it_goes() -> None:
    """On every chart that has the cell: it begins left of the middle, its base line is below it."""
    plan = make_plan(demo("kingfisher-over-reeds"))
    chart, colours = chart_of(plan)
    placed = {step.placement.mark: step.placement for step in plan.assembly if step.placement}
    tiles, seen = tiles_of(chart, PLAIN), set()
    for tile in tiles.tiles:
        figure = draw_chart_tile(
            chart, colours, tiles, tile.number, PLAIN, WORDS, [*placed.values()]
        )
        view = View.of(chart, tiles, tile.number, PLAIN)
        inside = [
            said
            for said in texts(figure)
            if view.left < said.x < view.right and view.top < said.y < view.bottom
        ]
        for said in inside:
            place = placed[int(said.text)]
            assert place.row and place.cord
            assert view.x(place.cord) < said.x < view.x(place.cord + 0.5)
            assert view.y(place.row + 0.5) < said.y < view.y(place.row + 1)
            seen.add(place.mark)
    assert seen == {*placed} and len(seen) == 6

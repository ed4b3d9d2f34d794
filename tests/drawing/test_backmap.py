"""The map of the back: mirrored, every end in its place, every number where it can be read."""

from __future__ import annotations

import itertools
import re

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from publisher.drawing import back_tasks, draw_back_legend, draw_back_maps
from publisher.drawing.back.map import FADED
from publisher.drawing.back.parts import cut_back
from publisher.drawing.chart.labels import Box, Wanted, place_labels
from publisher.fonts import text_width_mm
from publisher.model.colour import WHITE
from publisher.model.figure import Figure
from publisher.model.pattern import CarryLimit, Gauge
from publisher.plan import make_plan
from tests.support.charts import Chart, Shot, chart_of, look, near, nodes, plan_of, texts, words
from tests.support.shop import SLUGS, demo

BOOKLET, MONO, LARGE = look(), look("ink-saver"), look("large-print")
WORDS = {**words("backmap"), "pairs": "9 pairs to tie", "singles": "4 ends to weave in"}
ROOM = 124.0, 190.0


def charts() -> list[Chart]:
    return [chart_of(make_plan(demo(slug))) for slug in SLUGS]


def maps(
    chart: Chart, chosen: object = BOOKLET, room: tuple[float, float] = ROOM
) -> tuple[Figure, ...]:
    plan, colours = chart
    return draw_back_maps(plan, colours, chosen, *room, WORDS)  # type: ignore[arg-type]


def numbers(figure: Figure) -> dict[str, Box]:
    """The boxes of the map's own numbers."""
    style = BOOKLET.type["map-number"]
    group = next(
        node
        for node in nodes(figure)
        if node.tag == "g" and node.get("font-family") == "Source Sans Pro Semibold"
    )
    found = {}
    for node in group.findall("text"):
        text, x, y = node.text or "", float(node.get("x", 0)), float(node.get("y", 0))
        wide = text_width_mm(text, style.face, style.size_pt)
        assert text not in found, "a number stands twice"
        found[text] = (x, y - 0.66 * style.size_pt * 0.3528, x + wide, y)
    return found


def covers(one: Box, other: Box) -> bool:
    across = min(one[2], other[2]) - max(one[0], other[0])
    down = min(one[3], other[3]) - max(one[1], other[1])
    return across > 0.05 and down > 0.05


def test_tasks_are_numbered_from_the_top_and_hold_every_end_once() -> None:
    for plan, _ in charts():
        tasks = back_tasks(plan)
        assert [task.number for task in tasks] == list(range(1, len(tasks) + 1))
        ids = [end.id for task in tasks for end in task.ends]
        assert sorted(ids) == sorted(end.id for end in plan.ends)
        tops = [min(end.row for end in task.ends) for task in tasks]
        assert tops == sorted(tops)
        assert {
            frozenset(end.id for end in task.ends) for task in tasks if len(task.ends) == 2
        } == {frozenset(pair) for pair in plan.end_pairs}


def test_tasks_of_a_row_are_numbered_from_the_left_as_the_map_is_read() -> None:
    """Cords 12, 9, 5 and 1 from the left: each shape's two ends hang too far apart to be tied."""
    wide = Gauge(columns=1, width_mm=30.0, rows=1, height_mm=5.0, yarn_mm_per_knot=60.0)
    chart = plan_of("AABBBAAABBBA", gauge=wide, carry=CarryLimit(0, 0))
    tasks = back_tasks(chart[0])
    assert len(tasks) > 4
    placed = numbers(maps(chart)[0])
    lefts = [placed[str(task.number)][0] for task in tasks]
    assert lefts == sorted(lefts)


@pytest.mark.parametrize("slug", SLUGS)
def test_every_number_stands_once_and_none_covers_another(slug: str) -> None:
    chart = chart_of(make_plan(demo(slug)))
    seen: list[str] = []
    for figure in maps(chart):
        found = numbers(figure)
        seen += found
        for (one, a), (other, b) in itertools.combinations(found.items(), 2):
            assert not covers(a, b), f"{one} and {other}"
        for box in found.values():
            assert box[0] >= 0 and box[2] <= figure.width_mm and box[3] <= figure.height_mm
    assert sorted(map(int, seen)) == list(range(1, len(back_tasks(chart[0])) + 1))


@pytest.mark.parametrize("slug", SLUGS)
def test_numbers_keep_off_the_lines_and_dots(slug: str) -> None:
    chart = chart_of(make_plan(demo(slug)))
    for figure in maps(chart):
        found = numbers(figure)
        accent = str(BOOKLET.colours["accent"])
        lines = next(node.get("d", "") for node in nodes(figure) if node.get("stroke") == accent)
        segments = [
            tuple(map(float, part))
            for part in re.findall(r"M(\S+) (\S+)L(\S+) (\S+?)(?=M|$)", lines)
        ]
        crossed = [
            text
            for text, box in found.items()
            if any(_crosses(segment, _smaller(box)) for segment in segments)
        ]
        assert not crossed


def _smaller(box: Box) -> Box:
    return box[0] + 0.15, box[1] + 0.15, box[2] - 0.15, box[3] - 0.15


def _crosses(segment: tuple[float, ...], box: Box) -> bool:
    x0, y0, x1, y1 = segment
    points = ((x0 + (x1 - x0) * k / 40, y0 + (y1 - y0) * k / 40) for k in range(41))
    return any(box[0] < x < box[2] and box[1] < y < box[3] for x, y in points)


def test_it_is_seen_from_the_back_the_first_cord_on_the_right() -> None:
    plan, colours = plan_of("AABBBBBBBB", "AABBBBBBBB", "AABBBBBBBB")
    figure = maps((plan, colours))[0]
    cords = [said for said in texts(figure) if said.y < 3 and said.text in ("1", "5", "10")]
    places = {said.text: said.x for said in cords if said.x > 2.5}
    assert places["1"] > places["5"] > places["10"]
    shot = Shot(figure, 200)
    paints = {one.letter: one.srgb.mix(WHITE, FADED) for one in colours}
    right = shot.at(figure.width_mm - 0.9, figure.height_mm - 0.9)
    left = shot.at(figure.width_mm - 18.0, figure.height_mm - 0.9)
    assert near(right, paints["A"], 8) and near(left, paints["B"], 8)


def test_dots_are_drawn_where_the_ends_hang() -> None:
    plan, colours = plan_of("AAAAABBBBB")
    figure = maps((plan, colours))[0]
    squares = next(node.get("d", "") for node in nodes(figure) if node.get("stroke-width") == "0.4")
    dots = "".join(node.get("d", "") for node in nodes(figure) if node.get("stroke-linecap"))
    drawn = len(re.findall("M", squares)) + len(re.findall("M", dots))
    assert drawn == len(plan.ends) == 4
    cell = (figure.width_mm - 0.3 - _left(figure)) / 10
    ends = sorted({10 - end.cord for end in plan.ends})
    columns = {round((x - _left(figure)) / cell - 0.5, 1) for x in _middles(squares)}
    assert columns <= {float(column) for column in ends}


def _left(figure: Figure) -> float:
    """Where the map's frame is."""
    paths = (node.get("d", "") for node in nodes(figure) if node.get("fill") == "none")
    return float(next(path for path in paths if "V" in path and path.endswith("Z"))[1:].split()[0])


def _middles(squares: str) -> list[float]:
    return [(float(a) + float(b)) / 2 for a, b in re.findall(r"M(\S+) \S+?L(\S+) ", squares)]


def test_a_crowded_back_is_cut_into_parts_and_every_task_is_in_one() -> None:
    plan, colours = chart_of(make_plan(demo("boats-at-the-weir")))
    tasks = back_tasks(plan)
    parts, scale = cut_back(plan, tasks, ROOM, 45.0)
    assert len(parts) > 1
    held = [task.number for part in parts for task in part.tasks]
    assert sorted(held) == [task.number for task in tasks]
    for part in parts:
        assert part.columns * plan.cell.width_mm * scale <= ROOM[0] + 1e-6
        assert part.rows * plan.cell.height_mm * scale <= ROOM[1] + 1e-6
        for end in (end for task in part.tasks for end in task.ends):
            assert part.first_cord <= end.cord <= part.last_cord
            assert part.first_row <= end.row <= part.last_row
    assert parts[0].last_cord == plan.columns, "read from the left, as seen from the back"
    assert len(maps((plan, colours))) == len(parts)


@pytest.mark.parametrize("chosen", [BOOKLET, MONO, LARGE], ids=["booklet", "mono", "large print"])
def test_a_map_keeps_to_its_room_in_every_edition(chosen: object) -> None:
    room = (174.0, 200.0) if chosen is LARGE else ROOM
    for chart in [*charts(), plan_of("A"), plan_of("AB" * 30), plan_of(*["A", "B"] * 30)]:
        for figure in maps(chart, chosen, room):
            assert figure.width_mm <= room[0] + 1e-6 and figure.height_mm <= room[1] + 1e-6


def test_the_legend_counts_what_is_there() -> None:
    plan, _ = chart_of(make_plan(demo("kingfisher-over-reeds")))
    said = [text.text for text in texts(draw_back_legend(plan, BOOKLET, WORDS))]
    assert said == [WORDS["pairs"], WORDS["singles"]]


POINTS = st.tuples(st.floats(0, 60), st.floats(0, 60))


@settings(max_examples=40, deadline=None)
@given(st.lists(st.tuples(POINTS, POINTS), max_size=12))
def test_labels_stay_in_the_room_and_keep_their_size(lines: list) -> None:
    wanted = [Wanted(start, end, 3.0, 2.0) for start, end in lines]
    room = (0.0, 0.0, 60.0, 60.0)
    for label, box in zip(wanted, place_labels(wanted, [], room), strict=True):
        assert (box[2] - box[0], box[3] - box[1]) == pytest.approx((label.width, label.height))
        assert all(-1e-9 <= edge <= 60 + 1e-9 for edge in box)


def test_labels_of_points_in_a_row_all_find_room() -> None:
    wanted = [Wanted((x, 30.0), (x, 30.0), 3.2, 2.2) for x in range(2, 60, 2)]
    dots = [((x - 0.6, 29.4, x + 0.6, 30.6), owner) for owner, x in enumerate(range(2, 60, 2))]
    boxes = place_labels(wanted, dots, (0.0, 0.0, 60.0, 60.0))
    for one, other in itertools.combinations(boxes, 2):
        assert not covers(one, other)


@pytest.mark.parametrize("sides", [(4.0, 26.0), (37.0, 3.0)])
def test_cells_far_narrower_or_lower_than_others_have_their_map(
    sides: tuple[float, float],
) -> None:
    """As far as a swatch can be right: of the numbers, those that have room are shown."""
    width_mm, height_mm = sides
    gauge = Gauge(columns=1, width_mm=width_mm, rows=1, height_mm=height_mm)
    (figure,) = maps(plan_of("NNNN", "NWWN", "NNNN", gauge=gauge))
    shown = [text for text, *_ in texts(figure)]
    assert {"1", "2"} <= {*shown}


def test_a_map_is_cut_only_where_that_makes_it_larger() -> None:
    """Not in two narrow halves, say, that would each be as high as the whole."""
    plan, _ = chart_of(make_plan(demo("lantern-window")))
    tasks = back_tasks(plan)
    counts = set()
    _, whole = cut_back(plan, tasks, ROOM, 0.0, 2.25)
    for room_mm2 in range(50, 900, 50):
        parts, scale = cut_back(plan, tasks, ROOM, float(room_mm2), 2.25)
        assert len(parts) == 1 or scale >= 1.2 * whole
        counts.add(len(parts))
    assert {1, 4} <= counts

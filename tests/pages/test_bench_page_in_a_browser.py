"""The page to work from, worked with in a headless browser, where there is one."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

import pytest

from publisher.knots import load_knots
from publisher.layout import lay_out_bench
from publisher.manuscript import write_manuscript
from publisher.plan import make_plan
from tests.support.browser import chromium
from tests.support.shop import DATE, demo, installed

SLUG = "lantern-window"


@pytest.fixture(scope="module")
def page(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Any]:
    folder = tmp_path_factory.mktemp("bench")
    pattern = demo(SLUG)
    templates = installed()
    book = write_manuscript(
        pattern, make_plan(pattern), load_knots({}), templates, "at-the-bench", "a4", date=DATE
    )
    file = folder / "bench.html"
    file.write_text(lay_out_bench(book, templates), "utf-8")
    with chromium(folder / "profile") as browser:
        browser.get(file.as_uri())
        yield browser


def shown(page: Any, css: str) -> Any:
    return page.find_element("css selector", css)


def again(page: Any) -> None:
    page.execute_script("localStorage.clear()")
    page.refresh()


def state(page: Any) -> str:
    return str(shown(page, ".state").text)


def test_next_goes_run_by_run_and_row_by_row(page: Any) -> None:
    again(page)
    runs = make_plan(demo(SLUG)).charts[0].row_list[0].runs
    assert state(page).startswith("row 1 of ")
    for _ in runs:
        assert state(page).startswith("row 1 of ")
        shown(page, ".go").click()
    assert state(page).startswith("row 2 of ")
    shown(page, ".back").click()
    assert state(page).startswith("row 1 of ")
    assert len(page.find_elements("css selector", ".now .worked")) == len(runs) - 1


def test_the_mark_lies_on_the_run(page: Any) -> None:
    """The marked box is that of the run, and it is in sight."""
    again(page)
    for _ in range(9):
        shown(page, ".row-done").click()
    mark, run = shown(page, ".run-now"), shown(page, ".now .here")
    assert mark.get_attribute("x") == run.get_attribute("data-left")
    assert mark.get_attribute("width") == run.get_attribute("data-width")
    top = shown(page, ".now").get_attribute("data-top")
    assert float(mark.get_attribute("y")) == pytest.approx(float(top), abs=0.05)
    inside = page.execute_script(
        "const m = document.querySelector('.run-now').getBoundingClientRect(),"
        "c = document.querySelector('.chart').getBoundingClientRect();"
        "return m.top >= c.top && m.bottom <= c.bottom && m.right > c.left && m.left < c.right"
    )
    assert inside


def test_the_cords_numbers_stay_in_sight_over_their_cords(page: Any) -> None:
    """One above the other, in the whole chart and in the numbers that stay."""
    again(page)
    for _ in range(20):
        shown(page, ".row-done").click()
    kept, whole = page.execute_script(
        "const above = document.querySelector('.cords').viewBox.baseVal.height;"
        "return ['.cords', '.whole'].map(css => Object.fromEntries("
        "[...document.querySelector(css).querySelectorAll('text')]"
        ".filter(text => Number(text.getAttribute('y')) < above)"
        ".map(text => [text.textContent, text.getBoundingClientRect().x])))"
    )
    assert {"1", "5", "10", "20"} <= set(kept)
    for cord, x in kept.items():
        assert x == pytest.approx(whole[cord], abs=0.5)
    chart, head = shown(page, ".chart").rect, shown(page, ".cords").rect
    assert head["y"] == pytest.approx(chart["y"], abs=1)


def test_the_page_remembers(page: Any) -> None:
    again(page)
    for _ in range(3):
        shown(page, ".row-done").click()
    shown(page, ".go").click()
    box = shown(page, ".to-tick input")
    page.execute_script("arguments[0].click()", box)
    before = state(page), len(page.find_elements("css selector", ".now .worked"))
    page.refresh()
    assert (state(page), len(page.find_elements("css selector", ".now .worked"))) == before
    assert shown(page, ".to-tick input").is_selected()


def test_it_opens_at_what_can_hurt_and_once_begun_where_the_work_is(page: Any) -> None:
    again(page)
    address = page.current_url.split("#")[0]
    page.get("about:blank")
    page.get(address)
    assert shown(page, ".above h2").rect["y"] < 700
    assert page.execute_script("return scrollY") == 0
    shown(page, ".start a").click()
    top = "return document.querySelector('.work').getBoundingClientRect().top"
    assert page.execute_script(top) == pytest.approx(0, abs=1)
    shown(page, ".go").click()
    page.get("about:blank")
    page.get(address)
    assert page.execute_script(top) == pytest.approx(0, abs=1)


def test_the_last_row_ends_the_work(page: Any) -> None:
    again(page)
    rows = page.find_elements("css selector", ".rows > li")
    page.execute_script("arguments[0].click()", rows[-1])
    shown(page, ".row-done").click()
    assert state(page) == "All rows are done."
    assert not shown(page, ".go").is_enabled()
    shown(page, ".back").click()
    assert shown(page, ".go").is_enabled()


def test_nothing_is_asked_of_a_network_and_nothing_goes_wrong(page: Any) -> None:
    again(page)
    asked = page.execute_script("return performance.getEntriesByType('resource').map(e => e.name)")
    assert all(str(name).startswith("data:") for name in asked)
    assert [entry for entry in page.get_log("browser") if entry["level"] == "SEVERE"] == []


def test_a_phone_is_wide_enough(page: Any) -> None:
    again(page)
    size = {"width": 360, "height": 700, "deviceScaleFactor": 2, "mobile": True}
    page.execute_cdp_cmd("Emulation.setDeviceMetricsOverride", size)
    try:
        page.refresh()
        assert page.execute_script("return document.documentElement.scrollWidth") <= 360
        for name in (".go", ".back", ".row-done"):
            assert shown(page, name).rect["height"] >= 44  # WCAG 2.2, target size (enhanced)
    finally:
        page.execute_cdp_cmd("Emulation.clearDeviceMetricsOverride", {})


def test_without_scripts_all_of_it_can_be_read(page: Any) -> None:
    again(page)
    page.execute_cdp_cmd("Emulation.setScriptExecutionDisabled", {"value": True})
    try:
        page.refresh()
        rows = page.find_elements("css selector", ".rows > li")
        assert len(rows) == make_plan(demo(SLUG)).charts[0].rows
        assert all(row.is_displayed() for row in rows)
        assert not shown(page, "footer").is_displayed()
    finally:
        page.execute_cdp_cmd("Emulation.setScriptExecutionDisabled", {"value": False})


def test_the_count_of_a_run_stays_in_the_middle_of_its_box_in_another_face(page: Any) -> None:
    """However wide that is, it reaches as far to the left as to the right."""
    again(page)
    middles = (
        "return [...document.querySelectorAll('.whole text')]"
        ".filter(text => /^[0-9]+$/.test(text.textContent))"
        ".map(text => text.getBoundingClientRect()).map(box => box.x + box.width / 2)"
    )
    before = page.execute_script(middles)
    page.execute_script(
        "const style = document.createElement('style');"
        "style.textContent = 'svg.whole text { letter-spacing: 0; font-family: monospace "
        "!important; }'; document.head.append(style)"
    )
    assert len(before) > 100
    assert page.execute_script(middles) == pytest.approx(before, abs=0.5)

"""What stands on the printed page, seen through pdfium: colours, places and widths."""

from __future__ import annotations

import base64
import io
import time
from typing import Any

import pypdfium2
import pytest
from PIL import Image, ImageColor

from publisher import fonts
from publisher.errors import TemplateError
from publisher.press import page_pictures, print_book
from tests.support.cairo_library import needs_cairo
from tests.support.svg_books import BOLD, SANS, SERIF, book

MM = 72 / 25.4


def picture(body: str, dpi: float = 72.0) -> Any:
    """A page of 100 × 100 mm, one pixel a mm unless said otherwise."""
    pdf = print_book(book(body, width_mm=100, height_mm=100))
    return page_pictures(pdf, dpi * 25.4 / 72)[0]


def letters(body: str) -> list[tuple[str, float, float, float]]:
    """(character, left, baseline side, right) in mm from the page's top left, as pdfium has it."""
    document = pypdfium2.PdfDocument(print_book(book(body, width_mm=100, height_mm=100)))
    page = document[0].get_textpage()
    found = []
    for index in range(page.count_chars()):
        left, bottom, right, _ = page.get_charbox(index, loose=True)
        character = page.get_text_range(index, 1)
        found.append((character, left / MM, 100 - bottom / MM, right / MM))
    return found


@pytest.mark.parametrize(
    ("shape", "inside", "outside"),
    [
        ('<rect x="20" y="30" width="20" height="10" fill="#c04020"/>', (30, 35), (45, 35)),
        ('<rect x="20" y="30" width="20" height="20" rx="8" fill="#c04020"/>', (30, 40), (21, 31)),
        ('<circle cx="50" cy="50" r="10" fill="#c04020"/>', (58, 50), (59, 59)),
        ('<ellipse cx="50" cy="50" rx="20" ry="5" fill="#c04020"/>', (66, 50), (50, 57)),
        ('<polygon points="10,10 30,10 30,30" fill="#c04020"/>', (28, 15), (12, 25)),
        ('<path d="M10 10H30V30H10Z M15 15H25V25H15Z" fill="#c04020" fill-rule="evenodd"/>',
         (12, 12), (20, 20)),
        ('<path d="M50 60A10 10 0 0 1 70 60Z" fill="#c04020"/>', (60, 55), (60, 65)),
        ('<line x1="10" y1="20" x2="90" y2="20" stroke="#c04020" stroke-width="4"/>',
         (50, 20), (50, 25)),
        ('<polyline points="10 20 90 20 90 60" fill="none" stroke="#c04020" stroke-width="4"/>',
         (90, 40), (80, 40)),
        ('<path d="M0 20H100" stroke="#c04020" stroke-width="4" stroke-dasharray="10 10"/>',
         (5, 20), (15, 20)),
        ('<g transform="translate(50 50) rotate(90)"><rect width="20" height="10" '
         'fill="#c04020"/></g>', (45, 65), (60, 55)),
        ('<rect x="10" y="10" width="9" height="9" fill="currentColor" color="#c04020"/>',
         (15, 15), (25, 15)),
        ('<rect x="10" y="10" width="9" height="9" style="fill:#c04020"/>', (15, 15), (25, 15)),
        ('<rect x="10" y="10" width="9" height="9" fill="rgb(192,64,32)"/>', (15, 15), (25, 15)),
        ('<defs><clipPath id="c"><rect x="0" y="0" width="50" height="99"/></clipPath></defs>'
         '<g clip-path="url(#c)"><rect width="90" height="90" fill="#c04020"/></g>',
         (40, 40), (60, 40)),
    ],
)  # fmt: skip
def test_a_shape_is_where_it_says_and_nowhere_else(
    shape: str, inside: tuple[int, int], outside: tuple[int, int]
) -> None:
    page = picture(shape)
    assert page.size == (100, 100)
    assert page.getpixel(inside) == (192, 64, 32)
    assert page.getpixel(outside) == (255, 255, 255)


def test_no_fill_and_no_stroke_leave_nothing() -> None:
    rect = '<rect x="10" y="10" width="80" height="80" '
    page = picture(f'{rect}fill="none"/>{rect}visibility="hidden"/><g display="none">{rect}/></g>')
    assert page.getextrema() == ((255, 255), (255, 255), (255, 255))


@pytest.mark.parametrize(
    "shape",
    [
        '<rect width="50" height="50" fill="#000" opacity="0.5"/>',
        '<rect width="50" height="50" fill="#000" fill-opacity="0.5"/>',
        '<g opacity="0.5"><rect width="50" height="50"/><rect width="50" height="50"/></g>',
        '<rect width="50" height="50" fill="#00000080"/>',
    ],
)
def test_half_of_black_is_grey(shape: str) -> None:
    assert picture(shape).getpixel((25, 25)) == pytest.approx((127, 127, 127), abs=1)


@pytest.mark.parametrize(
    "shape",
    [
        '<rect width="50" height="50" fill="#000" opacity="7"/>',
        '<rect width="50" height="50" fill="#000" opacity="1e300" fill-opacity="1e300"/>',
        '<g opacity="1e300"><rect width="50" height="50"/></g>',
        '<rect width="50" height="50" fill="rgb(-20,0,0)" stroke="rgba(300,0,0,9)"/>',
    ],
)
def test_what_is_out_of_bounds_counts_as_its_bound(shape: str) -> None:
    assert picture(shape).getpixel((25, 25)) == (0, 0, 0)
    gone = shape.replace("7", "-7").replace("1e300", "-1e300").replace("rgb(-20,0,0)", "none")
    assert picture(gone).getpixel((25, 25)) == (255, 255, 255)


def test_names_of_colours_print_as_another_library_reads_them() -> None:
    """The names of CSS Color Module Level 3, as Pillow knows them: each a square of 5 mm."""
    names = sorted(ImageColor.colormap)
    assert len(names) >= 147 and {"aliceblue", "yellowgreen", "slategrey"} <= set(names)
    known = [name for name in names if name != "rebeccapurple"]  # CSS 4
    squares = "".join(
        f'<rect x="{5 * (at % 20)}" y="{5 * (at // 20)}" width="5" height="5" fill="{name}"/>'
        for at, name in enumerate(known)
    )
    printed = picture(squares)
    for at, name in enumerate(known):
        found = printed.getpixel((5 * (at % 20) + 2, 5 * (at // 20) + 2))
        assert found == pytest.approx(ImageColor.getrgb(name), abs=1), name


def test_an_opacity_on_a_text_holds_for_all_its_parts() -> None:
    def darkest(body: str) -> int:
        return picture(body, 144).convert("L").getextrema()[0]

    text = '<text x="5" y="80" font-size="80" opacity=".5">'
    assert darkest(f"{text}\u2013</text>") == pytest.approx(127, abs=1)
    assert darkest(f"{text}<tspan>\u2013</tspan></text>") == pytest.approx(127, abs=1)
    assert darkest(f'{text}<tspan opacity=".5">\u2013</tspan></text>') == pytest.approx(191, abs=1)
    assert darkest(f"{text}<tspan/>\u2013</text>") == pytest.approx(127, abs=1)


@pytest.mark.parametrize(
    "before",
    [
        '<rect width="9" height="9" opacity=".1"/>',
        '<path d="M0 0H9" stroke="#000" stroke-opacity=".1"/>',
        '<g opacity=".1"><rect width="9" height="9"/></g>',
    ],
)
@pytest.mark.parametrize(
    "after",
    [
        '<rect x="40" y="40" width="40" height="40" fill="#f00"/>',
        '<path d="M40 60H80" stroke="#f00" stroke-width="40"/>',
        pytest.param(
            '<defs><linearGradient id="g"><stop stop-color="#f00"/></linearGradient></defs>'
            '<rect x="40" y="40" width="40" height="40" fill="url(#g)"/>',
            marks=needs_cairo,
        ),
        '<g opacity=".99999"><rect x="40" y="40" width="40" height="40" fill="#f00"/></g>',
    ],
)
def test_nothing_shows_through_because_of_what_was_drawn_before(before: str, after: str) -> None:
    assert picture(before + after).getpixel((60, 60)) == (255, 0, 0)


@pytest.mark.parametrize("width", ["0", "-4"])
def test_a_line_without_a_width_is_not_drawn(width: str) -> None:
    line = f'<path d="M10 50.5H90" fill="none" stroke="#000" stroke-width="{width}"/>'
    assert picture(line).getextrema() == ((255, 255),) * 3
    assert picture(line.replace(f'"{width}"', '"4"')).getpixel((50, 50)) == (0, 0, 0)


def test_a_tiny_width_size_and_dash_are_drawn_at_their_scale() -> None:
    line = '<path d="M0 .0005H1" stroke="#000" stroke-width=".00004" stroke-dasharray=".00004"/>'
    page = picture(f'<g transform="scale(100000)">{line}</g>')
    assert [page.getpixel((x, 50)) for x in (2, 6, 10)] == [(0,) * 3, (255,) * 3, (0,) * 3]
    words = '<text font-size=".00043" x=".001" y=".005">words</text>'
    small = picture(f'<g transform="scale(10000)">{words}</g>', 300)
    large = picture('<text font-size="4.3" x="10" y="50">words</text>', 300)
    assert small.tobytes() == large.tobytes()


@pytest.mark.parametrize(
    "shape",
    [
        '<line x1="10" y1="50.5" x2="90" y2="50.5"/>',
        '<path d="M10 50.5H90"/>',
        '<path d="M10 50.5H90Z"/>',
        '<polyline points="10 50.5 90 50.5"/>',
        '<path d="M10 10V90M20 50.5h70"/>',
    ],
)
def test_a_straight_line_has_no_inside_to_fill(shape: str) -> None:
    assert picture(shape).getextrema() == ((255, 255),) * 3
    stroked = shape.replace("/>", ' stroke="#c04020" stroke-width="4"/>')
    assert picture(stroked).getpixel((50, 50)) == (192, 64, 32)


def test_a_hair_of_a_filled_line_is_not_seen_beside_its_dashes() -> None:
    line = '<path d="M0 50.5H100" stroke="#f00" stroke-dasharray="10"/>'
    assert picture(line).getpixel((15, 50)) == (255, 255, 255)


@pytest.mark.parametrize(
    "clip", ["", '<rect width="0" height="9"/>', '<circle cx="0" cy="0"/>', '<path d=""/>']
)
def test_a_clip_with_nothing_inside_leaves_nothing(clip: str) -> None:
    page = picture(
        f'<defs><clipPath id="c">{clip}</clipPath></defs>'
        '<g clip-path="url(#c)"><rect width="100" height="100"/></g>'
    )
    assert page.getextrema() == ((255, 255),) * 3


@needs_cairo
def test_a_gradient_is_the_same_bytes_at_any_time() -> None:
    body = (
        '<defs><radialGradient id="g"><stop stop-color="#f00"/><stop offset="1" stop-color="#00f"/>'
        '</radialGradient></defs><rect width="40" height="40" fill="url(#g)"/>'
    )
    first = print_book(book(body))
    time.sleep(1.1)  # cairo would write down the second
    assert print_book(book(body)) == first


def test_groups_that_show_through_name_only_what_they_hold() -> None:
    def size(count: int) -> int:
        group = '<g opacity=".5"><rect x="{}" width="9" height="9"/></g>'
        return len(print_book(book("".join(group.format(at / 10) for at in range(count)))))

    assert size(400) < 2.2 * size(200)


def test_groups_that_show_through_stand_in_one_another() -> None:
    page = picture(
        '<g opacity=".5"><rect width="50" height="50"/><g opacity=".5"><rect x="50" width="50" '
        'height="50"/><text x="0" y="80" font-size="30" font-family="Source Sans Pro">a</text>'
        "</g></g>"
    )
    assert page.getpixel((25, 25)) == pytest.approx((127,) * 3, abs=1)
    assert page.getpixel((75, 25)) == pytest.approx((191,) * 3, abs=1)
    assert page.crop((0, 51, 50, 99)).convert("L").getextrema()[0] == pytest.approx(191, abs=1)


@needs_cairo
def test_a_gradient_takes_over_what_its_href_names() -> None:
    page = picture(
        '<defs><linearGradient id="ends"><stop offset="0" stop-color="#f00"/>'
        '<stop offset="1" stop-color="#00f"/></linearGradient>'
        '<linearGradient id="down" href="#ends" x2="0" y2="1"/></defs>'
        '<rect width="100" height="100" fill="url(#down)"/>'
    )
    red, _, blue = page.getpixel((50, 2))
    assert red > 240 > 20 > blue
    red, _, blue = page.getpixel((50, 97))
    assert blue > 240 > 20 > red


def png(pixels: list[tuple[int, int, int]], width: int) -> str:
    image = Image.new("RGB", (width, len(pixels) // width))
    image.putdata(pixels)
    output = io.BytesIO()
    image.save(output, "PNG")
    return "data:image/png;base64," + base64.b64encode(output.getvalue()).decode()


def test_a_picture_of_pixels_stays_sharp() -> None:
    link = png([(200, 0, 0), (0, 0, 200), (0, 150, 0), (250, 250, 0)], 2)
    page = picture(f'<image href="{link}" x="10" y="20" width="40" height="40" '
                   'image-rendering="pixelated"/>')  # fmt: skip
    colours = [page.getpixel(at) for at in ((12, 22), (28, 38), (48, 22), (12, 58), (48, 58))]
    assert colours[0] == colours[1] == (200, 0, 0)
    assert colours[2:] == [(0, 0, 200), (0, 150, 0), (250, 250, 0)]
    assert page.getpixel((52, 40)) == (255, 255, 255)


def test_a_picture_keeps_its_proportion_in_the_middle_of_its_box() -> None:
    link = png([(200, 0, 0)] * 2, 2)
    page = picture(f'<image href="{link}" x="0" y="0" width="40" height="40"/>')
    assert page.getpixel((20, 20)) == (200, 0, 0)
    assert page.getpixel((20, 5)) == page.getpixel((20, 35)) == (255, 255, 255)


@pytest.mark.parametrize(("attributes", "face"), [(SANS, "sans"), (BOLD, "bold"), (SERIF, "serif")])
def test_the_drawn_width_is_the_measured_width(attributes: str, face: str) -> None:
    words = "HAVATAR Today, 12 Wefts ½″ → To"
    drawn = letters(f'<text {attributes} font-size="5" x="10" y="50">{words}</text>')
    assert "".join(character for character, *_ in drawn) == words
    width_mm = fonts.text_width_mm(words, face, 5 * MM)
    assert drawn[0][1] == pytest.approx(10, abs=0.01)
    assert drawn[-1][3] - drawn[0][1] == pytest.approx(width_mm, abs=0.02)


@pytest.mark.parametrize(("anchor", "share"), [("start", 0.0), ("middle", 0.5), ("end", 1.0)])
def test_text_is_anchored_by_its_advance(anchor: str, share: float) -> None:
    for figures in ("11", "40"):
        drawn = letters(f'<text x="50" y="50" text-anchor="{anchor}">{figures}</text>')
        width_mm = fonts.text_width_mm(figures, "sans", 4 * MM)
        assert drawn[0][1] == pytest.approx(50 - share * width_mm, abs=0.01)


def test_an_anchored_line_counts_all_its_parts() -> None:
    drawn = letters(f'<text x="90" y="50" text-anchor="end">12 <tspan {BOLD}>navy</tspan></text>')
    assert drawn[-1][3] == pytest.approx(90, abs=0.02)


def test_an_even_advance_steps_every_character() -> None:
    drawn = letters('<text x="10" y="50" data-advance="6.05">NW WN</text>')
    shown = [(character, left) for character, left, *_ in drawn if character != " "]
    assert [character for character, _ in shown] == list("NWWN")
    assert [left for _, left in shown] == pytest.approx(
        [10 + 6.05 * step for step in (0, 1, 3, 4)], abs=0.01
    )


def test_tspans_go_on_where_the_last_ended_and_dx_moves_on() -> None:
    plain = letters('<text x="10" y="50">one two</text>')
    parted = letters('<text x="10" y="50">one <tspan>two</tspan></text>')
    assert [left for _, left, *_ in parted] == pytest.approx([left for _, left, *_ in plain])
    moved = letters('<text x="10" y="50">one <tspan dx="3" dy="2">two</tspan></text>')
    assert moved[-1][1] - plain[-1][1] == pytest.approx(3, abs=0.01)
    assert moved[-1][2] - plain[-1][2] == pytest.approx(2, abs=0.01)


@pytest.mark.parametrize(
    "written",
    [
        "\n  one\n  two  ",
        "one <tspan> two</tspan>",
        "one<tspan>\n two</tspan>\n",
        " <tspan>one </tspan><tspan> </tspan>two",
    ],
)
def test_blanks_collapse_over_all_parts_of_a_text(written: str) -> None:
    drawn = letters(f'<text x="10" y="50">{written}</text>')
    assert "".join(character for character, *_ in drawn) == "one two"


def test_tabs_and_new_lines_that_are_kept_are_blanks() -> None:
    kept = letters('<text x="10" y="50" xml:space="preserve">a\tb\nc</text>')
    plain = letters('<text x="10" y="50">a b c</text>')
    assert kept == plain


def test_blanks_can_be_kept() -> None:
    wide = letters('<text x="10" y="50" xml:space="preserve">a   b</text>')
    narrow = letters('<text x="10" y="50">a   b</text>')
    blank_mm = fonts.text_width_mm(" ", "sans", 4 * MM)
    assert wide[-1][1] - narrow[-1][1] == pytest.approx(2 * blank_mm, abs=0.01)


@pytest.mark.parametrize(
    ("body", "message"),
    [
        ('<rect x="wide" width="9" height="9"/>', "x=“wide” is not a number"),
        ('<rect x="1mm" width="9" height="9"/>', "x=“1mm” is not a number"),
        ('<rect x="10%" width="9" height="9"/>', "x=“10%” is not a number"),
        ('<rect x="nan" width="9" height="9"/>', "x=“nan” is not a number"),
        ('<rect width="9" height="9" fill="navyish"/>', "“navyish” is not a colour"),
        ('<rect width="9" height="9" fill="#12"/>', "“#12” is not a colour"),
        ('<rect width="9" height="9" fill="#12345"/>', "“#12345” is not a colour"),
        ('<rect width="9" height="9" fill="#-1-1-1"/>', "“#-1-1-1” is not a colour"),
        ('<rect width="9" height="9" fill="rgb(nan,0,0)"/>', "“rgb(nan,0,0)” is not a colour"),
        ('<rect width="9" height="9" fill="rgba(0,0,0,inf)"/>', "is not a colour"),
        ('<rect width="9" height="9" opacity="nan"/>', "opacity=“nan” is not a number"),
        pytest.param('<rect width="9" height="9" fill="url(#no)"/>', "no gradient is called “no”",
                     marks=needs_cairo),
        ('<g clip-path="url(#no)"/>', "no clipPath is called “no”"),
        ('<path d="M1 2L3"/>', "1 numbers follow L"),
        ('<path d="M1 2A1 1 0 0"/>', "“1 1 0 0” is no arc"),
        ('<path d="M1 2H9" stroke="#000" stroke-linecap="rough"/>', "stroke-linecap=“rough”"),
        ('<path d="M1 2H9" stroke="#000" stroke-dasharray="1 -1"/>', "negative"),
        ('<g transform="wiggle(3)"><rect/></g>', "“wiggle(3)” is no transform"),
        ('<text font-family="Comic" x="1" y="9">a</text>', "there is no font “Comic”"),
        ('<text font-size="10pt">a</text>', "font-size=“10pt” is not a number"),
        ('<text font-size="0">a</text>', "a text has no font-size"),
        ('<text x="1 2 3">abc</text>', "x=“1 2 3” is not a number"),
        ('<text stroke="#000">a</text>', "stroke or a gradient"),
        ('<text clip-path="url(#a)">a</text>', "a clip-path stands on a <text>"),
        ('<g opacity=".5"><text data-tag="P">a</text></g>', "inside a group with an opacity"),
        ('<rect width="1e300" height="1e300" transform="scale(1e300)"/>', "can't be drawn"),
    ],
)  # fmt: skip
def test_what_can_not_be_drawn_is_named_with_its_page(body: str, message: str) -> None:
    with pytest.raises(TemplateError) as caught:
        print_book(book("<g/>", body))
    assert str(caught.value).startswith("page 2")
    assert message in str(caught.value)

"""Whatever the input, reading gives a pattern or problems; and what is written is what is read."""

from __future__ import annotations

import re
import tempfile
from pathlib import Path

from hypothesis import given, settings
from hypothesis import strategies as st

from publisher.errors import SourceError
from publisher.model.pattern import Pattern
from publisher.source import read_pattern

PATTERNS = Path(__file__).parents[2] / "patterns"
STRIP = '\n[[pieces]]\nid = "strip"\nchart = """\nNDNDN\nDNDND\n"""\n'
DEMO = (PATTERNS / "lantern-window.toml").read_text() + STRIP
HOUSE = (PATTERNS / "house.toml").read_text()
PICTURE = (PATTERNS / "lantern-window.png").read_bytes()
LETTERS = "ABNW0#-é字'\"\\"


def read(text: str | bytes, house: str | None = None, picture: bytes = PICTURE) -> Pattern:
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder, "reed-warbler.toml")
        path.write_bytes(text.encode("utf-8", "surrogatepass") if isinstance(text, str) else text)
        Path(folder, "lantern-window.png").write_bytes(picture)
        if house is not None:
            Path(folder, "house.toml").write_text(house, encoding="utf-8")
        return read_pattern(path)


def read_or_refuse(text: str | bytes, house: str | None = None, picture: bytes = PICTURE) -> None:
    """Anything but a pattern or a SourceError with located, worded problems fails."""
    try:
        read(text, house, picture)
    except SourceError as error:
        assert error.problems
        for problem in error.problems:
            assert problem.place.file
            assert problem.message and problem.hint
            assert "\n" not in f"{problem.message}{problem.hint}".strip()


@st.composite
def charts(draw: st.DrawFn) -> tuple[str, ...]:
    columns = draw(st.integers(1, 12))
    row = st.text(LETTERS, min_size=columns, max_size=columns)
    return tuple(draw(st.lists(row, min_size=1, max_size=12)))


def quoted(letter: str) -> str:
    return f'"{letter}"' if letter not in '"\\' else f"'{letter}'"


@given(charts(), st.sampled_from(["", "  ", "\t"]), st.sampled_from(["\n", "\r\n"]), st.booleans())
def test_a_legal_chart_is_read_as_it_is_written(
    cells: tuple[str, ...], indent: str, end: str, escaped: bool
) -> None:
    lines = ["format = 1", 'title = "T"', 'version = "1.0"']
    for letter in LETTERS:
        lines += [f"[colours.{quoted(letter)}]", 'name = "n"', 'srgb = "#000000"', 'yarn = "y"']
    lines += ["[yarns.y]", 'name = "n"', "diameter_mm = 3", "tex = 4500"]
    lines += ["[[pieces]]", 'id = "panel"']
    text = "\n".join(cells)
    if escaped or "'''" in text or text.endswith("'"):
        lines.append('chart = "' + text.replace("\\", "\\\\").replace('"', '\\"') + '"')
        lines[-1] = lines[-1].replace("\n", "\\n")
    else:
        lines += ["chart = '''", *(indent + row for row in cells), "'''"]
    pattern = read(end.join(lines))
    (piece,) = pattern.pieces
    assert piece.cells == cells
    assert (piece.columns, piece.rows) == (len(cells[0]), len(cells))
    start = piece.place
    if lines[-1] == "'''":
        assert start.line is not None
        assert lines[start.line - 1] == indent + cells[0]
        assert (start.column or 1) == len(indent) + 1


def test_what_is_damaged_below_was_whole() -> None:
    assert [piece.id for piece in read(DEMO, HOUSE).pieces] == ["panel", "strip"]


@given(st.binary(max_size=300))
def test_any_bytes(data: bytes) -> None:
    read_or_refuse(data)


@given(st.text(max_size=300))
def test_any_text(text: str) -> None:
    read_or_refuse(text)


values = st.recursive(
    st.sampled_from(
        (
            *("1", "-1", "0", "1.5", "nan", "inf", "1e400", "true", "''", "'x'", "'N'", "'never'"),
            *("2026-01-01", "07:00:00", "'''\nN\n'''", '"\\u0000"'),
        )
    ),
    lambda inner: st.one_of(
        st.lists(inner, max_size=3).map(lambda items: f"[{', '.join(items)}]"),
        st.dictionaries(st.sampled_from(["columns", "knot", "x", "colour", "name"]), inner).map(
            lambda table: "{" + ", ".join(f"{k} = {v}" for k, v in table.items()) + "}"
        ),
    ),
    max_leaves=4,
)
KEY_LINES = [match.span() for match in re.finditer(r"^[a-z_]+ = [^\"\n]*$", DEMO, re.MULTILINE)]
ALL_KEYS = sorted({*re.findall(r"^([a-z_]+) =", DEMO + HOUSE, re.MULTILINE)})


@settings(max_examples=150)
@given(st.data())
def test_any_value_under_any_key(data: st.DataObject) -> None:
    """Demo lines replaced and added, with values of every type TOML has."""
    text, house = DEMO, HOUSE
    for _ in range(data.draw(st.integers(1, 4))):
        key, value = data.draw(st.sampled_from(ALL_KEYS)), data.draw(values)
        pattern = re.compile(rf"^{key} = .*$", re.MULTILINE)
        text = pattern.sub(lambda _, line=f"{key} = {value}": line, text, count=1)  # type: ignore[misc]
        house = pattern.sub(lambda _, line=f"{key} = {value}": line, house, count=1)  # type: ignore[misc]
    read_or_refuse(text, house)


@settings(max_examples=150)
@given(
    st.lists(
        st.tuples(
            st.integers(0, len(DEMO)),
            st.integers(0, 30),
            st.text("NW[]{}=\"'#.,\n\t\\ é0a", max_size=5),
        ),
        min_size=1,
        max_size=4,
    )
)
def test_a_damaged_pattern(cuts: list[tuple[int, int, str]]) -> None:
    text = DEMO
    for start, length, other in cuts:
        text = text[:start] + other + text[start + length :]
    read_or_refuse(text, HOUSE)


@settings(max_examples=150)
@given(
    st.lists(st.tuples(st.integers(0, len(PICTURE) - 1), st.integers(0, 255)), min_size=1),
    st.integers(0, len(PICTURE)),
)
def test_a_damaged_picture(changes: list[tuple[int, int]], keep: int) -> None:
    data = bytearray(PICTURE)
    for at, byte in changes:
        data[at] = byte
    read_or_refuse(DEMO, HOUSE, bytes(data))
    read_or_refuse(DEMO, HOUSE, PICTURE[:keep])

"""Write the reader's outline: each line stands under the last one of a lower level."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field

from publisher.model.book import Bookmark
from publisher.press.pdf.file import PdfFile, text_string
from publisher.press.pdf.tags import place_name


@dataclass(slots=True)
class _Line:
    number: int
    bookmark: Bookmark | None
    inside: list[_Line] = field(default_factory=list)


def write_outline(file: PdfFile, bookmarks: Sequence[Bookmark]) -> str:
    """The entries of the catalogue that show it; "" if there is none. Lines of the first level
    are open, and show what stands below them."""
    if not bookmarks:
        return ""
    root = _Line(file.number(), None)
    above: list[tuple[int, _Line]] = [(0, root)]
    for bookmark in bookmarks:
        level = max(bookmark.level, 1)
        while above[-1][0] >= level:
            above.pop()
        line = _Line(file.number(), bookmark)
        above[-1][1].inside.append(line)
        above.append((level, line))
    _write_row(file, root, is_open=True)
    shown = sum(1 + len(line.inside) for line in root.inside)
    file.add(f"<</Type/Outlines{_ends(root)}/Count {shown}>>", root.number)
    return f"/Outlines {root.number} 0 R/PageMode/UseOutlines"


def _write_row(file: PdfFile, above: _Line, *, is_open: bool = False) -> None:
    """The lines right below one, each with its neighbours."""
    row = above.inside
    for before, line, after in zip([None, *row], row, [*row[1:], None], strict=False):
        beside = f"/Prev {before.number} 0 R" if before else ""
        beside += f"/Next {after.number} 0 R" if after else ""
        _write(file, line, above.number, beside, is_open=is_open)


def _write(file: PdfFile, line: _Line, above: int, beside: str, *, is_open: bool) -> None:
    assert line.bookmark is not None
    below = ""
    if line.inside:
        count = len(line.inside) if is_open else -len(line.inside)
        below = f"{_ends(line)}/Count {count}"
    title, target = text_string(line.bookmark.title), place_name(line.bookmark.target)
    file.add(f"<</Title{title}/Parent {above} 0 R{beside}{below}/Dest({target})>>", line.number)
    _write_row(file, line)


def _ends(line: _Line) -> str:
    return f"/First {line.inside[0].number} 0 R/Last {line.inside[-1].number} 0 R"

"""Write a page's content: PDF operators, and what state they leave (ISO 32000-1, 8 and 9)."""

from __future__ import annotations

from dataclasses import dataclass, field, replace
from hashlib import blake2b

from publisher.frozen import frozen
from publisher.press.svg.matrix import IDENTITY, Bounds, Matrix
from publisher.press.svg.numbers import extent, fine, plain
from publisher.press.svg.paint import Rgba


@frozen
class FormXObject:
    """A drawing of its own on the page: a group that is laid on as one, with what it names, or a
    drawing made by other means (`pdf`, one page). `box`: left, top, right, bottom in its own
    units."""

    operators: str = ""
    box: tuple[float, float, float, float] = (0.0, 0.0, 0.0, 0.0)
    needs: Resources | None = None
    pdf: bytes = b""


@frozen
class Raster:
    """A picture of pixels: the entries of its dictionary, and its deflated rows. `mask`: its
    opacity, a picture too."""

    entries: str
    data: bytes
    mask: Raster | None = None


@dataclass(slots=True)
class Resources:
    """The resources that content names: glyphs by face, opacities, forms and pictures by their
    names. What a form names stands in the form."""

    glyphs: dict[str, set[int]] = field(default_factory=dict)
    opacities: set[str] = field(default_factory=set)
    forms: dict[str, FormXObject] = field(default_factory=dict)
    rasters: dict[str, Raster] = field(default_factory=dict)

    def add(self, other: Resources) -> None:
        """Need what another content needs, too."""
        for face, glyphs in other.glyphs.items():
            self.glyphs.setdefault(face, set()).update(glyphs)
        self.opacities |= other.opacities
        self.forms |= other.forms
        self.rasters |= other.rasters


@dataclass(slots=True)
class _State:
    """The graphics state in force, so that it need not be said again."""

    fill: Rgba = (0.0, 0.0, 0.0, 1.0)
    stroke: Rgba = (0.0, 0.0, 0.0, 1.0)
    width: float = 1.0
    line: tuple[str, str, str, str] = ("0", "0", "10", "[] 0")
    font: tuple[str, float] = ("", 0.0)
    spacing: float = 0.0
    matrix: Matrix = IDENTITY


PLAIN_LINE = ("0", "0", "4", "[] 0")
"""Cap, join, miter limit and dashes as SVG has them where nothing is said."""
_LINE_OPERATORS = ("J", "j", "M", "d")


FRESH = "0 g 0 G 1 w 0 J 0 j 10 M [] 0 d 0 Tc"
"""What a page begins with by itself, for a form that takes over whatever was in force before."""


def name_of(kind: str, content: bytes) -> str:
    """A name by which the same content is found again, on any page."""
    return kind + blake2b(content, digest_size=6).hexdigest()


class ContentStream:
    """Operators of one page, or of a form on it.

    `watched`: boxes that grow around what is drawn, in the units of the page.
    """

    def __init__(self, needs: Resources, matrix: Matrix = IDENTITY, start: str = "") -> None:
        self.needs = needs
        self.watched: list[Bounds] = []
        self._parts = [start] if start else []
        self._state = _State(matrix=matrix)
        self._above: list[_State] = []

    def write(self, operators: str) -> None:
        """Operators that change nothing of the state."""
        self._parts.append(operators)

    def text(self) -> str:
        """Return all that was written since the last time."""
        text = "\n".join(self._parts)
        self._parts.clear()
        return text

    @property
    def matrix(self) -> Matrix:
        """From the units in force to those of the page."""
        return self._state.matrix

    def push(self) -> None:
        self._above.append(replace(self._state))
        self._parts.append("q")

    def pop(self) -> None:
        self._state = self._above.pop()
        self._parts.append("Q")

    def transform(self, matrix: Matrix) -> None:
        """Draw in other units from here on."""
        self._state.matrix = self._state.matrix.after(matrix)
        self.write_matrix(matrix)

    def write_matrix(self, matrix: Matrix) -> None:
        """Change the units of the paper, which nothing on the page is told of."""
        self._parts.append(" ".join(map(fine, matrix)) + " cm")

    def stretch(self, left: float, top: float, width: float, height: float) -> None:
        """Draw in a box whose corner is its lower left, as PDFs do, and whose sides are 1."""
        self.transform(Matrix(width, 0.0, 0.0, -height, left, top + height))

    def clip(self, path: str, even_odd: bool = False) -> None:
        """Draw nothing outside a path from here on."""
        self._parts.append(f"{path} {'W*' if even_odd else 'W'} n")

    def fill_colour(self, rgba: Rgba, share: float = 1.0) -> None:
        """Fill, and write, in a colour from here on, `share` of its opacity."""
        self._state.fill = self._colour(self._state.fill, rgba, share, ("g", "rg", "f"))

    def stroke_colour(self, rgba: Rgba, share: float = 1.0) -> None:
        """Draw lines in a colour from here on, `share` of its opacity."""
        self._state.stroke = self._colour(self._state.stroke, rgba, share, ("G", "RG", "s"))

    def opaque(self) -> None:
        """Lay on what follows with all of its opacity."""
        self.fill_colour((*self._state.fill[:3], 1.0))
        self.stroke_colour((*self._state.stroke[:3], 1.0))

    def group_opacity(self, share: float) -> None:
        """Lay forms on with `share` of their opacity from here on."""
        self._opacity("f", share)

    def line(self, width: float, kind: tuple[str, str, str, str] = PLAIN_LINE) -> None:
        """Draw lines of a width, with a cap, a join, a miter limit and dashes, from here on."""
        state = self._state
        if width != state.width:
            state.width = width
            self._parts.append(extent(width) + " w")
        if kind != state.line:
            for value, old, operator in zip(kind, state.line, _LINE_OPERATORS, strict=True):
                if value != old:
                    self._parts.append(f"{value} {operator}")
            state.line = kind

    def words(
        self,
        face: str,
        size: float,
        at: tuple[float, float],
        shown: str,
        glyphs: frozenset[int],
        spacing: float = 0.0,
    ) -> None:
        """Write `glyphs` of a face, as the operator `shown` says, on a base line."""
        state = self._state
        needed = self.needs.glyphs.get(face)
        if needed is None:
            needed = self.needs.glyphs[face] = set()
        needed |= glyphs
        font = (face, size)
        change = ""
        if font != state.font:
            state.font = font
            change = f"/{face} {extent(size)} Tf "
        if spacing != state.spacing:
            state.spacing = spacing
            change += f"{plain(spacing)} Tc "
        x, y = at
        self._parts.append(f"BT {change}1 0 0 -1 {plain(x)} {plain(y)} Tm {shown} ET")

    def form(self, name: str, form: FormXObject) -> None:
        """Lay a form on."""
        self.needs.forms[name] = form
        self._parts.append(f"/{name} Do")

    def raster(self, name: str, raster: Raster, place: tuple[float, float, float, float]) -> None:
        """Draw a picture into a box: left, top, width, height."""
        self.needs.rasters[name] = raster
        self.push()
        self.stretch(*place)
        self._parts.append(f"/{name} Do")
        self.pop()

    def _colour(self, old: Rgba, rgba: Rgba, share: float, names: tuple[str, str, str]) -> Rgba:
        """The colour in force after `old`, said by the operators of greys and of colours, and the
        name that opacities begin with."""
        red, green, blue, alpha = rgba
        grey, coloured, which = names
        new = (red, green, blue, alpha * share)
        if new[:3] != old[:3]:
            self._parts.append(_ink(red, green, blue, grey, coloured))
        if new[3] != old[3]:
            self._opacity(which, new[3])
        return new

    def _opacity(self, which: str, share: float) -> None:
        name = f"{which}{round(share * 1000)}"
        self.needs.opacities.add(name)
        self._parts.append(f"/{name} gs")


def _ink(red: float, green: float, blue: float, grey: str, coloured: str) -> str:
    """The operator that sets a colour: 3 decimals tell all of an 8-bit channel's steps apart."""
    if red == green == blue:
        return f"{round(red, 3):g} {grey}"
    return f"{round(red, 3):g} {round(green, 3):g} {round(blue, 3):g} {coloured}"

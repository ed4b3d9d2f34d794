"""Bind drawn pages into one PDF: fonts, pictures, structure, links, bookmarks, metadata."""

from __future__ import annotations

from collections.abc import Iterable

from publisher.model.book import Book, Page
from publisher.press.papers import PT_PER_MM
from publisher.press.pdf.content import FormXObject, Raster, Resources
from publisher.press.pdf.embedding import add_font
from publisher.press.pdf.file import PdfFile, text_string
from publisher.press.pdf.metadata import information, xmp
from publisher.press.pdf.outline import write_outline
from publisher.press.pdf.pages import DrawnPage
from publisher.press.pdf.structure import Structure
from publisher.press.pdf.tags import LinkArea, place_name
from publisher.press.svg.numbers import plain_list

_FORM = "/Type/XObject/Subtype/Form"


class Binder:
    """A book's file, page by page."""

    def __init__(self, book: Book) -> None:
        self._book = book
        self._file = PdfFile()
        self._pages_number = self._file.number()
        self._pages: list[int] = []
        self._structure = Structure(self._file)
        self._fonts: dict[str, tuple[int, set[int]]] = {}
        self._objects: dict[str, int] = {}
        self._places: dict[str, str] = {}

    def page(self, page: Page, drawn: DrawnPage) -> None:
        """Add a page."""
        needs, told = drawn.needs, drawn.told
        file, number = self._file, self._file.number()
        self._pages.append(number)
        height = page.height_mm
        notes = {area.element: file.number() for area in told.links}
        key = self._structure.page(number, told.elements, told.marks, notes)
        for area in told.links:
            self._note(area, notes[area.element], height)
        for name, _, left, top in told.places:
            x, y = plain_list(left * PT_PER_MM, (height - top) * PT_PER_MM).split()
            self._places[place_name(name)] = f"[{number} 0 R/XYZ {x} {y} null]"
        size = plain_list(page.width_mm * PT_PER_MM, height * PT_PER_MM)
        annotated = f"/Annots[{_references(notes.values())}]" if notes else ""
        contents = [file.stream("", stream, ready=True) for stream in drawn.streams]
        file.add(
            f"<</Type/Page/Parent {self._pages_number} 0 R/MediaBox[0 0 {size}]"
            f"/Contents[{_references(contents)}]"
            f"/Resources{self._resources(needs)}/StructParents {key}/Tabs/S{annotated}>>",
            number,
        )

    def finish(self) -> bytes:
        """The whole PDF."""
        file, book = self._file, self._book
        for face, (number, glyphs) in self._fonts.items():
            add_font(file, face, frozenset(glyphs), number)
        count = len(self._pages)
        kids = _references(self._pages)
        file.add(f"<</Type/Pages/Count {count}/Kids[{kids}]>>", self._pages_number)
        packet = file.stream("/Type/Metadata/Subtype/XML", xmp(book).encode(), plain=True)
        outline = write_outline(file, book.bookmarks)
        names = "".join(f"({name}){self._places[name]}" for name in sorted(self._places))
        root = file.add(
            f"<</Type/Catalog/Pages {self._pages_number} 0 R/Lang {text_string(book.language)}"
            f"/MarkInfo<</Marked true>>/ViewerPreferences<</DisplayDocTitle true>>"
            f"/StructTreeRoot {self._structure.finish()} 0 R/Metadata {packet} 0 R{outline}"
            f"/Names<</Dests<</Names[{names}]>>>>/PageLabels{_labels(book.pages)}>>"
        )
        said = information(book).items()
        told = file.add(f"<<{''.join(f'{key}{text_string(value)}' for key, value in said)}>>")
        return file.write(root, told)

    def _note(self, area: LinkArea, number: int, height: float) -> None:
        """The annotation of a link."""
        left, top, right, bottom = area.box
        corners = (left, height - bottom, right, height - top)
        rectangle = plain_list(*(side * PT_PER_MM for side in corners))
        if area.target.startswith("#"):
            leads = f"/Dest({area.target[1:]})"
        else:
            leads = f"/A<</S/URI/URI{text_string(area.target)}>>"
        said = text_string(area.element.words or "")
        key = self._structure.note(area.element)
        self._file.add(
            f"<</Type/Annot/Subtype/Link/Rect[{rectangle}]/Border[0 0 0]/F 4{leads}"
            f"/Contents{said}/StructParent {key}>>",
            number,
        )

    def _resources(self, needs: Resources) -> str:
        parts = []
        if needs.glyphs:
            fonts = "".join(
                f"/{face} {self._font_number(face, needs)} 0 R" for face in needs.glyphs
            )
            parts.append(f"/Font<<{fonts}>>")
        if needs.opacities:
            told = "".join(f"/{name} {self._opacity(name)} 0 R" for name in sorted(needs.opacities))
            parts.append(f"/ExtGState<<{told}>>")
        drawn = {name: self._raster(name, raster) for name, raster in needs.rasters.items()}
        drawn |= {name: self._form(name, form) for name, form in needs.forms.items()}
        if drawn:
            told = "".join(f"/{name} {number} 0 R" for name, number in drawn.items())
            parts.append(f"/XObject<<{told}>>")
        return f"<<{''.join(parts)}>>"

    def _font_number(self, face: str, needs: Resources) -> int:
        if face not in self._fonts:
            self._fonts[face] = (self._file.number(), set())
        number, glyphs = self._fonts[face]
        glyphs |= needs.glyphs[face]
        return number

    def _opacity(self, name: str) -> int:
        if name not in self._objects:
            share = plain_list(int(name[1:]) / 1000)
            self._objects[name] = self._file.add(f"<</{'ca' if name[0] == 'f' else 'CA'} {share}>>")
        return self._objects[name]

    def _raster(self, name: str, raster: Raster) -> int:
        if name not in self._objects:
            entries = raster.entries
            if raster.mask is not None:
                mask = self._file.stream(raster.mask.entries, raster.mask.data, ready=True)
                entries += f"/SMask {mask} 0 R"
            self._objects[name] = self._file.stream(entries, raster.data, ready=True)
        return self._objects[name]

    def _form(self, name: str, form: FormXObject) -> int:
        if name not in self._objects:
            if form.pdf:
                from publisher.press.pdf.drawings import add_drawing

                self._objects[name] = add_drawing(self._file, form.pdf)
            else:
                group = "/Group<</S/Transparency/I true>>"
                entries = f"{_FORM}/BBox[{plain_list(*form.box)}]{group}"
                entries += f"/Resources{self._resources(form.needs or Resources())}"
                self._objects[name] = self._file.stream(entries, form.operators.encode("latin-1"))
        return self._objects[name]


def _references(numbers: Iterable[int]) -> str:
    return " ".join(f"{number} 0 R" for number in numbers)


def _labels(pages: tuple[Page, ...]) -> str:
    """Return what each page is called; the plain count in one entry."""
    labels = [page.label for page in pages]
    if labels == [str(number) for number in range(1, len(labels) + 1)]:
        return "<</Nums[0<</S/D>>]>>"
    told = "".join(f"{index}<</P{text_string(label)}>>" for index, label in enumerate(labels))
    return f"<</Nums[{told}]>>"

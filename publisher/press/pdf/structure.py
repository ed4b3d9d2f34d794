"""Write the structure tree: what each mark on a page is, in reading order (ISO 32000-1, 14.7)."""

from __future__ import annotations

from publisher.press.pdf.file import PdfFile, text_string
from publisher.press.pdf.tags import Element


class Structure:
    """The tree of a book's elements, filled page by page."""

    def __init__(self, file: PdfFile) -> None:
        self._file = file
        self._root = file.number()
        self._document = file.number()
        self._tops: list[int] = []
        self._parents: list[str] = []
        self._numbers: dict[Element, int] = {}
        self._names: list[tuple[str, int]] = []

    def page(
        self, page: int, elements: list[Element], marks: list[Element], notes: dict[Element, int]
    ) -> int:
        """Add a page's elements; its key in the parent tree. `page` and `notes`, the annotations
        of links, are numbers of objects."""
        numbers: dict[Element, int] = {}
        for element in elements:
            self._tops.append(self._element(element, self._document, page, notes, numbers))
        self._numbers = numbers
        return self._key(f"[{' '.join([f'{numbers[element]} 0 R' for element in marks])}]")

    def note(self, element: Element) -> int:
        """The key in the parent tree of an annotation that belongs to an element of this page."""
        return self._key(f"{self._numbers[element]} 0 R")

    def finish(self) -> int:
        """Write the root; its number."""
        add = self._file.add
        tree = add(f"<</Nums[{' '.join(f'{i} {held}' for i, held in enumerate(self._parents))}]>>")
        kids = " ".join(f"{number} 0 R" for number in self._tops)
        add(f"<</S/Document/P {self._root} 0 R/K[{kids}]>>", self._document)
        count = len(self._parents)
        add(
            f"<</Type/StructTreeRoot/K[{self._document} 0 R]/ParentTree {tree} 0 R"
            f"/ParentTreeNextKey {count}{self._named()}>>",
            self._root,
        )
        return self._root

    def _named(self) -> str:
        """The names of elements, by which a note is known."""
        names = "".join(f"({name}){number} 0 R" for name, number in sorted(self._names))
        return f"/IDTree<</Names[{names}]>>" if names else ""

    def _key(self, held: str) -> int:
        self._parents.append(held)
        return len(self._parents) - 1

    def _element(
        self,
        element: Element,
        above: int,
        page: int,
        notes: dict[Element, int],
        numbers: dict[Element, int],
    ) -> int:
        number = numbers[element] = self._file.number()
        parts = [
            str(part)
            if isinstance(part, int)
            else f"{self._element(part, number, page, notes, numbers)} 0 R"
            for part in element.parts
        ]
        if element in notes:
            parts.append(f"<</Type/OBJR/Obj {notes[element]} 0 R>>")
        kids = f"/K {parts[0]}" if len(parts) == 1 else f"/K[{' '.join(parts)}]" if parts else ""
        more = f"/Alt {text_string(element.alt)}" if element.alt else ""
        if element.scope:
            more += f"/A<</O/Table/Scope/{element.scope}>>"
        if element.role == "Note":
            name = f"note-{number:08}"
            self._names.append((name, number))
            more += f"/ID({name})"
        self._file.add(f"<</S/{element.role}/P {above} 0 R/Pg {page} 0 R{kids}{more}>>", number)
        return number

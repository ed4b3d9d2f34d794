"""Write a plan as a book's content in reading order, by edition."""

from publisher.manuscript.write import write_manuscript

__all__ = ["write_manuscript"]

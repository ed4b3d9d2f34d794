"""Write a plan as a book's content in reading order, by edition."""

from publisher.manuscript.index import write_entry, write_index
from publisher.manuscript.spoken_plan import plan_for_people
from publisher.manuscript.write import write_manuscript

__all__ = ["plan_for_people", "write_entry", "write_index", "write_manuscript"]

"""Speak with people: the words typed, the calls they stand for, and what is said in answer."""

import sys

__all__ = ["main"]


def main() -> None:
    """The command `publisher`. Its parts are imported here, where Ctrl-C is answered already."""
    try:
        from publisher.catalogue.build.collection import look_seldom

        look_seldom()
        from publisher.cli.commands import commands
        from publisher.cli.reporter import speak_any_tongue

        speak_any_tongue()
        commands(prog_name="publisher")
    except KeyboardInterrupt:
        from publisher.errors import INTERRUPTED

        sys.exit(INTERRUPTED)

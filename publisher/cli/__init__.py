"""Speak with people: the words typed, the calls they stand for, and what is said in answer."""

import sys

__all__ = ["main"]

INTERRUPTED = 130  # by custom: 128 and the number of the interrupt signal


def main() -> None:
    """The command `publisher`. Its parts are imported here, where Ctrl-C is answered already."""
    try:
        from publisher.catalogue.garbage import look_seldom

        look_seldom()
        from publisher.cli.commands import commands
        from publisher.cli.speaking import speak_any_tongue

        speak_any_tongue()
        commands(prog_name="publisher")
    except KeyboardInterrupt:
        sys.exit(INTERRUPTED)

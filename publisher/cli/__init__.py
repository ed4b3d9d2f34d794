"""Speak with people: the words typed, the calls they stand for, and what is said in answer."""

from publisher.cli.commands import main

__all__ = ["main"]

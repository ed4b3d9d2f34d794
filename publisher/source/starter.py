"""Write a starter pattern, explained line by line, that builds as it is."""

from __future__ import annotations


def starter_pattern(slug: str) -> str:
    """The text of a new pattern file; its title is made from the slug."""
    title = slug.replace("-", " ").capitalize()
    return _STARTER.replace("A TITLE", title)


_STARTER = '''# A pattern.
format = 1
title = "A TITLE"
version = "0.1"

[colours.W]
name = "water blue"
srgb = "#2f6f8f"
yarn = "cotton"

[yarns.cotton]
name = "3 mm cotton cord"
diameter_mm = 3.0
grams_per_metre = 4.5

[[pieces]]
id = "panel"
chart = """
WWWW
WWWW
"""
'''

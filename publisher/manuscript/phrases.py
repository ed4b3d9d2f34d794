"""Say several things, or several numbers, in one phrase."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from publisher.manuscript.words import Words


def listed(words: Words, items: Sequence[str]) -> str:
    """`2, 3 and 5`."""
    if len(items) < 2:
        return "".join(items)
    return words("parts.listed", first=", ".join(items[:-1]), last=items[-1])


def ranges(words: Words, numbers: Iterable[int]) -> str:
    """Numbers in order, those that follow one another together: `3, 7 to 12 and 15`."""
    items: list[str] = []
    for first, last in neighbours(numbers):
        if last - first < 2:
            items += map(str, range(first, last + 1))
        else:
            items.append(words("parts.steps_range", first=first, last=last))
    return listed(words, items)


def neighbours(numbers: Iterable[int]) -> list[tuple[int, int]]:
    """Numbers in order, each once: the first and the last of those that follow one another."""
    found: list[tuple[int, int]] = []
    for number in sorted(set(numbers)):
        if found and found[-1][1] == number - 1:
            found[-1] = found[-1][0], number
        else:
            found.append((number, number))
    return found

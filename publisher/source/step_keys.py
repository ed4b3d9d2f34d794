"""Check that a step's keys belong together: one verb, and what goes with it."""

from __future__ import annotations

import dataclasses
from collections.abc import Iterator

from publisher.knots.defaults import defaults
from publisher.knots.tying import Tying
from publisher.source.format.steps import PlainStepTable, StepTable

WITH: dict[str, tuple[str, ...]] = {
    "tie": ("on", "leader", "worker", "facing", "fillers", "times"),
    "gap_mm": ("on",),
    "cross": (),
    "gather": (),
    "drop": (),
    "add": (),
    "wrap": ("turns", "colour"),
    "trim_mm": ("on",),
    "glue": (),
    "sew": (),
    "repeat": ("steps",),
}
"""Verbs of steps, each with the keys that it can have."""
NEEDED = {"tie": ("on",), "wrap": ("turns", "colour"), "repeat": ("steps",)}
_EXAMPLES = {
    "on": "on = [2, 3, 4, 5]",
    "turns": "turns = 7",
    "colour": 'colour = "G"',
    "steps": f'steps = [{{ tie = "{defaults().example}", on = [1, 2, 3, 4] }}]',
}


def verb_of(table: PlainStepTable) -> str:
    """The key that says what a step does; "" if there is none, the first if there are several."""
    return next((verb for verb in WITH if getattr(table, verb, None) is not None), "")


def find_key_faults(table: PlainStepTable, rule: Tying) -> Iterator[tuple[str, str, str]]:
    """Key, what is wrong with it, and what to do. `rule`: of the knot that it ties, if any."""
    given = [
        field.name
        for field in dataclasses.fields(table)
        if field.name != "note" and getattr(table, field.name) is not None
    ]
    verbs = [key for key in given if key in WITH]
    known = [verb for verb in WITH if verb != "repeat" or isinstance(table, StepTable)]
    if not verbs:
        yield "", "this step does not say what to do", f"begin it with one of {', '.join(known)}"
        return
    if len(verbs) > 1:
        message = f"this step does two things: `{verbs[0]}` and `{verbs[1]}`"
        yield verbs[1], message, "make two steps of it"
        return
    (verb,) = verbs
    for key in given:
        if key != verb and key not in WITH[verb]:
            keys = " and ".join(f"`{name}`" for name in WITH[verb])
            hint = f"take it out; `{verb}` can have {keys}" if keys else "take it out"
            yield key, f"`{key}` does not belong to `{verb}`", hint
    for key in NEEDED.get(verb, ()):
        if key not in given:
            yield "", f"this step has `{verb}`, but not `{key}`", f"add {_EXAMPLES[key]}"
    if rule:
        yield from _tie_faults(table, rule)


def _tie_faults(table: PlainStepTable, rule: Tying) -> Iterator[tuple[str, str, str]]:
    if table.facing and not rule.faces:
        yield "facing", f'"{table.tie}" does not face a side', "take `facing` out"
    if table.times not in (None, 1) and rule.travels:
        hint = "write a step for each run, as the leader lies elsewhere after it"
        yield "times", f"a run of hitches can't be worked {table.times} times on these cords", hint

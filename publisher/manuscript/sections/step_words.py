"""Say a part's steps in words: which cords, by the places where they lie, and what to do."""

from __future__ import annotations

from collections.abc import Sequence

from publisher.frozen import frozen
from publisher.manuscript.blocks import Text
from publisher.manuscript.context import BookContext, knot_target
from publisher.manuscript.handedness import drawn_hands
from publisher.manuscript.markup import joined, page_of, read_marks
from publisher.manuscript.phrases import listed, ranges
from publisher.model.part_plan import PartStep, RepeatPlan, StepsPlan


@frozen
class StepWords:
    """Words for the steps of one part."""

    context: BookContext
    part: StepsPlan

    def step(self, step: PartStep) -> Text:
        """A step with its number, and the writer's note."""
        said = joined(self._say("number", number=step.number), self._told(step))
        return said + self._note(step.note)

    def repeat(self, repeat: RepeatPlan) -> Text:
        """Return how often steps are worked."""
        steps = ranges(self.context.words, range(repeat.first, repeat.last + 1))
        key = "repeat_one" if repeat.first == repeat.last else "repeat"
        said = self._say(key, steps=steps, times=repeat.times)
        return said + self._note(repeat.note)

    def cords(self, positions: Sequence[int]) -> str:
        """`cord 2`, `cords 2 to 5`, `cords 1, 2 and 5`."""
        words = self.context.words
        if len(positions) == 1:
            return words("parts.cord", n=positions[0])
        row = list(range(positions[0], positions[0] + len(positions)))
        if len(positions) > 2 and list(positions) == row:
            return words("parts.cords_range", first=positions[0], last=positions[-1])
        return words("parts.cords", list=self._listed(positions))

    def _listed(self, positions: Sequence[int]) -> str:
        return listed(self.context.words, [str(position) for position in positions])

    def _say(self, key: str, **values: object) -> Text:
        return self.context.words.say(f"parts.{key}", **values)

    def _note(self, note: str) -> Text:
        if not note:
            return ()
        return read_marks(" " + note.replace("{", "{{").replace("}", "}}"))

    def _told(self, step: PartStep) -> Text:
        if step.kind == "tie":
            return self._tie(step)
        cords = self.cords(step.on) if step.on else self.context.words("parts.cords_all")
        match step.kind:
            case "cross":
                return self._say("cross", front=step.on[0], back=step.on[1])
            case "gap" | "trim":
                length = self.context.measures.length(step.length_mm)
                key = step.kind if step.length_mm else f"{step.kind}_close"
                return self._say(key, cords=cords, length=length)
            case "wrap":
                return self._wrap(step, cords)
            case "add":
                return self._add(step, cords)
            case "glue" | "sew":
                return self._say(step.kind, what=step.what)
            case _:
                return self._say(step.kind, cords=cords, count=len(step.after))

    def _knot(self, name: str) -> dict[str, str]:
        knot = self.context.knots[name]
        title = knot.with_article or self.context.words("parts.a.other", title=knot.title)
        return {"knot": title, "name": name, "page": page_of(knot_target(name))}

    def _tie(self, step: PartStep) -> Text:
        values = self._knot(step.knot)
        if step.leader is not None or step.worker is not None:
            return self._run(step, values)
        said = self._say(
            "tie" if step.times == 1 else "tie_times",
            **values,
            times=step.times,
            cords=self.cords(step.on),
        )
        rule = self.context.knots[step.knot].tying
        if rule.around:
            outer = self._listed([step.on[0], step.on[-1]])
            inner = self._listed(step.on[1:-1])
            said += self._say("round", outer=outer, inner=inner)
        if rule.faces and step.facing != self._usual_facing():
            said += self._say("mirrored", side=self.context.words(f"sides.{step.facing}"))
        return said

    def _usual_facing(self) -> str:
        """The side that the glossary's square knot begins from."""
        return "right" if self.context.edition.hand == "left" else "left"

    def _run(self, step: PartStep, values: dict[str, str]) -> Text:
        role = "leader" if step.leader is not None else "worker"
        along = self.context.words("parts.then").join(str(p) for p in step.on)
        rule = self.context.knots[step.knot].tying
        key = "gathers" if rule.gathers and len(step.on) > 1 else role
        said = self._say(
            key,
            **values,
            travels=step.leader if step.leader is not None else step.worker,
            cords=along,
            side=self.context.words(f"sides.{step.way}"),
        )
        if step.way not in drawn_hands(self.context, step.knot):
            said += self._say("run_mirrored")
        return said

    def _wrap(self, step: PartStep, cords: str) -> Text:
        cord = self.part.cord(step.cord or 1)
        colour = self.context.plan.colour(cord.colour).name
        return self._say(
            "wrap", cords=cords, turns=step.turns, colour=colour, **self._knot(step.knot)
        )

    def _add(self, step: PartStep, cords: str) -> Text:
        cord = self.part.cord(step.cord or 1)
        colour = self.context.plan.colour(cord.colour).name
        return self._say(f"add_{cord.lay}", colour=colour, cords=cords, count=len(step.after))

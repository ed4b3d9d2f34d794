"""Print lengths and weights in both systems, the writer's first one first."""

from __future__ import annotations

from typing import Literal

from publisher.frozen import frozen
from publisher.manuscript.words import Words
from publisher.model import units
from publisher.model.pattern import UnitOrder

_SHORT_MM = 30.0
"""Lengths under this are told in whole mm and eighths of an inch: half a centimetre would be a good
part of them."""


@frozen
class Measures:
    """Numbers with their units, in words. `order` says which system stands first."""

    words: Words
    order: UnitOrder

    @property
    def metric_first(self) -> bool:
        return self.order == "metric-first"

    def length(self, length_mm: float, way: units.Way = "nearest") -> str:
        """A length to half centimetres and quarter inches: `15 cm (6 in)`; a short one to mm and
        eighths: `12 mm (½ in)`."""
        return self._both(self._metric(length_mm, way), self._inches(length_mm, way))

    def metric_or_inch(self, length_mm: float, way: units.Way = "nearest") -> str:
        """The same in the first system alone."""
        return (self._metric if self.metric_first else self._inches)(length_mm, way)

    def thickness(self, length_mm: float) -> str:
        """A small length: `12 mm (½ in)`."""
        metric = self.words("units.mm", n=units.millimetres(length_mm))
        return self._both(metric, self.words("units.inch", n=units.inches(length_mm, parts=8)))

    def size(self, width_mm: float, height_mm: float) -> tuple[str, str]:
        """A finished size, a line for each system."""
        metric = self.words(
            "units.size_cm",
            width=units.centimetres(width_mm),
            height=units.centimetres(height_mm),
        )
        imperial = self.words(
            "units.size_inch", width=units.inches(width_mm), height=units.inches(height_mm)
        )
        return (metric, imperial) if self.metric_first else (imperial, metric)

    def mass(self, mass_g: float) -> str:
        """A finished weight: `1.2 kg (2.6 lb)`, or in grams and ounces below 1 kg."""
        if mass_g >= 1000:
            metric = self.words("units.kilograms", n=units.kilograms(mass_g))
            return self._both(metric, self.words("units.pounds", n=units.pounds(mass_g)))
        metric = self.words("units.grams", n=units.grams(mass_g, "nearest"))
        return self._both(metric, self.words("units.ounces", n=units.ounces(mass_g, "nearest")))

    def _metric(self, length_mm: float, way: units.Way) -> str:
        if length_mm < _SHORT_MM:
            return self.words("units.mm", n=units.millimetres(length_mm, way, places=0))
        return self.words("units.cm", n=units.centimetres(length_mm, way))

    def _inches(self, length_mm: float, way: units.Way) -> str:
        parts: Literal[4, 8] = 8 if length_mm < _SHORT_MM else 4
        return self.words("units.inch", n=units.inches(length_mm, way, parts))

    def _both(self, metric: str, imperial: str) -> str:
        first, second = (metric, imperial) if self.metric_first else (imperial, metric)
        return self.words("units.both", first=first, second=second)

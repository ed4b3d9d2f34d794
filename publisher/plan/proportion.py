"""Hold the proportion that a chart will have when knotted against that of its picture."""

from __future__ import annotations

from collections.abc import Iterator

from publisher.model.plan import Advice, ChartPlan

NOTICED = 0.03
"""By how much of the smaller proportion the larger one may be larger, and nothing is said."""
FAR_OFF = 10
"""From so many times on, the picture's resolution is most likely a mistake."""
SMALLER_RESOLUTION = 100


def other_proportion(plan: ChartPlan, pixel_proportion: float) -> Iterator[Advice]:
    """Yield what to do where the piece will be clearly wider or taller than its picture.

    `pixel_proportion`: width over height of the picture's pixels. `rows` and `columns` keep the
    picture's proportion in knots; `across` and `down` are the resolution of pixels shaped like
    the knots.
    """
    width_mm, height_mm = plan.cell.width_mm, plan.cell.height_mm
    wider = width_mm / height_mm / pixel_proportion
    apart = max(wider, 1 / wider) - 1
    if apart <= NOTICED:
        return
    unit = SMALLER_RESOLUTION / min(width_mm, height_mm)
    values = {
        "percent": round(100 * apart) if apart >= 0.1 else round(100 * apart, 1),
        "rows": max(1, round(plan.rows * wider)),
        "columns": max(1, round(plan.columns / wider)),
        "across": round(unit * height_mm),
        "down": round(unit * width_mm),
    }
    code = "picture-wider" if wider > 1 else "picture-taller"
    if apart >= FAR_OFF:
        code, values = "picture-far-off", {**values, "times": FAR_OFF}
    yield Advice(code, plan.id, None, None, values)

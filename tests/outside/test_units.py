"""Units against what is published."""

from __future__ import annotations

import pytest

from publisher.model import units

# NIST Special Publication 811 (2008), appendix B: exact factors.
NIST = [
    (units.MM_PER_INCH, 25.4),
    (units.MM_PER_YARD, 914.4),
    (units.GRAMS_PER_OUNCE, 28.349523125),
    (units.GRAMS_PER_POUND, 453.59237),
]


@pytest.mark.parametrize(("ours", "published"), NIST)
def test_factors(ours: float, published: float) -> None:
    assert ours == published


def test_a_pound_is_sixteen_ounces_and_a_yard_thirty_six_inches() -> None:
    # International yard and pound agreement (1959).
    assert pytest.approx(16 * units.GRAMS_PER_OUNCE, rel=1e-12) == units.GRAMS_PER_POUND
    assert pytest.approx(36 * units.MM_PER_INCH) == units.MM_PER_YARD


def test_rounding_of_sizes_and_cuts() -> None:
    # Common practice: finished sizes to the nearest half cm and quarter inch, cuts upwards.
    assert (units.centimetres(447.0), units.inches(447.0)) == ("44.5", "17½")
    assert (units.centimetres(447.6), units.inches(447.6)) == ("45", "17½")
    assert (units.centimetres(446.0, "up"), units.inches(446.0, "up")) == ("45", "17¾")
    # A whole number of inches stays one when it is rounded up.
    assert units.inches(2540.0, "up") == "100"

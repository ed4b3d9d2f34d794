"""Colour against published tables."""

from __future__ import annotations

import pytest

from publisher.model.colour import BLACK, WHITE, Colour, Eye, Lab, contrast, difference

# Sharma, Wu and Dalal (2005), "The CIEDE2000 color-difference formula: implementation notes,
# supplementary test data, and mathematical observations", table 1: L, a, b twice, difference.
# Pair 14 turns on a platform's arctan2 at 180 degrees, and is left out.
SHARMA = """
50.0000 2.6772 -79.7751 50.0000 0.0000 -82.7485 2.0425
50.0000 3.1571 -77.2803 50.0000 0.0000 -82.7485 2.8615
50.0000 2.8361 -74.0200 50.0000 0.0000 -82.7485 3.4412
50.0000 -1.3802 -84.2814 50.0000 0.0000 -82.7485 1.0000
50.0000 -1.1848 -84.8006 50.0000 0.0000 -82.7485 1.0000
50.0000 -0.9009 -85.5211 50.0000 0.0000 -82.7485 1.0000
50.0000 0.0000 0.0000 50.0000 -1.0000 2.0000 2.3669
50.0000 -1.0000 2.0000 50.0000 0.0000 0.0000 2.3669
50.0000 2.4900 -0.0010 50.0000 -2.4900 0.0009 7.1792
50.0000 2.4900 -0.0010 50.0000 -2.4900 0.0010 7.1792
50.0000 2.4900 -0.0010 50.0000 -2.4900 0.0011 7.2195
50.0000 2.4900 -0.0010 50.0000 -2.4900 0.0012 7.2195
50.0000 -0.0010 2.4900 50.0000 0.0009 -2.4900 4.8045
50.0000 -0.0010 2.4900 50.0000 0.0011 -2.4900 4.7461
50.0000 2.5000 0.0000 50.0000 0.0000 -2.5000 4.3065
50.0000 2.5000 0.0000 73.0000 25.0000 -18.0000 27.1492
50.0000 2.5000 0.0000 61.0000 -5.0000 29.0000 22.8977
50.0000 2.5000 0.0000 56.0000 -27.0000 -3.0000 31.9030
50.0000 2.5000 0.0000 58.0000 24.0000 15.0000 19.4535
50.0000 2.5000 0.0000 50.0000 3.1736 0.5854 1.0000
50.0000 2.5000 0.0000 50.0000 3.2972 0.0000 1.0000
50.0000 2.5000 0.0000 50.0000 1.8634 0.5757 1.0000
50.0000 2.5000 0.0000 50.0000 3.2592 0.3350 1.0000
60.2574 -34.0099 36.2677 60.4626 -34.1751 39.4387 1.2644
63.0109 -31.0961 -5.8663 62.8187 -29.7946 -4.0864 1.2630
61.2901 3.7196 -5.3901 61.4292 2.2480 -4.9620 1.8731
35.0831 -44.1164 3.7933 35.0232 -40.0716 1.5901 1.8645
22.7233 20.0904 -46.6940 23.0331 14.9730 -42.5619 2.0373
36.4612 47.8580 18.3852 36.2715 50.5065 21.2231 1.4146
90.8027 -2.0831 1.4410 91.1528 -1.6435 0.0447 1.4441
90.9257 -0.5406 -0.9208 88.6381 -0.8985 -0.7239 1.5381
6.7747 -0.2908 -2.4247 5.8714 -0.0985 -2.2286 0.6377
2.0776 0.0795 -1.1350 0.9033 -0.0636 -0.5514 0.9082
"""


@pytest.mark.parametrize("line", SHARMA.split("\n")[1:-1])
def test_ciede2000(line: str) -> None:
    figures = [float(figure) for figure in line.split()]
    one, other, published = Lab(*figures[:3]), Lab(*figures[3:6]), figures[6]
    assert difference(one, other) == pytest.approx(published, abs=1e-4)
    assert difference(other, one) == pytest.approx(published, abs=1e-4)


# D65, 2 degrees. Computed with the colour libraries coloraide 8.13, colour-science 0.4.7 and
# colorspacious 1.1.2, which agree on these to 0.03.
LABS = [
    ("#ff0000", (53.24, 80.09, 67.20)),
    ("#00ff00", (87.74, -86.18, 83.19)),
    ("#0000ff", (32.30, 79.20, -107.86)),
    ("#ffffff", (100.0, 0.0, 0.0)),
    ("#000000", (0.0, 0.0, 0.0)),
]


@pytest.mark.parametrize(("code", "lab"), LABS)
def test_lab(code: str, lab: tuple[float, float, float]) -> None:
    assert Colour.from_hex(code).lab == pytest.approx(lab, abs=0.02)


# WCAG 2.1, 1.4.3 and 1.4.11: contrast on white.
@pytest.mark.parametrize(
    ("code", "ratio"),
    [("#767676", 4.54), ("#777777", 4.48), ("#595959", 7.00), ("#000000", 21.0)],
)
def test_contrast(code: str, ratio: float) -> None:
    assert contrast(Colour.from_hex(code), WHITE) == pytest.approx(ratio, abs=0.005)
    assert contrast(WHITE, Colour.from_hex(code)) == contrast(Colour.from_hex(code), WHITE)
    assert contrast(BLACK, BLACK) == 1


# G. M. Machado, M. M. Oliveira and L. A. F. Fernandes, "A physiologically-based model for
# simulation of color vision deficiency" (2009), severity 1, on linear RGB. The colours that come of
# it were computed with colour-science 0.4.7 and colorspacious 1.1.2.
@pytest.mark.parametrize(
    ("eye", "code"), [("protan", "#6d5f00"), ("deutan", "#a39000"), ("tritan", "#ff000f")]
)
def test_red_as_each_eye_sees_it(eye: Eye, code: str) -> None:
    seen, published = Colour.from_hex("#ff0000").lab_seen_by(eye), Colour.from_hex(code).lab
    assert difference(seen, published) < 0.4  # a colour's rounding to eight bits


def test_red_and_green_fall_together_for_deutan() -> None:
    """Computed with coloraide 8.13: CIEDE2000 of the two, and as they are seen."""
    red, green = Colour.from_hex("#c0392b"), Colour.from_hex("#3a7d2c")
    assert difference(red.lab, green.lab) == pytest.approx(58.8, abs=0.05)
    seen = difference(red.lab_seen_by("deutan"), green.lab_seen_by("deutan"))
    assert seen == pytest.approx(4.9, abs=0.05)


def test_a_palette_good_for_most_eyes() -> None:
    """M. Okabe and K. Ito, "Color Universal Design" (2008), publish the eight colours alone. The
    least differences, 21.7 as they are, 10.9 in the worst simulation and 0.6 in grey, were computed
    with coloraide 8.13, colorspacious 1.1.2 and colour-science 0.4.7 (CIEDE2000).
    """
    codes = ["#000000", "#e69f00", "#56b4e9", "#009e73", "#f0e442", "#0072b2", "#d55e00", "#cc79a7"]
    palette = [Colour.from_hex(code) for code in codes]
    pairs = [(a, b) for n, a in enumerate(palette) for b in palette[n + 1 :]]
    assert min(difference(a.lab, b.lab) for a, b in pairs) == pytest.approx(21.7, abs=0.05)
    eyes: tuple[Eye, ...] = ("protan", "deutan", "tritan")
    worst = min(
        difference(a.lab_seen_by(eye), b.lab_seen_by(eye)) for eye in eyes for a, b in pairs
    )
    assert worst == pytest.approx(10.9, abs=0.05)
    greys = [(Lab(a.lab.lightness, 0, 0), Lab(b.lab.lightness, 0, 0)) for a, b in pairs]
    grey = min(difference(a, b) for a, b in greys)
    assert grey == pytest.approx(0.6, abs=0.05)

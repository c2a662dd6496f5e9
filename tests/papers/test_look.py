"""The look against published measures of contrast and of colour blindness."""

from itertools import combinations, pairwise

import pytest

from hearthold.papers.look import DARK, LIGHT, css_variables, look

THEMES = (LIGHT, DARK)
CURVES = ("power_a", "power_b", "cold", "warm", "water", "fuel", "earth", "alarm")
# Pairs that stand side by side and mean different things. Others differ by dashes, marks and words as well.
SIDE_BY_SIDE = (("power_a", "power_b"), ("cold", "warm"), ("alarm", "ink"), ("power_b", "ink"))

# Linear-RGB to LMS and back, and the dichromats' planes: Vienot, Brettel, Mollon 1999, Color Research and
# Application 24(4), figures from memory.
RGB_TO_LMS = ((17.8824, 43.5161, 4.11935), (3.45565, 27.1554, 3.86714), (0.0299566, 0.184309, 1.46709))
LMS_TO_RGB = (
    (0.0809444479, -0.130504409, 0.116721066),
    (-0.0102485335, 0.0540193266, -0.113614708),
    (-0.000365296938, -0.00412161469, 0.693511405),
)
BLIND = {
    "protan": ((0.0, 2.02344, -2.52581), (0.0, 1.0, 0.0), (0.0, 0.0, 1.0)),
    "deutan": ((1.0, 0.0, 0.0), (0.494207, 0.0, 1.24827), (0.0, 0.0, 1.0)),
}
# Just noticeable is about 2.3 in CIE 1976 L*a*b* (Mahy, van Eycken, Oosterlinck 1994, from memory); thrice is
# plain.
PLAIN_DIFFERENCE = 3 * 2.3


def linear(colour: str) -> tuple[float, ...]:
    """sRGB to linear light: IEC 61966-2-1."""
    parts = [int(colour[i : i + 2], 16) / 255.0 for i in (1, 3, 5)]
    return tuple(p / 12.92 if p <= 0.04045 else ((p + 0.055) / 1.055) ** 2.4 for p in parts)


def contrast(one: str, other: str) -> float:
    """WCAG 2.1, contrast ratio of relative luminances."""
    high, low = sorted((luminance(linear(c)) for c in (one, other)), reverse=True)
    return (high + 0.05) / (low + 0.05)


def luminance(rgb: tuple[float, ...]) -> float:
    return 0.2126 * rgb[0] + 0.7152 * rgb[1] + 0.0722 * rgb[2]


def times(matrix: tuple[tuple[float, ...], ...], vector: tuple[float, ...]) -> tuple[float, ...]:
    return tuple(sum(a * b for a, b in zip(row, vector, strict=True)) for row in matrix)


def seen_by(kind: str, colour: str) -> tuple[float, ...]:
    return tuple(
        min(1.0, max(0.0, x))
        for x in times(LMS_TO_RGB, times(BLIND[kind], times(RGB_TO_LMS, linear(colour))))
    )


def lab(rgb: tuple[float, ...]) -> tuple[float, float, float]:
    """CIE 1976 L*a*b* under D65: CIE 15, sRGB primaries of IEC 61966-2-1."""
    to_xyz = ((0.4124, 0.3576, 0.1805), (0.2126, 0.7152, 0.0722), (0.0193, 0.1192, 0.9505))
    x, y, z = (v / w for v, w in zip(times(to_xyz, rgb), (0.9505, 1.0, 1.089), strict=True))
    f = [t ** (1 / 3) if t > 0.008856 else 7.787 * t + 16 / 116 for t in (x, y, z)]
    return 116 * f[1] - 16, 500 * (f[0] - f[1]), 200 * (f[1] - f[2])


def difference(one: tuple[float, ...], other: tuple[float, ...]) -> float:
    return sum((a - b) ** 2 for a, b in zip(lab(one), lab(other), strict=True)) ** 0.5


def test_the_measures_give_the_published_ends() -> None:
    # WCAG 2.1: black on white is 21 to 1; #767676 on white is the lightest grey at 4.5 to 1
    assert contrast("#000000", "#ffffff") == pytest.approx(21.0)
    assert contrast("#767676", "#ffffff") == pytest.approx(4.54, abs=0.01)


@pytest.mark.parametrize("theme", THEMES)
@pytest.mark.parametrize("role", ["ink", "quiet", "alarm"])
def test_words_have_the_contrast_of_wcag_aa(role: str, theme: str) -> None:
    for ground in ("paper", "wash"):
        assert contrast(look().colour(role, theme), look().colour(ground, theme)) >= 4.5


@pytest.mark.parametrize("theme", THEMES)
@pytest.mark.parametrize("role", CURVES)
def test_lines_have_the_contrast_of_wcag_for_graphics(role: str, theme: str) -> None:
    # success criterion 1.4.11: 3 to 1
    assert contrast(look().colour(role, theme), look().colour("paper", theme)) >= 3.0


@pytest.mark.parametrize("theme", THEMES)
@pytest.mark.parametrize("kind", sorted(BLIND))
@pytest.mark.parametrize("pair", SIDE_BY_SIDE)
def test_what_stands_side_by_side_is_told_apart_by_colour_blind_readers(
    pair: tuple[str, str], kind: str, theme: str
) -> None:
    one, other = (seen_by(kind, look().colour(role, theme)) for role in pair)
    assert difference(one, other) > PLAIN_DIFFERENCE


def test_the_legs_differ_in_grey_too() -> None:
    a, b = (lab((luminance(linear(look().colour(role))),) * 3)[0] for role in ("power_a", "power_b"))
    assert abs(a - b) > 20.0


def test_both_themes_have_the_same_roles() -> None:
    assert look().colours[LIGHT].keys() == look().colours[DARK].keys()


def test_line_weights_can_be_told_apart() -> None:
    weights = sorted(look().weight_pt.values())
    assert all(heavier / lighter >= 1.5 for lighter, heavier in pairwise(weights))
    assert weights[0] >= 0.25  # thinnest line that offset and laser printers hold, common practice


def test_the_page_gets_every_colour() -> None:
    css = css_variables()
    for role, value in look().colours[LIGHT].items():
        assert f"--{role.replace('_', '-')}:{value};" in css
    assert "prefers-color-scheme: dark" in css


def test_no_two_roles_share_a_colour() -> None:
    for theme in THEMES:
        for one, other in combinations(look().colours[theme], 2):
            assert look().colour(one, theme) != look().colour(other, theme)

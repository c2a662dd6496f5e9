"""A figure says where it comes from, and how far to trust it unless it was seen or given."""

import pytest

from hearthold.quantities.source import Source, Standing


@pytest.mark.parametrize(
    ("standing", "printed"),
    [
        (Standing.SEEN, "NEC 240.4(D)"),
        (Standing.GIVEN, "NEC 240.4(D)"),
        (Standing.MEMORY, "NEC 240.4(D) (memory)"),
        (Standing.COMPUTED, "NEC 240.4(D) (computed)"),
        (Standing.PRACTICE, "NEC 240.4(D) (practice)"),
        (Standing.ASSUMED, "NEC 240.4(D) (assumed)"),
    ],
)
def test_a_source_prints_its_standing(standing, printed):
    assert str(Source("NEC 240.4(D)", standing)) == printed


def test_every_standing_is_covered():
    assert len(Standing) == 6

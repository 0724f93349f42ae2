"""Cases known to lie beyond the gate their source sets: they must go on failing, or the mark has to go."""

import pytest


def disagreeing(*case, reason):
    """A case of parametrize that is expected to miss its gate; reason - by how much, and why if known."""
    return pytest.param(*case, marks=pytest.mark.xfail(strict=True, raises=AssertionError, reason=reason))

"""Fixtures shared by all tests."""

from __future__ import annotations

import json
from dataclasses import asdict, dataclass
from pathlib import Path

import numpy as np
import pytest


@dataclass(frozen=True)
class Published:
    """One published figure, our figure, and the tolerance between them."""

    room: str
    source: str
    case: str
    quantity: str
    printed: float
    ours: float
    tolerance: str
    why: str


_records: list[Published] = []


class PublishedGate:
    """Compares one figure with its source and keeps the pair for the theory pages."""

    def __call__(
        self,
        room: str,
        source: str,
        case: str,
        quantity: str,
        printed: float,
        ours: float,
        *,
        rel: float | None = None,
        abs: float | None = None,
        why: str,
    ) -> None:
        """Assert |ours - printed| within rel*|printed| or abs (one of them given), and record it."""
        assert (rel is None) != (abs is None), "state one tolerance, relative or absolute"
        value = float(np.asarray(ours))
        tolerance = f"{100 * rel:g} %" if rel is not None else f"±{abs:g}"
        _records.append(Published(room, source, case, quantity, float(printed), value, tolerance, why))
        allowed = rel * np.abs(printed) if rel is not None else abs
        assert np.abs(value - printed) <= allowed * (1 + 1e-12), (
            f"{source}, {case}, {quantity}: printed {printed:g}, ours {value:g}, allowed {tolerance}"
        )


@pytest.fixture(scope="session")
def published() -> PublishedGate:
    """The gate every validation test passes its figures through."""
    return PublishedGate()


def pytest_addoption(parser: pytest.Parser) -> None:
    parser.addoption(
        "--validation-json", default=None, help="write every published figure compared to this file"
    )


def pytest_sessionfinish(session: pytest.Session) -> None:
    target = session.config.getoption("--validation-json")
    if target:
        Path(target).write_text(json.dumps([asdict(r) for r in _records], indent=1), encoding="utf-8")

"""Fixtures shared by all tests."""

from __future__ import annotations

import json
from collections.abc import Callable
from dataclasses import asdict, dataclass, field
from pathlib import Path

import numpy as np
import pytest
from typer.testing import CliRunner, Result

from bladehold.blade import BladeBeam

VALIDATION = Path(__file__).resolve().parent / "validation"
PAGE_TEST = Path(__file__).resolve().parent / "docs" / "test_validation_page.py"


@dataclass(frozen=True)
class Published:
    """One published figure, our figure, the tolerance between them, and whether they agree."""

    room: str
    source: str
    case: str
    quantity: str
    printed: float
    ours: float
    tolerance: str
    agrees: bool
    why: str


@dataclass
class Comparison:
    """What the validation tests of this session compared, and whether all of them did."""

    records: list[Published] = field(default_factory=list)
    collected: int = 0
    left_out: bool = False
    done: int = 0

    @property
    def whole(self) -> bool:
        """True when every validation test was collected, ran, and ended as it should."""
        return self.done == self.collected > 0 and not self.left_out


_comparison = Comparison()


class PublishedGate:
    """Compares one figure with its source and keeps the pair for docs/validation.md."""

    def __init__(self, expected_failure: str | None) -> None:
        self.expected_failure = expected_failure

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
        allowed = rel * np.abs(printed) if rel is not None else abs
        agrees = bool(np.abs(value - printed) <= allowed * (1 + 1e-12))
        why = why if agrees or not self.expected_failure else f"{why}; {self.expected_failure}"
        _comparison.records.append(
            Published(room, source, case, quantity, float(printed), value, tolerance, agrees, why)
        )
        assert agrees, (
            f"{source}, {case}, {quantity}: printed {printed:g}, ours {value:g}, allowed {tolerance}"
        )


@pytest.fixture
def published(request: pytest.FixtureRequest) -> PublishedGate:
    """The gate every validation test passes its figures through."""
    mark = request.node.get_closest_marker("xfail")
    return PublishedGate(mark.kwargs.get("reason") if mark else None)


@pytest.fixture(scope="session")
def cli() -> Callable[..., Result]:
    """Run the command line in this process, 80 columns wide: cli("check", path) gives exit code and outputs.

    Anything it raises goes on to the test.
    """
    from bladehold.cli.main import app

    def run(*arguments: object) -> Result:
        words = [str(argument) for argument in arguments]
        return CliRunner().invoke(app, words, catch_exceptions=False, env={"COLUMNS": "80"})

    return run


@pytest.fixture(scope="session")
def uniform_beam() -> Callable[..., BladeBeam]:
    """Make an even blade of a length, line mass, stiffness in and across, angle, pivot radius, tip mass."""

    def make(
        length: float = 1.0,
        line_mass: float = 1.0,
        flat: float = 1.0,
        edge: float = 1e4,
        angle: float = 0.0,
        pivot_radius: float = 0.0,
        tip_mass: float = 0.0,
    ) -> BladeBeam:
        even, none = np.ones(2), np.zeros(2)
        return BladeBeam(
            stations=np.array([0.0, length]),
            line_mass=line_mass * even,
            flatwise_stiffness=flat * even,
            edgewise_stiffness=edge * even,
            structural_angle=angle * even,
            flat_inertia=none,
            edge_inertia=none,
            mass_offset=none,
            pivot_radius=pivot_radius,
            tip_mass=tip_mass,
        )

    return make


@pytest.fixture
def validation_records() -> list[dict[str, object]]:
    """Every figure the validation tests compared; skips where not all of them ran before."""
    if not _comparison.whole:
        pytest.skip("not all of tests/validation ran, and passed, before this test")
    return [asdict(record) for record in _comparison.records]


def pytest_addoption(parser: pytest.Parser) -> None:
    parser.addoption(
        "--validation-json", default=None, help="write every published figure compared to this file"
    )


def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    """Put the test of the validation page last: it reads what the validation tests compared."""
    items.sort(key=lambda item: item.path == PAGE_TEST)


def pytest_deselected(items: list[pytest.Item]) -> None:
    _comparison.left_out |= any(_validates(item) for item in items)


def pytest_collection_finish(session: pytest.Session) -> None:
    validation = [item for item in session.items if _validates(item)]
    _comparison.collected = len(validation)
    _comparison.left_out |= {item.path for item in validation} != set(VALIDATION.glob("test_*.py"))
    _comparison.left_out |= any("::" in argument for argument in session.config.args)


def pytest_runtest_logreport(report: pytest.TestReport) -> None:
    """Count the validation tests that passed, failed as expected, or were skipped."""
    ended = report.skipped or (report.passed and report.when == "call")
    _comparison.done += ended and report.nodeid.startswith("tests/validation/")


def _validates(item: pytest.Item) -> bool:
    return VALIDATION in item.path.parents


def pytest_sessionfinish(session: pytest.Session) -> None:
    target = session.config.getoption("--validation-json")
    if target:
        records = [asdict(record) for record in _comparison.records]
        Path(target).write_text(json.dumps(records, indent=1), encoding="utf-8")

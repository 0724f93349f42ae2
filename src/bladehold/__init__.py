"""Blade retention of heavy multirotor propellers: loads, margins, screws.

    import bladehold
    found = bladehold.load("build.toml").assess()
    print(found.verdict, found.margin, found.governing.part)
    rows = found.table()

Everything heavier than this page loads when it is first used.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from bladehold.api import BuildSheet, compare, load, loads
    from bladehold.sheet import SheetError

__version__ = "0.1.0"

__all__ = ["BuildSheet", "SheetError", "__version__", "compare", "load", "loads"]


def __getattr__(name: str) -> Any:
    if name in {"BuildSheet", "compare", "load", "loads"}:
        from bladehold import api

        return getattr(api, name)
    if name == "SheetError":
        from bladehold.sheet import SheetError

        return SheetError
    raise AttributeError(f"module 'bladehold' has no attribute {name!r}")

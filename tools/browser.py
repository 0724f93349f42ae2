"""Find a browser for the tests of the page, or bring Debian's; say why there is none.

`python tools/browser.py` is what `make test` runs first: it never fails, since without a browser those tests
are skipped and say why.
"""

from __future__ import annotations

import os
import shutil
import subprocess
import sys
from pathlib import Path

NAMES = (
    "chromium",
    "chromium-browser",
    "google-chrome",
    "google-chrome-stable",
    "chrome",
    "/Applications/Google Chrome.app/Contents/MacOS/Google Chrome",
)
_PATIENCE = 420  # s for the package to come


def found() -> str | None:
    """Return the path of a Chromium or Chrome; BLADEHOLD_BROWSER names another one."""
    own = os.environ.get("BLADEHOLD_BROWSER")
    if own:
        return own if Path(own).is_file() else None
    return next((path for name in NAMES if (path := shutil.which(name))), None)


def brought() -> str:
    """Install Debian's package where that is possible; return what came of it, in words."""
    install = shutil.which("apt-get")
    if install is None or not Path("/etc/debian_version").is_file():
        return "this system has no packages of Debian"
    if os.geteuid() != 0:
        return "only root may install Debian's package chromium"
    quiet = {**os.environ, "DEBIAN_FRONTEND": "noninteractive"}
    wanted = [install, "install", "--yes", "-qq", "--no-install-recommends", "chromium"]
    for command in (wanted, [install, "update", "-qq"], wanted):
        try:
            done = subprocess.run(
                command, env=quiet, capture_output=True, text=True, timeout=_PATIENCE, check=False
            )
        except subprocess.TimeoutExpired:
            return f"{' '.join(command)} took longer than {_PATIENCE} s"
        if done.returncode == 0 and command is wanted:
            return "installed"
    return f"Debian's package chromium could not be installed: {done.stderr.strip()[-200:]}"


def main() -> None:
    """Print which browser the tests of the page will use."""
    path = found()
    said = "" if path else brought()
    path = path or found()
    print(
        f"Browser for the tests of the page: {path}"
        if path
        else f"No browser, its tests are skipped: {said}."
    )


if __name__ == "__main__":
    sys.exit(main())

"""Writing result files whole or not at all."""

from __future__ import annotations

import os
import tempfile
from pathlib import Path


def write_whole(path: Path, content: bytes) -> None:
    """Write content to path through a neighbouring temporary file, so that no half file is ever left.

    Errors: OSError that names path, when the folder does not exist or cannot be written.
    """
    try:
        _replace(path, content)
    except OSError as error:
        raise OSError(error.errno, error.strerror, str(path)) from error


def _replace(path: Path, content: bytes) -> None:
    handle, name = tempfile.mkstemp(dir=path.parent, prefix=".bladehold.")
    try:
        with os.fdopen(handle, "wb") as stream:
            stream.write(content)
        temporary = Path(name)
        temporary.chmod(0o644)
        temporary.replace(path)
    except BaseException:
        Path(name).unlink(missing_ok=True)
        raise

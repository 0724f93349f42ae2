"""Writing result files whole or not at all."""

from __future__ import annotations

import os
import tempfile
from pathlib import Path


def write_whole(path: Path, content: bytes) -> None:
    """Write content to path through a neighbouring temporary file, so that no half file is ever left.

    Errors: OSError when the folder does not exist or cannot be written.
    """
    handle, name = tempfile.mkstemp(dir=path.parent, prefix=f".{path.name}.")
    try:
        with os.fdopen(handle, "wb") as stream:
            stream.write(content)
        temporary = Path(name)
        temporary.chmod(0o644)
        temporary.replace(path)
    except BaseException:
        Path(name).unlink(missing_ok=True)
        raise

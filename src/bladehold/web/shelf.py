"""The folder of sheets that the page works on: listed, read, saved with a copy kept, never another folder.

A sheet is named by its file name alone. Whoever saves says which text the editing began with; where the file
holds another one by then, nothing is written.
"""

from __future__ import annotations

import hashlib
import re
from dataclasses import dataclass
from datetime import UTC, datetime
from pathlib import Path

from bladehold.report.files import write_whole

KEPT = ".bladehold"
"""Folder beside the sheets for copies of earlier texts and for results."""
LARGEST = 200_000  # bytes of a sheet; the example has 5 kB
_NAME = re.compile(r"[A-Za-z0-9][A-Za-z0-9 _.+-]{0,99}\.(toml|csv)")
_DEVICES = re.compile(r"(?:con|prn|aux|nul|com\d|lpt\d)\..*", re.IGNORECASE)
MOST_COPIES = 50  # of one sheet


class NoSheetError(LookupError):
    """A name that stands for no sheet of the folder."""


class ChangedError(Exception):
    """A file that holds another text than the one the editing began with."""

    def __init__(self, there: Stored) -> None:
        super().__init__(f"{there.name} was changed by somebody else")
        self.there = there


@dataclass(frozen=True)
class Stored:
    """One file of the folder: name, text, mark - of the text, to tell it from any other."""

    name: str
    text: str

    @property
    def mark(self) -> str:
        """SHA-256 of the text."""
        return mark_of(self.text)


def mark_of(text: str) -> str:
    """Return the SHA-256 of a text, which is that of its file."""
    return hashlib.sha256(text.encode()).hexdigest()


class Shelf:
    """Sheets (.toml) and lists of propellers (.csv) of one folder."""

    def __init__(self, folder: Path) -> None:
        """Take a folder. Errors: NotADirectoryError."""
        if not folder.is_dir():
            raise NotADirectoryError(20, "no such folder", str(folder))
        self.folder = folder.resolve()

    def names(self, ending: str = "toml") -> list[str]:
        """Return the names of the files with an ending, in order; what could not be opened is left out."""
        found = (path.name for path in self.folder.iterdir() if path.suffix.lower() == f".{ending}")
        return sorted(name for name in found if self._is_ours(name))

    def line_names(self) -> list[str]:
        """Return the names of the lists of propellers: other tables of the folder have other columns."""
        found = []
        for name in self.names("csv"):
            try:
                if "present_screw" in self.read(name).text:
                    found.append(name)
            except ValueError:
                continue  # too large, or no text
        return found

    def path(self, name: str) -> Path:
        """Return the path of a file of the folder. Errors: NoSheetError for any other name."""
        if not self._is_ours(name) or not (self.folder / name).is_file():
            raise NoSheetError(name)
        return self.folder / name

    def _is_ours(self, name: str) -> bool:
        """Whether a name is one file of this folder, and no link that leads out of it."""
        if not _NAME.fullmatch(name) or _DEVICES.fullmatch(name):
            return False
        return (self.folder / name).resolve().parent == self.folder

    def read(self, name: str) -> Stored:
        """Return a file. Errors: NoSheetError; ValueError for what is too large or no text."""
        path = self.path(name)
        if path.stat().st_size > LARGEST:
            raise ValueError(f"{name} has more than {LARGEST} bytes: no sheet is as large")
        try:
            return Stored(name, path.read_bytes().decode("utf-8"))
        except UnicodeDecodeError as error:
            raise ValueError(f"{name} is not text in UTF-8: byte {error.start}") from None

    def save(self, name: str, text: str, began_with: str) -> Stored:
        """Write a text where the file still holds the one the editing began with; keep that one beside.

        Arguments: name; text; began_with - mark of the text that was read. Returns what the file holds now.
        Errors: NoSheetError; ChangedError; OSError.
        """
        there = self.read(name)
        if there.mark != began_with:
            raise ChangedError(there)
        new = Stored(name, text)
        if new.mark != there.mark:
            self._keep(there)
            write_whole(self.folder / name, text.encode())
        return new

    def add(self, name: str, text: str) -> Stored:
        """Write a new sheet. Errors: ValueError for a name that will not do; FileExistsError."""
        if not self._is_ours(name) or not name.endswith(".toml"):
            raise ValueError(
                "a sheet is named by letters, digits, blanks, dots, dashes and ends in .toml, as my hub.toml"
            )
        with (self.folder / name).open("x", encoding="utf-8", newline="") as stream:
            stream.write(text)
        return Stored(name, text)

    def copies(self, name: str) -> list[Path]:
        """Return the copies kept of a sheet's earlier texts, the newest first."""
        folder = self.folder / KEPT / "copies"
        return sorted(folder.glob(f"{name}.*.txt"), reverse=True) if folder.is_dir() else []

    def _keep(self, old: Stored) -> None:
        folder = self.kept("copies")
        now = datetime.now(UTC).strftime("%Y-%m-%d-%H%M%S-%f")
        write_whole(folder / f"{old.name}.{now}.txt", old.text.encode())
        for copy in self.copies(old.name)[MOST_COPIES:]:
            copy.unlink(missing_ok=True)

    def kept(self, name: str) -> Path:
        """Return a folder for what is kept beside the sheets; it is made where there is none."""
        folder = self.folder / KEPT / name
        folder.mkdir(parents=True, exist_ok=True)
        return folder

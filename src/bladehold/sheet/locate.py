"""Where in the text each key of a TOML file stands.

The standard reader gives values without places; this walk over an already valid text
gives the places, so that an error can name its line.
"""

from __future__ import annotations

import re
import tomllib
from bisect import bisect_left

Path = tuple[str | int, ...]

_KEY_PART = re.compile(r"\s*(\"(?:[^\"\\]|\\.)*\"|'[^']*'|[A-Za-z0-9_-]+)\s*")


def lines_of_keys(text: str) -> dict[Path, int]:
    """Return the line number (from 1) of every table header and key of a valid TOML text.

    Paths are tuples such as ("propeller", "station", 0, "chord"). Keys inside inline
    tables are not listed; look them up with `line_of`, which falls back to the key
    that holds them.
    """
    return _Walk(text).run()


def line_of(lines: dict[Path, int], path: Path) -> int | None:
    """Return the line of a path, or of the nearest path above it that has one.

    >>> line_of({("hub",): 3, ("hub", "gap"): 4}, ("hub", "lug_width"))
    3
    """
    for end in range(len(path), 0, -1):
        if path[:end] in lines:
            return lines[path[:end]]
    return None


def _unquoted(raw: str) -> str:
    """The name that a bare or quoted key stands for."""
    if raw[0] == '"' and "\\" in raw:
        return next(iter(tomllib.loads(f"{raw} = 0")))
    return raw[1:-1] if raw[0] in "\"'" else raw


class _Walk:
    """One pass over the text, statement by statement."""

    def __init__(self, text: str) -> None:
        self.text = text
        self.breaks = [match.start() for match in re.finditer("\n", text)]
        self.at = 0
        self.table: Path = ()
        self.array_counts: dict[Path, int] = {}
        self.lines: dict[Path, int] = {}

    def run(self) -> dict[Path, int]:
        while self._skip_blank():
            if self.text[self.at] == "[":
                self._header()
            else:
                self._pair()
        return self.lines

    def _line(self) -> int:
        return bisect_left(self.breaks, self.at) + 1

    def _skip_blank(self) -> bool:
        while self.at < len(self.text):
            if self.text[self.at] == "#":
                self._to_line_end()
            elif self.text[self.at].isspace() or self.text[self.at] == "\ufeff":
                self.at += 1
            else:
                return True
        return False

    def _to_line_end(self) -> None:
        end = self.text.find("\n", self.at)
        self.at = len(self.text) if end < 0 else end

    def _dotted_key(self) -> tuple[str, ...]:
        parts: list[str] = []
        while match := _KEY_PART.match(self.text, self.at):
            raw = match.group(1)
            parts.append(_unquoted(raw))
            self.at = match.end()
            if self.text[self.at : self.at + 1] != ".":
                break
            self.at += 1
        return tuple(parts)

    def _resolve(self, parts: tuple[str, ...]) -> Path:
        """Insert the current element's number after every name that is an array of tables."""
        path: Path = ()
        for part in parts:
            path = (*path, part)
            if path in self.array_counts:
                path = (*path, self.array_counts[path])
        return path

    def _header(self) -> None:
        line = self._line()
        is_array = self.text.startswith("[[", self.at)
        self.at += 2 if is_array else 1
        parts = self._dotted_key()
        self._to_line_end()
        if is_array:
            base = (*self._resolve(parts[:-1]), parts[-1])
            self.array_counts[base] = self.array_counts.get(base, -1) + 1
            self.lines.setdefault(base, line)
        self.table = self._resolve(parts)
        self.lines.setdefault(self.table, line)

    def _pair(self) -> None:
        line = self._line()
        parts = self._dotted_key()
        if not parts:  # not reachable for valid TOML; never loop without moving
            self._to_line_end()
            return
        for end in range(1, len(parts) + 1):
            self.lines.setdefault((*self.table, *parts[:end]), line)
        self.at += 1  # the equals sign
        self._skip_value()

    def _skip_value(self) -> None:
        depth = 0
        while self.at < len(self.text):
            char = self.text[self.at]
            if char in "\"'":
                self._skip_string(char)
                continue
            if char == "#":
                self._to_line_end()
                continue
            if char == "\n" and depth == 0:
                return
            depth += (char in "[{") - (char in "]}")
            self.at += 1

    def _skip_string(self, quote: str) -> None:
        long = quote * 3
        mark = long if self.text.startswith(long, self.at) else quote
        self.at += len(mark)
        while self.at < len(self.text) and not self.text.startswith(mark, self.at):
            escaped = quote == '"' and self.text[self.at] == "\\"
            self.at += 2 if escaped else 1
        self.at += len(mark)
        # Up to two further quotes may belong to the content of a long string.
        while len(mark) == 3 and self.text.startswith(quote, self.at):
            self.at += 1

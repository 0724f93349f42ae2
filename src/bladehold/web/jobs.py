"""Long tasks: begun, followed, stopped, and their results kept as files beside the sheets."""

from __future__ import annotations

import json
import re
import secrets
import subprocess
import sys
import time
from collections.abc import Mapping
from contextlib import suppress
from dataclasses import dataclass
from datetime import UTC, datetime
from pathlib import Path
from threading import Thread
from typing import Any

from bladehold.report.files import write_whole
from bladehold.web.shelf import KEPT, Shelf

RUNNING, DONE, STOPPED, REFUSED, BROKEN = "running", "done", "stopped", "refused", "broken down"
MOST_RUNNING = 3
_IDENT = re.compile(r"\d{8}-\d{6}-[0-9a-f]{8}")
_PATIENCE = 5.0  # s that a stopped process has to end by itself


class NoTaskError(LookupError):
    """A name that stands for no task."""


class BusyError(RuntimeError):
    """As many tasks run as may run at once."""


@dataclass
class Task:
    """One task: what was asked of which sheet, and how it stands.

    ident; kind; sheet - name of its file; mark - of the text; options - of the kind; begun - date and time;
    state - one of the words above; done, of - how far it is; why - it was refused; seconds - that it took.
    """

    ident: str
    kind: str
    sheet: str
    mark: str
    options: dict[str, Any]
    begun: str
    state: str = RUNNING
    done: int = 0
    of: int = 0
    why: str = ""
    seconds: float = 0.0

    def as_dict(self) -> dict[str, Any]:
        """Return what is known of it as plain data."""
        return dict(vars(self))


class Tasks:
    """The tasks of one folder."""

    def __init__(self, shelf: Shelf) -> None:
        """Take up what is kept from before; what was running when the server ended is stopped."""
        self._shelf = shelf
        self._running: dict[str, subprocess.Popen[str]] = {}
        self._known: dict[str, Task] = {}
        folder = shelf.folder / KEPT / "results"
        for path in sorted(folder.glob("*.task.json")) if folder.is_dir() else []:
            try:
                task = Task(**json.loads(path.read_text(encoding="utf-8")))
            except (ValueError, TypeError):
                continue  # a file that somebody else put there
            if task.state == RUNNING:
                task.state = STOPPED
            if _IDENT.fullmatch(task.ident):
                self._known[task.ident] = task

    def all(self) -> list[Task]:
        """Return the tasks, the latest first."""
        return sorted(self._known.values(), key=lambda task: task.ident, reverse=True)

    def one(self, ident: str) -> Task:
        """Return a task. Errors: NoTaskError."""
        if ident not in self._known:
            raise NoTaskError(ident)
        return self._known[ident]

    def result(self, task: Task) -> dict[str, Any] | None:
        """Return the result of a task that is done, else None."""
        path = self._path(task, "result")
        if task.state != DONE or not path.is_file():
            return None
        found: dict[str, Any] = json.loads(path.read_text(encoding="utf-8"))
        return found

    def begin(self, kind: str, sheet: str, text: str, mark: str, options: Mapping[str, Any]) -> Task:
        """Begin a task on a text of a sheet, in a process of its own. Errors: BusyError."""
        if len(self._running) >= MOST_RUNNING:
            raise BusyError(f"{MOST_RUNNING} tasks are running: wait for one, or stop one")
        now = datetime.now(UTC)
        ident = f"{now:%Y%m%d-%H%M%S}-{secrets.token_hex(4)}"
        task = Task(ident, kind, sheet, mark, dict(options), f"{now:%Y-%m-%d %H:%M} UTC")
        request = {
            "kind": kind,
            "name": sheet,
            "folder": str(self._shelf.folder),
            "text": text,
            "options": task.options,
            "journal": str(self._path(task, "journal")),
        }
        process = subprocess.Popen(
            [sys.executable, "-m", "bladehold.web.work"],
            stdin=subprocess.PIPE,
            stdout=subprocess.PIPE,
            stderr=subprocess.DEVNULL,
            text=True,
            encoding="utf-8",
        )
        self._known[ident], self._running[ident] = task, process
        self._write(task)
        Thread(target=self._follow, args=(task, process, request), daemon=True).start()
        return task

    def stop(self, ident: str) -> Task:
        """Stop a task that runs; one that does not stays as it is. Errors: NoTaskError."""
        task = self.one(ident)
        process = self._running.get(ident)
        if process is not None and task.state == RUNNING:
            task.state = STOPPED
            process.terminate()
            self._write(task)
        return task

    def stop_all(self) -> None:
        """Stop whatever runs, as the server ends."""
        for ident in list(self._running):
            self.stop(ident)

    def _follow(self, task: Task, process: subprocess.Popen[str], request: Mapping[str, Any]) -> None:
        began = time.monotonic()
        assert process.stdin is not None and process.stdout is not None
        try:
            with suppress(BrokenPipeError), process.stdin as told:
                told.write(json.dumps(request))
            for line in process.stdout:
                self._heard(task, json.loads(line), time.monotonic() - began)
            process.wait(_PATIENCE)
        except (OSError, ValueError, subprocess.TimeoutExpired):
            process.kill()
        process.stdout.close()
        self._running.pop(task.ident, None)
        if task.state == RUNNING:
            task.state = BROKEN
        self._write(task)

    def _heard(self, task: Task, words: Mapping[str, Any], seconds: float) -> None:
        if task.state != RUNNING:
            return
        if "result" in words:
            write_whole(self._path(task, "result"), json.dumps(words["result"]).encode())
        task.seconds = round(seconds, 3)
        if "result" in words:
            task.state = DONE
        elif "refused" in words:
            task.state, task.why = REFUSED, str(words["refused"])
        else:
            task.done, task.of = int(words["done"]), int(words["of"])
        if task.state != RUNNING:
            self._write(task)

    def _path(self, task: Task, what: str) -> Path:
        return self._shelf.kept("results") / f"{task.ident}.{what}.json"

    def _write(self, task: Task) -> None:
        write_whole(self._path(task, "task"), json.dumps(task.as_dict()).encode())

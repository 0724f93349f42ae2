"""Running a sweep: on all cores or on a cluster, with everything finished kept on disk at once."""

from __future__ import annotations

import json
import os
import signal
from collections.abc import Callable, Iterator, Sequence
from concurrent.futures import FIRST_COMPLETED, Future, ProcessPoolExecutor, wait
from contextlib import contextmanager
from dataclasses import replace
from multiprocessing import connection, get_context, parent_process
from pathlib import Path
from threading import Thread
from typing import Any, TextIO

from bladehold.study.sweep import Record, Sweep, Swept, records_of, text_of_record

CHUNK = 16  # points asked together: finished ones are on disk every second or two
_WAITING = 3  # chunks handed out for each worker
_ONE_THREAD = ("OPENBLAS_NUM_THREADS", "OMP_NUM_THREADS", "MKL_NUM_THREADS")
Progress = Callable[[int], None]


class OtherSweepError(ValueError):
    """A journal that belongs to another sweep; the message says what differs."""


class NoClusterError(ValueError):
    """A cluster that cannot be used."""


class Journal:
    """Records of a sweep on disk, a line of JSON each, in the order in which they were finished.

    The first line says which sweep it is. A line cut short by a crash is dropped and its point asked again.
    """

    def __init__(self, path: Path, sweep: Sweep) -> None:
        """Open the journal of a sweep, with what it holds already. Errors: OtherSweepError; OSError."""
        self.path = path
        self.done: dict[int, Record] = {}
        head = json.dumps({"sweep": sweep.signature}, ensure_ascii=False)
        if path.exists():
            kept = self._read(sweep)
            # Whatever a crash cut short is gone from the file, too, before anything is added.
            whole = "".join(f"{line}\n" for line in (head, *map(text_of_record, kept)))
            _replaced(path, whole)
        else:
            _replaced(path, f"{head}\n")
        self._stream: TextIO = path.open("a", encoding="utf-8")

    def _read(self, sweep: Sweep) -> list[Record]:
        lines = self.path.read_text(encoding="utf-8", errors="replace").split("\n")
        try:
            held = dict(json.loads(lines[0])["sweep"])
        except (ValueError, TypeError, KeyError):
            raise OtherSweepError("it is no journal of a sweep") from None
        wanted = sweep.signature
        other = [name for name in wanted if name not in held or held[name] != wanted[name]]
        if other:
            raise OtherSweepError(f"it belongs to another sweep: other {', '.join(other)}")
        for line in lines[1:-1]:  # behind the last line end there is nothing, or a line cut short
            try:
                record = json.loads(line)
            except ValueError:
                continue
            self.done[int(record["point"]) - 1] = record
        return list(self.done.values())

    def add(self, records: Sequence[Record]) -> None:
        """Write records down so that no crash can take them back."""
        self._stream.write("".join(f"{text_of_record(record)}\n" for record in records))
        self._stream.flush()
        os.fsync(self._stream.fileno())
        self.done.update((int(record["point"]) - 1, record) for record in records)

    def close(self) -> None:
        """Close the file; it stays."""
        self._stream.close()


def _replaced(path: Path, text: str) -> None:
    """Write a file whole or not at all."""
    beside = path.with_name(f"{path.name}.new")
    with beside.open("w", encoding="utf-8") as stream:
        stream.write(text)
        stream.flush()
        os.fsync(stream.fileno())
    beside.replace(path)


def run(
    sweep: Sweep,
    *,
    journal: Journal | None = None,
    workers: int | None = None,
    cluster: str | None = None,
    progress: Progress | None = None,
) -> Swept:
    """Assess every point of a sweep that its journal does not hold already.

    Whoever stops it, by a signal or by force, keeps what the journal has; the same sweep goes on from there.
    Which worker does a point, and beside which others, changes nothing of its record.
    Arguments: sweep; journal - None to keep nothing; workers - processes, all cores where not given, none for
    1; cluster - address of a Dask scheduler, instead; progress - told how many points are done.
    Errors: NoClusterError.
    """
    done: dict[int, Record] = {} if journal is None else journal.done
    told = progress or (lambda count: None)
    told(len(done))
    open_ = [int(place) for place in sweep.order if int(place) not in done]
    chunks = [open_[at : at + CHUNK] for at in range(0, len(open_), CHUNK)]
    if chunks:
        for records in _finished(sweep, chunks, workers or os.cpu_count() or 1, cluster):
            if journal is not None:
                journal.add(records)
            else:
                done.update((int(record["point"]) - 1, record) for record in records)
            told(len(done))
    return Swept(sweep, tuple(done[place] for place in range(sweep.count)))


def _finished(
    sweep: Sweep, chunks: Sequence[Sequence[int]], workers: int, cluster: str | None
) -> Iterator[list[Record]]:
    """Records of chunks as they get done."""
    if cluster is not None:
        yield from _on_cluster(sweep, chunks, cluster)
    elif workers == 1 or len(chunks) == 1:
        for chunk in chunks:
            yield records_of(sweep, chunk)
    else:
        yield from _on_cores(sweep, chunks, min(workers, len(chunks)))


_swept: Sweep | None = None


def _begin(sweep: Sweep) -> None:
    """Hand a worker its sweep once, and see to it that it ends when its parent does, and only then."""
    global _swept  # noqa: PLW0603 - the worker is a process of its own
    _swept = sweep
    signal.signal(signal.SIGINT, signal.SIG_IGN)
    Thread(target=_end_with_parent, daemon=True).start()


def _end_with_parent() -> None:
    """Of a parent that is killed nobody else tells its workers."""
    parent = parent_process()
    if parent is not None:
        connection.wait([parent.sentinel])
        os._exit(1)


def _work(places: Sequence[int]) -> list[Record]:
    assert _swept is not None
    return records_of(_swept, places)


@contextmanager
def _one_thread_each() -> Iterator[None]:
    """Let the processes started meanwhile calculate with one thread each: there is one for every core."""
    before = {name: os.environ.get(name) for name in _ONE_THREAD}
    os.environ.update(dict.fromkeys(_ONE_THREAD, "1"))
    try:
        yield
    finally:
        for name, value in before.items():
            if value is None:
                os.environ.pop(name, None)
            else:
                os.environ[name] = value


def _on_cores(sweep: Sweep, chunks: Sequence[Sequence[int]], workers: int) -> Iterator[list[Record]]:
    pool = ProcessPoolExecutor(workers, get_context("spawn"), _begin, (_bare(sweep),))
    try:
        with _one_thread_each():
            waiting: set[Future[Any]] = set()
            rest = iter(chunks)
            # No more are handed out than keeps the workers busy, so that an end need not wait for many.
            for chunk in rest:
                waiting.add(pool.submit(_work, chunk))
                if len(waiting) < _WAITING * workers:
                    continue
                done, waiting = wait(waiting, return_when=FIRST_COMPLETED)
                for one in done:
                    yield one.result()
            while waiting:
                done, waiting = wait(waiting, return_when=FIRST_COMPLETED)
                for one in done:
                    yield one.result()
    finally:
        pool.shutdown(wait=True, cancel_futures=True)


def _bare(sweep: Sweep) -> Sweep:
    """The sweep without what it has worked out: each worker does that itself."""
    return replace(sweep)


def _on_cluster(sweep: Sweep, chunks: Sequence[Sequence[int]], address: str) -> Iterator[list[Record]]:
    try:
        from distributed import Client, as_completed
    except ImportError:
        raise NoClusterError(
            "a cluster needs the package distributed: pip install 'bladehold[cluster]'"
        ) from None
    try:
        client = Client(address, timeout=10)
    except (OSError, ValueError, TimeoutError) as error:
        raise NoClusterError(f"no scheduler answers at {address}: {error}") from None
    try:
        one = client.scatter(_bare(sweep), broadcast=True)
        futures = [client.submit(records_of, one, list(chunk), pure=False) for chunk in chunks]
        for future in as_completed(futures):
            yield future.result()
    finally:
        client.close()

"""A workbench over a copy of the examples: asked in process, or by a browser over a socket of its own."""

from __future__ import annotations

import shutil
import signal
import socket
import sys
import threading
import time
from pathlib import Path

import pytest
import uvicorn
from fastapi.testclient import TestClient

from bladehold.web.app import create_app
from bladehold.web.guard import Guard

sys.path.insert(0, str(Path(__file__).parent))

from web_bench import EXAMPLES, OWN, SHEET


@pytest.fixture
def folder(tmp_path):
    shelf = tmp_path / "sheets"
    shelf.mkdir()
    for path in [*EXAMPLES.glob("*.toml"), *EXAMPLES.glob("*.csv")]:
        shutil.copy(path, shelf)
    line = shelf / "ostrel_line.csv"  # two of its propellers: each takes a second
    rows = line.read_text(encoding="utf-8").splitlines()
    few = [row for row in rows if not row.startswith("OW-") or row.startswith(("OW-18F", "OW-20F"))]
    line.write_text("\n".join(few) + "\n", encoding="utf-8")
    return shelf


@pytest.fixture
def app(folder):
    made = create_app(folder)
    yield made
    made.state.desk.tasks.stop_all()


@pytest.fixture
def client(app):
    return TestClient(Guard(app), base_url=OWN, raise_server_exceptions=False)


@pytest.fixture
def text(folder):
    return (folder / SHEET).read_text(encoding="utf-8")


@pytest.fixture(autouse=True)
def no_end_by_a_closed_socket():
    """A browser that leaves early must not end the tests: a command tested here may have let it."""
    before = signal.signal(signal.SIGPIPE, signal.SIG_IGN)
    yield
    signal.signal(signal.SIGPIPE, before)


@pytest.fixture
def address(app):
    """The address of a server for a browser; it ends with the test."""
    listening = socket.socket()
    listening.bind(("127.0.0.1", 0))
    listening.listen(64)
    server = uvicorn.Server(uvicorn.Config(Guard(app), log_level="error", lifespan="off"))
    thread = threading.Thread(target=server.run, kwargs={"sockets": [listening]}, daemon=True)
    thread.start()
    until = time.monotonic() + 20.0
    while not server.started and time.monotonic() < until:
        time.sleep(0.01)
    assert server.started
    yield f"{OWN}:{listening.getsockname()[1]}"
    server.should_exit = True
    thread.join(20.0)
    listening.close()

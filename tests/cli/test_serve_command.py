"""The command that opens the workbench: what it refuses, that it answers, and what it says to others."""

import shutil
import signal
import socket
import struct
import subprocess
import sys
import time
import urllib.error
import urllib.request
from contextlib import contextmanager
from pathlib import Path

import pytest

EXAMPLE = Path(__file__).parents[2] / "examples" / "tarn6_repaired.toml"
SERVE = [sys.executable, "-m", "bladehold", "serve", "--no-browser", "--port", "0"]


@pytest.fixture
def folder(tmp_path):
    shutil.copy(EXAMPLE, tmp_path)
    return tmp_path


@contextmanager
def served(folder, *more):
    """A server, with the line that it printed and what it said besides when it has ended."""
    process = subprocess.Popen(
        [*SERVE, str(folder), *more], stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True
    )
    assert process.stdout is not None
    assert process.stderr is not None
    said = process.stdout.readline()
    errors: list[str] = []
    try:
        yield said, errors, process
    finally:
        process.send_signal(signal.SIGTERM)
        process.wait(20)
        errors.append(process.stderr.read())
        process.stdout.close()
        process.stderr.close()


def address_in(said):
    return next(word for word in said.split() if "://" in word)


def got(address):
    until = time.monotonic() + 20.0
    while True:
        try:
            opener = urllib.request.build_opener(urllib.request.HTTPCookieProcessor())
            with opener.open(address, timeout=20) as answer:
                return answer.status, answer.read().decode()
        except urllib.error.HTTPError as error:
            return error.code, error.read().decode()
        except urllib.error.URLError:
            if time.monotonic() > until:
                raise
            time.sleep(0.02)


def test_it_answers_on_this_machine_alone_and_ends_when_told(folder):
    with served(folder) as (said, errors, process):
        address = address_in(said)
        assert "://127.0.0.1:" in address
        status, page = got(address)
        assert status == 200
        assert "tarn6_repaired.toml" in page
        status, page = got(f"{address}sheets/tarn6_repaired.toml")
        assert status == 200
        assert "Tarn 6, repaired HOLDS" in page
    assert process.returncode in {0, -signal.SIGTERM}
    assert errors == [""]


def test_a_browser_that_leaves_early_does_not_end_it(folder):
    with served(folder) as (said, errors, process):
        address = address_in(said)
        assert got(f"{address}sheets/tarn6_repaired.toml")[0] == 200
        port = int(address.rstrip("/").rpartition(":")[2])
        for _ in range(20):
            early = socket.create_connection(("127.0.0.1", port))
            # Reset at once instead of waiting for the answer.
            early.setsockopt(socket.SOL_SOCKET, socket.SO_LINGER, struct.pack("ii", 1, 0))
            early.sendall(b"GET /static/charts.js HTTP/1.1\r\nHost: 127.0.0.1\r\n\r\n" * 3)
            early.close()
        assert got(address)[0] == 200
        assert process.poll() is None
    assert errors == [""]


def test_others_are_let_in_with_a_token_and_a_warning(folder):
    with served(folder, "--host", "localhost") as (said, errors, _):
        address = address_in(said)
        assert "?token=" in address
        assert got(address)[0] == 200
        assert got(address.partition("?")[0])[0] == 401
    assert "WARNING: others on the network" in errors[0]


def test_what_cannot_be_served_is_refused(cli, tmp_path):
    found = cli("serve", str(tmp_path / "none"))
    assert found.exit_code == 2
    assert "no such folder" in found.stderr
    taken = socket.socket()
    taken.bind(("127.0.0.1", 0))
    taken.listen()
    found = cli("serve", str(tmp_path), "--no-browser", "--port", str(taken.getsockname()[1]))
    taken.close()
    assert found.exit_code == 2
    assert "--port 0 takes any that is free" in found.stderr
    found = cli("serve", str(tmp_path), "--no-browser", "--host", "no such name")
    assert found.exit_code == 2

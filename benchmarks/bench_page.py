"""How fast the workbench is: its first page after the command, an update of the full example, its weight.

Targets: first page 0.5 s after start, update below 150 ms for 95 of 100, all that a page loads below 1.5 MB.
`python benchmarks/bench_page.py` prints what the update takes by the key that is typed.
"""

from __future__ import annotations

import json
import shutil
import statistics
import subprocess
import sys
import time
import urllib.error
import urllib.request
from contextlib import contextmanager
from pathlib import Path
from tempfile import TemporaryDirectory

EXAMPLE = Path(__file__).parents[1] / "examples" / "tarn6_repaired.toml"
KEYS = {
    "hub.gap": "0.0{:02d} mm",
    "hub.plate_thickness": "3.{:02d} mm",
    "propeller.blade_mass": "34.{:02d} g",
    "flying.used_thrust": "4.{:02d} kgf",
    "propeller.pitch": "8.{:02d} in",
}


@contextmanager
def served():
    """A server of the example: its address, and when the command was given."""
    with TemporaryDirectory() as folder:
        shutil.copy(EXAMPLE, folder)
        begun = time.perf_counter()
        process = subprocess.Popen(
            [sys.executable, "-m", "bladehold", "serve", folder, "--no-browser", "--port", "0"],
            stdout=subprocess.PIPE,
            text=True,
        )
        assert process.stdout is not None
        address = next(word for word in process.stdout.readline().split() if word.startswith("http:"))
        try:
            yield address.rstrip("/"), begun
        finally:
            process.terminate()
            process.wait()


def answer(address: str, body: bytes | None = None) -> bytes:
    """Whatever the server answers, once it does."""
    while True:
        try:
            with urllib.request.urlopen(urllib.request.Request(address, body)) as found:
                return bytes(found.read())
        except urllib.error.URLError:
            time.sleep(0.005)


def first_page() -> float:
    """Seconds from the command to the first page."""
    with served() as (address, begun):
        answer(f"{address}/")
        return time.perf_counter() - begun


def update(address: str, key: str, number: int) -> float:
    """Seconds of one update while typing."""
    form = {
        "text": EXAMPLE.read_text(encoding="utf-8"),
        "values": json.dumps({key: KEYS[key].format(number)}),
        "seq": str(number),
    }
    body = "&".join(f"{name}={urllib.request.quote(value)}" for name, value in form.items()).encode()
    begun = time.perf_counter()
    answer(f"{address}/sheets/{EXAMPLE.name}/look", body)
    return time.perf_counter() - begun


def test_first_page(benchmark):
    benchmark.pedantic(first_page, rounds=5)


def test_update_of_the_full_example(benchmark):
    with served() as (address, _):
        answer(f"{address}/sheets/{EXAMPLE.name}")
        numbers = iter(range(90))
        benchmark.pedantic(
            lambda: update(address, "propeller.pitch", next(numbers)), rounds=40, warmup_rounds=3
        )


def main() -> None:
    """Print the times and the weight."""
    pages = [first_page() for _ in range(5)]
    print(f"first page: {statistics.median(pages):.2f} s after the command")
    with served() as (address, _):
        page = answer(f"{address}/sheets/{EXAMPLE.name}")
        time.sleep(3.0)  # what the server loads meanwhile is not part of an update
        files = ("page.css", "clevis.css", "page.js", "htmx-2.0.11.min.js", "charts.js")
        weight = len(page) + sum(len(answer(f"{address}/static/{name}")) for name in files)
        print(f"weight: {weight / 1e6:.2f} MB with the chart library, page alone {len(page) / 1e6:.2f} MB")
        every: list[float] = []
        for key in KEYS:
            times = sorted([update(address, key, number) for number in range(63)][3:])
            every += times
            middle, most = 1e3 * statistics.median(times), 1e3 * times[int(0.95 * len(times))]
            print(f"update, {key}: median {middle:.0f} ms, 95 of 100 below {most:.0f} ms")
        every.sort()
        print(f"update, all: 95 of 100 below {1e3 * every[int(0.95 * len(every))]:.0f} ms")


if __name__ == "__main__":
    main()

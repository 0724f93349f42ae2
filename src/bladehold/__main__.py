"""Run as `python -m bladehold`."""

from bladehold.cli.main import run

if __name__ == "__main__":
    run()

"""The command that opens the workbench in the browser."""

from __future__ import annotations

import secrets
import socket
import sys
from pathlib import Path
from typing import Annotated

import typer

from bladehold.cli.common import outlive_closed_sockets, refuse

_OWN = "127.0.0.1"
_EVERYWHERE = frozenset({"0.0.0.0", "::", ""})


def register(app: typer.Typer) -> None:
    """Add the command to the application."""
    app.command()(serve)


def serve(
    folder: Annotated[Path, typer.Argument(help="Folder of the sheets.")] = Path(),
    port: Annotated[int, typer.Option("--port", min=0, max=65535, help="0: any that is free.")] = 8753,
    host: Annotated[
        str | None, typer.Option("--host", help="Let others on the network in, under this name or address.")
    ] = None,
    no_browser: Annotated[bool, typer.Option("--no-browser", help="Do not open a browser.")] = False,
) -> None:
    """Open the workbench in the browser: sheets of a folder edited, looked at, compared and reported.

    It listens on this machine alone. Stop it with Ctrl-C.
    """
    if not folder.is_dir():
        refuse(f"{folder}: no such folder; name the one that your sheets are in")
    import uvicorn

    from bladehold.web.guard import OWN_NAMES, Guard
    from bladehold.web.opening import Opening

    token = None
    names = set(OWN_NAMES)
    if host is not None:
        token = secrets.token_urlsafe(24)
        names |= {host.lower(), *([socket.gethostname().lower()] if host in _EVERYWHERE else [])}
        print(
            "bladehold: WARNING: others on the network can reach this workbench. It is not encrypted; "
            "whoever has the address below can read and change the sheets of this folder.",
            file=sys.stderr,
        )
    listening = _listen(host or _OWN, port)
    address = f"http://{_named(host)}:{listening.getsockname()[1]}/"
    opened = f"{address}?token={token}" if token else address
    print(f"The workbench of {folder.resolve()} is at {opened} (Ctrl-C stops it).", flush=True)
    if not no_browser:
        _open_soon(opened)
    outlive_closed_sockets()
    app = Guard(Opening(folder), names, token)
    config = uvicorn.Config(app, log_level="warning", access_log=False, server_header=False)
    uvicorn.Server(config).run(sockets=[listening])


def _named(host: str | None) -> str:
    """The name under which a browser of this machine asks."""
    if host is None:
        return _OWN
    if host in _EVERYWHERE:
        return socket.gethostname()
    return f"[{host}]" if ":" in host else host


def _listen(host: str, port: int) -> socket.socket:
    """A socket that listens; refused in words where there is none to be had."""
    found: socket.socket | None = None
    try:
        family = socket.getaddrinfo(host, port, type=socket.SOCK_STREAM)[0][0]
        found = socket.socket(family, socket.SOCK_STREAM)
        found.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
        found.bind((host, port))
        found.listen(128)
    except OSError as error:
        if found is not None:
            found.close()
        refuse(f"--host {host} --port {port}: {error.strerror or error}; --port 0 takes any that is free")
    return found


def _open_soon(address: str) -> None:
    """Open a browser once the server answers."""
    import webbrowser
    from threading import Timer

    Timer(0.6, webbrowser.open, (address,)).start()

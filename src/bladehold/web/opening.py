"""The server as it starts: the first page at once, the rest as soon as it is loaded."""

from __future__ import annotations

import asyncio
from pathlib import Path
from threading import Event, Thread
from typing import TYPE_CHECKING

from starlette.types import ASGIApp, Receive, Scope, Send

from bladehold.web.front import shelf_page
from bladehold.web.shelf import Shelf

if TYPE_CHECKING:
    from fastapi import FastAPI

_LATEST = 0.4  # s after which loading begins, if nobody asked for the first page by then


class Opening:
    """The application, loaded while the first page is looked at. Errors: NotADirectoryError for no folder."""

    def __init__(self, folder: Path) -> None:
        self._shelf = Shelf(folder)
        self._app: FastAPI | None = None
        self._loaded, self._asked = Event(), Event()
        Thread(target=self._load, daemon=True).start()

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """Answer the first page by itself, hand everything else on."""
        if scope["type"] == "lifespan":
            await self._live(receive, send)
            return
        first = scope["path"] == "/" and scope["method"] == "GET" and not self._loaded.is_set()
        app: ASGIApp = shelf_page(self._shelf) if first else await self._whole()
        try:
            await app(scope, receive, send)
        finally:
            self._asked.set()

    async def _whole(self) -> ASGIApp:
        self._asked.set()
        await asyncio.to_thread(self._loaded.wait)
        if self._app is None:
            raise RuntimeError("the application could not be loaded")
        return self._app

    def _load(self) -> None:
        self._asked.wait(_LATEST)
        try:
            from bladehold.web.app import create_app, warm

            self._app = create_app(self._shelf.folder)
        finally:
            self._loaded.set()
        warm()

    async def _live(self, receive: Receive, send: Send) -> None:
        while True:
            message = await receive()
            if message["type"] == "lifespan.startup":
                await send({"type": "lifespan.startup.complete"})
            elif message["type"] == "lifespan.shutdown":
                if self._app is not None:
                    self._app.state.desk.tasks.stop_all()
                await send({"type": "lifespan.shutdown.complete"})
                return

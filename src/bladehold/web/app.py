"""The application: pages and data of one folder, faults in words."""

from __future__ import annotations

import gc
from collections.abc import Callable
from importlib.metadata import version
from pathlib import Path

from fastapi import FastAPI, Request
from fastapi.exceptions import RequestValidationError
from fastapi.responses import JSONResponse, Response
from fastapi.staticfiles import StaticFiles
from starlette.exceptions import HTTPException

from bladehold.report.clevis_states import STYLE
from bladehold.report.render import chart_library
from bladehold.sheet import SheetError
from bladehold.web import data, pages
from bladehold.web.desk import Desk
from bladehold.web.front import page
from bladehold.web.jobs import BusyError, NoTaskError
from bladehold.web.pictures import NoPictureError
from bladehold.web.shelf import NoSheetError

_HERE = Path(__file__).parent
_STAYS = {"cache-control": "max-age=86400"}


def create_app(folder: Path) -> FastAPI:
    """Return the application for a folder of sheets, to be put behind the guard.

    Errors: NotADirectoryError.
    """
    app = FastAPI(
        title="bladehold",
        version=version("bladehold"),
        docs_url=None,  # its pages would load scripts from the network
        redoc_url=None,
        openapi_url="/api/openapi.json",
    )
    app.state.desk = Desk(folder)
    app.include_router(data.router)
    app.include_router(pages.router)
    app.add_api_route("/static/charts.js", _charts, include_in_schema=False)
    app.add_api_route("/static/clevis.css", _clevis_style, include_in_schema=False)
    app.mount("/static", StaticFiles(directory=_HERE / "static"), name="static")
    for kind, status in _FAULTS.items():
        app.add_exception_handler(kind, _told(status))
    app.add_exception_handler(RequestValidationError, _invalid)
    app.add_exception_handler(HTTPException, _http)
    return app


def warm() -> None:
    """Load what the first look at a sheet needs while nobody waits for it."""
    from bladehold.sheet import parse_sheet, resolve
    from bladehold.sheet.starter import starter_text
    from bladehold.study import assess

    assess(resolve(parse_sheet(starter_text())))
    chart_library()
    # What is loaded stays: going through it again and again would take a tenth of every answer.
    gc.collect()
    gc.freeze()


def _charts() -> Response:
    return Response(chart_library(), media_type="text/javascript", headers=_STAYS)


def _clevis_style() -> Response:
    return Response(STYLE, media_type="text/css", headers=_STAYS)


_FAULTS: dict[type[Exception], int] = {
    NoSheetError: 404,
    NoTaskError: 404,
    NoPictureError: 404,
    FileExistsError: 409,
    SheetError: 422,
    ValueError: 422,
    BusyError: 503,
    OSError: 503,
}
_TITLES = {404: "Not here", 409: "There already", 422: "That cannot be used", 503: "Not now"}


def _told(status: int) -> Callable[[Request, Exception], Response]:
    def answer(request: Request, error: Exception) -> Response:
        return _said(request, status, _words(error))

    return answer


def _words(error: Exception) -> str:
    if isinstance(error, SheetError):
        return "; ".join(str(problem) for problem in error.problems)
    if isinstance(error, LookupError):
        kind = {NoTaskError: "task", NoPictureError: "picture"}.get(type(error), "file")
        return f"there is no {kind} {str(error)[:80]!r}"
    if isinstance(error, OSError):
        return f"{Path(str(error.filename or 'a file')).name}: {error.strerror or 'cannot be used'}"
    return str(error)


def _said(request: Request, status: int, words: str) -> Response:
    words = words.encode("utf-8", "replace").decode()
    if request.url.path.startswith("/api/"):
        return JSONResponse({"said": words}, status_code=status)
    title = _TITLES.get(status, "Something went wrong")
    return page("said.html", status=status, title=title, words=words)


def _invalid(request: Request, error: Exception) -> Response:
    assert isinstance(error, RequestValidationError)
    found = [f"{'.'.join(map(str, one['loc']))}: {one['msg']}" for one in error.errors()]
    return _said(request, 422, "; ".join(found))


def _http(request: Request, error: Exception) -> Response:
    assert isinstance(error, HTTPException)
    return _said(request, error.status_code, str(error.detail))

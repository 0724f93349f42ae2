"""The pages as data: JSON under /api, described by /api/openapi.json."""

from __future__ import annotations

import asyncio
import difflib
import json
from collections.abc import AsyncIterator, Mapping
from typing import Annotated, Any, Literal
from urllib.parse import quote

from fastapi import APIRouter, Path, Query, Request
from fastapi.responses import JSONResponse, PlainTextResponse, StreamingResponse
from pydantic import BaseModel, ConfigDict, Field

from bladehold.cautions import cautions
from bladehold.report.data import as_json, check_rows
from bladehold.web.desk import Desk, invented
from bladehold.web.form import Group
from bladehold.web.jobs import RUNNING, Task
from bladehold.web.look import Look
from bladehold.web.pictures import CHARTS, picture
from bladehold.web.shelf import LARGEST, ChangedError, mark_of
from bladehold.web.work import sweep_wanted

router = APIRouter(prefix="/api", tags=["data"])

Name = Annotated[str, Path(description="File name of a sheet in the folder.", max_length=120)]
Text = Annotated[str, Field(max_length=LARGEST, description="The whole text of a sheet (TOML).")]
Values = Annotated[
    dict[Annotated[str, Field(max_length=100)], Annotated[str, Field(max_length=600)]],
    Field(
        default_factory=dict, description="Values put into the text first, by key; an empty one is taken out."
    ),
]
Numbers = dict[str, Any]
_WRONG: dict[int | str, dict[str, Any]] = {
    404: {"description": "No such file, picture or task."},
    413: {"description": "Too much was sent."},
    422: {"description": "What was sent cannot be used; the words say why."},
}
_CHANGED: dict[int | str, dict[str, Any]] = {409: {"description": "The file holds another text by now."}}


class Body(BaseModel):
    """What is sent: unknown keys are refused."""

    model_config = ConfigDict(extra="forbid")


class Typed(Body):
    """A text, and values that are put into it."""

    text: Text
    values: Values


class Saving(Body):
    """A text to save, and the mark (SHA-256) of the one the editing began with."""

    text: Text
    began_with: Annotated[str, Field(pattern=r"^[0-9a-f]{64}$")]


class Making(Body):
    """A new sheet: its file name, and its text; the commented starter where none is given."""

    name: Annotated[str, Field(max_length=120)]
    text: Text | None = None


class Asking(Body):
    """A task on the text of a sheet."""

    kind: Literal["limit", "size", "sweep", "chance"]
    sheet: Annotated[str, Field(max_length=120)]
    text: Text | None = None
    over: list[Annotated[str, Field(max_length=60)]] = Field(default_factory=list, max_length=10)
    most_added: Annotated[str, Field(max_length=60)] | None = None
    keep_holes: bool = False
    vary: list[Annotated[str, Field(max_length=200)]] = Field(default_factory=list, max_length=20)
    draw: Annotated[int, Field(ge=2, le=100_000)] | None = None
    samples: Annotated[int, Field(ge=1000, le=10_000_000)] = 100_000


def desk_of(request: Request) -> Desk:
    """Return the desk that a request is about."""
    desk: Desk = request.app.state.desk
    return desk


def plain(value: object) -> Any:
    """Return a value as JSON takes it: what is infinite as null."""
    return json.loads(as_json(value))


def look_data(look: Look) -> Numbers:
    """Return a look as plain data: problems, or verdict, checks, loads and what is assumed."""
    from bladehold.report.data import load_rows
    from bladehold.study.words import verdict_sentence

    found = look.found
    answer: Numbers = {
        "name": look.name,
        "text": look.text,
        "problems": [vars(problem) for problem in look.problems],
        "form": [field_group(group) for group in look.form],
        "cautions": cautions(invented=invented(look)),
    }
    if found is None or look.build is None:
        return answer
    checked: Numbers = plain(
        {
            "verdict": found.verdict,
            "sentence": verdict_sentence(found),
            "margin": found.margin,
            "governing": found.governing.key,
            "reservations": list(found.reservations),
            "checks": check_rows(found),
            "loads": load_rows(found.loads),
            "assumptions": [vars(item) for item in look.build.assumptions],
            "notes": list(look.build.notes),
        }
    )
    return answer | checked


def field_group(group: Group) -> Numbers:
    """Return one group of the form as plain data."""
    return {
        "title": group.title,
        "tables": [
            {"title": table.title, "errors": list(table.errors), "fields": [vars(f) for f in table.fields]}
            for table in group.tables
        ],
    }


@router.get("/sheets", responses=_WRONG)
def sheets(request: Request) -> Numbers:
    """Return the sheets and lists of the folder."""
    desk = desk_of(request)
    return {
        "folder": str(desk.shelf.folder),
        "sheets": [{"name": name, "at": f"/api/sheets/{name}"} for name in desk.shelf.names()],
        "lines": desk.shelf.line_names(),
        "cautions": cautions(invented=False),
    }


@router.post("/sheets", status_code=201, responses=_WRONG | _CHANGED)
def make(request: Request, body: Making) -> Numbers:
    """Make a new sheet."""
    from bladehold.sheet.starter import starter_text

    stored = desk_of(request).shelf.add(body.name, starter_text() if body.text is None else body.text)
    return {"name": stored.name, "mark": stored.mark}


@router.get("/sheets/{name}", responses=_WRONG)
def sheet(request: Request, name: Name) -> Numbers:
    """Return a saved sheet: its text, its mark, and what it gives."""
    desk = desk_of(request)
    stored = desk.shelf.read(name)
    return {"mark": stored.mark, **look_data(desk.saved(name))}


@router.put("/sheets/{name}", responses=_WRONG | _CHANGED)
def save(request: Request, name: Name, body: Saving) -> JSONResponse:
    """Save a text, unless the file was changed since; the text before is kept as a copy."""
    try:
        stored = desk_of(request).shelf.save(name, body.text, body.began_with)
    except ChangedError as error:
        there = error.there
        lines = difflib.unified_diff(there.text.splitlines(), body.text.splitlines(), lineterm="", n=2)
        words = {"said": str(error), "mark": there.mark, "text": there.text}
        return JSONResponse({**words, "difference": "\n".join(list(lines)[2:])}, status_code=409)
    return JSONResponse({"name": stored.name, "mark": stored.mark})


@router.post("/sheets/{name}/look", responses=_WRONG)
def look(request: Request, name: Name, body: Typed) -> Numbers:
    """Return what a text gives that is not saved."""
    desk = desk_of(request)
    return look_data(desk.typed(name, body.text, body.values))


@router.post("/sheets/{name}/advice", responses=_WRONG)
def advice(request: Request, name: Name, body: Typed) -> Numbers:
    """Return the changes that help most."""
    advices = desk_of(request).typed(name, body.text, body.values).advices
    changes: Numbers = plain({key: None if one is None else vars(one) for key, one in vars(advices).items()})
    return changes


@router.post("/sheets/{name}/failures", responses=_WRONG)
def failures(request: Request, name: Name, body: Typed) -> Numbers:
    """Return what one failure does, from the blade to the people around."""
    from bladehold.report.loss import loss_data

    told: Numbers = plain(loss_data(desk_of(request).typed(name, body.text, body.values).consequence))
    return told


@router.post("/sheets/{name}/pictures/{which}", responses=_WRONG)
def drawn(
    request: Request,
    name: Name,
    which: Annotated[str, Path(description=f"section, {', '.join(CHARTS)}", max_length=40)],
    body: Typed,
) -> Numbers:
    """Return a picture of a text: SVG, or a Vega-Lite specification."""
    found = picture(desk_of(request).typed(name, body.text, body.values), which)
    return {"title": found.title, "svg": found.svg, "chart": found.chart}


@router.get("/compare", responses=_WRONG)
def compare(
    request: Request,
    sheet: Annotated[list[Annotated[str, Field(max_length=120)]], Query(min_length=2, max_length=26)],
) -> Numbers:
    """Return saved sheets side by side."""
    from bladehold.report.compare import comparison_data

    found, inputs, made_up = desk_of(request).compared(sheet)
    rows: Numbers = plain(comparison_data(found, inputs, invented=made_up))
    return rows


@router.get("/lines/{name}", responses=_WRONG)
def lines(request: Request, name: Name, base: Annotated[str, Query(max_length=120)]) -> Numbers:
    """Return the screws that a list of propellers needs, with the chart."""
    from bladehold.study.range_chart import row_as_dict

    desk = desk_of(request)
    rows, build = desk.lined_up(name, base)
    listed: Numbers = plain(
        {
            "propellers": [row_as_dict(row) for row in rows],
            "charts": [desk.range_chart(name, base)],
            "cautions": cautions(invented=build.invented),
        }
    )
    return listed


@router.get("/tasks", responses=_WRONG)
def tasks(request: Request) -> Numbers:
    """Return the tasks, the latest first."""
    return {"tasks": [task.as_dict() for task in desk_of(request).tasks.all()]}


@router.post("/tasks", status_code=201, responses=_WRONG | {503: {"description": "Too many tasks run."}})
def ask(request: Request, body: Asking) -> Numbers:
    """Begin a task."""
    desk = desk_of(request)
    return begun(desk, body, desk.check_options(body.kind, body.model_dump())).as_dict()


def begun(desk: Desk, body: Asking, options: Mapping[str, Any]) -> Task:
    """Begin a task, with options that are read, on a text that can be checked.

    Errors: NoSheetError; SheetError; ValueError; BusyError.
    """
    text = desk.shelf.read(body.sheet).text if body.text is None else body.text
    found = desk.typed(body.sheet, text, {})
    _ = found.assessment
    if body.kind == "sweep":
        sweep_wanted(body.sheet, str(desk.shelf.folder), text, options)
    return desk.tasks.begin(body.kind, body.sheet, text, mark_of(text), options)


@router.get("/tasks/{ident}", responses=_WRONG)
def task(request: Request, ident: Annotated[str, Path(max_length=60)]) -> Numbers:
    """Return a task, with its result when it is done."""
    desk = desk_of(request)
    one = desk.tasks.one(ident)
    result = desk.tasks.result(one) or {}
    result.pop("table", None)  # the same rows as in its data
    return {**one.as_dict(), "result": result, "charts": result.get("charts", [])}


@router.get("/tasks/{ident}/table.csv", responses=_WRONG, response_class=PlainTextResponse)
def table(request: Request, ident: Annotated[str, Path(max_length=60)]) -> PlainTextResponse:
    """Return the table of a task that is done as CSV, as the command line has it; empty before."""
    desk = desk_of(request)
    one = desk.tasks.one(ident)
    name = f"{quote(one.sheet.removesuffix('.toml'))}-{one.kind}.csv"
    return PlainTextResponse(
        (desk.tasks.result(one) or {}).get("table", ""),
        media_type="text/csv",
        headers={"content-disposition": f"attachment; filename*=UTF-8''{name}"},
    )


@router.post("/tasks/{ident}/stop", responses=_WRONG)
def stop(request: Request, ident: Annotated[str, Path(max_length=60)]) -> Numbers:
    """Stop a task."""
    return desk_of(request).tasks.stop(ident).as_dict()


@router.get("/tasks/{ident}/events", responses=_WRONG)
async def events(request: Request, ident: Annotated[str, Path(max_length=60)]) -> StreamingResponse:
    """Follow a task as server-sent events: its state whenever it changes."""
    return follow(desk_of(request).tasks.one(ident), request)


def follow(one: Task, request: Request) -> StreamingResponse:
    """Return the stream of a task's changes, which ends when it ends or nobody listens."""

    async def told() -> AsyncIterator[str]:
        last = ""
        while True:
            now = json.dumps(
                {"state": one.state, "done": one.done, "of": one.of, "seconds": one.seconds, "why": one.why}
            )
            if now != last:
                last = now
                yield f"data: {now}\n\n"
            if one.state != RUNNING or await request.is_disconnected():
                return
            await asyncio.sleep(0.15)

    return StreamingResponse(told(), media_type="text/event-stream")

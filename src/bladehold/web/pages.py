"""The pages in HTML, and the pieces of them that follow the typing."""

from __future__ import annotations

import json
from collections.abc import Sequence
from string import ascii_uppercase
from typing import Annotated, Any, Literal
from urllib.parse import quote

from fastapi import APIRouter, Form, Query, Request, UploadFile
from fastapi.responses import HTMLResponse, RedirectResponse, Response, StreamingResponse

from bladehold.report.clevis_states import SIGNS
from bladehold.report.terminal import state_of
from bladehold.sheet import SheetError
from bladehold.sheet.problem import Problem
from bladehold.study.words import (
    life_sentence,
    proof_sentence,
    reservation_sentence,
    verdict_sentence,
    verdict_words,
)
from bladehold.web.data import Asking, begun, desk_of, follow
from bladehold.web.desk import fields_of, invented, numbers_of, slider_of, sliders_of, sync_of
from bladehold.web.front import page, shelf_page
from bladehold.web.jobs import BusyError
from bladehold.web.look import Look
from bladehold.web.pictures import CHARTS, section
from bladehold.web.pieces import advice_words, bar, margin_words, parts_of
from bladehold.web.shelf import LARGEST
from bladehold.web.told import Block

router = APIRouter(include_in_schema=False)
_APART = (
    "default-src 'none'; script-src 'unsafe-inline' 'unsafe-eval'; style-src 'unsafe-inline'; img-src data:; "
    "font-src data:; sandbox allow-scripts allow-modals"
)
_KINDS = {
    "html": "text/html; charset=utf-8",
    "pdf": "application/pdf",
    "xlsx": "application/vnd.openxmlformats-officedocument.spreadsheetml.sheet",
    "csv": "text/csv; charset=utf-8",
}
SWEPT = ("propeller.blade_mass", "hub.plate_thickness")  # what a sweep begins with
REPORTS = (
    ("html", "Report to read (one HTML file, works offline)"),
    ("pdf", "Report to print (PDF)"),
    ("xlsx", "All checks as a workbook (XLSX)"),
    ("csv", "All checks as a list (CSV)"),
)


def verdict_of(look: Look) -> dict[str, Any]:
    """Return the verdict as a template takes it."""
    if look.found is None:
        return {"look": look}
    state = state_of(look.found.margin, look.found.build.policy.marginal)
    # What rests on assumptions is never shown as simply good.
    kind = "guarded" if state == "holds" and look.found.reservations else state
    shortest = look.found.shortest
    if state == "holds" and shortest is not None and shortest.margin < 0.0:
        kind = state = "little"
    return {
        "look": look,
        "state": kind,
        "sign": SIGNS[state],
        "sentence": verdict_sentence(look.found),
        "words": verdict_words(look.found),
    }


def results_of(look: Look) -> dict[str, Any]:
    """Return all that the results show."""
    if look.found is None:
        return verdict_of(look)
    found = look.found
    below = [reservation_sentence(found), proof_sentence(found), life_sentence(found)]
    return {
        **verdict_of(look),
        "below": [line for line in below if line],
        "parts": parts_of(found),
    }


@router.get("/")
def shelf(request: Request) -> HTMLResponse:
    """The sheets of the folder."""
    return shelf_page(desk_of(request).shelf)


@router.post("/sheets")
def make(
    request: Request, name: Annotated[str, Form(max_length=120)], file: UploadFile | None = None
) -> Response:
    """A new sheet, from a file or from the starter."""
    from bladehold.sheet.starter import starter_text

    desk = desk_of(request)
    try:
        text = starter_text()
        if file is not None and file.filename:
            text = file.file.read(LARGEST + 1).decode("utf-8")
        if len(text) > LARGEST:
            raise ValueError(f"the file has more than {LARGEST} bytes: no sheet is as large")
        name = name.strip() if name.strip().endswith(".toml") else f"{name.strip()}.toml"
        desk.shelf.add(name, text)
    except FileExistsError:
        return shelf_page(desk.shelf, f"There is a {name} already: choose another name.", 409)
    except UnicodeDecodeError:
        return shelf_page(desk.shelf, "The file is not text in UTF-8.", 422)
    except ValueError as error:
        return shelf_page(desk.shelf, str(error), 422)
    return RedirectResponse(f"/sheets/{quote(name)}", status_code=303)


@router.get("/sheets/{name}")
def bench(request: Request, name: str) -> HTMLResponse:
    """The workbench of one sheet."""
    from bladehold.study.choices import AXES

    desk = desk_of(request)
    stored = desk.shelf.read(name)
    look = desk.looks.at(name, stored.text)
    return page(
        "workbench.html",
        invented=invented(look),
        data_at=f"/api/sheets/{quote(name)}",
        stored=stored,
        charts=[(key, title) for key, (title, _) in CHARTS.items()],
        sliders=sliders_of(look),
        numbers=numbers_of(look),
        swept=[slider for slider in sliders_of(look) if slider.key in SWEPT],
        axes=AXES,
        reports=REPORTS,
        sync=sync_of(look, 0),
        drawing="" if look.found is None else section(look),
        **results_of(look),
    )


@router.get("/sheets/{name}/report.{kind}")
def report(request: Request, name: str, kind: Literal["html", "pdf", "xlsx", "csv"]) -> Response:
    """A document on the saved sheet."""
    content = desk_of(request).document(name, kind)
    stem = quote(name.removesuffix(".toml"))
    if kind == "html":  # it holds its own scripts, so it runs apart from the workbench
        return Response(content, media_type=_KINDS[kind], headers={"content-security-policy": _APART})
    told = f"attachment; filename*=UTF-8''{stem}.{kind}"
    return Response(content, media_type=_KINDS[kind], headers={"content-disposition": told})


@router.get("/sheets/{name}/card")
def card(request: Request, name: str) -> HTMLResponse:
    """How a sheet stands, in two lines."""
    desk = desk_of(request)
    return page("card.html", **verdict_of(desk.saved(name)))


Text = Annotated[str, Form(max_length=LARGEST)]
Values = Annotated[str, Form(max_length=LARGEST)]


def _values(raw: str) -> dict[str, str]:
    found = json.loads(raw or "{}")
    if not isinstance(found, dict):
        raise ValueError("values are an object of texts by key")
    return {str(key): str(value) for key, value in found.items()}


@router.post("/sheets/{name}/look")
def look(
    request: Request, name: str, text: Text, values: Values = "{}", seq: Annotated[int, Form()] = 0
) -> HTMLResponse:
    """What follows the typing: results, and what form and text must say now."""
    desk = desk_of(request)
    found = desk.typed(name, text, _values(values))
    answer = page("answer.html", invented=invented(found), sync=sync_of(found, seq), **results_of(found))
    if found.found is None:
        answer.headers["HX-Reswap"] = "none"  # the last results stay, and are told to be of an earlier text
    return answer


@router.post("/sheets/{name}/drawing")
def drawing(request: Request, name: str, text: Text, values: Values = "{}") -> HTMLResponse:
    """The section through the joint, which follows the verdict a moment later."""
    found = desk_of(request).typed(name, text, _values(values))
    return HTMLResponse("" if found.found is None else section(found))


@router.post("/sheets/{name}/advice")
def advice(request: Request, name: str, text: Text, values: Values = "{}") -> HTMLResponse:
    """The changes that help."""
    desk = desk_of(request)
    found = desk.typed(name, text, _values(values))
    if found.found is None:
        return HTMLResponse("")
    several = found.advices
    lines = []
    if several.enough is not None and several.enough != several.most:
        lines.append(f"Least change that is enough: {advice_words(several.enough)}.")
    if several.most is not None:
        lines.append(f"Helps most: {advice_words(several.most)}.")
    return page("advice.html", lines=lines)


@router.post("/sheets/{name}/failures")
def failures(request: Request, name: str, text: Text, values: Values = "{}") -> HTMLResponse:
    """What one failure does."""
    found = desk_of(request).typed(name, text, _values(values))
    if found.found is None:
        return HTMLResponse("")
    from bladehold.report.loss import headline, sentences

    told = found.consequence
    return page("failures.html", found=told, headline=headline(told), sentences=sentences(told))


@router.post("/sheets/{name}/slider")
def slider(
    request: Request, name: str, text: Text, key: Annotated[str, Form(max_length=100)]
) -> HTMLResponse:
    """One more slider."""
    desk = desk_of(request)
    fields = {field.key: field for field in fields_of(desk.typed(name, text, {}).form)}
    found = slider_of(fields[key]) if key in fields else None
    return HTMLResponse("") if found is None else page("slider.html", slider=found)


@router.post("/sheets/{name}/try")
def attempt(request: Request, name: str, text: Text, tried: Values = "{}") -> HTMLResponse:
    """Margins with some numbers moved, beside those of the saved sheet."""
    desk = desk_of(request)
    found, saved = desk.typed(name, text, _values(tried)), desk.saved(name)
    rows = []
    if found.found is not None:
        before = {} if saved.found is None else saved.found.by_part()
        for part in parts_of(found.found):
            was = before.get(part.name)
            ghost = None if was is None else was.margin
            rows.append(
                {
                    "name": part.name,
                    "state": part.weakest.state,
                    "sign": part.weakest.sign,
                    "said": part.weakest.said,
                    "bar": bar(part.weakest.check.margin, ghost),
                    "saved": "not checked" if ghost is None else margin_words(ghost),
                }
            )
    return page("tried.html", invented=invented(found), tried=found, rows=rows, **verdict_of(found))


@router.get("/compare")
def compare(
    request: Request,
    sheet: Annotated[list[str] | None, Query(max_length=26)] = None,
    every: Annotated[bool, Query(alias="all")] = False,
) -> HTMLResponse:
    """Sheets side by side."""
    from bladehold.report.compare import headline, said

    desk, chosen = desk_of(request), sheet or []
    words: dict[str, Any] = {"problems": (), "headline": "", "groups": [], "titles": [], "alike": 0}
    if len(chosen) == 1:
        words["problems"] = (Problem(chosen[0], None, "", "choose one more to compare it with"),)
    elif chosen:
        try:
            found, inputs, _ = desk.compared(chosen)
        except SheetError as error:
            words["problems"] = error.problems
        else:
            groups: dict[str, list[dict[str, Any]]] = {}
            for row in found.rows:
                unit = "" if row.unit in {"", "h"} else f", {row.unit}"
                cells = [
                    f"{said(entry, row)}{' (better)' if row.best == at else ''}"
                    for at, entry in enumerate(row.entries)
                ]
                line = {"title": f"{row.name}{unit}", "differs": row.differs, "cells": cells}
                groups.setdefault(row.group, []).append(line)
            groups["inputs"] = [
                {"title": row.key, "differs": row.differs, "cells": row.values} for row in inputs
            ]
            shown = {
                group: [row for row in rows if every or row["differs"]] for group, rows in groups.items()
            }
            count = sum(map(len, groups.values())) - sum(map(len, shown.values()))
            words |= {
                "headline": headline(found),
                "groups": [(group, rows) for group, rows in shown.items() if rows],
                "titles": [
                    f"{letter}: {name} ({file})"
                    for letter, name, file in zip(ascii_uppercase, found.names, chosen, strict=False)
                ],
                "alike": count,
            }
    query = "&".join(f"sheet={quote(name)}" for name in chosen)
    return page(
        "compare.html",
        here="compare",
        names=desk.shelf.names(),
        chosen=chosen,
        every=every,
        data_at=f"/api/compare?{query}" if len(chosen) > 1 else "",
        **words,
    )


@router.get("/lines/{name}")
def lines(request: Request, name: str, base: str = "") -> HTMLResponse:
    """A list of propellers, and the sheet that they are built like."""
    desk = desk_of(request)
    desk.shelf.path(name)
    at = f"/api/lines/{quote(name)}?base={quote(base)}" if base else ""
    return page("lines.html", name=name, base=base, names=desk.shelf.names(), data_at=at)


@router.get("/lines/{name}/found")
def lines_found(request: Request, name: str, base: str) -> HTMLResponse:
    """The screws that a list of propellers needs."""
    problems: Sequence[Problem] = ()
    told: list[Block] = []
    try:
        told = desk_of(request).range_told(name, base)
    except SheetError as error:
        problems = error.problems
    at = f"/api/lines/{quote(name)}?base={quote(base)}"
    return page("lines_found.html", problems=problems, told=told, data_at=at)


@router.get("/tasks")
def tasks(request: Request) -> HTMLResponse:
    """What was asked."""
    desk = desk_of(request)
    return page("tasks.html", here="tasks", tasks=desk.tasks.all(), data_at="/api/tasks")


@router.post("/tasks")
def ask(
    request: Request,
    kind: Annotated[str, Form(max_length=20)],
    sheet: Annotated[str, Form(max_length=120)],
    text: Annotated[str | None, Form(max_length=LARGEST)] = None,
    over: Annotated[list[str] | None, Form()] = None,
    most_added: Annotated[str, Form(max_length=60)] = "",
    keep_holes: Annotated[str, Form(max_length=5)] = "",
    vary: Annotated[str, Form(max_length=5000)] = "",
    draw: Annotated[str, Form(max_length=20)] = "",
    samples: Annotated[str, Form(max_length=20)] = "100000",
) -> Response:
    """Begin a task and follow it."""
    desk = desk_of(request)
    try:
        options = desk.check_options(
            kind,
            {
                "over": over,
                "most_added": most_added,
                "keep_holes": keep_holes,
                "vary": vary.splitlines(),
                "draw": draw.strip(),
                "samples": samples,
            },
        )
        wanted = Asking(kind=kind, sheet=sheet, text=text, **options)
        one = begun(desk, wanted, options)
    except SheetError as error:
        said = "; ".join(str(problem) for problem in error.problems)
        return page("tasks.html", status=422, here="tasks", tasks=desk.tasks.all(), said=said)
    except (BusyError, ValueError) as error:
        return page("tasks.html", status=422, here="tasks", tasks=desk.tasks.all(), said=str(error))
    return RedirectResponse(f"/tasks/{one.ident}", status_code=303)


@router.get("/tasks/{ident}")
def task(request: Request, ident: str) -> HTMLResponse:
    """One task and its result."""
    desk = desk_of(request)
    one = desk.tasks.one(ident)
    return page(
        "task.html",
        task=one,
        result=desk.tasks.result(one),
        here="tasks",
        data_at=f"/api/tasks/{ident}",
    )


@router.get("/tasks/{ident}/events")
async def events(request: Request, ident: str) -> StreamingResponse:
    """Follow a task."""
    return follow(desk_of(request).tasks.one(ident), request)


@router.post("/tasks/{ident}/stop")
def stop(request: Request, ident: str) -> RedirectResponse:
    """Stop a task."""
    desk_of(request).tasks.stop(ident)
    return RedirectResponse(f"/tasks/{ident}", status_code=303)

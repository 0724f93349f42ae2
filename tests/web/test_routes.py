"""Every page and every piece of data, asked in process."""

import csv
import io
import json
import re
import time
from concurrent.futures import ThreadPoolExecutor
from html import unescape

import pytest
from fastapi.testclient import TestClient
from web_bench import OTHER, OWN, SHEET

from bladehold.cautions import CAUTIONS, INVENTED
from bladehold.sheet.starter import starter_text
from bladehold.web.app import create_app
from bladehold.web.guard import Guard
from bladehold.web.jobs import Tasks
from bladehold.web.look import Looks
from bladehold.web.pictures import CHARTS, picture
from bladehold.web.shelf import Shelf, mark_of

PAGES = {
    "/": "Sheets",
    f"/sheets/{SHEET}": "HOLDS",
    f"/sheets/{SHEET}/card": "holds in strength, not for the life asked, margin",
    f"/sheets/{OTHER}/card": "does not hold, margin",
    "/compare": "Side by side",
    f"/compare?sheet={SHEET}&sheet={OTHER}&all=true": "hub.gap",
    f"/compare?sheet={SHEET}": "choose one more",
    "/lines/ostrel_line.csv": "Built like the sheet",
    f"/lines/ostrel_line.csv?base={SHEET}": "Being worked out",
    f"/lines/ostrel_line.csv/found?base={SHEET}": "OW-20F",
    f"/lines/ow24f_stand.csv/found?base={SHEET}": "the column name is missing",
    "/tasks": "Nothing was asked yet",
    "/static/page.js": "use strict",
    "/static/clevis.css": ".clevis",
    "/static/charts.js": "vegaEmbed",
}


@pytest.mark.parametrize("path", PAGES)
def test_a_page_is_there_and_says_what_it_is_about(client, path):
    answer = client.get(path)
    assert answer.status_code == 200
    assert PAGES[path] in answer.text


@pytest.mark.parametrize("path", ["/", f"/sheets/{SHEET}", "/compare", "/lines/ostrel_line.csv", "/tasks"])
def test_every_page_has_cautions_and_nothing_from_elsewhere(client, path):
    page = client.get(path).text
    for caution in CAUTIONS:
        assert caution.replace("'", "&#39;") in page
    assert not re.search(r'(?:src|href|action)="(?:https?:)?//', page)
    assert "<script>" not in page
    assert not re.search(r"\son\w+=|\sstyle=", page)


@pytest.mark.parametrize(
    "path",
    [
        "/nowhere",
        "/sheets/none.toml",
        "/tasks/none",
        "/lines/none.csv",
        "/sheets/none.toml/card",
        "/static/none.js",
    ],
)
def test_what_is_not_there_is_told(client, path):
    answer = client.get(path)
    assert answer.status_code == 404
    assert "Traceback" not in answer.text


@pytest.mark.parametrize(
    "path", ["/api/nowhere", "/api/sheets/none.toml", "/api/tasks/none", "/api/lines/none.csv?base=x"]
)
def test_what_is_not_there_is_told_as_data(client, path):
    answer = client.get(path)
    assert answer.status_code == 404
    assert answer.json()["said"]


class TestSheet:
    """Looking at a sheet, changing it, saving it."""

    def test_all_checks_are_on_the_page_with_formula_inputs_and_source(self, client):
        page = client.get(f"/sheets/{SHEET}").text
        checks = client.get(f"/api/sheets/{SHEET}").json()["checks"]
        assert len(checks) > 35
        assert page.count('<details class="check"') == len(checks)
        assert page.count("Formula:") == len(checks)
        assert page.count("<p>Source:") == len(checks)
        assert INVENTED in page

    def test_a_value_typed_changes_text_and_margins(self, client, text):
        values = json.dumps({"hub.plate_thickness": "3 mm"})
        answer = client.post(f"/sheets/{SHEET}/look", data={"text": text, "values": values, "seq": 7})
        assert answer.status_code == 200
        assert "DOES NOT HOLD" in answer.text
        sync = sync_in(answer.text)
        assert sync["seq"] == 7
        assert sync["ok"]
        assert sync["values"]["hub.plate_thickness"] == "3 mm"
        assert 'plate_thickness = "3 mm"' in sync["text"]

    def test_a_fault_is_told_beside_its_field_and_the_last_results_stay(self, client, text):
        values = json.dumps({"hub.gap": "1,5 mm"})
        answer = client.post(f"/sheets/{SHEET}/look", data={"text": text, "values": values})
        assert answer.headers["HX-Reswap"] == "none"
        sync = sync_in(answer.text)
        assert not sync["ok"]
        assert "1,5 mm" in sync["errors"]["hub.gap"]
        assert sync["wrong"] == {"hub": 1}

    def test_a_text_that_is_no_toml_loses_nothing(self, client):
        values = json.dumps({"hub.gap": "1 mm"})
        answer = client.post(f"/sheets/{SHEET}/look", data={"text": "hub = [", "values": values})
        sync = sync_in(answer.text)
        assert (sync["toml"], sync["text"]) == (False, "hub = [")
        assert "not valid TOML" in sync["elsewhere"][0]

    @pytest.mark.parametrize("values", ["[]", "{", '{"hub.nothing": "1"}'])
    def test_values_that_are_none_are_refused(self, client, text, values):
        answer = client.post(f"/sheets/{SHEET}/look", data={"text": text, "values": values})
        assert answer.status_code == 422

    def test_two_browsers_never_overwrite_each_other_unseen(self, client, folder, text):
        path, began = f"/api/sheets/{SHEET}", mark_of(text)
        mine, theirs = text.replace("4 mm", "5 mm"), text.replace("4 mm", "6 mm")
        assert client.put(path, json={"text": theirs, "began_with": began}).status_code == 200
        answer = client.put(path, json={"text": mine, "began_with": began})
        assert answer.status_code == 409
        assert answer.json()["text"] == theirs
        assert "+plate_thickness" in answer.json()["difference"]
        assert (folder / SHEET).read_text(encoding="utf-8") == theirs
        again = client.put(path, json={"text": mine, "began_with": answer.json()["mark"]})
        assert again.status_code == 200
        assert (folder / SHEET).read_text(encoding="utf-8") == mine

    def test_advice_says_what_it_adds_and_brings(self, client, text):
        words = client.post(f"/sheets/{SHEET}/advice", data={"text": text}).text
        assert re.search(
            r"adds \d+\.\d g a rotor and lifts the smallest margin from \+0\.\d\d to \+0\.\d\d", words
        )
        change = client.post(f"/api/sheets/{SHEET}/advice", json={"text": text}).json()["most"]
        assert change["after"] > change["before"]
        assert client.post(f"/sheets/{SHEET}/advice", data={"text": "x"}).text == ""

    def test_the_drawing_follows(self, client, text):
        first = client.post(f"/sheets/{SHEET}/drawing", data={"text": text}).text
        thin = json.dumps({"hub.plate_thickness": "3 mm"})
        other = client.post(f"/sheets/{SHEET}/drawing", data={"text": text, "values": thin}).text
        assert first.startswith("<svg")
        assert "t1 4" in first
        assert "t1 3" in other
        assert client.post(f"/sheets/{SHEET}/drawing", data={"text": "x"}).text == ""

    def test_what_one_failure_does(self, client, text):
        page = client.post(f"/sheets/{SHEET}/failures", data={"text": text}).text
        assert "HAZARDOUS" in page
        assert "sheared at both faces" in page
        told = client.post(f"/api/sheets/{SHEET}/failures", json={"text": text}).json()
        assert told["sentence"] in unescape(page)
        assert client.post(f"/sheets/{SHEET}/failures", data={"text": "x"}).text == ""

    def test_a_number_moved_stands_beside_the_saved_one(self, client, text):
        tried = json.dumps({"hub.plate_thickness": "3 mm"})
        answer = client.post(f"/sheets/{SHEET}/try", data={"text": text, "tried": tried})
        assert answer.text.count('class="ghost"') == 6
        assert "DOES NOT HOLD" in answer.text
        wrong = client.post(f"/sheets/{SHEET}/try", data={"text": text, "tried": '{"hub.gap": "99 mm"}'})
        assert "must be" in wrong.text

    def test_one_more_slider(self, client, text):
        answer = client.post(f"/sheets/{SHEET}/slider", data={"text": text, "key": "hub.lug_width"})
        assert 'data-slider="hub.lug_width"' in answer.text
        assert client.post(f"/sheets/{SHEET}/slider", data={"text": text, "key": "about.name"}).text == ""

    def test_pictures_asked_for_at_once_are_those_asked_for_alone(self, folder, text):
        """Threads that draw at the same time have put parts of one chart into another."""
        look = Looks(folder).at(SHEET, text)
        quick = ("turn", "campbell", "arm", "control", "throw")
        alone = {which: picture(look, which).chart for which in quick}
        with ThreadPoolExecutor(len(quick)) as threads:
            for _ in range(8):
                drawn = threads.map(lambda which: picture(look, which).chart, quick)
                together = dict(zip(quick, drawn, strict=True))
                assert together == alone

    @pytest.mark.parametrize("which", ["section", *CHARTS])
    def test_pictures(self, client, text, which):
        found = client.post(f"/api/sheets/{SHEET}/pictures/{which}", json={"text": text}).json()
        assert found["title"]
        if which == "section":
            assert found["svg"].startswith("<svg")
            assert "<style" not in found["svg"]
        else:
            assert found["chart"]["$schema"]

    def test_a_picture_that_cannot_be_drawn_is_told(self, client, text):
        path = f"/api/sheets/{SHEET}/pictures"
        assert client.post(f"{path}/none", json={"text": text}).status_code == 404
        assert client.post(f"{path}/turn", json={"text": "x"}).status_code == 422
        start = text.index("[motor]")
        without = text[:start] + text[text.index("[flying]") :]
        answer = client.post(f"{path}/endurance", json={"text": without})
        assert answer.status_code == 422
        assert "motor" in answer.json()["said"]

    def test_names_that_are_markup_stay_text(self, client, text):
        hostile = text.replace("Tarn 6, repaired", "<script>alert(1)</script>")
        answer = client.post(f"/sheets/{SHEET}/look", data={"text": hostile})
        assert "<script>alert" not in answer.text
        assert "&lt;script&gt;alert" in answer.text


class TestMaking:
    """New sheets."""

    def test_from_the_starter(self, client, folder):
        answer = client.post("/sheets", data={"name": "my hub"}, follow_redirects=False)
        assert (answer.status_code, answer.headers["location"]) == (303, "/sheets/my%20hub.toml")
        assert (folder / "my hub.toml").read_text(encoding="utf-8") == starter_text()
        assert client.get("/sheets/my%20hub.toml").status_code == 200

    def test_from_a_file(self, client, folder, text):
        made = client.post("/sheets", data={"name": "copy.toml"}, files={"file": ("x.toml", text.encode())})
        assert made.status_code == 200
        assert (folder / "copy.toml").read_text(encoding="utf-8") == text

    @pytest.mark.parametrize("name", ["../x", "", "a/b", "x" * 130])
    def test_names_that_will_not_do(self, client, name):
        assert client.post("/sheets", data={"name": name}).status_code == 422

    def test_what_is_there_or_no_text_is_told(self, client):
        assert "already" in client.post("/sheets", data={"name": SHEET}).text
        answer = client.post("/sheets", data={"name": "y"}, files={"file": ("x.toml", b"\xff\xfe")})
        assert "not text" in answer.text

    def test_as_data(self, client, text):
        assert client.post("/api/sheets", json={"name": "n.toml", "text": text}).json()["mark"] == mark_of(
            text
        )
        assert client.post("/api/sheets", json={"name": "n.toml"}).status_code == 409


class TestReport:
    """Documents on a saved sheet."""

    @pytest.mark.parametrize(("kind", "begins"), [("pdf", b"%PDF"), ("xlsx", b"PK"), ("csv", b"part,")])
    def test_is_handed_out(self, client, kind, begins):
        answer = client.get(f"/sheets/{SHEET}/report.{kind}")
        assert answer.status_code == 200
        assert answer.content.startswith(begins)
        assert f"tarn6_repaired.{kind}" in answer.headers["content-disposition"]

    def test_to_read_runs_apart_from_the_workbench(self, client, text):
        answer = client.get(f"/sheets/{SHEET}/report.html")
        assert "sandbox" in answer.headers["content-security-policy"]
        assert "allow-same-origin" not in answer.headers["content-security-policy"]
        assert mark_of(text) in answer.text

    def test_of_what_cannot_be_checked_there_is_none(self, client, folder):
        (folder / "bad.toml").write_text("hub = 3")
        answer = client.get("/sheets/bad.toml/report.pdf")
        assert answer.status_code == 422
        assert client.get(f"/sheets/{SHEET}/report.docx").status_code == 422


class TestTasks:
    """Long tasks: begun, followed, stopped, kept."""

    def wait(self, client, path):
        until = time.monotonic() + 90.0
        while time.monotonic() < until:
            found = client.get(path).json()
            if found["state"] != "running":
                return found
            time.sleep(0.05)
        raise AssertionError("the task did not end")

    def test_one_is_done_and_its_result_is_kept(self, client, folder):
        one = client.post("/api/tasks", json={"kind": "limit", "sheet": SHEET}).json()
        path = f"/api/tasks/{one['ident']}"
        found = self.wait(client, path)
        assert found["state"] == "done"
        assert "kgf" in found["result"]["sentence"]
        assert "flight" in found["result"]["data"]
        page = client.get(f"/tasks/{one['ident']}").text
        assert found["result"]["sentence"] in unescape(page)
        later = TestClient(Guard(create_app(folder)), base_url=OWN)
        assert later.get(path).json()["result"] == found["result"]
        assert one["ident"] in later.get("/tasks").text

    def test_a_sweep_is_stopped_on_its_way_and_keeps_its_points(self, client, folder):
        asked = {"kind": "sweep", "sheet": SHEET, "vary": ["hub.plate_thickness=3 mm..5 mm"], "draw": 5000}
        one = client.post("/api/tasks", json=asked).json()
        path = f"/api/tasks/{one['ident']}"
        until = time.monotonic() + 60.0
        while client.get(path).json()["done"] == 0 and time.monotonic() < until:
            time.sleep(0.05)
        told = client.post(f"{path}/stop").json()
        assert told["state"] == "stopped"
        assert told["of"] == 5000
        assert 0 < told["done"] < 5000
        assert self.wait(client, path)["state"] == "stopped"
        journal = folder / ".bladehold" / "results" / f"{one['ident']}.journal.json"
        assert len(journal.read_text(encoding="utf-8").splitlines()) > told["done"]
        assert "Stopped, after" in client.get(f"/tasks/{one['ident']}").text

    def test_events_follow_it_to_its_end(self, client):
        one = client.post("/api/tasks", json={"kind": "size", "sheet": SHEET}).json()
        with client.stream("GET", f"/tasks/{one['ident']}/events") as answer:
            assert answer.headers["content-type"].startswith("text/event-stream")
            events = [json.loads(line[6:]) for line in answer.iter_lines() if line.startswith("data: ")]
        assert events[-1]["state"] == "done"
        assert [event["done"] for event in events] == sorted(event["done"] for event in events)

    def test_a_form_begins_one_too(self, client, text):
        asked = {
            "kind": "size",
            "sheet": SHEET,
            "text": text,
            "over": ["screw", "plates"],
            "most_added": "12 g",
        }
        answer = client.post("/tasks", data=asked, follow_redirects=False)
        assert answer.status_code == 303
        path = answer.headers["location"]
        found = self.wait(client, f"/api{path}")
        assert found["result"]["data"]["axes"] == ["plates", "screw"]
        assert found["options"]["most_added"] == "12 g"
        table = client.get(f"/api{path}/table.csv")
        assert table.headers["content-type"].startswith("text/csv")
        assert "tarn6_repaired-size.csv" in table.headers["content-disposition"]
        rows = list(csv.DictReader(io.StringIO(table.text)))
        assert len(rows) == 132 and {row["holds"] for row in rows} == {"True", "False"}
        assert client.post(f"{path}/stop", follow_redirects=False).status_code == 303
        assert client.get(f"/api{path}").json()["state"] == "done"

    @pytest.mark.parametrize(
        ("asked", "said"),
        [
            ({"kind": "cook"}, "no task"),
            ({"kind": "size", "over": ["plate"]}, "did you mean plates"),
            ({"kind": "size", "most_added": "12"}, "12"),
            ({"kind": "size", "most_added": "-1 g"}, "at least 0 g"),
            ({"kind": "sweep"}, "needs a range"),
            ({"kind": "sweep", "vary": "hub.gapp=0 mm..1 mm"}, "hub.gap"),
            ({"kind": "sweep", "vary": "hub.gap=0 mm..1 mm", "draw": "x"}, "whole number"),
            ({"kind": "chance", "samples": "3"}, "from 1000"),
            ({"kind": "limit", "text": "hub = ["}, "not valid TOML"),
        ],
    )
    def test_what_cannot_be_asked_is_told_at_once(self, client, asked, said):
        answer = client.post("/tasks", data={"sheet": SHEET, **asked})
        assert answer.status_code == 422
        assert said in answer.text
        assert client.get("/api/tasks").json()["tasks"] == []

    def test_no_more_than_a_few_run_at_once(self, client, app, monkeypatch):
        monkeypatch.setattr("bladehold.web.jobs.MOST_RUNNING", 0)
        answer = client.post("/api/tasks", json={"kind": "limit", "sheet": SHEET})
        assert answer.status_code == 503

    def test_what_broke_down_is_told(self, client, monkeypatch):
        monkeypatch.setattr("bladehold.web.jobs.sys.executable", "false")
        one = client.post("/api/tasks", json={"kind": "limit", "sheet": SHEET}).json()
        assert self.wait(client, f"/api/tasks/{one['ident']}")["state"] == "broken down"

    def test_strange_files_among_the_results_are_passed_over(self, folder):
        kept = Shelf(folder).kept("results")
        (kept / "a.task.json").write_text("{")
        (kept / "b.task.json").write_text('{"ident": "../../x"}')
        assert Tasks(Shelf(folder)).all() == []


def sync_in(page):
    found = re.search(r'id="sync"[^>]*data-sync="([^"]*)"', page)
    assert found
    return json.loads(unescape(found[1]))


def test_data_of_lists_and_sheets_side_by_side(client):
    rows = client.get(f"/api/compare?sheet={SHEET}&sheet={OTHER}").json()
    assert rows["holds"] == {"A": True, "B": False}
    listed = client.get(f"/api/lines/ostrel_line.csv?base={SHEET}").json()
    assert len(listed["propellers"]) == 2
    assert listed["charts"][0]["$schema"]
    assert client.get("/api/compare?sheet=" + SHEET).status_code == 422

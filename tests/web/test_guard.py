"""Who may ask, how much may be sent, and what goes with every answer."""

import pytest
from fastapi.testclient import TestClient
from starlette.routing import Route
from web_bench import OWN, SHEET

from bladehold.web.guard import LARGEST, POLICY, Guard


@pytest.mark.parametrize(
    "host", ["evil.example", "127.0.0.1.evil.example", "", "localhost@evil.example", "[::1"]
)
def test_another_name_is_refused(client, host):
    answer = client.get("/", headers={"host": host})
    assert answer.status_code == 400
    assert "not asked under that name" in answer.text


@pytest.mark.parametrize("host", ["127.0.0.1:8753", "localhost", "LOCALHOST:80", "[::1]:8753"])
def test_own_names_are_answered_at_any_port(client, host):
    assert client.get("/", headers={"host": host}).status_code == 200


@pytest.mark.parametrize(
    "headers",
    [
        {"origin": "http://127.0.0.1:9"},
        {"origin": "null"},
        {"origin": "https://127.0.0.1.evil.example"},
        {"sec-fetch-site": "cross-site"},
        {"sec-fetch-site": "same-site"},
    ],
)
def test_another_site_changes_nothing(client, folder, text, headers):
    body = {"text": "gone", "began_with": "0" * 64}
    for method, path in (("PUT", f"/api/sheets/{SHEET}"), ("POST", "/api/tasks"), ("POST", "/sheets")):
        answer = client.request(method, path, json=body, headers=headers)
        assert answer.status_code == 403, path
    assert (folder / SHEET).read_text(encoding="utf-8") == text


def test_the_page_itself_may_change_things(client):
    answer = client.post("/api/tasks", json={}, headers={"origin": OWN, "sec-fetch-site": "same-origin"})
    assert answer.status_code == 422  # let in, and found wanting


def test_too_much_is_refused_whether_it_says_so_or_not(client):
    said = client.post(f"/api/sheets/{SHEET}/look", content=b"x" * (LARGEST + 1))
    assert said.status_code == 413

    def pieces():
        for _ in range(LARGEST // 50_000 + 2):
            yield b"x" * 50_000

    unsaid = client.post(f"/api/sheets/{SHEET}/look", content=pieces())
    assert unsaid.status_code == 413


@pytest.mark.parametrize("length", ["-1", "1e3", "٣"])
def test_a_length_that_is_none_is_refused(client, length):
    answer = client.post("/api/tasks", content=b"{}", headers={"content-length": length.encode()})
    assert answer.status_code in {400, 413}


@pytest.mark.parametrize(
    "path", ["/", f"/sheets/{SHEET}", "/static/page.js", "/api/sheets", "/nowhere", "/sheets/none.toml"]
)
def test_every_answer_says_what_a_browser_may_do_with_it(client, path):
    headers = client.get(path).headers
    assert headers["content-security-policy"] == POLICY
    assert "unsafe" not in POLICY
    assert headers["x-content-type-options"] == "nosniff"
    assert headers["x-frame-options"] == "DENY"


@pytest.mark.parametrize(
    "path",
    [
        "/sheets/..%2f..%2fetc%2fpasswd",
        "/sheets/%2e%2e%2foutside.toml",
        "/static/..%2f..%2fapp.py",
        "/static/../app.py",
        "/api/sheets/..%5coutside.toml",
        "/api/sheets/a%00.toml",
        "/lines/..%2foutside.csv?base=" + SHEET,
        "/api/lines/ostrel_line.csv?base=../outside.toml",
        "/api/compare?sheet=../outside.toml&sheet=" + SHEET,
        "/tasks/..%2f..%2fx",
        "/api/tasks/../../x",
    ],
)
def test_no_path_leads_out_of_the_folder(client, tmp_path, path):
    (tmp_path / "outside.toml").write_text("secret = 1")
    answer = client.get(path)
    assert answer.status_code in {404, 422}
    assert "secret" not in answer.text
    assert "Traceback" not in answer.text


def test_a_fault_of_the_program_shows_no_trace(app, caplog):
    async def broken(request):
        raise RuntimeError("a secret of the program")

    app.router.routes.insert(0, Route("/broken", broken))
    answer = TestClient(Guard(app), base_url=OWN, raise_server_exceptions=False).get("/broken")
    assert answer.status_code == 500
    assert "secret" not in answer.text
    assert answer.headers["content-security-policy"] == POLICY
    assert "a secret of the program" in caplog.text


class TestToken:
    """What a server that others can reach asks for."""

    @pytest.fixture
    def far(self, app):
        guarded = Guard(app, ["hangar.local"], token="right")
        return TestClient(guarded, base_url="http://127.0.0.1", headers={"host": "hangar.local"})

    def test_without_it_nothing_is_told(self, far):
        for path in ("/", "/static/page.js", "/api/sheets", f"/api/sheets/{SHEET}"):
            answer = far.get(path)
            assert answer.status_code == 401
            assert "tarn" not in answer.text
        assert far.get("/?token=wrong").status_code == 401
        assert far.get("/", headers={"authorization": "Bearer wrong"}).status_code == 401
        assert far.get("/", headers={"cookie": "bladehold-token=wrong"}).status_code == 401

    def test_the_address_with_it_becomes_a_cookie(self, far):
        answer = far.get("/compare?token=right&all=true", follow_redirects=False)
        assert answer.status_code == 303
        assert answer.headers["location"] == "/compare?all=true"
        cookie = answer.headers["set-cookie"]
        assert "HttpOnly" in cookie
        assert "SameSite=strict" in cookie
        assert far.get("/", headers={"cookie": "bladehold-token=right"}).status_code == 200

    def test_no_address_leads_to_another_server(self, far):
        answer = far.get("http://127.0.0.1//evil.example/?token=right", follow_redirects=False)
        assert answer.headers["location"] == "/evil.example/"

    def test_a_program_shows_it_in_a_header(self, far):
        assert far.get("/api/sheets", headers={"authorization": "Bearer right"}).status_code == 200

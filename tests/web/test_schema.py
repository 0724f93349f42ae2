"""What the description of the data promises, tried with made-up requests: nothing breaks the server."""

import shutil

import pytest
import schemathesis
from hypothesis import HealthCheck, Phase, given, settings
from schemathesis.checks import not_a_server_error
from web_bench import EXAMPLES, SHEET

from bladehold.web.app import create_app
from bladehold.web.guard import OWN_NAMES, Guard

OPERATIONS = [
    ("GET", "/api/sheets"),
    ("POST", "/api/sheets"),
    ("GET", "/api/sheets/{name}"),
    ("PUT", "/api/sheets/{name}"),
    ("POST", "/api/sheets/{name}/look"),
    ("POST", "/api/sheets/{name}/advice"),
    ("POST", "/api/sheets/{name}/failures"),
    ("POST", "/api/sheets/{name}/pictures/{which}"),
    ("GET", "/api/compare"),
    ("GET", "/api/lines/{name}"),
    ("GET", "/api/tasks"),
    ("POST", "/api/tasks"),
    ("GET", "/api/tasks/{ident}"),
    ("GET", "/api/tasks/{ident}/table.csv"),
    ("POST", "/api/tasks/{ident}/stop"),
    ("GET", "/api/tasks/{ident}/events"),
]


@pytest.fixture(scope="module")
def schema(tmp_path_factory):
    folder = tmp_path_factory.mktemp("described")
    shutil.copy(EXAMPLES / SHEET, folder)
    app = create_app(folder)
    yield schemathesis.openapi.from_asgi("/api/openapi.json", Guard(app, [*OWN_NAMES, "testserver"]))
    app.state.desk.tasks.stop_all()


def test_every_operation_is_tried(schema):
    described = {(one.ok().method.upper(), one.ok().path) for one in schema.get_all_operations()}
    assert described == set(OPERATIONS)


@pytest.mark.parametrize(("method", "path"), OPERATIONS)
def test_no_request_breaks_the_server(schema, method, path):
    @given(case=schema[path][method].as_strategy())
    @settings(
        max_examples=25,
        deadline=None,
        database=None,
        phases=[Phase.explicit, Phase.generate],
        suppress_health_check=list(HealthCheck),
    )
    def tried(case):
        # A name that is there leads past the first refusal.
        if case.path_parameters and case.path_parameters.get("name"):
            case.path_parameters["name"] = SHEET
        answer = case.call()
        case.validate_response(answer, checks=[not_a_server_error])
        assert answer.status_code < 500 or answer.status_code == 503
        assert "Traceback" not in answer.text

    tried()

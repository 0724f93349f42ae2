"""The page in a browser: edited, looked at, asked, read by machines that read aloud, at three widths.

Pictures of it are left in out/pages, to be looked at.
"""

from __future__ import annotations

import importlib.util
import json
import re
from pathlib import Path

import pytest
from axe_playwright_python.sync_playwright import Axe
from playwright.sync_api import Page, expect, sync_playwright
from web_bench import OTHER, SHEET

from bladehold.web.shelf import KEPT

ROOT = Path(__file__).parents[2]
PICTURES = ROOT / "out" / "pages"
SWITCHES = [
    "--no-sandbox",
    "--disable-gpu",
    "--disable-quic",
    "--no-first-run",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
]
expect.set_options(timeout=20_000)  # ms: a busy machine draws ten charts slowly
HEAVIEST = 1_500_000  # bytes of a page with all that it loads
_spec = importlib.util.spec_from_file_location("browser", ROOT / "tools" / "browser.py")
assert _spec
assert _spec.loader
_browser = importlib.util.module_from_spec(_spec)
_spec.loader.exec_module(_browser)
FOUND = _browser.found()
pytestmark = pytest.mark.skipif(
    FOUND is None, reason="no Chromium or Chrome was found: `make test` brings Debian's where it may install"
)


@pytest.fixture(scope="module")
def browser():
    with sync_playwright() as playwright:
        made = playwright.chromium.launch(executable_path=FOUND, args=SWITCHES)
        yield made
        made.close()


@pytest.fixture
def page(browser, address):
    """A page whose console must stay empty, errors and warnings, and that asks only its own server."""
    context = browser.new_context(base_url=address, viewport={"width": 1600, "height": 1000})
    context.set_default_timeout(30_000)
    made = context.new_page()
    wrong: list[str] = []
    made.on("console", lambda said: wrong.append(said.text) if said.type in {"error", "warning"} else None)
    made.on("pageerror", lambda error: wrong.append(str(error)))
    made.on(
        "request",
        lambda asked: None if asked.url.startswith((address, "data:", "blob:")) else wrong.append(asked.url),
    )
    made.wrong = wrong
    yield made
    context.close()
    assert not wrong


def at(page: Page, name: str = SHEET) -> Page:
    page.goto(f"/sheets/{name}")
    expect(page.locator("#advice")).to_contain_text("Helps most")
    return page


def field(page: Page, key: str):
    return page.locator(f'[data-key="{key}"]')


def test_typing_changes_text_margin_and_drawing_and_undo_takes_it_back(page, text):
    at(page)
    before = page.locator(".drawing svg").inner_html()
    field(page, "hub.plate_thickness").fill("3 mm")
    expect(page.locator("#verdict")).to_contain_text("DOES NOT HOLD")
    expect(page.locator("#saved")).to_have_text("not saved yet")
    assert 'plate_thickness = "3 mm"' in page.locator("#text").input_value()
    expect(page.locator(".drawing svg")).to_contain_text("does not hold")
    assert page.locator(".drawing svg").inner_html() != before
    page.locator("#undo").click()
    expect(page.locator("#verdict")).to_contain_text("HOLDS")
    expect(field(page, "hub.plate_thickness")).to_have_value("4 mm")
    assert page.locator("#text").input_value() == text
    page.locator("#redo").click()
    expect(field(page, "hub.plate_thickness")).to_have_value("3 mm")


def test_text_and_fields_are_in_step(page, text):
    at(page)
    page.locator("#text").fill(text.replace('gap = "0.05 mm"', 'gap = "0.07 mm"'))
    expect(field(page, "hub.gap")).to_have_value("0.07 mm")
    field(page, "hub.gap").fill("0.08 mm")
    field(page, "hub.plate_width").fill("22 mm")
    expect(page.locator("#text")).to_have_value(re.compile('gap = "0.08 mm"'))
    expect(page.locator("#text")).to_have_value(re.compile('plate_width = "22 mm"'))


def test_quick_typing_in_two_fields_and_the_text_loses_nothing(page):
    at(page)
    for number in range(1, 10):
        field(page, "hub.gap").fill(f"0.0{number} mm")
        field(page, "hub.plate_width").fill(f"2{number} mm")
    text = page.locator("#text")
    text.evaluate("(box) => { box.value += '# a last line\\n'; box.dispatchEvent(new Event('input')); }")
    expect(text).to_have_value(re.compile('gap = "0.09 mm".*# a last line', re.DOTALL))
    expect(text).to_have_value(re.compile('plate_width = "29 mm"'))
    expect(field(page, "hub.gap")).to_have_value("0.09 mm")


def test_a_broken_field_says_in_words_what_is_wrong(page):
    at(page)
    field(page, "hub.gap").fill("1,5 mm")
    row = page.locator('[data-field="hub.gap"]')
    expect(row.locator(".error")).to_contain_text("1,5 mm")
    expect(field(page, "hub.gap")).to_have_attribute("aria-invalid", "true")
    expect(page.locator("#stale")).to_be_visible()
    expect(page.locator("#verdict")).to_contain_text("1 fault keeps")
    expect(page.locator('[data-errors="hub"]')).to_have_text("1 wrong")
    expect(page.locator(".chain")).to_be_visible()
    field(page, "hub.gap").fill("0.15 mm")
    expect(row.locator(".error")).to_be_empty()
    expect(page.locator("#stale")).to_be_hidden()


def test_a_number_opens_to_its_formula_inputs_and_source(page):
    at(page)
    page.locator(".chain a", has_text="pivot screw").click()
    part = page.locator("#part-pivot-screw")
    expect(part).to_have_attribute("open", "")
    part.locator(".check > summary").first.click()
    opened = part.locator(".check[open] .derivation")
    for word in ("Formula:", "Margin = capacity", "Source:", "demand at limit load"):
        expect(opened).to_contain_text(word)
    opened.get_by_role("link", name="assumed inputs").click()
    expect(page.locator("#assumed")).to_have_attribute("open", "")
    field(page, "hub.gap").fill("0.06 mm")
    expect(page.locator("#text")).to_have_value(re.compile("0.06 mm"))
    expect(part).to_have_attribute("open", "")  # what was opened stays so while results follow


def test_charts_are_drawn(page):
    at(page)
    for figure in page.locator(".figure").all():
        figure.locator("summary").click()
    expect(page.locator("#failed")).to_contain_text("HAZARDOUS")
    for figure in page.locator(".figure[data-picture]").all():
        expect(figure.locator("svg.marks")).to_be_visible()
        assert figure.locator("svg.marks text").count() > 5


def test_sliders_show_the_saved_margin_as_a_mark_and_can_be_taken_over(page):
    at(page)
    slider = page.locator('[data-slider="hub.plate_thickness"]')
    slider.focus()
    for _ in range(12):
        page.keyboard.press("ArrowLeft")
    expect(page.locator("#tried")).to_contain_text("DOES NOT HOLD")
    assert page.locator("#tried .ghost").count() == 6
    expect(page.locator("#verdict")).to_contain_text("HOLDS in strength, not for the life asked")
    page.locator("#take-over").click()
    expect(page.locator("#verdict")).to_contain_text("DOES NOT HOLD")
    expect(field(page, "hub.plate_thickness")).not_to_have_value("4 mm")
    page.locator("#another").select_option("hub.lug_width")
    expect(page.locator('[data-slider="hub.lug_width"]')).to_be_visible()


def test_a_slider_stands_where_the_sheet_stands(page):
    """Typed, undone or taken over: never on a number that the results do not rest on."""
    at(page)
    slider = page.locator('[data-slider="hub.plate_thickness"]')
    field(page, "hub.plate_thickness").fill("5 mm")
    expect(slider).to_have_value("5")
    field(page, "hub.plate_thickness").fill("0.2 in")
    expect(slider).to_have_attribute("data-unit", "in")
    page.locator("#undo").click()
    expect(slider).to_have_value("5")
    page.locator("#undo").click()
    expect(slider).to_have_value("4")
    expect(slider).to_have_attribute("data-saved", "4")


def test_two_tabs_at_one_sheet_keep_what_was_typed_in_each(page):
    at(page)
    other = at(page.context.new_page())
    field(page, "hub.gap").fill("0.21 mm")
    expect(page.locator("#text")).to_have_value(re.compile("0.21 mm"))
    field(other, "hub.plate_width").fill("27 mm")
    expect(other.locator("#text")).to_have_value(re.compile("27 mm"))
    page.once("dialog", lambda asked: asked.accept())
    page.reload()
    expect(page.locator("#notice")).to_contain_text("is back")
    expect(field(page, "hub.gap")).to_have_value("0.21 mm")
    expect(field(page, "hub.plate_width")).not_to_have_value("27 mm")
    # A tab that is closed leaves its draft to the next one.
    other.close(run_before_unload=False)
    heir = page.context.new_page()
    heir.goto(f"/sheets/{SHEET}")
    expect(field(heir, "hub.plate_width")).to_have_value("27 mm")


def test_what_was_typed_is_there_after_the_page_was_left(page):
    at(page)
    field(page, "hub.gap").fill("0.12 mm")
    expect(page.locator("#text")).to_have_value(re.compile("0.12 mm"))
    page.once("dialog", lambda asked: asked.accept())
    page.goto("/tasks")
    at(page)
    expect(page.locator("#notice")).to_contain_text("is back")
    expect(field(page, "hub.gap")).to_have_value("0.12 mm")


def test_saving_and_two_browsers_at_one_sheet(page, browser, address, folder, text):
    at(page)
    context = browser.new_context(base_url=address)
    other = at(context.new_page())
    field(page, "hub.gap").fill("0.11 mm")
    page.keyboard.press("Control+s")
    expect(page.locator("#saved")).to_contain_text("the text before is kept")
    assert 'gap = "0.11 mm"' in (folder / SHEET).read_text(encoding="utf-8")
    assert len(list((folder / KEPT / "copies").glob("*.txt"))) == 1
    field(other, "hub.gap").fill("0.13 mm")
    other.keyboard.press("Control+s")  # the field keeps the focus, and the dialogue gives it back
    expect(other.locator("#clash")).to_be_visible()
    expect(other.locator("#difference")).to_contain_text('+gap = "0.13 mm"')
    assert 'gap = "0.11 mm"' in (folder / SHEET).read_text(encoding="utf-8")
    other.locator("#take-theirs").click()
    expect(field(other, "hub.gap")).to_have_value("0.11 mm")
    other.locator("#undo").click()
    expect(field(other, "hub.gap")).to_have_value("0.13 mm")
    other.locator("#save").click()
    expect(other.locator("#saved")).to_contain_text("the text before is kept")
    assert 'gap = "0.13 mm"' in (folder / SHEET).read_text(encoding="utf-8")
    context.close()
    page.wrong[:] = [said for said in page.wrong if "409" not in said]


def test_a_task_is_followed_and_stopped(page):
    at(page)
    page.locator("#draw").fill("3000")
    page.locator('[data-ask="sweep"] button').click()
    expect(page.locator("#told")).to_contain_text("of 3000")
    page.locator("#stop").click()
    expect(page.locator(".notice")).to_contain_text("Stopped, after")
    at(page)
    page.locator('[data-ask="limit"] button').click()
    expect(page.locator(".told table")).to_contain_text("pivot screw")
    expect(page.locator(".told th").filter(has_text="load")).to_have_text("load\nfactor", use_inner_text=True)


def test_a_range_that_cannot_be_swept_is_told_in_its_form_and_nothing_is_lost(page):
    at(page)
    ranges = page.locator("#vary")
    expect(ranges).to_have_value(re.compile(r"^propeller\.blade_mass=25\.5 g\.\.42\.5 g\n"))
    page.locator("#one-more").select_option(label="hub: gap")
    expect(ranges).to_have_value(re.compile(r"\nhub\.gap=0\.0375 mm\.\.0\.0625 mm$"))
    ranges.fill("hub.plate_thicknes=3 mm..5 mm")
    field(page, "hub.gap").fill("0.06 mm")
    page.locator('[data-ask="sweep"] button').click()
    expect(page.locator('[data-ask="sweep"] .error')).to_contain_text("plate_thickness")
    expect(ranges).to_have_value("hub.plate_thicknes=3 mm..5 mm")
    expect(field(page, "hub.gap")).to_have_value("0.06 mm")
    ranges.press("Control+End")
    ranges.type(" ")
    expect(page.locator('[data-ask="sweep"] .error')).to_have_text("")
    page.wrong[:] = [said for said in page.wrong if "422" not in said]


def test_reports_are_handed_out(page, folder):
    at(page)
    for ending in ("pdf", "xlsx", "csv"):
        with page.expect_download() as waiting:
            page.locator(f'a[href$="report.{ending}"]').click()
        content = Path(waiting.value.path()).read_bytes()
        assert len(content) > 5_000
        assert content.startswith({"pdf": b"%PDF", "xlsx": b"PK", "csv": b"part,"}[ending])
    page.locator('a[href$="report.html"]').click()
    expect(page.locator("h1").first).to_contain_text("Tarn 6")


def test_the_report_opens_from_disk_without_a_network(browser, client, tmp_path):
    path = tmp_path / "report.html"
    path.write_bytes(client.get(f"/sheets/{SHEET}/report.html").content)
    context = browser.new_context(offline=True)
    page = context.new_page()
    wrong: list[str] = []
    page.on("console", lambda said: wrong.append(said.text) if said.type == "error" else None)
    page.on("pageerror", lambda error: wrong.append(str(error)))
    page.goto(path.as_uri())
    for chart in page.locator("figure").all():
        expect(chart.locator("svg, canvas, img").first).to_be_attached()
    expect(page.locator("svg.marks").first).to_be_attached()
    expect(page.locator("main")).to_contain_text("What one failure does")
    assert not wrong
    context.close()


@pytest.mark.parametrize(("width", "scheme"), [(390, "light"), (1000, "dark"), (1600, "light")])
def test_pages_at_three_widths_can_be_read_by_everyone(browser, address, width, scheme):
    """No finding that is serious, nothing wider than the window, pictures to look at."""
    PICTURES.mkdir(parents=True, exist_ok=True)
    # The checker is a script of its own, which the pages' policy would not let in.
    context = browser.new_context(
        base_url=address, viewport={"width": width, "height": 900}, color_scheme=scheme, bypass_csp=True
    )
    paths = {"shelf": "/", "bench": f"/sheets/{SHEET}", "tasks": "/tasks"}
    if width == 1600:
        paths["compare"] = f"/compare?sheet={SHEET}&sheet={OTHER}"
    for name, path in paths.items():
        page = context.new_page()
        page.goto(path)
        page.wait_for_load_state("networkidle")
        if name == "bench":
            expect(page.locator("#advice")).to_contain_text("Helps most")
            page.screenshot(path=PICTURES / f"bench-{width}.png")
        page.screenshot(path=PICTURES / f"{name}-{width}-whole.png", full_page=True)
        if width == 1600:
            page.evaluate("document.querySelectorAll('details').forEach((each) => { each.open = true; })")
            page.wait_for_load_state("networkidle")
        assert page.evaluate("document.documentElement.scrollWidth") <= width
        found = Axe().run(page).response["violations"]
        serious = [each for each in found if each["impact"] in {"serious", "critical"}]
        assert not serious, json.dumps([[each["id"], each["nodes"][0]["html"]] for each in serious])
        page.close()
    context.close()


def test_a_page_is_light(page):
    weight: list[int] = []
    page.on("response", lambda answer: weight.append(len(answer.body())))
    at(page)
    page.locator(".figure summary").first.click()
    expect(page.locator(".figure svg.marks").first).to_be_visible()
    assert 200_000 < sum(weight) < HEAVIEST


def test_by_keyboard_alone(page):
    page.goto(f"/sheets/{SHEET}")
    page.keyboard.press("Tab")
    expect(page.locator(".skip")).to_be_focused()
    page.keyboard.press("Enter")
    for _ in range(40):
        page.keyboard.press("Tab")
        if page.evaluate("document.activeElement.dataset.key") == "hub.pivot_radius":
            break
    page.keyboard.type("31 mm")
    expect(page.locator("#text")).to_have_value(re.compile('pivot_radius = "31 mm"'))


def test_on_paper_there_are_results_and_no_forms(browser, address):
    context = browser.new_context(base_url=address)
    page = at(context.new_page())
    page.emulate_media(media="print")
    expect(page.locator("#verdict")).to_be_visible()
    expect(page.locator(".form")).to_be_hidden()
    expect(page.locator("#whatif")).to_be_hidden()
    expect(page.locator(".drawing svg")).to_be_visible()
    context.close()

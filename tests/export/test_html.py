"""The page in a real browser: it asks for nothing, tells what the report tells, and fits."""

from __future__ import annotations

import json
import shutil
from base64 import b64decode
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from functools import cache, partial
from html import unescape
from pathlib import Path
from typing import Any

import numpy as np
import pytest
from numpy.typing import NDArray
from playwright.sync_api import Browser, Page, sync_playwright

from tests.export.looks import (
    BLOCKED,
    BROKEN,
    CLIPPED,
    FLAT,
    LINES,
    OUTSIDE,
    PIXELS,
    PUSH,
    READ,
    SMALL,
    SPLIT,
    UNSTUCK,
)
from tests.export.pages import Written, written

BROWSERS = ("chromium", "chromium-browser", "google-chrome")
CHROMIUM = next(filter(None, map(shutil.which, BROWSERS)), None)
DEMO, NESTED, THREE = "mt2-drawbar-8", "mt3-nested-9", "compact-long-travel-8"
TELEPHONE, DESK = (390, 844), (1280, 900)
OF_THE_TEST = "ReadPixels"
"""A driver that works in software complains where a test reads pixels back."""

pytestmark = pytest.mark.skipif(CHROMIUM is None, reason=f"none of {', '.join(BROWSERS)} on PATH")


@pytest.fixture(scope="module")
def browser() -> Iterator[Browser]:
    with sync_playwright() as playwright:
        made = playwright.chromium.launch(executable_path=CHROMIUM, args=["--no-sandbox"])
        yield made
        made.close()


@pytest.fixture(scope="module")
def page_of(tmp_path_factory: pytest.TempPathFactory) -> Callable[[str], Written]:
    """Return what writes the page of a profile, each once."""
    return cache(partial(written, folder=tmp_path_factory.mktemp("pages")))


@pytest.fixture
def demo(page_of: Callable[[str], Written]) -> Written:
    return page_of(DEMO)


@pytest.fixture
def nested(page_of: Callable[[str], Written]) -> Written:
    return page_of(NESTED)


@contextmanager
def opened(
    browser: Browser,
    of: Written,
    size: tuple[int, int] = DESK,
    *,
    before: str = "",
    also: tuple[str, ...] = (),
) -> Iterator[Page]:
    """Yield a page that asks for nothing but itself and says nothing on the console."""
    context = browser.new_context(viewport={"width": size[0], "height": size[1]})
    if before:
        context.add_init_script(before)
    said: list[str] = []
    asked: list[str] = []
    page = context.new_page()
    page.on("console", lambda message: said.append(f"{message.type}: {message.text}"))
    page.on("pageerror", lambda error: said.append(str(error)))
    page.on("request", lambda request: asked.append(request.url))
    page.goto(of.address)
    yield page
    assert [line for line in said if OF_THE_TEST not in line] == []
    assert set(asked) <= {of.address, *also}
    context.close()


def told(page: Page, name: str) -> float:
    """Return a reading of the page as a number, its unit left out."""
    text = page.locator(f"#told-{name}").inner_text().split("=")[0]
    return float(text.replace("\N{MINUS SIGN}", "-").split()[0])


def pushed_to(page: Page, way: int, pushed_mm: float) -> None:
    page.locator("#ways input").nth(way).evaluate("(input) => input.click()")
    page.evaluate(PUSH, pushed_mm)


@pytest.mark.parametrize("name", [DEMO, NESTED, THREE])
def test_the_readings_are_those_of_the_report(
    browser: Browser, name: str, page_of: Callable[[str], Written]
) -> None:
    of = page_of(name)
    results, curve = of.data["results"], of.data["springs"]["curve"]
    lengths, forces = zip(*((p["length_mm"], p["force_N"]) for p in curve[::-1]), strict=True)
    with opened(browser, of) as page:
        for way, view in enumerate(of.view.ways):
            travel_mm = results["travel_mm"][view.key]
            corners = [position.pushed_mm for position in view.positions[1:-1]]
            at_mm = [0.0, travel_mm / 2, *corners, travel_mm]
            shown = [
                {name: float(text.split()[0]) for name, text in each.items()}
                for each in page.evaluate(READ, [way, at_mm])
            ]
            for pushed_mm, told in zip(at_mm, shown, strict=True):
                room_mm = results["room_extended_mm"][view.key] - pushed_mm
                out_mm = results["projection_extended_mm"][view.key] - pushed_mm
                force_N = np.interp(room_mm, lengths, forces)
                assert told["pushed"] == pytest.approx(pushed_mm, abs=0.00501)
                assert told["projection"] == pytest.approx(out_mm, abs=0.00501)
                assert told["force"] == pytest.approx(force_N, abs=0.0501)
            for told, end in ((shown[0], "extended"), (shown[-1], "compressed")):
                force_N = results["preload_N" if told is shown[0] else "full_force_N"][view.key]
                assert told["force"] == pytest.approx(force_N, abs=0.0501)
                for k, spring in enumerate(flattened(results["springs"])):
                    length_mm = spring[f"length_{end}_mm"][view.key]
                    assert told[f"length-{k}"] == pytest.approx(length_mm, abs=0.00501)
    least_mm = min(min(p.left_mm) for view in of.view.ways for p in view.positions)
    assert least_mm == pytest.approx(results["solid_margin_mm"], abs=1e-9)


def flattened(springs: list[dict[str, Any]]) -> Iterator[dict[str, Any]]:
    for spring in springs:
        yield spring
        if "inner" in spring:
            yield spring["inner"]


def test_inches_are_told_where_the_file_asks_for_them(browser: Browser, tmp_path: Path) -> None:
    of = written(DEMO, tmp_path, inches=True)
    with opened(browser, of) as page:
        pushed_to(page, 0, 1e3)
        mm, inches = page.locator("#told-pushed").inner_text().split("=")
        assert mm.endswith("mm ")
        assert inches.endswith(" in")
        assert float(inches.split()[0]) == pytest.approx(
            of.data["results"]["travel_mm"]["as_drawn"] / 25.4, abs=0.000501
        )
        page.set_viewport_size({"width": TELEPHONE[0], "height": TELEPHONE[1]})
        assert page.evaluate(CLIPPED) == []
        assert page.evaluate(OUTSIDE) == []


def test_the_section_moves_with_the_slider(browser: Browser, nested: Written) -> None:
    scale = nested.section.scale
    names = [body.name for body in nested.view.bodies]
    with opened(browser, nested) as page:
        for way, view in enumerate(nested.view.ways):
            for position in view.positions:
                pushed_to(page, way, position.pushed_mm)
                moved = page.evaluate(
                    """() => Object.fromEntries([...document.querySelectorAll(
                    "#section [data-body]:not(.away)")].map((layer) => [layer.dataset.body,
                    [layer.transform.baseVal[0].matrix.e, layer.querySelector("rect")
                      ?.width.baseVal.value]]))"""
                )
                assert set(moved) == set(names) - {"body", "plug", "set screw"}
                assert moved["plunger"][0] == pytest.approx(
                    scale * position.projection_mm, abs=0.01
                )
                for name, z_mm in zip(names, position.places_mm, strict=True):
                    if name in moved and name != "plunger":
                        assert moved[name][0] == pytest.approx(-scale * z_mm, abs=0.01)
                for coil, length_mm in zip(nested.view.coils, position.lengths_mm, strict=True):
                    assert moved[coil.name][1] == pytest.approx(scale * length_mm, abs=0.01)


def test_a_tap_is_told_where_it_stands_in_its_window(browser: Browser, demo: Written) -> None:
    """Each tap in the orientation that takes it, at both ends of the stroke, as the report says."""
    words = {"bad": "Too", "fair": "Two hands", "good": "One hand"}
    with opened(browser, demo) as page:
        for n, tap in enumerate(demo.data["force_window"]["taps"]):
            page.locator("#tap").select_option(str(n))
            for end in ("preload_N", "full_force_N"):
                pushed_to(page, demo.view.taps[n].way, 0.0 if end == "preload_N" else 1e3)
                grade = (
                    "bad"
                    if tap[end] < tap["least_two_hands_N"] or tap[end] > tap["greatest_feel_N"]
                    else "fair"
                    if tap[end] < tap["least_one_hand_N"]
                    else "good"
                )
                verdict = page.locator("#verdict")
                assert verdict.get_attribute("class") == grade
                assert verdict.inner_text().startswith(words[grade])
            pushed_to(page, 1 - demo.view.taps[n].way, 0.0)
            assert "Turn the plunger" in page.locator("#verdict").inner_text()


def test_every_edge_of_a_window_is_told(browser: Browser, demo: Written) -> None:
    tap = {"twoHands": 2.0, "oneHand": 6.0, "ceiling": 50.0, "ceilingOf": "feel", "rests": False}
    told_at: dict[float | None, str] = {
        1.99: "Too little: the tap slips off",
        2.0: "Two hands on the wrench",
        5.99: "Two hands on the wrench",
        6.0: "One hand will do",
        50.0: "One hand will do",
        50.01: "Too much: the feel limits it",
        None: "The springs are crushed",
    }
    with opened(browser, demo) as page:
        for force_N, words in told_at.items():
            assert (
                page.evaluate("([tap, force]) => standing(tap, force)[1]", [tap, force_N]) == words
            )
        resting = [{**tap, "oneHand": 2.0, "rests": True}, 2.0]
        assert "at rest" in page.evaluate("([tap, force]) => standing(tap, force)[1]", resting)


def test_buttons_and_keys_move_the_plunger(browser: Browser, demo: Written) -> None:
    with opened(browser, demo) as page:
        for button, pushed_mm in (
            ("+1", 1.0),
            ("+0.1", 1.1),
            ("\N{MINUS SIGN}0.1", 1.0),
            ("Home", 12.0),
            ("+1", 12.0),
            ("\N{MINUS SIGN}1", 11.0),
            ("Out", 0.0),
            ("\N{MINUS SIGN}1", 0.0),
        ):
            page.get_by_role("button", name=button, exact=True).click()
            assert told(page, "pushed") == pytest.approx(pushed_mm, abs=0.00501), button
        page.locator("#pushed").focus()
        for key, pushed_mm in (
            ("ArrowRight", 0.1),
            ("PageUp", 1.1),
            ("ArrowLeft", 1.0),
            ("End", 12.0),
            ("Home", 0.0),
        ):
            page.keyboard.press(key)
            assert told(page, "pushed") == pytest.approx(pushed_mm, abs=0.00501), key


def test_the_view_in_three_dimensions_is_drawn_turns_and_moves(
    browser: Browser, demo: Written
) -> None:
    with opened(browser, demo) as page:
        canvas = page.locator("#model")
        canvas.scroll_into_view_if_needed()

        def seen() -> NDArray[np.uint8]:
            wide, high, pixels = page.evaluate(PIXELS)
            return np.frombuffer(b64decode(pixels), np.uint8).reshape(high, wide, 4)[:, :, :3]

        first = seen()
        inked: NDArray[np.bool_] = np.any(first < 250, axis=2)
        assert 0.05 < inked.mean() < 0.6
        assert not inked[[0, -1]].any()
        assert not inked[:, [0, -1]].any()
        assert np.array_equal(seen(), first)
        page.evaluate(PUSH, 12.0)
        assert (seen() != first).any(axis=2).mean() > 0.005
        page.evaluate(PUSH, 0.0)
        assert np.array_equal(seen(), first)
        box = canvas.bounding_box()
        assert box is not None
        middle = box["x"] + box["width"] / 2, box["y"] + box["height"] / 2
        page.mouse.move(*middle)
        page.mouse.down()
        page.mouse.move(middle[0] + 80, middle[1] + 30, steps=3)
        page.mouse.up()
        assert (seen() != first).any(axis=2).mean() > 0.02
        page.mouse.dblclick(*middle)
        assert np.array_equal(seen(), first)
        page.mouse.wheel(0, -300)
        page.wait_for_function("() => scrollY === scrollY")
        assert (seen() < 250).any(axis=2).mean() > 1.3 * inked.mean()
        page.mouse.dblclick(*middle)
        before_px = page.evaluate("() => scrollY")
        pinch(page, middle, (30, 36, 42))
        assert 1.3 * inked.mean() < (seen() < 250).any(axis=2).mean()
        assert page.evaluate("() => scrollY") == before_px
        page.mouse.dblclick(*middle)
        page.get_by_role("button", name="Body", exact=True).click()
        assert (seen() < 250).any(axis=2).mean() < 0.8 * inked.mean()
        canvas.focus()
        before = seen()
        page.keyboard.press("ArrowLeft")
        assert not np.array_equal(seen(), before)


def pinch(page: Page, middle: tuple[float, float], apart_px: tuple[float, ...]) -> None:
    """Put two fingers on the page and move them apart."""
    touch = page.context.new_cdp_session(page)
    for n, half in enumerate(apart_px):
        fingers = [{"x": middle[0] + side * half, "y": middle[1], "id": side} for side in (-1, 1)]
        kind = "touchMove" if n else "touchStart"
        touch.send("Input.dispatchTouchEvent", {"type": kind, "touchPoints": fingers})
    touch.send("Input.dispatchTouchEvent", {"type": "touchEnd", "touchPoints": []})


def tally(page: Page, ticked: int) -> bool:
    """Tell whether the page says that so many of its boxes are ticked."""
    boxes = page.locator(".tick input").count()
    return boxes > 100 and page.locator("#done").inner_text() == f"{ticked} of {boxes} done"


def test_ticks_and_sizes_outlive_a_reload_and_can_be_cleared(
    browser: Browser, demo: Written
) -> None:
    with opened(browser, demo) as page:
        page.locator(".tick input").nth(1).check()
        page.get_by_label("nose diameter ok").check()
        step = page.get_by_label("actual size, step 2").first
        step.fill("5.02")
        page.get_by_label("actual, nose diameter").fill("21.93")
        assert tally(page, 2)
        page.reload()
        ticked = [n for n, box in enumerate(page.locator(".tick input").all()) if box.is_checked()]
        assert len(ticked) == 2
        assert ticked[0] == 1
        assert page.get_by_label("nose diameter ok").is_checked()
        assert step.input_value() == "5.02"
        assert page.get_by_label("actual, nose diameter").input_value() == "21.93"
        assert demo.document.parameters_hash in page.evaluate("() => Object.keys(localStorage)[0]")
        clear = page.locator("#clear")
        clear.click()
        assert tally(page, 2)
        assert "again" in clear.inner_text()
        clear.click()
        assert tally(page, 0)
        assert step.input_value() == ""
        assert page.evaluate("() => localStorage.length") == 0


def test_ticks_are_kept_under_the_parameters(browser: Browser, tmp_path: Path) -> None:
    """Two packs share the store of a browser that opens files; what is no note of ours is borne."""
    one, other = (written(DEMO, tmp_path / each, parameters_hash=each) for each in ("one", "two"))
    with opened(browser, one, also=(other.address,)) as page:
        page.locator(".tick input").first.check()
        key = page.evaluate("() => document.body.dataset.key").replace("one", "two")
        page.evaluate("(key) => localStorage.setItem(key, '{no note')", key)
        page.goto(other.address)
        assert tally(page, 0)
        page.goto(one.address)
        assert tally(page, 1)


def test_a_browser_without_webgl_and_storage_is_borne(browser: Browser, demo: Written) -> None:
    with opened(browser, demo, before=BLOCKED + FLAT) as page:
        page.locator(".tick input").first.check()
        assert tally(page, 1)
        page.locator("#clear").click()
        page.locator("#clear").click()
        assert tally(page, 0)
        assert page.locator("#no-model").is_visible()
        assert not page.locator("#model").is_visible()
        pushed_to(page, 0, 12.0)
        assert told(page, "pushed") == 12.0


def test_contents_lead_to_every_chapter(browser: Browser, demo: Written) -> None:
    with opened(browser, demo, TELEPHONE) as page:
        links = page.locator("#contents a")
        assert not links.first.is_visible()
        page.locator("#menu").click()
        last = page.get_by_role("link", name="Parameters", exact=True)
        last.click()
        assert not links.first.is_visible()
        heading = page.locator("summary", has_text="Parameters")
        page.wait_for_function("() => scrollY > 1000")
        box = heading.bounding_box()
        assert box is not None
        assert 62 <= box["y"] < 300
        assert page.locator("details[open] table").first.is_visible()
        targets = [link.get_attribute("href") or "" for link in links.all()]
        assert len(targets) == len(set(targets)) > 15
        for target in targets:
            assert page.locator(target).count() == 1, target


@pytest.mark.parametrize("name", [DEMO, THREE])
def test_nothing_is_cut_off_overlaps_or_is_too_small_to_hit(
    browser: Browser, name: str, page_of: Callable[[str], Written]
) -> None:
    with opened(browser, page_of(name)) as page:
        for wide, high in (TELEPHONE, (820, 1180), (1080, 810), DESK):
            page.set_viewport_size({"width": wide, "height": high})
            assert page.evaluate(SMALL) == []
            assert page.evaluate(OUTSIDE) == []
            page.evaluate(UNSTUCK)
            assert page.evaluate("() => document.documentElement.scrollWidth") <= wide
            assert page.evaluate(CLIPPED) == []
            lines = page.evaluate(LINES)
            assert len(lines) > 500
            assert [line for line in lines if line[0] < 0 or line[2] > wide] == []
            assert overlaps(lines) == []
            assert page.evaluate(BROKEN) == []
            assert page.evaluate(SPLIT) == []


def overlaps(lines: list[list[Any]]) -> list[tuple[str, str]]:
    """Return the lines of text that lie over one another by more than two pixels both ways."""
    found: list[tuple[str, str]] = []
    near: list[list[Any]] = []
    for line in sorted(lines, key=lambda each: each[1]):
        near = [each for each in near if each[3] > line[1] + 2]
        found += [
            (each[4], line[4]) for each in near if min(each[2], line[2]) - max(each[0], line[0]) > 2
        ]
        near.append(line)
    return found


def test_a_picture_can_be_enlarged_within_its_frame(browser: Browser, demo: Written) -> None:
    with opened(browser, demo, TELEPHONE) as page:
        sheet = page.locator("figure.sheet").first
        before = sheet.locator("svg").bounding_box()
        sheet.get_by_role("button").click()
        after = sheet.locator("svg").bounding_box()
        assert before is not None
        assert after is not None
        assert after["width"] > 2.5 * before["width"]
        assert page.evaluate("() => document.documentElement.scrollWidth") == TELEPHONE[0]


def test_the_page_holds_every_word_of_the_document(demo: Written) -> None:
    text = unescape(demo.path.read_text("utf-8").replace("<wbr>", ""))
    for block in demo.document.sections:
        for line in block.lines:
            assert " ".join(line.split()) in text
        for table in block.tables:
            for row in table.rows:
                for cell in row:
                    marked = "_" in cell or cell == "\N{BALLOT BOX}"
                    assert " ".join(cell.split()) in text or marked


def test_text_of_the_user_is_no_markup(browser: Browser, tmp_path: Path) -> None:
    title = "</script><script>console.error('run')</script><b id='bold'>\"&amp;"
    of = written(DEMO, tmp_path, title=title, banner=(title,))
    with opened(browser, of) as page:
        assert page.title() == title
        assert page.locator("h1").inner_text() == title
        assert page.locator("#bold").count() == 0


def test_the_page_may_do_nothing_else(demo: Written) -> None:
    text = demo.path.read_text("utf-8")
    assert "default-src 'none'" in text
    assert "unsafe" not in text
    assert text.replace("http://www.w3.org/2000/svg", "").find("://") < 0
    assert len(text) < 2_000_000
    assert json.loads(text.split('id="meshes">')[1].split("</script>")[0])

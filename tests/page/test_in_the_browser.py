"""The real page in a real browser: ticks, taking back, no network, two phones, hostile text, accessibility."""

from __future__ import annotations

import io
from typing import TYPE_CHECKING

import pytest
from axe_playwright_python.sync_playwright import Axe
from PIL import Image
from playwright.sync_api import Page, expect

from recap.audit.events import PlaceKey
from recap.audit.state import pins
from tests.page.conftest import DESK, HOSTILE, PHONE, Bench, button, device, open_board

if TYPE_CHECKING:
    from pathlib import Path

    from playwright.sync_api import Browser

C906 = PlaceKey("glim-1", "POWER", "C906")


def pressed(page: Page, ref: str, stage: str, state: str) -> None:
    expect(page.locator(button(page, ref, stage))).to_have_attribute("aria-pressed", state)


@pytest.mark.parametrize("size", [PHONE, DESK], ids=["phone", "desktop"])
def test_a_tick_is_in_the_record_when_it_shows_as_done_and_can_be_undone(
    bench: Bench, browser: Browser, size: tuple[int, int]
) -> None:
    with device(browser, size) as phone:
        page = open_board(phone, bench)
        page.click(button(page, "C906", "in"))
        pressed(page, "C906", "in", "true")
        assert bench.kinds() == [("in", "C906")]
        expect(page.locator(".top .count")).to_have_text("1 of 4 in, 0 checked")
        page.click("#undo")
        pressed(page, "C906", "in", "false")
        expect(page.locator("#undo")).to_be_disabled()
        expect(page.locator("#link")).to_have_attribute("data-state", "online")
        assert bench.kinds() == [("in", "C906"), ("undone", "C906")]


def test_next_leads_through_the_board_and_filters_narrow_it(bench: Bench, browser: Browser) -> None:
    with device(browser) as phone:
        page = open_board(phone, bench)
        expect(page.locator("#next")).to_have_text("Next: C901")
        page.select_option("#value", "47 µF 25 V")
        assert page.locator(".card:visible .ref").all_inner_texts() == ["C906", "C907"]
        expect(page.locator("#next")).to_have_text("Next: C906")
        page.click(button(page, "C906", "in"))
        expect(page.locator("#next")).to_have_text("Next: C907")
        page.select_option("#show", "open")
        expect(page.locator(".card:visible .ref")).to_have_text(["C907"])


def test_a_labels_code_opens_its_place_and_a_false_one_the_board(bench: Bench, browser: Browser) -> None:
    with device(browser) as phone:
        page = open_board(phone, bench, "POWER#C907")
        expect(page.locator('.card[data-ref="C907"] h2')).to_be_focused()
        page.evaluate("location.hash = 'C901'")
        expect(page.locator('.card[data-ref="C901"] h2')).to_be_focused()
        for false in ("%E0%A4%A", "C4711", "</li><script>"):
            page.evaluate(f"location.hash = {false!r}")
            pressed(page, "C901", "in", "false")


def test_without_a_network_ticks_wait_on_the_phone_and_arrive_in_order_once(bench: Bench, browser: Browser) -> None:
    with device(browser) as phone:
        page = open_board(phone, bench)
        phone.set_offline(True)
        page.click(button(page, "C906", "out"))
        page.click(button(page, "C906", "in"))
        page.click(button(page, "C907", "out"))
        pressed(page, "C906", "in", "mixed")
        page.click(button(page, "C907", "out"))
        expect(page.locator("#link")).to_contain_text("4 entries wait on this device")
        assert bench.kinds() == []
        phone.set_offline(False)
        pressed(page, "C906", "in", "true")
        expect(page.locator("#link")).to_have_text("Everything is recorded.")
        assert bench.kinds() == [("out", "C906"), ("in", "C906"), ("out", "C907"), ("undone", "C907")]
        pressed(page, "C907", "out", "false")


def test_an_answer_that_was_lost_on_the_way_makes_no_second_tick(bench: Bench, browser: Browser) -> None:
    with device(browser) as phone:
        page = open_board(phone, bench)
        lost: list[object] = []

        def lose(route: object) -> None:
            # The record gets the tick; the phone never hears of it.
            if not lost:
                lost.append(route.fetch())  # type: ignore[attr-defined]
                route.abort()  # type: ignore[attr-defined]
            else:
                route.continue_()  # type: ignore[attr-defined]

        page.route("**/api/events", lose)
        page.click(button(page, "C906", "in"))
        pressed(page, "C906", "in", "true")
        assert len(lost) == 1
        assert bench.kinds() == [("in", "C906")]


def test_while_the_bench_is_switched_off_ticks_wait_for_it_through_a_reload(tmp_path: Path, browser: Browser) -> None:
    first = Bench(tmp_path)
    with device(browser) as phone:
        page = open_board(phone, first)
        page.wait_for_function("navigator.serviceWorker.ready.then(() => true)")
        page.reload()
        page.wait_for_function("navigator.serviceWorker.controller !== null")
        page.wait_for_selector("#link[data-state=online]")
        first.stop()
        page.click(button(page, "C906", "in"))
        pressed(page, "C906", "in", "mixed")
        page.reload()
        pressed(page, "C906", "in", "mixed")
        page.click(button(page, "C907", "in"))
        expect(page.locator("#link")).to_contain_text("2 entries wait on this device")
        second = Bench(tmp_path, port=first.port)
        pressed(page, "C907", "in", "true")
        assert second.kinds() == [("in", "C906"), ("in", "C907")]
        second.stop()


def test_a_phone_comes_in_by_the_code_and_keeps_its_ticks_when_it_is_shut_out(tmp_path: Path, browser: Browser) -> None:
    first = Bench(tmp_path, lan=True)
    board = "/set/glim-1/board/POWER"
    with device(browser) as phone:
        page = phone.new_page()
        page.goto(f"{first.base}{board}")
        page.get_by_role("link", name="Type the code").click()
        page.fill("#code", "WRONGWRONG")
        page.click("button")
        expect(page.get_by_role("alert")).to_contain_text("not the one in the terminal")
        page.fill("#code", first.code.lower())
        page.click("button")
        expect(page).to_have_url(f"{first.base}{board}")
        page.wait_for_selector("#link[data-state=online]")
        first.stop()
        second = Bench(tmp_path, lan=True, port=first.port)
        page.click(button(page, "C906", "in"))
        page.wait_for_selector("#link[data-state=shut]")
        pressed(page, "C906", "in", "mixed")
        page.goto(f"{second.base}/enter?code={second.code}&to={board}")
        page.click("button")
        pressed(page, "C906", "in", "true")
        assert second.kinds() == [("in", "C906")]
        second.stop()


def test_a_label_leads_to_its_place(bench: Bench, browser: Browser) -> None:
    with device(browser) as phone:
        page = phone.new_page()
        page.goto(f"{bench.base}/set/glim-1/board/POWER/C907")
        expect(page).to_have_url(f"{bench.base}/set/glim-1/board/POWER#C907")
        expect(page.locator('.card[data-ref="C907"] h2')).to_be_focused()


@pytest.mark.parametrize("path", ["/", "/set/glim-1", "/set/glim-1/board/POWER"])
def test_what_kills_stays_in_sight_and_the_work_has_room(bench: Bench, browser: Browser, path: str) -> None:
    with device(browser) as phone:
        page = phone.new_page()
        page.goto(f"{bench.base}{path}")
        for wish in (True, False):
            page.evaluate(f"document.getElementById('cautions').open = {str(wish).lower()}")
            expect(page.get_by_text("picture tubes kill")).to_be_in_viewport(ratio=1)
        box = page.locator(".cautions").bounding_box()
        assert box is not None
        assert box["height"] < PHONE[1] / 4
        page.reload()
        expect(page.locator("#cautions")).not_to_have_attribute("open", "")


@pytest.mark.parametrize("size", [PHONE, (320, 600), DESK])
def test_the_caution_in_short_and_the_name_of_the_place_stay_in_sight_at_work(
    bench: Bench, browser: Browser, size: tuple[int, int]
) -> None:
    with device(browser, size) as context:
        page = open_board(context, bench)
        page.emulate_media(reduced_motion="reduce")
        for _ in range(3):
            page.click("#next")
            ref = page.locator(".card.next")
            expect(page.locator(".mind")).to_be_in_viewport(ratio=1)
            head = page.locator(".top").bounding_box()
            name = ref.locator("h2").bounding_box()
            assert head is not None
            assert name is not None
            assert name["y"] >= head["y"] + head["height"]  # not below the header
            ref.locator('[data-stage="in"]').click()
        page.click(".mind")
        expect(page.get_by_text("picture tubes kill")).to_be_in_viewport(ratio=1)


@pytest.mark.parametrize("path", ["/", "/set/glim-1", "/set/glim-1/board/POWER"])
def test_nothing_stands_beyond_the_edge_of_a_small_phone(bench: Bench, browser: Browser, path: str) -> None:
    with device(browser, (320, 600)) as context:
        page = context.new_page()
        page.goto(f"{bench.base}{path}")
        beyond = "document.documentElement.scrollWidth - document.documentElement.clientWidth"
        assert page.evaluate(beyond) == 0


def test_two_phones_on_one_set_agree(bench: Bench, browser: Browser) -> None:
    with device(browser) as one, device(browser, DESK) as other:
        left, right = open_board(one, bench), open_board(other, bench)
        left.click(button(left, "C906", "in"))
        right.click(button(right, "C907", "in"))
        for page in (left, right):
            pressed(page, "C906", "in", "true")
            pressed(page, "C907", "in", "true")
        right.click(button(right, "C906", "in"))
        pressed(left, "C906", "in", "false")
        expect(left.locator("#undo")).to_be_disabled()


def test_a_reload_in_the_middle_loses_nothing(bench: Bench, browser: Browser) -> None:
    with device(browser) as phone:
        page = open_board(phone, bench)
        page.evaluate("document.querySelectorAll('[data-stage=out]').forEach((b) => b.click()); location.reload()")
        page.wait_for_selector("#link[data-state=online]")
        for ref in ("C901", "C905", "C906", "C907"):
            pressed(page, ref, "out", "true")
        assert sorted(ref or "" for _, ref in bench.kinds()) == ["C901", "C905", "C906", "C907"]


def test_text_from_a_catalogue_or_list_never_becomes_script(bench: Bench, browser: Browser) -> None:
    with device(browser) as phone:
        page = open_board(phone, bench)
        broken: list[str] = []
        page.on("console", lambda message: broken.append(message.text))
        expect(page.locator('.card[data-ref="C906"] .part')).to_contain_text(HOSTILE)
        page.locator('.card[data-ref="C906"] summary').click()
        page.fill("#n3", HOSTILE)
        page.press("#n3", "Enter")
        expect(page.locator('.card[data-ref="C906"] .told')).to_have_text(f"note: {HOSTILE}")
        page.goto(f"{bench.base}/set/glim-1")
        expect(page.locator(".story")).to_contain_text(HOSTILE)
        assert page.title() == "glim-1"
        assert page.locator("img, main script").count() == 0
        assert broken == []


def test_what_was_found_fitted_and_measured_is_told_and_recorded(bench: Bench, browser: Browser) -> None:
    with device(browser) as phone:
        page = open_board(phone, bench)
        card = page.locator('.card[data-ref="C906"]')
        card.locator("summary").click()
        for field, text in (("#f3", "33 µF 16 V"), ("#m3", "41,8")):
            page.fill(field, text)
            page.press(field, "Enter")
        expect(card.locator(".told li")).to_have_text(
            ["old part was marked: 33 µF 16 V", "old part measured: 41.8 µF (capacitance)"]
        )
        assert [dict(e.data) for e in bench.record.events()] == [
            {"found": "33 µF 16 V"},
            {"of": "old", "quantity": "capacitance", "unit": "µF", "value": "41.8"},
        ]


def test_a_photo_takes_pins_and_the_next_position_lights_up(bench: Bench, browser: Browser, tmp_path: Path) -> None:
    out = io.BytesIO()
    Image.new("RGB", (800, 600), "#6a8").save(out, "JPEG")
    with device(browser) as phone:
        page = open_board(phone, bench)
        page.click("#photo summary")
        page.set_input_files("#upload", {"name": "b.jpg", "mimeType": "image/jpeg", "buffer": out.getvalue()})
        expect(page.locator("#pinning")).to_be_visible()
        page.click("#pinning")
        page.select_option("#pinref", "C906")
        box = page.locator("#picture").bounding_box()
        assert box is not None
        page.click("#picture", position={"x": box["width"] / 4, "y": box["height"] / 2})
        page.locator("#stage").focus()
        for _ in range(5):
            page.keyboard.press("ArrowRight")
        page.keyboard.press("Enter")
        page.click("#pinning")
        expect(page.locator(".pin")).to_have_count(2)
        for ref in ("C901", "C905"):
            page.click(button(page, ref, "in"))
        expect(page.locator(".pin.next")).to_have_text("C906")
        expect(page.locator("#link")).to_have_text("Everything is recorded.")
        placed = pins(bench.record.events())
        assert abs(placed[C906].x - 0.25) < 0.01
        assert abs(placed[C906].y - 0.5) < 0.01
        assert abs(placed[PlaceKey("glim-1", "POWER", "C907")].x - 0.6) < 0.001
        page.locator(".pin.next").click()
        expect(page.locator('.card[data-ref="C906"] h2')).to_be_focused()


def test_everything_can_be_done_from_the_keyboard(bench: Bench, browser: Browser) -> None:
    with device(browser, DESK) as desk:
        page = open_board(desk, bench)
        page.locator(button(page, "C901", "out")).focus()
        page.keyboard.press("Space")
        pressed(page, "C901", "out", "true")
        page.keyboard.press("Tab")
        page.keyboard.press("Enter")
        pressed(page, "C901", "in", "true")
        page.locator("#next").focus()
        page.keyboard.press("Enter")
        expect(page.locator('.card[data-ref="C905"] h2')).to_be_focused()


def test_other_work_on_a_set_is_recorded(bench: Bench, browser: Browser) -> None:
    with device(browser) as phone:
        page = phone.new_page()
        page.goto(f"{bench.base}/set/glim-1")
        page.select_option("#what", "borrowed")
        page.select_option("#with", "glim-2")
        page.select_option("#workboard", "POWER")
        page.fill("#worktext", "sound module")
        page.click("#work button")
        expect(page.locator(".story li").first).to_contain_text("module borrowed from glim-2: sound module")


@pytest.mark.parametrize(
    ("path", "scheme"),
    [
        ("/", "light"),
        ("/set/glim-1", "dark"),
        ("/set/glim-1/board/POWER", "light"),
        ("/set/glim-1/board/POWER", "dark"),
        ("/enter", "light"),
        ("/set/nobody", "dark"),
    ],
)
def test_no_page_has_a_barrier_that_axe_can_find(bench: Bench, browser: Browser, path: str, scheme: str) -> None:
    # axe-core, rules of WCAG 2.1 A and AA.
    with device(browser, scheme=scheme) as phone:
        page = phone.new_page()
        page.goto(f"{bench.base}{path}")
        if "board" in path:
            page.click(button(page, "C906", "in"))
            pressed(page, "C906", "in", "true")
            page.click("#photo summary")
            page.locator('.card[data-ref="C906"] summary').click()
        # CSP keeps foreign script out, the scanner's too: it comes in through the debugger.
        found = Axe().run(page)
        assert found.violations_count == 0, found.generate_report()

"""Who and what is turned away: no code, foreign names, foreign pages, too much, paths that climb, false photos."""

from __future__ import annotations

import http.client
import io
import json
from typing import TYPE_CHECKING, Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from PIL import Image

from recap.audit.events import EventKind, new_event, stamp
from recap.fit.page.gate import CODE_LENGTH, WRONG_CODES, Gate
from recap.fit.page.intake import MOST_BYTES, checked_event
from recap.fit.page.pictures import LONGEST_SIDE, PhotoError, checked_photo
from recap.fit.page.serve import own_hosts, qr_text
from recap.fit.page.workshop import board_address, units
from tests.page.conftest import Bench, lists

if TYPE_CHECKING:
    from collections.abc import Mapping


def ask(
    bench: Bench, method: str, path: str, body: bytes | None = None, headers: Mapping[str, str | None] | None = None
) -> tuple[int, str, http.client.HTTPMessage]:
    """Send one request as our own page would, but for the headers given; None leaves one out."""
    own = {"Host": f"127.0.0.1:{bench.port}", "Origin": bench.base, "Sec-Fetch-Site": "same-origin"}
    sent = {k: v for k, v in {**own, **(headers or {})}.items() if v is not None}
    connection = http.client.HTTPConnection("127.0.0.1", bench.port, timeout=10)
    connection.putrequest(method, path, skip_host=True, skip_accept_encoding=True)
    for name, value in sent.items():
        connection.putheader(name, value)
    if body is not None and "Content-Length" not in sent:
        connection.putheader("Content-Length", str(len(body)))
    connection.endheaders()
    try:
        if body is not None:
            connection.send(body)
        answer = connection.getresponse()
        return answer.status, answer.read().decode("utf-8", "replace"), answer.headers
    finally:
        connection.close()


def document(**changes: Any) -> dict[str, Any]:
    event = new_event(EventKind.IN)
    base = {"id": event.id, "kind": "in", "at": stamp(event.at), "set": "glim-1", "board": "POWER", "ref": "C906"}
    return {**base, "data": {}, **changes}


def tell(bench: Bench, *documents: object, headers: Mapping[str, str | None] | None = None) -> tuple[int, Any]:
    status, text, _ = ask(bench, "POST", "/api/events", json.dumps({"events": documents}).encode(), headers)
    return status, json.loads(text) if text.startswith("{") else text


@pytest.mark.parametrize(
    "host", ["evil.example", "evil.example:80", "127.0.0.1", "127.0.0.1:1", "localhost.evil.example", "", None]
)
def test_a_foreign_host_name_is_refused(quiet: Bench, host: str | None) -> None:
    status, _, _ = ask(quiet, "GET", "/", headers={"Host": host})
    assert status in {400, 421}


@pytest.mark.parametrize(
    "headers",
    [
        {"Origin": "http://evil.example"},
        {"Origin": "null"},
        {"Origin": None},
        {"Origin": None, "Sec-Fetch-Site": None},
        {"Sec-Fetch-Site": "cross-site"},
        {"Sec-Fetch-Site": "same-site"},
    ],
)
def test_a_write_from_another_page_is_refused(quiet: Bench, headers: dict[str, str | None]) -> None:
    assert tell(quiet, document(), headers=headers)[0] == 403
    assert quiet.kinds() == []


def test_our_own_write_is_taken(bench: Bench) -> None:
    status, answer = tell(bench, document())
    assert (status, answer["results"][0]["status"]) == (200, "recorded")


@pytest.mark.parametrize("method", ["PUT", "DELETE", "PATCH", "OPTIONS", "TRACE"])
def test_other_methods_are_refused(quiet: Bench, method: str) -> None:
    assert ask(quiet, method, "/api/events")[0] in {403, 405}


@pytest.mark.parametrize(
    "path",
    [
        "/static/../app.py",
        "/static/..%2fapp.py",
        "/static/%2e%2e/app.py",
        "/static/....//app.py",
        "/static//etc/passwd",
        "/static/%00",
        "/photo/../record.db",
        "/photo/..%2F..%2Frecord.db.jpg",
        "/photo/record.db",
        "/record.db",
        "/set/..%2f..%2fetc%2fpasswd",
        "/set/glim-1/board/..%2f..%2f",
        "//evil.example/",
        "/templates/base.html",
    ],
)
def test_paths_that_climb_find_nothing(quiet: Bench, path: str) -> None:
    status, text, _ = ask(quiet, "GET", path)
    assert status in {400, 404, 405}
    assert "root:" not in text
    assert "import" not in text


def test_what_is_too_large_is_refused_before_it_is_read(quiet: Bench) -> None:
    too_much = str(26_000_000)
    assert ask(quiet, "POST", "/api/photo?set=glim-1&board=POWER", b"", {"Content-Length": too_much})[0] == 413
    assert ask(quiet, "POST", "/api/events", b"x" * (MOST_BYTES + 1))[0] == 413
    assert ask(quiet, "POST", "/api/events", b"", {"Content-Length": "-5"})[0] in {400, 413}


def test_a_body_without_a_length_is_counted_as_it_comes(quiet: Bench) -> None:
    chunk = b"10000\r\n" + b"x" * 0x10000 + b"\r\n"
    status, _, _ = ask(
        quiet, "POST", "/api/events", chunk * 8 + b"0\r\n\r\n", {"Transfer-Encoding": "chunked", "Content-Length": None}
    )
    assert status in {400, 413}
    assert quiet.kinds() == []


@pytest.mark.parametrize("body", [b"", b"[]", b"{}", b'{"events": 3}', b'{"events": [', b"\xff\xfe", b"[" * 100_000])
def test_what_is_no_list_of_events_is_refused(quiet: Bench, body: bytes) -> None:
    assert ask(quiet, "POST", "/api/events", body)[0] == 400


def test_every_event_is_answered_for_itself_and_a_bad_one_stops_no_other(bench: Bench) -> None:
    _, answer = tell(bench, document(ref="C99"), document(), 17, document(set="nobody"), document(kind="received"))
    assert [r["status"] for r in answer["results"]] == ["refused", "recorded", "refused", "refused", "refused"]
    assert "no position" in answer["results"][0]["reason"]


def test_half_a_character_from_a_page_is_refused_like_any_other_bad_event(bench: Bench) -> None:
    _, answer = tell(bench, document(by="\ud800"), document(kind="note", data={"text": "hum \udfff"}), document())
    assert [r["status"] for r in answer["results"]] == ["refused", "refused", "recorded"]
    assert "half a character" in answer["results"][0]["reason"]


def test_answers_carry_the_headers_that_keep_other_pages_out(quiet: Bench) -> None:
    for path in ("/", "/static/board.js", "/nothing", "/api/set/glim-1"):
        _, _, headers = ask(quiet, "GET", path)
        assert "default-src 'none'" in headers["content-security-policy"]
        assert "unsafe" not in headers["content-security-policy"]
        assert headers["x-content-type-options"] == "nosniff"
        assert "access-control-allow-origin" not in headers
        assert "server" not in headers


@pytest.mark.parametrize("path", ["/", "/set/glim-1", "/api/set/glim-1", "/static/board.js", "/sw.js", "/photo/a.jpg"])
def test_on_the_local_network_nobody_is_served_without_the_code(quiet_lan: Bench, path: str) -> None:
    assert ask(quiet_lan, "GET", path)[0] == 401
    assert ask(quiet_lan, "GET", path, headers={"Cookie": "recap_session=guess"})[0] == 401


def test_on_the_local_network_nobody_writes_without_the_code(quiet_lan: Bench) -> None:
    assert tell(quiet_lan, document())[0] == 401
    assert ask(quiet_lan, "POST", "/api/photo?set=glim-1&board=POWER", b"x")[0] == 401
    assert quiet_lan.kinds() == []


def test_the_code_lets_one_device_in_and_is_then_used_up(lan_bench: Bench) -> None:
    code = lan_bench.code
    assert "█" in lan_bench.told[0]
    form = {"Content-Type": "application/x-www-form-urlencoded"}
    assert ask(lan_bench, "GET", f"/enter?code={code}")[0] == 200
    status, _, headers = ask(lan_bench, "POST", "/enter", f"code={code}&to=/set/glim-1".encode(), form)
    assert (status, headers["location"]) == (303, "/set/glim-1")
    cookie = headers["set-cookie"]
    assert "HttpOnly" in cookie
    assert "SameSite=lax" in cookie
    assert ask(lan_bench, "GET", "/", headers={"Cookie": cookie.split(";")[0]})[0] == 200
    assert ask(lan_bench, "POST", "/enter", f"code={code}".encode(), form)[0] == 403
    assert lan_bench.code != code


def test_who_scans_a_label_first_lands_at_its_place_after_scanning_the_code(lan_bench: Bench) -> None:
    place = "/set/glim-1/board/POWER/C906"
    status, _, headers = ask(lan_bench, "GET", place)
    wanted = headers["set-cookie"]
    assert status == 401
    assert "HttpOnly" in wanted
    cookie = {"Cookie": wanted.split(";")[0]}
    _, page, _ = ask(lan_bench, "GET", f"/enter?code={lan_bench.code}", headers=cookie)
    assert f'name="to" value="{place}"' in page
    form = {"Content-Type": "application/x-www-form-urlencoded"}
    _, _, headers = ask(lan_bench, "POST", "/enter", f"code={lan_bench.code}&to={place}".encode(), form)
    assert headers["location"] == place
    session = {"Cookie": headers["set-cookie"].split(";")[0]}
    status, _, headers = ask(lan_bench, "GET", place, headers=session)
    assert (status, headers["location"]) == (303, "/set/glim-1/board/POWER#C906")


@pytest.mark.parametrize("wanted", ["%2F%2Fevil.example", "https%3A%2F%2Fevil.example", "%0D%0A"])
def test_what_a_forged_cookie_wants_leads_nowhere_else(lan_bench: Bench, wanted: str) -> None:
    _, page, _ = ask(lan_bench, "GET", "/enter", headers={"Cookie": f"recap_wanted={wanted}"})
    assert 'name="to" value="/"' in page


@pytest.mark.parametrize("to", ["//evil.example", "https://evil.example", "/\\evil.example", "/x\r\nSet-Cookie: a=b"])
def test_the_door_leads_nowhere_else(lan_bench: Bench, to: str) -> None:
    from urllib.parse import urlencode

    body = urlencode({"code": lan_bench.code, "to": to}).encode()
    _, _, headers = ask(lan_bench, "POST", "/enter", body)
    assert headers["location"] == "/"


def test_wrong_codes_use_up_the_code() -> None:
    told: list[str] = []
    gate = Gate(told.append)
    assert len(told[0]) == CODE_LENGTH
    assert all(gate.exchange("A" * CODE_LENGTH) is None for _ in range(WRONG_CODES))
    assert len(told) == 2
    assert gate.exchange(told[0]) is None
    token = gate.exchange(f" {told[1].lower()} ")
    assert gate.knows(token)
    assert not gate.knows(None)
    assert not gate.knows("")


def test_the_page_answers_under_its_own_names_only() -> None:
    assert own_hosts("127.0.0.1", 8470) == {"127.0.0.1:8470", "localhost:8470"}
    assert own_hosts("192.168.7.2", 80) == {"192.168.7.2:80", "192.168.7.2"}
    assert own_hosts("fd00::1", 8470) == {"[fd00::1]:8470"}


def test_the_code_in_the_terminal_is_drawn_light_on_dark_with_a_quiet_zone() -> None:
    lines = qr_text("http://192.168.7.2:8470/enter?code=ABCDEFGHJK").splitlines()
    assert len({len(line) for line in lines}) == 1
    assert set(lines[0]) == {"█"}


def photo_with_location() -> bytes:
    picture = Image.new("RGB", (4000, 1000), "#375")
    exif = Image.Exif()
    exif[0x010E] = "my bench"
    exif[0x0112] = 6
    exif.get_ifd(0x8825)[1] = "N"
    exif.get_ifd(0x8825)[2] = (48.0, 12.0, 30.0)
    out = io.BytesIO()
    picture.save(out, "JPEG", exif=exif, comment=b"secret comment")
    return out.getvalue()


def test_a_photo_is_stripped_of_location_bounded_and_turned_upright(bench: Bench) -> None:
    before = photo_with_location()
    assert b"Exif" in before
    status, text, _ = ask(bench, "POST", "/api/photo?set=glim-1&board=POWER", before)
    assert status == 200
    digest = json.loads(text)["photo"]
    kept = bench.record.photo(digest)
    assert kept is not None
    assert b"Exif" not in kept.content
    assert b"secret comment" not in kept.content
    with Image.open(io.BytesIO(kept.content)) as picture:
        assert picture.size == (LONGEST_SIDE // 4, LONGEST_SIDE)
        assert not picture.getexif()
        assert "comment" not in picture.info
    assert ask(bench, "GET", f"/photo/{digest}.jpg")[0] == 200


@pytest.mark.parametrize(
    "content",
    [
        b"",
        b"<svg xmlns='http://www.w3.org/2000/svg' onload='alert(1)'/>",
        b"GIF89a" + bytes(100),
        b"\x89PNG\r\n\x1a\n" + bytes(200),
        photo_with_location()[:2000],
        b"%PDF-1.7",
    ],
    ids=["empty", "svg", "gif", "broken png", "cut jpeg", "pdf"],
)
def test_what_is_no_photo_is_refused(quiet: Bench, content: bytes) -> None:
    status, text, _ = ask(quiet, "POST", "/api/photo?set=glim-1&board=POWER", content)
    assert status == 415
    assert "reason" in json.loads(text)
    assert quiet.record.photos() == ()


def test_a_small_file_that_unpacks_to_a_huge_picture_is_refused() -> None:
    out = io.BytesIO()
    Image.new("1", (9_000, 9_000)).save(out, "PNG")
    assert len(out.getvalue()) < 200_000
    with pytest.raises(PhotoError, match="too many pixels"):
        checked_photo(out.getvalue())


@pytest.mark.parametrize("size", [(1, 40_000), (40_000, 1)])
def test_a_strip_that_is_all_length_is_refused_before_it_is_unpacked(size: tuple[int, int]) -> None:
    """One of 60 million rows, 230 KB to send, took two gigabytes and half a minute."""
    out = io.BytesIO()
    Image.new("RGB", size).save(out, "PNG")
    with pytest.raises(PhotoError, match="too many pixels"):
        checked_photo(out.getvalue())


@pytest.mark.filterwarnings("error")
def test_odd_notes_inside_a_picture_are_thrown_away_in_silence() -> None:
    """An Exif block cut short: nothing of it belongs on the terminal beside the bench page."""
    out = io.BytesIO()
    Image.new("RGB", (50, 50)).save(out, "JPEG", exif=b"Exif\0\0II*\0\x08\0\0\0\xff\xff")
    assert checked_photo(out.getvalue()).width == 50


@given(
    st.binary(max_size=300),
    st.sampled_from([b"", b"\xff\xd8\xff\xe0", b"\x89PNG\r\n\x1a\n", b"RIFF\x00\x01\x00\x00WEBPVP8 "]),
)
@settings(max_examples=60, deadline=None)
def test_whatever_is_uploaded_there_is_a_photo_or_a_reason(tail: bytes, head: bytes) -> None:
    try:
        outcome = checked_photo(head + tail).media
    except PhotoError as fault:
        outcome = f"refused: {fault}"
    assert outcome == "image/jpeg" or outcome.startswith("refused: ")


json_values = st.recursive(
    st.none() | st.booleans() | st.floats() | st.integers() | st.text(max_size=20),
    lambda inner: st.lists(inner, max_size=3) | st.dictionaries(st.text(max_size=8), inner, max_size=3),
    max_leaves=6,
)


@given(
    kind=st.sampled_from([kind.value for kind in EventKind]),
    data=st.dictionaries(st.sampled_from(["found", "part", "text", "x", "y", "value", "undoes", "what"]), json_values),
    ref=st.none() | st.sampled_from(["C906", "C99"]),
)
@settings(max_examples=150, deadline=None)
def test_whatever_a_phone_sends_is_an_event_of_this_bench_or_refused(
    kind: str, data: dict[str, object], ref: str | None
) -> None:
    known = units(lists(), ())
    try:
        event = checked_event(document(kind=kind, data=data, ref=ref), known)
    except ValueError:
        return
    assert event.kind.value == kind
    assert ref in {None, "C906"}
    assert set(event.data) <= {"found", "part", "text", "x", "y", "value", "undoes", "what"}


def test_boards_with_awkward_names_have_an_address_that_leads_back(quiet: Bench) -> None:
    address = board_address("glim-1", "A/B 100%")
    assert address == "/set/glim-1/board/A%2FB%20100%25"
    status, text, _ = ask(quiet, "GET", address)
    assert status == 200
    assert "A/B 100%" in text
    assert ask(quiet, "GET", "/set/glim-1/board/power")[0] == 200

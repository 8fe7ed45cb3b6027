"""The page as an ASGI application: thin handlers over the record and the lists."""

from __future__ import annotations

import json
import threading
from dataclasses import dataclass, field
from pathlib import Path
from typing import TYPE_CHECKING, Any
from urllib.parse import parse_qs, quote, unquote

from jinja2 import Environment, FileSystemLoader, StrictUndefined
from starlette.applications import Starlette
from starlette.concurrency import run_in_threadpool
from starlette.exceptions import HTTPException
from starlette.responses import FileResponse, HTMLResponse, JSONResponse, PlainTextResponse, RedirectResponse, Response
from starlette.routing import Mount, Route
from starlette.staticfiles import StaticFiles

from recap.audit.events import EventKind, new_event
from recap.audit.record import RecordError
from recap.audit.state import Progress, place_states, progress
from recap.fit.page import intake, pictures, workshop
from recap.fit.page.guard import COOKIE, DOOR, WANTED, Guard
from recap.fit.page.status import state_document, story_lines
from recap.order.cautions import AT_THE_BENCH, IN_SHORT
from recap.order.wording import unbroken

if TYPE_CHECKING:
    from collections.abc import Mapping

    from starlette.requests import Request
    from starlette.types import ASGIApp

    from recap.audit.places import Lists
    from recap.audit.record import Record
    from recap.fit.page.guard import Admission
    from recap.fit.page.workshop import Unit

_HERE = Path(__file__).parent
_SESSION_SECONDS = 16 * 3600
_FORM_BYTES = 2000


@dataclass(slots=True)
class Shop:
    """What the handlers work on. Units are worked out anew when an order was kept or goods came."""

    lists: Lists
    record: Record
    _known: tuple[int, int] = (-1, -1)
    _units: Mapping[str, Unit] = field(default_factory=dict)
    _lock: threading.Lock = field(default_factory=threading.Lock)

    def units(self) -> Mapping[str, Unit]:
        """Return the sets as they stand with the orders kept and the goods received so far."""
        with self._lock:
            known = (self.record.order_count(), self.record.last_seq(EventKind.RECEIVED, EventKind.CLOSED))
            if known != self._known:
                self._units = workshop.units(self.lists, self.record.orders(), self.record.events())
                self._known = known
            return self._units


def create_app(lists: Lists, record: Record, admission: Admission) -> ASGIApp:
    """Return the page for a bench; ``admission`` says who may use it."""
    app = Starlette(
        routes=[
            Route("/", sets_page),
            Route("/set/{set}", set_page),
            Route("/set/{set}/board/{board}", board_page),
            Route("/set/{set}/board/{board}/{place}", place_page),
            Route(DOOR, enter_page, methods=["GET"]),
            Route(DOOR, enter, methods=["POST"]),
            Route("/api/set/{set}", set_state),
            Route("/api/events", take_events, methods=["POST"]),
            Route("/api/photo", take_photo, methods=["POST"]),
            Route("/photo/{digest}.jpg", photo),
            Route("/sw.js", service_worker),
            Mount("/static", StaticFiles(directory=_HERE / "static")),
        ],
        exception_handlers={HTTPException: problem, RecordError: record_problem},  # type: ignore[dict-item]
    )
    app.state.shop = Shop(lists, record)
    app.state.admission = admission
    app.state.templates = Environment(
        loader=FileSystemLoader(_HERE / "templates"), autoescape=True, undefined=StrictUndefined
    )
    app.state.templates.filters["unbroken"] = unbroken
    app.state.templates.globals.update(
        set_address=workshop.set_address,
        board_address=workshop.board_address,
        caution_lines=AT_THE_BENCH,
        caution_in_short=IN_SHORT,
    )
    return Guard(app, admission)


def sets_page(request: Request) -> Response:
    """Show every set with its progress."""
    shop = _shop(request)
    states = place_states(shop.record.events())
    sets = [(unit, progress(unit.keys, states)) for unit in shop.units().values()]
    return _page(request, "sets.html", sets=sets)


def set_page(request: Request) -> Response:
    """Show a set's boards, its other work and what was recorded last."""
    unit, shop = _unit(request), _shop(request)
    events = shop.record.events(unit.name)
    states = place_states(events)
    boards = [(board, _board_progress(board, states)) for board in unit.boards]
    others = [name for name in shop.units() if name != unit.name]
    return _page(request, "set.html", unit=unit, boards=boards, others=others, story=story_lines(events))


def board_page(request: Request) -> Response:
    """Show one board to work on."""
    unit, shop = _unit(request), _shop(request)
    board = unit.board(_name(request, "board"))
    if board is None:
        raise HTTPException(404, f"{unit.name} has no such board.")
    states = place_states(shop.record.events(unit.name))
    return _page(request, "board.html", unit=unit, board=board, done=_board_progress(board, states))


def place_page(request: Request) -> Response:
    """Lead from a label to its place on the board's page."""
    board, place = _name(request, "board"), _name(request, "place")
    return RedirectResponse(f"{workshop.board_address(_unit(request).name, board)}#{quote(place, safe='')}", 303)


def enter_page(request: Request) -> Response:
    """Ask for the code; it is used up only when the form is sent, not by a preview of the link."""
    code = request.query_params.get("code", "")[:40]
    wanted = request.query_params.get("to") or unquote(request.cookies.get(WANTED, "/"))
    return _page(request, "enter.html", code=code, to=_local(wanted), wrong=False)


async def enter(request: Request) -> Response:
    """Exchange the code for a session."""
    form = parse_qs((await _body(request, _FORM_BYTES)).decode("utf-8", "replace"))
    gate = request.app.state.admission.gate
    to = _local(form.get("to", ["/"])[0])
    token = None if gate is None else gate.exchange(form.get("code", [""])[0])
    if gate is not None and token is None:
        return _page(request, "enter.html", status=403, code="", to=to, wrong=True)
    answer = RedirectResponse(to, 303)
    if token is not None:
        secure = request.app.state.admission.secure
        answer.set_cookie(COOKIE, token, _SESSION_SECONDS, httponly=True, samesite="lax", secure=secure)
    answer.delete_cookie(WANTED, path=DOOR)
    return answer


def set_state(request: Request) -> Response:
    """Tell the state of a set, or only the number of the latest event where nothing is newer than ``after``."""
    unit, shop = _unit(request), _shop(request)
    after = request.query_params.get("after", "0")
    last = shop.record.last_seq()
    if after.isdecimal() and int(after[:18]) == last:
        return JSONResponse({"seq": last})
    return JSONResponse(state_document(unit, shop.record.events(unit.name), last))


async def take_events(request: Request) -> Response:
    """Record what a phone tells, in order; each event is answered for itself."""
    try:
        document = json.loads(await _body(request, intake.MOST_BYTES))
        events = document["events"]
    except (ValueError, KeyError, TypeError, RecursionError):
        return JSONResponse({"reason": "not a list of events"}, 400)
    if not isinstance(events, list) or len(events) > intake.MOST_EVENTS:
        return JSONResponse({"reason": f"a list of at most {intake.MOST_EVENTS} events"}, 400)
    shop = _shop(request)
    results = await run_in_threadpool(lambda: intake.take_in(events, shop.units(), shop.record))
    return JSONResponse({"results": results})


async def take_photo(request: Request) -> Response:
    """Check a photo, store it without anything but the picture, and note whose board it shows."""
    shop = _shop(request)
    unit = shop.units().get(request.query_params.get("set", ""))
    board = None if unit is None else unit.board(request.query_params.get("board", "") or workshop.NO_BOARD)
    if unit is None or board is None:
        return JSONResponse({"reason": "no such board"}, 404)
    content = await _body(request, pictures.MOST_BYTES)
    try:
        checked = await run_in_threadpool(pictures.checked_photo, content)
    except pictures.PhotoError as fault:
        return JSONResponse({"reason": str(fault)}, 415)
    data = {"photo": checked.digest, "width": checked.width, "height": checked.height}
    event = new_event(EventKind.PHOTO, set=unit.name, board=board.name, data=data)
    await run_in_threadpool(shop.record.put_photo, checked)
    await run_in_threadpool(shop.record.append, [event])
    return JSONResponse({"photo": checked.digest})


def photo(request: Request) -> Response:
    """Send a stored photo."""
    found = _shop(request).record.photo(request.path_params["digest"])
    if found is None:
        raise HTTPException(404, "No such photo.")
    return Response(
        found.content, media_type=found.media, headers={"cache-control": "private, max-age=31536000, immutable"}
    )


def service_worker(_: Request) -> Response:
    """Send the worker that keeps the page usable without the network."""
    return FileResponse(_HERE / "static" / "sw.js", media_type="text/javascript")


def problem(request: Request, fault: HTTPException) -> Response:
    """Answer an error in the form that was asked for."""
    if request.url.path.startswith("/api/"):
        return JSONResponse({"reason": fault.detail}, fault.status_code)
    if fault.status_code == 404:  # noqa: PLR2004 - the status of HTTP
        return _page(request, "problem.html", status=404, title="Not here", text=fault.detail)
    return PlainTextResponse(fault.detail, fault.status_code)


def record_problem(request: Request, fault: RecordError) -> Response:
    """Say why nothing could be recorded: the phone keeps what it told, and tells it again."""
    return problem(request, HTTPException(503, str(fault)))


def _shop(request: Request) -> Shop:
    shop: Shop = request.app.state.shop
    return shop


def _name(request: Request, key: str) -> str:
    # The guard keeps a slash inside a name encoded, so that it parts no path.
    return str(request.path_params[key]).replace("%2F", "/")


def _unit(request: Request) -> Unit:
    unit = _shop(request).units().get(_name(request, "set"))
    if unit is None:
        raise HTTPException(404, "No such set on this bench.")
    return unit


def _board_progress(board: workshop.Board, states: Mapping[Any, Any]) -> Progress:
    return progress((card.key for card in board.cards if card.on_job), states)


def _page(request: Request, template: str, status: int = 200, **values: object) -> HTMLResponse:
    return HTMLResponse(request.app.state.templates.get_template(template).render(**values), status)


async def _body(request: Request, most: int) -> bytes:
    """Read the body, refusing it as soon as it is larger than ``most`` bytes."""
    content = bytearray()
    async for chunk in request.stream():
        content += chunk
        if len(content) > most:
            raise HTTPException(413, f"larger than {most} bytes")
    return bytes(content)


def _local(path: str) -> str:
    """Return a path of this server; anything that could lead elsewhere becomes the front page."""
    return path if path.startswith("/") and not path.startswith(("//", "/\\")) and path.isprintable() else "/"

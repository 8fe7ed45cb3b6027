"""Run the page: on this machine alone, or on the local network behind a one-time code."""

from __future__ import annotations

import ipaddress
import signal
import socket
import ssl
from contextlib import contextmanager
from dataclasses import dataclass
from typing import TYPE_CHECKING

import segno
import uvicorn

from recap.fit.page.app import create_app
from recap.fit.page.gate import Gate
from recap.fit.page.guard import Admission

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator
    from pathlib import Path

    from recap.audit.places import Lists
    from recap.audit.record import Record

LOOPBACK = "127.0.0.1"
_SOMEWHERE_ELSE = ("192.0.2.1", 9)
"""An address of RFC 5737, reserved for documentation: asking the way there sends nothing."""


@dataclass(frozen=True, slots=True)
class Place:
    """Where the page is to be served. ``certificate`` and ``key`` are files, for HTTPS."""

    port: int
    lan: bool = False
    address: str | None = None
    certificate: Path | None = None
    key: Path | None = None


@dataclass(frozen=True, slots=True)
class Prepared:
    """A page that listens already and waits to be run."""

    server: uvicorn.Server
    listener: socket.socket
    base: str

    @contextmanager
    def heeding_interrupts(self) -> Iterator[None]:
        """Let Ctrl-C stop the page, even before it serves; in the main thread."""
        before = signal.signal(signal.SIGINT, self.server.handle_exit)
        try:
            yield
        finally:
            signal.signal(signal.SIGINT, before)

    def run(self) -> None:
        """Serve until interrupted."""
        self.server.run(sockets=[self.listener])


class CertificateError(ValueError):
    """A certificate or key that HTTPS can't be had with; the text says why."""


def prepare(lists: Lists, record: Record, place: Place, tell: Callable[[str], None]) -> Prepared:
    """Listen, and ``tell`` the lines for the terminal.

    Raises OSError where the address can't be had, CertificateError where the certificate is of no use.
    """
    _check(place.certificate, place.key)
    host = place.address or (local_address() if place.lan else LOOPBACK)
    listener = _listen(host, place.port)
    port = listener.getsockname()[1]
    secure = place.certificate is not None
    base = f"{'https' if secure else 'http'}://{_bracketed(host)}:{port}"

    def announce(code: str) -> None:
        address = f"{base}/enter?code={code}"
        tell(f"{qr_text(address)}\n{address}\nCode: {code} (for one device; the next follows when it has been used)")

    gate = Gate(announce) if place.lan else None
    if gate is None:
        tell(f"{base}/")
    app = create_app(lists, record, Admission(own_hosts(host, port), gate, secure))
    config = uvicorn.Config(
        app,
        log_level="warning",
        access_log=False,
        server_header=False,
        proxy_headers=False,
        ws="none",
        lifespan="off",  # nothing of ours begins or ends with it, and a Ctrl-C in its midst would be told as an error
        ssl_certfile=place.certificate,
        ssl_keyfile=place.key,
        timeout_graceful_shutdown=2,
    )
    return Prepared(uvicorn.Server(config), listener, base)


def _check(certificate: Path | None, key: Path | None) -> None:
    """Try certificate and key before anything is told or served."""
    if certificate is None:
        return
    try:
        # A key with a passphrase would stop the server later, to ask for it where nobody may be looking.
        ssl.SSLContext(ssl.PROTOCOL_TLS_SERVER).load_cert_chain(certificate, key, password="")
    except OSError as fault:
        raise CertificateError(
            "not a certificate and its key: both must be PEM files that belong together, the key without a passphrase"
        ) from fault


def own_hosts(host: str, port: int) -> frozenset[str]:
    """Return the Host headers under which this server answers, in lower case."""
    names = {host}
    if _is_loopback(host):
        names |= {"localhost", LOOPBACK}
    written = {_bracketed(name) for name in names}
    bare = written if port in {80, 443} else set()
    return frozenset({f"{name}:{port}" for name in written} | bare)


def local_address() -> str:
    """Return this machine's address on its network; raise OSError where it is on none."""
    with socket.socket(socket.AF_INET, socket.SOCK_DGRAM) as asking:
        asking.connect(_SOMEWHERE_ELSE)
        return str(asking.getsockname()[0])


def qr_text(address: str) -> str:
    """Return a QR code drawn with half blocks, dark modules dark on any terminal."""
    rows = [[bool(cell) for cell in row] for row in segno.make(address, error="m").matrix_iter(border=2)]
    if len(rows) % 2:
        rows.append([False] * len(rows[0]))
    blocks = {(False, False): "█", (False, True): "▀", (True, False): "▄", (True, True): " "}
    # Light modules are drawn, dark ones left out: right on dark terminals, and scanners read the inverse as well.
    return "\n".join(
        "".join(blocks[upper, lower] for upper, lower in zip(rows[n], rows[n + 1], strict=True))
        for n in range(0, len(rows), 2)
    )


def _listen(host: str, port: int) -> socket.socket:
    family = socket.AF_INET6 if ":" in host else socket.AF_INET
    listener = socket.socket(family, socket.SOCK_STREAM)
    try:
        listener.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
        listener.bind((host, port))
        listener.listen(128)
    except OSError:
        listener.close()
        raise
    return listener


def _is_loopback(host: str) -> bool:
    try:
        return ipaddress.ip_address(host).is_loopback
    except ValueError:
        return host == "localhost"


def _bracketed(host: str) -> str:
    return f"[{host}]" if ":" in host else host

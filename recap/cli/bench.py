"""``recap bench``: the page beside the soldering iron."""

from __future__ import annotations

from pathlib import Path

import typer

from recap.cli import records
from recap.cli.answers import refuse_one
from recap.cli.steps import BENCH, USAGE

DEFAULT_PORT = 8470


def register(app: typer.Typer) -> None:
    """Add the command."""
    app.command("bench", rich_help_panel=BENCH)(bench)


def bench(
    bench: Path = typer.Argument(..., help="The bench folder."),
    port: int = typer.Option(DEFAULT_PORT, "--port", min=0, max=65535, help="0: any free one."),
    lan: bool = typer.Option(False, "--lan", help="Let phones on the local network in, by a one-time code."),
    address: str | None = typer.Option(None, "--address", help="With --lan: which of this machine's addresses."),
    cert: Path | None = typer.Option(None, "--cert", exists=True, help="Certificate file, for HTTPS."),
    key: Path | None = typer.Option(None, "--key", exists=True, help="Its key file."),
) -> None:
    """Serve the bench page: tick what is out, in and checked; every tick is in the record before it shows as done.

    Without --lan only this machine can open it. With --lan a phone scans the code shown here and
    is let in; each code is good for one device. Over plain HTTP keep the page open while the network is
    gone: ticks wait on the phone, but a reload needs the network (with --cert it doesn't).

    Example: recap bench demo --lan
    """
    if (cert is None) != (key is None):
        refuse_one("wrong-usage", "--cert and --key go together", "--cert", "name both, or neither", status=USAGE)
    if address is not None and not lan:
        refuse_one("wrong-usage", "--address says where --lan listens", "--address", "add --lan", status=USAGE)
    from recap.audit.drawer import noted, rows_of
    from recap.audit.places import Lists
    from recap.fit.page.serve import CertificateError, Place, prepare

    loaded = records.load(bench)
    lists = Lists(loaded.sets, loaded.caplists, loaded.settings)
    with records.opened(bench) as record:
        # Ticks move parts out of the drawer: note what its file says before they do.
        with record.transaction():
            seen = noted(rows_of(loaded.drawer), record.orders(), record.events())
            record.add([] if seen is None else [seen])
        try:
            prepared = prepare(lists, record, Place(port, lan, address, cert, key), typer.echo)
        except CertificateError as fault:
            hint = "name two such files, or leave --cert and --key out"
            refuse_one("wrong-usage", str(fault), f"{cert} {key}", hint, status=USAGE)
        except OSError as fault:
            refuse_one("cannot-listen", f"can't listen on port {port}: {fault}", str(bench), "try another --port")
        with prepared.heeding_interrupts():
            typer.echo("Stop with Ctrl-C; what was ticked stays.", err=True)
            prepared.run()

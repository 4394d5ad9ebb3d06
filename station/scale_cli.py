"""`tarebell scale …`: reading recordings, finding a scale and checking it, from the command line."""

from __future__ import annotations

import json
from typing import BinaryIO

import click

from station.terminal import sentences


@click.group()
def scale() -> None:
    """Read, find and check the bench scale."""


@scale.command()
@click.argument("recording", type=click.File("rb"), default="-")
@click.option("--family", default=None, help="Frame family, when it is known; otherwise it is found out.")
def decode(recording: BinaryIO, family: str | None) -> None:
    """Say what the bytes of a RECORDING mean (a file, or - for standard input): one JSON line a frame.

    No port is opened and nothing is sent. Exit code 1 when there was no frame at all.
    """
    from station.scale.decoded import plain
    from station.scale.recording import recorded_frames

    with sentences():
        found = recorded_frames(recording.read(), family)
        for recorded in found:
            click.echo(json.dumps(plain(recorded.frame) | {"raw": recorded.raw.decode("latin-1")}))
        if not found:
            click.echo("There was no frame in it: the recording is empty or holds nothing but line ends.", err=True)
            raise SystemExit(1)

"""From a blank system to a working bench: Debian made from nothing, in a folder, and the station in it.

Run by hand, or by .ci/nightly, as the administrator of a Debian machine with debootstrap and systemd-container:

    python -m tests.fresh readme bookworm    the README's two commands, as an ordinary user
    python -m tests.fresh bench trixie       systemd/install in a booted system: all that it promises
    python -m tests.fresh offline bookworm   the same from a folder of wheels, in a booted system without a network

Roots lie in /var/tmp/tarebell-fresh (or $FRESH), a Debian each; about 250 MB and, while they are tried, 2 GB more.
Left out: a Pi, its board, its card; arm64; the kernel is this machine's.
"""

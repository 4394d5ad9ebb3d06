"""What a cup is called: by its component, or as the mixing cup."""

from __future__ import annotations

from station.texts import t


def cup_name(cup: str) -> str:
    """Within a sentence."""
    return t("cup {cup}", cup=cup) if len(cup) <= 2 else t(cup)


def cup_title(cup: str) -> str:
    """At the beginning of one."""
    name = cup_name(cup)
    return name[0].upper() + name[1:]

"""How warm the computer is and whether its supply holds, from the kernel's files; not known where there are none."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

HOT_C = 80.0
"""From here on the small computers that this runs on slow themselves down."""
_SUPPLY = "rpi_volt"
_SUPPLY_ALARM = "in0_lcrit_alarm"
_PROCESSOR = ("cpu", "soc", "x86_pkg")
_ABSURD_C = 150.0


@dataclass(frozen=True, slots=True)
class Health:
    """`celsius` is the processor's temperature; `supply_low`: the supply sags. None for what is not known here."""

    celsius: float | None
    supply_low: bool | None

    @property
    def hot(self) -> bool:
        """Whether it is so warm that it slows down."""
        return self.celsius is not None and self.celsius >= HOT_C


def health(root: Path = Path("/")) -> Health:
    """The computer now. `root` is where the kernel's files are looked for; nothing is raised."""
    return Health(_temperature(root / "sys/class/thermal"), _supply_low(root / "sys/class/hwmon"))


def _temperature(folder: Path) -> float | None:
    """The processor's temperature in °C; where no zone is called after one, the warmest."""
    zones: list[tuple[bool, float]] = []
    for zone in sorted(folder.glob("thermal_zone*")):
        text = _text(zone / "temp")
        try:
            celsius = int(text or "") / 1000
        except ValueError:
            continue
        if abs(celsius) < _ABSURD_C:
            kind = (_text(zone / "type") or "").lower()
            zones.append((kind.startswith(_PROCESSOR), celsius))
    return max(zones)[1] if zones else None


def _supply_low(folder: Path) -> bool | None:
    """What the watch over the supply says; None where there is none."""
    for chip in sorted(folder.glob("hwmon*")):
        if _text(chip / "name") == _SUPPLY:
            said = _text(chip / _SUPPLY_ALARM)
            return {"0": False, "1": True}.get(said or "")
    return None


def _text(file: Path) -> str | None:
    try:
        return file.read_text("ascii", errors="replace").strip()
    except OSError:
        return None

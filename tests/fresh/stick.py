"""A stick for a booted root: a file with a file system, mounted in that system while its services run."""

from __future__ import annotations

import os
import subprocess
from collections.abc import Iterator
from contextlib import contextmanager

from tests.fresh.booted import Booted
from tests.fresh.roots import said_by

STICK = "/media/maker/STICK"


@contextmanager
def plugged_in(system: Booted) -> Iterator[str]:
    """Where it is mounted, as a desktop would do it; everybody may write there. Needs loop devices."""
    image = system.root.folder.parent / f"{system.root.folder.name}.stick"
    with image.open("wb") as file:
        file.truncate(32_000_000)
    said_by(["mkfs.ext4", "-q", str(image)])
    device = subprocess.run(
        ["losetup", "--find", "--show", image], capture_output=True, text=True, check=True
    ).stdout.strip()
    try:
        number = os.stat(device).st_rdev
        seen = "/dev/stick-of-the-trial"
        system.run("mknod", seen, "b", str(os.major(number)), str(os.minor(number)))
        system.run("mkdir", "-p", STICK)
        system.run("mount", seen, STICK)
        system.run("chmod", "1777", STICK)
        try:
            yield STICK
        finally:
            system.run("umount", "--lazy", STICK)
            system.run("rm", seen)
    finally:
        subprocess.run(["losetup", "--detach", device], check=False)
        image.unlink()

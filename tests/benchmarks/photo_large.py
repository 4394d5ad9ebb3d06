"""What photos as large as they may be take; run by hand: python -m tests.benchmarks.photo_large

For each kind a picture of fifty million dots: seconds in the process of its own beside the time to read the same
bytes, and the peak of that process as the kernel counts it. Then photos of nearly 10 MB are sent to a whole station
over HTTP by other processes, four at once and two senders at a time: what the station's process gained.
"""

from __future__ import annotations

import io
import re
import subprocess
import sys
import tempfile
import threading
import time
from pathlib import Path

import numpy as np
from PIL import Image, ImageFilter

from station.photos.kinds import PhotoKind
from station.photos.taking import peak_kib, take
from tests.benchmarks.mesh_million import peak_here, read_all
from tests.system.test_door import Phone
from tests.system.whole import Whole

SIDES = 8160, 6120
SEND = """
import sys, urllib.request
url, cookie, token, place, count = sys.argv[1:]
content = open(place, "rb").read()
parts = [b'Content-Disposition: form-data; name="token"\\r\\n\\r\\n' + token.encode()]
for _ in range(int(count)):
    parts.append(b'Content-Disposition: form-data; name="photo"; filename="a.jpg"\\r\\n\\r\\n' + content)
body = b"".join(b"--edge\\r\\n" + part + b"\\r\\n" for part in parts) + b"--edge--\\r\\n"
headers = {"Origin": url.rstrip("/"), "Cookie": cookie, "Content-Type": "multipart/form-data; boundary=edge"}
print(urllib.request.urlopen(urllib.request.Request(url + "photos?number=1", body, headers), timeout=300).status)
"""


def pictures() -> dict[str, tuple[PhotoKind, bytes]]:
    """Fifty million dots: soft shades with a little noise, as a camera sees a part on a bench."""
    wide, high = SIDES
    across, down = np.meshgrid(np.arange(wide, dtype=np.float32) / wide, np.arange(high, dtype=np.float32) / high)
    noise = np.random.default_rng(19).normal(0, 5, (high, wide)).astype(np.float32)
    shades = 90 + 80 * across + noise, 60 + 120 * down + noise, 120 + 60 * across * down + noise
    photo = Image.fromarray(np.stack(shades, axis=-1).clip(0, 255).astype(np.uint8))
    plain = photo.filter(ImageFilter.BoxBlur(4)).quantize(32)
    ways: dict[str, tuple[PhotoKind, Image.Image, dict[str, object]]] = {
        "JPEG": (PhotoKind.JPEG, photo, {"quality": 88}),
        "JPEG, progressive, full colour": (
            PhotoKind.JPEG,
            photo,
            {"quality": 70, "progressive": True, "subsampling": 0},
        ),
        "PNG": (PhotoKind.PNG, photo.filter(ImageFilter.BoxBlur(24)), {"compress_level": 1}),
        "PNG that can be seen through": (PhotoKind.PNG, photo.filter(ImageFilter.BoxBlur(24)).convert("RGBA"), {}),
        "PNG of a palette": (PhotoKind.PNG, plain, {"compress_level": 1}),
        "WebP of half as many": (PhotoKind.WEBP, photo.crop((0, 0, wide, high // 2)), {"quality": 60, "method": 0}),
    }
    found = {}
    for name, (kind, picture, how) in ways.items():
        kept = io.BytesIO()
        picture.save(kept, kind.name, **how)
        found[name] = (kind, kept.getvalue())
    return found


def opened(name: str, kind: PhotoKind, content: bytes) -> None:
    """Tell what one picture takes."""
    with tempfile.TemporaryFile() as file:
        file.write(content)
        file.flush()
        floor = min(read_all(file) for _ in range(3))
        before, begun = peak_here(afresh=True), time.perf_counter()
        try:
            kept = take(file)
        except Exception as no:
            print(f"{name}: {len(content) / 2**20:.1f} MB: {no}")
            return
        took, gained = time.perf_counter() - begun, peak_here() - before
        peak = peak_kib(file, kind)
    print(
        f"{name}: {len(content) / 2**20:.1f} MB, opened in {took:.1f} s, {took / floor:.0f} times the "
        f"{floor * 1000:.1f} ms to read it; peak {peak / 1024:.0f} MB; kept {len(kept.picture) / 1000:.0f} kB; "
        f"the parent gained {gained / 1024:.1f} MB"
    )


def sent(content: bytes) -> None:
    """Tell what the station's process gains while photos come in."""
    with tempfile.TemporaryDirectory() as folder, Whole(Path(folder)) as whole:
        phone = Phone()
        phone.pair(whole)
        whole.ask(whole.station.library.plan("example-silicone", "paddle-grip", "220 g", {"A": "WW-SA-0117"}, "test"))
        page = phone.look(whole, "log/1")
        token = re.search(r'name="token" content="([^"]+)"', page)[1]  # type: ignore[index]
        cookie = "; ".join(f"{one.name}={one.value}" for one in phone._jar)
        place = Path(folder) / "photo"
        place.write_bytes(content)
        before = peak_here(afresh=True)
        sender = [sys.executable, "-c", SEND, whole.station.url, cookie, token, str(place), "4"]
        senders = [threading.Thread(target=lambda: subprocess.run(sender, check=True)) for _ in range(2)]
        for one in senders:
            one.start()
        for one in senders:
            one.join()
        gained = (peak_here() - before) / 1024
    print(f"4 photos of {len(content) / 2**20:.1f} MB from each of 2 phones at a time: gained {gained:.1f} MB")


def main() -> None:
    """Every picture, then the sending."""
    made = pictures()
    for name, (kind, content) in made.items():
        opened(name, kind, content)
    sent(made["JPEG"][1])


if __name__ == "__main__":
    main()

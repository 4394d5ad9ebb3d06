"""The process that opens photos: `python -m station.photos.child KIND LANGUAGE` with the file as standard input.

It limits itself first. It answers with one line of JSON and then, if all went well, the picture and the small one.
"""

from __future__ import annotations

import json
import sys
from typing import Any

from station.confined.limits import limit_itself, peak_kib
from station.errors import StationError
from station.languages import begin_to_speak
from station.photos.kinds import PhotoKind
from station.photos.limits import CHILD_BYTES, CPU_S


def answered(kind: PhotoKind) -> tuple[dict[str, Any], bytes]:
    """The line and the pictures of the photo at standard input."""
    try:
        from PIL import Image

        from station.photos.picture import made, too_many_dots

        try:
            with open(0, "rb", closefd=False) as file:
                file.seek(0)
                photo = made(file, kind)
        except (Image.DecompressionBombError, Image.DecompressionBombWarning):
            raise too_many_dots(kind) from None
    except StationError as refusal:
        return {"refused": str(refusal), "hint": refusal.hint}, b""
    except MemoryError:
        return {"memory": True}, b""
    except Exception as why:  # a damaged file may make the library raise anything
        return {"unreadable": type(why).__name__}, b""
    told = {"wide": photo.wide, "high": photo.high, "picture": len(photo.picture), "small": len(photo.small)}
    return told | {"peak_kib": peak_kib()}, photo.picture + photo.small


def main() -> None:
    """Answers once."""
    limit_itself(CHILD_BYTES, CPU_S)
    begin_to_speak(sys.argv[2])
    told, pictures = answered(PhotoKind[sys.argv[1]])
    sys.stdout.buffer.write(json.dumps(told).encode() + b"\n" + pictures)
    sys.stdout.buffer.flush()


if __name__ == "__main__":
    main()

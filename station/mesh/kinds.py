"""What a file really is, judged from its first bytes and its length; its name only says what it was meant to be."""

from __future__ import annotations

import re
import struct
from dataclasses import dataclass
from enum import Enum

from station.casting.positive import MOST_BYTES
from station.confined.limits import MB
from station.errors import Refused
from station.mesh.limits import MOST_FACETS

HEAD = 4096
"""As many bytes of a file as `judged` wants to see."""
HEADER, FACET = 84, 50
"""Bytes of a binary STL: header with the count, and each facet."""
ACCEPTED = "Send an STL, OBJ, PLY or 3MF file."


class MeshKind(Enum):
    """A kind of mesh file that can be measured; the value is its name."""

    STL = "binary STL"
    STL_TEXT = "STL as text"
    OBJ = "OBJ"
    PLY = "PLY"
    PACKED = "3MF"


@dataclass(frozen=True, slots=True)
class Judged:
    """The kind, and a sentence when the name of the file says something else."""

    kind: MeshKind
    note: str = ""


_ENDINGS = {
    MeshKind.STL: ".stl",
    MeshKind.STL_TEXT: ".stl",
    MeshKind.OBJ: ".obj",
    MeshKind.PLY: ".ply",
    MeshKind.PACKED: ".3mf",
}
_OTHERS = (
    (b"\x89PNG", "a picture (PNG)"),
    (b"\xff\xd8\xff", "a picture (JPEG)"),
    (b"GIF8", "a picture (GIF)"),
    (b"%PDF", "a document (PDF)"),
    (b"\x1f\x8b", "a gzip archive"),
    (b"7z\xbc\xaf", "a 7z archive"),
    (b"\x7fELF", "a program"),
    (b"ISO-10303-21", "a STEP drawing, which holds exact surfaces and no mesh"),
    (b"<", "a page or another text of marks"),
)
_CORNER = re.compile(rb"^\s*v\s+[-+.\d]", re.MULTILINE)
_OBJ_LINE = re.compile(rb"^\s*(?:#|mtllib|o|g|v|vn|vt|s|usemtl|f)(?:\s|$)")


def judged(head: bytes, size: int, name: str) -> Judged:
    """The kind of a file of `size` bytes that begins with `head`. Raises Refused with what is wrong with it."""
    if size == 0:
        raise Refused("The file is empty.", "Was it cut off while it was copied? Send it again.")
    if size > MOST_BYTES:
        raise Refused(
            f"The file has {size / MB:.1f} MB; at most {MOST_BYTES // MB} MB are taken.",
            "Save it with fewer facets, or as binary STL.",
        )
    kind = _kind(head, size, name)
    ending = name[name.rfind(".") :].lower() if "." in name else ""
    note = ""
    if ending and ending != _ENDINGS[kind]:
        note = f"The name ends in {_shown(ending)}, but the file is {kind.value}; it was read as that."
    return Judged(kind, note)


def _kind(head: bytes, size: int, name: str) -> MeshKind:
    text = head.lstrip(b"\xef\xbb\xbf \t\r\n")
    if size >= HEADER and size == HEADER + FACET * (count := _count(head)):
        # By its length alone: some programs begin a binary file with "solid", too.
        if count == 0:
            raise Refused("The file says that it holds no facet.", "Save it again; the part was not in it.")
        if count > MOST_FACETS:
            raise too_many(count)
        return MeshKind.STL
    if head.startswith(b"PK"):
        return MeshKind.PACKED
    if re.match(rb"ply\s", head):
        return MeshKind.PLY
    for magic, words in _OTHERS:
        if text.startswith(magic):
            raise Refused(f"This is {words}, not a mesh.", ACCEPTED)
    plain = b"\0" not in head
    if plain and text[:5].lower() == b"solid" and b"facet" in head.lower():
        return MeshKind.STL_TEXT
    if plain and (_CORNER.search(head) or (_OBJ_LINE.match(text) and name.lower().endswith(".obj"))):
        return MeshKind.OBJ
    if plain and _readable(head):
        raise Refused("This is a text, not a mesh.", ACCEPTED)
    if name.lower().endswith(".stl") and size < HEADER:
        raise Refused(f"The file has {size} bytes; a binary STL has at least {HEADER}.", "Send it again.")
    if name.lower().endswith(".stl"):
        count = _count(head)
        raise Refused(
            f"The file says that it holds {count:,} facets, which take {HEADER + FACET * count:,} bytes; "
            f"it has {size:,}.",
            "It was cut off while it was copied, or it is no STL. Send it again.",
        )
    raise Refused("The file is none of the meshes that can be measured.", ACCEPTED)


def too_many(count: int) -> Refused:
    """The refusal of a mesh with too many facets."""
    return Refused(
        f"The mesh has {count:,} facets; at most {MOST_FACETS:,} are taken.",
        "Save it coarser: a mold does not show facets under a tenth of a millimetre.",
    )


def _count(head: bytes) -> int:
    return int(struct.unpack_from("<I", head, HEADER - 4)[0]) if len(head) >= HEADER else 0


def _readable(head: bytes) -> bool:
    try:
        text = head[:512].decode("utf-8", "ignore")
    except UnicodeDecodeError:
        return False
    return len(text) > 0.9 * min(len(head), 512) and sum(c.isprintable() or c.isspace() for c in text) >= 0.95 * len(
        text
    )


def _shown(ending: str) -> str:
    return "".join(c for c in ending if c.isprintable())[:12]

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
from station.texts import N_, number, t

HEAD = 4096
"""As many bytes of a file as `judged` wants to see."""
HEADER, FACET = 84, 50
"""Bytes of a binary STL: header with the count, and each facet."""
ACCEPTED = N_("Send an STL, OBJ, PLY or 3MF file.")


class MeshKind(Enum):
    """A kind of mesh file that can be measured; the value is its name."""

    STL = N_("binary STL")
    STL_TEXT = N_("STL as text")
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
    (b"\x89PNG", N_("This is a picture (PNG), not a mesh.")),
    (b"\xff\xd8\xff", N_("This is a picture (JPEG), not a mesh.")),
    (b"GIF8", N_("This is a picture (GIF), not a mesh.")),
    (b"%PDF", N_("This is a document (PDF), not a mesh.")),
    (b"\x1f\x8b", N_("This is a gzip archive, not a mesh.")),
    (b"7z\xbc\xaf", N_("This is a 7z archive, not a mesh.")),
    (b"\x7fELF", N_("This is a program, not a mesh.")),
    (b"ISO-10303-21", N_("This is a STEP drawing, which holds exact surfaces and no mesh.")),
    (b"<", N_("This is a page or another text of marks, not a mesh.")),
)
_CORNER = re.compile(rb"^\s*v\s+[-+.\d]", re.MULTILINE)
_OBJ_LINE = re.compile(rb"^\s*(?:#|mtllib|o|g|v|vn|vt|s|usemtl|f)(?:\s|$)")


def judged(head: bytes, size: int, name: str) -> Judged:
    """The kind of a file of `size` bytes that begins with `head`. Raises Refused with what is wrong with it."""
    if size == 0:
        raise Refused(t("The file is empty."), t("Was it cut off while it was copied? Send it again."))
    if size > MOST_BYTES:
        raise Refused(
            t(
                "The file has {size} MB; at most {most} MB are taken.",
                size=number(size / MB, ".1f"),
                most=MOST_BYTES // MB,
            ),
            t("Save it with fewer facets, or as binary STL."),
        )
    kind = _kind(head, size, name)
    ending = name[name.rfind(".") :].lower() if "." in name else ""
    note = ""
    if ending and ending != _ENDINGS[kind]:
        note = t(
            "The name ends in {ending}, but the file is {kind}; it was read as that.",
            ending=_shown(ending),
            kind=t(kind.value),
        )
    return Judged(kind, note)


def _kind(head: bytes, size: int, name: str) -> MeshKind:
    text = head.lstrip(b"\xef\xbb\xbf \t\r\n")
    if size >= HEADER and size == HEADER + FACET * (count := _count(head)):
        # By its length alone: some programs begin a binary file with "solid", too.
        if count == 0:
            raise Refused(t("The file says that it holds no facet."), t("Save it again; the part was not in it."))
        if count > MOST_FACETS:
            raise too_many(count)
        return MeshKind.STL
    if head.startswith(b"PK"):
        return MeshKind.PACKED
    if re.match(rb"ply\s", head):
        return MeshKind.PLY
    for magic, words in _OTHERS:
        if text.startswith(magic):
            raise Refused(t(words), t(ACCEPTED))
    plain = b"\0" not in head
    if plain and text[:5].lower() == b"solid" and b"facet" in head.lower():
        return MeshKind.STL_TEXT
    if plain and (_CORNER.search(head) or (_OBJ_LINE.match(text) and name.lower().endswith(".obj"))):
        return MeshKind.OBJ
    if plain and _readable(head):
        raise Refused(t("This is a text, not a mesh."), t(ACCEPTED))
    if name.lower().endswith(".stl") and size < HEADER:
        words = t("The file has {size} bytes; a binary STL has at least {least}.", size=size, least=HEADER)
        raise Refused(words, t("Send it again."))
    if name.lower().endswith(".stl"):
        count = _count(head)
        raise Refused(
            t(
                "The file says that it holds {count} facets, which take {bytes} bytes; it has {size}.",
                count=number(count, ","),
                bytes=number(HEADER + FACET * count, ","),
                size=number(size, ","),
            ),
            t("It was cut off while it was copied, or it is no STL. Send it again."),
        )
    raise Refused(t("The file is none of the meshes that can be measured."), t(ACCEPTED))


def too_many(count: int) -> Refused:
    """The refusal of a mesh with too many facets."""
    return Refused(
        t(
            "The mesh has {count} facets; at most {most} are taken.",
            count=number(count, ","),
            most=number(MOST_FACETS, ","),
        ),
        t("Save it coarser: a mold does not show facets under a tenth of a millimetre."),
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

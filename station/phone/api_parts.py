"""What shapes of the API are made of: JSON Schema of texts, numbers, lists, objects and enums."""

from __future__ import annotations

from enum import Enum

Shape = dict[str, object]

TEXT: Shape = {"type": "string"}
FLAG: Shape = {"type": "boolean"}
WHOLE: Shape = {"type": "integer"}
NUMBER: Shape = {"type": "number"}
CAST_NUMBER: Shape = {"type": "integer", "minimum": 1, "maximum": 999_999_999}


def obj(**parts: Shape) -> Shape:
    """An object with just these parts, all of them."""
    return {"type": "object", "properties": parts, "required": list(parts), "additionalProperties": False}


def listed(of: Shape) -> Shape:
    """A list."""
    return {"type": "array", "items": of}


def or_none(shape: Shape) -> Shape:
    """This, or null while it is not known or not there."""
    return {"anyOf": [shape, {"type": "null"}]}


def one_of(*values: object) -> Shape:
    """One of these values."""
    return {"enum": list(values)}


def ref(name: str) -> Shape:
    """The shape of this name."""
    return {"$ref": f"#/components/schemas/{name}"}


def named(kind: type[Enum], *others: str) -> Shape:
    """An enum by name, for programs, and in words, for people."""
    return obj(name=one_of(*(one.name for one in kind), *others), words=TEXT)

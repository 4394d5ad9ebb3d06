"""A drawing as SVG: inside a page, where the style sheet gives the looks, or as a file that carries its own."""

from __future__ import annotations

from xml.etree import ElementTree as ET

from station.drawing.marks import Box, Dot, Drawing, Ink, Label, Line, Mark, Path

_EDGES = (Ink.OUTLINE, Ink.FAINT, Ink.DASHED)
_PATTERNED = {Ink.HATCH: "ink-hatch-pattern", Ink.DOTS: "ink-dots-pattern"}

BROAD = 500.0

_OWN_LOOKS = (
    "svg{background:#fff;font-family:sans-serif}"
    ".ink-outline,.ink-mark{stroke:#111;stroke-width:1.6}.ink-faint{stroke:#777;stroke-width:.7}"
    ".ink-dashed{stroke:#111;stroke-width:1.1;stroke-dasharray:5 4}.ink-fill{fill:#49767b;stroke:#111;stroke-width:.8}"
    ".ink-band{fill:#e6d3a3}.ink-shade{fill:#d0d0cc}.ink-hatch,.ink-dots{stroke:#111;stroke-width:.8}"
    ".ink-line{fill:none}.ink-fill.ink-line{stroke-width:2.2}.pattern-mark{stroke:#111;fill:#111}"
)


def svg(drawing: Drawing, *, standalone: bool = False) -> str:
    """The drawing as one <svg> element; `standalone` as a file with its own looks, to scale in mm where it is."""
    root = ET.Element("svg", {"viewBox": f"0 0 {_n(drawing.width)} {_n(drawing.height)}", "role": "img"})
    # A drawing broader than a phone shows legibly may be scrolled there.
    root.set("class", "drawing broad" if drawing.width > BROAD else "drawing")
    root.set("aria-label", drawing.spoken)
    if standalone:
        root.set("xmlns", "http://www.w3.org/2000/svg")
        if drawing.mm_per_unit is not None:
            root.set("width", f"{_n(drawing.width * drawing.mm_per_unit)}mm")
            root.set("height", f"{_n(drawing.height * drawing.mm_per_unit)}mm")
        ET.SubElement(root, "title").text = drawing.title
        ET.SubElement(root, "style").text = _OWN_LOOKS
    if any(getattr(mark, "ink", None) in _PATTERNED for mark in drawing.marks):
        _patterns(root)
    for mark in drawing.marks:
        _added(root, mark)
    return ET.tostring(root, encoding="unicode")


def _patterns(root: ET.Element) -> None:
    defs = ET.SubElement(root, "defs")
    frame = {"width": "7", "height": "7", "patternUnits": "userSpaceOnUse"}
    slanted = ET.SubElement(defs, "pattern", {"id": _PATTERNED[Ink.HATCH], **frame, "patternTransform": "rotate(45)"})
    ET.SubElement(slanted, "line", {"x1": "0", "y1": "0", "x2": "0", "y2": "7", "class": "pattern-mark"})
    dotted = ET.SubElement(defs, "pattern", {"id": _PATTERNED[Ink.DOTS], **frame})
    ET.SubElement(dotted, "circle", {"cx": "2", "cy": "2", "r": "1.1", "class": "pattern-mark"})


def _added(root: ET.Element, mark: Mark) -> None:
    match mark:
        case Line(x1, y1, x2, y2, ink):
            ends = {"x1": _n(x1), "y1": _n(y1), "x2": _n(x2), "y2": _n(y2)}
            ET.SubElement(root, "line", {**ends, **_looks(ink, area=False)})
        case Path(points, ink, closed):
            where = " ".join(f"{_n(x)},{_n(y)}" for x, y in points)
            ET.SubElement(root, "polygon" if closed else "polyline", {"points": where, **_looks(ink, area=closed)})
        case Box(x, y, width, height, ink):
            size = {"x": _n(x), "y": _n(y), "width": _n(max(0.0, width)), "height": _n(max(0.0, height))}
            ET.SubElement(root, "rect", {**size, **_looks(ink, area=True)})
        case Dot(x, y, r, ink):
            ET.SubElement(root, "circle", {"cx": _n(x), "cy": _n(y), "r": _n(r), "class": f"ink-{ink.value} ink-dot"})
        case Label():
            _label(root, mark)


def _label(root: ET.Element, label: Label) -> None:
    said = {
        "x": _n(label.x),
        "y": _n(label.y),
        "font-size": _n(label.size),
        "text-anchor": label.anchor.value,
    }
    if label.bold:
        said["font-weight"] = "700"
    if label.turned:
        said["transform"] = f"rotate(-90 {_n(label.x)} {_n(label.y)})"
    ET.SubElement(root, "text", said).text = label.text


def _looks(ink: Ink, *, area: bool) -> dict[str, str]:
    edge = not area or ink in _EDGES
    looks = {"class": f"ink-{ink.value}" + (" ink-line" if edge else "")}
    if not edge and ink in _PATTERNED:
        looks["fill"] = f"url(#{_PATTERNED[ink]})"
    return looks


def _n(number: float) -> str:
    return f"{number:.2f}".rstrip("0").rstrip(".")

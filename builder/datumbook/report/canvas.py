"""What the drawings of the report page are drawn with: a scale, and a canvas of SVG shapes."""

from __future__ import annotations

from dataclasses import dataclass
from xml.etree.ElementTree import Element, SubElement, tostring

from markupsafe import Markup

from datumbook.messages.findings import marked

WIDE, HIGH, EDGE = 300.0, 116.0, 12.0  # of a drawing and its margin, in its own pixels
LETTER, LINE = 5.6, 13.0  # about how wide a letter is and how high a line


@dataclass(frozen=True)
class Scale:
    """A straight scale: values from low to high over the pixels from first to last."""

    low: float
    high: float
    first: float
    last: float

    def __call__(self, value: float) -> float:
        """The pixel of a value."""
        return self.first + (value - self.low) / ((self.high - self.low) or 1.0) * (
            self.last - self.first
        )


class Canvas:
    """An SVG picture with a few shapes; how a class of them looks is for the page's style."""

    def __init__(self, width: float, height: float, says: str) -> None:
        self.root = Element(
            "svg",
            {"viewBox": f"0 0 {width:g} {height:g}", "role": "img", "aria-label": marked(says)},
        )

    def line(self, style: str, *points: tuple[float, float], closed: bool = False) -> None:
        """A line through points, which `closed` comes back to the first."""
        SubElement(
            self.root,
            "polygon" if closed else "polyline",
            {"class": style, "points": " ".join(f"{x:.1f},{y:.1f}" for x, y in points)},
        )

    def box(self, style: str, left: float, top: float, width: float, height: float) -> None:
        """A rectangle."""
        size = {"x": left, "y": top, "width": width, "height": height}
        SubElement(
            self.root,
            "rect",
            {"class": style, **{name: f"{value:.1f}" for name, value in size.items()}},
        )

    def sign(self, shape: str, style: str, x: float, y: float, half: float = 3.5) -> None:
        """A small mark round a point."""
        if shape == "circle":
            SubElement(
                self.root,
                "circle",
                {"class": style, "cx": f"{x:.1f}", "cy": f"{y:.1f}", "r": f"{half:g}"},
            )
        elif shape == "square":
            self.box(style, x - half, y - half, 2 * half, 2 * half)
        else:
            self.line(style, (x, y - half), (x + half, y + half), (x - half, y + half), closed=True)

    def words(self, said: str, x: float, y: float, at: str = "start", style: str = "") -> None:
        """Words whose start, middle or end stands at a point."""
        SubElement(
            self.root,
            "text",
            {
                **({"class": style} if style else {}),
                "x": f"{x:.1f}",
                "y": f"{y:.1f}",
                "text-anchor": at,
            },
        ).text = marked(said)

    def svg(self) -> Markup:
        """The picture as a part of the page."""
        return Markup(
            tostring(self.root, encoding="unicode")
        )  # every word in it was escaped by the serializer


def cut_to(words: str, width: float) -> str:
    """Words cut to about this width."""
    most = int(width / LETTER)
    return words if len(words) <= most else f"{words[: most - 1]}…"

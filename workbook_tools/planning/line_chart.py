"""A small line chart as inline SVG: told apart by dashes and by words at the lines' ends, not by colour alone."""

from __future__ import annotations

import html
import math
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

_STROKES = (
    ("#15548a", ""),
    ("#b34700", "7 3"),
    ("#333333", "2 3"),
    ("#5a86b0", "10 3 2 3"),
    ("#8a3600", "1 2"),
    ("#777777", "12 4"),
)
_WIDTH, _HEIGHT, _LEFT, _RIGHT, _TOP, _BOTTOM = 640, 230, 58, 190, 14, 40
_NEAR = 13  # labels closer than so many pixels are pushed apart


@dataclass(frozen=True, slots=True)
class Curve:
    """A named line: one value for each step, the first at step 0."""

    name: str
    values: Sequence[float]


def line_chart(title: str, across: str, up: str, curves: Sequence[Curve]) -> str:
    """An SVG of the curves from 0 up. Curves that are alike share one line and stand beside it together."""
    told = _together(curves)
    steps = max((len(curve.values) for curve in told), default=0) - 1
    if steps < 1:
        return ""
    top = _round_up(max(max(curve.values) for curve in told))
    parts = [
        f'<svg class="chart" role="img" viewBox="0 0 {_WIDTH} {_HEIGHT}" xmlns="http://www.w3.org/2000/svg" '
        f'font-family="Liberation Sans, Arial, sans-serif" font-size="11">',
        f"<title>{html.escape(title)}</title>",
        *_axes(steps, top, across, up),
    ]
    ends = _label_heights([_y(curve.values[-1], top) for curve in told])
    for number, (curve, end) in enumerate(zip(told, ends, strict=True)):
        colour, dash = _STROKES[number % len(_STROKES)]
        points = " ".join(f"{_x(step, steps):.1f},{_y(value, top):.1f}" for step, value in enumerate(curve.values))
        dashes = f' stroke-dasharray="{dash}"' if dash else ""
        parts.append(f'<polyline points="{points}" fill="none" stroke="{colour}" stroke-width="2"{dashes}/>')
        right = _WIDTH - _RIGHT
        parts.append(f'<line x1="{right + 4}" x2="{right + 24}" y1="{end:.1f}" y2="{end:.1f}" stroke="{colour}"')
        parts.append(f' stroke-width="2"{dashes}/>')
        parts.append(
            f'<text x="{right + 28}" y="{end + 4:.1f}" fill="{colour}">{html.escape(_short(curve.name))}</text>'
        )
    return "".join([*parts, "</svg>"])


def _together(curves: Sequence[Curve]) -> list[Curve]:
    names: dict[tuple[float, ...], list[str]] = {}
    for curve in curves:
        names.setdefault(tuple(curve.values), []).append(curve.name)
    return [Curve(", ".join(found), values) for values, found in names.items()]


def _short(name: str, most: int = 28) -> str:
    return name if len(name) <= most else name[: most - 1] + "…"


def _round_up(value: float) -> float:
    """The next 1, 2, 2.5 or 5 times a power of ten."""
    if value <= 0:
        return 1.0
    power = 10.0 ** math.floor(math.log10(value))
    return next(step * power for step in (1, 2, 2.5, 5, 10) if step * power >= value)


def _x(step: int, steps: int) -> float:
    return _LEFT + (_WIDTH - _LEFT - _RIGHT) * step / steps


def _y(value: float, top: float) -> float:
    return _HEIGHT - _BOTTOM - (_HEIGHT - _TOP - _BOTTOM) * value / top


def _axes(steps: int, top: float, across: str, up: str) -> list[str]:
    right, floor = _WIDTH - _RIGHT, _HEIGHT - _BOTTOM
    parts = []
    for quarter in range(5):
        value = top * quarter / 4
        y = _y(value, top)
        parts.append(f'<line x1="{_LEFT}" x2="{right}" y1="{y:.1f}" y2="{y:.1f}" stroke="#ddd"/>')
        parts.append(f'<text x="{_LEFT - 6}" y="{y + 4:.1f}" text-anchor="end" fill="#333">{value:,.4g}</text>')
    every = max(1, math.ceil(steps / 12))
    for step in range(0, steps + 1, every):
        x = _x(step, steps)
        parts.append(f'<text x="{x:.1f}" y="{floor + 15}" text-anchor="middle" fill="#333">{step}</text>')
    parts.append(f'<line x1="{_LEFT}" x2="{right}" y1="{floor}" y2="{floor}" stroke="#333"/>')
    middle = (_LEFT + right) / 2
    parts.append(f'<text x="{middle}" y="{_HEIGHT - 6}" text-anchor="middle" fill="#333">{html.escape(across)}</text>')
    height = (floor + _TOP) / 2
    parts.append(
        f'<text transform="translate(12 {height}) rotate(-90)" text-anchor="middle" fill="#333">'
        f"{html.escape(up)}</text>"
    )
    return parts


def _label_heights(wanted: Sequence[float]) -> list[float]:
    """Heights for labels, pushed apart from the bottom up so that none covers another."""
    order = sorted(range(len(wanted)), key=lambda number: -wanted[number])
    found = list(wanted)
    for below, number in pairwise(order):
        found[number] = min(found[number], found[below] - _NEAR)
    return found

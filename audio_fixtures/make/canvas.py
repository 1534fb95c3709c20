"""A canvas for drawn photographs: materials, things with shadows, light and grain. Sizes are in pixels."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from math import cos, pi, sin

import numpy as np
from numpy.typing import NDArray
from PIL import Image, ImageChops, ImageDraw, ImageFilter, ImageFont

Colour = tuple[int, int, int]
Box = tuple[float, float, float, float]
Point = tuple[float, float]
Paint = Callable[[ImageDraw.ImageDraw], None]

_FINE = 2
"""Everything is drawn this many times larger and then reduced, so that edges are smooth."""


def mix(colour: Colour, other: Colour, part: float) -> Colour:
    """`colour` with `part` (0 to 1) of `other` in it."""
    red, green, blue = (round(a + (b - a) * part) for a, b in zip(colour, other, strict=True))
    return red, green, blue


class Canvas:
    """Draws things one upon the other and develops them into a photograph."""

    def __init__(self, size: tuple[int, int], background: Colour, *, seed: int) -> None:
        self.width, self.height = size
        self.random = np.random.default_rng(seed)
        self._image = Image.new("RGB", self._big(*size), background)

    @staticmethod
    def _big(*numbers: float) -> tuple[int, ...]:
        return tuple(round(number * _FINE) for number in numbers)

    def _draw(self, paint: Paint, shadow: tuple[float, float, float] | None) -> None:
        layer = Image.new("RGBA", self._image.size)
        paint(ImageDraw.Draw(layer))
        if shadow:
            right, down, soft = shadow
            shape = ImageChops.offset(layer.getchannel("A"), *self._big(right, down))
            shape = shape.filter(ImageFilter.GaussianBlur(soft * _FINE)).point(lambda alpha: alpha * 0.55)
            self._image.paste((12, 12, 16), mask=shape)
        self._image.paste(layer.convert("RGB"), mask=layer.getchannel("A"))

    def box(
        self, box: Box, colour: Colour, *, round_by: float = 0, edge: Colour | None = None,
        edge_width: float = 2, shadow: tuple[float, float, float] | None = None,
    ) -> None:  # fmt: skip
        """A rectangle, its corners rounded by `round_by`; `shadow` is right, down, softness."""
        width = max(1, round(edge_width * _FINE)) if edge else 0
        self._draw(
            lambda pen: pen.rounded_rectangle(self._big(*box), round_by * _FINE, colour, edge, width), shadow
        )

    def oval(
        self, box: Box, colour: Colour, *, edge: Colour | None = None, edge_width: float = 2,
        shadow: tuple[float, float, float] | None = None,
    ) -> None:  # fmt: skip
        width = max(1, round(edge_width * _FINE)) if edge else 0
        self._draw(lambda pen: pen.ellipse(self._big(*box), colour, edge, width), shadow)

    def shape(
        self, points: Sequence[Point], colour: Colour, *, shadow: tuple[float, float, float] | None = None
    ) -> None:
        big = [self._big(*point) for point in points]
        self._draw(lambda pen: pen.polygon(big, colour), shadow)

    def line(
        self, points: Sequence[Point], colour: Colour, width: float,
        *, shadow: tuple[float, float, float] | None = None,
    ) -> None:  # fmt: skip
        big = [self._big(*point) for point in points]
        self._draw(lambda pen: pen.line(big, colour, round(width * _FINE), joint="curve"), shadow)

    def text(self, at: Point, words: str, colour: Colour, size: float, *, anchor: str = "mm") -> None:
        font = ImageFont.load_default(size * _FINE)
        self._draw(lambda pen: pen.text(self._big(*at), words, colour, font, anchor), None)

    def blob(
        self, centre: Point, radius: float, colour: Colour, *, flat: float = 1.0, rough: float = 0.25
    ) -> None:
        """An uneven round patch: a slice, a scrap, a stain. `flat` below 1 presses it down."""
        sides = 18
        radii = radius * (1 + rough * self.random.uniform(-1, 1, sides))
        angles = [2 * pi * side / sides for side in range(sides)]
        points = [
            (centre[0] + r * cos(a), centre[1] + r * flat * sin(a))
            for r, a in zip(radii, angles, strict=True)
        ]
        self.shape(points, colour, shadow=(2, 3, 4))

    def brushed(self, box: Box, colour: Colour, *, shadow: tuple[float, float, float] | None = None) -> None:
        """Stainless steel: streaks along the width, lighter towards the top."""
        if shadow:
            self.box(box, colour, shadow=shadow)
        left, top, right, bottom = self._big(*box)
        tall, wide = bottom - top, right - left
        streaks = self.random.normal(0, 9, (tall, 1)) + self.random.normal(0, 3, (tall, wide))
        shade = np.linspace(18, -22, tall)[:, None] + streaks
        metal = np.clip(np.array(colour)[None, None] + shade[..., None], 0, 255).astype(np.uint8)
        self._image.paste(Image.fromarray(metal), (left, top))

    def tiles(self, box: Box, colour: Colour, *, size: tuple[float, float], joint: Colour) -> None:
        """Tiles, each a little different, with joints between them."""
        left, top, right, bottom = box
        self.box(box, joint)
        wide, tall = size
        for row in range(int((bottom - top) / tall) + 1):
            for column in range(int((right - left) / wide) + 1):
                x, y = left + column * wide, top + row * tall
                tint = mix(colour, (0, 0, 0), float(self.random.uniform(0, 0.10)))
                end = (min(x + wide - 3, right), min(y + tall - 3, bottom))
                if end[0] > x and end[1] > y:
                    left_top = self._big(x, y)
                    ImageDraw.Draw(self._image).rectangle((*left_top, *self._big(*end)), tint)

    def specks(self, box: Box, colours: Sequence[Colour], count: int, *, size: tuple[float, float]) -> None:
        """Many small uneven patches: crumbs, herbs, grease."""
        pen = ImageDraw.Draw(self._image)
        for _ in range(count):
            x, y = self.random.uniform(box[0], box[2]), self.random.uniform(box[1], box[3])
            wide, tall = self.random.uniform(*size, 2) * (1, 0.7)
            colour = colours[self.random.integers(len(colours))]
            pen.ellipse(self._big(x - wide, y - tall, x + wide, y + tall), colour)

    def scanned(self) -> Image.Image:
        """The picture flat and evenly lit, in few greys."""
        return (
            self._image.resize((self.width, self.height), Image.Resampling.LANCZOS).convert("L").quantize(16)
        )

    def developed(
        self, *, light: Point = (0.5, 0.35), brightness: float = 1.0, blur: float = 0
    ) -> Image.Image:
        """The photograph: light falling off from `light` (parts of width and height), focus, grain."""
        photo = self._image.resize((self.width, self.height), Image.Resampling.LANCZOS)
        y, x = np.mgrid[0 : self.height, 0 : self.width].astype(np.float32)
        away = np.hypot(x / self.width - light[0], y / self.height - light[1])
        lit = np.asarray(photo, np.float32) * (brightness * (1.08 - 0.42 * away))[..., None]
        texture = self.random.normal(0, 4, (self.height, self.width, 1))
        sharp = Image.fromarray(np.clip(lit + texture, 0, 255).astype(np.uint8))
        soft = np.asarray(sharp.filter(ImageFilter.GaussianBlur(blur)) if blur else sharp, np.float32)
        grain = self.random.normal(0, 1.0, soft.shape)
        developed: NDArray[np.uint8] = np.clip(soft + grain, 0, 255).astype(np.uint8)
        return Image.fromarray(developed)

"""Affine maps of the plane."""

from __future__ import annotations

from dataclasses import dataclass

Point = tuple[float, float]


@dataclass(frozen=True, slots=True)
class Affine:
    """The map (x, y) -> (a x + c y + e, b x + d y + f), the order of SVG's matrix()."""

    a: float = 1.0
    b: float = 0.0
    c: float = 0.0
    d: float = 1.0
    e: float = 0.0
    f: float = 0.0

    @staticmethod
    def shift(dx: float, dy: float) -> Affine:
        """Move by (dx, dy)."""
        return Affine(e=dx, f=dy)

    @staticmethod
    def scale(sx: float, sy: float | None = None) -> Affine:
        """Scale about the origin; sy is sx where it is not given."""
        return Affine(a=sx, d=sx if sy is None else sy)

    def __call__(self, point: Point) -> Point:
        """Where the map takes a point."""
        x, y = point
        return (self.a * x + self.c * y + self.e, self.b * x + self.d * y + self.f)

    def then(self, after: Affine) -> Affine:
        """The map that does this one first and `after` second."""
        e, f = after((self.e, self.f))
        return Affine(
            after.a * self.a + after.c * self.b,
            after.b * self.a + after.d * self.b,
            after.a * self.c + after.c * self.d,
            after.b * self.c + after.d * self.d,
            e,
            f,
        )

"""Rays through a lens in one plane, refracted exactly at every surface: an independent stand-in for a camera.

Heights and lengths in mm, angles in radians, light going towards +z from the first surface's vertex at z = 0.
"""

import math
from collections.abc import Callable
from dataclasses import dataclass

from scipy.optimize import brentq


@dataclass(frozen=True)
class Surface:
    radius: float  # inf is flat
    thickness: float  # to the next surface
    index_after: float


@dataclass(frozen=True)
class Lens:
    surfaces: tuple[Surface, ...]
    stop: int  # which surface is the stop

    @property
    def vertices(self) -> list[float]:
        places = [0.0]
        for surface in self.surfaces[:-1]:
            places.append(places[-1] + surface.thickness)
        return places

    def paraxial(self, height: float, slope: float, first: int = 0, last: int | None = None) -> tuple[float, float]:
        """Height and slope just after surface `last`, of a paraxial ray that meets surface `first`."""
        index = 1.0 if first == 0 else self.surfaces[first - 1].index_after
        last = len(self.surfaces) - 1 if last is None else last
        for number in range(first, last + 1):
            surface = self.surfaces[number]
            slope = (index * slope - height * (surface.index_after - index) / surface.radius) / surface.index_after
            index = surface.index_after
            if number < last:
                height += surface.thickness * slope
        return height, slope

    @property
    def focal_length(self) -> float:
        return -1.0 / self.paraxial(1.0, 0.0)[1]

    @property
    def back_focus(self) -> float:
        height, slope = self.paraxial(1.0, 0.0)
        return -height / slope

    @property
    def paraxial_pupil(self) -> float:
        """The entrance pupil behind the first vertex: where rays to the stop's middle seem to cross the axis."""
        from_height = self.paraxial(1.0, 0.0, last=self.stop)[0]
        from_slope = self.paraxial(0.0, 1.0, last=self.stop)[0]
        return from_slope / from_height

    @property
    def front_nodal_point(self) -> float:
        """Behind the first vertex: an axial crossing there leaves the lens with the slope that it came with."""
        by_height, by_slope = self.paraxial(1.0, 0.0)[1], self.paraxial(0.0, 1.0)[1]
        return (by_slope - 1.0) / by_height

    def image_plane(self, object_z: float) -> float:
        """Where a point on the axis at `object_z` (negative: before the lens) is focused paraxially."""
        height, slope = self.paraxial(-object_z, 1.0)
        return self.vertices[-1] - height / slope

    def trace(self, z: float, height: float, angle: float, until: int | None = None) -> tuple[float, float, float]:
        """A real ray from (z, height), refracted through surface `until` or all: where it leaves, and its angle."""
        index, cos, sin = 1.0, math.cos(angle), math.sin(angle)
        last = len(self.surfaces) - 1 if until is None else until
        for vertex, surface in list(zip(self.vertices, self.surfaces, strict=True))[: last + 1]:
            path = _path_to(surface.radius, z - vertex, height, cos, sin)
            z, height = z + path * cos, height + path * sin
            normal_sin = -height / surface.radius
            normal_cos = math.sqrt(1.0 - normal_sin**2)
            ratio = index / surface.index_after
            into = cos * normal_cos + sin * normal_sin
            out = math.sqrt(1.0 - ratio**2 * (1.0 - into**2))
            cos = ratio * cos + (out - ratio * into) * normal_cos
            sin = ratio * sin + (out - ratio * into) * normal_sin
            index = surface.index_after
        return z, height, math.atan2(sin, cos)

    def chief_from_infinity(self, field_deg: float) -> float:
        """Where the real ray to the stop's middle, coming in at this angle, aims to cross the axis."""
        angle = math.radians(field_deg)

        def start(crossing: float) -> float:
            return -crossing * math.tan(angle)

        def miss(crossing: float) -> float:
            return self.trace(0.0, start(crossing), angle, until=self.stop)[1]

        return _root(miss, self.paraxial_pupil)

    def chief_image(self, object_z: float, object_height: float, plane_z: float) -> float:
        """Height on the plane at `plane_z` of the real ray from this point through the middle of the stop."""

        def aim(crossing: float) -> float:
            return math.atan2(-object_height, crossing - object_z)

        def miss(crossing: float) -> float:
            return self.trace(object_z, object_height, aim(crossing), until=self.stop)[1]

        if object_height == 0:
            return 0.0
        angle = aim(_root(miss, self.paraxial_pupil))
        z, height, angle = self.trace(object_z, object_height, angle)
        return height + (plane_z - z) * math.tan(angle)


def _path_to(radius: float, z: float, height: float, cos: float, sin: float) -> float:
    """Length along the ray to a sphere of this radius with its vertex at z = 0 (the crossing by the vertex)."""
    if math.isinf(radius):
        return -z / cos
    along = (z - radius) * cos + height * sin
    beyond = (z - radius) ** 2 + height**2 - radius**2
    root = math.sqrt(along**2 - beyond)
    return -along - root if radius > 0 else -along + root


def _root(miss: Callable[[float], float], near: float) -> float:
    return float(brentq(miss, near - 4.0, near + 4.0, xtol=1e-11, rtol=1e-14))


FLAT = math.inf
# A double Gauss, f/2, at 587.6 nm: mjhoptics/ray-optics, `ag_dblgauss.lis`.
DOUBLE_GAUSS = Lens(
    surfaces=(
        Surface(56.20238, 8.75, 1.622292),
        Surface(152.2858, 0.5, 1.0),
        Surface(37.68262, 12.5, 1.607379),
        Surface(FLAT, 3.8, 1.603417),
        Surface(24.2313, 16.369445, 1.0),
        Surface(FLAT, 13.747957, 1.0),
        Surface(-28.37731, 3.8, 1.603417),
        Surface(FLAT, 11.0, 1.620408),
        Surface(-37.92546, 0.5, 1.0),
        Surface(177.41176, 7.0, 1.620408),
        Surface(-79.41143, 61.487536, 1.0),
    ),
    stop=5,
)


@dataclass(frozen=True)
class SlidingCamera:
    """A lens on a slide on a pan head whose axis is the origin, focused on a point ahead of it.

    `vertex_at_zero` is the first surface's vertex ahead of the axis at slide reading 0.
    """

    lens: Lens
    vertex_at_zero: float
    focused_from_vertex: float
    pixel_mm: float

    def picture_height(self, z_mm: float, slide_mm: float, pan_deg: float) -> float:
        """Height on the sensor, after the pan, of a point on the line-up axis `z_mm` from the pan axis."""
        pan = math.radians(pan_deg)
        ahead = z_mm * math.cos(pan) - (self.vertex_at_zero + slide_mm)
        plane = self.lens.image_plane(-self.focused_from_vertex)
        return self.lens.chief_image(-ahead, -z_mm * math.sin(pan), plane)

    def slip_px(self, model_mm: float, background_mm: float, slide_mm: float, pan_deg: float) -> float:
        model, background = (self.picture_height(z, slide_mm, pan_deg) for z in (model_mm, background_mm))
        return (model - background) / self.pixel_mm

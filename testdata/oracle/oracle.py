"""Cuts profiles with two independent geometry libraries. Reads JSON lines with
name, reach, opening and contours as points; writes JSON lines with the leftover
area, the length of the tool's path and the number of its parts for each library.
For tests only; the handbook ships none of it."""
import json
import sys

import pyclipper
from shapely.geometry import Polygon, box
from shapely.ops import unary_union

QUARTER = 512
SCALE = 1 << 24


def region(contours, opening, reach):
    """The free region by even-odd nesting; for a punch its surroundings."""
    part = Polygon()
    for c in contours:
        part = part.symmetric_difference(Polygon(c).buffer(0))
    if opening:
        return part
    x0, y0, x1, y1 = part.bounds
    m = 8 * reach + 1
    return box(x0 - m, y0 - m, x1 + m, y1 + m).difference(part)


def rings(shape):
    polygons = getattr(shape, "geoms", [shape])
    return [r for p in polygons if not p.is_empty for r in [p.exterior, *p.interiors]]


def geos(job):
    free = region(job["contours"], job["opening"], job["reach"])
    centre = free.buffer(-job["reach"], QUARTER)
    opened = centre.buffer(job["reach"], QUARTER)
    path = rings(centre)
    left = free.difference(opened)
    if not job["opening"]:
        # The outer frame of the surroundings is ours, not the tool's.
        x0, y0, x1, y1 = free.bounds
        m = job["reach"] * 2
        inner = box(x0 + m, y0 + m, x1 - m, y1 - m)
        left = left.intersection(inner)
        frame = max(path, key=lambda r: Polygon(r).area) if path else None
        path = [r for r in path if r is not frame]
    pieces = [g for g in getattr(left, "geoms", [left]) if g.area > 1e-9]
    return {"area": sum(g.area for g in pieces), "length": sum(r.length for r in path), "parts": len(path)}


def clipper(job):
    """The area that the tool's middle can be in, by one offset."""
    free = region(job["contours"], job["opening"], job["reach"])
    paths = orient([[(round(x * SCALE), round(y * SCALE)) for x, y in r.coords[:-1]] for r in rings(free)])
    step = pyclipper.PyclipperOffset(2.0, 1e-5 * SCALE)
    step.AddPaths(paths, pyclipper.JT_ROUND, pyclipper.ET_CLOSEDPOLYGON)
    centre = step.Execute(-job["reach"] * SCALE)
    area = sum(pyclipper.Area(p) for p in centre) / (SCALE * SCALE)
    if not job["opening"]:
        # Less the frame that bounds the surroundings of a punch, moved inward too.
        x0, y0, x1, y1 = free.bounds
        r = 2 * job["reach"]
        area -= (x1 - x0 - r) * (y1 - y0 - r)
    return {"area": area}


def orient(paths):
    """Outer rings counter-clockwise, holes clockwise, by even-odd nesting."""
    out = []
    for i, p in enumerate(paths):
        depth = sum(1 for j, q in enumerate(paths) if i != j and pyclipper.PointInPolygon(p[0], q) == 1)
        out.append(p if pyclipper.Orientation(p) == (depth % 2 == 0) else p[::-1])
    return out


for line in sys.stdin:
    job = json.loads(line)
    print(json.dumps({"name": job["name"], "geos": geos(job), "clipper": clipper(job)}), flush=True)

#!/usr/bin/env python3
"""Makes land_tiles.bin and coast_110m.bin from the TopoJSON files of the npm package world-atlas.

Usage: import.py <folder of the unpacked package> <output folder>      (needs shapely 2; see SOURCE.md)

Rings come joined across the date line and Antarctica runs round the pole without a seam. Cure: unwrap the
longitudes along each ring; a ring that does not come back to its own longitude goes round a pole and is
closed along 90 S; then cut everything into tiles, so that no piece crosses the date line.

Numbers in both files are variable-length integers, seven bits a byte, low bits first, the high bit set on all
bytes but the last; signed ones are zigzag-coded. Coordinates count thousandths of a degree, each as the
difference from the point before it. A ring is: number of points (not closed), then lon and lat differences.

land_tiles.bin   "SKLT" tile_deg, then for each tile, from 90 S up and from 180 W eastward:
                 0 sea | 1 land | 2 + (polygons, then for each: rings - outer first, then holes).
                 Differences start from the tile's south-west corner and go on through the tile.
coast_110m.bin   "SKCO" number of rings, then the rings. Differences start from 0, 0 and go on.
"""
import json
import pathlib
import sys

import shapely
from shapely.affinity import translate
from shapely.geometry import MultiPolygon, Polygon, box

TILE_DEG = 5
STEP = 1000  # per degree


def varint(out, n):
    while n >= 128:
        out.append(n & 127 | 128)
        n >>= 7
    out.append(n)


def signed(out, n):
    varint(out, n * 2 if n >= 0 else -n * 2 - 1)


def decode_arcs(topology):
    (sx, sy), (tx, ty) = topology["transform"]["scale"], topology["transform"]["translate"]
    arcs = []
    for arc in topology["arcs"]:
        x = y = 0
        points = []
        for dx, dy in arc:
            x, y = x + dx, y + dy
            points.append((x * sx + tx, y * sy + ty))
        arcs.append(points)
    return arcs


def ring_points(indices, arcs):
    points = []
    for index in indices:
        arc = arcs[index] if index >= 0 else arcs[~index][::-1]
        points += arc[1:] if points else arc
    return points


def unwrap(points):
    out = [points[0]]
    for lon, lat in points[1:]:
        last = out[-1][0]
        out.append((lon + 360 * round((last - lon) / 360), lat))
    return out


def to_ring(points):
    """The ring as plane coordinates, and whether it had to be closed along 90 S."""
    ring = unwrap(points)
    turn = ring[-1][0] - ring[0][0]
    if abs(turn) < 180:
        return ring, False
    # Round the pole: start the ring at its smallest longitude, so that its ends stand 360 degrees apart.
    body = ring[:-1] if abs(abs(turn) - 360) < 1e-6 else ring
    if turn < 0:
        body = body[::-1]
    start = min(range(len(body)), key=lambda i: body[i][0])
    body = body[start:] + [(lon + 360, lat) for lon, lat in body[:start]]
    first, last = body[0], (body[0][0] + 360, body[0][1])
    return body + [last, (last[0], -90.0), (first[0], -90.0)], True


def load(path):
    topology = json.loads(path.read_text())
    arcs = decode_arcs(topology)
    shapes, pole_rings = [], 0
    for part in topology["objects"]["land"]["geometries"]:
        for polygon in part["arcs"] if part["type"] == "MultiPolygon" else [part["arcs"]]:
            rings = []
            for indices in polygon:
                points = ring_points(indices, arcs)
                if all(lat < -89.99 for _, lat in points):
                    continue  # the source's own seam round the South Pole, a ring without area
                ring, polar = to_ring(points)
                pole_rings += polar
                rings.append(ring)
            if not rings:
                continue
            # Holes must stand on the same turn of the globe as their shell.
            middle = sum(p[0] for p in rings[0]) / len(rings[0])
            holes = []
            for hole in rings[1:]:
                shift = 360 * round((middle - sum(p[0] for p in hole) / len(hole)) / 360)
                holes.append([(lon + shift, lat) for lon, lat in hole])
            shape = Polygon(rings[0], holes)
            shapes.append(shape if shape.is_valid else shapely.make_valid(shape))
    print(f"{path.name}: {len(shapes)} polygons, {pole_rings} round the pole")
    return shapes


def polygons_of(shape):
    if shape.is_empty:
        return []
    parts = getattr(shape, "geoms", [shape])
    out = []
    for part in parts:
        if isinstance(part, Polygon):
            out.append(part)
        elif isinstance(part, MultiPolygon):
            out += list(part.geoms)
    return [p for p in out if p.area > 1e-7]


def on_globe(shapes):
    """Every shape once for each turn of the globe on which it meets longitudes -180 to 180."""
    out = []
    for shape in shapes:
        west, _, east, _ = shape.bounds
        out += [translate(shape, turn) for turn in (-360, 0, 360) if east + turn > -180 and west + turn < 180]
    return shapely.union_all(out)


def quantised(ring):
    points = [(round(lon * STEP), round(lat * STEP)) for lon, lat in list(ring.coords)[:-1]]
    kept = [p for i, p in enumerate(points) if p != points[i - 1]]
    return kept if len(kept) >= 3 else []


def put_ring(out, points, last):
    varint(out, len(points))
    for lon, lat in points:
        signed(out, lon - last[0])
        signed(out, lat - last[1])
        last = (lon, lat)
    return last


def tiles(world):
    out = bytearray(b"SKLT")
    varint(out, TILE_DEG)
    count = [0, 0, 0]
    points = 0
    for south in range(-90, 90, TILE_DEG):
        band = shapely.intersection(world, box(-180, south, 180, south + TILE_DEG))
        for west in range(-180, 180, TILE_DEG):
            cell = box(west, south, west + TILE_DEG, south + TILE_DEG)
            parts = polygons_of(shapely.intersection(band, cell))
            area = sum(p.area for p in parts)
            if area > cell.area - 1e-6:
                out.append(1)
                count[1] += 1
                continue
            coded = []
            for part in parts:
                rings = [quantised(part.exterior)] + [quantised(r) for r in part.interiors]
                if rings[0]:
                    coded.append([r for r in rings if r])
            if not coded:
                out.append(0)
                count[0] += 1
                continue
            out.append(2)
            count[2] += 1
            varint(out, len(coded))
            last = (west * STEP, south * STEP)
            for rings in coded:
                varint(out, len(rings))
                for ring in rings:
                    last = put_ring(out, ring, last)
                    points += len(ring)
    print(f"tiles: {count[0]} sea, {count[1]} land, {count[2]} mixed, {points} points, {len(out)} bytes")
    return out


def coast(world):
    out = bytearray(b"SKCO")
    rings = []
    for part in polygons_of(shapely.intersection(world, box(-180, -90, 180, 90))):
        rings += [r for r in (quantised(ring) for ring in [part.exterior, *part.interiors]) if r]
    varint(out, len(rings))
    last = (0, 0)
    for ring in rings:
        last = put_ring(out, ring, last)
    print(f"coast: {len(rings)} rings, {sum(map(len, rings))} points, {len(out)} bytes")
    return out


def main():
    source, target = pathlib.Path(sys.argv[1]), pathlib.Path(sys.argv[2])
    (target / "land_tiles.bin").write_bytes(tiles(on_globe(load(source / "land-50m.json"))))
    (target / "coast_110m.bin").write_bytes(coast(on_globe(load(source / "land-110m.json"))))


if __name__ == "__main__":
    main()

"""Measures the pieces of a pattern file with ezdxf, svgelements and shapely; nothing of the program is used here.

A piece is told by the entities of its seam line. All results are millimetres, y up.
"""
import io
import math
import re
import xml.etree.ElementTree as ET

import ezdxf
from ezdxf import units as dxf_units
from ezdxf.math import Vec3
from shapely.geometry import LinearRing, LineString, Point, Polygon
from svgelements import SVG, Close, Line, Move, Path, Shape

# A corner of a piece turns more than this within REACH mm; curves and hinges turn less.
CORNER = math.radians(30)
REACH = 2.0


# ---- lines of the files, as rows of points -------------------------------------------------------------------------

def dxf_rows(entity, fine):
    """Rows of points of one entity in units of the drawing; curves within `fine`."""
    kind = entity.dxftype()
    if kind == 'LINE':
        rows = [[entity.dxf.start, entity.dxf.end]]
    elif kind in ('LWPOLYLINE', 'POLYLINE'):
        rows = [joined(dxf_points(part, fine) for part in entity.virtual_entities())]
    else:
        rows = [dxf_points(entity, fine)]
    return rows


def dxf_points(entity, fine):
    kind = entity.dxftype()
    if kind == 'LINE':
        return [entity.dxf.start, entity.dxf.end]
    if kind == 'SPLINE':
        return list(entity.construction_tool().flattening(fine, segments=8))
    return list(entity.flattening(fine))


def joined(parts):
    """Stretches of a polyline end to end; an arc of a bulge runs anticlockwise whichever way the polyline does."""
    parts = [list(p) for p in parts]
    row = parts[0]
    if len(parts) > 1:
        ends = min((abs_distance(row[e], parts[1][f]), e) for e in (0, -1) for f in (0, -1))
        if ends[1] == 0:
            row = row[::-1]
    for part in parts[1:]:
        if abs_distance(row[-1], part[-1]) < abs_distance(row[-1], part[0]):
            part = part[::-1]
        row = row + part[1:]
    return row


def abs_distance(a, b):
    return math.hypot(a[0] - b[0], a[1] - b[1])


class Dxf:
    def __init__(self, path):
        self.doc = ezdxf.readfile(path)
        unit = self.doc.units if '$INSUNITS' in self.doc.header else 0
        self.scale = dxf_units.conversion_factor(unit, dxf_units.MM) if unit else self.unit_from_text()
        self.by_handle = {e.dxf.handle: e for block in self.doc.blocks for e in block}

    def unit_from_text(self):
        """The apparel layout states it in a text of the drawing: ENGLISH is inches, METRIC millimetres."""
        texts = [t.dxf.text for block in self.doc.blocks for t in block.query('TEXT')]
        stated = [t for t in texts if re.match(r'\s*units\s*:', t, re.I)]
        return 25.4 if any('ENGLISH' in t.upper() for t in stated) else 1.0

    def rows(self, name):
        """Rows of the entity, where its block is inserted."""
        rows = dxf_rows(self.entity(name), 0.0005 / self.scale)
        inserts = [e for e in self.doc.modelspace().query('INSERT') if e.dxf.name == name.get('block')]
        if inserts:
            place = inserts[0].matrix44()
            rows = [[place.transform(Vec3(p[0], p[1], 0)) for p in row] for row in rows]
        return [[(p[0] * self.scale, p[1] * self.scale) for p in row] for row in rows]

    def entity(self, name):
        if 'handle' in name:
            return self.by_handle[name['handle']]
        lines = [e for e in self.doc.blocks.get(name['block']) if e.dxf.layer == name['layer']]
        kept = [e for e in lines if e.dxftype() == name['type']]
        assert len(kept) == 1, (name, [e.dxftype() for e in lines])
        return kept[0]


class Svg:
    def __init__(self, path):
        tree = ET.parse(path)
        for n, element in enumerate(tree.iter()):
            element.set('data-nth', str(n))
        whole = SVG.parse(io.BytesIO(ET.tostring(tree.getroot())), ppi=96, reify=False)
        self.shapes = {int(e.values['data-nth']): e for e in whole.elements() if isinstance(e, Shape)}

    def rows(self, name):
        path = Path(self.shapes[name['nth']])
        path.approximate_arcs_with_cubics(error=0.001)
        return [self.row(Path(sub)) for sub in abs(path).as_subpaths()]

    @staticmethod
    def row(path):
        mm = 25.4 / 96
        points = []
        for s in path:
            if isinstance(s, Move) or s.start is None or s.end is None:
                continue
            n = 1 if isinstance(s, (Line, Close)) else max(16, int(abs(s.end - s.start)))
            points += [s.point(i / n) for i in range(0 if not points else 1, n + 1)]
        return [(p.x * mm, -p.y * mm) for p in points]


def opened(path):
    return Svg(path) if path.endswith('.svg') else Dxf(path)


# ---- measuring -----------------------------------------------------------------------------------------------------

# Ends nearer than this are one point, mm: files carry few decimals, and an arc's end follows from angles.
JOIN = 0.02


def ring_of(rows):
    """The one closed line that rows of points make end to end, anticlockwise."""
    left = [row for row in rows if len(row) > 1]
    ring = left.pop(0)
    while left:
        away, n, end = min((abs_distance(ring[-1], row[e]), n, e) for n, row in enumerate(left) for e in (0, -1))
        assert away < JOIN, f'a gap of {away} mm at {ring[-1]}'
        row = left.pop(n)
        ring = ring + (row if end == 0 else row[::-1])[1:]
    assert abs_distance(ring[0], ring[-1]) < JOIN, f'open by {abs_distance(ring[0], ring[-1])} mm at {ring[0]}'
    ring = [p for p, q in zip(ring, ring[1:]) if p != q]
    return ring if Polygon(ring).exterior.is_ccw else ring[::-1]


def at(ring, n):
    return ring[n % len(ring)]


def corners_of(ring):
    """Vertices where the line turns by more than CORNER within REACH on either side."""
    found = []
    for i in range(len(ring)):
        before, after = way(ring, i, -1), way(ring, i, 1)
        turn = abs(math.remainder(after - before, 2 * math.pi))
        if turn > CORNER:
            found.append((i, turn_at(ring, i)))
    # All vertices within reach of a corner see it; the one that turns most by itself is the corner.
    kept = []
    for i, turn in found:
        if kept and abs_distance(ring[kept[-1][0]], ring[i]) < 2 * REACH:
            if turn > kept[-1][1]:
                kept[-1] = (i, turn)
        else:
            kept.append((i, turn))
    if len(kept) > 1 and abs_distance(ring[kept[0][0]], ring[kept[-1][0]]) < 2 * REACH:
        kept.pop(0 if kept[0][1] < kept[-1][1] else -1)
    return [i for i, _ in kept]


def turn_at(ring, i):
    """How much the line turns at one vertex, radians."""
    (ax, ay), (bx, by), (cx, cy) = at(ring, i - 1), at(ring, i), at(ring, i + 1)
    return abs(math.atan2((bx - ax) * (cy - by) - (by - ay) * (cx - bx), (bx - ax) * (cx - bx) + (by - ay) * (cy - by)))


def way(ring, i, step):
    """Direction of the chord of about REACH mm that leaves (arrives at, for step -1) vertex i."""
    j, far = i, 0.0
    while far < REACH:
        far += abs_distance(at(ring, j), at(ring, j + step))
        j += step
    a, b = (at(ring, i), at(ring, j)) if step > 0 else (at(ring, j), at(ring, i))
    return math.atan2(b[1] - a[1], b[0] - a[0])


def runs_of(ring):
    """Lengths from corner to corner, anticlockwise, with the corner each begins at."""
    corners = corners_of(ring)
    runs = []
    for k, first in enumerate(corners):
        last = corners[(k + 1) % len(corners)] + (len(ring) if k + 1 == len(corners) else 0)
        runs.append({
            'length': sum(abs_distance(at(ring, n), at(ring, n + 1)) for n in range(first, last)),
            'from': at(ring, first),
        })
    return runs


def width_at(ring, through, across):
    """Length of a straight line across the piece."""
    far = 10000
    a = (through[0] - far * across[0], through[1] - far * across[1])
    b = (through[0] + far * across[0], through[1] + far * across[1])
    return Polygon(ring).intersection(LineString([a, b])).length


def mouth_of(rows, ring):
    """What the seam line measures across a dart drawn as lines: between the two ends that the lines do not share."""
    ends = [p for row in rows for p in (row[0], row[-1])]
    free = [p for p in ends if sum(abs_distance(p, q) < 0.01 for q in ends) == 1]
    assert len(free) == 2, free
    line = LinearRing(ring)
    apart = abs(line.project(Point(free[0])) - line.project(Point(free[1])))
    return min(apart, line.length - apart)


def measured(file):
    """`file`: path, and for each piece the names of its seam line, of its darts, and of the levels asked for."""
    drawing = opened(file['path'])
    answer = []
    for piece in file['pieces']:
        ring = ring_of([row for name in piece['seam'] for row in drawing.rows(name)])
        answer.append({
            'area': Polygon(ring).area,
            'runs': runs_of(ring),
            'mouths': [mouth_of([row for name in dart for row in drawing.rows(name)], ring) for dart in piece['darts']],
            'widths': [width_at(ring, level['through'], level['across']) for level in piece['levels']],
        })
    return answer


# ---- what a file holds, for comparing before and after ---------------------------------------------------------------

# Header variables that ezdxf makes up anew when it reads a file: the next handle, dates, identifiers.
EZDXF_OWN = re.compile(r'\$(HANDSEED|TD|.*GUID)')

TEXT_LOOK = ('text', 'height', 'width', 'rotation', 'oblique', 'style', 'halign', 'valign', 'layer')


def holds(path):
    """Layers, blocks and entities in order, each with all its attributes and its points."""
    doc = ezdxf.readfile(path)
    audit = doc.audit()
    blocks = {}
    for block in doc.blocks:
        blocks[block.name] = [entity_holds(e) for e in block]
    return {
        # ezdxf 0.18 reports this of every R12 polyline, its own too.
        'faults': [str(x.message) for x in audit.errors + audit.fixes if not x.message.startswith('Deleted SEQEND')],
        'version': doc.dxfversion,
        'layers': {layer.dxf.name: plain(layer.dxfattribs()) for layer in doc.layers},
        'header': {k: plain_value(doc.header[k]) for k in doc.header.varnames() if not EZDXF_OWN.match(k)},
        'blocks': blocks,
    }


def entity_holds(e):
    points = []
    if e.dxftype() == 'POLYLINE':
        points = [plain(v.dxfattribs()) for v in e.vertices]
    elif e.dxftype() == 'LWPOLYLINE':
        points = [list(p) for p in e.get_points()]
    elif e.dxftype() == 'SPLINE':
        points = [list(p) for p in e.control_points]
    look = {k: plain_value(e.dxf.get(k)) for k in TEXT_LOOK} if e.dxftype() == 'TEXT' else {}
    return {
        'handle': e.dxf.handle,
        'type': e.dxftype(),
        'layer': e.dxf.layer,
        'all': [plain(e.dxfattribs()), points],
        'look': look,
    }


def plain(attributes):
    return {k: plain_value(v) for k, v in sorted(attributes.items()) if k not in ('handle', 'owner')}


def plain_value(value):
    if isinstance(value, (int, float, str)) or value is None:
        return value
    return [plain_value(v) for v in value] if hasattr(value, '__iter__') else str(value)

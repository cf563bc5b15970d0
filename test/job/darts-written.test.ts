import { describe, expect, it } from 'vitest';
import type { Drawable } from '../../src/formats/drawing.ts';
import { nearestOnPath } from '../../src/geometry/path.ts';
import type { Point } from '../../src/geometry/point.ts';
import type { Dart, Piece } from '../../src/pattern/piece.ts';
import { outsideAvailable, python } from '../outside/python.ts';
import { bodice } from '../properties/garments.ts';
import { carryOut, deedCalled, type Laid, readAgain } from '../properties/laying.ts';
import { layOnce, sampleFrom } from '../properties/samples.ts';

/* A dart that is closed for good goes from the written file too: its legs and its drill hole are no longer drawn. */

const frontOf = (laid: Pick<Laid, 'pattern'>): Piece =>
  laid.pattern.pieces.find((p) => p.part === 'bodice front') as Piece;
const dartsAt = (piece: Piece, edge: string): Dart[] => piece.darts.filter((d) => d.edge?.startsWith(edge));

/** How many lines of a drawing run through a place. */
const drawnAt = (drawables: readonly Drawable[], p: Point): number =>
  drawables.filter((d) => d.kind === 'path' && (nearestOnPath(d.path, p)?.distance ?? 9) < 0.5).length;

const middleOf = (a: Point, b: Point): Point => ({ x: (a.x + b.x) / 2, y: (a.y + b.y) / 2 });

const marks = (piece: Piece, kind: string): number =>
  [...piece.points, ...piece.lines].filter((m) => m.kind === kind).length;

const files = [
  ['svg', { format: 'svg', variant: 'cubics' }],
  ['svg, polylines in inches, turned', { format: 'svg', variant: 'polylines', units: 'in', angle: 1 }],
  ['dxf, splines', { format: 'dxf', variant: 'splines' }],
  ['dxf, apparel', { format: 'dxf', variant: 'apparel' }],
  ['dxf, lines and arcs, mirrored', { format: 'dxf', variant: 'lines and arcs', mirror: true }],
] as const;
const deeds = ['dart merge take=all', 'dart move take=all'] as const;

/** How many entities ezdxf finds in a drawing, those in blocks too, and the errors of its audit. */
const COUNT = `
import io, ezdxf
from ezdxf import recover
def count(text):
    doc, auditor = recover.read(io.BytesIO(text.encode('utf8')))
    own = list(doc.modelspace()) + [e for b in doc.blocks if not b.name.startswith('*') for e in b]
    kinds = {}
    for e in own:
        kinds[e.dxftype()] = kinds.get(e.dxftype(), 0) + 1
    return {'kinds': kinds, 'errors': len(auditor.errors)}
answer = [count(t) for t in given]
`;
const hasEzdxf = outsideAvailable(['ezdxf']);

describe.each(files)('%s', (_, write) => {
  const laid = layOnce(sampleFrom(bodice(), write));
  const was = frontOf(laid);
  const [gone] = dartsAt(was, 'side') as [Dart];

  it.each(deeds)('%s: the legs of the side dart are drawn no more, and it is read back as gone', (says) => {
    const done = carryOut(laid, deedCalled(says), 5);
    expect(done.altered.findings.filter((f) => f.level === 'error')).toEqual([]);
    const legs = gone.drawn.as === 'lines' ? gone.drawn.lines : [];
    for (const id of legs) expect(done.changes.removals?.has(id)).toBe(true);

    const again = readAgain(laid.format, done.bytes, laid.fileName);
    const front = frontOf(again);
    expect(dartsAt(front, 'side')).toEqual([]);
    const takes = says.startsWith('dart merge') ? 'waist' : 'shoulder';
    expect(dartsAt(front, takes)).toHaveLength(1);
    expect(front.darts).toHaveLength(was.darts.length - (takes === 'waist' ? 1 : 0));

    // On the part of the paper that stays, nothing is drawn any more where its leg was.
    const [lower, upper] = gone.mouth;
    const stays = middleOf(takes === 'waist' ? upper : lower, gone.tip);
    expect(drawnAt(laid.drawing.drawables, stays)).toBe(1);
    expect(drawnAt(again.drawing.drawables, stays)).toBe(0);
    expect(marks(front, 'drill')).toBe(marks(was, 'drill') - 1);
  });

  if (write.format !== 'dxf') return;
  it.skipIf(!hasEzdxf)('ezdxf reads as many entities fewer', () => {
    const done = carryOut(laid, deedCalled('dart merge take=all'), 5);
    const text = (bytes: Uint8Array): string => new TextDecoder().decode(bytes);
    const [before, after] = python(COUNT, [text(laid.bytes), text(done.bytes)]) as {
      kinds: Record<string, number>;
      errors: number;
    }[];
    expect(after?.errors).toBe(before?.errors);
    const total = (kinds: Record<string, number> = {}): number =>
      Object.entries(kinds)
        .filter(([kind]) => !['VERTEX', 'SEQEND'].includes(kind))
        .reduce((sum, [, n]) => sum + n, 0);
    const removed = done.changes.removals?.size ?? 0;
    expect(removed).toBeGreaterThan(0);
    expect(total(before?.kinds) - total(after?.kinds)).toBe(removed);
  });
});

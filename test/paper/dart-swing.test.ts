import { describe, expect, it } from 'vitest';
import { type BodiceOptions, draftBodice, SAMPLE_BODICE_BODY } from '../../fixtures/blocks/draft/bodice.ts';
import { widthAcross } from '../../src/paper/across.ts';
import { bustsOf, dartTo, edgeOn, placeForDart } from '../../src/paper/bust-point.ts';
import { angleAt, swingBetween } from '../../src/paper/dart-swing.ts';
import { sewnLength } from '../../src/paper/runs.ts';
import { slit, towards } from '../../src/paper/slit.ts';
import { tape } from '../../src/paper/tape.ts';
import { trace } from '../../src/paper/tracing.ts';
import { edgeLength } from '../../src/pattern/edges.ts';
import { straightWidth } from '../../src/pattern/taking/across.ts';
import { patternOf } from '../drafted.ts';

const frontOf = (options: BodiceOptions) => {
  const front = patternOf(draftBodice(SAMPLE_BODICE_BODY, { sleeve: false, ...options })).pieces.find(
    (p) => p.part === 'bodice front',
  );
  if (!front) throw new Error('no front');
  return front;
};

describe.each([{ darts: 'lines' }, { darts: 'outline' }] as const)(
  'a dart swung about the bust point, %o',
  (options) => {
    const front = frontOf(options);
    const tracing = trace(front);
    const [bust] = bustsOf(tracing);
    if (!bust) throw new Error('no bust point');
    const side = dartTo(tracing, bust, 'side');
    if (!side) throw new Error('no side dart');

    it('measures across as the pieces are measured', () => {
      for (const h of [bust.at.y, 100, 150, bust.at.y - 15]) {
        expect(Math.abs(widthAcross(tracing, h) - straightWidth(front, h))).toBeLessThan(0.02);
      }
    });

    it.each(['shoulder', 'armhole', 'neck', 'waist'] as const)('moves whole from the side to the %s', (role) => {
      const edge = edgeOn(tracing, bust, role);
      if (!edge) throw new Error('no edge');
      const angle = angleAt(tracing, side.id, bust.at);
      const place = placeForDart(tracing, bust, edge);
      const own = dartTo(tracing, bust, role);
      const cut = own ? { tracing, dart: own.id } : slit(tracing, edge.id, place, towards(bust.at, place, 12.7));
      const before = angleAt(cut.tracing, cut.dart, bust.at);
      const swung = swingBetween(cut.tracing, { about: bust.at, closes: side.id, opens: cut.dart, angle });
      expect(angleAt(swung, cut.dart, bust.at) - before).toBeCloseTo(angle, 3);
      const piece = tape(swung);
      expect(piece.darts.length).toBe(front.darts.length - (own ? 1 : 0));
      for (const e of front.edges) {
        const after = piece.edges.find((x) => x.id === e.id);
        if (!after) throw new Error('lost');
        expect(Math.abs(edgeLength(piece, after) - sewnLength(tracing, e.id)), e.id).toBeLessThan(0.5);
      }
    });
  },
);

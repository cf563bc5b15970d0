import { describe, expect, it } from 'vitest';
import { type BodiceOptions, draftBodice, SAMPLE_BODICE_BODY } from '../../fixtures/blocks/draft/bodice.ts';
import type { DraftPiece } from '../../fixtures/blocks/draft/draft.ts';
import { draftDress, SAMPLE_DRESS_BODY } from '../../fixtures/blocks/draft/dress.ts';
import { distance, type Point, turn } from '../../src/geometry/point.ts';
import { line } from '../../src/geometry/segment.ts';
import { angleAt } from '../../src/paper/dart-swing.ts';
import { fullerBust } from '../../src/paper/full-bust.ts';
import { mouthsOf } from '../../src/paper/slit.ts';
import { trace } from '../../src/paper/tracing.ts';
import type { Pattern } from '../../src/pattern/pattern.ts';
import { widthAt } from '../../src/pattern/taking/across.ts';
import { patternOf } from '../drafted.ts';
import { alteredBy, edgeChanges, faultsOf, measureChanges, pieceIn } from './altering.ts';

const INCH = 25.4;
const bodice = (options: BodiceOptions = {}): Pattern => patternOf(draftBodice(SAMPLE_BODICE_BODY, options));
const dress = (options: BodiceOptions = {}): Pattern => patternOf(draftDress(SAMPLE_DRESS_BODY, options));

/** An edge's change, over all edges of its name (right and left). */
const changesOf = (before: Pattern, after: Pattern, piece: string, role: string): number[] =>
  [...edgeChanges(before, after)].filter(([key]) => key.startsWith(`${piece} ${role}`)).map(([, mm]) => mm);

describe('a fuller bust: the swing is not the width', () => {
  // Bust point (0, 0), hinge on the armhole (3, 4), mouth of the side dart at (4.5, 0), swung until the first slash gapes
  // by 0.75 in: worked by hand with the chord 2·r·sin(θ/2), r = 5.
  const bustPoint: Point = { x: 0, y: 0 };
  const hinge: Point = { x: 3 * INCH, y: 4 * INCH };
  const chord = 2 * Math.asin(0.75 / 2 / 5);
  const moved = (swing: number): Point => turn(bustPoint, swing, hinge);

  it('comes to 8.602 degrees, 0.632 in across, 0.404 in down, and opens the dart by 0.675 in', () => {
    expect((chord * 180) / Math.PI).toBeCloseTo(8.602, 2);
    expect(moved(chord).x / INCH).toBeCloseTo(0.632, 3);
    expect(-moved(chord).y / INCH).toBeCloseTo(0.404, 3);
    expect(2 * 4.5 * Math.sin(chord / 2)).toBeCloseTo(0.675, 3);
  });

  it.each([0.3, 0.632, 0.9])('is done so on paper: a front with that bust point and that hinge, %d in', (wider) => {
    const front = patternOf({ style: '', size: '', draftedFor: {}, pieces: [plainFront()] }).pieces[0];
    if (!front) throw new Error('no front');
    const tracing = trace(front);
    const opened = fullerBust(tracing, wider * INCH);
    const [side, waist] = ['side', 'waist'].map((edge) => opened.piece.darts.find((d) => d.edge === edge)?.id);
    if (side === undefined || waist === undefined) throw new Error('no dart was drawn');
    const down = -7 * INCH - (opened.levels.get('waist') ?? 0);
    // The swing by which the bust point of the side part comes down by so much.
    const far = distance(bustPoint, hinge);
    const lean = Math.atan2(hinge.x, hinge.y);
    const swing = Math.acos((hinge.y + down) / far) - lean;
    expect(-moved(Math.abs(swing)).y).toBeCloseTo(down, 6);
    const by = moved(Math.abs(swing));
    expect(Math.abs(distance(...mouthsOf(opened, waist)) - by.x)).toBeLessThan(0.5);
    expect(Math.abs(angleAt(opened, side, by)) / Math.abs(swing)).toBeCloseTo(1, 1);
  });
});

/** Inches: the bust point is the origin, the armhole's lower third lies at (3, 4), the side at x = 4.5. */
function plainFront(): DraftPiece {
  const p = (x: number, y: number): Point => ({ x: x * INCH, y: y * INCH });
  // The armhole is one straight line from (4.5, 3): a third of it ends at (3, 4).
  const corners = [p(-3.5, -7), p(4.5, -7), p(4.5, 3), p(0, 6), p(-1, 9), p(-3.5, 6)];
  const side = (i: number, j: number) => line(corners[i] as Point, corners[j] as Point);
  return {
    id: 'front',
    part: 'bodice front',
    cut: 1,
    onFold: true,
    edges: [
      { name: 'fold', segments: [side(5, 0)], allowance: 0 },
      { name: 'waist', segments: [side(0, 1)], allowance: 15 },
      { name: 'side', segments: [side(1, 2)], allowance: 15 },
      { name: 'armhole', segments: [side(2, 3)], allowance: 15 },
      { name: 'shoulder', segments: [side(3, 4)], allowance: 15 },
      { name: 'neck', segments: [side(4, 5)], allowance: 15 },
    ],
    darts: [],
    levels: [
      { name: 'bust', height: 0, line: [] },
      { name: 'waist', height: -7 * INCH, line: [] },
    ],
    notches: [],
    grain: [p(-2, -5), p(-2, 4)],
    landmarks: [{ name: 'bust point', at: p(0, 0) }],
  };
}

describe.each([
  ['lines', bodice()],
  ['outline', bodice({ darts: 'outline' })],
  ['whole', bodice({ whole: true })],
  ['centre seam and lining', bodice({ front: 'centre seam', lining: true } as BodiceOptions)],
  ['panels', bodice({ panels: true } as BodiceOptions)],
  ['panels, whole', bodice({ panels: true, whole: true } as BodiceOptions)],
  ['dress', dress()],
  ['dress, whole', dress({ whole: true })],
])('bust on a bodice, %s', (name, before) => {
  it.each([50, 20, 5, -5, -15])('comes out at the bust level by %d mm, and leaves the other edges alone', (amount) => {
    const { pattern, findings, plan } = alteredBy(before, { bust: amount });
    expect([...findings, ...plan.findings].filter((f) => f.level === 'error')).toEqual([]);
    for (const change of measureChanges(before, pattern, 'bust girth')) {
      // Solved to 0.001 mm on paper; the lines are then redrawn within 0.005 mm, four side edges round the body.
      expect(Math.abs(change - amount)).toBeLessThanOrEqual(0.001 + 4 * 0.005);
    }
    for (const role of ['armhole', 'shoulder', 'neck']) {
      for (const change of changesOf(before, pattern, 'front', role)) expect(Math.abs(change)).toBeLessThan(0.05);
    }
    for (const change of changesOf(before, pattern, 'front', 'waist')) expect(Math.abs(change)).toBeLessThan(0.05);
    if (!name.includes('panels')) {
      for (const change of changesOf(before, pattern, 'front', 'side')) expect(Math.abs(change)).toBeLessThan(0.05);
    }
    expect(faultsOf(before, pattern).filter((f) => !f.startsWith('check-not-fair'))).toEqual([]);
    expect(pieceIn(pattern, 'back')).toBe(pieceIn(before, 'back'));
  });
});

describe('bust', () => {
  it('leaves hip and hem of a dress as they are', () => {
    const before = dress();
    const { pattern } = alteredBy(before, { bust: 40 });
    for (const level of ['hip', 'hem', 'waist'] as const) {
      const change = (widthAt(pieceIn(pattern, 'front'), level) ?? 0) - (widthAt(pieceIn(before, 'front'), level) ?? 0);
      expect(Math.abs(change), level).toBeLessThan(0.2);
    }
  });

  it.each([40, -20])(
    'leaves the legs of the dart inside a dress of one length, above and below the waist: %d mm',
    (mm) => {
      const { pattern } = alteredBy(dress(), { bust: mm });
      const [dart] = pieceIn(pattern, 'front').darts.filter((d) => d.otherTip);
      for (const tip of [dart?.tip, dart?.otherTip] as Point[]) {
        const [a, b] = (dart?.mouth ?? []).map((m) => distance(m, tip)) as [number, number];
        // 1/16 in: Threads no. 200.
        expect(Math.abs(a - b)).toBeLessThan(25.4 / 16);
      }
    },
  );

  it('draws the darts that a front has not', () => {
    const draft = draftBodice(SAMPLE_BODICE_BODY, { sleeve: false });
    const before = patternOf({
      ...draft,
      pieces: draft.pieces.map((p) => (p.id === 'front' ? { ...p, darts: [] } : p)),
    });
    const { pattern } = alteredBy(before, { bust: 30 });
    const front = pieceIn(pattern, 'front');
    expect(front.darts.map((d) => d.edge).sort()).toEqual(['side', 'waist']);
    expect(front.lines.filter((l) => l.kind === 'dart')).toHaveLength(2);
    expect(measureChanges(before, pattern, 'bust girth')[0]).toBeCloseTo(30, 1);
  });

  it('takes in at the side seams what the darts cannot give', () => {
    const before = bodice();
    const { plan, pattern } = alteredBy(before, { bust: -40 });
    const [step] = plan.steps;
    expect(step?.shares.some((s) => s.edge === 'side')).toBe(true);
    expect(step?.explanation).toContain('the darts give no more');
    expect(Math.abs((measureChanges(before, pattern, 'bust girth')[0] ?? 0) + 40)).toBeLessThan(0.05);
  });

  it('goes over all side seams where the body differs all round', () => {
    const before = bodice();
    const { plan, pattern } = alteredBy(before, { bust: 24 }, { bust: { share: 'all round' } });
    expect(plan.steps[0]?.shares.map((s) => s.amount)).toEqual([6, 6]);
    expect(Math.abs((measureChanges(before, pattern, 'bust girth')[0] ?? 0) - 24)).toBeLessThan(0.05);
    expect(pieceIn(pattern, 'back')).not.toBe(pieceIn(before, 'back'));
  });

  it('refuses more than an inch in a side', () => {
    const plan = (mm: number) => alteredBy(bodice({ sleeve: false }), { bust: mm }).plan.findings.map((f) => f.code);
    expect(plan(50.8)).toEqual([]);
    // A sixty-fourth of an inch over is not told: nobody measures so closely.
    expect(plan(51.7)).toEqual(['plan-beyond-limit']);
  });
});

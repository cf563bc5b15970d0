import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { Plan } from '../../src/alterations/contract.ts';
import { sleevesFollow } from '../../src/alterations/sleeves-follow.ts';
import { checkPattern } from '../../src/checks/index.ts';
import { notchPlaces } from '../../src/checks/walk.ts';
import { sideOutAtUnderarm } from '../../src/paper/armhole-out.ts';
import { type Garment, layOut, onPiece, tapeAll } from '../../src/paper/garment.ts';
import { armholesWithoutSleeve, followArmholes } from '../../src/paper/sleeve-follow.ts';
import { edgeLength } from '../../src/pattern/edges.ts';
import type { Pattern } from '../../src/pattern/pattern.ts';
import type { Piece } from '../../src/pattern/piece.ts';
import { measureChanges, pieceIn } from './altering.ts';
import { capEase, sleeveBlocks, sleeveOnFold, withSleeve } from './sleeve-blocks.ts';

/* A cap follows its armhole: ease and notches stay. The division between crown and underarm: common practice. */

const SOUND = /^check-(notches|corner|outline|allowance|grain|not-fair)/;
const isAtArmhole = (p: Piece): boolean => p.edges.some((e) => e.role === 'armhole');

/** The bodice is let out at the underarm, front and back by themselves, and nothing is done to the sleeve. */
const letOut = (pattern: Pattern, front: number, back: number): Garment =>
  pattern.pieces.filter(isAtArmhole).reduce(
    (g, p) =>
      p.edges
        .filter((e) => e.role === 'side')
        .reduce((h, side) => {
          const by = p.part.endsWith('back') ? back : front;
          return onPiece(h, p.id, (t) => sideOutAtUnderarm(t, side.id, by));
        }, g),
    layOut(pattern, 200),
  );

/** How far up from the underarm the notches of front and back stand, on the armhole and on the cap, mm. */
const notches = (pattern: Pattern): { readonly armhole: number[]; readonly cap: number[] } => {
  const [front, back] = [pieceIn(pattern, 'front'), pieceIn(pattern, 'back')];
  const sleeve = pieceIn(pattern, 'sleeve');
  const edge = (p: Piece, role: string) => p.edges.find((e) => e.role === role) as Piece['edges'][number];
  const cap = edge(sleeve, 'cap');
  const places = notchPlaces({ piece: sleeve, edge: cap, times: 1 });
  const length = edgeLength(sleeve, cap);
  return {
    armhole: [front, back].map((p) => notchPlaces({ piece: p, edge: edge(p, 'armhole'), times: 1 })[0] as number),
    cap: [places[0] as number, length - (places.at(-1) as number)],
  };
};

const apartBy = (pattern: Pattern): number[] => {
  const { armhole, cap } = notches(pattern);
  return armhole.map((a, i) => (cap[i] as number) - a);
};

describe.each(sleeveBlocks)('a sleeve %s', (name, before) => {
  it.each([true, false])('keeps its ease when the armhole is let out or taken in (width held: %s)', (hold) => {
    for (const [front, back] of [
      [9, 9],
      [-7, -3],
    ] as const) {
      const { garment, deeds } = followArmholes(letOut(before, front, back), hold);
      const after = tapeAll(garment);
      expect(deeds.length).toBeGreaterThan(0);
      capEase(after).forEach((ease, i) => {
        expect(Math.abs(ease - (capEase(before)[i] as number))).toBeLessThan(0.25);
      });
      const inTwo = name.includes('two');
      if (hold || inTwo) {
        for (const change of measureChanges(before, after, 'upper-arm girth')) expect(change).toBeCloseTo(0, 2);
      }
      const sleeves = after.pieces.filter((p) => p.part.endsWith('sleeve')).map((p) => p.id);
      const faults = checkPattern(before, after).filter(
        (f) => SOUND.test(f.code) && sleeves.includes(f.where.piece ?? ''),
      );
      expect(faults.map((f) => f.message)).toEqual([]);
    }
  });

  it('is the very same when nothing happened to the armhole', () => {
    const { garment, deeds } = followArmholes(layOut(before, 200), false);
    expect(deeds).toEqual([]);
    for (const piece of tapeAll(garment).pieces) expect(pieceIn(before, piece.id)).toBe(piece);
  });
});

describe('notches of the cap', () => {
  const plain = withSleeve();

  it('still meet those of the armhole, walked from the underarm', () => {
    fc.assert(
      fc.property(
        fc.double({ min: -9, max: 12, noNaN: true }),
        fc.double({ min: -9, max: 12, noNaN: true }),
        fc.boolean(),
        (front, back, hold) => {
          const after = tapeAll(followArmholes(letOut(plain, front, back), hold).garment);
          const was = apartBy(plain);
          apartBy(after).forEach((mm, i) => {
            expect(Math.abs(mm - (was[i] as number))).toBeLessThan(0.5);
          });
        },
      ),
      { numRuns: 8 },
    );
  });

  it('on a sleeve on the fold meet the mean of front and back', () => {
    const before = sleeveOnFold();
    const after = tapeAll(followArmholes(letOut(before, 10, 4), true).garment);
    const cap = (p: Pattern): number => {
      const sleeve = pieceIn(p, 'sleeve');
      return notchPlaces({ piece: sleeve, edge: sleeve.edges[0] as Piece['edges'][number], times: 1 })[0] as number;
    };
    const gains = notches(after).armhole.map((mm, i) => mm - (notches(before).armhole[i] as number));
    expect(cap(after) - cap(before)).toBeCloseTo(((gains[0] as number) + (gains[1] as number)) / 2, 0);
  });
});

describe('where the width is free', () => {
  it('the underarm of the sleeve goes out for what the armhole gained below its notches', () => {
    const before = withSleeve();
    const { garment, deeds } = followArmholes(letOut(before, 10, 10), false);
    expect(deeds[0]?.outs.length).toBe(2);
    for (const out of deeds[0]?.outs ?? []) expect(out).toBeGreaterThan(3);
    const change = measureChanges(before, tapeAll(garment), 'upper-arm girth')[0] as number;
    expect(change).toBeCloseTo(
      (deeds[0]?.outs ?? []).reduce((a, b) => a + b, 0),
      2,
    );
    expect(Math.abs(deeds[0]?.raised as number)).toBeLessThan(2);
  });
});

describe('what is told', () => {
  const plan = (steps: readonly string[]): Plan =>
    ({ fitting: 'Marcellina', steps: steps.map((alteration) => ({ alteration })), findings: [] }) as unknown as Plan;
  const told = (garment: Garment, steps: readonly string[] = []) => sleevesFollow(garment, plan(steps), 'mm').findings;

  it('is what the cap took, and by how much', () => {
    const [note] = told(letOut(withSleeve(), 9, 9), ['upper arm']);
    expect(note?.code).toBe('alter-cap-followed');
    expect(note?.message).toMatch(
      /armhole changed by \+\d+\.\d mm; its crown was raised \d+\.\d mm, so that the cap stays/,
    );
  });

  it('is what a sleeve would need, where the pattern has none', () => {
    const bodice = letOut(withSleeve({ sleeve: false }), 9, 9);
    const [bare] = armholesWithoutSleeve(bodice);
    expect(bare?.gained).toBeGreaterThan(2);
    expect(told(bodice).map((f) => f.code)).toEqual(['alter-cap-needed']);
  });

  it('is that right and left differ, where one sleeve serves both', () => {
    const whole = withSleeve({ whole: true });
    const right = onPiece(layOut(whole, 200), 'front', (t) => sideOutAtUnderarm(t, 'side-right', 9));
    expect(told(right).map((f) => f.code)).toContain('alter-armholes-differ');
  });
});

import { describe, expect, it } from 'vitest';
import type { HandDrawn } from './handdrawn.ts';
import { partsOf, readByHand, ring } from './handdrawn.ts';

/*
 * Outlines drawn by hand, not by the drafting code: other proportions, other edges, no layers, few words. What each edge
 * is follows from the drawing; heights are exact by construction. mm
 */

const tshirt: readonly HandDrawn[] = [
  {
    outline:
      'M0 0 L255 0 C250 150 252 300 258 430 C225 440 205 480 200 520 C196 560 200 600 205 635 L95 670 C85 600 50 575 0 570 Z',
    grain: 'M60 100 L60 400',
    texts: [
      ['T-shirt front', 80, 300],
      ['cut 1 on fold', 80, 285],
    ],
  },
  {
    outline:
      'M0 0 L255 0 C250 150 252 300 258 430 C230 440 214 480 210 520 C208 560 210 600 214 630 L95 670 C85 655 50 648 0 646 Z',
    grain: 'M60 100 L60 400',
    texts: [
      ['T-shirt back', 80, 300],
      ['cut 1 on fold', 80, 285],
    ],
  },
  {
    outline: 'M-150 -150 L150 -150 L195 0 C140 15 110 60 60 100 C30 122 -30 122 -60 100 C-110 60 -140 15 -195 0 Z',
    grain: 'M0 -130 L0 90',
    texts: [
      ['Sleeve', 20, -50],
      ['cut 2', 20, -65],
    ],
  },
];

const shorts: readonly HandDrawn[] = [
  {
    outline: 'M0 0 L210 8 C228 -60 236 -140 240 -200 L250 -480 L-50 -480 L-62 -290 C-30 -285 0 -240 4 -180 Z',
    grain: 'M95 -440 L95 -120',
    lines: ['M100 4 L108 -90 L116 5'],
    texts: [
      ['Shorts front', 40, -300],
      ['cut 2', 40, -315],
    ],
  },
  {
    outline: 'M20 25 L235 6 C252 -60 258 -140 262 -200 L285 -480 L-90 -480 L-120 -305 C-70 -310 -20 -260 -6 -180 Z',
    grain: 'M95 -440 L95 -120',
    lines: ['M120 16 L130 -110 L142 15'],
    texts: [
      ['Shorts back', 40, -300],
      ['cut 2', 40, -315],
    ],
  },
];

/** Panels to the shoulder in front, a plain back. */
const princess: readonly HandDrawn[] = [
  {
    outline: 'M0 0 L75 -4 C80 70 95 130 98 190 C104 270 110 350 118 425 L70 446 C60 400 40 372 0 366 Z',
    grain: 'M40 50 L40 300',
    texts: [
      ['Bodice center front', 20, 200],
      ['cut 2', 20, 185],
    ],
  },
  {
    outline:
      'M0 0 L95 -4 C105 60 118 130 125 205 C90 215 70 255 68 300 C66 345 75 375 84 398 L22 424 C5 340 -22 260 -16 195 C-8 120 -2 60 0 0 Z',
    grain: 'M50 50 L50 180',
    texts: [
      ['Bodice side front', 20, 150],
      ['cut 2', 20, 135],
    ],
  },
  {
    outline:
      'M0 0 L170 -5 C178 60 185 130 190 205 C165 215 152 260 150 300 C148 345 150 370 154 392 L48 436 C38 418 20 412 0 410 Z',
    grain: 'M60 50 L60 300',
    lines: ['M70 -1 L85 150 L100 -2'],
    texts: [
      ['Bodice back', 70, 200],
      ['cut 1 on fold', 70, 185],
    ],
  },
];

/** A vent is cut on to the back seam of both halves. */
const vented: readonly HandDrawn[] = [
  {
    outline:
      'M-60 -430 L85 -420 C90 -300 105 -200 112 -120 C114 -80 112 -40 110 0 C80 20 50 130 0 135 C-50 135 -100 100 -128 60 C-130 -40 -128 -160 -112 -250 C-100 -290 -90 -310 -88 -330 L-100 -330 L-100 -434 L-60 -430 Z',
    grain: 'M-10 -380 L-10 60',
    texts: [
      ['Upper sleeve', -60, -150],
      ['cut 2', -60, -165],
    ],
  },
  {
    outline:
      'M-30 -432 L55 -420 C60 -300 75 -200 80 -120 C82 -80 80 -30 78 10 C40 -30 -30 -20 -95 62 C-98 -40 -96 -160 -80 -250 C-70 -290 -60 -310 -58 -332 L-70 -332 L-70 -436 Z',
    grain: 'M0 -380 L0 -40',
    texts: [
      ['Under sleeve', -50, -150],
      ['cut 2', -50, -165],
    ],
  },
];

/** Wider at the wrist than at the biceps, with an elbow dart in the back seam; Dutch. */
const bell: readonly HandDrawn[] = [
  {
    outline:
      'M-260 -480 C-90 -500 90 -500 260 -480 C215 -330 180 -230 165 -150 L170 0 C140 10 128 60 105 100 C78 150 45 172 0 172 C-50 172 -88 145 -112 98 C-130 55 -145 12 -170 0 L-162 -150 C-180 -230 -215 -330 -260 -480 Z',
    grain: 'M0 -420 L0 120',
    lines: ['M-166 -170 L-90 -160 L-169 -192'],
    texts: [['Mouw, 2x knippen', 10, -60]],
  },
];

/** Hip length, a V neck, the centre on the right; French. */
const jacket: readonly HandDrawn[] = [
  {
    outline:
      'M0 0 L-290 15 L-268 240 L-285 470 C-252 478 -222 515 -215 560 C-210 600 -214 640 -222 672 L-100 715 L0 470 Z',
    grain: 'M-90 60 L-90 420',
    texts: [
      ['Veste devant', -200, 330],
      ['couper 2 fois', -200, 312],
    ],
  },
  {
    outline:
      'M0 0 L-270 12 L-250 240 L-262 470 C-240 480 -218 520 -214 560 C-212 600 -214 632 -220 660 L-88 728 C-70 712 -35 708 0 708 Z',
    grain: 'M-90 60 L-90 420',
    texts: [
      ['Veste dos', -200, 330],
      ['couper 1 fois au pli', -200, 312],
    ],
  },
];

/** Whole, a boat neck, low slanting side darts and two waist darts; Spanish. */
const boatNeck: readonly HandDrawn[] = [
  {
    outline:
      'M-165 0 C-80 -14 80 -14 165 0 L185 70 L192 120 L222 205 C195 212 178 250 172 290 C168 325 172 352 178 372 L128 392 C60 368 -60 368 -128 392 L-178 372 C-172 352 -168 325 -172 290 C-178 250 -195 212 -222 205 L-192 120 L-185 70 Z',
    grain: 'M0 40 L0 330',
    lines: [
      'M185 70 L105 175 L192 100',
      'M-185 70 L-105 175 L-192 100',
      'M70 -9 L85 150 L98 -7',
      'M-70 -9 L-85 150 L-98 -7',
    ],
    texts: [
      ['Corpiño delantero', -60, 260],
      ['cortar 1', -60, 245],
    ],
  },
];

const angles = [0, 137, 265];

describe('garments drawn by hand', () => {
  it.each(angles)('reads a shirt without darts, which ends at the hip, at %s°', (angle) => {
    const { pattern } = readByHand(tshirt, angle);
    expect(partsOf(pattern)).toEqual(['bodice front', 'bodice back', 'sleeve']);
    const [front, back, sleeve] = pattern.pieces;
    for (const piece of [front, back]) expect(ring(piece, 'hem')).toBe('hem, fold, neck, shoulder, armhole, side');
    expect(ring(sleeve, 'cap')).toBe('cap, sleeve seam, wrist, sleeve seam');
    const height = (name: string) => front?.levels.find((l) => l.name === name)?.height;
    expect(height('underarm')).toBeCloseTo(430, 3);
    expect(sleeve?.levels.find((l) => l.name === 'wrist')?.height).toBeCloseTo(-150, 3);
    expect(pattern.mates.map((m) => m.id).sort()).toEqual([
      'armhole and cap',
      'shoulder seam',
      'side seam',
      'sleeve seam',
    ]);
    expect(pattern.doubts).toEqual([]);
  });

  it.each(angles)('reads shorts at %s°', (angle) => {
    const { pattern } = readByHand(shorts, angle);
    expect(partsOf(pattern)).toEqual(['trouser front', 'trouser back']);
    const [front, back] = pattern.pieces;
    for (const piece of [front, back]) expect(ring(piece, 'waist')).toBe('waist, crotch, inseam, hem, side');
    expect(front?.levels.find((l) => l.name === 'crotch')?.height).toBeCloseTo(-290 - 8, 3);
    expect(back?.levels.find((l) => l.name === 'crotch')?.height).toBeCloseTo(-305 - 6, 3);
    expect(pattern.mates.filter((m) => m.id === 'inseam')).toHaveLength(1);
  });

  it.each(angles)('reads panels to the shoulder in front of a plain back, at %s°', (angle) => {
    const { pattern } = readByHand(princess, angle);
    const [front, side, back] = pattern.pieces;
    expect(partsOf(pattern)).toEqual(['bodice front', 'bodice side front', 'bodice back']);
    expect(ring(front, 'waist')).toBe('waist, centre, neck, shoulder, panel seam');
    expect(ring(side, 'waist')).toBe('waist, panel seam, shoulder, armhole, side');
    expect(ring(back, 'waist')).toBe('waist, fold, neck, shoulder, armhole, side');
    const shoulders = pattern.mates.find((m) => m.id === 'shoulder seam');
    expect([shoulders?.one.length, shoulders?.other.length]).toEqual([2, 1]);
    expect(pattern.mates.some((m) => m.id === 'panel seam')).toBe(true);
  });

  it.each(angles)('reads a two-piece sleeve with a vent, at %s°', (angle) => {
    const { pattern } = readByHand(vented, angle);
    for (const piece of pattern.pieces) {
      expect(ring(piece, 'cap')).toBe('cap, sleeve seam, free, wrist, sleeve seam'.replace('free', 'free, free'));
    }
    expect(pattern.mates.filter((m) => m.id.startsWith('sleeve seam'))).toHaveLength(2);
  });

  it.each(angles)('reads a bell sleeve with an elbow dart, at %s°', (angle) => {
    const [sleeve] = readByHand(bell, angle).pattern.pieces;
    expect(sleeve?.part).toBe('sleeve');
    expect(ring(sleeve, 'cap')).toBe('cap, sleeve seam, wrist, sleeve seam');
    expect(sleeve?.darts.map((d) => sleeve.edges.find((e) => e.id === d.edge)?.role)).toEqual(['sleeve seam']);
    expect(sleeve?.levels.find((l) => l.name === 'wrist')?.height).toBeCloseTo(-480, 3);
  });

  it.each(angles)('reads a jacket whose centre lies on the right, at %s°', (angle) => {
    const { pattern } = readByHand(jacket, angle);
    const [front, back] = pattern.pieces;
    expect(partsOf(pattern)).toEqual(['bodice front', 'bodice back']);
    expect(ring(front, 'hem')).toBe('hem, centre, neck, shoulder, armhole, side');
    expect(ring(back, 'hem')).toBe('hem, fold, neck, shoulder, armhole, side');
    expect(pattern.doubts).toEqual([]);
    expect(pattern.mates.map((m) => m.id)).toEqual(['centre seam', 'shoulder seam', 'side seam']);
  });

  it.each(angles)('reads a whole front, and assumes both bust points, at %s°', (angle) => {
    const { pattern, findings } = readByHand(boatNeck, angle);
    const [front] = pattern.pieces;
    expect(ring(front, 'neck')).toBe('neck, shoulder, armhole, side, waist, side, armhole, shoulder');
    expect(front?.darts.map((d) => front.edges.find((e) => e.id === d.edge)?.role).sort()).toEqual([
      ...['side', 'side', 'waist', 'waist'],
    ]);
    expect(front?.landmarks.map((l) => [l.marks.length, l.confidence < 0.6])).toEqual([
      [0, true],
      [0, true],
    ]);
    expect(findings.map((f) => f.code)).toContain('recognise-bust-point-assumed');
  });

  it('tells front from back without a word, by laying them side by side', () => {
    const bare = (pieces: readonly HandDrawn[]) => pieces.map((p) => ({ ...p, texts: [] }));
    expect(partsOf(readByHand(bare(shorts), 20).pattern)).toEqual(['trouser front', 'trouser back']);
    expect(partsOf(readByHand(bare(tshirt), 20).pattern)).toEqual(['bodice front', 'bodice back', 'sleeve']);
  });

  it('does not tell front from back by one piece alone, and asks', () => {
    const { pattern } = readByHand([{ ...(shorts[0] as HandDrawn), texts: [] }]);
    expect(pattern.doubts.map((d) => [d.code, d.sheetLine])).toEqual([
      ['recognise-part-doubtful', 'part: trouser front'],
    ]);
  });
});

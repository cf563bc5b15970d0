import { describe, expect, it } from 'vitest';
import { layOutView } from '../../src/job/view.ts';
import { patternOf, pieceOf } from './handmade.ts';

const front = pieceOf([], { id: 'skirt-front' });
const back = { ...pieceOf([], { id: 'skirt-back' }), name: 'Skirt Back' };
const band = { ...pieceOf([], { id: 'waistband' }), name: 'Waistband' };
const sewn = (one: string, other: string) => ({
  id: `${one}-${other}`,
  one: [{ piece: one, edge: 'side', times: 1 }],
  other: [{ piece: other, edge: 'side', times: 1 }],
  evidence: [],
  confidence: 1,
});
const pattern = {
  ...patternOf(front, back, band),
  mates: [sewn('skirt-front', 'skirt-back'), sewn('waistband', 'skirt-back')],
  views: [
    { name: 'A', needs: ['skirt-front', 'skirt back'] },
    { name: 'B', needs: ['skirt-front', 'pocket'] },
  ],
};

describe('layOutView', () => {
  it('keeps all pieces when no view is asked for', () => {
    expect(layOutView(pattern, undefined)).toEqual({ pattern, findings: [] });
  });

  it('checks off the pieces by id or printed name, and puts the others away with their mates', () => {
    const { pattern: laid, view, findings } = layOutView(pattern, 'a');
    expect(laid.pieces.map((p) => p.id)).toEqual(['skirt-front', 'skirt-back']);
    expect(laid.mates.map((m) => m.id)).toEqual(['skirt-front-skirt-back']);
    expect(view).toMatchObject({ missing: [], away: ['Waistband'] });
    expect(findings.map((f) => [f.code, f.level])).toEqual([['job-view-pieces-away', 'note']]);
  });

  it('stops at a piece that is missing, and at a view that is not known', () => {
    const missing = layOutView(pattern, 'B').findings.find((f) => f.level === 'error');
    expect(missing).toMatchObject({ code: 'job-view-piece-missing', where: { piece: 'pocket' } });
    expect(layOutView(pattern, 'C').findings[0]).toMatchObject({ code: 'job-view-unknown', level: 'error' });
    expect(layOutView(pattern, 'C').findings[0]?.try).toContain('A, B');
  });
});

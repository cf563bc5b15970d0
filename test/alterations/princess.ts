import { cubic } from '../../fixtures/blocks/draft/curves.ts';
import type { Draft, DraftEdge, DraftPiece, DraftSeam } from '../../fixtures/blocks/draft/draft.ts';
import type { Point } from '../../src/geometry/point.ts';
import { line, reversed, type Segment } from '../../src/geometry/segment.ts';

/*
 * A bodice without darts parted by hand into panels that meet in a seam from the middle of the shoulder to the waist.
 */

const edge = (name: string, ...segments: Segment[]): DraftEdge => ({ name, segments, allowance: 15 });

const HALF = 0.5;
const middle = (a: Point, b: Point): Point => ({ x: (a.x + b.x) / 2, y: (a.y + b.y) / 2 });

interface Shape {
  readonly neckPoint: Point;
  readonly tip: Point;
  readonly underarm: Point;
  readonly waist: Point;
  readonly neck: number;
  /** Where the armhole is narrowest. */
  readonly pass: Point;
}

/** The two panels of one quarter; the seam bulges towards the side between shoulder and waist. */
const panelsOf = (name: 'front' | 'back', s: Shape): DraftPiece[] => {
  const top = middle(s.neckPoint, s.tip);
  const foot = { x: s.waist.x * HALF, y: 0 };
  const seam = (bulge: number): Segment =>
    cubic(foot, { x: foot.x + bulge, y: 130 }, { x: top.x + bulge, y: 260 }, top);
  const centreTop = { x: 0, y: s.neck };
  const armhole = [
    cubic(s.underarm, { x: s.pass.x + 20, y: s.underarm.y + 2 }, { x: s.pass.x, y: s.pass.y - 45 }, s.pass),
    cubic(s.pass, { x: s.pass.x, y: s.pass.y + 40 }, { x: s.tip.x - 12, y: s.tip.y - 32 }, s.tip),
  ];
  const chest = { name: name === 'front' ? ('chest' as const) : ('blade' as const), height: s.pass.y, line: [] };
  const common = {
    cut: 1,
    darts: [],
    notches: [],
    grain: [
      { x: 40, y: 40 },
      { x: 40, y: 200 },
    ] as const,
  };
  return [
    {
      ...common,
      id: name,
      part: `bodice ${name}`,
      onFold: true,
      levels: [chest, { name: 'bust', height: 190, line: [] }, { name: 'waist', height: 0, line: [] }],
      edges: [
        edge('fold', line(centreTop, { x: 0, y: 0 })),
        edge('waist', line({ x: 0, y: 0 }, foot)),
        edge('panel seam', seam(10)),
        edge('shoulder', line(top, s.neckPoint)),
        edge('neck', cubic(s.neckPoint, { x: s.neckPoint.x - 8, y: s.neck + 20 }, { x: 35, y: s.neck }, centreTop)),
      ],
    },
    {
      ...common,
      id: `side-${name}`,
      part: `bodice side ${name}`,
      cut: 2,
      onFold: false,
      grain: [
        { x: 150, y: 40 },
        { x: 150, y: 180 },
      ] as const,
      levels: [chest, { name: 'bust', height: 190, line: [] }, { name: 'waist', height: 0, line: [] }],
      edges: [
        edge('waist', line({ x: foot.x + 15, y: 0 }, s.waist)),
        edge('side', line(s.waist, s.underarm)),
        edge('armhole', ...armhole),
        edge('shoulder', line(s.tip, top)),
        edge(
          'panel seam',
          reversed(cubic({ x: foot.x + 15, y: 0 }, { x: foot.x + 5, y: 130 }, { x: top.x, y: 260 }, top)),
        ),
      ],
    },
  ];
};

export const draftPrincess = (): Draft => {
  const front = panelsOf('front', {
    neckPoint: { x: 70, y: 430 },
    tip: { x: 180, y: 385 },
    underarm: { x: 235, y: 225 },
    waist: { x: 200, y: 0 },
    neck: 350,
    pass: { x: 165, y: 305 },
  });
  const back = panelsOf('back', {
    neckPoint: { x: 70, y: 432 },
    tip: { x: 183, y: 395 },
    underarm: { x: 225, y: 225 },
    waist: { x: 190, y: 0 },
    neck: 410,
    pass: { x: 172, y: 310 },
  });
  const sewn = (piece: string, name: string) => ({ piece, edge: name });
  const seams: DraftSeam[] = [
    { id: 'front panel seam', one: [sewn('front', 'panel seam')], other: [sewn('side-front', 'panel seam')] },
    { id: 'back panel seam', one: [sewn('back', 'panel seam')], other: [sewn('side-back', 'panel seam')] },
    { id: 'side seam', one: [sewn('side-front', 'side')], other: [sewn('side-back', 'side')] },
    {
      id: 'shoulder seam',
      one: [sewn('front', 'shoulder'), sewn('side-front', 'shoulder')],
      other: [sewn('back', 'shoulder'), sewn('side-back', 'shoulder')],
    },
  ];
  return { style: 'Princess', size: '', draftedFor: {}, pieces: [...front, ...back], seams };
};

import type { EdgeRole, PartName } from '../pattern/piece.ts';
import type { EdgeTemplate, Half, Template } from './template.ts';
import { edge, whole } from './template.ts';
import { backNeck, frontNeck } from './template-body.ts';

const facingShoulder = edge('shoulder', [160, 40], 'straight', [0.03, 0.2]);
const neckFacing = (parts: readonly PartName[], neck: EdgeTemplate, name: string): readonly Template[] => {
  const half: Half = {
    parts,
    name,
    follows: 'neck',
    ring: [
      edge('free', [40, 45], 'round', [0.2, 0.5]),
      facingShoulder,
      { ...neck, share: [0.15, 0.4] },
      edge('centre', [270, 16], 'straight', [0.06, 0.3]),
    ],
  };
  return [{ ...half, form: 'half' }, whole(half)];
};

/** A strip along a skirt's waist: like a neck facing in that it has four edges, unlike it in how they lie. */
const waistFacing: Half = {
  parts: ['front facing', 'back facing', 'facing'],
  name: 'waist facing',
  follows: 'waist',
  ring: [
    edge('free', [4, 20], 'any', [0.3, 0.5]),
    edge('side', [92, 24], 'any', [0.05, 0.25]),
    edge('waist', [180, 20], 'any', [0.25, 0.46]),
    edge('centre', [270, 12], 'straight', [0.05, 0.25]),
  ],
};

const facings: readonly Template[] = [
  ...neckFacing(['front facing', 'facing'], frontNeck, 'front neck facing'),
  ...neckFacing(['back facing', 'facing'], { ...backNeck, heads: [210, 32] }, 'back neck facing'),
  { ...waistFacing, form: 'half' },
  whole(waistFacing),
  {
    parts: ['front facing', 'back facing', 'facing'],
    name: 'armhole facing',
    follows: 'armhole',
    form: 'own',
    ring: [
      edge('side', [90, 45], 'any', [0.03, 0.25]),
      edge('armhole', [112, 45], 'hollow', [0.25, 0.47]),
      facingShoulder,
      edge('free', [290, 50], 'round', [0.28, 0.55]),
    ],
  },
];

/** From the side seam of the front over the shoulder to that of the back. */
const roundArmhole: Template = {
  parts: ['facing'],
  name: 'armhole facing in one piece',
  follows: 'armhole',
  form: 'own',
  symmetric: true,
  ring: [
    edge('side', [90, 60], 'any', [0.02, 0.12]),
    { ...edge('armhole', [90, 40], 'hollow', [0.25, 0.48]), depth: [0.2, 1] },
    edge('side', [90, 60], 'any', [0.02, 0.12]),
    edge('free', [270, 40], 'round', [0.4, 0.65]),
  ],
};

const hipYoke: Half = {
  parts: ['yoke'],
  name: 'hip yoke',
  follows: 'waist',
  ring: [
    edge('yoke seam', [4, 24], 'any', [0.26, 0.46]),
    edge('side', [102, 18], 'any', [0.06, 0.3]),
    edge('waist', [184, 24], 'any', [0.2, 0.44]),
    edge('centre', [270, 14], 'straight', [0.06, 0.3]),
  ],
};

const shoulderYoke: Half = {
  parts: ['yoke'],
  name: 'shoulder yoke',
  follows: 'neck',
  ring: [
    edge('yoke seam', [0, 20], 'any', [0.2, 0.46]),
    edge('armhole', [95, 30], 'any', [0.06, 0.3]),
    edge('shoulder', [165, 32], 'straight', [0.1, 0.36]),
    edge('neck', [215, 40], 'hollow', [0.08, 0.3]),
    edge('centre', [270, 16], 'straight', [0.05, 0.3]),
  ],
};

/** Common practice: of a skirt or trousers from waist to yoke line, of a bodice from shoulder to a seam across the back. */
const yokes: readonly Template[] = [hipYoke, shoulderYoke].flatMap((y): Template[] => [
  { ...y, form: 'half' },
  whole(y),
]);

const longEdge = (role: EdgeRole, heads: number): EdgeTemplate =>
  edge(role, [heads, 20], 'any', [0.28, 0.5], role === 'neck' ? { notched: true } : {});
const shortEnd = (role: EdgeRole, heads: number): EdgeTemplate => edge(role, [heads, 40], 'any', [0.02, 0.25]);

const collars: readonly Template[] = [
  {
    parts: ['collar'],
    name: 'half collar',
    form: 'half',
    ring: [
      longEdge('neck', 0),
      shortEnd('end', 90),
      longEdge('free', 180),
      { ...shortEnd('centre', 270), form: 'straight' },
    ],
  },
  {
    parts: ['collar'],
    name: 'collar',
    form: 'own',
    symmetric: true,
    ring: [longEdge('neck', 0), shortEnd('end', 90), longEdge('free', 180), shortEnd('end', 270)],
  },
];

/** What is sewn to the edges of a garment: facings, yokes and collars. */
export const trimTemplates: readonly Template[] = [...facings, roundArmhole, ...yokes, ...collars];

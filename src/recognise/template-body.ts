import type { PartName } from '../pattern/piece.ts';
import type { EdgeForm, EdgeTemplate, Half, Template } from './template.ts';
import { darts, edge, whole } from './template.ts';

/** The lower end of a whole armhole runs level into the underarm. */
const fromUnderarm = { leaves: [165, 40], notched: true } as const;

const waist = edge('waist', [0, 22], 'any', [0.07, 0.28], darts);
const side = edge('side', [90, 28], 'any', [0.06, 0.28], darts);
const armhole = edge('armhole', [112, 40], 'hollow', [0.1, 0.3], fromUnderarm);
const shoulder = edge('shoulder', [160, 28], 'straight', [0.03, 0.16], darts);
export const frontNeck = edge('neck', [233, 30], 'hollow', [0.06, 0.2]);
export const backNeck = edge('neck', [200, 22], 'hollow', [0.04, 0.15], darts);
const centre = edge('centre', [270, 14], 'straight', [0.18, 0.42]);
/** The part of an armhole above a panel seam, and below one. */
const upperArmhole = edge('armhole', [100, 35], 'hollow', [0.03, 0.17], { leaves: [105, 35], notched: true });
const lowerArmhole = edge('armhole', [150, 45], 'hollow', [0.03, 0.2]);
const panelSeam = edge('panel seam', [95, 30], 'any', [0.14, 0.45]);

const hem = edge('hem', [0, 16], 'any', [0.05, 0.32]);
/** To the hip, and from there on. */
const hipSide = edge('side', [92, 20], 'any', [0.16, 0.28], darts);
const hipCentre = edge('centre', [270, 10], 'straight', [0.22, 0.37]);
const longSide = edge('side', [92, 20], 'any', [0.28, 0.46], darts);
const longCentre = edge('centre', [270, 10], 'straight', [0.37, 0.52]);

const bodice = (part: 'bodice front' | 'bodice back', neck: EdgeTemplate): readonly Template[] => {
  const name = part.replace('bodice ', '');
  const half: Half = {
    parts: [part],
    name: `bodice ${name}`,
    armholes: [0.4, 1.5],
    ring: [waist, side, armhole, shoulder, neck, centre],
  };
  const long: Half = {
    parts: [part],
    name: `${name} to the hip`,
    armholes: [1.4, 2.9],
    waistInside: true,
    ring: [hem, hipSide, armhole, shoulder, neck, hipCentre],
  };
  const dress: Half = {
    parts: [part.replace('bodice', 'dress') as PartName],
    name: `dress ${name}`,
    armholes: [2.4, 7],
    waistInside: true,
    ring: [hem, longSide, armhole, shoulder, neck, longCentre],
  };
  const sided = part === 'bodice front' ? 'bodice side front' : 'bodice side back';
  const panels: readonly Template[] = [
    {
      parts: [part],
      name: `centre ${name} panel from the armhole`,
      form: 'half',
      panelled: true,
      ring: [waist, panelSeam, upperArmhole, shoulder, neck, centre],
    },
    {
      parts: [part],
      name: `centre ${name} panel from the shoulder`,
      form: 'half',
      panelled: true,
      ring: [waist, panelSeam, shoulder, neck, centre],
    },
    {
      parts: [sided],
      name: `side ${name} panel to the armhole`,
      form: 'own',
      panelled: true,
      ring: [waist, side, lowerArmhole, { ...panelSeam, heads: [272, 32] }],
    },
    {
      parts: [sided],
      name: `side ${name} panel to the shoulder`,
      form: 'own',
      panelled: true,
      ring: [waist, side, armhole, shoulder, { ...panelSeam, heads: [272, 32] }],
    },
  ];
  const bodies = [half, long, dress].flatMap((b): Template[] => [{ ...b, form: 'half' }, whole(b)]);
  return [...bodies, ...panels, ...dressPanels(part, neck)];
};

const dressPanels = (part: 'bodice front' | 'bodice back', neck: EdgeTemplate): readonly Template[] => {
  const name = part.replace('bodice ', '');
  const centred = part === 'bodice front' ? 'dress front' : 'dress back';
  const sided = part === 'bodice front' ? 'dress side front' : 'dress side back';
  const seam = { ...panelSeam, share: [0.25, 0.48] } as const;
  const base = { form: 'half', waistInside: true, panelled: true } as const;
  return [
    {
      ...base,
      parts: [centred],
      name: `centre ${name} dress panel from the armhole`,
      ring: [hem, seam, upperArmhole, shoulder, neck, longCentre],
    },
    {
      ...base,
      parts: [centred],
      name: `centre ${name} dress panel from the shoulder`,
      ring: [hem, seam, shoulder, neck, longCentre],
    },
    {
      ...base,
      form: 'own',
      parts: [sided],
      name: `side ${name} dress panel to the armhole`,
      ring: [hem, longSide, lowerArmhole, { ...seam, heads: [270, 25] }],
    },
    {
      ...base,
      form: 'own',
      parts: [sided],
      name: `side ${name} dress panel to the shoulder`,
      ring: [hem, longSide, armhole, shoulder, { ...seam, heads: [270, 25] }],
    },
  ];
};

const sleeveSeam = (heads: number, within: number): EdgeTemplate =>
  edge('sleeve seam', [heads, within], 'any', [0.06, 0.42], darts);
const cap = (form: EdgeForm): EdgeTemplate => edge('cap', [180, 22], form, [0.14, 0.65], { notched: true });
const wrist = edge('wrist', [0, 18], 'any', [0.07, 0.34], darts);

const sleeves: readonly Template[] = [
  {
    parts: ['sleeve'],
    name: 'sleeve',
    form: 'own',
    symmetric: true,
    ring: [wrist, sleeveSeam(82, 22), cap('crown'), sleeveSeam(278, 22)],
  },
  {
    parts: ['upper sleeve'],
    name: 'upper half of a sleeve',
    form: 'own',
    ring: [wrist, sleeveSeam(88, 28), { ...cap('round'), heads: [180, 35] }, sleeveSeam(272, 28)],
  },
  {
    parts: ['under sleeve'],
    name: 'under half of a sleeve',
    form: 'own',
    ring: [wrist, sleeveSeam(88, 28), { ...cap('hollow'), heads: [180, 40], share: [0.08, 0.35] }, sleeveSeam(272, 28)],
  },
];

const trouserLeg = (part: PartName, crotch: number): Template => ({
  parts: [part],
  name: part,
  form: 'own',
  ring: [
    edge('hem', [0, 14], 'any', [0.04, 0.24]),
    edge('side', [90, 16], 'any', [0.22, 0.52], darts),
    edge('waist', [180, 24], 'any', [0.05, 0.22], darts),
    edge('crotch', [crotch, 22], 'hollow', [0.1, 0.34]),
    edge('inseam', [278, 20], 'any', [0.04, 0.44]),
  ],
});

/** Bodices, dresses, sleeves and trousers. */
export const bodyTemplates: readonly Template[] = [
  ...bodice('bodice front', frontNeck),
  ...bodice('bodice back', backNeck),
  ...sleeves,
  trouserLeg('trouser front', 256),
  trouserLeg('trouser back', 244),
];

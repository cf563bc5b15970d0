import type { Finding } from '../../finding.ts';
import { CHILDREN_CAUTION } from '../children.ts';
import { type MeasurementName, terms } from '../terms.ts';
import { type Body, measuredOf } from './body.ts';

/** Heights that the figures below are given for, mm. */
const HEIGHTS = [560, 920, 1220, 1580] as const;

/**
 * What children of these heights measure, mm, in between in proportion. Common practice with no source, rounded; the
 * tests hold it against a published home-sewing table of children's sizes.
 */
const FIGURES: Readonly<Partial<Record<MeasurementName, readonly [number, number, number, number]>>> = {
  stature: [560, 920, 1220, 1580],
  'bust girth': [420, 540, 640, 800],
  'waist girth': [420, 515, 580, 660],
  'hip girth': [420, 560, 680, 860],
  'neck girth': [220, 260, 290, 330],
  'neck base girth': [240, 280, 310, 350],
  'upper-arm girth': [145, 180, 205, 250],
  'wrist girth': [100, 124, 138, 152],
  'thigh girth': [240, 320, 390, 490],
  'knee girth': [180, 230, 270, 330],
  'shoulder length': [45, 72, 95, 115],
  'back width': [170, 220, 265, 320],
  'chest width': [155, 205, 250, 305],
  'across back shoulder': [180, 240, 300, 365],
  'back neck to waist': [160, 225, 290, 375],
  'front waist length': [170, 240, 305, 400],
  'armhole depth': [95, 128, 155, 190],
  'bust height': [95, 130, 170, 225],
  'outer arm length': [190, 315, 420, 545],
  'shoulder to elbow': [110, 180, 240, 315],
  'back neck to wrist': [280, 435, 570, 730],
  'waist to hip': [70, 115, 150, 190],
  'crotch depth': [105, 160, 200, 255],
  'waist to knee': [200, 300, 420, 550],
};

/** Children differ: a measurement may be off its figure by so much (in the logarithm, about a fifth). */
const WITHIN = 0.2;
/** But bust, waist and hip of one child are off alike: grown figures written in the wrong unit are not. */
const ALIKE = 0.1;
const ROUND: readonly string[] = ['bust girth', 'waist girth', 'hip girth'];

export interface Child {
  /** Height the measurements go with, mm. */
  readonly height: number;
}

/** The child that a body's measurements go with, where some are below what adults measure and all go with one height. */
export const childOf = (body: Body): Child | undefined => {
  const given = measuredOf(body).flatMap(([name, mm]) => {
    const figures = FIGURES[name];
    return figures === undefined ? [] : [{ name, mm, figures }];
  });
  const isSmall = given.some(({ name, mm }) => mm < terms[name].range[0]);
  if (given.length < 2 || !isSmall || hasAdultOnly(body)) return undefined;
  let best: { height: number; off: number } | undefined;
  for (let height = HEIGHTS[0]; height <= HEIGHTS[3]; height += 20) {
    const offs = given.map(({ name, mm, figures }) => ({ name, off: Math.log(mm / figureAt(figures, height)) }));
    const worst = Math.max(...offs.map(({ off }) => Math.abs(off)));
    const round = offs.filter(({ name }) => ROUND.includes(name)).map(({ off }) => off);
    const apart = round.length === 0 ? 0 : Math.max(...round) - Math.min(...round);
    if (worst <= WITHIN && apart <= ALIKE && (best === undefined || worst < best.off)) best = { height, off: worst };
  }
  return best && { height: best.height };
};

/** Whether something else is larger than any child's: above the middle of what adults measure. */
const hasAdultOnly = (body: Body): boolean =>
  measuredOf(body).some(([name, mm]) => {
    const [least, most] = terms[name].range;
    return FIGURES[name] === undefined && mm > (least + most) / 2;
  });

const figureAt = (figures: readonly [number, number, number, number], height: number): number => {
  const after = HEIGHTS.findIndex((h) => h >= height);
  if (after <= 0) return figures[0];
  const [low, high] = [HEIGHTS[after - 1] as number, HEIGHTS[after] as number];
  const [from, to] = [figures[after - 1] as number, figures[after] as number];
  return from + ((to - from) * (height - low)) / (high - low);
};

/** Told once for a body: how it was understood, and the caution that goes with it. */
export const childFinding = ({ height }: Child, body: Body): Finding => {
  const [first] = measuredOf(body).filter(([name, mm]) => mm < terms[name].range[0]);
  return {
    code: 'measure-childs-figure',
    level: 'note',
    where: { ...body.where(first?.[0] ?? ''), cell: undefined, address: undefined, excerpt: undefined },
    message: `The measurements go with a child of about ${Math.round(height / 10)} cm, and were taken so. ${CHILDREN_CAUTION}`,
    try: 'If it is a grown person, the numbers are in another unit: write the unit behind each.',
  };
};

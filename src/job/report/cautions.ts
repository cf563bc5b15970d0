import type { Section } from '../../report/content.ts';

/* What to mind before cloth is cut, and where altering a garment can hurt someone. */

const CAUTIONS = [
  'Check this page before the cloth is cut, and make a trial garment where much is changed.',
  'Print or plot without fitting to the page, and measure the test squares and the ruler first. Before a machine cuts, check the size of the whole drawing: wrong units, open outlines and exchanged layers are the hazards (ISO 12100; lasers: IEC 60825-1).',
  'Children’s wear: drawstrings are regulated (16 CFR 1120, ASTM F1816, EN 14682), and sleepwear that is exempt for fitting tightly has largest dimensions (16 CFR 1615, 1616), which enlarging may pass.',
  'Protective and high-visibility clothing keeps its certificate only unaltered (for instance EN ISO 20471, ISO 11612, NFPA 1971; Regulation (EU) 2016/425). Do not alter restraint, harness or compression garments, nor infant sleep bags.',
  'Local codes and licensed practice come first. The law and the standards named here are given from general knowledge: read them in force before relying on them.',
];

export const cautionsSection: Section = {
  id: 'cautions',
  heading: 'Cautions',
  blocks: [{ kind: 'points', items: CAUTIONS }],
};

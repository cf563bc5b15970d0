import type { Finding } from '../../finding.ts';
import type { Machine } from '../../formats/sheet.ts';
import type { PlotSettings } from './options.ts';

/** What is printed at the start of a plot, under its title. */
export const wordsFor = (machine: Machine, { layOut }: PlotSettings): string[] => [
  `True scale, millimetres. ${machine.title}.`,
  'Measure both squares and both rulers before anything is cut; print without fitting to the page.',
  ...(layOut.paper
    ? [
        `Trim each sheet along its left and lower edge, lay it on its neighbour's dashed line (${layOut.overlap} mm), crosses on crosses.`,
      ]
    : []),
  ...(layOut.lay === 'folded' ? ['The lower edge is the fold of the cloth.'] : []),
  ...(cuts(machine) ? ['Local codes and licensed practice come first. This file starts no machine.'] : []),
];

const cuts = (machine: Machine): boolean => machine.kind === 'knife' || machine.kind === 'laser';

/** What to check before a machine that cuts is started. The standards are named from general knowledge. */
export const cautions = (machine: Machine): Finding[] =>
  cuts(machine)
    ? [
        {
          code: 'layout-machine-caution',
          level: 'warning',
          where: {},
          message: `${machine.title}: wrong units, open outlines and exchanged layers are the hazards. Guards and stops as ISO 12100 asks${machine.kind === 'laser' ? ', laser safety as IEC 60825-1 asks' : ''}; local codes and licensed practice come first.`,
          try: 'Compare the size of the whole drawing with the one told here, cut the test square or a scrap first, and stay at the machine. This program starts none.',
        },
      ]
    : [];

import type { Finding } from '../finding.ts';
import { formatChange, formatLength } from '../measurements/units.ts';
import type { Garment } from '../paper/garment.ts';
import { armholesWithoutSleeve, followArmholes, type SleeveDeed } from '../paper/sleeve-follow.ts';
import { pieceCalled } from '../pattern/pattern.ts';
import type { LengthShown, Plan } from './contract.ts';

/** Mates may come to differ by so much, mm. */
const TELLING = 0.5;

/**
 * After all steps the sleeves follow their armholes, and it is told what that took. The width at the biceps is held
 * where the wearer's upper arm was measured or altered, and where an armhole that gaped was taken in: the crown then
 * takes all that the armhole has gained.
 */
export const sleevesFollow = (
  garment: Garment,
  plan: Plan,
  show: LengthShown,
): { readonly garment: Garment; readonly findings: readonly Finding[] } => {
  const holdWidth =
    plan.steps.some((s) => s.alteration === 'upper arm' || s.alteration === 'armhole gape') ||
    (plan.targets ?? []).some((t) => t.measurement === 'upper-arm girth');
  const { garment: followed, deeds } = followArmholes(garment, holdWidth);
  const bare = armholesWithoutSleeve(followed).filter((a) => Math.abs(a.gained) > TELLING);
  return {
    garment: followed,
    findings: [
      ...deeds.flatMap((deed) => [followedNote(garment, deed, show), ...unevenNote(deed, show)]),
      ...bare.map(({ cloth, gained }): Finding => {
        const what = `${cloth === 'shell' ? 'The armhole' : `The armhole of the ${cloth}`} changes by ${formatChange(gained, show)}`;
        return {
          code: 'alter-cap-needed',
          level: 'note',
          where: {},
          message: `${what}, and the pattern has no sleeve to follow it.`,
          try: `A sleeve or facing for it needs ${formatChange(gained, show)} along its edge.`,
        };
      }),
    ],
  };
};

const followedNote = ({ pattern }: Garment, deed: SleeveDeed, show: LengthShown): Finding => {
  const name = pieceCalled(pattern, deed.sleeve)?.name || deed.sleeve;
  const length = (mm: number): string => formatLength(Math.abs(mm), show);
  const out = deed.outs.filter((o) => Math.abs(o) > TELLING / 10);
  const parts = [
    ...(Math.abs(deed.raised) > TELLING / 10
      ? [`its crown was ${deed.raised > 0 ? 'raised' : 'lowered'} ${length(deed.raised)}`]
      : []),
    ...(out.length > 0
      ? [`its underarm went ${(out[0] as number) > 0 ? 'out' : 'in'} ${out.map(length).join(' and ')}`]
      : []),
  ];
  return {
    code: 'alter-cap-followed',
    level: 'note',
    where: { piece: deed.sleeve, edge: 'cap' },
    message: `${name}: the armhole changed by ${formatChange(deed.armhole, show)}; ${parts.join(', ')}, so that the cap stays ${length(deed.ease)} longer than the armhole.`,
    try: 'Walk the cap round the armhole before cutting.',
  };
};

const unevenNote = (deed: SleeveDeed, show: LengthShown): Finding[] =>
  deed.uneven <= TELLING
    ? []
    : [
        {
          code: 'alter-armholes-differ',
          level: 'warning',
          where: { piece: deed.sleeve },
          message: `The right and the left armhole changed by amounts that differ by ${formatLength(deed.uneven, show)}; the sleeve was altered for their mean.`,
          try: 'Alter a sleeve for each arm.',
        },
      ];

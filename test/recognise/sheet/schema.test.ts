import { describe, expect, it } from 'vitest';
import schema from '../../../schema/pattern-sheet.schema.json' with { type: 'json' };
import type { Cloth, EdgeRole, LevelName, PartName } from '../../../src/pattern/piece.ts';
import { edgeRoles } from '../../../src/recognise/sheet/edge-names.ts';
import { labelSubjects } from '../../../src/recognise/sheet/types.ts';

/** Every member of each union once: the compiler complains when one is missing. */
const parts: Record<PartName, true> = {
  ...{ 'skirt front': true, 'skirt back': true, 'skirt side': true, 'skirt gore': true, skirt: true, waistband: true },
  ...{ 'front facing': true, 'back facing': true, facing: true, yoke: true, pocket: true, lining: true },
  ...{ 'bodice side front': true, 'bodice side back': true },
  ...{
    'bodice front': true,
    'bodice back': true,
    sleeve: true,
    'upper sleeve': true,
    'under sleeve': true,
    'trouser front': true,
    'trouser back': true,
  },
  ...{
    'dress front': true,
    'dress back': true,
    'dress side front': true,
    'dress side back': true,
    collar: true,
    cuff: true,
    unknown: true,
  },
};
const roles: Record<EdgeRole, true> = {
  ...{ waist: true, side: true, hem: true, centre: true, fold: true, 'gore seam': true, 'band seam': true },
  ...{ 'band top': true, 'yoke seam': true, end: true, unknown: true, free: true },
  ...{ 'panel seam': true, neck: true, shoulder: true, armhole: true, cap: true, 'sleeve seam': true, wrist: true },
  ...{ crotch: true, inseam: true },
};
const levels: Record<LevelName, true> = {
  ...{ waist: true, 'top hip': true, hip: true, hem: true, knee: true, crotch: true },
  ...{ chest: true, blade: true, underarm: true, bust: true, biceps: true, elbow: true, wrist: true },
};
const cloths: Record<Cloth, true> = { shell: true, lining: true, facing: true, interlining: true };

const sorted = (list: Iterable<string>) => [...list].sort();

describe('the published schema of the pattern sheet', () => {
  const piece = schema.$defs.piece.properties;

  it('knows the words of the program, no more and no fewer', () => {
    expect(sorted(piece.part.enum)).toEqual(sorted(Object.keys(parts)));
    expect(sorted(schema.$defs.role.enum)).toEqual(sorted(Object.keys(roles)));
    expect(sorted(edgeRoles)).toEqual(sorted(Object.keys(roles)));
    expect(sorted(Object.keys(piece.levels.properties))).toEqual(sorted(Object.keys(levels)));
    expect(sorted(piece.cloth.enum)).toEqual(sorted(Object.keys(cloths)));
    expect(sorted(Object.keys(schema.properties.labels.properties))).toEqual(sorted(labelSubjects));
  });
});

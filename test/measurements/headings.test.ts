import { describe, expect, it } from 'vitest';
import writeWorkbook from 'write-excel-file/node';
import { readChart } from '../../src/measurements/chart.ts';
import { readFittings } from '../../src/measurements/fittings.ts';

/* Headings over two rows, and merged cells, as people make them in a spreadsheet. */

const read = (input: string | Uint8Array, fileName = 'fittings.csv') =>
  readFittings(input, { fileName, alterationColumns: [{ name: 'hip', canonical: 'hip', sign: 1 }] });
const told = async (input: string | Uint8Array) =>
  (await read(input)).findings.map((f) => `${f.level} ${f.code} ${f.where.address ?? f.where.row ?? ''}`.trim());

describe('headings over two rows', () => {
  const alma = { 'waist girth': 698.5, 'upper-arm girth': 279.4, 'wrist girth': 158.75 };

  it.each([
    [
      'a group over two columns, the others over both rows',
      'fitting,waist (in),arm,\n,,upper-arm girth (in),wrist (in)',
    ],
    ['the name above, all else below', 'fitting,girths,,\n,waist (in),upper arm (in),wrist (in)'],
    ['the unit in the group', 'fitting,girths (in),,\n,waist,upper arm,wrist'],
    ['the unit alone above', 'fitting,in,in,in\n,waist,upper arm,wrist'],
    ['the unit below', 'fitting,waist girth,upper-arm girth,wrist girth\n,(in),(in),(in)'],
    ['names parted over both', 'fitting,waist,upper arm,wrist\n,girth (in),girth (in),girth (in)'],
    ['what is measured above, where below', 'fitting,girth (in),,\n,waist,upper arm,wrist'],
    ['the unit of all in a title', 'All measurements in inches,,,\nfitting,waist,upper arm,wrist'],
    ['below a title', 'Chorus,,,\n,,,\nfitting,arm and waist,,\n,waist (in),upper arm (in),wrist (in)'],
  ])('%s', async (_, headings) => {
    const { fittings, findings } = await read(`${headings}\nAlma,27.5,11,6 1/4\n`);
    expect(fittings.map((f) => [f.name, f.measurements, f.refused])).toEqual([['Alma', alma, false]]);
    expect(findings.every((f) => f.level === 'note')).toBe(true);
  });

  it('are told, with what was read together', async () => {
    const { findings } = await read('fitting,back,,note\n,width (in),neck to waist (in),\nAlma,13.5,16,x\n');
    expect(findings).toEqual([
      {
        code: 'measure-headings-in-two-rows',
        level: 'note',
        where: { file: 'fittings.csv', row: 2 },
        message:
          "The headings stand in rows 1 and 2, and were read together: 'back width (in)', 'back neck to waist (in)'.",
        try: 'If that is not what is meant, write each heading in one cell.',
      },
    ]);
  });

  it('of which one means nothing: that one is asked about, by the name that both rows give it', async () => {
    const { findings } = await read('fitting,waist,hips,cuff\n,girth (in),girth (in),hight (in)\nAlma,27.5,38,3\n');
    expect(findings.map((f) => [f.code, f.where.address])).toEqual([
      ['measure-headings-in-two-rows', undefined],
      ['measure-column-unknown', 'D2'],
    ]);
    expect(findings[1]?.message).toContain("'cuff hight'");
  });

  it.each([
    ['a row without a number', 'fitting,waist (in),hip (in),note\nAlma,,,waist\nBerta,27,38,\n', ['Alma', 'Berta']],
    ['a row without a name', 'fitting,waist (in),hip (in)\n,27,38\nBerta,28,39\n', ['row 2', 'Berta']],
    ['a title of one known word', 'Waist,,\nfitting,waist (in),hip (in)\nAlma,27,38\n', ['Alma']],
    ['an empty row between', 'fitting,girths,\n,,\nAlma,waist (in),hip (in)\n', ['fitting']],
  ])('are not seen in %s', async (_, text, names) => {
    const { fittings, findings } = await read(text);
    expect(findings.map((f) => f.code)).not.toContain('measure-headings-in-two-rows');
    if (names[0] !== 'fitting') expect(fittings.map((f) => f.name)).toEqual(names);
  });

  it('of a size chart', async () => {
    const chart = await readChart('size,girths (in),,\n,bust,waist,hip\n12,34,26.5,36\n14,36,28,38\n', {
      fileName: 'chart.csv',
    });
    expect(chart.sizes.map((s) => [s.size, s.row, s.measurements['hip girth']])).toEqual([
      ['12', 3, expect.closeTo(914.4, 9)],
      ['14', 4, expect.closeTo(965.2, 9)],
    ]);
  });
});

describe('merged cells of a workbook', () => {
  type Cells = Parameters<typeof writeWorkbook>[0];
  const workbook = async (data: unknown[][]) =>
    new Uint8Array(await writeWorkbook([{ sheet: 'fittings', data }] as unknown as Cells).toBuffer());
  const tall = (value: unknown) => ({ value, rowSpan: 2 });
  const wide = (value: unknown, columnSpan: number) => ({ value, columnSpan });
  const heads = ['fitting', 'waist (in)', 'hip (in)', 'note'];

  it('a measurement over two rows is taken for both, and asked about in the second', async () => {
    const bytes = await workbook([heads, ['Alma', tall(27.5), 38], ['Berta', null, 39], ['Carla', 28, 40]]);
    const { fittings, findings } = await read(bytes);
    expect(fittings.map((f) => f.measurements['waist girth'])).toEqual([698.5, 698.5, expect.closeTo(711.2, 9)]);
    expect(findings).toEqual([
      expect.objectContaining({
        code: 'measure-cell-merged',
        level: 'warning',
        where: { file: 'fittings.csv', row: 3, address: 'B3', cell: 'waist (in)', excerpt: '27.5', fitting: 'Berta' },
        message: "waist (in): B2:B3 is one cell over rows 2 to 3. Its value '27.5' was taken for each of them.",
      }),
    ]);
  });

  it('a note over two rows is a note of both', async () => {
    const bytes = await workbook([heads, ['Alma', 27.5, 38, tall('act two')], ['Berta', 28, 39, null]]);
    const { fittings } = await read(bytes);
    expect(fittings.map((f) => f.note)).toEqual(['act two', 'act two']);
    expect(await told(bytes)).toEqual(['note measure-cell-merged D3']);
  });

  it('one over two columns, and one name over two rows, are refused', async () => {
    const columns = await workbook([heads, ['Alma', wide(38, 2), null, 'x'], ['Berta', 28, 39]]);
    expect(await told(columns)).toEqual(['error measure-cell-merged B2']);
    expect((await read(columns)).fittings.map((f) => f.refused)).toEqual([true, false]);
    const name = await workbook([heads, [tall('Alma'), 27.5, null], [null, null, 38], ['Berta', 28, 39]]);
    expect(await told(name)).toEqual(['error measure-cell-merged A2', 'error measure-name-missing 3']);
    expect((await read(name)).fittings.map((f) => f.refused)).toEqual([true, true, false]);
  });

  it('a row of one wide cell is a title among the rows', async () => {
    const bytes = await workbook([
      heads,
      [wide('Sopranos', 4)],
      ['Alma', 27.5, 38],
      [wide('Altos', 4)],
      ['Berta', 28, 39],
    ]);
    expect((await read(bytes)).fittings.map((f) => [f.name, f.row])).toEqual([
      ['Alma', 3],
      ['Berta', 5],
    ]);
    expect(await told(bytes)).toEqual(['note measure-title-rows', 'note measure-title-rows']);
  });

  it('headings over two rows, merged upwards and sideways', async () => {
    const bytes = await workbook([
      [wide('Chorus, act two', 4)],
      [tall('fitting'), wide('girths (in)', 2), null, tall('note')],
      [null, 'waist', 'hip', null],
      ['Alma', 27.5, 38, 'x'],
    ]);
    const { fittings } = await read(bytes);
    expect(fittings.map((f) => [f.name, f.measurements, f.note])).toEqual([
      ['Alma', { 'waist girth': 698.5, 'hip girth': expect.closeTo(965.2, 9) }, 'x'],
    ]);
    expect(await told(bytes)).toEqual(['note measure-title-rows 2', 'note measure-headings-in-two-rows 3']);
  });
});

import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { readChart, sizeCalled } from '../../src/measurements/chart.ts';
import { measureCodes } from '../../src/measurements/codes.ts';
import { readFittings } from '../../src/measurements/fittings.ts';

const alterationColumns = [
  { name: 'full abdomen', canonical: 'full abdomen', sign: 1 },
  { name: 'flat abdomen', canonical: 'full abdomen', sign: -1 },
  { name: 'hip', canonical: 'hip', sign: 1 },
  { name: 'hip smaller', canonical: 'hip', sign: -1 },
  { name: 'length at the hem', canonical: 'length at the hem', sign: 1 },
] as const;

const read = (text: string | Uint8Array, fileName = 'fittings.csv') =>
  readFittings(text, { fileName, alterationColumns });
const codes = async (text: string | Uint8Array, fileName?: string) =>
  (await read(text, fileName)).findings.map((f) => f.code);
const encode = (text: string) => new TextEncoder().encode(text);

const comma = `fitting,waist girth (in),hip girth (in),full abdomen (mm),note
Odile,27 1/2,38,,first row
Petra,28½,39 1/4,12,
`;

describe('fittings tables', () => {
  it('reads a table with units in the headings', async () => {
    const { fittings, findings } = await read(comma);
    expect(findings).toEqual([]);
    expect(fittings.map((f) => f.name)).toEqual(['Odile', 'Petra']);
    expect(fittings[0]).toMatchObject({
      measurements: { 'waist girth': 698.5 },
      show: 'in',
      note: 'first row',
      row: 2,
    });
    expect(fittings[1]?.direct).toEqual({ 'full abdomen': { amount: 12, column: 'full abdomen (mm)' } });
    expect(fittings[1]?.measurements['hip girth']).toBeCloseTo(39.25 * 25.4, 9);
  });

  it.each([
    ['semicolons', comma.replaceAll(',', ';')],
    ['tabs', comma.replaceAll(',', '\t')],
    ['a byte order mark', `\uFEFF${comma}`],
    ['Windows line ends', comma.replaceAll('\n', '\r\n')],
    ['quotation marks', comma.replace('27 1/2', '"27 1/2"').replace('first row', '"first row"')],
    ['a stated separator', `sep=,\n${comma}`],
  ])('reads the same with %s', async (_, text) => {
    const plain = async (t: string) => (await read(t)).fittings.map(({ row: _row, ...fitting }) => fitting);
    expect(await plain(text)).toEqual(await plain(comma));
  });

  it('reads the same from bytes in UTF-8, UTF-16 and Windows-1252', async () => {
    const utf16 = new Uint8Array(Buffer.from(`\uFEFF${comma}`, 'utf16le'));
    const latin = new Uint8Array(Buffer.from(comma, 'latin1'));
    expect((await read(encode(comma))).fittings).toEqual((await read(comma)).fittings);
    expect((await read(utf16)).fittings).toEqual((await read(comma)).fittings);
    expect((await read(latin)).fittings).toEqual((await read(comma)).fittings);
    expect(await codes(latin)).toEqual(['measure-encoding-assumed']);
  });

  it('reads the same from JSON and YAML, as a list and keyed by name', async () => {
    const list = [{ fitting: 'Odile', 'waist girth (in)': 27.5, 'hip girth': '38 in', note: 'first row' }];
    const keyed = 'fittings:\n  Odile:\n    waist girth (in): 27.5\n    hip girth: 38 in\n    note: first row\n';
    const one = (await read('fitting,waist girth (in),hip girth,note\nOdile,27.5,38 in,first row')).fittings[0];
    const json = await read(JSON.stringify(list, null, '\t'), 'f.json');
    const yaml = await read(keyed, 'f.yaml');
    expect(json.findings).toEqual([]);
    expect(json.fittings).toEqual([{ ...one, row: 1 }]);
    expect(yaml.fittings).toEqual([{ ...one, row: 1 }]);
  });

  it('reads units in the cells, decimal commas and inch marks', async () => {
    const { fittings, findings } = await read('fitting;waist;hips\nA;70,5 cm;96 cm\nB;27 1/2";38"\nC;705 mm;960 mm\n');
    expect(findings).toEqual([]);
    expect(fittings.map((f) => [f.measurements['waist girth'], f.measurements['hip girth'], f.show])).toEqual([
      [705, 960, 'cm'],
      [698.5, 965.2, 'in'],
      [705, 960, 'mm'],
    ]);
  });

  it('skips empty rows but counts them, as a spreadsheet does', async () => {
    const { fittings, findings } = await read('fitting,waist (in)\n\n,\nA,27\n,,\n\nB,28\n');
    expect(findings).toEqual([]);
    expect(fittings.map((f) => [f.name, f.row])).toEqual([
      ['A', 4],
      ['B', 7],
    ]);
  });

  it('refuses 1,234 with row, column and text, and goes on with the others', async () => {
    const { fittings, findings } = await read('fitting;waist girth (mm)\nA;1,234\nB;705\n');
    expect(findings).toHaveLength(1);
    expect(findings[0]).toMatchObject({
      code: 'measure-value-ambiguous',
      where: { file: 'fittings.csv', row: 2, cell: 'waist girth (mm)', excerpt: '1,234', fitting: 'A' },
    });
    expect(fittings.map((f) => f.refused)).toEqual([true, false]);
  });

  it('names the nearest known column, and refuses only the rows that use the unknown one', async () => {
    const { fittings, findings } = await read('fitting,waist girth (in),hip grith (in)\nA,27,37\nB,28,\n');
    expect(findings).toHaveLength(1);
    expect(findings[0]).toMatchObject({
      code: 'measure-column-unknown',
      where: { row: 1, cell: 'hip grith (in)' },
      try: expect.stringContaining("'hip girth'"),
    });
    expect(fittings.map((f) => f.refused)).toEqual([true, false]);
  });

  it('takes signs from the column that names an alteration', async () => {
    const { fittings } = await read('fitting,flat abdomen (mm),hip change (in)\nA,6,-1/2\n');
    expect(fittings[0]?.direct).toEqual({
      'full abdomen': { amount: -6, column: 'flat abdomen (mm)' },
      hip: { amount: -12.7, column: 'hip change (in)' },
    });
  });

  it('takes a name that is both for the measurement, and says how to ask for a change', async () => {
    const { findings } = await read('fitting,hip (mm)\nA,+12\n');
    expect(findings[0]).toMatchObject({ code: 'measure-value-not-positive', try: expect.stringContaining('change') });
  });

  it.each([
    ['a number without unit', 'fitting,waist\nA,27\n', ['measure-unit-missing']],
    ['a text', 'fitting,waist (in)\nA,about 27\n', ['measure-value-unreadable']],
    ['zero', 'fitting,waist (in)\nA,0\n', ['measure-value-not-positive']],
    ['an unknown unit', 'fitting,waist (furlongs)\nA,27\n', ['measure-unit-unknown']],
    ['another unit in the cell', 'fitting,waist (in)\nA,70 cm\n', ['measure-unit-differs']],
    ['a measurement twice', 'fitting,waist (in),waist girth (in)\nA,27,27\n', ['measure-given-twice']],
    ['a name twice', 'fitting,waist (in)\nA,27\na,28\n', ['measure-name-twice', 'measure-name-twice']],
    ['no name', 'fitting,waist (in)\n,27\n', ['measure-name-missing']],
    ['nothing asked', 'fitting,waist (in)\nA,\n', ['measure-nothing-asked']],
    ['no column fitting', 'name,waist (in)\nA,27\n', ['measure-column-unknown', 'measure-column-missing']],
    ['too many cells', 'fitting,waist\nA,70,5 cm\n', ['measure-row-length', 'measure-unit-missing']],
    ['a column named like a part of the language', 'fitting,constructor\nA,27\n', ['measure-column-unknown']],
    ['no heading', 'fitting,,waist (in)\nA,7,27\n', ['measure-column-unnamed']],
    ['an open quotation mark', 'fitting,waist (in)\n"A,27\n', ['measure-table-unreadable']],
    ['nothing at all', '', ['measure-table-empty']],
    ['headings alone', 'fitting,waist (in)\n', ['measure-table-empty']],
  ])('tells of %s', async (_, text, expected) => {
    expect(await codes(text)).toEqual(expected);
    for (const code of await codes(text)) expect(measureCodes).toHaveProperty(code);
  });

  it.each([
    ['broken JSON', '[{"fitting": "A", ]', 'f.json', 'measure-table-unreadable'],
    ['a nested value', '[{"fitting": "A", "waist": {"in": 27}}]', 'f.json', 'measure-row-shape'],
    ['a key twice', '- fitting: A\n  fitting: B\n', 'f.yaml', 'measure-table-unreadable'],
    ['a plain text', 'hello', 'f.yaml', 'measure-table-empty'],
  ])('tells of %s', async (_, text, fileName, expected) => expect(await codes(text, fileName)).toContain(expected));

  it('allows one name for two patterns', async () => {
    const { fittings, findings } = await read('fitting,pattern,waist (in)\nA,skirt.dxf,27\nA,cape.dxf,27\n');
    expect(findings).toEqual([]);
    expect(fittings.map((f) => f.pattern)).toEqual(['skirt.dxf', 'cape.dxf']);
  });

  it('asks about a body that cannot be', async () => {
    expect(await codes('fitting,waist (cm),hip (cm)\nA,27,37\n')).toEqual(['measure-row-unit']);
    const { findings, fittings } = await read('fitting,waist (in),hip (in)\nA,38,27\n');
    expect(findings.map((f) => f.code)).toEqual(['measure-exchanged']);
    expect(fittings[0]?.refused).toBe(false);
    const [mixed] = (await read('fitting,waist\nA,270 mm\n')).findings;
    expect(mixed).toMatchObject({ code: 'measure-unit-mixed-up', where: { row: 2, cell: 'waist' } });
    const [inches] = (await read('fitting,waist\nA,27 cm\n')).findings;
    expect(inches?.try).toContain('27 in');
  });
});

describe('size charts', () => {
  // Misses' body table of US home sewing (a secondary copy), inches.
  const misses = `size,bust,waist,hip,back waist length
6,30½ in,23 in,32½ in,15½ in
8,31½ in,24 in,33½ in,15¾ in
10,32½ in,25 in,34½ in,16 in
12,34 in,26½ in,36 in,16¼ in
14,36 in,28 in,38 in,16½ in
16,38 in,30 in,40 in,16¾ in
18,40 in,32 in,42 in,17 in
20,42 in,34 in,44 in,17¼ in
`;

  it('reads the Misses table: every value as published', async () => {
    const chart = await readChart(misses, { fileName: 'misses.csv' });
    expect(chart.findings).toEqual([]);
    expect(chart.sizes.map((s) => s.size)).toEqual(['6', '8', '10', '12', '14', '16', '18', '20']);
    const inches = (name: string) => chart.sizes.map((s) => (s.measurements[name] ?? 0) / 25.4);
    const rounded = (name: string) => inches(name).map((n) => Math.round(n * 1e9) / 1e9);
    expect(rounded('bust girth')).toEqual([30.5, 31.5, 32.5, 34, 36, 38, 40, 42]);
    expect(rounded('waist girth')).toEqual([23, 24, 25, 26.5, 28, 30, 32, 34]);
    expect(rounded('hip girth')).toEqual([32.5, 33.5, 34.5, 36, 38, 40, 42, 44]);
    expect(rounded('back neck to waist')).toEqual([15.5, 15.75, 16, 16.25, 16.5, 16.75, 17, 17.25]);
  });

  // ASTM D5585-11e1, misses' figure types: waist of the curvy and the straight figure, inches. Sizes 00 to 20.
  it('reads the waists of D5585; size 12: straight is 1½ in more than curvy', async () => {
    const chart = (waists: string, sizes: string) =>
      readChart(
        `size,waist (in)\n${sizes
          .split(' ')
          .map((s, i) => `${s},${waists.split(' ')[i]}`)
          .join('\n')}`,
        {
          fileName: 'd5585.csv',
        },
      );
    const sizes = '00 0 2 4 6 8 10 12 14 16 18 20';
    const curvy = await chart('23⅞ 24⅝ 25⅜ 26⅛ 27 28 29 30¾ 32½ 34½ 36¾ 39', sizes);
    const straight = await chart('25⅜ 26⅛ 26⅞ 27⅝ 28½ 29½ 30½ 32¼ 34 36 38¼ 40½', sizes);
    expect([...curvy.findings, ...straight.findings]).toEqual([]);
    const [a, b] = [sizeCalled(curvy, '12'), sizeCalled(straight, '12')];
    if ('code' in a || 'code' in b) throw new Error('size 12 is in both');
    const difference = (b.measurements['waist girth'] ?? 0) - (a.measurements['waist girth'] ?? 0);
    expect(difference).toBeCloseTo(1.5 * 25.4, 9);
    expect(curvy.sizes[0]?.measurements['waist girth']).toBeCloseTo(23.875 * 25.4, 9);
  });

  it('says which sizes there are', async () => {
    const chart = await readChart(misses, { fileName: 'misses.csv' });
    expect(sizeCalled(chart, '12')).toMatchObject({ size: '12', row: 5 });
    expect(sizeCalled(chart, '13')).toMatchObject({ code: 'measure-size-unknown' });
    expect(sizeCalled(chart, '')).toMatchObject({ message: expect.stringContaining('6, 8, 10') });
  });

  it.each([
    ['no column size', 'taille,waist (in)\n8,24\n', 'measure-column-missing'],
    ['a row without size', 'size,waist (in)\n,24\n', 'measure-name-missing'],
    ['an amount', 'size,full abdomen (in)\n8,1\n', 'measure-column-unknown'],
  ])('tells of %s', async (_, text, code) => {
    expect((await readChart(text, { fileName: 'c.csv' })).findings.map((f) => f.code)).toContain(code);
  });

  it('leaves out a size that cannot be read and keeps the rest', async () => {
    const chart = await readChart('size,waist (in)\n8,24\n8,25\n10,x\n12,26½\n', { fileName: 'c.csv' });
    expect(chart.sizes.map((s) => s.size)).toEqual(['8', '12']);
    expect(chart.findings.map((f) => f.code)).toEqual(['measure-name-twice', 'measure-value-unreadable']);
  });
});

describe('any text at all', () => {
  const scraps = fc.constantFrom(
    ...[
      'fitting',
      'waist (in)',
      'hip',
      'full abdomen (mm)',
      ',',
      ';',
      '\t',
      '\n',
      '\r\n',
      '"',
      '27',
      '1,234',
      '½',
      '-',
      '',
    ],
    ...[
      '{',
      '}',
      '[',
      ']',
      ':',
      '- ',
      '&a ',
      '*a',
      '# ',
      '__proto__',
      'sep=;\n',
      '\uFEFF',
      '\u0000',
      'ウエスト',
      '27 in',
    ],
  );
  const texts = fc.oneof(
    fc.string(),
    fc.array(scraps, { maxLength: 25 }).map((s) => s.join('')),
  );

  it('is read or told of, and a fitting with an error is refused', async () => {
    await fc.assert(
      fc.asyncProperty(texts, fc.constantFrom('f.csv', 'f.json', 'f.yaml', 'f'), async (text, fileName) => {
        const { fittings, findings } = await read(encode(text), fileName);
        expect(fittings.length + findings.length).toBeGreaterThan(0);
        const inError = findings.filter((f) => f.level === 'error').map((f) => f.where.fitting);
        for (const fitting of fittings) {
          if (inError.includes(fitting.name)) expect(fitting.refused).toBe(true);
          for (const mm of Object.values(fitting.measurements)) expect(mm).toBeGreaterThan(0);
          for (const { amount } of Object.values(fitting.direct)) expect(Number.isFinite(amount)).toBe(true);
        }
        for (const { code } of findings) expect(measureCodes).toHaveProperty(code);
        await readChart(encode(text), { fileName });
      }),
      { numRuns: 400 },
    );
  });

  it('gives back what a table of random fittings was written from', async () => {
    const row = fc.record({
      name: fc.stringMatching(/^[A-Za-z][A-Za-z ,;"'-]{0,10}[a-z]$/),
      waist: fc.integer({ min: 20 * 16, max: 60 * 16 }),
      amount: fc.integer({ min: -40, max: 40 }),
    });
    const rows = fc.uniqueArray(row, { minLength: 1, maxLength: 8, selector: (r) => r.name.toLowerCase() });
    await fc.assert(
      fc.asyncProperty(
        rows,
        fc.constantFrom(',', ';', '\t'),
        fc.constantFrom('\n', '\r\n'),
        async (list, mark, end) => {
          const cell = (text: string) => `"${text.replaceAll('"', '""')}"`;
          const lines = list.map((r) =>
            [cell(r.name), `${Math.floor(r.waist / 16)} ${r.waist % 16}/16`, `${r.amount}`].join(mark),
          );
          const text = [['fitting', 'waist (in)', 'full abdomen (mm)'].join(mark), ...lines, ''].join(end);
          const { fittings } = await read(text);
          expect(fittings.map((f) => f.name)).toEqual(list.map((r) => r.name));
          for (const [i, r] of list.entries()) {
            expect(fittings[i]?.measurements['waist girth']).toBeCloseTo((r.waist / 16) * 25.4, 9);
            expect(fittings[i]?.direct['full abdomen']?.amount).toBe(r.amount);
          }
        },
      ),
    );
  });
});

import fc from 'fast-check';
import { strFromU8, strToU8, unzipSync, zipSync } from 'fflate';
import readWorkbook from 'read-excel-file/node';
import { describe, expect, it } from 'vitest';
import writeWorkbook from 'write-excel-file/node';
import { readFittings } from '../../src/measurements/fittings.ts';
import { cellAddress } from '../../src/measurements/grid.ts';

const alterationColumns = [
  { name: 'full abdomen', canonical: 'full abdomen', sign: 1 },
  { name: 'hip', canonical: 'hip', sign: 1 },
] as const;
const read = (input: string | Uint8Array, fileName = 'fittings.csv', sheet?: string) =>
  readFittings(input, { fileName, sheet, alterationColumns });
const told = async (input: string | Uint8Array, fileName?: string) =>
  (await read(input, fileName)).findings.map((f) => `${f.code} ${f.where.address ?? f.where.row ?? ''}`.trim());

describe('what is no table', () => {
  it('is told of bytes that are no text, without showing them', async () => {
    // A PNG begins so (ISO/IEC 15948, 5.2 and 11.2.2); and bytes as they come, of a small generator.
    const png = [
      0x89, 0x50, 0x4e, 0x47, 0x0d, 0x0a, 0x1a, 0x0a, 0, 0, 0, 0x0d, 0x49, 0x48, 0x44, 0x52, 0, 0, 1, 0, 8, 6,
    ];
    let seed = 7;
    const noise = Array.from({ length: 3000 }, () => {
      seed = (seed * 1103515245 + 12345) % 2147483648;
      return (seed >> 16) & 0xff;
    });
    for (const bytes of [png, noise]) {
      const { fittings, findings } = await readFittings(new Uint8Array(bytes), {
        fileName: 't.csv',
        alterationColumns: [],
      });
      expect(fittings).toEqual([]);
      expect(findings).toMatchObject([
        {
          code: 'measure-table-unreadable',
          message: expect.stringContaining('it is no text'),
          where: { file: 't.csv' },
        },
      ]);
      expect(findings[0]?.where.excerpt).toBeUndefined();
    }
  });

  it('is not said of a text for a few strange characters', async () => {
    const text = 'fitting,waist (in)\nAn\u001b[31mna\u0007,27\n';
    const { fittings } = await readFittings(new TextEncoder().encode(text), {
      fileName: 't.csv',
      alterationColumns: [],
    });
    expect(fittings).toHaveLength(1);
  });
});

describe('what is told of cells', () => {
  const told = async (text: string) =>
    (await readFittings(text, { fileName: 't.csv', alterationColumns: [] })).findings.map((f) => [f.code, f.try]);

  it('is that metres stand under centimetres, and not under metres', async () => {
    expect((await told('fitting;waist (cm)\nA;0,73m\nB;73 cm\n')).map(([code]) => code)).toEqual([
      'measure-unit-differs',
    ]);
    expect(await told('fitting;waist (m)\nA;0,73 m\n')).toEqual([]);
  });

  it('is what to do about a row that is too long, by what stands between its columns', async () => {
    const remedy = async (text: string) => (await told(text)).find(([code]) => code === 'measure-row-length')?.[1];
    expect(await remedy('fitting,waist (cm),hip (cm)\nA,70,5,95\n')).toContain('or semicolons between the columns');
    expect(await remedy('fitting;waist (cm);hip (cm)\nA;70;95;1\n')).toMatch(
      /^Take out what is too many.*with a semicolon in it/,
    );
    expect(await remedy('fitting\twaist (cm)\thip (cm)\nA\t70\t95\t1\n')).not.toContain('semicolon');
  });
});

describe('tables as spreadsheets write them', () => {
  const plain = 'fitting,waist girth (cm),hip girth (cm),note\nDorothea,70.5,96,\nÉdouard,"71,5",97,"in two\nlines"\n';
  const same = async (input: string | Uint8Array) => {
    const { fittings } = await read(input);
    expect(fittings.map((f) => [f.name, f.measurements, f.note, f.refused])).toEqual([
      ['Dorothea', { 'waist girth': 705, 'hip girth': 960 }, '', false],
      ['Édouard', { 'waist girth': 715, 'hip girth': 970 }, 'in two\nlines', false],
    ]);
    return fittings;
  };
  const semicolons = plain.replaceAll(',', ';').replaceAll('70.5', '70,5').replace('"71;5"', '71,5');

  it.each([
    ['a byte order mark, semicolons and decimal commas', `\uFEFF${semicolons}`],
    ['tabs', plain.replaceAll('"71,5"', '71.5').replaceAll(',', '\t')],
    [
      'Windows line ends and empty cells on the right',
      plain.replace(/note\n/, 'note,,,\n').replaceAll(/\n(?=[DÉ])/g, '\r\n'),
    ],
    ['empty rows between and below', `${plain.replace('Édouard', ',,,\n\nÉdouard')}\n,,,\n,,,\n`],
    ['a unit row below the headings', plain.replaceAll(' (cm)', '').replace('note\n', 'note\n,cm,[cm],\n')],
  ])('%s', async (_, text) => {
    await same(text);
    expect(await told(text)).toEqual([]);
  });

  it('UTF-16 with its mark, and Windows-1252 with its umlauts, which is told', async () => {
    await same(new Uint8Array(Buffer.from(`\uFEFF${plain}`, 'utf16le')));
    await same(new Uint8Array(Buffer.from(`\uFEFF${plain}`, 'utf16le').swap16()));
    const western = new Uint8Array(Buffer.from(semicolons, 'latin1'));
    await same(western);
    expect(await told(western)).toEqual(['measure-encoding-assumed']);
  });

  it('the text that a spreadsheet saves as Unicode: UTF-16, tabs, inch marks of print, fractions of one sign', async () => {
    const lines = ['fitting\twaist girth\thips', 'Dorothea\t27 ½″\t38¾”', 'Édouard\t"28 1/4"""\t39¹⁄₂ in', ''];
    const { fittings, findings } = await read(new Uint8Array(Buffer.from(`\uFEFF${lines.join('\r\n')}`, 'utf16le')));
    expect(findings).toEqual([]);
    const inches = (mm: number) => Number((mm / 25.4).toFixed(9));
    expect(fittings.map((f) => Object.values(f.measurements).map(inches))).toEqual([
      [27.5, 38.75],
      [28.25, 39.5],
    ]);
  });

  it('blanks that do not break, in headings, names, values and cells that look empty', async () => {
    const heads = 'fitting;waist girth\u00A0(cm);hip\u00A0girth (cm);back width';
    const rows = [
      'Alma\u00A0;70,5;96\u00A0cm;13\u00A0½\u202F″',
      '\u00A0;\u00A0;\u2007;',
      'Berta;71\u202F;97;13½\u00A0in',
    ];
    const { fittings, findings } = await read(`${[heads, ...rows].join('\n')}\n`);
    expect(findings).toEqual([]);
    expect(fittings.map((f) => [f.name, f.row, f.measurements['hip girth'], f.measurements['back width']])).toEqual([
      ['Alma', 2, 960, 342.9],
      ['Berta', 4, 970, 342.9],
    ]);
  });

  // 0x94 is ” and 0x92 is ’ in Windows-1252 (WHATWG Encoding Standard, index windows-1252).
  it('quotation marks for inches and feet in Windows-1252', async () => {
    const bytes = Buffer.from('fitting;hips;stature\nA;38\xBE\x94;5\x92 4\x94\n', 'latin1');
    const { fittings, findings } = await read(new Uint8Array(bytes));
    expect(findings.map((f) => f.code)).toEqual(['measure-encoding-assumed']);
    expect(fittings[0]?.measurements).toEqual({ 'hip girth': 984.25, stature: 1625.6 });
  });

  it('rows that end with a carriage return alone', async () =>
    expect(await told('fitting,waist (in),hip (in)\rAlma,27.5,38\rBerta,x,39\r')).toEqual([
      'measure-value-unreadable B3',
    ]));

  it.each([
    ...['waist cm', 'waist in cm', 'waist, cm', 'waist_cm', 'waist girth cm.', 'Waist-CM', 'waist\n(cm)', 'waist [cm]'],
  ])('the unit in the heading %j', async (heading) => {
    const { fittings, findings } = await read(`fitting;"${heading}"\nA;70,5\n`);
    expect(findings).toEqual([]);
    expect(fittings[0]?.measurements).toEqual({ 'waist girth': 705 });
  });

  it.each([
    ['with a word above the names', 'measurement,Alma,Berta\nwaist girth (in),27.5,28\nhip girth (in),38,39\n'],
    ['with fitting above them', 'fitting,Alma,Berta\nwaist girth (in),27.5,28\nhip girth (in),38,39\n'],
    ['of one wearer', 'Alma\nwaist girth,27.5 in\nhip girth,38 in\n'],
  ])('a table on its side, %s, is told as one', async (_, text) => {
    const { fittings, findings } = await read(text);
    expect(fittings).toEqual([]);
    expect(findings.map((f) => f.code)).toEqual(['measure-table-turned']);
    expect(findings[0]?.message).toContain('(waist girth');
  });

  it('the headings once more between the rows', async () => {
    const text = 'fitting,waist (in),hip (in)\nAlma,27.5,38\n,,\nfitting,waist (in),hip\nBerta,28,39\n';
    const { fittings, findings } = await read(text);
    expect(fittings.map((f) => [f.name, f.row])).toEqual([
      ['Alma', 2],
      ['Berta', 5],
    ]);
    expect(findings.map((f) => [f.level, f.code])).toEqual([['note', 'measure-title-rows']]);
    expect(findings[0]?.message).toContain('row 4');
  });

  it('another table below, under other headings, is not read and is told', async () => {
    const text = 'fitting,waist (in),hip (in)\nAlma,27.5,38\n\nfitting,bust (in),waist (in)\nCarla,36,28\nDora,38,30\n';
    const { fittings, findings } = await read(text);
    expect(fittings.map((f) => [f.name, f.row, f.measurements['waist girth'], f.refused])).toEqual([
      ['Alma', 2, 698.5, false],
      ['Carla', 5, undefined, true],
      ['Dora', 6, undefined, true],
    ]);
    expect(findings.map((f) => [f.code, f.level, f.where.row, f.where.fitting])).toEqual([
      ['measure-table-second', 'error', 5, 'Carla'],
      ['measure-table-second', 'error', 6, 'Dora'],
    ]);
  });

  it.each(['note', 'Remarks', 'Bemerkung', 'Comments', 'Observações'])('notes under %s', async (heading) =>
    expect((await read(`fitting,waist (in),${heading}\nAlma,27.5,at the front\n`)).fittings[0]?.note).toBe(
      'at the front',
    ),
  );

  it('a mean below the rows is nobody, and Max is somebody', async () => {
    const text = (last: string) => `fitting,waist (in)\nAlma,27.5\nBerta,28\n${last},27.75\n`;
    for (const name of ['Average', 'TOTAL', 'Mittelwert', 'média']) {
      expect(await told(text(name)), name).toEqual(['measure-row-summary 4']);
    }
    for (const name of ['Max', 'The Count', 'Totila']) expect(await told(text(name)), name).toEqual([]);
    expect(await told('fitting,waist (in)\nTotal,27.5\nBerta,28\n')).toEqual([]);
  });

  it('names the column that has the names', async () =>
    expect((await read('First name,waist (in),hip (in)\nAlma,27.5,38\n')).findings.at(-1)?.try).toBe(
      "Head the column 'First name' with 'fitting'.",
    ));

  it.each([
    ['commas', ','],
    ['semicolons', ';'],
  ])('a title above the headings, with %s', async (_, mark) => {
    const title = `Wardrobe, act two${mark === ';' ? ' - skirts, all sizes, first list' : ''}`;
    const text = `${mark === ',' ? `"${title}",,,` : title}\n${mark.repeat(3)}\n${mark === ',' ? plain : semicolons}`;
    const fittings = await same(text);
    expect(fittings.map((f) => f.row)).toEqual([4, 5]);
    expect(await told(text)).toEqual(['measure-title-rows 3']);
  });

  it("'Fittings' above a table is a title, and above one column its heading", async () => {
    expect((await read(`Fittings\n\n${plain}`)).fittings).toHaveLength(2);
    expect(await told('fitting\nDorothea\n')).toEqual(['measure-nothing-asked 2']);
  });

  it('gives the cell as a spreadsheet calls it', async () => {
    expect(await told(`title;;\n\n${semicolons.replace('96', '1,234')}`)).toContain('measure-value-ambiguous C4');
    expect(await told('fitting;wasit (in)\nA;27\n')).toEqual(['measure-column-unknown B1']);
    expect([0, 25, 26, 51, 52, 701, 702, 16383].map((c) => cellAddress(c, 7))).toEqual(
      ['A7', 'Z7', 'AA7', 'AZ7', 'BA7', 'ZZ7', 'AAA7', 'XFD7'], // XFD is the last column of a sheet (ECMA-376)
    );
  });

  it.each([
    '2026-05-27',
    '27.05.2026',
    '27/05/26',
    '1-Feb',
    '01.Feb',
    '27. Mai',
    'May-27',
    '27 mai 2026',
    '2-ene',
    '12:30',
  ])('%s is a date, and what was typed is lost', async (cell) =>
    expect(await told(`fitting;waist (in)\nA;${cell}\n`)).toEqual(['measure-cell-date B2']),
  );
  it.each(['27-1/2', '27 1/2', '27½', '1/2', '27.5', '27,5'])('%s is none', async (cell) =>
    expect(await told(`fitting;hip change (mm)\nA;${cell}\n`)).toEqual([]),
  );

  it.each([
    // Of 27 May: what goes into a waist in inches, else into another unit.
    ['waist (in)', '5/27', 'perhaps 27.5.'],
    ['waist (in)', '27/5', 'perhaps 27.5.'],
    ['waist (cm)', '5/27', 'perhaps 27.5 in.'],
    ['waist (in)', '27. Mai', 'perhaps 27.5.'],
    ['waist (in)', 'May-27', 'perhaps 27.5.'],
    ['waist (in)', '2026-05-27', 'perhaps 27.5.'],
    ['waist (in)', '27/05/2026', 'perhaps 27.5.'],
    ['waist (in)', '46169', 'the day 2026-05-27'],
    ['waist (in)', '1/2', 'no length anybody means here'],
    ['wrist (in)', '7/8', 'perhaps 8.7 or 7.8.'],
    // Of 8 March, an amount: the fraction first.
    ['hip change (in)', '2026-03-08', 'perhaps 3/8 or 3.8.'],
    ['hip change (in)', '8 mars', 'perhaps 3/8 or 3.8.'],
    ['hip change (in)', '3/27', 'perhaps 3.27.'],
    ['shoulder drop (in)', '2026-03-04', 'perhaps 3/4, 4.3 or 3.4.'],
  ])('%s %s: %s', async (heading, cell, expected) => {
    const { findings, fittings } = await read(`fitting;${heading}\nA;${cell}\n`);
    expect(findings.map((f) => f.code)).toEqual(['measure-cell-date']);
    expect(findings[0]?.message).toContain(expected);
    expect(findings[0]?.where).toMatchObject({ row: 2, address: 'B2', excerpt: cell });
    expect(fittings[0]?.refused).toBe(true);
  });

  it('a fraction that is on no tape', async () => {
    expect(await told('fitting;waist (in)\nA;27 5/27\n')).toEqual(['measure-fraction-unusual B2']);
    expect(await told('fitting;waist (in);shoulder drop (in)\nA;27 5/32;3/4\nB;27⅔;7/8\n')).toEqual([]);
  });

  it.each(['#REF!', '#DIV/0!', '#N/A', '#NV', '#WERT!', '#ÜBERLAUF!', 'Err:502'])('%s is an error', async (cell) =>
    expect(await told(`fitting;waist (in)\nA;${cell}\n${cell};27\n`)).toEqual([
      'measure-cell-error B2',
      'measure-cell-error A3',
    ]),
  );

  it('a formula that came out as text', async () =>
    expect(await told('fitting;waist (in)\nA;=B3/2.54\n')).toEqual(['measure-formula-without-value B2']));
});

describe('across rows', () => {
  it('one person measured in two ways', async () => {
    const text = 'fitting,wearer,waist (cm),checked\ncloak,Alma,70,\ngown,Alma,72,\napron,Alma,70.5,\n';
    expect(await told(text)).toEqual(['measure-person-twice C3', 'measure-person-twice C4'].slice(0, 2));
    const { findings } = await read(text.replace('72,', '72,yes'));
    expect(findings.map((f) => f.level)).toEqual(['note', 'note']);
  });

  it('a whole column in another unit', async () => {
    const rows = ['27', '28', '26 1/2', '30'].map((v, i) => `W${i},${v},95`).join('\n');
    const { findings } = await read(`fitting,waist (cm),hip (cm)\n${rows}\n`);
    expect(findings.find((f) => f.code === 'measure-column-unit')).toMatchObject({
      where: { cell: 'waist (cm)' },
      try: "Head the column 'waist girth (in)'.",
    });
  });

  it('a table of children is in the unit that it says', async () => {
    const children = ['56,53,58,104', '58,54,60,110', '62,56,66,120', '65,58,70,128'].map((v, i) => `C${i},${v}`);
    const { findings } = await read(`fitting,bust (cm),waist (cm),hip (cm),stature (cm)\n${children.join('\n')}\n`);
    expect(new Set(findings.map((f) => f.code))).toEqual(new Set(['measure-childs-figure']));
  });

  it('two columns with the headings of each other', async () => {
    const rows = ['36,28,38', '34,26.5,36', '40,32,42', '38,30,40.5'].map((v, i) => `W${i},${v}`).join('\n');
    const { findings } = await read(`fitting,waist (in),bust (in),hip (in)\n${rows}\n`);
    expect(findings.map((f) => f.code)).toEqual([...Array(4).fill('measure-exchanged'), 'measure-columns-exchanged']);
    expect(findings[4]?.message).toBe(
      "In 4 of 4 rows the waist girth and bust girth look as if they stood in each other's columns.",
    );
    expect(await told(`fitting,bust (in),waist (in),hip (in)\n${rows}\n`)).toEqual([]);
  });

  it('bust and hip the other way round than on all the others', async () => {
    const women = ['88,70,94', '92,74,98', '84,66,90', '96,78,102', '100,82,106']
      .map((v, i) => `W${i},${v},`)
      .join('\n');
    const text = (last: string) => `fitting,bust (cm),waist (cm),hip (cm),checked\n${women}\n${last}\n`;
    expect(await told(text('X,98,74,92,'))).toEqual(['measure-exchanged B7']);
    expect((await read(text('X,98,74,92,yes'))).findings.map((f) => f.level)).toEqual(['note']);
    expect(await told(text('X,92,74,98,'))).toEqual([]);
    // Far broader in the chest than an exchange would leave.
    expect(await told(text('X,110,88,98,'))).toEqual([]);
  });

  it("reads the column 'checked'", async () => {
    const row = async (cell: string) =>
      (await read(`fitting,waist (in),hip (in),checked\nA,44,41,"${cell}"\n`)).findings;
    for (const yes of ['yes', 'Yes', 'x', '✓', 'as measured', 'TRUE', 'waist girth', 'hips, waist', 'ja']) {
      expect(
        (await row(yes)).map((f) => f.level),
        yes,
      ).toEqual(['note']);
    }
    for (const no of ['', 'no', 'FALSE', 'bust girth', '-']) {
      expect(
        (await row(no)).map((f) => f.level),
        no,
      ).toEqual(['warning']);
    }
    expect((await row('yess')).map((f) => f.code)).toContain('measure-checked-unclear');
  });
});

describe('workbooks', () => {
  type Cells = Parameters<typeof writeWorkbook>[0];
  const workbook = async (sheets: { sheet: string; data: unknown[][] }[]) =>
    new Uint8Array(await writeWorkbook(sheets as unknown as Cells).toBuffer());

  it('reads numbers, fractions and texts; the sheet that is named, or the first with the headings', async () => {
    const bytes = await workbook([
      { sheet: 'About', data: [['The Heron King'], ['waist', 'see below']] },
      {
        sheet: 'Chorus',
        data: [
          ['fitting', 'waist girth (in)'],
          ['Dorothea', 27.5],
          ['Magnus', '27 1/4'],
        ],
      },
      {
        sheet: 'Soloists',
        data: [
          ['fitting', 'waist girth (in)'],
          ['Isolde', 30],
        ],
      },
    ]);
    const first = await read(bytes, 'w.xlsx');
    expect(first.fittings.map((f) => [f.name, f.row, f.measurements['waist girth']])).toEqual([
      ['Dorothea', 2, 698.5],
      ['Magnus', 3, 692.15],
    ]);
    expect(first.findings).toEqual([
      expect.objectContaining({ code: 'measure-sheet-chosen', try: expect.stringContaining('w.xlsx#Soloists') }),
    ]);
    expect((await read(bytes, 'w.xlsx', 'soloists')).fittings.map((f) => f.name)).toEqual(['Isolde']);
    const { findings } = await read(bytes, 'w.xlsx', 'Soloist');
    expect(findings).toEqual([
      expect.objectContaining({ code: 'measure-sheet-unknown', try: "Did you mean 'Soloists'?" }),
    ]);
  });

  it('is told of what is no workbook', async () => {
    const start = async (...bytes: number[]) =>
      (await read(new Uint8Array([...bytes, ...Array(600).fill(0)]), 'f.xlsx')).findings;
    expect((await start(0xd0, 0xcf, 0x11, 0xe0))[0]?.message).toContain('password');
    expect((await start(0x50, 0x4b, 3, 4))[0]?.message).toContain('damaged');
    expect((await start(0x3c, 0x68))[0]?.message).toContain('named like a workbook');
    const whole = await workbook([{ sheet: 'a', data: [['fitting'], ['A']] }]);
    for (const cut of [whole.length - 1, whole.length >> 1, 40]) {
      expect((await read(whole.slice(0, cut), 'f.xlsx')).findings.map((f) => f.code)).toEqual([
        'measure-table-unreadable',
      ]);
    }
  });

  it('is read or told of, whatever is changed in its markup', async () => {
    const whole = await workbook([
      {
        sheet: 'a',
        data: [
          ['fitting', 'waist (in)'],
          ['Alma', 27.5],
          ['Birgit', '28'],
        ],
      },
      { sheet: 'b', data: [['fitting'], ['Edda']] },
    ]);
    const parts = unzipSync(whole);
    const names = Object.keys(parts).filter((name) => /sheet1|shared|styles|workbook/.test(name));
    const scraps = fc.constantFrom(
      '<',
      '>',
      '&#0;',
      '&x;',
      '"',
      '/',
      '<c r="ZZZZ9"><v>1</v></c>',
      '<row r="-1">',
      '99999999',
      '__proto__',
      's="77"',
      '',
    );
    await fc.assert(
      fc.asyncProperty(
        fc.constantFrom(...names),
        fc.nat(),
        fc.nat({ max: 12 }),
        scraps,
        async (name, start, length, scrap) => {
          const text = strFromU8(parts[name]!);
          const at = start % text.length;
          const changed = strToU8(text.slice(0, at) + scrap + text.slice(at + length));
          const { fittings, findings } = await read(zipSync({ ...parts, [name]: changed }), 'w.xlsx');
          expect(fittings.length + findings.length).toBeGreaterThan(0);
          for (const f of fittings) for (const mm of Object.values(f.measurements)) expect(mm).toBeGreaterThan(0);
        },
      ),
      { numRuns: 400 },
    );
  });

  it('reads what an independent reader reads', async () => {
    const cell = fc.oneof(
      fc.constant(null),
      fc.integer({ min: 1, max: 9999 }).map((n) => n / 16),
      fc.double({ min: 0.001, max: 9999, noNaN: true }),
      fc
        .string({ minLength: 1, maxLength: 12, unit: 'grapheme' })
        .filter((s) => /\S/.test(s) && !/[\uFFFE\uFFFF\uD800-\uDFFF\p{Cc}]/u.test(s)),
    );
    const grid = fc.array(fc.array(cell, { minLength: 1, maxLength: 6 }), { minLength: 1, maxLength: 8 });
    await fc.assert(
      fc.asyncProperty(grid, async (rows) => {
        const data = [['fitting', 'note', 'wearer', 'size', 'pattern', 'checked'], ...rows];
        const bytes = await workbook([{ sheet: 'a', data }]);
        const { readXlsx } = await import('../../src/measurements/xlsx/index.ts');
        const table = readXlsx(bytes, {
          fileName: 'a.xlsx',
          nameColumn: 'fitting',
          knows: (h) => h === 'fitting' || h === 'note',
        });
        const [sheet] = await readWorkbook(Buffer.from(bytes), { trim: false });
        const theirs = (sheet?.data ?? []).map((r) =>
          r.map((c) => (c === null ? '' : typeof c === 'number' ? c : String(c))),
        );
        for (const { row, cells } of table.rows) {
          const other = theirs[row - 1] ?? [];
          for (const [i, text] of cells.entries()) {
            const value = other[i] ?? '';
            if (typeof value === 'number') expect(Number(text)).toBeCloseTo(value, 9);
            else expect(text).toBe(value);
          }
        }
        expect(table.rows.length).toBe(theirs.slice(1).filter((r) => r.some((c) => String(c).trim() !== '')).length);
      }),
      { numRuns: 60 },
    );
  });
});

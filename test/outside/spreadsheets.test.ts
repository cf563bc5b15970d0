import { spawnSync } from 'node:child_process';
import { mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { alterationColumns } from '../../src/alterations/index.ts';
import { readFittings } from '../../src/measurements/fittings.ts';
import { outsideAvailable, python } from './python.ts';
import { readerAvailable } from './readers.ts';

/*
 * Tables as people lay them out in a spreadsheet, written by openpyxl and xlsxwriter and saved again by Gnumeric: merged
 * cells, headings over two rows, hidden columns, cells formatted as dates, formulas with and without a value or with an
 * error, texts in every encoding that a spreadsheet offers.
 */

const folder = mkdtempSync(join(tmpdir(), 'retrue-spreadsheets-'));
afterAll(() => rmSync(folder, { recursive: true }));
const at = (name: string) => join(folder, name);
const read = (name: string) =>
  readFittings(readFileSync(at(name)), { fileName: name, alterationColumns: alterationColumns() });
const told = async (name: string) =>
  (await read(name)).findings.map((f) => `${f.level} ${f.code} ${f.where.address ?? f.where.row ?? ''}`.trim());
const inches = (mm: number) => Number((mm / 25.4).toFixed(9));

const WRITE = `
import datetime, openpyxl, xlsxwriter

book = openpyxl.Workbook(); s = book.active
s['A1'] = "The Heron King's Daughters"; s.merge_cells('A1:F1')
for at, text in {'A2': 'fitting', 'B2': 'girths (in)', 'D2': 'back', 'F2': 'note', 'B3': 'waist', 'C3': 'hip',
    'D3': 'width\\n(in)', 'E3': 'neck to waist (in)'}.items(): s[at] = text
for ref in ['A2:A3', 'B2:C2', 'D2:E2', 'F2:F3']: s.merge_cells(ref)
s['A4'] = 'Sopranos'; s.merge_cells('A4:F4')
s.append(['Dorothea', 27.5, '38 \\u00bd\\u2033', 13.25, 16, 'stands forward']); s.append(['Petra', None, 39, 13.5, 16.25, None])
s.merge_cells('B5:B6')
s['A7'] = 'Altos'; s.merge_cells('A7:F7')
s.append(['Odile', 29, None, 14, 16.5, None]); s.merge_cells('B8:C8')
book.save(given['merged'])

book = openpyxl.Workbook(); s = book.active
for row in [['fitting', 'waist girth (in)', 'hip girth (in)', 'hip change (in)', 'upper arm (in)'],
    ['Dorothea', 27.5, 38, datetime.date(2026, 3, 8), 11], ['Petra', 28, 46169, None, datetime.time(12, 0)],
    ['Magnus', 30, 39, None, datetime.datetime(2026, 5, 11)]]: s.append(row)
s['B2'].number_format = 'm/d/yyyy'; s['C3'].number_format = '0'
book.save(given['dates'])

book = xlsxwriter.Workbook(given['hidden'])
s = book.add_worksheet('cover'); s.write('A1', 'waist'); s.write('A2', 'see the next sheet')
s = book.add_worksheet('list')
s.write_row(0, 0, ['fitting', 'waist girth cm', 'hip girth cm', 'hip change (mm)', 'bust cm'])
s.write_row(1, 0, ['Alma', 70.5, 96, 12]); s.write_formula(1, 4, '="92,5"', None, '92,5')
s.write_row(2, 0, ['Birgit', 71, 97]); s.write_formula(2, 4, '=1/0', None, '#DIV/0!')
s.write_row(3, 0, ['Average', 70.75, 96.5])
s.set_column('D:D', None, None, {'hidden': True}); s.set_column('H:K', None, None, {'hidden': True})
book.close()

book = openpyxl.Workbook(); s = book.active
for row in [['measurement', 'Alma', 'Birgit'], ['waist girth (in)', 27.5, 28], ['hip girth (in)', 38, 39]]: s.append(row)
book.save(given['turned'])

book = openpyxl.Workbook(); s = book.active
for row in [['fitting', 'waist girth (cm)', 'hip girth', 'note'], ['\\u00c9douard', 70.5, '38 \\u00bd\\u2033', 'in front; then'],
    ['Zo\\u00eb', '=B2+1.25', '=1/0', 'a "quoted" word'], ['Fa\\u00e7ade', 71, '=""', None]]: s.append(row)
book.save(given['texts'])
`;

describe.skipIf(!outsideAvailable(['openpyxl', 'xlsxwriter']))('tables as people lay them out', () => {
  const names = ['merged', 'dates', 'hidden', 'turned', 'texts'];
  beforeAll(() => {
    python(WRITE, Object.fromEntries(names.map((name) => [name, at(`${name}.xlsx`)])));
  });

  it('merged titles, headings over two rows, titles among the rows, one value for two wearers or two columns', async () => {
    const { fittings, findings } = await read('merged.xlsx');
    expect(fittings.map((f) => [f.name, f.row, Object.values(f.measurements).map(inches), f.refused])).toEqual([
      ['Dorothea', 5, [27.5, 38.5, 13.25, 16], false],
      ['Petra', 6, [27.5, 39, 13.5, 16.25], false],
      ['Odile', 8, [29, 14, 16.5], true],
    ]);
    expect(await told('merged.xlsx')).toEqual([
      'note measure-title-rows 2',
      'note measure-headings-in-two-rows 3',
      'note measure-title-rows',
      'warning measure-cell-merged B6',
      'note measure-title-rows',
      'error measure-cell-merged B8',
    ]);
    expect(findings[1]?.message).toContain("'waist (in)', 'hip (in)', 'back width (in)', 'back neck to waist (in)'");
  });

  it('dates, times, a number formatted as a date, a date formatted as a number: what was likely typed', async () => {
    const { findings } = await read('dates.xlsx');
    expect(findings.map((f) => [f.code, f.where.address])).toEqual(
      ['B2', 'D2', 'C3', 'E3', 'E4'].map((address) => ['measure-cell-date', address]),
    );
    expect(findings.map((f) => f.message)).toEqual([
      expect.stringContaining('shows 1900-01-27. The number in it is 27.5.'),
      expect.stringContaining('perhaps 3/8 or 3.8.'),
      expect.stringContaining('the day 2026-05-27, and what was typed is lost: perhaps 27.5.'),
      expect.stringContaining('shows 12:00. The number in it is 0.5.'),
      expect.stringContaining('perhaps 11.5.'),
    ]);
  });

  it('hidden columns, formulas that come to a text or an error, a mean below the rows', async () => {
    const { fittings } = await read('hidden.xlsx');
    expect(fittings[0]?.measurements).toEqual({ 'waist girth': 705, 'hip girth': 960, 'bust girth': 925 });
    const { findings } = await read('hidden.xlsx');
    expect(findings.find((f) => f.code === 'measure-columns-hidden')?.message).toBe(
      "A column is hidden in the sheet and read all the same: 'hip change (mm)'.",
    );
    expect(await told('hidden.xlsx')).toEqual([
      'warning measure-columns-hidden',
      'error measure-cell-error E3',
      'warning measure-row-summary 4',
    ]);
  });

  it('a table on its side', async () => expect(await told('turned.xlsx')).toEqual(['error measure-table-turned']));

  describe.skipIf(!readerAvailable({ program: 'ssconvert', debian: 'gnumeric' }))('saved by Gnumeric', () => {
    const saved = (from: string, to: string, options = '') => {
      const assistant = options === '' ? [] : ['--export-type=Gnumeric_stf:stf_assistant', '-O', options];
      spawnSync('ssconvert', ['--recalc', ...assistant, at(from), at(to)]);
      return to;
    };

    it.each(['merged', 'dates', 'hidden', 'turned'])('%s: as it was', async (name) => {
      const again = saved(`${name}.xlsx`, `${name}-again.xlsx`);
      expect(await told(again)).toEqual(await told(`${name}.xlsx`));
      const measured = async (file: string) => (await read(file)).fittings.map((f) => [f.name, f.row, f.measurements]);
      expect(await measured(again)).toEqual(await measured(`${name}.xlsx`));
    });

    it.each([
      ['UTF-16 with its mark, tabs', "charset=UTF-16 separator='\t'", []],
      ['UTF-16 without a mark, semicolons', 'charset=UTF-16LE separator=;', []],
      ['UTF-16, the other order', 'charset=UTF-16BE separator=,', []],
      ['everything in quotation marks, Windows line ends', 'quoting-mode=always eol=windows separator=;', []],
      ['old line ends', 'eol=mac separator=,', []],
      ['Western European, which has no ″', 'charset=ISO-8859-1 separator=;', ['measure-encoding-assumed']],
      ['Windows-1252', "charset=CP1252 separator='\t'", ['measure-encoding-assumed']],
    ])('as text: %s', async (label, options, assumed) => {
      const name = saved('texts.xlsx', `${label.replace(/\W/g, '-')}.csv`, options);
      const { fittings, findings } = await read(name);
      expect(fittings.map((f) => [f.name, f.measurements, f.note])).toEqual([
        ['Édouard', { 'waist girth': 705, 'hip girth': 977.9 }, 'in front; then'],
        ['Zoë', { 'waist girth': 717.5 }, 'a "quoted" word'],
        ['Façade', { 'waist girth': 710 }, ''],
      ]);
      expect(findings.map((f) => f.code)).toEqual([...assumed, 'measure-cell-error']);
      expect(findings.at(-1)?.where).toMatchObject({ address: 'C3', excerpt: '#DIV/0!' });
    });
  });
});

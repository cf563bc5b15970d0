import { spawnSync } from 'node:child_process';
import { mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { alterationColumns } from '../../src/alterations/index.ts';
import { newFittings } from '../../src/job/fittings/new.ts';
import { readFittings } from '../../src/measurements/fittings.ts';
import { outsideAvailable, python } from './python.ts';
import { readerAvailable } from './readers.ts';

/*
 * Workbooks that other programs write (openpyxl, xlsxwriter, and Gnumeric, which reckons its formulas) are read here, and
 * the empty table written here is read, filled in and handed back by them.
 */

const folder = mkdtempSync(join(tmpdir(), 'retrue-workbooks-'));
afterAll(() => rmSync(folder, { recursive: true }));
const at = (name: string) => join(folder, name);
const read = (name: string, sheet?: string) =>
  readFittings(readFileSync(at(name)), { fileName: name, sheet, alterationColumns: alterationColumns() });

describe.skipIf(!outsideAvailable(['openpyxl', 'xlsxwriter']))('workbooks of others', () => {
  beforeAll(() => {
    python(
      `
import datetime, openpyxl, xlsxwriter
book = openpyxl.Workbook()
old = book.active
old.title = 'last year'
old.append(['fitting', 'waist (in)']); old.append(['Ghost', 27])
old.sheet_state = 'hidden'
cover = book.create_sheet('cover'); cover['A1'] = "The Heron King's Daughters"
s = book.create_sheet('chorus')
s['A1'] = 'Chorus, act two'; s.merge_cells('A1:F1')
for i, text in enumerate(['fitting', 'waist girth', 'hip girth (in)', 'back width', 'note', 'checked']): s.cell(3, i + 1, text)
rows = [
  ('Dorothea', 27.5, 38.25, '13 1/2 in', 'stands forward', None),
  ('Magnus', 70.5, datetime.date(2026, 5, 27), '35 cm', None, None),
  ('Petra', '=27+1/2', 39, None, None, None),
  ('Odile', '#REF!', '27\\u00bd', '#N/A', datetime.date(2026, 1, 2), True),
]
for r, row in enumerate(rows):
  for i, value in enumerate(row): s.cell(5 + r, i + 1, value)
s['B5'].number_format = '# ?/?" in"'; s['B6'].number_format = '0.0" cm"'; s['B7'].number_format = '0.0\\\\"'
s.row_dimensions[8].hidden = True
book.save(given['openpyxl'])

book = xlsxwriter.Workbook(given['xlsxwriter'], {'date_1904': True})
s = book.add_worksheet('fittings')
s.write_row('B2', ['fitting', 'waist girth (cm)', 'hip girth (cm)'])
s.write_row('B3', ['Alma', 70.1 + 0.2])
s.write_formula('D3', '=C3+25', None, 95.3)
s.write_rich_string('B4', 'Bir', book.add_format({'bold': True}), 'git')
s.write_datetime('C4', datetime.datetime(2026, 2, 1), book.add_format({'num_format': 'd-mmm'}))
s.write('D4', 96, book.add_format({'num_format': '[Red]0.00;[Blue]-0.00'}))
s.write_formula('C5', '=1/0', None, '#DIV/0!'); s.write('B5', 'Corisande')
book.close()
`,
      { openpyxl: at('openpyxl.xlsx'), xlsxwriter: at('xlsxwriter.xlsx') },
    );
  });

  it('openpyxl: hidden sheet, cover, merged title, formats that show a unit, a date, errors, a formula without value', async () => {
    const { fittings, findings } = await read('openpyxl.xlsx');
    expect(fittings.map((f) => [f.name, f.row, f.measurements['waist girth'], f.show, f.refused])).toEqual([
      ['Dorothea', 5, 698.5, 'in', false],
      ['Magnus', 6, 705, 'cm', true],
      ['Petra', 7, undefined, 'in', true],
      ['Odile', 8, undefined, 'in', true],
    ]);
    expect(findings.map((f) => [f.code, f.where.address])).toEqual([
      ['measure-title-rows', undefined],
      ['measure-rows-hidden', undefined],
      ['measure-cell-date', 'C6'],
      ['measure-formula-without-value', 'B7'],
      ['measure-cell-error', 'B8'],
      ['measure-cell-error', 'D8'],
    ]);
    expect(findings[2]?.message).toContain('perhaps 27.5.');
    expect((await read('openpyxl.xlsx', 'last year')).fittings.map((f) => f.name)).toEqual(['Ghost']);
  });

  it('xlsxwriter: a table away from the corner, a formula with its value, days from 1904', async () => {
    const { fittings, findings } = await read('xlsxwriter.xlsx');
    expect(fittings.map((f) => [f.name, f.row, f.measurements])).toEqual([
      ['Alma', 3, { 'waist girth': 703, 'hip girth': 953 }],
      ['Birgit', 4, { 'hip girth': 960 }],
      ['Corisande', 5, {}],
    ]);
    expect(findings.map((f) => [f.code, f.where.address, f.where.excerpt])).toEqual([
      ['measure-cell-date', 'C4', '2026-02-01'],
      ['measure-cell-error', 'C5', '#DIV/0!'],
    ]);
  });

  it.skipIf(!readerAvailable({ program: 'ssconvert', debian: 'gnumeric' }))(
    'Gnumeric: what it reckons is read',
    async () => {
      spawnSync('ssconvert', ['--recalc', at('openpyxl.xlsx'), at('gnumeric.xlsx')]);
      const { fittings, findings } = await read('gnumeric.xlsx', 'chorus');
      expect(fittings[2]).toMatchObject({ name: 'Petra', measurements: { 'waist girth': 698.5 }, refused: false });
      expect(fittings[0]?.measurements).toEqual({ 'waist girth': 698.5, 'hip girth': 971.55, 'back width': 342.9 });
      expect(findings.map((f) => f.code)).not.toContain('measure-formula-without-value');
      // As CSV, by the same spreadsheet: the same wearers.
      spawnSync('ssconvert', [at('xlsxwriter.xlsx'), at('gnumeric.csv')]);
      const csv = await readFittings(readFileSync(at('gnumeric.csv')), { fileName: 'g.csv', alterationColumns: [] });
      expect(csv.fittings.map((f) => f.measurements)).toEqual(
        (await read('xlsxwriter.xlsx')).fittings.map((f) => f.measurements),
      );
      expect(csv.findings.map((f) => f.code)).toEqual(['measure-cell-date', 'measure-cell-error']);
    },
  );
});

describe.skipIf(!outsideAvailable(['openpyxl']))('the empty table', () => {
  const skirt = join(import.meta.dirname, '../../fixtures/jobs/opera/chorus-skirt.dxf');

  it('opens elsewhere, with headings that stay in sight and notes, and comes back filled in', async () => {
    const { files, exit } = await newFittings({ patterns: [skirt], out: folder, to: 'xlsx,csv' });
    expect(exit).toBe(0);
    const seen = python(
      `
import openpyxl
book = openpyxl.load_workbook(given['file'])
s = book['fittings']
heads = [c.value for c in s[1]]
notes = [[c.value for c in row] for row in book['how to measure'].iter_rows()]
row = dict(zip(heads, s[2]))
row['fitting'].value = 'Dorothea'
row['waist girth (in)'].value = 27.5
row['hip girth (in)'].value = '37 1/4'
answer = {'sheets': book.sheetnames, 'heads': heads, 'notes': notes, 'frozen': s.freeze_panes, 'format': row['waist girth (in)'].number_format, 'width': s.column_dimensions['A'].width}
book.save(given['filled'])
`,
      { file: files[0], filled: at('filled.xlsx') },
    ) as Record<string, unknown> & { notes: (string | null)[][] };
    expect(seen).toMatchObject({ sheets: ['fittings', 'how to measure'], frozen: 'B2', format: '# ??/??', width: 18 });
    expect(seen.heads).toEqual([
      ...['fitting', 'wearer', 'note', 'waist girth (in)', 'hip girth (in)', 'waist to hip (in)', 'skirt length (in)'],
      ...['skirt length at front (in)', 'skirt length at side (in)', 'skirt length at back (in)', 'checked'],
    ]);
    const waist = seen.notes.find(([column]) => column === 'waist girth (in)');
    expect(waist?.slice(0, 3)).toEqual([
      'waist girth (in)',
      '5.3.10 waist girth',
      'level round the body, midway between the lowest rib and the top of the hip bone',
    ]);
    expect(waist?.[4]).toBe('26½ in');
    const { fittings, findings } = await read('filled.xlsx');
    expect(findings).toEqual([]);
    expect(fittings.map((f) => [f.name, f.measurements])).toEqual([
      ['Dorothea', { 'waist girth': 698.5, 'hip girth': expect.closeTo(37.25 * 25.4, 9) }],
    ]);
  });

  it('read as it is, says that its rows are to be filled in', async () => {
    for (const name of ['chorus-skirt-fittings.xlsx', 'chorus-skirt-fittings.csv']) {
      const { fittings, findings } = await read(name);
      expect(fittings).toEqual([]);
      expect(findings.map((f) => [f.code, f.message])).toEqual([
        ['measure-table-empty', 'The table has headings and no rows below them.'],
      ]);
    }
  });
});

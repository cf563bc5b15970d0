import { existsSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { alter } from '../../src/job/run/run.ts';
import { all, type Element, treeOf } from './tree.ts';
import { apartFromLengths, FIXTURES, newFolder, OPERA, oddTable, type WrittenRun, writePages } from './written.ts';

/* What every page must be, whatever it tells of: whole in itself, well formed, and named for those who hear it. */

const SKIRT = join(OPERA, 'chorus-skirt.dxf');
let opera: WrittenRun;
let odd: WrittenRun;
const scratch = newFolder();
beforeAll(async () => {
  opera = await writePages({ pattern: SKIRT, fittings: join(OPERA, 'fittings.csv') });
  odd = await writePages({ pattern: join(OPERA, 'chorus-skirt.svg'), fittings: oddTable(scratch) });
}, 120_000);
afterAll(() => {
  for (const folder of [opera?.out, odd?.out, scratch]) if (folder) rmSync(folder, { recursive: true, force: true });
});

const everyPage = (): { readonly path: string; readonly html: string }[] =>
  [opera, odd].flatMap(({ out, pages }) => [
    ...pages.map(({ folder, html }) => ({ path: join(folder, 'fitting.html'), html })),
    { path: join(out, 'index.html'), html: readFileSync(join(out, 'index.html'), 'utf8') },
  ]);

const each = (check: (tree: Element, path: string, html: string) => void): void => {
  for (const { path, html } of everyPage()) check(treeOf(html), path, html);
};

describe('every page', () => {
  it('is there, also for the fittings that were refused', () => {
    expect(everyPage()).toHaveLength(8 + 6 + 2);
    expect([...opera.pages, ...odd.pages].filter((p) => p.ledger.status === 'refused')).toHaveLength(2);
  });

  it('needs nothing but itself: no script, nothing fetched', () => {
    each((tree, path, html) => {
      expect(
        all(tree).filter(({ name }) => ['script', 'link', 'img', 'iframe', 'object', 'base'].includes(name)),
        path,
      ).toEqual([]);
      for (const { attributes } of all(tree)) {
        for (const [name, value] of Object.entries(attributes)) {
          expect(name, path).not.toMatch(/^on/);
          if (name !== 'xmlns') expect(value, path).not.toMatch(/^\s*(https?:|\/\/|data:|javascript:)/i);
        }
      }
      const [style] = all(tree, 'style');
      expect(style?.text, path).not.toMatch(/url\(|@import/);
      expect(html.startsWith('<!DOCTYPE html>\n<html lang="en"'), path).toBe(true);
    });
  });

  it('has ids that occur once, and points only at what is there', () => {
    each((tree, path) => {
      const ids = all(tree).flatMap(({ attributes }) => attributes.id ?? []);
      expect(new Set(ids).size, path).toBe(ids.length);
      const pointed = all(tree).flatMap(({ attributes: a }) => [
        ...(a['aria-labelledby']?.split(' ') ?? []),
        ...(a.for === undefined ? [] : [a.for]),
        ...(a.href?.startsWith('#') ? [a.href.slice(1)] : []),
      ]);
      expect(
        pointed.filter((id) => !ids.includes(id)),
        path,
      ).toEqual([]);
    });
  });

  it('links to files that lie where it says', () => {
    each((tree, path) => {
      const links = all(tree, 'a').flatMap(({ attributes: { href = '#' } }) => (href.startsWith('#') ? [] : [href]));
      const missing = links.filter((href) => !existsSync(join(dirname(path), decodeURIComponent(href))));
      expect(missing, path).toEqual([]);
    });
  });

  it('has one heading of the first rank, and skips no rank below it', () => {
    each((tree, path) => {
      const ranks = all(tree).flatMap(({ name }) => (/^h[1-6]$/.test(name) ? [Number(name[1])] : []));
      expect(
        ranks.filter((r) => r === 1),
        path,
      ).toHaveLength(1);
      expect(ranks[0], path).toBe(1);
      ranks.slice(1).forEach((rank, i) => {
        expect(rank - (ranks[i] as number), path).toBeLessThanOrEqual(1);
      });
    });
  });

  it('has tables with a caption and with headings for columns and rows', () => {
    each((tree, path) => {
      for (const table of all(tree, 'table')) {
        expect(all(table, 'caption')[0]?.text.trim(), path).not.toBe('');
        const [head] = all(table, 'thead');
        expect(
          all(head!, 'th').every((th) => th.attributes.scope === 'col'),
          path,
        ).toBe(true);
        for (const row of all(all(table, 'tbody')[0]!, 'tr')) {
          expect(row.children[0]?.name, path).toBe('th');
          expect(row.children[0]?.attributes.scope, path).toBe('row');
          expect(row.children.length, path).toBe(all(head!, 'th').length);
        }
      }
    });
  });

  it('has pictures with a title and a description, and boxes with a label', () => {
    each((tree, path) => {
      for (const svg of all(tree, 'svg')) {
        if (svg.attributes['aria-hidden'] === 'true') continue;
        expect(svg.attributes.role, path).toBe('img');
        for (const part of ['title', 'desc']) expect(all(svg, part)[0]?.text.trim().length, path).toBeGreaterThan(2);
      }
      for (const box of all(tree, 'input')) {
        const label = all(tree, 'label').find((l) => l.attributes.for === box.attributes.id);
        expect(label?.text.trim(), path).toBeTruthy();
      }
    });
  });
});

/** Text as it is read: blanks that do not break are blanks. */
const read = (tree: Element, name = 'body'): string => (all(tree, name)[0]?.text ?? '').replaceAll('\u00a0', ' ');

describe('a fitting’s page', () => {
  it('has no codes, options or checksums among its words, but small behind what it is about', () => {
    for (const { html, ledger } of [...opera.pages, ...odd.pages]) {
      const tree = treeOf(html);
      const said = (part: (e: Element) => boolean): string =>
        all(tree)
          .filter(part)
          .map((e) => e.text)
          .join('\n');
      const isCode = (e: Element): boolean => e.name === 'p' && e.attributes.class === 'code';
      const words = said(
        (e) =>
          ['p', 'li', 'td', 'th', 'dd'].includes(e.name) && !isCode(e) && all(e).every((x) => x === e || !isCode(x)),
      );
      expect(words).not.toMatch(/--[a-z]|[0-9a-f]{32}|SHA/);
      const told = ledger.findings.filter((f) => f.level !== 'note');
      for (const { code, try: remedy } of told) {
        expect(words).not.toContain(code);
        expect(said(isCode)).toContain(code);
        for (const option of remedy.match(/--[a-z-]+[a-z]/g) ?? []) expect(said(isCode)).toContain(option);
      }
    }
    const fiammetta = opera.pages.find((p) => p.ledger.fitting.startsWith('Fiammetta'));
    expect(read(treeOf(fiammetta!.html))).toContain(
      'make a trial garment first and ask for it past the customary limits.',
    );
  });

  it('has a heading for each piece and each seam, and says of its picture how much moved and which way', () => {
    for (const { html, ledger } of [...opera.pages, ...odd.pages].filter((p) => p.ledger.status === 'done')) {
      const tree = treeOf(html);
      const headings = all(tree, 'h3').map((h) => h.text);
      for (const { name } of ledger.source.pieces) expect(headings).toContain(name);
      const told = all(tree, 'svg').map((svg) => all(svg, 'desc')[0]?.text ?? '');
      const pieces = told.filter((t) => /Moved: |No place moved/.test(t));
      expect(pieces).toHaveLength(ledger.source.pieces.length);
      const key = told.find((t) => t.includes('The bar stands for')) ?? '';
      for (const word of ['grainline', 'fold', 'dart', 'adjustment line']) expect(key).toContain(word);
    }
    // The hem is taken up 1 in, so it moves up; the side of the hip 5/16 in out, to the right as the piece stands.
    const edda = opera.pages.find((p) => p.ledger.fitting.startsWith('Edda'));
    const [front = ''] = all(treeOf(edda!.html), 'desc').flatMap((d) => (d.text.includes('hem 11') ? [d.text] : []));
    expect(front).toContain('fold 27 in → 26 in (−1 in)');
    expect(front).toContain('at the lower left 1 in up');
    expect(front).toContain('at the upper right 5/16 in to the right');
  });

  it('names an amount alike wherever it comes', () => {
    const edda = opera.pages.find((p) => p.ledger.fitting.startsWith('Edda'));
    const said = read(treeOf(edda!.html));
    // 10 mm
    expect(said).toContain('Sway back +⅜ in');
    expect(said).toContain('waist lowered ⅜ in at the centre back');
    expect(said).not.toMatch(/7\/16 in at the centre/);
  });

  it('names no length that no tape or ruler shows, and no change that comes to nothing', () => {
    for (const { html } of [...opera.pages, ...odd.pages]) {
      const said = `${read(treeOf(html))} ${all(treeOf(html), 'desc').map((d) => d.text)}`;
      expect(said).toMatch(/[½¼¾⅛⅜⅝⅞] in|\d cm/);
      expect(said.match(/≈|\d\/(?:32|64) in|[+−]0 (?:in|mm|cm)|\b0 (?:in|mm) (?:longer|larger)/g)).toBeNull();
      for (const [, before, after] of said.matchAll(/([\d½¼¾⅛⅜⅝⅞][\d/ ½¼¾⅛⅜⅝⅞]* in) → ([\d½¼¾⅛⅜⅝⅞][\d/ ½¼¾⅛⅜⅝⅞]* in)/g))
        expect(after).not.toBe(before);
    }
  });

  it('tells every measurement, finding and piece of its ledger', () => {
    for (const { html, ledger } of [...opera.pages, ...odd.pages]) {
      const said = read(treeOf(html));
      expect(said).toContain(ledger.fitting);
      expect(said).toContain(ledger.note);
      for (const f of ledger.findings.filter((x) => x.level !== 'note')) {
        expect(apartFromLengths(said)).toContain(apartFromLengths(f.message));
        // Up to where an option is named, which the page does in words.
        expect(apartFromLengths(said)).toContain(apartFromLengths(f.try.split(/(?:with )?--/)[0]!));
      }
      for (const m of ledger.measurements) expect(said.toLowerCase()).toContain(m.measurement);
      for (const a of ledger.alterations)
        for (const did of a.did) expect(apartFromLengths(said)).toContain(apartFromLengths(did));
      for (const o of ledger.outputs) expect(said).toContain(o.file);
    }
  });

  it('has a picture of each piece, a picture of each seam, and a box for each piece of cloth', () => {
    for (const { html, ledger } of [...opera.pages, ...odd.pages].filter((p) => p.ledger.status === 'done')) {
      const tree = treeOf(html);
      const pictures = all(tree, 'svg').filter((s) => s.attributes.role === 'img');
      expect(pictures).toHaveLength(1 + ledger.source.pieces.length + ledger.mates.length);
      expect(all(tree, 'input')).toHaveLength(ledger.source.pieces.reduce((sum, p) => sum + p.cut.count, 0));
    }
  });

  it('says of a refused fitting why, and what would help, before anything else', () => {
    const refused = opera.pages.find((p) => p.ledger.status === 'refused')!;
    const tree = treeOf(refused.html);
    expect(read(tree)).toContain('Refused: no pattern was written');
    expect(all(tree, 'h2')[0]?.text).toBe('Why it was refused');
    expect(all(tree, 'input')).toEqual([]);
  });

  it('shows what the pieces measure as drafted where nothing was planned, and says only of others that they do not', async () => {
    const fittings = join(scratch, 'unplanned.csv');
    writeFileSync(fittings, 'fitting,waist girth (in),hip girth (in),bust girth (in)\nBerta,27,"36,5,2",38\n');
    const { pages, out } = await writePages({ pattern: SKIRT, fittings });
    expect(pages[0]?.ledger.status).toBe('refused');
    const table = all(treeOf(pages[0]!.html), 'tbody')[0]!;
    const shown = all(table, 'tr').map((r) => [r.children[0]?.text, r.children.at(-1)?.text.replaceAll('\u00a0', ' ')]);
    expect(shown).toEqual([
      ['Waist girth', 'skirt: 27½ in as drafted'],
      ['Bust girth', 'not shown by these pieces'],
    ]);
    rmSync(out, { recursive: true });
  });

  it('shows names of any script, and takes no markup from them', () => {
    const names = odd.pages.map((p) => all(treeOf(p.html), 'h1')[0]?.text);
    expect(names).toEqual(odd.pages.map((p) => p.ledger.fitting));
    expect(names.some((n) => n?.includes('<script>'))).toBe(true);
  });

  it('is the same, byte for byte, when it is made again', async () => {
    const one = { pattern: SKIRT, drafted: 'waist girth=26.5in', wearer: 'waist girth=27in', report: 'html,pdf' };
    const runs = [await writePages(one), await writePages(one)];
    const made = runs.map(({ out, pages }) =>
      [
        ...['fitting.html', 'fitting.pdf'].map((name) => join(pages[0]!.folder, name)),
        ...['index.html', 'index.pdf'].map((name) => join(out, name)),
      ].map((path) => readFileSync(path).toString('latin1')),
    );
    expect(made[0]).toHaveLength(4);
    expect(made[1]).toEqual(made[0]);
    for (const { out } of runs) rmSync(out, { recursive: true });
  });

  it('bears a date only when one is stated from outside', async () => {
    expect(opera.pages[0]?.html).not.toMatch(/\b20\d\d-\d\d-\d\d\b/);
    process.env.SOURCE_DATE_EPOCH = '1700000000';
    try {
      const dated = await writePages({ pattern: SKIRT, drafted: 'waist girth=26.5in', wearer: 'waist girth=27in' });
      expect(dated.pages[0]?.html).toContain('2023-11-14');
      rmSync(dated.out, { recursive: true });
    } finally {
      delete process.env.SOURCE_DATE_EPOCH;
    }
  });
});

describe('the list of a run', () => {
  const rowsOf = (out: string): Element[] =>
    all(all(treeOf(readFileSync(join(out, 'index.html'), 'utf8')), 'tbody')[0]!, 'tr');

  it('has the fittings in the order of the table, each with what became of it', () => {
    const rows = rowsOf(opera.out);
    expect(rows.map((r) => r.children[0]?.text)).toEqual(opera.pages.map((p) => p.ledger.fitting));
    const results = rows.map((r) => r.children[3]?.text.toLowerCase());
    expect(results).toEqual(opera.pages.map((p) => p.ledger.status));
  });

  it('adds up the pieces of cloth of the fittings that were done', () => {
    const tree = treeOf(readFileSync(join(opera.out, 'index.html'), 'utf8'));
    const cut = all(all(tree, 'tbody')[1]!, 'tr').map((r) => [r.children[0]?.text, r.children[1]?.text]);
    expect(cut).toEqual([
      ['Skirt front', '7'],
      ['Skirt back', '7'],
      ['Waistband', '7'],
    ]);
  });

  it('adds up the pieces of each pattern by themselves, also where two have one name', async () => {
    const out = newFolder();
    const trousers = join(FIXTURES, 'blocks/trousers-apparel-mm.dxf');
    const body = { drafted: 'waist girth=26.5in', wearer: 'waist girth=27in' };
    await alter(
      { pattern: [SKIRT, trousers], ...body, out, force: true, report: 'html' },
      { onFindings: () => undefined, onFitting: () => undefined },
    );
    const tables = all(treeOf(readFileSync(join(out, 'index.html'), 'utf8')), 'table').slice(1);
    expect(tables.map((t) => all(t, 'caption')[0]?.text)).toEqual([
      'chorus-skirt.dxf, shell: 3 pieces of cloth',
      'trousers-apparel-mm.dxf, shell: 5 pieces of cloth',
    ]);
    rmSync(out, { recursive: true });
  });

  it('tells of earlier runs into the same folder too', async () => {
    const out = newFolder();
    const one = { pattern: SKIRT, drafted: 'waist girth=26.5in', wearer: 'waist girth=27in' };
    await writePages({ ...one, name: 'Ottilie' }, out);
    await writePages({ ...one, name: 'Perpetua' }, out);
    expect(rowsOf(out).map((r) => r.children[0]?.text)).toEqual(['Ottilie', 'Perpetua']);
    const made = join(out, 'Ottilie', 'fitting.html');
    expect(existsSync(made)).toBe(true);
    rmSync(made);
    await writePages({ ...one, name: 'Perpetua' }, out);
    const links = rowsOf(out).map((r) => all(r, 'a').length);
    expect(links, 'a page that is not there is not linked to').toEqual([0, 1]);
    rmSync(out, { recursive: true });
  });

  it('never takes the place of a file that is somebody else’s', async () => {
    const out = newFolder();
    writeFileSync(join(out, 'index.html'), '<!DOCTYPE html><title>The wardrobe</title>');
    const one = { pattern: SKIRT, drafted: 'waist girth=26.5in', wearer: 'waist girth=27in' };
    const { exit, findings } = await writePages({ ...one, force: false }, out);
    expect(exit).toBe(2);
    expect(findings.filter((f) => f.code === 'job-output-exists').map((f) => f.where.file)).toEqual([
      join(out, 'index.html'),
    ]);
    expect(readFileSync(join(out, 'index.html'), 'utf8')).toContain('The wardrobe');
    rmSync(out, { recursive: true });
  });
});

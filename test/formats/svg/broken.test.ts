import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { svg } from '../../../src/formats/svg/index.ts';
import { codesOf, NO_CHANGES, pathsOf, readText, sheet } from './helpers.ts';

const folder = join(import.meta.dirname, '../../../fixtures/broken');
const expected = JSON.parse(readFileSync(join(folder, 'svg.json'), 'utf8')) as Record<string, string[]>;
const NOTHING_READ = /^svg-(empty|not-svg|truncated|not-well-formed|entity-bomb|unpack-failed)$/;

describe('broken drawings', () => {
  it('every one of them is listed', () => {
    const files = readdirSync(folder).filter((f) => /\.svgz?$/.test(f));
    expect(Object.keys(expected).sort()).toEqual(files.sort());
  });

  it.each(Object.entries(expected))('%s', (name, codes) => {
    const bytes = new Uint8Array(readFileSync(join(folder, name)));
    const started = performance.now();
    const { drawing, findings } = svg.read(bytes, { fileName: name });
    expect(performance.now() - started).toBeLessThan(5000);
    expect(findings.map((f) => f.code).sort()).toEqual([...codes].sort());
    for (const finding of findings) {
      expect(finding.where.file).toBe(name);
      expect(finding.message.length).toBeGreaterThan(10);
      expect(finding.try.length).toBeGreaterThan(5);
    }
    if (codes.some((c) => NOTHING_READ.test(c))) expect(drawing).toBeUndefined();
    else expect(drawing && Buffer.from(svg.patch(drawing, NO_CHANGES).bytes).equals(Buffer.from(bytes))).toBe(true);
  });

  it('the place of a mistake is told by line, column and what stands there', () => {
    const bytes = new Uint8Array(readFileSync(join(folder, 'not-a-number-in-path.svg')));
    const [finding] = svg.read(bytes, { fileName: 'bodice.svg' }).findings;
    expect(finding?.where).toMatchObject({ file: 'bodice.svg', line: 3, column: 7, entity: 'path' });
    expect(finding?.where.excerpt).toMatch(/^NaN L10 80Z/);
  });

  it('ten thousand nested groups are read, and written anew', () => {
    const text = sheet(
      `${'<g>'.repeat(10_000)}<path d="M0 0L5 5"/><text x="1" y="1">${'<tspan>'.repeat(5000)}deep${'</tspan>'.repeat(5000)}</text>${'</g>'.repeat(10_000)}`,
    );
    const { drawing } = readText(text);
    expect(pathsOf(drawing)).toHaveLength(1);
    expect(svg.write(drawing).bytes.length).toBeGreaterThan(10_000);
  });

  it('a flood of one mistake is cut, and its number told', () => {
    const { findings } = svg.read(Buffer.from(sheet('<path d="M0 0LX"/>'.repeat(500))), { fileName: 'a.svg' });
    const broken = findings.filter((f) => f.code === 'svg-path-broken');
    expect(broken).toHaveLength(20);
    expect(broken.at(-1)?.message).toContain('480 more');
  });

  it('cut off anywhere, a drawing is a finding and never a crash', () => {
    const whole = `<?xml version="1.0"?><!DOCTYPE svg [<!ENTITY a "b">]><!-- c -->${sheet('<style>p{}</style><g id="x"><path d="M0 0L5 5"/><text x="1" y="2"><![CDATA[d]]>&a;</text></g>')}`;
    for (let length = 0; length < whole.length; length++)
      expect(codesOf(whole.slice(0, length)).length, String(length)).toBeGreaterThan(0);
    expect(codesOf(whole)).toEqual([]);
  });

  it('any byte changed: findings or a drawing, never a crash', () => {
    const whole = sheet(
      '<style>.a{fill:none}</style><g id="x" transform="rotate(20 3 4)"><path class="a" d="M0 0L5 5a3 3 0 01 4 4z"/><use href="#x"/><text x="1" y="2">b</text></g>',
    );
    for (const put of ['<', '"', '&', '0', 'z', ' ', ')']) {
      for (let at = 0; at < whole.length; at++) {
        const bytes = Buffer.from(whole.slice(0, at) + put + whole.slice(at + 1));
        const { drawing, findings } = svg.read(bytes, { fileName: 'a.svg' });
        if (drawing === undefined) expect(findings.some((f) => f.level === 'error')).toBe(true);
        else {
          expect(Buffer.from(svg.patch(drawing, NO_CHANGES).bytes).equals(bytes)).toBe(true);
          svg.write(drawing);
        }
      }
    }
  });
});

describe('drawings made to keep a reader busy', () => {
  const long = 200_000;
  it.each([
    ['digits without end', sheet(`<circle cx="${'1'.repeat(long)}x" cy="1" r="2"/>`)],
    ['blanks in a list of points', sheet(`<polyline points="0,0 9,9${' '.repeat(long)}x"/>`)],
    ['blanks in path data', sheet(`<path d="M0 0L9 9${' '.repeat(long)}x"/>`)],
    ['brackets in a style', sheet(`<path style="${'('.repeat(long)}" d="M0 0L9 9"/>`)],
    ['comments that never end', '<!--'.repeat(long / 4)],
    ['doctypes that never end', '<!DOCTYPE a ['.repeat(long / 13)],
    ['transforms in a row', sheet(`<path transform="${'rotate(1)'.repeat(long / 9)}" d="M0 0L9 9"/>`)],
    ['arguments in a row', sheet(`<path transform="matrix(${'1 '.repeat(long / 2)})" d="M0 0L9 9"/>`)],
    ['selectors in a row', sheet(`<style>${'a b > c,'.repeat(long / 8)}{}</style><path d="M0 0L9 9"/>`)],
    ['one command after the other', sheet(`<path d="M0 0${'l1 1'.repeat(long / 4)}"/>`)],
  ])('%s', (_, text) => {
    const started = performance.now();
    svg.read(Buffer.from(text), { fileName: 'a.svg' });
    expect(performance.now() - started).toBeLessThan(5000);
  });
});

import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import type { CodeMeaning } from '../../src/finding.ts';

const SRC = join(import.meta.dirname, '../../src');
const files = readdirSync(SRC, { recursive: true, encoding: 'utf8' }).filter((f) => /(?<!\.d)\.ts$/.test(f));
const tables = files.filter((f) => f.endsWith('codes.ts'));

/** Every listed code with the table that lists it. */
const listed: { code: string; meaning: CodeMeaning; table: string }[] = [];
for (const table of tables) {
  const exported = (await import(join(SRC, table))) as Record<string, unknown>;
  for (const value of Object.values(exported)) {
    if (typeof value !== 'object' || value === null) continue;
    for (const [code, meaning] of Object.entries(value as Record<string, CodeMeaning>))
      listed.push({ code, meaning, table });
  }
}

/** Quoted words of the source that look like codes, by file; module names are left out. */
const prefixes = [...new Set(listed.map(({ code }) => code.slice(0, code.indexOf('-'))))];
const quoted = new RegExp(`['"\`]((?:${prefixes.join('|')})(?:-[a-z0-9]+)+)['"\`]`, 'g');
const used = new Map<string, string>();
for (const file of files.filter((f) => !tables.includes(f))) {
  const text = readFileSync(join(SRC, file), 'utf8').replace(/(from|import)\s*\(?\s*'[^']*'/g, '');
  for (const [, code] of text.matchAll(quoted)) if (code !== undefined) used.set(code, file);
}

describe('finding codes', () => {
  it('are found at all', () => {
    expect(tables.length).toBeGreaterThanOrEqual(5);
    expect(listed.length).toBeGreaterThan(50);
  });

  it('are listed once', () => {
    const seen = new Set<string>();
    expect(
      listed.filter(({ code }) => seen.has(code) || !seen.add(code)).map(({ code, table }) => `${table}: ${code}`),
    ).toEqual([]);
  });

  it('are kebab-case and say what they mean', () => {
    for (const { code, meaning } of listed) {
      expect(code).toMatch(/^[a-z]+(-[a-z0-9]+)+$/);
      expect(['error', 'warning', 'note']).toContain(meaning.level);
      expect(meaning.means.length, code).toBeGreaterThan(10);
    }
  });

  it('are listed when they are used', () => {
    const codes = new Set(listed.map((l) => l.code));
    expect([...used].filter(([code]) => !codes.has(code)).map(([code, file]) => `${file}: ${code}`)).toEqual([]);
  });

  it('are used when they are listed', () => {
    expect(listed.filter(({ code }) => !used.has(code)).map(({ code, table }) => `${table}: ${code}`)).toEqual([]);
  });
});

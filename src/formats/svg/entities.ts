import type { Finding } from '../../finding.ts';
import { report } from './codes.ts';
import type { Source } from './source.ts';
import { whereIs } from './source.ts';

/** What replaced text may come to in all, in characters. Real files replace a dozen namespace names. */
const MOST_EXPANDED = 1_000_000;

/**
 * Text replacements declared in the doctype (XML 1.0, section 4), resolved to plain text.
 * `fatal` is set when they cannot be resolved within bounds; then nothing of the file is read.
 */
export const entitiesOf = (
  source: Source,
  doctype: string,
): { entities: ReadonlyMap<string, string>; findings: Finding[]; fatal: boolean } => {
  const declared = new Map<string, string>();
  const findings: Finding[] = [];
  const declarations = /<!ENTITY\s+(%\s+)?([\w:.-]+)\s+(?:"([^"]*)"|'([^']*)'|(SYSTEM|PUBLIC)[^>]*)>/g;
  for (const [, parameter, name, double, single, external] of doctype
    .replace(/<!--[\s\S]*?-->/g, '')
    .matchAll(declarations)) {
    if (name === undefined || declared.has(name)) continue;
    if (external !== undefined || parameter !== undefined) {
      if (parameter === undefined) declared.set(name, '');
      const message = `The head of the file refers to "${name}" in another file; it is not fetched and counts as empty.`;
      const place = whereIs(source, Math.max(0, source.text.indexOf('<!DOCTYPE')));
      findings.push(report('svg-entity-external', place, message, 'Save the drawing as plain SVG, in one file.'));
    } else declared.set(name, double ?? single ?? '');
  }
  const entities = new Map<string, string>();
  let fatal = false;
  for (const name of declared.keys()) {
    const text = expand(name, declared, entities, []);
    if (text === undefined) fatal = true;
  }
  const total = fatal ? Number.POSITIVE_INFINITY : expandedInText(source.text, entities);
  if (total > MOST_EXPANDED) {
    const message = 'Text replacements in the head of the file call each other and grow beyond a million letters.';
    const place = whereIs(source, Math.max(0, source.text.indexOf('<!DOCTYPE')));
    findings.push(report('svg-entity-bomb', place, message, 'Ask for the drawing again, from a source you trust.'));
    return { entities: new Map(), findings, fatal: true };
  }
  for (const [name, text] of entities) {
    const at = text.includes('<') ? source.text.lastIndexOf(`&${name};`) : -1;
    if (at < 0) continue;
    const message = `The text replacement "${name}" stands for drawing elements; these are not read.`;
    findings.push(report('svg-entity-markup', whereIs(source, at), message, 'Save the drawing as plain SVG.'));
  }
  return { entities, findings, fatal: false };
};

/** Undefined when it calls itself or grows beyond the bound. */
const expand = (
  name: string,
  declared: ReadonlyMap<string, string>,
  done: Map<string, string>,
  within: readonly string[],
): string | undefined => {
  const ready = done.get(name);
  if (ready !== undefined) return ready;
  if (within.includes(name) || within.length > 64) return undefined;
  let text = '';
  for (const piece of (declared.get(name) ?? '').split(/(&[#\w:.-]+;)/)) {
    const reference = /^&([#\w:.-]+);$/.exec(piece)?.[1];
    const plain = reference === undefined ? piece : resolve(reference, declared, done, [...within, name]);
    if (plain === undefined) return undefined;
    text += plain;
    if (text.length > MOST_EXPANDED) return undefined;
  }
  done.set(name, text);
  return text;
};

const PREDEFINED: Readonly<Record<string, string>> = { amp: '&', lt: '<', gt: '>', quot: '"', apos: "'" };

const resolve = (
  reference: string,
  declared: ReadonlyMap<string, string>,
  done: Map<string, string>,
  within: readonly string[],
): string | undefined => {
  if (reference.startsWith('#')) {
    const code =
      reference[1] === 'x' ? Number.parseInt(reference.slice(2), 16) : Number.parseInt(reference.slice(1), 10);
    return Number.isInteger(code) && code >= 0 && code <= 0x10ffff ? String.fromCodePoint(code) : '';
  }
  if (declared.has(reference)) return expand(reference, declared, done, within);
  return PREDEFINED[reference] ?? '';
};

const expandedInText = (text: string, entities: ReadonlyMap<string, string>): number => {
  if (entities.size === 0) return 0;
  let total = 0;
  for (const [, name] of text.matchAll(/&([\w:.-]+);/g)) total += entities.get(name ?? '')?.length ?? 0;
  return total;
};

import type { Finding } from '../../finding.ts';
import { nearestWord } from '../../measurements/words.ts';
import type { Pattern } from '../../pattern/pattern.ts';
import { folderBesideFiles, folderFor, folderKey } from '../folders.ts';
import { optionUnknown } from '../option-unknown.ts';
import type { Order } from '../orders/orders.ts';
import { bareName } from '../orders/wardrobe.ts';

/** What a name template may name, and what it says. */
const FIELDS = {
  fitting: "the fitting's name",
  wearer: "the wearer, else the fitting's name",
  pattern: "the pattern's file, without its ending where that is clear",
  size: 'the size of the pattern, where the file says it',
} as const;
export type NameField = keyof typeof FIELDS;

/** The parts of a folder's path, each a text with fields. */
export interface NameTemplate {
  readonly text: string;
  readonly folders: readonly string[];
}

/** With several patterns each fitting has a folder for each. */
const usualTemplate = (styles: number): string => (styles > 1 ? '{fitting}/{pattern}' : '{fitting}');

export const readTemplate = (text: string | undefined, styles: number): NameTemplate | Finding => {
  const template = text ?? usualTemplate(styles);
  const fields = [...template.matchAll(/\{([^{}]*)\}/g)].map((m) => m[1] as string);
  const unknown = fields.find((f) => !(f in FIELDS));
  const rest = template.replace(/\{[^{}]*\}/g, '');
  if (unknown !== undefined) return fieldUnknown(template, unknown);
  if (fields.length === 0 || /[{}]/.test(rest)) return notATemplate(template);
  if (leadsOut(template)) return outside(template);
  return { text: template, folders: template.split('/').filter((part) => part.trim() !== '') };
};

/** Folders are named within the run's own; a path that begins elsewhere or goes up would have to be bent. */
const leadsOut = (template: string): boolean =>
  /^([/\\]|[a-z]:)/i.test(template) || template.split(/[/\\]/).some((part) => /^\s*\.{1,2}\s*$/.test(part));

const outside = (template: string): Finding =>
  optionUnknown(
    `--names “${template}” leads out of the folder of the run.`,
    "Name folders within it, such as '{wearer}/{pattern}'; the folder of the run itself is named with --out.",
    { excerpt: template },
  );

/** The folder of an order within the run's folder, with `/` on every system. */
export const folderOf = (template: NameTemplate, order: Order, patterns: readonly Pattern[]): string =>
  template.folders
    .map((part) => part.replace(/\{([^{}]*)\}/g, (_, f) => said(f, order, patterns)))
    .map((part, i) => (i === 0 ? folderBesideFiles : folderFor)(part))
    .join('/');

const said = (field: string, order: Order, patterns: readonly Pattern[]): string => {
  const pattern = order.pattern === undefined ? undefined : patterns[order.pattern];
  const saying: Record<NameField, string> = {
    fitting: order.needs.fitting,
    wearer: order.wearer || order.needs.fitting,
    pattern: pattern ? patternName(pattern, patterns) : '',
    size: pattern?.size ?? '',
  };
  return saying[field as NameField];
};

/** `skirt`; where a skirt.dxf and a skirt.svg are altered together, with the ending. */
const patternName = (pattern: Pattern, patterns: readonly Pattern[]): string => {
  const name = bareName(pattern);
  const isClear = patterns.every((p) => p === pattern || folderKey(bareName(p)) !== folderKey(name));
  return isClear ? name : pattern.fileName;
};

/** For each order that shares its folder with others: why it is refused. Found before anything is written. */
export const collisions = (folders: ReadonlyMap<Order, string>): ReadonlyMap<Order, Finding> => {
  const owners = new Map<string, Order[]>();
  for (const [order, folder] of folders) {
    owners.set(folderKey(folder), [...(owners.get(folderKey(folder)) ?? []), order]);
  }
  const found = new Map<Order, Finding>();
  for (const orders of owners.values()) {
    if (orders.length < 2) continue;
    for (const order of orders) found.set(order, collision(order, orders, folders.get(order) as string));
  }
  return found;
};

const collision = (order: Order, all: readonly Order[], folder: string): Finding => {
  const { fitting } = order.needs;
  const others = [...new Set(all.filter((o) => o !== order).map((o) => `“${o.needs.fitting}”`))];
  const again = all.filter((o) => o.pattern === order.pattern && o.needs.fitting === fitting);
  if (again.length > 1) return twice(order, again.length, folder);
  const own = others.length === 1 && others[0] === `“${fitting}”`;
  return {
    code: 'job-folder-collision',
    level: 'error',
    where: { fitting },
    message: own
      ? `The fitting “${fitting}” would be written to the folder ${folder} more than once, for several patterns.`
      : `The fitting “${fitting}” would be written to the same folder, ${folder}, as ${others.join(', ')}.`,
    try: own
      ? "Add {pattern} to the name template, --names '{fitting}/{pattern}', or give the pattern files different names."
      : 'Give one of them another name in the column “fitting”, or tell them apart with --names.',
  };
};

const twice = ({ needs: { fitting } }: Order, times: number, folder: string): Finding => ({
  code: 'job-folder-collision',
  level: 'error',
  where: { fitting },
  message: `${times} rows of the table ask for the fitting “${fitting}” of the same pattern, and would be written to the same folder, ${folder}.`,
  try: 'Take out the row that is there by mistake, or name each apart in the column “fitting”.',
});

const fieldUnknown = (template: string, field: string): Finding => {
  const names = Object.keys(FIELDS);
  const near = nearestWord(field, names);
  const meant = near === undefined ? '' : `Did you mean {${near}}? `;
  const remedy = `${meant}The fields are ${names.map((n) => `{${n}}`).join(', ')}.`;
  return optionUnknown(`--names has no field {${field}}.`, remedy, { excerpt: template });
};

const notATemplate = (template: string): Finding =>
  optionUnknown(
    `--names “${template}” does not say how the folders of two fittings differ.`,
    "Write fields in braces, such as --names '{wearer}/{pattern} {size}'.",
    { excerpt: template },
  );

import type { ErrorObject } from 'ajv/dist/2020.js';
import type { Finding } from '../../finding.ts';
import { nearestWord } from '../../measurements/words.ts';
import type { SheetPath, SheetSource } from './source.ts';
import { validate } from './validator.ts';

/** Findings about the form of a sheet, by the published JSON Schema: unknown keys, missing ones, values of the wrong kind. */
export const checkStructure = (source: SheetSource): readonly Finding[] => {
  if (validate(source.value)) return [];
  const byPlace = new Map<string, ErrorObject>();
  for (const error of validate.errors ?? []) {
    const key = `${error.instancePath} ${error.params.additionalProperty ?? error.params.missingProperty ?? ''}`;
    const known = byPlace.get(key);
    if (known === undefined || rank(error) < rank(known)) byPlace.set(key, error);
  }
  const errors = [...byPlace.values()];
  return errors.filter((error) => !isExplained(error, errors)).map((error) => findingFor(error, source));
};

/** Of several errors at one place the one that tells most; `anyOf` sums up what its branches say of the same value. */
const rank = (error: ErrorObject): number =>
  ['additionalProperties', 'required', 'anyOf', 'const', 'enum'].indexOf(error.keyword) + 1 || 9;

/** An `anyOf` with errors deeper inside: those say it better. */
const isExplained = (error: ErrorObject, all: readonly ErrorObject[]): boolean =>
  error.keyword === 'anyOf' && all.some((other) => other.instancePath.startsWith(`${error.instancePath}/`));

const pathOf = (pointer: string, value: unknown): SheetPath => {
  const steps: (string | number)[] = [];
  let at: unknown = value;
  for (const raw of pointer.split('/').slice(1)) {
    const step = raw.replace(/~1/g, '/').replace(/~0/g, '~');
    steps.push(Array.isArray(at) ? Number(step) : step);
    at = (at as Record<string, unknown> | undefined)?.[step];
  }
  return steps;
};

const findingFor = (error: ErrorObject, source: SheetSource): Finding => {
  const path = pathOf(error.instancePath, source.value);
  const within = path.length === 0 ? 'the pattern sheet' : `'${path.filter((p) => typeof p === 'string').at(-1)}'`;
  if (error.keyword === 'additionalProperties') {
    return unknownKey(
      String(error.params.additionalProperty),
      within,
      Object.keys(error.parentSchema?.properties ?? {}),
      {
        ...source.where(path, String(error.params.additionalProperty)),
      },
    );
  }
  if (error.keyword === 'required') {
    const missing = String(error.params.missingProperty);
    return {
      code: 'sheet-key-missing',
      level: 'error',
      where: source.where(path),
      message: `An entry of ${within} does not state '${missing}'.`,
      try: `Add '${missing}:'.`,
    };
  }
  if (error.keyword === 'const' && path[0] === 'retrue pattern sheet') {
    return {
      code: 'sheet-version',
      level: 'error',
      where: source.where(path),
      message: `This is a pattern sheet of version ${String(error.data)}; this program knows version ${error.params.allowedValue}.`,
      try: `Write a new sheet with --write-sheet, or change the line to 'retrue pattern sheet: ${error.params.allowedValue}'.`,
    };
  }
  if (error.keyword === 'enum') return unknownValue(error, path, source);
  return wrongValue(error, path, within, source);
};

const unknownKey = (key: string, within: string, known: readonly string[], where: Finding['where']): Finding => {
  const near = nearestWord(key, known);
  return {
    code: 'sheet-key-unknown',
    level: 'error',
    where,
    message: `'${key}' is not a key of ${within}.`,
    try: near === undefined ? `Its keys are: ${known.join(', ')}.` : `Did you mean '${near}'?`,
  };
};

const unknownValue = (error: ErrorObject, path: SheetPath, source: SheetSource): Finding => {
  const allowed = (error.params.allowedValues as readonly unknown[]).map(String);
  const near = nearestWord(String(error.data), allowed);
  return {
    code: 'sheet-value-unknown',
    level: 'error',
    where: source.where(path),
    message: `'${path.at(-1)}' cannot be '${source.written(path) || 'empty'}'.`,
    try: `${near === undefined ? '' : `Did you mean '${near}'? `}Possible are: ${allowed.join(', ')}.`,
  };
};

/** What a place needs, by the definition of the schema it fell under. */
const forms: readonly (readonly [test: (error: ErrorObject, path: SheetPath) => boolean, form: string])[] = [
  [(_, path) => path.at(-1) === 'sew' || path.at(-2) === 'sew', 'two edges, such as [front side, back side]'],
  [
    (_, path) => path.at(-1) === 'up',
    "up, down, left, right, or degrees anticlockwise from the right: '90 degrees' is up",
  ],
  [(_, path) => path.at(-2) === 'levels', "'200 mm below waist' or a place [x, y] that it runs through"],
  [
    (_, path) => path.at(-1) === 'allowance',
    "a length such as '15 mm', or one for each edge: {side: 15 mm, hem: 40 mm}",
  ],
  [(error) => error.parentSchema?.maxItems === 2, 'a place [x, y] of two numbers'],
  [(error) => error.keyword === 'type' && error.params.type === 'boolean', 'true or false'],
  [(error) => error.keyword === 'type' && error.params.type === 'integer', 'a whole number'],
  [(error) => error.keyword === 'minimum' || error.keyword === 'maximum', 'a whole number from 1 to 100'],
  [(error) => error.keyword === 'type' && error.params.type === 'number', 'a number'],
  [
    (error) => error.keyword === 'type' && error.params.type === 'object',
    'names with a value each, below one another and indented',
  ],
  [(error) => error.keyword === 'type' && error.params.type === 'array', 'a list, such as [one, two]'],
  [(error) => error.keyword === 'minItems', 'at least one entry'],
];

const wrongValue = (error: ErrorObject, path: SheetPath, within: string, source: SheetSource): Finding => {
  const isLength =
    typeof error.data === 'number' && (error.parentSchema?.type === 'string' || path.at(-1) === 'allowance');
  if (isLength) {
    const written = source.written(path);
    return {
      code: 'sheet-length-unreadable',
      level: 'error',
      where: source.where(path),
      message: `The length ${written} under ${within} does not say whether it is inches, centimetres or millimetres.`,
      try: `Write the unit behind it: ${written} mm, ${written} cm or ${written} in.`,
    };
  }
  const form = forms.find(([test]) => test(error, path))?.[1] ?? 'a text';
  return {
    code: 'sheet-value-wrong',
    level: 'error',
    where: source.where(path),
    message: `${path.length === 0 ? 'The pattern sheet' : `'${path.filter((p) => typeof p === 'string').at(-1)}'`} is not of the form it needs.`,
    try: `Write ${form}.`,
  };
};

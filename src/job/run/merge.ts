import { readdir, readFile } from 'node:fs/promises';
import { join } from 'node:path';
import type { Finding } from '../../finding.ts';
import { hasErrors } from '../../finding.ts';
import { sha256 } from '../digest.ts';
import type { Exit } from '../exits.ts';
import { clear, exists, store, sweep } from '../store.ts';
import { reportAsked } from './asked.ts';
import { LISTS, writeIndex } from './index-file.ts';
import { leftFinding, leftOver, leftThere } from './left.ts';
import {
  damagedIn,
  keyOf,
  type ListedFile,
  type Manifest,
  type ManifestLine,
  manifestText,
  readManifest,
  settled,
} from './manifest.ts';
import { unlike } from './merge-alike.ts';
import { isInShard, manifestName } from './shard.ts';

/** What became of the parts of a run. */
export interface Merged {
  readonly shards: number;
  readonly fittings: number;
  readonly done: number;
  readonly refused: number;
  readonly failed: number;
  /** How many rows of the table were left out, being for patterns that were not given. */
  readonly elsewhere: number;
}

export interface MergeResult {
  readonly merged?: Merged;
  readonly findings: readonly Finding[];
  readonly exit: Exit;
}

/**
 * Joins the manifests of all parts of a run into one, as if it had been done in one place, when every part is there and
 * was made alike, every fitting has ended once, and every file is as it was written. Else tells what is the matter and
 * changes nothing. A part that was merged earlier counts as there.
 */
export const merge = async (out: string): Promise<MergeResult> => {
  const shards = await shardsIn(out);
  const path = join(out, manifestName(undefined));
  await sweep([...shards.map((s) => s.name), manifestName(undefined), ...LISTS].map((name) => join(out, name)));
  const earlier = await readManifest(path);
  const of = shards[0]?.of;
  if (of === undefined)
    return earlier.size > 0 ? mergedAlready(earlier, path) : { findings: [await noShards(out)], exit: 2 };
  const others = shards.find((s) => s.of !== of);
  if (others) return { findings: [mixed(of, others.of)], exit: 2 };
  const parts = [...shards, ...mergedBefore(earlier, shards, of)];
  const all = parts.flatMap(({ index, lines }) => lines.map((line) => ({ part: index, line })));
  const asked = all.filter(({ line }) => line.asked).toSorted((a, b) => a.line.place - b.line.place);
  const lines = asked.map((l) => l.line);
  const findings = [
    ...shardsMissing(parts, of),
    ...incomplete(lines),
    ...unlike(asked),
    ...(await damagedInAll([...shards.map((s) => s.name), manifestName(undefined)], out)),
    ...(await filesAmiss(lines, out)),
  ];
  if (hasErrors(findings)) return { findings, exit: 1 };
  const newlyLeft = await leftThere(leftOver(earlier, lines, { resumed: false, part: false }), out);
  const left = [...all.map((l) => l.line).filter((line) => !line.asked), ...newlyLeft];
  await store(path, manifestText(joined(earlier, lines, left)));
  await clear(shards.map((s) => join(out, s.name)));
  const report = reportAsked(lines[0]?.settings);
  const unlisted = report ? await writeIndex(out, report) : [];
  const counts = countsOf(lines);
  return {
    merged: { shards: of, ...counts, elsewhere: lines[0]?.table?.elsewhere ?? 0 },
    findings: [...findings, ...leftFinding(newlyLeft, out), ...unlisted],
    exit: counts.refused + counts.failed + unlisted.length > 0 ? 1 : 0,
  };
};

/** The manifest of the whole: what the table asks for in its order, then what it no longer asks for. */
const joined = (earlier: Manifest, lines: readonly ManifestLine[], left: readonly ManifestLine[]): Manifest => {
  const own = new Set(lines.map(keyOf));
  const last = new Map(left.filter((l) => !own.has(keyOf(l))).map((l) => [keyOf(l), { ...l, asked: false }]));
  const others = new Map([...earlier].filter(([key]) => !last.has(key)));
  return new Map([...settled(others, lines), ...last]);
};

const countsOf = (lines: readonly ManifestLine[]) => {
  const count = (status: ManifestLine['status']): number => lines.filter((l) => l.status === status).length;
  return { fittings: lines.length, done: count('done'), refused: count('refused'), failed: count('failed') };
};

/** Parts that are not there by themselves, from the manifest that they were joined into. */
const mergedBefore = (earlier: Manifest, shards: readonly ShardFile[], of: number): Omit<ShardFile, 'name'>[] => {
  const rows = shards.flatMap((s) => s.lines).find((l) => l.asked)?.table?.rows;
  const ofTable = [...earlier.values()].filter((l) => l.asked && rows !== undefined && l.table?.rows === rows);
  return Array.from({ length: of }, (_, i) => i + 1)
    .filter((index) => shards.every((s) => s.index !== index))
    .map((index) => ({ index, of, lines: ofTable.filter((l) => isInShard(l.place, { index, of })) }))
    .filter(({ lines }) => lines.length > 0);
};

interface ShardFile {
  readonly name: string;
  readonly index: number;
  readonly of: number;
  readonly lines: readonly ManifestLine[];
}

const shardsIn = async (out: string): Promise<ShardFile[]> => {
  const names = (await readdir(out).catch(() => [])).sort();
  const found = names.flatMap((name) => {
    const [, index, of] = /^manifest\.(\d+)-of-(\d+)\.jsonl$/.exec(name) ?? [];
    return index === undefined || of === undefined ? [] : [{ name, index: Number(index), of: Number(of) }];
  });
  return Promise.all(
    found.map(async (shard) => ({ ...shard, lines: [...(await readManifest(join(out, shard.name))).values()] })),
  );
};

const damagedInAll = async (names: readonly string[], out: string): Promise<Finding[]> =>
  (await Promise.all(names.map((name) => damagedIn(join(out, name))))).flat();

const shardsMissing = (shards: readonly Omit<ShardFile, 'name'>[], of: number): Finding[] =>
  Array.from({ length: of }, (_, i) => i + 1)
    .filter((index) => shards.every((s) => s.index !== index))
    .map((index) => shardMissing(index, of));

/** Fittings that have not ended, that no part has, or that two have; of each kind all places in one finding. */
const incomplete = (lines: readonly ManifestLine[]): Finding[] => {
  const counts = new Set(lines.map((l) => l.of));
  if (counts.size > 1) return [tablesDiffer([...counts])];
  const times = new Map<number, number>();
  for (const { place } of lines) times.set(place, (times.get(place) ?? 0) + 1);
  const all = Array.from({ length: lines[0]?.of ?? 0 }, (_, i) => i + 1);
  const missing = all.filter((place) => !times.has(place));
  const twice = all.filter((place) => (times.get(place) ?? 0) > 1);
  const begun = lines.filter((l) => l.status === 'begun');
  return [
    ...(missing.length > 0 ? [fittingsMissing(missing)] : []),
    ...(twice.length > 0 ? [fittingsTwice(lines.filter((l) => twice.includes(l.place)))] : []),
    ...begun.map(notEnded),
  ];
};

const filesAmiss = async (lines: readonly ManifestLine[], out: string): Promise<Finding[]> => {
  const findings: Finding[] = [];
  for (const line of lines) {
    if (line.status === 'begun') continue;
    for (const file of line.outputs)
      if (!(await isAsWritten(file, out))) findings.push(fileAmiss(line, join(out, file.file)));
  }
  return findings;
};

const isAsWritten = async ({ file, sha256: hash }: ListedFile, out: string): Promise<boolean> =>
  readFile(join(out, file)).then(
    (bytes) => sha256(bytes) === hash,
    () => false,
  );

/** `3, 5 to 9, 12` */
const ranges = (places: readonly number[]): string => {
  const starts = places.filter((p) => !places.includes(p - 1));
  return starts
    .map((from) => {
      let to = from;
      while (places.includes(to + 1)) to += 1;
      return to === from ? `${from}` : `${from} to ${to}`;
    })
    .join(', ');
};

const error = (code: string, where: Finding['where'], message: string, remedy: string): Finding => ({
  code,
  level: 'error',
  where,
  message,
  try: remedy,
});

const noShards = async (out: string): Promise<Finding> =>
  error(
    'job-shard-missing',
    { file: out },
    (await exists(out)) ? `${out} holds no manifest of a part of a run.` : `There is no folder ${out}.`,
    'Name the folder that alter --shard wrote to.',
  );

/** Nothing is left to join: told with what the joined manifest lists, and ending as the merge did. */
const mergedAlready = (earlier: Manifest, path: string): MergeResult => {
  const { fittings, done, refused, failed } = countsOf([...earlier.values()].filter((l) => l.asked));
  const wrong = fittings - done;
  const counted = `${done} done${refused > 0 ? `, ${refused} refused` : ''}${failed > 0 ? `, ${failed} failed` : ''}`;
  const finding: Finding = {
    code: 'job-shards-merged',
    level: 'note',
    where: { file: path },
    message: `There is no part left to join: the manifest of the whole is there already, and lists ${counted}.`,
    try: 'Nothing need be done if the parts were merged before. Parts that ran since are in another folder: name that one.',
  };
  return { findings: [finding], exit: wrong > 0 ? 1 : 0 };
};

const mixed = (a: number, b: number): Finding =>
  error(
    'job-shards-mixed',
    {},
    `There are manifests of a run in ${a} parts and of one in ${b}.`,
    'Keep those of one run, and move the others away.',
  );

const shardMissing = (index: number, of: number): Finding =>
  error(
    'job-shard-missing',
    { file: manifestName({ index, of }) },
    `Part ${index} of ${of} has not run, or was written elsewhere.`,
    `Run it with --shard ${index}/${of} into the same folder, or copy what it wrote here.`,
  );

const tablesDiffer = (counts: readonly number[]): Finding =>
  error(
    'job-shards-mixed',
    {},
    `The parts are of tables with different numbers of fittings: ${counts.join(', ')}.`,
    'Run all parts again with the same table, with --resume.',
  );

const fittingsMissing = (places: readonly number[]): Finding =>
  error(
    'job-shard-incomplete',
    {},
    `No part has the fittings in places ${ranges(places)} of the table.`,
    'Run the parts that ended early again, with --resume.',
  );

const fittingsTwice = (lines: readonly ManifestLine[]): Finding =>
  error(
    'job-shard-twice',
    {},
    `More than one part has ${[...new Set(lines.map((l) => `“${l.fitting}”`))].join(', ')}.`,
    'Take out the manifest that was copied or run twice.',
  );

const notEnded = (line: ManifestLine): Finding =>
  error(
    'job-shard-incomplete',
    { fitting: line.fitting },
    `The fitting “${line.fitting}” was begun and has not ended.`,
    'Run its part again, with --resume.',
  );

const fileAmiss = (line: ManifestLine, path: string): Finding =>
  error(
    'job-shard-incomplete',
    { file: path, fitting: line.fitting },
    `${path} is not there as it was written.`,
    'Copy it from where its part ran, or run that part again with --resume.',
  );

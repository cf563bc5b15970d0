import { join } from 'node:path';
import type { Finding } from '../finding.ts';
import { hasErrors } from '../finding.ts';
import { sha256Of } from './digest.ts';
import type { Exit } from './exits.ts';
import type { Bench, FittingOutcome } from './fitting.ts';
import { carryOut } from './fitting.ts';
import { folderCollisions, folderFor } from './folders.ts';
import type { Ledger } from './ledger.ts';
import { ledgerText } from './ledger.ts';
import { withEnding } from './making.ts';
import type { ManifestLine } from './manifest.ts';
import { addToManifest } from './manifest.ts';
import type { Order } from './orders.ts';
import type { FittingRequest } from './prepare.ts';
import { prepare } from './prepare.ts';
import { clear, isSystemError, refuseNoFolder, refuseToOverwrite, store, writeFailed } from './store.ts';
import { version } from './version.ts';

export interface AlterRequest extends FittingRequest {
  /** Folder for everything that is written. */
  readonly out: string;
  readonly force: boolean;
}

/** Told as the run goes on, so that nothing of a fitting need be kept once it is written. */
export interface RunEvents {
  readonly onFindings: (findings: readonly Finding[]) => void;
  /** `folder` is the path in which the fitting's files lie. */
  readonly onFitting: (outcome: FittingOutcome, folder: string) => void;
}

export interface RunResult {
  readonly exit: Exit;
  readonly done: number;
  readonly refused: number;
  readonly failed: number;
  /** What the program itself failed on. */
  readonly faults: readonly unknown[];
}

const LEDGER = 'ledger.json';
const NOTHING: RunResult = { exit: 2, done: 0, refused: 0, failed: 0, faults: [] };

/** The main job: one pattern, one wearer or a thousand, written to `DIR/<fitting>/`. */
export const alter = async (request: AlterRequest, events: RunEvents): Promise<RunResult> => {
  const { ready, findings } = await prepare(request);
  if (!ready) {
    events.onFindings(findings);
    return NOTHING;
  }
  const blocked = await whatBlocks(request, ready.bench, ready.orders);
  events.onFindings([...findings, ...blocked]);
  if (hasErrors(blocked)) return NOTHING;
  return runAll(request, ready.bench, ready.orders, events);
};

/** Looked at before anything is written: names that meet, files that are there. */
const whatBlocks = async (request: AlterRequest, bench: Bench, orders: readonly Order[]): Promise<Finding[]> => {
  const fittings = orders.map((o) => o.needs.fitting);
  const outputs = fittings.flatMap((f) => outputNames(bench).map((name) => join(request.out, folderFor(f), name)));
  const inputs = [request.pattern, bench.file.sheet?.path, request.fittings, request.chart];
  return [
    ...folderCollisions(fittings),
    ...(await refuseNoFolder(request.out)),
    ...(await refuseToOverwrite([...outputs, join(request.out, 'manifest.jsonl')], inputs.filter(isText), true)),
    ...(request.force ? [] : await refuseToOverwrite(outputs, [], false)),
  ];
};
const isText = (path: string | undefined): path is string => path !== undefined;

const outputNames = (bench: Bench): string[] => {
  const { file, formats } = bench;
  return [...formats.map((f) => (f.name === file.format.name ? file.fileName : withEnding(file.fileName, f))), LEDGER];
};

const runAll = async (
  request: AlterRequest,
  bench: Bench,
  orders: readonly Order[],
  events: RunEvents,
): Promise<RunResult> => {
  const counts = { done: 0, refused: 0, failed: 0 };
  const faults: unknown[] = [];
  const lines: ManifestLine[] = [];
  const input = sha256Of([bench.file.sha256, bench.file.sheet?.sha256]);
  for (const order of orders) {
    const folder = folderFor(order.needs.fitting);
    const outcome = await put(join(request.out, folder), bench, carryOut(bench, order));
    counts[outcome.status] += 1;
    if (outcome.fault !== undefined) faults.push(outcome.fault);
    lines.push(manifestLine(outcome, folder, input, optionsHash(bench, order)));
    events.onFitting(outcome, join(request.out, folder));
  }
  const unlisted = await list(join(request.out, 'manifest.jsonl'), lines);
  events.onFindings(unlisted);
  const wrong = counts.refused + counts.failed + unlisted.length;
  return { exit: faults.length > 0 ? 3 : wrong > 0 ? 1 : 0, ...counts, faults };
};

const list = async (path: string, lines: readonly ManifestLine[]): Promise<Finding[]> => {
  try {
    await addToManifest(path, lines);
    return [];
  } catch (error) {
    if (!isSystemError(error)) throw error;
    return [writeFailed(path, error)];
  }
};

/** Writes the files of one fitting, the ledger last. What cannot be written whole is taken away again. */
const put = async (folder: string, bench: Bench, outcome: FittingOutcome): Promise<FittingOutcome> => {
  const all = outputNames(bench).map((name) => join(folder, name));
  try {
    await clear(all);
    for (const file of outcome.outputs) await store(join(folder, file.name), file.bytes);
    await store(join(folder, LEDGER), ledgerText(outcome.ledger));
    return outcome;
  } catch (error) {
    if (!isSystemError(error)) throw error;
    await clear(all).catch(() => undefined);
    const findings = [...outcome.ledger.findings, writeFailed(folder, error)];
    const ledger: Ledger = { ...outcome.ledger, status: 'failed', outputs: [], findings };
    return { ...outcome, status: 'failed', outputs: [], ledger };
  }
};

const manifestLine = (outcome: FittingOutcome, folder: string, input: string, options: string): ManifestLine => ({
  fitting: outcome.fitting,
  status: outcome.status,
  folder,
  outputs: outcome.status === 'done' ? outputsOf(outcome, folder) : [],
  ...{ input, options, version },
});

const outputsOf = (outcome: FittingOutcome, folder: string): ManifestLine['outputs'] =>
  outcome.ledger.outputs.map(({ file, sha256 }) => ({ file: `${folder}/${file}`, sha256 }));

const optionsHash = (bench: Bench, order: Order): string =>
  sha256Of({
    needs: order.needs,
    show: order.show,
    draftedFor: bench.file.pattern.draftedFor,
    view: bench.file.view?.name,
    units: bench.file.units,
    plan: bench.plan,
    alter: bench.alter,
    unfold: bench.unfold,
    formats: bench.formats.map((f) => f.name),
  });

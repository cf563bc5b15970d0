import { basename } from 'node:path';
import type { Finding } from '../../finding.ts';
import { sha256Of } from '../digest.ts';
import type { Bench } from '../fitting.ts';
import type { Order } from '../orders/orders.ts';
import type { Preparation } from '../prepare.ts';
import { version } from '../version.ts';
import { type Asked, askedOf } from './asked.ts';
import { fileNames } from './files.ts';
import type { ManifestTable } from './manifest.ts';
import { collisions, folderOf, type NameTemplate } from './names.ts';
import type { AlterRequest } from './settings.ts';

/** One order of a run, with the place where its files go and what they depend on. */
export interface Task {
  /** In the table of the run, from 1, and how many that asks for. */
  readonly place: number;
  readonly of: number;
  readonly table: ManifestTable | null;
  readonly order: Order;
  /** File name of the pattern. */
  readonly pattern: string | null;
  /** Within the run's folder; null for one that cannot have one. */
  readonly folder: string | null;
  /** Names of all files it may get. */
  readonly names: readonly string[];
  /** Hashes of what the result depends on. */
  readonly input: string;
  readonly options: string;
  /** The options of the run in words. */
  readonly settings: Asked;
  readonly version: string;
  /** Why it is not even begun. */
  readonly refusals: readonly Finding[];
}

type Ready = NonNullable<Preparation['ready']>;

/** The orders of a run in the order of the table. */
export const tasksFor = (
  { orders, patterns, elsewhere }: Ready,
  template: NameTemplate,
  request: AlterRequest,
): readonly Task[] => {
  const read = patterns.map((p) => p.bench.file.pattern);
  const placed = orders.filter((o) => o.pattern !== undefined);
  const folders = new Map(placed.map((order) => [order, folderOf(template, order, read)]));
  const met = collisions(folders);
  const benchOf = ({ pattern }: Order): Bench | undefined =>
    pattern === undefined ? undefined : patterns[pattern]?.bench;
  const rows = sha256Of(orders.map((order) => [order.needs.fitting, benchOf(order)?.file.fileName]));
  const table = request.fittings === undefined ? null : { file: basename(request.fittings), rows, elsewhere };
  return orders.map((order, i): Task => {
    const bench = benchOf(order);
    const collision = met.get(order);
    return {
      place: i + 1,
      of: orders.length,
      table,
      order,
      pattern: bench?.file.fileName ?? null,
      folder: collision ? null : (folders.get(order) ?? null),
      names: bench ? fileNames(bench) : [],
      input: bench ? inputHash(bench) : '',
      options: bench ? optionsHash(bench, order) : '',
      settings: askedOf(request, template.text, patterns[0]?.bench.report, bench),
      version,
      refusals: collision ? [collision, ...order.findings] : bench ? [] : order.findings,
    };
  });
};

const inputHash = ({ file }: Bench): string => sha256Of([file.sha256, file.sheet?.sha256]);

const optionsHash = (bench: Bench, order: Order): string =>
  sha256Of({
    order: { ...order, pattern: undefined },
    draftedFor: bench.file.pattern.draftedFor,
    view: bench.file.view?.name,
    units: bench.file.units,
    plan: bench.plan,
    alter: bench.alter,
    unfold: bench.unfold,
    formats: bench.formats.map((f) => f.name),
    report: bench.report,
    // A date that is asked for stands in the ledger.
    made: process.env.SOURCE_DATE_EPOCH || undefined,
  });

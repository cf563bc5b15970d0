import { join } from 'node:path';
import type { Finding } from '../../finding.ts';
import { tableNamed } from '../orders/table-file.ts';
import { refuseNoFolder, refuseToOverwrite } from '../store.ts';
import { indexOfOthers } from './index-file.ts';
import { damagedIn } from './manifest.ts';
import { type Ready, reportOf } from './ready.ts';
import { takesUp } from './settings.ts';

/** Looked at before anything is written: files that were read, and, unless they may be replaced, files that are there. */
export const whatBlocks = async (run: Ready): Promise<Finding[]> => {
  const { request, settings, tasks } = run;
  const { manifest, shard } = settings;
  const outputs = tasks.flatMap((t) =>
    t.folder === null ? [] : t.names.map((n) => join(request.out, t.folder ?? '', n)),
  );
  const report = reportOf(run);
  const mayReplace = request.force || takesUp(request);
  return [
    ...(await refuseNoFolder(request.out)),
    ...(await damagedIn(manifest)),
    ...(await refuseToOverwrite([...outputs, manifest], await filesRead(run), true)),
    ...(mayReplace ? [] : (await refuseToOverwrite(outputs, [], false)).map(orResume)),
    ...(request.force || shard || !report ? [] : await indexOfOthers(request.out, report)),
  ];
};

/** Patterns, their sheets, and the tables. */
const filesRead = async ({ request, patterns }: Ready): Promise<string[]> => {
  const sources = patterns.flatMap(({ bench }) => [bench.file.path, bench.file.sheet?.path]);
  const tables = await Promise.all(
    [request.fittings, request.chart].flatMap((t) => (t === undefined ? [] : tableNamed(t))),
  );
  return [...sources, ...tables.map((t) => t.path)].filter((path) => path !== undefined);
};

const orResume = (finding: Finding): Finding => ({
  ...finding,
  try: 'Add --resume to go on with a run that ended early, --force to replace what is there, or name another folder with --out.',
});

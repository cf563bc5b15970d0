// npm run demo: the opera company's chorus skirt, altered for its singers, from DXF and from SVG.
import { spawnSync } from 'node:child_process';
import { fileURLToPath } from 'node:url';
import { install, step } from './steps.mjs';

process.chdir(fileURLToPath(new URL('..', import.meta.url)));
install();
step(process.execPath, ['scripts/build.mjs']);

const fittings = 'fixtures/jobs/opera/fittings.csv';
for (const format of ['dxf', 'svg']) {
  const pattern = `fixtures/jobs/opera/chorus-skirt.${format}`;
  const out = `altered/demo/${format}`;
  const args = ['dist/retrue.js', 'alter', pattern, '--fittings', fittings, '--out', out, '--force'];
  console.log(`\n$ retrue ${args.slice(1).join(' ')}\n`);
  const { status } = spawnSync(process.execPath, args, { stdio: 'inherit' });
  // 1 is expected: one of the fittings asks for more than the pattern can take, and is refused.
  if (status !== 0 && status !== 1) process.exit(status ?? 1);
}
console.log(`
Where to look:
  altered/demo/*/index.html                     the list of the fittings, with a page for each: open it in a browser
  altered/demo/dxf/<fitting>/chorus-skirt.dxf   the altered pattern, for a printer or cutter
  altered/demo/svg/<fitting>/chorus-skirt.svg   the same from the SVG file; a browser shows it
  altered/demo/*/<fitting>/ledger.json          what was asked, done and measured
  altered/demo/*/manifest.jsonl                 one line for each fitting
The singers and their measurements: ${fittings}`);

// The opera company's chorus skirt for two singers, as a script of one's own:
//   node chorus-skirt.mjs skirt.svg altered
// Reads the pattern once, tells what each singer needs and where it goes, and writes what can be cut.
import { mkdir, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { alter, ledgerText, planFitting, readPattern } from 'retrue';

const [pattern, folder] = process.argv.slice(2);

/** The body that the chorus skirt was drafted for. */
const drafted = { 'waist girth': '26 1/2 in', 'hip girth': '36 in' };

const singers = [
  { name: 'Dorothea', measurements: { 'waist girth': '27 in', 'hip girth': '37 in' } },
  {
    name: 'Leonie',
    measurements: { 'waist girth': '66 cm', 'hip girth': '92,5 cm' },
    changes: { 'length at the hem': '1 in' },
  },
];

/** What is the matter, in plain words. */
const tell = (findings) => {
  for (const { level, message, try: remedy } of findings) console.error(`${level}: ${message} ${remedy}`);
};

const { file, findings } = await readPattern(pattern, { drafted });
tell(findings);
if (!file) process.exit(2);

for (const singer of singers) {
  console.log(singer.name);
  for (const step of planFitting(file, singer).steps) console.log(`  ${step.explanation}`);

  const { status, outputs, ledger } = await alter(file, singer);
  tell(ledger.findings);
  if (status !== 'done') continue;
  await mkdir(join(folder, singer.name), { recursive: true });
  for (const { name, bytes } of outputs) await writeFile(join(folder, singer.name, name), bytes);
  await writeFile(join(folder, singer.name, 'ledger.json'), ledgerText(ledger));
}

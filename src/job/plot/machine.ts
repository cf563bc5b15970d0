import { readFile } from 'node:fs/promises';
import type { Finding } from '../../finding.ts';
import type { Machine, Purpose, Stroke } from '../../formats/sheet.ts';
import { DRAWN, MACHINES, machineCalled } from '../../layout/machines.ts';
import { nearestWord } from '../../measurements/words.ts';

/** A machine by its name, or from a JSON file of one's own (schema/machine.schema.json). */
export const readMachine = async (
  asked: string,
): Promise<{ readonly machine?: Machine; readonly findings: readonly Finding[] }> => {
  const known = machineCalled(asked);
  if (known) return { machine: known, findings: [] };
  const text = await readFile(asked, 'utf8').catch(() => undefined);
  if (text === undefined) return { findings: [unknown(asked)] };
  let value: unknown;
  try {
    value = JSON.parse(text.replace(/^\uFEFF/, ''));
  } catch (error) {
    return { findings: [wrong(asked, `It is not JSON: ${(error as Error).message}.`)] };
  }
  const { checkMachine } = await import('./machine-check.ts');
  const faults = checkMachine(value);
  if (faults.length > 0) return { findings: faults.map((fault) => wrong(asked, fault)) };
  return { machine: machineFrom(value as MachineFile), findings: [] };
};

/** A machine file: a known machine, and what is different. */
type MachineFile = Partial<Omit<Machine, 'strokes'>> & {
  readonly like: string;
  readonly name: string;
  readonly source: string;
  readonly strokes?: Readonly<Partial<Record<Purpose, Partial<Stroke> | null>>>;
};

const machineFrom = ({ like, strokes = {}, ...own }: MachineFile): Machine => {
  const base = machineCalled(like) ?? (MACHINES[0] as Machine);
  const named = new Map<Purpose, Stroke>(Object.entries(base.strokes) as [Purpose, Stroke][]);
  for (const [purpose, stroke] of Object.entries(strokes) as [Purpose, Partial<Stroke> | null][]) {
    if (stroke === null) named.delete(purpose);
    else named.set(purpose, { ...DRAWN[purpose], ...named.get(purpose), ...stroke });
  }
  return {
    ...base,
    ...own,
    title: own.title ?? own.name,
    strokes: Object.fromEntries(named),
    margins: { ...base.margins, ...own.margins },
    notch: { ...base.notch, ...own.notch },
    hpgl: { ...base.hpgl, ...own.hpgl },
    dxf: { ...base.dxf, ...own.dxf },
  };
};

const unknown = (asked: string): Finding => {
  const names = MACHINES.map((m) => m.name);
  const near = nearestWord(asked, names);
  return {
    code: 'job-machine-unknown',
    level: 'error',
    where: {},
    message: `There is no machine “${asked}”, and no file of that name.`,
    try: `${near === undefined ? '' : `Did you mean ${near}? `}Known are ${names.join(', ')}; a file describes any other.`,
  };
};

const wrong = (file: string, fault: string): Finding => ({
  code: 'job-machine-file-wrong',
  level: 'error',
  where: { file },
  message: `The machine file cannot be used. ${fault}`,
  try: 'Correct it; schema/machine.schema.json says what it may hold.',
});

import type { Finding } from '../finding.ts';

/** Names that Windows keeps for devices, whatever their ending. */
const DEVICE = /^(con|prn|aux|nul|com[1-9]|lpt[1-9])(\..*)?$/i;
/** Files that a run writes beside the folders of its fittings. */
const TAKEN = new Set(['manifest.jsonl', 'index.html']);
const LONGEST = 80;

/**
 * A folder name that every file system takes, as near to the fitting's own name as can be: no separators, control
 * characters, leading or trailing dots or blanks, and at most 80 characters.
 */
export const folderFor = (fitting: string): string => {
  const plain = fitting
    .normalize('NFC')
    // biome-ignore lint/suspicious/noControlCharactersInRegex: control characters are what must go
    .replace(/[\u0000-\u001f\u007f-\u009f]/g, '')
    .replace(/[/\\:*?"<>|]/g, '-')
    .replace(/\s+/g, ' ');
  const short = [...plain]
    .slice(0, LONGEST)
    .join('')
    .replace(/^[. ]+|[. ]+$/g, '');
  if (short === '') return 'fitting';
  return DEVICE.test(short) || TAKEN.has(short.toLowerCase()) ? `${short}_` : short;
};

/** Fittings whose folders would be one and the same; found before anything is written. */
export const folderCollisions = (fittings: readonly string[]): Finding[] => {
  const owners = new Map<string, string>();
  const findings: Finding[] = [];
  for (const fitting of fittings) {
    const folder = folderFor(fitting).normalize('NFC').toLowerCase();
    const other = owners.get(folder);
    if (other === undefined) owners.set(folder, fitting);
    else {
      findings.push({
        code: 'job-folder-collision',
        level: 'error',
        where: { fitting },
        message: `The fittings “${other}” and “${fitting}” would be written to the same folder, ${folderFor(fitting)}.`,
        try: 'Give one of them another name in the column “fitting”.',
      });
    }
  }
  return findings;
};

/** Names that Windows keeps for devices, whatever their ending. */
const DEVICE = /^(con|prn|aux|nul|com[1-9]|lpt[1-9])(\..*)?$/i;
/** Files that a run writes beside the folders of its fittings: manifests, also of shards, the index, a layout. */
const TAKEN = /^(manifest(\..*)?\.jsonl|index\.html|layout\.json)$/i;
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
  return DEVICE.test(short) || TAKEN.test(short) ? `${short}_` : short;
};

/** What two folder names have in common when some file system takes them for one: case, and how accents are encoded. */
export const folderKey = (folder: string): string => folder.normalize('NFC').toLowerCase();

/** Names that Windows keeps for devices, whatever their ending. */
const DEVICE = /^(con|prn|aux|nul|com[1-9]|lpt[1-9])(\..*)?$/i;
/**
 * Endings of the files that a run writes beside the folders of its fittings: manifests, also of parts, their locks, lists,
 * sheets for machines, a layout; and what stands behind while one is being written.
 */
const RUN_FILE = /\.(jsonl|html|json|pdf|plt|svg|dxf)(\.lock|\.unfinished-[0-9a-f]{8})?$/i;
const MOST_CHARACTERS = 80;
/** In UTF-8; most file systems take 255. */
const MOST_BYTES = 240;

/**
 * A folder name that every file system takes, as near to the fitting's own name as can be: no separators, control
 * characters, leading or trailing dots or blanks, and at most 80 characters or 240 bytes, none of them cut apart.
 */
export const folderFor = (fitting: string): string => {
  const plain = fitting
    .normalize('NFC')
    // biome-ignore lint/suspicious/noControlCharactersInRegex: control characters are what must go
    .replace(/[\u0000-\u001f\u007f-\u009f]/g, '')
    .replace(/[/\\:*?"<>|]/g, '-')
    .replace(/\s+/g, ' ');
  const short = shortened(plain).replace(/^[. ]+|[. ]+$/g, '');
  if (short === '') return 'fitting';
  return DEVICE.test(short) ? `${short}_` : short;
};

/** The same for a folder that lies beside the run's own files, none of which it may be named like. */
export const folderBesideFiles = (fitting: string): string => {
  const folder = folderFor(fitting);
  return RUN_FILE.test(folder) ? `${folder}_` : folder;
};

/** As many whole characters, as a reader sees them, as a name may have. */
const shortened = (text: string): string => {
  let short = '';
  let characters = 0;
  for (const { segment } of new Intl.Segmenter('en', { granularity: 'grapheme' }).segment(text)) {
    characters += [...segment].length;
    if (characters > MOST_CHARACTERS || Buffer.byteLength(short + segment) > MOST_BYTES) break;
    short += segment;
  }
  return short;
};

/** What two folder names have in common when some file system takes them for one: case, and how accents are encoded. */
export const folderKey = (folder: string): string => folder.normalize('NFC').toLowerCase();

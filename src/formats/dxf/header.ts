import { numberAt, type Report, type Tags, textAt, whereOf } from './tags.ts';
import { codepageNamed, decodeText, isUtf8, type TextEncoding } from './text.ts';

/** What the HEADER and TABLES sections say that reading or writing needs. */
export interface Header {
  /** `$ACADVER`, such as AC1009; '' when not stated. */
  readonly version: string;
  readonly encoding: TextEncoding;
  /** `$INSUNITS`; 0 when unitless or not stated. */
  readonly insertUnits: number;
  /** Tag of `$INSUNITS`, for a finding. */
  readonly insertUnitsTag: number;
  /** `$MEASUREMENT`: 0 English, 1 metric; a hint only. */
  readonly measurement: number | undefined;
  /** Tag of the `$HANDSEED` value. */
  readonly handleSeedTag: number | undefined;
  readonly layers: ReadonlyMap<string, LayerStyle>;
  /** Names (in capitals) of line types with gaps. */
  readonly dashedTypes: ReadonlySet<string>;
}

export interface LayerStyle {
  readonly lineType: string;
  /** Line weight in hundredths of a millimetre, negative when not stated. */
  readonly weight: number;
}

/** Reads the variables and table records of interest. Nothing here is ever changed but `$HANDSEED`. */
export const readHeader = (tags: Tags, report: Report): Header => {
  const variables = new Map<string, number>();
  const layers = new Map<string, LayerStyle>();
  const dashedTypes = new Set<string>();
  const wanted = new Set(['$ACADVER', '$DWGCODEPAGE', '$INSUNITS', '$MEASUREMENT', '$HANDSEED']);
  let section = '';
  for (let i = 0; i < tags.count; i++) {
    const code = tags.code[i];
    if (code === 0) {
      const name = textAt(tags, i);
      if (name === 'SECTION') section = tags.code[i + 1] === 2 ? textAt(tags, i + 1) : '';
      else if (name === 'ENDSEC') section = '';
      else if (section === 'TABLES' && name === 'LAYER') addLayer(tags, i, layers);
      else if (section === 'TABLES' && name === 'LTYPE') addLineType(tags, i, dashedTypes);
    } else if (code === 9 && section === 'HEADER') {
      const name = textAt(tags, i).toUpperCase();
      if (wanted.has(name) && i + 1 < tags.count) variables.set(name, i + 1);
    }
  }
  const text = (name: string): string => {
    const at = variables.get(name);
    return at === undefined ? '' : textAt(tags, at);
  };
  const number = (name: string): number | undefined => {
    const at = variables.get(name);
    const n = at === undefined ? Number.NaN : numberAt(tags, at);
    return Number.isNaN(n) ? undefined : n;
  };
  const version = /^AC\d{4}$/.test(text('$ACADVER')) ? text('$ACADVER') : '';
  const encoding = encodingOf(tags, version, text('$DWGCODEPAGE'), variables.get('$DWGCODEPAGE'), report);
  return {
    version,
    encoding,
    insertUnits: number('$INSUNITS') ?? 0,
    insertUnitsTag: variables.get('$INSUNITS') ?? 0,
    measurement: number('$MEASUREMENT'),
    handleSeedTag: variables.get('$HANDSEED'),
    layers: new Map([...layers].map(([name, style]) => [decodeText(name, encoding), style])),
    dashedTypes,
  };
};

const recordValues = (tags: Tags, at: number, codes: readonly number[]): Map<number, number> => {
  const found = new Map<number, number>();
  for (let i = at + 1; i < tags.count && tags.code[i] !== 0; i++) {
    const code = tags.code[i] ?? -1;
    if (codes.includes(code) && !found.has(code)) found.set(code, i);
  }
  return found;
};

const addLayer = (tags: Tags, at: number, layers: Map<string, LayerStyle>): void => {
  const found = recordValues(tags, at, [2, 6, 370]);
  const name = found.get(2);
  if (name === undefined) return;
  const type = found.get(6);
  const weight = found.get(370);
  layers.set(textAt(tags, name), {
    lineType: type === undefined ? '' : textAt(tags, type),
    weight: weight === undefined ? -1 : numberAt(tags, weight) || -1,
  });
};

const addLineType = (tags: Tags, at: number, dashed: Set<string>): void => {
  const found = recordValues(tags, at, [2, 73]);
  const name = found.get(2);
  const elements = found.get(73);
  if (name !== undefined && elements !== undefined && numberAt(tags, elements) > 0) {
    dashed.add(textAt(tags, name).toUpperCase());
  }
};

const HIGH = /[\x80-\xff]/;

/** R2007 (AC1021) and later are UTF-8; before, the code page rules. A file that states none may still be UTF-8. */
const encodingOf = (
  tags: Tags,
  version: string,
  stated: string,
  statedAt: number | undefined,
  report: Report,
): TextEncoding => {
  const known = stated === '' ? undefined : codepageNamed(stated);
  const high = tags.form === 'ascii' ? HIGH.test(tags.text) : version >= 'AC1021';
  if (version >= 'AC1021') {
    if (!high || tags.form === 'binary' || isUtf8(tags.text))
      return { name: 'utf8', ...(stated === '' ? {} : { stated }) };
    report(
      'dxf-codepage',
      'warning',
      { ...(statedAt === undefined ? {} : whereOf(tags, statedAt)) },
      `A file of version ${version} should be UTF-8 and this one is not; its texts are read as ${known ?? 'windows-1252'}.`,
      'Check that the piece names read right.',
    );
    return { name: known ?? 'windows-1252', stated };
  }
  if (known !== undefined) return { name: known, stated };
  const name = high && isUtf8(tags.text) ? 'utf8' : 'windows-1252';
  if (high) {
    report(
      'dxf-codepage',
      'note',
      { ...(statedAt === undefined ? {} : whereOf(tags, statedAt)) },
      `${stated === '' ? 'The file states no code page' : `The code page ${stated} is not known`}; letters beyond ASCII are read as ${name}.`,
      'Check that the piece names read right.',
    );
  }
  return { name };
};

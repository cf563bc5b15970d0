import { SaxesParser } from 'saxes';
import { parse as parseNesting, type SvgNode } from 'svg-parser';
import type { Finding } from '../../finding.ts';
import { Bug } from '../../finding.ts';
import { report } from './codes.ts';
import { type Attribute, type Element, SVG_NAMESPACE } from './elements.ts';
import { entitiesOf } from './entities.ts';
import type { Source } from './source.ts';
import { lineAndColumn, whereIs } from './source.ts';

/** While the tree is being built. */
type Growing = { -readonly [K in keyof Element]: Element[K] } & { children: (Element | string)[] };

interface Scan {
  readonly elements: Growing[];
  /** Nothing but the tags, without attributes: all that the nesting parser can be trusted with, and fastest for it. */
  readonly nesting: string;
  /** Text and CDATA before each event: element index → pieces that precede it among its parent's children. */
  readonly texts: readonly TextPiece[];
}

interface TextPiece {
  readonly parent: number;
  /** Number of elements opened before it. */
  readonly after: number;
  readonly text: string;
}

class NotWellFormed extends Error {
  readonly at: number;
  constructor(message: string, at: number) {
    super(message);
    this.at = at;
  }
}

/** Name of the first element; undefined when there is none. Comments, instructions and the doctype are passed over. */
const firstName = (text: string): string | undefined => {
  const after = (end: string, at: number): number => {
    const found = text.indexOf(end, at);
    return found < 0 ? text.length : found + end.length;
  };
  let at = text.indexOf('<');
  while (at >= 0 && at < text.length) {
    if (text.startsWith('<!--', at)) at = after('-->', at);
    else if (text.startsWith('<?', at)) at = after('?>', at);
    else if (text.startsWith('<!', at)) {
      const inside = text.indexOf('[', at);
      const end = text.indexOf('>', at);
      at = inside >= 0 && inside < end ? after('>', after(']', at) - 1) : after('>', at);
    } else return /^<([^\s>/<]+)[\s>/]/.exec(text.slice(at, at + 200))?.[1];
    at = text.indexOf('<', at);
  }
  return undefined;
};

/** The source's elements, or a finding with the place of its first mistake. */
export const growTree = (source: Source): { root?: Element; findings: Finding[] } => {
  const first = firstName(source.text);
  if (source.text.trim() === '') {
    const message = 'The file is empty.';
    return { findings: [report('svg-empty', { file: source.fileName }, message, 'Save or send the drawing again.')] };
  }
  if (first === undefined || localName(first) !== 'svg') {
    const what = first === undefined ? 'no drawing at all' : /^html$/i.test(first) ? 'a web page' : `<${first}>`;
    const message = `This is not an SVG drawing: it holds ${what}.`;
    const tip = 'Give the .svg file itself; a page that only shows it must be opened and the drawing saved from there.';
    return { findings: [report('svg-not-svg', whereIs(source, 0), message, tip)] };
  }
  const findings: Finding[] = [];
  try {
    const scan = scanTags(source, findings);
    if (scan === undefined) return { findings };
    return { root: nest(source, scan, findings), findings };
  } catch (error) {
    if (!(error instanceof NotWellFormed)) throw error;
    findings.push(mistake(source, error));
    return { findings };
  }
};

const mistake = (source: Source, error: NotWellFormed): Finding => {
  const cut = error.at >= source.text.trimEnd().length;
  const place = whereIs(source, cut ? Math.max(0, source.text.length - 40) : error.at);
  return cut
    ? report('svg-truncated', place, 'The file stops in the middle of the drawing.', 'Save or send the drawing again.')
    : report(
        'svg-not-well-formed',
        place,
        `The file is not well-formed XML here: ${error.message}. Nothing was read from it.`,
        'Open and save it again with the program that made it, or mend this place in a text editor.',
      );
};

const localName = (name: string): string => name.slice(name.indexOf(':') + 1);

const scanTags = (source: Source, findings: Finding[]): Scan | undefined => {
  const { text } = source;
  const parser = new SaxesParser({ position: true });
  const elements: Growing[] = [];
  const open: number[] = [];
  const texts: TextPiece[] = [];
  const nesting: string[] = [];
  let tagStart = 0;
  let stop = false;
  parser.on('doctype', (doctype) => {
    const { entities, findings: found, fatal } = entitiesOf(source, doctype);
    findings.push(...found);
    for (const [name, value] of entities) parser.ENTITIES[name] = value;
    stop = fatal;
    if (fatal) throw new NotWellFormed('', 0);
  });
  parser.on('opentagstart', () => {
    tagStart = text.lastIndexOf('<', parser.position - 1);
  });
  parser.on('opentag', (tag) => {
    const end = parser.position;
    const parent = open.at(-1);
    elements.push(
      elementAt(source, elements.length, tag, tagStart, end, parent === undefined ? undefined : elements[parent]),
    );
    nesting.push(`<${plainName(tag.name)}${tag.isSelfClosing ? '/>' : '>'}`);
    if (!tag.isSelfClosing) open.push(elements.length - 1);
  });
  parser.on('closetag', (tag) => {
    if (tag.isSelfClosing) return;
    const element = elements[open.pop() ?? -1];
    if (element === undefined) throw new Bug('a closing tag without its element');
    const end = parser.position;
    element.closeStart = text.lastIndexOf('</', end - 1);
    const closing = text.slice(element.closeStart + 2, end - 1).trim();
    if (closing !== tag.name) throw new NotWellFormed(`</${closing}> closes <${tag.name}>`, element.closeStart);
    element.end = end;
    nesting.push(`</${plainName(tag.name)}>`);
  });
  const letters = (piece: string): void => {
    const parent = open.at(-1);
    if (parent !== undefined) texts.push({ parent, after: elements.length, text: piece });
  };
  parser.on('text', letters);
  parser.on('cdata', letters);
  parser.on('error', (error) => {
    const plain = error.message.replace(/^[^:]*:\d+:\d+: /, '').replace(/\.$/, '');
    throw new NotWellFormed(plain, Math.min(text.length, parser.position));
  });
  try {
    parser.write(text).close();
  } catch (error) {
    if (stop) return undefined;
    const root = elements[0];
    const complete = root !== undefined && open.length === 0 && elements.length > 0;
    if (!(error instanceof NotWellFormed) || !complete) throw error;
    const message = 'After the end of the drawing there is something else; it is left as it is.';
    findings.push(
      report('svg-junk-after-end', whereIs(source, root.end), message, 'Nothing, if the drawing is complete.'),
    );
  }
  return { elements, nesting: nesting.join(''), texts };
};

/** A name the nesting parser accepts. */
const plainName = (name: string): string => name.replace(/[^a-zA-Z0-9:_-]/g, '_');

const elementAt = (
  source: Source,
  index: number,
  tag: { name: string; isSelfClosing: boolean; attributes: unknown },
  start: number,
  end: number,
  parent: Growing | undefined,
): Growing => {
  const values = tag.attributes as Record<string, string>;
  const colon = tag.name.indexOf(':');
  return {
    index,
    name: tag.name,
    local: localName(tag.name),
    prefix: tag.name.slice(0, colon + 1),
    svg: true,
    attributes: attributesIn(source.text, start + 1 + tag.name.length, end, values),
    start,
    openEnd: end,
    selfClosing: tag.isSelfClosing,
    closeStart: end,
    end,
    line: lineAndColumn(source, start).line,
    children: [],
    parent,
  };
};

/** Spans of the attributes in an opening tag that is known to be well-formed. */
const attributesIn = (
  text: string,
  from: number,
  to: number,
  values: Record<string, string>,
): ReadonlyMap<string, Attribute> => {
  const found = new Map<string, Attribute>();
  const pattern = /([^\s=/>]+)\s*=\s*("([^"]*)"|'([^']*)')/y;
  let at = from;
  while (at < to) {
    while (at < to && /[\s/>]/.test(text[at] ?? '')) at += 1;
    if (at >= to) break;
    pattern.lastIndex = at;
    const match = pattern.exec(text);
    const name = match?.[1];
    const quoted = match?.[2];
    if (match === null || name === undefined || quoted === undefined) throw new Bug(`no attribute at offset ${at}`);
    const valueEnd = pattern.lastIndex - 1;
    const raw = quoted.slice(1, -1);
    found.set(name, {
      name,
      local: localName(name),
      value: values[name] ?? raw,
      raw,
      nameStart: at,
      valueStart: valueEnd - raw.length,
      valueEnd,
      quote: quoted[0] ?? '"',
    });
    at = pattern.lastIndex;
  }
  return found;
};

/** Parents and children: the n-th element of the nesting parser is the n-th tag of the scan. */
const nest = (source: Source, scan: Scan, findings: Finding[]): Element => {
  const tree = parseNesting(scan.nesting);
  const { elements, texts } = scan;
  let index = 0;
  let nextText = 0;
  const takeTexts = (): void => {
    for (let piece = texts[nextText]; piece !== undefined && piece.after <= index; piece = texts[++nextText]) {
      elements[piece.parent]?.children.push(piece.text);
    }
  };
  const waiting: { node: SvgNode; parent: Growing | undefined }[] = [];
  for (const child of tree.children ?? [])
    if (typeof child !== 'string') waiting.push({ node: child, parent: undefined });
  while (waiting.length > 0) {
    const next = waiting.pop();
    if (next === undefined) break;
    takeTexts();
    const element = elements[index];
    if (element === undefined) throw new Bug('the nesting has more elements than the scan');
    index += 1;
    element.parent = next.parent;
    next.parent?.children.push(element);
    const children = (next.node.children ?? []).filter((child): child is SvgNode => typeof child !== 'string');
    for (const child of children.reverse())
      if (child.type === 'element') waiting.push({ node: child, parent: element });
  }
  index = elements.length;
  takeTexts();
  return named(source, elements, findings);
};

/** Tells SVG elements from foreign ones by the namespaces in force. */
const named = (source: Source, elements: readonly Growing[], findings: Finding[]): Element => {
  const spaces = new Map<Element, ReadonlyMap<string, string>>();
  for (const element of elements) {
    const around = element.parent === undefined ? new Map<string, string>() : (spaces.get(element.parent) ?? new Map());
    let here: ReadonlyMap<string, string> = around;
    for (const { name, value } of element.attributes.values()) {
      if (name === 'xmlns' || name.startsWith('xmlns:')) here = new Map([...here, [name.slice(6), value]]);
    }
    spaces.set(element, here);
    const space = here.get(element.prefix.slice(0, -1));
    element.svg = space === SVG_NAMESPACE || (space === undefined && element.prefix === '') || space === '';
  }
  const root = elements[0];
  if (root === undefined) throw new Bug('a scan without elements');
  if (spaces.get(root)?.get(root.prefix.slice(0, -1)) !== SVG_NAMESPACE) {
    const message = 'The file does not say that it is SVG (no xmlns); it is read as SVG.';
    findings.push(
      report('svg-namespace-missing', whereIs(source, root.start), message, 'Nothing, if the drawing looks right.'),
    );
    for (const element of elements) if (element.prefix === root.prefix) element.svg = true;
  }
  return root;
};

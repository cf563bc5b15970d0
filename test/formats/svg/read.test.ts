import { gunzipSync, gzipSync } from 'node:zlib';
import iconv from 'iconv-lite';
import { describe, expect, it } from 'vitest';
import { svgCodes } from '../../../src/formats/svg/codes.ts';
import { svg } from '../../../src/formats/svg/index.ts';
import { pathLength } from '../../../src/geometry/path.ts';
import { translation } from '../../../src/geometry/transform.ts';
import {
  boxOf,
  bytesOf,
  codesOf,
  movedWhole,
  NO_CHANGES,
  patched,
  pathsOf,
  readText,
  sheet,
  textsOf,
} from './helpers.ts';

const SQUARE = '<path d="M0 0H10V10H0Z"/>';
const page = (attributes: string, content = SQUARE): string => sheet(content, attributes);
const side = (text: string): number => {
  const [x0, , x1] = boxOf(pathsOf(readText(text).drawing)[0]!);
  return x1 - x0;
};

describe('units', () => {
  // CSS Values 3, section 6.2: 1 in = 2.54 cm = 96 px = 72 pt = 6 pc; 1 Q = 1/40 cm.
  it.each([
    ['100mm', 1],
    ['10cm', 1],
    ['400Q', 1],
    ['100in', 25.4],
    ['100pt', 25.4 / 72],
    ['100pc', 25.4 / 6],
    ['100px', 25.4 / 96],
  ])('width %s over 100 units', (width, millimetres) => {
    const text = page(`width="${width}" height="${width}" viewBox="5 5 100 100"`);
    expect(side(text)).toBeCloseTo(10 * millimetres, 9);
    expect(readText(text).drawing.units.statedBy).toBe('file');
    expect(readText(text).drawing.units.millimetresPerUnit).toBeCloseTo(millimetres, 9);
  });
  it('a physical size without a viewBox leaves units of 1/96 inch', () => {
    expect(side(page('width="100mm" height="100mm"'))).toBeCloseTo(10 * (25.4 / 96), 9);
  });
  it('one stated side is enough', () => expect(side(page('height="50mm" viewBox="0 0 100 100"'))).toBeCloseTo(5, 9));
  it('px alone is taken as the standard says, with a warning', () => {
    expect(codesOf(page('width="100px" height="100px"'))).toEqual(['svg-units-px']);
  });
  it.each(['', 'width="100" height="100"', 'width="100%" viewBox="0 0 300 300"', 'width="auto"', 'viewBox="0 0 9 9"'])(
    'no size (%s) is read as millimetres, with the sizes it might have',
    (attributes) => {
      const { drawing, findings } = svg.read(bytesOf(page(attributes)), { fileName: 'a.svg' });
      expect(drawing?.units).toMatchObject({ statedBy: 'unstated', millimetresPerUnit: 1 });
      expect(findings.map((f) => [f.code, f.level])).toEqual([['svg-units-unstated', 'error']]);
      for (const dpi of ['at 96', 'at 90', 'at 72', 'in millimetres']) expect(findings[0]?.try).toContain(dpi);
      expect(findings[0]?.try).toContain('10.0 × 10.0 mm in millimetres');
    },
  );
  it('a unit given for the run settles it, and is told when the file says otherwise', () => {
    const units = { millimetresPerUnit: 25.4, name: 'in' };
    const open = (text: string) => svg.read(bytesOf(text), { fileName: 'a.svg', units });
    expect(boxOf(pathsOf(open(page('')).drawing!)[0]!)[2]).toBeCloseTo(254, 9);
    expect(open(page('')).findings).toEqual([]);
    const against = open(page('width="100mm" height="100mm" viewBox="0 0 100 100"'));
    expect(against.findings.map((f) => f.code)).toEqual(['svg-units-contradict']);
    expect(against.drawing?.units).toEqual({ millimetresPerUnit: 25.4, statedBy: 'option', name: 'in' });
  });
  it('proportions that do not fit are told', () => {
    expect(codesOf(page('width="100mm" height="50mm" viewBox="0 0 100 100"'))).toEqual(['svg-aspect']);
    expect(side(page('width="100mm" height="50mm" viewBox="0 0 100 100"'))).toBeCloseTo(5, 9);
    expect(side(page('width="100mm" height="50mm" viewBox="0 0 100 100" preserveAspectRatio="none"'))).toBeCloseTo(
      10,
      9,
    );
  });
});

describe('structure', () => {
  it('y is up, and the page begins at its top left corner', () => {
    expect(boxOf(pathsOf(readText(sheet('<path d="M10 20L30 50"/>')).drawing)[0]!)).toEqual([10, -50, 30, -20]);
  });
  it('groups are containers and layers, by label, title or id', () => {
    const { drawing } = readText(
      sheet(
        `<g id="g7" x:label="Sarastro robe" xmlns:x="urn:x"><desc>cut 2</desc><g><path id="p" class="cut line" d="M0 0L9 9"><title>hem</title></path></g></g><g id="notes"><title>Notes</title>${SQUARE}</g>`,
      ),
    );
    const [hem, square] = pathsOf(drawing);
    expect(hem).toMatchObject({ layer: 'Sarastro robe', labels: ['p', 'cut', 'line', 'hem'], entity: 'path', line: 1 });
    expect(square?.layer).toBe('Notes');
    expect(drawing.containers).toHaveLength(4);
    expect(drawing.containers[1]).toMatchObject({
      kind: 'group',
      name: 'g7',
      label: 'Sarastro robe cut 2',
      parent: 'root',
    });
    expect(hem?.container).toBe(drawing.containers[2]?.id);
    expect(drawing.containers[2]?.parent).toBe(drawing.containers[1]?.id);
  });
  it('placements of one shape share a definition', () => {
    const { drawing } = readText(
      sheet(
        '<symbol id="s" viewBox="0 0 10 10"><g id="in"><path d="M0 0L10 0"/></g></symbol><use href="#s" width="20" height="20"/><use xmlns:l="http://www.w3.org/1999/xlink" l:href="#s" x="100" width="40" height="40"/>',
      ),
    );
    const [a, b] = pathsOf(drawing);
    expect(a?.definition).toBe(b?.definition);
    expect(a?.id).not.toBe(b?.id);
    expect(boxOf(a!).map((v) => Math.round(v))).toEqual([0, 0, 20, 0]);
    expect(boxOf(b!).map((v) => Math.round(v))).toEqual([100, 0, 140, 0]);
    const blocks = drawing.containers.filter((c) => c.kind === 'block');
    expect(blocks.map((c) => c.name)).toEqual(['s', 's']);
    expect(new Set(blocks.map((c) => c.definition)).size).toBe(1);
  });
  it('a path of several subpaths is several lines, a subpath of no length a point', () => {
    const { drawing } = readText(sheet('<path d="M0 0L9 0 9 9zM20 20L30 20M5 5zM7 7"/>'));
    expect(drawing.drawables.map((d) => d.kind)).toEqual(['path', 'path', 'point']);
    const [first, second] = pathsOf(drawing);
    expect([first?.path.closed, second?.path.closed]).toEqual([true, false]);
    expect(first?.path.segments).toHaveLength(3);
    const point = drawing.drawables[2]!;
    const { text } = patched(drawing, { points: new Map([[point.id, { at: { x: 6, y: -4 } }]]) });
    expect(text).toContain('d="M0 0L9 0 9 9zM20 20L30 20M6 4zM7 7"');
  });
  it('relative commands that return to their start close the line', () => {
    const { drawing } = readText(sheet('<path d="M.1.2l.1.2.7.1-.8-.3z"/>'));
    const { path } = pathsOf(drawing)[0]!;
    expect(path.closed).toBe(true);
    expect(path.segments).toHaveLength(3);
    expect(path.segments.at(-1)?.to).toEqual(path.segments[0]?.from);
  });
  it('a circle is one whole turn, rounded corners are arcs', () => {
    const { drawing } = readText(sheet('<circle cx="5" cy="5" r="3"/><rect width="40" height="20" rx="4"/>'));
    const [circle, rect] = pathsOf(drawing);
    expect(circle?.path.segments.map((s) => s.kind)).toEqual(['arc']);
    expect(pathLength(circle!.path)).toBeCloseTo(6 * Math.PI, 9);
    expect(rect?.path.segments.filter((s) => s.kind === 'arc')).toHaveLength(4);
  });
  it('what is not drawn is no line, hidden things are told', () => {
    const { drawing, codes } = readText(
      sheet(
        `<clipPath id="c">${SQUARE}</clipPath><marker>${SQUARE}</marker><pattern>${SQUARE}</pattern><g display="none">${SQUARE}</g><g style="visibility:hidden">${SQUARE}<path style="visibility:visible" d="M0 0L1 1"/></g><image href="x.png"/>`,
      ),
    );
    expect(pathsOf(drawing)).toHaveLength(1);
    expect(codes).toEqual(['svg-hidden', 'svg-picture']);
  });
  it('foreign elements do not count, svg under any prefix does', () => {
    const text = `<s:svg xmlns:s="http://www.w3.org/2000/svg" xmlns="urn:other" width="9mm" height="9mm" viewBox="0 0 9 9"><path d="M0 0L9 9"/><s:path d="M0 0L5 5"/></s:svg>`;
    const { drawing } = readText(text);
    const [only, ...others] = pathsOf(drawing);
    expect(others).toEqual([]);
    const { text: changed } = patched(drawing, {
      paths: new Map([[only!.id, { segments: movedWhole(only!, translation({ x: 1, y: 0 })) }]]),
      additions: [{ kind: 'point', like: only!.id, at: { x: 0, y: 0 } }],
    });
    expect(changed).toContain('<path d="M0 0L9 9"/><s:path d="M1 0L6 5"/><s:circle ');
  });
});

describe('style', () => {
  it('attributes, rules and style, the strongest last', () => {
    const { drawing } = readText(
      sheet(`<style>path{stroke-width:1;fill:none} .fold{stroke-dasharray:4 2} #top{stroke-width:3} g.a > path{marker-end:url(#m)} /* x */</style>
        <g class="a" stroke-width="9"><path id="top" class="fold" d="M0 0L1 1"/></g>
        <g transform="scale(2)"><path style="stroke-width:.5mm" d="M0 0L1 1" stroke-width="8"/><rect width="1" height="1"/></g>`),
    );
    const [top, second, third] = pathsOf(drawing);
    expect(top?.style).toEqual({ width: 3, dashed: true, filled: false, arrowStart: false, arrowEnd: true });
    expect(second?.style.width).toBeCloseTo((0.5 * 2 * 96) / 25.4, 9);
    expect(third?.style).toMatchObject({ filled: true, width: 0 });
  });
  it('rules that are not read are told', () => {
    expect(codesOf(sheet(`<style>path:hover{fill:red} @media print{path{display:none}}</style>${SQUARE}`))).toEqual([
      'svg-style-unreadable',
    ]);
  });
  it('transforms in a style count, about their origin where it is a length', () => {
    const text = sheet(
      '<path style="transform:translate(10px,5px) rotate(90deg);transform-origin:10px 0" d="M10 0L20 0"/>',
    );
    const { segments } = pathsOf(readText(text).drawing)[0]!.path;
    expect(segments[0]?.from.x).toBeCloseTo(20, 9);
    expect(segments[0]?.to.y).toBeCloseTo(-15, 9);
    expect(codesOf(sheet('<path transform="rotate(9)" transform-origin="center" d="M10 0L20 0"/>'))).toEqual([
      'svg-transform-origin',
    ]);
  });
});

describe('text', () => {
  const texts = (content: string) => textsOf(readText(sheet(content)).drawing);
  it('lines, entities, CDATA, spaces', () => {
    expect(texts('<text x="1" y="2">  cut\n 2 &amp;<![CDATA[ <fold>]]> &#228;</text>')[0]?.text).toBe(
      'cut 2 & <fold> ä',
    );
    expect(texts('<text xml:space="preserve" x="1" y="2">a  b</text>')[0]?.text).toBe('a  b');
    expect(
      texts('<text x="1" y="20"><tspan x="1" dy="1.2em">Papageno</tspan><tspan x="1" dy="1.2em">back</tspan></text>')[0]
        ?.text,
    ).toBe('Papageno\nback');
    expect(texts('<text x="1" y="20">H<tspan font-style="italic">em</tspan></text>')[0]?.text).toBe('Hem');
  });
  it('place, angle, height, mirror', () => {
    const [t] = texts('<g transform="rotate(-90) scale(2)"><text x="-10" y="5" style="font-size:4px">x</text></g>');
    expect(t?.at.x).toBeCloseTo(10, 9);
    expect(t?.at.y).toBeCloseTo(-20, 9);
    expect(t?.angle).toBeCloseTo(Math.PI / 2, 9);
    expect(t?.height).toBeCloseTo(8, 9);
    expect(t?.mirrored).toBe(false);
    expect(texts('<text transform="scale(-1 1)">x</text>')[0]?.mirrored).toBe(true);
  });
});

describe('bytes', () => {
  const text = (encoding: string): string =>
    `<?xml version="1.0" encoding="${encoding}"?>\r\n<!-- Königin der Nacht -->\r\n${sheet('<text x="1" y="2">Ärmel</text><path d="M0 0\r\nL5 5"/>')}\r\n`;
  it.each([
    ['UTF-8', 'utf-8', []],
    ['UTF-8', 'utf-8', [0xef, 0xbb, 0xbf]],
    ['UTF-16', 'utf-16le', [0xff, 0xfe]],
    ['UTF-16', 'utf-16be', [0xfe, 0xff]],
    ['ISO-8859-1', 'latin1', []],
    ['windows-1252', 'windows-1252', []],
  ])('%s as %s is written back as it came', (stated, encoding, mark) => {
    const encode = (s: string): Uint8Array =>
      new Uint8Array(Buffer.concat([Buffer.from(mark), iconv.encode(s, encoding)]));
    const bytes = encode(text(stated));
    expect(svg.sniff(bytes)).toBe(true);
    const { drawing, findings } = svg.read(bytes, { fileName: 'a.svg' });
    expect(findings).toEqual([]);
    expect(textsOf(drawing!)[0]?.text).toBe('Ärmel');
    expect(svg.patch(drawing!, NO_CHANGES).bytes).toEqual(bytes);
    const [d] = pathsOf(drawing!);
    const { bytes: moved } = patched(drawing!, {
      paths: new Map([[d!.id, { segments: movedWhole(d!, translation({ x: 1, y: 0 })) }]]),
    });
    expect(moved).toEqual(encode(text(stated).replace('M0 0\r\nL5 5', 'M1 0\r\nL6 5')));
  });
  it('bytes that do not fit the stated encoding survive, and are told', () => {
    const bytes = iconv.encode(text('UTF-8'), 'latin1');
    const { drawing, findings } = svg.read(new Uint8Array(bytes), { fileName: 'a.svg' });
    expect(findings.map((f) => f.code)).toEqual(['svg-encoding-unknown']);
    const { bytes: out } = patched(drawing!, {
      additions: [{ kind: 'point', like: pathsOf(drawing!)[0]!.id, at: { x: 0, y: 0 } }],
    });
    expect(Buffer.from(out).subarray(0, 80).equals(bytes.subarray(0, 80))).toBe(true);
  });
  it('compressed drawings stay compressed', () => {
    const bytes = new Uint8Array(gzipSync(Buffer.from(sheet(SQUARE))));
    const { drawing, findings } = svg.read(bytes, { fileName: 'a.svgz' });
    expect(findings.map((f) => f.code)).toEqual(['svg-compressed']);
    expect(svg.patch(drawing!, NO_CHANGES).bytes).toEqual(bytes);
    const [d] = pathsOf(drawing!);
    const { bytes: out } = patched(drawing!, {
      paths: new Map([[d!.id, { segments: movedWhole(d!, translation({ x: 1, y: 0 })) }]]),
    });
    expect(gunzipSync(out).toString()).toBe(sheet(SQUARE).replace('M0 0H10V10H0Z', 'M1 0H11V10H1Z'));
  });
  it('everything beside the drawing survives a change', () => {
    const odd = `<?xml version='1.0'?><!DOCTYPE svg [<!ENTITY ns "urn:x"><!ENTITY s "M0 0L5 5">]>\n<?tool keep="1"?><!-- 🎭 --><svg\twidth = '10mm' height='10mm' viewBox='0 0 10 10' xmlns='http://www.w3.org/2000/svg' xmlns:q='&ns;' q:a.b='"' ><metadata><q:r>7</q:r></metadata><path d="&s;"/><q:ünïcode/><script><![CDATA[ if (a<b) ]]></script></svg><!-- end -->`;
    const { drawing } = readText(odd);
    const [d] = pathsOf(drawing);
    const { text: out } = patched(drawing, {
      paths: new Map([[d!.id, { segments: movedWhole(d!, translation({ x: 1, y: 0 })) }]]),
    });
    expect(out).toBe(odd.replace('d="&s;"', 'd="M1 0L6 5"'));
  });
});

describe('a new drawing', () => {
  it('holds the same lines, shifted to its page, in groups by container and layer', () => {
    const { drawing } = readText(
      sheet(
        `<g id="front" transform="rotate(30)"><title>Front &lt;1&gt;</title><path d="M0 0C5 5 9 9 20 3A5 5 0 0 1 30 3"/><circle cx="5" cy="5" r="3"/></g><text x="4" y="9" transform="rotate(20)">a\u00e4b</text>`,
      ),
    );
    const once = svg.write(drawing);
    expect(svg.write(drawing).bytes).toEqual(once.bytes);
    const { drawing: again, findings } = svg.read(once.bytes, { fileName: 'new.svg' });
    expect(findings).toEqual([]);
    expect(again?.units).toMatchObject({ millimetresPerUnit: 1, name: 'mm' });
    const lengths = (d: typeof drawing) => pathsOf(d).map((p) => pathLength(p.path));
    for (const [i, length] of lengths(drawing).entries()) expect(lengths(again!)[i]).toBeCloseTo(length, 2);
    expect(pathsOf(again!).map((p) => p.layer)).toEqual(['Front <1>', 'Front <1>']);
    const [before, after] = [textsOf(drawing)[0]!, textsOf(again!)[0]!];
    expect(after).toMatchObject({ text: 'aäb', mirrored: false });
    expect(after.angle).toBeCloseTo(before.angle, 5);
    const by = [pathsOf(again!)[0]!.path.segments[0]!.from, pathsOf(drawing)[0]!.path.segments[0]!.from] as const;
    expect(after.at.x - before.at.x).toBeCloseTo(by[0].x - by[1].x, 3);
  });
  it('mirrored texts stay mirrored', () => {
    const { drawing } = readText(
      sheet('<text transform="scale(-1 1) rotate(20)" x="-9" y="3">fold</text><path d="M0 0L5 5"/>'),
    );
    const again = svg.read(svg.write(drawing).bytes, { fileName: 'new.svg' }).drawing!;
    expect(textsOf(again)[0]?.mirrored).toBe(true);
    expect(Math.cos(textsOf(again)[0]!.angle - textsOf(drawing)[0]!.angle)).toBeCloseTo(1, 9);
  });
});

it('every code has its meaning', () => {
  for (const [code, { means }] of Object.entries(svgCodes)) {
    expect(code).toMatch(/^svg-[a-z-]+$/);
    expect(means).toMatch(/\.$/);
  }
});

describe('texts with parts', () => {
  it('hidden letters do not count', () => {
    const { drawing } = readText(
      sheet('<text x="1" y="9">cut <tspan display="none">99</tspan><tspan>2</tspan></text>'),
    );
    expect(textsOf(drawing)[0]?.text).toBe('cut 2');
  });
  it('a text on a path begins where the path does, and goes where it goes', () => {
    const { drawing } = readText(
      sheet('<path id="w" d="M10 20L90 20"/><text font-size="4"><textPath href="#w">waist</textPath></text>'),
    );
    const [t] = textsOf(drawing);
    expect(t).toMatchObject({ text: 'waist', at: { x: 10, y: -20 } });
    const { findings, bytes } = patched(drawing, { texts: new Map([[t!.id, { at: { x: 0, y: 0 } }]]) });
    expect(findings.map((f) => f.code)).toEqual(['svg-text-on-path']);
    expect(bytes).toEqual(svg.patch(drawing, NO_CHANGES).bytes);
  });
});

import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { PathChange } from '../../../src/formats/drawing.ts';
import { svg } from '../../../src/formats/svg/index.ts';
import type { Segment } from '../../../src/geometry/segment.ts';
import { cubic, line, pointAt } from '../../../src/geometry/segment.ts';
import { rotation, translation } from '../../../src/geometry/transform.ts';
import { pathData, transforms } from './arbitrary.ts';
import {
  apart,
  boxOf,
  bytesOf,
  movedWhole,
  NO_CHANGES,
  patched,
  pathsOf,
  readText,
  sheet,
  textOf,
  textsOf,
} from './helpers.ts';

/** What a patched number may be out by: half a step of a decimal fit for 0.001 mm, both ways, under a skew. */
const WRITTEN = 0.0015;

const document = (data: string, transform: string): string =>
  sheet(`<!-- hem -->\n<g  transform='${transform}'><path  id="overskirt"\n d="${data}" class='cut' /></g>`);

/** All but the path's data, and the page, which grows for what runs off it. */
const around = (text: string): string =>
  text.replace(/ d="[^"]*"/, ' d=""').replace(/ width="[^"]*" height="[^"]*" viewBox="[^"]*"/, '');

describe('patching a path', () => {
  it('gives back the very bytes when nothing changes', () => {
    fc.assert(
      fc.property(pathData, transforms(false), (data, transform) => {
        const bytes = bytesOf(document(data, transform));
        const { drawing } = svg.read(bytes, { fileName: 'overskirt.svg' });
        expect(drawing && svg.patch(drawing, NO_CHANGES).bytes).toEqual(bytes);
      }),
      { numRuns: 40 },
    );
  });

  it('moves all of a path as a rigid body', () => {
    fc.assert(
      fc.property(pathData, transforms(true), fc.double({ min: -3, max: 3, noNaN: true }), (data, transform, angle) => {
        const { drawing } = readText(document(data, transform));
        const by = rotation(angle, { x: 31.7, y: -12.3 });
        const paths = pathsOf(drawing);
        const wanted = paths.map((d) => movedWhole(d, by));
        const changes = new Map(paths.map((d, i) => [d.id, { segments: wanted[i] as Segment[][] }]));
        const { text } = patched(drawing, { paths: changes });
        expect(around(text)).toBe(around(document(data, transform)));
        const again = pathsOf(readText(text).drawing);
        expect(again.length).toBe(paths.length);
        for (const [i, d] of again.entries())
          expect(apart(d.path.segments, wanted[i]?.flat() ?? [])).toBeLessThan(WRITTEN);
      }),
      { numRuns: 150 },
    );
  });

  it('changes one segment and leaves the others where they were', () => {
    fc.assert(
      fc.property(pathData, transforms(false), fc.nat(), (data, transform, pick) => {
        const { drawing } = readText(document(data, transform));
        const paths = pathsOf(drawing);
        const chosen = paths[pick % Math.max(1, paths.length)];
        if (chosen === undefined) return;
        const { segments } = chosen.path;
        const at = pick % segments.length;
        const old = segments[at] as Segment;
        const middle = { x: (old.from.x + old.to.x) / 2 + 7.31, y: (old.from.y + old.to.y) / 2 + 3.17 };
        const bent =
          pick % 2 === 0 ? [line(old.from, middle), line(middle, old.to)] : [cubic(old.from, middle, middle, old.to)];
        const change: PathChange = { segments: segments.map((s, i) => (i === at ? bent : [s])) };
        const { text, addedVertices } = patched(drawing, { paths: new Map([[chosen.id, change]]) });
        expect(addedVertices.get(chosen.id)).toBe(bent.length - 1);
        const again = pathsOf(readText(text).drawing);
        for (const [i, d] of again.entries()) {
          const wanted = paths[i] === chosen ? change.segments.flat() : (paths[i]?.path.segments ?? []);
          expect(apart(d.path.segments, wanted)).toBeLessThan(WRITTEN);
        }
      }),
      { numRuns: 150 },
    );
  });

  const change = (data: string, edit: (segments: readonly Segment[]) => Segment[][], part = 0): string => {
    const { drawing } = readText(sheet(`<path d="${data}"/>`));
    const chosen = pathsOf(drawing)[part];
    if (chosen === undefined) throw new Error('no such line');
    const { text } = patched(drawing, { paths: new Map([[chosen.id, { segments: edit(chosen.path.segments) }]]) });
    return / d="([^"]*)"/.exec(text)?.[1] ?? '';
  };
  const all = (dx: number, dy: number) => (segments: readonly Segment[]) =>
    segments.map((s) => [...movedWhole({ path: { segments: [s] } } as never, translation({ x: dx, y: -dy }))[0]!]);
  /** Moves the corner between segments i and i + 1, both lines. */
  const corner = (i: number, dx: number, dy: number) => (segments: readonly Segment[]) =>
    segments.map((s, k) => {
      const move = (p: Segment['from']) => ({ x: p.x + dx, y: p.y - dy });
      if (k === i) return [line(s.from, move(s.to))];
      if (k === i + 1) return [line(move(s.from), s.to)];
      return [s];
    });

  it('a subpath of relative commands that moves changes its M only', () => {
    expect(change('M10,20 l5,5c1,2 3,4 5,6a5 5 0 0 1 3 3h4v2z', all(1.5, 2))).toBe(
      'M11.5,22 l5,5c1,2 3,4 5,6a5 5 0 0 1 3 3h4v2z',
    );
  });
  it('a relative subpath after a moved one is put right', () => {
    expect(change('m 10 10 l 5 0 0 5 z m 20 20 l 4 0 0 4 z', all(3, 0))).toBe(
      'm 13 10 l 5 0 0 5 z m 17 20 l 4 0 0 4 z',
    );
  });
  it('a moved corner changes two commands, and corrects a relative one behind it', () => {
    expect(change('M0 0L10 0L10 10L0 10Z', corner(0, 2, 1))).toBe('M0 0L12 1L10 10L0 10Z');
    expect(change('M0 0l10 0l0 10l-10 0z', corner(0, 2, 1))).toBe('M0 0l12 1l-2 9l-10 0z');
  });
  it('commands without letters stay so, and numbers keep their notation', () => {
    expect(change('M0 0 10 0 10 10 0 10z', corner(1, 0, 0.5))).toBe('M0 0 10 0 10 10.5 0 10z');
    expect(change('M.5.5L10.5.5 10.5 10.5.5 10.5z', corner(0, 0, -0.25))).toBe('M.5.5L10.5.25 10.5 10.5.5 10.5z');
    expect(change('M0.00,0.00 L10.00,0.50 L10.00,10.00', corner(0, 1, 0))).toBe('M0.00,0.00 L11.00,0.50 L10.00,10.00');
  });
  it('H and V become L only when they slant', () => {
    expect(change('M0 0H10V10H0z', (s) => all(1, 0)(s))).toBe('M1 0H11V10H1z');
    expect(change('M0 0H10V10H0z', corner(0, 0, 2))).toBe('M0 0L10 2V10H0z');
  });
  it('a smooth command behind a reshaped curve is spelt out, not bent along', () => {
    const data = 'M0 0C0 10 10 10 10 0S20 -10 20 0';
    const bent = change(data, ([a, b]) => [[cubic(a!.from, { x: 0, y: -12 }, { x: 12, y: -12 }, a!.to)], [b!]]);
    expect(bent).toBe('M0 0C0 12 12 12 10 0C10 -10 20 -10 20 0');
  });
  it('an arc moved stays an arc, an arc reshaped becomes a cubic', () => {
    expect(change('M0 0A10 10 0 0 1 20 0', all(0, 5))).toBe('M0 5A10 10 0 0 1 20 5');
    const cubicInstead = change('M0 0A10 10 0 0 1 20 0L20 5', ([a, b]) => [
      [cubic(a!.from, { x: 1, y: 14 }, { x: 19, y: 14 }, a!.to)],
      [b!],
    ]);
    expect(cubicInstead).toBe('M0 0C1 -14 19 -14 20 0L20 5');
  });
  it('a vanished segment takes its command along', () => {
    const gone = change('M0 0L10 0L10 1L10 10L0 10Z', (s) =>
      s.map((one, i) => (i === 1 ? [] : i === 2 ? [line(s[0]!.to, one.to)] : [one])),
    );
    expect(gone).toBe('M0 0L10 0L10 10L0 10Z');
  });
  it('what follows a mistake in the data stays as it stands', () => {
    expect(change('M0 0L10 0L10 10LNaN 4', all(1, 0))).toBe('M1 0L11 0L11 10LNaN 4');
  });
  it('a closing line that is no longer straight is drawn before the Z', () => {
    const out = change('M0 0L10 0L10 10Z', (s) => [
      [s[0]!],
      [s[1]!],
      [line(s[2]!.from, { x: 4, y: -6 }), line({ x: 4, y: -6 }, s[2]!.to)],
    ]);
    expect(out).toMatch(/^M0 0L10 0L10 10L4 6L0 0Z$/);
  });
  it('nearly half a turn keeps its height', () => {
    const { drawing } = readText(sheet('<path d="M0 0A10.0001 10.0001 0 0 1 20 0"/>'));
    const [d] = pathsOf(drawing);
    const wanted = movedWhole(d!, rotation(0.1234, { x: 3, y: 3 }));
    const { text } = patched(drawing, { paths: new Map([[d!.id, { segments: wanted }]]) });
    expect(apart(pathsOf(readText(text).drawing)[0]!.path.segments, wanted.flat())).toBeLessThan(WRITTEN);
  });
});

describe('patching shapes', () => {
  const moved = (shape: string, angle: number, dx = 4, dy = 2): { text: string; codes: string[]; gap: number } => {
    const { drawing } = readText(sheet(shape));
    const [d] = pathsOf(drawing);
    const by = angle === 0 ? translation({ x: dx, y: -dy }) : rotation(angle);
    const wanted = movedWhole(d!, by);
    const { text, findings } = patched(drawing, { paths: new Map([[d!.id, { segments: wanted }]]) });
    const again = pathsOf(readText(text).drawing)[0]!;
    const ends = (segments: readonly Segment[]) =>
      segments.flatMap((s) => [pointAt(s, 0), pointAt(s, 0.5), pointAt(s, 1)]);
    const [a, b] = [boxOf(again), boxOf({ ...d!, path: { segments: wanted.flat(), closed: true } })];
    const gap = Math.max(...a.map((v, i) => Math.abs(v - b[i]!)), ends(again.path.segments).length === 0 ? 1 : 0);
    return {
      text: text.replace(sheet('').replace('</svg>', ''), '').replace('</svg>', ''),
      codes: findings.map((f) => f.code),
      gap,
    };
  };
  it.each([
    ['<rect x="1" y="2" width="30" height="20" class="a"/>', '<rect x="5" y="4" width="30" height="20" class="a"/>'],
    ['<rect width="30" height="20" rx="3"/>', '<rect width="30" height="20" rx="3" x="4" y="2"/>'],
    ['<circle cx="10mm" cy="5" r="3"/>', '<circle cx="11.0583mm" cy="7" r="3"/>'],
    ['<ellipse cx="10" cy="5" rx="3" ry="2"/>', '<ellipse cx="14" cy="7" rx="3" ry="2"/>'],
    ['<line x2="10" y2="4"/>', '<line x2="14" y2="6" x1="4" y1="2"/>'],
    ['<polyline points="0,0 10,0, 10 10"/>', '<polyline points="4,2 14,2, 14 12"/>'],
    [
      '<polygon points="0-5 10,0 10,10" >\n<title>gusset</title></polygon>',
      '<polygon points="4-3 14,2 14,12" >\n<title>gusset</title></polygon>',
    ],
  ])('%s stays what it is when it moves', (shape, wanted) => {
    const { text, gap } = moved(shape, 0);
    expect(text).toBe(wanted);
    expect(gap).toBeLessThan(WRITTEN);
  });
  it.each([
    ['<rect id="a" x="1" y="2" width="30" height="20" class="a"/>', /^<path id="a" d="M[^"]+Z" class="a"\/>$/],
    ["<ellipse cx='10' cy='5' rx='3' ry='2' ></ellipse>", /^<path d='M[^']+Z' ><\/path>$/],
  ])('%s becomes a path when it turns', (shape, wanted) => {
    const { text, codes, gap } = moved(shape, 0.7);
    expect(text).toMatch(wanted);
    expect(codes).toContain('svg-shape-became-path');
    expect(gap).toBeLessThan(WRITTEN);
  });
  it.each([
    '<line x1="1" y1="2" x2="10" y2="4"/>',
    '<polygon points="0 5 10,0 10,10"/>',
    '<circle cx="4" cy="5" r="3"/>',
  ])('%s turns', (shape) => {
    const { text, codes, gap } = moved(shape, 0.7);
    expect(text.slice(0, 5)).toBe(shape.slice(0, 5));
    expect(codes).not.toContain('svg-shape-became-path');
    expect(gap).toBeLessThan(WRITTEN);
  });
  it('a polyline gains a vertex and keeps the numbers of the others', () => {
    const { drawing } = readText(sheet('<polyline points="0,0 10.0,0 10,10"/>'));
    const [d] = pathsOf(drawing);
    const [a, b] = d!.path.segments;
    const via = { x: 5, y: -1 };
    const { text } = patched(drawing, {
      paths: new Map([[d!.id, { segments: [[line(a!.from, via), line(via, a!.to)], [b!]] }]]),
    });
    expect(text).toContain('points="0,0 5,1 10.0,0 10,10"');
  });
  it('tells once that numbers got more decimals', () => {
    expect(
      moved('<line x1="1" y1="2" x2="10" y2="4"/>', 0.7).codes.filter((c) => c === 'svg-more-decimals'),
    ).toHaveLength(1);
  });
});

describe('patching texts', () => {
  const place = (content: string, dx: number, dy: number, angle?: number): string => {
    const { drawing } = readText(sheet(content));
    const [t] = textsOf(drawing);
    const change = {
      at: { x: t!.at.x + dx, y: t!.at.y - dy },
      ...(angle !== undefined && { angle: t!.angle + angle }),
    };
    const { text } = patched(drawing, { texts: new Map([[t!.id, change]]) });
    const [again] = textsOf(readText(text).drawing);
    expect(Math.hypot(again!.at.x - change.at.x, again!.at.y - change.at.y)).toBeLessThan(WRITTEN);
    expect(again!.height).toBeCloseTo(t!.height, 6);
    expect(again!.text).toBe(t!.text);
    if (angle !== undefined) expect(Math.cos(again!.angle - (t!.angle + angle))).toBeCloseTo(1, 9);
    return /<text[\s\S]*<\/text>/.exec(text)?.[0] ?? '';
  };
  it('moves by x and y, those of its tspans too', () => {
    expect(place('<text x="10" y="20">Pamina</text>', 5, 1)).toBe('<text x="15" y="21">Pamina</text>');
    expect(place('<text x="10" y="20">a<tspan x="10" dy="5">b</tspan></text>', 5, 0)).toBe(
      '<text x="15" y="20">a<tspan x="15" dy="5">b</tspan></text>',
    );
    expect(place('<text><tspan x="1 2 3" y="20">abc</tspan></text>', 5, 0)).toContain(
      '<tspan x="6 7 8" y="20">abc</tspan>',
    );
  });
  it('gets x and y where it had none', () => {
    expect(place('<text transform="translate(30 40)">cut 2</text>', 2, 3)).toBe(
      '<text transform="translate(30 40)" x="2" y="3">cut 2</text>',
    );
  });
  it('turns by its transform', () => {
    expect(place('<text x="10" y="20">fold</text>', 0, 0, Math.PI / 2)).toBe(
      '<text x="10" y="20" transform="rotate(-90 10 20)">fold</text>',
    );
    place(
      '<g transform="scale(1 -1) rotate(20)"><text transform="rotate(30 1 2)" x="10" y="20">fold</text></g>',
      3,
      4,
      0.3,
    );
  });
  it('two texts in one element move apart', () => {
    const { drawing } = readText(
      sheet('<text font-size="5"><tspan x="10" y="20">front</tspan><tspan x="120" y="90">back</tspan></text>'),
    );
    const [front, back] = textsOf(drawing);
    expect([front!.text, back!.text]).toEqual(['front', 'back']);
    const { text } = patched(drawing, { texts: new Map([[back!.id, { at: { x: back!.at.x + 1, y: back!.at.y } }]]) });
    expect(text).toContain('<tspan x="10" y="20">front</tspan><tspan x="121" y="90">back</tspan>');
  });
});

describe('shared shapes', () => {
  const content =
    '<defs><path id="gore" d="M0 0L10 0L10 40L0 40Z"/></defs><use href="#gore" x="5"/><use href="#gore" x="50" transform="scale(-1 1)"/>';
  it('follow when the first placement changes', () => {
    const { drawing } = readText(sheet(content));
    const [first, second] = pathsOf(drawing);
    expect(first!.definition).toBe(second!.definition);
    const { text, findings } = patched(drawing, {
      paths: new Map([[first!.id, { segments: movedWhole(first!, translation({ x: 1, y: 0 })) }]]),
    });
    expect(findings.map((f) => f.code)).toEqual(['svg-shared-shape-followed']);
    expect(text).toContain('d="M1 0L11 0L11 40L1 40Z"');
  });
  it('refuse when the placements differ', () => {
    const { drawing } = readText(sheet(content));
    const by = translation({ x: 1, y: 0 });
    const changes = new Map(pathsOf(drawing).map((d) => [d.id, { segments: movedWhole(d, by) }]));
    const { bytes, findings } = patched(drawing, { paths: changes });
    expect(findings.map((f) => f.code)).toEqual(['svg-shared-shape']);
    expect(textOf(bytes)).toBe(sheet(content));
  });
});

describe('additions', () => {
  it('go after the element they are like, in its look and transform', () => {
    const { drawing } = readText(
      sheet(
        '\n  <g transform="translate(10 10)">\n    <path id="a" class="cut" style="stroke:red" d="M0 0L5 0"/>\n  </g>\n',
      ),
    );
    const [d] = pathsOf(drawing);
    const segments = [line({ x: 20, y: -30 }, { x: 40, y: -30 })];
    const { text } = patched(drawing, {
      additions: [
        { kind: 'path', like: d!.id, path: { segments, closed: false } },
        { kind: 'text', like: d!.id, text: 'Tamino & Co', at: { x: 20, y: -30 }, angle: 0, height: 4 },
        { kind: 'point', like: d!.id, at: { x: 1, y: -1 } },
      ],
    });
    expect(text).toContain('\n    <path d="M10,20 L30,20" class="cut" style="stroke:red"/>\n');
    const again = readText(text).drawing;
    expect(again.drawables).toHaveLength(4);
    expect(apart(pathsOf(again)[1]!.path.segments, segments)).toBeLessThan(WRITTEN);
    expect(textsOf(again)[0]).toMatchObject({ text: 'Tamino & Co', at: { x: 20, y: -30 }, height: 4 });
  });
});

describe('the page', () => {
  const page = (text: string): string => / width="[^"]*" height="[^"]*" viewBox="[^"]*"/.exec(text)?.[0] ?? '';
  const shift = (x: number, y: number) => {
    const { drawing } = readText(document('M10 10H60V60H10z', 'translate(0 0)'));
    const paths = pathsOf(drawing).map((d) => [d.id, { segments: movedWhole(d, translation({ x, y })) }] as const);
    return svg.patch(drawing, { ...NO_CHANGES, paths: new Map(paths) });
  };
  const textOf = (bytes: Uint8Array): string => new TextDecoder().decode(bytes);

  it('grows to the right and downwards for what runs off it, its scale kept, and says so', () => {
    const { bytes, findings } = shift(200, -400);
    expect(findings.map((f) => f.code)).toContain('svg-page-grown');
    expect(page(textOf(bytes))).toBe(' width="265.625mm" height="465.625mm" viewBox="0 0 265.625 465.625"');
  });

  it('stays where nothing runs off it', () => {
    expect(page(textOf(shift(20, -20).bytes))).toBe(page(document('', '')));
  });

  it('is not moved for what runs off to the left: that is told', () => {
    const { bytes, findings } = shift(-40, 0);
    expect(findings.map((f) => f.code)).toEqual(expect.arrayContaining(['svg-off-page']));
    expect(page(textOf(bytes))).toBe(page(document('', '')));
  });
});

describe('taking something out', () => {
  it('removes the element and leaves the rest byte for byte', () => {
    const text = sheet(
      '<path id="a" d="M0 0H9"/>\n  <text x="5" y="5">place on fold</text>\n  <path id="b" d="M0 9H9"/>',
    );
    const { drawing } = readText(text);
    const fold = drawing.drawables.find((d) => d.kind === 'text');
    const { bytes } = svg.patch(drawing, { ...NO_CHANGES, removals: new Set([fold?.id as string]) });
    expect(new TextDecoder().decode(bytes)).toBe(text.replace('\n  <text x="5" y="5">place on fold</text>', ''));
  });

  it('leaves an element that also draws what is to stay, and says so', () => {
    const { drawing } = readText(sheet('<path d="M0 0H9M0 9H9"/>'));
    const [first] = pathsOf(drawing);
    const { bytes, findings } = svg.patch(drawing, { ...NO_CHANGES, removals: new Set([first?.id as string]) });
    expect(findings.map((f) => f.code)).toEqual(['svg-kept-with-others']);
    expect(new TextDecoder().decode(bytes)).toContain('M0 0H9M0 9H9');
  });
});

import fc from 'fast-check';

/** Path data with every command, absolute and relative, in the spellings that the grammar allows. */
const coordinate = fc.integer({ min: -4000, max: 4000 }).map((n) => n / 100);
const radius = fc.integer({ min: 100, max: 4000 }).map((n) => n / 100);
const flag = fc.constantFrom('0', '1');

const pairs = (n: number): fc.Arbitrary<string> =>
  fc.array(coordinate, { minLength: n * 2, maxLength: n * 2 }).map((list) => list.join(' '));

const arcWords = (circular: boolean): fc.Arbitrary<string> =>
  fc
    .tuple(radius, radius, fc.integer({ min: -90, max: 90 }), flag, flag, coordinate, coordinate)
    .map(
      ([rx, ry, turn, large, sweep, x, y]) =>
        `${rx} ${circular ? rx : ry} ${circular ? 0 : turn} ${large} ${sweep} ${x} ${y}`,
    );

const command = fc
  .tuple(
    fc.oneof(
      pairs(1).map((p) => `L${p}`),
      pairs(2).map((p) => `L${p}`),
      coordinate.map((x) => `H${x}`),
      coordinate.map((y) => `V${y}`),
      pairs(3).map((p) => `C${p}`),
      pairs(2).map((p) => `S${p}`),
      pairs(2).map((p) => `Q${p}`),
      pairs(1).map((p) => `T${p}`),
      arcWords(true).map((p) => `A${p}`),
      arcWords(false).map((p) => `A${p}`),
    ),
    fc.boolean(),
  )
  .map(([text, relative]) => (relative ? text.toLowerCase() : text));

const subpath = fc
  .tuple(pairs(1), fc.array(command, { minLength: 1, maxLength: 7 }), fc.constantFrom('', 'z', 'Z'), fc.boolean())
  .map(([start, commands, end, relative]) => `${relative ? 'm' : 'M'}${start}${commands.join('')}${end}`);

/** The spellings: as it comes, with commas, packed without separators, over several lines. */
const spell: ((data: string) => string)[] = [
  (d) => d,
  (d) => d.replace(/([\d.]) (-?[\d.])/g, '$1,$2'),
  (d) => d.replace(/([\d.]) -/g, '$1-').replace(/\b0\./g, '.'),
  (d) => d.replace(/([a-zA-Z])/g, '\n\t$1 ').trim(),
];

export const pathData = fc
  .tuple(fc.array(subpath, { minLength: 1, maxLength: 3 }), fc.constantFrom(...spell))
  .map(([list, how]) => how(list.join(' ')));

/** Transforms a drawing program might leave: turns, mirrors, even scales; on request uneven ones too. */
export const transforms = (even: boolean): fc.Arbitrary<string> => {
  const kinds = [
    fc.tuple(coordinate, coordinate).map(([x, y]) => `translate(${x} ${y})`),
    fc.tuple(fc.integer({ min: -180, max: 180 }), coordinate, coordinate).map(([a, x, y]) => `rotate(${a},${x},${y})`),
    fc.integer({ min: 3, max: 30 }).map((k) => `scale(${k / 10})`),
    fc.constant('scale(1 -1)'),
  ];
  if (!even)
    kinds.push(
      fc.constant('matrix(1.5 .2 -.3 .8 4 5)'),
      fc.integer({ min: -30, max: 30 }).map((a) => `skewX(${a})`),
    );
  return fc.array(fc.oneof(...kinds), { maxLength: 3 }).map((list) => list.join(' '));
};

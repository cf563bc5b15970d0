import { describe, expect, it } from 'vitest';
import { crotchDepthEase, easeTable, leastEase } from '../../src/measurements/ease.ts';
import { measurementCalled, measurementNames, nearestTerm, terms } from '../../src/measurements/terms.ts';
import { formatLength } from '../../src/measurements/units.ts';
import { editDistance, plainWords } from '../../src/measurements/words.ts';

describe('measurement names', () => {
  it.each([
    ['waist girth', 'waist girth'],
    ['Waist', 'waist girth'],
    ['WAIST_GIRTH', 'waist girth'],
    ['waist-girth', 'waist girth'],
    ['  waist   girth ', 'waist girth'],
    ['hips', 'hip girth'],
    ['hip', 'hip girth'],
    ['high hip', 'top hip girth'],
    ['underbust', 'under-bust girth'],
    ['Under Bust Girth', 'under-bust girth'],
    ['back waist length', 'back neck to waist'],
    ['skirt length', 'skirt length'],
    ['Skirt length, front', 'skirt length at front'],
    ['waist to hip', 'waist to hip'],
    ['Taillenumfang', 'waist girth'],
    ['HÜFTUMFANG', 'hip girth'],
    ['huftumfang', 'hip girth'],
    ['Tour de taille', 'waist girth'],
    ['contorno de cadera', 'hip girth'],
    ['giro vita', 'waist girth'],
    ['contorno da cintura', 'waist girth'],
    ['heupwijdte', 'hip girth'],
    ['ウエスト', 'waist girth'],
    ['ヒップ', 'hip girth'],
    ['length', undefined],
    ['', undefined],
    ['shoe size', undefined],
  ])('%j is %s', (text, name) => expect(measurementCalled(text)).toBe(name));

  it('gives no name to two measurements', () => {
    const owners = new Map<string, string>();
    for (const name of measurementNames) {
      for (const word of [name, ...terms[name].synonyms]) {
        const plain = plainWords(word);
        expect(owners.get(plain) ?? name, `'${word}'`).toBe(name);
        owners.set(plain, name);
      }
    }
  });

  // Numbers of ISO 8559-1:2017 as a secondary source lists them; not checked in the standard.
  it.each([
    ['neck girth', '5.3.2'],
    ['neck base girth', '5.3.3'],
    ['bust girth', '5.3.4'],
    ['under-bust girth', '5.3.8'],
    ['waist girth', '5.3.10'],
    ['top hip girth', '5.3.12'],
    ['hip girth', '5.3.13'],
    ['upper-arm girth', '5.3.16'],
    ['wrist girth', '5.3.19'],
    ['thigh girth', '5.3.20'],
    ['across back shoulder', '5.4.3'],
    ['back neck to waist', '5.4.5'],
    ['back neck to wrist', '5.4.17'],
    ['outer arm length', '5.7.8'],
  ] as const)('%s is %s in the standard', (name, number) => expect(terms[name].iso).toBe(number));

  it('carries the numbers of the standard once each, and no others', () => {
    const numbers = measurementNames.flatMap((name) => ('iso' in terms[name] ? [terms[name].iso] : []));
    expect(new Set(numbers).size).toBe(numbers.length);
    expect(numbers).toHaveLength(14);
  });

  // Terms of the trade with no number at hand: common practice.
  it.each([
    ...['high bust girth', 'shoulder length', 'front waist length', 'back width', 'chest width', 'crotch depth'],
    ...['crotch length', 'front crotch length', 'back crotch length', 'waist to hip', 'skirt length at front'],
    ...['skirt length at side', 'skirt length at back', 'elbow girth', 'knee girth', 'inside leg length'],
    ...['outside leg length', 'waist to knee', 'shoulder to elbow', 'bust height', 'bust span', 'armhole depth'],
  ])('%s is a term of the trade', (name) => expect(measurementCalled(name)).toBe(name));

  it.each([
    ['wiast', 'waist girth'],
    ['hip grith', 'hip girth'],
    ['full abdomn', 'full abdomen'],
    ['skirt lenght', 'skirt length'],
    ['sway bak', 'sway back'],
    ['xyzzy', undefined],
  ])('the nearest to %j is %s', (text, name) => {
    expect(nearestTerm(text, ['full abdomen', 'sway back'])).toBe(name);
  });

  it('counts a swap of neighbours as one change', () => {
    expect(editDistance('wiast', 'waist')).toBe(1);
    expect(editDistance('kitten', 'sitting')).toBe(3);
    expect(editDistance('', 'abc')).toBe(3);
  });
});

describe('ease', () => {
  // Central Washington University costume text, chapter 16: skirts, waist ½ to ¾ in, hip 2 to 2¾ in.
  it('keeps the spans of the cited text', () => {
    const waist = leastEase('skirt or trousers', 'waist girth');
    const hip = leastEase('skirt or trousers', 'hip girth');
    expect([waist?.least, waist?.most].map((mm) => formatLength(mm ?? 0, 'in'))).toEqual(['½ in', '¾ in']);
    expect([hip?.least, hip?.most].map((mm) => formatLength(mm ?? 0, 'in'))).toEqual(['2 in', '2¾ in']);
    expect(leastEase('bodice or dress', 'wrist girth')).toBeUndefined();
    for (const row of easeTable) expect(row.most ?? Number.POSITIVE_INFINITY).toBeGreaterThan(row.least);
  });

  // New Mexico State University, Guide C-209: hip 39 in: depth ease 1 in; below 36 in: ½ in.
  it('gives the crotch depth its ease by the hip', () => {
    expect(crotchDepthEase(39 * 25.4)).toBeCloseTo(25.4, 9);
    expect(crotchDepthEase(35 * 25.4)).toBeCloseTo(12.7, 9);
  });
});

import { type Candidate, nearestOf, plainWords } from './words.ts';

/** What a body measurement is called, and what the program knows of it. */
export interface Term {
  readonly kind: 'girth' | 'length' | 'width';
  /**
   * Number of the term in ISO 8559-1:2017, where one is known. From a secondary source, not checked in the standard.
   */
  readonly iso?: string;
  /** Where it is taken, in one line for help and for the pattern sheet. */
  readonly taken: string;
  /** Other names, English first. Those of other languages are from memory. */
  readonly synonyms: readonly string[];
  /**
   * What adults measure, mm: outside it the value is asked about, not refused. Common practice with no source, set
   * wide; the narrow sides serve to tell inches from centimetres.
   */
  readonly range: readonly [least: number, most: number];
}

/** Words that may stand for 'girth' behind the place, in English. */
const around = (...places: readonly string[]): string[] =>
  places.flatMap((place) => [place, `${place} girth`, `${place} circumference`, `${place} measurement`]);

const table = {
  stature: {
    kind: 'length',
    taken: 'from the floor to the top of the head, standing upright without shoes; no pattern uses it, checks do',
    synonyms: ['height', 'body height', 'Körpergröße', 'Körperhöhe', 'estatura', 'altezza', 'lichaamslengte', '身長'],
    range: [1350, 2150],
  },
  'neck girth': {
    kind: 'girth',
    iso: '5.3.2',
    taken: 'round the neck, below the larynx',
    synonyms: [...around('neck'), 'Halsumfang', 'tour de cou', 'contorno de cuello', 'giro collo', 'halswijdte'],
    range: [260, 600],
  },
  'neck base girth': {
    kind: 'girth',
    iso: '5.3.3',
    taken: 'round the base of the neck, over the neck points and the hollow of the throat',
    synonyms: [...around('neck base'), 'base of neck'],
    range: [300, 650],
  },
  'bust girth': {
    kind: 'girth',
    iso: '5.3.4',
    taken: 'level round the fullest part of the bust',
    synonyms: [
      ...around('bust', 'chest', 'full bust'),
      ...['Brustumfang', 'Brustweite', 'Oberweite', 'tour de poitrine', 'poitrine', 'contorno de pecho'],
      ...['contorno de busto', 'pecho', 'busto', 'circonferenza seno', 'giro seno', 'seno', 'contorno do busto'],
      ...['bovenwijdte', 'borstomvang', 'バスト', '胸囲'],
    ],
    range: [650, 1800],
  },
  'high bust girth': {
    kind: 'girth',
    taken: 'under the arms and above the bust',
    synonyms: [...around('high bust', 'upper bust'), 'upper chest'],
    range: [600, 1700],
  },
  'under-bust girth': {
    kind: 'girth',
    iso: '5.3.8',
    taken: 'level round the ribs, just under the bust',
    synonyms: [...around('under-bust', 'underbust'), 'rib cage', 'Unterbrustumfang', 'tour de dessous de poitrine'],
    range: [550, 1600],
  },
  'waist girth': {
    kind: 'girth',
    iso: '5.3.10',
    taken: 'level round the body, midway between the lowest rib and the top of the hip bone',
    synonyms: [
      ...around('waist', 'natural waist'),
      ...['waists', 'waistline', 'Taillenumfang', 'Taillenweite', 'Taille', 'Bundweite', 'tour de taille'],
      ...['contorno de cintura', 'cintura', 'giro vita', 'circonferenza vita', 'vita', 'contorno da cintura'],
      ...['taillewijdte', 'tailleomvang', 'ウエスト', '胴囲'],
    ],
    range: [500, 1700],
  },
  'top hip girth': {
    kind: 'girth',
    iso: '5.3.12',
    taken: 'level round the body, midway between waist and hip',
    synonyms: [...around('top hip', 'high hip', 'upper hip'), 'top hips', 'high hips', 'petites hanches'],
    range: [600, 1850],
  },
  'hip girth': {
    kind: 'girth',
    iso: '5.3.13',
    taken: 'level round the body where the seat projects most',
    synonyms: [
      ...around('hip', 'hips', 'full hip', 'seat', 'low hip'),
      ...['Hüftumfang', 'Hueftumfang', 'Hüftweite', 'Hueftweite', 'Hüfte', 'Gesäßumfang', 'tour de hanches'],
      ...['tour de bassin', 'hanches', 'bassin', 'contorno de cadera', 'cadera', 'caderas', 'circonferenza fianchi'],
      ...['giro fianchi', 'fianchi', 'contorno do quadril', 'quadril', 'anca', 'heupwijdte', 'heupomvang', 'heup'],
      ...['heupen', 'ヒップ', '腰囲'],
    ],
    range: [650, 1900],
  },
  'upper-arm girth': {
    kind: 'girth',
    iso: '5.3.16',
    taken: 'round the fullest part of the upper arm',
    synonyms: [...around('upper arm', 'biceps', 'bicep'), 'Oberarmumfang', 'tour de bras', 'bovenarmwijdte'],
    range: [180, 650],
  },
  'elbow girth': {
    kind: 'girth',
    taken: 'round the elbow, the arm a little bent',
    synonyms: [...around('elbow'), 'Ellbogenumfang', 'tour de coude'],
    range: [180, 500],
  },
  'wrist girth': {
    kind: 'girth',
    iso: '5.3.19',
    taken: 'round the wrist, over the wrist bone',
    synonyms: [...around('wrist'), 'Handgelenkumfang', 'tour de poignet', 'polswijdte'],
    range: [110, 280],
  },
  'thigh girth': {
    kind: 'girth',
    iso: '5.3.20',
    taken: 'level round the fullest part of the thigh',
    synonyms: [...around('thigh', 'upper thigh'), 'Oberschenkelumfang', 'tour de cuisse', 'dijwijdte'],
    range: [350, 1100],
  },
  'knee girth': {
    kind: 'girth',
    taken: 'round the knee, over the middle of the kneecap',
    synonyms: [...around('knee'), 'Knieumfang', 'tour de genou', 'kniewijdte'],
    range: [270, 750],
  },
  'ankle girth': {
    kind: 'girth',
    taken: 'round the ankle, over the ankle bones',
    synonyms: [...around('ankle'), 'Fesselumfang', 'tour de cheville', 'enkelwijdte'],
    range: [170, 400],
  },
  'across back shoulder': {
    kind: 'width',
    iso: '5.4.3',
    taken: 'from shoulder point to shoulder point over the back',
    synonyms: ['across back shoulder width', 'back shoulder width', 'shoulder to shoulder', 'across shoulders'],
    range: [300, 600],
  },
  'back width': {
    kind: 'width',
    taken: 'across the back from arm crease to arm crease, at the middle of the armhole',
    synonyms: ['across back', 'across back width', 'Rückenbreite', 'carrure dos', 'rugbreedte'],
    range: [260, 560],
  },
  'chest width': {
    kind: 'width',
    taken: 'across the front from arm crease to arm crease, at the middle of the armhole',
    synonyms: ['across chest', 'across chest width', 'across front', 'front width', 'carrure devant', 'borstbreedte'],
    range: [250, 560],
  },
  'shoulder length': {
    kind: 'length',
    taken: 'from the neck point to the shoulder point',
    synonyms: ['shoulder', 'shoulder seam', 'Schulterlänge', 'Schulterbreite', 'longueur épaule', 'schouderlengte'],
    range: [80, 200],
  },
  'shoulder drop': {
    kind: 'length',
    taken: 'how far the shoulder point lies below the neck point, straight down',
    synonyms: ['shoulder slope drop', 'drop of shoulder', 'Schulterschräge'],
    range: [15, 110],
  },
  'armhole depth': {
    kind: 'length',
    taken: 'from the bone at the back of the neck down the spine to the level of the underarm',
    synonyms: ['scye depth', 'armscye depth', 'depth of scye', 'nape to underarm', 'Rückenhöhe', 'armsgatdiepte'],
    range: [140, 320],
  },
  'back neck to waist': {
    kind: 'length',
    iso: '5.4.5',
    taken: 'from the bone at the back of the neck down the spine to the waist',
    synonyms: ['back waist length', 'back length', 'nape to waist', 'Rückenlänge', 'longueur dos', 'ruglengte', '背丈'],
    range: [300, 550],
  },
  'front waist length': {
    kind: 'length',
    taken: 'from the neck point over the bust point down to the waist',
    synonyms: ['front length', 'front neck to waist', 'vordere Taillenlänge', 'longueur devant', 'voorlengte'],
    range: [330, 620],
  },
  'bust height': {
    kind: 'length',
    taken: 'from the neck point down to the bust point',
    synonyms: [
      'neck to bust point',
      'shoulder to bust',
      'bust depth',
      'Brusttiefe',
      'hauteur de poitrine',
      'borsthoogte',
    ],
    range: [180, 420],
  },
  'bust span': {
    kind: 'width',
    taken: 'from bust point to bust point',
    synonyms: ['bust point to bust point', 'bust separation', 'Brustpunktabstand', 'borstpuntafstand'],
    range: [120, 300],
  },
  'back neck to wrist': {
    kind: 'length',
    iso: '5.4.17',
    taken: 'from the bone at the back of the neck over the shoulder point and the bent elbow to the wrist',
    synonyms: ['nape to wrist', 'centre back sleeve length', 'center back sleeve length'],
    range: [600, 1050],
  },
  'shoulder to elbow': {
    kind: 'length',
    taken: 'from the shoulder point to the point of the bent elbow',
    synonyms: ['shoulder to elbow length', 'upper arm length', 'elbow length', 'Oberarmlänge', 'bovenarmlengte'],
    range: [230, 460],
  },
  'outer arm length': {
    kind: 'length',
    iso: '5.7.8',
    taken: 'from the shoulder point over the bent elbow to the wrist',
    synonyms: ['arm length', 'sleeve length', 'Armlänge', 'Ärmellänge', 'longueur de bras', 'armlengte', '袖丈'],
    range: [430, 800],
  },
  'crotch depth': {
    kind: 'length',
    taken: 'seated, from the waist at the side down to the seat of the chair',
    synonyms: ['seated crotch depth', 'body rise', 'rise', 'Sitzhöhe', 'hauteur de montant', 'zithoogte'],
    range: [180, 450],
  },
  'front crotch length': {
    kind: 'length',
    taken: 'from the front waist down to the inside leg',
    synonyms: ['crotch length front', 'front rise'],
    range: [200, 600],
  },
  'back crotch length': {
    kind: 'length',
    taken: 'from the back waist down to the inside leg',
    synonyms: ['crotch length back', 'back rise'],
    range: [250, 700],
  },
  'crotch length': {
    kind: 'length',
    taken: 'from the front waist between the legs to the back waist',
    synonyms: ['total crotch length', 'full crotch length', 'crotch seam length'],
    range: [450, 1200],
  },
  'waist to knee': {
    kind: 'length',
    taken: 'at the side from the waist down to the middle of the kneecap',
    synonyms: ['waist to knee length', 'knee depth', 'knee below waist', 'Knietiefe', 'taille genou', 'kniehoogte'],
    range: [400, 780],
  },
  'inside leg length': {
    kind: 'length',
    taken: 'inside the leg from the crotch down to where the trousers end',
    synonyms: [
      'inside leg',
      'inseam',
      'inseam length',
      'inner leg',
      'innere Beinlänge',
      'entrejambe',
      'binnenbeenlengte',
    ],
    range: [150, 1050],
  },
  'outside leg length': {
    kind: 'length',
    taken: 'at the side from the waist over the hip down to where the trousers end',
    synonyms: ['outside leg', 'outseam', 'trouser length', 'side leg length', 'äußere Beinlänge', 'buitenbeenlengte'],
    range: [350, 1350],
  },
  'waist to hip': {
    kind: 'length',
    taken: 'along the side from the waist down to the hip level',
    synonyms: [
      ...['waist to hip length', 'hip depth', 'waist hip length', 'hip below waist', 'side waist to hip'],
      ...['Hüfttiefe', 'hauteur de hanches', 'taille hanches', 'altura de cadera'],
      ...['altezza fianchi', 'altura do quadril', 'heupdiepte', 'heuphoogte', '腰丈'],
    ],
    range: [120, 330],
  },
  'skirt length': {
    kind: 'length',
    taken: 'from the waist down to the finished hem, the same all round',
    synonyms: [
      ...['length of skirt', 'finished skirt length', 'Rocklänge', 'Rocklaenge', 'longueur de jupe'],
      ...['largo de falda', 'lunghezza gonna', 'comprimento da saia', 'roklengte', 'スカート丈'],
    ],
    range: [200, 1400],
  },
  'skirt length at front': {
    kind: 'length',
    taken: 'at the centre front from the waist down to the finished hem',
    synonyms: ['front skirt length', 'skirt length front', 'skirt front length', 'centre front length'],
    range: [200, 1400],
  },
  'skirt length at side': {
    kind: 'length',
    taken: 'at the side from the waist over the hip down to the finished hem',
    synonyms: ['side skirt length', 'skirt length side', 'skirt side length', 'side length'],
    range: [200, 1400],
  },
  'skirt length at back': {
    kind: 'length',
    taken: 'at the centre back from the waist down to the finished hem',
    synonyms: ['back skirt length', 'skirt length back', 'skirt back length', 'centre back length'],
    range: [200, 1400],
  },
} as const satisfies Record<string, Term>;

/** Canonical name of a body measurement: the ISO 8559-1 term where there is one, else the trade's. */
export type MeasurementName = keyof typeof table;

/** All measurements the program knows, by canonical name, from neck to hem. */
export const terms: Readonly<Record<MeasurementName, Term>> = table;

export const measurementNames = Object.keys(table) as readonly MeasurementName[];

const byWord: ReadonlyMap<string, MeasurementName> = new Map(
  measurementNames.flatMap((name) => [name, ...terms[name].synonyms].map((word) => [plainWords(word), name] as const)),
);

/**
 * The measurement a text names, without regard to case, accents, hyphens, underscores or extra spaces: 'Waist',
 * 'waist girth', 'HIPS', 'tour de taille'. Undefined for any other text.
 */
export const measurementCalled = (text: string): MeasurementName | undefined => byWord.get(plainWords(text));

/**
 * The known name nearest to a text, for "did you mean": a canonical measurement name, or one of `extra` (names of
 * alterations, other columns). Undefined when nothing is near.
 */
export const nearestTerm = (text: string, extra: Iterable<string> = []): string | undefined =>
  nearestOf(text, allCandidates(extra));

function* allCandidates(extra: Iterable<string>): Generator<Candidate> {
  for (const name of measurementNames) yield { word: name, name };
  for (const name of extra) yield { word: name, name };
  for (const [word, name] of byWord) yield { word, name };
}

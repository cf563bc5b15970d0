import type { Term } from './term.ts';

/** Words that may stand for 'girth' behind the place, in English. */
const around = (...places: readonly string[]): string[] =>
  places.flatMap((place) => [place, `${place} girth`, `${place} circumference`, `${place} measurement`]);

/** Measured round the body, from neck to ankle. */
export const girths = {
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
} as const satisfies Record<string, Term>;

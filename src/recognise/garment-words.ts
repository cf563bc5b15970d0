import type { Language } from './words.ts';

type Words = Readonly<Partial<Record<Language, readonly string[]>>>;

/** What words beside the lines of bodices, sleeves and trousers may mean, and names of their parts. */
export type GarmentMeaning =
  | 'neck'
  | 'shoulder'
  | 'armhole'
  | 'cap'
  | 'sleeve seam'
  | 'wrist'
  | 'crotch'
  | 'inseam'
  | 'panel seam'
  | 'bust'
  | 'chest'
  | 'blade'
  | 'underarm'
  | 'biceps'
  | 'elbow'
  | 'bust point'
  | 'upper sleeve'
  | 'under sleeve'
  | 'sleeve cut otherwise';

/** Words by meaning and language; common practice, from memory, with no source at hand. */
export const garmentWords: Readonly<Record<GarmentMeaning, Words>> = {
  neck: {
    en: ['neck', 'neckline', 'neck line', 'neck edge', 'neck seam', 'neckhole'],
    de: [
      'Halsausschnitt',
      'Halsloch',
      'Halslinie',
      'Ausschnitt',
      'Ausschnittkante',
      'Halsbeleg',
      'Halsausschnittbeleg',
    ],
    fr: ['encolure', "ligne d'encolure"],
    es: ['escote', 'línea de escote', 'línea de cuello'],
    it: ['scollo', 'scollatura', 'girocollo', 'giro collo'],
    pt: ['decote', 'linha do decote'],
    nl: ['hals', 'halslijn', 'halsuitsnijding', 'halsrand', 'halsbeleg'],
    ja: ['衿ぐり', '襟ぐり', '衿ぐり線', '襟ぐり線', 'ネックライン'],
  },
  shoulder: {
    en: ['shoulder', 'shoulder seam', 'shoulder line', 'shoulder edge'],
    de: ['Schulter', 'Schulternaht', 'Schulterlinie'],
    fr: ['épaule', "couture d'épaule", 'couture épaule', "ligne d'épaule"],
    es: ['hombro', 'costura de hombro', 'línea de hombro'],
    it: ['spalla', 'cucitura spalla', 'linea spalla', 'linea della spalla'],
    pt: ['ombro', 'costura do ombro', 'linha do ombro'],
    nl: ['schouder', 'schoudernaad', 'schouderlijn'],
    ja: ['肩', '肩線', '肩縫い'],
  },
  armhole: {
    en: ['armhole', 'arm hole', 'armscye', 'scye', 'armhole edge', 'armhole seam'],
    de: ['Armloch', 'Armausschnitt', 'Armlochnaht'],
    fr: ['emmanchure', 'emmanchures'],
    es: ['sisa', 'sisas'],
    it: ['giromanica', 'giro manica', 'scalfo'],
    pt: ['cava', 'cava da manga', 'cavas'],
    nl: ['armsgat'],
    ja: ['袖ぐり', '袖ぐり線', 'アームホール'],
  },
  cap: {
    en: ['sleeve cap', 'sleeve head', 'sleeve crown', 'cap', 'crown'],
    de: ['Armkugel', 'Ärmelkugel'],
    fr: ['tête de manche'],
    es: ['cabeza de manga', 'copa de manga', 'copa'],
    it: ['testa manica', 'colmo manica', 'colmo della manica'],
    pt: ['cabeça da manga', 'cabeça de manga'],
    nl: ['mouwkop'],
    ja: ['袖山', '袖山線'],
  },
  'sleeve seam': {
    en: [
      'sleeve seam',
      'underarm seam',
      'underarm sleeve seam',
      'forearm seam',
      'hindarm seam',
      'inner sleeve seam',
      'outer sleeve seam',
      'front sleeve seam',
      'back sleeve seam',
    ],
    de: ['Ärmelnaht', 'Unterarmnaht', 'vordere Ärmelnaht', 'hintere Ärmelnaht'],
    fr: ['couture de manche', 'couture de dessous de bras', 'couture saignée', 'couture coude'],
    es: ['costura de manga', 'costura de la manga'],
    it: ['cucitura manica', 'cucitura della manica'],
    pt: ['costura da manga'],
    nl: ['mouwnaad', 'onderarmnaad'],
    ja: ['袖下', '袖下線'],
  },
  wrist: {
    en: ['wrist', 'wrist line', 'wrist edge', 'sleeve hem', 'wrist level'],
    de: ['Handgelenk', 'Handgelenklinie', 'Ärmelsaum'],
    fr: ['ligne de poignet', 'bas de manche', 'bas de la manche'],
    es: ['muñeca', 'línea de muñeca', 'bajo de manga'],
    it: ['polso', 'linea polso', 'fondo manica'],
    pt: ['pulso', 'linha do pulso', 'boca da manga'],
    nl: ['pols', 'polslijn', 'mouwzoom'],
    ja: ['袖口', '袖口線', '手首線'],
  },
  crotch: {
    en: ['crotch', 'crotch line', 'crotch level', 'crotch seam', 'crotch depth line', 'rise', 'fork line', 'seat seam'],
    de: ['Schritt', 'Schrittlinie', 'Schritthöhe', 'Gesäßnaht'],
    fr: ['fourche', 'ligne de fourche', 'enfourchure', "ligne d'enfourchure", 'couture de fourche'],
    es: ['tiro', 'línea de tiro', 'costura de tiro'],
    it: ['cavallo', 'linea cavallo', 'linea del cavallo', 'cucitura cavallo'],
    pt: ['gancho', 'linha do gancho', 'costura do gancho'],
    nl: ['kruis', 'kruislijn', 'kruisnaad', 'kruishoogte'],
    ja: ['股上線', '股ぐり', '股上', '渡り線'],
  },
  inseam: {
    en: ['inseam', 'inside leg', 'inside leg seam', 'inner leg seam', 'inner leg', 'inside seam'],
    de: ['innere Beinnaht', 'Innennaht', 'Schrittnaht', 'Innenbeinnaht'],
    fr: ['entrejambe', 'entre jambe', "couture d'entrejambe", 'couture entrejambe'],
    es: ['entrepierna', 'costura de entrepierna'],
    it: ['interno gamba', 'cucitura interna', 'interno coscia'],
    pt: ['entrepernas', 'entreperna', 'costura da entreperna'],
    nl: ['binnenbeennaad', 'binnenbeen'],
    ja: ['股下', '股下線', '内股'],
  },
  'panel seam': {
    en: ['princess seam', 'princess line', 'panel seam', 'panel line'],
    de: ['Teilungsnaht', 'Wiener Naht', 'Prinzessnaht'],
    fr: ['découpe princesse', 'couture princesse'],
    es: ['corte princesa', 'costura princesa'],
    it: ['taglio principessa', 'cucitura principessa'],
    pt: ['recorte princesa', 'costura princesa'],
    nl: ['princesnaad', 'deelnaad'],
    ja: ['プリンセスライン', '切り替え線', '切替線'],
  },
  bust: {
    en: ['bust', 'bust line', 'bustline', 'bust level'],
    de: ['Brustlinie', 'Brustumfang', 'Brustweite'],
    fr: ['poitrine', 'ligne de poitrine', 'tour de poitrine'],
    es: ['busto', 'línea de busto', 'línea de pecho', 'pecho'],
    it: ['linea seno', 'linea del seno', 'linea busto', 'seno'],
    pt: ['linha do busto', 'busto'],
    nl: ['borstlijn', 'bustelijn'],
    ja: ['バストライン', 'バスト', 'BL', '胸囲線'],
  },
  chest: {
    en: ['chest', 'chest line', 'chest level', 'across chest', 'across front', 'chest width'],
    de: ['vordere Breite', 'Vorderbreite', 'Brustbreite'],
    fr: ['carrure devant', 'ligne de carrure devant'],
    es: ['ancho de pecho', 'línea de ancho de pecho'],
    it: ['larghezza torace', 'linea torace', 'linea del torace'],
    pt: ['largura do peito', 'linha do peito'],
    nl: ['borstbreedte', 'voorbreedte'],
    ja: ['胸幅線', '胸幅'],
  },
  blade: {
    en: ['back width line', 'back width', 'across back', 'blade', 'blade line', 'shoulder blade line', 'blade level'],
    de: ['Rückenbreite', 'Rückenbreitenlinie', 'Schulterblattlinie'],
    fr: ['carrure dos', 'ligne de carrure dos', 'carrure', 'ligne de carrure'],
    es: ['ancho de espalda', 'línea de ancho de espalda', 'línea de omóplato'],
    it: ['larghezza dorso', 'linea dorso', 'larghezza spalle', 'linea delle scapole'],
    pt: ['largura das costas', 'linha das omoplatas'],
    nl: ['rugbreedte', 'rugbreedtelijn'],
    ja: ['背幅線', '背幅'],
  },
  underarm: {
    en: ['underarm', 'underarm line', 'underarm level', 'armhole line', 'armhole level', 'scye line'],
    de: ['Armlochlinie', 'Achsellinie', 'Unterarmlinie'],
    fr: ['ligne de dessous de bras', "ligne d'emmanchure", 'ligne sous bras'],
    es: ['línea de sisa', 'línea de axila'],
    it: ['linea ascellare', 'linea sottobraccio', 'linea giromanica'],
    pt: ['linha da cava', 'linha da axila'],
    nl: ['oksellijn', 'armsgatlijn'],
    ja: ['袖ぐり底線', '腋下線'],
  },
  biceps: {
    en: ['biceps', 'bicep', 'biceps line', 'bicep line', 'biceps level', 'upper arm', 'upper arm line'],
    de: ['Oberarm', 'Oberarmlinie', 'Bizepslinie'],
    fr: ['biceps', 'ligne de biceps', 'ligne de bras', 'tour de bras'],
    es: ['bíceps', 'línea de bíceps'],
    it: ['bicipite', 'linea bicipite', 'linea del bicipite'],
    pt: ['bíceps', 'linha do bíceps'],
    nl: ['bovenarmlijn', 'bicepslijn', 'bovenarm'],
    ja: ['袖幅線', '上腕線'],
  },
  elbow: {
    en: ['elbow', 'elbow line', 'elbow level'],
    de: ['Ellbogen', 'Ellbogenlinie', 'Ellenbogen', 'Ellenbogenlinie'],
    fr: ['coude', 'ligne de coude'],
    es: ['codo', 'línea de codo'],
    it: ['gomito', 'linea gomito', 'linea del gomito'],
    pt: ['cotovelo', 'linha do cotovelo'],
    nl: ['elleboog', 'elleboogslijn', 'elleboglijn'],
    ja: ['肘線', 'ひじ線', 'エルボーライン'],
  },
  'bust point': {
    en: ['bust point', 'BP', 'apex', 'bust apex'],
    de: ['Brustpunkt', 'Brustspitze'],
    fr: ['pointe de poitrine', 'point de poitrine', 'pointe de sein', 'saillant de poitrine'],
    es: ['punto de busto', 'punto de pecho', 'vértice del busto'],
    it: ['punto seno', 'punto busto', 'apice del seno'],
    pt: ['ponto do busto', 'ápice do busto'],
    nl: ['borstpunt', 'bustepunt'],
    ja: ['バストポイント', '乳頭点'],
  },
  'upper sleeve': {
    en: ['upper sleeve', 'top sleeve', 'sleeve top', 'over sleeve'],
    de: ['Oberärmel'],
    fr: ['dessus de manche', 'manche dessus'],
    es: ['manga superior', 'hoja superior de manga', 'hoja superior de la manga'],
    it: ['sopramanica', 'manica sopra', 'manica superiore'],
    pt: ['manga superior', 'folha de cima da manga', 'manga de cima'],
    nl: ['bovenmouw'],
    ja: ['外袖', '上袖'],
  },
  'under sleeve': {
    en: ['under sleeve', 'undersleeve', 'lower sleeve'],
    de: ['Unterärmel'],
    fr: ['dessous de manche', 'manche dessous'],
    es: ['manga inferior', 'hoja inferior de manga', 'hoja inferior de la manga'],
    it: ['sottomanica', 'manica sotto', 'manica inferiore'],
    pt: ['manga inferior', 'folha de baixo da manga', 'manga de baixo'],
    nl: ['ondermouw'],
    ja: ['内袖', '下袖'],
  },
  // Cuts in which the armhole runs to the neck, or front and sleeve are one piece.
  'sleeve cut otherwise': {
    en: ['raglan', 'kimono', 'dolman', 'batwing'],
    de: ['Raglan', 'Raglanärmel', 'Kimono', 'Kimonoärmel', 'Fledermausärmel'],
    fr: ['raglan', 'kimono', 'chauve-souris'],
    es: ['raglán', 'ranglan', 'kimono', 'quimono', 'murciélago'],
    it: ['raglan', 'kimono', 'pipistrello'],
    pt: ['raglã', 'raglan', 'quimono', 'morcego'],
    nl: ['raglan', 'raglanmouw', 'kimono', 'kimonomouw', 'vleermuismouw'],
    ja: ['ラグラン', 'キモノスリーブ', 'ドルマン'],
  },
};

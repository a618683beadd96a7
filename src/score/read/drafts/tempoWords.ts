/**
 * Which words speak of tempo, so that they hold for everyone, and which stay a direction of one part. Common
 * practice, no source: the words that prints of chamber music use, in Italian, German, French and English. Matched as
 * whole words, without regard to capitals and accents. Words of expression (dolce, cantabile) and of loudness alone are
 * none of them; "calando" and "morendo" are, because players slow down at them.
 */
const italian =
  'grave largo larghetto lento lentamente adagio adagietto adagissimo andante andantino moderato maestoso ' +
  'allegro allegretto allegrissimo vivace vivacissimo vivo presto prestissimo veloce mosso tempo movimento ' +
  'ritardando ritard rit ritenuto riten rallentando rallent rall allargando allarg allentando slentando ' +
  'slargando largando strascinando accelerando acceler accel stringendo string stretto affrettando affrett ' +
  'incalzando precipitando calando morendo smorzando rubato tranquillo tranquillamente comodo sostenuto ' +
  "agitato andamento l'istesso listesso doppio";
const german =
  'langsam langsamer schnell schneller rasch rascher lebhaft lebhafter massig massiges massige bewegt bewegter ' +
  'ruhig ruhiger fliessend fliessender eilend drangend beschleunigend beschleunigen eilen gehend getragen breit ' +
  'breiter feierlich munter geschwind hurtig verlangsamen langsamerwerdend zuruckhalten zuruckhaltend nachlassen ' +
  'belebt belebter belebend zeitmass gemachlich gemassigt schleppend';
const french =
  'lent lente lentement tres-lent vif vive vivement modere moderee moderement anime animez animee rapide ' +
  'rapidement vite pressez presser pressant cedez ceder retenu retenez retenant ralentir ralentissez ' +
  'ralenti elargir elargissez serrez serrer mouvement mouvt mvt accelerez retarder large largement';
const english =
  'slow slower slowly fast faster quick quicker quickly lively moderately moderate brisk briskly swift swiftly ' +
  'steady slowing broadening hurrying';

const vocabulary = new Set([italian, german, french, english].flatMap((words) => words.split(' ')));

/** Words that make sense as tempo only in a phrase, and the phrases. */
const phrases: readonly RegExp[] = [
  /\bpiu (lento|mosso|animato|vivo|presto)\b/,
  /\b(meno|poco) (mosso|animato)\b/,
  /\b(con moto|animato|animando|ad lib(itum)?|a piacere|a capriccio|colla parte|colla voce|senza misura)\b/,
  /\b(sans|ohne) (ralentir|retenir|retard|eile|zu eilen|zu schleppen)\b/,
  /\b(speed|slow) (up|down)\b/,
  /\b(hold|held) back\b/,
  /\bim takt\b/,
  /\bin (one|two|three|four)\b/,
];

/** Words in which a tempo word means something else: "string." beside an instrument, "tempo" in a title of sound. */
const otherwise: readonly RegExp[] = [/\bstring(s)? (quartet|orchestra|section)\b/];

const plain = (text: string): string =>
  text
    .toLowerCase()
    .replace(/\u00df/g, 'ss')
    .normalize('NFD')
    .replace(/[\u0300-\u036f]/g, '')
    .replace(/\u2019/g, "'");

/** Whether words printed over the music speak of tempo. */
export const isTempoWords = (text: string): boolean => {
  if (text.length > 200) return false;
  const words = plain(text);
  if (otherwise.some((pattern) => pattern.test(words))) return false;
  if (phrases.some((pattern) => pattern.test(words))) return true;
  return words.split(/[^a-z'-]+/).some((word) => vocabulary.has(word.replace(/^-+|-+$/g, '')));
};

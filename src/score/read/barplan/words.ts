/** The words a plan knows, for suggestions where one is misspelt. */
const keywords = [
  'title',
  'pickup',
  'upbeat',
  'twice',
  'times',
  'bars',
  'unnumbered',
  'renumbered',
  'lasts',
  'free',
  'cut',
  'repeat',
  'ending',
  'segno',
  'coda',
  'to coda',
  'fine',
  'fermata',
  'tempo',
  'old',
  'words',
  'mark',
  'double line',
  'final line',
];

/** Tempo words that may stand without "words" and quotation marks. */
export const tempoWords = [
  'rit',
  'ritard',
  'ritardando',
  'riten',
  'ritenuto',
  'rall',
  'rallentando',
  'allargando',
  'accel',
  'accelerando',
  'stringendo',
  'calando',
  'morendo',
  'a tempo',
  'tempo primo',
  'tempo i',
  'tempo di',
  'tempo giusto',
  "l'istesso",
  'grave',
  'largo',
  'larghetto',
  'lento',
  'adagio',
  'adagietto',
  'andante',
  'andantino',
  'moderato',
  'allegretto',
  'allegro',
  'vivace',
  'vivo',
  'presto',
  'prestissimo',
  'con moto',
  'meno mosso',
  'poco',
  'molto',
  'slow',
  'fast',
];

/**
 * Edits that turn a into b: a letter put in, left out or changed, or two neighbours changed over. Levenshtein 1966 and
 * Damerau 1964, in the form where no part is edited twice (optimal string alignment).
 */
const distance = (a: string, b: string): number => {
  let before: number[] = [];
  let row = Array.from({ length: b.length + 1 }, (_, index) => index);
  for (let i = 1; i <= a.length; i += 1) {
    const next = [i];
    for (let j = 1; j <= b.length; j += 1) {
      const same = a[i - 1] === b[j - 1];
      const swapped = i > 1 && j > 1 && a[i - 1] === b[j - 2] && a[i - 2] === b[j - 1];
      next.push(
        Math.min(
          (next[j - 1] ?? 0) + 1,
          (row[j] ?? 0) + 1,
          (row[j - 1] ?? 0) + (same ? 0 : 1),
          swapped ? (before[j - 2] ?? 0) + 1 : Infinity,
        ),
      );
    }
    before = row;
    row = next;
  }
  return row[b.length] ?? 0;
};

/** ' Did you mean "pickup"?' for a word close to one that is known, else an empty text. */
export const suggestion = (word: string): string => {
  const plain = word.toLowerCase().slice(0, 40);
  const [best] = [...keywords, ...tempoWords]
    .map((known) => ({ known, edits: distance(plain, known) }))
    .sort((a, b) => a.edits - b.edits);
  return best !== undefined && best.edits <= Math.min(2, Math.floor(plain.length / 2))
    ? ` Did you mean "${best.known}"?`
    : '';
};

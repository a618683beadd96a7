/**
 * What tempo words ask for. The words are those of common practice in Italian, German, French and English; no source.
 * Words that are not known here ask for nothing that could be counted.
 */
export interface TempoWords {
  /** Gradually slower or faster from here on. */
  readonly change: 'slower' | 'faster' | null;
  /** Back to the tempo before a change ("a tempo"), to the first one ("Tempo primo"), or on as before. */
  readonly back: 'tempo' | 'first' | 'same' | null;
}

const slower =
  /\b(rit(ard(ando)?|en(uto|ando)?|\.|$|\s)|rall(\.|ent|\b)|allarg|s?largando|slent|strascinando|calando|morendo|slowing|getting slower|broadening|hold(ing)? back|verlangsam|langsamer werd|zuruckhalt|zogernd|nachlassen|cedez|retenez|en retenant|ralenti|elargi)/i;
const faster =
  /\b(accel|string(\.|endo)|affrett|incalzando|precipitando|hurrying|getting faster|schneller werd|beschleunig|eilend|drangend|pressez|en pressant|en animant|animez|serrez)/i;
const back = /\b(a\s*tempo|in tempo|im (fruheren )?tempo|im zeitmass|au mouvement)(?![a-z])(?!\s+(di|de)\b)/i;
const first = /\b(tempo\s*(primo|prima|1|i)(?![a-z])|primo tempo|1er mouvement|erstes (tempo|zeitmass))/i;
const same = /\b(l'\s*istesso|lo stesso) (tempo|movimento)/i;
const negated = /\b(senza|non|ohne|sans|no)\s+(rit|rall|allarg|slent|accel|string)/i;

const plain = (text: string): string =>
  text
    .replace(/\u00df/g, 'ss')
    .normalize('NFD')
    .replace(/[\u0300-\u036f]/g, '')
    .replace(/\u2019/g, "'");

/** Reads the words beside the staff. "a tempo, poco rit." asks for both, in this order. */
export const readTempoWords = (printed: string): TempoWords => {
  const text = plain(printed);
  const found = { tempo: text.search(back), first: text.search(first), same: text.search(same) };
  const returns = found.first >= 0 ? 'first' : found.same >= 0 ? 'same' : found.tempo >= 0 ? 'tempo' : null;
  const place = returns === null ? -1 : found[returns];
  const slows = text.search(slower);
  const hurries = text.search(faster);
  const changes = negated.test(text) || (slows < 0 && hurries < 0) || Math.max(slows, hurries) < place;
  return {
    change: changes ? null : slows >= 0 && (hurries < 0 || slows < hurries) ? 'slower' : 'faster',
    back: returns,
  };
};

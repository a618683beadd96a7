/** Which of our voices a part sounds with, from what its file says of it. */
import { problem, type Problem } from '../../units/index.ts';

export const voiceNames = [
  'flute',
  'recorder',
  'oboe',
  'clarinet',
  'saxophone',
  'bassoon',
  'horn',
  'trumpet',
  'trombone',
  'tuba',
  'violin',
  'viola',
  'cello',
  'double bass',
  'voice',
  'organ',
  'piano',
  'harpsichord',
  'guitar',
  'harp',
  'percussion',
] as const;
export type VoiceName = (typeof voiceNames)[number];

/** What is known of a part; a score's part has all of it. */
export interface PartSound {
  readonly id: string;
  readonly name: string;
  /** MusicXML sound id, or empty. */
  readonly sound: string;
  /** General MIDI program, 1 to 128, or null. */
  readonly program: number | null;
}

/**
 * Beginnings of the standard sound ids of MusicXML 4.0 (sounds.xml), the first that fits. Reeds that are not listed by
 * name are taken by their family.
 */
const bySound: readonly (readonly [RegExp, VoiceName])[] = [
  [/^wind\.flutes\.(recorder|flageolet|ocarina|whistle|fipple|blown-bottle)/, 'recorder'],
  [/^wind\.flutes|^wind\.pipes\.(?!bagpipe)/, 'flute'],
  [
    /^wind\.reed\.(oboe|english-horn|shawm|crumhorn|cornamuse|rackett|rauschpfeife|duduk|heckelphone)/,
    'oboe',
  ],
  [/^wind\.reed\.(clarinet|basset|chalumeau)/, 'clarinet'],
  [/^wind\.reed\.saxophone/, 'saxophone'],
  [/^wind\.reed\.(bassoon|contrabassoon|dulcian|sarrusophone)/, 'bassoon'],
  [/^wind\.reed/, 'oboe'],
  [/^brass\.(french-horn|natural-horn|horn|alphorn|mellophone|vienna-horn|posthorn)/, 'horn'],
  [/^brass\.(trombone|sackbutt?)/, 'trombone'],
  [/^brass\.(tuba|euphonium|baritone-horn|bombardon|sousaphone|serpent|ophicleide|group\.tuba)/, 'tuba'],
  [/^brass/, 'trumpet'],
  [/^strings\.(cello|arpeggione|baryton|viol\.(bass|tenor)|octobass-cello)/, 'cello'],
  [/^strings\.(contrabass|octobass|viol\.violone)/, 'double bass'],
  [/^strings\.(viola|viol)(\.|-|$)/, 'viola'],
  [
    /^pluck\.bass|^pluck\.guitar|^pluck\.(lute|theorbo|mandolin|banjo|ukulele|archlute|vihuela|cittern)/,
    'guitar',
  ],
  [/^pluck\.harp|^strings\.harp/, 'harp'],
  [/^pluck/, 'guitar'],
  [/^strings/, 'violin'],
  [/^keyboard\.(harpsichord|virginal|spinet|clavichord|clavinet)/, 'harpsichord'],
  [/^keyboard\.(organ|harmonium|accordion|concertina|bandoneon|melodica)/, 'organ'],
  [/^keyboard|^pitched-percussion\.celesta/, 'piano'],
  [/^voice/, 'voice'],
  [/^pitched-percussion/, 'harp'],
  [/^(drum|metal|wood|rattle|effect)\b/, 'percussion'],
];

/**
 * Names in English, German, Dutch, French, Italian, Spanish and Latin, without accents, the first that fits: compound
 * names before the nouns that they contain, instruments before voices, as "alto flute" is a flute and "alto" a singer.
 * Common practice, no source.
 */
const byName: readonly (readonly [RegExp, VoiceName])[] = [
  [/\b(english horn|cor anglais|corno inglese|corno ingles|englischhorn|engelse hoorn|althobo)/, 'oboe'],
  [/\b(basset|corno di bassetto|cor de basset)/, 'clarinet'],
  [
    /\b(recorder|blockflote|blokfluit|altblokfluit|flute a bec|flauto dolce|flauta dulce|flauto diritto)/,
    'recorder',
  ],
  [/blockflote|blokfluit/, 'recorder'],
  [/flote|fluit\b|\bflute|\bflaut|\btraverso|\bpiccolo\b|\bottavino\b|\bflautin/, 'flute'],
  [
    /contrabassoon|kontrafagott|contrafagot|contrebasson|fagot|basson\b|bassoon|\bdulcian|\bcurtal/,
    'bassoon',
  ],
  [/oboe|\bhobo\b|hautbois|\bshawm|\bschalmei/, 'oboe'],
  [/clarinet|klarinet|clarinette|\bchalumeau/, 'clarinet'],
  [/\bsax|saxo(ph|f)on/, 'saxophone'],
  [/trombon|posaune|bazuin|\bsackbut/, 'trombone'],
  [/\btuba|\beuphoni|\bbombardon|\bserpent|\bophicle/, 'tuba'],
  [/trumpet|trompet|\btromba|\btrombe|\bclarino|\bcornet|kornett|\bzink|\bfl[iu]gelhorn|\bbugle/, 'trumpet'],
  [/waldhorn|\bhorn|\bhoorn|\bcor\b|\bcors\b|\bcorn[oi]\b|\btrompa\b/, 'horn'],
  [/\b(harpsichord|cembalo|clavicembalo|clavecin|klavecimbel|clave\b|virginal|spinet)/, 'harpsichord'],
  [/harmoni(um|ca)\b|\borg(an|el|ue|ano|el)\b|\bcontinuo|akkordeon|accord(i|e)on|fisarmonica/, 'organ'],
  [/\bpiano|\bfortepiano|klavier|\bhammerflugel|\bcelest/, 'piano'],
  [/\bharp|\bharfe|\barpa\b/, 'harp'],
  [
    /guitar|gitar|chitarra|\blute\b|\blaute|\bluit\b|\bluth\b|\bliuto|\blaud\b|theorb|tiorba|mandolin/,
    'guitar',
  ],
  [/gamba|\bgambe|\bviole de gambe/, 'cello'],
  [
    /\b(double ?bass|string bass|upright bass|contrabass|kontrabass|contrebasse|contrabbasso|contrabajo|contrabas|violone)/,
    'double bass',
  ],
  [/cello|celli\b|violonc(h)?el/, 'cello'],
  [/\bviola|\bviole\b|bratsche|\balto \(?viola|\baltviool/, 'viola'],
  [/violin|violon\b|violons\b|viool|\bgeige|\bfiddle/, 'violin'],
  [/timpani|pauken|timbal|\bdrum|percussi|schlagzeug|slagwerk|batteri|\bkettle/, 'percussion'],
  [
    /sopran|mezzo|contralto|\balt\b|\balto|\btenor|\bbarito|\bbass\b|\bbasso\b|\bbasse\b|\bbajo\b|\bbas\b/,
    'voice',
  ],
  [
    /\bcant(o|us|or)\b|\baltus\b|\bbassus\b|\bvoice|\bvocal|stimme|\bgesang|\bzang|\bvoix\b|\bvoce\b|\bvoci\b|\bvoz\b|\bchoir|\bchor\b|\bkoor\b|superius|quintus/,
    'voice',
  ],
];

/** Programs of General MIDI level 1, 1 to 128, by the last of each run (from memory). */
const byProgram: readonly (readonly [number, VoiceName])[] = [
  [6, 'piano'],
  [8, 'harpsichord'],
  [9, 'piano'],
  [16, 'harp'],
  [24, 'organ'],
  [32, 'guitar'],
  [40, 'guitar'],
  [41, 'violin'],
  [42, 'viola'],
  [43, 'cello'],
  [44, 'double bass'],
  [45, 'violin'],
  [46, 'harp'],
  [47, 'harp'],
  [48, 'percussion'],
  [52, 'violin'],
  [56, 'voice'],
  [57, 'trumpet'],
  [58, 'trombone'],
  [59, 'tuba'],
  [60, 'trumpet'],
  [61, 'horn'],
  [64, 'trumpet'],
  [68, 'saxophone'],
  [70, 'oboe'],
  [71, 'bassoon'],
  [72, 'clarinet'],
  [74, 'flute'],
  [75, 'recorder'],
  [80, 'flute'],
  [104, 'organ'],
  [108, 'guitar'],
  [110, 'oboe'],
  [111, 'violin'],
  [112, 'oboe'],
  [128, 'percussion'],
];

/** The name in small letters, without accents, brackets and signs; "Fl." and the like are left to the program. */
const plain = (name: string): string =>
  name
    .normalize('NFD')
    .replace(/\p{M}/gu, '')
    .toLowerCase()
    .replace(/[^\p{L}\p{N}]+/gu, ' ')
    .trim();

const first = (rules: readonly (readonly [RegExp, VoiceName])[], text: string): VoiceName | null =>
  rules.find(([rule]) => rule.test(text))?.[1] ?? null;

/** A double bass goes by "Bass" too: the program tells it from a singer. */
const isBowedBass = (program: number | null): boolean => program !== null && program >= 33 && program <= 44;

/** Sounds where nothing is known: clear in every register. */
const unknownVoice: VoiceName = 'clarinet';

/**
 * The voice of a part: by its standard sound id, else by its name in six languages, else by its General MIDI program,
 * else `unknownVoice` and a Problem "part-voice-unknown". The name is asked before the program because many programs
 * write program 1 for want of knowledge.
 */
export const voiceOf = (part: PartSound): { readonly voice: VoiceName; readonly problem: Problem | null } => {
  const name = plain(part.name);
  const named = first(byName, name);
  const bowed = named === 'voice' && /\bbass/.test(name) && isBowedBass(part.program);
  const { program } = part;
  const voice =
    first(bySound, part.sound) ??
    (bowed ? 'double bass' : named) ??
    (program === null ? null : (byProgram.find(([last]) => program <= last)?.[1] ?? null));
  if (voice !== null) return { voice, problem: null };
  return {
    voice: unknownVoice,
    problem: problem(
      'assumption',
      'part-voice-unknown',
      `The file does not say what instrument "${part.name === '' ? part.id : part.name}" is. It sounds as a ${unknownVoice}.`,
      { part: part.id },
    ),
  };
};

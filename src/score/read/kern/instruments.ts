/**
 * Codes of instruments. Source of the codes: Humdrum User's Guide, appendix II (https://www.humdrum.org/guide/append2).
 * Sound ids are those of MusicXML 4.0 (sounds.xml), programs those of General MIDI 1; both from memory. Codes without a
 * sound here still give the part its name.
 */
export interface Instrument {
  readonly name: string;
  /** Empty where the standard has none that is as exact. */
  readonly sound: string;
  /** 1 to 128; null where none fits. */
  readonly program: number | null;
}

type Row = readonly [code: string, name: string, sound: string, program: number | null];

const rows: readonly Row[] = [
  ['soprn', 'Soprano', 'voice.soprano', 53],
  ['cant', 'Soprano', 'voice.soprano', 53],
  ['mezzo', 'Mezzo-soprano', 'voice.mezzo-soprano', 53],
  ['calto', 'Contralto', 'voice.alto', 53],
  ['alto', 'Alto', 'voice.alto', 53],
  ['ctenor', 'Countertenor', 'voice.countertenor', 53],
  ['tenor', 'Tenor', 'voice.tenor', 53],
  ['barit', 'Baritone', 'voice.baritone', 53],
  ['bass', 'Bass', 'voice.bass', 53],
  ['vox', 'Voice', 'voice.vocals', 53],
  ['archl', 'Archlute', 'pluck.archlute', 25],
  ['arpa', 'Harp', 'pluck.harp', 47],
  ['banjo', 'Banjo', 'pluck.banjo', 106],
  ['cbass', 'Double bass', 'strings.contrabass', 44],
  ['cello', 'Cello', 'strings.cello', 43],
  ['cemba', 'Harpsichord', 'keyboard.harpsichord', 7],
  ['clavi', 'Clavichord', 'keyboard.clavichord', 8],
  ['forte', 'Fortepiano', 'keyboard.piano.fortepiano', 1],
  ['guitr', 'Guitar', 'pluck.guitar', 25],
  ['liuto', 'Lute', 'pluck.lute', 25],
  ['mando', 'Mandolin', 'pluck.mandolin', 26],
  ['piano', 'Piano', 'keyboard.piano', 1],
  ['tiorb', 'Theorbo', 'pluck.theorbo', 25],
  ['viola', 'Viola', 'strings.viola', 42],
  ['violb', 'Bass viol', 'strings.viol.bass', 43],
  ['viold', "Viola d'amore", 'strings.viola-damore', 42],
  ['violn', 'Violin', 'strings.violin', 41],
  ['viols', 'Treble viol', 'strings.viol.treble', 41],
  ['violt', 'Tenor viol', 'strings.viol.tenor', 42],
  ['accor', 'Accordion', 'keyboard.accordion', 22],
  ['armon', 'Harmonica', 'wind.reed.harmonica', 23],
  ['baset', 'Basset horn', 'wind.reed.basset-horn', 72],
  ['calam', 'Chalumeau', 'wind.reed.chalumeau', 72],
  ['cangl', 'English horn', 'wind.reed.english-horn', 70],
  ['clars', 'Clarinet', 'wind.reed.clarinet', 72],
  ['clarp', 'Piccolo clarinet', 'wind.reed.clarinet.piccolo', 72],
  ['clara', 'Alto clarinet', 'wind.reed.clarinet.alto', 72],
  ['clarb', 'Bass clarinet', 'wind.reed.clarinet.bass', 72],
  ['cor', 'Horn', 'brass.french-horn', 61],
  ['corno', 'Cornett', 'brass.cornett', 57],
  ['cornt', 'Cornet', 'brass.cornet', 57],
  ['fagot', 'Bassoon', 'wind.reed.bassoon', 71],
  ['fag_c', 'Contrabassoon', 'wind.reed.contrabassoon', 71],
  ['fife', 'Fife', 'wind.flutes.fife', 73],
  ['flt', 'Flute', 'wind.flutes.flute', 74],
  ['flt_a', 'Alto flute', 'wind.flutes.flute.alto', 74],
  ['flt_b', 'Bass flute', 'wind.flutes.flute.bass', 74],
  ['fltdn', 'Sopranino recorder', 'wind.flutes.recorder.sopranino', 75],
  ['fltds', 'Soprano recorder', 'wind.flutes.recorder.soprano', 75],
  ['fltda', 'Alto recorder', 'wind.flutes.recorder.alto', 75],
  ['fltdt', 'Tenor recorder', 'wind.flutes.recorder.tenor', 75],
  ['fltdb', 'Bass recorder', 'wind.flutes.recorder.bass', 75],
  ['flugh', 'Flugelhorn', 'brass.flugelhorn', 57],
  ['krums', 'Soprano crumhorn', 'wind.reed.crumhorn.soprano', 69],
  ['kruma', 'Alto crumhorn', 'wind.reed.crumhorn.alto', 69],
  ['krumt', 'Tenor crumhorn', 'wind.reed.crumhorn.tenor', 69],
  ['krumb', 'Bass crumhorn', 'wind.reed.crumhorn.bass', 69],
  ['oboe', 'Oboe', 'wind.reed.oboe', 69],
  ['oboeD', "Oboe d'amore", 'wind.reed.oboe-damore', 69],
  ['organ', 'Organ', 'keyboard.organ', 20],
  ['picco', 'Piccolo', 'wind.flutes.flute.piccolo', 73],
  ['porta', 'Portative organ', 'keyboard.organ', 20],
  ['reedo', 'Reed organ', 'keyboard.organ.reed', 21],
  ['saxN', 'Sopranino saxophone', 'wind.reed.saxophone.sopranino', 65],
  ['saxS', 'Soprano saxophone', 'wind.reed.saxophone.soprano', 65],
  ['saxA', 'Alto saxophone', 'wind.reed.saxophone.alto', 66],
  ['saxT', 'Tenor saxophone', 'wind.reed.saxophone.tenor', 67],
  ['saxR', 'Baritone saxophone', 'wind.reed.saxophone.baritone', 68],
  ['saxB', 'Bass saxophone', 'wind.reed.saxophone.bass', 68],
  ['tromt', 'Tenor trombone', 'brass.trombone.tenor', 58],
  ['tromb', 'Bass trombone', 'brass.trombone.bass', 58],
  ['tromp', 'Trumpet', 'brass.trumpet', 57],
  ['tuba', 'Tuba', 'brass.tuba', 59],
  ['bdrum', 'Bass drum', 'drum.bass-drum', null],
  ['campn', 'Bell', 'metal.bells', 15],
  ['clest', 'Celesta', 'keyboard.celesta', 9],
  ['glock', 'Glockenspiel', 'pitched-percussion.glockenspiel', 10],
  ['gong', 'Gong', 'metal.gong', null],
  ['marim', 'Marimba', 'pitched-percussion.marimba', 13],
  ['piatt', 'Cymbals', 'metal.cymbal', null],
  ['sdrum', 'Snare drum', 'drum.snare-drum', null],
  ['tambn', 'Tambourine', 'drum.tambourine', null],
  ['timpa', 'Timpani', 'drum.timpani', 48],
  ['trngl', 'Triangle', 'metal.triangle', null],
  ['vibra', 'Vibraphone', 'pitched-percussion.vibraphone', 12],
  ['xylo', 'Xylophone', 'pitched-percussion.xylophone', 14],
  ['hammd', 'Hammond organ', 'keyboard.organ', 17],
  ['rhode', 'Electric piano', 'keyboard.piano.electric', 5],
  ['synth', 'Synthesizer', 'synth', 81],
];

const byCode = new Map(rows.map(([code, name, sound, program]) => [code, { name, sound, program }]));

/** Instruments that one player plays from two staves or more. */
const keyboards = new Set([
  'piano',
  'forte',
  'cemba',
  'clavi',
  'organ',
  'porta',
  'reedo',
  'arpa',
  'clest',
  'accor',
  'hammd',
  'rhode',
  'synth',
  'marim',
]);

/** Null for a code that is not known. */
export const instrumentOf = (key: string): Instrument | null => byCode.get(key) ?? null;
export const isKeyboard = (key: string): boolean => keyboards.has(key);

/**
 * The closed lists of MusicXML 4.0 (W3C Community Group Final Report, musicxml.xsd): a value outside them would make
 * the document invalid, so it is written as the "other" element of its kind, which takes any text.
 */

const list = (names: string): ReadonlySet<string> => new Set(names.split(' '));

/** Children of `dynamics`. */
export const dynamicNames = list(
  'p pp ppp pppp ppppp pppppp f ff fff ffff fffff ffffff mp mf sf sfp sfpp fp rf rfz sfz sffz fz n pf sfzp',
);

/** Children of `articulations`, all of which may be empty. */
export const articulationNames = list(
  'accent strong-accent staccato tenuto detached-legato staccatissimo spiccato scoop plop doit falloff ' +
    'breath-mark caesura stress unstress soft-accent other-articulation',
);

/** Children of `ornaments` which may be empty; `wavy-line` and `tremolo` may not. */
export const ornamentNames = list(
  'trill-mark turn delayed-turn inverted-turn delayed-inverted-turn vertical-turn inverted-vertical-turn shake ' +
    'mordent inverted-mordent schleifer haydn other-ornament',
);

/** Children of `technical` that hold nothing. */
export const technicalNames = list(
  'up-bow down-bow harmonic open-string thumb-position double-tongue triple-tongue stopped snap-pizzicato heel toe ' +
    'fingernails brass-bend flip smear open half-muted golpe',
);

/** Children of `technical` that hold free text, or none. */
export const technicalTexts = list('fingering pluck tap other-technical');

/** Type `handbell-value`. */
export const handbellValues: ReadonlySet<string> = new Set([
  'belltree',
  'damp',
  'echo',
  'gyro',
  'hand martellato',
  'mallet lift',
  'mallet table',
  'martellato',
  'martellato lift',
  'muted martellato',
  'pluck lift',
  'swing',
]);

/** Type `fermata-shape`. */
export const fermataShapes = list(
  'normal angled square double-angled double-square double-dot half-curve curlew',
);

/** Type `accidental-value`. */
export const accidentalValues = list(
  'sharp natural flat double-sharp sharp-sharp flat-flat natural-sharp natural-flat quarter-flat quarter-sharp ' +
    'three-quarters-flat three-quarters-sharp sharp-down sharp-up natural-down natural-up flat-down flat-up ' +
    'double-sharp-down double-sharp-up flat-flat-down flat-flat-up arrow-down arrow-up triple-sharp triple-flat ' +
    'slash-quarter-sharp slash-sharp slash-flat double-slash-flat sharp-1 sharp-2 sharp-3 sharp-5 flat-1 flat-2 ' +
    'flat-3 flat-4 sori koron other',
);

/** Type `notehead-value`. */
export const noteheadValues: ReadonlySet<string> = new Set([
  ...list('slash triangle diamond square cross x circle-x circled slashed normal cluster rectangle none'),
  ...list('do re mi fa so la ti other'),
  'inverted triangle',
  'arrow down',
  'arrow up',
  'back slashed',
  'circle dot',
  'left triangle',
  'fa up',
]);

/** Type `beam-value`. */
export const beamValues: ReadonlySet<string> = new Set([
  'begin',
  'continue',
  'end',
  'forward hook',
  'backward hook',
]);

/** Type `pedal-type`. */
export const pedalTypes = list('start stop sostenuto change continue discontinue resume');

/** Type `wedge-type`. */
export const wedgeTypes = list('crescendo diminuendo stop continue');

/** Type `start-stop-continue`. */
export const lineTypes = list('start stop continue');

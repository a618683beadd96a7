/** Definitions that take effect: what they set is kept with the staves and told to the drafts where it changes. */
import { beats, F, type Fraction, type Place } from '../../../units/index.ts';
import { sameMetre } from '../../metre.ts';
import type { Log } from '../drafts/log.ts';
import type { MeasureDraft } from '../drafts/draft.ts';
import { attribute, child, type XmlElement } from '../xml.ts';
import { within } from './cast.ts';
import {
  readClef,
  readKey,
  readMetre,
  readSettings,
  type ClefSetting,
  type KeySetting,
  type Settings,
} from './defs.ts';
import type { LayerSpot } from './layer.ts';
import { keyAlters } from './pitches.ts';
import { referred } from './tree.ts';
import type { StaffState } from './state.ts';
import { whole } from './values.ts';

const inLayers = new Set(['clef', 'clefGrp', 'keySig', 'meterSig', 'meterSigGrp', 'staffDef', 'scoreDef']);

export const isDefinition = (element: XmlElement): boolean => inLayers.has(element.name);

const apply = (settings: Settings, staff: StaffState): void => {
  if (settings.key !== undefined) staff.key = settings.key;
  if (settings.metre !== undefined) staff.metre = settings.metre;
  if (settings.clef !== undefined) staff.clef = settings.clef;
  if (settings.shift !== undefined) staff.shift = settings.shift;
  staff.defaultDuration = settings.defaultDuration ?? staff.defaultDuration;
  staff.defaultOctave = settings.defaultOctave ?? staff.defaultOctave;
};

/**
 * The key that a score definition means for a staff. Where the staff transposes and its own key is that of the score seen through the
 * transposition (a clarinet in A without signature in a score with three sharps), the keys of the score are those that sound.
 */
const keyFor = (staff: StaffState, score: KeySetting): KeySetting => {
  const { key, scoreKey, shift } = staff;
  // A shift by a fifth up is 7 semitones and 4 steps, and adds a sharp; an octave adds none.
  const sharps = shift === null ? 0 : 7 * shift.chromatic - 12 * shift.diatonic;
  if (sharps === 0 || key === null || scoreKey === null || score.fifths === null) return score;
  if (key.fifths === null || key.fifths + sharps !== scoreKey.fifths) return score;
  const fifths = score.fifths - sharps;
  return { fifths, mode: score.mode, alters: keyAlters(fifths) };
};

const staffDefs = new Set(['staffDef']);
const layerDefs = new Set(['layerDef']);

const applyStaffDef = (element: XmlElement, staff: StaffState, log: Log, place: Place): void => {
  apply(readSettings(element, staff, log, place), staff);
  staff.ppq = whole(attribute(element, 'ppq'), 1, 100_000) ?? staff.ppq;
  staff.cue ||= attribute(element, 'type').split(/\s+/).includes('cue');
  if (attribute(element, 'notationtype').startsWith('tab')) staff.tablature = true;
  const signatures = within(element, layerDefs).flatMap((layer) => child(layer, 'meterSig') ?? []);
  const [first] = signatures;
  if (first === undefined) return;
  // Layers may each have a metre of their own (MEI Guidelines 5, 4.2.3): the first is counted.
  const metre = readMetre(first, staff.metre, log, place);
  if (metre !== null && child(element, 'meterSig') === undefined) staff.metre = metre;
  if (new Set(signatures.map((one) => `${attribute(one, 'count')}/${attribute(one, 'unit')}`)).size > 1)
    log.say(
      'repair',
      'metre-differs',
      'The voices of this staff have different time signatures at once; the first is counted for all.',
      place,
    );
};

/** Takes in a `scoreDef`, `staffGrp` or `staffDef`: first what holds for all staves, then for each. */
export const applyDefinition = (
  element: XmlElement,
  staves: ReadonlyMap<string, StaffState>,
  log: Log,
  place: Place,
): void => {
  const own = element.name === 'staffDef' ? [element] : within(element, staffDefs);
  if (element.name === 'scoreDef') {
    const [first] = staves.values();
    const settings = readSettings(element, first ?? { metre: null, clef: null }, log, place);
    const ppq = whole(attribute(element, 'ppq'), 1, 100_000);
    for (const staff of staves.values()) {
      const key = settings.key === undefined ? undefined : keyFor(staff, settings.key);
      apply(key === undefined ? settings : { ...settings, key }, staff);
      staff.scoreKey = settings.key ?? staff.scoreKey;
      staff.ppq = ppq ?? staff.ppq;
    }
  }
  for (const one of own) {
    const n =
      attribute(one, 'n') || (element === one && staves.size === 1 ? [...staves.keys()].join('') : '');
    const staff = staves.get(n) ?? staves.get(referred(attribute(one, 'def')));
    if (staff !== undefined) applyStaffDef(one, staff, log, place);
  }
};

const sameKey = (a: KeySetting | null, b: KeySetting | null): boolean =>
  a === b || (a?.fifths === b?.fifths && a?.mode === b?.mode);

const sameClef = (a: ClefSetting | null, b: ClefSetting | null): boolean =>
  a === b || (a?.sign === b?.sign && a?.line === b?.line && a?.octave === b?.octave);

const tellClef = (staff: StaffState, draft: MeasureDraft, at: Fraction): void => {
  const { clef, told } = staff;
  if (clef === null || sameClef(clef, told.clef)) return;
  told.clef = clef;
  draft.clefs.push({ at: beats(at), staff: staff.number, ...clef });
};

const tellKey = (staff: StaffState, draft: MeasureDraft, at: Fraction, whole: boolean): void => {
  const { key, told } = staff;
  if (key === null || sameKey(key, told.key)) return;
  told.key = key;
  if (key.fifths === null) return;
  draft.keys.push({ at: beats(at), staff: whole ? null : staff.number, fifths: key.fifths, mode: key.mode });
};

const tellMetre = (staff: StaffState, draft: MeasureDraft, at: Fraction): void => {
  const { metre, told } = staff;
  if (metre === null || (told.metre !== null && sameMetre(metre, told.metre))) return;
  told.metre = metre;
  draft.metres.push({ at, metre });
};

/**
 * Tells the draft of a part what is new for its staves at the beginning of a bar; a key that all of them share is one.
 */
export const tellPart = (
  staves: readonly StaffState[],
  draft: MeasureDraft,
  log: Log,
  place: Place,
): void => {
  const [first] = staves;
  if (first === undefined) return;
  const shared = staves.every(({ key }) => sameKey(key, first.key));
  for (const staff of staves) {
    tellClef(staff, draft, F.zero);
    if (shared && staff !== first) staff.told.key = staff.key;
    else tellKey(staff, draft, F.zero, shared);
    if (staff === first || staff.metre === null || first.metre === null) tellMetre(staff, draft, F.zero);
    else {
      const news = staff.told.metre !== staff.metre;
      staff.told.metre = staff.metre;
      if (news && !sameMetre(staff.metre, first.metre))
        log.say(
          'repair',
          'metre-differs',
          'The staves of this part have different time signatures at once; the first is counted for all.',
          place,
        );
    }
  }
  const { shift, told } = first;
  if (
    shift !== null &&
    (shift.chromatic !== told.shift?.chromatic || shift.diatonic !== told.shift.diatonic)
  ) {
    // A first transposition by nothing says nothing.
    if (told.shift !== null || shift.chromatic !== 0 || shift.diatonic !== 0)
      draft.transpositions.push({ at: beats(F.zero), ...shift });
    told.shift = shift;
    if (staves.some((staff) => (staff.shift?.chromatic ?? 0) !== shift.chromatic))
      log.say(
        'repair',
        'transpose-by-staff',
        'The staves of this part transpose differently; all are read with the first transposition, so pitches of the other staves may be off.',
        place,
      );
  }
};

/** Takes in a definition met inside a layer. */
export const changeInLayer = (element: XmlElement, at: Fraction, spot: LayerSpot): void => {
  const { staff, draft, world, place } = spot;
  const { log } = world;
  switch (element.name) {
    case 'clef':
      staff.clef = readClef(element, staff.clef, log, place) ?? staff.clef;
      break;
    case 'clefGrp': {
      const clef = child(element, 'clef');
      if (clef !== undefined) staff.clef = readClef(clef, staff.clef, log, place) ?? staff.clef;
      break;
    }
    case 'keySig':
      staff.key = readKey(element, log, place) ?? staff.key;
      break;
    case 'meterSig':
    case 'meterSigGrp':
      staff.metre = readMetre(element, staff.metre, log, place) ?? staff.metre;
      break;
    case 'staffDef':
      applyStaffDef(element, staff, log, place);
      break;
    default:
      applyDefinition(element, spot.staves, log, place);
  }
  tellClef(staff, draft, at);
  tellKey(staff, draft, at, staff.part.staves === 1);
  tellMetre(staff, draft, at);
};

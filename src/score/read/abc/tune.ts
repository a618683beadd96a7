/**
 * What holds for a whole tune while it is read: settings, letters for decorations, macros, the voices and which of them is
 * being written.
 */
import { F, Refusal, type Fraction } from '../../../units/index.ts';
import { noMetre, type Metre } from '../../metre.ts';
import { notKept, type Log } from '../drafts/log.ts';
import type { ClefShape, Properties } from './properties.ts';
import { clefByMiddle, readProperties } from './properties.ts';
import { decorationOf, standardLetters, type Decoration } from './symbols.ts';
import { noKey, type KeySignature } from './key.ts';
import type { Reach, TextPlace } from './layer.ts';
import { Voice } from './voice.ts';
import { defaultUnit } from './values.ts';
import type { Macro } from './macros.ts';
import * as puts from './puts.ts';

/** What a voice begins with. */
interface Start {
  metre: Metre;
  /** Null: by the metre. */
  unit: Fraction | null;
  key: KeySignature;
  properties: Properties;
}

/** Voices of one piece. */
const mostVoices = 200;

export class Tune {
  readonly log: Log;
  /** Read strictly after ABC 2.1, or loosely. */
  strict: boolean;
  titles: string[] = [];
  readonly voices = new Map<string, Voice>();
  readonly letters = new Map<string, string>(standardLetters);
  readonly macros: Macro[] = [];
  readonly programs = new Map<number, number>();
  reach: Reach = 'pitch';
  /** The sign that encloses decorations, and whether "!" breaks lines. */
  decorationSign: '!' | '+' = '!';
  bangBreaks = false;
  grouping: string | null = null;
  /** The grouping and the voices that the file header gives to all its tunes, whatever voices they have. */
  shared: { readonly grouping: string | null; readonly voices: number } = { grouping: null, voices: 0 };
  order: string | null = null;
  orderPlace: Partial<TextPlace> = {};
  firstBar: number | null = null;
  pipes = false;
  readonly start: Start = {
    metre: noMetre,
    unit: null,
    key: noKey,
    properties: {},
  };
  /** Puts of the header, such as its tempo, for the voice that comes first. */
  readonly headPuts: ((voice: Voice) => void)[] = [];
  inHeader = true;
  #current: Voice | null = null;
  readonly #declared: { readonly id: string; readonly properties: Properties }[] = [];
  readonly #wishes: { readonly id: string; readonly properties: Properties }[] = [];
  readonly #all: Properties = {};

  constructor(log: Log, strict: boolean) {
    this.log = log;
    this.strict = strict;
  }

  /** The voice being written: made where none is yet, from the first one that the header names. */
  get current(): Voice {
    return (this.#current ??= this.voice(this.#declared[0]?.id ?? 'P1'));
  }

  get hasVoice(): boolean {
    return this.#current !== null;
  }

  /** The voice of this name, which begins here if it is new. */
  voice(id: string): Voice {
    const known = this.voices.get(id);
    if (known !== undefined) return known;
    if (this.voices.size >= mostVoices)
      throw new Refusal(
        'file-too-large',
        `A piece of the file has more than ${mostVoices} voices, which no piece has.`,
      );
    const { metre, unit, key } = this.start;
    const voice = new Voice(id, metre, this.log, () => this.reach);
    voice.unit = unit ?? defaultUnit(metre);
    this.voices.set(id, voice);
    if (this.voices.size === 1) for (const put of this.headPuts) put(voice);
    voice.setMetre(metre);
    puts.putMetre(voice, metre, this.log);
    voice.key = key;
    puts.putKey(voice, key, this.log);
    voice.put(puts.clef(voice.clef));
    for (const properties of [this.start.properties, this.#all]) this.apply(voice, properties);
    for (const one of [...this.#declared, ...this.#wishes])
      if (one.id === id) this.apply(voice, one.properties);
    return voice;
  }

  /** A V: field: which voice goes on, or in the header what it is like. */
  selectVoice(text: string, place: TextPlace): void {
    const match = /^\s*([^\s"]+)\s*(.*)$/s.exec(text);
    const id = (match?.[1] ?? '').slice(0, 20);
    if (id === '') {
      this.log.say(
        'repair',
        'voice-unnamed',
        'A V: field names no voice; the voice before it goes on.',
        place,
      );
      return;
    }
    const properties = this.properties(match?.[2] ?? '', place, 'voice').properties;
    if (id === '*') {
      Object.assign(this.#all, properties);
      for (const voice of this.voices.values()) this.apply(voice, properties);
      return;
    }
    if (this.inHeader) {
      this.#declared.push({ id, properties });
      this.lastDeclared = id;
      return;
    }
    this.#current = this.voice(id);
    this.apply(this.#current, properties);
  }

  lastDeclared: string | null = null;

  /** What was said so far stands in the header of a file with several tunes. */
  share(): void {
    this.shared = { grouping: this.grouping, voices: this.#declared.length };
  }

  /** All voices that the header names begin, whether they have music or not. */
  declared(): readonly string[] {
    return this.#declared.map(({ id }) => id);
  }

  /** What a directive says: in the header of the voice named last, or of all; in the music of the voice that goes on. */
  declare(properties: Properties): void {
    if (!this.inHeader && this.#current !== null) this.apply(this.#current, properties);
    else if (this.lastDeclared !== null && this.inHeader)
      this.#declared.push({ id: this.lastDeclared, properties });
    else Object.assign(this.start.properties, properties);
  }

  /** The same for a voice that is named. */
  declareFor(id: string, properties: Properties): void {
    const voice = this.voices.get(id);
    if (voice === undefined) this.#wishes.push({ id, properties });
    else this.apply(voice, properties);
  }

  /** Reads clefs, transpositions and names; what is wrong or has no place is told. */
  properties(
    text: string,
    place: TextPlace,
    field: 'voice' | 'key',
  ): { properties: Properties; rest: readonly string[] } {
    const { properties, wrong, unkept, rest } = readProperties(text);
    for (const [kind, value] of wrong) {
      const shown = value.slice(0, 40);
      if (kind === 'clef')
        this.log.say(
          'repair',
          'clef-unknown',
          `The clef "${shown}" is not known; the staff keeps the one it has.`,
          place,
        );
      else
        this.log.say(
          'repair',
          'transpose-unreadable',
          `"${kind}=${shown}" can not be read; it is left out.`,
          place,
        );
    }
    for (const name of unkept) {
      if (name === 'stafflines') notKept(this.log, 'staff-details', 'How the lines of a staff look', place);
      else
        notKept(
          this.log,
          'property',
          `A setting of a voice that is not known ("${name.slice(0, 40)}" and the like)`,
          place,
        );
    }
    if (field === 'voice')
      for (const word of rest)
        notKept(
          this.log,
          'property',
          `A setting of a voice that is not known ("${word.slice(0, 40)}" and the like)`,
          place,
        );
    return { properties, rest };
  }

  /** Lets properties hold for a voice from here on. */
  apply(voice: Voice, properties: Properties): void {
    if (properties.name !== undefined) voice.name = properties.name;
    if (properties.abbreviation !== undefined) voice.abbreviation = properties.abbreviation;
    if (properties.stem !== undefined) voice.stem = properties.stem;
    if (properties.octave !== undefined) voice.octave = properties.octave;
    if (properties.program !== undefined) voice.program = properties.program;
    if (properties.channel !== undefined) voice.channel = properties.channel;
    const before = voice.transpose + voice.midiTranspose + 12 * voice.drawnLower;
    if (properties.midiTranspose !== undefined) voice.midiTranspose = properties.midiTranspose;
    if (properties.transpose !== undefined) voice.transpose = properties.transpose;
    if (properties.clef !== undefined || properties.middle !== undefined) {
      const shape: ClefShape = properties.clef ?? voice.clef;
      voice.middle = properties.middle ?? null;
      const { clef, octaves } =
        voice.middle === null ? { clef: shape, octaves: 0 } : clefByMiddle(shape, voice.middle);
      voice.clef = clef;
      voice.drawnLower = octaves;
      voice.put(puts.clef(clef));
    }
    if (voice.transpose + voice.midiTranspose + 12 * voice.drawnLower !== before) {
      voice.loosenTies();
      voice.put(puts.transposition(voice, this.log));
    }
  }

  /** What a letter or name between signs stands for; null for the unknown, which is told. */
  decoration(name: string, place: TextPlace): Decoration | null {
    const found = decorationOf(name);
    if (found === null)
      notKept(
        this.log,
        'decoration',
        `A decoration that is not known ("${name.slice(0, 40)}" and the like)`,
        place,
      );
    else if (found.unkept !== undefined) notKept(this.log, found.unkept, found.unkept, place);
    return found;
  }

  /** The unit length that holds where a field stands. */
  get unit(): Fraction {
    return this.#current?.unit ?? this.start.unit ?? defaultUnit(this.start.metre);
  }

  /** Whole notes to a note of `factor` units. */
  length(factor: Fraction): Fraction {
    return F.mul(this.current.unit, factor);
  }
}

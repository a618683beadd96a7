/** What the page asks the thread that hears: recordings read, a reading shown, its files made. */
import type {
  HeardDrill,
  PieceSettings,
  PlayedDrill,
  Reading,
  ShownOptions,
  ShownReading,
  TellingLanguage,
} from '../../../desk/index.ts';
import type { Result } from '../../../units/index.ts';
import type { MadeFile } from '../desk.ts';

/** A recording of a take. */
export interface HearableSound {
  /** As the players know it; each its own. */
  readonly name: string;
  /** Id of the part that it is of; null: of all, or by its place among several. */
  readonly part: string | null;
  readonly file: Blob;
}

/** A drill as it is kept with a reading. */
export interface KeptDrill {
  readonly score: Uint8Array;
  readonly drill: HeardDrill['drill'];
  readonly settings: PieceSettings;
}

export interface ReadAsk {
  readonly score: Uint8Array;
  readonly played: PlayedDrill;
  readonly sounds: readonly HearableSound[];
  /** Whether the players held to the click; null: as the drill and the recording say. */
  readonly with: 'click' | null;
  /** Metres from players to the one microphone, by part id. */
  readonly distances: Readonly<Record<string, number>>;
}

export interface FilesAsk extends KeptDrill {
  readonly reading: Reading;
  readonly options: Pick<ShownOptions, 'out' | 'until' | 'names'> & { readonly language: TellingLanguage };
  /** "reading.pdf", "reading.csv", "reading.json", and each chart by its name: "tempo.svg", "tempo.png". */
  readonly names: readonly string[];
}

export interface HearingQuestions {
  readonly read: {
    readonly asks: ReadAsk;
    readonly answers: Result<{
      readonly reading: Reading;
      readonly drill: HeardDrill['drill'];
      readonly settings: PieceSettings;
    }>;
  };
  readonly show: {
    readonly asks: KeptDrill & { readonly reading: Reading; readonly options: ShownOptions };
    readonly answers: Result<ShownReading>;
  };
  readonly files: { readonly asks: FilesAsk; readonly answers: Result<readonly MadeFile[]> };
  /** A recording of 32-bit samples as FLAC of 16 bits. */
  readonly flac: { readonly asks: Blob; readonly answers: Result<Uint8Array<ArrayBuffer>> };
}
export type HearingCalls = { readonly [K in keyof HearingQuestions]: HearingQuestions[K] };

/** What the thread says unasked, while it reads: how much is done, 0 to 1. */
export interface Heard {
  readonly done: number;
}

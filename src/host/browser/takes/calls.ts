/** What the page asks the thread that keeps the sounds of takes. */
import type { Performed } from '../../../desk/index.ts';
import type { Result } from '../../../units/index.ts';

/** A sound that lies on this device. */
export interface KeptSound {
  readonly file: string;
  readonly bytes: number;
  /** Milliseconds since 1970, by the device's clock. */
  readonly changed: number;
  /** Of a take that was recorded here; null: a file that was brought. */
  readonly notes: string | null;
  /** Hz and samples of a take that was recorded here; else 0. */
  readonly rate: number;
  readonly samples: number;
}

export interface SoundQuestions {
  /** Opens a take's files; its samples come through the port. `head`: the first line of its notes. */
  readonly begin: {
    readonly asks: {
      readonly file: string;
      readonly rate: number;
      readonly head: string;
      readonly port: MessagePort;
    };
    readonly answers: Result<null>;
  };
  /** Adds a line to the notes of the take that is recorded. */
  readonly note: { readonly asks: string; readonly answers: Result<null> };
  /** Ends it once its last sample has come; with the samples that are kept. */
  readonly end: { readonly asks: Performed['ended']; readonly answers: Result<number> };
  /** All sounds but those that another window is recording; what was cut off is mended first. */
  readonly list: { readonly asks: null; readonly answers: Result<readonly KeptSound[]> };
  /** Copies a file of the user's; with its bytes. */
  readonly bring: {
    readonly asks: { readonly file: string; readonly from: Blob };
    readonly answers: Result<number>;
  };
  /** Notes that these takes stand on the shelf. */
  readonly shelved: { readonly asks: readonly string[]; readonly answers: Result<null> };
  /** Removes sounds with their notes, for good. */
  readonly remove: { readonly asks: readonly string[]; readonly answers: Result<null> };
}
export type SoundCalls = { readonly [K in keyof SoundQuestions]: SoundQuestions[K] };

/** What the thread says unasked: it could not write any more. What was written stays. */
export interface Broke {
  readonly broke: 'no-room' | 'take-disk';
}

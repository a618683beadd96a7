/** What page, audio thread and the thread that writes tell each other while a take is recorded. */

/** The name under which the audio thread knows the tap. */
export const tapProcessor = 'levare-take';

export type ToTap =
  /** From the next block on all goes to this port, for so many samples at most. */
  { readonly kind: 'record'; readonly port: MessagePort; readonly most: number } | { readonly kind: 'end' };

export type FromTap =
  /** `frame`: the audio thread's frame of the recording's first sample. */
  | { readonly kind: 'begun'; readonly frame: number }
  /** The largest amplitude since it was told last. */
  | { readonly kind: 'level'; readonly peak: number }
  /** The longest take is reached. */
  | { readonly kind: 'full' };

/** From the audio thread to the thread that writes. */
export type ToDisk =
  | { readonly kind: 'samples'; readonly samples: Float32Array<ArrayBuffer> }
  /** There is no more. */
  | { readonly kind: 'end' };

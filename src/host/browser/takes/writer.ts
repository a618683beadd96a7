/** Writes a take as it comes: sound and notes, each on the disk within a second. Knows nothing of the browser. */
import { endLine } from '../../../desk/takes/notes.ts';
import type { Performed } from '../../../desk/takes/performed.ts';
import { bytesPerSample, samplesIn, takeHeader, takeHeaderSize } from '../../../desk/takes/sound.ts';

/** A file that is open for one writer alone, as the File System Standard's FileSystemSyncAccessHandle gives it. */
export interface Disk {
  /** Gives how many bytes were written. */
  readonly write: (bytes: Uint8Array<ArrayBuffer>, options: { readonly at: number }) => number;
  readonly truncate: (size: number) => void;
  readonly getSize: () => number;
  readonly flush: () => void;
  readonly close: () => void;
}

/** Samples after which what was written is pressed to the disk itself: half a second at 48 kHz. A tab that is killed loses less. */
const pressEvery = 24_000;

/** Thrown where the disk took less than it was given. */
class ShortWrite extends Error {
  override readonly name = 'QuotaExceededError';
}

const putAll = (disk: Disk, bytes: Uint8Array<ArrayBuffer>, at: number): void => {
  if (disk.write(bytes, { at }) < bytes.length) throw new ShortWrite('The disk took less than it was given.');
};

const headerFor = (rate: number, samples: number): Uint8Array<ArrayBuffer> =>
  new Uint8Array(takeHeader(rate, samples));

/** Makes the header say what the file holds, and cuts off half a sample at its end. Gives the samples. */
export const mended = (sound: Disk, rate: number): number => {
  const samples = samplesIn(sound.getSize());
  sound.truncate(takeHeaderSize + samples * bytesPerSample);
  putAll(sound, headerFor(rate, samples), 0);
  sound.flush();
  return samples;
};

export class TakeWriter {
  readonly #sound: Disk;
  readonly #notes: Disk;
  readonly #rate: number;
  #samples = 0;
  #unpressed = 0;
  #noted = 0;
  #closed = false;

  /** Both files are new or of no use any more. `head`: the first line of the notes. */
  constructor(sound: Disk, notes: Disk, rate: number, head: string) {
    this.#sound = sound;
    this.#notes = notes;
    this.#rate = rate;
    sound.truncate(0);
    notes.truncate(0);
    putAll(sound, headerFor(rate, 0), 0);
    sound.flush();
    this.note(head);
  }

  get samples(): number {
    return this.#samples;
  }

  /** Throws what the disk throws; what was written whole stays. */
  write(samples: Float32Array<ArrayBuffer>): void {
    if (this.#closed) return;
    const bytes = new Uint8Array(samples.buffer, samples.byteOffset, samples.byteLength);
    putAll(this.#sound, bytes, takeHeaderSize + this.#samples * bytesPerSample);
    this.#samples += samples.length;
    this.#unpressed += samples.length;
    if (this.#unpressed < pressEvery) return;
    this.#sound.flush();
    this.#unpressed = 0;
  }

  /** Adds a line to the notes. */
  note(line: string): void {
    if (this.#closed) return;
    const bytes = new TextEncoder().encode(`${line}\n`);
    putAll(this.#notes, bytes, this.#noted);
    this.#noted += bytes.length;
    this.#notes.flush();
  }

  /** Mends the header, notes the end and lets the files go. Gives the samples. */
  end(why: Performed['ended']): number {
    if (this.#closed) return this.#samples;
    try {
      this.#samples = mended(this.#sound, this.#rate);
      this.note(endLine(why, this.#samples));
    } catch {
      // The disk is full to the last byte: the end is found again from the length of the sound.
    }
    this.#closed = true;
    this.#sound.close();
    this.#notes.close();
    return this.#samples;
  }
}

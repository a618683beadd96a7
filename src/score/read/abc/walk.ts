/** How a voice goes through its bars: bar lines lead on, overlays lead back. Source: ABC 2.1, sections 4.8 and 7.4. */
import { emptyBar, type Event, type VoiceBar } from './events.ts';
import { mostOverlays, newLayer, type Layer } from './layer.ts';

export class Walk {
  readonly bars: VoiceBar[] = [emptyBar(1)];
  /** Bars as the text has them. */
  textBar = 0;
  /** Whether white space stands before the next note. */
  spaced = true;
  protected readonly layers = new Map<number, Layer>();
  #bar = 0;
  #layer = 0;
  /** While an overlay goes over bars that are there already: the bar in which the voice itself goes on. */
  #front: number | null = null;

  protected get now(): Layer {
    const known = this.layers.get(this.#layer);
    if (known !== undefined) return known;
    const layer = newLayer();
    this.layers.set(this.#layer, layer);
    return layer;
  }

  get bar(): VoiceBar {
    const bar = this.bars[this.#bar];
    if (bar !== undefined) return bar;
    const made = emptyBar(0);
    this.bars.push(made);
    return made;
  }

  get barIndex(): number {
    return this.#bar;
  }

  /** A bar line stands before. */
  get hasBar(): boolean {
    return this.#bar > 0;
  }

  /** Whether music goes on over bars that are there already. */
  protected get overlaid(): boolean {
    return this.#front !== null || this.#layer > 0;
  }

  protected get layer(): number {
    return this.#layer;
  }

  protected get events(): Event[] {
    const { layers } = this.bar;
    // An overlay may skip one: no layer is left out between.
    while (layers.length <= this.#layer) layers.push([]);
    return layers[this.#layer] ?? [];
  }

  protected advance(line: number): void {
    this.textBar += 1;
    for (const layer of this.layers.values()) layer.accidentals.clear();
    if (this.#front !== null && this.#bar < this.#front) {
      this.#bar += 1;
      if (this.#bar === this.#front) {
        this.#front = null;
        this.#layer = 0;
      }
    } else {
      this.#front = null;
      this.#layer = 0;
      this.#bar = this.bars.length;
      this.bars.push(emptyBar(line));
    }
    this.spaced = true;
  }

  /**
   * A bar line: ends the bar where it holds anything, and gives the bar whose right edge it is; null at the very
   * beginning.
   */
  barLine(line: number): VoiceBar | null {
    this.spaced = true;
    // In an overlay of earlier bars, those are full already.
    if (this.#front !== null) {
      const ended = this.bar;
      this.advance(line);
      return ended;
    }
    if (!this.bar.filled) return this.bars[this.#bar - 1] ?? null;
    const ended = this.bar;
    this.advance(line);
    return ended;
  }

  /** "&": time goes back by `count` bar lines. False where there is no bar so far back. */
  overlay(count: number): boolean {
    const here = this.#front ?? this.bars.length - 1;
    const empty = this.#front === null && !this.bar.filled;
    const target = empty ? here - count : here - count + 1;
    if (target < 0 || (this.#front !== null && target > here)) return false;
    const from = this.bars.slice(target, here + (empty ? 0 : 1));
    const layer = from.reduce((most, { layers }) => Math.max(most, layers.length), 1);
    if (layer > mostOverlays) return false;
    this.#front = empty || target < here ? here : null;
    this.#layer = layer;
    this.#bar = target;
    this.now.accidentals.clear();
    this.spaced = true;
    return true;
  }
}

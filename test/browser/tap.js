/** A second audio thread program, for the tests only: it writes down all that goes to the loudspeaker. */
const usually = 60;

class Tap extends AudioWorkletProcessor {
  constructor({ processorOptions }) {
    super();
    const longest = processorOptions?.seconds ?? usually;
    this.left = new Float32Array(longest * sampleRate);
    this.right = new Float32Array(longest * sampleRate);
    this.gaps = false;
    this.differs = false;
    this.first = -1;
    this.count = 0;
    this.port.onmessage = () =>
      this.port.postMessage({
        first: this.first,
        rate: sampleRate,
        differs: this.differs,
        gaps: this.gaps,
        right: this.right.slice(0, this.count),
        samples: this.left.slice(0, this.count),
      });
  }

  process([input]) {
    if (this.first < 0) this.first = currentFrame;
    // Full: what comes now is not asked for.
    if (this.count + 128 > this.left.length) return true;
    if (currentFrame !== this.first + this.count) this.differs = this.gaps = true;
    const [left, right] = input;
    if (left !== undefined) this.left.set(left, this.count);
    if (right !== undefined) this.right.set(right, this.count);
    if (right?.some((value, i) => value !== left[i])) this.differs = true;
    this.count += 128;
    return true;
  }
}

registerProcessor('tap', Tap);

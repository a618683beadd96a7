/** A microphone for the tests: what it gives is known to the last bit. Plain script, in front of the page's own; no part of what is shipped. */
(() => {
  const real = AudioContext.prototype.createMediaStreamSource;
  const connect = AudioNode.prototype.connect;
  let output = null;
  AudioNode.prototype.connect = function (to, ...rest) {
    if (to instanceof AudioDestinationNode) output = this;
    return connect.call(this, to, ...rest);
  };

  const kept = { context: null, stream: null };
  /** Numbers of 24 bits, each from the one before (a linear congruence): test/browser/fed.ts makes the same. */
  const noise = (context) => {
    const buffer = context.createBuffer(1, 30 * context.sampleRate, context.sampleRate);
    const samples = buffer.getChannelData(0);
    let state = 1;
    for (let n = 0; n < samples.length; n++) {
      state = (Math.imul(state, 1140671485) + 12820163) & 0xffffff;
      samples[n] = (state - 8388608) / 8388608 / 2;
    }
    const source = context.createBufferSource();
    source.buffer = buffer;
    source.loop = true;
    source.start();
    return source;
  };
  /** What goes to the loudspeaker, without a room between. */
  const loudspeaker = (context) => {
    const source = context.createGain();
    connect.call(output, source);
    return source;
  };
  const kinds = { noise, loudspeaker };
  const ask = navigator.mediaDevices?.getUserMedia.bind(navigator.mediaDevices);

  globalThis.levareMicrophone = {
    kind: new URLSearchParams(location.search).get('microphone') ?? 'real',
    /** Name of the error that asking for it gives; null: none. */
    error: null,
    unplug: () => {
      const [track] = kept.stream.getAudioTracks();
      track.stop();
      track.dispatchEvent(new Event('ended'));
    },
    suspend: () => kept.context.suspend(),
    /** Files that lie in the page's own storage, with their sizes. */
    files: async () => {
      const found = [];
      const root = await navigator.storage.getDirectory();
      for await (const folder of root.values())
        for await (const file of folder.values()) found.push([file.name, (await file.getFile()).size]);
      return found;
    },
    asked: [],
  };
  AudioContext.prototype.createMediaStreamSource = function (stream) {
    kept.context = this;
    kept.stream = stream;
    const make = kinds[globalThis.levareMicrophone.kind];
    return make === undefined ? real.call(this, stream) : make(this);
  };
  if (ask !== undefined)
    navigator.mediaDevices.getUserMedia = async (wanted) => {
      const { error, kind, asked } = globalThis.levareMicrophone;
      asked.push(JSON.stringify(wanted));
      if (error !== null) throw new DOMException('As the test says.', error);
      if (kind !== 'slow') return ask(wanted);
      // One that runs at a rate of its own: 440 Hz at 16 kHz.
      const context = new AudioContext({ sampleRate: 16000 });
      const tone = context.createOscillator();
      const to = context.createMediaStreamDestination();
      tone.frequency.value = 440;
      connect.call(tone, to);
      tone.start();
      await context.resume();
      return to.stream;
    };
})();

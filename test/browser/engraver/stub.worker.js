/** In place of the engraver's thread: it loops, breaks while it starts, breaks at work, or engraves, as its name says. */
const deed = self.name;
if (deed === 'break at the start') throw new Error('broken at the start');

addEventListener('message', ({ data, ports: [port] }) => {
  if (data.kind === 'ready') {
    while (deed === 'loop at the start');
    port.postMessage({ ok: true, value: null, problems: [] });
    return;
  }
  while (data.ask.musicXml === 'loop');
  if (data.ask.musicXml === 'throw') throw new Error('broken');
  const musicFont = { family: 'Stub', woff2: new Uint8Array() };
  port.postMessage({ ok: true, value: { pictures: ['<svg/>'], musicFont }, problems: [] });
});

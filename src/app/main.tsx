/** Puts the page together. */
import { render } from 'preact';
import { browserDesk, browserPlayer } from '../host/browser/index.ts';
import { App, openFile } from './App.tsx';
import { demoAsked, demoPiece } from './demo.ts';
import { inkTicks } from './ink.ts';
import { listenToKeys } from './keys.ts';
import { Session } from './session.ts';

const root = document.getElementById('app');
if (root !== null) {
  let playing: string = 'still';
  const session = new Session(browserDesk(), () => {
    render(<App session={session} />, root);
    const title = session.shown.piece?.look.title ?? '';
    document.title = title === '' ? 'Levare' : `${title} – Levare`;
    if (playing === 'still' && session.shown.playing !== 'still') look();
    playing = session.shown.playing;
  });
  const look = inkTicks(session, root);
  render(<App session={session} />, root);
  listenToKeys(session);
  addEventListener('dragover', (event) => event.preventDefault());
  addEventListener('drop', (event) => {
    event.preventDefault();
    const file = event.dataTransfer?.files[0];
    if (file !== undefined) void openFile(session, file);
  });
  void browserPlayer({ ended: () => session.ended(), tookOver: () => session.tookOver() }).then((player) =>
    session.hear(player),
  );
  void demoPiece().then((piece) =>
    piece.ok ? session.open(piece.value, demoAsked) : session.refuse(piece.error),
  );
}

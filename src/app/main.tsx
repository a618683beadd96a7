/** Puts the page together. */
import { render } from 'preact';
import { browserDesk, browserPlayer, browserShelf } from '../host/browser/index.ts';
import { App, atShelf } from './App.tsx';
import { inkTicks } from './ink.ts';
import { listenToKeys } from './keys.ts';
import { Session } from './session.ts';
import { Keeper } from './shelf/keeping.ts';
import { chosenLanguage, keepLanguage } from './words/chosen.ts';
import { speechIn, type Language } from './words/index.ts';

const begin = async (root: HTMLElement): Promise<void> => {
  const { port, trouble } = await browserShelf();
  let playing: string = 'still';
  let speech = speechIn(chosenLanguage());
  document.documentElement.lang = speech.language;
  const speak = (language: Language): void => {
    speech = speechIn(language);
    keepLanguage(language);
    document.documentElement.lang = language;
    draw();
  };
  const draw = (): void =>
    render(<App session={session} keeper={keeper} speech={speech} onLanguage={speak} />, root);
  const session: Session = new Session(browserDesk(), () => {
    keeper.noticed();
    draw();
    const title = session.shown.piece?.look.title ?? '';
    document.title = title === '' ? 'Levare' : `${title} – Levare`;
    if (playing === 'still' && session.shown.playing !== 'still') look();
    playing = session.shown.playing;
  });
  const keeper: Keeper = new Keeper(port, trouble, session, draw, () => speech.words);
  const look = inkTicks(session, root);
  draw();
  listenToKeys(session);
  addEventListener('hashchange', () => {
    if (atShelf()) session.playback.stop();
    draw();
  });
  addEventListener('beforeunload', (event) => {
    if (keeper.wouldLose) event.preventDefault();
  });
  addEventListener('dragover', (event) => event.preventDefault());
  addEventListener('drop', (event) => {
    event.preventDefault();
    const file = event.dataTransfer?.files[0];
    if (file !== undefined) void keeper.openFile(file);
  });
  void browserPlayer({
    ended: () => session.playback.ended(),
    tookOver: () => session.playback.tookOver(),
  }).then((player) => session.hear(player));
  await keeper.start();
};

const root = document.getElementById('app');
if (root !== null) void begin(root);

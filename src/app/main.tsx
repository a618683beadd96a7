/** Puts the page together. */
import { render } from 'preact';
import {
  browserDesk,
  browserEar,
  browserPlayer,
  browserReadings,
  browserShelf,
} from '../host/browser/index.ts';
import { ok } from '../units/index.ts';
import { App, atShelf } from './App.tsx';
import { inkTicks } from './ink.ts';
import { listenToKeys } from './keys.ts';
import { HeardTakes, readingHash } from './reading/heardTakes.ts';
import { KeptReadings } from './reading/keptReadings.ts';
import { Session } from './session.ts';
import { Keeper } from './shelf/keeping.ts';
import { isSound, KeptTakes } from './takes/keptTakes.ts';
import { Recording } from './takes/recording.ts';
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
    session.speak(language);
    draw();
  };
  let drawing = false;
  let drawAgain = false;
  const draw = (): void => {
    // What is changed while it is drawn (an effect of what was drawn before) is drawn afterwards: a drawing within a drawing leaves old parts behind.
    if (drawing) {
      drawAgain = true;
      return;
    }
    drawing = true;
    try {
      do {
        drawAgain = false;
        heard.kept.noticed();
        drawAll();
      } while (drawnAgain());
    } finally {
      drawing = false;
    }
  };
  const drawnAgain = (): boolean => drawAgain;
  const drawAll = (): void => {
    render(
      <App
        session={session}
        keeper={keeper}
        recording={recording}
        kept={kept}
        heard={heard}
        speech={speech}
        onLanguage={speak}
      />,
      root,
    );
  };
  const session: Session = new Session(browserDesk(), () => {
    keeper.noticed();
    draw();
    const title = session.shown.piece?.look.title ?? '';
    document.title = title === '' ? 'Levare' : `${title} – Levare`;
    if (playing === 'still' && session.shown.playing !== 'still') {
      kept.hush();
      look();
    }
    playing = session.shown.playing;
  });
  const keeper: Keeper = new Keeper(port, trouble, session, draw, () => speech.words);
  const kept: KeptTakes = new KeptTakes(session, keeper, draw);
  const heard: HeardTakes = new HeardTakes(
    keeper,
    kept,
    browserEar(),
    new KeptReadings(keeper, browserReadings()),
    draw,
    () => speech.language,
  );
  const recording: Recording = new Recording(session, keeper, draw, (take) => void kept.settle(take));
  session.speak(speech.language);
  const look = inkTicks(session, root);
  draw();
  listenToKeys(session);
  addEventListener('hashchange', () => {
    if (atShelf() || location.hash === readingHash) session.playback.stop();
    if (location.hash !== readingHash && heard.now.take !== null) heard.close();
    draw();
  });
  addEventListener('beforeunload', (event) => {
    if (keeper.wouldLose || recording.busy) event.preventDefault();
  });
  addEventListener('dragover', (event) => event.preventDefault());
  addEventListener('drop', (event) => {
    event.preventDefault();
    const files = [...(event.dataTransfer?.files ?? [])];
    const [file] = files;
    if (files.some(isSound)) void kept.bring(files);
    else if (file !== undefined) void keeper.openFile(file);
  });
  const loud = browserPlayer({
    ended: () => {
      session.playback.ended();
      recording.soundEnded();
    },
    tookOver: () => session.playback.tookOver(),
    began: (material, start, from) => recording.began(material, start, from),
    left: (frame) => recording.left(frame),
    recorder: recording.news,
  }).then((player) => {
    session.hear(player.ok ? ok(recording.hear(player.value)) : player);
    return player;
  });
  await keeper.start();
  await heard.kept.start();
  draw();
  const player = await loud;
  if (player.ok) await kept.start(player.value.sounds);
};

const root = document.getElementById('app');
if (root !== null) void begin(root);

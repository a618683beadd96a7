/** The whole page. */
import { Margin } from './Margin.tsx';
import { Page } from './Page.tsx';
import { Stand } from './Stand.tsx';
import { readingHash, type HeardTakes } from './reading/heardTakes.ts';
import { ReadingPage } from './reading/ReadingPage.tsx';
import type { Session } from './session.ts';
import { Corner } from './shelf/Corner.tsx';
import type { Keeper } from './shelf/keeping.ts';
import { playersWords } from './shelf/settings.ts';
import { ShelfPage } from './shelf/ShelfPage.tsx';
import { Before } from './takes/Before.tsx';
import type { KeptTakes } from './takes/keptTakes.ts';
import { Record, RecordStarts, Sign } from './takes/Record.tsx';
import type { Recording } from './takes/recording.ts';
import { Takes } from './takes/Takes.tsx';
import { SpeechContext } from './words/context.ts';
import type { Language, Speech, Words } from './words/index.ts';

interface Props {
  readonly session: Session;
  readonly keeper: Keeper;
  readonly recording: Recording;
  readonly kept: KeptTakes;
  readonly heard: HeardTakes;
  readonly speech: Speech;
  readonly onLanguage: (language: Language) => void;
}

/** Whether a take is looked at that was heard. */
const atReading = ({ heard }: Props): boolean => location.hash === readingHash && heard.take !== null;

/** Whether the shelf is looked at, not the music: the browser's way back leads from it. */
export const atShelf = (): boolean => location.hash === '#shelf';

const playersNow = ({ session, keeper }: Props, words: Words): string | null => {
  const { piece, state } = keeper.now;
  const home = piece === null ? undefined : state.records.get(`ensemble:${piece.ensemble}`);
  const shown = session.shown.piece;
  return piece === null || shown === null || home?.kind !== 'ensemble'
    ? null
    : playersWords(shown.look, piece, home.value, words);
};

const View = (props: Props) => {
  const { session, keeper, recording, kept } = props;
  const { shown } = session;
  if (atShelf()) return <ShelfPage keeper={keeper} />;
  if (atReading(props)) return <ReadingPage heard={props.heard} />;
  if (session.shown.stand)
    return <Stand session={session} shown={shown} record={<RecordStarts recording={recording} />} />;
  return (
    <div class="stand">
      <Page
        session={session}
        shown={session.shown}
        players={playersNow(props, props.speech.words)}
        onWidth={(options) => session.fit(options)}
      />
      <Margin
        session={session}
        shown={shown}
        record={<Record recording={recording} wait={shown.wait} />}
        sign={<Sign recording={recording} />}
        before={<Before recording={recording} wait={shown.wait} arms={false} />}
        onFile={(file) => void keeper.openFile(file)}
      >
        <Takes
          keeper={keeper}
          session={session}
          shown={shown}
          recording={recording}
          kept={kept}
          heard={props.heard}
        />
        <Corner keeper={keeper} session={session} shown={session.shown} />
      </Margin>
    </div>
  );
};

export const App = (props: Props) => (
  <SpeechContext.Provider value={{ ...props.speech, choose: props.onLanguage }}>
    <View {...props} />
  </SpeechContext.Provider>
);

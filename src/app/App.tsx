/** The whole page. */
import { useMemo, useReducer } from 'preact/hooks';
import { Margin } from './Margin.tsx';
import { Page } from './Page.tsx';
import { JournalPage } from './plan/JournalPage.tsx';
import { Planning } from './plan/planning.ts';
import { PlanPage } from './plan/PlanPage.tsx';
import { AfterReading } from './plan/Proposal.tsx';
import { StandPlan } from './plan/StandPlan.tsx';
import { Steps } from './plan/Steps.tsx';
import { TakeHome } from './plan/TakeHome.tsx';
import { pagesOfPlan, PlanWays } from './plan/Ways.tsx';
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

const View = (props: Props & { readonly planning: Planning }) => {
  const { session, keeper, recording, kept } = props;
  const { shown } = session;
  const hands = { keeper, session, shown, planning: props.planning };
  const inPlan = (brief: boolean) => (
    <StandPlan planning={props.planning} piece={keeper.now.piece} brief={brief} />
  );
  if (location.hash === pagesOfPlan.plan) return <PlanPage {...hands} />;
  if (location.hash === pagesOfPlan.journal)
    return <JournalPage {...hands} kept={kept} heard={props.heard} />;
  if (atShelf()) return <ShelfPage keeper={keeper} />;
  if (atReading(props))
    return (
      <ReadingPage
        heard={props.heard}
        after={
          <AfterReading {...hands} take={props.heard.take} reading={props.heard.now.shown?.counted ?? null} />
        }
      />
    );
  if (session.shown.stand)
    return (
      <Stand
        session={session}
        shown={shown}
        record={
          <>
            {inPlan(true)}
            <RecordStarts recording={recording} />
          </>
        }
      />
    );
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
        steps={<Steps {...hands} />}
        rehearsing={
          <>
            {inPlan(false)}
            <PlanWays />
            <Takes
              keeper={keeper}
              session={session}
              shown={shown}
              recording={recording}
              kept={kept}
              heard={props.heard}
            />
          </>
        }
        packs={<TakeHome {...hands} />}
        onFile={(file) => void keeper.openFile(file)}
      >
        <Corner keeper={keeper} session={session} shown={session.shown} />
      </Margin>
    </div>
  );
};

export const App = (props: Props) => {
  const [, redraw] = useReducer((times: number) => times + 1, 0);
  const { keeper, session } = props;
  const planning = useMemo(() => new Planning(keeper, session, () => redraw(0)), [keeper, session]);
  return (
    <SpeechContext.Provider value={{ ...props.speech, choose: props.onLanguage }}>
      <View {...props} planning={planning} />
    </SpeechContext.Provider>
  );
};

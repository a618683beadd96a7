/** The journal of a piece by place and step: takes as they were, and growth with its uncertainty. */
import {
  placeGrowth,
  verdictOf,
  type Journal,
  type JournalTake,
  type ListedPlace,
  type Piece,
} from '../../desk/index.ts';
import { useSpeech } from '../words/context.ts';
import type { Words } from '../words/index.ts';
import { Chart } from './Growth.tsx';

interface PlaceProps {
  readonly journal: Journal;
  readonly piece: Piece;
  readonly place: string;
  readonly takes: readonly JournalTake[];
  /** Of the piece on the stand; empty for others. */
  readonly places: readonly ListedPlace[];
}

/** "bars 12 to 15: one line of eighths, Anna and Ben"; of pieces that are not open what the key says. */
export const placeWords = (
  { place, takes, places }: Pick<PlaceProps, 'place' | 'takes' | 'places'>,
  words: Words,
): string => {
  const listed = places.find(({ key }) => key === place);
  if (listed !== undefined) return words.places.row(listed);
  const { journal: said } = words.letting;
  const kinds: Readonly<Record<string, string>> = words.places.kinds;
  const kind = place.split(' ')[0] ?? '';
  return said.place(said.bars(takes.at(-1)?.bars ?? ''), kinds[kind] ?? '');
};

/** The step of a take in words, from its key. */
const stepText = (key: string, { letting }: Words): string => {
  const [keep = 'all', click = 'every', countIn = 'auto'] = key.split(' ');
  return letting.step({ keep, click, countIn, tempo: '', cues: letting.cuesSomeone });
};

const TakeRow = ({ take }: { readonly take: JournalTake }) => {
  const { letting } = useSpeech().words;
  const said = letting.journal;
  const verdict = verdictOf(take);
  const deleted = verdict === 'unheard' && Object.values(take.parts).includes(null);
  const how = deleted ? said.shareGone : take.told === '' ? said.verdicts[verdict] : said.told[take.told];
  return (
    <li>
      {said.day(take.day)}: {how}
      {take.decided !== '' && <span class="aside"> {letting.decided[take.decided]}</span>}
    </li>
  );
};

const StepPart = ({ step, ...props }: PlaceProps & { readonly step: string }) => {
  const { words, language } = useSpeech();
  const said = words.letting.journal;
  const { journal, piece, place } = props;
  const takes = props.takes.filter((take) => take.step === step);
  const growth = placeGrowth(journal, { piece: piece.id, place, step, title: '' }, language);
  return (
    <li>
      {stepText(step, words)} <span class="aside">({said.takes(takes.length)})</span>
      <ul>
        {takes.slice(-newest).map((take) => (
          <TakeRow key={take.id} take={take} />
        ))}
      </ul>
      {growth.points.length > 0 && <p class="aside">{growth.told}</p>}
      {growth.chart !== null && <Chart svg={growth.chart.svg} alternative={growth.chart.alternative} />}
    </li>
  );
};

/** Takes of a step that are listed one by one. */
const newest = 6;

export const JournalPlace = (props: PlaceProps) => {
  const { words } = useSpeech();
  const steps = [...new Set(props.takes.map(({ step }) => step))];
  return (
    <details class="journal-place">
      <summary>
        {placeWords(props, words)} ({words.letting.journal.takes(props.takes.length)})
      </summary>
      <ul>
        {steps.map((step) => (
          <StepPart key={step} {...props} step={step} />
        ))}
      </ul>
    </details>
  );
};

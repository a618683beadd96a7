/** Places where the parts depend on each other: those on the page, as they are numbered there, and the others of the piece. */
import type { ListedPlace } from '../desk/index.ts';
import { requestOf } from './asked.ts';
import { Pick } from './Fields.tsx';
import { useFold } from './fold.ts';
import { Key } from './Key.tsx';
import type { Session, Shown } from './session.ts';
import { useWords } from './words/context.ts';
import { screensOf } from './written.ts';

interface Props {
  readonly session: Session;
  readonly shown: Shown;
}

const Row = ({ place, session }: { readonly place: ListedPlace; readonly session: Session }) => {
  const said = useWords().places;
  return (
    <li>
      <button type="button" title={said.why(place)} onClick={() => session.goTo(place)}>
        <span class="number">{place.number}</span> {said.row(place)}
      </button>
    </li>
  );
};

/** All places as one choice, at the head of the page: a newcomer sees at once that there are any. */
export const PlaceChoice = ({ session, shown: { places, asked } }: Props) => {
  const said = useWords().places;
  if (places.length === 0) return null;
  const { bars } = requestOf(asked);
  const now = places.find((place) => place.bars === bars);
  return (
    <Pick
      name="at-place"
      label={said.all}
      value={now?.id ?? ''}
      choices={[
        ...(now === undefined ? [{ value: '', words: said.choose(places.length) }] : []),
        ...places.map((place) => ({ value: place.id, words: said.numbered(place) })),
      ]}
      onPick={(id) => {
        const place = places.find((one) => one.id === id);
        if (place !== undefined) session.goTo(place);
      }}
    />
  );
};

/** Names of the parts on the page, in its order. */
const onPage = ({ piece, drill }: Shown): readonly string[] => {
  const kept = drill?.drill.parts ?? null;
  const all = piece?.look.parts ?? [];
  return all
    .filter(({ id, name }) => kept === null || kept.includes(id) || kept.includes(name))
    .map(({ id, name }) => (name === '' ? id : name));
};

export const Places = ({ session, shown }: Props) => {
  const { places, screen, piece } = shown;
  const said = useWords().places;
  const fold = useFold('places');
  if (piece === null || places.length === 0) return null;
  const screens = screen === null ? [] : screensOf(screen);
  const seen = new Set(screens.flatMap(({ systems }) => systems.flatMap((system) => system.places)));
  const left = new Set(screens.flatMap((one) => one.left));
  const here = places.filter(({ id }) => seen.has(id));
  const others = places.filter(({ id }) => !seen.has(id));
  const crowded = places.filter(({ id }) => left.has(id)).map(({ number }) => number);
  return (
    <section class="places" aria-label={said.all}>
      <p>{here.length === 0 ? said.none : said.here}</p>
      <ul>
        {here.map((place) => (
          <Row key={place.id} place={place} session={session} />
        ))}
      </ul>
      {here.some(({ seams }) => seams.length > 0) && <Key label={said.key} players={onPage(shown)} />}
      {crowded.length > 0 && <p class="aside">{said.crowded(crowded)}</p>}
      {others.length > 0 && (
        <details {...fold}>
          <summary>{said.others(others.length)}</summary>
          <ul>
            {others.map((place) => (
              <Row key={place.id} place={place} session={session} />
            ))}
          </ul>
        </details>
      )}
    </section>
  );
};

/** Where players sat and what they played: asked once. */
import { Write } from '../Fields.tsx';
import { useWords } from '../words/context.ts';
import type { HeardTakes } from './heardTakes.ts';

interface Props {
  readonly heard: HeardTakes;
  readonly parts: readonly { readonly id: string; readonly name: string }[];
}

export const Seats = ({ heard, parts }: Props) => {
  const { reading } = useWords();
  const { seating } = heard;
  const { seats } = seating;
  const written = heard.now.kept?.reading.parts ?? [];
  return (
    <details>
      <summary>{reading.seats}</summary>
      <p class="aside">{reading.seatsHelp}</p>
      {parts.map(({ id, name }) => (
        <p key={id}>
          {name || id}{' '}
          <Write
            name={`seat-${id}`}
            label={reading.seat(name || id)}
            value={seats[id] ?? ''}
            size={3}
            digits
            onWrite={(metres) => seating.sit(id, metres)}
          />{' '}
          m,{' '}
          <Write
            name={`instrument-${id}`}
            label={reading.instrument(name || id)}
            value={seating.instrumentOf(id)}
            hint={written.find((part) => part.id === id)?.name ?? id}
            size={8}
            onWrite={(text) => seating.plays(id, text)}
          />
        </p>
      ))}
      <p class="aside">{reading.instrumentsHelp}</p>
    </details>
  );
};

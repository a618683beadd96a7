/** The key to the hues and lines of the players, beside a page on which they mean something. */
import { playerLine } from '../desk/playerLines.ts';
import { useWords } from './words/context.ts';

/** Of the sample, in pixels: as long as two of the longest strokes, and a staff space of the page. */
const sample = { width: 30, height: 10, space: 6 } as const;

const Line = ({ index }: { readonly index: number }) => {
  const { hue, dashes } = playerLine(index);
  return (
    <svg class="line-sample" width={sample.width} height={sample.height} aria-hidden="true">
      <line
        x1="0"
        x2={sample.width}
        y1={sample.height / 2}
        y2={sample.height / 2}
        stroke={hue}
        stroke-width="2.5"
        {...(dashes.length === 0
          ? {}
          : { 'stroke-dasharray': dashes.map((length) => length * sample.space).join(' ') })}
      />
    </svg>
  );
};

interface Props {
  /** What the lines stand for. */
  readonly label: string;
  /** In the order of the page. */
  readonly players: readonly string[];
}

export const Key = ({ label, players }: Props) => {
  const { places } = useWords();
  return (
    <div class="key aside">
      <p id="key-label">{label}</p>
      <ul aria-labelledby="key-label">
        {players.map((name, i) => (
          <li key={i}>
            <Line index={i} /> {name}
            <span class="unseen">: {places.lines[i % places.lines.length]}</span>
          </li>
        ))}
      </ul>
    </div>
  );
};

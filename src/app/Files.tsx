/** Files out and in: what is taken along, and another score. */
import { useState } from 'preact/hooks';
import { pageFiles } from '../desk/pageFiles.ts';
import { savedFile } from '../host/browser/index.ts';
import { useFold } from './fold.ts';
import type { Session, Shown } from './session.ts';
import { useWords } from './words/context.ts';
import type { Words } from './words/index.ts';

interface Props {
  readonly session: Session;
  readonly shown: Shown;
}

/** What can be taken along beside the pages of the parts. */
const files = [
  'score.pdf',
  'places.pdf',
  'full.wav',
  'parts.wav',
  'click.wav',
  'drill.mid',
  'drill.musicxml',
  'timeline.json',
] as const;

/** Files of which there is nothing where a score has bars alone. */
const ofParts: readonly string[] = ['score.pdf', 'places.pdf', 'full.wav', 'parts.wav'];

interface Row {
  readonly file: string;
  readonly said: string;
}

/** The files of the drill that is shown, with words for each. */
const rowsOf = ({ piece, drill }: Shown, margin: Words['margin']): readonly Row[] => {
  const all = piece?.look.parts ?? [];
  const named = drill?.drill.parts ?? null;
  const kept = all.filter(({ id, name }) => named === null || named.includes(id) || named.includes(name));
  const parts = pageFiles(kept, all).flatMap(({ part, name, file }) =>
    part === null ? [] : [{ file, said: margin.partPage(name) }],
  );
  const others = files
    .filter((file) => all.length > 0 || !ofParts.includes(file))
    .map((file) => ({ file, said: margin.files[file] }));
  return [...parts, ...others];
};

export const TakeAlong = ({ session, shown }: Props) => {
  const { margin } = useWords();
  const fold = useFold('files');
  const [making, setMaking] = useState<string | null>(null);
  const take = async (name: string): Promise<void> => {
    setMaking(name);
    const made = await session.file(name);
    setMaking(null);
    if (made !== null) savedFile(made.name, made.bytes);
  };
  return (
    <div class="take">
      <details {...fold}>
        <summary>{margin.take}</summary>
        <p class="aside" role="status">
          {making === null ? '' : margin.filePending}
        </p>
        <ul>
          {rowsOf(shown, margin).map(({ file, said }) => (
            <li key={file}>
              <button
                type="button"
                disabled={shown.drill === null || making !== null}
                onClick={() => void take(file)}
              >
                {said} <span class="file">{file}</span>
              </button>
            </li>
          ))}
        </ul>
      </details>
    </div>
  );
};

export const OpenScore = ({ onFile }: { readonly onFile: (file: File) => void }) => {
  const { margin } = useWords();
  return (
    <p class="open">
      <label>
        <span>{margin.open}</span>
        <input
          type="file"
          name="score"
          accept=".musicxml,.xml,.mxl,.mei,.krn,.kern,.hmd,.abc,.mid,.midi,.txt"
          onChange={(event) => {
            const [file] = event.currentTarget.files ?? [];
            if (file !== undefined) onFile(file);
            event.currentTarget.value = '';
          }}
        />
      </label>{' '}
      <small>{margin.openHelp}</small>
    </p>
  );
};

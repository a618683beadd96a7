/** Files out and in: what is taken along, and another score. */
import { savedFile } from '../host/browser/index.ts';
import type { Session, Shown } from './session.ts';
import { useWords } from './words/context.ts';

interface Props {
  readonly session: Session;
  readonly shown: Shown;
}

const files = ['click.wav', 'drill.mid', 'drill.musicxml', 'timeline.json'] as const;

export const TakeAlong = ({ session, shown: { drill } }: Props) => {
  const { margin } = useWords();
  return (
    <div class="take">
      <details>
        <summary>{margin.take}</summary>
        <ul>
          {files.map((name) => (
            <li key={name}>
              <button
                type="button"
                disabled={drill === null}
                onClick={() => {
                  void session.file(name).then((made) => {
                    if (made !== null) savedFile(made.name, made.bytes);
                  });
                }}
              >
                {margin.files[name]} <span class="file">{name}</span>
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

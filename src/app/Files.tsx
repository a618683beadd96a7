/** Files out and in: what is taken along, and another score. */
import { savedFile } from '../host/browser/index.ts';
import type { Session, Shown } from './session.ts';
import { words } from './wording.ts';

interface Props {
  readonly session: Session;
  readonly shown: Shown;
}

const files = [
  { name: 'click.wav', words: 'the clicks as sound' },
  { name: 'drill.mid', words: 'MIDI' },
  { name: 'drill.musicxml', words: 'MusicXML' },
  { name: 'timeline.json', words: 'all times' },
] as const;

export const TakeAlong = ({ session, shown: { drill } }: Props) => (
  <div class="take">
    <details>
      <summary>{words.take}</summary>
      <ul>
        {files.map((file) => (
          <li key={file.name}>
            <button
              type="button"
              disabled={drill === null}
              onClick={() => {
                void session.file(file.name).then((made) => {
                  if (made !== null) savedFile(made.name, made.bytes);
                });
              }}
            >
              {file.words} <span class="file">{file.name}</span>
            </button>
          </li>
        ))}
      </ul>
    </details>
  </div>
);

export const OpenScore = ({ onFile }: { readonly onFile: (file: File) => void }) => (
  <p class="open">
    <label>
      <span>{words.open}</span>
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
    <small>{words.openHelp}</small>
  </p>
);

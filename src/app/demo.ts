/** The piece that the page opens on, and the passage of it: one line of eighths, divided between two players. */
import demoUrl from '../../demo/lanterns-on-the-towpath.musicxml?url';
import { fail, ok, type Result } from '../units/index.ts';
import { nothingAsked, type Asked } from './asked.ts';

export const demoAsked: Asked = { ...nothingAsked, from: '10', to: '17', keep: '1/8', click: 'weak' };

/** The demo's bytes, which come with the page. Error: `file-missing`. */
export const demoPiece = async (): Promise<Result<Uint8Array>> => {
  const missing = fail(
    'file-missing',
    'The demo piece did not come with the page. Open a score of your own.',
  );
  try {
    const answer = await fetch(demoUrl);
    return answer.ok ? ok(new Uint8Array(await answer.arrayBuffer())) : missing;
  } catch {
    return missing;
  }
};

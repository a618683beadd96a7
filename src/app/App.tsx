/** The whole page. */
import { pickedFile } from '../host/browser/index.ts';
import { Margin } from './Margin.tsx';
import { Page } from './Page.tsx';
import type { Session } from './session.ts';

/** Opens a file that was picked or dropped. */
export const openFile = async (session: Session, file: File): Promise<void> => {
  const bytes = await pickedFile(file);
  if (bytes.ok) await session.open(bytes.value);
  else session.refuse(bytes.error);
};

export const App = ({ session }: { readonly session: Session }) => (
  <div class="stand">
    <Page shown={session.shown} onWidth={(options) => session.fit(options)} />
    <Margin session={session} shown={session.shown} onFile={(file) => void openFile(session, file)} />
  </div>
);

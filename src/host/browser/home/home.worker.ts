/** The thread that makes packs and printed plans. The packers of sound and pages are loaded here and nowhere else. */
import { makePacks, planFiles, readRequest, type FileToWrite, type PackDrill } from '../../../desk/index.ts';
import { ok, type Problem } from '../../../units/index.ts';
import { flacEncoder } from '../../flac.ts';
import { pdfMaker } from '../../pdf.ts';
import { answering } from '../calls.ts';
import type { MadeFile } from '../desk.ts';
import { browserEngraver } from '../engraver.ts';
import { gathered } from '../gathered.ts';
import { browserFonts } from '../pdfFonts.ts';
import { browserWords } from '../words.ts';
import type { HomeCalls, HomeProgress } from './home.ts';

const engraver = browserEngraver();

const filesOf = (files: readonly FileToWrite[]): readonly MadeFile[] =>
  files.map(({ name, chunks }) => ({ name, bytes: gathered(chunks) }));

answering<HomeCalls>({
  packs: async ({ bytes, settings, drills, sound, spoken, language, players }) => {
    const wanted: PackDrill[] = [];
    for (const { name, texts } of drills) {
      const request = readRequest(texts);
      if (!request.ok) return request;
      wanted.push({ name, request: request.value });
    }
    const spokenWords = spoken === null ? null : await browserWords.read(spoken);
    // Words that do not come are no reason to withhold the rest.
    const lacking: readonly Problem[] =
      spokenWords?.ok === false ? [{ ...spokenWords.error, severity: 'note' }] : [];
    const pdf = pdfMaker(await browserFonts());
    const made = await makePacks(
      bytes,
      wanted,
      {
        sheets: { engraver, pdf },
        flac: flacEncoder,
        progress: (done, of) => {
          const now: HomeProgress = { done, of };
          postMessage(now);
        },
      },
      {
        settings,
        sound: { ...sound, words: spokenWords?.ok === true ? spokenWords.value : null },
        language,
        players,
      },
    );
    return made.ok ? ok(filesOf(made.value), [...made.problems, ...lacking]) : made;
  },
  plan: async ({ plan, language }) => {
    const pdf = pdfMaker(await browserFonts());
    const made = await planFiles(plan, { engraver, pdf }, language);
    return made.ok ? ok(filesOf(made.value), made.problems) : made;
  },
});

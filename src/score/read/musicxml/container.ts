/** Compressed MusicXML (.mxl). Source: MusicXML 4.0, "Compressed MusicXML files" and container.xsd. */
import { ok, problem, Refusal, refusable, type Problem, type Result } from '../../../units/index.ts';
import { decodeText } from '../text.ts';
import { attribute, child, childrenOf, parseXml } from '../xml.ts';
import { unzipEntry, zipEntries, type ZipEntry } from '../zip.ts';

const musicTypes = new Set([
  '',
  'application/vnd.recordare.musicxml+xml',
  'application/vnd.recordare.musicxml',
]);

const orRefuse = <T>(result: Result<T>): { readonly value: T; readonly problems: readonly Problem[] } => {
  if (!result.ok) {
    const { code, message, part, bar, line, column } = result.error;
    throw new Refusal(code, message, {
      ...(part === undefined ? {} : { part }),
      ...(bar === undefined ? {} : { bar }),
      ...(line === undefined ? {} : { line }),
      ...(column === undefined ? {} : { column }),
    });
  }
  return result;
};

/** The path that the container names first as music; null where it names none. */
const rootPath = (bytes: Uint8Array, container: ZipEntry): string | null => {
  const { value: text } = orRefuse(decodeText(orRefuse(unzipEntry(bytes, container)).value));
  const { value: root } = orRefuse(parseXml(text));
  const files = child(root, 'rootfiles');
  const first =
    files === undefined
      ? undefined
      : childrenOf(files, 'rootfile').find((file) => musicTypes.has(attribute(file, 'media-type')));
  return first === undefined ? null : attribute(first, 'full-path');
};

const looksLikeMusic = ({ name }: ZipEntry): boolean =>
  !name.startsWith('META-INF/') && !name.includes('__MACOSX/') && /\.(xml|musicxml)$/i.test(name);

/**
 * The text of the score inside a compressed file. Errors: those of the archive and of the text; `not-a-score` where the
 * archive holds no MusicXML.
 */
export const unpackMxl = (bytes: Uint8Array): Result<string> =>
  refusable(() => {
    const { value: entries } = orRefuse(zipEntries(bytes));
    const container = entries.find(({ name }) => name === 'META-INF/container.xml');
    const path = container === undefined ? null : rootPath(bytes, container);
    const named = path === null ? undefined : entries.find(({ name }) => name === path);
    const problems: Problem[] = [];
    let entry = named;
    if (entry === undefined) {
      const candidates = entries.filter(looksLikeMusic);
      const [only] = candidates;
      if (only === undefined)
        throw new Refusal('not-a-score', 'The file is a compressed archive without a MusicXML score in it.');
      if (candidates.length > 1)
        throw new Refusal(
          'container-unclear',
          `The compressed file holds ${candidates.length} XML files and does not say which of them is the score.`,
        );
      entry = only;
      problems.push(
        problem(
          'repair',
          'container-missing',
          `The compressed file does not say which file inside it is the score; "${only.name}", the only candidate, is read.`,
        ),
      );
    }
    const { value: text, problems: textProblems } = orRefuse(
      decodeText(orRefuse(unzipEntry(bytes, entry)).value),
    );
    return ok(text, [...problems, ...textProblems]);
  });

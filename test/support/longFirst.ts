/**
 * Files that take long begin first, so that all workers end together; a fresh clone knows no durations of its own. Those of the browser and those
 * without stand in turns: the one waits for its sound while the other works.
 */
import { BaseSequencer, type TestSpecification } from 'vitest/node';

/** By the processor time that they took, longest first. */
const long = [
  'together/coverage',
  'browser/shelf',
  'score/hostile-formats',
  'browser/hand',
  'desk/pack/pack',
  'browser/takes',
  'cli/cli',
  'browser/lettingGo',
  'sound/parts',
  'browser/reading',
  'plan/lettingGo',
  'browser/liveParts',
  'sheet/places',
  'browser/sound',
  'listen/player',
  'browser/looks',
  'lines/report',
  'browser/page',
  'sheet/pdf',
  'browser/',
];

const rank = ({ moduleId }: TestSpecification): number => {
  const at = long.findIndex((name) =>
    name.endsWith('/') ? moduleId.includes(`/test/${name}`) : moduleId.endsWith(`/test/${name}.test.ts`),
  );
  return at < 0 ? long.length : at;
};

export class LongFirst extends BaseSequencer {
  /** The rest as usual: by size. */
  override async sort(files: TestSpecification[]): Promise<TestSpecification[]> {
    return (await super.sort(files)).sort((a, b) => rank(a) - rank(b));
  }
}

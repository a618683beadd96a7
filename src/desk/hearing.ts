/** The ear and what is shown of a reading, for a thread of its own: nothing else of the desk comes with it. */
export { readWav } from '../sound/wav/read.ts';
export { hear } from './hear.ts';
export type { TakeFile } from './hearAssign.ts';
export { chartWidth, readingCharts } from './readingCharts.ts';
export { readingCsv } from './readingCsv.ts';
export { readingPages } from './readingPages.ts';
export { readingShown, workedDrill } from './readingShown.ts';
export { calledBy, readingWithout } from './readingWithout.ts';
export { playedDrill } from './takeReading.ts';

/** Takes: what sounded while they were recorded, and the shape of their sound. */
export { endLine, headLine, leftLine, notesState, runLine, shelvedLine } from './notes.ts';
export {
  performedOf,
  performedSchema,
  type Performed,
  type PerformedHead,
  type PerformedRun,
  type RunBegun,
} from './performed.ts';
export {
  bytesPerSample,
  longestTake,
  loudnessOf,
  rateIn,
  samplesIn,
  takeHeader,
  takeHeaderSize,
  type Loudness,
} from './sound.ts';

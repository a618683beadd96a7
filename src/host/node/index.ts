export { nodeReader } from './read.ts';
export { nodeWriter } from './write.ts';
export { terminalProgress, type TerminalLike, type TerminalProgress } from './progress.ts';
export { nodeEngraver, type NodeEngraver } from './engraver.ts';
export { nodePdf } from './pdf.ts';
export { nodePng } from './png.ts';
export { nodeSounds } from './sounds.ts';
export { nodeWords } from './words.ts';
export { flacEncoder } from '../flac.ts';

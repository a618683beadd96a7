export { nodeReader } from './read.ts';
export { nodeWriter } from './write.ts';
export { terminalProgress, type TerminalLike, type TerminalProgress } from './progress.ts';

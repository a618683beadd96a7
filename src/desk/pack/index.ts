/** What players take home. */
export { safeName, safeNames } from './names.ts';
export {
  makePacks,
  requestOf,
  type FlacPort,
  type PackDrill,
  type PackOptions,
  type PackPorts,
} from './pack.ts';
export { plainClick, type PlainClick } from './plainClick.ts';

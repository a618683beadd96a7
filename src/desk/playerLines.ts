/** How the players are told apart on a page: a hue and a line style each. */
export { playerLine, type PlayerLine } from '../sheet/pencil.ts';

/** Readings as charts: SVG texts on the bar lines of the passage. */
export { barAxis, type BarAxis } from './axis.ts';
export { drawn } from './chart.ts';
export type { Chart, ChartBar, ChartPlayer, Drawn, Field, Pen, Point } from './model.ts';

/** What a chart is made of: bars in time, players with their pens, and figures with the ends of their intervals. */

/** One hue and one line style for each player; both, so that no one has to tell hues apart. */
export interface Pen {
  readonly hue: string;
  /** SVG's `stroke-dasharray` in pixels; empty: unbroken. */
  readonly dashes: readonly number[];
}

export interface ChartPlayer {
  /** Empty: there is no other to tell it from, so it needs no line in the key. */
  readonly name: string;
  readonly pen: Pen;
}

/** A bar of the passage, in the seconds that the drill asks for. */
export interface ChartBar {
  /** Printed number; empty for an upbeat. */
  readonly label: string;
  readonly start: number;
  readonly end: number;
}

/** A figure at a place; low and high are null where no interval is known. */
export interface Point {
  /** Index in the chart's players. */
  readonly player: number;
  /** Index in the chart's bars, and how much of the bar has gone by: 0 to 1. */
  readonly bar: number;
  readonly within: number;
  readonly value: number;
  readonly low: number | null;
  readonly high: number | null;
  /** Whether it holds for the bar from `within` to its end and not for a moment. */
  readonly wholeBar: boolean;
}

/** One field of a chart; several share the bar lines. */
export interface Field {
  /** What is drawn, with its unit. */
  readonly head: string;
  /** Words at the upper and lower edge: what above and below mean. */
  readonly above: string;
  readonly below: string;
  /** A thin line at this value: nothing apart, the click's tempo; null: none. */
  readonly base: number | null;
  readonly points: readonly Point[];
}

export interface Chart {
  readonly title: string;
  /** For those who do not see it. */
  readonly alternative: string;
  /** Stands between whole and fraction. */
  readonly point: string;
  readonly bars: readonly ChartBar[];
  /** Pixels of a bar of middle length; left out: as usual. */
  readonly perBar?: number;
  readonly players: readonly ChartPlayer[];
  readonly fields: readonly Field[];
}

export interface Drawn {
  readonly svg: string;
  readonly alternative: string;
}

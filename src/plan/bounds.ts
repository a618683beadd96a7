/** What the rule for the steps rests on, number by number, and where each comes from. docs/letting-go.md tells the same in words. */

/** "research": found by others about something close to this; "practice": common practice or our choice, no source. */
export type Basis = 'research' | 'practice';

interface Bound {
  readonly value: number;
  readonly basis: Basis;
  /** Source, or what speaks for the choice. */
  readonly why: string;
}

/** Every number that the rule uses. */
export const bounds = {
  apart: {
    value: 50,
    basis: 'research',
    why: 'Milliseconds, standard deviation between two players: the upper end of 30 to 50 ms in good trios (Rasch 1979, Acustica 43:121; from memory). That it is the border of a step is our choice.',
  },
  arrival: {
    value: 0.025,
    basis: 'research',
    why: 'Share of the time from one click to the next: a tone displaced by 2.5 % of the interval is just noticed (Friberg & Sundberg 1995, JASA 98:2524).',
  },
  arrivalLeast: {
    value: 30,
    basis: 'practice',
    why: 'Milliseconds: no arrival closer than this is held against anyone; a reading of wind tones is hardly surer.',
  },
  change: {
    value: 3,
    basis: 'research',
    why: 'Percent of tempo: about what is noticed after six even intervals (Drake & Botte 1993, Percept Psychophys 54:277).',
  },
  changeTold: {
    value: 6,
    basis: 'practice',
    why: 'Percent: half of an interval that is wider than this tells nothing of the tempo.',
  },
  fewest: {
    value: 12,
    basis: 'practice',
    why: 'Places that a pair shares, below which nothing is concluded.',
  },
  heard: {
    value: 0.6,
    basis: 'practice',
    why: 'Share of the notes that must be surely heard.',
  },
  inARow: {
    value: 2,
    basis: 'practice',
    why: 'Takes one after the other that must say the same: one lucky take moves no one on, one unlucky take no one back.',
  },
  atOneStep: {
    value: 5,
    basis: 'practice',
    why: 'Takes at one step in a rehearsal after which a place is left for today.',
  },
  aDay: {
    value: 10,
    basis: 'practice',
    why: 'Takes of one place in a rehearsal. That alternating passages is better than staying with one is research (Carter & Grahn 2016, clarinettists); the number is our choice.',
  },
} as const satisfies Readonly<Record<string, Bound>>;

/** What the whole of the steps rests on. */
export const grounds: readonly { readonly basis: Basis; readonly why: string }[] = [
  {
    basis: 'research',
    why: 'Feedback that fades over practice helps what stays (Winstein & Schmidt 1990, JEP:LMC 16:677; Aoyagi et al. 2019, JPTS 31:687); against it: an advantage gone after a day (Dyer et al. 2017).',
  },
  {
    basis: 'practice',
    why: 'A click paces and is no feedback: that it should be taken away step by step is an extrapolation of ours.',
  },
  {
    basis: 'research',
    why: 'Pairs keep the tempo better when they hear their partner (Schultz & Palmer 2019).',
  },
  {
    basis: 'practice',
    why: 'That a place counts as held only at the first try of a later rehearsal: what is kept shows later, as in tests of retention.',
  },
];

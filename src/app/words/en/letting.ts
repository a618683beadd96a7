/** Steps, journal, plan and packs, in English. */
import { margin } from './page.ts';

const clicks: Readonly<Record<string, string>> = margin.clicks;
const keeps: Readonly<Record<string, string>> = margin.keeps;

export interface StepFacts {
  readonly keep: string;
  readonly click: string;
  readonly countIn: string;
  /** "58 · 66 · 72". */
  readonly tempo: string;
  /** Who cues. */
  readonly cues: string;
}

const minutesText = (count: number): string => `${count} ${count === 1 ? 'minute' : 'minutes'}`;

/** "2026-11-28" as "28 Nov 2026"; noon, so that no time zone turns it into another day. */
const day = (date: string): string =>
  new Intl.DateTimeFormat('en-GB', {
    day: 'numeric',
    month: 'short',
    year: 'numeric',
    timeZone: 'UTC',
  }).format(new Date(`${date}T12:00:00Z`));

/** "Sat, 5 Dec 2026". */
const weekday = (date: string): string =>
  new Intl.DateTimeFormat('en-GB', {
    weekday: 'short',
    day: 'numeric',
    month: 'short',
    year: 'numeric',
    timeZone: 'UTC',
  }).format(new Date(`${date}T12:00:00Z`));

export const letting = {
  steps: 'Steps: from the click to none',
  stepsLabel: 'From most click to none',
  step: ({ keep, click, countIn, tempo, cues }: StepFacts): string => {
    if (click === 'none')
      return countIn === 'none' ? `${cues} cues, nobody counts` : 'counted in, then no click';
    const where = click.startsWith('hemiola') ? 'on the beats of the hemiola' : (clicks[click] ?? click);
    const what = keep === 'all' ? '' : `${keeps[keep] ?? keep} alone, `;
    return `${what}click ${where}${tempo === '' ? '' : `, ${tempo}`}`;
  },
  aside: 'beside it: ',
  next: 'next',
  today: (count: number): string => `today ${count === 1 ? 'once' : `${count} times`}`,
  standings: {
    new: 'Not tried yet.',
    open: 'On its way.',
    'to-retest': 'Held without a click; the first try of a later rehearsal will show.',
    held: 'Held.',
  },
  how: 'How was it, by your ears?',
  held: 'it held',
  notYet: 'not yet',
  choose: 'Choose a step first; then say how it was.',
  noPlace: 'These bars are no place of their own; choose one from the list above.',
  decisions: { stay: 'stay', on: 'on', back: 'back', leave: 'leave it for today' },
  yours: 'You decide.',
  /** Who cues the last step, where no one is named. */
  cuesSomeone: 'one of you',
  decided: {
    stay: 'You stay.',
    on: 'You go on.',
    back: 'You go back.',
    leave: 'Left for today.',
  },
  journal: {
    title: 'Journal',
    none: 'Nothing yet. It fills with each take that is read, or of which you say how it was.',
    day,
    bars: (bars: string): string =>
      bars.startsWith('@') ? 'a place' : `${/-/.test(bars) ? 'bars' : 'bar'} ${bars.replace('-', ' to ')}`,
    place: (bars: string, kind: string): string => (kind === '' ? bars : `${bars}: ${kind}`),
    own: 'bars of your own',
    takes: (count: number): string => (count === 1 ? 'one take' : `${count} takes`),
    told: { '': '', held: 'it held, by your ears', 'not-yet': 'not yet, by your ears' },
    verdicts: {
      holds: 'it held',
      breaks: 'it came apart',
      open: 'cannot be told',
      unheard: 'too little was heard',
    },
    /** Where a player had their share of a take deleted. */
    shareGone: 'a player’s share of it is deleted',
    growth: 'from rehearsal to rehearsal',
    rehearsals: 'Rehearsals',
    rehearsal: (date: string, minutes: number, who: string): string =>
      `${date}: ${minutesText(minutes)} planned${who === '' ? '' : `, with ${who}`}`,
    taken: (date: string, who: string): string => `${date}${who === '' ? '' : `: ${who}`}`,
    notes: 'Notes',
    write: 'Write down',
    writeLabel: 'A note for the journal',
    about: 'about',
    aboutLabel: 'What the note is about',
    whole: 'the whole piece',
    by: 'by',
    byLabel: 'Who writes it',
    all: 'all of you',
    keep: 'Keep it',
    rubOut: 'rub out',
    rubOutLabel: (text: string): string => `Rub out the note ${text}`,
    files: 'Journals together',
    along: 'Take the journal along as a file',
    bring: 'Bring in another journal',
    bringHelp:
      'One that was taken along from another device. Both become one; what was deleted stays deleted.',
    fileName: (name: string): string => `${name}.journal.json`,
    whose: 'What is kept about each player',
    nobody: 'No player has a name here.',
    give: (name: string): string => `give ${name} all of it as a file`,
    forget: 'delete it',
    forgetLabel: (name: string): string => `Delete all that is kept about ${name}`,
    askForget: (name: string): string =>
      `Delete name, parts, presence, notes, figures and own recordings of ${name}, for good? Recordings of all together stay.`,
    reallyForget: 'Yes, delete',
    playerFile: (name: string): string => `${name}.player.json`,
    forgotten: (name: string): string => `All that was kept about ${name} is deleted.`,
  },
  plan: {
    title: 'Plan',
    minutes: 'minutes there are',
    minutesLabel: 'How many minutes there are',
    who: 'Who is there',
    concert: 'the concert is on',
    concertLabel: 'Day of the concert',
    noConcert: 'a day not set yet',
    weekday,
    days: (days: number): string => (days === 0 ? 'today' : days === 1 ? 'in one day' : `in ${days} days`),
    make: 'Make a plan',
    again: 'Make it anew',
    onlyThis:
      'The plan holds places of the piece that is open, and a day has one plan: for several pieces, print each before you plan the next.',
    waiting: 'The places of this piece are still being looked for.',
    noPlaces: 'No place was found in this piece, so there is nothing to plan.',
    list: 'The plan',
    kinds: {
      settle: '',
      retest: 'first try, without a click: ',
      work: '',
      break: 'break',
      free: 'play through, freely',
    },
    at: (minute: number): string => `${Math.floor(minute / 60)}:${String(minute % 60).padStart(2, '0')}`,
    itemMinutes: (what: string): string => `Minutes for ${what}`,
    short: 'min',
    up: 'earlier',
    down: 'later',
    out: 'leave out',
    labelled: (word: string, what: string): string => `${word}: ${what}`,
    remarks: {
      'over-time': 'This is longer than the time there is.',
      'under-time': 'Some of the time is left over.',
      'no-break': 'There is no break within an hour of playing.',
      'same-twice': 'The same place comes twice in a row; turns keep better.',
      'retest-not-first': 'What held last time comes after other work, so it is no first try.',
      'no-free-end': 'It does not end with free playing.',
    },
    absent: (what: string): string => `Not all are there for ${what}.`,
    left: (count: number): string => `No time for ${count} more ${count === 1 ? 'place' : 'places'}.`,
    begin: 'Begin with it',
    print: 'Print it',
    printing: 'It is being made.',
    file: 'plan.pdf',
    remaining: (what: string, minutes: number): string =>
      `${what}, ${minutes === 0 ? 'under a minute' : minutesText(minutes)} left`,
    over: (what: string): string => `${what}: its time is over`,
    then: (what: string): string => `then ${what}`,
    end: 'the plan is done',
    leave: 'leave the plan',
    running: 'The plan',
  },
  home: {
    title: 'A pack for each player',
    what: 'what goes in',
    whatLabel: 'Which drills go in',
    these: 'the drill as it stands here',
    saved: 'the saved drills',
    plan: 'the places of the plan',
    make: 'Make a pack for each player',
    help: 'For each player one file: own part, click, click with the others, MIDI, MusicXML, and a page in plain words.',
    making: (done: number, of: number): string =>
      of === 0 ? 'Being made …' : `Being made: ${done} of ${of} …`,
    stop: 'call it off',
    ready: 'Ready; each goes to its player:',
    save: (player: string): string => `the pack of ${player}`,
  },
};

/** Steps, journal, plan and packs, in German. */
import type { Words } from '../en/index.ts';
import { margin } from './page.ts';

const clicks: Readonly<Record<string, string>> = margin.clicks;
const keeps: Readonly<Record<string, string>> = margin.keeps;

const minutesText = (count: number): string => `${count} ${count === 1 ? 'Minute' : 'Minuten'}`;

const day = (date: string): string =>
  new Intl.DateTimeFormat('de-DE', {
    day: 'numeric',
    month: 'long',
    year: 'numeric',
    timeZone: 'UTC',
  }).format(new Date(`${date}T12:00:00Z`));

const weekday = (date: string): string =>
  new Intl.DateTimeFormat('de-DE', {
    weekday: 'short',
    day: 'numeric',
    month: 'long',
    year: 'numeric',
    timeZone: 'UTC',
  }).format(new Date(`${date}T12:00:00Z`));

export const letting: Words['letting'] = {
  steps: 'Schritte: vom Klick zu keinem',
  stepsLabel: 'Von viel Klick zu keinem',
  step: ({ keep, click, countIn, tempo, cues }) => {
    if (click === 'none')
      return countIn === 'none' ? `${cues} gibt den Einsatz, niemand zählt` : 'eingezählt, dann kein Klick';
    const where = click.startsWith('hemiola') ? 'auf die Schläge der Hemiole' : (clicks[click] ?? click);
    const what = keep === 'all' ? '' : `nur ${keeps[keep] ?? keep}, `;
    return `${what}Klick ${where}${tempo === '' ? '' : `, ${tempo}`}`;
  },
  aside: 'daneben: ',
  next: 'als Nächstes',
  today: (count) => `heute ${count === 1 ? 'einmal' : `${count}-mal`}`,
  standings: {
    new: 'Noch nicht versucht.',
    open: 'Unterwegs.',
    'to-retest': 'Hielt ohne Klick; der erste Versuch einer späteren Probe zeigt es.',
    held: 'Hält.',
  },
  how: 'Wie war es, nach eurem Gehör?',
  held: 'es hielt',
  notYet: 'noch nicht',
  choose: 'Erst einen Schritt wählen, dann sagen, wie es war.',
  noPlace: 'Diese Takte sind keine eigene Stelle; oben eine wählen.',
  decisions: { stay: 'bleiben', on: 'weiter', back: 'zurück', leave: 'für heute lassen' },
  yours: 'Ihr entscheidet.',
  cuesSomeone: 'jemand von euch',
  decided: {
    stay: 'Ihr bleibt.',
    on: 'Ihr geht weiter.',
    back: 'Ihr geht zurück.',
    leave: 'Für heute gelassen.',
  },
  journal: {
    title: 'Journal',
    none: 'Noch nichts. Es füllt sich mit jedem Durchgang, der gelesen wird oder von dem ihr sagt, wie er war.',
    day,
    bars: (bars) =>
      bars.startsWith('@')
        ? 'eine Stelle'
        : `${/-/.test(bars) ? 'Takte' : 'Takt'} ${bars.replace('-', ' bis ')}`,
    place: (bars, kind) => (kind === '' ? bars : `${bars}: ${kind}`),
    own: 'eigene Takte',
    takes: (count) => (count === 1 ? 'ein Durchgang' : `${count} Durchgänge`),
    told: { '': '', held: 'es hielt, nach Gehör', 'not-yet': 'noch nicht, nach Gehör' },
    verdicts: {
      holds: 'es hielt',
      breaks: 'es fiel auseinander',
      open: 'nicht zu erkennen',
      unheard: 'zu wenig gehört',
    },
    shareGone: 'ein Anteil daran ist gelöscht',
    growth: 'von Probe zu Probe',
    rehearsals: 'Proben',
    rehearsal: (date, minutes, who) =>
      `${date}: ${minutesText(minutes)} geplant${who === '' ? '' : `, mit ${who}`}`,
    taken: (date, who) => `${date}${who === '' ? '' : `: ${who}`}`,
    notes: 'Notizen',
    write: 'Aufschreiben',
    writeLabel: 'Eine Notiz fürs Journal',
    about: 'zu',
    aboutLabel: 'Wozu die Notiz gehört',
    whole: 'dem ganzen Stück',
    by: 'von',
    byLabel: 'Wer sie schreibt',
    all: 'euch allen',
    keep: 'Behalten',
    rubOut: 'ausradieren',
    rubOutLabel: (text) => `Die Notiz ${text} ausradieren`,
    files: 'Journale zusammen',
    along: 'Das Journal als Datei mitnehmen',
    bring: 'Ein anderes Journal hereinholen',
    bringHelp:
      'Eines, das von einem anderen Gerät mitgenommen wurde. Aus beiden wird eines; was gelöscht war, bleibt gelöscht.',
    fileName: (name) => `${name}.journal.json`,
    whose: 'Was über jeden aufbewahrt ist',
    nobody: 'Hier hat noch niemand einen Namen.',
    give: (name) => `${name} alles als Datei geben`,
    forget: 'löschen',
    forgetLabel: (name) => `Alles löschen, was über ${name} aufbewahrt ist`,
    askForget: (name) =>
      `Name, Stimmen, Anwesenheit, Notizen, Werte und eigene Aufnahmen von ${name} endgültig löschen? Aufnahmen von allen zusammen bleiben.`,
    reallyForget: 'Ja, löschen',
    playerFile: (name) => `${name}.player.json`,
    forgotten: (name) => `Alles, was über ${name} aufbewahrt war, ist gelöscht.`,
  },
  plan: {
    title: 'Plan',
    minutes: 'Minuten Zeit',
    minutesLabel: 'Wie viele Minuten da sind',
    who: 'Wer da ist',
    concert: 'Tag des Konzerts:',
    concertLabel: 'Tag des Konzerts',
    noConcert: 'noch offen',
    weekday,
    days: (days) => (days === 0 ? 'heute' : days === 1 ? 'in einem Tag' : `in ${days} Tagen`),
    make: 'Einen Plan machen',
    again: 'Neu machen',
    onlyThis:
      'Der Plan hat Stellen des Stücks, das offen ist, und ein Tag hat einen Plan: bei mehreren Stücken jeden drucken, bevor der nächste gemacht wird.',
    waiting: 'Die Stellen dieses Stücks werden noch gesucht.',
    noPlaces: 'In diesem Stück fand sich keine Stelle; es gibt nichts zu planen.',
    list: 'Der Plan',
    kinds: {
      settle: '',
      retest: 'erster Versuch, ohne Klick: ',
      work: '',
      break: 'Pause',
      free: 'durchspielen, frei',
    },
    at: (minute) => `${Math.floor(minute / 60)}:${String(minute % 60).padStart(2, '0')}`,
    itemMinutes: (what) => `Minuten für ${what}`,
    short: 'Min',
    up: 'früher',
    down: 'später',
    out: 'auslassen',
    labelled: (word, what) => `${word}: ${what}`,
    remarks: {
      'over-time': 'Das dauert länger als die Zeit, die da ist.',
      'under-time': 'Etwas Zeit bleibt übrig.',
      'no-break': 'Innerhalb einer Stunde Spielens ist keine Pause.',
      'same-twice': 'Dieselbe Stelle kommt zweimal nacheinander; was abwechselt, bleibt besser.',
      'retest-not-first': 'Was letztes Mal hielt, kommt nach anderer Arbeit; so ist es kein erster Versuch.',
      'no-free-end': 'Es endet nicht mit freiem Spiel.',
    },
    absent: (what) => `Nicht alle sind da für ${what}.`,
    left: (count) => `Keine Zeit für ${count} weitere ${count === 1 ? 'Stelle' : 'Stellen'}.`,
    begin: 'Damit anfangen',
    print: 'Drucken',
    printing: 'Wird gemacht.',
    file: 'plan.pdf',
    remaining: (what, minutes) =>
      `${what}, noch ${minutes === 0 ? 'unter einer Minute' : minutesText(minutes)}`,
    over: (what) => `${what}: die Zeit ist um`,
    then: (what) => `dann ${what}`,
    end: 'der Plan ist fertig',
    leave: 'den Plan lassen',
    running: 'Der Plan',
  },
  home: {
    title: 'Ein Päckchen für jeden',
    what: 'hinein kommt',
    whatLabel: 'Welche Übungen hineinkommen',
    these: 'die Übung, wie sie hier steht',
    saved: 'die gesicherten Übungen',
    plan: 'die Stellen des Plans',
    make: 'Für jeden ein Päckchen machen',
    help: 'Für jeden eine Datei: eigene Stimme, Klick, Klick mit den anderen, MIDI, MusicXML und eine Seite in einfachen Worten.',
    making: (done, of) => (of === 0 ? 'Wird gemacht …' : `Wird gemacht: ${done} von ${of} …`),
    stop: 'abbrechen',
    ready: 'Fertig; jedes geht an seinen Spieler:',
    save: (player) => `das Päckchen für ${player}`,
  },
};

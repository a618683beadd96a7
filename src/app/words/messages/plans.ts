/** Plans for rehearsals, the journal, and what players take home. */
import type { Pair } from '../patterns.ts';

export const plans: Readonly<Record<string, readonly Pair[]>> = {
  'pack-too-long': [
    [
      'A drill of {minutes} minutes is too long for a pack; up to {most} go in. Ask for fewer bars or repetitions.',
      'Eine Übung von {minutes} Minuten ist zu lang zum Mitnehmen; bis zu {most} gehen hinein. Weniger Takte oder Wiederholungen nehmen.',
    ],
  ],
  'pack-without-parts': [
    [
      'No player has notes in these drills, so there is nothing to take home.',
      'In diesen Übungen hat niemand Noten, also gibt es nichts mitzunehmen.',
    ],
  ],
  'sound-not-packed': [
    [
      'The sound could not be packed as FLAC: {why}. It is there as WAV.',
      'Der Klang ließ sich nicht als FLAC packen: {why}. Er liegt als WAV da.',
    ],
  ],
  'player-file': [
    [
      'This file is what was kept about one player, given to them on request. It is theirs to read; nothing is brought in from it.',
      'Diese Datei ist, was über jemanden aufgehoben war, auf Wunsch herausgegeben. Sie ist zum Lesen; hereingeholt wird daraus nichts.',
    ],
  ],
  'player-damaged': [
    [
      'This is not what is kept about a player: its "format" should be "levare.player/1".',
      'Das ist nicht, was über jemanden aufgehoben wird: Sein „format“ müsste „levare.player/1“ sein.',
    ],
    [
      'What was kept about a player is damaged: its field "{field}" is missing or is not what it should be.',
      'Was über jemanden aufgehoben war, ist beschädigt: Sein Feld „{field}“ fehlt oder ist nicht, was es sein sollte.',
    ],
  ],
  'plan-damaged': [
    [
      'This is not a plan: its "format" should be "levare.plan/1".',
      'Das ist kein Probenplan: Sein „format“ müsste „levare.plan/1“ sein.',
    ],
    [
      'The plan is damaged: its field "{field}" is missing or is not what it should be.',
      'Der Probenplan ist beschädigt: Sein Feld „{field}“ fehlt oder ist nicht, was es sein sollte.',
    ],
  ],
  'format-newer': [
    [
      'This plan has format version {n}; this Levare reads up to 1. A newer Levare wrote it: bring this one up to date.',
      'Dieser Probenplan hat die Formatversion {n}; dieses Levare liest bis 1. Er stammt von einem neueren Levare.',
    ],
    [
      'What was kept about a player has format version {n}; this Levare reads up to {own}. A newer Levare wrote it: bring this one up to date.',
      'Was über jemanden aufgehoben war, hat die Formatversion {n}; dieses Levare liest bis {own}. Es stammt von einem neueren Levare.',
    ],
  ],
  'score-changed': [
    [
      'This drill was made on another score. Name the score that lies in its folder.',
      'Diese Übung wurde auf anderen Noten gemacht. Die Noten nehmen, die in ihrem Ordner liegen.',
    ],
  ],
  'word-unknown': [
    [
      '"{text}" is not understood: what was decided is stay, on, back or leave.',
      '„{text}“ ist nicht verständlich: Entschieden wird stay, on, back oder leave.',
    ],
  ],
};

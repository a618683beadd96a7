/** What is said of recordings that are listened to. */
import type { Pair } from '../patterns.ts';

const begins = (kind: string): readonly Pair[] => [
  [
    `The file begins like ${kind}, but no sound can be made of it. It is damaged or cut off.`,
    `Die Datei beginnt wie ${kind}, aber kein Ton lässt sich daraus machen. Sie ist beschädigt oder abgeschnitten.`,
  ],
  [
    `The file begins like ${kind} but cannot be read as such. It is damaged or cut off.`,
    `Die Datei beginnt wie ${kind}, lässt sich aber nicht so lesen. Sie ist beschädigt oder abgeschnitten.`,
  ],
];

const eachOne =
  'Jeder Spieler braucht eine eigene Aufnahme; wer keine hat, bleibt weg, und von wem jede ist, steht dabei.';

export const hearing: Readonly<Record<string, readonly Pair[]>> = {
  'appoggiatura-free': [
    [
      "Notes with small notes before them (bars {bars}) are held against nobody in time: an appoggiatura takes the beat, and how much of it is the player's own.",
      'Töne mit kleinen Noten davor (Takte {bars}) werden in der Zeit niemandem entgegengehalten: ein Vorhalt nimmt sich den Schlag, und wie viel davon, ist Sache des Spielers.',
    ],
  ],
  'beat-model': [
    [
      'Where a note is felt to begin is taken as the moment at which it comes within 15 dB of its loudest; players are compared by that moment.',
      'Als gefühlter Beginn eines Tons gilt der Augenblick, in dem er bis auf 15 dB an sein Lautestes kommt; danach werden die Spieler verglichen.',
    ],
  ],
  'clock-by-notes': [
    [
      "No click is heard in {file}: it was laid on the drill's time by its notes. How far this player was from the others on the whole cannot be told.",
      'In {file} ist kein Klick zu hören: sie wurde nach ihren Tönen auf die Zeit der Übung gelegt. Wie weit dieser Spieler im Ganzen von den anderen lag, lässt sich nicht sagen.',
    ],
  ],
  'comparison-left-out': [
    [
      'When lengths of notes were compared between players, {left} of {all} notes were left out: they are not written alike (value, articulation, slurs).',
      'Beim Vergleich der Tonlängen zwischen den Spielern blieben {left} von {all} Tönen weg: sie sind nicht gleich geschrieben (Wert, Artikulation, Bögen).',
    ],
  ],
  'continuo-free': [
    [
      'What {names} plays above the bass is held against nobody: a continuo is realised as it is played.',
      'Was {names} über dem Bass spielt, wird niemandem entgegengehalten: ein Generalbass wird beim Spielen ausgesetzt.',
    ],
  ],
  'distance-given': [
    [
      'Distances to the microphone were taken as given: sound needs {ms} ms for a metre.',
      'Die Abstände zum Mikrofon wurden genommen, wie sie angegeben sind: Schall braucht {ms} ms für einen Meter.',
    ],
  ],
  'distance-unknown': [
    [
      '--distance says {metres} metres for {name}; it can be 0 to {most}.',
      'Für {name} sind {metres} Meter angegeben; es können 0 bis {most} sein.',
    ],
  ],
  'file-empty': [['{file} is empty.', '{file} ist leer.']],
  'format-newer': [
    [
      'This reading of a take has format version {version}; this Levare reads up to 1. A newer Levare wrote it: bring this one up to date.',
      'Diese Lesung einer Aufnahme hat die Formatversion {version}; dieses Levare liest bis 1. Ein neueres Levare hat sie geschrieben: dieses auf den neuen Stand bringen.',
    ],
  ],
  'lag-unknown': [
    [
      'How quickly instruments speak could not be told from this take for {names} (it is told from notes during which nobody else plays): who is ahead on the whole is not known better than {ms} ms there.',
      'Wie schnell die Instrumente ansprechen, ließ sich in dieser Aufnahme nicht sagen für {names} (es zeigt sich an Tönen, während derer sonst niemand spielt): wer im Ganzen voraus ist, ist dort nicht genauer als {ms} ms bekannt.',
    ],
  ],
  'levels-apart': [
    [
      'How loud the players are against each other is not told: their recordings were not made with one and the same microphone.',
      'Wie laut die Spieler gegeneinander sind, wird nicht gesagt: ihre Aufnahmen sind nicht mit ein und demselben Mikrofon gemacht.',
    ],
  ],
  'no-click-heard': [
    [
      "No click is heard in {name}: the players are held against each other, not against the drill's time.",
      'In {name} ist kein Klick zu hören: die Spieler werden aneinander gehalten, nicht an die Zeit der Übung.',
    ],
  ],
  'one-microphone': [
    [
      'All players were heard through one microphone. Where it is hard to tell whose beginning was heard (two begin one pitch together, or one is covered by others), or when it was, the note is called rough or unsure, and nothing rests on it. How loud a note is can be held against the same player’s other notes only.',
      'Alle Spieler wurden durch ein Mikrofon gehört. Wo schwer zu sagen ist, wessen Beginn zu hören war (zwei beginnen zusammen denselben Ton, oder einer ist von anderen verdeckt), oder wann er war, heißt der Ton ungefähr oder unsicher, und darauf stützt sich nichts. Wie laut ein Ton ist, lässt sich nur an die anderen Töne desselben Spielers halten.',
    ],
  ],
  'rolled-chord-free': [
    [
      "Rolled chords (bars {bars}) are held against nobody in time: which of their notes stands on the beat is the player's own.",
      'Gebrochene Akkorde (Takte {bars}) werden in der Zeit niemandem entgegengehalten: welcher ihrer Töne auf dem Schlag steht, ist Sache des Spielers.',
    ],
  ],
  'players-swapped': [
    [
      '{told}. Say whose each is: {order}',
      'Die Aufnahmen scheinen vertauscht ({told}). Angeben, von wem jede ist: {order}',
    ],
  ],
  'reading-damaged': [
    [
      'The reading of this take is damaged: its field "{field}" is missing or is not what it should be.',
      'Die Lesung dieser Aufnahme ist beschädigt: ihr Feld „{field}“ fehlt oder ist nicht, was es sein soll.',
    ],
  ],
  'score-changed': [
    [
      "The score in this drill's folder ({file}) is not the one that the drill was made on, so that it is not known what was to be played. Make the drill anew from the score.",
      'Die Partitur dieser Übung ({file}) ist nicht die, nach der sie gemacht wurde, so dass nicht bekannt ist, was zu spielen war. Die Übung neu aus der Partitur machen.',
    ],
  ],
  'shelf-score-missing': [
    [
      'The score of this take is not on the shelf any more.',
      'Die Noten zu dieser Aufnahme stehen nicht mehr im Regal.',
    ],
  ],
  'sound-damaged': [
    ...['FLAC', 'MP3', 'Ogg Vorbis', 'Ogg Opus'].flatMap(begins),
    [
      'The file is damaged in {errors} place(s); what could not be read there is left out, so that times after it may be wrong.',
      'Die Datei ist an {errors} Stelle(n) beschädigt; was dort nicht zu lesen war, fehlt, so dass die Zeiten danach falsch sein können.',
    ],
  ],
  'sound-kind': [
    [
      '{file} is {kind}, which is not read. Save or export it as WAV or FLAC (or record as such) and try again; WAV, FLAC, MP3, Ogg Vorbis, Opus, AAC and M4A are read.',
      '{file} ist {kind} und wird nicht gelesen. Als WAV oder FLAC sichern oder ausgeben (oder gleich so aufnehmen) und noch einmal versuchen; gelesen werden WAV, FLAC, MP3, Ogg Vorbis, Opus, AAC und M4A.',
    ],
    [
      'This browser cannot read this kind of recording. Save or export it as WAV or FLAC and try again.',
      'Dieser Browser kann diese Art von Aufnahme nicht lesen. Als WAV oder FLAC sichern oder ausgeben und noch einmal versuchen.',
    ],
  ],
  'sound-too-long': [
    [
      '{file} is longer than {hours} hours. Save a shorter part of it.',
      '{file} ist länger als {hours} Stunden. Einen kürzeren Teil davon sichern.',
    ],
  ],
  'sound-unknown': [
    [
      '{file} is no recording that is known. WAV, FLAC, MP3, Ogg Vorbis, Opus, AAC and M4A are read.',
      '{file} ist keine Aufnahme, die bekannt ist. Gelesen werden WAV, FLAC, MP3, Ogg Vorbis, Opus, AAC und M4A.',
    ],
  ],
  'take-added': [
    [
      '{n} note(s) are heard that are not in the part.',
      '{n} Ton/Töne sind zu hören, die nicht in der Stimme stehen.',
    ],
  ],
  'take-clipped': [
    [
      "{file} is distorted throughout: {share} % of it stands at the recorder's ceiling. Turn the recording level down and play again.",
      '{file} ist durchweg verzerrt: {share} % davon stehen an der Grenze des Aufnahmegeräts. Leiser aussteuern und noch einmal spielen.',
    ],
    [
      "{file} reaches the recorder's ceiling in places. Loud beginnings may be read less surely; turn the recording level down next time.",
      '{file} erreicht stellenweise die Grenze des Aufnahmegeräts. Laute Anfänge sind vielleicht weniger sicher gelesen; das nächste Mal leiser aussteuern.',
    ],
  ],
  'take-doubtful': [
    [
      'In {file} only {share} of each 100 notes of {part} were clearly found at their pitch.',
      'In {file} wurden nur {share} von je 100 Tönen von {part} klar auf ihrer Tonhöhe gefunden.',
    ],
    [
      'In {file} only {share} of each 100 notes were clearly found at their pitch.',
      'In {file} wurden nur {share} von je 100 Tönen klar auf ihrer Tonhöhe gefunden.',
    ],
  ],
  'take-empty': [['{file} holds no sound.', '{file} enthält keinen Ton.']],
  'take-ends-early': [
    [
      '{file} ends {seconds} seconds before the last note begins.',
      '{file} endet {seconds} Sekunden, bevor der letzte Ton beginnt.',
    ],
  ],
  'take-mixed': [
    [
      '{file} has {channels} channels; their mean is listened to.',
      '{file} hat {channels} Kanäle; angehört wird ihr Mittel.',
    ],
  ],
  'take-no-notes': [
    ['{name} has no notes in this drill.', '{name} hat in dieser Übung keine Töne.'],
    [
      'There are no notes in this drill to hold a recording against.',
      'In dieser Übung gibt es keine Töne, an die sich eine Aufnahme halten lässt.',
    ],
  ],
  'take-no-parts': [
    [
      'This drill has bars only and no notes: there is nothing to hold a recording against.',
      'Diese Übung hat nur Takte und keine Noten: es gibt nichts, woran sich eine Aufnahme halten lässt.',
    ],
  ],
  'take-other-piece': [
    [
      '{file} does not sound like {part} in this drill: only {share} of each 100 notes were found in order. It may be of another piece, another drill or another player.',
      '{file} klingt nicht wie {part} in dieser Übung: nur {share} von je 100 Tönen wurden der Reihe nach gefunden. Vielleicht ist es ein anderes Stück, eine andere Übung oder ein anderer Spieler.',
    ],
    [
      '{file} does not sound like {part} in this drill: {share} of each 100 notes were found, hardly more than when the same notes are put in another order. It may be of another piece, another drill or another player.',
      '{file} klingt nicht wie {part} in dieser Übung: {share} von je 100 Tönen wurden gefunden, kaum mehr als bei denselben Tönen in anderer Reihenfolge. Vielleicht ist es ein anderes Stück, eine andere Übung oder ein anderer Spieler.',
    ],
    [
      '{file} does not sound like this drill: only {share} of each 100 notes were found in order. It may be of another piece or another drill.',
      '{file} klingt nicht wie diese Übung: nur {share} von je 100 Tönen wurden der Reihe nach gefunden. Vielleicht ist es ein anderes Stück oder eine andere Übung.',
    ],
    [
      '{file} does not sound like this drill: {share} of each 100 notes were found, hardly more than when the same notes are put in another order. It may be of another piece or another drill.',
      '{file} klingt nicht wie diese Übung: {share} von je 100 Tönen wurden gefunden, kaum mehr als bei denselben Tönen in anderer Reihenfolge. Vielleicht ist es ein anderes Stück oder eine andere Übung.',
    ],
  ],
  'take-rate': [
    [
      '{file} states a rate of {rate} samples a second; a recording of music has 8,000 to 192,000. It may be damaged.',
      '{file} nennt {rate} Abtastwerte in der Sekunde; eine Musikaufnahme hat 8.000 bis 192.000. Vielleicht ist sie beschädigt.',
    ],
  ],
  'take-restarted': [
    [
      '{part} stopped and began again: {n} notes were played twice, and the last time was read.',
      '{part} hielt an und begann noch einmal: {n} Töne wurden zweimal gespielt, gelesen wurde das letzte Mal.',
    ],
    [
      'The players stopped and began again: what was played twice was read the last time.',
      'Die Spieler hielten an und begannen noch einmal: was zweimal gespielt wurde, wurde beim letzten Mal gelesen.',
    ],
  ],
  'take-short': [
    [
      '{file} lasts {seconds} seconds. That is too short to tell anything from; was the recording stopped at once?',
      '{file} dauert {seconds} Sekunden. Das ist zu kurz, um etwas daraus zu sagen; wurde die Aufnahme gleich angehalten?',
    ],
  ],
  'take-silent': [
    [
      '{file} is silent. Was the microphone muted, or the wrong input chosen?',
      '{file} ist still. War das Mikrofon stumm oder der falsche Eingang gewählt?',
    ],
  ],
  'takes-count': [
    [
      'One recording is given for {n} player(s): {known}. Give one for each, in this order, or say whose each is, as {part}=recording.wav.',
      'Eine Aufnahme für {n} Spieler: {known}. Für jeden eine geben, in dieser Reihe, oder angeben, von wem sie ist ({part} …).',
    ],
    [
      '{files} recordings are given for {n} player(s): {known}. Give one for each, in this order, or say whose each is, as {part}=recording.wav.',
      '{files} Aufnahmen für {n} Spieler: {known}. Für jeden eine geben, in dieser Reihe, oder angeben, von wem jede ist ({part} …).',
    ],
    ['There are more recordings than players: {known}.', 'Es sind mehr Aufnahmen als Spieler: {known}.'],
  ],
  'takes-same-file': [
    [
      '{file} is given twice. Each player needs a recording of their own; leave out who has none, and say whose each is, as P1=recording.wav.',
      `{file} kommt zweimal vor. ${eachOne}`,
    ],
    [
      '{one} and {other} are the same recording. Each player needs a recording of their own; leave out who has none, and say whose each is, as P1=recording.wav.',
      `{one} und {other} sind dieselbe Aufnahme. ${eachOne}`,
    ],
  ],
  'takes-same-part': [
    [
      'Two recordings are given for {part} ({name}). Give one.',
      'Für {part} ({name}) sind zwei Aufnahmen da. Eine genügt.',
    ],
  ],
  'tempo-gives-way': [
    [
      'No tempo is told in bars {bars}: it is asked to give way there.',
      'In den Takten {bars} wird kein Tempo gesagt: dort soll es nachgeben.',
    ],
  ],
  'wav-damaged': [
    [
      'The file has no sound section. It may be cut off or damaged.',
      'Die Datei hat keinen Abschnitt mit Ton. Vielleicht ist sie abgeschnitten oder beschädigt.',
    ],
  ],
};

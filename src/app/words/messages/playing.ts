/** Playing order: repeats, endings, jumps. */
import type { Pair } from '../patterns.ts';

export const playing: Readonly<Record<string, readonly Pair[]>> = {
  'bar-never-played': [
    [
      'The repeat signs and jumps lead around {first} to {last}, so they are never played.',
      'Wiederholungszeichen und Sprünge führen an der Strecke von {first:bar} bis zu {last:bar} vorbei; sie wird nie gespielt.',
    ],
    [
      'The repeat signs and jumps lead around {bar}, so it is never played.',
      'Wiederholungszeichen und Sprünge führen an {bar:bar} vorbei; er wird nie gespielt.',
    ],
  ],
  'ending-mid-bar': [
    [
      'An ending begins inside a bar; the bar is split there.',
      'Eine Klammer beginnt mitten im Takt; er wird dort geteilt.',
    ],
  ],
  'ending-mismatch': [
    [
      'The ending bracket of {bar} stops before the repeat sign; its bars are played at the times it names.',
      'Die Klammer in {bar:bar} endet vor dem Wiederholungszeichen; ihre Takte werden bei den Durchgängen gespielt, die sie nennt.',
    ],
  ],
  'ending-missing': [
    [
      'The endings from {bar} on are for times {numbers}; times without an ending are not played.',
      'Die Klammern ab {bar:bar} gelten für die Durchgänge {numbers}; Durchgänge ohne Klammer werden nicht gespielt.',
    ],
  ],
  'ending-number-absurd': [
    [
      'The ending bracket of {bar} names times through that nobody plays ({bad}): left out.',
      'Die Klammer in {bar:bar} nennt Durchgänge, die niemand spielt ({bad}): ausgelassen.',
    ],
    [
      'An ending is for a time through, from 1 on: not {text}.',
      'Eine Klammer gilt für einen Durchgang, gezählt ab 1: nicht {text}.',
    ],
    [
      'An ending has the numbers "{digits}", which make no sense; the next number in turn is taken.',
      'Eine Klammer hat die Nummern „{digits}“, die keinen Sinn ergeben; die nächste Nummer in der Reihe gilt.',
    ],
  ],
  'ending-number-missing': [
    [
      'The ending bracket of {bar} does not say for which time it is; it is taken for the next one in turn.',
      'Die Klammer in {bar:bar} sagt nicht, für welchen Durchgang sie gilt; sie gilt für den nächsten in der Reihe.',
    ],
    [
      'The ending "{words}" does not say for which time it is; {next} is taken.',
      'Die Klammer „{words}“ sagt nicht, für welchen Durchgang sie gilt; angenommen wird {next}.',
    ],
    [
      'An ending bracket does not tell for which time it is ("{text}"); it is taken as the first.',
      'Eine Klammer sagt nicht, für welchen Durchgang sie gilt („{text}“); sie gilt als erste.',
    ],
  ],
  'ending-overlap': [
    [
      'Time {times} has more than one ending bracket; that of {bar} is played as well.',
      'Für Durchgang {times} gibt es mehr als eine Klammer; die in {bar:bar} wird auch gespielt.',
    ],
    ['Bar {bar} stands under two endings.', 'Takt {bar} steht unter zwei Klammern.'],
  ],
  'ending-too-long': [
    [
      'The ending bracket of {bar} runs on past the repeat sign in {end}; it is taken to end there.',
      'Die Klammer in {bar:bar} reicht über das Wiederholungszeichen in {end:bar} hinaus; sie endet dort.',
    ],
  ],
  'ending-unclosed': [
    [
      'The ending bracket "{text}" of {bar} is not closed; it is taken to end with {end}.',
      'Die Klammer „{text}“ in {bar:bar} ist nicht geschlossen; sie endet mit {end:bar}.',
    ],
    [
      'An ending bracket begins here and never ends; it is read up to bar {end}.',
      'Eine Klammer beginnt hier und endet nie; sie gilt bis Takt {end}.',
    ],
  ],
  'ending-without-repeat': [
    [
      'The ending bracket of {bar} belongs to no repeat; its bars are played as they stand.',
      'Die Klammer in {bar:bar} gehört zu keiner Wiederholung; ihre Takte werden gespielt, wie sie stehen.',
    ],
  ],
  'ending-without-repeat-sign': [
    [
      'The ending bracket of {bar} has no repeat sign although there are further times through; one is assumed.',
      'Die Klammer in {bar:bar} hat kein Wiederholungszeichen, obwohl weitere Durchgänge folgen; eines wird angenommen.',
    ],
  ],
  'ending-without-start': [
    [
      'An ending bracket stops in {bar} but never began; it is ignored.',
      'In {bar:bar} endet eine Klammer, die nie begonnen hat; sie wird übergangen.',
    ],
    [
      'An ending bracket ends here that never began; it holds for this bar.',
      'Hier endet eine Klammer, die nie begonnen hat; sie gilt für diesen Takt.',
    ],
  ],
  'expansion-differs': [
    [
      'The file spells out an order of playing that can not be followed; its repeat signs are.',
      'Die Datei führt eine Spielfolge auf, der nicht zu folgen ist; es gelten ihre Wiederholungszeichen.',
    ],
    [
      'The file spells out an order of playing that is not that of its repeat signs; the signs are followed.',
      'Die Datei führt eine andere Spielfolge auf als ihre Wiederholungszeichen; es gelten die Zeichen.',
    ],
    [
      'The file lists the order of its sections, but the list does not fit the labels in it; repeat signs are followed as they stand.',
      'Die Datei nennt die Folge ihrer Abschnitte, aber die Liste passt nicht zu deren Namen; es gelten die Wiederholungszeichen.',
    ],
    [
      'The file lists the order of its sections as {list}; by its repeat signs, as read, {played} bars are played in another order than these {wanted}.',
      'Die Datei nennt als Folge ihrer Abschnitte {list}; nach den Wiederholungszeichen, wie gelesen, werden {played} Takte in anderer Folge gespielt als diese {wanted}.',
    ],
  ],
  'fine-missing': [
    [
      'The {jump} in {bar} leads back to {start}, and no fine or "to coda" stands between: all of it is played again to the end.',
      '{jump:jump} in {bar:bar} führt zurück zu {start:bar}, und dazwischen steht weder Fine noch Sprung zur Coda: Alles wird noch einmal bis zum Schluss gespielt.',
    ],
  ],
  'fine-missing jump-target-missing': [
    [
      'This goes on until the {kind}, but no bar has a {kind}. Add, for example, "{kind} at 24".',
      'Hier geht es bis {kind:until}, aber das Zeichen steht in keinem Takt. Zu ergänzen wäre etwa „{kind} at 24“.',
    ],
  ],
  'fine-without-jump to-coda-without-jump': [
    [
      'The {jump} in {bar} acts only after a da capo or dal segno, and there is none.',
      '{jump:jump} in {bar:bar} wirkt nur nach einem Da capo oder Dal segno, und es gibt keines.',
    ],
  ],
  'jump-from-print': [
    [
      'The page shows "{text}" here, but the file does not say it for playback; it is followed as printed, as the place where the jump to the coda leaves.',
      'Auf der Seite steht hier „{text:sign}“, aber die Datei sagt es nicht für die Wiedergabe; es gilt wie gedruckt, als Stelle, an der zur Coda gesprungen wird.',
    ],
    [
      'The page shows "{text}" here, but the file does not say it for playback; it is followed as printed.',
      'Auf der Seite steht hier „{text:sign}“, aber die Datei sagt es nicht für die Wiedergabe; es gilt wie gedruckt.',
    ],
  ],
  'jump-mid-bar': [
    [
      'A {jump} stands inside this bar; it is read at its beginning.',
      '{jump:aJump} steht mitten in diesem Takt und gilt an seinem Anfang.',
    ],
  ],
  'jump-name-mismatch': [
    [
      'The {jump} "{name}" in {bar} finds no segno of that name; the only segno there is was taken.',
      '{jump:jump} „{name}“ in {bar:bar} findet kein Segno dieses Namens; das einzige Segno gilt.',
    ],
    [
      'The {jump} "{name}" in {bar} finds no coda of that name; the only coda there is was taken.',
      '{jump:jump} „{name}“ in {bar:bar} findet keine Coda dieses Namens; die einzige Coda gilt.',
    ],
  ],
  'jump-never-taken': [
    [
      'The {jump} in {bar} is never reached after its repeats, so it is not followed.',
      '{jump:jump} in {bar:bar} wird nach den Wiederholungen nie erreicht und gilt deshalb nicht.',
    ],
  ],
  'jump-target-missing': [
    [
      'The {jump} in {bar} has no segno sign before it to go to; it is ignored.',
      '{jump:jump} in {bar:bar} findet davor kein Segno als Ziel und wird übergangen.',
    ],
    [
      'The {jump} in {bar} has no segno sign after it to go to; it is ignored.',
      '{jump:jump} in {bar:bar} findet danach kein Segno als Ziel und wird übergangen.',
    ],
    [
      'The {jump} in {bar} has no coda sign before it to go to; it is ignored.',
      '{jump:jump} in {bar:bar} findet davor keine Coda als Ziel und wird übergangen.',
    ],
    [
      'The {jump} in {bar} has no coda sign after it to go to; it is ignored.',
      '{jump:jump} in {bar:bar} findet danach keine Coda als Ziel und wird übergangen.',
    ],
  ],
  'playing-order-too-long': [
    [
      'With all its repeats this piece would have more than {most} bars, so some repeat signs must be wrong; from there on the bars are played once each.',
      'Mit allen Wiederholungen hätte dieses Stück mehr als {most} Takte; einige Wiederholungszeichen müssen falsch sein. Von dort an wird jeder Takt einmal gespielt.',
    ],
    [
      'With all its repeats this piece would have more than {most} bars, so some repeat signs must be wrong; from {bar} on the bars are played once each.',
      'Mit allen Wiederholungen hätte dieses Stück mehr als {most} Takte; einige Wiederholungszeichen müssen falsch sein. Ab {bar:bar} wird jeder Takt einmal gespielt.',
    ],
  ],
  'repeat-after-last-ending': [
    [
      'A repeat sign stands at the last ending of the repeat with endings from {bar} on; no further time through has an ending, so it is not followed after time {highest}.',
      'Ein Wiederholungszeichen steht an der letzten der Klammern ab {bar:bar}; kein weiterer Durchgang hat eine Klammer, also gilt es nach Durchgang {highest} nicht mehr.',
    ],
  ],
  'repeat-mid-bar': [
    [
      "A repeat sign stands inside this bar; it is read as standing at the bar's beginning.",
      'Ein Wiederholungszeichen steht mitten in diesem Takt; es gilt am Anfang des Takts.',
    ],
    [
      "A repeat sign stands inside this bar; it is read as standing at the bar's end.",
      'Ein Wiederholungszeichen steht mitten in diesem Takt; es gilt am Ende des Takts.',
    ],
  ],
  'repeat-nested': [
    [
      'The repeat that begins in {bar} holds another repeat, which is played in full each time through.',
      'Die Wiederholung ab {bar:bar} enthält eine weitere, die jedes Mal ganz gespielt wird.',
    ],
  ],
  'repeat-nothing': [
    [
      'A repeat ends before the first bar; it is left out.',
      'Eine Wiederholung endet vor dem ersten Takt; sie wird ausgelassen.',
    ],
    [
      'A repeat or an ending begins behind the last bar; it is left out.',
      'Eine Wiederholung oder Klammer beginnt hinter dem letzten Takt; sie wird ausgelassen.',
    ],
    [
      'A sign repeats what stands before it, but nothing does; it is left out.',
      'Ein Zeichen wiederholt, was davor steht, aber davor steht nichts; es wird ausgelassen.',
    ],
  ],
  'repeat-once': [
    [
      'A repeat sign says it is played once, so it repeats nothing.',
      'Ein Wiederholungszeichen soll einmal gespielt werden; es wiederholt also nichts.',
    ],
  ],
  'repeat-times': [
    [
      'A repeat sign says it is played "{text}" times; it is read as twice.',
      'Ein Wiederholungszeichen soll „{text}“-mal gespielt werden; es gilt als zweimal.',
    ],
  ],
  'repeat-times-absurd': [
    [
      'A repeat in {bar} is to be played {asked} times, and nobody plays more than {most}; it is played twice.',
      'Eine Wiederholung in {bar:bar} soll {asked}-mal gespielt werden, und niemand spielt mehr als {most}-mal; sie wird zweimal gespielt.',
    ],
    [
      'A section cannot be played {times} times; say 2 or more.',
      'Ein Abschnitt kann nicht {times}-mal gespielt werden; möglich sind 2 und mehr.',
    ],
  ],
  'repeat-unended': [
    [
      'The repeat that begins in a bar has no end; it is ignored.',
      'Eine Wiederholung beginnt und endet nicht; sie wird übergangen.',
    ],
    [
      'The repeat that begins in {bar} has no end; it is ignored.',
      'Die Wiederholung, die in {bar:bar} beginnt, endet nicht; sie wird übergangen.',
    ],
  ],
  'repeats-differ': [
    [
      'The parts disagree how often this repeat is played: {known} or {times} times. {known} is taken.',
      'Die Stimmen sind uneins, wie oft diese Wiederholung gespielt wird: {known}- oder {times}-mal. Es gilt {known}.',
    ],
  ],
};

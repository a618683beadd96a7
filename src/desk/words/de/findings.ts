/** Findings of a reading, in German. */
import { timeTextGerman } from '../../../units/index.ts';
import type { FindingWords, Place, Told } from '../facts.ts';

const barText = (bar: string): string => (bar === '' ? 'Auftakt' : `Takt ${bar}`);

const passText = ({ rep, times }: Place): string =>
  times > 1 ? `, aus ${times} Malen` : rep === null ? '' : `, ${timeTextGerman(rep)}`;

const at = ({ place }: Told): string => `${barText(place.bar)}, Schlag ${place.beat}${passText(place)}`;

const over = ({ place }: Told): string =>
  place.toBar === null || place.toBar === place.bar
    ? `${barText(place.bar)}${passText(place)}`
    : `${barText(place.bar)} bis ${place.bar === '' ? 'Takt ' : ''}${place.toBar}${passText(place)}`;

const amount = ({ amount: { value, low, high } }: Told, unit = ''): string =>
  `${value}${unit === '' ? '' : ` ${unit}`} (${low} bis ${high})`;

const ms = (told: Told): string => amount(told, 'ms');
const pace = (told: Told): string => amount(told, 'Viertel in der Minute');
const ofTime = (told: Told): string => `${amount(told)} der Zeit bis zur nächsten Note`;
const slope = (told: Told, unit: string): string => amount(told, `${unit} je Viertel`);

const values: Readonly<Record<string, string>> = {
  '1/8': 'Achteln',
  '1/12': 'Achteltriolen',
  '1/16': 'Sechzehnteln',
  '1/24': 'Sechzehnteltriolen',
  '1/32': 'Zweiunddreißigsteln',
};
const pairs = ({ value }: Told): string => `Paare von ${values[value] ?? `Noten von ${value}`}`;

const together = 'von zusammen nicht zu unterscheiden';

export const german: FindingWords = {
  point: ',',
  told: {
    spread: (told) =>
      `${at(told)}: Hier seid ihr zu zweit am weitesten auseinander. Von Stelle zu Stelle unterscheidet ihr euch um ${ms(told)}, an ${told.n} Stellen.`,
    lead: (told) =>
      `${told.names[0]} führt vor ${told.names[1]}, im Ganzen um ${ms(told)}. Am deutlichsten ist es hier: ${at(told)}.`,
    'first-entry': (told) => `${at(told)}: Der erste Einsatz liegt ${ms(told)} auseinander.`,
    entry: (told) => `${at(told)}: Ihr setzt ${ms(told)} auseinander ein.`,
    'cued-entry': (told) =>
      `${at(told)}, Einsatz von ${told.names[0]}: Der Einsatz kommt ${ms(told)} ${told.up ? 'nach' : 'vor'} dessen eigenem.`,
    drift: (told) =>
      `${over(told)}: Das Tempo ${told.up ? 'zieht an' : 'wird breiter'}, um ${pace(told)} über die Aufnahme.`,
    'bar-tempo': (told) =>
      `${over(told)}: Das Tempo ${told.up ? 'zieht an' : 'wird breiter'}, um bis zu ${pace(told)} gegen den Rest der Aufnahme.`,
    'bar-line': (told) =>
      `${at(told)}: Der Taktstrich kommt ${ms(told)} ${told.up ? 'nach' : 'vor'} dem Klick.`,
    'seam-time': (told) =>
      `${at(told)}: Die Linie wird ${ms(told)} ${told.up ? 'danach' : 'davor'} übernommen, gemessen daran, wohin sie führt.`,
    'seam-level': (told) =>
      `${at(told)}: Bei der Übernahme wird die Linie um ${amount(told, 'dB')} ${told.up ? 'stärker' : 'schwächer'}, jede Seite an ihren eigenen anderen Noten gemessen.`,
    'seam-length': (told) =>
      `${at(told)}: Bei der Übernahme werden die Noten ${told.up ? 'länger' : 'kürzer'}, um ${ofTime(told)}.`,
    'seam-level-slope': (told) =>
      `${at(told)}: Bei der Übernahme wendet sich die Linie ins ${told.up ? 'Stärkere' : 'Schwächere'}, um ${slope(told, 'dB')}.`,
    'seam-tempo-slope': (told) =>
      `${at(told)}: Bei der Übernahme beginnt die Linie ${told.up ? 'anzuziehen' : 'zurückzuhalten'}, um ${slope(told, 'Viertel in der Minute')}.`,
    'after-syncopation': (told) =>
      `${at(told)}: Die kurzen Noten nach der Synkope kommen ${ms(told)} ${told.up ? 'danach' : 'davor'} an, gemessen daran, wohin die Linie führt.`,
    length: (told) => `${over(told)}: Zwei Stimmen halten ihre Noten verschieden lang, um ${ofTime(told)}.`,
    evenness: (told) =>
      `${over(told)}: Zwei Stimmen spielen ${pairs(told)} verschieden, lang zu kurz um den Faktor ${amount(told)}. Das ist eine Frage des Stils.`,
    bend: (told) => `${at(told)}: Ihr biegt das Tempo auseinander, um ${pace(told)}.`,
  },
  untold: {
    spread: (told) =>
      `${at(told)}: Wie weit ihr zu zweit von Stelle zu Stelle auseinander seid, ist ${together}: ${ms(told)}.`,
    lead: (told) => `${at(told)}: Wer führt, ist ${together}: ${ms(told)}.`,
    'first-entry': (told) => `${at(told)}: Der erste Einsatz ist ${together}: ${ms(told)}.`,
    entry: (told) => `${at(told)}: Der Einsatz ist ${together}: ${ms(told)}.`,
    'cued-entry': (told) =>
      `${at(told)}, Einsatz von ${told.names[0]}: Der Einsatz ist ${together}: ${ms(told)}.`,
    drift: (told) =>
      `${over(told)}: Das Tempo ist von gleichmäßigem nicht zu unterscheiden: ${pace(told)} über die Aufnahme.`,
    'bar-tempo': (told) =>
      `${over(told)}: Das Tempo ist von dem der Aufnahme nicht zu unterscheiden: ${pace(told)}.`,
    'bar-line': (told) => `${at(told)}: Der Taktstrich ist mit dem Klick ${together}: ${ms(told)}.`,
    'seam-time': (told) => `${at(told)}: Der Augenblick der Übernahme ist ${together}: ${ms(told)}.`,
    'seam-level': (told) =>
      `${at(told)}: Die Stärke bei der Übernahme ist von gleicher nicht zu unterscheiden: ${amount(told, 'dB')}.`,
    'seam-length': (told) =>
      `${at(told)}: Die Länge der Noten bei der Übernahme ist von gleicher nicht zu unterscheiden: ${ofTime(told)}.`,
    'seam-level-slope': (told) =>
      `${at(told)}: Wohin die Stärke der Linie geht, ist von einer Richtung nicht zu unterscheiden: ${slope(told, 'dB')}.`,
    'seam-tempo-slope': (told) =>
      `${at(told)}: Wohin das Tempo der Linie geht, ist von einer Richtung nicht zu unterscheiden: ${slope(told, 'Viertel in der Minute')}.`,
    'after-syncopation': (told) =>
      `${at(told)}: Die Ankunft nach der Synkope ist mit ihrer Linie ${together}: ${ms(told)}.`,
    length: (told) =>
      `${over(told)}: Die Längen eurer Noten sind von gleichen nicht zu unterscheiden: ${ofTime(told)}.`,
    evenness: (told) =>
      `${over(told)}: ${pairs(told)} sind von gleichen nicht zu unterscheiden: ${amount(told)}.`,
    bend: (told) => `${at(told)}: Wie ihr das Tempo biegt, ist ${together}: ${pace(told)}.`,
  },
  small: 'Das ist weniger, als man wohl hört.',
  tries: {
    again: 'spielt es mehrmals in einer Aufnahme; mehr davon sagt mehr.',
    subdivide:
      'einer spricht den kleinsten Notenwert durch den Takt, während die anderen spielen; dann hören ihn alle innerlich.',
    'swap-lead':
      'ist es die Führung, die ihr wollt, lasst sie; sonst lasst jemand anderen die Schläge geben und hört, was sich ändert.',
    breathe:
      'atmet oder hebt den Bogen gemeinsam einen Schlag lang im kommenden Tempo, und beginnt einmal mit geschlossenen Augen.',
    'cue-breath':
      'wer den Einsatz gibt, atmet einen Schlag lang im kommenden Tempo, und alle atmen mit; dann einmal mit den Augen auf ihm, einmal mit geschlossenen Augen.',
    'less-click': 'zwei Takte mit Klick und zwei ohne (--tacet 2/2); seht, wo er euch wieder trifft.',
    'click-a-bar': 'ein Klick im Takt über diese Takte (--click bar), und sprecht die Schläge dazwischen.',
    'lead-to-bar':
      'singt vom letzten Schlag in den Taktstrich, erst mit Klick auf den Schlägen, dann mit einem im Takt.',
    'play-along':
      'wer übernimmt, spielt schon einen Takt vorher mit, dann hört er ihn nur mit und setzt ein.',
    'match-level':
      'spielt nur die zwei Noten davor und die zwei danach, erst alle gleich stark, dann wie ihr es meint.',
    'match-length':
      'singt es als eine Linie, einigt euch auf die Länge der Noten und spielt nur die Noten um die Übernahme.',
    'one-direction':
      'einigt euch, zu welcher Note die ganze Linie führt, und spielt bis zu ihr durch, ohne Halt bei der Übernahme.',
    'one-pulse':
      'spielt die Linie über die Übernahme hinweg mit Klick in Achteln (--click 1/8), dann mit einem im Takt.',
    'click-between':
      'legt den Klick zwischen die Schläge (--click after) und lasst die kurzen Noten auf ihn warten.',
    'agree-length':
      'spielt gemeinsam eine Tonleiter in einer Notenlänge, dann in einer anderen, und wählt eine für die Stelle.',
    'agree-inequality':
      'sprecht die Paare gemeinsam, wie ihr sie wollt, gleich oder nicht, und spielt sie so.',
    'bend-together':
      'einer führt die Biegung nur mit Atem und Körper; spielt sie langsamer, als ihr wollt, dann wie ihr wollt.',
  },
  cautions: {
    'few-notes': ({ n }) => `es beruht nur auf ${n === 1 ? 'einer Note' : `${n} Noten`}`,
    'wide-interval': ({ amount: { low, unit } }) =>
      `es können auch nur ${low}${unit === '' ? '' : ` ${unit}`} sein`,
    'unsure-notes': () => 'viele Noten in der Nähe waren nicht sicher zu hören',
  },
  tryThis: (text) => `Versucht: ${text}`,
  caution: (texts) => `Mit Vorsicht: ${texts.join('; ')}.`,
  nothing: 'Nichts in dieser Aufnahme ist von zusammen zu unterscheiden.',
  tooLittle: 'Zu wenig war sicher zu hören, um etwas zu sagen.',
  bars: (title, bars) => `${title === '' ? 'Die Aufnahme' : title}, Takte ${bars}`,
  heard: (heard, all, rough) =>
    `${heard} von ${all} Noten waren sicher zu hören${rough > 0 ? `, ${rough} nur ungefähr` : ''}.`,
  closing: 'In Klammern: wo der Wert in 19 von 20 Fällen liegt.',
};

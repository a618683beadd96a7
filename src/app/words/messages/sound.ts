/** Sound: rates, WAV files. */
import type { Pair } from '../patterns.ts';

export const sound: Readonly<Record<string, readonly Pair[]>> = {
  'not-wav': [
    [
      'The file is not a WAV file: it does not begin as one.',
      'Die Datei ist keine WAV-Datei: Sie beginnt nicht wie eine.',
    ],
  ],
  'reference-pitch': [
    [
      'A reference pitch of {hz} Hz cannot be used. Give the A above middle C in Hz, from {least} to {most}; {usual} is usual, 415 in early music.',
      'Ein Stimmton von {hz:decimal} Hz ist nicht möglich. Das A über dem mittleren C liegt zwischen {least} und {most} Hz; üblich ist {usual}, in Alter Musik 415.',
    ],
  ],
  'sample-rate': [
    [
      'A sample rate of {hz} Hz cannot be used. Take a whole number from {least} to {most}; 48000 is usual.',
      'Eine Abtastrate von {hz:decimal} Hz ist nicht möglich. Möglich sind ganze Zahlen von {least} bis {most}; üblich ist 48000.',
    ],
    [
      'A sample rate of {hz} Hz cannot be written. Take a whole number; 48000 is usual.',
      'Eine Abtastrate von {hz:decimal} Hz lässt sich nicht schreiben. Möglich sind ganze Zahlen; üblich ist 48000.',
    ],
  ],
  'sound-length': [
    [
      'The sound would last {n} samples. That has to be a whole number from 0.',
      'Der Klang würde {n} Abtastwerte dauern. Es muss eine ganze Zahl ab 0 sein.',
    ],
  ],
  'wav-align': [
    [
      'The file says that a frame has {align} bytes, but {channels} channel(s) of {bits} bits make {width}. The latter was used.',
      'Nach der Datei hat ein Rahmen {align} Bytes, aber {channels} Kanäle zu {bits} Bit ergeben {width}. Das Letztere gilt.',
    ],
  ],
  'wav-channels': [
    [
      'A file with {n} channels cannot be written. There can be 1 to 64.',
      'Eine Datei mit {n} Kanälen lässt sich nicht schreiben. Möglich sind 1 bis 64.',
    ],
  ],
  'wav-damaged': [
    [
      "The file's format section has {n} [byte|bytes], but its kind needs 40.",
      'Der Formatabschnitt der Datei hat {n} {n|Byte|Bytes}, ihre Art braucht 40.',
    ],
    [
      "The file's format section has {n} [byte|bytes]; it needs 16 or more.",
      'Der Formatabschnitt der Datei hat {n} {n|Byte|Bytes}; er braucht mindestens 16.',
    ],
    [
      'The file states {channels} channels at {hz} Hz; neither can be 0.',
      'Die Datei nennt {channels} Kanäle bei {hz} Hz; keines davon kann 0 sein.',
    ],
    [
      'The file has no [format|sound] section ("{name}"). It may be cut off or damaged.',
      'Der Datei fehlt der Abschnitt „{name}“. Sie ist vielleicht abgeschnitten oder beschädigt.',
    ],
  ],
  'wav-depth': [
    [
      'A depth of {n} bits is not written. There are 16, 24 and 32 (floating point).',
      'Eine Tiefe von {n} Bit wird nicht geschrieben. Es gibt 16, 24 und 32 (Gleitkomma).',
    ],
    [
      'The file has floating-point samples of {n} bits. Those of 8, 16, 24 and 32 bits and 32-bit floating point can be read.',
      'Die Datei hat Gleitkommawerte zu {n} Bit. Lesbar sind 8, 16, 24 und 32 Bit und Gleitkomma zu 32 Bit.',
    ],
    [
      'The file has samples of {n} bits. Those of 8, 16, 24 and 32 bits and 32-bit floating point can be read.',
      'Die Datei hat Abtastwerte zu {n} Bit. Lesbar sind 8, 16, 24 und 32 Bit und Gleitkomma zu 32 Bit.',
    ],
  ],
  'wav-format': [
    [
      'The file is of the kind for more than 4 GiB, which is not read. Save a shorter part.',
      'Die Datei ist von der Art für mehr als 4 GiB, die nicht gelesen wird. Ein kürzerer Ausschnitt geht.',
    ],
    [
      'The file stores its numbers high byte first, which is not read.',
      'Die Datei speichert ihre Zahlen mit dem höchsten Byte voran, was nicht gelesen wird.',
    ],
    [
      'The sound is stored in a compressed or unusual form ({name}). Save it as uncompressed WAV (PCM) and try again.',
      'Der Klang ist komprimiert oder ungewöhnlich gespeichert ({name}). Als unkomprimiertes WAV (PCM) gespeichert, geht es.',
    ],
  ],
  'wav-frames': [
    [
      'The file would hold {n} frames. That has to be a whole number from 0.',
      'Die Datei hätte {n} Rahmen. Es muss eine ganze Zahl ab 0 sein.',
    ],
  ],
  'count-word-cut': [
    [
      'The sound begins on the beat of "{words}", so that the consonant before the vowel is cut off there.',
      'Der Klang beginnt auf dem Schlag von „{words}“; was vor dem Vokal steht, fehlt dort.',
    ],
  ],
  'count-word-missing': [
    [
      'There is no spoken word for {words}; only the click is heard there.',
      'Für {words} gibt es kein gesprochenes Wort; dort ist nur der Klick zu hören.',
    ],
  ],
  'words-damaged': [
    [
      'The spoken count words did not come: counts are clicked. Without a network they are there once all of Levare is on this device.',
      'Die gesprochenen Zählwörter sind nicht angekommen: Gezählt wird mit Klicks. Ohne Netz sind sie da, sobald ganz Levare auf diesem Gerät ist.',
    ],
    [
      'The spoken count words cannot be used: {what}. The program may be installed incompletely.',
      'Die gesprochenen Zählwörter sind nicht zu brauchen ({what}). Vielleicht ist das Programm unvollständig installiert.',
    ],
  ],
  'words-language': [
    [
      'There are no count words in "{language}". There are: {known}.',
      'Zählwörter gibt es nicht in „{language}“, aber in: {known}.',
    ],
  ],
  'wav-no-number': [
    [
      '{n} sample(s) are not numbers (a damaged file). Silence stands there.',
      '{n} Abtastwerte sind keine Zahlen (eine beschädigte Datei). Dort steht Stille.',
    ],
  ],
  'wav-odd-bytes': [
    [
      'The sound ends within a frame; its last {n} byte(s) were left out.',
      'Der Klang endet mitten in einem Rahmen; seine letzten Bytes ({n}) wurden ausgelassen.',
    ],
  ],
  'wav-rest': [
    [
      'After its last section the file has {n} [byte that means|bytes that mean] nothing here. [It was|They were] left out.',
      'Nach ihrem letzten Abschnitt hat die Datei {n} {n|Byte, das|Bytes, die} hier nichts {n|bedeutet|bedeuten}; ausgelassen.',
    ],
  ],
  'wav-rounded': [
    [
      'The samples have 32 bits; they were rounded to the 24 leading bits of each.',
      'Die Abtastwerte haben 32 Bit; sie wurden auf 24 gerundet.',
    ],
  ],
  'wav-several': [
    [
      'The file has {n} format sections; the first was used.',
      'Die Datei hat {n} Formatabschnitte; der erste gilt.',
    ],
    [
      'The file has {n} sound sections; the first was used.',
      'Die Datei hat {n} Klangabschnitte; der erste gilt.',
    ],
  ],
  'wav-size-unset': [
    [
      'The file does not say how long its sound is (a recording that was cut off leaves it so). All of the {n} bytes that follow were taken as sound.',
      'Die Datei sagt nicht, wie lang ihr Klang ist (so bleibt eine abgebrochene Aufnahme). Alle {n} folgenden Bytes gelten als Klang.',
    ],
  ],
  'wav-too-long': [
    [
      '{hours} hours of sound with {channels} channel(s) of {bits} bits at {hz} Hz pass 4 GiB, the most that a WAV file can hold. Make it in several files, or with a lower rate or depth.',
      '{hours:decimal} Stunden Klang mit {channels} Kanälen zu {bits} Bit bei {hz} Hz überschreiten 4 GiB, mehr fasst eine WAV-Datei nicht. Mehrere Dateien, eine kleinere Abtastrate oder Tiefe gehen.',
    ],
  ],
};

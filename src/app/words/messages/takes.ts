/** Microphone and takes. */
import type { Pair } from '../patterns.ts';

export const takes: Readonly<Record<string, readonly Pair[]>> = {
  'microphone-busy': [
    [
      'The microphone is there and gives nothing: another program may have taken it. Close that one and try again.',
      'Das Mikrofon ist da und gibt nichts: vielleicht hat es ein anderes Programm. Das schließen und noch einmal versuchen.',
    ],
  ],
  'microphone-missing': [
    [
      'No microphone is there. Plug one in, or choose another, and try again.',
      'Es ist kein Mikrofon da. Eines einstecken oder ein anderes wählen und noch einmal versuchen.',
    ],
  ],
  'microphone-rate': [
    [
      'Microphone and loudspeaker of this device run at different rates, which this browser cannot bring together. Choose another microphone, or set both to 48 kHz in the settings of the device.',
      'Mikrofon und Lautsprecher dieses Geräts laufen mit verschiedenen Abtastraten, die dieser Browser nicht zusammenbringt. Ein anderes Mikrofon wählen oder in den Einstellungen des Geräts beide auf 48 kHz stellen.',
    ],
  ],
  'microphone-refused': [
    [
      'The browser was told not to let this page hear. Allow the microphone for it, beside its address, and try again.',
      'Dem Browser wurde gesagt, dass diese Seite nicht zuhören darf. Das Mikrofon neben der Adresse erlauben und noch einmal versuchen.',
    ],
  ],
  'microphone-unknown': [
    [
      'This browser gives no microphone to this page. It needs to be a current one, and the page has to come from this machine or over https.',
      'Dieser Browser gibt dieser Seite kein Mikrofon. Er muss ein aktueller sein, und die Seite muss von diesem Gerät oder über https kommen.',
    ],
  ],
  'take-damaged': [
    [
      'What sounded with this take is not known any more; its sound is there.',
      'Was zu dieser Aufnahme erklang, ist nicht mehr bekannt; ihr Ton ist da.',
    ],
  ],
  'take-disk': [
    [
      'This browser does not let a recording be kept here ({_name}). A private window, or one that is too old?',
      'Dieser Browser lässt hier keine Aufnahme behalten. Ein privates Fenster, oder ein zu alter Browser?',
    ],
  ],
  'take-no-room': [
    [
      'There is no room left for sound on this device. What was recorded up to here is kept.',
      'Auf diesem Gerät ist kein Platz mehr für Ton. Was bis hierher aufgenommen wurde, ist behalten.',
    ],
  ],
  'take-no-sound': [
    [
      'Not all of these files are recordings; the others were left.',
      'Nicht alle diese Dateien sind Aufnahmen; die anderen wurden weggelassen.',
    ],
  ],
  'take-sound-missing': [
    [
      'The sound {name} of this take is not on this device.',
      'Der Ton {name} dieser Aufnahme ist nicht auf diesem Gerät.',
    ],
  ],
  'take-unplayable': [
    [
      'This browser cannot play {name}. The file is kept as it is, and can be taken along.',
      'Dieser Browser kann {name} nicht abspielen. Die Datei bleibt, wie sie ist, und kann mitgenommen werden.',
    ],
  ],
};

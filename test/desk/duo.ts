/**
 * A small duo written by hand: an upbeat, a repeat of two bars, a bar of three. The second part sounds a tone lower than
 * written (a clarinet in B flat); its half note is tied over the bar line; the first has one grace note.
 */
const note = (step: string, octave: number, duration: number, type: string, more = ''): string =>
  `<note>${more.includes('<grace') ? '<grace/>' : ''}<pitch><step>${step}</step><octave>${octave}</octave></pitch>` +
  `${more.includes('<grace') ? '' : `<duration>${duration}</duration>`}${more.replace('<grace/>', '')}<voice>1</voice><type>${type}</type></note>`;

const rest = (duration: number): string =>
  `<note><rest/><duration>${duration}</duration><voice>1</voice></note>`;

const time = (beats: number): string => `<time><beats>${beats}</beats><beat-type>4</beat-type></time>`;
const forward = '<barline location="left"><repeat direction="forward"/></barline>';
const backward = '<barline location="right"><repeat direction="backward"/></barline>';
const tempo =
  '<direction><direction-type><metronome><beat-unit>quarter</beat-unit><per-minute>60</per-minute></metronome></direction-type></direction>';

const four = (octave: number): string =>
  ['C', 'D', 'E', 'F'].map((step) => note(step, octave, 2, 'quarter')).join('');

/** MusicXML 4.0, partwise; quarters have two divisions. */
export const duo = `<?xml version="1.0" encoding="UTF-8"?>
<score-partwise version="4.0">
<work><work-title>Two in a Boat</work-title></work>
<part-list><score-part id="P1"><part-name>Flute</part-name></score-part>
<score-part id="P2"><part-name>Clarinet</part-name></score-part></part-list>
<part id="P1">
<measure number="0" implicit="yes"><attributes><divisions>2</divisions>${time(4)}</attributes>${tempo}${note('G', 4, 2, 'quarter')}</measure>
<measure number="1">${forward}${note('B', 4, 0, 'eighth', '<grace/>')}${four(5)}</measure>
<measure number="2">${four(5)}${backward}</measure>
<measure number="3"><attributes>${time(3)}</attributes>${note('C', 5, 6, 'half')}</measure>
</part>
<part id="P2">
<measure number="0" implicit="yes"><attributes><divisions>2</divisions>${time(4)}<transpose><diatonic>-1</diatonic><chromatic>-2</chromatic></transpose></attributes>${rest(2)}</measure>
<measure number="1">${rest(4)}${note('D', 4, 4, 'half', '<tie type="start"/>')}</measure>
<measure number="2">${note('D', 4, 4, 'half', '<tie type="stop"/>')}${rest(4)}</measure>
<measure number="3"><attributes>${time(3)}</attributes>${note('D', 4, 2, 'quarter')}${rest(4)}</measure>
</part>
</score-partwise>
`;

export const bytesOf = (text: string): Uint8Array => new TextEncoder().encode(text);

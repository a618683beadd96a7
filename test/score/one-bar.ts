/** One bar of one whole note, middle C, in each format of text, by hand after the formats' specifications. */
export type TextFormat = 'musicxml' | 'mei' | 'kern' | 'abc';

const musicxml = (title: string): string =>
  `<score-partwise version="4.0"><work><work-title>${title}</work-title></work>
<part-list><score-part id="P1"><part-name>A</part-name></score-part></part-list>
<part id="P1"><measure number="1"><attributes><divisions>1</divisions><time><beats>4</beats><beat-type>4</beat-type></time></attributes>
<note><pitch><step>C</step><octave>4</octave></pitch><duration>4</duration><type>whole</type></note></measure></part></score-partwise>
`;

/** MEI 5.1, common music notation: score definition, section, measure, staff, layer. */
const mei = (title: string): string =>
  `<mei xmlns="http://www.music-encoding.org/ns/mei" meiversion="5.1">
<meiHead><fileDesc><titleStmt><title>${title}</title></titleStmt><pubStmt/></fileDesc></meiHead>
<music><body><mdiv><score>
<scoreDef meter.count="4" meter.unit="4"><staffGrp><staffDef n="1" lines="5" clef.shape="G" clef.line="2"/></staffGrp></scoreDef>
<section><measure n="1"><staff n="1"><layer n="1"><note pname="c" oct="4" dur="1"/></layer></staff></measure></section>
</score></mdiv></body></music></mei>
`;

/** Humdrum: a reference record with the title, one spine of **kern, its clef and metre, a bar line, a note, the end. */
const kern = (title: string): string => `!!!OTL: ${title}
**kern
*clefG2
*M4/4
=1
1c
==
*-
`;

/** ABC 2.1: reference number, title, metre, unit note length, key, and the tune. */
const abc = (title: string): string => `X:1
T:${title}
M:4/4
L:1/4
K:C
C4|]
`;

const bars: Readonly<Record<TextFormat, (title: string) => string>> = { musicxml, mei, kern, abc };

export const oneBar = (format: TextFormat, title: string): string => bars[format](title);

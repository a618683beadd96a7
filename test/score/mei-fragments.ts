/** Small MEI documents for tests: one staff in 4/4 unless said otherwise. */

interface Shape {
  /** Attributes of the score definition. */
  readonly defs?: string;
  readonly staves?: string;
  readonly version?: string;
}

export const treble = '<staffDef n="1" lines="5" clef.shape="G" clef.line="2"/>';

/** A document around the content of `score`. */
export const meiFile = (score: string, version = '5.1'): string =>
  `<mei xmlns="http://www.music-encoding.org/ns/mei" meiversion="${version}"><meiHead><fileDesc><titleStmt><title>A</title></titleStmt><pubStmt/></fileDesc></meiHead><music><body><mdiv><score>${score}</score></mdiv></body></music></mei>`;

/** A document around the content of its one section. */
export const section = (content: string, { defs, staves = treble, version }: Shape = {}): string =>
  meiFile(
    `<scoreDef ${defs ?? 'meter.count="4" meter.unit="4"'}><staffGrp>${staves}</staffGrp></scoreDef><section>${content}</section>`,
    version,
  );

export const layer = (content: string, n = 1): string => `<layer n="${n}">${content}</layer>`;
export const staff = (content: string, n = 1): string => `<staff n="${n}">${content}</staff>`;

/** A measure of one staff and layer; `beside`: control events. */
export const bar = (n: number | string, content: string, beside = '', more = ''): string =>
  `<measure n="${n}" ${more}>${staff(layer(content))}${beside}</measure>`;

/** "c4:4" as a quarter note C4, "r:2" as a half rest, with more attributes behind a blank. */
export const notes = (...events: readonly string[]): string =>
  events
    .map((event) => {
      const [, name = '', octave = '', duration = '', more = ''] =
        /^([a-gr])(\d?):(\w+)(?: (.*))?$/.exec(event) ?? [];
      if (name === '') throw new Error(`"${event}" is no note`);
      return name === 'r'
        ? `<rest dur="${duration}" ${more}/>`
        : `<note pname="${name}" oct="${octave}" dur="${duration}" ${more}/>`;
    })
    .join('');

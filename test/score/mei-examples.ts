/**
 * Worked examples of the MEI Guidelines (version 5.1; https://music-encoding.org/guidelines/v5/content/cmn.html), as they stand in
 * the folder source/examples of the Guidelines' sources, each with the number of its file. What the Guidelines leave out ("omitted")
 * is filled with rests; fragments are put into one staff. What each means is said beside its check in mei.test.ts.
 */
import { bar, layer, meiFile, section, staff, treble } from './mei-fragments.ts';

const rest4 = '<rest dur="4"/>';

export const examples = {
  /** 4.2.2, cmn-sample097: "Piccolo sounds 12 semitones higher than written", "Clarinet sounds a minor third higher". */
  transposition: meiFile(
    `<scoreDef meter.count="6" meter.unit="8"><staffGrp>
      <staffDef clef.line="2" clef.shape="G" key.mode="major" keysig="4f" label="Piccolo" label.abbr="Picc." lines="5" n="1" trans.diat="0" trans.semi="12" xml:id="cmn.P1"/>
      <staffDef clef.line="2" clef.shape="G" key.mode="major" keysig="4f" label="Flute" label.abbr="Fl." lines="5" n="2" xml:id="cmn.P2"/>
      <staffDef clef.line="2" clef.shape="G" key.mode="major" keysig="1f" label="Clarinet in E♭" label.abbr="E♭ Cl." lines="5" n="5" trans.diat="2" trans.semi="3" xml:id="cmn.P5"/>
    </staffGrp></scoreDef><section><measure n="1">${[1, 2, 5]
      .map((n) => staff(layer('<note pname="c" oct="5" dur="2" dots="1"/>'), n))
      .join('')}</measure></section>`,
  ),
  /** 4.3.2, cmn-sample115: ties across a bar line, in chords; the notes in the beam take their duration from before. */
  ties: section(
    bar(
      1,
      `<rest dur="2"/><chord dur="16"><note oct="2" pname="f"/><note oct="1" pname="f"/></chord>
       <beam><note oct="2" pname="f" tie="i"/><note oct="2" pname="a" tie="i"/><note oct="3" pname="c" tie="i"/></beam>
       <chord dur="4"><note oct="3" pname="f" tie="i"/><note oct="3" pname="c" tie="m"/><note oct="2" pname="a" tie="m"/><note oct="2" pname="f" tie="m"/></chord>`,
    ) +
      bar(
        2,
        `<chord dur="16"><note oct="3" pname="f" tie="t"/><note oct="3" pname="c" tie="t"/><note oct="2" pname="a" tie="t"/><note oct="2" pname="f" tie="t"/></chord><rest dur="2" dots="3"/>`,
      ),
  ),
  /** 4.3.2, cmn-sample116: a tie at a chord; octaves as in the text's picture, which the example leaves out. */
  chordTie: section(
    bar(
      1,
      `<chord dur="4" tie="i"><note oct="4" pname="f"/><note oct="5" pname="c"/><note oct="4" pname="a"/></chord>
       <chord dur="4" tie="t"><note oct="4" pname="f"/><note oct="5" pname="c"/><note oct="4" pname="a"/></chord>`,
    ),
    { defs: 'meter.count="2" meter.unit="4"' },
  ),
  /** 4.3.2, cmn-sample117: the same at length. */
  chordTieInFull: section(
    bar(
      1,
      `<chord dur="4"><note oct="4" pname="f" tie="i"/><note oct="5" pname="c" tie="i"/><note oct="4" pname="a" tie="i"/></chord>
       <chord dur="4"><note oct="4" pname="f" tie="t"/><note oct="5" pname="c" tie="t"/><note oct="4" pname="a" tie="t"/></chord>`,
    ),
    { defs: 'meter.count="2" meter.unit="4"' },
  ),
  /** 4.3.2, cmn-sample120: two slurs at once. */
  slurs: section(
    `<measure n="1"><staff n="1"><layer>
      <note dur="2" oct="4" pname="g" slur="i1"/><note dur="8" oct="4" pname="a" slur="m1 i2"/><note dur="8" oct="4" pname="g" slur="m1 t2"/><note accid="s" dur="4" oct="4" pname="f" slur="t1"/>
     </layer><layer><note dots="1" dur="2" oct="3" pname="b" slur="i1"/><note dur="4" oct="4" pname="d" slur="t1"/></layer></staff></measure>`,
  ),
  /** 4.3.1, cmn-sample108: a secondary beam that is broken; pitches are ours, the example has none. */
  beams: section(
    bar(
      1,
      `<beam><note pname="c" oct="5" dots="1" dur="8"/><note dur="16"/></beam>
       <beam><note dur="32"/><note dur="32"/><note breaksec="1" dur="16"/><note dur="32"/><note dur="32"/><note dur="32"/><note dur="32"/></beam>`,
    ),
    { defs: 'meter.count="2" meter.unit="4"' },
  ),
  /** 4.2.5.1.2, cmn-sample100: grace notes among beamed ones. */
  graces: section(
    bar(
      1,
      `<beam><note dur="8" oct="5" pname="d" stem.dir="down"/><note dur="8" oct="5" pname="e" stem.dir="up" grace="unacc" stem.mod="1slash"/>
       <note dur="8" oct="5" pname="d" stem.dir="down"/><note accid="s" dur="8" oct="5" pname="c" stem.dir="up" grace="unacc" stem.mod="1slash"/>
       <note dur="8" oct="5" pname="d" stem.dir="down"/><note dur="8" oct="4" pname="b" stem.dir="down"/></beam>`,
    ),
    { defs: 'meter.count="2" meter.unit="4"' },
  ),
  /** 4.3.4, tuplets.mei: Boléro, on a staff of one line without pitches. */
  bolero: section(
    `<measure><staff n="1"><layer>${'<beam><note stem.dir="up" dur="8"/><tuplet num="3" numbase="2"><note dur="16"/><note dur="16"/><note dur="16"/></tuplet></beam>'.repeat(2)}<beam><note dur="8"/><note dur="8"/></beam></layer></staff></measure>`,
    { defs: '', staves: '<staffDef meter.count="3" meter.unit="4" n="1" lines="1"/>' },
  ),
  /** 4.3.4, tuplets.mei and cmn-sample141: tuplets that cross beams, and a beam that crosses them. */
  tupletSpans: section(
    `<measure><staff n="1"><layer><rest dur="8" xml:id="first-start"/><beam><note dur="8" pname="c" oct="4" xml:id="first-part"/><note dur="8" pname="d" oct="4" xml:id="first-end"/><note dur="8" pname="e" oct="4" xml:id="second-start"/><note dur="8" pname="f" oct="4"/><note dur="8" pname="g" oct="4" xml:id="second-end"/></beam></layer></staff>
      <tupletSpan num="3" numbase="2" startid="#first-start" endid="#first-end" plist="#first-start #first-part #first-end"/><tupletSpan num="3" numbase="2" startid="#second-start" endid="#second-end"/></measure>
     <measure><staff n="1"><layer><rest dur="8" xml:id="unbeamed"/><note dur="8" pname="f" oct="4" xml:id="b1"/><note dur="8" pname="g" oct="4" xml:id="b2"/><note dur="8" pname="a" oct="4" xml:id="b3"/><note dur="8" pname="b" oct="4" xml:id="b4"><accid accid="f"/></note><note dur="8" pname="c" oct="5" xml:id="b5"/></layer></staff>
      <beamSpan startid="#b1" endid="#b5"/><tupletSpan num="3" numbase="2" startid="#unbeamed" endid="#b2"/><tupletSpan num="3" numbase="2" startid="#b3" endid="#b5"/></measure>`,
    { defs: 'meter.count="2" meter.unit="4"' },
  ),
  /** 4.3.6.5, octave-shift-01.mei, its bars 1, 3, 5 and 7 as 1 to 4. */
  octaves: section(
    bar(1, '<note dur="1" oct="6" pname="e"/>') +
      bar(
        2,
        '<note xml:id="n1" dur="1" oct.ges="6" oct="5" pname="e"/>',
        '<octave startid="#n1" endid="#n1" dis="8" dis.place="above"/>',
      ) +
      bar(
        3,
        '<note xml:id="n3" dur="1" oct.ges="2" oct="3" pname="e"/>',
        '<octave startid="#n3" endid="#n3" dis="8" dis.place="below"/>',
      ) +
      bar(
        4,
        '<note xml:id="n5" dur="1" oct.ges="2" oct="4" pname="e"/>',
        '<octave startid="#n5" tstamp2="1m+4.0000" dis="15" dis.place="below"/>',
      ) +
      bar(5, '<note dur="1" oct.ges="3" oct="5" pname="c"/>'),
  ),
  /** 4.3.12.2, cmn-sample162: bars repeated by signs. */
  barRepeats: section(
    `<measure n="1"><staff><layer><beam><note dur="8" oct="4" pname="f"/><note dur="16" pname="a"/><note oct="5" pname="c"/><note dur="8" oct="4" pname="a"/></beam><beam><note dur="8" oct="5" pname="c"/><note oct="4" pname="a"/><note pname="g"/></beam></layer></staff></measure>
     <measure n="2"><staff><layer><mRpt/></layer></staff></measure><measure n="3"><staff><layer><mRpt/></layer></staff></measure><measure n="4"><staff><layer><mRpt/></layer></staff></measure>`,
    { defs: 'meter.count="6" meter.unit="8"' },
  ),
  /** 4.3.12.2, cmn-sample163: half bars repeated, "even across bar lines". */
  halfBarRepeats: section(
    `<measure n="1"><staff n="1"><layer n="2"><chord dur="2" stem.mod="1slash"><note oct="2" pname="g"/><note oct="1" pname="b"/></chord><halfmRpt/></layer></staff></measure>
     <measure n="2"><staff n="1"><layer n="2"><halfmRpt/><halfmRpt/></layer></staff></measure>`,
    { defs: 'meter.sym="common"' },
  ),
  /** 4.3.10, cmn-cue_layer: cue notes of another clef in a layer of their own, with an upbeat. */
  cueLayer: meiFile(
    `<scoreDef><staffGrp><staffDef n="1" lines="5"><clef shape="G" line="2"/><keySig sig="5f"/><meterSig count="3" unit="4"/></staffDef></staffGrp></scoreDef>
     <section><measure metcon="false"><staff n="1"><layer n="1"><rest dur="4"/></layer><layer n="2" cue="true"><clef shape="F" line="4"/><note dur="4" oct="2" pname="f"/></layer></staff></measure>
     <measure n="1"><staff n="1"><layer n="1"><mRest/></layer><layer n="2" cue="true"><note dur="2" oct="2" pname="b" accid.ges="f"/><note dur="4" oct="2" pname="f"/></layer></staff></measure>
     <measure n="2"><staff n="1"><layer n="1"><rest dur="4"/><rest dur="4"/><clef shape="G" line="2"/><note dur="4" oct="5" pname="b" accid.ges="f"/></layer><layer n="2" cue="true"><note dur="2" oct="2" pname="b" accid.ges="f"/></layer></staff></measure></section>`,
  ),
  /** 4.3.9, cmn-ossia_staff: "original content on regular staff". */
  ossiaStaff: section(
    `<measure n="1"><staff n="1"><layer><note dur="1" oct="4" pname="c"/></layer></staff><ossia><oStaff><layer><note dur="1" oct="6" pname="c"/></layer></oStaff><staff n="2"><layer><note dur="1" oct="4" pname="e"/></layer></staff></ossia><staff n="3"><layer><note dur="1" oct="4" pname="g"/></layer></staff></measure>`,
    { staves: [1, 2, 3].map((n) => treble.replace('n="1"', `n="${n}"`)).join('') },
  ),
  /** 4.3.9, cmn-ossia_layer: "original content in regular layer". */
  ossiaLayer: section(
    '<measure n="1"><staff n="1"><ossia><layer n="1"><note dur="1" oct="4" pname="c"/></layer><oLayer><note dur="1" oct="6" pname="c"/></oLayer></ossia></staff></measure>',
  ),
  /** 4.2.4, 04-score-redefinition.mei: keys and metres change, and three bars of rest in one measure. */
  redefinition: meiFile(
    `<scoreDef keysig="4f" meter.sym="common"><staffGrp>${treble}</staffGrp></scoreDef><section>
     <measure right="dbl"><staff n="1"><layer n="1"><chord dur="1"><note oct="4" pname="a" accid.ges="f"/><note oct="5" pname="c"/><note oct="5" pname="e" accid.ges="f"/></chord></layer></staff></measure>
     <scoreDef keysig="0" keysig.cancelaccid="none"/><measure right="dbl"><staff n="1"><layer n="1"><chord dur="1"><note oct="4" pname="a"/><note oct="5" pname="c"/><note oct="5" pname="e"/></chord></layer></staff></measure>
     <scoreDef keysig="2s" keysig.cancelaccid="before" meter.sym="cut"/><measure><staff n="1"><layer n="1"><chord dur="1"><note oct="4" pname="b"/><note oct="5" pname="d"/><note oct="5" pname="f" accid.ges="s"/></chord></layer></staff></measure>
     <measure right="dbl"><staff n="1"><layer n="1"><multiRest num="3"/></layer></staff></measure>
     <scoreDef keysig.visible="false" keysig="5f" meter.count="4" meter.unit="4"/><measure right="dbl"><staff n="1"><layer n="1"><chord dur="1"><note oct="4" pname="g" accid.ges="f"/><note oct="4" pname="b" accid.ges="f"/><note oct="5" pname="d" accid.ges="f"/></chord></layer></staff></measure>
     <scoreDef keysig="2s" keysig.cancelaccid="before-bar"/><measure right="end"><staff n="1"><layer n="1"><chord dur="1"><note oct="4" pname="b"/><note oct="5" pname="d"/><note oct="5" pname="f" accid.ges="s"/></chord></layer></staff></measure></section>`,
  ),
  /** 4.3.11.1, tempo-01.mei: words and a figure in one tempo, in an upbeat. */
  tempo: meiFile(
    `<scoreDef meter.sym="cut"><staffGrp><staffDef label="Violino" n="1" lines="5" clef.shape="G" clef.line="2"/></staffGrp></scoreDef><section>
     <measure n="0" type="upbeat"><staff n="1"><layer n="1"><beam><note xml:id="m0_s2_e1" dur="8" oct="5" pname="e"/><note xml:id="m0_s2_e2" dur="8" oct="5" pname="f"/></beam></layer></staff><tempo staff="1" tstamp="1.000000">Andante con moto <rend fontfam="smufl">\ue1d3</rend> = 70</tempo><slur startid="#m0_s2_e1" endid="#m0_s2_e2"/></measure>
     <measure n="1"><staff n="1"><layer n="1"><note dots="1" dur="4" oct="5" pname="g"/><note dur="8" oct="5" pname="g"/><note dur="4" oct="5" pname="g"/><beam><note dur="8" oct="5" pname="g"/><note dur="8" oct="6" pname="c"/></beam></layer></staff></measure></section>`,
  ),
  /** 4.3.3, cmn-sample131 (cresc. poco a poco to the next bar) and 4.3.11.2, cmn-sample160 (a rehearsal mark without time). */
  directions: section(
    bar(
      1,
      rest4.repeat(4),
      '<dynam place="above" staff="1" tstamp="2.5" tstamp2="1m+1">cresc. poco a poco</dynam><reh staff="1" place="above"><rend rend="box">17</rend></reh>',
    ) + bar(2, rest4.repeat(4)),
  ),
  /** 4.3.6.3, cmn-sample150: a tremolo of two notes. */
  fingeredTremolo: section(
    bar(1, '<fTrem unitdur="32"><note pname="f" oct="4" dur="4"/><note pname="a" oct="4" dur="4"/></fTrem>'),
    { defs: 'meter.count="1" meter.unit="4"' },
  ),
  /** repeatMark.mei: a segno at the end of a bar belongs to the next; the jump back is ours. */
  repeatMark: section(
    bar(1, rest4.repeat(4), '<repeatMark func="segno" tstamp="5"/>') +
      bar(2, rest4.repeat(4), '<repeatMark func="fine" tstamp="5">Fine</repeatMark>') +
      bar(3, rest4.repeat(4), '<repeatMark func="dalSegno" tstamp="5">D.S. al Fine</repeatMark>'),
  ),
} as const;

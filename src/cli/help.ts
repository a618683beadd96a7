/** Help that teaches by example. */

export const generalHelp = `Levare gives a chamber group click tracks that know the piece: from the score, for the bars you choose.

See what is in a score:

  levare look sonata.musicxml

Find where the parts depend on each other, as a coach would pencil it, and how to practise it:

  levare find quartet.mxl

Make a drill: bars 12 to 15, four times, quarter = 72, with an upbeat if the phrase has one:

  levare drill sonata.musicxml --bars 12-15 --tempo 1/4=72 --times 4 --out bars-12

Then less click: only beats 2 and 4, then one click a bar, then two bars with and two without:

  levare drill sonata.musicxml --bars 12-15 --click weak --out step-2
  levare drill sonata.musicxml --bars 12-15 --click bar --out step-3
  levare drill sonata.musicxml --bars 12-15 --tacet 2/2 --out step-4

Scores are MusicXML (.musicxml, .xml, .mxl), MEI (.mei), Humdrum kern (.krn), ABC (.abc) and MIDI files (.mid). If
you own paper and no file, type the bars in a line of text and use that as the score:

  pickup 1/4; 1-16 4/4 twice; 17-24 3/4; tempo 1/4=92

Read how a group played together, from a table of onsets:

  levare together onsets.csv

More examples:  levare look --help   levare find --help   levare drill --help   levare hear --help
                levare together --help   levare plan --help   levare pack --help
Which version:  levare --version

Start with the volume right down: a click in the ear comes on top of the group around you (docs/hearing.md).
`;

export const lookHelp = `levare look SCORE: what is in a score, and what had to be assumed to read it.

  levare look sonata.musicxml          parts, bars, repeats, tempi, in words
  levare look sonata.musicxml --json   the same for other programs (levare.look/1)
  levare look sonata.musicxml --plan   bars, repeats and tempi as a bar plan, to edit and use as a score
  cat sonata.mxl | levare look -       from a pipe

Scores are MusicXML, MEI, Humdrum kern, ABC, MIDI or a bar plan. What a file is called does not matter; it is known
by its content. The ids in front of the parts (P1) and the bar numbers are what levare drill understands.
A drill's folder may stand for its score.
`;

export const findHelp = `levare find SCORE: where the parts depend on each other, and how to practise each place.

  levare find quartet.mxl                        a list in words, weightiest first
  levare find quartet.mxl --bars 40-80           only places that lie in these bars
  levare find quartet.mxl --parts P1,viola       only places in which one of these takes part
  levare find quartet.mxl --kind shared-line     one line divided between players, with its hand-overs
  levare find quartet.mxl --json                 all of it, with a sequence of drills for each (levare.find/1)
  levare find quartet.mxl --csv                  a table, one line for each place
  levare find quartet.mxl --most 10              only the ten weightiest; all
  levare find quartet.mxl --out pencilled        also the pages: places.pdf and SVG pictures, each place a bracket
                                                 over the music, each hand-over a tick that leans to who takes over;
                                                 --paper letter; --language de for pages in German

Kinds: shared-line, canon, imitation, joint-entry, rhythmic-unison, after-beats, weak-beats, syncopation,
cross-rhythm, dots-against-triplets, hemiola, metre-change, tempo-change, tie-over-bar, upbeat-start,
long-note-then-run, last-notes. What each means stands in docs/find.md.
The order is a rule of thumb, no measurement: you know your group.
`;

export const drillHelp = `levare drill SCORE --bars BARS --out FOLDER: a click track for a passage, and all that belongs to it.

Which music
  --bars 12-15        by the printed numbers; also 12, A-C (rehearsal marks), all
  --pass 2            the second time through a repeat
  --parts P1,P3       only these players (levare look shows the ids; names do too)
  --keep 1/8+         eighths and longer, the rest becomes rests; 1/16 only sixteenths; 1/8- eighths and
                      shorter; 1/8t triplet eighths; several as 1/8+,1/8t; all
  --upbeat 1/4        begin a quarter early; none; auto finds where the phrase begins
  --markings FILE     what you wrote into your parts, taken along from the page (markings, or a whole shelf): it
                      is printed in pencil, heard, and minded by the click
  --octave P1=+1      this part sounds an octave higher than written, and the file does not say so

Where it clicks
  --click every       every beat; half (half bars); weak (2 and 4); after (the "ands"); bar; 2bars; 4bars
  --click 1/8         in eighths
  --click "2 4"       on the beats you name; "1 2&" with the "and" of two
  --click bar,hemiola:14-15   one a bar, and bars 14 to 15 as a hemiola
  --click none        count-in only
  --tacet 2/2         two bars with the click, two without
  --count 1/8         count eighths: a slow 6/8 in six
  --groups 2+2+3      how 7/8 is divided
  --holds through     keep clicking through fermatas; count stops there and counts in again

How fast, how often
  --tempo 90          beats a minute; 1/4.=60 names the beat; 80% of the score's own; 72,80,88 in steps
  --times 4           four times at each tempo
  --gap 1             silent bars in between
  --count-in 2        bars counted in front; auto, none, first, each, each:1

The files
  --out bars-12       the folder; what else is in it stays
  --rate 44100 --depth 24   the sound files (48000 and 16 if you say nothing; depth 32 is floating point)
  --pitch 415         the pitch of A, 392 to 466 (440 if you say nothing)
  --without P1        leave a part out of the sound, for its player to take over
  --place left        in full.wav the click alone on the left, the parts on the right; centre
  --words de          count words of full.wav: en, de, nl, fr, it, es; none
  --language de       pages in German, and the count spoken so where --words says nothing else; en
  --paper letter      pages as Letter, a4, or none
  --others grey       notes that --keep leaves out small and grey on the pages, not as rests
  --json              say what was made as JSON (levare.made/1)

Examples
  levare drill quartet.mxl --bars 40-48 --click weak --tempo 60,66,72 --times 2 --out weak-beats
  levare drill quartet.mxl --bars 12-13 --parts P2,P3 --keep 1/16 --click 1/8 --tempo 50% --times 8 --out hand-over
  levare drill weak-beats --click bar --out one-a-bar      a drill once made, with one thing changed
`;

export const togetherHelp = `levare together ONSETS.csv: how a group played together, from a table of onsets.

  levare together onsets.csv           who is ahead and by how much, spread, tempo, drift, in words
  levare together onsets.csv --json    the same and more for other programs (levare.together/1)
  levare together onsets.csv --players Flute,Oboe   only these columns, in this table's order
  levare together onsets.csv --noise 5     onsets were measured to 5 ms (standard deviation): the spread
                                       is also told without that

The table has the names of the players in its first line, a column of onsets in seconds under each, and a row for
each place that they share; where somebody does not play the cell stays empty. Comma, semicolon or tab between
columns. Columns "bar" and "beat", or "position" in beats, say where a row stands; "click" holds the click.

  position,Flute,Oboe
  0,0.512,0.498
  1,1.130,1.121
  2,,1.733

Every figure has an interval that holds the truth 95 times out of 100. First minus second: above 0 the first is
later. More on the formulas: docs/formats/together.md.
`;

export const hearHelp = `levare hear A.wav B.wav --drill FOLDER: what was played, note by note, one recording per player or one for all.

  levare hear flute.wav oboe.wav --drill bars-12           in the order of the drill's parts
  levare hear P2=oboe.wav P1=flute.wav --drill bars-12     or say whose each is
  levare hear all.wav --drill bars-12                      one microphone for everyone
  levare hear flute.wav oboe.wav --drill bars-12 --json    for other programs (levare.reading/4)

It says the strongest finding, alone, with one thing to try. First say yourselves what you heard.

  --most 7            up to seven findings
  --language de       in German; en
  --figures           all figures too, each with its uncertainty
  --with click        the players held to the click; free: they did not (as for a drill with --click none)
  --distance P1=2.5   one microphone: how many metres away this player sits; may be given for each
  --by-signal         one microphone: without what was learnt, to hold the two against each other
  --out heard-12      a folder for reading.pdf and its pages (SVG), reading.txt, reading.json, reading.csv
                      and charts (SVG)
  --png               with --out: pages and charts as PNG too

Recordings are WAV, FLAC, MP3, Ogg Vorbis or Opus, at any rate; each may begin when it likes. The recorder should hear
a little of the click, at least of the count-in: from it the recordings are put on one clock. Without it who is ahead
on the whole cannot be told, only how evenly.
`;

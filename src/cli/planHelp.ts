/** Help for plans and packs, by example. */

export const planHelp = `levare plan SCORE --minutes 60: what to rehearse today, and in which order.

  levare plan quartet.mxl --minutes 60                  the weightiest places, in turns; ends free
  levare plan quartet.mxl --minutes 90 --days 5         the concert is in five days
  levare plan quartet.mxl --minutes 60 --present P1,P2  only these players are there: ids or
                                                        names of parts, or names of players by the journal
  levare plan quartet.mxl --minutes 60 --bars 1-80      only places in these bars
  levare plan quartet.mxl --minutes 60 --journal ours   what was played before counts: what held last time comes
                                                        first (ours: a folder with journal.json, or a shelf that
                                                        was taken along)
  levare plan quartet.mxl --minutes 60 --out today      also plan.pdf, to print, and plan.json, to change by hand
  levare plan quartet.mxl --minutes 60 --from today     print a plan.json that was changed (with --out elsewhere)

The journal

  levare plan quartet.mxl --add heard-12 --drill bars-12 --journal ours --day 2026-11-28
                                   puts the reading in heard-12 (of levare hear --out) into the journal, and says
                                   what the rule proposes: stay, on, back, or leave for today. You decide.
  levare plan quartet.mxl --growth --journal ours       from rehearsal to rehearsal, with what can be told of it
  levare plan quartet.mxl --merge theirs --journal ours both journals into ours; what was deleted stays deleted
  levare plan quartet.mxl --give anna --journal ours    all that the journal has of one player (an id), as JSON
  levare plan quartet.mxl --forget anna --journal ours  and deletes it

  --language de    in German; en
  --json           for other programs

What the rule is, and which of it is research, stands in docs/letting-go.md.
`;

export const packHelp = `levare pack DRILL ... --out FOLDER: for each player one zip to take home.

  levare pack bars-12 bars-40 --out packs       folders made by levare drill, all of one piece
  levare pack quartet.mxl --bars 12-15 --click bar --tempo 72 --out packs
  levare pack bars-12 --for P1=Anna,P2=Ben --out packs      only these, and what they are called
  levare pack bars-12 --language de --out packs             the page in plain words in German; en

In each zip, for each drill: the own part (PDF), the click and the click with all others (WAV, and FLAC for the
telephone), MIDI and MusicXML; and one page in plain words, which says how to set a plain click that does the same.

  --rate 44100 --pitch 415 --paper letter; none         as for levare drill
  --json                                                what was made (levare.packs/1)
`;

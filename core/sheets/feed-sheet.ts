/** What feeds a building or space, on paper: cables by entrance, every strand with its state and far end. */

import { shortRange } from "../act/numbering.ts";
import type { FeedCable, FeedStrand, FeedsAnswer } from "../feeds/answer.ts";
import { STATES } from "../feeds/wording.ts";
import { formatNumber, type LengthUnit } from "../model/units.ts";
import { type Block, type Cell, type Column, codeOf, type Document, type TitleBlock } from "../paper/document.ts";
import { asNotes } from "../paper/notes.ts";
import type { StrandState } from "../trace/answer.ts";
import { counted } from "../words/counted.ts";
import { say } from "../words/say.ts";
import { chipOf } from "./chips.ts";
import { sharedByContent } from "./column-shares.ts";
import { farInBrief, few, lengthIn, placeText, plain } from "./in-words.ts";

const ALL = Object.keys(STATES) as StrandState[];

export function feedSheetDocument(answer: FeedsAnswer, unit: LengthUnit, title: TitleBlock): Document {
  const { subject, name, cables, entrances, single_points, free_to } = answer;
  // A state that no strand has takes no room.
  const states = ALL.filter((state) => answer.counts[state] > 0);
  const counts = (of: Readonly<Record<StrandState, number>>): Cell[] => states.map((state) => formatNumber(of[state]));
  const heads = states.map((state): Column => ({ head: sentenceCase(STATES[state]), numeric: true }));
  return {
    paper: "document",
    lying: true,
    title: { ...title, what: say`What feeds ${subject.tag}`, code: codeOf(subject.kind, subject.tag) },
    blocks: [
      { is: "paragraph", text: name === subject.tag ? plain(answer.sentence) : `${name}: ${plain(answer.sentence)}` },
      ...asNotes(answer.cautions),
      ...single_points.map(
        ({ tag }): Block => ({ is: "note", sign: "caution", text: say`Without ${tag} no glass leads out of here.` }),
      ),
      {
        is: "table",
        caption: say`By entrance`,
        columns: [{ head: say`Entrance`, weight: 2 }, { head: say`Cables`, numeric: true }, ...heads],
        rows: [
          ...entrances.map((one): Cell[] => [placeText(one.place), formatNumber(one.cables), ...counts(one.counts)]),
          [say`All`, formatNumber(cables.length), ...counts(answer.counts)],
        ],
      },
      {
        is: "table",
        caption: say`Free from a port here to a port there`,
        columns: [
          { head: say`To`, weight: 3 },
          { head: say`Strands`, numeric: true },
        ],
        rows: free_to.map(({ building, name: called, strands }): Cell[] => [
          called && called !== building.tag ? `${building.tag} (${called})` : building.tag,
          formatNumber(strands),
        ]),
        none: say`No strand is free to any other building.`,
      },
      ...cables.flatMap((cable) => cableBlocks(cable, unit)),
    ],
  };
}

const sentenceCase = (words: string): string => `${words.charAt(0).toUpperCase()}${words.slice(1)}`;

function cableBlocks(cable: FeedCable, unit: LengthUnit): Block[] {
  const facts = [
    say`enters at ${placeText(cable.entrance) ?? say`a place that nobody knows`}`,
    cable.from?.space ? say`from ${placeText(cable.from)}` : say`from a place that nobody knows`,
    ...(cable.owner ? [say`of ${cable.owner}`] : []),
    ...(cable.express > 0 ? [say`${counted(cable.express, "strand")} only pass`] : []),
  ];
  const heading: Block = { is: "heading", level: 1, text: cable.cable.tag };
  const said: Block = { is: "paragraph", text: `${sentenceCase(facts.join(", "))}.` };
  if (cable.without_strands) return [heading, said, { is: "paragraph", text: say`Its strands are not on record.` }];
  if (cable.passes_only)
    return [heading, said, { is: "paragraph", text: say`It only passes: no strand of it ends here.` }];
  const rows = runsOf(cable.strands).map((run) => strandRow(run, unit));
  return [
    heading,
    said,
    {
      is: "table",
      dense: true,
      caption: say`Strands of ${cable.cable.tag} that end here; what is alike and side by side stands in one line`,
      columns: sharedByContent(STRAND_COLUMNS, rows),
      rows,
    },
  ];
}

const STRAND_COLUMNS: readonly Column[] = [
  { head: say`Found` },
  { head: say`Strands` },
  { head: say`Colours` },
  { head: say`State` },
  { head: say`Circuit` },
  { head: say`Far end` },
  { head: say`Sheath`, numeric: true },
];

/** Neighbours of one unit that carry nothing, in one state, with their far ends in one place. */
function runsOf(strands: readonly FeedStrand[]): FeedStrand[][] {
  const alike = (one: FeedStrand): string | null =>
    one.circuits.length > 0 || one.why !== null || one.far_ends > 1 || one.strand.includes("#")
      ? null
      : JSON.stringify([one.unit, one.state, one.owner, one.far?.kind, one.far?.place?.space?.id, one.far?.words]);
  const runs: FeedStrand[][] = [];
  for (const one of strands) {
    const last = runs.at(-1);
    const before = last?.at(-1);
    const key = alike(one);
    if (last && before && key !== null && key === alike(before) && one.number === before.number + 1) last.push(one);
    else runs.push([one]);
  }
  return runs;
}

function strandRow(run: readonly FeedStrand[], unit: LengthUnit): Cell[] {
  const [one] = run as [FeedStrand, ...FeedStrand[]];
  const last = run.at(-1) as FeedStrand;
  const lengths = run.flatMap(({ length_m }) => length_m ?? []);
  const far = ({ far: end, far_ends }: FeedStrand): string => (end ? farInBrief(end) : say`${far_ends} ends`);
  const longest = lengths.length === run.length ? Math.max(...lengths) : null;
  return [
    { tick: false },
    run.length === 1 ? one.strand.slice(one.strand.lastIndexOf(":") + 1) : shortRange(run.map(({ number }) => number)),
    run.length === 1 ? chipOf(one.colours) : (chipOf(one.colours.slice(0, -1)) ?? say`in the sheath`),
    one.why ? [STATES[one.state], plain(one.why)] : STATES[one.state],
    few([...one.circuits.map(({ tag }) => tag), ...(one.owner ? [say`of ${one.owner}`] : [])], 4),
    run.length === 1 || far(one) === far(last)
      ? far(one)
      : [`${one.number}: ${far(one)}`, `${last.number}: ${far(last)}`],
    one.assumed ? [lengthIn(unit)(longest), say`assumed cord`] : lengthIn(unit)(longest),
  ];
}

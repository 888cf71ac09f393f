/** The papers there are: what each is for, of which records, and what makes it. */
import type { KindName } from "../../../core/model/dictionary.ts";
import type { InputOf, OperationName } from "../../../core/operations/list.ts";
import { say } from "../../../core/words/say.ts";

/** One operation that answers a document, with its input. */
type Making = { [N in OperationName]: { readonly name: N; readonly input: InputOf<N> } }[OperationName];

export interface Paper {
  readonly title: string;
  /** What one takes it along for. */
  readonly use: string;
  /** Kinds of record it is of. */
  readonly kinds: readonly KindName[];
  /** It can be of the whole plant, without a record. */
  readonly whole?: true;
  readonly make: (of: string) => Making;
}

const PLACES: readonly KindName[] = ["space"];

export const PAPERS: readonly Paper[] = [
  {
    title: say`Splice sheet`,
    use: say`For whoever opens a splice case: each unit of each cable with its fate, each joint tray by tray, boxes to tick and room for the loss.`,
    kinds: ["closure", ...PLACES],
    make: (of) => ({ name: "paper.splice_sheet", input: { case: of } }),
  },
  {
    title: say`Hole card`,
    use: say`For whoever lifts a lid or enters a room: the walls unfolded as seen from inside, what passes, what is coiled and opened, and what can hurt.`,
    kinds: PLACES,
    make: (of) => ({ name: "paper.hole_card", input: { place: of } }),
  },
  {
    title: say`Panel face`,
    use: say`For whoever patches: the ports in their layout from the front and from behind, what rides on them and where they lead.`,
    kinds: ["panel"],
    make: (of) => ({ name: "paper.panel_face", input: { panel: of } }),
  },
  {
    title: say`Trace sheet`,
    use: say`For whoever follows a line or measures it: drawn through its places, hop by hop with what each rests on, its loss term by term.`,
    kinds: ["strand", "section", "port", "position", "circuit", "cord", "splice"],
    make: (of) => ({ name: "paper.trace_sheet", input: { what: of } }),
  },
  {
    title: say`Feed sheet`,
    use: say`For whoever plans or mends at a building: what comes in, every strand with its state and far end, what is free to where.`,
    kinds: ["building", ...PLACES],
    make: (of) => ({ name: "paper.feed_sheet", input: { place: of } }),
  },
  {
    title: say`Cable sheet`,
    use: say`For whoever walks a cable: its course with marks and coils, its legs, itself cut across, every strand with what it does.`,
    kinds: ["cable"],
    make: (of) => ({ name: "paper.cable_sheet", input: { cable: of } }),
  },
  {
    title: say`Packet of a job`,
    use: say`For a crew that never saw the plant: situation, cautions, whom to call, steps in order, splice sheets of the work.`,
    kinds: ["job"],
    make: (of) => ({ name: "job.print", input: { job: of } }),
  },
  {
    title: say`Plan of the campus`,
    use: say`For finding the places: buildings, holes and ways to scale, with what was asked about marked on it.`,
    kinds: ["building", ...PLACES, "pathway", "cable"],
    whole: true,
    make: (of) => ({ name: "campus.print", input: { of: of === "" ? [] : [of] } }),
  },
  {
    title: say`Consistency report`,
    use: say`For the auditor: every finding with its reason and source, what was accepted by whom, content hash, rules and policies.`,
    kinds: [],
    whole: true,
    make: () => ({ name: "paper.report", input: {} }),
  },
];

/** Every kind that some paper is of. */
export const PAPER_KINDS: readonly KindName[] = [...new Set(PAPERS.flatMap(({ kinds }) => kinds))];

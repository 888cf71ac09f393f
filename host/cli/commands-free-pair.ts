/** Free strands from one place to another. */
import type { FreeJoint, FreePairAnswer, FreeStrand, FreeStretch, FreeWay } from "../../core/free-pair/answer.ts";
import type { InputOf } from "../../core/operations/list.ts";
import { plural } from "../../core/words/counted.ts";
import { asKnown } from "../../core/words/phrase.ts";
import { say } from "../../core/words/say.ts";
import { asking } from "./asking.ts";
import { type Command, type Given, wholeNumber } from "./command.ts";
import { question } from "./commands-ask.ts";
import { FINE, UsageError } from "./exit.ts";
import { lengthTold, spoken, table, wrap } from "./print.ts";
import { cautions } from "./traced.ts";
import { writtenText } from "./written.ts";

export const freePairCommand: Command = {
  name: "freepair",
  words: ["FILE", "FROM", "TO"],
  writes: true,
  help: say`Free strands from a port, panel, room or building to another, and what is to be spliced or patched for each way there is.`,
  options: {
    strands: { value: "N", help: say`how many strands` },
    avoid: { value: "CIRCUIT", help: say`keep away from the cables, pipes and pathways of this circuit` },
    separate: { help: say`also the shortest two routes that share no place and no pathway` },
    application: { value: "NAME", help: say`whether this will run on each way, such as 10GBASE-LR` },
    most: { value: "N", help: say`so many ways at most` },
    plan: { value: "CIRCUIT", help: say`plans the best way, or that of --way, as a new circuit with its joints` },
    way: { value: "N", help: say`with --plan: which of the ways, the best being 1` },
    job: { value: "JOB", help: say`with --plan: also a drafted job of this number with a step for each joint` },
    rehearse: { help: say`with --plan: shows what would be written and writes nothing` },
  },
  run: (given) => {
    const [, from = "", to = ""] = given.words;
    const avoid = given.option("avoid");
    const application = given.option("application");
    const input = {
      from,
      to,
      strands: wholeNumber(given, "strands", 1, 144),
      ...(avoid === undefined ? {} : { avoid }),
      ...(application === undefined ? {} : { application }),
      ...(given.option("most") === undefined ? {} : { most: wholeNumber(given, "most", 1, 50) }),
    };
    const circuit = given.option("plan");
    if (circuit !== undefined) return planned(given, { ...input, circuit });
    for (const name of ["way", "job"]) {
      if (given.option(name) !== undefined) throw new UsageError(say`--${name} belongs to --plan.`);
    }
    if (given.on("rehearse")) throw new UsageError(say`--rehearse belongs to --plan.`);
    return question(given, "free_pair.find", { ...input, separate: given.on("separate") }, freePairText);
  },
};

/** Plans a way, or shows what would be planned. */
function planned(given: Given, input: InputOf<"free_pair.plan">): Promise<number> {
  if (given.on("separate")) throw new UsageError(say`--plan plans one way; --separate only tells of two.`);
  const { terminal } = given;
  const [rehearse, job] = [given.on("rehearse"), given.option("job")];
  const asked = {
    ...input,
    ...(given.option("way") === undefined ? {} : { way: wholeNumber(given, "way", 1, 50) }),
    ...(job === undefined ? {} : { job }),
  };
  return asking(terminal, given, { file: given.words[0] ?? "", write: !rehearse }, async ({ ask }) => {
    const written = await ask("free_pair.plan", asked, rehearse);
    await terminal.out(given.json ? `${JSON.stringify(written, null, 2)}\n` : writtenText(written, terminal.columns));
    return FINE;
  });
}

const metres = (length: number | null): string => lengthTold(length);

function lossCell({ loss }: Pick<FreeWay, "loss">): string {
  const [first] = loss?.wavelengths ?? [];
  if (!first || first.worst_loss_db === null) return say`not known`;
  return say`${asKnown(`${first.worst_loss_db.toFixed(2)} dB`, first.complete)} at ${first.wavelength_nm} nm`;
}

const RUNS = { yes: say`runs`, no: say`doesn't run`, cannot_tell: say`can't tell` } as const;
const runsCell = ({ loss }: Pick<FreeWay, "loss">): string =>
  loss?.application ? RUNS[loss.application.runs_at_worst] : say`can't tell`;

function freePairText(answer: FreePairAnswer, width: number): string {
  const columns = [
    { head: say`way`, cell: (way: FreeWay) => answer.ways.indexOf(way) + 1, right: true },
    { head: say`splices`, cell: (way: FreeWay) => way.splices, right: true },
    { head: say`cords`, cell: (way: FreeWay) => way.cords, right: true },
    { head: say`neighbours`, cell: (way: FreeWay) => (way.adjacent ? say`yes` : say`no`) },
    { head: say`length`, cell: (way: FreeWay) => metres(way.length_m), right: true },
    { head: say`loss at worst`, cell: lossCell, right: true },
    ...(answer.application === null ? [] : [{ head: answer.application, cell: runsCell }]),
    {
      head: say`over`,
      cell: (way: FreeWay) => way.stretches.flatMap(({ cables }) => cables.map(({ tag }) => tag)).join(", "),
    },
  ];
  const parts = [
    `${wrap(spoken(answer.sentence), width).join("\n")}\n`,
    answer.ways.length > 0 ? table(answer.ways, columns, width) : "",
    ...answer.ways
      .slice(0, 1)
      .flatMap((way) => way.stretches.map((stretch, n) => stretchText(stretch, way.joints[n], width))),
    ...(answer.ways[0]?.doubts ?? []).map((words) => `${wrap(spoken(say`To mind: ${words}`), width).join("\n")}\n`),
    separateText(answer, width),
    lossText(answer, width),
    answer.unknown.map((one) => `${wrap(spoken(say`Not known: ${one}`), width).join("\n")}\n`).join(""),
    cautions(answer.cautions, width),
  ];
  return parts.filter((part) => part !== "").join("\n");
}

/** Why the best way runs or doesn't, and what its loss rests on. */
function lossText({ ways }: FreePairAnswer, width: number): string {
  const loss = ways[0]?.loss;
  if (!loss) return "";
  const lines = [
    ...(loss.application?.reasons ?? []).map((reason) => `${loss.application?.application}: ${reason}`),
    ...(loss.application?.sources ?? []).map((source) => say`limit ${source}`),
    ...(loss.wavelengths[0]?.unknown ?? []).map((one) => say`Not known: ${one}`),
    ...loss.assumptions,
  ];
  return lines.map((line) => `${wrap(spoken(line), width).join("\n")}\n`).join("");
}

function separateText({ separate, application }: FreePairAnswer, width: number): string {
  const lines = (separate?.routes ?? []).flatMap(({ through, cables, joints, length_m, way, lacks }, n) => {
    const known = way && { loss: way.loss };
    const runs = application === null ? "" : `; ${application}: ${known ? runsCell(known) : say`can't tell`}`;
    const loss = known
      ? say`loses at worst ${lossCell(known)}${runs}`
      : say`its loss is not reckoned: its strands don't end where its cables do, and would be cut out on the way${runs}`;
    return [
      plural(
        joints,
        "separate route {1}: {2}, {0} joint to be made, in {3}",
        "separate route {1}: {2}, {0} joints to be made, in {3}",
        n + 1,
        metres(length_m),
        cables.map(({ tag }) => tag).join(", "),
      ),
      say`through ${through.map(({ tag }) => tag).join(", ")}`,
      loss,
      ...(way?.loss?.application?.reasons ?? []).map((reason) => say`because ${reason}`),
      ...(way?.doubts ?? []).map((words) => say`To mind: ${words}`),
      ...lacks,
    ];
  });
  return lines.map((line) => `${wrap(spoken(line), width).join("\n")}\n`).join("");
}

function stretchText(stretch: FreeStretch, joint: FreeJoint | undefined, width: number): string {
  const columns = [
    { head: say`from ${stretch.from.tag}`, cell: (one: FreeStrand) => one.from.tag },
    { head: say`to ${stretch.to.tag}`, cell: (one: FreeStrand) => one.to.tag },
    { head: say`strands`, cell: (one: FreeStrand) => one.sections.map(({ tag }) => tag).join(", ") },
  ];
  const next = joint
    ? joint.kind === "splice"
      ? plural(joint.count, "then {0} splice at {1}\n", "then {0} splices at {1}\n", joint.space.tag)
      : plural(joint.count, "then {0} cord at {1}\n", "then {0} cords at {1}\n", joint.space.tag)
    : "";
  return `${table(stretch.strands, columns, width)}${next}`;
}

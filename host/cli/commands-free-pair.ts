/** Free strands from one place to another. */
import type { FreeJoint, FreePairAnswer, FreeStrand, FreeStretch, FreeWay } from "../../core/free-pair/answer.ts";
import { type Command, wholeNumber } from "./command.ts";
import { question } from "./commands-ask.ts";
import { spoken, table, wrap } from "./print.ts";
import { cautions } from "./traced.ts";

export const freePairCommand: Command = {
  name: "freepair",
  words: ["FILE", "FROM", "TO"],
  help: "Free strands from a port, panel, room or building to another, and what is to be spliced or patched for each way there is.",
  options: {
    strands: { value: "N", help: "how many strands" },
    avoid: { value: "CIRCUIT", help: "keep away from the cables, pipes and pathways of this circuit" },
    separate: { help: "also the shortest two routes that share no place and no pathway" },
    most: { value: "N", help: "so many ways at most" },
  },
  run: (given) => {
    const [, from = "", to = ""] = given.words;
    const avoid = given.option("avoid");
    const input = {
      from,
      to,
      strands: wholeNumber(given, "strands", 1, 144),
      separate: given.on("separate"),
      ...(avoid === undefined ? {} : { avoid }),
      ...(given.option("most") === undefined ? {} : { most: wholeNumber(given, "most", 1, 50) }),
    };
    return question(given, "free_pair.find", input, freePairText);
  },
};

const metres = (length: number | null): string => (length === null ? "not known" : `${Math.round(length * 10) / 10} m`);

function freePairText(answer: FreePairAnswer, width: number): string {
  const columns = [
    { head: "way", cell: (way: FreeWay) => answer.ways.indexOf(way) + 1, right: true },
    { head: "splices", cell: (way: FreeWay) => way.splices, right: true },
    { head: "cords", cell: (way: FreeWay) => way.cords, right: true },
    { head: "neighbours", cell: (way: FreeWay) => (way.adjacent ? "yes" : "no") },
    { head: "length", cell: (way: FreeWay) => metres(way.length_m), right: true },
    {
      head: "over",
      cell: (way: FreeWay) => way.stretches.flatMap(({ cables }) => cables.map(({ tag }) => tag)).join(", "),
    },
  ];
  const parts = [
    `${wrap(spoken(answer.sentence), width).join("\n")}\n`,
    answer.ways.length > 0 ? table(answer.ways, columns, width) : "",
    ...answer.ways
      .slice(0, 1)
      .flatMap((way) => way.stretches.map((stretch, n) => stretchText(stretch, way.joints[n], width))),
    separateText(answer, width),
    answer.unknown.map((one) => `${wrap(spoken(`Not known: ${one}`), width).join("\n")}\n`).join(""),
    cautions(answer.cautions, width),
  ];
  return parts.filter((part) => part !== "").join("\n");
}

function separateText({ separate }: FreePairAnswer, width: number): string {
  const lines = (separate?.routes ?? []).flatMap(({ through, cables, joints, length_m }, n) => [
    `separate route ${n + 1}: ${metres(length_m)}, ${joints} ${joints === 1 ? "joint" : "joints"} to be made, in ${cables.map(({ tag }) => tag).join(", ")}`,
    `through ${through.map(({ tag }) => tag).join(", ")}`,
  ]);
  return lines.map((line) => `${wrap(spoken(line), width).join("\n")}\n`).join("");
}

function stretchText(stretch: FreeStretch, joint: FreeJoint | undefined, width: number): string {
  const columns = [
    { head: `from ${stretch.from.tag}`, cell: (one: FreeStrand) => one.from.tag },
    { head: `to ${stretch.to.tag}`, cell: (one: FreeStrand) => one.to.tag },
    { head: "strands", cell: (one: FreeStrand) => one.sections.map(({ tag }) => tag).join(", ") },
  ];
  const next = joint ? `then ${joint.count} ${joint.kind}${joint.count === 1 ? "" : "s"} at ${joint.space.tag}\n` : "";
  return `${table(stretch.strands, columns, width)}${next}`;
}

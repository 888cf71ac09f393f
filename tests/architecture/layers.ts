/** Who may import whom, as one table. Everything not granted here is refused, for types as for values. */

export interface Layer {
  readonly name: string;
  /** Files and folders it holds, as beginnings of paths; the longest that fits decides. */
  readonly holds: readonly string[];
  /** Layers it may import beside itself. */
  readonly uses: readonly string[];
  /** Why no others, for whoever runs into it. */
  readonly because: string;
}

const CORE_QUESTIONS = "one question each, over the store and the one glass; operations put them together";

export const LAYERS: readonly Layer[] = [
  {
    name: "words",
    holds: ["core/result.ts", "core/ports.ts", "core/words/"],
    uses: [],
    because: "refusals, ports and the words they are said in are what everything else is built on",
  },
  {
    name: "model",
    holds: ["core/model/"],
    uses: ["words", "standards"],
    because: "the dictionary says what a record is; it knows neither database nor question",
  },
  {
    name: "standards",
    holds: ["core/standards/"],
    uses: ["words", "model"],
    because: "published tables depend on nothing but the words for what they describe",
  },
  {
    name: "limits in use",
    holds: ["core/standards/limits/in-use.ts"],
    uses: ["words", "model", "schema", "store", "standards"],
    because: "the one place where published values and the plant's own meet",
  },
  {
    name: "paper",
    holds: ["core/paper/"],
    uses: ["words"],
    because: "what a printed document is; whoever makes one fills it, and the host writes it",
  },
  { name: "schema", holds: ["core/schema/"], uses: ["model"], because: "table types follow from the dictionary alone" },
  {
    name: "store",
    holds: ["core/store/"],
    uses: ["words", "model", "schema", "standards"],
    because: "reading and writing records must not depend on what is asked of them",
  },
  {
    name: "glass",
    holds: ["core/glass/"],
    uses: ["words", "model", "schema", "store", "standards"],
    because: "how glass connects is known here, once, below every question",
  },
  {
    name: "trace",
    holds: ["core/trace/"],
    uses: ["words", "model", "schema", "store", "glass", "standards"],
    because: CORE_QUESTIONS,
  },
  {
    name: "feeds",
    holds: ["core/feeds/"],
    uses: ["words", "model", "schema", "store", "glass", "standards", "trace"],
    because: CORE_QUESTIONS,
  },
  {
    name: "labels",
    holds: ["core/labels/"],
    uses: ["words", "model", "schema", "store", "glass", "standards", "limits in use", "paper"],
    because: "what stands on a label is said once, below the checks that compare it and the acts that write it",
  },
  {
    name: "light",
    holds: ["core/light/"],
    uses: ["words", "model", "schema", "store", "glass", "standards", "limits in use", "trace"],
    because: CORE_QUESTIONS,
  },
  {
    name: "fitness",
    holds: ["core/fitness/"],
    uses: ["words", "model", "schema", "store", "standards", "limits in use", "trace"],
    because: CORE_QUESTIONS,
  },
  {
    name: "pathway",
    holds: ["core/pathway/"],
    uses: ["words", "model", "schema", "store", "standards", "limits in use", "trace", "fitness"],
    because: "how full a pipe is, is reckoned by fitness alone",
  },
  {
    name: "locate",
    holds: ["core/locate/"],
    uses: ["words", "model", "schema", "store", "glass", "standards", "limits in use", "trace", "light"],
    because: "spends a reading along the one trace; classes and ways beyond a splitter are those of light",
  },
  {
    name: "repair",
    holds: ["core/repair/"],
    uses: [
      ...["words", "model", "schema", "store", "glass", "standards", "limits in use", "trace", "impact"],
      ...["fitness", "light", "pathway"],
    ],
    because:
      "plans over the course that trace tells; what is down is what impact says, a pull is reckoned by fitness, a loss by light",
  },
  {
    name: "break-out",
    holds: ["core/breakout/"],
    uses: [
      ...["words", "model", "schema", "store", "glass", "standards", "limits in use"],
      ...["trace", "feeds", "light", "repair", "pathway", "fitness", "act", "planned step"],
    ],
    because:
      "takes strands that feeds calls free, draws slack by the rule of repair, asks fitness what suits a way, and says it in acts",
  },
  {
    name: "planned step",
    holds: ["core/jobs/step.ts"],
    uses: ["model", "trace"],
    because: "a step says what is done and where; it knows no act and no job",
  },
  {
    name: "jobs",
    holds: ["core/jobs/"],
    uses: [
      ...["words", "model", "store", "standards", "limits in use", "trace", "act", "repair", "planned step", "paper"],
    ],
    because: "a chosen plan as steps, each an act; it plans nothing of its own and writes by acts alone",
  },
  {
    name: "sheets",
    holds: ["core/sheets/"],
    uses: [
      ...["words", "model", "store", "glass", "standards", "limits in use", "trace", "feeds", "pathway", "light"],
      ...["check", "locate", "act", "exchange", "as-built", "paper"],
    ],
    because: "a paper says what questions answer, in blocks; it reckons nothing of its own",
  },
  {
    name: "impact",
    holds: ["core/impact/"],
    uses: ["words", "model", "schema", "store", "glass", "standards", "trace", "feeds"],
    because: CORE_QUESTIONS,
  },
  {
    name: "campus plan",
    holds: ["core/campus-plan/"],
    uses: ["words", "model", "store", "trace", "impact", "paper"],
    because: "where a cable lies is what impact calls its course; a line of glass is what trace tells",
  },
  {
    name: "free pair",
    holds: ["core/free-pair/"],
    uses: [
      ...["words", "model", "schema", "store", "glass", "standards", "limits in use"],
      ...["trace", "feeds", "impact", "light", "act"],
    ],
    because: "finds ways over glass that feeds calls free, away from ways that impact knows",
  },
  {
    name: "check",
    holds: ["core/check/"],
    uses: [
      "labels",
      "words",
      "model",
      "schema",
      "store",
      "glass",
      "standards",
      "limits in use",
      "trace",
      "light",
      "impact",
      "fitness",
      "repair",
    ],
    because: CORE_QUESTIONS,
  },
  {
    name: "act",
    holds: ["core/act/"],
    uses: ["words", "model", "schema", "store", "glass", "standards", "trace", "labels"],
    because: "an act reads and answers a plan; it neither writes nor knows who asked",
  },
  {
    name: "exchange",
    holds: ["core/exchange/"],
    uses: ["words", "model", "schema", "store", "standards"],
    because: "exchange files hold records, not answers",
  },
  {
    name: "as-built",
    holds: ["core/as-built/"],
    uses: ["words", "model", "schema", "store", "glass", "act", "exchange"],
    because: "sheets and notes are said in acts; it plans by the acts it is handed and writes nothing",
  },
  {
    name: "run entry",
    holds: ["core/run-entry/"],
    uses: [
      ...["words", "model", "schema", "store", "glass", "standards", "limits in use", "trace", "fitness", "pathway"],
      ...["act", "as-built"],
    ],
    because: "a run is said in acts and held against the questions there are; it plans by the acts it is handed",
  },
  {
    name: "maps",
    holds: ["core/maps/"],
    uses: ["words", "model", "store", "exchange", "as-built"],
    because: "places and ways of a map are records under the names of the exchange files; bytes are read as sheets are",
  },
  {
    name: "attachments",
    holds: ["core/attachments/"],
    uses: ["words", "model", "store", "as-built"],
    because: "what may be kept is told by its bytes, which are read as sheets are; it writes nothing itself",
  },
  {
    name: "synthetic",
    holds: ["core/synthetic/"],
    uses: ["words", "model", "standards"],
    because: "generated plants carry their own truth, which must not come from the code it is held against",
  },
  {
    name: "operations",
    holds: ["core/operations/"],
    uses: [
      ...["words", "model", "schema", "store", "glass", "standards", "limits in use", "trace", "feeds", "impact"],
      ...["fitness", "free pair", "light", "locate", "repair", "break-out", "jobs", "pathway", "check", "paper"],
      ...[
        "act",
        "exchange",
        "as-built",
        "maps",
        "run entry",
        "history",
        "sheets",
        "labels",
        "campus plan",
        "attachments",
      ],
    ],
    because: "the one list that every transport calls",
  },
  {
    name: "history",
    holds: ["core/history/"],
    uses: ["words", "model", "schema", "store"],
    because: "moments of the record are read from what the store kept; what records mean is asked elsewhere",
  },
  {
    name: "migrations",
    holds: ["migrations/"],
    uses: [],
    because: "a migration is frozen; nothing it names may change",
  },
  {
    name: "host",
    holds: ["host/"],
    uses: [
      "words",
      "model",
      "schema",
      "store",
      "glass",
      "operations",
      "migrations",
      "exchange",
      "history",
      "paper",
      "synthetic",
      "samples",
    ],
    because: "wires core to files; the ways in are built on it, not it on them",
  },
  {
    name: "spoken words",
    holds: ["host/words/", "host/machine/kept-path.ts"],
    uses: ["words"],
    because: "the language is settled before anything else of the program is loaded",
  },
  {
    name: "this machine",
    holds: ["host/machine/"],
    uses: ["words", "operations", "model"],
    because: "what a person prefers on this machine is kept for every way to open a plant, and knows none of them",
  },
  {
    name: "window host",
    holds: ["host/window/"],
    uses: ["words", "operations", "model", "paper", "this machine"],
    because: "shared by the loopback host and Electron, which may be without a database",
  },
  {
    name: "loopback",
    holds: ["host/loopback/"],
    uses: ["words", "operations", "window host", "this machine"],
    because: "adds nothing to the list of operations but a way to call it",
  },
  {
    name: "command line",
    holds: ["host/cli/"],
    uses: [
      ...["words", "spoken words", "this machine", "model", "store", "operations", "paper", "host"],
      // Answers as they are printed: their types and the words of their lists.
      ...["trace", "feeds", "impact", "fitness", "free pair", "light", "locate", "repair", "break-out", "jobs"],
      ...["check", "exchange", "as-built", "maps", "history"],
      "set-up",
    ],
    because: "adds nothing to the list of operations but words and tables",
  },
  {
    name: "electron",
    holds: ["electron/"],
    uses: ["words", "spoken words", "model", "operations", "host", "window host", "this machine"],
    because: "the shell is thin: it knows operations by the shapes that travel",
  },
  {
    name: "renderer",
    holds: ["renderer/"],
    uses: [
      ...["words", "model", "standards", "operations", "paper"],
      ...["store", "glass", "trace", "feeds", "light", "impact", "free pair", "pathway", "fitness", "locate", "repair"],
      ...["break-out", "jobs", "check", "act", "exchange", "as-built", "maps", "run entry", "history"],
      "campus plan",
    ],
    because: "the window knows core's types and its pure parts; everything else it asks for",
  },
  {
    name: "samples",
    holds: ["samples/"],
    uses: ["words", "model", "schema", "store", "operations", "standards", "host", "act"],
    because: "the demo campus is entered through the program itself",
  },
  {
    name: "set-up",
    holds: ["setup/", "vite.config.ts", "vitest.config.ts"],
    uses: ["words", "spoken words", "host", "window host", "this machine", "loopback", "command line"],
    because: "starts the program; nothing depends on how it was started",
  },
];

/** From these the window may import values; from the rest of core, types only. */
export const RENDERER_VALUES = ["words", "model", "standards"];
export const RENDERER_VALUE_FILES = [
  "core/operations/wire.ts",
  // Geometry of a drawing that paper and window share.
  "core/paper/line.ts",
  "core/paper/campus.ts",
  "core/paper/packing.ts",
  // Words of closed lists, beside the types of an answer.
  "core/check/finding.ts",
  // Cautions that stand beside a question before it is asked.
  "core/repair/cautions.ts",
  "core/repair/ways.ts",
  // Help on the fields of a new cable run, as its input says it.
  "core/run-entry/help.ts",
];

/** Layers that run without Node: they may import no module of Node's, and no global of it. */
export const WITHOUT_NODE = (layer: string): boolean =>
  ![
    "host",
    "window host",
    "spoken words",
    "this machine",
    "loopback",
    "command line",
    "electron",
    "migrations",
    "set-up",
    "samples",
  ].includes(layer);

/** The only file that opens write transactions, and the folder whose parts are given their handle. */
export const GATEWAY = "core/store/gateway.ts";
export const WRITING_PARTS = "core/store/";
/** The only files that know the database driver. */
export const DRIVER_FILES = ["host/sqlite-connection.ts", "host/sqlite-errors.ts", "host/sqlite-statements.ts"];

/** A file is one idea; more than this needs splitting. */
export const MOST_LINES = 400;
/** Longer files, each with the reason why splitting it would make it worse. */
export const LONG_FILES: Readonly<Record<string, string>> = {};

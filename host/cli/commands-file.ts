/** Whole plant files: making them, their state, their backups. */
import { existsSync, statSync, writeFileSync } from "node:fs";
import { basename, resolve } from "node:path";
import { refuse } from "../../core/result.ts";
import { say } from "../../core/words/say.ts";
import { createPlant, EXTENSION } from "../plant-file.ts";
import { makeWhole } from "../whole-file.ts";
import { asking } from "./asking.ts";
import { type Command, type Given, wholeNumber } from "./command.ts";
import { FINE, UsageError } from "./exit.ts";
import { generatePlant, writeSample } from "./makers.ts";
import { facts, momentTold } from "./print.ts";

/** Else the file is damaged, and it is said how. */
const SOUNDNESS: Readonly<Record<string, string>> = { fine: say`fine`, checking: say`being looked at` };

const asJson = (value: unknown): string => `${JSON.stringify(value, null, 2)}\n`;

function freePath(named: string): string {
  const path = resolve(named);
  if (existsSync(path))
    refuse("file", say`${basename(path)} exists already. Choose another name, or move it away first.`);
  return path;
}

async function made(given: Given, path: string): Promise<number> {
  const { size } = statSync(path);
  await given.terminal.out(
    given.json ? asJson({ path, bytes: size }) : say`Made ${path} (${Math.ceil(size / 1024)} kB).\n`,
  );
  return FINE;
}

export const sampleCommand: Command = {
  name: "sample",
  words: ["FILE"],
  help: say`Writes the demo campus to a new file.`,
  run: async (given) => {
    const path = freePath(given.words[0] ?? "");
    await writeSample(path);
    return made(given, path);
  },
};

export const generateCommand: Command = {
  name: "generate",
  words: ["FILE"],
  help: say`Writes a synthetic plant to a new file, and says what is true of it by construction: with --json all of it. The same numbers make the same plant.`,
  options: {
    strands: { value: "N", help: say`how many strands, from 2 to 2000000` },
    seed: { value: "S", help: say`any number; the same number makes the same plant again` },
    truth: { value: "FILE", help: say`keeps what is true of the plant as JSON in a new file` },
  },
  run: async (given) => {
    const strands = wholeNumber(given, "strands", 2, 2_000_000);
    const seed = wholeNumber(given, "seed", 0, 2 ** 31 - 1);
    const path = freePath(given.words[0] ?? "");
    const kept = given.option("truth");
    const truthPath = kept === undefined ? null : freePath(kept);
    if (truthPath === path) throw new UsageError(say`--truth is a file of its own.`);
    const truth = await generatePlant(path, {
      strands,
      seed,
      signal: given.terminal.signal,
      onProgress: (done, total) => given.terminal.progress(say`strands: ${done} of ${total}`),
    });
    given.terminal.progress(null);
    if (truthPath !== null) await makeWhole(truthPath, (unfinished) => writeFileSync(unfinished, asJson(truth)));
    if (given.json) {
      await given.terminal.out(asJson({ path, bytes: statSync(path).size, truth }));
      return FINE;
    }
    await made(given, path);
    await given.terminal.out(
      facts([
        [say`strands`, truth.strands],
        [say`seed`, truth.seed],
        [say`buildings`, truth.buildings.length],
        [say`known lines`, truth.lines.length],
        [say`open strands`, truth.open.length],
        [say`assigned twice`, truth.assigned_twice.length],
        [say`broken`, truth.broken.length],
        [say`all of it`, truthPath ?? say`with --json, or --truth FILE`],
      ]),
    );
    return FINE;
  },
};

export const newCommand: Command = {
  name: "new",
  words: ["FILE"],
  help: say`Makes a new plant file with nothing on record but the plant's name.`,
  options: { name: { value: "NAME", help: say`the plant's name (else the file's)` } },
  run: async (given) => {
    const path = freePath(given.words[0] ?? "");
    await createPlant(path, given.option("name") ?? basename(path, EXTENSION));
    return made(given, path);
  },
};

export const statusCommand: Command = {
  name: "status",
  words: ["FILE"],
  help: say`The state of the file and how much is on record.`,
  run: (given) =>
    asking(given.terminal, given, { file: given.words[0] ?? "", write: false }, async ({ ask }) => {
      const status = await ask("plant.status", {});
      const summary = await ask("plant.summary", {});
      if (given.json) {
        await given.terminal.out(
          `${JSON.stringify({ ...status, name: summary.name, counts: summary.counts }, null, 2)}\n`,
        );
        return FINE;
      }
      const last = status.last_change;
      await given.terminal.out(
        facts([
          [say`plant`, summary.name],
          [say`file`, status.path],
          [say`size`, `${Math.ceil(status.bytes / 1024)} kB`],
          [say`soundness`, SOUNDNESS[status.integrity] ?? status.integrity],
          [say`last backup`, status.last_backup === null ? say`none` : momentTold(status.last_backup)],
          [say`last change`, last && `${last.id}: ${last.summary}, ${last.author}, ${momentTold(last.at)}`],
          ...summary.counts.filter(({ count }) => count > 0).map(({ kind, count }) => [kind, count] as const),
        ]),
      );
      return FINE;
    }),
};

export const backupCommand: Command = {
  name: "backup",
  words: ["FILE"],
  help: say`Makes a backup of the file now, by the engine's own backup, and says where.`,
  run: (given) =>
    asking(given.terminal, given, { file: given.words[0] ?? "", write: false }, async ({ ask }) => {
      const backup = await ask("plant.backup", {});
      await given.terminal.out(
        given.json ? `${JSON.stringify(backup, null, 2)}\n` : say`Backed up to ${backup.path}\n`,
      );
      return FINE;
    }),
};

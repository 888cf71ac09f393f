/** The edition by which links are accepted: told, chosen with a reason, taken back. */
import type { AnswerOf } from "../../core/operations/list.ts";
import { say } from "../../core/words/say.ts";
import { asking } from "./asking.ts";
import type { Command } from "./command.ts";
import { FINE, UsageError } from "./exit.ts";
import { facts, momentTold } from "./print.ts";
import { writtenText } from "./written.ts";

type Acceptance = AnswerOf<"standards.limits">["acceptance"];

const told = ({ words, changed, editions }: Acceptance): string =>
  facts([
    [say`accepted by`, words],
    [say`changed`, changed && `${momentTold(changed.at)}, ${changed.by}`],
    ...editions.map(({ edition, words: name }, n): [string, string] => [
      n === 0 ? say`to choose from` : "",
      `${edition}  ${name}`,
    ]),
  ]);

export const editionCommand: Command = {
  name: "edition",
  words: ["FILE"],
  more: ["NAME"],
  writes: true,
  help: say`The standard's edition by which links are accepted, and those that can be chosen; with NAME the plant chooses that one, and --reason says why. \`undo\` brings the other back.`,
  options: { "take-back": { help: say`takes the plant's choice back: the newest on the list is in use again` } },
  run: (given) => {
    const [file = "", name] = given.words;
    const back = given.on("take-back");
    const reason = given.reason?.trim();
    if (back && name !== undefined) throw new UsageError(say`An edition is chosen or taken back, not both.`);
    if (name !== undefined && !reason) throw new UsageError(say`--reason is missing: say why the plant chooses it.`);
    return asking(given.terminal, given, { file, write: back || name !== undefined }, async ({ ask }) => {
      const out = (answer: unknown, text: string) =>
        given.terminal.out(given.json ? `${JSON.stringify(answer, null, 2)}\n` : text);
      const { acceptance } = await ask("standards.limits", { under: "acceptance.edition" });
      const { record, editions, tag, meaning } = acceptance;
      if (name === undefined && !back) {
        await out(acceptance, told(acceptance));
        return FINE;
      }
      if (back) {
        if (!record) throw new UsageError(say`The plant chose no edition; there is nothing to take back.`);
        const written = await ask("record.remove", { kind: "limit_value", ids: [record.id] });
        await out(written, writtenText(written, given.terminal.columns));
        return FINE;
      }
      const asked = name?.trim().toLowerCase();
      const chosen = editions.find((one) => one.edition === asked || one.words.toLowerCase() === asked);
      if (!chosen) {
        const list = editions.map(({ edition }) => edition).join(", ");
        throw new UsageError(say`No edition is called "${name}"; there are ${list}.`);
      }
      const values = { edition: chosen.words, reason, how_known: "policy" };
      const written = record
        ? await ask("record.edit", { kind: "limit_value", id: record.id, values })
        : await ask("record.add", {
            kind: "limit_value",
            values: { ...values, tag, meaning },
          });
      await out(written, writtenText(written, given.terminal.columns));
      return FINE;
    });
  },
};

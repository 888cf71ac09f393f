/** What the glass carries. */
import type { InputOf } from "../../core/operations/list.ts";
import { say } from "../../core/words/say.ts";
import type { Command, Given } from "./command.ts";
import { question } from "./commands-ask.ts";
import { UsageError } from "./exit.ts";
import { lossText } from "./reckoned.ts";

/** The options as the operation takes them; dispatch decodes them and refuses what isn't one. */
function lossInput(given: Given): InputOf<"light.loss"> {
  const wavelength = given.option("wavelength");
  const wavelength_nm = wavelength === undefined ? undefined : Number(wavelength.replace(/\s*nm$/i, ""));
  if (wavelength_nm !== undefined && !Number.isFinite(wavelength_nm)) {
    throw new UsageError(say`--wavelength is a number of nanometres, not "${wavelength}".`);
  }
  const asked = {
    what: given.words[1] ?? "",
    wavelength_nm,
    direction: given.option("direction"),
    worst: given.option("worst"),
    as: given.option("as"),
    edition: given.option("edition"),
    reference_method: given.option("reference"),
    application: given.option("application"),
  };
  return Object.fromEntries(
    Object.entries(asked).filter(([, value]) => value !== undefined),
  ) as unknown as InputOf<"light.loss">;
}

export const lossCommand: Command = {
  name: "loss",
  words: ["FILE", "WHAT"],
  help: say`What light loses along a strand, port or circuit, term by term, and what that means for applications, optics and acceptance. With --json at least loss_db and terms, each with kind, loss_db, basis, source and record.`,
  options: {
    wavelength: { value: "NM", help: say`one wavelength; else the usual ones of the glass` },
    direction: { value: "a_to_b|b_to_a", help: say`which way light goes, as the trace is told` },
    worst: { value: "limit|typical", help: say`what stands in where nothing was measured` },
    as: { value: "link|channel", help: say`from port to port, or from equipment to equipment with its cords` },
    edition: {
      value: "NAME",
      help: say`the standard's edition, such as tia_568_3_e; else the plant's choice, its limit acceptance.edition`,
    },
    reference: { value: "one_cord|two_cords|three_cords", help: say`how many test cords set the reference` },
    application: { value: "NAME", help: say`only this application, such as 10GBASE-LR` },
  },
  run: (given) => question(given, "light.loss", lossInput(given), lossText),
};

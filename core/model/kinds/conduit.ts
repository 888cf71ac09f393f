import { say } from "../../words/say.ts";
import { choice, integer, number, reference, tag, text, yesNo } from "../field.ts";
import { defineKind, physical, provenance } from "../kind.ts";

export const conduit = defineKind({
  name: "conduit",
  one: say`conduit`,
  many: say`conduits`,
  group: "ways",
  help: say`One pipe of a pathway, or an innerduct or microduct inside another pipe. Pipe, duct and conduit are one thing here: pages and papers say pipe where it is short.`,
  address: { parents: ["pathway_id"], separator: "/", name: "tag" },
  key: ["pathway_id", "tag"],
  unique: true,
  indices: [["parent_id"]],
  ownedBy: ["pathway_id"],
  fields: {
    tag: tag(say`The pipe's number in its bank.`),
    pathway_id: reference("pathway", say`pathway`, say`The pathway it belongs to.`, { required: true }),
    parent_id: reference("conduit", say`inside`, say`The pipe it lies in, for an innerduct or microduct.`),
    bank_row: integer(say`row`, say`Row in the bank from the top, as seen from the from end (mirrored at the other).`, {
      min: 1,
      max: 50,
    }),
    bank_column: integer(say`column`, say`Column in the bank from the left, as seen from the from end.`, {
      min: 1,
      max: 50,
    }),
    colour: text(say`colour`, say`Colour of the pipe.`, { max: 40 }),
    material: text(say`material`, say`What it is made of.`, { max: 60 }),
    trade_size: text(say`trade size`, say`The size it is sold as.`, { max: 30 }),
    inner_diameter_mm: number(say`inner diameter`, say`Clear inner diameter.`, { unit: "mm", max: 2000 }),
    state: choice(say`state`, say`Whether it can take a cable.`, {
      free: say`free`,
      in_use: say`in use`,
      blocked: say`blocked`,
      unproven: say`unproven`,
    }),
    pull_line: yesNo(say`pull line`, say`Whether a pull line lies in it.`),
    from_coupled_id: reference(
      "conduit",
      say`coupled at from`,
      say`The pipe it is coupled to at the from end; cable can't be reached there.`,
    ),
    to_coupled_id: reference(
      "conduit",
      say`coupled at to`,
      say`The pipe it is coupled to at the to end; cable can't be reached there.`,
    ),
    ...physical,
    ...provenance,
  },
});

/** The splice sheet of a break-out's packet: the crew has it before the lateral is on record or a strand is cut. */
import { describe, expect, it } from "vitest";
import type { BreakoutAnswer } from "../../core/breakout/answer.ts";
import { way } from "./way.ts";

const ASKED = { cable: "F-1", at: "H-2", strands: 4, to: "NEW", type: "DR-12", lateral: "L-7" } as const;

interface Packet {
  readonly sheets: readonly {
    readonly tray: string;
    readonly later: readonly string[];
    readonly rows: readonly {
      readonly from: { readonly strand: { readonly tag: string }; readonly colours: string };
      readonly to: { readonly strand: { readonly tag: string }; readonly colours: string };
    }[];
  }[];
}

describe("the splice sheet of a break-out", () => {
  it.each(["a", "z", "both"])(
    "towards %s names each pair with the colours of both sides, as the plan does",
    async (side) => {
      const plant = await way();
      const { plans } = await plant.run<BreakoutAnswer>("breakout.plans", { ...ASKED, side });
      await plant.run("job.plan_breakout", { ...ASKED, side, job: "J-1" });
      const { sheets } = await plant.run<Packet>("job.packet", { job: "J-1" });
      expect(sheets.flatMap(({ later }) => later)).toEqual([]);
      const rows = sheets.flatMap(({ rows: own }) =>
        own.map(({ from, to }) => [from.strand.tag, from.colours, to.strand.tag, to.colours]),
      );
      expect(rows).toEqual(
        plans[0]?.splices.map(({ strand, lateral }) => [
          strand.tag.replace(/#.*/, ""),
          strand.words,
          lateral.tag,
          lateral.words,
        ]),
      );
      expect(rows.length).toBeGreaterThan(3);
    },
  );
});

/** One length of glass given to two circuits on the same days, bands, riding and splitters considered. */
import type { Clash } from "../../glass/assigned-twice.ts";
import { Service } from "../../glass/service.ts";
import { plural } from "../../words/counted.ts";
import { listed } from "../../words/phrase.ts";
import { say } from "../../words/say.ts";
import { type Case, defineRule } from "../rule.ts";

const PAGE = 20_000;

export const assignedTwice = defineRule({
  name: "truth.assigned_twice",
  family: "truth",
  severity: "error",
  title: say`Section assigned twice`,
  why: say`One length of glass is given to two circuits on the same days. One of them will be unplugged by mistake.`,
  source: say`Common practice, no source`,
  async find({ reader, glass, today, breathe }) {
    const rows = await reader.rows<{ section_id: number }>(
      "select section_id from assignment group by section_id having count(*) > 1 order by section_id",
    );
    const clashes: { clash: Clash; a: string; b: string }[] = [];
    for (let from = 0; from < rows.length; from += PAGE) {
      const sections = rows.slice(from, from + PAGE).map(({ section_id }) => section_id);
      const service = await Service.read(reader, sections, today, await (await glass()).on(reader, today));
      for (const section of sections) {
        for (const clash of service.clashes(section)) {
          const tagOf = (id: number) => service.circuits.get(id)?.tag ?? String(id);
          clashes.push({ clash, a: tagOf(clash.a.circuit_id), b: tagOf(clash.b.circuit_id) });
        }
      }
      await breathe();
    }
    // Two circuits that share a whole line are one slip, however many sections it has.
    const pairs = Map.groupBy(clashes, ({ clash: { a, b } }) =>
      [a.circuit_id, b.circuit_id].sort((x, y) => x - y).join(" "),
    );
    return [...pairs.values()].map((shared): Case => {
      const [{ clash, a, b }] = shared as [(typeof shared)[number]];
      const sections = [...new Set(shared.map((one) => one.clash.section_id))];
      const circuits = [
        ["circuit", clash.a.circuit_id],
        ["circuit", clash.b.circuit_id],
      ] as const;
      return {
        records: [...sections.map((id) => ["section", id] as const), ...circuits],
        key: a < b ? circuits : circuits.toReversed(),
        count: sections.length,
        facts: {
          circuits: [a, b].sort(),
          sections: sections.length,
          bands: [clash.a.band, clash.b.band].sort(),
          from: clash.from_on,
          until: clash.until_on,
        },
      };
    });
  },
  say: ({ records, facts, count = 1 }, tag) => {
    const [first] = records;
    const circuits = records.filter(([kind]) => kind === "circuit").map((record) => `\`${tag(...record)}\``);
    const days = [
      facts.from ? say` from ${String(facts.from)}` : "",
      facts.until ? say` until ${String(facts.until)}` : "",
    ].join("");
    return {
      sentence: plural(
        count,
        "`{1}` is given to {2}{3}.",
        "`{1}` and {4} more are given to {2}{3}.",
        first ? tag(...first) : "",
        listed(circuits),
        days,
        count - 1,
      ),
      repair: say`Free the glass from one of ${listed(circuits)}, or say that one rides on the other.`,
    };
  },
});

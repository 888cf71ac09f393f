/** Rules of what light passes from one thing to the next: cores, plugs and their faces, transmitters and receivers. */
import { idOf, isPosition, NOWHERE, positionEnd } from "../../glass/end.ts";
import { CORD, SPLICE, TERMINATION } from "../../glass/glass.ts";
import type { PlantGlass } from "../../glass/plant-glass.ts";
import { walk } from "../../glass/walk.ts";
import { classWords, coreOf, type FibreClass } from "../../light/classes.ts";
import type { KindName, Row } from "../../model/dictionary.ts";
import { CONNECTORS } from "../../model/lists.ts";
import { counted, plural } from "../../words/counted.ts";
import { say } from "../../words/say.ts";
import { lightBounds, opticsByPosition } from "../light-lines.ts";
import { CAUTION, type Case, defineRule, type Ground, PRESENT, quote, quoted } from "../rule.ts";

const PRACTICE = say`Common practice, no source`;

/** What joins glass of two classes: a splice, or a cord between what lies behind two ports. */
interface Meeting {
  readonly kind: "splice" | "cord";
  readonly id: number;
  /** In order of their words. */
  readonly classes: readonly [FibreClass, FibreClass];
  readonly cables: readonly number[];
}

/** The section that lands on the back of a position; 0 for none. */
function behind(plant: PlantGlass, position: number): number {
  for (let at = plant.first(positionEnd(position, "back")); at >= 0; at = plant.next(at)) {
    if (plant.kind(at) === TERMINATION) return idOf(plant.to(at));
  }
  return 0;
}

async function meetings(ground: Ground): Promise<Meeting[]> {
  const { reader } = ground;
  const plant = await ground.glass();
  const { classes } = await lightBounds(ground);
  const cords = new Map(
    (await reader.lists("select id, fibre_class from cord where fibre_class is not null")) as [number, FibreClass][],
  );
  const cores = new Set([...cords.values()].map(coreOf));
  if (!classes.areMixed && cores.size === 0) return [];
  const found = new Map<string, Meeting>();
  const meet = (kind: Meeting["kind"], id: number, sections: readonly number[], more: readonly FibreClass[]): void => {
    const all = [...sections.flatMap((one) => (one > 0 ? (classes.of(one) ?? []) : [])), ...more];
    const [first] = all;
    const other = all.find((fibre) => first && coreOf(fibre) !== coreOf(first));
    if (!first || !other) return;
    const pair = [first, other].sort() as [FibreClass, FibreClass];
    const cables = [...new Set(sections.flatMap((one) => (one > 0 ? plant.cableOf(one) : [])))];
    found.set(`${kind} ${id}`, { kind, id, classes: pair, cables });
  };
  const { joints } = plant;
  for (let joint = 0; joint < joints.count; joint += 1) {
    const handle = joint * 2;
    const kind = joints.kind(handle);
    if (kind !== SPLICE && kind !== CORD) continue;
    const ends = [joints.to(handle), joints.to(handle + 1)].filter((end) => end !== NOWHERE);
    const id = joints.id(handle);
    if (kind === SPLICE) meet("splice", id, ends.map(idOf), []);
    else {
      const own = cords.get(id);
      meet(
        "cord",
        id,
        ends.map((end) => behind(plant, idOf(end))),
        own ? [own] : [],
      );
    }
  }
  return [...found.values()];
}

export const classMismatch = defineRule({
  name: "light.class_mismatch",
  family: "light",
  severity: "warning",
  title: say`Glass of unlike cores joined`,
  why: say`Where a wide core meets a narrow one most light is lost, and between multimode and single-mode nearly all.`,
  source: say`Core sizes of the classes; a study of mixed glass for the losses, second-hand`,
  async find(ground) {
    const groups = Map.groupBy(await meetings(ground), ({ kind, id, classes, cables }) =>
      kind === "cord" ? `cord ${id}` : `splice ${cables.toSorted((a, b) => a - b).join(" ")} ${classes.join(" ")}`,
    );
    return [...groups.values()].map((own): Case => {
      const [{ kind, classes, cables }] = own as [Meeting];
      const joints = own.map(({ id }) => [kind, id] as const);
      const sheaths = cables.map((id) => ["cable", id] as const);
      return {
        records: kind === "cord" ? [...joints, ...sheaths] : [...sheaths, ...joints],
        count: own.length,
        keyword: classes.join(" "),
        facts: { classes: classes.map(classWords), joints: own.length },
      };
    });
  },
  say: ({ records, facts }, tag) => {
    const cords = records.filter(([kind]) => kind === "cord");
    const cables = records.filter(([kind]) => kind === "cable");
    const [one, other] = facts.classes as string[];
    return {
      sentence:
        cords.length > 0
          ? say`${quoted(tag, cords)} joins ${one} and ${other}${cables.length > 0 ? say`, at ${quoted(tag, cables)}` : ""}.`
          : plural(
              cables.length,
              "{1} joins {2} of {3} and {4}.",
              "{1} are joined by {2} of {3} and {4}.",
              quoted(tag, cables),
              counted(facts.joints as number, "splice"),
              one,
              other,
            ),
      repair: say`Look at the print on both, and correct the class that is wrong; else take the joint out.`,
      caution: CAUTION.glass,
    };
  },
});

type Connector = NonNullable<Row<"port">["connector"]>;
/** Two plugs side by side fit where one does. */
const familyOf = (connector: Connector): string => connector.replace(/_duplex$/, "");

interface Plug {
  readonly cord_id: number;
  readonly port_id: number;
  readonly plug: Connector;
  readonly connector: Connector;
}

export const plugMisfit = defineRule({
  name: "light.plug_misfit",
  family: "light",
  severity: "error",
  title: say`Plug that doesn't fit its port`,
  why: say`A plug of one kind doesn't go into a port of another: one of the two was recorded wrongly.`,
  source: say`Shapes of the connectors`,
  async find({ reader }) {
    const end = (own: "a" | "b") => `select c.id as cord_id, p.id as port_id, c.${own}_connector as plug, p.connector
      from cord c cross join port p on p.id = c.${own}_port_id
      where c.${own}_connector <> p.connector and c.life in ${PRESENT}`;
    const rows = await reader.rows<Plug>(`${end("a")} union all ${end("b")} order by 1, 2`);
    return rows.flatMap(({ cord_id, port_id, plug, connector }): Case[] =>
      plug === "other" || connector === "other" || familyOf(plug) === familyOf(connector)
        ? []
        : [
            {
              records: [
                ["cord", cord_id],
                ["port", port_id],
              ],
              key: [
                ["cord", cord_id],
                ["port", port_id],
              ],
              facts: { plug: CONNECTORS[plug], port: CONNECTORS[connector] },
            },
          ],
    );
  },
  say: ({ records: [cord, port], facts }, tag) => ({
    sentence: say`${quote(tag, cord)} has a plug ${String(facts.plug)} in ${quote(tag, port)}, which takes ${String(facts.port)}.`,
    repair: say`Look at the plug and the port, and correct the one that is wrong.`,
    caution: CAUTION.glass,
  }),
});

export const polishMismatch = defineRule({
  name: "light.polish_mismatch",
  family: "light",
  severity: "warning",
  title: say`Cord from an angled port to a flat one`,
  why: say`An angled face against a flat one leaves a gap: much light is lost and thrown back, and both faces may be spoiled.`,
  source: PRACTICE,
  async find({ reader }) {
    const rows = await reader.lists(
      `select c.id, a.id, b.id from cord c cross join port a on a.id = c.a_port_id cross join port b on b.id = c.b_port_id
       where a.polish is not null and b.polish is not null and (a.polish = 'apc') <> (b.polish = 'apc')
         and c.life in ${PRESENT} order by c.id`,
    );
    return (rows as [number, number, number][]).map(
      ([cord, a, b]): Case => ({
        records: [
          ["cord", cord],
          ["port", a],
          ["port", b],
        ],
        facts: {},
      }),
    );
  },
  say: ({ records: [cord, one, other] }, tag) => ({
    sentence: say`${quote(tag, cord)} joins ${quote(tag, one)} and ${quote(tag, other)}, of which one is angled (APC) and one flat.`,
    repair: say`See whether the cord has an angled plug at one end and a flat one at the other; if so accept this with a reason, else replace it.`,
    caution: CAUTION.glass,
  }),
});

async function facing(ground: Ground): Promise<Case[]> {
  const plant = await ground.glass();
  const optics = await opticsByPosition(ground);
  const pairs = new Map<string, readonly (readonly [KindName, number])[]>();
  for (const optic of optics.values()) {
    if (optic.transmit !== optic.ordinal || optic.receive === optic.transmit) continue;
    const walked = walk(plant, positionEnd(optic.position_id, "front"));
    const last = walked.to.at(-1) ?? NOWHERE;
    if (!walked.isStraight || !isPosition(last) || walked.lastStop !== "end") continue;
    const other = optics.get(idOf(last));
    if (!other || other.transmit !== other.ordinal || other.receive === other.transmit) continue;
    const ports = [optic.port_id, other.port_id].sort((a, b) => a - b);
    pairs.set(
      ports.join(" "),
      ports.map((id) => ["port", id] as const),
    );
  }
  return [...pairs.values()].map((records): Case => ({ records, key: records, facts: {} }));
}

export const transmitFacing = defineRule({
  name: "light.transmit_faces_transmit",
  family: "light",
  severity: "error",
  title: say`Transmitter that faces a transmitter`,
  why: say`Both ends send into one strand and listen on the other: no light is received. A pair is crossed once too often, or not at all.`,
  source: PRACTICE,
  find: facing,
  say: ({ records: [one, other] }, tag) => ({
    sentence: say`${quote(tag, one)} and ${quote(tag, other)} send to each other on one strand.`,
    repair: say`Follow both strands, and record the cord that crosses the pair as it is; else turn one plug.`,
    caution: CAUTION.glass,
  }),
});

/** The yard with everything in it that has an address or a description, for resolving, describing and finding. */
import { enterF012, newYard, type Yard } from "../act-cable/yard.ts";

export interface Campus extends Yard {
  /** Id of the record of a kind that an address names; a test stops where it names none or several. */
  idOf(kind: Parameters<Yard["find"]>[0], address: string): Promise<number>;
}

interface Resolved {
  matches: { kind: string; id: number; tag: string; how: string }[];
}

export async function newCampus(): Promise<Campus> {
  const yard = await newYard();
  await enterF012(yard);
  await yard.act("cable.enter", { tag: "F-120", type: "LOOSE-48", stops: [{ space: "MH-01" }, { space: "MH-02" }] });
  await yard.act("cable.enter", { tag: "021", type: "LOOSE-48", stops: [{ space: "MH-01" }, { space: "MH-02" }] });
  await yard.act("cable.enter", { tag: "R-864", type: "RIBBON-864", stops: [{ space: "MH-01" }, { space: "MH-02" }] });
  await yard.act("cable.enter", { tag: "S-12", type: "TIGHT-12", stops: [{ space: "LIB/101" }, { space: "LIB/101" }] });
  const spaceOf = async (tag: string) => (await yard.find("space", { tag }))[0]?.id ?? 0;
  const room = await spaceOf("101");
  const other = await spaceOf("B01");
  const [a, b, far] = (await yard.put(
    "panel",
    { tag: "A", space_id: room, former_tags: '["P1"]' },
    { tag: "B-2", space_id: room },
    { tag: "A", space_id: other },
  )) as [number, number, number];
  const ports = async (panel: number, tags: readonly string[], positions: number, more = {}) => {
    const ids = await yard.put("port", ...tags.map((tag) => ({ tag, panel_id: panel, ...more })));
    await yard.put(
      "position",
      ...ids.flatMap((port_id) => Array.from({ length: positions }, (_, i) => ({ port_id, ordinal: i + 1 }))),
    );
    return ids;
  };
  const pad = (n: number) => String(n).padStart(2, "0");
  const aPorts = await ports(
    a,
    Array.from({ length: 24 }, (_, i) => pad(i + 1)),
    2,
  );
  await ports(b, ["A1", "A2", "A3", "B1", "MPO1"], 12);
  await ports(far, ["1", "2", "4"], 1);
  await yard.put("port", { tag: "31", panel_id: b, former_tags: '["07"]' });
  const [sw] = (await yard.put("device", { tag: "SW-1", space_id: room })) as [number];
  const [swPort] = (await yard.put("port", { tag: "1/0/24", device_id: sw })) as [number];
  const [mod] = (await yard.put("module", { tag: "M1", panel_id: a, space_id: room })) as [number];
  const modPorts = await yard.put("port", { tag: "IN", module_id: mod }, { tag: "1", module_id: mod });
  const modPositions = await yard.put("position", ...modPorts.map((port_id) => ({ port_id, ordinal: 1 })));
  await yard.put("module_join", {
    module_id: mod,
    a_position_id: modPositions[0] ?? 0,
    b_position_id: modPositions[1] ?? 0,
  });
  await yard.put("interface", { port_id: swPort });
  await yard.put("cord", {
    tag: "C-7",
    a_port_id: aPorts[0] ?? 0,
    a_first: 1,
    b_port_id: swPort,
    b_first: 1,
    fibres: 2,
  });
  await yard.put("circuit", { tag: "K-100", name: "Library uplink", a_port_id: aPorts[0] ?? 0 }, { tag: "K-200" });

  const campus: Campus = {
    ...yard,
    idOf: async (kind, address) => {
      const { matches } = await yard.run<Resolved>("address.resolve", { text: address, kinds: [kind] });
      const [only] = matches;
      if (matches.length !== 1 || !only) throw new Error(`${address} is ${matches.length} records of ${kind}`);
      return only.id;
    },
  };
  return campus;
}

/** Short descriptions of records that have no address of their own: splices, legs, cords and the like, in sets. */
import { type KindName, kindOf, type Row } from "../model/dictionary.ts";
import type { Reader } from "./handle.ts";
import { idList, ownAddresses } from "./record-address.ts";

type Ids = Iterable<number>;
type Names = Map<number, string>;

/** Address, or description where there is no address, of records of one kind. Ids not on record are left out. */
export async function addressesOf(reader: Reader, kind: KindName, ids: Ids): Promise<Names> {
  const { address } = kindOf(kind);
  if (address !== null) return ownAddresses(reader, kind, address, ids);
  const describe = DESCRIPTIONS[kind];
  if (describe === undefined) throw new Error(`${kind} has neither an address nor a description`);
  const wanted = new Set(ids);
  return wanted.size === 0 ? new Map() : describe(reader, wanted);
}

const read = <K extends KindName>(reader: Reader, kind: K, fields: string, ids: Ids): Promise<Row<K>[]> =>
  reader.rows<Row<K>>(`select id, ${fields} from "${kind}" where id in (select value from json_each(?))`, [
    idList(ids),
  ]);

/** The records that rows refer to by one of several fields, by id. */
async function named<R>(
  reader: Reader,
  kind: KindName,
  rows: readonly R[],
  ...fields: readonly ((row: R) => number | null)[]
): Promise<(id: number | null) => string | null> {
  const ids = new Set(rows.flatMap((row) => fields.map((field) => field(row)).filter((id) => id !== null)));
  const names = await addressesOf(reader, kind, ids);
  return (id) => (id === null ? null : (names.get(id) ?? null));
}

/**
 * Strand sections as people say them: `F-014:31`, with the section's order (`F-014:31#2`) only where the strand is cut.
 */
export async function sectionWords(reader: Reader, ids: Ids): Promise<Names> {
  const rows = await reader.rows<{ id: number; strand_id: number; ordinal: number; cut: number }>(
    `select s.id, s.strand_id, s.ordinal,
       exists (select 1 from section o where o.strand_id = s.strand_id and o.id <> s.id) as cut
     from section s where s.id in (select value from json_each(?))`,
    [idList(ids)],
  );
  const strands = await addressesOf(reader, "strand", new Set(rows.map((row) => row.strand_id)));
  return new Map(
    rows.map((row) => [row.id, `${strands.get(row.strand_id) ?? "…"}${row.cut ? `#${row.ordinal}` : ""}`]),
  );
}

const some = (...parts: readonly (string | null | false)[]): string => parts.filter(Boolean).join(" ");

/** Records that a subject field points at: several kinds at once. */
async function subjects(
  reader: Reader,
  rows: readonly { subject_kind: KindName; subject_id: number }[],
): Promise<(row: { subject_kind: KindName; subject_id: number }) => string> {
  const byKind = new Map<KindName, Names>();
  for (const [kind, own] of Map.groupBy(rows, (row) => row.subject_kind)) {
    byKind.set(kind, await addressesOf(reader, kind, new Set(own.map((row) => row.subject_id))));
  }
  return ({ subject_kind, subject_id }) =>
    byKind.get(subject_kind)?.get(subject_id) ?? `${kindOf(subject_kind).one} no longer on record`;
}

const DESCRIPTIONS: Partial<Record<KindName, (reader: Reader, ids: Ids) => Promise<Names>>> = {
  async plant(reader, ids) {
    const rows = await read(reader, "plant", "name", ids);
    return new Map(rows.map((row) => [row.id, row.name]));
  },

  async leg(reader, ids) {
    const rows = await read(reader, "leg", "from_stop_id, to_stop_id, pathway_id, conduit_id", ids);
    const stop = await named(
      reader,
      "stop",
      rows,
      (row) => row.from_stop_id,
      (row) => row.to_stop_id,
    );
    const pathway = await named(reader, "pathway", rows, (row) => row.pathway_id);
    const conduit = await named(reader, "conduit", rows, (row) => row.conduit_id);
    return new Map(
      rows.map((row) => {
        const way = conduit(row.conduit_id) ?? pathway(row.pathway_id);
        return [row.id, some("leg", stop(row.from_stop_id), "to", stop(row.to_stop_id), way !== null && `in ${way}`)];
      }),
    );
  },

  async splice(reader, ids) {
    const rows = await read(reader, "splice", "a_section_id, b_section_id, tray_id", ids);
    const sections = await sectionWords(reader, new Set(rows.flatMap((row) => [row.a_section_id, row.b_section_id])));
    const tray = await named(reader, "tray", rows, (row) => row.tray_id);
    return new Map(
      rows.map((row) => [
        row.id,
        some(
          "splice",
          sections.get(row.a_section_id) ?? "…",
          "to",
          sections.get(row.b_section_id) ?? "…",
          row.tray_id !== null && `in ${tray(row.tray_id)}`,
        ),
      ]),
    );
  },

  async termination(reader, ids) {
    const rows = await read(reader, "termination", "section_id, position_id", ids);
    const sections = await sectionWords(reader, new Set(rows.map((row) => row.section_id)));
    const position = await named(reader, "position", rows, (row) => row.position_id);
    return new Map(
      rows.map((row) => [
        row.id,
        some("termination", sections.get(row.section_id) ?? "…", "on", position(row.position_id)),
      ]),
    );
  },

  async cord(reader, ids) {
    const rows = await read(reader, "cord", "tag, a_port_id, b_port_id", ids);
    const port = await named(
      reader,
      "port",
      rows,
      (row) => row.a_port_id,
      (row) => row.b_port_id,
    );
    return new Map(
      rows.map((row) => {
        const ends = [port(row.a_port_id) ?? "nowhere", port(row.b_port_id) ?? "nowhere"];
        return [row.id, some("cord", row.tag, row.tag !== null && "from", ends[0] ?? null, "to", ends[1] ?? null)];
      }),
    );
  },

  async module_join(reader, ids) {
    const rows = await read(reader, "module_join", "a_position_id, b_position_id", ids);
    const position = await named(
      reader,
      "position",
      rows,
      (row) => row.a_position_id,
      (row) => row.b_position_id,
    );
    return new Map(
      rows.map((row) => [row.id, some("join", position(row.a_position_id), "to", position(row.b_position_id))]),
    );
  },

  async interface(reader, ids) {
    const rows = await read(reader, "interface", "port_id", ids);
    const port = await named(reader, "port", rows, (row) => row.port_id);
    return new Map(rows.map((row) => [row.id, some("interface", port(row.port_id))]));
  },

  async assignment(reader, ids) {
    const rows = await read(reader, "assignment", "circuit_id, section_id, role, band", ids);
    const circuit = await named(reader, "circuit", rows, (row) => row.circuit_id);
    const sections = await sectionWords(reader, new Set(rows.map((row) => row.section_id)));
    return new Map(
      rows.map((row) => {
        const section = sections.get(row.section_id) ?? "…";
        const role = row.role !== "both" && row.role;
        return [row.id, some("assignment", circuit(row.circuit_id), "on", section, role, row.band && `${row.band} nm`)];
      }),
    );
  },

  async diversity(reader, ids) {
    const rows = await read(reader, "diversity", "circuit_id, other_id", ids);
    const circuit = await named(
      reader,
      "circuit",
      rows,
      (row) => row.circuit_id,
      (row) => row.other_id,
    );
    return new Map(rows.map((row) => [row.id, some(circuit(row.circuit_id), `diverse from`, circuit(row.other_id))]));
  },

  async bond(reader, ids) {
    const rows = await read(reader, "bond", "busbar_id, stop_id, closure_id, panel_id", ids);
    const busbar = await named(reader, "busbar", rows, (row) => row.busbar_id);
    const stop = await named(reader, "stop", rows, (row) => row.stop_id);
    const closure = await named(reader, "closure", rows, (row) => row.closure_id);
    const panel = await named(reader, "panel", rows, (row) => row.panel_id);
    return new Map(
      rows.map((row) => {
        const what = stop(row.stop_id) ?? closure(row.closure_id) ?? panel(row.panel_id) ?? `an unknown thing`;
        return [row.id, some(`bond from`, what, "to", busbar(row.busbar_id))];
      }),
    );
  },

  async label(reader, ids) {
    const rows = await read(reader, "label", "subject_kind, subject_id, space_id", ids);
    const subject = await subjects(reader, rows);
    const space = await named(reader, "space", rows, (row) => row.space_id);
    return new Map(
      rows.map((row) => [row.id, some(`label on`, subject(row), row.space_id !== null && `at ${space(row.space_id)}`)]),
    );
  },

  async attachment(reader, ids) {
    const rows = await read(reader, "attachment", "subject_kind, subject_id, name", ids);
    const subject = await subjects(reader, rows);
    return new Map(rows.map((row) => [row.id, some(row.name, "of", subject(row))]));
  },

  async exception(reader, ids) {
    const rows = await read(reader, "exception", "rule, finding", ids);
    return new Map(rows.map((row) => [row.id, some(`exception to`, `${row.rule}:`, row.finding)]));
  },

  async sign_off(reader, ids) {
    const rows = await read(reader, "sign_off", "signed_on, signed_by", ids);
    return new Map(rows.map((row) => [row.id, some("sign-off of", row.signed_on, "by", row.signed_by)]));
  },
};

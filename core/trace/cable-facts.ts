/** How a cable is built: its data sheet, with what this cable has otherwise, as labels and values from the dictionary. */
import { KINDS, type Row } from "../model/dictionary.ts";
import type { Field } from "../model/field.ts";
import { shownValue } from "../model/wording.ts";
import type { Reader } from "../store/handle.ts";
import { say } from "../words/say.ts";
import type { CableAnswer } from "./cable-answer.ts";
import { addressUnder } from "./facts.ts";

type Type = Row<"cable_type">;
type Sheet = Pick<
  CableAnswer,
  "name" | "type" | "facts" | "mark_unit" | "outer_diameter_mm" | "construction" | "armoured"
>;

export interface TypedCable {
  readonly sheet: Sheet;
  readonly life: Row<"cable">["life"];
  /** It has metal that leads from end to end. */
  readonly metallic: boolean;
}

/** Fields of the data sheet that people ask for first, in order. */
const TYPE_FIELDS = [
  ...[
    "construction",
    "fibre_class",
    "colour_sequence",
    "armour",
    "metal",
    "water_blocking",
    "environment",
    "uv_resistant",
  ],
  ...["fire_marking", "outer_diameter_mm", "bend_radius_mm", "bend_radius_loaded_mm", "max_tension_n", "excess_ratio"],
] as const satisfies readonly (keyof (typeof KINDS)["cable_type"]["fields"])[];

const CABLE_FIELDS = [
  "installed_on",
  "reel",
  "run",
  "sheath",
  "warranty_until",
  "life",
] as const satisfies readonly (keyof (typeof KINDS)["cable"]["fields"])[];

export async function typeFacts(reader: Reader, id: number): Promise<TypedCable | null> {
  const [cable] = await reader.rows<Row<"cable">>("select * from cable where id = ?", [id]);
  if (!cable) return null;
  const [type] =
    cable.type_id === null ? [] : await reader.rows<Type>("select * from cable_type where id = ?", [cable.type_id]);
  const differs = cable.differs === null ? {} : (JSON.parse(cable.differs) as Record<string, unknown>);
  const whole: Readonly<Record<string, unknown>> = {
    ...type,
    ...(cable.colour_sequence === null ? {} : { colour_sequence: cable.colour_sequence }),
    ...differs,
  };
  const shown = (label: string, field: Field, value: unknown, note = "") => {
    const words = shownValue(field, value, String);
    return words === null ? [] : [{ label, value: `${words}${note}` }];
  };
  const facts = [
    ...TYPE_FIELDS.flatMap((name) => {
      const field: Field = KINDS.cable_type.fields[name];
      return shown(field.label, field, whole[name], name in differs ? say`, other than its type` : "");
    }),
    ...CABLE_FIELDS.flatMap((name) => {
      const field: Field = KINDS.cable.fields[name];
      return shown(field.label, field, cable[name]);
    }),
  ];
  const construction = whole.construction as Type["construction"];
  return {
    sheet: {
      name: cable.name,
      type: type ? { kind: "cable_type", id: type.id, tag: addressUnder("cable_type", null, type.tag) } : null,
      facts,
      mark_unit: cable.mark_unit,
      outer_diameter_mm: (whole.outer_diameter_mm as number | null | undefined) ?? null,
      construction: construction ?? null,
      armoured: whole.armour === "metallic" || whole.armour === "dielectric",
    },
    life: cable.life,
    metallic: whole.armour === "metallic" || whole.metal === "yes",
  };
}

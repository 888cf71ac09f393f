/** Every record kind, once, in the order in which people meet them. */
import type { Field } from "./field.ts";
import type { Kind } from "./kind.ts";
import { assignment } from "./kinds/assignment.ts";
import { attachment } from "./kinds/attachment.ts";
import { bond } from "./kinds/bond.ts";
import { building } from "./kinds/building.ts";
import { busbar } from "./kinds/busbar.ts";
import { cable } from "./kinds/cable.ts";
import { cableType } from "./kinds/cable-type.ts";
import { circuit } from "./kinds/circuit.ts";
import { closure } from "./kinds/closure.ts";
import { conduit } from "./kinds/conduit.ts";
import { cord } from "./kinds/cord.ts";
import { device } from "./kinds/device.ts";
import { diversity } from "./kinds/diversity.ts";
import { exception } from "./kinds/exception.ts";
import { firestop } from "./kinds/firestop.ts";
import { interfaceKind } from "./kinds/interface.ts";
import { job } from "./kinds/job.ts";
import { jobStep } from "./kinds/job-step.ts";
import { label } from "./kinds/label.ts";
import { labelSheet } from "./kinds/label-sheet.ts";
import { labelTemplate } from "./kinds/label-template.ts";
import { leg } from "./kinds/leg.ts";
import { limitValue } from "./kinds/limit-value.ts";
import { measurement } from "./kinds/measurement.ts";
import { measurementEvent } from "./kinds/measurement-event.ts";
import { module } from "./kinds/module.ts";
import { moduleJoin } from "./kinds/module-join.ts";
import { panel } from "./kinds/panel.ts";
import { party } from "./kinds/party.ts";
import { pathway } from "./kinds/pathway.ts";
import { plant } from "./kinds/plant.ts";
import { port } from "./kinds/port.ts";
import { position } from "./kinds/position.ts";
import { section } from "./kinds/section.ts";
import { signOff } from "./kinds/sign-off.ts";
import { space } from "./kinds/space.ts";
import { splice } from "./kinds/splice.ts";
import { stop } from "./kinds/stop.ts";
import { strand } from "./kinds/strand.ts";
import { termination } from "./kinds/termination.ts";
import { tray } from "./kinds/tray.ts";
import { unit } from "./kinds/unit.ts";
import { unitType } from "./kinds/unit-type.ts";
import { visit } from "./kinds/visit.ts";

export const KINDS = {
  plant,
  party,
  limit_value: limitValue,
  label_template: labelTemplate,
  label_sheet: labelSheet,
  building,
  space,
  busbar,
  pathway,
  conduit,
  firestop,
  cable_type: cableType,
  unit_type: unitType,
  cable,
  stop,
  leg,
  unit,
  strand,
  section,
  closure,
  tray,
  splice,
  panel,
  module,
  port,
  position,
  module_join: moduleJoin,
  termination,
  cord,
  device,
  interface: interfaceKind,
  circuit,
  diversity,
  assignment,
  bond,
  label,
  visit,
  measurement,
  measurement_event: measurementEvent,
  attachment,
  exception,
  sign_off: signOff,
  job,
  job_step: jobStep,
} as const;

export type KindName = keyof typeof KINDS;
export const KIND_NAMES = Object.keys(KINDS) as readonly KindName[];

/** The declaration of a kind, as data. */
export const kindOf = (name: KindName): Kind => KINDS[name];

export const isKindName = (name: string): name is KindName => Object.hasOwn(KINDS, name);

/** The declaration of a field, or undefined when the kind has none of that name. */
export const fieldOf = (kind: KindName, field: string): Field | undefined => {
  const fields: Readonly<Record<string, Field>> = KINDS[kind].fields;
  return Object.hasOwn(fields, field) ? fields[field] : undefined;
};

/** Kinds with a tag also store a natural sort key, made by the gateway. */
export const hasTag = (kind: KindName): boolean => Object.hasOwn(KINDS[kind].fields, "tag");

export type FieldName<K extends KindName> = keyof (typeof KINDS)[K]["fields"] & string;

type Stored<F> = F extends { type: "choice"; values: infer V }
  ? keyof V & string
  : F extends { type: "integer" | "number" | "reference" | "subject" }
    ? number
    : F extends { type: "kind" }
      ? KindName
      : string;

type FieldsOf<K extends KindName> = (typeof KINDS)[K]["fields"];

/** The fields of a record as the database has them: text, numbers, or null for what is not known. */
export type Values<K extends KindName> = {
  -readonly [F in keyof FieldsOf<K>]: FieldsOf<K>[F] extends { required: true }
    ? Stored<FieldsOf<K>[F]>
    : Stored<FieldsOf<K>[F]> | null;
};

/** A stored record: its values, its id, and the number of the change set that last wrote it. */
export type Row<K extends KindName> = Values<K> & { id: number; rev: number } & ("tag" extends keyof FieldsOf<K>
    ? { tag_key: string | null }
    : unknown);

/** Values of a record whose kind is known only at run time. */
export type Value = string | number | null;
export type AnyValues = Readonly<Record<string, Value>>;
export type AnyRow = AnyValues & { readonly id: number; readonly rev: number };

/** What the cable is: its number, kind, strands, and how its marks are printed. */
import { RUN_HELP } from "../../../core/run-entry/help.ts";
import { say } from "../../../core/words/say.ts";
import { Field } from "./field.tsx";
import { Beside, useAnyTold, useTold } from "./told.tsx";
import type { TypedRun } from "./typed.ts";

interface Props {
  readonly typed: TypedRun;
  readonly type: (next: TypedRun) => void;
}

const LABELS = {
  ...{ tag: say`number`, type: say`type`, strands: say`strands`, per_tube: say`in a tube`, mark_unit: say`marks in` },
  ...{ installed_on: say`pulled in on`, name: say`name`, run: say`run`, reel: say`reel`, notes: say`notes` },
} as const;

type Name = keyof typeof LABELS;

export function CableFields({ typed, type }: Props) {
  const set = (name: Name) => (text: string) => type({ ...typed, [name]: text });
  const field = (name: Exclude<Name, "mark_unit">, size: number, placeholder = "") => (
    <div className="form-field">
      <span aria-hidden="true">{LABELS[name]}</span>
      <Field
        at={name}
        label={LABELS[name]}
        value={typed[name]}
        onChange={set(name)}
        size={size}
        placeholder={placeholder}
        mono={name === "tag" || name === "type"}
        {...(name === "type" ? { kinds: ["cable_type"] as const } : {})}
      />
      <Told name={name} />
    </div>
  );
  return (
    <div className="form-group run-cable">
      {field("tag", 10, "F-096")}
      {field("type", 16, say`its data sheet`)}
      {field("strands", 15, say`as the type says`)}
      {field("per_tube", 4)}
      <div className="form-field">
        <span aria-hidden="true">{LABELS.mark_unit}</span>
        <MarkUnit typed={typed} type={type} />
      </div>
      {field("installed_on", 11, "3 Apr 2026")}
      {field("name", 18)}
      {field("run", 10)}
      {field("reel", 8)}
      {field("notes", 22)}
    </div>
  );
}

function Told({ name }: { readonly name: Name }) {
  return useAnyTold(name) ? <Beside row={name} /> : null;
}

function MarkUnit({ typed, type }: Props) {
  const told = useTold("mark_unit");
  return (
    <select
      className="form-input"
      aria-label={LABELS.mark_unit}
      data-field="mark_unit"
      title={RUN_HELP.mark_unit}
      value={typed.mark_unit}
      onChange={(event) => type({ ...typed, mark_unit: event.target.value as TypedRun["mark_unit"] })}
      {...told}
    >
      <option value="">{say`not given`}</option>
      <option value="m">{say`metres`}</option>
      <option value="ft">{say`feet`}</option>
    </select>
  );
}

/** What F1 is pressed on: a field, by the dictionary or by what a form says of it; or nothing but the page. */
import { isKindName, type KindName, kindOf } from "../../core/model/dictionary.ts";
import type { Field } from "../../core/model/field.ts";
import { type PreferenceName, preferenceOf } from "../../core/model/preferences.ts";
import { say } from "../../core/words/say.ts";
import { takes } from "../grid/takes.ts";
import { addressOf } from "./router.ts";

export interface FieldHelp {
  readonly label: string;
  readonly words: string;
  /** What may stand in it; null where only the form knows. */
  readonly takes: string | null;
  /** The page of the kind's fields, with this one in sight. */
  readonly page: { readonly address: string; readonly words: string } | null;
  /** Beside what it stands. */
  readonly beside: HTMLElement;
}

/** Marks what belongs to a field of the dictionary, for `aboutField`. */
export const helpMark = (kind: KindName, field: string) => ({ "data-help": `${kind}.${field}` });

/** Marks what belongs to a preference of this machine, with all its controls. */
export const preferenceMark = (name: PreferenceName) => ({ "data-help": `preference.${name}` });

/** Marks what has no field in the dictionary, with all its controls, and says what it is for. */
export const helpSaid = (label: string, words: string) => ({ "data-help-label": label, "data-help-words": words });

/** In a table the head of the column knows the field. */
function markOf(target: HTMLElement): string | null {
  const own = target.closest<HTMLElement>("[data-help]");
  if (own) return own.dataset.help ?? null;
  const cell = target.closest<HTMLElement>("[data-column]");
  const head = cell?.closest("[role=grid]")?.querySelector<HTMLElement>(`[data-head="${cell.dataset.column}"]`);
  return head?.dataset.help ?? null;
}

export function aboutField(target: EventTarget | null): FieldHelp | null {
  if (!(target instanceof HTMLElement)) return null;
  const [kind = "", name = ""] = markOf(target)?.split(".") ?? [];
  if (isKindName(kind)) {
    const { fields, many } = kindOf(kind);
    const field: Field | undefined = (fields as Readonly<Record<string, Field>>)[name];
    if (!field) return null;
    return {
      ...{ label: field.label, words: field.help, takes: takes(field) },
      page: { address: addressOf("fields", { kind, at: name }), words: say`all fields of ${many}` },
      beside: target.closest<HTMLElement>("[data-column]") ?? target,
    };
  }
  const preference = kind === "preference" ? preferenceOf(name) : undefined;
  if (preference) {
    const { label, help, number } = preference;
    const bounds = number ? say`a number from ${number.least} to ${number.most} ${number.unit}`.trim() : null;
    return { label, words: help, takes: bounds, page: null, beside: target };
  }
  const said = target.closest<HTMLElement>("[data-help-words]");
  if (said && !target.title) {
    const { helpLabel = "", helpWords = "" } = said.dataset;
    return { label: helpLabel, words: helpWords, takes: null, page: null, beside: target };
  }
  if (!target.matches("input, select, textarea")) return null;
  const label = target.closest("label") ?? document.querySelector(`label[for="${CSS.escape(target.id || "-")}"]`);
  const words = target.title || label?.querySelector<HTMLElement>("[title]")?.title || "";
  if (words === "") return null;
  const named = target.getAttribute("aria-label") ?? label?.querySelector("span")?.textContent ?? "";
  return { label: named, words, takes: null, page: null, beside: target };
}

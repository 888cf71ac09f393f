/** The changes a merge comes to, while they are put together: one a record. */
import type { KindName, Value } from "../../model/dictionary.ts";
import type { Change } from "../../store/plan.ts";

type Values = Readonly<Record<string, Value>>;
export type Step =
  | { readonly op: "insert"; readonly kind: KindName; readonly id: number; readonly values: Record<string, Value> }
  | { readonly op: "update"; readonly kind: KindName; readonly id: number; readonly values: Record<string, Value> }
  | { readonly op: "delete"; readonly kind: KindName; readonly id: number };

export class Draft {
  readonly #steps = new Map<KindName, Map<number, Step>>();

  #put(step: Step): void {
    const own = this.#steps.get(step.kind) ?? new Map<number, Step>();
    this.#steps.set(step.kind, own.set(step.id, step));
  }

  insert(kind: KindName, id: number, values: Values): void {
    this.#put({ op: "insert", kind, id, values: { ...values } });
  }

  update(kind: KindName, id: number, values: Values): void {
    const step = this.get(kind, id);
    if (step?.op === "delete") return;
    if (step) Object.assign(step.values, values);
    else this.#put({ op: "update", kind, id, values: { ...values } });
  }

  /** Further values of a record that is added or changed already. */
  put(kind: KindName, id: number, values: Values): void {
    const step = this.get(kind, id);
    if (step && step.op !== "delete") Object.assign(step.values, values);
  }

  delete(kind: KindName, id: number): void {
    this.#put({ op: "delete", kind, id });
  }

  drop(kind: KindName, id: number): void {
    this.#steps.get(kind)?.delete(id);
  }

  get(kind: KindName, id: number): Step | undefined {
    return this.#steps.get(kind)?.get(id);
  }

  *steps(): Generator<Step> {
    for (const own of this.#steps.values()) yield* own.values();
  }

  changes(): Change[] {
    return [...this.steps()].filter((step) => step.op !== "update" || Object.keys(step.values).length > 0);
  }
}

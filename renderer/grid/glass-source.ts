/** Colours of the strands, sections and units on screen, asked in lots and kept while nothing of them changes. */
import type { KindName } from "../../core/model/dictionary.ts";
import type { ColourLayer } from "../../core/trace/answer.ts";

export type GlassKind = "strand" | "section" | "unit";

export const isGlass = (kind: KindName | null): kind is GlassKind =>
  kind === "strand" || kind === "section" || kind === "unit";

export type FetchColours = (
  wanted: Readonly<Record<GlassKind, readonly number[]>>,
) => Promise<Readonly<Record<GlassKind, Readonly<Record<string, readonly ColourLayer[]>>>> | null>;

const KINDS: readonly GlassKind[] = ["strand", "section", "unit"];
/** So many are kept; far more than a screen shows. */
const KEPT = 20_000;

export class GlassSource {
  readonly #fetch: FetchColours;
  readonly #known = new Map<string, readonly ColourLayer[]>();
  readonly #asked = new Set<string>();
  #waiting: Record<GlassKind, number[]> = { strand: [], section: [], unit: [] };
  #soon = false;
  #version = 0;
  #stamp = 0;
  #underWay = 0;
  readonly #listeners = new Set<() => void>();

  constructor(fetch: FetchColours) {
    this.#fetch = fetch;
  }

  get stamp(): number {
    return this.#stamp;
  }

  subscribe = (listener: () => void): (() => void) => {
    this.#listeners.add(listener);
    return () => this.#listeners.delete(listener);
  };

  /** Layers, outermost first; undefined while they are asked, which asking does. */
  of(kind: GlassKind, id: number): readonly ColourLayer[] | undefined {
    const key = `${kind} ${id}`;
    const known = this.#known.get(key);
    if (!this.#asked.has(key)) {
      this.#asked.add(key);
      this.#waiting[kind].push(id);
      this.#askSoon();
    }
    return known;
  }

  /** Resolves when nothing that was asked is still on its way. */
  async settled(): Promise<void> {
    while (this.#soon || this.#underWay > 0)
      await new Promise<void>((resolve) => {
        const end = this.subscribe(() => {
          end();
          resolve();
        });
      });
  }

  /** A cable's glass or colours changed: what is shown is asked again, and stays until then. */
  refresh(): void {
    this.#version++;
    this.#asked.clear();
    if (this.#known.size > KEPT) this.#known.clear();
    this.#tell();
  }

  #askSoon(): void {
    if (this.#soon) return;
    this.#soon = true;
    queueMicrotask(() => {
      this.#soon = false;
      const wanted = this.#waiting;
      this.#waiting = { strand: [], section: [], unit: [] };
      const version = this.#version;
      this.#underWay++;
      void this.#fetch(wanted).then((told) => {
        this.#underWay--;
        if (told && version === this.#version)
          for (const kind of KINDS)
            for (const id of wanted[kind]) this.#known.set(`${kind} ${id}`, told[kind][id] ?? []);
        this.#tell();
      });
    });
  }

  #tell(): void {
    this.#stamp++;
    for (const listener of this.#listeners) listener();
  }
}

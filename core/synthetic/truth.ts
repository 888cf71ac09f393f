/** What is known of a synthetic plant by construction, to hold the program's answers against. */
export interface Truth {
  readonly strands: number;
  readonly seed: number;
  readonly buildings: readonly { readonly tag: string; readonly strands: number }[];
  /** Some whole lines: both end ports, how many hops, and the sheath length between them by the marks. */
  readonly lines: readonly {
    readonly from: string;
    readonly to: string;
    readonly hops: number;
    readonly length_m: number;
  }[];
  /** Strands that are open at a splice point by design, as strand addresses of the side nearer A. */
  readonly open: readonly string[];
  /** Strand sections given to two circuits by design, as strand addresses. */
  readonly assigned_twice: readonly string[];
  readonly broken: readonly string[];
}

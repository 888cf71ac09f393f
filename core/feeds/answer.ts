/** What feeds a building or space. */
import type { ColourLayer, Place, RecordRef, StrandState, TraceEnd } from "../trace/answer.ts";

export type StateCounts = Readonly<Record<StrandState, number>>;

export interface FeedStrand {
  readonly section: RecordRef;
  /** `F-033:71`. */
  readonly strand: string;
  readonly number: number;
  readonly unit: string | null;
  readonly colours: readonly ColourLayer[];
  readonly state: StrandState;
  /** Far end of its trace away from this building; null when it forks (then `far_ends` says how many). */
  readonly far: TraceEnd | null;
  readonly far_ends: number;
  readonly circuits: readonly RecordRef[];
  readonly owner: string | null;
  /** Why the state is what it is, when that needs saying: both circuits, the break, the cut. */
  readonly why: string | null;
  readonly length_m: number | null;
  /** The trace passes an assumed cord. */
  readonly assumed: boolean;
}

export interface FeedCable {
  readonly cable: RecordRef;
  /** The space of this building where it ends or is opened. */
  readonly entrance: Place;
  /** The far side: its other end, as a place. */
  readonly from: Place | null;
  readonly strands: readonly FeedStrand[];
  readonly counts: StateCounts;
  /** On record without strands: a foreign sheath, an unknown count. */
  readonly without_strands: boolean;
  readonly passes_only: boolean;
}

export interface FeedsAnswer {
  readonly subject: RecordRef;
  readonly name: string;
  readonly cables: readonly FeedCable[];
  readonly counts: StateCounts;
  readonly total: number;
  readonly entrances: readonly { readonly place: Place; readonly cables: number; readonly counts: StateCounts }[];
  /** Strands free from here to each other building by patching alone. */
  readonly free_to: readonly { readonly building: RecordRef; readonly name: string | null; readonly strands: number }[];
  /** Places and pathways that every way in shares; losing one cuts the building off. */
  readonly single_points: readonly RecordRef[];
  readonly sentence: string;
  readonly cautions: readonly string[];
}

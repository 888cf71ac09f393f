/** What feeds a building or space. */
import type { ColourLayer, Place, RecordRef, StrandState, TraceEnd } from "../trace/answer.ts";

export type StateCounts = Readonly<Record<StrandState, number>>;

export interface FeedStrand {
  readonly section: RecordRef;
  /** `F-033:71`, with the section's order (`#2`) only where the strand is cut. */
  readonly strand: string;
  readonly number: number;
  /** The tubes, ribbons and the like it lies in, in words. */
  readonly unit: string | null;
  readonly colours: readonly ColourLayer[];
  readonly state: StrandState;
  /** Far end of its trace away from this building; null when it forks (then `far_ends` says how many). */
  readonly far: TraceEnd | null;
  readonly far_ends: number;
  readonly circuits: readonly RecordRef[];
  /** Whose service it carries, or whose glass it is, where that isn't the plant's own. */
  readonly owner: string | null;
  /** Why the state is what it is, when that needs saying: both circuits, the break, the cut. */
  readonly why: string | null;
  /** Sheath from here to its far end; null when some of it is not known, or it forks. */
  readonly length_m: number | null;
  /** The trace passes an assumed cord. */
  readonly assumed: boolean;
  /** Its far end is a cut, joined to nothing: no light comes over it, whatever it is given to. */
  readonly cut: boolean;
}

export interface FeedCable {
  readonly cable: RecordRef;
  /** The first space of this building that it reaches from outside. */
  readonly entrance: Place;
  /** The spaces of this building where strands of it end. */
  readonly ends_in: readonly Place[];
  /** The far side: its other end, as a place. */
  readonly from: Place | null;
  readonly strands: readonly FeedStrand[];
  readonly counts: StateCounts;
  /** Strands in service, or of a tenant's service, whose far end is a cut. */
  readonly cut: number;
  readonly cut_circuits: readonly RecordRef[];
  /** On record without strands: a foreign sheath, an unknown count. */
  readonly without_strands: boolean;
  readonly passes_only: boolean;
  /** Strands that run through this building without being cut. */
  readonly express: number;
  /** Whose it is, where it isn't the plant's own. */
  readonly owner: string | null;
}

export interface FeedsAnswer {
  readonly subject: RecordRef;
  readonly name: string;
  /** Cables with glass or way in from outside; those that lie inside alone are counted in `inside`. */
  readonly cables: readonly FeedCable[];
  readonly counts: StateCounts;
  /** Strands in service, or of a tenant's service, whose far end is a cut; and the circuits that are down for it. */
  readonly cut: number;
  readonly cut_circuits: readonly RecordRef[];
  readonly total: number;
  readonly inside: number;
  readonly entrances: readonly { readonly place: Place; readonly cables: number; readonly counts: StateCounts }[];
  /**
   * Strands free from a port here to a port in each other building, so that a cord at each end is all it takes: given to
   * nothing, neither broken nor degraded, and no fork, ring, assumed cord, equipment or unknown place on their way.
   */
  readonly free_to: readonly { readonly building: RecordRef; readonly name: string | null; readonly strands: number }[];
  /**
   * Places outside this building, and pathways, that every way out shares: without one of them no glass from here, and no
   * patching in rooms on the way, reaches any other building. Broken glass is no way.
   */
  readonly single_points: readonly RecordRef[];
  readonly sentence: string;
  readonly cautions: readonly string[];
}

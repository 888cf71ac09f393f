/** Cautions of a mend, in the order in which a crew meets them. */
export const MEND_CAUTIONS: readonly string[] = [
  "Identify the cable by two independent signs before anybody cuts it: a neighbour may look the same.",
  "Treat every end as lit: this light cannot be seen. Measure that a strand is dark before cleaving it.",
  "A hole may hold gas, water or power. Test the air before going in; no arc and no flame inside or near it before that. The local rules for confined spaces decide.",
  "Where traffic passes, guard the place as the local authority asks before a lid is lifted.",
  "Before digging have all owners mark the ground; private lines are not marked by the one-call service, and a mark on this record never replaces locating.",
  "Test for voltage before touching armour or a messenger; the local code and a licensed person decide how metal is bonded again.",
  "Old grey cement pipe may hold asbestos: don't saw or break it, ask.",
  "Shards of glass cut: wear glasses and collect them.",
];

/** What labels are drawn by: sizes of type, margins, and how large and how free a code must stand. */

import { say } from "../../words/say.ts";
import { type Origin, type PublishedLimit, published } from "./published-limit.ts";

const PRACTICE: Omit<Origin, "unit"> = { edition: null, source: "Common practice, no source", how_known: "policy" };
const GUIDE: Omit<Origin, "unit"> = {
  edition: null,
  source: "A maker's guide to printing bar codes: modules of at least 2 by 2 printer dots, four or more advised",
  how_known: "read",
};

export const LABEL_LIMITS: readonly PublishedLimit[] = [
  ...published({ ...PRACTICE, unit: "mm" }, [
    [
      "labels.type_mm",
      2.8,
      say`Height of type on a label, from one line to the next less the space between; 8 pt is 2.8`,
    ],
    ["labels.least_type_mm", 1.8, say`Smallest type that is still read on a label; 5 pt is 1.8`],
    ["labels.most_type_mm", 8, say`Largest type on a label`],
    ["labels.margin_mm", 1.5, say`Kept free along the edges of a label`],
    ["labels.module_mm", 0.3, say`Least side of one square of a code, so that a telephone reads it`],
    ["labels.most_module_mm", 0.7, say`Greatest side of one square of a code`],
  ]),
  ...published({ ...PRACTICE, unit: "ratio" }, [
    ["labels.first_line", 1.7, say`Type of a label's first line against the others`],
    ["labels.code_share", 0.4, say`Part of a label's width that its code takes at most, as long as it can be read`],
  ]),
  ...published({ ...GUIDE, unit: "dots" }, [
    ["labels.module_dots", 4, say`Least side of one square of a code in printer dots`],
  ]),
  ...published({ unit: "modules", edition: null, source: "ISO/IEC 18004", how_known: "memory" }, [
    ["labels.quiet.qr", 4, say`Squares kept free round a QR code`],
  ]),
  ...published(
    {
      ...GUIDE,
      unit: say`modules`,
      source: "A maker's guide to printing bar codes: at least one square, two are better",
    },
    [["labels.quiet.data_matrix", 2, say`Squares kept free round a Data Matrix`]],
  ),
];

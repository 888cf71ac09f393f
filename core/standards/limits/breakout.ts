/** What a mid-span opening takes. Nobody publishes one length, so most are from memory and the plant's own to set. */

import { say } from "../../words/say.ts";
import { type PublishedLimit, published } from "./published-limit.ts";

export const BREAKOUT_LIMITS: readonly PublishedLimit[] = [
  ...published(
    {
      unit: "m",
      edition: null,
      source: "3 to 6 m of loose-tube sheath opened mid-span; the greater, so that a loop that suffices for it does",
      how_known: "memory",
    },
    [["breakout.window_m", 6, say`Sheath opened on a cable's way to take strands out`]],
  ),
  ...published(
    {
      unit: "m",
      edition: null,
      source: "1 to 1.5 m of fibre kept in a tray for splicing and a second try; the greater",
      how_known: "memory",
    },
    [["breakout.stub_m", 1.5, say`Glass each side of a cut needs to be spliced`]],
  ),
  ...published({ unit: "1 or 0", edition: null, source: "Common practice, no source", how_known: "policy" }, [
    [
      "breakout.split_ribbons",
      0,
      say`Whether a ribbon may be split for some of its strands: 1 for yes, 0 for taking it whole`,
    ],
  ]),
  ...published({ unit: "ports", edition: null, source: "Common practice, no source", how_known: "policy" }, [
    ["breakout.panel_ports", 12, say`Ports reckoned for a new panel, or as many as are wanted`],
  ]),
  ...published({ unit: "splices", edition: null, source: "Common practice, no source", how_known: "policy" }, [
    ["breakout.tray_splices", 12, say`Splices reckoned for each tray of a new case`],
  ]),
];

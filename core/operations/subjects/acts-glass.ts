/** Joining glass for good: landing strands, splicing ranges, closing and reopening them. */
import { landInput, planLand } from "../../act/land.ts";
import { planSpliceClose, planSpliceReopen, spliceCloseInput, spliceReopenInput } from "../../act/splice-close.ts";
import { planSpliceRange, spliceRangeInput } from "../../act/splice-range.ts";
import { planSwap, swapInput } from "../../act/swap.ts";
import { say } from "../../words/say.ts";
import { defineWrite } from "../define.ts";

export const strandLand = defineWrite({
  name: "strand.land",
  help: say`Lands strands on the ports of a panel or module, one to a position in the order written.`,
  input: landInput,
  plan: planLand,
});

export const spliceRange = defineWrite({
  name: "splice.range",
  help: say`Splices a range of strands to as many others, in a splice tray or at a place.`,
  input: spliceRangeInput,
  plan: planSpliceRange,
});

export const spliceClose = defineWrite({
  name: "splice.close",
  help: say`Closes cut strands again: both halves of each are spliced through at a stop.`,
  input: spliceCloseInput,
  plan: planSpliceClose,
});

export const spliceReopen = defineWrite({
  name: "splice.reopen",
  help: say`Reopens strands that were closed at a stop: takes the splices out.`,
  input: spliceReopenInput,
  plan: planSpliceReopen,
});

export const spliceSwap = defineWrite({
  name: "splice.swap",
  help: say`Swaps two ranges of strands where they are spliced: each goes to what the other was spliced to.`,
  input: swapInput,
  plan: planSwap,
});

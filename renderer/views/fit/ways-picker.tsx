/** The blank that names a chain of ways, in order from one end to the other; each a pathway, or the pipe to be used. */
import type { KindName } from "../../../core/model/dictionary.ts";
import { say } from "../../../core/words/say.ts";
import { ManyPicker } from "../../controls/many-picker.tsx";
import type { PickerProps } from "../view.ts";

const KINDS: readonly KindName[] = ["pathway", "conduit"];

export const WaysPicker = (props: PickerProps) => (
  <ManyPicker
    {...props}
    kinds={KINDS}
    label={say`Find the first way`}
    labelMore={say`Find the next way`}
    placeholder={say`A pathway, or a pipe of it, such as DB-04/2`}
  />
);

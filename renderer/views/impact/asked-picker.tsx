/** The blank that names what is lost: any number of places, ways and cables, or stretches of a cable by its marks. */

import { say } from "../../../core/words/say.ts";
import { ManyPicker } from "../../controls/many-picker.tsx";
import type { PickerProps } from "../view.ts";
import { LOSABLE } from "./asked.ts";

export const AskedPicker = (props: PickerProps) => (
  <ManyPicker
    {...props}
    kinds={LOSABLE}
    label={say`Find what is lost`}
    labelMore={say`Find what else is lost`}
    placeholder={say`Any tag, or F-012 1200..1450 for a stretch`}
  />
);

/** What this printer does to a page, kept on this machine; and the page on which that is measured. */
import { useId, useState } from "react";
import { PREFERENCES, type PreferenceName } from "../../../core/model/preferences.ts";
import { say } from "../../../core/words/say.ts";
import { type LabelPrinter, settings, useSettings } from "../../client/settings.ts";
import { Button } from "../../controls/button.tsx";
import { preferenceMark } from "../../frame/help-about.ts";

const HUNDRED = 100;

const FIELDS = [
  "shift_x_mm",
  "shift_y_mm",
  "scale_x",
  "scale_y",
  "dots_per_inch",
] as const satisfies readonly (keyof LabelPrinter & PreferenceName)[];

export function PrinterPanel({ onTest, busy }: { readonly onTest: () => void; readonly busy: boolean }) {
  const id = useId();
  return (
    <section className="label-printer" aria-labelledby={`${id}-head`}>
      <h2 id={`${id}-head`}>{say`On this printer`}</h2>
      {FIELDS.map((field) => (
        <Measured key={field} name={field} />
      ))}
      <Button onClick={onTest} busy={busy ? say`Printing` : null}>
        {say`Outline test page`}
      </Button>
      <p className="soft small">
        {say`Print at actual size. Where the outlines miss the labels, shift; where the rule of 100 mm measures otherwise, scale.`}
      </p>
    </section>
  );
}

/** Takes effect with each number that can be; text that can't stays, marked, and changes nothing. */
function Measured({ name }: { readonly name: (typeof FIELDS)[number] }) {
  const { labelPrinter } = useSettings();
  const { label, help, number: bounds } = PREFERENCES[name];
  const { least, most, unit } = bounds;
  // A part is shown in hundredths.
  const times = unit === "%" ? HUNDRED : 1;
  const kept = String(Math.round(labelPrinter[name] * times * HUNDRED) / HUNDRED);
  const [typed, setTyped] = useState<string | null>(null);
  const number = typed === null ? null : read(typed);
  const wrong = typed !== null && (number === null || number < least || number > most);
  return (
    <label className="label-measured" {...preferenceMark(name)}>
      <span>{label}</span>
      <span>
        <input
          className="form-input"
          inputMode="decimal"
          value={typed ?? kept}
          aria-invalid={wrong || undefined}
          title={help}
          onChange={({ target }) => {
            setTyped(target.value);
            const next = read(target.value);
            if (next !== null && next >= least && next <= most)
              settings.set({
                labelPrinter: { ...labelPrinter, [name]: name === "dots_per_inch" ? Math.round(next) : next / times },
              });
          }}
          onBlur={() => setTyped(null)}
        />{" "}
        {unit}
      </span>
      {wrong ? <span className="label-fault">{say`from ${least} to ${most}`}</span> : null}
    </label>
  );
}

function read(text: string): number | null {
  const plain = text.trim().replace(",", ".").replace("−", "-");
  return /^-?\d*\.?\d+$/.test(plain) ? Number(plain) : null;
}

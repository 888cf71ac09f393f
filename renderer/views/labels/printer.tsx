/** What this printer does to a page, kept on this machine; and the page on which that is measured. */
import { useId, useState } from "react";
import { say } from "../../../core/words/say.ts";
import { type LabelPrinter, settings, useSettings } from "../../client/settings.ts";
import { Button } from "../../controls/button.tsx";

const HUNDRED = 100;

const FIELDS: readonly {
  readonly name: keyof LabelPrinter;
  readonly words: string;
  readonly help: string;
  readonly unit: string;
  readonly least: number;
  readonly most: number;
  readonly times: number;
}[] = [
  {
    name: "shift_x_mm",
    words: say`Shift right`,
    help: say`How far each label is moved to the right, less than zero to the left: as far as the outlines of the test page lie beside the labels.`,
    unit: "mm",
    least: -50,
    most: 50,
    times: 1,
  },
  {
    name: "shift_y_mm",
    words: say`Shift down`,
    help: say`How far each label is moved down, less than zero up: as far as the outlines of the test page lie above the labels.`,
    unit: "mm",
    least: -50,
    most: 50,
    times: 1,
  },
  {
    name: "scale_x",
    words: say`Scale across`,
    help: say`By how much the page is stretched across, where the rule of 100 mm on the test page measures otherwise.`,
    unit: "%",
    least: 90,
    most: 110,
    times: HUNDRED,
  },
  {
    name: "scale_y",
    words: say`Scale down`,
    help: say`By how much the page is stretched from top to bottom, where the rule of 100 mm on the test page measures otherwise.`,
    unit: "%",
    least: 90,
    most: 110,
    times: HUNDRED,
  },
  {
    name: "dots_per_inch",
    words: say`Dots to the inch`,
    help: say`How many dots the printer sets to the inch: squares of a code are whole dots, so that they can be read.`,
    unit: "",
    least: 100,
    most: 2400,
    times: 1,
  },
];

export function PrinterPanel({ onTest, busy }: { readonly onTest: () => void; readonly busy: boolean }) {
  const id = useId();
  return (
    <section className="label-printer" aria-labelledby={`${id}-head`}>
      <h2 id={`${id}-head`}>{say`On this printer`}</h2>
      {FIELDS.map((field) => (
        <Measured key={field.name} {...field} />
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
function Measured({ name, words, help, unit, least, most, times }: (typeof FIELDS)[number]) {
  const { labelPrinter } = useSettings();
  const kept = String(Math.round(labelPrinter[name] * times * HUNDRED) / HUNDRED);
  const [typed, setTyped] = useState<string | null>(null);
  const number = typed === null ? null : read(typed);
  const wrong = typed !== null && (number === null || number < least || number > most);
  return (
    <label className="label-measured">
      <span>{words}</span>
      <span>
        <input
          className="form-input"
          inputMode="decimal"
          value={typed ?? kept}
          aria-invalid={wrong || undefined}
          title={say`${help} From ${least} to ${most} ${unit}.`}
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

/** A day as people write it: `3 Apr 2026`, `3.4.26`, `today`. What can't be read says why and gives no day. */
import { useId, useState } from "react";
import { Fault } from "../../core/model/clean-text.ts";
import { shownDay } from "../../core/model/wording.ts";
import { readDay } from "../grid/reading-days.ts";
import { today } from "../grid/today.ts";

interface Props {
  /** `YYYY-MM-DD`, or null. */
  readonly day: string | null;
  readonly onDay: (day: string | null) => void;
  readonly label?: string;
  readonly placeholder?: string;
  /** Told whether what stands there can be read: whoever would go on without a day asks first. */
  readonly onReadable?: (readable: boolean) => void;
}

export function DayField({ day, onDay, label, placeholder = "3 Apr 2026", onReadable }: Props) {
  const [text, setText] = useState(day ? shownDay(day) : "");
  const id = useId();
  const read = text.trim() === "" ? null : readDay(text, today());
  const wrong = read instanceof Fault;
  return (
    <>
      <input
        type="text"
        className="form-input"
        size={12}
        value={text}
        placeholder={placeholder}
        {...(label ? { "aria-label": label } : {})}
        {...(wrong ? { "aria-invalid": true, "aria-describedby": id } : {})}
        autoComplete="off"
        onChange={(event) => {
          setText(event.target.value);
          const now = event.target.value.trim() === "" ? null : readDay(event.target.value, today());
          onDay(now instanceof Fault ? null : now);
          onReadable?.(!(now instanceof Fault));
        }}
        onBlur={() => {
          if (day) setText(shownDay(day));
        }}
      />
      {wrong ? (
        <span className="form-reason" id={id}>
          {read.reason}
        </span>
      ) : null}
    </>
  );
}

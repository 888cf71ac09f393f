/** What the entry says of the plant, since when and why: it stands in the history beside the change. */
import type { Occasion } from "../../../core/store/plan.ts";
import { DayField } from "../../forms/day-field.tsx";

type Given = Omit<Occasion, "author">;

export function OccasionFields({
  occasion,
  onOccasion,
}: {
  readonly occasion: Given;
  readonly onOccasion: (occasion: Given) => void;
}) {
  return (
    <div className="form-group occasion">
      <label className="form-field">
        <span>this says that</span>
        <select
          className="form-input"
          value={occasion.meaning ?? "change"}
          onChange={(event) =>
            onOccasion({ ...occasion, meaning: event.target.value === "correction" ? "correction" : "change" })
          }
        >
          <option value="change">the plant changed</option>
          <option value="correction">the record had been wrong</option>
        </select>
      </label>
      <div className="form-field">
        <span>since</span>
        <DayField label="since" day={occasion.day ?? null} onDay={(day) => onOccasion({ ...occasion, day })} />
      </div>
      <label className="form-field grow">
        <span>because</span>
        <input
          type="text"
          className="form-input"
          size={34}
          value={occasion.reason ?? ""}
          placeholder="order, job, drawing"
          onChange={(event) => onOccasion({ ...occasion, reason: event.target.value || null })}
        />
      </label>
    </div>
  );
}

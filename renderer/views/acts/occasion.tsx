/** What the entry says of the plant, since when and why: it stands in the history beside the change. */
import type { Occasion } from "../../../core/store/plan.ts";

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
      <label className="form-field">
        <span>since</span>
        <input
          type="date"
          className="form-input"
          value={occasion.day ?? ""}
          onChange={(event) => onOccasion({ ...occasion, day: event.target.value || null })}
        />
      </label>
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

/** What the entry says of the plant, since when and why: it stands in the history beside the change. */
import type { Occasion } from "../../../core/store/plan.ts";
import { say } from "../../../core/words/say.ts";
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
        <span>{say`this says that`}</span>
        <select
          className="form-input"
          title={say`Whether something was done to the plant, or the record had said it wrongly all along.`}
          value={occasion.meaning ?? "change"}
          onChange={(event) =>
            onOccasion({ ...occasion, meaning: event.target.value === "correction" ? "correction" : "change" })
          }
        >
          <option value="change">{say`the plant changed`}</option>
          <option value="correction">{say`the record had been wrong`}</option>
        </select>
      </label>
      <div className="form-field">
        <span>{say`since`}</span>
        <DayField label={say`since`} day={occasion.day ?? null} onDay={(day) => onOccasion({ ...occasion, day })} />
      </div>
      <label className="form-field grow">
        <span>{say`because`}</span>
        <input
          type="text"
          className="form-input"
          size={34}
          title={say`Why, for whoever reads the history: an order, a job, a drawing.`}
          value={occasion.reason ?? ""}
          placeholder={say`order, job, drawing`}
          onChange={(event) => onOccasion({ ...occasion, reason: event.target.value || null })}
        />
      </label>
    </div>
  );
}

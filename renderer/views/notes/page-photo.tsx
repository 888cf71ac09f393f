/** The photo of the page the notes stand on: kept with the visit of the told lines, else with what the lines are about. */

import { type DragEvent, useId, useState } from "react";
import { say } from "../../../core/words/say.ts";
import { Button } from "../../controls/button.tsx";
import { unfit } from "../../controls/kept-files.ts";
import { helpSaid } from "../../frame/help-about.ts";

export interface PagePhotoProps {
  readonly photo: File | null;
  readonly choose: (photo: File | null) => void;
  /** The address of the record that it would be kept with; null where the lines name none. */
  readonly keptWith: string | null;
}

export function PagePhoto({ photo, choose, keptWith }: PagePhotoProps) {
  const id = useId();
  const [why, setWhy] = useState<string | null>(null);
  const take = async (file: File | undefined): Promise<void> => {
    if (!file) return;
    const reason = await unfit(file);
    setWhy(reason);
    if (reason === null) choose(file);
  };
  const drop = (event: DragEvent): void => {
    event.preventDefault();
    void take(event.dataTransfer.files[0]);
  };
  return (
    // biome-ignore lint/a11y/noStaticElementInteractions: dropping a file is one more way to what the field below does
    <div className="notes-photo" onDragOver={(event) => event.preventDefault()} onDrop={drop}>
      <label htmlFor={id}>{say`The photo of the page; it may be dropped here`}</label>
      {photo ? (
        <p>
          <b>{photo.name}</b>{" "}
          <span className="soft">
            {keptWith === null
              ? say`is kept once the lines name a cable or a place`
              : say`is kept with ${keptWith} when the lines are taken over`}
          </span>{" "}
          <Button onClick={() => choose(null)}>{say`Leave it out`}</Button>
        </p>
      ) : (
        <input
          id={id}
          type="file"
          accept="image/*,.pdf"
          {...helpSaid(
            say`photo of the page`,
            say`A picture or PDF of the crew's page. It is kept with the first cable or place that the lines name, as the source of what was told.`,
          )}
          onChange={({ target }) => void take(target.files?.[0])}
        />
      )}
      {why ? (
        <p className="form-reason" role="alert">
          {why}
        </p>
      ) : null}
    </div>
  );
}

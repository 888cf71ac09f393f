/** Where the map comes from: a file chosen or dropped here, or text that was pasted. */

import { type DragEvent, useState } from "react";
import { say } from "../../../core/words/say.ts";
import { Button } from "../../controls/button.tsx";
import { base64Of } from "../../controls/kept-files.ts";
import { helpSaid } from "../../frame/help-about.ts";

export interface MapGiven {
  readonly name: string;
  readonly content?: string;
  readonly text?: string;
}

/** A call to the program takes 32 MB, in which bytes take a third more room. */
const MOST_MB = 22;

export function MapChoice({ choose }: { readonly choose: (given: MapGiven) => void }) {
  const [text, setText] = useState("");
  const [why, setWhy] = useState("");
  const take = async (file: File | undefined): Promise<void> => {
    if (!file) return;
    if (file.size > MOST_MB * 1_000_000)
      return setWhy(
        say`${file.name} is too big for this window: at most ${MOST_MB} MB. The command strandbook map reads 64 MB.`,
      );
    try {
      choose({ name: file.name, content: await base64Of(file) });
    } catch {
      setWhy(say`${file.name} can't be read.`);
    }
  };
  const drop = (event: DragEvent): void => {
    event.preventDefault();
    void take(event.dataTransfer.files[0]);
  };
  return (
    // biome-ignore lint/a11y/noStaticElementInteractions: dropping a file is one more way to what the field below does
    <div className="sheet-source" onDragOver={(event) => event.preventDefault()} onDrop={drop}>
      <label
        className="sheet-file"
        {...helpSaid(
          say`file`,
          say`Places and ways from a map: GeoJSON, KML or KMZ, longitude and latitude in degrees (WGS 84). They are matched by tag, and nothing is written before each is seen.`,
        )}
      >
        <span>{say`A GeoJSON, KML or KMZ file; it may be dropped here`}</span>
        <input type="file" accept=".geojson,.json,.kml,.kmz" onChange={({ target }) => void take(target.files?.[0])} />
      </label>
      {why ? (
        <p className="form-reason" role="alert">
          {why}
        </p>
      ) : null}
      <label className="sheet-paste">
        <span>{say`or its text, pasted`}</span>
        <textarea
          className="form-input tag"
          rows={8}
          value={text}
          spellCheck={false}
          onChange={({ target }) => setText(target.value)}
        />
      </label>
      <Button filled disabled={text.trim() === ""} onClick={() => choose({ text, name: say`pasted map` })}>
        {say`Read the map`}
      </Button>
    </div>
  );
}

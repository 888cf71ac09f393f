/** Before anything is asked: what an answer looks like, and how to begin. */

import { counted } from "../../../core/words/counted.ts";
import { say } from "../../../core/words/say.ts";
import { useAnswer } from "../../client/use-answer.ts";
import { sayWith } from "../../controls/say-with.tsx";
import { GhostLine } from "../../drawing/ghosts.tsx";
import { useCurrentView } from "../../frame/current-view.ts";

export const EMPTY_ANSWER = say`Fill the blank: any port, strand or circuit will do, and part of its tag.`;

export function FindEmpty() {
  const summary = useAnswer("plant.summary", {}).value;
  const of = (kind: string): number => summary?.counts.find((one) => one.kind === kind)?.count ?? 0;
  const { views } = useCurrentView();
  const nothing = summary !== undefined && of("strand") === 0;
  return (
    <div className="teach">
      <GhostLine />
      {nothing ? (
        <p>
          {sayWith`${<b>{say`Nothing is on record yet.`}</b>} A line needs two places, a cable between them, and what its strands land on.`}
        </p>
      ) : (
        <p>
          {say`A line is followed both ways from what you name, through every splice, port and cord, until the glass ends or the record does. ${summary ? say`${counted(of("strand"), "strand")} and ${counted(of("port"), "port")} are on record.` : ""}`}
        </p>
      )}
      <ul className="teach-ways">
        <li>
          <span className="tag">LIB/101/A:07</span>{" "}
          <span className="soft">{say`a port: building, room, panel, port`}</span>
        </li>
        <li>
          <span className="tag">F-012:25</span>{" "}
          <span className="soft">{say`a strand by its number over the whole sheath`}</span>
        </li>
        <li>
          <span className="tag">F-012 GR/BL</span> <span className="soft">{say`a strand by its tube and colour`}</span>
        </li>
      </ul>
      {nothing && views.some(({ path }) => path === "enter") ? (
        <a className="button" href="#/enter">
          {say`Enter what was built`}
        </a>
      ) : null}
    </div>
  );
}

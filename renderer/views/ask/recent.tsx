/** Plant files that were opened on this machine: opened again with a press where the shell can, told by their place elsewhere. */

import { say } from "../../../core/words/say.ts";
import { onDesktop } from "../../capabilities/browser.ts";
import { useClient } from "../../client/context.ts";
import { recentPlants } from "../../client/kept.ts";
import { LeafPart } from "../../controls/leaf.tsx";
import { age } from "../../frame/ages.ts";
import { useStatus } from "../../frame/use-status.ts";

export function RecentPlants() {
  const client = useClient();
  const here = useStatus()?.path;
  const others = recentPlants().filter(({ path }) => path !== here);
  if (here === undefined || others.length === 0) return null;
  return (
    <LeafPart title={say`Other plants opened here`}>
      <ul className="recent">
        {others.map(({ path, name, at }) => (
          <li key={path}>
            {onDesktop() ? (
              <button type="button" className="link" onClick={() => void client.capabilities.openPlant(path)}>
                {name}
              </button>
            ) : (
              name
            )}{" "}
            <span className="faint">{age(Date.parse(at))}</span>
            <span className="recent-path faint small">{path}</span>
          </li>
        ))}
      </ul>
      {onDesktop() ? null : <p className="soft small">{say`Start the program with one of them: npm start -- FILE.`}</p>}
    </LeafPart>
  );
}

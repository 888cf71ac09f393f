/** Always there: what state the file is in, what can be undone, who works here. */
import { Region } from "./region.tsx";

export function Foot() {
  return (
    <Region name="foot" label="State of the file" as="footer" className="foot">
      <a href="#/keys">Keys</a>
    </Region>
  );
}

/** A plant file dropped on the window is opened in the place of this one. Parts that take files take theirs first. */
import { useEffect } from "react";
import { say } from "../../core/words/say.ts";
import { onDesktop } from "../capabilities/browser.ts";
import { useClient } from "../client/context.ts";
import { notify } from "./notices.tsx";

const ENDING = ".strandbook";

export function useDroppedPlant(): void {
  const client = useClient();
  useEffect(() => {
    const over = (event: DragEvent): void => {
      // Otherwise a browser would leave the page for the file, and what is typed in it would be lost.
      if (event.dataTransfer?.types.includes("Files")) event.preventDefault();
    };
    const drop = (event: DragEvent): void => {
      const file = event.dataTransfer?.files[0];
      if (!file || event.defaultPrevented) return;
      event.preventDefault();
      if (!file.name.endsWith(ENDING))
        notify(
          say`${file.name} is not taken: nothing takes a file there. Under Enter there is a page for sheets and one for maps; photos are dropped on the page of their record.`,
        );
      else if (onDesktop() && client.capabilities.pathOf(file) === null)
        notify(say`${file.name} lies in no folder of this machine yet: save it first, and drop it then.`);
      else if (onDesktop()) void client.capabilities.openDropped(file);
      else notify(say`A browser doesn't say where ${file.name} lies. Start the program with it: npm start -- FILE.`);
    };
    window.addEventListener("dragover", over);
    window.addEventListener("drop", drop);
    return () => {
      window.removeEventListener("dragover", over);
      window.removeEventListener("drop", drop);
    };
  }, [client]);
}

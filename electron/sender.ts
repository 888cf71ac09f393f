/** Whether a message comes from where messages may come from: the top frame of our own window, on our own page. */
import type { IpcMainInvokeEvent, WebContents } from "electron";
import { isOurPage } from "./security.ts";

export function isOurSender(
  event: Pick<IpcMainInvokeEvent, "sender" | "senderFrame">,
  ours: Pick<WebContents, "id"> | null,
): boolean {
  // The frame is null when the page went away meanwhile.
  const frame = event.senderFrame;
  return (
    ours !== null && event.sender.id === ours.id && frame !== null && frame.parent === null && isOurPage(frame.url)
  );
}
